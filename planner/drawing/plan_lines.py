"""The room and its ceiling as lines: walls, columns, panels that are cut, tees. No letters here.

In: a `Room` and a `Ceiling`. Out: shapes in the room's millimetres, in the order in which they are painted: tints lie
below edges, edges below tees, tees below walls. One line for each member, so that work grows with lines, not area.
"""

from shapely.geometry import LineString, Polygon

from planner.ceiling.model import Ceiling, Member, Panel
from planner.drawing.dimensions import written
from planner.drawing.roles import Role
from planner.drawing.shapes import Circle, Line, Outline, Shape
from planner.geometry import Point, Ring, box_of, distance, edges
from planner.lengths import Rounding
from planner.room.outline import Column, Room

#: Cut panels drawn one by one; beyond this a reader's program gets slow and nobody can tell them apart.
MOST_PANELS = 5000

_ROLES = {"main tee": Role.MAIN_TEE, "cross tee": Role.CROSS_TEE, "wall angle": Role.WALL_ANGLE}
_NEAR = 1.0


def plan_lines(room: Room, ceiling: Ceiling) -> tuple[Shape, ...]:
    """Everything of the plan that is neither symbol nor letter."""
    panels = ceiling.panels[:MOST_PANELS]
    inset = _inset_walls(room, ceiling.system.ledge)
    return (
        *(Outline(Role.CUT_SHADE, p.outline, p.holes, fill=True) for p in panels if not p.full_size),
        *(Outline(Role.CUT_PANEL, p.outline, p.holes, title=_panel_title(p, room)) for p in panels),
        *(_member_line(member, inset, room) for kind in _ROLES for member in ceiling.members if member.kind == kind),
        Outline(Role.WALL, room.outline, title=room.name),
        *(shape for column in room.columns for shape in column_shapes(column)),
    )


def column_shapes(column: Column) -> tuple[Shape, ...]:
    """The outline of a column, crossed as what goes through a ceiling is crossed on plans."""
    edge: Shape = Outline(Role.COLUMN, column.outline, title=column.name)
    if column.diameter is not None:
        edge = Circle(Role.COLUMN, column.centre, column.diameter / 2, title=column.name)
    return (edge, *(Line(Role.COLUMN, a, b) for a, b in _cross(column.outline)))


def panel_size(panel: Panel, units: str) -> str:
    """What to saw, width by depth, feet as inches; rounded down, since a panel that is too large does not go in."""
    unit = "in" if units == "ft-in" else units
    return " × ".join(written(side, unit, Rounding.DOWN) for side in panel.cut_to)


def _cross(ring: Ring) -> list[tuple[Point, Point]]:
    """The diagonals of the box around a ring, as far as they lie in it."""
    box = box_of(ring)
    inside = Polygon(ring)
    diagonals = (((box.left, box.bottom), (box.right, box.top)), ((box.left, box.top), (box.right, box.bottom)))
    found: list[tuple[Point, Point]] = []
    for diagonal in diagonals:
        part = inside.intersection(LineString(diagonal))
        parts = getattr(part, "geoms", (part,))
        for p in parts:
            if p.geom_type == "LineString" and not p.is_empty:
                (ax, ay), (bx, by) = p.coords[0], p.coords[-1]
                found.append(((ax, ay), (bx, by)))
    return found


def _panel_title(panel: Panel, room: Room) -> str:
    if panel.full_size:
        return f"Panel {panel.id}, full size, with a hole"
    return f"Panel {panel.id}, cut to {panel_size(panel, room.units)}"


def _member_line(member: Member, inset: dict[tuple[Point, Point], tuple[Point, Point]], room: Room) -> Line:
    """One member; a wall angle is drawn where its ledge ends, so that it shows beside the wall."""
    start, end = member.start, member.end
    if member.kind == "wall angle":
        start, end = next((moved for wall, moved in inset.items() if _same(wall, (start, end))), (start, end))
    title = f"{member.kind.capitalize()} {member.id}, {written(member.length, room.units)}"
    return Line(_ROLES[member.kind], start, end, title)


def _same(a: tuple[Point, Point], b: tuple[Point, Point]) -> bool:
    """True for the same stretch of wall, walked either way."""
    return any(distance(a[0], p) < _NEAR and distance(a[1], q) < _NEAR for p, q in (b, b[::-1]))


def _inset_walls(room: Room, ledge: float) -> dict[tuple[Point, Point], tuple[Point, Point]]:
    """Each wall, and the line at the edge of the ledge along it, mitred at the corners."""
    walls = list(edges(room.outline))
    corners = [_mitre(before, after, ledge) for before, after in zip([walls[-1], *walls[:-1]], walls, strict=True)]
    return {wall: (corners[k], corners[(k + 1) % len(corners)]) for k, wall in enumerate(walls)}


def _mitre(before: tuple[Point, Point], after: tuple[Point, Point], ledge: float) -> Point:
    """Where the ledges of two walls meet; at a corner too sharp for that, the corner itself."""
    corner = after[0]
    n, m = _inward(before), _inward(after)
    denominator = 1.0 + n[0] * m[0] + n[1] * m[1]
    if denominator < 0.1:
        return corner
    return (corner[0] + ledge * (n[0] + m[0]) / denominator, corner[1] + ledge * (n[1] + m[1]) / denominator)


def _inward(wall: tuple[Point, Point]) -> Point:
    (ax, ay), (bx, by) = wall
    length = distance(*wall)
    return (-(by - ay) / length, (bx - ax) / length)
