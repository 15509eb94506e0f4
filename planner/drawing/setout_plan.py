"""The set-out sheet: every mark along every wall with its running length, the strings, the diagonals that prove them.

In: a `Plan` whose ceiling has a set-out. Out: one `Sheet`, written for a person with a tape. Marks are running lengths
from the first corner of their wall, each rounded for itself, so that errors do not add up.
"""

import math
from collections.abc import Iterator, Sequence
from functools import partial

from planner.ceiling.model import Mark, SetOut
from planner.drawing import words
from planner.drawing.board import Board, bare_board
from planner.drawing.corner_marks import mark_corners, unit
from planner.drawing.dimensions import written
from planner.drawing.labels import Heights, Taken, steady, text_ring
from planner.drawing.lettering import clean
from planner.drawing.place import ALONE, Place
from planner.drawing.plan_lines import column_shapes, walls_shape
from planner.drawing.plan_sheet import Drawn, Subject, plan_sheet
from planner.drawing.roles import Role
from planner.drawing.schedules import Limits
from planner.drawing.setout_words import setout_words
from planner.drawing.shapes import Circle, Line, Shape, Sheet, Text
from planner.drawing.strings import Surround, corner_room
from planner.drawing.stylebook import Style
from planner.drawing.tables import moved, shortened
from planner.drawing.wish import SheetWish
from planner.geometry import Frame, Point, box_of
from planner.plan import Plan
from planner.room.outline import Wall

KEY = "set-out"

_LIMITS = (
    (Limits(0, 0, 2, 12), 1.0),
    (Limits(0, 0, 0, 4), 1.2),
    (Limits(0, 0, 0, 0), 1.6),
)
_TICK_IN, _TICK_OUT = 1.4, 2.0
#: From the wall to the letters of a mark, and to those of marks moved apart because they stand too close.
_NEAR, _FAR = 3.0, 6.0
#: Marks closer than this many heights of capitals are moved apart.
_APART = 1.5
#: Letters may stand so far beyond the ends of a short wall, millimetres in all.
_BEYOND = 20.0
#: Letters of a mark longer than this on paper, millimetres, are shortened.
_LONGEST = 48.0


def setout_plan(plan: Plan, style: Style, wish: SheetWish, place: Place = ALONE) -> Sheet | None:
    """The sheet, None when the ceiling has no set-out; PlannerError when the plan does not fit the paper."""
    setout = plan.ceiling.setout
    if setout is None:
        return None
    heights = Heights.of(style)
    subject = Subject(
        key=KEY,
        title=words.SET_OUT,
        note=words.SET_OUT_NOTE,
        limits=_LIMITS,
        around=lambda scale: _around(plan, setout, heights, scale),
        draw=partial(_draw, plan, setout, heights),
        say=partial(setout_words, plan, setout, heights, place),
    )
    return plan_sheet(plan, style, wish, place, subject)


def _around(plan: Plan, setout: SetOut, heights: Heights, scale: float) -> Surround:
    """The marks of all walls, and how far their letters reach."""
    board = bare_board(plan, scale, heights)
    mark_corners(board)
    left_out = _mark_walls(board, setout)
    room, clear = plan.room.box, corner_room(heights)
    rings = [
        point for shape in board.shapes if isinstance(shape, Text) for point in text_ring(shape, heights[shape.role])
    ]
    box = box_of([(room.left / scale, room.bottom / scale), (room.right / scale, room.top / scale), *rings])
    return Surround(
        moved(board.shapes, (0.0, 0.0), scale),
        max(clear, room.left / scale - box.left),
        max(clear, box.right - room.right / scale),
        max(clear, room.bottom / scale - box.bottom),
        max(clear, box.top - room.top / scale),
        left_out == 0,
    )


