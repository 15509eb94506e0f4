"""The nouns of the stock wing, each frozen once made; millimetres, kilograms."""

from decimal import ROUND_HALF_UP, Decimal
from typing import Literal

from planner.geometry import Ring
from planner.lengths import DROPPED_MM
from planner.records import dataclass
from planner.runs.certificate import RunCertificate
from planner.sayings import joined, term
from planner.stock.certificate import BarCertificate, PanelCertificate

#: What a bound on bars holds over: the pieces as they are; every way to begin the runs, at the slots that meet the
#: cross tees; every way to splice, with no more splices than the lengths need; every way to splice.
Over = Literal["pieces", "first cuts", "fewest splices", "splices"]


@dataclass(frozen=True, slots=True)
class BarPiece:
    """A piece on a bar."""

    member: str  #: id of the member it is for; "" where many members share such pieces
    length: float
    at: float | None = None  #: where it begins on the bar, from the left; None: its ends and its turn say


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
    certificate: BarCertificate | RunCertificate | None = None  #: proof of the bound, or of nearly as much; see there
    over: Over = "pieces"  #: what the bound holds over

    @property
    def proven(self) -> bool:
        return self.bought == self.lower_bound

    def is_whole(self, length: float) -> bool:
        """Whether a piece of this length is a bar as it is sold; what the saw has dropped is not missing."""
        return length > self.stock_length - DROPPED_MM

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
    turned: bool = False  #: a quarter turn to the left against the way it lies in the ceiling
    half: bool = False  #: half a turn, besides
    rings: tuple[Ring, ...] = ()  #: outline and holes on the bought panel; empty for a rectangle


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
    shaped: bool = False  #: the bound holds over the true shapes of pieces that are no rectangles

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
    order: int  #: net, spare and what is left with the owner, less what is on hand
    packs: int | None
    pack_size: int | None
    weight_kg: float | None
    cost: float | None
    on_hand: int = 0
    for_owner: int = 0  #: to be left with the owner, beyond net and spare
    extra: bool = False  #: asked for by the user; the ceiling does not call for it
    size: tuple[float, ...] = ()  #: of one as it is sold: its length, or its sides; millimetres; () = none is known
    size_said: str = ""  #: the same in words; empty where the item's name has it
    sort: str = ""  #: which of those that are sold by this name: its face, its gauge

    @property
    def named(self) -> str:
        """The item as it is asked for at the counter: main tee 3600 mm, face 24 mm."""
        name = joined([term(self.item), self.size_said]) if self.size_said else term(self.item)
        return joined([name, self.sort], ", ") if self.sort else name

    @property
    def bought(self) -> int:
        """What is paid for and carried: the order, in whole packs where it comes in packs."""
        return self.order if self.packs is None or self.pack_size is None else self.packs * self.pack_size

    @property
    def amount(self) -> str:
        """What to order, with its unit where it is not counted in pieces."""
        return self.counted(self.order)

    def counted(self, number: int) -> str:
        """So many of it, with their unit where it is not counted in pieces."""
        return str(number) if self.unit == "piece" else f"{number} {self.unit}"


@dataclass(frozen=True, slots=True)
class Work:
    """Work of one kind, at a rate of the user's own."""

    what: str
    count: int
    minutes: float  #: for one

    @property
    def hours(self) -> float:
        return self.count * self.minutes / 60


def cents(amount: float) -> float:
    """Round an amount to hundredths, a half up, as bills do (common practice, no source); `round` goes to the even."""
    if not abs(amount) < 1e15:  # a float so large has no hundredths
        return amount
    exact = Decimal(f"{amount:.9f}")  # what floats lose lies far beyond
    return float(exact.quantize(Decimal("0.01"), ROUND_HALF_UP))


@dataclass(frozen=True, slots=True)
class Bill:
    """What an order comes to, and what is not in it. Prices, rates, tax and currency are the user's own."""

    material: float | None = None  #: of the items that have a price; None where none has
    unpriced: tuple[str, ...] = ()
    items: int = 0  #: on the list, with and without a price
    labour: tuple[Work, ...] = ()
    hour: float | None = None  #: price of an hour
    tax_share: float | None = None
    tax_on: Literal["all", "material"] = "all"
    currency: str = ""  #: as written; nothing is ever converted
    apart: tuple[str, ...] = ()  #: what is not included

    @property
    def hours(self) -> float | None:
        return sum(work.hours for work in self.labour) if self.labour else None

    @property
    def labour_cost(self) -> float | None:
        hours = self.hours
        return None if hours is None or self.hour is None else cents(hours * self.hour)

    @property
    def subtotal(self) -> float | None:
        """Of whatever is priced."""
        known = [cost for cost in (self.material, self.labour_cost) if cost is not None]
        return round(sum(known), 2) if known else None

    @property
    def tax(self) -> float | None:
        taxed = self.subtotal if self.tax_on == "all" else self.material
        return None if taxed is None or self.tax_share is None else cents(taxed * self.tax_share)

    @property
    def total(self) -> float | None:
        return None if self.subtotal is None else round(self.subtotal + (self.tax or 0.0), 2)


@dataclass(frozen=True, slots=True)
class Stock:
    """What to buy and how to cut it."""

    cutting: tuple[Cutting, ...]
    takeoff: tuple[TakeOffLine, ...]
    panels: PanelCutting | None = None  #: None where no panel is cut
    bill: Bill = Bill()
