"""The two strings that a ceiling is set out from, and the diagonals that prove them square.

In: a room, its layout, its runs, where lines end on walls. Out: `Strings`: a run and a cross line that cross, and the
distances between their end marks, the one that tells most of the angle first.

Rules. Of all pairs the one nearest the reference corner whose two diagonals prove something. A diagonal proves nothing
that cannot be taped: it stays in the room and clear of columns. Nor does one with a short side: both sides of its
triangle, from the crossing to its ends, are a module and a half at least; for 600 mm and 24" that is 900 mm and 3 feet,
the shorter side of the smallest triangle of 3, 4 and 5 that is used on site (common practice, no source). Where the
cross line beside the corner leaves less, one further in is taken; a room too small for any has the best that there is.
Nor does one along a wall: both its marks were made with one tape. Nor one that is longer than a tape, 100 feet (common
practice, no source): in a hall strings further in are taken. Where no two marks are near enough, nothing is taped: a
laser or a triangle of 3, 4 and 5 on the strings proves them.

Which tells most: a diagonal L between sides a and b at a right angle grows by a b / L for each radian that the angle
opens (L squared is a squared and b squared less 2 a b times the cosine), so a reading that may be off by so much leaves
the angle open by that times L / (a b). Down a corridor a tape of 30 m tells less than one of 1.5 m across it.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import islice
from math import ceil

from shapely import LineString, Polygon, prepare
from shapely.geometry.base import BaseGeometry

from planner.ceiling.mains import MainLines
from planner.ceiling.members.lines import clip_lines, rings_in
from planner.ceiling.model import Layout, Member
from planner.geometry import TOLERANCE_MM, Point, distance
from planner.records import dataclass
from planner.room.outline import Room
from planner.room.survey import tape_accuracy

#: Both sides of a triangle that proves strings square, in modules.
LEAST_MODULES = 1.5
#: A second diagonal tells a wrong reading from strings out of square.
_ENOUGH = 2
#: A further one that leaves more than so many times the angle of the best tells nothing (common practice, no source).
_AS_GOOD = 2.0
#: Pairs of a run and a cross line that are looked at, those beside the corner and then those all over the room.
_MOST_PAIRS = 600
#: The longest tape that is usual, 100 ft: millimetres.
LONGEST_TAPE_MM = 30480.0
#: A diagonal is off when a reading of it would be so by chance once in 370: standard deviations.
_SPREAD = 3.0
#: A tape may touch a wall by so much, millimetres: marks are on the wall itself.
_TOUCH_MM = 1.0

Line = tuple[Point, Point]


@dataclass(frozen=True, slots=True)
class End:
    """A mark at the end of a line: on which wall, how far along it, and where that is in the room."""

    wall: int
    at: float
    point: Point


@dataclass(frozen=True, slots=True)
class Proof:
    """A diagonal: from a mark of the run to one of the cross line."""

    of_run: End
    of_cross: End
    side: float  #: the shorter side of its triangle
    other: float  #: the longer one

    @property
    def length(self) -> float:
        return distance(self.of_run.point, self.of_cross.point)

    @property
    def leaves(self) -> float:
        """How far from square the strings may still be when the reading is right: radians."""
        return allowance(self.length) * self.length / (self.side * self.other)


@dataclass(frozen=True, slots=True)
class Strings:
    """A run, a cross line, and what proves them square."""

    run: Member
    cross: Line
    proofs: tuple[Proof, ...]  #: the one that leaves least of an angle open first


Ends = Callable[[Line, bool], Iterable[End]]  #: where a line ends on walls; True for lines along the runs


def allowance(length: float) -> float:
    """How far a reading of a diagonal may be off, millimetres, before a string is: what a tape cannot tell at that
    length, three standard deviations of a taped length (`room.survey`: 1 mm, and 0.12 mm for each metre).
    """
    return _SPREAD * tape_accuracy(length)


def choose_strings(room: Room, layout: Layout, mains: MainLines, runs: Sequence[Member], ends: Ends) -> Strings | None:
    """The first pair that proves itself twice, else the best; None where no run crosses a cross line."""
    taped, least = _free_to_tape(room), LEAST_MODULES * min(layout.module) - TOLERANCE_MM
    best: tuple[tuple[int, float], Strings] | None = None
    for run, cross, crossing in _pairs(room, layout, mains, runs):
        found = sorted(_proofs(ends(run.wall_to_wall, True), ends(cross, False), crossing, taped), key=_by_angle)
        good = [proof for proof in found if proof.side >= least]
        most = max(found, key=lambda proof: proof.side, default=None)
        strings = Strings(run, cross, tuple(_worth_taping(good) or [most] if most else ()))
        if len(good) >= _ENOUGH:
            return strings
        rank = len(good), 0.0 if most is None else most.side
        if best is None or rank > best[0]:
            best = rank, strings
    return None if best is None else best[1]


def _worth_taping(proofs: Sequence[Proof]) -> Sequence[Proof]:
    """Of the proofs, best first, two; more only as far as they leave little more of an angle open than the best."""
    return [proof for k, proof in enumerate(proofs) if k < _ENOUGH or proof.leaves <= _AS_GOOD * proofs[0].leaves]


def _by_angle(proof: Proof) -> float:
    return proof.leaves


def _free_to_tape(room: Room) -> BaseGeometry:
    """Where a tape can be stretched."""
    free: BaseGeometry = Polygon(room.outline).buffer(_TOUCH_MM)
    for column in room.columns:
        free = free.difference(Polygon(column.outline))
    prepare(free)
    return free


def _pairs(
    room: Room, layout: Layout, mains: MainLines, runs: Sequence[Member]
) -> Iterator[tuple[Member, Line, Point]]:
    """A run, a cross line and where they cross, those nearest the reference corner first; then some all over a hall."""
    axis, frame = (0 if mains.direction == "along" else 1), layout.frame
    corner = frame.inward(room.outline[0])
    crossing = clip_lines(rings_in(frame, room), axis, layout.module[axis])
    order = sorted(crossing, key=lambda k: abs(k * layout.module[axis] - corner[axis]))
    near = sorted(runs, key=lambda run: abs(frame.inward(run.start)[1 - axis] - corner[1 - axis]))
    yield from islice(_crossings(layout, axis, near, order, crossing), _MOST_PAIRS)
    step = ceil((len(near) * len(order) / _MOST_PAIRS) ** 0.5)
    if step > 1:
        yield from _crossings(layout, axis, near[::step], order[::step], crossing)


def _crossings(
    layout: Layout,
    axis: int,
    runs: Sequence[Member],
    lines: Sequence[int],
    crossing: Mapping[int, Sequence[tuple[float, float]]],
) -> Iterator[tuple[Member, Line, Point]]:
    """Where runs meet cross lines, run by run."""
    frame = layout.frame
    for run in runs:
        start, end = frame.inward(run.start), frame.inward(run.end)
        at = start[1 - axis]
        for k in lines:
            line = k * layout.module[axis]
            if not start[axis] + TOLERANCE_MM < line < end[axis] - TOLERANCE_MM:
                continue
            for low, high in crossing[k]:
                if low + TOLERANCE_MM < at < high - TOLERANCE_MM:
                    spots = ((line, t) if axis == 0 else (t, line) for t in (low, high, at))
                    first, last, meet = map(frame.outward, spots)
                    yield run, (first, last), meet


def _proofs(of_run: Iterable[End], of_cross: Iterable[End], crossing: Point, taped: BaseGeometry) -> Iterator[Proof]:
    """Every diagonal between marks of two strings that a tape can be stretched along."""
    others = list(of_cross)
    for one in of_run:
        for other in others:
            side, long = sorted((distance(crossing, one.point), distance(crossing, other.point)))
            if one.wall == other.wall or distance(one.point, other.point) > LONGEST_TAPE_MM:
                continue
            if side > TOLERANCE_MM and taped.covers(LineString([one.point, other.point])):
                yield Proof(one, other, side, long)