def _draw(plan: Plan, setout: SetOut, heights: Heights, scale: float, around: Surround) -> Drawn:
    """Walls, marks, strings and diagonals, lettered for a scale."""
    board = bare_board(plan, scale, heights)
    mark_corners(board)
    left_out = _mark_walls(board, setout)
    if left_out:
        count = sum(len(wall.marks) for wall in setout.walls)
        board.remarks.append(words.SET_OUT_LEFT_OUT.format(n=left_out, of=count))
    lines = _stretched(board, setout)
    _letter_walls(board)
    _letter_lines(board, lines)
    shapes: tuple[Shape, ...] = (
        walls_shape(plan.room),
        *(shape for column in plan.room.columns for shape in column_shapes(column)),
        *moved(board.shapes, (0.0, 0.0), scale),
    )
    return Drawn(shapes, (), tuple(board.remarks))


def _mark_walls(board: Board, setout: SetOut) -> int:
    """A tick and letters for each mark; how many marks had no room for letters."""
    walls = {wall.name: wall for wall in board.plan.room.walls}
    left_out = 0
    for marked in setout.walls:
        wall = walls.get(marked.wall)
        if wall is not None:
            left_out += _mark_wall(board, wall, marked.marks)
    return left_out


def _mark_wall(board: Board, wall: Wall, marks: Sequence[Mark]) -> int:
    """The marks of one wall: letters stand square to it, outside of the room, or inside where there is no space."""
    height = board.heights[Role.SET_OUT]
    start, end = board.paper(wall.start), board.paper(wall.end)
    way = unit(start, end)
    out = (way[1], -way[0])
    ordered = sorted(marks, key=lambda mark: mark.at)
    seen = [seen_from_chord(wall, mark.at) for mark in ordered]
    spots, bows = [along / board.scale for along, _ in seen], [off / board.scale for _, off in seen]
    every = _thinned(len(spots), _APART * height, math.dist(start, end))
    shown = iter(spread(spots[::every], _APART * height))
    places = [next(shown) if k % every == 0 else None for k in range(len(spots))]
    board.shapes.append(Circle(Role.SET_OUT, start, 0.8))
    left_out = 0
    for mark, spot, bow, place in zip(ordered, spots, bows, places, strict=True):
        ends = [_at(start, way, out, spot, bow + reach) for reach in (-_TICK_IN, _TICK_OUT)]
        board.shapes.append(Line(Role.SET_OUT, ends[0], ends[1]))
        board.strokes.add_stroke(ends[0], ends[1])
        if place is None:
            left_out += 1
            continue
        off = _NEAR if abs(place - spot) < 0.05 else _FAR
        text = shortened(f"{written(mark.at, board.plan.room.units)}  {clean(mark.what)}", _LONGEST, height)
        found = False
        for side in (1.0, -1.0):
            lettered = _square_to_wall(
                text, _at(start, way, out, place, bow + side * off), (side * out[0], side * out[1])
            )
            if board.letter([lettered], board.bodies, board.walls, gap=0.1):
                if off == _FAR:
                    knee = _at(start, way, out, spot, bow + side * _TICK_OUT)
                    tip = _at(start, way, out, place, bow + side * (off - 0.6))
                    board.shapes.append(Line(Role.SET_OUT, knee, tip))
                found = True
                break
        left_out += not found
    return left_out


def _thinned(count: int, apart: float, long: float) -> int:
    """1 where all marks of a wall can be lettered side by side; else that every so manieth can."""
    return max(1, math.ceil(count * apart / (long + _BEYOND)))


def spread(spots: Sequence[float], apart: float) -> list[float]:
    """Places at least `apart` from each other, in order, moved as little as can be: runs that are too close are
    centred on their middle.
    """
    groups: list[tuple[float, int]] = []  # middle and number of members
    for spot in spots:
        middle, count = spot, 1
        while groups and middle - groups[-1][0] < apart * (count + groups[-1][1]) / 2:
            before, number = groups.pop()
            middle = (middle * count + before * number) / (count + number)
            count += number
        groups.append((middle, count))
    return [middle + (k - (count - 1) / 2) * apart for middle, count in groups for k in range(count)]


