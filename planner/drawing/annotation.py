"""Letters and signs on the plan: corners, services, the start point, findings, panel ids. None lies on another.

In: a plan, a scale, what stands around the room already. Out: shapes in the room's millimetres, and sentences about
what had to be left out. Places are found in paper millimetres, in this order: dimension strings are given, then
corners, service marks, the start point, findings, walls, and panel ids last, because a schedule can stand in for them.
"""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from planner.drawing import words
from planner.drawing.board import Board, around, board_of
from planner.drawing.corner_marks import disc_ring, free_disc, mark_corners
from planner.drawing.dimensions import written
from planner.drawing.labels import (
    Heights,
    box_ring,
    ends_of,
    text_ring,
)
from planner.drawing.lettering import clean, text_width
from planner.drawing.match_lines import WHOLE, Seams
from planner.drawing.panel_marks import inside, mark_panels
from planner.drawing.roles import Role
from planner.drawing.shapes import Circle, Line, Outline, Shape, Text
from planner.drawing.strings import Surround
from planner.drawing.symbols import Look
from planner.drawing.tables import moved
from planner.drawing.wall_marks import mark_walls
from planner.drawing.wrapping import shortened
from planner.findings import Finding
from planner.geometry import Box, Frame, Point, box_of
from planner.planning import Plan

_START_RADIUS = 1.6
#: Side of the squares by which services are found again; distances that look alike; paper millimetres.
_SQUARE = 10.0
_ALIKE = 0.3
#: Where lines cross letters, they had better keep clear of so much of their width at both ends.
_ENDS = 0.08
#: Names longer than this on paper are shortened.
_LONGEST_MARK = 22.0


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


def findings_in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The gravest first; their place here, counted from 1, is their number on the sheet."""
    rank = {"stop": 0, "warn": 1, "note": 2}
    return tuple(sorted(findings, key=lambda finding: rank[finding.severity]))


def finding_said(finding: Finding) -> str:
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
    r = _START_RADIUS + 0.2
    board.bodies.add(box_ring(Box(x - r, y - r, x + r, y + r)))
    candidates = around(Role.START_POINT, words.say("legend.start"), (x, y), (r, r), 0.5)
    _letter_best(board, candidates)


def _letter_best(board: Board, candidates: Sequence[Text]) -> bool:
    """Letter where no line is crossed; else across tees; else across a wall."""
    crossings = ((board.walls, board.strokes), (board.walls,), ())
    return any(board.letter(candidates, board.bodies, *avoid) for avoid in crossings)


def mark_services(board: Board, looks: Sequence[Look]) -> None:
    """The name of each service; where some have no room, the number of each in the list of services instead."""
    services = board.plan.ceiling.services
    before = board.texts.copy(), len(board.shapes)
    left_out = _letter_services(board, looks, [service.name for service in services], Role.SERVICE_MARK)
    if left_out:
        named = board.texts, board.shapes[before[1] :]
        board.texts = before[0]
        del board.shapes[before[1] :]
        keys = [str(number) for number in range(1, len(services) + 1)]
        without_key = _letter_services(board, looks, keys, Role.SERVICE_KEY)
        if without_key < left_out:
            board.remarks.append(words.say("left out.keyed services"))
            left_out = without_key
        else:
            board.texts = named[0]
            board.shapes[before[1] :] = named[1]
    if left_out:
        board.remarks.append(words.say("left out.service marks", n=left_out, of=len(services)))


def _letter_services(board: Board, looks: Sequence[Look], marks: Sequence[str], role: Role) -> int:
    """A mark in its symbol where no line is crossed, else beside it, else wherever it can be read; how many cannot."""
    left_out = 0
    height = board.heights[role]
    others = _Neighbours([board.paper(service.at) for service in board.plan.ceiling.services])
    for service, look, mark in zip(board.plan.ceiling.services, looks, marks, strict=True):
        text = shortened(clean(mark), _LONGEST_MARK, height)
        at = board.paper(service.at)
        half = (look.half[0] / board.scale, look.half[1] / board.scale)
        inside = [t for t in _within(text, at, half, role) if _holds(at, half, t, height)]
        outside = [t for t in around(role, text, at, half, 0.7) if others.belongs(box_of(text_ring(t, height)), at)]
        across = [t for t in outside if all(map(board.strokes.free, ends_of(text_ring(t, height), _ENDS)))]
        tries = (
            ([t for t in inside if not t.angle_deg], (board.strokes, board.faint)),
            (inside, (board.strokes,)),
            (outside, (board.bodies, board.walls, board.strokes, board.faint)),
            (outside, (board.bodies, board.walls, board.strokes)),
            (across, (board.bodies, board.walls, board.mains)),
            (outside, (board.bodies, board.walls, board.mains)),
            (outside, (board.bodies, board.walls)),
            (inside, ()),
            (outside, (board.bodies,)),
        )
        if not any(places and board.letter(places, *avoid) for places, avoid in tries):
            left_out += 1
    return left_out


class _Neighbours:
    """Services found again by squares on the paper, so that none of a thousand marks stands beside another's sign."""

    def __init__(self, places: Sequence[Point]) -> None:
        self._cells: dict[tuple[int, int], list[Point]] = {}
        for place in places:
            self._cells.setdefault(self._cell(place), []).append(place)

    def belongs(self, letters: Box, own: Point) -> bool:
        """Whether letters are nearer to their own sign than to any other, or as near."""
        i, j = self._cell(letters.centre)
        near = (p for u in (-1, 0, 1) for v in (-1, 0, 1) for p in self._cells.get((i + u, j + v), ()))
        return all(_off(letters, own) <= _off(letters, place) + _ALIKE for place in near)

    def _cell(self, place: Point) -> tuple[int, int]:
        return math.floor(place[0] / _SQUARE), math.floor(place[1] / _SQUARE)


