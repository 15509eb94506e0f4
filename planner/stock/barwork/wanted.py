"""Pieces wanted, sorted by kind; and dealt out again to the bars of a plan.

In: pieces with the members they are for, in millimetres. Out: kinds of alike pieces in whole tenths, longest first, and
from a plan the bars with the members' names on them.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from planner.ceiling.model import End
from planner.records import dataclass
from planner.stock.barwork.ends import EndsNeeded
from planner.stock.covering.cover import Column
from planner.stock.model import Bar, BarPiece
from planner.stock.saw import kerf_tenths, tenths


@dataclass(frozen=True, slots=True)
class Wanted:
    """A piece wanted for a member, perhaps several times."""

    member: str
    length: float
    ends: tuple[End, End] = ("cut", "cut")
    count: int = 1


@dataclass(frozen=True, slots=True)
class Kind:
    """Alike pieces."""

    length: int  #: tenths
    need: EndsNeeded
    lots: tuple[tuple[str, int], ...]  #: (member, how many) in the order they are wanted

    @property
    def count(self) -> int:
        return sum(count for _, count in self.lots)


def kinds_of(wanted: Iterable[Wanted], needs: dict[tuple[End, End], EndsNeeded]) -> tuple[Kind, ...]:
    """Gather alike pieces, the longest first; `needs` says which factory ends a piece keeps."""
    lots: defaultdict[tuple[int, EndsNeeded], list[tuple[str, int]]] = defaultdict(list)
    for piece in wanted:
        if piece.count:
            lots[tenths(piece.length), needs[piece.ends]].append((piece.member, piece.count))
    order = sorted(lots, key=lambda key: (-key[0], key[1]))
    return tuple(Kind(*key, tuple(lots[key])) for key in order)


def bars_of(kinds: Sequence[Kind], plan: Iterable[tuple[Column, int]], stock: float, kerf: float) -> tuple[Bar, ...]:
    """Write the members' names on the bars of a plan; equal bars are counted together.

    A plan may yield more of a kind than is wanted: that is then part of the off-cut, and a bar that yields nothing is
    left out.
    """
    names = [_dealt(kind) for kind in kinds]
    bars: dict[tuple[BarPiece, ...], int] = {}
    for column, times in plan:
        for _ in range(times):
            pieces = tuple(
                BarPiece(member, kinds[kind].length / 10)
                for kind, count in column.counts
                for _, member in zip(range(count), names[kind], strict=False)
            )
            if pieces:
                bars[pieces] = bars.get(pieces, 0) + 1
    return tuple(Bar(pieces, offcut(pieces, stock, kerf), count) for pieces, count in bars.items())


def offcut(pieces: Sequence[BarPiece], stock: float, kerf: float) -> float:
    """What is left of a bar: less a kerf between pieces, and one more to part the last from the rest."""
    left = tenths(stock) - sum(tenths(piece.length) for piece in pieces) - len(pieces) * kerf_tenths(kerf)
    return max(left, 0) / 10


def _dealt(kind: Kind) -> Iterator[str]:
    """The members one piece at a time."""
    for member, count in kind.lots:
        yield from [member] * count
