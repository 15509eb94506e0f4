"""The ground that services are set out on: modules, cut pieces, mains and walls, all looked up in the grid frame.

In: a room, its layout, the system and the lines of the main tees. Out: `Ground`, which answers in grid-frame
millimetres (see `planner.ceiling.model`). Whole panels stay runs; only rows and cut pieces are indexed.
"""

import math
from collections import defaultdict
from collections.abc import Iterator, Set
from dataclasses import dataclass
from functools import cached_property

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from planner.ceiling.mains import MainLines
from planner.ceiling.model import Cell, Layout, Panel, Run
from planner.ceiling.system import System
from planner.geometry import TOLERANCE_MM, Box, Point
from planner.room.outline import Room

Span = tuple[int, int]  #: whole modules along the two grid axes
Hook = tuple[int, int]  #: a line along the mains, and the line that crosses it


@dataclass(frozen=True)
class Ground:
    """A laid-out ceiling before anything hangs in it."""

    room: Room
    layout: Layout
    system: System
    mains: MainLines

    @cached_property
    def rows(self) -> dict[int, tuple[Run, ...]]:
        """Runs of whole panels, by row of cells, left to right."""
        rows: dict[int, list[Run]] = defaultdict(list)
        for run in self.layout.full_runs:
            rows[run.row].append(run)
        return {row: tuple(sorted(runs, key=lambda run: run.first)) for row, runs in rows.items()}

    @cached_property
    def pieces(self) -> dict[Cell, tuple[Panel, ...]]:
        """Cut panels by cell; a cell that a wall crosses twice holds several."""
        pieces: dict[Cell, list[Panel]] = defaultdict(list)
        for panel in self.layout.cut_panels:
            pieces[panel.cell].append(panel)
        return {cell: tuple(panels) for cell, panels in pieces.items()}

    @cached_property
    def floor(self) -> BaseGeometry:
        """The ceiling's area, columns taken out, in the grid frame."""
        inward = self.layout.frame.inward
        columns = [Polygon([inward(p) for p in column.outline]) for column in self.room.columns]
        floor = Polygon([inward(p) for p in self.room.outline]).difference(shapely.union_all(columns))
        shapely.prepare(floor)
        return floor

    @cached_property
    def edges(self) -> BaseGeometry:
        """Every wall and column face, in the grid frame."""
        return self.floor.boundary

    def edges_in(self, box: Box) -> BaseGeometry:
        """The walls and column faces inside a box or on its sides."""
        near = box.grown(5 * TOLERANCE_MM)  # a clip drops what lies just on its own side
        return shapely.clip_by_rect(self.edges, near.left, near.bottom, near.right, near.top)

    def cell_at(self, point: Point) -> Cell:
        return (math.floor(point[0] / self.layout.module[0]), math.floor(point[1] / self.layout.module[1]))

    def cells_under(self, box: Box) -> Iterator[Cell]:
        """Every cell whose inside meets a box."""
        first = self.cell_at((box.left + TOLERANCE_MM, box.bottom + TOLERANCE_MM))
        last = self.cell_at((box.right - TOLERANCE_MM, box.top - TOLERANCE_MM))
        return ((i, j) for j in range(first[1], last[1] + 1) for i in range(first[0], last[0] + 1))

    def box(self, cell: Cell, span: Span = (1, 1)) -> Box:
        """The modules from `cell` on, line to line."""
        (i, j), (along, away), (width, depth) = cell, span, self.layout.module
        return Box(i * width, j * depth, (i + along) * width, (j + away) * depth)

    def is_full(self, cell: Cell) -> bool:
        return any(run.first <= cell[0] <= run.last for run in self.rows.get(cell[1], ()))

    def piece_at(self, point: Point) -> Panel | None:
        """The cut panel that a point lies in."""
        outward = shapely.Point(self.layout.frame.outward(point))
        for panel in self.pieces.get(self.cell_at(point), ()):
            if Polygon(panel.outline, panel.holes).covers(outward):
                return panel
        return None

    def straddles_main(self, cell: Cell, span: Span) -> bool:
        """True when a main tee runs through the group of modules that starts at `cell`."""
        _, (row, rows) = self._by_mains(cell, span)
        return any(map(self.mains.is_main, range(row + 1, row + rows)))

    def unhooked(self, cell: Cell, span: Span) -> frozenset[Hook]:
        """Where a tee beside the group loses the cross tee that it would hook into.

        A cross tee stops at the side of a service. Where that side is no main, the tee along it must reach past.
        """
        (column, columns), (row, rows) = self._by_mains(cell, span)
        beside = [line for line in (row, row + rows) if not self.mains.is_main(line)]
        return frozenset((line, crossing) for line in beside for crossing in range(column + 1, column + columns))

    def bears(self, lost: Set[Hook], before: Set[Hook]) -> bool:
        """True when some cross tee reaches past every row of hooks lost, those lost before included."""
        pitch = self.layout.module[0 if self.mains.direction == "along" else 1]
        most = math.floor((self.system.cross_tees[-1].length + TOLERANCE_MM) / pitch) - 1
        return all(_row_of_hooks(hook, lost, before) <= most for hook in lost)

    def _by_mains(self, cell: Cell, span: Span) -> tuple[tuple[int, int], tuple[int, int]]:
        """First and count of a group's modules along the mains, then square to them."""
        pairs = ((cell[0], span[0]), (cell[1], span[1]))
        return pairs if self.mains.direction == "along" else (pairs[1], pairs[0])


def cells_of(cell: Cell, span: Span) -> tuple[Cell, ...]:
    """The cells of a group that starts at `cell`, row by row."""
    (i, j), (along, away) = cell, span
    return tuple((i + k, j + n) for n in range(away) for k in range(along))


def _row_of_hooks(hook: Hook, *lost: Set[Hook]) -> int:
    """How many lost hooks follow each other on the line of this one, it included."""
    line, low = hook
    high = low
    while any((line, low - 1) in some for some in lost):
        low -= 1
    while any((line, high + 1) in some for some in lost):
        high += 1
    return high - low + 1
