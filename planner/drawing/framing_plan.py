"""The framing and hanging plan: runs with their splices, tees, joists, hangers; for the person on the ladder.

In: a `Plan`, a style, what somebody wishes of the sheet. Out: one `Sheet`. Runs bear their ids; every joint of two of
their pieces is ticked; hangers are symbols with their data.
"""

from collections.abc import Iterator
from functools import partial

from shapely.geometry import LineString, Polygon

from planner.drawing import words
from planner.drawing.annotation import mark_findings
from planner.drawing.board import board_of, reach_of
from planner.drawing.ceiling_plan import service_symbols
from planner.drawing.column_marks import mark_columns
from planner.drawing.corner_marks import disc_ring, mark_corners
from planner.drawing.framing_words import about_framing, framing_signs, framing_words
from planner.drawing.hanger_marks import mark_shared_wires
from planner.drawing.hanger_symbols import (
    BRACE_HALF,
    HALF,
    WIDEST,
    blocking_outlines,
    brace_block,
    brace_symbols,
    hanger_block,
    hanger_symbols,
    leaning_lines,
    tie_dots,
)
from planner.drawing.labels import Heights
from planner.drawing.match_lines import Seams
from planner.drawing.member_marks import mark_members
from planner.drawing.place import ALONE, Place
from planner.drawing.plan_lines import plan_lines
from planner.drawing.plan_sheet import Drawn, Subject
from planner.drawing.plan_sheets import plan_sheets
from planner.drawing.roles import Role
from planner.drawing.schedules import Limits
from planner.drawing.service_marks import mark_services
from planner.drawing.shapes import Line, Shape, Sheet
from planner.drawing.splices import splices
from planner.drawing.strings import Surround, surround
from planner.drawing.stylebook import Style
from planner.drawing.symbols import look_of
from planner.drawing.tables import moved
from planner.drawing.wall_marks import tell_chains
from planner.drawing.wish import SheetWish
from planner.planning import Plan
from planner.room.outline import Room

KEY = "framing"

#: Hangers drawn one by one; beyond this nobody can tell them apart.
MOST_HANGERS = 3000
_HIDDEN = (Role.CUT_SHADE, Role.CUT_PANEL)

_LIMITS = (
    (Limits(24, 8, 0, 0), 1.0),
    (Limits(10, 5, 0, 0), 1.05),
    (Limits(4, 3, 0, 0), 1.3),
    (Limits(0, 2, 0, 0), 1.8),
    (Limits(0, 0, 0, 0), 2.5),
)


@words.in_its_language
def framing_sheets(plan: Plan, style: Style, wish: SheetWish, place: Place = ALONE) -> tuple[Sheet, ...]:
    """One sheet, or an overview and parts; PlannerError when the plan does not fit paper and scale."""
    return plan_sheets(plan, style, wish, place, subject_of(plan, Heights.of(style), place))


def subject_of(plan: Plan, heights: Heights, place: Place) -> Subject:
    """What the sheets show."""
    hung = plan.ceiling.system.fixing == "hung"
    return Subject(
        key=KEY,
        title=words.say("sheets.framing") if hung else words.say("sheets.framing direct"),
        note=f"{words.say('sheets.reflected')} {words.say('sheets.framing note')}",
        limits=_LIMITS,
        around=lambda scale, seams: surround(plan.room, plan.ceiling.layout, heights, scale, seams),
        draw=partial(_draw, plan, heights),
        signs=lambda scale: framing_signs(plan, scale, heights),
        say=partial(framing_words, plan, heights, place),
    )


def _draw(plan: Plan, heights: Heights, scale: float, around: Surround, seams: Seams) -> Drawn:
    """The frame and what it hangs from, lettered for a scale."""
    looks = [look_of(service, scale) for service in plan.ceiling.services]
    hangers = plan.ceiling.hangers[:MOST_HANGERS]
    lines = (shape for shape in plan_lines(plan.room, plan.ceiling) if shape.role not in _HIDDEN)
    board = board_of(plan, looks, around.shapes, scale, heights, seams)
    for hanger in hangers:
        board.bodies.add(disc_ring(board.paper(hanger.overhead), WIDEST * HALF))
    for at in plan.ceiling.braces:
        board.bodies.add(disc_ring(board.paper(at), BRACE_HALF))
    ticks = splices(plan.ceiling, scale)
    for tick in ticks:
        board.strokes.add_stroke(board.paper(tick.start), board.paper(tick.end))
    leaning, blocking = tuple(leaning_lines(hangers)), tuple(blocking_outlines(plan.room, hangers))
    for line in leaning:
        board.strokes.add_stroke(board.paper(line.start), board.paper(line.end))
    for block in blocking:
        board.faint.add(tuple(map(board.paper, block.points)))
    joists = tuple(joist_lines(plan.room))
    for joist in joists:
        board.faint.add_stroke(board.paper(joist.start), board.paper(joist.end))
    mark_corners(board)
    mark_columns(board, reach_of(board, around))
    mark_services(board, looks)
    mark_findings(board, looks, about_framing)
    mark_shared_wires(board)
    mark_members(board)
    tell_chains(board)
    shapes: tuple[Shape, ...] = (
        *joists,
        *blocking,
        *lines,
        *ticks,
        *service_symbols(plan, looks),
        *leaning,  # over tees and the frames of lights, along which most of them run
        *tie_dots(hangers, scale),
        *hanger_symbols(hangers, scale, plan.room.units),
        *brace_symbols(plan.ceiling.braces, scale),
        *around.shapes,
        *moved(board.shapes, (0.0, 0.0), scale),
    )
    kinds = dict.fromkeys(hanger.kind for hanger in hangers)
    blocks = {look.block.name: look.block for look in looks}
    signs = [hanger_block(kind, scale) for kind in kinds]
    if plan.ceiling.braces:
        signs.append(brace_block(scale))
    blocks |= {block.name: block for block in signs}
    if len(plan.ceiling.hangers) > len(hangers):
        board.remarks.append(words.say("left out.hangers", n=len(plan.ceiling.hangers) - len(hangers)))
    return Drawn(shapes, tuple(blocks.values()), tuple(board.remarks))


def joist_lines(room: Room) -> Iterator[Line]:
    """The joists as far as they are over the room; none when they are not known."""
    if room.joists is None:
        return
    box, joists = room.box, room.joists
    low, high = (box.left, box.right) if joists.direction == "across" else (box.bottom, box.top)
    inside = Polygon(room.outline)
    first = int((low - joists.first) // joists.spacing)
    for k in range(first, int((high - joists.first) // joists.spacing) + 2):
        at = joists.first + k * joists.spacing
        if joists.direction == "across":
            line = LineString([(at, box.bottom - 1.0), (at, box.top + 1.0)])
        else:
            line = LineString([(box.left - 1.0, at), (box.right + 1.0, at)])
        part = inside.intersection(line)
        for piece in getattr(part, "geoms", (part,)):
            if piece.geom_type == "LineString" and piece.length > 1.0:
                (ax, ay), (bx, by) = piece.coords[0], piece.coords[-1]
                yield Line(Role.JOIST, (ax, ay), (bx, by), words.say("legend.joist"))
