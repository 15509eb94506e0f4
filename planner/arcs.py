"""Arcs as an edge of an outline: two end points and a bulge. Millimetres, angles in degrees, y up.

An edge runs from `start` to `end` with the room on its left. Its bulge is a quarter of the tangent-angle that the DXF
reference gives to polyline vertices: tan(swept angle / 4), 0 for a straight edge, positive where the arc turns
counter-clockwise. With the room on the left a positive bulge therefore bows out of the room, a negative one into it,
and rise = bulge * chord / 2.

What comes in is edges; what goes out is the circle's facts, and polylines that never leave the room.
"""

import math

from planner.geometry import Point, distance
from planner.records import dataclass

#: An arc that rises less than this over its chord is a straight line; far below anything that can be drawn or cut.
FLAT_MM = 1e-9


@dataclass(frozen=True, slots=True)
class Arc:
    """Part of a circle as a drafter states it; `sweep_deg` is positive when it turns counter-clockwise."""

    centre: Point
    radius: float
    start_deg: float  #: direction from the centre to the start
    sweep_deg: float

    @property
    def end_deg(self) -> float:
        return self.start_deg + self.sweep_deg

    @property
    def length(self) -> float:
        return self.radius * math.radians(abs(self.sweep_deg))


def bulge_from_rise(chord: float, rise: float) -> float:
    """The bulge of a wall taped as chord and rise (the longest offset from chord to wall), rise + out of the room.

    rise = radius * (1 - cos(sweep / 2)) and chord = 2 * radius * sin(sweep / 2), so 2 * rise / chord = tan(sweep / 4).
    ValueError when the chord is no length or the rise is more than half of it: more than a half circle cannot be
    taped this way.
    """
    if not (math.isfinite(chord) and chord > 0):
        raise ValueError(f"a chord of {chord:g} mm is no length")
    if not abs(rise) <= chord / 2:
        raise ValueError(f"a rise of {rise:g} mm is more than half of its chord, {chord:g} mm")
    return 2 * rise / chord


def bulge_from_sweep(sweep_deg: float) -> float:
    """The bulge of an arc by its swept angle, positive counter-clockwise; less than a full circle."""
    return math.tan(math.radians(sweep_deg) / 4)


def is_flat(start: Point, end: Point, bulge: float) -> bool:
    """True when the edge is straight for every purpose."""
    return abs(bulge) * distance(start, end) / 2 <= FLAT_MM


def arc_of(start: Point, end: Point, bulge: float) -> Arc:
    """Centre, radius and angles of a bowed edge; ValueError when it is straight.

    The centre lies chord / 2 * (1/bulge - bulge) / 2 from the middle of the chord, on its left for a positive bulge.
    """
    if is_flat(start, end, bulge):
        raise ValueError("a straight edge has no centre")
    half = (end[0] - start[0]) / 2, (end[1] - start[1]) / 2
    away = (1 / bulge - bulge) / 2
    centre = (start[0] + half[0] - away * half[1], start[1] + half[1] + away * half[0])
    radius = math.hypot(*half) * (1 + bulge * bulge) / (2 * abs(bulge))
    start_deg = math.degrees(math.atan2(start[1] - centre[1], start[0] - centre[0]))
    return Arc(centre, radius, start_deg, math.degrees(4 * math.atan(bulge)))


def arc_length(start: Point, end: Point, bulge: float) -> float:
    """Length along the edge, straight or bowed."""
    chord = distance(start, end)
    if is_flat(start, end, bulge):
        return chord
    sweep = 4 * math.atan(abs(bulge))
    return chord / (2 * math.sin(sweep / 2)) * sweep


def arc_middle(start: Point, end: Point, bulge: float) -> Point:
    """The point halfway along the edge."""
    return (
        (start[0] + end[0]) / 2 + bulge * (end[1] - start[1]) / 2,
        (start[1] + end[1]) / 2 - bulge * (end[0] - start[0]) / 2,
    )


def segment_area(start: Point, end: Point, bulge: float) -> float:
    """Square millimetres between chord and arc, signed like the bulge: what the arc adds to the room.

    radius² / 2 * (sweep - sin sweep); by its series where the difference would lose its digits.
    """
    if is_flat(start, end, bulge):
        return 0.0
    sweep = 4 * math.atan(bulge)
    radius = distance(start, end) * (1 + bulge * bulge) / (4 * bulge)
    lens = sweep**3 / 6 - sweep**5 / 120 + sweep**7 / 5040 if abs(sweep) < 0.01 else sweep - math.sin(sweep)
    return radius * radius / 2 * lens


def arc_points(start: Point, end: Point, bulge: float, within_mm: float = 0.1) -> tuple[Point, ...]:
    """A polyline from start to end, both included, inside the room and nowhere further than `within_mm` off the arc.

    Where the edge bows out of the room chords lie inside it, so the points are on the arc. Where it bows into the
    room chords would cut through the wall, so the polyline is made of tangents and its points lie off the arc.
    (At a corner sharper than half a step, next to nothing in a room, the polyline can cross the neighbouring wall.)
    A straight edge gives its two ends.
    """
    if is_flat(start, end, bulge):
        return (start, end)
    sweep = 4 * math.atan(bulge)
    radius = distance(start, end) / (2 * math.sin(abs(sweep) / 2))
    reach = radius if bulge > 0 else radius + within_mm  # cos(step / 2) = 1 - within / radius, or radius / reach
    widest = min(4 * math.asin(math.sqrt(min(0.5, within_mm / (2 * reach)))), math.pi / 2)
    count = math.ceil(abs(sweep) / widest)
    if bulge > 0:
        between = tuple(_along(start, end, sweep, k / count) for k in range(1, count))
    else:
        between = tuple(_tangents_meet(start, end, sweep, k / count, 1 / count) for k in range(count))
    return (start, *between, end)


def _along(start: Point, end: Point, sweep: float, share: float) -> Point:
    """The point on the arc after a share of its sweep (radians), found from the start so that flat arcs stay exact.

    The chord to it is 2 * radius * sin(part / 2) long and leans (part - sweep) / 2 from the whole chord.
    """
    part = sweep * share
    return _leaning(start, end, math.sin(part / 2) / math.sin(sweep / 2), (part - sweep) / 2)


def _tangents_meet(start: Point, end: Point, sweep: float, share: float, step: float) -> Point:
    """Where the tangents at `share` and `share + step` of the arc meet: radius * tan(step / 2) on along the first."""
    touch = _along(start, end, sweep, share)
    ahead = _leaning(start, end, math.tan(sweep * step / 2) / (2 * math.sin(sweep / 2)), sweep * (share - 0.5))
    return (touch[0] + ahead[0] - start[0], touch[1] + ahead[1] - start[1])


def _leaning(start: Point, end: Point, scale: float, angle: float) -> Point:
    """From the start along the chord turned by an angle (radians), scaled."""
    x, y = (end[0] - start[0]) * scale, (end[1] - start[1]) * scale
    c, s = math.cos(angle), math.sin(angle)
    return (start[0] + c * x - s * y, start[1] + s * x + c * y)
