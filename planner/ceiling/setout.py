"""Set-out: where to put each mark before anything is fixed.

In: a room, its layout, the lines of the mains and the members. Out: `SetOut`.

Rules: every dimension runs from the start corner of its wall and is exact; it is rounded when it is written, from the
running total, so that errors never add up. Two strings are stretched first, along a main (or carrier) and a cross line,
and the distances between their end marks prove them square, as 3, 4 and 5 do (common practice; `proof_strings`). On
grids fixed to the joists a chalk line is struck beside each carrier so that it stays in sight (common practice, no
source).
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from shapely import LineString, STRtree
from shapely import Point as Spot

from planner.ceiling.mains import MainLines
from planner.ceiling.members.lines import clip_lines, rings_in
from planner.ceiling.model import Diagonal, Hanger, Layout, Mark, Member, RunMarks, SetOut, WallMarks
from planner.ceiling.proof_strings import End, Line, Strings, choose_strings
from planner.ceiling.system import System
from planner.geometry import TOLERANCE_MM, Frame, Point, distance, midpoint
from planner.lengths import spoken_length
from planner.room.outline import Room, Wall
from planner.sayings import said

#: An end of a line this near a wall is on it; ends are clipped to within a hundredth, slanted walls allow for more.
ON_WALL_MM = 0.5

CROSS_LINE = said("cross line")
STRING = "string: {what}"
CHALK_LINE = "chalk line {run}: {off} from its middle towards {wall}"


def set_out(
    room: Room,
    system: System,
    layout: Layout,
    mains: MainLines,
    members: Sequence[Member],
    hangers: Sequence[Hanger] = (),
    short: float = 0.0,
) -> SetOut:
    """Marks along every wall, two strings with what proves them square, chalk lines, hang points, the laser's height.

    Services' own wires are not run along a main; they stand at their services. `short` is how far runs may end before
    the wall that they lead to; their marks are on the wall.
    """
    walls = _Walls(room, layout, mains, ON_WALL_MM + short)
    runs = [member for member in members if member.kind in ("main tee", "carrier")]
    marks: dict[int, list[Mark]] = defaultdict(list)
    for run in runs:
        for end in walls.ends(run.wall_to_wall, True):
            marks[end.wall].append(Mark(end.at, _run_said(run)))
    strings = choose_strings(room, layout, mains, runs, walls.ends)
    if strings is not None:
        for end in walls.ends(strings.cross, False):
            marks[end.wall].append(Mark(end.at, CROSS_LINE))
    return SetOut(
        walls=tuple(
            WallMarks(wall.name, tuple(sorted(marks[k], key=lambda mark: (mark.at, mark.what))), wall.corners[0])
            for k, wall in enumerate(room.walls)
        ),
        diagonals=() if strings is None else tuple(_diagonals(room, strings)),
        lines=(*_string_lines(walls, strings), *_chalk_lines(room, system, layout, mains, runs)),
        level=room.ceiling_height,
        hang_points=_hang_points(runs, hangers),
    )


def _hang_points(runs: Sequence[Member], hangers: Sequence[Hanger]) -> tuple[RunMarks, ...]:
    """Running distances of each run's hangers from its start."""
    held = defaultdict[str, list[Point]](list)
    for hanger in hangers:
        held[hanger.member].append(hanger.at)
    return tuple(
        RunMarks(run.id, tuple(sorted(distance(run.start, at) for at in held[run.id]))) for run in runs if held[run.id]
    )


class _Walls:
    """The walls of a room as straight parts, and where grid lines end on them."""

    def __init__(self, room: Room, layout: Layout, mains: MainLines, near: float = ON_WALL_MM) -> None:
        self._near = near  #: an end this near a wall is on it
        self._frame = layout.frame
        self._main_axis = 1 if mains.direction == "along" else 0  #: the coordinate that mains stand at
        self._parts = [part for k, wall in enumerate(room.walls) for part in _parts(k, wall)]
        self._tree = STRtree([LineString([start, end]) for _, _, _, start, end in self._parts])

    def ends(self, line: Line, along: bool) -> Iterator[End]:
        """The ends of a grid line that lie on walls; those on columns are left out."""
        axis = self._main_axis if along else 1 - self._main_axis
        for end in line:
            if found := self._end(line, end, axis):
                yield found

    def _end(self, line: Line, end: Point, axis: int) -> End | None:
        """The nearest wall that the line crosses at its end, exactly on the line."""
        at = self._frame.inward(line[0])[axis]
        found = []
        for k in self._tree.query(Spot(end), predicate="dwithin", distance=self._near):
            wall, before, scale, start, stop = self._parts[int(k)]
            a, b = self._frame.inward(start)[axis], self._frame.inward(stop)[axis]
            if abs(b - a) <= TOLERANCE_MM or not min(a, b) - TOLERANCE_MM <= at <= max(a, b) + TOLERANCE_MM:
                continue
            share = min(max((at - a) / (b - a), 0.0), 1.0)
            point = (start[0] + share * (stop[0] - start[0]), start[1] + share * (stop[1] - start[1]))
            found.append((distance(point, end), End(wall, before + scale * share * distance(start, stop), point)))
        return min(found, key=lambda pair: (round(pair[0], 3), pair[1].wall))[1] if found else None


