"""What is lettered along lines of the set-out sheet: walls with their lengths, strings, diagonals.

In: a board with marks and lines entered. Out: letters along their own line and no longer than it, clear of every other
line: a label that is crossed is no label, and one that reaches past the end of its wall is read as the next one's.
Where there is no such room for all that a wall's label says, it stands off the wall with a line to it, or else its name
alone is lettered, and a remark for the table of walls says the rest.
"""

import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import dropwhile

from planner.arcs import Arc
from planner.drawing import words
from planner.drawing.board import Board
from planner.drawing.corner_marks import times, unit
from planner.drawing.dimensions import written
from planner.drawing.labels import Taken, grown_ring, steady, text_ring
from planner.drawing.lettering import clean, text_width
from planner.drawing.roles import Role
from planner.drawing.shapes import Line, Text
from planner.geometry import Box, Frame, Point, box_of
from planner.records import dataclass
from planner.room.outline import Room, Wall

#: A line to be lettered: its role, its ends on paper, what is written along it, the longest first.
Lettered = tuple[Role, Point, Point, tuple[str, ...]]

#: Letters along a line keep at least so clear of all else where there is little room, millimetres.
_CLOSE = 1.0
#: The name of a wall keeps so clear of strings and diagonals that it is not read as theirs, millimetres.
_APART = 2.0
#: From a wall to its name, the room's side first; from a line to what it is. Millimetres; negative to its right.
_OFF_WALL = (-2.2, -3.4, -5.0, 2.2, 3.6, 5.0)
_OFF_LINE = (1.4, -1.4, 2.4, -2.4)
#: Where letters may stand along a line, as shares of its length: its middle first.
_SHARES = (0.5, *(0.5 + side * k / 40 for k in range(1, 19) for side in (-1, 1)))
#: Where a label stands off its wall: how far, millimetres; where along the wall its line begins; how that is turned.
_FAR_OFF = (5.0, 8.0, 12.0, 17.0)
_LED_SHARES = (0.5, 0.3, 0.7, 0.15, 0.85)
_LED_TURNS = (0.0, 35.0, -35.0, 60.0, -60.0)
_LED_GAP = 0.3
#: Where a number stands off its diagonal: how far from the middle, millimetres, and in which direction, degrees.
_LINE_FAR = (5.0, 8.0, 12.0, 17.0, 22.0)
_LINE_TURNS = (0.0, 180.0, 30.0, 150.0, -30.0, -150.0, 60.0, 120.0, -60.0, -120.0)
#: Letters in line with the label of a wall, and no further off than this, look like more of it; millimetres.
_COLUMN = 60.0
#: A label off its wall had better reach no further past the ends of the wall, millimetres.
_PAST_END = 1.0


@dataclass(frozen=True, slots=True)
class WallRun:
    """A wall as its label tells it: name, length, the corner that its tape begins at."""

    wall: str
    length: str
    corner: str

    @property
    def said(self) -> str:
        return words.say("set-out.wall run", wall=self.wall, length=self.length, corner=self.corner)


def wall_runs(room: Room) -> list[WallRun]:
    """What the labels of all walls say; of bowed walls that the length is along the curve."""
    found = []
    for wall, corner in zip(room.walls, room.corner_names, strict=True):
        length = written(wall.length, room.units)
        bowed = length if wall.arc is None else words.say("set-out.along curve", length=length)
        found.append(WallRun(clean(wall.name), bowed, clean(corner)))
    return found


def letter_walls(board: Board, lines: Sequence[Lettered], reach: Box) -> None:
    """Each wall's name, its length and where its tape begins, on every part that shows it; letters off a wall stay
    within `reach`, a box on the paper.

    A wall whose label has no room gets its name alone, and a remark that says what the label would have.
    """
    apart = Taken()
    for _, a, b, _ in lines:
        apart.add_stroke(a, b, 2 * _APART)
    ways = ((spaced, (apart,)), (_as_it_is, (apart,)), (spaced, ()), (_as_it_is, ()))
    for wall, run in zip(board.plan.room.walls, wall_runs(board.plan.room), strict=True):
        whole, name = (board.by_part(_wall_places(board, wall, said)) for said in (run.said, run.wall))
        told = True
        for part in _parts_of(board, wall):
            tries = _from_the_first_free(board, whole.get(part, ()))
            if any(_letter(board, tries, room, *avoid) for room, avoid in ways):
                continue
            if not _letter_off(board, wall, run.said, part, reach):
                told = False
                tries = _from_the_first_free(board, name.get(part, ()))
                any(_letter(board, tries, room, *avoid) for room, avoid in ways)
        if not told:
            board.remarks.append(run.said)


