"""The nouns of the stock wing, each frozen once made; millimetres, kilograms."""

from dataclasses import dataclass

from planner.stock.certificate import BarCertificate, PanelCertificate


@dataclass(frozen=True, slots=True)
class BarPiece:
    """A piece on a bar."""

    member: str  #: id of the member it is for; "" where many members share such pieces
    length: float


@dataclass(frozen=True, slots=True)
class Bar:
    """A stock length and what is cut from it."""

    pieces: tuple[BarPiece, ...]
    offcut: float
    count: int = 1  #: how many bars are cut like this


@dataclass(frozen=True, slots=True)
class Cutting:
    """How one stock item is cut."""

    item: str
    stock_length: float
    kerf: float
    bars: tuple[Bar, ...]
    bought: int
    lower_bound: int  #: no way of cutting needs fewer
    certificate: BarCertificate | None = None  #: proof of the lower bound, or of nearly as much; see there

    @property
    def proven(self) -> bool:
        return self.bought == self.lower_bound

    @property
    def gap(self) -> int:
        """How many bars a better way might save at most."""
        return self.bought - self.lower_bound


@dataclass(frozen=True, slots=True)
class PanelPiece:
    """A piece on a panel."""

    panel: str  #: id of the panel of the ceiling that it becomes
    at: tuple[float, float]  #: its lower left corner on the bought panel, as that lies uncut
    size: tuple[float, float]  #: as it lies there
    turned: bool = False  #: a quarter turn against the way it lies in the ceiling


@dataclass(frozen=True, slots=True)
class CutPanel:
    """A bought panel and what is cut from it."""

    pieces: tuple[PanelPiece, ...]
    count: int = 1  #: how many panels are cut like this


@dataclass(frozen=True, slots=True)
class PanelCutting:
    """How the cut panels come off bought ones; whole panels are not in here."""

    size: tuple[float, float]  #: of a panel as bought
    kerf: float
    panels: tuple[CutPanel, ...]
    bought: int
    lower_bound: int  #: no way of cutting, by the same rules, needs fewer
    one_each: int  #: panels that "one panel for each cut" would take
    by_area: int  #: panels that the area of the pieces would fill
    certificate: PanelCertificate | None = None

    @property
    def proven(self) -> bool:
        return self.bought == self.lower_bound

    @property
    def gap(self) -> int:
        """How many panels a better way might save at most."""
        return self.bought - self.lower_bound


@dataclass(frozen=True, slots=True)
class TakeOffLine:
    """One line of the order."""

    item: str
    unit: str
    net: int
    spare: int
    order: int  #: net and spare, less what is on hand
    packs: int | None
    pack_size: int | None
    weight_kg: float | None
    cost: float | None
    on_hand: int = 0

    @property
    def amount(self) -> str:
        """What to order, with its unit where it is not counted in pieces."""
        return str(self.order) if self.unit == "piece" else f"{self.order} {self.unit}"


@dataclass(frozen=True, slots=True)
class Stock:
    """What to buy and how to cut it."""

    cutting: tuple[Cutting, ...]
    takeoff: tuple[TakeOffLine, ...]
    panels: PanelCutting | None = None  #: None where no panel is cut
