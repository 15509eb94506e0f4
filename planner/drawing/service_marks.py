"""The name of each service, in its sign or beside it, and none nearer to another's.

In: a board, how the services look. Out: names on it; where some have no room, the number of each in the list of
services instead. A name crosses lines only where it must: then tees and joists are left out below it, on a mask; where
a wall would be below, the name stands further off and a line leads to it.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from planner.drawing import words
from planner.drawing.board import Board, around
from planner.drawing.labels import MASK, Taken, ends_of, text_ring
from planner.drawing.lettering import clean
from planner.drawing.neighbours import Neighbours
from planner.drawing.roles import Role
from planner.drawing.shapes import Line, Text
from planner.drawing.symbols import Look
from planner.drawing.wrapping import shortened
from planner.geometry import Box, Frame, Point, box_of

#: Where lines cross letters, they had better keep clear of so much of their width at both ends.
_ENDS = 0.08
#: Names longer than this on paper are shortened.
_LONGEST_MARK = 22.0
#: From a sign to a name that a line leads to, millimetres; and from the line to the name.
_LED = (5.0, 8.0, 12.0, 17.0, 23.0)
_BESIDE = 0.6


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


@dataclass(slots=True)
class _Named:
    """A service that is to bear a text: where its sign is, and the places for the text."""

    board: Board
    text: str
    role: Role
    at: Point
    half: Point
    others: Neighbours
    _outside: list[Text] = field(default_factory=list)

    def inside(self, upright: bool = False) -> Iterator[Text]:
        """Places within the sign."""
        height = self.board.heights[self.role]
        for place in _within(self.text, self.at, self.half, self.role):
            if not (upright and place.angle_deg) and _holds(self.at, self.half, place, height):
                yield place

    def outside(self) -> list[Text]:
        """Places beside the sign that are nearer to it than to any other."""
        if not self._outside:
            height = self.board.heights[self.role]
            places = around(self.role, self.text, self.at, self.half, 0.7)
            self._outside += (p for p in places if self.others.belongs(box_of(text_ring(p, height)), self.at))
        return self._outside

    def across(self) -> Iterator[Text]:
        """Those of them that no line runs along, though one may run across."""
        height = self.board.heights[self.role]
        for place in self.outside():
            if all(map(self.board.strokes.free, ends_of(text_ring(place, height), _ENDS))):
                yield place


def _letter_services(board: Board, looks: Sequence[Look], marks: Sequence[str], role: Role) -> int:
    """A mark in its sign where no line is crossed, else beside it, else wherever it can be read; how many cannot."""
    left_out = 0
    others = Neighbours([board.paper(service.at) for service in board.plan.ceiling.services])
    for service, look, mark in zip(board.plan.ceiling.services, looks, marks, strict=True):
        text = shortened(clean(mark), _LONGEST_MARK, board.heights[role])
        half = (look.half[0] / board.scale, look.half[1] / board.scale)
        left_out += not _letter(board, _Named(board, text, role, board.paper(service.at), half, others))
    return left_out


def _letter(board: Board, named: _Named) -> bool:
    """Letter one service: the best of all places."""
    clear = (board.bodies, board.walls)
    return (
        board.letter(named.inside(upright=True), board.strokes, board.faint)
        or board.letter(named.inside(), board.strokes, mask=MASK)
        or board.letter(named.outside(), *clear, board.strokes, board.faint)
        or board.letter(named.outside(), *clear, board.strokes, mask=MASK)
        or board.letter(named.across(), *clear, board.mains, mask=MASK)
        or board.letter(named.outside(), *clear, board.mains, mask=MASK)
        or board.letter(named.inside())
        or _lead_to(board, named, (board.strokes, board.faint), 0.0)
        or board.letter(named.outside(), *clear, mask=MASK)
        or _lead_to(board, named, (), MASK)
    )


def _lead_to(board: Board, named: _Named, avoid: Sequence[Taken], mask: float) -> bool:
    """Letter further off, a line from the sign to the letters; clear of walls."""
    x, y = named.half
    for off in _LED:
        for turn in range(45, 405, 30):
            way = Frame(named.at, turn)
            c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
            edge = min(x / abs(c) if abs(c) > 1e-9 else math.inf, y / abs(s) if abs(s) > 1e-9 else math.inf)
            start, end = way.outward((edge, 0.0)), way.outward((edge + off, 0.0))
            if not (board.texts.free((start, end)) and board.bodies.free((way.outward((edge + 0.1, 0.0)), end))):
                continue
            beside = end[0] + math.copysign(_BESIDE, c)
            place = Text(named.role, (beside, end[1]), named.text, "left" if c > 0 else "right", "middle")
            alone = named.others.far_from(box_of(text_ring(place, board.heights[named.role])), named.at)
            if alone and board.letter((place,), board.bodies, board.walls, *avoid, mask=mask):
                board.shapes.append(Line(named.role, start, end))
                board.texts.add_stroke(start, end)
                return True
    return False


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
