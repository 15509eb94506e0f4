"""The joists over a room, as lines that hang points must lie on.

In: a room with regular joists, and a run or a point below them. Out: where the run crosses them, how far a point is
from the nearest, and how a wire goes up from it. Joists "across" are square to the base wall and stand at
x = first + k * spacing; "along" at y.
"""

import math
from collections.abc import Iterable

from planner.ceiling.model import Hanger, HangerKind
from planner.geometry import Point, distance
from planner.records import dataclass
from planner.room.outline import Joists, Room
from planner.sayings import joined, said

#: No wire is tied closer to a wall than this: there is no room for a hand (common practice, no source).
NEAREST_WALL_MM = 25.0

#: A run this near the line of a joist has its wood above all along: half of 1-1/2 in, the usual thickness.
HALF_JOIST_MM = 19.0

#: ASTM C636 as quoted by building departments: wires not more than 1 in 6 out of plumb, unless counter-sloped.
PLUMB = 1 / 6

#: Wires of services may be slack (a building department's handout, Everett WA), so the nearest joist does for them, up
#: to 45 degrees: one that lies flatter would let a light come down too far (common practice, no source).
SLACK = 1.0

#: The drop that is taken where heights are not known, 6 in: less is hardly hung (common practice, no source).
UNKNOWN_DROP_MM = 152.4

#: Wires that do not hang plumb are cut to steps of 1/2 in or 10 mm (common practice, no source).
WIRE_STEP_MM = {True: 12.7, False: 10.0}

#: A wire that its slope makes longer by less is cut as a plumb one: its ties take that up.
_NO_LONGER_MM = 1.0
#: A point this near to the line of a joist is below it.
_BELOW_MM = 0.5


@dataclass(frozen=True, slots=True)
class Up:
    """How a wire goes up from where it is tied."""

    length: float | None  #: to cut, ties included; None when heights are not known
    top: Point | None = None  #: on a joist, where that is not straight above
    block: bool = False  #: no joist is near enough: blocking between the joists straight above does

    def hanger(self, at: Point, member: str, kind: HangerKind) -> Hanger:
        """The wire that goes up so from where it is tied to a member or service, not yet numbered."""
        return Hanger("", at, member, kind, self.length, self.top, int(self.block))


def crossings(joists: Joists, start: Point, end: Point) -> tuple[float, ...]:
    """Where a run passes under a joist, as distances from its start; none where it is too near a wall."""
    axis, length = _axis(joists), distance(start, end)
    here, rise = start[axis], end[axis] - start[axis]
    if abs(rise) < 1.0:
        return ()
    low, high = sorted((here, end[axis]))
    first = math.ceil((low - joists.first) / joists.spacing)
    last = math.floor((high - joists.first) / joists.spacing)
    found = ((joists.first + k * joists.spacing - here) / rise * length for k in range(first, last + 1))
    return tuple(sorted(at for at in found if NEAREST_WALL_MM <= at <= length - NEAREST_WALL_MM))


def stride_along(joists: Joists, start: Point, end: Point) -> float:
    """From joist to joist along a run; infinite where it runs parallel to them."""
    rise = abs(end[_axis(joists)] - start[_axis(joists)])
    return math.inf if rise < 1.0 else joists.spacing * distance(start, end) / rise


def lies_under(joists: Joists, start: Point, end: Point) -> bool:
    """Whether a run has one joist above it all along."""
    axis = _axis(joists)
    along = abs(end[axis] - start[axis]) <= 2 * HALF_JOIST_MM
    return along and max(to_joist(joists, start), to_joist(joists, end)) <= HALF_JOIST_MM


def to_joist(joists: Joists, point: Point) -> float:
    """How far a point is from the line of the nearest joist."""
    off = (point[_axis(joists)] - joists.first) % joists.spacing
    return min(off, joists.spacing - off)


def drop_of(room: Room) -> float | None:
    """From the joists down to the ceiling; None when a height is not known."""
    if room.underside is None or room.ceiling_height is None:
        return None
    return max(0.0, room.underside - room.ceiling_height)


def leans_at_most(room: Room, slope: float = PLUMB) -> float:
    """How far aside of its joist a wire may be tied; see `PLUMB`. Where heights are not known, as for a small drop."""
    drop = drop_of(room)
    return (UNKNOWN_DROP_MM if drop is None else drop) * slope


def plumb_enough(drop: float, aside: float) -> bool:
    """Whether a wire that drops so far may be so far aside; see `PLUMB`."""
    return aside <= drop * PLUMB + 1e-9


def wire_length(room: Room, aside: float = 0.0) -> float | None:
    """Wire to cut for one hanger, with the allowance for its ties; None when heights are not known.

    One that hangs aside is rounded up, so that few lengths are to be cut.
    """
    drop = drop_of(room)
    if drop is None:
        return None
    if math.hypot(drop, aside) - drop < _NO_LONGER_MM:
        return drop + room.site.wire_allowance
    step = WIRE_STEP_MM[room.imperial]
    return math.ceil((math.hypot(drop, aside) + room.site.wire_allowance) / step - 1e-6) * step


def wire_up(room: Room, at: Point, slope: float = PLUMB) -> Up:
    """How a wire goes up that is tied at a point: plumb, to a joist that is near enough, or to blocking."""
    joists, plumb = room.joists, wire_length(room)
    if joists is None or (aside := to_joist(joists, at)) <= _BELOW_MM:
        return Up(plumb)
    if aside <= leans_at_most(room, slope) + 1e-9:
        return Up(wire_length(room, aside), onto_joist(joists, at))
    return Up(plumb, block=True)


def onto_joist(joists: Joists, point: Point) -> Point:
    """The point of the nearest joist that is nearest."""
    number = round((point[_axis(joists)] - joists.first) / joists.spacing)
    return _on_line(joists, point, number)


def block_ends(joists: Joists, point: Point) -> tuple[Point, Point]:
    """Blocking over a point, from the joist on one side of it to that on the other."""
    number = bay_of(joists, point)
    return _on_line(joists, point, number), _on_line(joists, point, number + 1)


def bay_of(joists: Joists, point: Point) -> int:
    """The number of the joist before a point."""
    return math.floor((point[_axis(joists)] - joists.first) / joists.spacing)


def along_joists(joists: Joists, point: Point) -> float:
    """Where a point lies along the joists."""
    return point[1 - _axis(joists)]


def _on_line(joists: Joists, point: Point, number: int) -> Point:
    at = joists.first + number * joists.spacing
    return (at, point[1]) if _axis(joists) == 0 else (point[0], at)


def _axis(joists: Joists) -> int:
    return 0 if joists.direction == "across" else 1


def point_at(start: Point, end: Point, at: float) -> Point:
    """The point of a run at a distance from its start."""
    share = at / distance(start, end)
    return (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))


def names_said(names: Iterable[str], most: int = 4) -> str:
    """A few names in a row: "M1, M2, M3 and 5 more"."""
    row = list(names)
    rest = len(row) - most
    if rest <= 1:
        return joined(row, ", ")
    return said("{names} and {rest} more", names=joined(row[:most], ", "), rest=rest)
