"""Proofs that no cutting needs less, which anybody can re-check without trusting a solver.

Each kind of piece has a value, a whole number. However a bar (or panel) is cut, its pieces are worth no more than
`most` together. What is wanted is worth the sum of count * value; so at least that, divided by `most` and rounded up,
must be bought. Only the "no more than `most`" takes work to check: for bars it is one knapsack, ten lines of code.

Where a bound was raised by one further, by listing every pattern that a cheaper plan could use and finding that none
is made of these, there is no certificate.
"""

from planner.records import dataclass
from planner.stock.barwork.ends import EndsNeeded
from planner.stock.barwork.knapsack import Knapsack


@dataclass(frozen=True, slots=True)
class ValuedPiece:
    """A kind of piece, in whole tenths of a millimetre."""

    length: int
    count: int
    value: int
    need: EndsNeeded = "none"  #: factory ends it keeps


@dataclass(frozen=True, slots=True)
class ValuedPanel:
    """A kind of panel piece, in whole tenths of a millimetre."""

    size: tuple[int, int]
    count: int
    value: int


@dataclass(frozen=True, slots=True)
class BarCertificate:
    """Values of the pieces on bars of one length, bought whole ones left out."""

    stock: int  #: tenths of a millimetre, as are kerf and reuse
    kerf: int
    pieces: tuple[ValuedPiece, ...]
    most: int
    reuse: int = 0  #: no piece is cut from an off-cut shorter than this
    whole: int = 0  #: pieces as long as a bar, each bought as such

    @property
    def bound(self) -> int:
        """Bars that are needed at least."""
        return self.whole + -(-sum(piece.count * piece.value for piece in self.pieces) // self.most)

    def holds(self) -> bool:
        """Re-check that no bar can hold pieces worth more than `most`."""
        kerf, pieces = self.kerf, self.pieces
        reuse = self.reuse + kerf if self.reuse else 0
        bar = Knapsack([self.stock + kerf], [p.length + kerf for p in pieces], [p.need for p in pieces], reuse)
        (fill,) = bar.best([p.value for p in pieces], [p.count for p in pieces])
        return fill.value <= self.most


@dataclass(frozen=True, slots=True)
class PanelCertificate:
    """Values of the pieces that come off panels."""

    pieces: tuple[ValuedPanel, ...]
    most: int

    @property
    def bound(self) -> int:
        """Panels that are needed at least."""
        return -(-sum(piece.count * piece.value for piece in self.pieces) // self.most)
