"""A small picture of the room as lines of characters.

In: the outline with its corners, what stands in the room, how wide the terminal is. Out: rows of text. Rules: true to
scale for cells twice as high as wide; walls in plain characters, or finer in braille dots where the terminal can show
them; every corner carries its name, outside the room where there is a place for it.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field

from planner.geometry import Point, box_of
from planner.records import dataclass

#: A cell of the terminal is about twice as high as wide.
CELL = 2.0
#: Dots of a braille cell, (column, row from the top) to its bit (Unicode 1.1, block 2800).
_DOTS = {(0, 0): 1, (0, 1): 2, (0, 2): 4, (1, 0): 8, (1, 1): 16, (1, 2): 32, (0, 3): 64, (1, 3): 128}
MOST_CORNERS_OF_A_COLUMN = 8  #: one with more is round
MARGIN = 4  #: columns kept for names left and right


@dataclass(frozen=True, slots=True)
class View:
    """What there is to draw; millimetres, +y up."""

    outline: tuple[Point, ...]
    corners: Mapping[str, Point]
    columns: tuple[tuple[Point, ...], ...] = ()
    marks: tuple[tuple[str, Point], ...] = ()  #: one sign for each light or vent


@dataclass(slots=True)
class _Canvas:
    """A grid of cells that is written row by row."""

    width: int
    height: int
    cells: dict[tuple[int, int], str] = field(default_factory=dict)

    def free(self, column: int, row: int, count: int) -> bool:
        inside = column >= 0 and column + count <= self.width and 0 <= row < self.height
        return inside and all((column + k, row) not in self.cells for k in range(count))

    def write(self, column: int, row: int, text: str) -> None:
        self.cells.update({(column + k, row): sign for k, sign in enumerate(text)})

    def rows(self) -> list[str]:
        return [
            "".join(self.cells.get((column, row), " ") for column in range(self.width)).rstrip()
            for row in range(self.height)
        ]


def picture(view: View, width: int = 60, height: int = 16, *, fine: bool = False) -> list[str]:
    """Draw the room in at most `width` by `height` cells, names of corners included; `fine` uses braille dots."""
    box = box_of(view.outline)
    across, up = max(width - 2 * MARGIN, 8), max(height - 2, 4)
    scale = min((across - 1) / max(box.width, 1.0), (up - 1) * CELL / max(box.height, 1.0))
    size = (round(box.width * scale) + 1 + 2 * MARGIN, round(box.height * scale / CELL) + 3)
    canvas = _Canvas(*size)

    def cell(point: Point) -> tuple[float, float]:
        return MARGIN + (point[0] - box.left) * scale, size[1] - 2 - (point[1] - box.bottom) * scale / CELL

    rings = [[cell(point) for point in ring] for ring in (view.outline, *view.columns)]
    for ring in rings:
        _dotted(ring, canvas) if fine else _lined(ring, canvas)
    for point in () if fine else _turns(view):
        column, row = cell(point)
        canvas.write(round(column), round(row), "+")
    for sign, point in view.marks:
        column, row = cell(point)
        canvas.write(round(column), round(row), sign)
    for name, point in view.corners.items():
        _named(name, cell(point), canvas, cell(box.centre))
    return [row for row in canvas.rows() if row]


def _turns(view: View) -> Iterator[Point]:
    """Where a wall or a side of a column ends; a round column has no such place."""
    yield from view.corners.values()
    for ring in view.columns:
        yield from ring if len(ring) <= MOST_CORNERS_OF_A_COLUMN else ()


def _sides(ring: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    yield from zip(ring, [*ring[1:], ring[0]], strict=True)


def _lined(ring: Sequence[Point], canvas: _Canvas) -> None:
    """Walls in - | / and backslash."""
    for (x, y), (to_x, to_y) in _sides(ring):
        steps = max(1, math.ceil(max(abs(to_x - x), abs(to_y - y))))
        sign = _sign(to_x - x, (to_y - y) * CELL)
        for k in range(steps + 1):
            canvas.write(round(x + (to_x - x) * k / steps), round(y + (to_y - y) * k / steps), sign)


def _sign(right: float, down: float) -> str:
    """The character that leans most like a line."""
    lean = math.degrees(math.atan2(-down, right)) % 180.0
    if lean < 22.5 or lean > 157.5:
        return "-"
    return "/" if lean < 67.5 else "|" if lean < 112.5 else "\\"


def _dotted(ring: Sequence[Point], canvas: _Canvas) -> None:
    """Walls in braille dots, two by four in a cell."""
    for (x, y), (to_x, to_y) in _sides(ring):
        steps = max(1, math.ceil(max(abs(to_x - x) * 2, abs(to_y - y) * 4)))
        for k in range(steps + 1):
            across, down = x + (to_x - x) * k / steps + 0.5, y + (to_y - y) * k / steps + 0.5
            place = (math.floor(across), math.floor(down))
            dot = _DOTS[min(1, int((across - place[0]) * 2)), min(3, int((down - place[1]) * 4))]
            seen = canvas.cells.get(place, "\u2800")
            canvas.cells[place] = chr((ord(seen) if 0x2800 <= ord(seen) <= 0x28FF else 0x2800) | dot)


def _named(name: str, at: Point, canvas: _Canvas, centre: Point) -> None:
    """Write a corner's name into the nearest free cells, away from the middle of the room first."""
    column, row = round(at[0]), round(at[1])
    left = at[0] < centre[0]
    aside = (column - len(name) - 0, row) if left else (column + 1, row)
    beyond = row + (1 if at[1] > centre[1] else -1)
    outer = (column - len(name), beyond) if left else (column + 1, beyond)
    places = [outer, (column, beyond), aside, (column + 1, row), (column - len(name), row)]
    places += [(column + dx, row + dy) for dy in (-1, 1) for dx in (1, -len(name), 0)]
    for place in places:
        if canvas.free(*place, len(name)):
            canvas.write(*place, name)
            return
