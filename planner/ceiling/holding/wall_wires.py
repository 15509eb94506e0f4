"""Wires at the walls that keep tees up when an earthquake shakes them off the wall angle.

In: the members and the wires that hang already. Out: one more wire within 8 in of the wall at each end of a main tee
and of a cross tee that lies on a wall, unless one hangs there.

Rule: seismic design categories D, E and F; category C only where the wall angle's ledge is under 7/8 in (second-hand
summaries of ASTM E580; the 8 in in a building department's handout, Everett WA), measured from the wall.
"""

from collections import defaultdict
from collections.abc import Sequence

from planner.ceiling.holding.overhead import NEAREST_WALL_MM, point_at, to_joist, wire_up
from planner.ceiling.holding.tee_ends import tee_ends
from planner.ceiling.model import Hanger, Member
from planner.ceiling.system import System
from planner.findings import Finding, placed
from planner.geometry import TOLERANCE_MM, Point, distance
from planner.lengths import Rounding, spoken_length
from planner.records import dataclass
from planner.room.outline import Room
from planner.sayings import said

WALL_WIRE_MM = 8 * 25.4  #: Everett WA handout, with ASTM E580
NARROW_LEDGE_MM = 7 / 8 * 25.4  #: second-hand summaries of ASTM E580: less needs wires in category C too

SOURCE = "ASTM E580 as summarised second hand; building department handout (Everett WA)"


@dataclass(frozen=True, slots=True)
class WallWires:
    """Wires at walls, not yet numbered."""

    hangers: tuple[Hanger, ...]
    findings: tuple[Finding, ...]


def wanted(room: Room, system: System) -> bool:
    """Whether every tee end at a wall needs a wire."""
    category = room.site.seismic
    return category in ("D", "E", "F") or (category == "C" and system.ledge < NARROW_LEDGE_MM - TOLERANCE_MM)


def wall_wires(room: Room, system: System, members: Sequence[Member], hung: Sequence[Hanger]) -> WallWires:
    """The wires that tee ends at walls still need."""
    if not wanted(room, system):
        return WallWires((), ())
    held: dict[str, list[Point]] = defaultdict(list)
    for hanger in hung:
        held[hanger.member].append(hanger.at)
    hangers, loose = list[Hanger](), list[Point]()
    for end in tee_ends(room, members):
        if any(distance(end.at, at) <= WALL_WIRE_MM + TOLERANCE_MM for at in held[end.tee.id]):
            continue
        at = tied_near(room, end.at, end.other, end.gap + NEAREST_WALL_MM)
        up = wire_up(room, at)
        loose += [at] * up.block
        held[end.tee.id].append(at)
        hangers.append(up.hanger(at, end.tee.id, "wall wire"))
    return WallWires(tuple(hangers), _findings(room, hangers, loose))


def tied_near(room: Room, end: Point, other: Point, nearest: float) -> Point:
    """Where to tie the wire, within 8 in of the wall and as nearly below a joist as can be.

    `nearest` is as near to the wall as it can be tied.
    """
    joists, reach = room.joists, min(max(WALL_WIRE_MM, nearest), distance(end, other) / 2)
    if joists is None:
        return point_at(end, other, reach)
    spots = [point_at(end, other, min(nearest + k * max(WALL_WIRE_MM - nearest, 0.0) / 16, reach)) for k in range(17)]
    return min(spots, key=lambda spot: round(to_joist(joists, spot), 3))


def _findings(room: Room, hangers: Sequence[Hanger], loose: Sequence[Point]) -> tuple[Finding, ...]:
    if not loose:
        return ()
    text = said(
        "{loose} of {count} wires at the walls have no joist within 1 in 6 of plumb.",
        loose=len(loose),
        count=len(hangers),
    )
    reach = spoken_length(WALL_WIRE_MM, room.units, Rounding.DOWN)
    remedy = said(
        "Set blocking between the joists along these walls, within {reach} of them, before the wires go up; the "
        "take-off counts it. Or give those wires counter-sloping ones.",
        reach=reach,
    )
    return (placed(Finding("warn", "wires at the walls", SOURCE, text, None, remedy), loose),)
