"""Where a hole goes in its panel, and the nearest place that is sound.

In: the ground, what stands already, and a hole where it is wished. Out: a centre without faults (see
`planner.ceiling.seating.holes`), or None. Grid frame, millimetres. A hole that may move goes to the centre of its panel
(common practice, no source); one that is fixed is told the least move that cures it.
"""

import itertools
from collections.abc import Iterator

import shapely
from shapely import MultiPoint
from shapely import Point as Spot
from shapely.geometry.base import BaseGeometry

from planner.ceiling.seating.ground import Ground
from planner.ceiling.seating.holes import Hole, Ledger, faults, fits_a_whole_panel, sides
from planner.ceiling.seating.nearest import nearest
from planner.geometry import Box, Point

#: Added to the rim in every place that is proposed, so that it still holds when marked to the nearest 1/16 in.
MARKING_MM = 2.0


def place_in_cell(ground: Ground, ledger: Ledger, hole: Hole) -> Point | None:
    """Where in the wished cell the hole goes: the centre of its panel, or of what a cut piece leaves for it."""
    cell = ground.cell_at(hole.centre)
    if ground.is_full(cell):
        return _sound(ground, ledger, hole, ground.box(cell).centre)
    if cell not in ground.pieces or cell in ledger.taken:
        return None
    room_left = _room_for(ground, ledger, hole)
    if room_left.is_empty:
        return None
    middle = shapely.box(*room_left.bounds).centroid
    spot = middle if room_left.covers(middle) else room_left.representative_point()
    return _sound(ground, ledger, hole, (spot.x, spot.y))


def nearest_place(ground: Ground, ledger: Ledger, hole: Hole) -> Point | None:
    """The nearest panel centre without fault; a cut panel only when no whole one will do."""
    if fits_a_whole_panel(ground, hole):
        cell = nearest(
            ground, (1, 1), hole.centre, lambda cell: not faults(ground, ledger, hole.at(ground.box(cell).centre))
        )
        if cell is not None:
            return ground.box(cell).centre
    x, y = hole.centre
    centres = (ground.box(cell).centre for cell in ground.pieces)
    for centre in sorted(centres, key=lambda c: (round((c[0] - x) ** 2 + (c[1] - y) ** 2, 3), c[1], c[0])):
        place = place_in_cell(ground, ledger, hole.at(centre))
        if place is not None:
            return place
    return None


def least_move(ground: Ground, ledger: Ledger, hole: Hole) -> Point | None:
    """The nearest place without fault in the hole's own panel, else the nearest panel centre without fault."""
    if ground.cell_at(hole.centre) not in ledger.taken:
        room_left = _room_for(ground, ledger, hole)
        if not room_left.is_empty:
            _, spot = shapely.get_coordinates(shapely.shortest_line(Spot(hole.centre), room_left)).tolist()
            place = _sound(ground, ledger, hole, (spot[0], spot[1]))
            if place is not None:
                return place
    return nearest_place(ground, ledger, hole)


def _sound(ground: Ground, ledger: Ledger, hole: Hole, place: Point) -> Point | None:
    return None if faults(ground, ledger, hole.at(place)) else place


def _room_for(ground: Ground, ledger: Ledger, hole: Hole) -> BaseGeometry:
    """Where in its own module the hole's centre may lie, with the rim and a little for marking."""
    cell = ground.cell_at(hole.centre)
    module, rim = ground.box(cell), (hole.rim if hole.cut else 0.0) + MARKING_MM
    half_width, half_depth = hole.size[0] / 2, hole.size[1] / 2
    side, end = ground.system.tee_face / 2 + rim + half_width, ground.system.tee_face / 2 + rim + half_depth
    if module.width <= 2 * side or module.height <= 2 * end:
        return Spot()
    inside = Box(module.left + side, module.bottom + end, module.right - side, module.top - end)
    room_left = shapely.clip_by_rect(ground.floor, *sides(inside))
    width, depth = half_width + ground.system.ledge + rim, half_depth + ground.system.ledge + rim
    blocked = [_around(wall, width, depth, hole.round) for wall in _straight_parts(ground.edges_in(module))]
    blocked += [_beside(other.box, half_width + rim, half_depth + rim) for other in ledger.holes.get(cell, ())]
    return room_left.difference(shapely.union_all(blocked))


def _straight_parts(lines: BaseGeometry) -> Iterator[BaseGeometry]:
    for part in shapely.get_parts(lines):
        points = shapely.get_coordinates(part).tolist()
        for start, end in itertools.pairwise(points):
            yield shapely.LineString([start, end])


def _around(line: BaseGeometry, width: float, depth: float, is_round: bool) -> BaseGeometry:
    """Every centre from which the hole, grown to `width` and `depth` each way, would meet a straight line."""
    if is_round:
        return line.buffer(width, quad_segs=32)
    ends = shapely.get_coordinates(line).tolist()
    return MultiPoint([(x + a * width, y + b * depth) for x, y in ends for a in (-1, 1) for b in (-1, 1)]).convex_hull


def _beside(box: Box, width: float, depth: float) -> BaseGeometry:
    """Every centre from which the hole, grown to `width` and `depth` each way, would meet another hole's box."""
    return shapely.box(box.left - width, box.bottom - depth, box.right + width, box.top + depth)
