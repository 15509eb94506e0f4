"""Where splayed wires and a post brace a ceiling against an earthquake, and how long they are.

In: the room, its layout, and the members. Out: bracing points in the room frame, all on main tees. Where joists are
known a brace stands where its main crosses one, for its post and wires go up to wood: within 2 in of a cross tee if
such crossings keep the limits, at any if they do not. Where joists are not known, or none keep the limits, it stands
on a line of cross tees; the finding tells what is then wanting.

Rule: in seismic design categories D, E and F, over 1000 ft2; points 12 ft apart both ways, the first within 6 ft of a
wall (ASTM E580 s. 1.5, read, for the area; a building department's handout, Daly City CA, for the rest). At each a
post, and four wires at most 45 degrees from level: that long at least. Rows of points lie on mains; there are as many
as the widest part of the room asks for, and more beside a recess that is further than that from a row. Points of a row
go from wall to wall; a column is no wall, and none stands in it.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import groupby

from planner.ceiling.holding.overhead import HALF_JOIST_MM, crossings, drop_of, to_joist
from planner.ceiling.holding.spacing import Limits, fewest, too_long
from planner.ceiling.members.lines import Stretch, clip_lines, rings_in
from planner.ceiling.model import Brace, Layout, Member
from planner.geometry import TOLERANCE_MM, Point, distance
from planner.room.outline import Room

FOOT = 304.8
BRACED_OVER_MM2 = 1000 * FOOT**2  #: ASTM E580 s. 1.5
LIMITS = Limits(apart=12 * FOOT, first=6 * FOOT)  #: handout, Daly City CA
STEEPEST_DEG = 45.0  #: of a splayed wire, from level: the same handout
BY_CROSS_TEE_MM = 2 * FOOT / 12  #: how far from a cross tee at most: handouts, from memory


def brace_of(room: Room) -> Brace | None:
    """The wires and the post of one brace; None when a height is not known."""
    drop = drop_of(room)
    if not drop:
        return None
    return Brace(drop / math.sin(math.radians(STEEPEST_DEG)) + room.site.wire_allowance, drop)


def braces(room: Room, layout: Layout, members: Sequence[Member]) -> tuple[Point, ...]:
    """Bracing points that keep the limits, few of them; none where the rule does not ask for them."""
    if room.site.seismic not in ("D", "E", "F") or room.area <= BRACED_OVER_MM2 * (1 + 1e-9):
        return ()
    inward = layout.frame.inward
    runs = [(inward(member.start), inward(member.end)) for member in members if member.kind == "main tee"]
    if not runs:
        return ()
    along = 0 if abs(runs[0][1][0] - runs[0][0][0]) > abs(runs[0][1][1] - runs[0][0][1]) else 1
    steel: dict[int, list[Stretch]] = {}
    for start, end in runs:
        low, high = sorted((start[along], end[along]))
        steel.setdefault(round(start[1 - along] / layout.module[1 - along]), []).append((low, high))
    rings = rings_in(layout.frame, replace(room, columns=()))
    lines = clip_lines(rings, 1 - along, layout.module[1 - along])
    mains = {row: lines[row] for row in sorted(steel) if row in lines}
    rows = _rows(clip_lines(rings, along, layout.module[along]), mains, layout.module, along)
    found = []
    for row, crossed in sorted(rows.items()):
        aside = row * layout.module[1 - along]
        under = _under_joists(room, layout, steel[row], along, aside)
        for at in _on_row(mains[row], steel[row], sorted(crossed), layout.module[along], under):
            found.append(layout.frame.outward(_spot(at, aside, along)))
    return tuple(found)


def no_joist_above(room: Room, spots: Iterable[Point]) -> tuple[Point, ...]:
    """Braces that stand beside the joists; none where joists are not known."""
    joists = room.joists
    return () if joists is None else tuple(spot for spot in spots if to_joist(joists, spot) > HALF_JOIST_MM)


def far_from_cross_tees(layout: Layout, members: Iterable[Member], spots: Iterable[Point]) -> tuple[Point, ...]:
    """Braces that stand more than 2 in from every line of cross tees along their main."""
    main = next((member for member in members if member.kind == "main tee"), None)
    if main is None:
        return ()
    (x, y), (u, v) = (layout.frame.inward(end) for end in (main.start, main.end))
    along = 0 if abs(u - x) > abs(v - y) else 1
    pitch = layout.module[along]
    return tuple(
        spot for spot in spots if _to_line(layout.frame.inward(spot)[along], pitch) > BY_CROSS_TEE_MM + TOLERANCE_MM
    )


def _to_line(at: float, pitch: float) -> float:
    return min(at % pitch, pitch - at % pitch)


def _spot(at: float, aside: float, along: int) -> Point:
    return (at, aside) if along == 0 else (aside, at)


def _under_joists(room: Room, layout: Layout, steel: Sequence[Stretch], along: int, aside: float) -> tuple[float, ...]:
    """Where the mains of a row cross joists, in order."""
    if room.joists is None:
        return ()
    found = set[float]()
    for low, high in steel:
        start, end = (layout.frame.outward(_spot(at, aside, along)) for at in (low, high))
        if distance(start, end) > TOLERANCE_MM:
            found.update(low + at for at in crossings(room.joists, start, end))
    return tuple(sorted(found))


def _rows(
    across: dict[int, tuple[Stretch, ...]],
    mains: dict[int, tuple[Stretch, ...]],
    module: tuple[float, float],
    along: int,
) -> dict[int, set[int]]:
    """The lines of mains that carry rows, each with the lines square to it on which it is needed to keep the limits.

    The widest parts of the room are looked at first; what they need serves narrower ones beside them too.
    """
    pitch = module[1 - along]
    asked: dict[tuple[float, float, tuple[int, ...]], list[int]] = {}
    for index, stretches in across.items():
        at = index * module[along]
        carrying = [row for row, parts in mains.items() if any(low < at < high for low, high in parts)]
        for low, high in stretches:
            mine = tuple(row for row in carrying if low < row * pitch < high)
            asked.setdefault((round(low, 3), round(high, 3), mine), []).append(index)
    rows: dict[int, set[int]] = {}
    for low, high, there in sorted(asked, key=lambda one: (one[0] - one[1], one)):
        spots = {row * pitch - low: row for row in there}
        fixed = [spot for spot, row in spots.items() if row in rows]
        for spot in fewest(sorted(spots), high - low, LIMITS, fixed):
            rows.setdefault(spots[spot], set()).update(asked[low, high, there])
    return rows


def _on_row(
    stretches: Iterable[Stretch],
    steel: Sequence[Stretch],
    crossed: Sequence[int],
    pitch: float,
    under: Sequence[float],
) -> Iterator[float]:
    """Points of a row, from wall to wall, or as far as the row is needed: under joists, or on lines of cross tees."""
    for start, end in stretches:
        inside = [index for index in crossed if start < index * pitch < end]
        for part in _in_a_row(inside):
            low, high = max(start, (part[0] - 1) * pitch), min(end, (part[-1] + 1) * pitch)
            tees = [index * pitch - low for index in part if any(a < index * pitch < b for a, b in steel)]
            joists = [at - low for at in under if low < at < high]
            by_tees = [at for at in joists if _to_line(low + at, pitch) <= BY_CROSS_TEE_MM + TOLERANCE_MM]
            spots, chosen = _first_that_keeps((by_tees, joists, tees), high - low)
            if not chosen and spots and (low, high) != (start, end):  # a short part that no two walls hold
                chosen = (spots[len(spots) // 2],)
            yield from (low + at for at in chosen)


def _first_that_keeps(choices: Iterable[Sequence[float]], length: float) -> tuple[Sequence[float], tuple[float, ...]]:
    """The first of some choices of points that keeps the limits, else the last, and the fewest points of it."""
    found: tuple[Sequence[float], tuple[float, ...]] = ((), ())
    for spots in filter(None, choices):
        found = spots, fewest(spots, length, LIMITS)
        if not any(too_long(found[1], length, LIMITS)):
            break
    return found


def _in_a_row(numbers: Sequence[int]) -> Iterator[list[int]]:
    """Growing numbers in groups that leave none out."""
    for _, group in groupby(enumerate(numbers), key=lambda pair: pair[1] - pair[0]):
        yield [number for _, number in group]
