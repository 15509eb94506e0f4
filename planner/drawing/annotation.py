"""Letters and signs on the plan: corners, services, the start point, findings, panel ids. None lies on another.

In: a plan, a scale, what stands around the room already. Out: shapes in the room's millimetres, and sentences about
what had to be left out. Places are found in paper millimetres, in this order: dimension strings are given, then
corners, service marks, the start point, findings, walls, and panel ids last, because a schedule can stand in for them.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from planner.drawing import words
from planner.drawing.board import Board, around, board_of
from planner.drawing.corner_marks import disc_ring, free_disc, mark_corners
from planner.drawing.dimensions import written
from planner.drawing.labels import MASK, Heights, box_ring
from planner.drawing.lettering import clean, text_width
from planner.drawing.match_lines import WHOLE, Seams
from planner.drawing.panel_marks import inside, mark_panels
from planner.drawing.roles import Role
from planner.drawing.service_marks import mark_services
from planner.drawing.shapes import Circle, Line, Outline, Shape, Text
from planner.drawing.strings import Surround
from planner.drawing.symbols import Look
from planner.drawing.tables import moved
from planner.drawing.wall_marks import mark_walls
from planner.findings import Finding
from planner.gathering import Gathered, gathered
from planner.geometry import Box, Frame, Point, box_of
from planner.planning import Plan

_START_RADIUS = 1.6
#: Lines are left out so far around a number in its circle, in heights of its figures.
_WITHIN = 0.2


@dataclass(frozen=True, slots=True)
class Annotated:
    """What was lettered, and what was not."""

    shapes: tuple[Shape, ...]
    remarks: tuple[str, ...]


def annotate(
    plan: Plan, looks: Sequence[Look], strings: Surround, scale: float, heights: Heights, seams: Seams = WHOLE
) -> Annotated:
    """Letter a plan at 1:`scale`; `looks` are those of its services, in their order."""
    board = board_of(plan, looks, strings.shapes, scale, heights, seams)
    if not strings.complete:
        board.remarks.append(words.say("left out.strings"))
    mark_corners(board)
    _mark_start(board)
    mark_services(board, looks)
    mark_findings(board)
    mark_walls(board)
    _tag_height(board)
    mark_panels(board)
    return Annotated(moved(board.shapes, (0.0, 0.0), scale), tuple(board.remarks))


def finding_said(finding: Gathered) -> str:
    """How grave a finding is, and its message."""
    return words.say(f"findings.{finding.severity}", message=finding.message)


def start_target(at: Point, radius: float) -> tuple[Shape, ...]:
    """The sign of the start point: a target with two of its quarters filled (our own; no standard sign was found)."""
    x, y = at
    reach = 1.9 * radius
    quarters = []
    for first in (0.0, 180.0):
        turns = (math.radians(first + 90.0 * k / 8) for k in range(9))
        bow = tuple((x + radius * math.cos(t), y + radius * math.sin(t)) for t in turns)
        quarters.append(Outline(Role.START_POINT, ((x, y), *bow), fill=True))
    return (
        *quarters,
        Circle(Role.START_POINT, at, radius, title=words.say("legend.start point")),
        Line(Role.START_POINT, (x - reach, y), (x + reach, y)),
        Line(Role.START_POINT, (x, y - reach), (x, y + reach)),
    )


def _mark_start(board: Board) -> None:
    x, y = board.paper(board.plan.ceiling.layout.frame.origin)
    board.shapes += start_target((x, y), _START_RADIUS)
    r, reach = _START_RADIUS + 0.2, 1.9 * _START_RADIUS
    board.texts.add_stroke((x - reach, y), (x + reach, y))
    board.texts.add_stroke((x, y - reach), (x, y + reach))
    board.bodies.add(box_ring(Box(x - r, y - r, x + r, y + r)))
    candidates = around(Role.START_POINT, words.say("legend.start"), (x, y), (r, r), 0.5)
    _letter_best(board, candidates)


def _letter_best(board: Board, candidates: Sequence[Text]) -> bool:
    """Letter where no line is crossed; else across tees, which are left out below; else across a wall."""
    return (
        board.letter(candidates, board.bodies, board.walls, board.strokes)
        or board.letter(candidates, board.bodies, board.walls, board.mains, mask=MASK)
        or board.letter(candidates, board.bodies, board.walls, mask=MASK)
        or board.letter(candidates, board.bodies)
    )


def mark_findings(board: Board, wanted: Callable[[Finding], bool] = lambda finding: True) -> None:
    """A number in a circle beside each place of each wanted finding, with a line to it."""
    height = board.heights[Role.FINDING]
    numbered = enumerate(gathered(board.plan.findings), start=1)
    places_of = ((n, told, place) for n, told in numbered if wanted(told.findings[0]) for place in told.places)
    for number, finding, place in places_of:
        at = board.paper(place)
        radius = max(0.9 * height, text_width(str(number), height) / 2 + 0.35 * height)
        places = [(off, turn) for off in (3.0, 6.0, 10.0, 15.0) for turn in range(45, 405, 45)]
        centres = [(off, turn, Frame(at, turn).outward((radius + off, 0.0))) for off, turn in places]
        led = [place for place in centres if board.texts.free((at, Frame(at, place[1]).outward((place[0], 0.0))))]
        tries = ((led, (board.walls, board.strokes)), (led, (board.walls,)), (centres, (board.walls,)), (centres, ()))
        found = (place for some, avoid in tries for place in some if free_disc(board, place[2], radius, *avoid))
        chosen = next(found, None)
        if chosen is None:
            continue
        off, turn, centre = chosen
        tip = Frame(at, turn).outward((off, 0.0))
        board.texts.add(disc_ring(centre, radius))
        board.texts.add_stroke(at, tip)
        title = clean(finding_said(finding))
        board.shapes += [
            Text(Role.FINDING, centre, str(number), "centre", "middle", mask=_WITHIN * height),
            Circle(Role.FINDING, at, 0.5, fill=True),
            Line(Role.FINDING, at, tip),
            Circle(Role.FINDING, centre, radius, title=title),
        ]


def _tag_height(board: Board) -> None:
    """The height of the ceiling in a box, as near the middle of the room as there is room for it."""
    if board.plan.ceiling.height is None:
        return
    height = board.heights[Role.NOTE]
    text = words.say("legend.height tag", height=written(board.plan.ceiling.height, board.plan.room.units))
    half = (text_width(text, height) / 2 + 0.6 * height, 0.95 * height)
    places = [at for at in _spots(board) if inside(at, board.ring)]
    for avoid, mask in (((board.strokes,), 0.0), ((board.mains,), 1.0), ((), 1.0)):
        for x, y in places:
            ring = box_ring(Box(x - half[0], y - half[1], x + half[0], y + half[1]))
            if all(taken.free(ring) for taken in (board.texts, board.bodies, board.walls, *avoid)):
                board.texts.add(ring)
                board.shapes.append(Text(Role.NOTE, (x, y), text, "centre", "middle", mask=mask * 0.45 * height))
                board.shapes.append(Outline(Role.NOTE, ring, title=words.say("legend.height tag meaning")))
                return


def _spots(board: Board) -> list[Point]:
    """Points all over the room, those near its middle first."""
    box = box_of(board.ring)
    shares = [(x / 20, y / 40) for x in range(1, 20) for y in range(1, 40)]
    shares.sort(key=lambda share: (share[0] - 0.5) ** 2 + (share[1] - 0.5) ** 2)
    return [(box.left + x * box.width, box.bottom + y * box.height) for x, y in shares]
