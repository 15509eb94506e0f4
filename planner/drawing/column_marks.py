"""The name of each column, chase or pipe beside it, for findings and steps call it by that; and, once in a set, where
it stands.

In: a board. Out: names on it, clear of all else, a line leading to those that have no room beside what they name; and
dimensions from the two nearest walls to the face of the column, which is where a tape begins.
"""

from collections.abc import Iterator
from itertools import product

from shapely.geometry import LineString, Polygon

from planner.drawing.board import TRIM_ROOM, Board, around
from planner.drawing.dimensions import written
from planner.drawing.labels import MASK, Taken, grown_ring
from planner.drawing.led_marks import cut_panels, led_text
from planner.drawing.lettering import clean
from planner.drawing.roles import Role
from planner.drawing.shapes import Line, Text
from planner.drawing.wall_marks import CROSSED, dimension_between
from planner.drawing.wrapping import shortened
from planner.geometry import TOLERANCE_MM, Box, Point, box_of, distance
from planner.room.outline import Column

#: Names longer than this on paper are shortened, millimetres.
_LONGEST = 30.0
#: From the trim round a column to its name, millimetres.
_OFF = 0.4
#: From the name of a column to the mark of a panel, in heights of the name: nearer they would be read as one.
_APART = 1.5
_TURNS = tuple(15.0 + 30.0 * k for k in range(12))
#: Columns dimensioned one by one.
_MOST = 60


def mark_columns(board: Board, reach: Box) -> None:
    """Letter the name of each column within `reach`: beside it, else with a line to it; off tees if that can be."""
    cut = cut_panels(board) if board.plan.room.columns else Taken()
    for column in board.plan.room.columns:
        text = shortened(clean(column.name), _LONGEST, board.heights[Role.NOTE])
        if text:
            _mark(board, column, text, cut, reach)


def dimension_columns(board: Board) -> None:
    """From walls to the faces of each column, along the room and across it; none to a wall that it stands against."""
    for column in board.plan.room.columns[:_MOST]:
        for axis in (0, 1):
            ways = sorted(_from_walls(board, column, axis), key=lambda feet: distance(*feet))
            if not ways or distance(*ways[0]) <= TOLERANCE_MM:
                continue
            any(
                dimension_between(board, feet, written(distance(*feet), board.plan.room.units), crossed)
                for crossed, feet in product(CROSSED, ways)
            )


def _mark(board: Board, column: Column, text: str, cut: Taken, reach: Box) -> bool:
    """Letter one column, and keep marks of panels away from its name; False without any room."""
    before = len(board.shapes)
    done = _letter(board, column, text, cut, reach)
    height = board.heights[Role.NOTE]
    for shape in board.shapes[before:]:
        if isinstance(shape, Text):
            board.names.add(grown_ring(shape, height, _APART * height))
    return done


def _letter(board: Board, column: Column, text: str, cut: Taken, reach: Box) -> bool:
    """Beside it, where that can be on whole panels, for in the cut ones their marks are lettered."""
    box = box_of(map(board.paper, column.outline))
    half = (box.width / 2, box.height / 2)
    gap = TRIM_ROOM + board.heights.pen(Role.COLUMN) / 2 + _OFF
    places = around(Role.NOTE, text, box.centre, half, gap)
    clear = (board.bodies, board.walls, board.dims)
    if board.letter(places, *clear, board.strokes, cut):
        return True
    if board.letter(places, *clear, board.strokes, board.faint) or board.letter(places, *clear, board.strokes):
        return True
    if board.letter(places, *clear, board.mains, mask=MASK):
        return True
    off = max(half) + gap
    led = led_text(board, Role.NOTE, text, ([(box.centre, off)], _TURNS), Taken(), reach)
    if led is None:
        return board.letter(places, board.bodies, mask=MASK)
    place, (start, tip) = led
    board.shapes += [place, Line(Role.CORNER_MARK, start, tip)]
    board.texts.add_stroke(start, tip)
    return True


def _from_walls(board: Board, column: Column, axis: int) -> Iterator[tuple[Point, Point]]:
    """From the wall on each side along an axis to what of the column is nearest to that side; room millimetres."""
    room, box = Polygon(board.plan.room.outline), board.plan.room.box
    for low in (True, False):
        face = _face(column, axis, low)
        far = (box.left if low else box.right) if axis == 0 else (box.bottom if low else box.top)
        end = (far, face[1]) if axis == 0 else (face[0], far)
        if distance(face, end) <= TOLERANCE_MM:
            yield end, face
            continue
        seen = room.boundary.intersection(LineString((face, end)))
        hits = [(x, y) for part in getattr(seen, "geoms", (seen,)) for x, y in part.coords]
        if hits:
            yield min(hits, key=lambda hit: distance(hit, face)), face


def _face(column: Column, axis: int, low: bool) -> Point:
    """What of a column is furthest along an axis: the middle of a face, a corner, a point of a pipe."""
    if column.diameter is not None:
        half = -column.diameter / 2 if low else column.diameter / 2
        x, y = column.centre
        return (x + half, y) if axis == 0 else (x, y + half)
    ends = [point[axis] for point in column.outline]
    most = min(ends) if low else max(ends)
    there = [point for point in column.outline if abs(point[axis] - most) <= TOLERANCE_MM]
    return (sum(x for x, _ in there) / len(there), sum(y for _, y in there) / len(there))
