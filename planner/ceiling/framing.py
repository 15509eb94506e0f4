"""The frame of a ceiling: main tees, cross tees and wall angle, as they are put together from stock.

In: a room, its layout, the system, the lines of the mains and the modules that lay-in services take. Out: `Member`s in
the room frame, each an unbroken line of pieces: M1, M2, ... mains; T1, T2, ... cross tees; W1, W2, ... wall angle. On
grids fixed straight to the joists CR1, CR2, ... carriers take the place of mains, CS1, CS2, ... are the cover strips
over them, and W1, W2, ... is track.

Rules: every grid line carries a tee where it has room on both sides, but where the wall angle's ledges
carry what would lie on it (`planner.ceiling.members.hidden`). Mains run from wall to wall. On the lines square
to them stand the cross tees, from main to main or to the wall; on the lines between two mains stand short ones, from
cross tee to cross tee, in the slot at the middle of a long cross tee (from memory). A tee has factory ends where it
hooks in, and is cut where it lies on the wall angle; for an earthquake it stops short of the wall
(`planner.ceiling.members.free_ends`). Splices are staggered from run to run, and no cross tee is at
one. A line that nearly touches a wall alongside still carries a tee here; that the panel beside it is a sliver is for
the layout to say.

A service of several modules takes out the tees inside it, but never a main. Where that takes half of a long cross tee,
the other half becomes a short one, hooked into one longer tee beside the service.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import field, replace
from typing import Literal

from planner.ceiling.mains import MainLines
from planner.ceiling.members.begin import Spot, begin, joints_along
from planner.ceiling.members.corners import round_corners
from planner.ceiling.members.free_ends import FreeEnds
from planner.ceiling.members.hidden import Parted, least_end, parted
from planner.ceiling.members.idle import Line, without_idle_ends
from planner.ceiling.members.lines import SHORTEST_TEE_MM, Stretch, clip_lines, rings_in
from planner.ceiling.members.parts import Gaps, Part, unbroken
from planner.ceiling.members.pipes import ledged
from planner.ceiling.members.runs import gathered
from planner.ceiling.members.trim import trim
from planner.ceiling.model import Cell, End, FirstCuts, Layout, Member, Piece
from planner.ceiling.system import MainTee, System
from planner.errors import PlannerError
from planner.geometry import TOLERANCE_MM, Frame, Point
from planner.records import dataclass
from planner.room.brief import StockWish
from planner.room.outline import Room
from planner.runs.joints import Joints


@dataclass(frozen=True, slots=True)
class _Bench:
    """The grid seen along the mains: p runs along them, q square to them; lines and cells counted as in the grid."""

    frame: Frame
    along: bool  #: p is the grid's first axis
    p_pitch: float
    q_pitch: float
    system: System
    mains: MainLines
    free: FreeEnds | None = None

    def to_room(self, p: float, q: float) -> Point:
        return self.frame.outward((p, q) if self.along else (q, p))

    def gaps(self, start: Point, end: Point) -> tuple[float, float]:
        """What is left free before the walls at either end of a line."""
        return (0.0, 0.0) if self.free is None else (self.free.short(start, end), self.free.short(end, start))


@dataclass(frozen=True, slots=True)
class _Crossings:
    """Where tees hook into the tees of a line: at every `step`-th line square to it, some left out."""

    pitch: float
    step: int
    phase: int
    left_out: frozenset[int] = field(default=frozenset())
    bare: frozenset[int] = field(default=frozenset())  #: the ledge carries what would be there, first or last in a row

    def inside(self, start: float, end: float) -> range:
        """Indices of the crossings inside a stretch."""
        first = int((start + TOLERANCE_MM) // self.pitch) + 1
        last = -int((TOLERANCE_MM - end) // self.pitch) - 1
        first += (self.phase - first) % self.step
        found = range(first, last + 1, self.step)
        while found and found[0] in self.bare:
            found = found[1:]
        while found and found[-1] in self.bare:
            found = found[:-1]
        return found

    def short(self, stretch: Stretch, within: float) -> tuple[float, float]:
        """How far from the ends of a stretch bare lines are, where they are so near; else 0."""
        spots = [index * self.pitch for index in self.bare]
        start, end = stretch
        before = (at - start for at in spots if 0 < at - start <= within)
        after = (end - at for at in spots if 0 < end - at <= within)
        return max(before, default=0.0), max(after, default=0.0)


@dataclass(frozen=True, slots=True)
class _Splicing:
    """How runs are spliced: what is wished of the stock, and what is agreed with other rooms."""

    wish: StockWish | None
    agreed: Sequence[FirstCuts]


@dataclass(frozen=True, slots=True)
class Framed:
    """The frame of a ceiling, and how its runs were begun."""

    members: tuple[Member, ...]
    first_cuts: tuple[FirstCuts, ...]


def frame(
    room: Room, layout: Layout, system: System, mains: MainLines, taken: Iterable[tuple[Cell, ...]] = ()
) -> tuple[Member, ...]:
    """The members of a ceiling whose runs are begun the plain way; else as `framed`."""
    return framed(room, layout, system, mains, taken).members


def framed(
    room: Room,
    layout: Layout,
    system: System,
    mains: MainLines,
    taken: Iterable[tuple[Cell, ...]] = (),
    wish: StockWish | None = None,
    agreed: Sequence[FirstCuts] = (),
    free: FreeEnds | None = None,
) -> Framed:
    """Frame a ceiling. `taken` holds, for each lay-in service, the cells it takes; `wish` says how stock is sawn.

    `agreed` is how runs are begun for this room and others together; those of which nothing is agreed are begun here.
    `free` tells how far tee ends stop short of walls. PlannerError when the tee beside a service would be longer than
    any cross tee.
    """
    along = mains.direction == "along"
    pitches = layout.module if along else layout.module[::-1]
    bench = _Bench(layout.frame, along, *pitches, system, mains, free)
    rings, ledges = rings_in(layout.frame, room), rings_in(layout.frame, ledged(room))
    axis, module = 0 if along else 1, layout.module
    crossing = parted(clip_lines(rings, axis, bench.p_pitch), ledges, axis, module, system)
    level = parted(clip_lines(rings, 1 - axis, bench.q_pitch), ledges, 1 - axis, module, system)
    crossing_gaps, level_gaps = _gaps(bench, taken)
    tees = [
        *_crossing_tees(bench, crossing, level, crossing_gaps),
        *_level_tees(bench, level, crossing, level_gaps, crossing_gaps),
    ]
    tees = without_idle_ends(tees, layout.closed, system)
    cross = (_member(f"T{k}", "cross tee", line) for k, line in enumerate(tees, 1))
    around = round_corners(room, trim(room, system.wall_angle), system)
    splicing = _Splicing(wish, agreed)
    if system.direct is None:
        runs, cuts, _ = _main_runs(bench, level, crossing, system.main, "M", splicing)
        mains_of = (_member(f"M{k}", "main tee", run) for k, run in enumerate(runs, 1))
        return Framed((*mains_of, *cross, *around), (cuts,))
    carriers, cuts, joints = _main_runs(bench, level, crossing, system.main, "CR", splicing)
    strip = replace(system.main, item=system.direct.cover_strip.item, length=system.direct.cover_strip.length)
    # their joints clear of the carriers'
    strips, over, _ = _main_runs(bench, level, crossing, strip, "CS", splicing, joints)
    members = (
        *(_member(f"CR{k}", "carrier", run) for k, run in enumerate(carriers, 1)),
        *cross,
        *(_member(f"CS{k}", "cover strip", run) for k, run in enumerate(strips, 1)),
        *(replace(track, kind="track") for track in around),
    )
    return Framed(members, (cuts, over))


def trimmed(members: Iterable[Member], room: Room, system: System) -> tuple[Member, ...]:
    """The members with the trim of another room: of the true one, where tees stop short of its walls."""
    around = round_corners(room, trim(room, system.wall_angle), system)
    kind: Literal["wall angle", "track"] = "wall angle" if system.direct is None else "track"
    return (
        *(member for member in members if member.kind not in ("wall angle", "track")),
        *(replace(each, kind=kind) for each in around),
    )


def _member(name: str, kind: Literal["main tee", "cross tee", "carrier", "cover strip"], line: Line) -> Member:
    start, end, pieces, gaps = line
    return Member(name, kind, start, end, pieces, gaps=gaps)


def _gaps(bench: _Bench, taken: Iterable[tuple[Cell, ...]]) -> tuple[Gaps, Gaps]:
    """Tees between two modules of one service: on the lines square to the mains, and on those along them."""
    crossing: Gaps = defaultdict(set)
    level: Gaps = defaultdict(set)
    for cells in taken:
        places = {cell if bench.along else cell[::-1] for cell in cells}
        for p, q in places:
            if (p + 1, q) in places:
                crossing[p + 1].add(q)
            if (p, q + 1) in places:
                level[q + 1].add(p)
    return crossing, level


def _main_runs(
    bench: _Bench,
    level: Parted,
    crossing: Parted,
    main: MainTee,
    names: str,
    splicing: _Splicing,
    under: Sequence[Joints] = (),
) -> tuple[list[Line], FirstCuts, tuple[Joints, ...]]:
    """Runs on the lines of the mains, how they were begun, and their splices.

    `under` are the splices, run by run, that theirs must not stand under. On direct grids no end piece is shorter than
    the carriers' farthest screws, so each is held by one at least.
    """
    spots, left_free = list[Spot](), list[tuple[float, float]]()
    for line, stretches in level.carrying.items():
        bare = crossing.bare_at(line * bench.q_pitch)
        for stretch in stretches if bench.mains.is_main(line) else ():
            start, end, gaps = _shortened(bench, line, stretch, bare)
            if end - start >= SHORTEST_TEE_MM:
                hooks = _Crossings(bench.p_pitch, 1, 0).inside(start, end)
                spots.append(Spot(line, start, end, hooks[0] * bench.p_pitch - start if hooks else None))
                left_free.append(gaps)
    least = None if bench.system.direct is None else bench.system.direct.farthest_screw
    agreed = next((cuts for cuts in splicing.agreed if cuts.item == main.item), None)
    rows, cuts = begin(spots, main, names, splicing.wish, least, under, agreed)
    lines = []
    for spot, row, gaps in zip(spots, rows, left_free, strict=True):
        q = spot.line * bench.q_pitch
        lines.append((bench.to_room(spot.start, q), bench.to_room(spot.end, q), row, gaps))
    return lines, cuts, joints_along(spots, rows)


def _shortened(
    bench: _Bench, line: int, stretch: Stretch, bare: frozenset[int]
) -> tuple[float, float, tuple[float, float]]:
    """A stretch of a main's line less what is left free before the walls; it still reaches the tees that hook in."""
    low, high = stretch
    before, after = bench.gaps(*(bench.to_room(p, line * bench.q_pitch) for p in stretch))
    if before or after:
        for k in _Crossings(bench.p_pitch, 1, 0, bare=bare).inside(low, high):
            before, after = min(before, k * bench.p_pitch - low), min(after, high - k * bench.p_pitch)
    return low + before, high - after, (before, after)


