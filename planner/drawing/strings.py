"""Which dimension strings stand around a room, and how much paper they take.

In: a room, its layout, a scale. Out: the shapes of all strings and how far they reach beyond the room on each side.
Below and at the left: what the grid leaves (border, run, border), the walls where there are several, the overall
length. Above and at the right only the strings that those do not show already. Corners so near each other that no
reader could tell their extension lines apart count as one; the survey table has their true places. A grid that is
turned against the room has no borders along the sides: there the first string shows where its start point is.
"""

from dataclasses import replace

from planner.ceiling.model import Layout
from planner.drawing.dimensions import (
    APART,
    FIRST_OFF,
    Segment,
    Side,
    String,
    depth,
    grid_segments,
    overhang,
    plain_segments,
    string_shapes,
)
from planner.drawing.labels import Heights, Taken, dimension_text, text_ring
from planner.drawing.match_lines import WHOLE, Seams
from planner.drawing.profile import Span, point_on, profile
from planner.drawing.roles import Role
from planner.drawing.shapes import Dimension, Shape
from planner.geometry import TOLERANCE_MM, Point, Ring, edges
from planner.records import dataclass
from planner.room.outline import Room

#: A side that shows more walls than this is dimensioned overall only.
MOST_SPANS = 16
#: Corners closer than this on paper, millimetres, count as one.
_NEAREST = 0.6
#: Strings reach no further beyond the room, paper millimetres.
_FAR = 150.0

#: Marks at corners: radius in heights of their letters, the second ring of the reference corner, the gap to the walls.
CORNER_RADIUS = 0.9
REFERENCE_RING = 1.22
CORNER_GAP = 0.8


_SIDES: tuple[Side, ...] = ("bottom", "top", "left", "right")
_PAIRS: tuple[tuple[Side, Side], ...] = (("bottom", "top"), ("left", "right"))


@dataclass(frozen=True, slots=True)
class Surround:
    """The strings of all sides, and the paper millimetres they reach beyond the room."""

    shapes: tuple[Shape, ...]
    left: float
    right: float
    bottom: float
    top: float
    complete: bool  #: False when a string had to be left out, because its letters had no room


def is_square(layout: Layout) -> bool:
    """True when the grid lies square to the base wall."""
    turn = layout.frame.angle_deg % 90.0
    return min(turn, 90.0 - turn) < 1e-6


def surround(room: Room, layout: Layout, heights: Heights, scale: float, seams: Seams = WHOLE) -> Surround:
    """Every dimension string around the room at 1:`scale`; runs end at the match lines that parts are joined at."""
    height = heights[Role.DIMENSION]
    clear = corner_room(heights)
    shapes: list[Shape] = []
    taken = _seamed(room, seams, scale)
    complete = True
    reach: dict[Side, float] = dict.fromkeys(_SIDES, clear)
    for side, strings in _strings(room, layout, scale, seams).items():
        off = max(FIRST_OFF * height, clear + height + 2.0)
        lines: dict[float, float] = {}  # where the extension lines of inner strings end already
        for k, string in enumerate(strings):
            bars = tuple(stop for outer in strings[k + 1 :] for stop in _ends_of(outer.segments))
            bars += seams.stops(0 if side in ("bottom", "top") else 1)
            drawn = string_shapes(_carried_on(string, lines), off, _edge(room, side), height, scale, bars)
            if not _claim(drawn, taken, height, scale):
                complete = False
                continue
            shapes += drawn
            out = 1.0 if side in ("top", "right") else -1.0
            lines |= dict.fromkeys(_ends_of(string.segments), _edge(room, side) + out * off * scale)
            deep = depth(string, height, scale)
            reach[side] = max(reach[side], off + deep)
            off += max(APART * height, deep + 2.0 * height)
            if side in ("bottom", "top"):
                hang = overhang(string, height, scale)
                reach["left"], reach["right"] = max(reach["left"], hang), max(reach["right"], hang)
    shapes.sort(key=lambda shape: bool(getattr(shape, "mask", 0.0)))  # no line is painted over a mask
    return Surround(tuple(shapes), reach["left"], reach["right"], reach["bottom"], reach["top"], complete)


def _carried_on(string: String, lines: dict[float, float]) -> String:
    """A string whose extension lines begin where those of strings further in end, so that none is drawn twice."""

    def foot(at: float, point: Point) -> Point:
        if (line := lines.get(at)) is None:
            return point
        return (point[0], line) if string.side in ("bottom", "top") else (line, point[1])

    pairs = zip(string.segments, string.feet, strict=True)
    return replace(string, feet=tuple((foot(s.start, a), foot(s.end, b)) for s, (a, b) in pairs))


def _seamed(room: Room, seams: Seams, scale: float) -> Taken:
    """What no letters may lie across: match lines and the edges of parts, well beyond the room."""
    taken, box = Taken(), room.box
    low, high = (box.left / scale - _FAR, box.bottom / scale - _FAR), (box.right / scale + _FAR, box.top / scale + _FAR)
    for x in seams.stops(0):
        taken.add_stroke((x / scale, low[1]), (x / scale, high[1]))
    for y in seams.stops(1):
        taken.add_stroke((low[0], y / scale), (high[0], y / scale))
    return taken


