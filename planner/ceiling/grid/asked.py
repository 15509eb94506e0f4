"""What the room file fixes about the place of the grid: its direction, its module, borders and centres.

In: the room, the wish and the kind of grid. Out: plain numbers in the grid's own directions, or a PlannerError that
says what does not go together.
"""

import math

from planner.ceiling.system import System
from planner.errors import PlannerError
from planner.lengths import format_length
from planner.room.brief import GridWish
from planner.room.outline import Room, Wall

#: Two borders asked for close when they do so to a mark on the tape: 1/16 in.
CLOSES_WITHIN_MM = 1.6

_SIDES = (("left", "right"), ("front", "back"))
_QUARTER = 90.0
_LEVEL = 1e-7  #: degrees; a wall this close to square with the base wall is square


def module_asked(room: Room, wish: GridWish, system: System) -> tuple[float, float]:
    """Settle the module along the base wall and away from it; the system's first when none is asked for.

    PlannerError when the system has no such module either way round.
    """
    module = wish.module or system.modules[0]
    for known in system.modules:
        if any(math.dist(module, way) < 1e-6 for way in (known, known[::-1])):
            return module
    known_modules = ", ".join(_size(room, known) for known in system.modules)
    raise PlannerError(
        f"{_size(room, module)} is not a module of the grid system {system.name}.",
        where="grid › module",
        mend=f"It takes {known_modules}, either way round.",
    )


def angle_asked(room: Room, align: str | float | None) -> float:
    """Direction of the grid's first axis in the room frame, in degrees.

    Without a wish it runs along the base wall; an angle is counted from there. Along another wall the grid is turned
    no more than it must, at most 45°, so that its first axis stays the one nearest the base wall.
    PlannerError for an unknown wall.
    """
    base = _direction(room.walls[0])
    if align is None:
        return _level(base)
    if not isinstance(align, str):
        return _level(base + align)
    turn = (_direction(_wall(room, align)) - base) % _QUARTER
    return _level(base + (turn if turn <= _QUARTER / 2 else turn - _QUARTER))


def place_asked(
    room: Room, wish: GridWish, axis: int, ends: tuple[float, float], module: float, centre: float | None
) -> float | None:
    """Coordinate of a grid line that the room file asks for along an axis (0 = u, 1 = v); None when it leaves it open.

    `ends` are the least and greatest coordinates of the outline along the axis, `centre` that of the panel centre
    asked for. PlannerError when a border is wider than a module, or when two wishes do not go together.
    """
    widths: dict[str, float] = {
        side: _width(room, side, width, module) for side, width in wish.borders if side in _SIDES[axis]
    }
    low, high = _SIDES[axis]
    places = []
    if low in widths:
        places.append(ends[0] + widths[low])
    if high in widths:
        places.append(ends[1] - widths[high])
    if len(places) == 2 and abs(_misfit(places[1] - places[0], module)) > CLOSES_WITHIN_MM:
        raise _does_not_close(room, (low, high), (widths[low], widths[high]), ends[1] - ends[0], module)
    if centre is not None:
        places.append(centre - module / 2)
        if abs(_misfit(places[-1] - places[0], module)) > CLOSES_WITHIN_MM:
            raise _off_centre(
                room, next(side for side in (low, high) if side in widths), _misfit(places[-1] - places[0], module)
            )
    return places[0] if places else None


def _size(room: Room, size: tuple[float, float]) -> str:
    units = "in" if room.imperial else room.units  # the trade says 24" x 48", never 2' x 4'
    return " x ".join(format_length(side, units) for side in size)


def _direction(wall: Wall) -> float:
    return math.degrees(math.atan2(wall.end[1] - wall.start[1], wall.end[0] - wall.start[0]))


def _wall(room: Room, name: str) -> Wall:
    for wall in room.walls:
        if name.strip() in (wall.name, "-".join(reversed(wall.name.split("-")))):
            return wall
    raise PlannerError(
        f'there is no wall "{name}" to align the grid with.',
        where="grid › align",
        mend=f"The walls are {', '.join(wall.name for wall in room.walls)}.",
    )


def _level(angle: float) -> float:
    """Bring an angle to -180 .. 180 and make quarter turns exact."""
    angle = math.remainder(angle, 360.0)
    square = round(angle / _QUARTER) * _QUARTER
    return square + 0.0 if abs(angle - square) < _LEVEL else angle


def _width(room: Room, side: str, width: float | str, module: float) -> float:
    if isinstance(width, str):
        return module
    if 0 < width <= module + CLOSES_WITHIN_MM / 2:
        return width
    raise PlannerError(
        f"the border asked for is {format_length(width, room.units)}; a module is {format_length(module, room.units)}.",
        where=f"grid › borders › {side}",
        mend=f"A border is more than nothing and at most one module; write {side}: full for a whole one.",
    )


def _misfit(length: float, module: float) -> float:
    """How far a length is from a whole number of modules, from minus to plus half a module."""
    return math.remainder(length, module)


def _does_not_close(
    room: Room, sides: tuple[str, str], widths: tuple[float, float], length: float, module: float
) -> PlannerError:
    full = max(round((length - sum(widths)) / module), 0)
    made = sum(widths) + full * module
    said = [format_length(mm, room.units) for mm in (*widths, module, made, length, abs(length - made))]
    return PlannerError(
        f"the borders do not close: {said[0]} {sides[0]}, {full} modules of {said[2]} and {said[1]} {sides[1]} make "
        f"{said[3]}, the room is {said[4]}: {said[5]} {'over' if made > length else 'short'}.",
        where="grid › borders",
        mend=f"Give only one of {sides[0]} and {sides[1]}, or change one of them.",
    )


def _off_centre(room: Room, side: str, misfit: float) -> PlannerError:
    return PlannerError(
        f"the border {side} puts panel centres {format_length(abs(misfit), room.units)} beside the point to centre on.",
        where="grid › borders",
        mend=f"Give either {side} or centre_on.",
    )
