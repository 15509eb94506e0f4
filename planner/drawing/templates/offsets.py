"""The numbers of a piece, so that it can be marked with square and tape alone.

In: a `Piece`. Out: `Offsets`: a corner of the panel as bought to measure from, and from it every corner, points along
each bow, circles. Millimetres, along the two edges that meet in that corner.

Rules: the start is where two factory-made edges meet, the one nearest the room's reference corner if there are several.
A length to a corner is rounded so that the piece never grows: down towards a cut edge on the far side, up towards one
on the near side (a cut must not be too long).
"""

import itertools
import math
from collections.abc import Iterator

from planner.drawing.templates.piece import Circle, Piece, Side
from planner.geometry import TOLERANCE_MM, Point, distance
from planner.lengths import Rounding
from planner.records import dataclass

#: A normal that leans less than this (sine) does not say which way a corner may move.
_LEANING = 0.02
#: Arcs of more than this are told by centre and radius, not by offsets, degrees.
_ROUND = 100.0


@dataclass(frozen=True, slots=True)
class Offset:
    """Where one corner is, from the start: along the piece's x and y axes, both positive into the panel."""

    number: int
    at: Point  #: in the piece's frame
    along: float
    away: float
    rounding: tuple[Rounding, Rounding]


@dataclass(frozen=True, slots=True)
class Bow:
    """A bowed side between two corners: points on it at regular stations."""

    side: Side
    first: int  #: number of the corner that it starts from
    last: int
    radius: float
    hollow: bool  #: True where the arc curves into the piece
    upright: bool  #: stations run along y, offsets along x; else the other way round
    stations: tuple[tuple[float, float], ...]  #: station, offset; none of an arc that is told by its centre
    rounding: Rounding
    centre: Point | None  #: from the start; None where stations tell it


@dataclass(frozen=True, slots=True)
class Round:
    """A circle or rectangle to cut out, by its centre; one round a column is told no smaller than it is."""

    name: str
    along: float
    away: float
    size: tuple[float, float]  #: of a circle its diameter twice
    shape: str  #: "round" or "rectangle"
    rounding: Rounding = Rounding.NEAREST


@dataclass(frozen=True, slots=True)
class Offsets:
    """All numbers of a piece."""

    start: Point  #: in the piece's frame
    way: tuple[int, int]  #: +1 or -1: from the start into the panel
    factory: bool  #: two edges as bought meet in the start
    corners: tuple[Offset, ...]
    bows: tuple[Bow, ...]
    rounds: tuple[Round, ...]


def offsets_of(piece: Piece, station: float) -> Offsets:
    """Measure a piece; bows every `station` millimetres."""
    start, way, factory = _start(piece)
    count = len(piece.sides)
    first = min(range(count), key=lambda k: (round(distance(piece.sides[k].points[0], start), 2), k))
    order = [(first + k) % count for k in range(count)]
    seen = _Seen(start, way)
    corners = tuple(_corner(piece, k, number, seen) for number, k in enumerate(order, 1))
    numbers = {k: number for number, k in enumerate(order, 1)}
    bows = tuple(
        _bow(piece.sides[k], numbers[k], numbers[(k + 1) % count], seen, station)
        for k in order
        if piece.sides[k].circle
    )
    return Offsets(start, way, factory, corners, bows, tuple(_rounds(piece, seen)))


@dataclass(frozen=True, slots=True)
class _Seen:
    """From the start, positive into the panel."""

    start: Point
    way: tuple[int, int]

    def __call__(self, point: Point) -> Point:
        x, y = ((point[k] - self.start[k]) * self.way[k] for k in (0, 1))
        return (x + 0.0, y + 0.0)


def _start(piece: Piece) -> tuple[Point, tuple[int, int], bool]:
    box = piece.box
    kept = [side for side in piece.sides if side.factory]

    def on(axis: int, value: float) -> bool:
        return any(all(abs(p[axis] - value) <= TOLERANCE_MM for p in side.points) for side in kept)

    found = []
    for x, right in ((box.left, 1), (box.right, -1)):
        for y, up in ((box.bottom, 1), (box.top, -1)):
            tees = on(0, x) + on(1, y)
            there = any(distance(side.points[0], (x, y)) <= TOLERANCE_MM for side in piece.sides)
            found.append((-tees, not there, round(distance((x, y), piece.corner), 3), (x, y), (right, up)))
    tees, missing, _, start, way = min(found)
    return start, way, tees == -2 and not missing


