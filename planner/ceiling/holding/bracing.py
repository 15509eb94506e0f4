"""Where splayed wires and a post brace a ceiling against an earthquake.

In: the room, its layout, and the members. Out: bracing points in the room frame: crossings of a main tee with a line of
cross tees, so that every brace is within 2 in of a cross tee.

Rule: in seismic design categories D, E and F, over 1000 ft2; points 12 ft apart both ways, the first within 6 ft of a
wall (ASTM E580 s. 1.5, read, for the area; a building department's handout, Daly City CA, for the rest). Rows are
chosen over the whole width of the room, points on each run of a row from end to end.
"""

import math
from collections.abc import Sequence

from planner.ceiling.holding.spacing import Limits, fewest
from planner.ceiling.model import Layout, Member
from planner.geometry import TOLERANCE_MM, Point, box_of
from planner.room.outline import Room

FOOT = 304.8
BRACED_OVER_MM2 = 1000 * FOOT**2  #: ASTM E580 s. 1.5
LIMITS = Limits(apart=12 * FOOT, first=6 * FOOT)  #: handout, Daly City CA


def braces(room: Room, layout: Layout, members: Sequence[Member]) -> tuple[Point, ...]:
    """The fewest bracing points that keep the limits; none where the rule does not ask for them."""
    if room.site.seismic not in ("D", "E", "F") or room.area <= BRACED_OVER_MM2 * (1 + 1e-9):
        return ()
    inward = layout.frame.inward
    runs = [(inward(member.start), inward(member.end)) for member in members if member.kind == "main tee"]
    if not runs:
        return ()
    along = 0 if abs(runs[0][1][0] - runs[0][0][0]) > abs(runs[0][1][1] - runs[0][0][1]) else 1
    box = box_of(map(inward, room.outline))
    low, high = (box.bottom, box.top) if along == 0 else (box.left, box.right)
    lines = sorted({round(start[1 - along], 3) for start, _ in runs})
    rows = {low + at for at in fewest([line - low for line in lines], high - low, LIMITS)}
    found = []
    for start, end in runs:
        if any(abs(start[1 - along] - row) <= 10 * TOLERANCE_MM for row in rows):
            for at in _on_run(start[along], end[along], layout.module[along]):
                spot = (at, start[1]) if along == 0 else (start[0], at)
                found.append(layout.frame.outward(spot))
    return tuple(found)


def _on_run(one: float, other: float, pitch: float) -> list[float]:
    """Points of a run that lie on lines of cross tees."""
    low, high = min(one, other), max(one, other)
    lines = range(math.floor(low / pitch) + 1, math.ceil(high / pitch))
    return [low + at for at in fewest([line * pitch - low for line in lines], high - low, LIMITS)]
