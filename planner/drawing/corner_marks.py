"""A letter in a circle outside each corner; the reference corner has a second circle.

In: a board. Out: the marks on it, each where it is clear of letters, symbols and, if that can be, of lines.
"""

import math
from collections.abc import Sequence
from functools import partial

from planner.drawing import words
from planner.drawing.board import Board
from planner.drawing.labels import Taken, box_ring
from planner.drawing.lettering import clean, text_width
from planner.drawing.neighbours import Neighbours
from planner.drawing.roles import Role
from planner.drawing.shapes import Circle, Line, Text
from planner.drawing.strings import CORNER_GAP, CORNER_RADIUS, REFERENCE_RING
from planner.drawing.wrapping import shortened
from planner.geometry import Box, Frame, Point, Ring, distance

#: Marks stand no further from their corner than this, in heights of the letter.
_REACH = 8.0
#: Outside of corners narrower than this there is little room, degrees.
_NARROW_DEG = 100.0
#: Marks of two such corners, each as near as it can be, find room side by side where these are so many radii apart.
_SIDE_BY_SIDE = 2 * (1 + math.sqrt(2.0))
#: A mark may stand nearer to another corner by so many of its radii.
_MUCH = 0.7
#: Extension lines are left out so far around a letter in its circle, in heights of the letter, where a wall is near.
_WITHIN = 0.12
#: From a circle to lines and to other letters, millimetres.
_OFF_LINES = 0.3
_OFF_LETTERS = 0.8


def mark_corners(board: Board) -> None:
    """A letter in a circle outside each corner; the reference corner has a second circle."""
    room = board.plan.room
    height = board.heights[Role.CORNER_MARK]
    at = room.corner_at or range(len(room.outline))
    others = Neighbours([board.paper(room.outline[k]) for k in at], _REACH * height)
    for k in _narrowest_first(board, at):
        corner, name = at[k], room.corner_names[k]
        if not name:
            continue
        letters = shortened(clean(name), 4 * height, height)
        radius = max(CORNER_RADIUS * height, text_width(letters, height) / 2 + 0.4 * height)
        reach = radius * (REFERENCE_RING if k == 0 else 1.0)
        near, far = _corner_places(board, corner, reach)
        letter = (text_width(letters, height) / 2, height / 2)
        here = board.paper(room.outline[corner])
        own = partial(_belongs, others, here, reach)
        centre = _first_of(board, [*filter(own, near)], [*filter(own, far)], reach, letter)
        narrow = _outside_deg(room.outline, corner) < _NARROW_DEG and others.nearest(here, here) < _SIDE_BY_SIDE * reach
        if narrow and _free(board, near[0], reach):
            centre = near[0]  # across extension lines, which are left out below: the other mark needs the room beside
        led = centre is None
        centre = _first_of(board, near, far, reach, letter) if centre is None else centre
        if centre is None:
            continue
        if led:
            tip = _edge_of(centre, reach, here)
            board.shapes.append(Line(Role.CORNER_MARK, here, tip))
            board.texts.add_stroke(here, tip)
        board.texts.add(disc_ring(centre, reach))
        mask = _mask(board, centre, reach, *letter)
        board.shapes.append(Text(Role.CORNER_MARK, centre, letters, "centre", "middle", mask=mask))
        board.shapes.append(
            Circle(Role.CORNER_MARK, centre, radius, title=words.say("legend.corner title", corner=clean(name)))
        )
        if k == 0:
            board.shapes.append(Circle(Role.CORNER_MARK, centre, reach, title=words.say("legend.reference corner")))


def _belongs(others: Neighbours, corner: Point, reach: float, centre: Point) -> bool:
    """Whether a mark would be read as that of its corner: no other is much nearer."""
    return distance(centre, corner) <= others.nearest(centre, corner) + _MUCH * reach


def _narrowest_first(board: Board, corners: Sequence[int]) -> list[int]:
    """Corners by the room that there is outside of them, the least first: there is one place for their marks only."""
    outline = board.plan.room.outline
    return sorted(range(len(corners)), key=lambda k: round(_outside_deg(outline, corners[k]) / 45.0))


def _outside_deg(outline: Ring, k: int) -> float:
    """The angle outside of a corner, degrees."""
    corner, before, after = outline[k], outline[k - 1], outline[(k + 1) % len(outline)]
    turns = [math.atan2(y - corner[1], x - corner[0]) for x, y in (before, after)]
    return math.degrees(turns[1] - turns[0]) % 360.0


