"""Cut panels from clipped modules: outline, size to saw, taper and name.

In: pieces in the grid frame. Out: `Panel`s with outlines in the room frame, in walking order: row by row from the
reference corner. Pieces of the same outline (turned and mirrored ones are others) share a class letter.
"""

import math
from collections import defaultdict
from dataclasses import dataclass

import numpy as np
import shapely

from planner.ceiling.grid.cells import EDGE_MM
from planner.ceiling.grid.clipping import Pieces
from planner.ceiling.marks import class_letters
from planner.ceiling.model import Cell, Panel
from planner.ceiling.system import System
from planner.geometry import TOLERANCE_MM, Frame, Point, Ring, box_of, edges, signed_area
from planner.room.outline import Room

_SAW_MARK = {True: 25.4 / 16, False: 1.0}  #: what a cut is rounded down to, in inches and in millimetres
_SIGNATURE = 10  #: pieces are compared in tenths of a millimetre
_DIGITS = 6  #: of a millimetre; hides float noise and keeps sixty-fourths of an inch
_IN_LINE = 1e-5  #: a corner this close to the line between its neighbours is none
_CORNER_DEG = 30.0  #: sides that are more out of line than this meet in a corner; the chords of a bow do not


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

    def cut_to(self, extent: float, module: float) -> float:
        """Size to saw: the opening less the panel's undersize, rounded down to a mark on the tape.

        The deduction from the tee-to-wall size is as in a general how-to (1/4 in); a whole module takes a whole panel.
        """
        if extent >= module - TOLERANCE_MM:
            return round(module - self.undersize, _DIGITS)
        return round(max(math.floor((extent - self.undersize) / self.mark + 1e-6) * self.mark, 0.0), _DIGITS)


def panels_of(
    room: Room, frame: Frame, module: tuple[float, float], system: System, pieces: Pieces
) -> tuple[Panel, ...]:
    """Make a panel of each piece, named by class and number; see `Panel` for units."""
    given = [p for ring in (room.outline, *(c.outline for c in room.columns)) for p in ring]
    plane = _Plane(
        frame,
        module,
        system.panel_undersize,
        _SAW_MARK[system.imperial],
        {_rounded(p): (float(p[0]), float(p[1])) for p in given},
    )
    ahead = _ahead(room, frame)
    rings = [_rings(shape) for shape in pieces.shapes]
    cells = [(int(column), int(row)) for column, row in pieces.cells]
    order = sorted(range(len(rings)), key=lambda k: _step(cells[k], rings[k][0], ahead))
    names = _names([_signature(rings[k]) for k in order])
    return tuple(_panel(name, cells[k], rings[k], plane) for name, k in zip(names, order, strict=True))


def smallest_cut(panels: tuple[Panel, ...], module: tuple[float, float]) -> float | None:
    """Narrowest cut size of any panel: the least opening that is not a whole module; None when there is none."""
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


def _signature(rings: tuple[Ring, ...]) -> tuple[tuple[tuple[int, int], ...], ...]:
    """Outline and holes in tenths of a millimetre from the piece's own lower left; the same for pieces cut alike."""
    box = box_of(rings[0])
    whole = [[(_tenths(x - box.left), _tenths(y - box.bottom)) for x, y in ring] for ring in rings]
    return tuple(_from_lowest(ring) for ring in (whole[0], *sorted(whole[1:])))


def _tenths(length: float) -> int:
    return math.floor(length * _SIGNATURE + 0.5 + 1e-5)  # halves are common; float noise must not split them


def _from_lowest(ring: list[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    first = min(range(len(ring)), key=lambda k: ring[k][::-1])
    return tuple(ring[first:] + ring[:first])


def _names(signatures: list[tuple[tuple[tuple[int, int], ...], ...]]) -> list[str]:
    """Class letter by first appearance, number within the class."""
    classes: dict[tuple[tuple[tuple[int, int], ...], ...], str] = {}
    counts: defaultdict[str, int] = defaultdict(int)
    names = []
    for signature in signatures:
        letter = classes.setdefault(signature, class_letters(len(classes)))
        counts[letter] += 1
        names.append(f"{letter}{counts[letter]}")
    return names


def _panel(name: str, cell: Cell, rings: tuple[Ring, ...], plane: _Plane) -> Panel:
    box = box_of(rings[0])
    opening = (round(box.width, _DIGITS), round(box.height, _DIGITS))
    cut_to = (plane.cut_to(opening[0], plane.module[0]), plane.cut_to(opening[1], plane.module[1]))
    outline, *holes = (plane.outward(ring) for ring in rings)
    return Panel(name, cell, outline, tuple(holes), opening, cut_to, _taper(rings[0]), full_size=False)


def _taper(ring: Ring) -> float:
    """Difference in width along the walls of a piece that are not parallel to the grid; 0 for rectangles.

    Such walls that follow on each other without a corner (chords of a bow) are one cut. From its start the cut gets
    away along both axes; the lesser of the two is what the width of the piece changes by. The taper is the greatest
    such change: the difference between the two ends of a straight wall, the rise of a bow.
    """
    sides = list(edges(ring))
    slanted = [min(abs(b[0] - a[0]), abs(b[1] - a[1])) > TOLERANCE_MM for a, b in sides]
    if all(slanted):
        return round(max(min(abs(b[0] - a[0]), abs(b[1] - a[1])) for a, b in sides), _DIGITS)
    first = slanted.index(False)
    taper, start = 0.0, ring[first]
    for k in (*range(first, len(ring)), *range(first)):
        end = sides[k][1]
        if not slanted[k]:
            start = end
        elif _turns(sides[k - 1], sides[k]):
            start = sides[k][0]
        taper = max(taper, min(abs(end[0] - start[0]), abs(end[1] - start[1])))
    return round(taper, _DIGITS)


def _turns(before: tuple[Point, Point], after: tuple[Point, Point]) -> bool:
    """Whether there is a corner between two sides: they are out of line by more than `_CORNER_DEG`."""
    (a, b), (c, d) = before, after
    u, v = (b[0] - a[0], b[1] - a[1]), (d[0] - c[0], d[1] - c[1])
    turn = math.atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1])
    return abs(math.degrees(turn)) > _CORNER_DEG


def _rounded(point: Point) -> Point:
    return (round(point[0], _DIGITS) + 0.0, round(point[1], _DIGITS) + 0.0)  # + 0.0 makes -0.0 plain