def _parts_of(board: Board, wall: Wall) -> list[tuple[int, int]]:
    """The parts of a plan that show some of a wall."""
    return list(dict.fromkeys(board.seams.holding(_spot(wall, share)[0]) for share in sorted(_SHARES)))


def _letter_off(board: Board, wall: Wall, text: str, part: tuple[int, int], reach: Box) -> bool:
    """A label that stands off its wall, with a line to it: outside of the room if that can be; False without room."""
    found = _room_off(board, wall, text, part, reach)
    if found is None:
        return False
    place, foot, line = found
    board.texts.add(grown_ring(place, board.heights[place.role], _LED_GAP))
    board.shapes += [place, Line(Role.DIMENSION, foot, line[1])]
    board.texts.add_stroke(*line)
    return True


def _room_off(
    board: Board, wall: Wall, text: str, part: tuple[int, int], reach: Box
) -> tuple[Text, Point, tuple[Point, Point]] | None:
    """Letters off a wall, where the line to them begins on the wall, and what of it must be free.

    The line crosses no other, and the letters stay beside their wall, if that can be.
    """
    best: tuple[int, tuple[Text, Point, tuple[Point, Point]]] | None = None
    for side, far, share, turn in itertools.product((1.0, -1.0), _FAR_OFF, _LED_SHARES, _LED_TURNS):
        spot, out = _spot(wall, share)
        if board.seams.holding(spot) != part:
            continue
        way = Frame(angle_deg=out + turn).outward((side, 0.0))
        foot = board.paper(spot)
        tip = (foot[0] + far * way[0], foot[1] + far * way[1])
        line = ((foot[0] + 0.8 * way[0], foot[1] + 0.8 * way[1]), tip)
        if not (board.texts.free(line) and board.bodies.free(line)):
            continue
        place = _led_text(text, tip, way, board.heights[Role.DIMENSION])
        if not _has_room(board, place, reach):
            continue
        rank = 2 * (not board.strokes.free(line)) + _past_ends(board, wall, place)
        if best is None or rank < best[0]:
            best = rank, (place, foot, line)
        if rank == 0:
            break
    return None if best is None else best[1]


def _past_ends(board: Board, wall: Wall, place: Text) -> bool:
    """Whether letters reach past an end of their wall, seen square to it: there they may be read as the next one's."""
    a, b = board.paper(wall.start), board.paper(wall.end)
    way = unit(a, b)
    along = [(x - a[0]) * way[0] + (y - a[1]) * way[1] for x, y in text_ring(place, board.heights[Role.DIMENSION])]
    return min(along) < -_PAST_END or max(along) > math.dist(a, b) + _PAST_END


def _has_room(board: Board, place: Text, reach: Box) -> bool:
    height = board.heights[place.role]
    ring = grown_ring(place, height, _LED_GAP)
    taken = (board.texts, board.bodies, board.walls, board.strokes)
    return reach.holds(box_of(text_ring(place, height))) and all(each.free(ring) for each in taken)


def _led_text(text: str, tip: Point, way: Point, height: float) -> Text:
    """Lying letters that a line in direction `way` ends at."""
    if abs(way[0]) > 0.35:
        side, off = ("left", 0.6) if way[0] > 0 else ("right", -0.6)
        return Text(Role.DIMENSION, (tip[0] + off, tip[1]), text, side, "middle")  # type: ignore[arg-type]
    lift = math.copysign(0.6 + 0.5 * height, way[1])
    return Text(Role.DIMENSION, (tip[0], tip[1] + lift), text, "centre", "middle")


def _spot(wall: Wall, share: float) -> tuple[Point, float]:
    """A point of a wall, and the direction out of the room there, degrees."""
    (x, y), (u, v) = wall.start, wall.end
    arc = wall.arc
    if arc is None:
        return (x + share * (u - x), y + share * (v - y)), math.degrees(math.atan2(v - y, u - x)) - 90.0
    turn = arc.start_deg + share * arc.sweep_deg
    out = turn if wall.bulge > 0 else turn + 180.0
    return Frame(arc.centre, turn).outward((arc.radius, 0.0)), out


