"""What an earthquake leaves free between tee ends and walls, and at which walls tees are fixed instead.

In: a room and its system. Out: `Perimeter`, in words of the rule; `FreeEnds`, which tells of any tee end how far it
stops short of its wall.

Rules: ASTM E580 ss. 4 and 5, second hand. Category C: every tee end is 3/8 in free of the wall. Categories D to F: tee
ends are fixed at two walls that meet, and 3/4 in free of every other wall and of columns. The metric figures, 10 and
19 mm, are those of E580M, from memory. Which walls is for whoever builds to say (`fixed_walls`); else they are those
that meet at the reference corner, or at another where the two are longer by more than a tenth (common practice, no
source). The gap is square to the wall: a tee that meets a slanted or a bowed wall loses more of its length. The
standard is for hung ceilings.
"""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import shapely

from planner.ceiling.system import System
from planner.geometry import Point, distance, edges
from planner.records import dataclass
from planner.room.outline import Room, Wall

INCH = 25.4

#: From tee end to wall, in rooms measured in inches and in metric ones: ASTM E580, second hand; E580M from memory.
GAP_C_MM = {True: 3 / 8 * INCH, False: 10.0}
GAP_D_MM = {True: 3 / 4 * INCH, False: 19.0}
STRICT = ("D", "E", "F")

#: A tee end is at a wall that is nearer than this.
_AT_WALL_MM = 0.5
#: Walls that meet at between these angles hold a ceiling both ways (common practice, no source).
_HOLDING_DEG = (45.0, 135.0)
#: A wall that turns by less goes straight on.
_STRAIGHT_ON_DEG = 5.0
#: Two walls that are longer together by less than this share stay behind those of the reference corner.
_CLEARLY_LONGER = 1.1
#: Sine of the angle between a tee and a wall that it passes along rather than meets.
_ALONGSIDE = 0.02


@dataclass(frozen=True, slots=True)
class Perimeter:
    """How tees end at the walls of a room."""

    gap: float  #: from tee end to wall, square to the wall; millimetres
    fixed: tuple[str, ...] = ()  #: names of the walls that tee ends are fixed to, in walking order; () where none is


def perimeter_of(room: Room, system: System) -> Perimeter | None:
    """How tees end at the walls; None where no earthquake asks for anything."""
    category = room.site.seismic if system.fixing == "hung" else None
    if category == "C":
        return Perimeter(GAP_C_MM[room.imperial])
    if category in STRICT:
        fixed = room.site.fixed_walls or tuple(room.walls[k].name for k in _fixed_walls(room.walls))
        return Perimeter(GAP_D_MM[room.imperial], fixed)
    return None


def _fixed_walls(walls: Sequence[Wall]) -> tuple[int, ...]:
    """The walls that tees are fixed to: two that meet, each with what goes straight on from it."""
    count = len(walls)
    best, most = (count - 1, 0), 0.0
    for k in range(count):
        low, high = _HOLDING_DEG
        if not low <= _turn(walls[k - 1], walls[k]) <= high:
            continue
        long = sum(walls[n].length for n in _both(walls, k))
        if long > most * (_CLEARLY_LONGER if most else 1.0):
            best, most = ((k - 1) % count, k), long
    return tuple(sorted(_both(walls, best[1])))


def _both(walls: Sequence[Wall], second: int) -> set[int]:
    """The two walls that meet where wall `second` starts, and those that go straight on from them."""
    count, found = len(walls), {second, (second - 1) % len(walls)}
    for step, at in ((1, second), (-1, (second - 1) % count)):
        while (after := (at + step) % count) not in found:
            pair = (walls[at], walls[after]) if step == 1 else (walls[after], walls[at])
            if abs(_turn(*pair)) > _STRAIGHT_ON_DEG:
                break
            found.add(after)
            at = after
    return found


def _turn(before: Wall, after: Wall) -> float:
    """Degrees that one turns left from one wall into the next, seen along their last and first straight parts."""
    (a, b), (c, d) = before.points[-2:], after.points[:2]
    come, leave = math.atan2(b[1] - a[1], b[0] - a[0]), math.atan2(d[1] - c[1], d[0] - c[0])
    return (math.degrees(leave - come) + 180.0) % 360.0 - 180.0


