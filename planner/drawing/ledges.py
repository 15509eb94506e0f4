"""Wall angle as it is drawn: along the edge of its ledge, so that it shows beside the wall.

In: a room, its members of wall angle, the width of the ledge. Out: lines, arcs along bowed walls and circles round
round columns, mitred where two walls meet. Angle that runs along a part of a straight wall ends where that part does;
round a column with corners it goes on round those that stand free.
"""

import math

import shapely

from planner.arcs import arc_of
from planner.ceiling.members.trim import trim_along
from planner.ceiling.model import Member
from planner.drawing.member_roles import MEMBER_ROLES
from planner.drawing.shapes import Arc, Circle, Line, Shape
from planner.geometry import Point, Ring, distance
from planner.room.outline import Column, Room, Wall

Side = tuple[Point, Point]

_NEAR = 1.0  #: ends closer than this are the same, millimetres
_SHARPEST = 0.1  #: 1 + cosine of the angle between two walls' normals; below it no mitre is drawn
_STEPS = 6  #: of Newton's method, which settles a mitre at a bowed wall; it doubles the digits each time


def ledge_edges(room: Room, ledge: float) -> dict[Side, Side]:
    """Each wall by its ends, and the ends of the ledge's edge along it, mitred at the corners."""
    walls = room.walls
    corners = [_mitre(walls[k - 1], wall, ledge) for k, wall in enumerate(walls)]
    return {(wall.start, wall.end): (corners[k], corners[(k + 1) % len(walls)]) for k, wall in enumerate(walls)}


def ledge_shape(member: Member, room: Room, ledge: float, inset: dict[Side, Side], title: str) -> Shape:
    """One member of wall angle; `inset` is what `ledge_edges` says of the room."""
    role, along, ends = MEMBER_ROLES[member.kind], trim_along(member.id, room), (member.start, member.end)
    if isinstance(along, Column):
        if along.diameter is not None:
            return Circle(role, along.centre, along.diameter / 2 + ledge, title=title)
        ends = _beside_column(ends, along, room, ledge)
    elif along is not None:
        ends = _beside_wall(ends, along, ledge, inset)
    return _along_arc(member, ledge, ends, title) if member.bulge else Line(role, *ends, title)


def _along_arc(member: Member, ledge: float, ends: Side, title: str) -> Shape:
    """The edge of a ledge along a bowed wall; a line where the bow is so tight that there is none."""
    role, arc = MEMBER_ROLES[member.kind], arc_of(member.start, member.end, member.bulge)
    radius = arc.radius - ledge if member.bulge > 0 else arc.radius + ledge
    if radius <= 0:
        return Line(role, *ends, title)
    first, last = (math.degrees(math.atan2(y - arc.centre[1], x - arc.centre[0])) for x, y in ends)
    if member.bulge < 0:  # walked clockwise
        first, last = last, first
    return Arc(role, arc.centre, radius, first, last, title)


def _beside_wall(ends: Side, wall: Wall, ledge: float, inset: dict[Side, Side]) -> Side:
    """The edge of a ledge along a wall, mitred where it ends at a corner; of a part of a bow the part itself."""
    corners = (wall.start, wall.end)
    moved = inset.get(corners, corners)
    if _same(corners, ends):
        return moved
    if wall.arc is not None:
        return ends
    _, n = _from_wall(wall, ends[0])
    mitred = dict(zip(corners, moved, strict=True))
    first, last = (
        next((mitred[corner] for corner in corners if distance(corner, end) < _NEAR), _shifted(end, n, ledge))
        for end in ends
    )
    return first, last


def _beside_column(ends: Side, column: Column, room: Room, ledge: float) -> Side:
    """The edge of a ledge along a side of a column, longer by the ledge at corners that stand free in the room."""
    (ax, ay), (bx, by) = ends
    way = ((bx - ax) / distance(*ends), (by - ay) / distance(*ends))
    n = (way[1], -way[0])  # out of the column, which is walked counter-clockwise
    first, last = (_shifted(end, n, ledge) for end in ends)
    free = [_is_corner(end, column.outline) and _stands_free(end, room) for end in ends]
    return _shifted(first, way, -ledge * free[0]), _shifted(last, way, ledge * free[1])


def _is_corner(end: Point, outline: Ring) -> bool:
    return any(distance(end, corner) < _NEAR for corner in outline)


def _stands_free(point: Point, room: Room) -> bool:
    return bool(shapely.Point(point).distance(shapely.LinearRing(room.outline)) > _NEAR)


def _shifted(point: Point, way: Point, by: float) -> Point:
    return (point[0] + by * way[0], point[1] + by * way[1])


def _same(a: Side, b: Side) -> bool:
    """True for the same stretch of wall, walked either way."""
    return any(distance(a[0], p) < _NEAR and distance(a[1], q) < _NEAR for p, q in (b, b[::-1]))


def _mitre(before: Wall, after: Wall, ledge: float) -> Point:
    """The point that is a ledge away from two walls that meet; at a corner too sharp for that, the corner itself."""
    at = after.start
    bowed = before.arc is not None or after.arc is not None
    for _ in range(_STEPS if bowed else 1):
        (off, n), (away, m) = _from_wall(before, at), _from_wall(after, at)
        move = _moved_by(n, ledge - off, m, ledge - away)
        if move is None:
            return after.start
        at = (at[0] + move[0], at[1] + move[1])
    return at


def _from_wall(wall: Wall, point: Point) -> tuple[float, Point]:
    """How far a point is inside of a wall, and the direction that leads further inside."""
    if (arc := wall.arc) is not None:
        away = distance(arc.centre, point) or 1e-9
        inside = -1.0 if wall.bulge > 0 else 1.0  # of the circle, or out of it
        n = (inside * (point[0] - arc.centre[0]) / away, inside * (point[1] - arc.centre[1]) / away)
        return inside * (away - arc.radius), n
    (ax, ay), (bx, by) = wall.start, wall.end
    n = (-(by - ay) / wall.length, (bx - ax) / wall.length)
    return (point[0] - ax) * n[0] + (point[1] - ay) * n[1], n


def _moved_by(n: Point, r: float, m: Point, t: float) -> Point | None:
    """The step that is `r` long along `n` and `t` along `m`; None where the two run against each other."""
    c = n[0] * m[0] + n[1] * m[1]
    if 1.0 + c < _SHARPEST:
        return None
    if 1.0 - c < 1e-9:  # the walls go on in one line
        return ((r + t) / 2 * n[0], (r + t) / 2 * n[1])
    a, b = (r - c * t) / (1.0 - c * c), (t - c * r) / (1.0 - c * c)
    return (a * n[0] + b * m[0], a * n[1] + b * m[1])
