"""Tees that meet a pipe, that lie on a ledge alongside, or that a tape may put on either side of a face.

In: a `Built`. Out: findings, each with the borders that clear the place where there are any.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from operator import itemgetter

import shapely

from planner.ceiling.holding.overhead import names_said
from planner.ceiling.members.pipes import ledged, pipes
from planner.ceiling.model import Member
from planner.ceiling.rules.built import PRACTICE, Built
from planner.ceiling.rules.clear_of import ALONG_MM, TAPED_MM, Face, clearing, faces, over_ledge
from planner.findings import Finding
from planner.geometry import TOLERANCE_MM
from planner.sayings import joined, said

#: Where a tee's line stands, its number, from where to where it runs, the tee.
_Line = tuple[float, int, float, float, Member]

_TEES = ("main tee", "carrier", "cross tee")
#: So many places are told one by one; of more only how many there are.
_MOST_TOLD = 6
#: A tee ends at a side that it comes this near to.
_AT_MM = 1.0
#: A tee that is off the direction of a face by less, from end to end, runs along it.
_ALONG_OFF_MM = 0.5


@dataclass(frozen=True, slots=True)
class OnLedge:
    """A stretch of a tee that lies on the ledge of a wall or column alongside."""

    tee: Member
    face: str  #: name of the wall or column
    stretch: shapely.LineString


def tee_meets_pipe(built: Built) -> Iterator[Finding]:
    """A tee keeps clear of pipes, which it cannot pass and which carry no tee end (`planner.ceiling.members.pipes`).

    Common practice, no source. A main that ends in the air must not be built.
    """
    told: list[str] = []
    met: list[Member] = []
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
    if not told:
        return
    text = said(
        "Tees meet a pipe or post, which they cannot pass and which carries no tee end: {places}.",
        places=_listed(told),
    )
    remedy = clearing(built, (_across(built, tee) for tee in met)) or said(
        "No place of the grid is clear of all: turn it with align:, or box the pipe in and give the box as a column; a "
        "box over 6 in (150 mm) carries wall angle."
    )
    mains = any(tee.kind != "cross tee" for tee in met)
    yield Finding("stop" if mains else "warn", "tee meets a pipe", PRACTICE, text, met[0].start, remedy)


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
    remedy = clearing(built, axes) if len(axes) == len(found) else ""
    remedy = remedy or said("Move the grid with borders: or align:, or fur the place out.")
    at = found[0].stretch.interpolate(0.5, normalized=True)
    yield Finding("warn", "tee on a ledge", PRACTICE, text, (at.x, at.y), remedy)


def tee_on_face(built: Built) -> Iterator[Finding]:
    """A grid line keeps off the faces along it by more than a tape may be out: else the tape decides how tees are cut.

    Common practice, no source. Tees that lie on the ledge there are told by that.
    """
    told_already = {(on.tee.id, on.face) for on in on_ledges(built)}
    told, met = list[str](), list[Member]()
    lines = _Lines(built)
    for face in faces(built):
        here = [tee for tee in lines.on(face) if (tee.id, face.name) not in told_already]
        if here:
            told.append(said("{tees} at {pipe}", tees=names_said(tee.id for tee in here), pipe=face.name))
            met += here
    if told:
        text = said(
            "Tees lie within {taped} of a face, so that the tape decides where they are cut: {places}.",
            taped=built.said(TAPED_MM),
            places=_listed(told),
        )
        remedy = clearing(built, (_across(built, tee) for tee in met)) or said("Tape the place again before cutting.")
        yield Finding("note", "tee on a face", PRACTICE, text, met[0].start, remedy)


def on_ledges(built: Built) -> list[OnLedge]:
    """Every stretch of tee, longer than a tee end, that lies on a ledge alongside."""
    tees = _tees(built)
    if not tees:
        return []
    room, reach = ledged(built.room), over_ledge(built) - TOLERANCE_MM
    walls = [(wall.name, shapely.LineString(wall.points), "flat") for wall in room.walls]
    columns = [(column.name, shapely.LinearRing(column.outline), "round") for column in room.columns]
    tree = shapely.STRtree([line for _, line in tees])
    found = []
    for name, line, cap in (*walls, *columns):
        zone = line.buffer(reach, cap_style=cap)  # type: ignore[arg-type]
        for k in sorted(tree.query(zone, "intersects").tolist()):
            stretches = shapely.get_parts(tees[k][1].intersection(zone))
            found += [OnLedge(tees[k][0], name, part) for part in stretches if part.length >= ALONG_MM]
    return found


def _tees(built: Built) -> list[tuple[Member, shapely.LineString]]:
    return [(each, shapely.LineString(each.wall_to_wall)) for each in built.members if each.kind in _TEES]


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
