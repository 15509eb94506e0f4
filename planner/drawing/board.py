"""The plan on paper while it is being lettered: what is taken, what should not be crossed, what was drawn so far.

In: a plan, how its services look, the strings around it. Out: a `Board`, on which others letter one thing after the
other. All of it in paper millimetres, the origin of the room at (0, 0).
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import chain

from planner.drawing.labels import Heights, Taken, box_ring, dimension_text, first_free, text_ring
from planner.drawing.ledges import ledge_edges, ledge_shape
from planner.drawing.match_lines import WHOLE, Seams
from planner.drawing.member_roles import MEMBER_ROLES, RUNS, TRIM
from planner.drawing.roles import Role
from planner.drawing.shapes import Dimension, Line, Outline, Shape, Text
from planner.drawing.strings import Surround
from planner.drawing.symbols import Look
from planner.geometry import Box, Frame, Point, Ring, box_of, edges
from planner.planning import Plan

#: Letters stand no further from the room than this, paper millimetres.
_AROUND = 150.0
#: Around a column, for the trim that its panels lie on.
TRIM_ROOM = 0.6
#: Extension lines run so far past the line of their dimension, and half of a tick spans so much; paper millimetres.
_PAST = 3.2
_TICK = 1.15


@dataclass(slots=True)
class Board:
    """What is taken so far, and what was lettered."""

    plan: Plan
    scale: float
    heights: Heights
    seams: Seams = WHOLE
    texts: Taken = field(default_factory=Taken)  #: nothing may lie on these
    bodies: Taken = field(default_factory=Taken)  #: symbols and columns
    walls: Taken = field(default_factory=Taken)  #: not crossed but in need
    mains: Taken = field(default_factory=Taken)  #: main tees once more: crossed only where it cannot be helped
    strokes: Taken = field(default_factory=Taken)  #: better not crossed: tees, lines of symbols and dimensions
    dims: Taken = field(
        default_factory=Taken
    )  #: lines of dimensions once more: not crossed by what can stand elsewhere
    trim: Taken = field(default_factory=Taken)  #: on the walls: nothing is lettered across it
    faint: Taken = field(default_factory=Taken)  #: joists and trim: letters stand beside them where that can be
    names: Taken = field(default_factory=Taken)  #: around names of columns: no mark of a panel beside them
    shapes: list[Shape] = field(default_factory=list)  #: on paper
    remarks: list[str] = field(default_factory=list)

    def paper(self, point: Point) -> Point:
        return (point[0] / self.scale, point[1] / self.scale)

    @property
    def ring(self) -> Ring:
        """The outline of the room."""
        return tuple(map(self.paper, self.plan.room.outline))

    def by_part(self, places: Iterable[Text]) -> dict[tuple[int, int], list[Text]]:
        """Places sorted by the part of the plan that they lie in, in the order in which the parts are met."""
        found: dict[tuple[int, int], list[Text]] = {}
        for place in places:
            x, y = place.at
            found.setdefault(self.seams.holding((x * self.scale, y * self.scale)), []).append(place)
        return found

    def letter(self, candidates: Iterable[Text], *avoid: Taken, gap: float = 0.3, mask: float = 0.0) -> bool:
        """Letter the first candidate that is free, on a mask where that is wished; True when there was one."""
        places = iter(candidates)
        first = next(places, None)
        if first is None:
            return False
        found = first_free(chain((first,), places), self.heights[first.role], self.texts, avoid, gap)
        if found is not None:
            self.shapes.append(replace(found, mask=mask) if mask else found)
        return found is not None


def board_of(
    plan: Plan,
    looks: Sequence[Look],
    strings: Iterable[Shape],
    scale: float,
    heights: Heights,
    seams: Seams = WHOLE,
) -> Board:
    """A board with everything entered that stands before the first mark is lettered."""
    board = Board(plan, scale, heights, seams)
    _enter_seams(board)
    _enter_lines(board)
    _enter_strings(board, strings)
    _enter_symbols(board, looks)
    return board


def bare_board(plan: Plan, scale: float, heights: Heights, seams: Seams = WHOLE) -> Board:
    """A board with nothing entered but walls and columns."""
    board = Board(plan, scale, heights, seams)
    _enter_seams(board)
    _enter_walls(board)
    return board


def reach_of(board: Board, strings: Surround) -> Box:
    """The room with all that stands around it, on the paper."""
    box = box_of(board.ring)
    left, bottom = box.left - strings.left, box.bottom - strings.bottom
    return Box(left, bottom, box.right + strings.right, box.top + strings.top)


def around(role: Role, text: str, at: Point, half: Point, gap: float) -> list[Text]:
    """Places around a body, right of it first: beside, above, below, at its corners; then once more further off."""
    found: list[Text] = []
    for off in (gap, gap + 2.2):
        x, y = half[0] + off, half[1] + off
        for side, dx, dy in (("left", x, 0.0), ("right", -x, 0.0)):
            found.append(Text(role, (at[0] + dx, at[1] + dy), text, side, "middle"))  # type: ignore[arg-type]
        for foot, dy in (("base", y), ("top", -y)):
            found.append(Text(role, (at[0], at[1] + dy), text, "centre", foot))  # type: ignore[arg-type]
        for side, dx in (("left", 0.5 * x), ("right", -0.5 * x)):
            for foot, dy in (("base", y), ("top", -y)):
                found.append(Text(role, (at[0] + dx, at[1] + dy), text, side, foot))  # type: ignore[arg-type]
    return found


def _enter_seams(board: Board) -> None:
    """Match lines and the edges of the parts beside them: no letters lie across."""
    box = box_of(board.ring).grown(_AROUND)
    for x in board.seams.stops(0):
        board.texts.add_stroke((x / board.scale, box.bottom), (x / board.scale, box.top))
    for y in board.seams.stops(1):
        board.texts.add_stroke((box.left, y / board.scale), (box.right, y / board.scale))


def _enter_walls(board: Board) -> None:
    for a, b in edges(board.plan.room.outline):
        board.walls.add_stroke(board.paper(a), board.paper(b), board.heights.pen(Role.WALL))
    for column in board.plan.room.columns:
        trim = TRIM_ROOM + board.heights.pen(Role.COLUMN) / 2
        board.bodies.add(box_ring(box_of(map(board.paper, column.outline)).grown(trim)))


def _enter_lines(board: Board) -> None:
    _enter_walls(board)
    room, ledge = board.plan.room, board.plan.ceiling.system.ledge
    inset = ledge_edges(room, ledge)
    for member in board.plan.ceiling.members:
        ends, pen = (board.paper(member.start), board.paper(member.end)), board.heights.pen(MEMBER_ROLES[member.kind])
        if member.kind not in TRIM:
            board.strokes.add_stroke(*ends, pen)
        if member.kind in RUNS:
            board.mains.add_stroke(*ends, pen)
        edge = ledge_shape(member, room, ledge, inset, "") if member.kind in TRIM else None
        if isinstance(edge, Line):
            board.faint.add_stroke(board.paper(edge.start), board.paper(edge.end))
            board.trim.add_stroke(board.paper(edge.start), board.paper(edge.end), pen)


def _enter_strings(board: Board, strings: Iterable[Shape]) -> None:
    """Dimensions stand already: their letters are taken, their extension lines are strokes."""
    height = board.heights[Role.DIMENSION]
    for shape in strings:
        if isinstance(shape, Dimension):
            text = dimension_text(shape, height, board.scale)
            board.texts.add(tuple(map(board.paper, text_ring(text, height * board.scale))))
            for a, b in _lines_of(shape, board.scale):
                board.strokes.add_stroke(board.paper(a), board.paper(b), board.heights.pen(Role.DIMENSION))
                board.dims.add_stroke(board.paper(a), board.paper(b), board.heights.pen(Role.DIMENSION))


def _lines_of(shape: Dimension, scale: float) -> Iterator[tuple[Point, Point]]:
    """The line of a dimension along a side, its extension lines as far as they run, its ticks."""
    lying = shape.angle_deg == 0.0
    feet = [(p[0], shape.line_at[1]) if lying else (shape.line_at[0], p[1]) for p in (shape.start, shape.end)]
    yield feet[0], feet[1]
    for point, (x, y) in zip((shape.start, shape.end), feet, strict=True):
        past = math.copysign(_PAST * scale, y - point[1] if lying else x - point[0])
        yield point, (x, y + past) if lying else (x + past, y)
        yield (x - _TICK * scale, y - _TICK * scale), (x + _TICK * scale, y + _TICK * scale)


def _enter_symbols(board: Board, looks: Sequence[Look]) -> None:
    for service, look in zip(board.plan.ceiling.services, looks, strict=True):
        board.bodies.add(_body(board, service.at, look))
        for shape in look.block.shapes:
            if isinstance(shape, Line):
                start, end = (Frame(service.at, turn_of(board.plan)).outward(p) for p in (shape.start, shape.end))
                board.strokes.add_stroke(board.paper(start), board.paper(end))
            elif isinstance(shape, Outline):
                for a, b in edges(shape.points):
                    frame = Frame(service.at, turn_of(board.plan))
                    board.strokes.add_stroke(board.paper(frame.outward(a)), board.paper(frame.outward(b)))


def turn_of(plan: Plan) -> float:
    """The angle at which services lie: with the grid, by the nearest quarter turn, since sizes are along the room."""
    angle = plan.ceiling.layout.frame.angle_deg % 90.0
    return angle if angle <= 45.0 else angle - 90.0


def _body(board: Board, at: Point, look: Look) -> Ring:
    frame = Frame(at, turn_of(board.plan))
    x, y = look.half
    return tuple(board.paper(frame.outward(corner)) for corner in ((-x, -y), (x, -y), (x, y), (-x, y)))
