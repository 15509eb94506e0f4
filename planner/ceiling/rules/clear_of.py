"""Where the grid would be clear of pipes, and of walls and columns along it: the borders to write.

In: a `Built` and the axes along which the grid is to move. Out: what to write in the room file, or nothing where no
place of the grid is clear of all of them. Of the places that are clear it is the nearest, first among those with
borders of half a module, then of a quarter, then any.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from planner.ceiling.members.lines import rings_in
from planner.ceiling.members.pipes import ledged, pipes
from planner.ceiling.rules.built import Built
from planner.geometry import box_of, edges
from planner.lengths import spoken_length
from planner.sayings import joined, said

#: A line this near to a face may as well lie behind it, as far as a tape tells (common practice, no source).
TAPED_MM = 6.0
#: From the flange of a tee to a pipe: room for a cover ring (common practice, no source).
RING_MM = 25.0
#: A shorter stretch of tee beside a wall is no more than a tee end (common practice, no source).
ALONG_MM = 150.0
#: Kept beyond what is needed, so that a border may be rounded to a mark.
_SPARE_MM = 1.0

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


def over_ledge(built: Built) -> float:
    """A tee whose middle is nearer to a wall than this has no panel between them: ledge and flange fill it."""
    return built.system.ledge + built.system.tee_face / 2


def faces(built: Built) -> Iterator[Face]:
    """Walls and columns with wall angle, as far as they run along the grid."""
    room = ledged(built.room)
    rings = rings_in(built.layout.frame, room)
    for number, ring in enumerate(rings):
        column = room.columns[number - 1].name if number else ""
        for edge, (start, end) in enumerate(edges(ring)):
            for axis in (0, 1):
                low, high = sorted((start[1 - axis], end[1 - axis]))
                if abs(end[axis] - start[axis]) <= _SPARE_MM / 2 and high - low >= ALONG_MM / 2:
                    way = math.copysign(1.0, end[1 - axis] - start[1 - axis]) * (-1 if axis == 0 else 1)
                    name = column or room.walls[room.wall_of_edge[edge]].name
                    yield Face(name, axis, (start[axis] + end[axis]) / 2, way, (low, high), number == 0)


def clearing(built: Built, axes: Iterable[int]) -> str:
    """What to write so that no tee meets a pipe or lies on a ledge along the grid; "" where nothing helps.

    With a panel centre given the borders of both axes are written, in its place.
    """
    wanted = (0, 1) if built.wish.centre_on is not None else sorted(set(axes))
    borders = [_border(built, axis) for axis in wanted]
    if not borders or not all(borders):
        return ""
    text = said("Write  borders: {borders}  and the grid is clear there.", borders=_braced(borders))
    if built.wish.centre_on is not None:
        return text + said(" It takes the place of centre_on.")
    return text


def _braced(borders: list[str]) -> str:
    return said("{{{borders}}}", borders=joined(borders, ", "))


def _border(built: Built, axis: int) -> str:
    module = built.layout.module[axis]
    for least in (module / 2, module / 4, 0.0):
        shift = _shift(list(_barred(built, axis, least)), module)
        if shift is not None:
            break
    else:
        return ""
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
    for face in faces(built):
        if face.axis == axis:
            beyond = max(least if face.wall else 0.0, over_ledge(built)) + _SPARE_MM
            ends = (face.at - face.way * (TAPED_MM + _SPARE_MM), face.at + face.way * beyond)
            yield min(ends), max(ends)


def _shift(barred: list[Span], module: float) -> float | None:
    """The least move of lines a module apart so that none stands inside a barred span; None where there is none."""
    if any(high - low >= module for low, high in barred):
        return None
    candidates = sorted((math.remainder(end, module) for span in barred for end in span), key=abs)
    noise = 1e-6
    return next(
        (
            shift
            for shift in candidates
            if all(not noise < (shift - low) % module < high - low - noise for low, high in barred)
        ),
        None,
    )