@dataclass(frozen=True, slots=True)
class _Side:
    """A straight part of a wall or column, or all of a round one."""

    start: Point
    end: Point
    centre: Point | None = None  #: of a round one
    radius: float = 0.0
    inside: bool = False  #: the room is within the circle

    def short(self, end: Point, way: Point, gap: float) -> float:
        """How far on from `end`, along the unit vector `way`, the wall is `gap` away."""
        return self._short_of_circle(end, way, gap) if self.centre else self._short_of_line(end, way, gap)

    def sine(self, way: Point) -> float:
        """Of the angle between wall and tee."""
        (x, y), long = (self.end[0] - self.start[0], self.end[1] - self.start[1]), distance(self.start, self.end)
        return abs(x * way[1] - y * way[0]) / long

    def _short_of_line(self, end: Point, way: Point, gap: float) -> float:
        long = distance(self.start, self.end)
        along = ((self.end[0] - self.start[0]) / long, (self.end[1] - self.start[1]) / long)
        x, y = end[0] - self.start[0], end[1] - self.start[1]
        leaving, off = along[0] * way[1] - along[1] * way[0], along[0] * y - along[1] * x
        on = max((gap - off) / leaving, 0.0) if leaving > 0 else math.inf  # the room is on the left of every side
        foot = x * along[0] + y * along[1]
        foot += on * (way[0] * along[0] + way[1] * along[1]) if on < math.inf else 0.0
        if 0.0 <= foot <= long and on < math.inf:
            return on
        return _leaves_circle(end, way, self.start if foot < long / 2 else self.end, gap)

    def _short_of_circle(self, end: Point, way: Point, gap: float) -> float:
        assert self.centre is not None
        if not self.inside:
            return _leaves_circle(end, way, self.centre, self.radius + gap)
        x, y = end[0] - self.centre[0], end[1] - self.centre[1]
        b, c = x * way[0] + y * way[1], x * x + y * y - (self.radius - gap) ** 2
        return max(-b - math.sqrt(max(b * b - c, 0.0)), 0.0)  # a chord wholly in the gap ends at its middle


def _leaves_circle(end: Point, way: Point, centre: Point, radius: float) -> float:
    """How far on from `end` a circle is left; 0 where the line does not meet it."""
    x, y = end[0] - centre[0], end[1] - centre[1]
    b, c = x * way[0] + y * way[1], x * x + y * y - radius**2
    return max(-b + math.sqrt(b * b - c), 0.0) if b * b >= c else 0.0


class FreeEnds:
    """The walls of a room that tee ends stop short of."""

    def __init__(self, room: Room, system: System, hidden: float = 0.0) -> None:
        """`hidden` is how far tees stop short of every wall in any case."""
        self.perimeter = perimeter_of(room, system)
        self._near = _AT_WALL_MM + hidden
        self._sides = list(_free_sides(room, self.perimeter.fixed)) if self.perimeter else []
        self._tree = shapely.STRtree([shapely.LineString([side.start, side.end]) for side in self._sides])

    def short(self, end: Point, other: Point) -> float:
        """How much is cut off a tee at `end`, where it would meet a wall, so that it is free of it; `other` is its
        other end. 0 at walls that it is fixed to, and where there is no earthquake.
        """
        if self.perimeter is None:
            return 0.0
        long = distance(end, other)
        way = ((other[0] - end[0]) / long, (other[1] - end[1]) / long)
        near = [self._sides[k] for k in self._tree.query(shapely.Point(end), predicate="dwithin", distance=self._near)]
        met = [side for side in near if side.sine(way) > _ALONGSIDE] or near
        return max((side.short(end, way, self.perimeter.gap) for side in met), default=0.0)


def _free_sides(room: Room, fixed: Sequence[str]) -> Iterator[_Side]:
    for wall in room.walls:
        if wall.name not in fixed:
            arc = wall.arc
            circle = (arc.centre, arc.radius, arc.sweep_deg > 0) if arc else ()
            yield from (_Side(a, b, *circle) for a, b in pairwise(wall.points))
    for column in room.columns:
        circle = (column.centre, column.diameter / 2, False) if column.diameter else ()
        yield from (_Side(b, a, *circle) for a, b in edges(column.outline))
