"""Tees that meet a pipe, that lie on a ledge alongside, or that a tape may put on either side of a face.

In: a `Built`. Out: findings, each with the borders that clear the place where there are any.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator
from operator import itemgetter

import shapely

from planner.ceiling.grid.clear import TAPED_MM, over_ledge
from planner.ceiling.holding.overhead import names_said
from planner.ceiling.holding.tee_ends import TEES
from planner.ceiling.members.pipes import ledged, pipes
from planner.ceiling.model import Member
from planner.ceiling.rules.built import PRACTICE, Built, OnLedge
from planner.ceiling.rules.clear_of import ALONG_MM, Face, clearing, faces
from planner.findings import Finding, placed
from planner.geometry import TOLERANCE_MM, Point
from planner.sayings import joined, said

#: Where a tee's line stands, its number, from where to where it runs, the tee.
_Line = tuple[float, int, float, float, Member]

#: So many places are told one by one; of more only how many there are.
_MOST_TOLD = 6
#: A tee ends at a side that it comes this near to.
_AT_MM = 1.0
#: A tee that is off the direction of a face by less, from end to end, runs along it.
_ALONG_OFF_MM = 0.5


def tee_meets_pipe(built: Built) -> Iterator[Finding]:
    """A tee keeps clear of pipes, which it cannot pass and which carry no tee end (`planner.ceiling.members.pipes`).

    Common practice, no source. A main that ends in the air must not be built.
    """
    told: list[str] = []
    met: list[Member] = []
    spots: list[Point] = []
    tees = _tees(built)
    tree = shapely.STRtree([line for _, line in tees])
    columns = pipes(built.room)
    for pipe in columns:
        near = tree.query(shapely.Polygon(pipe.outline), "dwithin", built.system.tee_face / 2 - TOLERANCE_MM)
        here = [tees[k][0] for k in sorted(near.tolist())]
        if here:
            names = names_said(tee.id for tee in here)
            told.append(said("{tees} at {pipe}", tees=names, pipe=pipe.name))
            met += here
            spots.append(pipe.centre)
    if not told:
        return
    text = said(
        "Tees meet a pipe or post, which they cannot pass and which carries no tee end: {places}.",
        places=_listed(told),
    )
    if wires := sum(hanger.kind == "end wire" for hanger in built.hangers):
        text += said(" Wires of their own hold their free ends ({count}).", count=wires)
    remedy = clearing(built, (_across(built, tee) for tee in met)) or said(
        "No place of the grid is clear of all: turn it with align:, or box the pipe in and give the box as a column; a "
        "box over 6 in (150 mm) carries wall angle."
    )
    mains = any(tee.kind != "cross tee" for tee in met)
    yield placed(Finding("stop" if mains else "warn", "tee meets a pipe", PRACTICE, text, None, remedy), spots)


def tee_on_ledge(built: Built) -> Iterator[Finding]:
    """A tee keeps off the ledges of walls and columns alongside: between them no panel fits.

    Common practice, no source. A stretch shorter than `ALONG_MM` is a tee end.
    """
    found = on_ledges(built)
    if not found:
        return
    told = [
        said("{tee} at {face} for {length}", tee=on.tee.id, face=on.face, length=built.said(on.stretch.length))
        for on in found
    ]
    text = said("Tees lie on the ledge alongside, where no panel fits beside them: {places}.", places=_listed(told))
    straight = {(face.name, face.axis) for face in faces(built)}
    axes = [_across(built, on.tee) for on in found if (on.face, _across(built, on.tee)) in straight]
    remedy = (
        clearing(built, axes)
        or said("No place of the grid is clear of all: turn it with align:, or fur the place out.")
        if len(axes) == len(found)
        else said("Move the grid with borders: or align:, or fur the place out.")
    )
    middles = [on.stretch.interpolate(0.5, normalized=True) for on in found]
    spots = ((at.x, at.y) for at in middles)
    yield placed(Finding("warn", "tee on a ledge", PRACTICE, text, None, remedy), spots)


def tee_on_face(built: Built) -> Iterator[Finding]:
    """A grid line keeps off the faces along it by more than a tape may be out: else the tape decides how tees are cut.

    Common practice, no source. A face that leans by no more than that runs along the grid too. Tees that lie on the
    ledge there are told by that.
    """
    told_already = {(on.tee.id, on.face) for on in on_ledges(built)}
    told, met, spots = list[str](), list[Member](), list[Point]()
    lines = _Lines(built)
    for face in faces(built, TAPED_MM):
        here = [tee for tee in lines.on(face) if (tee.id, face.name) not in told_already]
        if here:
            told.append(said("{tees} at {pipe}", tees=names_said(tee.id for tee in here), pipe=face.name))
            met += here
            spots.append(_beside(built, face, here[0]))
    if told:
        text = said(
            "Tees run within {taped} of a face, less than a tape can be sure of: they may pass it or end at it. "
            "{places}.",
            taped=built.said(TAPED_MM),
            places=_listed(told),
        )
        axes = (_across(built, tee) for tee in met)
        remedy = clearing(built, axes, at_any_cost=False) or said(
            "Tape there again when the strings are up, and cut these tees to what you find."
        )
        yield placed(Finding("note", "tee on a face", PRACTICE, text, None, remedy), spots)


def _beside(built: Built, face: Face, tee: Member) -> Point:
    """The point of a tee that is at a face: the middle of what runs along it, else the end that is nearest."""
    start, end = map(built.layout.frame.inward, tee.wall_to_wall)
    low, high = sorted((start[1 - face.axis], end[1 - face.axis]))
    first, last = max(low, face.span[0]), min(high, face.span[1])
    spot = (start[face.axis], (first + last) / 2)
    return built.layout.frame.outward(spot if face.axis == 0 else spot[::-1])


def on_ledges(built: Built) -> tuple[OnLedge, ...]:
    """Every stretch of tee, longer than a tee end, that lies on a ledge alongside."""
    if built.on_ledges is not None:
        return built.on_ledges
    tees = _tees(built)
    if not tees:
        return ()
    room, reach = ledged(built.room), over_ledge(built.system) - TOLERANCE_MM
    walls = [(wall.name, shapely.LineString(wall.points), "flat") for wall in room.walls]
    columns = [(column.name, shapely.LinearRing(column.outline), "round") for column in room.columns]
    tree = shapely.STRtree([line for _, line in tees])
    found = []
    for name, line, cap in (*walls, *columns):
        zone = line.buffer(reach, cap_style=cap)  # type: ignore[arg-type]
        for k in sorted(tree.query(zone, "intersects").tolist()):
            stretches = shapely.get_parts(tees[k][1].intersection(zone))
            found += [OnLedge(tees[k][0], name, part) for part in stretches if part.length >= ALONG_MM]
    return tuple(found)


def _tees(built: Built) -> list[tuple[Member, shapely.LineString]]:
    return [(each, shapely.LineString(each.wall_to_wall)) for each in built.members if each.kind in TEES]


def _across(built: Built, tee: Member) -> int:
    """The axis along which a tee's line has one place."""
    (u0, v0), (u1, v1) = map(built.layout.frame.inward, (tee.start, tee.end))
    return 0 if abs(u1 - u0) < abs(v1 - v0) else 1


