"""What is lettered along lines of the set-out sheet: walls with their lengths, strings, diagonals.

In: a board with marks and lines entered. Out: letters along their own line and no longer than it, clear of every other
line: a label that is crossed is no label, and one that reaches past the end of its wall is read as the next one's.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from planner.drawing import words
from planner.drawing.board import Board
from planner.drawing.corner_marks import unit
from planner.drawing.dimensions import written
from planner.drawing.labels import Taken, steady
from planner.drawing.lettering import clean, text_width
from planner.drawing.roles import Role
from planner.drawing.shapes import Text
from planner.geometry import Point
from planner.room.outline import Wall

#: A line to be lettered: its role, its ends on paper, what is written along it.
Lettered = tuple[Role, Point, Point, str]

#: Letters along a line keep at least so clear of all else where there is little room, millimetres.
_CLOSE = 1.0
#: The name of a wall keeps so clear of strings and diagonals that it is not read as theirs, millimetres.
_APART = 2.0
#: From a wall to its name, the room's side first; from a line to what it is. Millimetres; negative to its right.
_OFF_WALL = (-2.2, -3.4, -5.0, 2.2, 3.6, 5.0)
_OFF_LINE = (1.0, -1.0, 2.2, -2.2)
#: Where letters may stand along a line, as shares of its length: its middle first.
_SHARES = (0.5, *(0.5 + side * k / 40 for k in range(1, 19) for side in (-1, 1)))


def letter_walls(board: Board, lines: Sequence[Lettered]) -> None:
    """Each wall's name, its length and where its tape begins, inside of it; on every part that shows it.

    Shorter where the wall is, and nothing along a wall that is shorter than its name: the corners tell which it is.
    """
    apart = Taken()
    for _, a, b, _ in lines:
        apart.add_stroke(a, b, 2 * _APART)
    for wall, corner in zip(board.plan.room.walls, board.plan.room.corner_names, strict=True):
        name, length = clean(wall.name), written(wall.length, board.plan.room.units)
        text = words.say("set-out.wall run", wall=name, length=length, corner=clean(corner))
        parts = [board.by_part(_wall_places(board, wall, said)) for said in (text, f"{name}: {length}", name)]
        for part in dict.fromkeys(key for places in parts for key in places):
            tries = [places[part] for places in parts if part in places]
            ways = ((spaced, (apart,)), (_as_it_is, (apart,)), (spaced, ()), (_as_it_is, ()))
            any(_letter(board, places, room, *avoid) for room, avoid in ways for places in tries)


def letter_lines(board: Board, lines: Sequence[Lettered]) -> None:
    """Strings with what they are, diagonals with their lengths; on every part of a plan, where there is room.

    Where there is none, the marks at the ends of a string say what it is, and the list of diagonals how long they are.
    """
    for role, a, b, text in lines:
        for places in board.by_part(_along(board, role, a, b, text, _OFF_LINE)).values():
            if not _letter(board, places, spaced):
                board.letter(places, board.bodies, board.walls, board.strokes, gap=_CLOSE)


def spaced(text: Text) -> Text:
    """The same letters with room behind them, so that those of another wall or line do not join them."""
    before, behind = {"left": ("", "  "), "centre": (" ", " "), "right": ("  ", "")}[text.horizontal]
    return replace(text, text=f"{before}{text.text}{behind}")


def _as_it_is(text: Text) -> Text:
    return text


def _letter(board: Board, places: Sequence[Text], room: Callable[[Text], Text], *avoid: Taken) -> bool:
    """Letter where nothing is met and no line is crossed, with `room` before and behind."""
    if not board.letter(map(room, places), board.bodies, board.walls, board.strokes, *avoid):
        return False
    lettered = board.shapes[-1]
    if isinstance(lettered, Text):
        board.shapes[-1] = replace(lettered, text=lettered.text.strip())
    return True


def _wall_places(board: Board, wall: Wall, text: str) -> Iterator[Text]:
    """Places for the name of a wall, near it, on the room's side first: to the left of the wall walked backwards."""
    return _along(board, Role.DIMENSION, board.paper(wall.end), board.paper(wall.start), text, _OFF_WALL)


def _along(board: Board, role: Role, a: Point, b: Point, text: str, offs: Sequence[float]) -> Iterator[Text]:
    """Places along a line, as far as letters are no longer than it: `offs` off it, to its left where positive."""
    long = math.dist(a, b)
    height = board.heights[role]
    half = text_width(text, height) / 2
    if long < 2 * half or long < 1.0:
        return
    way = unit(a, b)
    angle = steady(math.degrees(math.atan2(way[1], way[0])))
    for off in offs:
        lift = math.copysign(abs(off) + height / 2, off)
        for share in _SHARES:
            if not half <= share * long <= long - half:
                continue
            x, y = a[0] + share * (b[0] - a[0]) - lift * way[1], a[1] + share * (b[1] - a[1]) + lift * way[0]
            yield Text(role, (x, y), text, "centre", "middle", angle)
