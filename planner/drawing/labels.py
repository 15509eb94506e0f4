"""Where letters may stand: true boxes of texts, and a place for each that touches no other.

In: texts, each with candidate places in order of preference. Out: the first place that is free, or none. All lengths
here are paper millimetres. Boxes come from the widths of the real glyphs (`lettering.text_width`); where a letter
reaches below its foot it does so by a quarter of its height (the font's descenders: 434 of 1409 units, of which g and y
use most).

`text_boxes` gives the box of every text on a finished sheet, so that anyone can prove that no two overlap.
"""

import itertools
import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import field, replace

from planner.drawing.lettering import text_width
from planner.drawing.roles import Role
from planner.drawing.shapes import Dimension, Shape, Sheet, Symbol, Text
from planner.drawing.stylebook import Style
from planner.geometry import Box, Point, Ring, distance, midpoint
from planner.records import dataclass

#: Part of the height of capitals that letters reach below their foot, and accents above.
DESCENT = 0.28
#: None of these reaches below the foot, but for a hundredth or two.
_ON_FOOT = frozenset("0123456789ABCDEFGHIKLMNOPRSTUVWXYZabcdefhiklmnorstuvwxz +-–=×.:/'\"%*#")
#: Dimensions, millimetres: line to letters, letters to extension lines (a tick leans over by 1.13), end of the line to
#: letters past it.
LIFT = 1.0
ROOM = 1.25
TICK_REACH = 2.6

_CELL = 8.0
#: Around letters on lines that are left out below them, paper millimetres.
MASK = 0.3
#: Rings that meet by so little do not overlap.
_TOUCH = 0.01
#: A side lies or stands where its ends differ by less.
_LEVEL = 1e-9
#: Letters that would run down more steeply than this, in degrees, run up instead.
_STEEPEST_DOWN = -80.0


@dataclass(frozen=True, slots=True)
class Lettered:
    """The box that one line of letters takes on the paper; turned with the letters."""

    text: str
    role: Role
    ring: Ring
    masked: bool = False  #: thin lines below are left out


class Heights(dict[Role, float]):
    """Height of capitals for each role, and how broad its pen is; paper millimetres."""

    def __init__(self, heights: Mapping[Role, float], pens: Mapping[Role, float] | None = None) -> None:
        super().__init__(heights)
        self._pens = pens or {}

    @classmethod
    def of(cls, style: Style) -> "Heights":
        heights = {role: drawn.height for role, drawn in style.roles}
        return cls(heights, {role: style.layer(role).pen for role in heights})

    def pen(self, role: Role) -> float:
        """How broad lines are; 0 where no style says so."""
        return self._pens.get(role, 0.0)


def readable(angle_deg: float) -> float:
    """The same direction turned so that letters along it read from below or from the right: above -90, up to 90."""
    turned = angle_deg % 180.0
    return turned if turned <= 90.0 + 1e-9 else turned - 180.0


def steady(angle_deg: float) -> float:
    """Readable, and where nearly upright always running up, as all other letters at uprights do."""
    turned = readable(angle_deg)
    return turned + 180.0 if turned < _STEEPEST_DOWN else turned


def descent(text: str) -> float:
    """Part of the height of capitals that letters reach below their foot."""
    return 0.0 if _ON_FOOT.issuperset(text) else DESCENT


def text_ring(text: Text, height: float) -> Ring:
    """The four corners of a text's box, in the frame and unit of its `at`; `height` in that unit too."""
    width = text_width(text.text, height)
    left = {"left": 0.0, "centre": -width / 2, "right": -width}[text.horizontal]
    foot = {"base": 0.0, "middle": -height / 2, "top": -height}[text.vertical]
    low, high = foot - descent(text.text) * height, foot + height
    corners = ((left, low), (left + width, low), (left + width, high), (left, high))
    return tuple(_turned(corner, text.at, text.angle_deg) for corner in corners)


def grown_ring(text: Text, height: float, gap: float) -> Ring:
    """The box of a text with a gap around it."""
    a, b, c, d = text_ring(text, height)
    right = _scaled((b[0] - a[0], b[1] - a[1]), gap)
    up = _scaled((d[0] - a[0], d[1] - a[1]), gap)
    return (
        (a[0] - right[0] - up[0], a[1] - right[1] - up[1]),
        (b[0] + right[0] - up[0], b[1] + right[1] - up[1]),
        (c[0] + right[0] + up[0], c[1] + right[1] + up[1]),
        (d[0] - right[0] + up[0], d[1] - right[1] + up[1]),
    )