def _parts(number: int, wall: Wall) -> Iterator[tuple[int, float, float, Point, Point]]:
    """Straight parts of a wall: its number, the run before, tape per chord, ends. A tape follows a bowed wall's arc."""
    points = wall.points
    chords = [distance(a, b) for a, b in pairwise(points)]
    scale, run = wall.length / sum(chords), 0.0
    for (a, b), chord in zip(pairwise(points), chords, strict=True):
        yield number, run, scale, a, b
        run += scale * chord


def _string_lines(walls: _Walls, strings: Strings | None) -> Iterator[tuple[Point, Point, str]]:
    if strings is None:
        return
    run = strings.run
    for line, along, what in ((run.wall_to_wall, True, _run_said(run)), (strings.cross, False, CROSS_LINE)):
        ends = [end.point for end in walls.ends(line, along)]
        start, end = ends if len(ends) == 2 else line
        yield start, end, said(STRING, what=what)


def _diagonals(room: Room, strings: Strings) -> Iterator[Diagonal]:
    """Between end marks of the two strings, the one that proves them square best first."""
    for proof in strings.proofs:
        between = said("{one} to {other}", one=_said(room, proof.of_run), other=_said(room, proof.of_cross))
        yield Diagonal(proof.of_run.point, proof.of_cross.point, between, proof.length)


def _run_said(run: Member) -> str:
    return said("main {run}", run=run.id) if run.kind == "main tee" else said("carrier {run}", run=run.id)


def _said(room: Room, end: End) -> str:
    """A mark by its wall and its length, in millimetres where the job is in metres: so it stands on the drawing."""
    units = room.units if room.imperial else "mm"
    return said("{wall} {at} mark", wall=room.walls[end.wall].measured, at=spoken_length(end.at, units))


def _chalk_lines(
    room: Room, system: System, layout: Layout, mains: MainLines, runs: Iterable[Member]
) -> Iterator[tuple[Point, Point, str]]:
    """A line beside each carrier, towards the side of growing lines, clipped to the room; told by the wall there."""
    if system.direct is None:
        return
    off, axis = system.direct.chalk_offset, 1 if mains.direction == "along" else 0
    aside = Frame(layout.frame.outward((0.0, off) if axis == 1 else (off, 0.0)), layout.frame.angle_deg)
    lines = clip_lines(rings_in(aside, room), axis, layout.module[axis])
    way = Frame(angle_deg=layout.frame.angle_deg).outward((0.0, 1.0) if axis == 1 else (1.0, 0.0))
    aside_mm = spoken_length(off, room.units)
    for run in runs:
        ends = [layout.frame.inward(run.start), layout.frame.inward(run.end)]
        low, high = sorted(end[1 - axis] for end in ends)
        for start, end in lines.get(round(ends[0][axis] / layout.module[axis]), ()):
            if min(end, high) - max(start, low) > (high - low) / 2:
                at = round(ends[0][axis] / layout.module[axis]) * layout.module[axis]
                first, last = (aside.outward((t, at) if axis == 1 else (at, t)) for t in (start, end))
                wall = _wall_towards(room, midpoint(first, last), way)
                yield first, last, said(CHALK_LINE, run=run.id, off=aside_mm, wall=wall)


def _wall_towards(room: Room, spot: Point, way: Point) -> str:
    """The wall that one meets first from a spot in the room in a direction."""
    far = room.box.width + room.box.height
    ray = LineString([spot, (spot[0] + far * way[0], spot[1] + far * way[1])])
    met = ((ray.intersection(LineString(wall.points)), wall) for wall in room.walls)
    return min(((Spot(spot).distance(part), wall.name) for part, wall in met if not part.is_empty), default=(0.0, ""))[
        1
    ]