def _crossing_tees(bench: _Bench, crossing: Parted, level: Parted, gaps: Gaps) -> Iterator[Line]:
    """Tees square to the mains; where a line between mains crosses one, it must have the slot of a long tee."""
    for line, stretches in crossing.carrying.items():
        p = line * bench.p_pitch
        hooks = _Crossings(bench.q_pitch, bench.mains.step, bench.mains.phase, bare=level.bare_at(p))
        for stretch in stretches:
            ends = _ends(bench, stretch, hooks, bench.gaps(*(bench.to_room(p, q) for q in stretch)))
            for part in unbroken(stretch, gaps.get(line, set()), bench.q_pitch, ends):
                if row := _row(bench, part, hooks, slotted=True):
                    (start, end), pieces, left_free = row
                    yield bench.to_room(p, start), bench.to_room(p, end), pieces, left_free


def _level_tees(bench: _Bench, level: Parted, crossing: Parted, gaps: Gaps, crossing_gaps: Gaps) -> Iterator[Line]:
    """Tees along the mains, on the lines between them."""
    for line, stretches in level.carrying.items():
        if bench.mains.is_main(line):
            continue
        q = line * bench.q_pitch
        halved = frozenset(k for k, rows in crossing_gaps.items() if line in rows or line - 1 in rows)
        hooks = _Crossings(bench.p_pitch, 1, 0, halved, crossing.bare_at(q))
        for stretch in stretches:
            ends = _ends(bench, stretch, hooks, bench.gaps(*(bench.to_room(p, q) for p in stretch)))
            for part in unbroken(stretch, gaps.get(line, set()), bench.p_pitch, ends):
                if row := _row(bench, part, hooks, slotted=False):
                    (start, end), pieces, left_free = row
                    yield bench.to_room(start, q), bench.to_room(end, q), pieces, left_free


