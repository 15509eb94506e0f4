"""Letters and signs on the plan: corners, services, the start point, findings, panel ids. None lies on another.

In: a plan, a scale, what stands around the room already. Out: shapes in the room's millimetres, and sentences about
what had to be left out. Places are found in paper millimetres, in this order: dimension strings are given, then
corners, service marks, the start point, findings, walls, and panel ids last, because a schedule can stand in for them.
"""

import math
from collections.abc import Callable, Sequence
from itertools import product

from planner.drawing import words
from planner.drawing.board import Board, around, board_of, reach_of, turn_of
from planner.drawing.column_marks import mark_columns
from planner.drawing.corner_marks import disc_ring, free_disc, mark_corners
from planner.drawing.dimensions import written
from planner.drawing.labels import MASK, Heights, Taken, box_ring, broad
from planner.drawing.led_marks import cut_panels, led_text
from planner.drawing.lettering import clean, text_width
from planner.drawing.match_lines import WHOLE, Seams
from planner.drawing.panel_marks import mark_panels
from planner.drawing.roles import Role
from planner.drawing.service_marks import mark_services
from planner.drawing.shapes import Circle, Line, Outline, Shape, Text
from planner.drawing.strings import Surround
from planner.drawing.symbols import Look
from planner.drawing.tables import moved
from planner.drawing.wall_marks import mark_walls
from planner.drawing.within import inside
from planner.findings import Finding
from planner.gathering import Gathered, gathered
from planner.geometry import TOLERANCE_MM, Box, Frame, Point, Ring, box_of, distance
from planner.planning import Plan
from planner.records import dataclass

_START_RADIUS = 1.6
#: Lines are left out so far around a number in its circle, in heights of its figures.
_WITHIN = 0.2
#: A line to a number may touch others as far as this from its dot, millimetres.
_FROM_DOT = 1.0
#: Half of its dot; no dot stands on a symbol whose lesser half is smaller than this, millimetres; nor on these.
_DOT = 0.5
_SMALL = 2.5
_DEVICES = ("sprinkler", "smoke_detector", "downlight", "speaker", "exit_sign")
#: So many places of one finding on a line are a row; and a sine or cosine that is none.
_LEAST_ROW = 3
_LEVEL = 1e-9
#: The box with the height of the ceiling keeps so far from signs, millimetres.
_OFF_SIGNS = 1.5


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
    reach = reach_of(board, strings)
    mark_columns(board, reach)
    _mark_start(board, reach)
    mark_services(board, looks)
    mark_findings(board, looks)
    mark_walls(board)
    _tag_height(board)
    mark_panels(board, reach)
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


def _mark_start(board: Board, reach: Box) -> None:
    x, y = board.paper(board.plan.ceiling.layout.frame.origin)
    board.shapes += start_target((x, y), _START_RADIUS)
    r, arm = _START_RADIUS + 0.2, 1.9 * _START_RADIUS
    board.texts.add_stroke((x - arm, y), (x + arm, y))
    board.texts.add_stroke((x, y - arm), (x, y + arm))
    board.bodies.add(box_ring(Box(x - r, y - r, x + r, y + r)))
    _letter_start(board, (x, y), (r, arm), reach)


def _letter_start(board: Board, at: Point, sign: Point, reach: Box) -> None:
    """The word at the target where no line is crossed; else across tees, which are left out below, but on no cut panel,
    for its mark needs the room; else off the target with a line to it; else where there is room at all.
    """
    half, arm = sign
    said, clear = words.say("legend.start"), (board.bodies, board.walls, board.dims)
    beside = around(Role.START_POINT, said, at, (half, half), 0.5)
    cut = cut_panels(board)
    if board.letter(beside, *clear, board.strokes) or board.letter(beside, *clear, board.mains, cut, mask=MASK):
        return
    turns = tuple(15.0 + 30.0 * k for k in range(12))
    led = led_text(board, Role.START_POINT, said, ([(at, arm)], turns), cut, reach)
    if led is None:
        any(board.letter(beside, *avoid, mask=MASK) for avoid in ((*clear, board.mains), clear, (board.bodies,)))
        return
    text, line = led
    board.shapes += [text, Line(Role.START_POINT, *line)]
    board.texts.add_stroke(*line)


def mark_findings(
    board: Board, looks: Sequence[Look], wanted: Callable[[Finding], bool] = lambda finding: True
) -> None:
    """A number in a circle beside each place of each wanted finding, with a line to it; of a row, its first alone."""
    numbered = enumerate(gathered(board.plan.findings), start=1)
    for number, finding in ((n, told) for n, told in numbered if wanted(told.findings[0])):
        for place in dict.fromkeys(place for each in finding.findings for place in _led_places(board.plan, each)):
            _mark_finding(board, number, finding_said(finding), board.paper(place), _small_at(board, looks, place))


