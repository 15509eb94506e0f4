"""Places and moves in words, as a person with a tape would be told them."""

import shapely

from planner.ceiling.seating.ground import Ground
from planner.geometry import TOLERANCE_MM, Point
from planner.lengths import spoken_length
from planner.room.outline import Room
from planner.sayings import joined, linked, said


def length_said(room: Room, mm: float) -> str:
    """A length in the room's units, to the nearest mark."""
    return spoken_length(mm, room.units)


def size_said(room: Room, size: tuple[float, float]) -> str:
    return joined((length_said(room, size[0]), length_said(room, size[1])), " x ")


def place_said(room: Room, point: Point) -> str:
    """A place in the room frame, as a tape finds it from the reference corner."""
    base = room.base
    return said(
        "{along} along {base} and {away} from it",
        along=length_said(room, point[0]),
        base=base,
        away=length_said(room, point[1]),
    )


def move_said(ground: Ground, start: Point, end: Point) -> str:
    """How to get from one place to another; grid frame: "38 mm towards B-C and 12 mm towards C-D"."""
    du, dv = end[0] - start[0], end[1] - start[1]
    steps = [(abs(du), (du, 0.0)), (abs(dv), (0.0, dv))]
    return linked(
        joined((length_said(ground.room, length), _towards(ground, start, step)), "")
        for length, step in steps
        if length > TOLERANCE_MM
    )


def _towards(ground: Ground, start: Point, step: Point) -> str:
    """The wall that is met first on the way, as " towards B-C"; nothing when there is none."""
    outward = ground.layout.frame.outward
    reach = 2 * (ground.room.box.width + ground.room.box.height) / (abs(step[0]) + abs(step[1]))
    far = (start[0] + step[0] * reach, start[1] + step[1] * reach)
    way, here = shapely.LineString([outward(start), outward(far)]), shapely.Point(outward(start))
    met = []
    for wall in ground.room.walls:
        away = here.distance(way.intersection(shapely.LineString(wall.points)))
        if away > TOLERANCE_MM:  # not a wall that it starts on; not a number where the way meets none
            met.append((away, wall.name))
    return said(" towards {wall}", wall=min(met)[1]) if met else ""
