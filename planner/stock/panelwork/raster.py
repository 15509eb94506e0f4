"""The most valuable pieces off one panel, each as often as one likes, by cuts right across.

In: sizes with the kerf added, and values. Out: the greatest value and the box it is cut from. Cuts need only be where
lengths of pieces add up to (normal points; Gilmore and Gomory 1965, Herz 1972, from memory), so values are worked out
for those widths and heights, in rounds of cuts up and cuts across until nothing gets better.
"""

from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from planner.stock.panelwork.guillotine import Box, Size, joined

#: Sums worked out in one round; beyond this it takes too long.
MOST_WORK = 20_000_000

#: Strokes that it takes to better a row or a column; and how many sums are made in one.
ROW, SUMS = 8, 5000

Grid = NDArray[np.int64]


class Raster:
    """Widths and heights where cuts can be."""

    def __init__(self, panel: Size, sizes: Sequence[Size], demand: Sequence[int], *, turns: bool) -> None:
        kinds = [(k, Box(size, kind=k)) for k, size in enumerate(sizes) if demand[k]]
        if turns:
            turned = [(k, Box(Size(b.size.height, b.size.width), kind=k, turned=True)) for k, b in kinds]
            kinds += [(k, box) for k, box in turned if box.size.width != box.size.height]
        self._pieces = [b for _, b in kinds if b.size.width <= panel.width and b.size.height <= panel.height]
        self._xs = _sums([(box.size.width, demand[box.kind]) for box in self._pieces], panel.width)
        self._ys = _sums([(box.size.height, demand[box.kind]) for box in self._pieces], panel.height)
        self.work = 0  #: strokes so far

    @property
    def too_fine(self) -> bool:
        across, up = len(self._xs), len(self._ys)
        return across * up * (across + up) > MOST_WORK

    def best(self, values: Sequence[int]) -> tuple[int, Box | None]:
        """The greatest value of one panel, and what it is cut from; None where nothing is worth anything."""
        grid = np.zeros((len(self._xs), len(self._ys)), dtype=np.int64)
        for box in self._pieces:
            at = np.searchsorted(self._xs, box.size.width), np.searchsorted(self._ys, box.size.height)
            np.maximum(grid[at[0] :, at[1] :], values[box.kind], out=grid[at[0] :, at[1] :])
        while True:
            before = grid.copy()
            self.work += ROW * sum(grid.shape) + grid.size * sum(grid.shape) // SUMS
            _cut_rows(grid, self._xs)
            _cut_rows(grid.T, self._ys)
            if np.array_equal(before, grid):
                break
        top = len(self._xs) - 1, len(self._ys) - 1
        return int(grid[top]), self._back(grid, values, *top) if grid[top] else None

    def _back(self, grid: Grid, values: Sequence[int], i: int, j: int) -> Box:
        """Find a piece or a cut that makes up the value of a place."""
        worth = grid[i, j]
        while i and grid[i - 1, j] == worth:
            i -= 1
        while j and grid[i, j - 1] == worth:
            j -= 1
        size = Size(int(self._xs[i]), int(self._ys[j]))
        for box in self._pieces:
            if values[box.kind] == worth and box.size.width <= size.width and box.size.height <= size.height:
                return box
        for a, b in _splits(self._xs, i):
            if grid[a, j] + grid[b, j] == worth:
                return self._join(grid, values, (a, j), (b, j), beside=True)
        for a, b in _splits(self._ys, j):
            if grid[i, a] + grid[i, b] == worth:
                return self._join(grid, values, (i, a), (i, b), beside=False)
        raise AssertionError("a value that nothing makes up")

    def _join(
        self, grid: Grid, values: Sequence[int], one: tuple[int, int], other: tuple[int, int], *, beside: bool
    ) -> Box:
        """Two halves as one box; a half that is worth nothing is left away."""
        halves = [self._back(grid, values, *at) for at in (one, other) if grid[at]]
        if len(halves) == 1:
            return halves[0]
        return joined(halves[0], halves[1], beside=beside)


def _sums(lengths: Iterable[tuple[int, int]], most: int) -> Grid:
    """0 and every length that pieces add up to."""
    reached, within = 1, (1 << (most + 1)) - 1
    for length, count in lengths:
        for _ in range(min(count, most // length)):
            more = reached | (reached << length) & within
            if more == reached:
                break
            reached = more
    bits = np.frombuffer(reached.to_bytes(most // 8 + 1, "little"), dtype=np.uint8)
    return np.flatnonzero(np.unpackbits(bits, bitorder="little")).astype(np.int64)


def _splits(points: Grid, at: int) -> Iterable[tuple[int, int]]:
    """Every cut of a length, and what is left beyond it; each pair once."""
    length = int(points[at])
    cuts = np.flatnonzero((points > 0) & (points <= length // 2))
    rests = np.searchsorted(points, length - points[cuts], side="right") - 1
    return zip(cuts.tolist(), rests.tolist(), strict=True)


def _cut_rows(grid: Grid, points: Grid) -> None:
    """Better every row by cutting it in two, in place, the small ones first."""
    for at in range(1, len(points)):
        pairs = list(_splits(points, at))
        if pairs:
            cuts, rests = (np.array(side) for side in zip(*pairs, strict=True))
            np.maximum(grid[at], (grid[cuts] + grid[rests]).max(axis=0), out=grid[at])
        np.maximum(grid[at], grid[at - 1], out=grid[at])