def _led_places(plan: Plan, finding: Finding) -> tuple[Point, ...]:
    """The places that numbers lead to: all, but of things in a row, which the finding names, the first."""
    if finding.where is None:
        return ()
    spots, layout = (finding.where, *finding.also), plan.ceiling.layout
    if len(spots) >= _LEAST_ROW:
        across = zip(*map(layout.frame.inward, spots), strict=True)
        for values, module in zip(across, layout.module, strict=True):
            if max(values) - min(values) <= module + TOLERANCE_MM:
                return spots[:1]
    return spots


def _small_at(board: Board, looks: Sequence[Look], place: Point) -> Look | None:
    """How the service at a place looks, if a dot would hide its sign."""
    for service, look in zip(board.plan.ceiling.services, looks, strict=True):
        if distance(service.at, place) <= TOLERANCE_MM:
            hidden = service.kind in _DEVICES or min(look.half) <= _SMALL * board.scale
            return look if hidden else None
    return None


def _mark_finding(board: Board, number: int, said: str, at: Point, small: Look | None) -> None:
    """One number, where there is room for it; nothing where there is none."""
    height = board.heights[Role.FINDING]
    radius = max(0.9 * height, text_width(str(number), height) / 2 + 0.35 * height)
    starts = {turn: _begin(board, at, turn, small) for turn in range(45, 405, 45)}
    places = [(off, turn) for off in (3.0, 6.0, 10.0, 15.0) for turn in starts]
    centres = [(off, turn, Frame(starts[turn], turn).outward((radius + off, 0.0))) for off, turn in places]
    led = [p for p in centres if board.texts.free((starts[p[1]], Frame(starts[p[1]], p[1]).outward((p[0], 0.0))))]
    alone = [place for place in led if board.strokes.free(_behind_dot(starts[place[1]], place[1]))]
    tries = (
        (alone, (board.walls, board.strokes)),
        (alone, (board.walls, board.dims, board.mains)),
        (led, (board.walls, board.strokes)),
        (led, (board.walls,)),
        (centres, (board.walls,)),
        (centres, ()),
    )
    found = (place for some, avoid in tries for place in some if free_disc(board, place[2], radius, *avoid))
    chosen = next(found, None)
    if chosen is None:
        return
    off, turn, centre = chosen
    start, tip = starts[turn], Frame(starts[turn], turn).outward((off, 0.0))
    board.texts.add(disc_ring(centre, radius))
    board.texts.add_stroke(start, tip)
    board.shapes += [
        Text(Role.FINDING, centre, str(number), "centre", "middle", mask=_WITHIN * height),
        Circle(Role.FINDING, start, _DOT, fill=True),
        Line(Role.FINDING, start, tip),
        Circle(Role.FINDING, centre, radius, title=clean(said)),
    ]


def _begin(board: Board, at: Point, turn: float, small: Look | None) -> Point:
    """Where the dot of a line stands: on its place, but beside a small symbol, which it touches."""
    if small is None:
        return at
    x, y = (half / board.scale for half in small.half)
    if any(isinstance(shape, Circle) and not shape.fill for shape in small.block.shapes):
        return Frame(at, turn).outward((max(x, y) + _DOT, 0.0))
    way = math.radians(turn - turn_of(board.plan))
    c, s = abs(math.cos(way)), abs(math.sin(way))
    edge = min(x / c if c > _LEVEL else math.inf, y / s if s > _LEVEL else math.inf)
    return Frame(at, turn).outward((edge + _DOT * (c + s), 0.0))


def _behind_dot(at: Point, turn: float) -> Ring:
    """What of the line to a number shows whether it runs along another, on which its dot may be."""
    way = Frame(at, turn)
    return broad(way.outward((_FROM_DOT, 0.0)), way.outward((3 * _FROM_DOT, 0.0)), 0.3 * _FROM_DOT)


def _tag_height(board: Board) -> None:
    """The height of the ceiling in a box, near the middle of the room; where it can be on whole panels, for marks are
    lettered in the cut ones.
    """
    if board.plan.ceiling.height is None:
        return
    height = board.heights[Role.NOTE]
    text = words.say("legend.height tag", height=written(board.plan.ceiling.height, board.plan.room.units))
    half = (text_width(text, height) / 2 + 0.6 * height, 0.95 * height)
    places = [at for at in _spots(board) if inside(at, board.ring)]
    cut, none = cut_panels(board), Taken()
    crossed = (((board.strokes,), 0.0), ((board.mains,), 1.0), ((), 1.0))
    for kept, (avoid, mask) in product((cut, none), crossed):
        for x, y in places:
            ring = box_ring(Box(x - half[0], y - half[1], x + half[0], y + half[1]))
            wide = box_ring(box_of(ring).grown(_OFF_SIGNS))
            if all(taken.free(ring) for taken in (board.walls, *avoid)) and all(
                taken.free(wide) for taken in (board.texts, board.bodies, kept)
            ):
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
