"""Rows of lights and the like: wished on one line, they stand on it only where panels have their middles.

In: a `Built`. Out: a finding for each axis of the grid at most, with the border that brings the rows onto their lines.
Common practice, no source.
"""

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence

from planner.ceiling.model import Service
from planner.ceiling.rules.built import PRACTICE, Built
from planner.ceiling.rules.clear_of import moved_by
from planner.findings import Finding, placed
from planner.naming import names_told
from planner.records import dataclass
from planner.sayings import said

#: So many of one kind wished on one line are a row.
LEAST_ROW = 3
#: A row that is off its line by more is seen from the floor.
SEEN_MM = 100.0
#: Wishes so near a line are on it, and moves so alike are the same.
_ALIKE_MM = 1.0


@dataclass(frozen=True, slots=True)
class _Moved:
    """A service of a row: where its line was, and how far from it it stands, across the line; grid frame."""

    service: Service
    line: float
    off: float


def row_off_its_line(built: Built) -> Iterator[Finding]:
    """A row stands on the line that it was wished on, or what would bring it there is told.

    Common practice, no source. A row that comes out crooked is a warning, one that only stands aside a note. Where no
    one move of the grid does for all rows along it, none is told.
    """
    for axis in (0, 1):
        module, rows = built.layout.module[axis], _rows(built, axis)
        moved = [each for row in rows for each in _of_row(row)]
        if any(abs(each.off) > SEEN_MM for each in moved) and all(_alike(moved[0], each, module) for each in moved):
            others = (each for row in rows for each in row if _alike(moved[0], each, module))
            yield _finding(built, axis, tuple(others))


def _rows(built: Built, axis: int) -> list[list[_Moved]]:
    """The services that were wished on one line across an axis, where some of them are a row."""
    wished = {wish.name: wish.near for wish in built.wished if wish.near is not None}
    found: dict[int, list[_Moved]] = defaultdict(list)
    for service in built.services:
        if (near := wished.get(service.name)) is not None:
            line, at = (built.layout.frame.inward(point)[axis] for point in (near, service.at))
            found[round(line / _ALIKE_MM)].append(_Moved(service, line, at - line))
    return [row for row in found.values() if _of_row(row)]


def _of_row(row: Sequence[_Moved]) -> list[_Moved]:
    """Those of a kind of which there are enough on the line."""
    counts = Counter(moved.service.kind for moved in row)
    return [moved for moved in row if counts[moved.service.kind] >= LEAST_ROW]


def _alike(one: _Moved, other: _Moved, module: float) -> bool:
    """Whether the move of the grid that brings one to its line brings the other to its own."""
    return abs((one.off - other.off + module / 2) % module - module / 2) <= _ALIKE_MM


def _finding(built: Built, axis: int, row: Sequence[_Moved]) -> Finding:
    names, why = names_told([moved.service.name for moved in row]), _why(built, axis, row[0].line)
    off = built.said(max(abs(moved.off) for moved in row))
    crooked = max(moved.off for moved in row) - min(moved.off for moved in row) > _ALIKE_MM
    if crooked:
        text = said(
            "{names} were asked for in a row, and stand up to {off} off it: {why}.", names=names, off=off, why=why
        )
    else:
        text = said("The row of {names} stands {off} beside the line asked for: {why}.", names=names, off=off, why=why)
    remedy = said("Wish for them where panels have their middles.")
    if built.wish.centre_on is None and not built.wish.uncut:
        written, costs = moved_by(built, axis, -row[0].off % built.layout.module[axis])
        remedy = said("Write  borders: {{{border}}}  and panels have their middles there.", border=written)
        remedy += costs
    told = Finding("warn" if crooked else "note", "row off its line", PRACTICE, text, None, remedy)
    return placed(told, [moved.service.at for moved in row])


def _why(built: Built, axis: int, line: float) -> str:
    """What lies where panels would have to have their middles."""
    for run in built.members:
        if run.kind in ("main tee", "carrier"):
            start, end = (built.layout.frame.inward(point)[axis] for point in (run.start, run.end))
            if max(abs(start - line), abs(end - line)) <= built.system.tee_face:
                return said("{run} runs there", run=run.id)
    return said("no panel has its middle there")
