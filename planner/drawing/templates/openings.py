"""What a panel may fill, with true curves.

In: a plan and one of its cut panels. Out: the opening from wall to tee centre line in the panel's own frame: its
module's lower left corner (as the grid runs) is the origin. Millimetres.

The outlines that the layout works with have chords for arcs, within 0.1 mm. A template is cut along, so here bowed
walls and round columns are drawn anew, within `CURVE_MM` of the true curve and never beyond it.
"""

import math
from collections.abc import Sequence
from functools import cached_property
from typing import Literal

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Spot
from shapely.geometry.base import BaseGeometry

from planner.arcs import arc_points
from planner.ceiling.model import Panel
from planner.geometry import Frame, Point, Ring
from planner.planning import Plan
from planner.records import dataclass
from planner.room.outline import Column, Wall

#: How far drawn curves may be off the true one.
CURVE_MM = 0.005
#: The layout's outlines are within 0.1 mm of the true curves; nothing of an opening lies further off than this.
_CHORDS_MM = 0.15


@dataclass(frozen=True, slots=True)
class Edge:
    """What a ceiling ends at, in the grid's frame: a wall, a column."""

    kind: Literal["wall", "column"]
    name: str
    line: LineString
    centre: Point = (0.0, 0.0)  #: of its circle
    radius: float | None = None  #: where it is part of a circle
    hollow: bool = False  #: the ceiling lies outside of the circle


class Openings:
    """The ceiling of a plan, seen in the grid's frame, and what each panel may fill of it."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self._layout = plan.ceiling.layout

    def corner_of(self, panel: Panel) -> Point:
        """Where the panel's own frame begins in the grid's frame."""
        (i, j), (along, away) = panel.cell, self._layout.module
        return (i * along, j * away)

    def frame_of(self, panel: Panel) -> Frame:
        """The panel's own frame in the room."""
        return Frame(self._layout.frame.outward(self.corner_of(panel)), self._layout.frame.angle_deg)

    def opening(self, panel: Panel) -> Polygon:
        """The opening of a panel in its own frame; empty where nothing of it is left."""
        (left, bottom), (along, away) = self.corner_of(panel), self._layout.module
        found = shapely.intersection(self._floor, shapely.box(left, bottom, left + along, bottom + away))
        outline = Polygon([self._layout.frame.inward(point) for point in panel.outline])
        whole = _likest(found.intersection(outline.buffer(_CHORDS_MM, join_style="mitre")), outline)
        moved = shapely.transform(whole, lambda points: points - [left, bottom])
        assert isinstance(moved, Polygon)
        return moved

    @cached_property
    def edges(self) -> tuple[Edge, ...]:
        """Walls and columns, their bows drawn anew."""
        found = []
        for wall in self.plan.room.walls:
            line, arc = LineString(self._seen(wall_curve(wall))), wall.arc
            if arc is None:
                found.append(Edge("wall", wall.name, line))
            else:  # a wall that bows outward has the room inside its circle
                centre = self._layout.frame.inward(arc.centre)
                found.append(Edge("wall", wall.name, line, centre, arc.radius, wall.bulge < 0))
        for column in self.plan.room.columns:
            ring = self._seen(column_curve(column))
            radius = None if column.diameter is None else column.diameter / 2
            centre = self._layout.frame.inward(column.centre)
            found.append(Edge("column", column.name, LineString([*ring, ring[0]]), centre, radius, hollow=True))
        return tuple(found)

    def nearest(self, spot: Spot) -> Edge:
        """The wall or column nearest to a place in the grid's frame."""
        return self.edges[int(self._tree.query_nearest(spot).min())]

    @cached_property
    def _tree(self) -> shapely.STRtree:
        return shapely.STRtree([edge.line for edge in self.edges])

    @cached_property
    def _floor(self) -> BaseGeometry:
        walls = [edge.line for edge in self.edges if edge.kind == "wall"]
        shape = Polygon([point for line in walls for point in line.coords[:-1]])
        columns = [Polygon(edge.line) for edge in self.edges if edge.kind == "column"]
        floor: BaseGeometry = shape.difference(shapely.union_all(columns)) if columns else shape
        shapely.prepare(floor)
        return floor

    def _seen(self, points: Sequence[Point]) -> Ring:
        return tuple(map(self._layout.frame.inward, points))


def wall_curve(wall: Wall) -> tuple[Point, ...]:
    """A wall from corner to corner, its bow within `CURVE_MM`."""
    return arc_points(wall.start, wall.end, wall.bulge, CURVE_MM)


def column_curve(column: Column) -> Ring:
    """The outline of a column; a round one as tangents, never inside the circle and within `CURVE_MM` of it."""
    if column.diameter is None:
        return column.outline
    radius = column.diameter / 2
    sides = 4 * math.ceil(math.pi / math.acos(radius / (radius + CURVE_MM)) / 4)
    reach, step = radius / math.cos(math.pi / sides), 2 * math.pi / sides
    x, y = column.centre
    turns = [(k + 0.5) * step for k in range(sides)]
    return tuple((x + reach * math.cos(turn), y + reach * math.sin(turn)) for turn in turns)


def circle(centre: Point, radius: float) -> Ring:
    """A circle as a ring of points on it, whose chords are within `CURVE_MM`."""
    quarter = max(8, math.ceil(math.pi / 4 / math.acos(1 - CURVE_MM / max(radius, 1.0))))
    return tuple((x, y) for x, y in Spot(centre).buffer(radius, quad_segs=quarter).exterior.coords[:-1])


def _likest(found: BaseGeometry, outline: Polygon) -> Polygon:
    """Of the parts that a wall cuts a module into, the one that this panel is."""
    parts = [part for part in shapely.get_parts(found) if isinstance(part, Polygon)]
    if not parts:
        return Polygon()
    solid = outline if outline.is_valid else outline.buffer(0)
    return max(parts, key=lambda part: part.intersection(solid).area)