def dimension_text(shape: Dimension, height: float, scale: float) -> Text:
    """The letters of a dimension as a text of their own, in the frame of its points; `height` on paper.

    Above the middle of the line; past its end where they find no room between the extension lines; at `text_at` when
    that is given.
    """
    along = readable(shape.angle_deg)
    if shape.text_at is not None:
        turn = along if shape.text_angle_deg is None else shape.text_angle_deg
        return Text(shape.role, shape.text_at, shape.text, "centre", "middle", turn, mask=shape.mask)
    a, b = (_foot_on_line(point, shape.line_at, along) for point in (shape.start, shape.end))
    middle = midpoint(a, b)
    width = text_width(shape.text, height) * scale
    if width + 2 * ROOM * scale > distance(a, b):
        way = _scaled((b[0] - a[0], b[1] - a[1]), TICK_REACH * scale + width / 2)
        middle = (b[0] + way[0], b[1] + way[1])
    at = _turned((0.0, LIFT * scale), middle, along)
    return Text(shape.role, at, shape.text, "centre", "base", along, mask=shape.mask)


def text_boxes(sheet: Sheet, style: Style) -> tuple[Lettered, ...]:
    """The box of every text on a sheet, on the paper: its own, those in its windows and those in symbols."""
    heights = Heights.of(style)
    found = list(_lettered(sheet.shapes, heights, 1.0))
    for window in sheet.windows:
        drawing = window.drawing
        blocks = {block.name: block.shapes for block in drawing.blocks}
        inside = [*window.shown]
        for shape in window.shown:
            if isinstance(shape, Symbol):
                inside += (_placed(part, shape) for part in blocks[shape.block] if isinstance(part, Text))
        for box in _lettered(inside, heights, drawing.scale):
            ring = tuple(map(window.to_paper, box.ring))
            if window.part is None or rings_overlap(ring, box_ring(window.box)):  # the rest is on other parts
                found.append(replace(box, ring=ring))
    return tuple(found)


def rings_overlap(a: Ring, b: Ring) -> bool:
    """True when the insides of two convex rings meet; touching edges do not count (separating axes).

    A hundredth of a millimetre of touch is allowed.
    """
    return not (_part(a, a, b) or _part(b, a, b))


def broad(a: Point, b: Point, pen: float) -> Ring:
    """A line as broad as its pen."""
    x, y = _scaled((b[1] - a[1], a[0] - b[0]), pen / 2)
    return ((a[0] - x, a[1] - y), (b[0] - x, b[1] - y), (b[0] + x, b[1] + y), (a[0] + x, a[1] + y))


def box_ring(box: Box) -> Ring:
    return ((box.left, box.bottom), (box.right, box.bottom), (box.right, box.top), (box.left, box.top))


def ends_of(ring: Ring, share: float) -> tuple[Ring, Ring]:
    """Both ends of a box of letters, a share of its length each: what meets neither does not strike them through."""
    a, b, c, d = ring

    def between(first: Point, last: Point, part: float) -> Point:
        return (first[0] + part * (last[0] - first[0]), first[1] + part * (last[1] - first[1]))

    return (
        (a, between(a, b, share), between(d, c, share), d),
        (between(b, a, share), b, c, between(c, d, share)),
    )


#: Left, bottom, right, top of a ring, the ring, and whether it is that box or a line along one of its sides.
_Room = tuple[float, float, float, float, Ring, bool]


@dataclass(slots=True)
class Taken:
    """Room on the paper that is taken, found again by squares of `_CELL` so that a thousand labels stay quick."""

    cells: dict[tuple[int, int], list[_Room]] = field(default_factory=dict)
    _order: list[tuple[int, int]] = field(default_factory=list)  #: the squares in which room was taken, the last last

    def copy(self) -> "Taken":
        return Taken({cell: [*rooms] for cell, rooms in self.cells.items()}, [*self._order])

    @property
    def so_far(self) -> int:
        """A mark to go `back_to`."""
        return len(self._order)

    def back_to(self, mark: int) -> None:
        """Free what was taken since."""
        for cell in reversed(self._order[mark:]):
            self.cells[cell].pop()
        del self._order[mark:]

    def add(self, ring: Ring) -> None:
        room = _room(ring)
        for cell in _cells_of(room):
            self.cells.setdefault(cell, []).append(room)
            self._order.append(cell)

    def add_stroke(self, a: Point, b: Point, pen: float = 0.0) -> None:
        """A line as broad as its pen; piece by piece, because the box around a slanting line is mostly empty."""
        steps = max(1, math.ceil(math.dist(a, b) / _CELL))
        points = [(a[0] + (b[0] - a[0]) * k / steps, a[1] + (b[1] - a[1]) * k / steps) for k in range(steps + 1)]
        for piece in itertools.pairwise(points):
            self.add(broad(*piece, pen) if pen else piece)

    def free(self, ring: Ring) -> bool:
        room = left, bottom, right, top, _, plain = _room(ring)
        for cell in _cells_of(room):
            for west, south, east, north, other, square in self.cells.get(cell, ()):
                if not (west < right and left < east and south < top and bottom < north):
                    continue
                if plain and square:
                    if min(right - west, east - left, top - south, north - bottom) > _TOUCH:
                        return False
                # Where both are in several squares, they are held against each other in the first of those.
                elif _square(max(west, left), max(south, bottom)) == cell and rings_overlap(ring, other):
                    return False
        return True


