"""A room walked with the room on the left, from its reference corner.

In: the outline keys of a room file. Out: a `Walk` in the room frame, or the faults that forbid it. Rule: the base wall
is the first wall, or the one named, and its start is the reference corner. Corners given clockwise are walked the other
way; corners and walls keep their names. Bowed walls become arcs over the chord between their corners.
"""

import math
from dataclasses import replace

from shapely import Polygon

from planner.arcs import arc_points, bulge_from_rise
from planner.findings import Finding
from planner.geometry import Frame, Point, Ring, box_of, distance, signed_area
from planner.lengths import format_length
from planner.limits import USUAL, Limits
from planner.records import dataclass
from planner.room.drawn.loops import Loop
from planner.room.naming import wall_names
from planner.room.outline import Placement, Units
from planner.room.outlines import Given, given_outline, placed
from planner.room.schema import OutlineKeys
from planner.room.survey import Survey
from planner.wording import Fault, numbers_read
from planner.yaml_text import Path

#: No room is longer than this; a number that says so was read in the wrong unit.
LARGEST_ROOM_MM = 1_000_000.0
SMALLEST_ROOM_MM = 100.0


@dataclass(frozen=True, slots=True)
class Walk:
    """An outline that can be planned."""

    corners: Ring  #: in the room frame, counter-clockwise, the reference corner first
    names: tuple[str, ...]  #: one for each corner
    bulges: tuple[float, ...]  #: one for each wall
    frame: Frame  #: the room frame in the coordinates that columns and services are given in
    placement: Placement | None  #: the room frame in the drawing that the outline came from
    columns: tuple[Loop, ...]  #: of that drawing, in the room frame
    survey: Survey | None
    findings: tuple[Finding, ...]
    turned: bool = False  #: the corners were given clockwise, and walls are named as they were given

    @property
    def walls(self) -> tuple[str, ...]:
        return wall_names(self.names, self.turned)

    @property
    def chains(self) -> tuple[tuple[Point, ...], ...]:
        """Every wall as a chain of points from corner to corner; a bowed one as chords inside the room."""
        ends = (*self.corners[1:], self.corners[0])
        return tuple(
            arc_points(start, end, bulge) if bulge else (start, end)
            for start, end, bulge in zip(self.corners, ends, self.bulges, strict=True)
        )

    @property
    def outline(self) -> Ring:
        return tuple(point for chain in self.chains for point in chain[:-1])

    @property
    def corner_at(self) -> tuple[int, ...]:
        """Which points of the outline are corners; empty when all are."""
        if not any(self.bulges):
            return ()
        at = [0]
        for chain in self.chains[:-1]:
            at.append(at[-1] + len(chain) - 1)
        return tuple(at)

    def wall(self, name: str) -> str | None:
        """Find a wall by its two corners, named in either direction."""
        wanted = _plain(name)
        ends = zip(self.names, (*self.names[1:], self.names[0]), strict=True)
        either = ({_plain(f"{start}-{end}"), _plain(f"{end}-{start}")} for start, end in ends)
        return next((wall for wall, names in zip(self.walls, either, strict=True) if wanted in names), None)

    def known_walls(self) -> str:
        """Say which walls there are, for a message."""
        first = ", ".join(self.walls[:12])
        return f"The walls are {first}." if len(self.walls) <= 12 else f"The walls are {first} and so on."


def walk(keys: OutlineKeys, units: Units, file: str, limits: Limits = USUAL) -> tuple[Walk | None, list[Fault]]:
    """Walk the outline of a room; no walk when there are faults. `units` is how bare numbers were read."""
    given, faults = given_outline(keys, units, file, limits)
    if given is None:
        return None, faults
    if faults := _size_faults(given, units):
        return None, faults
    left = _room_on_the_left(given)
    first = wall_names(left.names, left.turned)[0] if keys.base_wall is None else keys.base_wall
    based, faults = _based(left, first)
    return (None, faults) if based is None else _bowed(based, keys.bowed_walls, units)


def _plain(name: str) -> str:
    """A wall's name as people may write it: any dash, any capitals, spaces or none."""
    return name.replace("–", "-").upper().replace(" ", "")


