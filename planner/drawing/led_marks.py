"""Marks of panels that are too small for letters: a line leads from the letters to a dot in the panel.

In: a board on which all else is lettered, the panels without a mark. Out: shapes on it. Panels of one class in a row,
as along a wall, share one mark: a line through a dot in each, and "b2 to b13" led to it; where that would be too long,
the letters of their class, for panels of one class are cut alike. Letters keep off other cut panels, so that they are
not read as theirs, and off tees where that can be.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import chain, groupby, pairwise, product

from planner.ceiling.model import Panel
from planner.drawing import words
from planner.drawing.board import Board, turn_of
from planner.drawing.labels import MASK, Taken, box_ring, descent, first_free, grown_ring, text_ring
from planner.drawing.lettering import text_width
from planner.drawing.roles import Role
from planner.drawing.shapes import Circle, Line, Text
from planner.drawing.within import inside, lies_in
from planner.geometry import Box, Frame, Point, Ring, box_of, distance
from planner.naming import names_told, natural
from planner.records import dataclass

#: Half of a dot, millimetres; half of the room that it needs; and of that in a panel smaller than a dot.
_DOT = 0.35
_DOT_ROOM = 0.55
_SPECK = 0.05
#: From a dot to the letters, millimetres.
_OFFS = (3.5, 5.0, 7.0, 9.5, 12.5, 16.0, 20.0, 25.0, 32.0, 40.0, 50.0)
_TURNS = tuple(7.5 * k for k in (*range(0, 48, 2), *range(1, 48, 2)))
#: No line leads to a row of panels nearly along it, degrees.
_ALONG = 25.0
#: Panels lie beside each other where their dots are no further apart than so many modules.
_BESIDE = 1.6
#: After so many marks without room the paper is full, and no more are tried.
_PATIENCE = 60
#: Names longer than this on paper give way to the letters of their class, millimetres.
_LONGEST = 30.0
#: From letters to other letters, and from letters to the line that leads to them.
_GAP = 0.3
_BEFORE = 0.6
#: Places for a dot, as shares of the width and depth of a panel: its middle first.
_SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9)
_SPOTS = sorted(product(_SHARES, _SHARES), key=lambda spot: (spot[0] - 0.5) ** 2 + (spot[1] - 0.5) ** 2)
#: The lines of tees and walls are no further from the edges of the panels between them, millimetres of the room.
_LINES_OFF = 30.0


@dataclass(frozen=True, slots=True)
class _Dotted:
    """A panel and where its dot stands, on paper."""

    panel: Panel
    at: Point


def lead_to(board: Board, panels: Sequence[Panel], reach: Box) -> list[Panel]:
    """Lead marks to panels, letters within `reach`; the panels that there was no room for."""
    others = cut_panels(board)
    left: list[Panel] = []
    dotted = []
    for panel in panels:
        at = _dot(board, panel)
        if at is None:
            left.append(panel)
        else:
            dotted.append(_Dotted(panel, at))
    patience = _PATIENCE
    for row in _rows(board, dotted):
        led, parts = set[str](), [row, *((each,) for each in row)] if len(row) > 1 else [row]
        for part in parts:
            if patience and len(led) < len(row):
                if _lead(board, part, others, reach):
                    led |= {each.panel.id for each in part}
                else:
                    patience -= 1
        left += [each.panel for each in row if each.panel.id not in led]
    return left


def cut_panels(board: Board) -> Taken:
    """The room on paper that all cut panels take."""
    found = Taken()
    for panel in board.plan.ceiling.panels:
        found.add(box_ring(box_of(map(board.paper, panel.outline))))
    return found


def _dot(board: Board, panel: Panel) -> Point | None:
    """A place in a panel for a dot: clear of letters, signs and tees, else at least of letters; None without any."""
    box = box_of(map(board.paper, panel.outline))
    core = _around_all(box)
    if core is not None and not (board.texts.free(core) and board.bodies.free(core)):
        return None
    clear = box.grown(_LINES_OFF / board.scale)
    lined = min(clear.width, clear.height) < 2 * _DOT_ROOM  # a dot meets the lines around it wherever it stands
    crossing = None
    for at in _spots(board, panel):
        around = _around(at)
        if board.texts.free(around) and board.bodies.free(around):
            if lined or (board.walls.free(around) and board.strokes.free(around)):
                return at
            crossing = crossing or at
    return crossing


def _around(at: Point, half: float = _DOT_ROOM) -> Ring:
    x, y = at
    return box_ring(Box(x - half, y - half, x + half, y + half))


def _around_all(box: Box) -> Ring | None:
    """What the room of a dot covers wherever it stands in a small panel; None in a larger one."""
    (x, y), reach = box.centre, (max(_SHARES) - min(_SHARES)) / 2
    across, up = _DOT_ROOM - reach * box.width, _DOT_ROOM - reach * box.height
    return box_ring(Box(x - across, y - up, x + across, y + up)) if min(across, up) > 0.0 else None


def _spots(board: Board, panel: Panel) -> Iterator[Point]:
    """Points in a panel and in none of its holes: first those where a dot finds room, near the middle of it."""
    ring = tuple(map(board.paper, panel.outline))
    holes = [tuple(map(board.paper, hole)) for hole in panel.holes]
    box = box_of(ring)
    rooms = [room for room in (_DOT_ROOM, _SPECK) if 2 * room <= min(box.width, box.height)]
    behind: list[list[Point]] = [[] for _ in rooms]
    for x, y in _SPOTS:
        at = (box.left + x * box.width, box.bottom + y * box.height)
        if inside(at, ring) and not any(inside(at, hole) for hole in holes):
            sticks_out = sum(not lies_in(_around(at, room), ring) for room in rooms)
            if sticks_out:
                behind[sticks_out - 1].append(at)
            else:
                yield at
    yield from chain.from_iterable(behind)


def panel_class(panel: Panel) -> str:
    """The letters of an id: panels of one class are cut alike."""
    return panel.id.rstrip("0123456789") or panel.id


def _rows(board: Board, dotted: Sequence[_Dotted]) -> Iterator[tuple[_Dotted, ...]]:
    """Panels that share a mark, the longest rows first; at last those that stand alone."""

    def alike(each: _Dotted) -> tuple[str, tuple[int, int]]:
        return panel_class(each.panel), _part(board, each.at)

    for _, group in groupby(sorted(dotted, key=alike), key=alike):
        rest = list(group)
        while rest:
            found = [chain for turn in (0.0, 90.0) for chain in _chains(board, rest, turn_of(board.plan) + turn)]
            longest = max(found, key=len)
            yield longest
            in_row = {each.panel.id for each in longest}
            rest = [each for each in rest if each.panel.id not in in_row]


def _chains(board: Board, dotted: Sequence[_Dotted], turn: float) -> Iterator[tuple[_Dotted, ...]]:
    """Panels one behind the other in a direction, nothing between their dots."""
    frame = Frame((0.0, 0.0), turn)
    placed = sorted((round(y, 1), round(x, 2), k) for k, (x, y) in enumerate(frame.inward(each.at) for each in dotted))
    chain = [dotted[placed[0][2]]]
    for (off, along, _), (next_off, next_along, k) in pairwise(placed):
        apart = _BESIDE * max(board.plan.ceiling.layout.module) / board.scale
        near = abs(next_off - off) < 0.15 and next_along - along < apart
        if not near or not all(taken.free((chain[-1].at, dotted[k].at)) for taken in (board.texts, board.bodies)):
            yield tuple(chain)
            chain = []
        chain.append(dotted[k])
    yield tuple(chain)


def _lead(board: Board, row: Sequence[_Dotted], others: Taken, reach: Box) -> bool:
    """Letter one row of panels; False without room."""
    height = board.heights[Role.PANEL_MARK]
    spots = [(row[k].at, _DOT) for k in dict.fromkeys((len(row) // 2, len(row) // 4, 3 * len(row) // 4))]
    turns = [turn for turn in _TURNS if len(row) == 1 or not _runs_along(row, turn)]
    found = led_text(board, Role.PANEL_MARK, _named(row, height), (spots, turns), others, reach)
    if found is None:
        return False
    text, line = found
    _draw(board, row, line, text)
    return True


def led_text(
    board: Board,
    role: Role,
    text: str,
    ways: tuple[Sequence[tuple[Point, float]], Sequence[float]],
    others: Taken,
    reach: Box,
) -> tuple[Text, tuple[Point, Point]] | None:
    """Letters off what they name, off `others` and off lines if that can be, and the line to them; None without room.

    `ways`: the spots that a line may begin at, each so far from it, and its directions in degrees. The letters are
    entered in what is taken.
    """
    led = dict[Text, tuple[Point, Point]]()

    def looked_for() -> Iterator[Text]:
        for start, tip, place in _places(board, role, text, ways, reach):
            led[place] = (start, tip)
            yield place

    walls = (board.bodies, board.walls, board.dims)
    for tries, avoid, mask in (
        (looked_for(), (*walls, others, board.strokes), 0.0),  # once through, all are known
        (led, (*walls, others, board.mains), MASK),
        (led, (*walls, others), MASK),
        (led, (*walls, board.strokes), 0.0),
        (led, walls, MASK),
    ):
        if (found := first_free(tries, board.heights[role], board.texts, avoid, _GAP)) is not None:
            return replace(found, mask=mask), led[found]
    return None


def _named(row: Sequence[_Dotted], height: float) -> str:
    """The ids of a row, or the letters of their class where those are shorter by much."""
    ids = sorted((each.panel.id for each in row), key=natural)
    told = words.translated(names_told(ids))
    return told if text_width(told, height) <= _LONGEST or len(row) == 1 else panel_class(row[0].panel)


def _places(
    board: Board,
    role: Role,
    text: str,
    ways: tuple[Sequence[tuple[Point, float]], Sequence[float]],
    reach: Box,
) -> Iterator[tuple[Point, Point, Text]]:
    """Where a line begins and ends, and the letters there; lines across dimensions last, else the shortest first."""
    height, (spots, turns) = board.heights[role], ways
    taken = (board.texts, board.bodies)
    across = []
    for off, (at, clear), turn in product(_OFFS, spots, turns):
        frame = Frame(at, turn)
        start, tip = frame.outward((clear, 0.0)), frame.outward((clear + off, 0.0))
        place = _at_tip(role, text, tip, frame.outward((clear + off + 1.0, 0.0)), height)
        if not reach.holds(box_of(text_ring(place, height))) or _part(board, place.at) != _part(board, at):
            continue
        letters = grown_ring(place, height, _GAP)
        if all(each.free((start, tip)) and each.free(letters) for each in taken):
            if board.dims.free((start, tip)):
                yield start, tip, place
            else:
                across.append((start, tip, place))
    yield from across


def _part(board: Board, at: Point) -> tuple[int, int]:
    """The part of the plan that a place on paper is in."""
    return board.seams.holding((at[0] * board.scale, at[1] * board.scale))


def _runs_along(row: Sequence[_Dotted], turn: float) -> bool:
    (ax, ay), (bx, by) = row[0].at, row[-1].at
    along = math.degrees(math.atan2(by - ay, bx - ax))
    return min((turn - along) % 180.0, (along - turn) % 180.0) < _ALONG


def _at_tip(role: Role, text: str, tip: Point, ahead: Point, height: float) -> Text:
    """Lying letters at the end of a line that comes from behind."""
    across, up = ahead[0] - tip[0], ahead[1] - tip[1]
    if abs(across) > 0.35:
        side, off = ("left", _BEFORE) if across > 0 else ("right", -_BEFORE)
        return Text(role, (tip[0] + off, tip[1]), text, side, "middle")  # type: ignore[arg-type]
    lift = _BEFORE + (0.5 + (descent(text) if up > 0 else 0.0)) * height
    return Text(role, (tip[0], tip[1] + math.copysign(lift, up)), text, "centre", "middle")


def _draw(board: Board, row: Sequence[_Dotted], line: tuple[Point, Point], lettered: Text) -> None:
    title = lettered.text
    board.shapes.append(lettered)
    strokes = [line]
    if len(row) > 1 and distance(row[0].at, row[-1].at) > 0.0:
        strokes.append((row[0].at, row[-1].at))
    for a, b in strokes:
        board.shapes.append(Line(Role.PANEL_MARK, a, b, title))
        board.texts.add_stroke(a, b)
    for each in row:
        board.shapes.append(Circle(Role.PANEL_MARK, each.at, _DOT, fill=True))
        board.texts.add(_around(each.at))
