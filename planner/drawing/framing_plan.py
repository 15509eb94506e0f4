"""The framing and hanging plan: runs with their splices, tees, joists, hangers; for the person on the ladder.

In: a `Plan`, a style, what somebody wishes of the sheet. Out: one `Sheet`. Runs bear their ids and the cut length of
their first piece; every piece joint of a run is ticked; hangers are symbols with their data.
"""

import itertools
import math
from collections.abc import Iterator, Sequence
from functools import partial

from shapely.geometry import LineString, Polygon

from planner.ceiling.members.left_first import pieces_in_order, runs_backwards
from planner.ceiling.model import Member
from planner.drawing import words
from planner.drawing.annotation import mark_findings
from planner.drawing.board import Board, board_of
from planner.drawing.ceiling_plan import service_symbols
from planner.drawing.corner_marks import disc_ring, mark_corners
from planner.drawing.dimensions import written_piece
from planner.drawing.framing_words import about_framing, framing_signs, framing_words
from planner.drawing.hanger_symbols import HALF, brace_block, brace_symbols, hanger_block, hanger_symbols
from planner.drawing.labels import MASK, Heights, Taken, descent, steady
from planner.drawing.lettering import text_width
from planner.drawing.match_lines import Seams
from planner.drawing.member_roles import MEMBER_ROLES, RUNS
from planner.drawing.place import ALONE, Place
from planner.drawing.plan_lines import plan_lines
from planner.drawing.plan_sheet import Drawn, Subject
from planner.drawing.plan_sheets import plan_sheets
from planner.drawing.roles import Role
from planner.drawing.schedules import Limits
from planner.drawing.service_marks import mark_services
from planner.drawing.shapes import Line, Shape, Sheet, Text
from planner.drawing.strings import Surround, surround
from planner.drawing.stylebook import Style
from planner.drawing.symbols import look_of
from planner.drawing.tables import moved
from planner.drawing.wish import SheetWish
from planner.geometry import Point, distance
from planner.planning import Plan
from planner.room.outline import Room

KEY = "framing"

#: Hangers drawn one by one; beyond this nobody can tell them apart.
MOST_HANGERS = 3000
#: Where grid lines are closer on paper than this, in heights of capitals, no letters find room between them.
_LEGIBLE = 1.2
#: Members lettered one by one.
_MOST_MARKS = 1500
_TICK = 1.6  #: half a splice tick, paper millimetres
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
        board.bodies.add(disc_ring(board.paper(hanger.at), 1.3 * HALF))
    for at in plan.ceiling.braces:
        board.bodies.add(disc_ring(board.paper(at), 2.0 * HALF))
    ticks = tuple(tick for member in plan.ceiling.members for tick in splice_ticks(member, scale))
    for tick in ticks:
        board.strokes.add_stroke(board.paper(tick.start), board.paper(tick.end))
    joists = tuple(joist_lines(plan.room))
    for joist in joists:
        board.faint.add_stroke(board.paper(joist.start), board.paper(joist.end))
    mark_corners(board)
    mark_services(board, looks)
    mark_findings(board, about_framing)
    _mark_members(board)
    shapes: tuple[Shape, ...] = (
        *joists,
        *lines,
        *ticks,
        *service_symbols(plan, looks),
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


def splice_ticks(member: Member, scale: float) -> Iterator[Line]:
    """A tick across a run at each joint between two of its pieces."""
    if member.kind not in RUNS:
        return
    long = distance(member.start, member.end)
    if long == 0.0:
        return
    way = ((member.end[0] - member.start[0]) / long, (member.end[1] - member.start[1]) / long)
    lengths = [piece.length for piece in member.pieces for _ in range(piece.count)]
    for at in itertools.accumulate(lengths[:-1]):
        x, y = member.start[0] + at * way[0], member.start[1] + at * way[1]
        dx, dy = -way[1] * _TICK * scale, way[0] * _TICK * scale
        yield Line(Role.SPLICE, (x - dx, y - dy), (x + dx, y + dy), words.say("framing.splice title", id=member.id))


def _mark_members(board: Board) -> None:
    """Runs, then tees."""
    members = board.plan.ceiling.members
    runs = [member for member in members if member.kind in RUNS]
    others = [member for member in members if member.kind in ("cross tee", "furring strip")]
    between = min(board.plan.ceiling.layout.module) / board.scale
    legible = between >= _LEGIBLE * board.heights[Role.MEMBER_MARK]
    marked = [*runs, *others][:_MOST_MARKS] if legible else []
    left_out = sum(not _mark_member(board, member) for member in marked) + len(runs) + len(others) - len(marked)
    if left_out:
        board.remarks.append(words.say("left out.member marks", n=left_out, of=len(runs) + len(others)))


def _mark_member(board: Board, member: Member) -> bool:
    """A run bears its id and, beside its first piece, the length of that; a tee its id.

    On a plan in parts, each part bears the id.
    """
    walls = (board.bodies, board.walls)
    clear, needy = ((*walls, board.strokes), MASK), ((*walls, board.mains), MASK)
    free = ((*walls, board.strokes, board.faint), 0.0)
    run = member.kind in RUNS and bool(member.pieces)
    tries = (free, clear, needy) if member.kind in RUNS else (free, clear)

    def letter(text: str, how: tuple[Sequence[Taken], float], part: tuple[int, int], share: float = math.inf) -> bool:
        places = board.by_part(_mark_places(board, member, text, share)).get(part, [])
        return board.letter(places, *how[0], gap=0.15, mask=how[1])

    parts = list(board.by_part(_mark_places(board, member, member.id)))
    both = False
    if run and parts:
        piece = pieces_in_order(member)[0]
        first = written_piece(piece.length, board.plan.room.units, whole=piece.whole)
        share = piece.length / member.length
        both = any(letter(f"{member.id}  {first}", how, parts[0], share) for how in (free, clear))
    lettered = [k for k in parts if (both and k == parts[0]) or any(letter(member.id, how, k) for how in tries)]
    if run and not both and lettered and lettered[0] == parts[0]:
        any(letter(first, how, parts[0], share) for how in (free, clear))
    return bool(lettered)


def _mark_places(board: Board, member: Member, text: str, share: float = math.inf) -> list[Text]:
    """Places beside a member, from its start on, above the line and then below it.

    `share`: within so much of its length, for words about a part of it.
    """
    a, b = board.paper(member.start), board.paper(member.end)
    if runs_backwards(member):
        a, b = b, a
    long = distance(a, b)
    if long < 1.0:
        return []
    way = ((b[0] - a[0]) / long, (b[1] - a[1]) / long)
    height = board.heights[Role.MEMBER_MARK]
    along = math.degrees(math.atan2(way[1], way[0]))
    angle, edge = steady(along), board.heights.pen(MEMBER_ROLES[member.kind]) / 2
    above = math.copysign(1.0, math.cos(math.radians(angle - along)))
    lifts = (above * ((0.5 + descent(text)) * height + edge + MASK + 0.05), -above * (0.5 * height + edge + 0.5))
    found = []
    last = share * long - text_width(text, height) / 2
    for k in range(1, 24):
        off = (2 * k - 1) * long / 48 if long > 60.0 else k * long / 24
        if off > last:
            break
        for lift in lifts:
            at: Point = (a[0] + off * way[0] - lift * way[1], a[1] + off * way[1] + lift * way[0])
            found.append(Text(Role.MEMBER_MARK, at, text, "centre", "middle", angle))
    return found
