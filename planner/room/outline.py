"""`Room`: the true shape of a room and what is known of the structure above it.

The room frame: the reference corner is the origin, the base wall runs along +x, the room lies on the +y side.
Millimetres throughout.
"""

from dataclasses import field
from functools import cached_property
from typing import Literal

from planner.arcs import Arc, arc_length, arc_of, is_flat
from planner.geometry import Box, Frame, Point, Ring, box_of, signed_area
from planner.records import dataclass
from planner.room.naming import wall_names
from planner.room.site import Site
from planner.sayings import said

Units = Literal["ft-in", "in", "mm", "cm", "m"]


@dataclass(frozen=True, slots=True)
class Wall:
    """One wall, straight or bowed to a circular arc, walked with the room on the left."""

    name: str  #: its two corners, e.g. "A-B"
    start: Point
    end: Point
    bulge: float = 0.0  #: tan(swept angle / 4), positive where the wall bows out of the room
    points: tuple[Point, ...] = ()  #: from start to end; of a bowed wall the chords that `Room.outline` has for it
    corners: tuple[str, str] = ("", "")  #: of start and end; a wall given the other way is called "C-D" from D to C

    @property
    def length(self) -> float:
        return arc_length(self.start, self.end, self.bulge)

    @property
    def measured(self) -> str:
        """The wall as one measures along it: with its start where its name does not begin with that."""
        start, end = self.corners
        turned = self.name == f"{end}-{start}"
        return said("{wall} from {corner}", wall=self.name, corner=start) if turned else self.name

    @property
    def arc(self) -> Arc | None:
        """The circle of a bowed wall; None when it is straight."""
        return None if is_flat(self.start, self.end, self.bulge) else arc_of(self.start, self.end, self.bulge)


@dataclass(frozen=True, slots=True)
class Column:
    """Something that stands in the room and goes through the ceiling: a column, a pipe, a chase."""

    name: str
    outline: Ring  #: counter-clockwise; a round one as chords within 0.1 mm of the circle
    centre: Point
    diameter: float | None = None  #: set when it is round


@dataclass(frozen=True, slots=True)
class Joists:
    """Regular joists overhead."""

    spacing: float
    first: float  #: from the reference corner, measured square to the joists
    direction: Literal["across", "along"]  #: across = square to the base wall
    out_of_level: float = 0.0  #: most that their undersides are out of one level
    found: bool = True  #: False where nobody has said where the first lies, and `first` is only taken to be so


@dataclass(frozen=True, slots=True)
class Placement:
    """Where the room lies in the drawing that its outline came from, so that ours lands exactly on it."""

    frame: Frame  #: the room frame in that drawing's coordinates, taken as millimetres
    unit: str  #: of that drawing: in, ft, mm, cm or m


@dataclass(frozen=True, slots=True)
class Revision:
    """One issue of the drawings, as given; empty where nothing was said."""

    rev: str
    date: str = ""
    text: str = ""
    by: str = ""


@dataclass(frozen=True)
class Room:
    """A room that can be planned: simple outline, columns inside it, all checked."""

    name: str
    units: Units  #: how results are shown
    outline: Ring  #: counter-clockwise, the base wall first; bowed walls as chords inside the room, within 0.1 mm
    corner_names: tuple[str, ...]  #: one for each corner, the reference corner first
    columns: tuple[Column, ...] = ()
    joists: Joists | None = None
    underside: float | None = None  #: joists above the floor
    ceiling_height: float | None = None  #: finished ceiling above the floor
    project: tuple[tuple[str, str], ...] = field(default=())  #: title-block fields as given
    revisions: tuple[Revision, ...] = ()  #: the first first
    corner_at: tuple[int, ...] = ()  #: which points of `outline` are corners; empty = all of them
    bulges: tuple[float, ...] = ()  #: one for each wall; empty = all straight
    placement: Placement | None = None  #: where the room lies in somebody else's drawing
    site: Site = field(default=Site())  #: the building round it
    dual_units: bool = False  #: lengths on sheets in the other system too, in brackets
    turned: bool = False  #: the corners were given clockwise, and walls are called as they were given: end, then start

    @property
    def imperial(self) -> bool:
        return self.units in ("ft-in", "in")

    @cached_property
    def walls(self) -> tuple[Wall, ...]:
        """Every wall, from the base wall on."""
        at = self.corner_at or tuple(range(len(self.outline)))
        ends = (*at[1:], len(self.outline))
        closed = (*self.outline, self.outline[0])
        corners = tuple(zip(self.corner_names, (*self.corner_names[1:], self.corner_names[0]), strict=True))
        names = wall_names(self.corner_names, self.turned)
        bulges = self.bulges or (0.0,) * len(names)
        return tuple(
            Wall(name, closed[k], closed[end], bulge, closed[k : end + 1], pair)
            for name, k, end, bulge, pair in zip(names, at, ends, bulges, corners, strict=True)
        )

    @cached_property
    def wall_of_edge(self) -> tuple[int, ...]:
        """For each edge of the outline the number of its wall; a bowed one has several edges."""
        return tuple(k for k, wall in enumerate(self.walls) for _ in wall.points[1:])

    @property
    def base(self) -> str:
        """The base wall as one measures along it."""
        return self.walls[0].measured

    @cached_property
    def corners(self) -> dict[str, Point]:
        return dict(zip(self.corner_names, (wall.start for wall in self.walls), strict=True))

    @cached_property
    def box(self) -> Box:
        return box_of(self.outline)

    @cached_property
    def area(self) -> float:
        """Square millimetres of ceiling: the outline less the columns."""
        return signed_area(self.outline) - sum(signed_area(c.outline) for c in self.columns)

    @cached_property
    def perimeter(self) -> float:
        """Length of all walls (columns not counted)."""
        return sum(wall.length for wall in self.walls)
