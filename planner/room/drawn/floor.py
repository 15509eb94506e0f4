"""`Floor`: which of somebody else's loops is the room, and which are its columns.

In come traced strokes in their drawing's own coordinates, scaled to millimetres; out comes the floor in the same
coordinates, with findings about everything that was decided on the way, or an InputError with every complaint. Rules:
the loop with the largest area is the outline; loops inside it are columns; what lies outside it or inside a column is
left out. Common practice, no source.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from pathlib import PurePath
from typing import Literal

import shapely
from shapely import Polygon

from planner.errors import InputError
from planner.findings import Finding
from planner.geometry import Frame, Point, distance
from planner.lengths import spoken_length
from planner.records import dataclass
from planner.room.drawn.faults import (
    MOST_TOLD,
    TOUCHING_MM,
    Original,
    check_size,
    crossing,
    long_side,
    not_simple,
    two_faces,
    unclosed,
)
from planner.room.drawn.loops import Loop
from planner.room.drawn.tracing import Traced
from planner.sayings import said, term

_WORDS = {"in": "inches", "ft": "feet", "mm": "millimetres", "cm": "centimetres", "m": "metres"}

_OURS = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Floor:
    """A room's outline and columns as somebody else drew them: their origin, their rotation, but in millimetres.

    `frame_of` gives the room frame in these coordinates and `Loop.seen_in` takes a loop into it, so a drawing that
    is put back through `Frame.outward` and divided by `unit_mm` lands exactly on theirs.
    """

    outer: Loop  #: counter-clockwise, from its lowest vertex (the leftmost of several)
    inner: tuple[Loop, ...]  #: counter-clockwise, the largest first
    unit: str  #: of the drawing: in, ft, mm, cm or m; where only $INSUNITS says so also yd, dm or US survey ft
    unit_mm: float  #: millimetres in one unit of the drawing
    layer: str  #: the layer read, as the drawing spells it
    findings: tuple[Finding, ...]  #: `where` is in these coordinates, not in the room frame; see `findings_in`


def frame_of(loop: Loop, base: int = 0) -> Frame:
    """The room frame in the loop's coordinates: origin at vertex `base`, +x along the edge that leaves it.

    A bowed base wall counts by its chord. The loop runs counter-clockwise, so the room lies on the +y side.
    """
    start, end = loop.started_at(base).vertices[:2]
    return Frame(start, _heading_deg(start, end))


def findings_in(frame: Frame, findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """A floor's findings with their places in a frame, e.g. that of the room."""
    return tuple(replace(f, where=frame.inward(f.where)) if f.where else f for f in findings)


def floor_of(traced: Traced, original: Original, *, at_most_gap_mm: float = 1.0) -> Floor:
    """Tell outline from columns; InputError with all complaints when the strokes are no floor."""
    check_size(traced, original)
    complaints, strays = unclosed(traced, original, at_most_gap_mm)
    if complaints:
        raise InputError(complaints)
    outer = traced.loops[0]
    if complaint := not_simple(outer, original):
        raise InputError((complaint,))
    inner, findings = _columns(outer, traced.loops[1:], original)
    findings = (*_read_as(original, outer), *_joined(traced, original), *_left_out(strays, original), *findings)
    return Floor(outer, inner, original.unit, original.unit_mm, original.layer, findings)


def _columns(outer: Loop, others: Sequence[Loop], original: Original) -> tuple[tuple[Loop, ...], tuple[Finding, ...]]:
    """The loops that are columns, and findings about those that are not; `others` come the largest first."""
    room, shapes = Polygon(outer.ring()), [Polygon(loop.ring()) for loop in others]
    shapely.prepare(room)
    near = shapely.STRtree(shapes)
    columns: dict[int, Loop] = {}
    outside, nested, complaints = [], [], []
    for k, (loop, shape) in enumerate(zip(others, shapes, strict=True)):
        if _apart(shape, room):
            outside.append(loop.vertices[0])
            continue
        if complaint := not_simple(loop, original) or two_faces(room, shape, loop, original):
            complaints.append(complaint)
            continue
        around = [(outer, room), *((columns[j], shapes[j]) for j in sorted(near.query(shape)) if j in columns)]
        lies = [_lies(shape, other) for _, other in around]
        if "across" in lies:
            complaints.append(crossing(loop, around[lies.index("across")][0], original))
        elif lies[0] == "off":
            outside.append(loop.vertices[0])
        elif "in" in lies[1:]:
            nested.append(loop.vertices[0])
        else:
            columns[k] = loop
    if complaints:
        raise InputError(tuple(complaints[: MOST_TOLD + 1]))
    return tuple(columns.values()), (*_outside(outside, original), *_nested(nested, original))


