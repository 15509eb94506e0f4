"""The outline of a room, walked with the room on the left from its reference corner.

In: the outline keys of a room file. Out: a `Walk` in the room frame, or the faults that forbid it. Rule: corners are
named A, B, C, ... in the order given; the base wall is the first wall, or the one named, and its start is the reference
corner. Corners given clockwise keep their names and are walked the other way from the first.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from planner.geometry import TOLERANCE_MM, Frame, Point, Ring, box_of, distance, signed_area
from planner.lengths import format_length
from planner.room.naming import corner_names, wall_names
from planner.room.rings import ring_faults
from planner.room.schema import OutlineKeys
from planner.wording import Fault
from planner.yaml_text import Path

#: No room is longer than this; a number that says so was read in the wrong unit.
LARGEST_ROOM_MM = 1_000_000.0
SMALLEST_ROOM_MM = 100.0


@dataclass(frozen=True, slots=True)
class Walk:
    """An outline that can be planned."""

    outline: Ring  #: in the room frame, counter-clockwise, the base wall first
    names: tuple[str, ...]  #: one for each corner
    frame: Frame  #: the room frame in the coordinates of the file

    @property
    def walls(self) -> tuple[str, ...]:
        return wall_names(self.names)

    def wall(self, name: str) -> str | None:
        """Find a wall by its two corners, named in either direction."""
        corners = name.replace("–", "-").upper().replace(" ", "").split("-")
        meant = {"-".join(corners), "-".join(reversed(corners))}
        return next((wall for wall in self.walls if wall in meant), None)

    def known_walls(self) -> str:
        """Say which walls there are, for a message."""
        first = ", ".join(self.walls[:12])
        return f"The walls are {first}." if len(self.walls) <= 12 else f"The walls are {first} and so on."


def walk(keys: OutlineKeys, units: str) -> tuple[Walk | None, list[Fault]]:
    """Walk the outline of a room; no walk when there are faults. `units` is how bare numbers were read."""
    if keys.rectangle is not None:
        length, width = keys.rectangle
        path: Path = ("room", "rectangle")
        given: Ring = ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))
        faults: list[Fault] = []
    else:
        path = ("room", "points")
        given = _open(keys.points or [])
        faults = ring_faults(given, corner_names(len(given)), path)
    faults = faults or _size_faults(given, path, units)
    if faults:
        return None, faults
    first = _from_first(given)
    return _based(first, keys.base_wall, turned=keys.rectangle is None)


def _open(points: Sequence[Point]) -> Ring:
    """Drop a last corner that repeats the first, as some people close an outline."""
    closed = len(points) > 1 and distance(points[0], points[-1]) <= TOLERANCE_MM
    return tuple(points[:-1] if closed else points)


def _size_faults(ring: Ring, path: Path, units: str) -> list[Fault]:
    box = box_of(ring)
    read = "feet and inches with their marks" if units == "ft-in" else f"bare numbers in {units}"
    mend = f"Check the unit: this file reads {read}."
    faults = []
    for k, (size, word) in enumerate(((box.width, "long"), (box.height, "wide"))):
        place = (*path, k) if path[-1] == "rectangle" else path
        if size > LARGEST_ROOM_MM:
            faults.append(Fault(place, f"the room would be {size / 1e6:.6g} km {word}; 1 km is the most.", mend))
        elif size < SMALLEST_ROOM_MM:
            faults.append(
                Fault(place, f"the room would be only {format_length(size)} {word}; 100 mm is the least.", mend)
            )
    return faults


def _from_first(given: Ring) -> Walk:
    """Walk with the room on the left from the first corner, every corner with the name it was given."""
    names = corner_names(len(given))
    if signed_area(given) > 0:
        return Walk(given, names, Frame())
    return Walk((given[0], *reversed(given[1:])), (names[0], *reversed(names[1:])), Frame())


def _based(first: Walk, base_wall: str | None, turned: bool) -> tuple[Walk | None, list[Fault]]:
    """Begin at the base wall, and lay the room frame along it.

    A rectangle is given along its base wall already (`turned` false), so that only the names move on.
    """
    wall = first.walls[0] if base_wall is None else first.wall(base_wall)
    if wall is None:
        return None, [Fault(("room", "base_wall"), f'there is no wall "{base_wall}".', first.known_walls())]
    k = first.walls.index(wall)
    names = (*first.names[k:], *first.names[:k])
    if not turned:
        return Walk(first.outline, names, first.frame), []
    outline = (*first.outline[k:], *first.outline[:k])
    frame = _frame(outline[0], outline[1])
    return Walk(_laid(outline, frame), names, frame), []


def _frame(start: Point, end: Point) -> Frame:
    """Make the frame with its origin at `start` and +x towards `end`; quarter turns are exact."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    if dy == 0.0:
        return Frame(start, 0.0 if dx > 0 else 180.0)
    if dx == 0.0:
        return Frame(start, 90.0 if dy > 0 else 270.0)
    return Frame(start, math.degrees(math.atan2(dy, dx)))


def _laid(outline: Ring, frame: Frame) -> Ring:
    """Bring an outline into the room frame; the base wall lies on the x axis to the last digit."""
    moved = [placed(point, frame) for point in outline]
    moved[0], moved[1] = (0.0, 0.0), (moved[1][0], 0.0)
    return tuple(moved)


def placed(point: Point, frame: Frame) -> Point:
    """Bring a point of the file into the room frame, without the noise that turning leaves behind."""
    x, y = frame.inward(point)
    if frame.angle_deg % 90.0 == 0.0:
        return (x + 0.0, y + 0.0)
    return (round(x, 6) + 0.0, round(y, 6) + 0.0)
