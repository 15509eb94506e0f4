"""Where a plan that is larger than its paper is parted: match lines, and what each sheet shows.

In: the part of the room's frame that a plan takes, how much of it one sheet can show, the grid lines. Out: `Seams`: the
fewest match lines that do, each on a grid line that carries no main tee where one lies near enough (else midway between
two), so that neither panels nor mains nor hangers are parted; and the parts, row by row from the upper left. Neighbours
share a strip, half of it on each side of their match line. No match line lies so near the outside of the room that it
would part the strings around it.
"""

import math
from collections.abc import Iterable, Sequence

from planner.ceiling.model import Layout, Member
from planner.drawing.member_roles import RUNS
from planner.geometry import TOLERANCE_MM, Box, Point
from planner.records import dataclass

#: Sheets beside each other share so much paper, millimetres.
OVERLAP = 20.0
#: Match lines keep so far from the walls that are outermost, paper millimetres.
_FROM_WALLS = 12.0
_TRIES = 3


@dataclass(frozen=True, slots=True)
class Seams:
    """Match lines in the room's frame, millimetres; each sheet shows `half` more beyond them."""

    upright: tuple[float, ...] = ()  #: the x of each, from the left
    lying: tuple[float, ...] = ()  #: the y of each, from below
    half: float = 0.0

    def stops(self, axis: int) -> tuple[float, ...]:
        """Where no letters may be crossed: match lines, and the edges of the sheets on both sides of them."""
        return tuple(at + side * self.half for at in self.lines(axis) for side in (-1.0, 0.0, 1.0))

    def lines(self, axis: int) -> tuple[float, ...]:
        """The upright ones for axis 0, the lying ones for axis 1."""
        return self.lying if axis else self.upright

    def holding(self, point: Point) -> tuple[int, int]:
        """Column and row, from the left and from below, of the part in which a point lies."""
        return sum(x < point[0] for x in self.upright), sum(y < point[1] for y in self.lying)

    def crossed(self, start: Point, end: Point) -> tuple[float, ...]:
        """Where a line passes match lines: shares of its length, from its start, in order."""
        shares = [
            (at - start[axis]) / (end[axis] - start[axis])
            for axis in (0, 1)
            for at in self.lines(axis)
            if min(start[axis], end[axis]) < at < max(start[axis], end[axis])
        ]
        return tuple(sorted(shares))


WHOLE = Seams()


@dataclass(frozen=True, slots=True)
class Part:
    """What one sheet shows: as far as its match lines, and all of it; the room's millimetres."""

    row: int  #: from 0 at the top
    column: int
    core: Box
    shown: Box


def seams_for(
    area: Box, room: Box, most: tuple[float, float], scale: float, layout: Layout, members: Iterable[Member]
) -> Seams | None:
    """The fewest match lines for sheets that show `most`, in the room's millimetres; None where that cannot be.

    `area` is the room with all that stands around it, `room` the box around the room itself.
    """
    half, clear = OVERLAP * scale / 2, _FROM_WALLS * scale
    runs = [member for member in members if member.kind in RUNS]
    upright = _cut(
        (area.left, area.right), (room.left + clear, room.right - clear), most[0], half, _free_lines(layout, runs, 0)
    )
    lying = _cut(
        (area.bottom, area.top), (room.bottom + clear, room.top - clear), most[1], half, _free_lines(layout, runs, 1)
    )
    return None if upright is None or lying is None else Seams(upright, lying, half)


def parts_of(area: Box, seams: Seams) -> tuple[Part, ...]:
    """What each sheet shows, row by row from the upper left."""
    columns = list(zip((area.left, *seams.upright), (*seams.upright, area.right), strict=True))
    rows = list(zip((area.bottom, *seams.lying), (*seams.lying, area.top), strict=True))[::-1]
    half = seams.half
    return tuple(
        Part(
            r,
            c,
            Box(left, bottom, right, top),
            Box(
                max(left - half, area.left),
                max(bottom - half, area.bottom),
                min(right + half, area.right),
                min(top + half, area.top),
            ),
        )
        for r, (bottom, top) in enumerate(rows)
        for c, (left, right) in enumerate(columns)
    )


def _free_lines(layout: Layout, runs: Sequence[Member], axis: int) -> tuple[float, float, frozenset[int]] | None:
    """Grid lines square to an axis: where one lies, how far apart they are, which of them carry mains.

    None for a grid that is turned against the room.
    """
    turn = layout.frame.angle_deg % 90.0
    if min(turn, 90.0 - turn) > 1e-6:
        return None
    turned = round(layout.frame.angle_deg / 90.0) % 2
    at, module = layout.frame.origin[axis], layout.module[1 - axis if turned else axis]
    level = (run.start[axis] for run in runs if abs(run.start[axis] - run.end[axis]) < 1.0)
    return at, module, frozenset(round((where - at) / module) for where in level)


def _cut(
    span: tuple[float, float],
    allowed: tuple[float, float],
    size: float,
    half: float,
    lines: tuple[float, float, frozenset[int]] | None,
) -> tuple[float, ...] | None:
    """Places between the ends of a span so that no sheet shows more than `size`; None where there are none."""
    low, high = span
    if high - low <= size + TOLERANCE_MM:
        return ()
    inner = size - 2 * half  # what a sheet between two others adds
    if inner <= half:
        return None
    fewest = math.ceil((high - low - 2 * half - TOLERANCE_MM) / inner)
    for count in range(fewest, fewest + _TRIES):
        found = _spread(span, allowed, inner, half, lines, count)
        if found is not None:
            return found
    return None


def _spread(
    span: tuple[float, float],
    allowed: tuple[float, float],
    inner: float,
    half: float,
    lines: tuple[float, float, frozenset[int]] | None,
    count: int,
) -> tuple[float, ...] | None:
    """Ends of `count` sheets side by side, spread as evenly as grid lines allow; None where they do not reach."""
    low, high = span
    found: list[float] = []
    for k in range(1, count):
        furthest = (found[-1] + inner) if found else low + inner + half
        nearest = high - (count - k) * inner - half
        first, last = max(nearest, allowed[0], (found[-1] + 2 * half) if found else low), min(furthest, allowed[1])
        if first > last + TOLERANCE_MM:
            return None
        even = min(max(low + (high - low) * k / count, first), last)
        found.append(_nearest_line(even, first, last, lines))
    return tuple(found)


def _nearest_line(wanted: float, first: float, last: float, lines: tuple[float, float, frozenset[int]] | None) -> float:
    """The grid line without mains nearest to a place; where none is in reach, halfway between two; else the place."""
    if lines is None:
        return wanted
    at, module, mains = lines
    halves = range(math.ceil(2 * (first - at) / module - 1e-9), math.floor(2 * (last - at) / module + 1e-9) + 1)
    between = [at + k * module / 2 for k in halves if k % 2]
    free = [at + k * module / 2 for k in halves if k % 2 == 0 and k // 2 not in mains]
    return min(free or between, key=lambda line: abs(line - wanted), default=wanted)