def seen_from_chord(wall: Wall, at: float) -> tuple[float, float]:
    """A length along a wall as a place on its chord and how far the wall bows out of the room there; millimetres."""
    arc = wall.arc
    if arc is None:
        return at, 0.0
    turn = arc.start_deg + at / wall.length * arc.sweep_deg
    point = Frame(arc.centre, turn).outward((arc.radius, 0.0))
    chord = math.degrees(math.atan2(wall.end[1] - wall.start[1], wall.end[0] - wall.start[0]))
    along, left = Frame(wall.start, chord).inward(point)
    return along, -left


def _at(start: Point, way: Point, out: Point, along: float, off: float) -> Point:
    return (start[0] + along * way[0] + off * out[0], start[1] + along * way[1] + off * out[1])


def _square_to_wall(text: str, at: Point, out: Point) -> Text:
    """Letters that begin or end at a point beside a wall and run away from it."""
    angle = math.degrees(math.atan2(out[1], out[0]))
    turned = steady(angle)
    away = abs((angle - turned + 180.0) % 360.0 - 180.0) < 90.0
    return Text(Role.SET_OUT, at, text, "left" if away else "right", "middle", turned)


_Lettered = tuple[Role, Point, Point, str]  #: role, ends on paper, what is written along it


def _stretched(board: Board, setout: SetOut) -> list[_Lettered]:
    """Strings and diagonals, drawn; what is to be lettered along them."""
    units = board.plan.room.units
    lines = [(Role.STRING_LINE, a, b, shortened(clean(what), 2 * _LONGEST, 2.5)) for a, b, what in setout.lines]
    lines += [(Role.DIMENSION, d.start, d.end, written(d.length, units)) for d in setout.diagonals]
    found = [(role, board.paper(a), board.paper(b), text) for role, a, b, text in lines]
    for role, a, b, _ in found:
        board.shapes.append(Line(role, a, b))
        board.strokes.add_stroke(a, b)
    return found


def _letter_lines(board: Board, lines: Sequence[_Lettered]) -> None:
    """Strings with what they are, diagonals with their lengths."""
    for role, a, b, text in lines:
        places = list(_beside(board, role, a, b, text))
        tries: tuple[tuple[Taken, ...], ...] = ((board.bodies, board.walls, board.strokes), (board.bodies, board.walls))
        any(places and board.letter(places, *avoid) for avoid in tries)


def _letter_walls(board: Board) -> None:
    """Each wall's name, its length and where its tape begins, inside of it."""
    for wall, corner in zip(board.plan.room.walls, board.plan.room.corner_names, strict=True):
        length = written(wall.length, board.plan.room.units)
        text = words.WALL_RUN.format(wall=clean(wall.name), length=length, corner=clean(corner))
        start, end = board.paper(wall.end), board.paper(wall.start)  # turned round: letters stand on the room's side
        for said in (text, clean(wall.name)):
            places = list(_beside(board, Role.DIMENSION, start, end, said, (-2.2, -5.0, 2.2, -8.0, 5.0, -11.0)))
            if places and (
                board.letter(places, board.bodies, board.walls, board.strokes)
                or board.letter(places, board.bodies, board.walls)
            ):
                break


def _beside(
    board: Board, role: Role, a: Point, b: Point, text: str, offs: Sequence[float] = (1.0, -1.0)
) -> Iterator[Text]:
    """Places along a line: letters `offs` off it, to its left where positive."""
    long = math.dist(a, b)
    height = board.heights[role]
    if long < 1.0:
        return
    way = unit(a, b)
    angle = steady(math.degrees(math.atan2(way[1], way[0])))
    for off in offs:
        lift = math.copysign(abs(off) + height / 2, off)
        for share in (0.5, 0.35, 0.65, 0.2, 0.8, 0.12, 0.88):
            x, y = a[0] + share * (b[0] - a[0]) - lift * way[1], a[1] + share * (b[1] - a[1]) + lift * way[0]
            yield Text(role, (x, y), text, "centre", "middle", angle)
