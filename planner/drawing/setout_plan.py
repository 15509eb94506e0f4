"""The set-out sheet: every mark along every wall with its running length, the strings, the diagonals that prove them.

In: a `Plan` whose ceiling has a set-out. Out: one `Sheet`, written for a person with a tape. Marks are running lengths
from the first corner of their wall, each rounded for itself, so that errors do not add up.
"""

import math
from collections.abc import Iterator, Sequence
from functools import partial
from itertools import product

from planner.ceiling.model import Mark, SetOut
from planner.drawing import words
from planner.drawing.board import Board, bare_board, reach_of
from planner.drawing.column_marks import dimension_columns, mark_columns
from planner.drawing.corner_marks import mark_corners, unit
from planner.drawing.dimensions import written
from planner.drawing.labels import Heights, grown_ring, steady, text_ring
from planner.drawing.lettering import text_width
from planner.drawing.match_lines import Seams
from planner.drawing.place import ALONE, Place
from planner.drawing.plan_lines import column_shapes, walls_shape
from planner.drawing.plan_sheet import Drawn, Subject
from planner.drawing.plan_sheets import plan_sheets
from planner.drawing.roles import Role
from planner.drawing.schedules import Limits
from planner.drawing.setout_labels import Lettered, letter_lines, letter_walls, spaced
from planner.drawing.setout_words import setout_signs, setout_words
from planner.drawing.shapes import Circle, Line, Shape, Sheet, Text
from planner.drawing.strings import Surround, corner_room
from planner.drawing.stylebook import Style
from planner.drawing.tables import moved
from planner.drawing.wish import SheetWish
from planner.drawing.wrapping import shortened
from planner.geometry import Frame, Point, Ring, box_of
from planner.planning import Plan
from planner.records import dataclass
from planner.room.outline import Wall
from planner.sayings import Said

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
#: Letters of a mark that something is in the way of are moved by so many heights of capitals, the least first.
_SHIFTS = (0.0, 0.8, -0.8, 1.5, -1.5, 2.2, -2.2, 3.0, -3.0)


@words.in_its_language
def setout_sheets(plan: Plan, style: Style, wish: SheetWish, place: Place = ALONE) -> tuple[Sheet, ...]:
    """One sheet, or an overview and parts; none when the ceiling has no set-out.

    PlannerError when the plan does not fit paper and scale.
    """
    subject = subject_of(plan, Heights.of(style), place)
    return () if subject is None else plan_sheets(plan, style, wish, place, subject)


def subject_of(plan: Plan, heights: Heights, place: Place) -> Subject | None:
    """What the sheets show; None when the ceiling has no set-out."""
    setout = plan.ceiling.setout
    if setout is None:
        return None
    return Subject(
        key=KEY,
        title=words.say("sheets.set-out"),
        note=f"{words.say('sheets.set-out note')} {words.say('sheets.reflected')}",
        limits=_LIMITS,
        around=partial(_around, plan, setout, heights),
        draw=partial(_draw, plan, setout, heights),
        signs=lambda scale: setout_signs(plan, setout),
        say=lambda limits, width, remarks: setout_words(plan, setout, heights, place, width, remarks),
        bare=True,
    )


def _around(plan: Plan, setout: SetOut, heights: Heights, scale: float, seams: Seams) -> Surround:
    """The marks of all walls, and how far their letters reach."""
    board = bare_board(plan, scale, heights, seams)
    _lines_of(board, setout)
    _enter_ticks(board, setout)
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


def _draw(plan: Plan, setout: SetOut, heights: Heights, scale: float, around: Surround, seams: Seams) -> Drawn:
    """Walls, marks, strings and diagonals, lettered for a scale."""
    board = bare_board(plan, scale, heights, seams)
    lines = _lines_of(board, setout)
    _enter_ticks(board, setout)
    mark_corners(board)
    left_out = _mark_walls(board, setout)
    if left_out:
        count = sum(len(wall.marks) for wall in setout.walls)
        board.remarks.append(words.say("left out.set-out marks", n=left_out, of=count))
    board.shapes += _stretched(lines)
    reach = reach_of(board, around)
    dimension_columns(board)
    mark_columns(board, reach)
    letter_walls(board, lines, reach)
    letter_lines(board, lines, reach)
    shapes: tuple[Shape, ...] = (
        walls_shape(plan.room),
        *(shape for column in plan.room.columns for shape in column_shapes(column)),
        *moved(board.shapes, (0.0, 0.0), scale),
    )
    return Drawn(shapes, (), tuple(board.remarks))


