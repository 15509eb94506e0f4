"""Which sheet shows which part: small on every part, large on the overview.

In: a room, its parts, the numbers of their sheets. Out: a stack in paper millimetres, or shapes in the room's.
"""

from collections.abc import Iterator, Sequence

from planner.ceiling.marks import class_letters
from planner.drawing import words
from planner.drawing.board import Board, bare_board
from planner.drawing.labels import Heights, Taken, box_ring, first_free, text_ring
from planner.drawing.lettering import text_width
from planner.drawing.match_lines import Part, Seams
from planner.drawing.plan_lines import column_shapes, walls_shape
from planner.drawing.roles import Role
from planner.drawing.shapes import Line, Outline, Shape, Text
from planner.drawing.tables import Row, Stack, drawn_rows, moved
from planner.geometry import Box, Point, box_of, edges
from planner.planning import Plan
from planner.room.outline import Room

_WIDEST, _TALLEST = 60.0, 42.0
_ABOVE = 2.0


def key_plan(
    room: Room, parts: Sequence[Part], shown: int, sheets: Sequence[tuple[int, str]], width: float, heights: Heights
) -> Stack:
    """A small outline of the room with the part that is shown tinted and, where there is room, the sheets' numbers.

    `sheets` has a number and a key for each part; the numbers lead there.
    """
    box = room.box
    scale = max(box.width / min(width, _WIDEST), box.height / _TALLEST)
    taken = Taken()
    for a, b in edges(room.outline):
        taken.add_stroke((a[0] / scale, a[1] / scale), (b[0] / scale, b[1] / scale))
    cells = [_scaled(_within(part.core, box), 1.0 / scale) for part in parts]
    shapes: list[Shape] = [Outline(Role.KEY_PLAN, box_ring(cell)) for cell in cells]
    if cells:
        shapes.insert(0, Outline(Role.KEY_SHADE, box_ring(cells[shown]), fill=True))
    for cell, (number, goal) in zip(cells, sheets, strict=True):
        places = (Text(Role.KEY_PLAN, at, str(number), "centre", "middle", link=goal) for at in _spots(cell))
        inner = cell.grown(-0.2)
        fitting = (p for p in places if inner.holds(box_of(text_ring(p, heights[Role.KEY_PLAN]))))
        found = first_free(fitting, heights[Role.KEY_PLAN], taken, gap=0.2)
        shapes += [found] if found is not None else []
    walls = tuple((wall.start[0] / scale, wall.start[1] / scale) for wall in room.walls)
    shapes.append(Outline(Role.TITLE_BLOCK, walls, bulges=room.bulges))
    placed = moved(shapes, (-box.left / scale, -box.top / scale - _ABOVE))
    return drawn_rows(words.say("parts.key plan"), (Row(box.height / scale + 2 * _ABOVE, placed),), width, heights)


def overview_shapes(
    plan: Plan, parts: Sequence[Part], seams: Seams, sheets: Sequence[tuple[int, str]], scale: float, heights: Heights
) -> tuple[Shape, ...]:
    """Walls, columns and match lines, each part lettered with the sheet that shows it; the room's millimetres."""
    board = bare_board(plan, scale, heights)
    lines = list(_lettered_lines(board, seams))
    for part, (number, goal) in zip(parts, sheets, strict=True):
        _letter_part(board, _within(part.core, plan.room.box), number, goal)
    return (
        walls_shape(plan.room),
        *(shape for column in plan.room.columns for shape in column_shapes(column)),
        *moved(lines, (0.0, 0.0), scale),
        *moved(board.shapes, (0.0, 0.0), scale),
    )


def _lettered_lines(board: Board, seams: Seams) -> Iterator[Line]:
    """Match lines from side to side, their letters at both ends."""
    box = board.plan.room.box
    height = board.heights[Role.MATCH_LINE]
    ends: list[tuple[Point, Point]] = [((x, box.bottom), (x, box.top)) for x in seams.upright]
    ends += [((box.left, y), (box.right, y)) for y in seams.lying[::-1]]
    for k, (a, b) in enumerate(ends):
        upright = k < len(seams.upright)
        (ax, ay), (bx, by) = board.paper(a), board.paper(b)
        first, last = ((ax, ay - 3.0), (bx, by + 3.0)) if upright else ((ax - 3.0, ay), (bx + 3.0, by))
        board.texts.add_stroke(first, last)
        yield Line(Role.MATCH_LINE, first, last)
        letter = class_letters(k).upper()
        off = 0.8 + height / 2 if upright else 0.8 + text_width(letter, height) / 2
        for (x, y), way in ((first, -1.0), (last, 1.0)):
            at = (x, y + way * off) if upright else (x + way * off, y)
            board.letter([Text(Role.MATCH_LINE, at, letter, "centre", "middle")])


def _letter_part(board: Board, cell: Box, number: int, goal: str) -> None:
    """The number of a part's sheet, in full where there is room; it leads there."""
    spots = _spots(_scaled(cell, 1.0 / board.scale))
    full, short = words.say("parts.sheet", n=number), str(number)
    for text, role in ((full, Role.HEADING), (full, Role.KEY_PLAN), (short, Role.KEY_PLAN)):
        places = [Text(role, at, text, "centre", "middle", link=goal) for at in spots]
        if board.letter(places, board.bodies, board.walls):
            return
    board.letter([Text(Role.KEY_PLAN, at, short, "centre", "middle", link=goal) for at in spots])


def _spots(cell: Box) -> list[Point]:
    """Points all over a part, those near its middle first."""
    shares = [(x / 10, y / 10) for x in range(1, 10) for y in range(1, 10)]
    shares.sort(key=lambda share: (share[0] - 0.5) ** 2 + (share[1] - 0.5) ** 2)
    return [(cell.left + x * cell.width, cell.bottom + y * cell.height) for x, y in shares]


def _scaled(box: Box, factor: float) -> Box:
    """A box made larger about (0, 0)."""
    return Box(*(factor * side for side in (box.left, box.bottom, box.right, box.top)))


def _within(core: Box, room: Box) -> Box:
    """A part as far as the box around the room."""
    return Box(
        max(core.left, room.left), max(core.bottom, room.bottom), min(core.right, room.right), min(core.top, room.top)
    )
