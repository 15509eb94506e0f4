"""The frame of a ceiling: main tees, cross tees and wall angle, as they are put together from stock.

In: a room, its layout, the system, the lines of the mains and the modules that lay-in services take. Out: `Member`s in
the room frame, each an unbroken line of pieces: M1, M2, ... mains; T1, T2, ... cross tees; W1, W2, ... wall angle. On
grids fixed straight to the joists CR1, CR2, ... carriers take the place of mains, CS1, CS2, ... are the cover strips
over them, and W1, W2, ... is track.

Rules: every grid line carries a tee where it has room on both sides. Mains run from wall to wall. On the lines square
to them stand the cross tees, from main to main or to the wall; on the lines between two mains stand short ones, from
cross tee to cross tee, in the slot at the middle of a long cross tee (from memory). A tee has factory ends where it
hooks in, and is cut where it lies on the wall angle. Splices are staggered from run to run, and no cross tee is at
one. A line that nearly touches a wall alongside still carries a tee here; that the panel beside it is a sliver is for
the layout to say.

A service of several modules takes out the tees inside it, but never a main. Where that takes half of a long cross tee,
the other half becomes a short one, hooked into one longer tee beside the service.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace

from planner.ceiling.mains import MainLines
from planner.ceiling.members.corners import round_corners
from planner.ceiling.members.lines import SHORTEST_TEE_MM, Stretch, clip_lines, rings_in
from planner.ceiling.members.runs import Joints, gathered, joints_of, main_run
from planner.ceiling.members.trim import trim
from planner.ceiling.model import Cell, End, Layout, Member, Piece
from planner.ceiling.system import MainTee, System
from planner.errors import PlannerError
from planner.geometry import TOLERANCE_MM, Frame, Point
from planner.room.outline import Room

Gaps = dict[int, set[int]]  #: for each line, the modules along it whose tee is taken out


@dataclass(frozen=True, slots=True)
class _Bench:
    """The grid seen along the mains: p runs along them, q square to them; lines and cells counted as in the grid."""

    frame: Frame
    along: bool  #: p is the grid's first axis
    p_pitch: float
    q_pitch: float
    system: System
    mains: MainLines

    def to_room(self, p: float, q: float) -> Point:
        return self.frame.outward((p, q) if self.along else (q, p))

    def along_of(self, point: Point) -> float:
        """Where a point of the room is along the mains."""
        return self.frame.inward(point)[0 if self.along else 1]


@dataclass(frozen=True, slots=True)
class _Crossings:
    """Where tees hook into the tees of a line: at every `step`-th line square to it, some left out."""

    pitch: float
    step: int
    phase: int
    left_out: frozenset[int] = field(default=frozenset())

    def inside(self, start: float, end: float) -> range:
        """Indices of the crossings inside a stretch."""
        first = int((start + TOLERANCE_MM) // self.pitch) + 1
        last = -int((TOLERANCE_MM - end) // self.pitch) - 1
        first += (self.phase - first) % self.step
        return range(first, last + 1, self.step)


def frame(
    room: Room,
    layout: Layout,
    system: System,
    mains: MainLines,
    taken: Iterable[tuple[Cell, ...]] = (),
) -> tuple[Member, ...]:
    """Frame a ceiling. `taken` holds, for each lay-in service, the cells it takes.

    PlannerError when the tee beside a service would be longer than any cross tee.
    """
    along = mains.direction == "along"
    pitches = layout.module if along else layout.module[::-1]
    bench = _Bench(layout.frame, along, *pitches, system, mains)
    rings = rings_in(layout.frame, room)
    crossing = clip_lines(rings, 0 if along else 1, bench.p_pitch)
    level = clip_lines(rings, 1 if along else 0, bench.q_pitch)
    crossing_gaps, level_gaps = _gaps(bench, taken)
    tees = [
        *_crossing_tees(bench, crossing, crossing_gaps),
        *_level_tees(bench, level, level_gaps, crossing_gaps),
    ]
    around = round_corners(room, trim(room, system.wall_angle), system)
    cross = (Member(f"T{k}", "cross tee", *line) for k, line in enumerate(tees, 1))
    if system.direct is None:
        mains_of = (Member(f"M{k}", "main tee", *run) for k, run in enumerate(_main_runs(bench, level, system.main), 1))
        return (*mains_of, *cross, *around)
    carriers = tuple(_main_runs(bench, level, system.main))
    return (
        *(Member(f"CR{k}", "carrier", *run) for k, run in enumerate(carriers, 1)),
        *cross,
        *(Member(f"CS{k}", "cover strip", *run) for k, run in enumerate(_cover_strips(bench, level, carriers), 1)),
        *(replace(track, kind="track") for track in around),
    )


Line = tuple[Point, Point, tuple[Piece, ...]]


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
    bench: _Bench, level: dict[int, tuple[Stretch, ...]], main: MainTee, under: Iterable[Joints] = ()
) -> Iterator[Line]:
    """Runs on the lines of the mains; `under` are the splices, run by run, that theirs must not stand under.

    On direct grids no end piece is shorter than the carriers' farthest screws, so each is held by one at least.
    """
    least = None if bench.system.direct is None else bench.system.direct.farthest_screw
    own = iter(under)
    before: list[tuple[Stretch, Joints]] = []
    for line, stretches in level.items():
        if not bench.mains.is_main(line):
            continue
        q, here = line * bench.q_pitch, list[tuple[Stretch, Joints]]()
        for start, end in stretches:
            hooks = _Crossings(bench.p_pitch, 1, 0).inside(start, end)
            to_first = hooks[0] * bench.p_pitch - start if hooks else None
            beside = [joints for (a, b), joints in before if a < end and b > start]
            beside += [joints for joints in (next(own, None),) if joints is not None]
            pieces = main_run(end - start, to_first, main, start=start, beside=beside, least=least)
            here.append(((start, end), joints_of(pieces, start)))
            yield bench.to_room(start, q), bench.to_room(end, q), pieces
        before = here


def _cover_strips(bench: _Bench, level: dict[int, tuple[Stretch, ...]], carriers: Iterable[Line]) -> Iterator[Line]:
    """A strip over each carrier, its joints clear of the carrier's."""
    direct = bench.system.direct
    assert direct is not None
    strip = replace(bench.system.main, item=direct.cover_strip.item, length=direct.cover_strip.length)
    under = (joints_of(pieces, bench.along_of(start)) for start, _, pieces in carriers)
    return _main_runs(bench, level, strip, under)


