"""Arcs on paper: legs from point to point that may be bowed, as each format wants them.

In: two points and a bulge (`planner.arcs`). Out: the radius of an SVG arc, the cubic curves of PDF, or chords. All is
worked out from chord and bulge, never from the centre, so that a wall that hardly bows keeps its digits.
"""

import math

from planner.arcs import arc_middle
from planner.geometry import Point, Ring, distance

Leg = tuple[Point, Point, float]  #: from, to, bulge
Curve = tuple[Point, Point, Point]  #: two control points and the end

#: An arc that rises less than this over its chord is drawn straight; paper millimetres.
STRAIGHT = 0.001

#: A curve spans 45° at most; it then leaves the arc by four millionths of the radius.
_WIDEST = math.tan(math.radians(45.0) / 4)


def legs(points: Ring, bulges: tuple[float, ...], closed: bool) -> list[Leg]:
    """The legs of a chain; `bulges` holds one for each, or nothing when all are straight."""
    ends = (*points[1:], points[0]) if closed else points[1:]
    bows = bulges or (0.0,) * len(ends)
    return [(start, end, _seen(start, end, bulge)) for start, end, bulge in zip(points, ends, bows, strict=False)]


def sweep_chain(centre: Point, radius: float, start_deg: float, sweep_deg: float) -> tuple[Ring, tuple[float, ...]]:
    """Points and bulges of part of a circle, counter-clockwise: halves where it is more than a half circle."""
    parts = 1 if sweep_deg <= 180.0 else 2
    turns = [math.radians(start_deg + sweep_deg * k / parts) for k in range(parts + 1)]
    x, y = centre
    bulge = math.tan(math.radians(sweep_deg) / parts / 4)
    return tuple((x + radius * math.cos(t), y + radius * math.sin(t)) for t in turns), (bulge,) * parts


def radius_of(start: Point, end: Point, bulge: float) -> float:
    """Radius of a leg that is not straight."""
    return distance(start, end) * (1 + bulge * bulge) / (4 * abs(bulge))


def curves(start: Point, end: Point, bulge: float) -> list[Curve]:
    """A bowed leg as cubic curves; halved until each spans 45° at most.

    The handles of a curve over `sweep` are 4/3 * radius * tan(sweep / 4) long, which is chord * (1 + bulge²) / 3, and
    lean sweep / 2 from the chord: the usual fit, which meets the arc at both ends and in the middle.
    """
    if abs(bulge) > _WIDEST:
        middle, half = arc_middle(start, end, bulge), bulge / (1 + math.sqrt(1 + bulge * bulge))
        return [*curves(start, middle, half), *curves(middle, end, half)]
    dx, dy = (end[0] - start[0]) / 3, (end[1] - start[1]) / 3
    c, s = 1 - bulge * bulge, 2 * bulge
    first = (start[0] + c * dx + s * dy, start[1] + c * dy - s * dx)
    second = (end[0] - c * dx + s * dy, end[1] - c * dy - s * dx)
    return [(first, second, end)]


def chords(ring: Ring, bulges: tuple[float, ...], within: float) -> Ring:
    """A closed ring with its bowed edges as chords that leave the arc by no more than `within`."""
    return tuple(point for leg in legs(ring, bulges, True) for point in _chords(*leg, within))


def _chords(start: Point, end: Point, bulge: float, within: float) -> list[Point]:
    """The points of a leg but its last."""
    if abs(bulge) * distance(start, end) / 2 <= within:
        return [start]
    middle, half = arc_middle(start, end, bulge), bulge / (1 + math.sqrt(1 + bulge * bulge))
    return [*_chords(start, middle, half, within), *_chords(middle, end, half, within)]


def _seen(start: Point, end: Point, bulge: float) -> float:
    return bulge if abs(bulge) * distance(start, end) / 2 > STRAIGHT else 0.0
