"""The nouns of pairing from several stocks, each frozen once made; lengths are whole tenths of a millimetre.

A piece keeps one factory end, so that two at most come from one length: NAVEDTRA 14044 p. 5-17, no more than two border
tees from one cross tee. Any two that fit may share one.
"""

import math
from collections.abc import Sequence

from planner.records import dataclass


@dataclass(frozen=True, slots=True)
class Stock:
    """A length that is sold; what it costs is a whole number, above 0."""

    length: int
    cost: int


@dataclass(frozen=True, slots=True)
class Kind:
    """Alike pieces, and the stocks that they may come from: their own first."""

    length: int
    count: int
    stocks: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Job:
    """Pieces to be cut from several stocks."""

    stocks: tuple[Stock, ...]
    kinds: tuple[Kind, ...]
    kerf: int = 0
    reuse: int = 0  #: off-cuts shorter than this are thrown away

    @property
    def step(self) -> int:
        """What costs are multiples of."""
        return math.gcd(*(stock.cost for stock in self.stocks))

    def fits(self, stock: int, longer: int, shorter: int) -> bool:
        """Whether two pieces come from one length."""
        return longer + max(shorter, self.reuse) + self.kerf <= self.stocks[stock].length

    def cost(self, bought: Sequence[int]) -> int:
        return sum(stock.cost * count for stock, count in zip(self.stocks, bought, strict=True))

    def bought(self, counts: Sequence[Sequence[int]]) -> tuple[int, ...]:
        """Lengths of each stock, where so many of each kind come from each of its stocks.

        The longest piece takes the shortest that is left, if the two fit: no way of pairing needs fewer.
        """
        return tuple(self._lengths_for(stock, counts) for stock in range(len(self.stocks)))

    def _lengths_for(self, stock: int, counts: Sequence[Sequence[int]]) -> int:
        pieces = sorted(
            piece
            for kind, row in zip(self.kinds, counts, strict=True)
            for at, count in zip(kind.stocks, row, strict=True)
            for piece in [kind.length] * (count if at == stock else 0)
        )
        taken, shortest, longest = 0, 0, len(pieces) - 1
        while shortest <= longest:
            if shortest < longest and self.fits(stock, pieces[longest], pieces[shortest]):
                shortest += 1
            longest -= 1
            taken += 1
        return taken