def _crossing_tees(bench: _Bench, crossing: dict[int, tuple[Stretch, ...]], gaps: Gaps) -> Iterator[Line]:
    """Tees square to the mains; where a line between mains crosses one, it must have the slot of a long tee."""
    hooks = _Crossings(bench.q_pitch, bench.mains.step, bench.mains.phase)
    for line, stretches in crossing.items():
        p = line * bench.p_pitch
        for stretch in stretches:
            for part in _unbroken(stretch, gaps.get(line, set()), bench.q_pitch):
                if row := _row(bench, part, hooks, slotted=True):
                    (start, end), pieces = row
                    yield bench.to_room(p, start), bench.to_room(p, end), pieces


def _level_tees(
    bench: _Bench, level: dict[int, tuple[Stretch, ...]], gaps: Gaps, crossing_gaps: Gaps
) -> Iterator[Line]:
    """Tees along the mains, on the lines between them."""
    for line, stretches in level.items():
        if bench.mains.is_main(line):
            continue
        q = line * bench.q_pitch
        halved = frozenset(k for k, rows in crossing_gaps.items() if line in rows or line - 1 in rows)
        hooks = _Crossings(bench.p_pitch, 1, 0, halved)
        for stretch in stretches:
            for part in _unbroken(stretch, gaps.get(line, set()), bench.p_pitch):
                if row := _row(bench, part, hooks, slotted=False):
                    (start, end), pieces = row
                    yield bench.to_room(start, q), bench.to_room(end, q), pieces


@dataclass(frozen=True, slots=True)
class _Part:
    """An unbroken part of a line, and whether each end lies on a wall."""

    start: float
    end: float
    walls: tuple[bool, bool]


def _unbroken(stretch: Stretch, taken_out: set[int], pitch: float) -> Iterator[_Part]:
    """A stretch less the modules whose tee is taken out."""
    start, on_wall = stretch[0], True
    for k in sorted(taken_out):
        low, high = k * pitch, (k + 1) * pitch
        if high <= start or low >= stretch[1]:
            continue
        if low - start > TOLERANCE_MM:
            yield _Part(start, low, (on_wall, False))
        start, on_wall = high, False
    if stretch[1] - start > TOLERANCE_MM:
        yield _Part(start, stretch[1], (on_wall, True))


def _row(bench: _Bench, part: _Part, hooks: _Crossings, *, slotted: bool) -> tuple[Stretch, tuple[Piece, ...]] | None:
    """The tees of one part of a line, from crossing to crossing; None when they are too short to cut.

    Equal tees are counted, not listed: the work does not grow with the length of the line, unless a service sits on it.
    """
    start, end, walls = part.start, part.end, part.walls
    inside = hooks.inside(start, end)
    if inside and inside[0] * hooks.pitch - start < SHORTEST_TEE_MM:
        start, walls, inside = inside[0] * hooks.pitch, (False, walls[1]), inside[1:]
    if inside and end - inside[-1] * hooks.pitch < SHORTEST_TEE_MM:
        end, walls, inside = inside[-1] * hooks.pitch, (walls[0], False), inside[:-1]
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
    return (start, end), gathered(pieces)


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