def _size_faults(given: Given, units: Units) -> list[Fault]:
    box = box_of(given.corners)
    read = numbers_read(units)
    faults, metric = [], units in ("mm", "cm", "m")
    for k, (size, word) in enumerate(((box.width, "long"), (box.height, "wide"))):
        place: Path = (*given.path, k) if given.along_base_wall else given.path
        if size > LARGEST_ROOM_MM:
            guess = f"is {size / 1000:.6g} mm meant? T" if metric else "t"  # often m stands where mm were meant
            problem = f"the room would be {size / 1e6:.6g} km {word}; 1 km is the most."
            faults.append(Fault(place, problem, f"Check the unit: {guess}his file reads {read}."))
        elif size < SMALLEST_ROOM_MM:
            problem = f"the room would be only {format_length(size)} {word}; 100 mm is the least."
            faults.append(Fault(place, problem, f"Check the unit: this file reads {read}."))
    return faults


def _room_on_the_left(given: Given) -> Given:
    """Turn an outline that was given clockwise, every corner with its name; the first corner stays the first."""
    bulges = given.bulges or (0.0,) * len(given.corners)
    if signed_area(given.corners) > 0:
        return replace(given, bulges=bulges)
    loop = Loop(given.corners, bulges).turned()
    names = (given.names[0], *reversed(given.names[1:]))
    return replace(given, corners=loop.vertices, names=names, bulges=loop.bulges, turned=True)


def _based(given: Given, base_wall: str) -> tuple[Walk | None, list[Fault]]:
    """Begin at the base wall, and lay the room frame along it."""
    drawn, taped = (None, given.columns), (given.survey, given.findings)
    named = Walk(given.corners, given.names, given.bulges, Frame(), *drawn, *taped, given.turned)
    wall = named.wall(base_wall)
    if wall is None:
        return None, [Fault(("room", "base_wall"), f'there is no wall "{base_wall}".', named.known_walls())]
    k = named.walls.index(wall)
    names = (*given.names[k:], *given.names[:k])
    if given.along_base_wall:  # only the names move on
        return replace(named, names=names), []
    loop = Loop(given.corners, given.bulges).started_at(k)
    frame = _frame(loop.vertices[0], loop.vertices[1])
    return (
        Walk(
            corners=_laid(loop.vertices, frame),
            names=names,
            bulges=loop.bulges,
            frame=frame if given.in_file_coordinates else Frame(),
            placement=Placement(frame, given.drawing_unit) if given.drawing_unit else None,
            columns=tuple(column.seen_in(frame) for column in given.columns),
            survey=given.survey,
            findings=tuple(replace(f, where=placed(f.where, frame)) if f.where else f for f in given.findings),
            turned=given.turned,
        ),
        [],
    )


def _frame(start: Point, end: Point) -> Frame:
    """Make the frame with its origin at `start` and +x towards `end`; quarter turns are exact."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    if dy == 0.0:
        return Frame(start, 0.0 if dx > 0 else 180.0)
    if dx == 0.0:
        return Frame(start, 90.0 if dy > 0 else 270.0)
    return Frame(start, math.degrees(math.atan2(dy, dx)))


def _laid(corners: Ring, frame: Frame) -> Ring:
    """Bring corners into the room frame; the base wall lies on the x axis to the last digit."""
    moved = [placed(point, frame) for point in corners]
    moved[0], moved[1] = (0.0, 0.0), (moved[1][0], 0.0)
    return tuple(moved)


def _bowed(straight: Walk, rises: dict[str, float], units: Units) -> tuple[Walk | None, list[Fault]]:
    """Bow walls by chord and rise, + out of the room; faults where that is no arc or walls then meet."""
    bulges, faults = list(straight.bulges), list[Fault]()
    for name, rise in rises.items():
        path: Path = ("room", "bowed_walls", name)
        wall = straight.wall(name)
        if wall is None:
            faults.append(Fault(path, f'there is no wall "{name}".', straight.known_walls(), at_key=True))
            continue
        k = straight.walls.index(wall)
        chord = distance(straight.corners[k], straight.corners[(k + 1) % len(straight.corners)])
        if abs(rise) > chord / 2:
            problem = f"a rise of {format_length(abs(rise), units)} is more than half the chord of {wall}"
            mend = "Give the longest distance from a string between the two corners to the wall; + outwards."
            faults.append(Fault(path, f"{problem}, {format_length(chord, units)}.", mend))
            continue
        bulges[k] = bulge_from_rise(chord, rise)
    bowed = replace(straight, bulges=tuple(bulges))
    if not faults and any(bulges) and not Polygon(bowed.outline).is_valid:
        mend = "Check the sign: + bows out of the room, - into it."
        faults.append(Fault(("room", "bowed_walls"), "bowed so far, a wall would meet another.", mend))
    return (None, faults) if faults else (bowed, [])
