"""Cut panels from clipped modules: outline, size to saw, taper and name.

In: pieces in the grid frame. Out: `Panel`s with outlines in the room frame, in walking order: row by row from the
reference corner. What lies over the ledge of the wall angle alone, or is too small for anything to be left once the
panel's undersize is off, is no panel: the ledge closes it.
"""

import math
from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from planner.ceiling.grid.cells import EDGE_MM
from planner.ceiling.grid.classes import marks_of
from planner.ceiling.grid.clipping import Pieces
from planner.ceiling.grid.cut import Cut, cuts_of
from planner.ceiling.marks import tape_mark
from planner.ceiling.members.pipes import ledged
from planner.ceiling.model import Cell, Closed, Panel
from planner.ceiling.system import System
from planner.geometry import TOLERANCE_MM, Box, Frame, Point, Ring, box_of, signed_area
from planner.records import dataclass
from planner.room.outline import Room

_NOISE = 1e-6  #: of a mark; float noise that must not cost one
_DIGITS = 6  #: of a millimetre; hides float noise and keeps sixty-fourths of an inch
_IN_LINE = 1e-5  #: a corner this close to the line between its neighbours is none


@dataclass(frozen=True, slots=True)
class _Piece:
    """A part of a module, in the grid frame."""

    cell: Cell
    rings: tuple[Ring, ...]  #: its opening and the columns in it
    cut: Cut | None
    size: tuple[float, float]  #: to saw; 0 along an axis along which nothing is left


@dataclass(frozen=True, slots=True)
class _Plane:
    """What a piece needs to find its way back into the room."""

    frame: Frame
    module: tuple[float, float]
    undersize: float
    mark: float
    corners: dict[Point, Point]  #: corners of outline and columns as given, by their rounded place

    def outward(self, ring: Ring) -> Ring:
        """Turn a ring into the room frame; corners of the room come out as they were given."""
        return tuple(self.corners.get(p, p) for p in (_rounded(self.frame.outward(point)) for point in ring))

    def cut_to(self, cut: Cut) -> tuple[float, float]:
        """Size to saw: the box of what is cut, rounded down once, to a mark on the tape; see `_sawn`."""
        u, v = (
            self._sawn(extent, module - self.undersize)
            for extent, module in zip((cut.box.width, cut.box.height), self.module, strict=True)
        )
        return (u, v)

    def is_whole(self, piece: _Piece) -> bool:
        """Whether nothing of a bought panel is cut away that a tape would show."""
        bought = tuple(round(module - self.undersize, _DIGITS) for module in self.module)
        return piece.cut is not None and piece.cut.shape == "plain" and piece.size == bought

    def _sawn(self, extent: float, whole: float) -> float:
        """One side: a whole one stays as it is bought; one that is cut is rounded down to a mark.

        The undersize to deduct from the tee-to-wall size is as in a general how-to (1/4 in).
        """
        if extent >= whole - TOLERANCE_MM:
            return round(whole, _DIGITS)
        return round(math.floor(extent / self.mark + _NOISE) * self.mark, _DIGITS)


@dataclass(frozen=True, slots=True)
class CutModules:
    """What the modules that a wall cuts come to."""

    panels: tuple[Panel, ...]
    closed: tuple[Closed, ...]
    whole: frozenset[Cell]  #: where a panel as bought goes in, though a wall takes a hair off the module's corner


def panels_of(room: Room, frame: Frame, module: tuple[float, float], system: System, pieces: Pieces) -> CutModules:
    """Make a panel of each piece, named by class and number; see `Panel` for units."""
    given = [p for ring in (room.outline, *(c.outline for c in room.columns)) for p in ring]
    mark = tape_mark(room.imperial)
    corners = {_rounded(p): (float(p[0]), float(p[1])) for p in given}
    plane = _Plane(frame, module, system.panel_undersize, mark, corners)
    ahead = _ahead(room, frame)
    found = sorted(_pieces(pieces, plane), key=lambda piece: _step(piece.cell, piece.rings[0], ahead))
    whole = frozenset(piece.cell for piece in found if plane.is_whole(piece))
    found = [piece for piece in found if piece.cell not in whole]
    hidden = _over_ledge(found, room, frame, system.ledge)
    panels = [(p, p.cut) for p, over in zip(found, hidden, strict=True) if p.cut and min(p.size) > 0 and not over]
    names = marks_of([(cut, piece.size) for piece, cut in panels], mark)
    kept = {id(piece) for piece, _ in panels}
    return CutModules(
        tuple(_panel(name, piece, cut, plane) for name, (piece, cut) in zip(names, panels, strict=True)),
        tuple(_closed(piece, plane) for piece in found if id(piece) not in kept),
        whole,
    )


