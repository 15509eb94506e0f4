"""What the wall angle needs beyond the walls: outside corners, which its ledge goes round.

In: a room, the trim as measured along the walls, the system. Out: the same members, longer where an outside corner
asks for it; where they start and end stays at the wall.

Rule: NAVEDTRA 14044 p. 5-17 overlaps or mitres the corners (other guides butt them). At an inside corner neither needs
more than the wall is long. At an outside corner a mitred ledge ends beyond the wall, on both sides; where ledges are
lapped the first goes beyond and the second butts on top of it. By how much is geometry: ledge x tan(half the turn).
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace

from shapely import Polygon, get_parts, union_all
from shapely.geometry.polygon import orient

from planner.ceiling.members.runs import angle_run
from planner.ceiling.model import Member
from planner.ceiling.system import System
from planner.geometry import TOLERANCE_MM, Point
from planner.room.outline import Room

#: A bend of less is part of a bow or a round column, and one of more is too sharp to mitre (common practice).
LEAST_TURN_DEG = 5.0
MOST_TURN_DEG = 120.0

_Spot = tuple[int, int]


def round_corners(room: Room, trim: Iterable[Member], system: System) -> tuple[Member, ...]:
    """Lengthen the trim at outside corners."""
    turns = dict(_outside_corners(room))
    return tuple(_grown(member, turns, system) for member in trim)


def _outside_corners(room: Room) -> Iterator[tuple[_Spot, float]]:
    """Corners of walls and columns that jut into the room, with how far one turns there, in degrees."""
    columns = union_all([Polygon(column.outline) for column in room.columns])
    floor = Polygon(room.outline).difference(columns)
    for part in get_parts(floor):
        if not isinstance(part, Polygon):  # a line is left where a column meets a wall within float noise
            continue
        turned = orient(part)
        for ring in (turned.exterior, *turned.interiors):
            corners = list(ring.coords)[:-1]
            for k, corner in enumerate(corners):
                turn = _right_turn(corners[k - 1], corner, corners[(k + 1) % len(corners)])
                if LEAST_TURN_DEG <= turn <= MOST_TURN_DEG:
                    yield _spot(corner), turn


def _right_turn(before: Point, corner: Point, after: Point) -> float:
    """Degrees that one turns right at a corner; negative to the left. The room is on the left."""
    come = math.atan2(corner[1] - before[1], corner[0] - before[0])
    leave = math.atan2(after[1] - corner[1], after[0] - corner[0])
    return (math.degrees(come - leave) + 180.0) % 360.0 - 180.0


def _spot(point: Point) -> _Spot:
    """A point to within a tenth, to look corners up by."""
    return (round(point[0] * 10), round(point[1] * 10))


def _grown(member: Member, turns: dict[_Spot, float], system: System) -> Member:
    if _spot(member.start) == _spot(member.end):
        return member  # right round a column
    start, end = (_beyond(turns.get(_spot(point)), system.ledge) for point in (member.start, member.end))
    more = end + (0.0 if system.corners == "lapped" else start)
    if more <= TOLERANCE_MM:
        return member
    return replace(member, pieces=angle_run(member.length + more, system.wall_angle))


def _beyond(turn: float | None, ledge: float) -> float:
    return 0.0 if turn is None else ledge * math.tan(math.radians(turn / 2))
