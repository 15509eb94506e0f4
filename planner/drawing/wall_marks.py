"""What is lettered along walls: lengths that no string tells, bows, borders, tapered borders at both their ends.

In: a board. Out: letters outside of the walls, each along its wall, and dimensions from a tapered wall to the grid.
"""

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from planner.drawing import words
from planner.drawing.board import Board
from planner.drawing.corner_marks import unit
from planner.drawing.dimensions import spoken, written
from planner.drawing.labels import LIFT, MASK, ROOM, TICK_REACH, box_ring, ends_of, first_free, steady, text_ring
from planner.drawing.lettering import text_width
from planner.drawing.roles import Role
from planner.drawing.shapes import Dimension, Text
from planner.drawing.strings import corner_room, is_square
from planner.drawing.wall_borders import border_feet, border_text, tapered_ends
from planner.geometry import Box, Frame, Point, box_of, distance
from planner.room.outline import Wall

#: Walls lettered one by one; a bowed wall as chords has more.
_MOST_WALLS = 100
#: Tapers less than this are not dimensioned at both ends.
_TAPER_MM = 8.0
#: Whether letters of a dimension may be crossed by lines: not, then only by such as do not run along them.
Crossed = Literal["not", "by cross tees", "across", "any way"]
CROSSED: tuple[Crossed, ...] = ("not", "by cross tees", "across", "any way")
#: Half the ticks at the ends of a dimension reach so far across and up, millimetres.
_TICK = 1.15
#: Lines across such letters keep clear of so much of their length at both ends.
_END = 0.08


def mark_walls(board: Board) -> None:
    """Walls that are not along the strings bear their own length and border; a tapered border also at both ends."""
    layout = board.plan.ceiling.layout
    square = is_square(layout)
    tell_chains(board)
    for wall in board.plan.room.walls[:_MOST_WALLS]:
        ends = tapered_ends(layout, wall)
        if isinstance(ends, tuple) and abs(ends[0] - ends[1]) >= _TAPER_MM:
            _dimension_taper(board, wall)
        if not square or _slants(wall) or wall.arc is not None:
            places = list(_along(board, wall))
            lettered = board.letter(places, board.bodies, board.walls, board.strokes)
            if not lettered and wall.arc is not None:  # no string tells what a bow measures
                board.letter(places, board.bodies, board.walls, mask=MASK)


def tell_chains(board: Board) -> None:
    """A remark on what the strings measure, where a tape along some wall reads otherwise."""
    walls = board.plan.room.walls
    if is_square(board.plan.ceiling.layout) and any(_slants(wall) or wall.arc is not None for wall in walls):
        board.remarks.append(words.say("walls.chains"))


def _slants(wall: Wall) -> bool:
    return abs(wall.end[0] - wall.start[0]) > 1.0 and abs(wall.end[1] - wall.start[1]) > 1.0


def _dimension_taper(board: Board, wall: Wall) -> None:
    """The border near both ends of a wall, each from the wall to the grid line that faces it."""
    layout, units = board.plan.ceiling.layout, board.plan.room.units
    inset = min(0.35, 0.75 * min(layout.module) / wall.length)
    for share in (inset, 1.0 - inset):
        shares = [share + (0.06 * k if share < 0.5 else -0.06 * k) for k in range(4)]
        tried = [border_feet(layout, wall, moved_share) for moved_share in shares]
        any(
            dimension_between(board, feet, written(distance(*feet), units), crossed)
            for crossed in CROSSED
            for feet in tried
        )


def dimension_between(board: Board, feet: tuple[Point, Point], text: str, crossed: Crossed) -> bool:
    """A dimension of a border with its letters on the line, or in the whole panel behind it; False without room."""
    height = board.heights[Role.DIMENSION]
    start, end = (board.paper(foot) for foot in feet)
    long = distance(start, end)
    if long < 0.5:
        return False
    way = unit(start, end)
    angle = steady(math.degrees(math.atan2(way[1], way[0])))
    up = Frame((0.0, 0.0), angle).outward((0.0, LIFT + height / 2))
    width = text_width(text, height)
    offs = [long + TICK_REACH + width / 2, -TICK_REACH - width / 2]
    if width + 2 * ROOM <= long:
        offs.insert(0, long / 2)
    places = [
        Text(
            Role.DIMENSION, (start[0] + off * way[0] + up[0], start[1] + off * way[1] + up[1]), text, "centre", "middle"
        )
        for off in offs
    ]
    reserved = box_of(board.ring).grown(corner_room(board.heights))
    turned = [replace(place, angle_deg=angle) for place in places]
    turned = [place for place in turned if reserved.holds(box_of(text_ring(place, height)))]
    if crossed in ("by cross tees", "across"):
        ends = [ends_of(text_ring(place, height), _END) for place in turned]
        turned = [place for place, both in zip(turned, ends, strict=True) if all(map(board.strokes.free, both))]
    more = {"not": (board.strokes,), "by cross tees": (board.mains, board.dims)}.get(crossed, ())
    avoid = (board.bodies, board.walls, *more)
    found = first_free(turned, height, board.texts, avoid)
    if found is None:
        return False
    board.strokes.add_stroke(start, end)
    board.texts.add_stroke(start, end)  # a mark of a panel on it could not be read
    for x, y in (start, end):
        board.texts.add(box_ring(Box(x - _TICK, y - _TICK, x + _TICK, y + _TICK)))
    mask = 0.0 if crossed == "not" else MASK
    board.shapes.append(Dimension(Role.DIMENSION, start, end, start, angle, text, found.at, angle, mask))
    return True


def _along(board: Board, wall: Wall) -> Iterator[Text]:
    """Places outside a wall, along it."""
    height = board.heights[Role.DIMENSION]
    units = board.plan.room.units
    length = written(wall.length, units)
    if wall.arc is not None:
        rise = abs(wall.bulge) * distance(wall.start, wall.end) / 2
        short = spoken if board.plan.room.imperial else written
        length = words.say("walls.bowed wall", length=length, rise=short(rise, units))
    for text in (words.say("walls.with border", length=length, border=border_text(board.plan, wall)), length):
        width = text_width(text, height)
        if width > distance(wall.start, wall.end) / board.scale:
            continue
        for off in (2.0, 3.2):
            for share in (0.5, 0.4, 0.6, 0.3, 0.7):
                at, way, hollow = _spot_on(board, wall, share, width)
                angle = steady(math.degrees(math.atan2(way[1], way[0])))
                away = off + hollow + height / 2
                place = (at[0] + way[1] * away, at[1] - way[0] * away)
                yield Text(Role.DIMENSION, place, text, "centre", "middle", angle)


def _spot_on(board: Board, wall: Wall, share: float, width: float) -> tuple[Point, Point, float]:
    """A point of a wall on paper, the way along the wall there, and how far the wall bows towards letters outside."""
    arc = wall.arc
    if arc is None:
        a, b = board.paper(wall.start), board.paper(wall.end)
        return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])), unit(a, b), 0.0
    turn = Frame(arc.centre, arc.start_deg + share * arc.sweep_deg)
    out = 1.0 if wall.bulge > 0 else -1.0
    radius, half = arc.radius / board.scale, width / 2
    hollow = radius - math.sqrt(max(radius**2 - half**2, 0.0)) if wall.bulge < 0 else 0.0
    way = Frame(angle_deg=turn.angle_deg).outward((0.0, out))
    return board.paper(turn.outward((arc.radius, 0.0))), way, hollow
