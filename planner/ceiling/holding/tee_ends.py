"""Where tees end: at which wall or column, how slanted that is to them, and whether it carries them.

In: a room and its members. Out: every end of a main tee, a carrier or a cross tee that is cut at a wall or a column.
Rule: pipes and thin posts carry no tee end (`planner.ceiling.members.pipes`).
"""

from collections.abc import Iterable, Iterator, Sequence

import shapely

from planner.ceiling.members.pipes import pipes
from planner.ceiling.model import Member
from planner.geometry import Point, edges
from planner.records import dataclass
from planner.room.outline import Room

#: A tee ends at a side that it comes this near to.
_AT_MM = 1.0

#: What ends at walls and columns, and may lie along them.
TEES = ("main tee", "carrier", "cross tee")


@dataclass(frozen=True, slots=True)
class TeeEnd:
    """One end of a tee at a wall or a column."""

    tee: Member
    at: Point
    other: Point  #: the other end
    gap: float  #: what is left free before the wall
    place: str  #: name of the wall or column
    column: bool
    carried: bool  #: there is a wall angle
    slope: float  #: of the side against one square to the tee: tangent of the angle between them

    def longer(self, face: float) -> float:
        """How much longer one edge of the tee is than its middle, where its end is cut to the slope of the side."""
        return face / 2 * self.slope


@dataclass(frozen=True, slots=True)
class _Side:
    place: str
    column: bool
    carried: bool
    line: tuple[Point, Point]


def tee_ends(room: Room, members: Iterable[Member]) -> list[TeeEnd]:
    """Every end at a wall or a column, in the order of the members; at a corner of the side that is squarest."""
    ends = [
        (member, *pair, gap)
        for member in members
        if member.kind in TEES
        for pair, gap in zip((member.wall_to_wall, member.wall_to_wall[::-1]), member.gaps, strict=True)
    ]
    if not ends:
        return []
    sides = list(_sides(room))
    tree = shapely.STRtree([shapely.LineString(side.line) for side in sides])
    points = shapely.points([at for _, at, _, _ in ends])
    found: dict[int, tuple[float, _Side]] = {}
    for k, n in zip(*tree.query(points, "dwithin", _AT_MM).tolist(), strict=True):
        _, at, other, _ = ends[k]
        slope = _slope(at, other, sides[n].line)
        if k not in found or (slope, sides[n].place) < (found[k][0], found[k][1].place):
            found[k] = (slope, sides[n])
    return [
        TeeEnd(*ends[k], side.place, side.column, side.carried, slope) for k, (slope, side) in sorted(found.items())
    ]


def bare_ends(room: Room, members: Sequence[Member]) -> list[TeeEnd]:
    """The ends that nothing carries."""
    return [end for end in tee_ends(room, members) if not end.carried] if pipes(room) else []


def _sides(room: Room) -> Iterator[_Side]:
    for edge, line in enumerate(edges(room.outline)):
        yield _Side(room.walls[room.wall_of_edge[edge]].name, False, True, line)
    bare = pipes(room)
    for column in room.columns:
        for line in edges(column.outline):
            yield _Side(column.name, True, column not in bare, line)


def _slope(at: Point, other: Point, line: tuple[Point, Point]) -> float:
    """Of a side against one square to a tee; very large where they run along each other."""
    (x0, y0), (x1, y1) = line
    along = abs((x1 - x0) * (other[0] - at[0]) + (y1 - y0) * (other[1] - at[1]))
    across = abs((x1 - x0) * (other[1] - at[1]) - (y1 - y0) * (other[0] - at[0]))
    return along / max(across, 1e-9)
