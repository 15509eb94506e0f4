"""The room and its ceiling as lines: walls, columns, panels that are cut, tees. No letters here.

In: a `Room` and a `Ceiling`. Out: shapes in the room's millimetres, in the order in which they are painted: tints lie
below edges, edges below tees, tees below walls. One line for each member, so that work grows with lines, not area.
"""

from shapely.geometry import LineString, Polygon

from planner.ceiling.grid.cut import LEAST_TOLD_MM
from planner.ceiling.model import Ceiling, Member, Panel
from planner.drawing import words
from planner.drawing.dimensions import written, written_cut, written_piece
from planner.drawing.ledges import ledge_edges, ledge_shape
from planner.drawing.member_roles import MEMBER_ROLES, TRIM
from planner.drawing.roles import Role
from planner.drawing.shapes import Circle, Line, Outline, Shape
from planner.geometry import Point, Ring, box_of
from planner.room.outline import Column, Room

#: Cut panels drawn one by one; beyond this a reader's program gets slow and nobody can tell them apart.
MOST_PANELS = 5000

_TEES = {kind: role for kind, role in MEMBER_ROLES.items() if kind not in TRIM}


def plan_lines(room: Room, ceiling: Ceiling) -> tuple[Shape, ...]:
    """Everything of the plan that is neither symbol nor letter."""
    panels = ceiling.panels[:MOST_PANELS]
    ledge = ceiling.system.ledge
    inset = ledge_edges(room, ledge)
    angles = [member for member in ceiling.members if member.kind in TRIM]
    return (
        *(Outline(Role.CUT_SHADE, p.outline, p.holes, fill=True) for p in panels),
        *(Outline(Role.CUT_PANEL, p.outline, p.holes, title=_panel_title(p, room)) for p in panels),
        *(_tee(member, room) for kind in _TEES for member in ceiling.members if member.kind == kind),
        *(ledge_shape(member, room, ledge, inset, _member_title(member, room)) for member in angles),
        walls_shape(room),
        *(shape for column in room.columns for shape in column_shapes(column)),
    )


def walls_shape(room: Room) -> Outline:
    """All walls as one closed line; bowed ones are true arcs."""
    return Outline(Role.WALL, tuple(wall.start for wall in room.walls), title=room.name, bulges=room.bulges)


def column_shapes(column: Column) -> tuple[Shape, ...]:
    """The outline of a column, crossed as what goes through a ceiling is crossed on plans."""
    edge: Shape = Outline(Role.COLUMN, column.outline, title=column.name)
    if column.diameter is not None:
        edge = Circle(Role.COLUMN, column.centre, column.diameter / 2, title=column.name)
    return (edge, *(Line(Role.COLUMN, a, b) for a, b in _cross(column.outline)))


def panel_size(panel: Panel, units: str) -> str:
    """What to saw, width by depth, feet as inches; rounded down, since a panel that is too large does not go in."""
    return written_cut(panel.cut_to, units)


def panel_shape(panel: Panel, units: str) -> str:
    """What the size does not tell of a panel's outline: its taper, or that it is notched or shaped; else nothing."""
    if panel.is_shaped:
        return words.say(f"panels.{panel.shape}")
    if panel.taper < LEAST_TOLD_MM:
        return ""
    return words.say("panels.taper", length=written(panel.taper, "in" if units == "ft-in" else units))


def _cross(ring: Ring) -> list[tuple[Point, Point]]:
    """The diagonals of a ring of four corners; of the box around any other, as far as they lie in it."""
    if len(ring) == 4:
        return [(ring[0], ring[2]), (ring[1], ring[3])]
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
        return words.say("panels.title drilled", id=panel.id)
    size = panel_size(panel, room.units)
    if panel.is_shaped:
        size = words.say("panels.size and shape", size=size, shape=panel_shape(panel, room.units))
    return words.say("panels.title", id=panel.id, size=size)


def _tee(member: Member, room: Room) -> Line:
    return Line(_TEES[member.kind], member.start, member.end, _member_title(member, room))


def _member_title(member: Member, room: Room) -> str:
    kind = words.say(f"members.{member.kind}")
    length = written_piece(member.length, room.units, whole=member.whole)
    return words.say("members.title", kind=kind, id=member.id, length=length)
