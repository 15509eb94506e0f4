"""Wires for tee ends that nothing carries: at pipes and thin posts there is no wall angle.

In: a room, its members and the wires that hang already. Out: one more wire near each such end, unless one hangs there.
Common practice, no source; within 8 in of the end, as E580 asks of tee ends at walls.
"""

from collections.abc import Sequence

from planner.ceiling.holding.overhead import wire_up
from planner.ceiling.holding.tee_ends import bare_ends
from planner.ceiling.holding.wall_wires import WALL_WIRE_MM, tied_near
from planner.ceiling.model import Hanger, Member
from planner.geometry import TOLERANCE_MM, distance
from planner.room.outline import Room

#: No such wire is nearer to its end: panel and ring are there (common practice, no source).
FROM_END_MM = 100.0


def end_wires(room: Room, members: Sequence[Member], hung: Sequence[Hanger]) -> tuple[Hanger, ...]:
    """The wires that free tee ends still need."""
    wires = list[Hanger]()
    for end in bare_ends(room, members):
        held = (wire.at for wire in hung if wire.member == end.tee.id)
        if any(distance(end.at, at) <= WALL_WIRE_MM + TOLERANCE_MM for at in held):
            continue
        at = tied_near(room, end.at, end.other, end.gap + FROM_END_MM)
        wires.append(wire_up(room, at).hanger(at, end.tee.id, "end wire"))
    return tuple(wires)