def _lies(small: Polygon, large: Polygon) -> Literal["in", "off", "across"]:
    """How a smaller shape lies to a larger one; touching is not crossing."""
    if _apart(small, large):
        return "off"
    if large.covers(small):
        return "in"
    shared, slack = small.intersection(large).area, TOUCHING_MM * small.length
    if shared <= slack:
        return "off"
    return "in" if small.area - shared <= slack else "across"


def _apart(a: Polygon, b: Polygon) -> bool:
    """True when not even the boxes around two shapes meet; quick, and safe for shapes that cross themselves."""
    left, bottom, right, top = a.bounds
    return bool(right < b.bounds[0] or b.bounds[2] < left or top < b.bounds[1] or b.bounds[3] < bottom)


def _heading_deg(start: Point, end: Point) -> float:
    """Direction in degrees, exact along the axes."""
    return math.degrees(math.atan2(end[1] - start[1], end[0] - start[0]))


def _read_as(original: Original, outer: Loop) -> Iterator[Finding]:
    """How the drawing's numbers were taken."""
    if not original.told:
        how = said("as it says of itself")
    elif original.header_unit not in ("", original.unit):
        how = said("as told, though it says {unit} of itself", unit=_unit_said(original.header_unit))
    else:
        how = said("as told")
    message = said(
        "{file}, layer {layer}, was read in {unit}, {how}; the room is {length} long.",
        file=PurePath(original.file).name,
        layer=original.layer,
        unit=_unit_said(original.unit),
        how=how,
        length=_long_said(long_side(outer.ring()), original.unit),
    )
    yield Finding("note", "unit of somebody else's drawing", _OURS, message, outer.vertices[0])


def _long_said(mm: float, unit: str) -> str:
    """How long a room is, so that one sees at a glance whether it was read in the right unit."""
    return spoken_length(mm, "ft-in") if unit in ("in", "ft") else f"{mm / 1000:.3g} m"


def _joined(traced: Traced, original: Original) -> Iterator[Finding]:
    """What was put right in the strokes."""
    rule = "gap in the outline"
    for a, b in traced.bridged[:MOST_TOLD]:
        message = said("a gap of {gap} at {place} was closed", gap=original.size(distance(a, b)), place=original.at(a))
        yield Finding("note", rule, _OURS, message, a, said("Close it in the drawing."))
    if (more := len(traced.bridged) - MOST_TOLD) > 0:
        yield Finding(
            "note", rule, _OURS, said("{count} more gaps were closed", count=more), traced.bridged[MOST_TOLD][0]
        )
    if traced.doubled:
        message = said("{lines} drawn twice and counted once", lines=_some(traced.doubled, original))
        yield Finding("note", "line drawn twice", _OURS, message, traced.doubled[0])


def _left_out(strays: Sequence[Point], original: Original) -> Iterator[Finding]:
    """Lines that close nothing, and things that cannot be read."""
    remedy = said("Look whether a column is missing.")
    if strays:
        message = said("{lines} not part of any closed line and left out", lines=_some(strays, original))
        yield Finding("warn", "line left out", _OURS, message, strays[0], remedy)
    if original.unread:
        message = said(
            "layer {layer} also holds {unread}; only lines, arcs and circles are read",
            layer=original.layer,
            unread=original.unread,
        )
        yield Finding("warn", "shape not read", _OURS, message, None, remedy)


def _outside(places: Sequence[Point], original: Original) -> Iterator[Finding]:
    if places:
        message = said("{loops} outside the outline and left out", loops=_some_loops(places, original))
        yield Finding(
            "warn", "loop outside the outline", _OURS, message, places[0], said("Look whether this is the room.")
        )


def _nested(places: Sequence[Point], original: Original) -> Iterator[Finding]:
    if places:
        message = said("{loops} inside a column and left out", loops=_some_loops(places, original))
        yield Finding("note", "loop inside a column", _OURS, message, places[0])


def _some(places: Sequence[Point], original: Original) -> str:
    """How many lines there are and where the first is, ready for what happened to them."""
    place = original.at(places[0])
    if len(places) == 1:
        return said("a line at {place} is", place=place)
    return said("{count} lines, the first at {place}, are", count=len(places), place=place)


def _some_loops(places: Sequence[Point], original: Original) -> str:
    """The same of closed lines."""
    place = original.at(places[0])
    if len(places) == 1:
        return said("a loop at {place} is", place=place)
    return said("{count} loops, the first at {place}, are", count=len(places), place=place)


def _unit_said(unit: str) -> str:
    return term(_WORDS.get(unit, unit))