class _Lines:
    """The tees that run along the grid, by the places of their lines: a hall has thousands of them and of faces."""

    def __init__(self, built: Built) -> None:
        self._on: tuple[list[_Line], list[_Line]] = ([], [])
        for number, (tee, _) in enumerate(_tees(built)):
            start, end = map(built.layout.frame.inward, tee.wall_to_wall)
            for axis, lines in enumerate(self._on):
                if abs(start[axis] - end[axis]) <= _ALONG_OFF_MM:
                    low, high = sorted((start[1 - axis], end[1 - axis]))
                    lines.append((start[axis], number, low, high, tee))
        for lines in self._on:
            lines.sort(key=itemgetter(0))

    def on(self, face: Face) -> list[Member]:
        """The tees that run along a face, as near as a tape may be out, and beside it or up to it."""
        lines, (low, high) = self._on[face.axis], face.span
        first = bisect_left(lines, face.at - TAPED_MM, key=itemgetter(0))
        last = bisect_right(lines, face.at + TAPED_MM, key=itemgetter(0))
        near = (line for line in lines[first:last] if line[2] <= high + _AT_MM and line[3] >= low - _AT_MM)
        return [line[4] for line in sorted(near, key=itemgetter(1))]


def _listed(told: Iterable[str]) -> str:
    """The places, in a row; of many the first."""
    told = list(told)
    more = len(told) - _MOST_TOLD
    listed = joined(told[:_MOST_TOLD], "; ")
    return listed if more <= 0 else said("{places}; and {count} more", places=listed, count=more)