def _edge_of(centre: Point, radius: float, towards: Point) -> Point:
    """The point of a circle that is nearest to a point outside."""
    u, v = unit(centre, towards)
    return centre[0] + radius * u, centre[1] + radius * v


def _first_of(board: Board, near: Sequence[Point], far: Sequence[Point], reach: float, letter: Point) -> Point | None:
    """Where no line is crossed, near the corner if its letter at least is clear there; else where there is room.

    Where the circle is crossed lines are left out below it.
    """
    here, there = ([centre for centre in some if _free(board, centre, reach)] for some in (near, far))
    whole, inner = (reach + _OFF_LINES,) * 2, (letter[0] + _OFF_LINES, letter[1] + _OFF_LINES)
    for some, half in ((here, whole), (here, inner), (there, whole)):
        if found := next((centre for centre in some if board.strokes.free(_box(centre, half))), None):
            return found
    return next(iter((*here, *there)), None)


def _free(board: Board, centre: Point, reach: float) -> bool:
    """Whether a mark stands clear of letters, symbols and walls."""
    return free_disc(board, centre, reach, board.walls) and board.texts.free(disc_ring(centre, reach + _OFF_LETTERS))


def _mask(board: Board, centre: Point, reach: float, half: float, tall: float) -> float:
    """How far around a letter lines are left out: to the edge of its circle, unless a wall is there; 0 with none there.

    `half` and `tall` are half the width and height of the letter.
    """
    if board.strokes.free(disc_ring(centre, reach)):
        return 0.0
    whole = reach - min(half, tall)
    clear = board.walls.free(_box(centre, (half + whole, tall + whole)))
    return whole if clear else _WITHIN * 2 * tall


def _corner_places(board: Board, k: int, reach: float) -> tuple[list[Point], list[Point]]:
    """Centres outside a corner: clear of the extension lines along its walls, then turned; and those further off."""
    outline = board.plan.room.outline
    frame = Frame(board.paper(outline[k]))
    way = _outward(outline, k)
    near, touching = (reach + CORNER_GAP) * math.sqrt(2.0), reach + CORNER_GAP
    tries = [(near, 0), (touching, 0), *((near, turn) for turn in (12, -12, 25, -25, 38, -38, 50, -50, 70, -70))]
    tries += [(1.2 * near, turn) for turn in (0, 12, -12, 25, -25, 38, -38, 50, -50)]
    off = [(far * near, turn) for far in (1.35, 1.7) for turn in (0, 25, -25, 50, -50)]
    off += [(far * near, turn) for far in (2.0, 2.4) for turn in (0, 15, -15, 30, -30, 45, -45, 60, -60)]
    here, there = ([Frame(frame.origin, turn).outward(times(way, far)) for far, turn in some] for some in (tries, off))
    return here, there


def disc_ring(centre: Point, radius: float) -> Ring:
    """The square around a disc."""
    return _box(centre, (radius, radius))


def _box(centre: Point, half: Point) -> Ring:
    x, y = centre
    return box_ring(Box(x - half[0], y - half[1], x + half[0], y + half[1]))


def free_disc(board: Board, centre: Point, radius: float, *avoid: Taken) -> bool:
    """True when a disc meets neither letters nor symbols nor anything of `avoid`."""
    ring = disc_ring(centre, radius)
    return all(taken.free(ring) for taken in (board.texts, board.bodies, *avoid))


def _outward(outline: Ring, k: int) -> Point:
    """The direction in which the wall side of a corner lies, halfway between its walls."""
    corner, before, after = outline[k], outline[k - 1], outline[(k + 1) % len(outline)]
    u, v = unit(corner, before), unit(corner, after)
    right = (v[1], -v[0])  # of the wall that leaves the corner; the room is on its left
    middle = (u[0] + v[0], u[1] + v[1])
    if math.hypot(*middle) < 1e-6:
        return right
    side = 1.0 if middle[0] * right[0] + middle[1] * right[1] > 0 else -1.0
    return times(unit((0.0, 0.0), middle), side)


def unit(a: Point, b: Point) -> Point:
    """The direction from one point to another."""
    length = distance(a, b)
    return ((b[0] - a[0]) / length, (b[1] - a[1]) / length)


def times(vector: Point, by: float) -> Point:
    return (vector[0] * by, vector[1] * by)