def _claim(drawn: tuple[Shape, ...], taken: Taken, height: float, scale: float) -> bool:
    """Enter the letters of a string; False, and nothing entered, when some lie on others."""
    own = Taken()
    rings = []
    for shape in drawn:
        if isinstance(shape, Dimension):
            letters = text_ring(dimension_text(shape, height, scale), height * scale)
            ring = tuple((x / scale, y / scale) for x, y in letters)
            if not (taken.free(ring) and own.free(ring)):
                return False
            own.add(ring)
            rings.append(ring)
    for ring in rings:
        taken.add(ring)
    return True


def corner_room(heights: Heights) -> float:
    """Paper that the marks at the corners take beyond the room."""
    return 2 * REFERENCE_RING * CORNER_RADIUS * heights[Role.CORNER_MARK] + CORNER_GAP


def _strings(room: Room, layout: Layout, scale: float, seams: Seams) -> dict[Side, list[String]]:
    """The strings of each side; on the second side of a pair those that the first has not."""
    found: dict[Side, list[String]] = {}
    for side, opposite in _PAIRS:
        near, far = (profile(room.outline, one, room.wall_of_edge) for one in (side, opposite))
        found[side] = _side_strings(side, near, room, layout, scale, seams, overall=True)
        if _shown(far, near):
            continue
        shown = [_ends_of(string.segments) for string in found[side]]
        others = _side_strings(opposite, far, room, layout, scale, seams, overall=False)
        found[opposite] = [s for s in others if not any(_alike(_ends_of(s.segments), ends) for ends in shown)]
    return found


def _alike(a: tuple[float, ...], b: tuple[float, ...]) -> bool:
    return len(a) == len(b) and all(abs(p - q) < TOLERANCE_MM for p, q in zip(a, b, strict=True))


def _side_strings(
    side: Side, spans: tuple[Span, ...], room: Room, layout: Layout, scale: float, seams: Seams, overall: bool
) -> list[String]:
    breaks = _told_apart(_breaks(spans), _NEAREST * scale)
    ends = (breaks[0], breaks[-1])
    few = breaks if len(spans) <= MOST_SPANS else ends
    along = 0 if side in ("bottom", "top") else 1
    rows = [_first_row(side, _at_square_walls(few, room, along), room, layout, seams)]
    if len(few) > 2:
        rows.append(plain_segments(few, room.units))
    if overall:
        rows.append(plain_segments(ends, room.units))
    kept = [row for k, row in enumerate(rows) if row and (k == 0 or _ends_of(row) != _ends_of(rows[0]))]
    return [
        String(side, row, tuple((point_on(spans, side, s.start), point_on(spans, side, s.end)) for s in row))
        for row in kept
    ]


def _told_apart(breaks: tuple[float, ...], nearest: float) -> tuple[float, ...]:
    """The breaks less those that lie closer than `nearest` to the one before or to the last."""
    kept = [breaks[0]]
    for at in breaks[1:-1]:
        if at - kept[-1] >= nearest and breaks[-1] - at >= nearest:
            kept.append(at)
    return (*kept, breaks[-1])


def _at_square_walls(breaks: tuple[float, ...], room: Room, along: int) -> tuple[float, ...]:
    """The breaks at which a wall stands square to the side, and the ends: elsewhere there is no border to show."""
    square = [a[along] for a, b in edges(room.outline) if abs(a[along] - b[along]) < TOLERANCE_MM]
    inner = (at for at in breaks[1:-1] if any(abs(at - other) < TOLERANCE_MM for other in square))
    return (breaks[0], *inner, breaks[-1])


def _first_row(side: Side, breaks: tuple[float, ...], room: Room, layout: Layout, seams: Seams) -> tuple[Segment, ...]:
    along = 0 if side in ("bottom", "top") else 1
    at = layout.frame.origin[along]
    if is_square(layout):
        turned = round(layout.frame.angle_deg / 90.0) % 2
        module = layout.module[along if not turned else 1 - along]
        hidden = [_extent(closed.outline, along) for closed in layout.closed]
        return grid_segments(breaks, at, module, room.units, (at, *seams.lines(along)), hidden)
    low, high = breaks[0], breaks[-1]
    if not low + TOLERANCE_MM < at < high - TOLERANCE_MM:
        return ()
    return plain_segments((low, at, high), room.units)


def _extent(ring: Ring, along: int) -> tuple[float, float]:
    return min(point[along] for point in ring), max(point[along] for point in ring)


def _ends_of(row: tuple[Segment, ...]) -> tuple[float, ...]:
    return (row[0].start, *(segment.end for segment in row)) if row else ()


def _breaks(spans: tuple[Span, ...]) -> tuple[float, ...]:
    return (spans[0].low, *(span.high for span in spans))


def _shown(spans: tuple[Span, ...], other: tuple[Span, ...]) -> bool:
    """True when the other side has every break of this one."""
    theirs = _breaks(other)
    return all(any(abs(a - b) < TOLERANCE_MM for b in theirs) for a in _breaks(spans))


def _edge(room: Room, side: Side) -> float:
    box = room.box
    return {"bottom": box.bottom, "top": box.top, "left": box.left, "right": box.right}[side]
