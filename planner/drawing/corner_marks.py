"""A letter in a circle outside each corner; the reference corner has a second circle.

In: a board. Out: the marks on it, each where it is clear of letters, symbols and, if that can be, of lines.
"""

import math
from itertools import chain

from planner.drawing import words
from planner.drawing.board import Board
from planner.drawing.labels import Taken, box_ring
from planner.drawing.lettering import clean, text_width
from planner.drawing.roles import Role
from planner.drawing.shapes import Circle, Text
from planner.drawing.strings import CORNER_GAP, CORNER_RADIUS, REFERENCE_RING
from planner.drawing.wrapping import shortened
from planner.geometry import Box, Frame, Point, Ring, distance


def mark_corners(board: Board) -> None:
    """A letter in a circle outside each corner; the reference corner has a second circle."""
    room = board.plan.room
    height = board.heights[Role.CORNER_MARK]
    at = room.corner_at or range(len(room.outline))
    for k, (corner, name) in enumerate(zip(at, room.corner_names, strict=True)):
        if not name:
            continue
        letters = shortened(clean(name), 4 * height, height)
        radius = max(CORNER_RADIUS * height, text_width(letters, height) / 2 + 0.4 * height)
        reach = radius * (REFERENCE_RING if k == 0 else 1.0)
        near, far = _corner_places(board, corner, reach)
        letter = (0.6 * text_width(letters, height), 0.6 * height)
        clear = (p for p in near if free_disc(board, p, reach, board.walls, board.strokes))
        cut = (p for p in near if free_disc(board, p, reach, board.walls) and board.strokes.free(_box(p, letter)))
        off = (p for p in far if free_disc(board, p, reach, board.walls, board.strokes))
        crossed = (p for p in (*near, *far) if free_disc(board, p, reach, board.walls))
        centre = next(chain(clear, cut, off, crossed), None)
        if centre is None:
            continue
        board.texts.add(disc_ring(centre, reach))
        board.shapes.append(
            Circle(Role.CORNER_MARK, centre, radius, title=words.say("legend.corner title", corner=clean(name)))
        )
        if k == 0:
            board.shapes.append(Circle(Role.CORNER_MARK, centre, reach, title=words.say("legend.reference corner")))
        board.shapes.append(Text(Role.CORNER_MARK, centre, letters, "centre", "middle"))


def _corner_places(board: Board, k: int, reach: float) -> tuple[list[Point], list[Point]]:
    """Centres outside a corner: clear of the extension lines along its walls, then turned; and those further off."""
    outline = board.plan.room.outline
    frame = Frame(board.paper(outline[k]))
    way = _outward(outline, k)
    near, touching = (reach + CORNER_GAP) * math.sqrt(2.0), reach + CORNER_GAP
    tries = [(near, 0), (touching, 0), *((near, turn) for turn in (25, -25, 50, -50, 70, -70))]
    tries += [(far * near, turn) for far in (1.35, 1.7) for turn in (0, 25, -25, 50, -50)]
    off = [(far * near, turn) for far in (2.0, 2.4) for turn in (0, 15, -15, 30, -30, 45, -45, 60, -60)]
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
