"""Cuts right across: which pieces come off one panel when each cut goes from edge to edge of what is being cut.

In: sizes of pieces in whole tenths, the kerf added to each (and to the panel). Out: the smallest boxes that given
pieces can be cut from, and where they lie in one. Exact: a set of pieces is cut in two by its last cut, side by side or
one above the other, in every way there is. (Four pieces can also lie round a gap like the arms of a mill; no cut goes
right across that, and a knife along a straightedge does not make it.)
"""

import itertools
from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

from planner.records import dataclass
from planner.stock.covering.cover import Counts

#: Boxes worked out before it is given up, so that many small pieces cannot hold everything up.
MOST_BOXES = 60_000


class Size(NamedTuple):
    """Width and height, tenths of a millimetre."""

    width: int
    height: int


class Placed(NamedTuple):
    """A piece on a panel: which kind, its lower left corner and its size there, the kerf not counted."""

    kind: int
    x: int
    y: int
    size: Size
    turned: bool


@dataclass(frozen=True, slots=True)
class Box:
    """A box that some pieces can be cut from, and how."""

    size: Size
    made_of: "tuple[Box, Box] | None" = None  #: its two halves
    beside: bool = True  #: the halves lie side by side, else one above the other
    kind: int = 0  #: of a single piece
    turned: bool = False


class TooMany(Exception):
    """More boxes than can be worked out."""


class Guillotine:
    """Pieces of some kinds, and a panel; all sizes with the kerf added."""

    def __init__(self, panel: Size, sizes: list[Size], *, turns: bool) -> None:
        self._panel, self._sizes, self._turns = panel, sizes, turns
        self._boxes: dict[Counts, tuple[Box, ...]] = {}
        self.worked = 0  #: pairs of boxes so far

    def boxes(self, counts: Counts) -> tuple[Box, ...]:
        """The smallest boxes for a set of pieces that still lie in a panel; none where they do not.

        TooMany when too much has been worked out.
        """
        if counts not in self._boxes:
            single = sum(count for _, count in counts) == 1
            self._boxes[counts] = _smallest(list(self._single(counts[0][0]) if single else self._joined(counts)))
        return self._boxes[counts]

    def _single(self, kind: int) -> Iterator[Box]:
        width, height = self._sizes[kind]
        if width <= self._panel.width and height <= self._panel.height:
            yield Box(Size(width, height), kind=kind)
        if self._turns and width != height and height <= self._panel.width and width <= self._panel.height:
            yield Box(Size(height, width), kind=kind, turned=True)

    def _joined(self, counts: Counts) -> Iterator[Box]:
        """Boxes that lie in a panel; both halves of each do."""
        for one, other in _halves(counts):
            for a in self.boxes(one):
                for b in self.boxes(other):
                    self.worked += 1
                    if self.worked > MOST_BOXES:
                        raise TooMany
                    if a.size.width + b.size.width <= self._panel.width:
                        yield joined(a, b, beside=True)
                    if a.size.height + b.size.height <= self._panel.height:
                        yield joined(a, b, beside=False)


def _halves(counts: Counts) -> Iterator[tuple[Counts, Counts]]:
    """Every way to part some pieces in two, each once."""
    for taken, left in _parted(tuple(count for _, count in counts)):
        yield _picked(counts, taken), _picked(counts, left)


@cache
def _parted(numbers: tuple[int, ...]) -> tuple[tuple[tuple[int, ...], tuple[int, ...]], ...]:
    """Every way to part so many pieces of each kind in two, each once."""
    ways = itertools.product(*(range(count + 1) for count in numbers))
    parted = ((way, tuple(count - taken for count, taken in zip(numbers, way, strict=True))) for way in ways)
    return tuple((way, rest) for way, rest in parted if any(way) and any(rest) and way <= rest)


def _picked(counts: Counts, numbers: tuple[int, ...]) -> Counts:
    return tuple((kind, number) for (kind, _), number in zip(counts, numbers, strict=True) if number)


def _smallest(boxes: list[Box]) -> tuple[Box, ...]:
    """Those that no other one is at most as wide and at most as high as."""
    kept: list[Box] = []
    for box in sorted(boxes, key=lambda box: box.size):
        if not kept or box.size.height < kept[-1].size.height:
            kept.append(box)
    return tuple(kept)


def joined(one: Box, other: Box, *, beside: bool) -> Box:
    """Two boxes in one: side by side, or the other above the one."""
    (aw, ah), (bw, bh) = one.size, other.size
    return Box(Size(aw + bw, max(ah, bh)) if beside else Size(max(aw, bw), ah + bh), (one, other), beside)


def placed(box: Box, kerf: int, x: int = 0, y: int = 0) -> Iterator[Placed]:
    """Where the pieces of a box lie, from its lower left corner."""
    if box.made_of is None:
        width, height = box.size
        yield Placed(box.kind, x, y, Size(width - kerf, height - kerf), box.turned)
        return
    one, other = box.made_of
    yield from placed(one, kerf, x, y)
    if box.beside:
        yield from placed(other, kerf, x + one.size.width, y)
    else:
        yield from placed(other, kerf, x, y + one.size.height)
