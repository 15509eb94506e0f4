"""`Room`: the true shape of a room and what is known of the structure above it.

The room frame: the reference corner is the origin, the base wall runs along +x, the room lies on the +y side.
Millimetres throughout.
"""

from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

from planner.geometry import Box, Point, Ring, box_of, distance, edges, signed_area

Units = Literal["ft-in", "in", "mm", "cm", "m"]


@dataclass(frozen=True, slots=True)
class Wall:
    """One straight wall, walked with the room on the left."""

    name: str  #: its two corners, e.g. "A-B"
    start: Point
    end: Point

    @property
    def length(self) -> float:
        return distance(self.start, self.end)


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


@dataclass(frozen=True)
class Room:
    """A room that can be planned: simple outline, columns inside it, all checked."""

    name: str
    units: Units  #: how results are shown
    outline: Ring  #: counter-clockwise, the base wall first
    corner_names: tuple[str, ...]  #: one for each point of `outline`
    columns: tuple[Column, ...] = ()
    joists: Joists | None = None
    underside: float | None = None  #: joists above the floor
    ceiling_height: float | None = None  #: finished ceiling above the floor
    project: tuple[tuple[str, str], ...] = field(default=())  #: title-block fields as given

    @property
    def imperial(self) -> bool:
        return self.units in ("ft-in", "in")

    @cached_property
    def walls(self) -> tuple[Wall, ...]:
        names = self.corner_names
        return tuple(
            Wall(f"{names[k]}-{names[(k + 1) % len(names)]}", a, b) for k, (a, b) in enumerate(edges(self.outline))
        )

    @cached_property
    def corners(self) -> dict[str, Point]:
        return dict(zip(self.corner_names, self.outline, strict=True))

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
