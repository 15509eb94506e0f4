"""Cross tees that bear nothing, because the ledge of the wall angle closes the ceiling beside them alone.

In: lines of cross tees, and the parts of the floor for which no panel is cut. Out: the lines without what is idle: an
end piece with such parts on both sides, and a short tee across a corner with one behind it, where the panel before it
lies on the ledges at both of its ends. Common practice, no source; `hidden` knows those that no layout need be asked
for.
"""

from collections.abc import Iterable, Iterator, Sequence

import shapely

from planner.ceiling.holding.overhead import point_at
from planner.ceiling.model import Closed, Piece
from planner.ceiling.system import System
from planner.geometry import Point, distance, midpoint

Line = tuple[Point, Point, tuple[Piece, ...], tuple[float, float]]  #: start, end, pieces, gaps before the walls

#: Longer ends, in widths of the ledge, are not looked at: no ledge closes what is beside them.
_LONGEST = 6
#: So far beside the middle of a piece it is seen what lies there.
_BESIDE_MM = 1.0


def without_idle_ends(lines: Sequence[Line], closed: Iterable[Closed], system: System) -> list[Line]:
    """The lines less what bears nothing; those of which nothing is left are no lines."""
    parts = [shapely.Polygon(part.outline) for part in closed]
    if not parts:
        return list(lines)
    over, longest = shapely.union_all(parts), _LONGEST * system.ledge
    shapely.prepare(over)
    kept = (_shortened(line, over, longest) for line in lines)
    return [line for line in kept if line is not None]


def _shortened(line: Line, over: shapely.Geometry, longest: float) -> Line | None:
    for turned in (False, True):
        line = _turned(line) if turned else line
        start, end, pieces, gaps = line
        first = pieces[0]
        if first.count == 1 and first.ends[0] == "cut" and first.length <= longest:
            inner = point_at(start, end, first.length)
            bare = [bool(shapely.covers(over, shapely.Point(spot))) for spot in _beside(start, inner)]
            if len(pieces) == 1 and any(bare) and (all(bare) or first.ends == ("cut", "cut")):
                return None
            if all(bare):
                line = (inner, end, pieces[1:], (0.0, gaps[1]))
        line = _turned(line) if turned else line
    return line


def _turned(line: Line) -> Line:
    """The same line told from its other end."""
    start, end, pieces, (before, after) = line
    row = tuple(Piece(each.stock, each.length, each.ends[::-1], each.count) for each in reversed(pieces))
    return end, start, row, (after, before)


def _beside(start: Point, end: Point) -> Iterator[Point]:
    """A point on either side of the middle of a piece."""
    x, y = midpoint(start, end)
    long = distance(start, end)
    dx, dy = (_BESIDE_MM * (b - a) / long for a, b in zip(start, end, strict=True))
    yield from ((x - dy, y + dx), (x + dy, y - dx))