def _enter_ticks(board: Board, setout: SetOut) -> None:
    """Ticks stand where they must: the letters of corners keep clear of them."""
    walls = {wall.name: wall for wall in board.plan.room.walls}
    for marked in setout.walls:
        if (wall := walls.get(marked.wall)) is not None:
            side = _side_of(board, wall)
            for mark in marked.marks:
                board.strokes.add_stroke(*_tick(board, side, wall, mark))


def _tick(board: Board, side: "_Side", wall: Wall, mark: Mark) -> tuple[Point, Point]:
    """A stroke across a wall."""
    along, bow = (length / board.scale for length in seen_from_chord(wall, mark.at))
    return side.at(along, bow - _TICK_IN), side.at(along, bow + _TICK_OUT)


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
    """The marks of one wall: a tick for each, and letters beside it; how many have no room for letters."""
    height = board.heights[Role.SET_OUT]
    side = _side_of(board, wall)
    ordered = sorted(marks, key=lambda mark: mark.at)
    seen = [seen_from_chord(wall, mark.at) for mark in ordered]
    spots, bows = [along / board.scale for along, _ in seen], [off / board.scale for _, off in seen]
    every = _thinned(len(spots), _APART * height, wall_length(board, wall))
    spread_out = iter(spread(spots[::every], _APART * height))
    places = [next(spread_out) if k % every == 0 else None for k in range(len(spots))]
    board.shapes.append(Circle(Role.SET_OUT, side.start, 0.8))
    board.shapes += [Line(Role.SET_OUT, *_tick(board, side, wall, mark)) for mark in ordered]
    said = [_mark_said(mark, board.plan.room.units, height) for mark in ordered]
    every_mark = zip(said, spots, bows, places, strict=True)
    shown = [(texts, (spot, bow, at)) for texts, spot, bow, at in every_mark if at is not None]
    return len(ordered) - len(shown) + _letter_marks(board, side, shown)


_Shown = Sequence[tuple[Sequence[str], tuple[float, float, float]]]


def _letter_marks(board: Board, side: "_Side", shown: _Shown) -> int:
    """The letters of a wall's marks, all on one side of it if that can be: outside of the room, else inside; how many
    have no room at all.
    """
    for ways in ((1.0,), (-1.0,)):
        before = board.texts.so_far, board.strokes.so_far, len(board.shapes)
        if all(_letter_mark(board, side, texts, at, ways) for texts, at in shown):
            return 0
        board.texts.back_to(before[0])
        board.strokes.back_to(before[1])
        del board.shapes[before[2] :]
    return sum(not _letter_mark(board, side, texts, at, (1.0, -1.0)) for texts, at in shown)


def _mark_said(mark: Mark, units: str, height: float) -> list[str]:
    """A mark's running length and what is there; and with its id alone, where there is no room for more than that."""
    length = written(mark.at, units)
    whole = f"{length}  {words.drawn(mark.what)}"
    run = mark.what.values.get("run") if isinstance(mark.what, Said) else None
    short = [] if run is None else [shortened(f"{length}  {words.drawn(run)}", _LONGEST, height)]
    return short if short and text_width(whole, height) > _LONGEST else [shortened(whole, _LONGEST, height), *short]


@dataclass(frozen=True, slots=True)
class _Side:
    """A wall on paper: its start, the way along it, the way out of the room."""

    start: Point
    way: Point
    out: Point

    def at(self, along: float, off: float) -> Point:
        (x, y), (u, v), (p, q) = self.start, self.way, self.out
        return (x + along * u + off * p, y + along * v + off * q)


def _side_of(board: Board, wall: Wall) -> _Side:
    start = board.paper(wall.start)
    way = unit(start, board.paper(wall.end))
    return _Side(start, way, (way[1], -way[0]))