def _off(box: Box, point: Point) -> float:
    """From a point to the nearest of a box."""
    x, y = point
    return math.hypot(max(box.left - x, 0.0, x - box.right), max(box.bottom - y, 0.0, y - box.top))


def _within(text: str, at: Point, half: Point, role: Role) -> Iterator[Text]:
    """Places in a symbol: beside a centre line, in the quarters, in the middle."""
    for angle in (0.0, 90.0):
        for x, y in (
            (0, 0.5),
            (0, -0.5),
            (0.5, 0),
            (-0.5, 0),
            (0.5, 0.5),
            (-0.5, 0.5),
            (0.5, -0.5),
            (0, -0.72),
            (0, 0),
        ):
            place = (at[0] + x * half[0], at[1] + y * half[1])
            yield Text(role, place, text, "centre", "middle", angle)


def _holds(at: Point, half: Point, text: Text, height: float) -> bool:
    box = box_of(text_ring(text, height))
    return Box(at[0] - half[0], at[1] - half[1], at[0] + half[0], at[1] + half[1]).holds(box.grown(0.3))


def mark_findings(board: Board, wanted: Callable[[Finding], bool] = lambda finding: True) -> None:
    """A number in a circle beside the place of each wanted finding, with a line to it."""
    height = board.heights[Role.FINDING]
    for number, finding in enumerate(findings_in_order(board.plan.findings), start=1):
        if finding.where is None or not wanted(finding):
            continue
        at = board.paper(finding.where)
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
        board.texts.add(disc_ring(centre, radius))
        title = clean(finding_said(finding))
        board.shapes += [
            Circle(Role.FINDING, at, 0.5, fill=True),
            Line(Role.FINDING, at, Frame(at, turn).outward((off, 0.0))),
            Circle(Role.FINDING, centre, radius, title=title),
            Text(Role.FINDING, centre, str(number), "centre", "middle"),
        ]


def _tag_height(board: Board) -> None:
    """The height of the ceiling in a box, as near the middle of the room as there is room for it."""
    room = board.plan.room
    if room.ceiling_height is None:
        return
    height = board.heights[Role.NOTE]
    text = words.say("legend.height tag", height=written(room.ceiling_height, room.units))
    half = (text_width(text, height) / 2 + 0.6 * height, 0.95 * height)
    places = [at for at in _spots(board) if inside(at, board.ring)]
    tries = (((board.walls, board.strokes), 1.0), ((board.walls, board.mains), _ENDS), ((board.walls,), _ENDS))
    for avoid, share in (*tries, ((board.walls,), 0.0)):
        for x, y in places:
            ring = box_ring(Box(x - half[0], y - half[1], x + half[0], y + half[1]))
            free = all(taken.free(ring) for taken in (board.texts, board.bodies, *avoid))
            if free and (not share or all(map(board.strokes.free, ends_of(ring, share)))):
                board.texts.add(ring)
                board.shapes.append(Outline(Role.NOTE, ring, title=words.say("legend.height tag meaning")))
                board.shapes.append(Text(Role.NOTE, (x, y), text, "centre", "middle"))
                return


def _spots(board: Board) -> list[Point]:
    """Points all over the room, those near its middle first."""
    box = box_of(board.ring)
    shares = [(x / 20, y / 40) for x in range(1, 20) for y in range(1, 40)]
    shares.sort(key=lambda share: (share[0] - 0.5) ** 2 + (share[1] - 0.5) ** 2)
    return [(box.left + x * box.width, box.bottom + y * box.height) for x, y in shares]
