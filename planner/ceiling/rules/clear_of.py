"""Where the grid would be clear of pipes, and of walls and columns along it: the borders to write.

In: a `Built` and the axes along which the grid is to move. Out: what to write in the room file, or nothing where no
place of the grid is clear of all of them. Of the places that are clear it is the nearest, first among those with
borders of half a module, then of a quarter, then any; a border passes when it is short by no more than a tape can tell.
"""

import math
from collections.abc import Container, Iterable, Iterator

from planner.ceiling.grid.axis import SLACK_MM
from planner.ceiling.grid.clear import RING_MM, SPARE_MM, TAPED_MM, over_ledge
from planner.ceiling.members.lines import rings_in
from planner.ceiling.members.pipes import ledged, pipes
from planner.ceiling.rules.built import Built
from planner.geometry import box_of, edges
from planner.lengths import spoken_length
from planner.records import dataclass
from planner.sayings import joined, said

#: A shorter stretch of tee beside a wall is no more than a tee end (common practice, no source).
ALONG_MM = 150.0

#: Sides that lean by less, in their length, may have a tee end's length of tee on their ledge.
_LEAN = 0.2

_SIDES = (("left", "right"), ("front", "back"))
_LEFT, _RIGHT, _FRONT, _BACK = "left: {width}", "right: {width}", "front: {width}", "back: {width}"
_WRITTEN = {"left": _LEFT, "right": _RIGHT, "front": _FRONT, "back": _BACK}
Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Face:
    """A straight side of a wall or column along the grid, in the grid frame."""

    name: str  #: of the wall or column
    axis: int  #: along which it stands at `at`
    at: float
    way: float  #: +1 where the room lies beyond it along the axis, else -1
    span: Span  #: from where to where it runs
    wall: bool


@dataclass(frozen=True, slots=True)
class _Border:
    """What to write for one axis."""

    text: str
    costs: str  #: of what it makes a border too narrow, where none is so far: "half", "quarter"; else ""


def faces(built: Built, lean: float = SPARE_MM / 2) -> Iterator[Face]:
    """Walls and columns with wall angle, as far as they run along the grid; they lean by so little from end to end."""
    room = ledged(built.room)
    rings = rings_in(built.layout.frame, room)
    for number, ring in enumerate(rings):
        column = room.columns[number - 1].name if number else ""
        for edge, (start, end) in enumerate(edges(ring)):
            for axis in (0, 1):
                low, high = sorted((start[1 - axis], end[1 - axis]))
                if abs(end[axis] - start[axis]) <= lean and high - low >= ALONG_MM / 2:
                    way = math.copysign(1.0, end[1 - axis] - start[1 - axis]) * (-1 if axis == 0 else 1)
                    name = column or room.walls[room.wall_of_edge[edge]].name
                    yield Face(name, axis, (start[axis] + end[axis]) / 2, way, (low, high), number == 0)


def clearing(built: Built, axes: Iterable[int], *, at_any_cost: bool = True) -> str:
    """What to write so that no tee meets a pipe or lies on a ledge along the grid; "" where nothing helps.

    With a panel centre given the borders of both axes are written, in its place. What that does to borders that were
    half a module, or a quarter, is said; unless it is worth that, nothing is written then.
    """
    wanted = (0, 1) if built.wish.centre_on is not None else sorted(set(axes))
    found = [border for axis in wanted if (border := _border(built, axis)) is not None]
    if not found or len(found) < len(wanted) or not (at_any_cost or all(not border.costs for border in found)):
        return ""
    text = said(
        "Write  borders: {borders}  and the grid is clear there.", borders=_braced([each.text for each in found])
    )
    if built.wish.centre_on is not None:
        text += said(" It takes the place of centre_on.")
    return text + _costs_said({border.costs for border in found})


def _costs_said(costs: Container[str]) -> str:
    if "quarter" in costs:
        return said(" It makes a border under a quarter of a module.")
    return said(" It makes a border under half a module.") if "half" in costs else ""


def _braced(borders: list[str]) -> str:
    return said("{{{borders}}}", borders=joined(borders, ", "))


