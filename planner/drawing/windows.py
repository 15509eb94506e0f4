"""Rows and columns of windows that overlap, over an area that no single sheet can show.

In: an area, how much of it one window shows, how much neighbours share; all in one frame and one unit. Out: windows,
row by row from the upper left, named by row letter and column number: A1, A2 ... B1. Rule: the fewest rows and columns
that cover the area; what they show beyond it is spread by `lean`.
"""

import math

from planner.ceiling.marks import class_letters
from planner.geometry import TOLERANCE_MM, Box
from planner.records import dataclass


@dataclass(frozen=True, slots=True)
class Tile:
    """One window: its place in the rows and columns, and the part of the area that it shows."""

    row: int  #: from 0 at the top
    column: int  #: from 0 at the left
    box: Box

    @property
    def name(self) -> str:
        """Row letter and column number, e.g. B3."""
        return tile_name(self.row, self.column)


@dataclass(frozen=True, slots=True)
class Tiling:
    """Windows of one size over an area; neighbours share `overlap`."""

    rows: int
    columns: int
    tiles: tuple[Tile, ...]  #: row by row
    overlap: float

    def at(self, row: int, column: int) -> Tile | None:
        """The window in a place; None beyond the rows and columns."""
        if 0 <= row < self.rows and 0 <= column < self.columns:
            return self.tiles[row * self.columns + column]
        return None


def tile_name(row: int, column: int) -> str:
    """Row letter (A at the top, after Z comes AA) and column number, from 1 at the left."""
    return f"{class_letters(row).upper()}{column + 1}"


def tiled(area: Box, size: tuple[float, float], overlap: float, lean: tuple[float, float] = (0.5, 0.5)) -> Tiling:
    """Cover an area with windows of `size`; ValueError when they are no larger than what neighbours share.

    `lean` says where what is shown beyond the area goes, across and up: 0 beyond its right (top) edge, 1 beyond its
    left (bottom) edge, 0.5 half on each side.
    """
    if min(size) <= overlap or overlap < 0:
        raise ValueError(f"windows of {size[0]:g} x {size[1]:g} cannot share {overlap:g}")
    columns, rows = (_count(e, s, overlap) for e, s in zip((area.width, area.height), size, strict=True))
    wide, tall = size[0] - overlap, size[1] - overlap
    left = area.left - lean[0] * (columns * wide + overlap - area.width)
    bottom = area.bottom - lean[1] * (rows * tall + overlap - area.height)
    top = bottom + rows * tall + overlap
    boxes = [
        Tile(r, c, Box(left + c * wide, top - r * tall - size[1], left + c * wide + size[0], top - r * tall))
        for r in range(rows)
        for c in range(columns)
    ]
    return Tiling(rows, columns, tuple(boxes), overlap)


def _count(extent: float, size: float, overlap: float) -> int:
    """The fewest windows side by side that cover an extent."""
    return max(1, math.ceil((extent - overlap - TOLERANCE_MM) / (size - overlap)))
