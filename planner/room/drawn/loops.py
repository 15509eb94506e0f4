"""Lines and arcs, and the closed loops that they make: areas, frames, straight-edged rings, tidying.

In come strokes and loops in millimetres, in whatever frame; what goes out is in the same frame. Rules: edges shorter
than `TOLERANCE_MM` and corners within `STRAIGHT_MM` of a straight line are left out. Common practice, no source.
"""

import math
from collections.abc import Iterator
from itertools import pairwise

from planner.arcs import arc_length, arc_of, arc_points, is_flat, segment_area
from planner.geometry import TOLERANCE_MM, Frame, Point, Ring, distance, edges, signed_area
from planner.records import dataclass

#: A corner that lies closer than this to the line past it is no corner; files are often written to six decimals.
STRAIGHT_MM = 0.001


@dataclass(frozen=True, slots=True)
class Stroke:
    """One drawn line or arc; the bulge is that of `planner.arcs`."""

    start: Point
    end: Point
    bulge: float = 0.0

    @property
    def length(self) -> float:
        return arc_length(self.start, self.end, self.bulge)

    def turned(self) -> "Stroke":
        return Stroke(self.end, self.start, -self.bulge)


@dataclass(frozen=True, slots=True)
class Loop:
    """A closed outline of lines and arcs, counter-clockwise unless a docstring says otherwise.

    A circle has `circle` set (centre, radius) and is two half circles besides, so that it needs no special care.
    """

    vertices: Ring
    bulges: tuple[float, ...]  #: of the edge that leaves each vertex; + bows out of the loop
    circle: tuple[Point, float] | None = None

    def strokes(self) -> Iterator[Stroke]:
        for (start, end), bulge in zip(edges(self.vertices), self.bulges, strict=True):
            yield Stroke(start, end, bulge)

    @property
    def area(self) -> float:
        """Square millimetres, arcs taken exactly; negative when the loop runs clockwise."""
        return signed_area(self.vertices) + sum(segment_area(s.start, s.end, s.bulge) for s in self.strokes())

    @property
    def length(self) -> float:
        return sum(stroke.length for stroke in self.strokes())

    def turned(self) -> "Loop":
        """The same loop run the other way, from the same first vertex."""
        first, *rest = self.vertices
        return Loop((first, *reversed(rest)), tuple(-b for b in reversed(self.bulges)), self.circle)

    def started_at(self, vertex: int) -> "Loop":
        """The same loop with another first vertex, e.g. the one where the base wall begins."""
        k = vertex % len(self.vertices)
        return Loop(self.vertices[k:] + self.vertices[:k], self.bulges[k:] + self.bulges[:k], self.circle)

    def seen_in(self, frame: Frame) -> "Loop":
        """The same loop in the coordinates of a frame that is given in the loop's own."""
        circle = self.circle and (frame.inward(self.circle[0]), self.circle[1])
        return Loop(tuple(map(frame.inward, self.vertices)), self.bulges, circle)

    def ring(self, within_mm: float = 0.1, *, solid: bool = False) -> Ring:
        """Straight edges only, off the arcs by no more than `within_mm`.

        The ring of a room stays inside the loop; that of something solid, a column, stays outside it. Either way what
        is planned in the room touches no wall.
        """
        if solid:
            first, *rest = self.turned().ring(within_mm)
            return (first, *reversed(rest))
        return tuple(p for s in self.strokes() for p in arc_points(s.start, s.end, s.bulge, within_mm)[:-1])


def circle_loop(centre: Point, radius: float) -> Loop:
    """A full circle."""
    x, y = centre
    return Loop(((x - radius, y), (x + radius, y)), (1.0, 1.0), (centre, radius))


def tidied(loop: Loop) -> Loop | None:
    """Counter-clockwise, without edges of no length or corners of no angle, from its lowest vertex; None if nothing."""
    if loop.circle:
        return circle_loop(*loop.circle)
    kept = [s for s in loop.strokes() if s.length > TOLERANCE_MM]
    if len(kept) < 2:
        return None
    closed = Loop(
        tuple(s.start for s in kept), tuple(0.0 if is_flat(s.start, s.end, s.bulge) else s.bulge for s in kept)
    )
    if (round_one := _as_circle(closed)) is not None:
        return round_one
    if closed.area < 0:
        closed = closed.turned()
    corner = min(range(len(kept)), key=lambda k: (closed.vertices[k][1], closed.vertices[k][0]))
    straight = _straightened(closed.started_at(corner))
    low = min(y for _, y in straight.vertices) + TOLERANCE_MM
    leftmost = min((x, k) for k, (x, y) in enumerate(straight.vertices) if y <= low)
    return straight.started_at(leftmost[1])


def _as_circle(loop: Loop) -> Loop | None:
    """The circle that arcs around one centre make; two half circles are a usual way to draw a round column."""
    if not all(b > 0 for b in loop.bulges) and not all(b < 0 for b in loop.bulges):
        return None
    arcs = [arc_of(s.start, s.end, s.bulge) for s in loop.strokes()]
    first = arcs[0]
    alike = all(distance(a.centre, first.centre) + abs(a.radius - first.radius) <= TOLERANCE_MM for a in arcs)
    return circle_loop(first.centre, first.radius) if alike else None


def _straightened(loop: Loop) -> Loop:
    """Leave out corners that lie on the straight line past them; the first vertex must be a corner.

    All vertices left out since the last corner must stay within `STRAIGHT_MM` of the line: the directions that do
    so narrow down with each of them.
    """
    kept: list[tuple[Point, float]] = []
    low = high = reach = 0.0
    heading: Point | None = None  # direction of the line under way; None after a corner
    for here, after in pairwise([*loop.strokes(), next(loop.strokes())]):
        anchor = kept[-1][0] if heading else here.start
        if heading is None:
            kept.append((here.start, here.bulge))
            heading = (here.end[0] - anchor[0], here.end[1] - anchor[1])
            low, high, reach = -math.pi, math.pi, 0.0
        reach = max(reach, distance(anchor, here.end))
        lean, slack = _lean(heading, anchor, here.end), math.asin(min(1.0, STRAIGHT_MM / distance(anchor, here.end)))
        low, high = max(low, lean - slack), min(high, lean + slack)
        goes_on = low <= _lean(heading, anchor, after.end) <= high and distance(anchor, after.end) > reach
        if here.bulge or after.bulge or not goes_on:
            heading = None
    return Loop(tuple(p for p, _ in kept), tuple(b for _, b in kept))


def _lean(heading: Point, anchor: Point, point: Point) -> float:
    """The angle (radians) by which a point lies off a heading, seen from the anchor."""
    x, y = point[0] - anchor[0], point[1] - anchor[1]
    return math.atan2(heading[0] * y - heading[1] * x, heading[0] * x + heading[1] * y)
