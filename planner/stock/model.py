"""The nouns of the stock wing, each frozen once made; millimetres, kilograms."""

from dataclasses import dataclass


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

    @property
    def proven(self) -> bool:
        return self.bought == self.lower_bound


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


@dataclass(frozen=True, slots=True)
class Stock:
    """What to buy and how to cut it."""

    cutting: tuple[Cutting, ...]
    takeoff: tuple[TakeOffLine, ...]
