"""A grid fixed straight to the joists: its screws, the furring it may need, and the depth that it takes.

In: a room, its layout, a direct system, the lines of the carriers and the members of the frame. Out: `Fixed`, empty on
a hung grid.

Rules, most of them from memory: carriers run square to the joists with a screw at EVERY joist crossed; the track is
screwed into studs at a regular spacing. Where a carrier meets no joist within the farthest screw, furring goes across
the joists and the carriers are screwed to that. Joists out of level by more than 1/4 in are shimmed.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from planner.ceiling.hanging import splices
from planner.ceiling.holding.overhead import crossings, point_at, stride_along
from planner.ceiling.mains import MainLines
from planner.ceiling.members.furring import furring
from planner.ceiling.model import Hanger, Layout, Member
from planner.ceiling.system import Direct, System
from planner.findings import Finding
from planner.geometry import TOLERANCE_MM, distance
from planner.lengths import spoken_length
from planner.records import dataclass
from planner.room.outline import Joists, Room
from planner.sayings import said

INCH = 25.4

#: Joists further out of level are shimmed or furred: from memory, over 1/4 in in 8 to 10 ft.
OUT_OF_LEVEL_MM = INCH / 4

#: Assumed where no joists are given, so that there is something to look at: the usual spacing, square to the carriers.
USUAL_JOISTS_MM = {True: 16 * INCH, False: 400.0}

#: No screw is nearer than this to the end of a piece (common practice, no source).
END_CLEAR_MM = 10.0

#: Two screws nearer to each other than this hold no more than one (common practice, no source).
SCREWS_APART_MM = 50.0

#: The first and last screw of a length of track are this far from its ends (common practice, no source).
TRACK_END_MM = 50.0


@dataclass(frozen=True, slots=True)
class Fixed:
    """What a direct grid has beyond its frame."""

    furring: tuple[Member, ...] = ()
    screws: tuple[Hanger, ...] = ()  #: kind "screw": carriers first, then the track
    findings: tuple[Finding, ...] = ()
    level: float | None = None  #: face of the ceiling above the floor, from the joists down; None when not known
    nails: int = 0  #: in the furring


def fix_directly(room: Room, layout: Layout, system: System, mains: MainLines, members: Sequence[Member]) -> Fixed:
    """Screw a direct grid up; `members` are those of `planner.ceiling.framing.frame`."""
    direct = system.direct
    if direct is None:
        return Fixed()
    carriers = [member for member in members if member.kind == "carrier"]
    furred = any(_wrong_way(room.joists, carrier) for carrier in carriers)
    strips = furring(room, layout, mains, direct, carriers) if furred else ()
    width = direct.furring_width
    fixed = tuple(_strip_points(carriers, strips, width) if furred else _joist_points(room, system, carriers))
    tracks = (hanger for member in members if member.kind == "track" for hanger in _track_screws(member, direct))
    screws = tuple(replace(screw, id=f"FX{k}") for k, screw in enumerate((*fixed, *tracks), 1))
    taken = direct.depth + (direct.furring_thickness if furred else 0.0) + _levelling(room)
    level = None if room.underside is None else room.underside - taken
    findings = (
        *([] if room.joists else [_unknown_joists(room, system)]),
        *(_furring_said(room, strips, direct) if furred else ()),
        *_far_apart(room, direct, carriers, furred=furred),
        *_out_of_level(room, sum(_joists_over(room, strip) for strip in strips) if furred else len(fixed)),
        *_depth(room, taken, level, furred=furred),
    )
    return Fixed(strips, screws, findings, level, nails_in(room, strips))


def nails_in(room: Room, strips: Iterable[Member]) -> int:
    """Two at each joist (how-to articles on wood furring)."""
    return 2 * sum(_joists_over(room, strip) for strip in strips)


def _joists_over(room: Room, member: Member) -> int:
    return 0 if room.joists is None else len(crossings(room.joists, member.start, member.end))


def _wrong_way(joists: Joists | None, carrier: Member) -> bool:
    """True for a carrier nearer to parallel with the joists than to square."""
    if joists is None:
        return False
    return stride_along(joists, carrier.start, carrier.end) > joists.spacing * math.sqrt(2) + TOLERANCE_MM


def _joist_points(room: Room, system: System, carriers: Iterable[Member]) -> Iterator[Hanger]:
    """A screw where a carrier crosses a joist."""
    for carrier in carriers:
        joists = room.joists or _usual(system, carrier)
        yield from _screws(carrier, crossings(joists, carrier.start, carrier.end))


def _usual(system: System, carrier: Member) -> Joists:
    """Joists as they usually stand, square to a carrier."""
    across = abs(carrier.end[0] - carrier.start[0]) >= abs(carrier.end[1] - carrier.start[1])
    return Joists(USUAL_JOISTS_MM[system.imperial], 0.0, "across" if across else "along")


def _strip_points(carriers: Iterable[Member], strips: Sequence[Member], width: float) -> Iterator[Hanger]:
    """A screw where a carrier passes under a furring strip, also a strip by half its width; they are square."""
    for carrier in carriers:
        length = distance(carrier.start, carrier.end)
        way = ((carrier.end[0] - carrier.start[0]) / length, (carrier.end[1] - carrier.start[1]) / length)
        points = set[float]()
        for strip in strips:
            ends = [_seen(carrier, way, end) for end in (strip.start, strip.end)]
            low, high = sorted((ends[0][1], ends[1][1]))
            reached = -width / 2 - TOLERANCE_MM <= ends[0][0] <= length + width / 2 + TOLERANCE_MM
            if reached and low - TOLERANCE_MM <= 0 <= high + TOLERANCE_MM:
                points.add(round(min(max(ends[0][0], 0.0), length), 6))
        yield from _screws(carrier, _apart(sorted(points)))


def _apart(points: Sequence[float]) -> list[float]:
    """The points without those that are too near to the one after them: two strips side by side take one screw."""
    return [at for at, after in zip(points, (*points[1:], math.inf), strict=True) if after - at >= SCREWS_APART_MM]


def _seen(carrier: Member, way: tuple[float, float], point: tuple[float, float]) -> tuple[float, float]:
    """A point as distances along a carrier and to its left."""
    x, y = point[0] - carrier.start[0], point[1] - carrier.start[1]
    return (x * way[0] + y * way[1], y * way[0] - x * way[1])


def _screws(member: Member, points: Iterable[float]) -> Iterator[Hanger]:
    """A screw at each point, and two where pieces meet there, one in each."""
    joints, length = splices(member), distance(member.start, member.end)
    for at in points:
        joint = next((joint for joint in joints if abs(joint - at) < END_CLEAR_MM), None)
        spots = [at] if joint is None else [joint - END_CLEAR_MM, joint + END_CLEAR_MM]
        for spot in spots:
            inside = min(max(spot, min(END_CLEAR_MM, length / 2)), length - min(END_CLEAR_MM, length / 2))
            yield Hanger("", point_at(member.start, member.end, inside), member.id, "screw")


def _track_screws(track: Member, direct: Direct) -> Iterator[Hanger]:
    """Evenly spread, the first and last near the ends, no further apart than the system says."""
    length = distance(track.start, track.end)
    if length <= 2 * TRACK_END_MM or track.bulge:
        if length > TOLERANCE_MM:
            yield Hanger("", point_at(track.start, track.end, length / 2), track.id, "screw")
        return
    between = length - 2 * TRACK_END_MM
    steps = math.ceil(between / direct.track_screws - 1e-9)
    yield from _screws(track, [TRACK_END_MM + k * between / max(steps, 1) for k in range(steps + 1)])


def _levelling(room: Room) -> float:
    """What shims take of the height; nothing while the joists are level enough."""
    off = room.joists.out_of_level if room.joists else 0.0
    return off if off > OUT_OF_LEVEL_MM + TOLERANCE_MM else 0.0


# What is said

_MEMORY = "from memory; compare with the maker's sheet"


def _unknown_joists(room: Room, system: System) -> Finding:
    usual = spoken_length(USUAL_JOISTS_MM[system.imperial], room.units)
    text = said(
        "Joists are not given, and a direct grid is screwed to them: drawn as if they ran square to the "
        "carriers, {usual} apart. Nothing can be bought on that.",
        usual=usual,
    )
    remedy = said("Find them, and add  structure: {{joists: {{spacing: ..., first: ..., direction: across}}}}.")
    return Finding("stop", "joists not known", _MEMORY, text, None, remedy)


def _furring_said(room: Room, strips: Sequence[Member], direct: Direct) -> Iterator[Finding]:
    """Carriers beside the joists need strips across them, which cost depth."""
    pieces = sum(piece.count for strip in strips for piece in strip.pieces)
    length = spoken_length(sum(strip.length for strip in strips), room.units)
    nails = nails_in(room, strips)
    text = said(
        "Carriers run beside the joists, so they cannot be screwed to every one: {count} rows of furring "
        "go across the joists ({pieces} pieces, {length} in all, {nails} nails at two a joist) and take "
        "{furring_thickness} of height.",
        count=len(strips),
        pieces=pieces,
        length=length,
        nails=nails,
        furring_thickness=spoken_length(direct.furring_thickness, room.units),
    )
    source = "how-to articles on wood furring: two 8d nails at each joist, joints on joists and staggered"
    remedy = said("Without  mains:  the carriers run square to the joists, and need no furring.")
    yield Finding("warn", "joists the wrong way", source, text, None, remedy)


def _far_apart(room: Room, direct: Direct, carriers: Sequence[Member], *, furred: bool) -> Iterator[Finding]:
    """Joists further apart along a carrier than its screws may be."""
    if furred or room.joists is None or not carriers:
        return
    stride = stride_along(room.joists, carriers[0].start, carriers[0].end)
    if stride > direct.farthest_screw + TOLERANCE_MM:
        text = said(
            "Along the carriers the joists are {stride} apart; screws may be {farthest_screw} apart.",
            stride=spoken_length(stride, room.units),
            farthest_screw=spoken_length(direct.farthest_screw, room.units),
        )
        remedy = said("Nail blocking between the joists, under each carrier.")
        yield Finding("warn", "joists far apart", _MEMORY, text, None, remedy)


def _out_of_level(room: Room, places: int) -> Iterator[Finding]:
    """Joists out of level show in a grid that follows them."""
    if not _levelling(room) or room.joists is None:
        return
    off = spoken_length(room.joists.out_of_level, room.units)
    text = said(
        "The joists are {off} out of level, more than {out_of_level}: shims at up to {places} places, "
        "none thicker than {off}, bring all to the lowest joist.",
        off=off,
        out_of_level=spoken_length(OUT_OF_LEVEL_MM, room.units),
        places=places,
    )
    remedy = said(
        "Stretch a string under the joists; shim where it does not touch, or fur the whole ceiling to a level."
    )
    yield Finding("warn", "joists out of level", "from memory: over 1/4 in in 8 to 10 ft", text, None, remedy)


def _depth(room: Room, taken: float, level: float | None, *, furred: bool) -> Iterator[Finding]:
    """What the grid takes of the height, and whether the height asked for can be."""
    depth = spoken_length(taken, room.units)
    above = _above_said(furred=furred, levelled=_levelling(room) > 0, depth=depth)
    if level is None:
        yield Finding(
            "note",
            "depth of the grid",
            _MEMORY,
            said("{above} below the joists.", above=above),
            None,
        )
        return
    at = spoken_length(level, room.units)
    text = said("{above} below the joists: the ceiling comes to {at} above the floor.", above=above, at=at)
    if room.ceiling_height is None or abs(room.ceiling_height - level) <= INCH / 16:
        yield Finding("note", "depth of the grid", _MEMORY, text, None)
    else:
        wished = spoken_length(room.ceiling_height, room.units)
        text += said(" It cannot be at {wished}: a direct grid has one height.", wished=wished)
        remedy = said("Write ceiling_height: {at}, leave it out, or hang the ceiling instead.", at=at)
        yield Finding("warn", "depth of the grid", _MEMORY, text, None, remedy)


def _above_said(*, furred: bool, levelled: bool, depth: str) -> str:
    """What lies between the joists and the ceiling, and what it takes of the height."""
    if furred and levelled:
        return said("The grid and furring and shims take {depth}", depth=depth)
    if furred:
        return said("The grid and furring take {depth}", depth=depth)
    return (
        said("The grid and shims take {depth}", depth=depth)
        if levelled
        else said("The grid takes {depth}", depth=depth)
    )