def _ends(bench: _Bench, stretch: Stretch, hooks: _Crossings, gaps: tuple[float, float]) -> tuple[float, float]:
    """What cross tees leave free before the walls: they end over the ledge where the line at their end is bare."""
    before, after = hooks.short(stretch, least_end(bench.system))
    return max(before, gaps[0]), max(after, gaps[1])


def _row(
    bench: _Bench, part: Part, hooks: _Crossings, *, slotted: bool
) -> tuple[Stretch, tuple[Piece, ...], tuple[float, float]] | None:
    """The tees of one part of a line, from crossing to crossing, and what is left free at its ends; None when they are
    too short to cut.

    Equal tees are counted, not listed: the work does not grow with the length of the line, unless a service sits on it.
    """
    (before, after), walls = part.gaps, part.walls
    start, end, inside = part.start + before, part.end - after, hooks.inside(part.start, part.end)
    first, last = (
        max(least_end(bench.system) if wall else 0.0, gap + SHORTEST_TEE_MM)
        for wall, gap in zip(walls, part.gaps, strict=True)
    )
    while inside and inside[0] * hooks.pitch - part.start < first:
        start, before, walls, inside = inside[0] * hooks.pitch, 0.0, (False, walls[1]), inside[1:]
    while inside and part.end - inside[-1] * hooks.pitch < last:
        end, after, walls, inside = inside[-1] * hooks.pitch, 0.0, (walls[0], False), inside[:-1]
    if end - start < SHORTEST_TEE_MM:
        return None
    left_out = {k for k in hooks.left_out if k in inside}
    if inside and not left_out:
        spots = [start, inside[0] * hooks.pitch, inside[-1] * hooks.pitch, end]
        counts = [1, len(inside) - 1, 1]
    else:
        spots = [start, *(k * hooks.pitch for k in inside if k not in left_out), end]
        counts = [1] * (len(spots) - 1)
    pieces = []
    for n, (a, b, count) in enumerate(zip(spots, spots[1:], counts, strict=False)):
        if count:
            cut = (walls[0] and n == 0, walls[1] and n == len(counts) - 1)
            pieces.append(_tee(bench, a, a + (b - a) / count, cut, count, slotted=slotted))
    return (start, end), gathered(pieces), (before, after)


def _tee(bench: _Bench, start: float, end: float, cut: tuple[bool, bool], count: int, *, slotted: bool) -> Piece:
    """The shortest cross tee that reaches, and that has a slot where a shorter one hooks into it."""
    length, system = end - start, bench.system
    crossed = slotted and bool(_Crossings(bench.q_pitch, 1, 0).inside(start, end))
    least = max(length, system.main.spacing if crossed else 0.0) - TOLERANCE_MM
    tee = next((tee for tee in system.cross_tees if tee.length >= least), None)
    if tee is None:
        longest = system.cross_tees[-1].length
        raise PlannerError(
            f"a tee beside a service would have to span {length:.0f} mm; the longest cross tee has {longest:.0f} mm.",
            where="services",
            mend="Move or turn the service so that its long side is square to the main tees, or take a shorter one.",
        )
    sawn = length < tee.length - TOLERANCE_MM
    return Piece(tee.item, length, (_end(sawn and cut[0]), _end(sawn and cut[1])), count)


def _end(cut: bool) -> End:
    return "cut" if cut else "factory"