def _corner(piece: Piece, k: int, number: int, seen: _Seen) -> Offset:
    at = piece.sides[k].points[0]
    before, after = piece.sides[k - 1], piece.sides[k]
    normals = [_outward(before.points[-2], before.points[-1]), _outward(after.points[0], after.points[1])]
    cut = [n for n, side in zip(normals, (before, after), strict=True) if not side.factory]
    along, away = seen(at)
    ways = tuple(_rounding([n[axis] * seen.way[axis] for n in cut]) for axis in (0, 1))
    return Offset(number, at, along, away, (ways[0], ways[1]))


def _outward(a: Point, b: Point) -> Point:
    """The normal of an edge, pointing out of the piece."""
    length = math.hypot(b[0] - a[0], b[1] - a[1])
    return ((b[1] - a[1]) / length, (a[0] - b[0]) / length)


def _rounding(outward: list[float]) -> Rounding:
    """Which way a corner may be rounded along one axis, from the normals of the cut edges that meet in it."""
    leans = [value for value in outward if abs(value) > _LEANING]
    if leans and all(value > 0 for value in leans):
        return Rounding.DOWN
    if leans and all(value < 0 for value in leans):
        return Rounding.UP
    return Rounding.NEAREST


def _bow(side: Side, first: int, last: int, seen: _Seen, station: float) -> Bow:
    assert side.circle is not None
    points = [seen(point) for point in side.points]
    (ax, ay), (bx, by) = points[0], points[-1]
    upright = abs(by - ay) > abs(bx - ax)
    run = [(y, x) if upright else (x, y) for x, y in points]
    hollow = _turns(side) < 0
    length = sum(distance(a, b) for a, b in itertools.pairwise(points))
    if math.degrees(length / side.circle.radius) > _ROUND or not _goes_one_way(run):
        return Bow(
            side, first, last, side.circle.radius, hollow, upright, (), Rounding.NEAREST, seen(side.circle.centre)
        )
    middle = len(side.points) // 2
    out = _outward(side.points[middle - 1], side.points[middle])
    axis = 0 if upright else 1
    rounding = _rounding([out[axis] * seen.way[axis]])
    stations = tuple(_stations(run, station))
    return Bow(side, first, last, side.circle.radius, hollow, upright, stations, rounding, None)


def _turns(side: Side) -> float:
    """Positive where a bow turns counter-clockwise, as a piece that bulges does."""
    a, b, c = side.points[0], side.points[len(side.points) // 2], side.points[-1]
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])


def _goes_one_way(run: list[Point]) -> bool:
    steps = [b[0] - a[0] for a, b in itertools.pairwise(run)]
    return all(step > 0 for step in steps) or all(step < 0 for step in steps)


def _stations(run: list[Point], station: float) -> Iterator[tuple[float, float]]:
    """Offsets at every whole number of stations between the ends of a run."""
    points = sorted(run)
    low, high = points[0][0], points[-1][0]
    for k in range(math.floor(low / station) + 1, math.ceil(high / station)):
        at = k * station
        if min(at - low, high - at) > station / 10:
            a, b = next(pair for pair in itertools.pairwise(points) if pair[0][0] <= at <= pair[1][0])
            share = (at - a[0]) / (b[0] - a[0])
            yield at, a[1] + share * (b[1] - a[1])


def _rounds(piece: Piece, seen: _Seen) -> Iterator[Round]:
    for cutout in piece.cutouts:
        yield Round(cutout.service, *seen(cutout.centre), cutout.size, cutout.shape)
    for hole in piece.holes:
        if hole.circle is not None:
            yield _round(hole.name, hole.circle, seen)


def _round(name: str, circle: Circle, seen: _Seen) -> Round:
    return Round(name, *seen(circle.centre), (2 * circle.radius, 2 * circle.radius), "round", Rounding.UP)