def _border(built: Built, axis: int) -> _Border | None:
    """The border that clears an axis; None where no place of the lines does."""
    module = built.layout.module[axis]
    moves = ((costs, _shift(list(_barred(built, axis, least)), module)) for costs, least in _levels(module))
    costs, shift = next(((costs, shift) for costs, shift in moves if shift is not None), ("", None))
    if shift is None:
        return None
    text = _written(built, axis, shift)
    return _Border(text, "" if _costs(built, axis, 0.0) == costs else costs)


def _levels(module: float) -> tuple[tuple[str, float], ...]:
    """What borders may cost, and how wide they are all when they do not cost more."""
    return ("", module / 2 - SLACK_MM), ("half", module / 4 - SLACK_MM), ("quarter", 0.0)


def _costs(built: Built, axis: int, shift: float) -> str:
    """What the borders of an axis come to with its lines moved so far."""
    module = built.layout.module[axis]
    wide = (level for level, least in _levels(module) if _free(shift, list(_borders(built, axis, least)), module))
    return next(wide, "quarter")


def moved_by(built: Built, axis: int, shift: float) -> tuple[str, str]:
    """The border with the lines of an axis moved so far, as it is written in a room file, and a sentence on what that
    costs, if it costs more than the grid as it is.
    """
    costs = _costs(built, axis, shift)
    return _written(built, axis, shift), "" if costs == _costs(built, axis, 0.0) else _costs_said({costs})


def _written(built: Built, axis: int, shift: float) -> str:
    module = built.layout.module[axis]
    box = box_of(map(built.layout.frame.inward, built.room.outline))
    low, high = (box.left, box.right) if axis == 0 else (box.bottom, box.top)
    asked = {side for side, _ in built.wish.borders}
    from_high = _SIDES[axis][1] in asked and _SIDES[axis][0] not in asked
    width = (high - shift if from_high else shift - low) % module or module
    return said(_WRITTEN[_SIDES[axis][from_high]], width=spoken_length(width, built.room.units))


def _barred(built: Built, axis: int, least: float) -> Iterator[Span]:
    """Where no line may stand along an axis, with borders of `least` at least."""
    clear = built.system.tee_face / 2 + RING_MM
    for pipe in pipes(built.room):
        along = [built.layout.frame.inward(point)[axis] for point in pipe.outline]
        yield min(along) - clear, max(along) + clear
    for face in (*faces(built), *_leaning(built, axis)):
        if face.axis == axis:
            beyond = max(least if face.wall else 0.0, over_ledge(built.system)) + SPARE_MM
            yield _span(face, TAPED_MM + SPARE_MM, beyond)


def _borders(built: Built, axis: int, least: float) -> Iterator[Span]:
    """Where lines leave borders under `least` at walls along them."""
    for face in (*faces(built), *_leaning(built, axis)):
        if face.axis == axis and face.wall:
            yield _span(face, 0.0, least)


def _span(face: Face, behind: float, beyond: float) -> Span:
    """From so far behind a face to so far before it."""
    ends = (face.at - face.way * behind, face.at + face.way * beyond)
    return (min(ends), max(ends))


def _leaning(built: Built, axis: int) -> Iterator[Face]:
    """Both ends of the sides that lean so little that a tee may lie on their ledge for longer than a tee end.

    Those that lean by more than half a module have grid lines across them wherever these fall.
    """
    room, most = ledged(built.room), built.layout.module[axis] / 2
    for number, ring in enumerate(rings_in(built.layout.frame, room)):
        for start, end in edges(ring):
            run, lean = end[1 - axis] - start[1 - axis], abs(end[axis] - start[axis])
            if SPARE_MM / 2 < lean <= min(most, abs(run) * _LEAN):
                way = math.copysign(1.0, run) * (-1 if axis == 0 else 1)
                for point in (start, end):
                    yield Face("", axis, point[axis], way, (0.0, 0.0), number == 0)


def _shift(barred: list[Span], module: float) -> float | None:
    """The least move of lines a module apart so that none stands inside a barred span; None where there is none."""
    if any(high - low >= module for low, high in barred):
        return None
    candidates = sorted((math.remainder(end, module) for span in barred for end in span), key=abs)
    return next((shift for shift in candidates if _free(shift, barred, module)), None)


def _free(shift: float, barred: list[Span], module: float) -> bool:
    """Whether no line stands inside a barred span once all are moved so far."""
    noise = 1e-6
    return all(not noise < (shift - low) % module < high - low - noise for low, high in barred)