def _from_the_first_free(board: Board, places: Sequence[Text]) -> list[Text]:
    """The places without those at the front where letters would not even stand close to others."""
    taken = (board.texts, board.bodies, board.walls, board.strokes)

    def blocked(place: Text) -> bool:
        ring = text_ring(place, board.heights[place.role])
        return not all(each.free(ring) for each in taken)

    return list(dropwhile(blocked, places))


def letter_lines(board: Board, lines: Sequence[Lettered], reach: Box) -> None:
    """Strings with what they are, diagonals with their lengths; on every part of a plan, where there is room.

    Where there is none, the marks at the ends of a string say what it is, and the list of diagonals how long they are;
    the first of them, by which the strings are proved, is led to.
    """
    named, proof = _beside_walls(board), next((line for line in lines if line[0] is Role.DIMENSION), None)
    for role, a, b, texts in lines:
        lettered: set[tuple[int, int]] = set()
        for text in texts:
            for part, places in board.by_part(_along(board, role, a, b, text, _OFF_LINE)).items():
                if part not in lettered and _letter_line(board, places, named):
                    lettered.add(part)
        if not lettered and (role, a, b, texts) == proof:
            _lead_to_line(board, ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), texts[0], reach)


def _lead_to_line(board: Board, middle: Point, text: str, reach: Box) -> None:
    """Letters off a line, with a line to its middle; nothing without room."""
    for far, turn in itertools.product(_LINE_FAR, _LINE_TURNS):
        way = Frame(angle_deg=turn).outward((1.0, 0.0))
        tip = (middle[0] + far * way[0], middle[1] + far * way[1])
        place = _led_text(text, tip, way, board.heights[Role.DIMENSION])
        if board.texts.free((middle, tip)) and board.bodies.free((middle, tip)) and _has_room(board, place, reach):
            board.texts.add(grown_ring(place, board.heights[place.role], _LED_GAP))
            board.shapes += [place, Line(Role.DIMENSION, middle, tip)]
            board.texts.add_stroke(middle, tip)
            return


def _beside_walls(board: Board) -> Taken:
    """In line with the labels of walls: other letters there would be read on as theirs."""
    found = Taken()
    for shape in board.shapes:
        if isinstance(shape, Text) and shape.role == Role.DIMENSION:
            a, b, c, d = text_ring(shape, board.heights[shape.role])
            along = times(unit(a, b), _COLUMN)
            before, behind = (
                [(x + sign * along[0], y + sign * along[1]) for x, y in ends]
                for ends, sign in (((d, a), -1.0), ((b, c), 1.0))
            )
            found.add((before[1], *behind, before[0]))
    return found


def _letter_line(board: Board, places: Sequence[Text], named: Taken) -> bool:
    """Letter one line away from labels of walls if that can be; False without room."""
    return (
        _letter(board, places, spaced, named)
        or _letter(board, places, spaced)
        or board.letter(places, board.bodies, board.walls, board.strokes, gap=_CLOSE)
    )


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
    if wall.arc is not None:
        return _along_arc(board, wall, wall.arc, text)
    return _along(board, Role.DIMENSION, board.paper(wall.end), board.paper(wall.start), text, _OFF_WALL)


def _along_arc(board: Board, wall: Wall, arc: Arc, text: str) -> Iterator[Text]:
    """Places beside a bowed wall, each along its tangent, so far off that the wall does not bow into the letters."""
    height, radius = board.heights[Role.DIMENSION], arc.radius / board.scale
    half, long = text_width(text, height) / 2, wall.length / board.scale
    if half > min(0.5 * long, 0.9 * radius):
        return
    hollow = radius - math.sqrt(radius**2 - half**2)
    for off in _OFF_WALL:
        inside = off < 0
        lift = abs(off) + height / 2 + (hollow if inside == (wall.bulge > 0) else 0.0)
        for share in _SHARES:
            if not half <= share * long <= long - half:
                continue
            spot, out = _spot(wall, share)
            way = Frame(angle_deg=out).outward((-1.0 if inside else 1.0, 0.0))
            x, y = board.paper(spot)
            at = (x + lift * way[0], y + lift * way[1])
            yield Text(Role.DIMENSION, at, text, "centre", "middle", steady(out + 90.0))


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