def _pieces(pieces: Pieces, plane: _Plane) -> Iterator[_Piece]:
    rings = [_rings(shape) for shape in pieces.shapes]
    wide, deep = plane.module
    modules = [Box(c * wide, r * deep, (c + 1) * wide, (r + 1) * deep) for c, r in pieces.cells.tolist()]
    cuts = cuts_of(rings, modules, plane.undersize)
    for (column, row), opening, cut in zip(pieces.cells.tolist(), rings, cuts, strict=True):
        yield _Piece((column, row), opening, cut, (0.0, 0.0) if cut is None else plane.cut_to(cut))


def _over_ledge(pieces: Sequence[_Piece], room: Room, frame: Frame, ledge: float) -> list[bool]:
    """Which pieces lie with every part over a ledge of the wall angle, so that nobody sees whether they are there."""
    boxes = [box_of(piece.rings[0]) for piece in pieces]
    narrow = [min(box.width, box.height) <= 2 * ledge for box in boxes]
    if not any(narrow):
        return narrow
    walls = [room.outline, *(column.outline for column in ledged(room).columns)]
    over: BaseGeometry = shapely.union_all(
        [shapely.LinearRing([frame.inward(point) for point in ring]).buffer(ledge) for ring in walls]
    )
    shapely.prepare(over)
    return [
        small and bool(over.covers(shapely.Polygon(piece.rings[0], piece.rings[1:])))
        for small, piece in zip(narrow, pieces, strict=True)
    ]


def smallest_cut(panels: tuple[Panel, ...], module: tuple[float, float]) -> float | None:
    """The narrowest opening of any cut panel, wall to grid line, not what is sawn for it; None when none is cut."""
    cuts = [
        opening
        for panel in panels
        for opening, whole in zip(panel.opening, module, strict=True)
        if opening < whole - EDGE_MM
    ]
    return min(cuts, default=None)


def _ahead(room: Room, frame: Frame) -> tuple[int, int]:
    """Direction of walking along each grid axis, away from the reference corner: +1 or -1."""
    inward = [frame.inward(point) for point in room.outline]
    box, (u, v) = box_of(inward), inward[0]
    return (1 if u <= box.centre[0] else -1, 1 if v <= box.centre[1] else -1)


def _step(cell: Cell, ring: Ring, ahead: tuple[int, int]) -> tuple[float, ...]:
    """Sort key of the walk: row, then column, then place within the module."""
    box = box_of(ring)
    return (ahead[1] * cell[1], ahead[0] * cell[0], round(ahead[0] * box.left, 2), round(ahead[1] * box.bottom, 2))


def _rings(shape: shapely.Polygon) -> tuple[Ring, ...]:
    """Outline and holes, each counter-clockwise from its lowest, then leftmost corner, without corners in a line."""
    return tuple(_tidy(np.asarray(ring.coords)[:-1].tolist()) for ring in (shape.exterior, *shape.interiors))


def _tidy(points: list[list[float]]) -> Ring:
    ring = [(x, y) for x, y in points]
    if signed_area(ring) < 0:
        ring.reverse()
    # corners that clipping doubled: each alone would seem to lie in line with its twin
    ring = [corner for before, corner in zip([ring[-1], *ring[:-1]], ring, strict=True) if not _twins(before, corner)]
    around = zip([ring[-1], *ring[:-1]], ring, [*ring[1:], ring[0]], strict=True)
    kept = [corner for before, corner, after in around if _bends(before, corner, after)]
    first = min(range(len(kept)), key=lambda k: (round(kept[k][1], 3), round(kept[k][0], 3)))
    return tuple(kept[first:] + kept[:first])


def _twins(one: Point, other: Point) -> bool:
    return math.hypot(other[0] - one[0], other[1] - one[1]) <= TOLERANCE_MM


def _bends(before: Point, corner: Point, after: Point) -> bool:
    (ax, ay), (bx, by) = (corner[0] - before[0], corner[1] - before[1]), (after[0] - corner[0], after[1] - corner[1])
    return abs(ax * by - ay * bx) > _IN_LINE * math.hypot(ax + bx, ay + by)


def _panel(name: str, piece: _Piece, cut: Cut, plane: _Plane) -> Panel:
    box = box_of(piece.rings[0])
    opening = (round(box.width, _DIGITS), round(box.height, _DIGITS))
    outline, *holes = map(plane.outward, piece.rings)
    taper = round(cut.taper, _DIGITS)
    return Panel(name, piece.cell, outline, tuple(holes), opening, piece.size, taper, full_size=False, shape=cut.shape)


def _closed(piece: _Piece, plane: _Plane) -> Closed:
    outline, *holes = map(plane.outward, piece.rings)
    return Closed(piece.cell, outline, tuple(holes))


def _rounded(point: Point) -> Point:
    return (round(point[0], _DIGITS) + 0.0, round(point[1], _DIGITS) + 0.0)  # + 0.0 makes -0.0 plain