def wall_length(board: Board, wall: Wall) -> float:
    """From end to end on paper."""
    return math.dist(board.paper(wall.start), board.paper(wall.end))


@dataclass(frozen=True, slots=True)
class _Beside:
    """Letters beside a mark, the room that they take, and the line that leads to letters that were moved."""

    text: Text
    ring: Ring
    line: tuple[Point, Point] | None


def _letter_mark(
    board: Board, side: _Side, texts: Sequence[str], at: tuple[float, float, float], ways: Sequence[float]
) -> bool:
    """Letters square to the wall, with a line to them if they were moved; False without room."""
    found = _room_beside(board, side, texts, at, ways)
    if found is None:
        return False
    board.texts.add(found.ring)
    board.shapes.append(found.text)
    if found.line is not None:
        board.shapes.append(Line(Role.SET_OUT, *found.line))
        board.strokes.add_stroke(*found.line)
    return True


def _room_beside(
    board: Board, side: _Side, texts: Sequence[str], at: tuple[float, float, float], ways: Sequence[float]
) -> _Beside | None:
    """Room for letters outside of the room (1) or inside (-1), clear of strings if that can be.

    Where something is in the way they are moved along the wall a little. The shorter of two texts is lettered where the
    longer one would be crossed. `at` is the mark along its wall, its bow there, and where the letters had better be.
    """
    crossed = None
    for text, shift, way in product(texts, _SHIFTS, ways):
        found = _beside(board, side, text, at, (shift, way))
        if all(taken.free(found.ring) for taken in (board.texts, board.bodies, board.walls)):
            if board.strokes.free(found.ring):
                return found
            crossed = crossed or found
    return crossed


def _beside(
    board: Board, side: _Side, text: str, at: tuple[float, float, float], moved_by: tuple[float, float]
) -> _Beside:
    """One text beside a mark, moved along the wall by so many heights, on one side of it."""
    (spot, bow, place), (shift, way), height = at, moved_by, board.heights[Role.SET_OUT]
    along = place + shift * height
    off = _NEAR if abs(along - spot) < 0.05 else _FAR
    lettered = _square_to_wall(text, side.at(along, bow + way * off), (way * side.out[0], way * side.out[1]))
    leads = (side.at(spot, bow + way * _TICK_OUT), side.at(along, bow + way * (off - 0.6)))
    return _Beside(lettered, grown_ring(spaced(lettered), height, 0.1), leads if off == _FAR else None)


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


def _square_to_wall(text: str, at: Point, out: Point) -> Text:
    """Letters that begin or end at a point beside a wall and run away from it."""
    angle = math.degrees(math.atan2(out[1], out[0]))
    turned = steady(angle)
    away = abs((angle - turned + 180.0) % 360.0 - 180.0) < 90.0
    return Text(Role.SET_OUT, at, text, "left" if away else "right", "middle", turned)


def _lines_of(board: Board, setout: SetOut) -> list[Lettered]:
    """Strings and diagonals, and what is to be lettered along them; all other letters keep clear of them."""
    units = board.plan.room.units
    lines = [(Role.STRING_LINE, a, b, _line_said(what)) for a, b, what in setout.lines]
    lines += [(Role.DIMENSION, d.start, d.end, (written(d.length, units),)) for d in setout.diagonals]
    found = [(role, board.paper(a), board.paper(b), texts) for role, a, b, texts in lines]
    for _, a, b, _ in found:
        board.strokes.add_stroke(a, b)
    return found


def _line_said(what: str) -> tuple[str, ...]:
    """What a string is; and the id of its run alone, where there is no room for more than that."""
    run = what.values.get("run", what.values.get("what")) if isinstance(what, Said) else None
    if isinstance(run, Said):
        run = run.values.get("run")
    texts = (what,) if run is None else (what, run)
    return tuple(shortened(words.drawn(text), 2 * _LONGEST, 2.5) for text in texts)


def _stretched(lines: Sequence[Lettered]) -> Iterator[Line]:
    meaning = {Role.STRING_LINE: words.say("legend.string line"), Role.DIMENSION: words.say("legend.diagonal")}
    return (Line(role, a, b, meaning[role]) for role, a, b, _ in lines)
