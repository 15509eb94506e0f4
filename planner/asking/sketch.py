"""The room as it was told before anything is taped: corners and turns, with lengths made up.

In: answers so far. Out: a `View`, to hold beside one's own sketch: a corner named wrongly, or the wrong hand, shows
before the first wall is taped. Rule: lengths near one another that close the walk; of many tries the first whose walls
keep well apart. None where there is none, as in rooms with very many corners.
"""

import math
from collections.abc import Iterator

import numpy as np
from shapely import LineString, Polygon

from planner.asking.picture import View
from planner.asking.question import Answers
from planner.asking.tapes import board_of
from planner.geometry import Point
from planner.room.closing.network import angle_as_told, room_on_the_left

#: Sides of the sketch lie between these, in lengths of its own; walls that do not meet keep so far apart.
_SHORTEST, _APART = 0.5, 0.45
_TRIES = 200
_GOLDEN = (math.sqrt(5.0) - 1.0) / 2.0
#: Inside angles must go once round this well, degrees.
_TURN_DEG = 1.0


def sketch_of(given: Answers) -> View | None:
    """A room with the corners and turns as told; None before they are, or where no such room is found."""
    if given.get("shape") != "taped" or not {"corners", "walk", "angles"} <= given.keys():
        return None
    board = room_on_the_left(board_of(given))
    inside = [angle_as_told(board, corner) for corner in board.corners]
    if abs(sum(inside) - (len(inside) - 2) * 180.0) > _TURN_DEG:
        return None
    turns = np.cumsum([0.0, *(180.0 - angle for angle in inside[1:])])
    ways = np.column_stack((np.cos(np.radians(turns)), np.sin(np.radians(turns))))
    points = next(_closed(ways), None)
    return None if points is None else View(points, dict(zip(board.corners, points, strict=True)), (), ())


def _closed(ways: np.ndarray) -> Iterator[tuple[Point, ...]]:
    """Walks along the ways given, a unit vector for each wall, that close without walls coming near one another."""
    back = np.linalg.pinv(ways.T)
    for k in range(_TRIES):
        wished = 1.0 + 3.0 * np.modf(k * _GOLDEN * np.arange(1, len(ways) + 1))[0]
        lengths = wished - back @ (ways.T @ wished)
        if lengths.min() < _SHORTEST:
            continue
        ends = np.vstack(([0.0, 0.0], np.cumsum(ways[:-1] * lengths[:-1, None], axis=0)))
        points = tuple((float(x), float(y)) for x, y in ends)
        if _keeps_apart(points):
            yield points


def _keeps_apart(points: tuple[Point, ...]) -> bool:
    if not Polygon(points).is_valid:
        return False
    walls = [LineString(pair) for pair in zip(points, (*points[1:], points[0]), strict=True)]
    count = len(walls)
    return all(
        walls[a].distance(walls[b]) > _APART for a in range(count) for b in range(a + 2, count) if (b + 1) % count != a
    )