def first_free(
    candidates: Iterable[Text], height: float, taken: Taken, avoid: Iterable[Taken] = (), gap: float = 0.3
) -> Text | None:
    """The first candidate that meets nothing in `taken` nor in any of `avoid`; None when there is no such place.

    `gap` millimetres are kept free around the letters. The place found is entered in `taken`.
    """
    others = tuple(avoid)
    for text in candidates:
        ring = grown_ring(text, height, gap)
        if taken.free(ring) and all(other.free(ring) for other in others):
            taken.add(ring)
            return text
    return None


def _scaled(vector: Point, length: float) -> Point:
    norm = math.hypot(*vector)
    return (vector[0] / norm * length, vector[1] / norm * length) if norm else (0.0, 0.0)


def _turned(offset: Point, at: Point, angle_deg: float) -> Point:
    """`offset` turned by an angle and moved to `at`."""
    c, s = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    return (at[0] + c * offset[0] - s * offset[1], at[1] + s * offset[0] + c * offset[1])


def _foot_on_line(point: Point, line_at: Point, angle_deg: float) -> Point:
    """The foot of the square dropped from a point on a line through `line_at`."""
    c, s = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    along = (point[0] - line_at[0]) * c + (point[1] - line_at[1]) * s
    return (line_at[0] + along * c, line_at[1] + along * s)


def _lettered(shapes: Iterable[Shape], heights: Heights, scale: float) -> Iterator[Lettered]:
    for shape in shapes:
        if isinstance(shape, Dimension):
            shape = dimension_text(shape, heights[shape.role], scale)
        if isinstance(shape, Text) and shape.text:
            yield Lettered(shape.text, shape.role, text_ring(shape, heights[shape.role] * scale), bool(shape.mask))


def _placed(text: Text, symbol: Symbol) -> Text:
    """A text of a block as it stands in the drawing."""
    at = _turned(text.at, symbol.at, symbol.angle_deg)
    return replace(text, at=at, angle_deg=text.angle_deg + symbol.angle_deg)


def _part(sides: Ring, a: Ring, b: Ring) -> bool:
    """True when a side of `sides`, which is one of both rings, has the other beyond it (a hundredth less)."""
    x, y = sides[-1]
    for u, v in sides:
        nx, ny = v - y, x - u
        x, y = u, v
        norm = math.hypot(nx, ny)
        if norm == 0.0:
            continue
        of_a = [p * nx + q * ny for p, q in a]
        of_b = [p * nx + q * ny for p, q in b]
        slack = _TOUCH * norm
        if max(of_a) <= min(of_b) + slack or max(of_b) <= min(of_a) + slack:
            return True
    return False


def _room(ring: Ring) -> _Room:
    xs, ys = zip(*ring, strict=True)
    return min(xs), min(ys), max(xs), max(ys), ring, _is_plain(ring)


def _is_plain(ring: Ring) -> bool:
    """Whether a ring is an upright box, or a line that lies or stands."""
    if len(ring) == 2:
        (ax, ay), (bx, by) = ring
        return abs(ax - bx) < _LEVEL or abs(ay - by) < _LEVEL
    if len(ring) != 4:
        return False
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = ring
    if abs(ay - by) < _LEVEL:
        return abs(bx - cx) < _LEVEL and abs(cy - dy) < _LEVEL and abs(dx - ax) < _LEVEL
    return abs(ax - bx) < _LEVEL and abs(by - cy) < _LEVEL and abs(cx - dx) < _LEVEL and abs(dy - ay) < _LEVEL


def _square(x: float, y: float) -> tuple[int, int]:
    return math.floor(x / _CELL), math.floor(y / _CELL)


def _cells_of(room: _Room) -> list[tuple[int, int]]:
    left, bottom, right, top, _, _ = room
    first, last = _square(left, bottom), _square(right, top)
    if first == last:
        return [first]
    return [(i, j) for i in range(first[0], last[0] + 1) for j in range(first[1], last[1] + 1)]
