"""Furring: wood strips nailed across the joists, where carriers cannot be screwed to the joists themselves.

In: a room, where its grid lies, the direction of the carriers, the system. Out: members "furring strip", FS1, FS2, ...

Rules: a strip along each wall that lies square to the carriers, and one at every grid line between, so that rows =
length / spacing + 1 and strips a row = width / stock length, rounded up (how-to articles on furring: 15 ft at 1 ft
has 16 rows; a 10 in border and tiles of 12 in with a 1/2 in flange put the centres 10-1/2, 22-1/2 in from the wall).
Joints lie on joists and are staggered row to row (the same articles). A strip that would end at the middle of a carrier
runs on over the next joist, so that the carrier's screw has wood round it (common practice, no source).
"""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from shapely import LineString, Polygon, box, union_all
from shapely import Point as ShapelyPoint
from shapely.geometry.base import BaseGeometry

from planner.ceiling.holding.overhead import NEAREST_WALL_MM, crossings
from planner.ceiling.mains import MainLines
from planner.ceiling.members.lines import Stretch, clip_lines, rings_in
from planner.ceiling.members.runs import gathered
from planner.ceiling.model import End, Layout, Member, Piece
from planner.ceiling.system import Direct
from planner.geometry import TOLERANCE_MM, Point, Ring, distance, edges
from planner.room.outline import Joists, Room

#: A wall this far out of square with the carriers, or less, has a strip of its own (common practice, no source).
OUT_OF_SQUARE_DEG = 5.0
#: How far past the middle of a carrier a strip goes that the carrier is screwed to (common practice, no source).
PAST_CARRIER_MM = 20.0

_Row = tuple[float, Stretch]  #: the centre of a strip, and from where to where it lies


def strip_centres(border: float, flange: float, spacing: float, length: float, width: float) -> tuple[float, ...]:
    """Centres of the strips of a plain room, from one wall to the other, `length` away.

    One lies against each wall; between them the first is `border` and the tile's `flange` from the wall and the others
    go on by `spacing`. A strip that would overlap the one at the wall is left out.
    """
    inner, at = [], border + flange
    while at < length:
        inner.append(at)
        at += spacing
    least, most = width / 2 + width - TOLERANCE_MM, length - width / 2 - width + TOLERANCE_MM
    return (width / 2, *(centre for centre in inner if least <= centre <= most), length - width / 2)


def strip_rows(length: float, spacing: float) -> int:
    """Rows of strips: length / spacing + 1, a rest of a spacing needs one row more."""
    return math.ceil(length / spacing - 1e-9) + 1


def strips_in_row(width: float, stock: float) -> int:
    """Strips that it takes to cross a room."""
    return math.ceil(width / stock - 1e-9)


def furring(
    room: Room, layout: Layout, mains: MainLines, direct: Direct, carriers: Sequence[Member] = ()
) -> tuple[Member, ...]:
    """Every strip, square to the carriers: at the walls that lie so, and at every line of cross tees."""
    along = mains.direction == "along"
    axis = 0 if along else 1
    rings = rings_in(layout.frame, room)
    lines = clip_lines(rings, axis, layout.module[axis])
    floor = Polygon(rings[0]).difference(union_all([Polygon(ring) for ring in rings[1:]]))
    at_walls = list(_at_walls(rings[0], floor, axis, direct.furring_width))
    rows = [(k * layout.module[axis], stretch) for k, stretches in lines.items() for stretch in stretches]
    apart = [row for row in rows if not any(_overlap(row, wall, direct.furring_width) for wall in at_walls)]
    placed = sorted([*apart, *at_walls])
    members = []
    for n, (at, (low, high)) in enumerate(
        _run_on(placed, floor, room, layout, axis, direct.furring_width, carriers), 1
    ):
        start, end = (layout.frame.outward(_spot(at, spot, axis)) for spot in (low, high))
        members.append(Member(f"FS{n}", "furring strip", start, end, _pieces(room.joists, start, end, n % 2, direct)))
    return tuple(members)


def _spot(at: float, along: float, axis: int) -> Point:
    return (at, along) if axis == 0 else (along, at)


def _at_walls(walls: Ring, floor: BaseGeometry, axis: int, width: float) -> Iterator[tuple[float, Stretch]]:
    """A strip against each wall that lies along the strips, half its width from the nearest point of the wall."""
    for start, end in edges(walls):
        run, aside = end[1 - axis] - start[1 - axis], end[axis] - start[axis]
        if abs(run) <= width or abs(aside) > abs(run) * math.tan(math.radians(OUT_OF_SQUARE_DEG)):
            continue
        inward = -math.copysign(1.0, run) if axis == 0 else math.copysign(1.0, run)
        edge = max(start[axis], end[axis]) if inward > 0 else min(start[axis], end[axis])
        at = edge + inward * width / 2
        strip = LineString([_spot(at, start[1 - axis], axis), _spot(at, end[1 - axis], axis)]).intersection(floor)
        for part in getattr(strip, "geoms", [strip]):
            if part.length > width:
                yield at, (part.bounds[1 - axis], part.bounds[3 - axis])


def _run_on(
    rows: Sequence[_Row],
    floor: BaseGeometry,
    room: Room,
    layout: Layout,
    axis: int,
    width: float,
    carriers: Sequence[Member],
) -> Iterator[_Row]:
    """The strips; one that ends at the middle of a carrier runs on over the next joist, where there is room for it."""
    floor = floor.buffer(TOLERANCE_MM)
    middles = [LineString([layout.frame.inward(end) for end in (one.start, one.end)]) for one in carriers]
    for row in rows:
        at, ends = row[0], list(row[1])
        for side, way in ((0, -1), (1, 1)):
            end = _spot(at, ends[side], axis)
            further = _over_next_joist(room, layout, end, axis, way)
            if further is None or all(middle.distance(ShapelyPoint(end)) >= PAST_CARRIER_MM for middle in middles):
                continue
            low, high = sorted((ends[side], further))
            (left, down), (right, up) = _spot(at - width / 2, low, axis), _spot(at + width / 2, high, axis)
            others = (other for other in rows if other is not row)
            if floor.covers(box(left, down, right, up)) and not any(
                _overlap((at, (low, high)), x, width) for x in others
            ):
                ends[side] = further
        yield at, (ends[0], ends[1])


def _over_next_joist(room: Room, layout: Layout, end: Point, axis: int, way: int) -> float | None:
    """Where a strip ends that runs on over the next joist, far enough to be nailed to it."""
    if room.joists is None:
        return None
    far = 3 * room.joists.spacing
    beyond = _spot(end[axis], end[1 - axis] + way * far, axis)
    found = crossings(room.joists, layout.frame.outward(end), layout.frame.outward(beyond))
    return end[1 - axis] + way * (found[0] + NEAREST_WALL_MM) if found else None


def _overlap(row: tuple[float, Stretch], wall: tuple[float, Stretch], width: float) -> bool:
    (at, (low, high)), (wall_at, (first, last)) = row, wall
    return abs(at - wall_at) < width - TOLERANCE_MM and low < last - TOLERANCE_MM and high > first + TOLERANCE_MM


def _pieces(joists: Joists | None, start: Point, end: Point, odd: int, direct: Direct) -> tuple[Piece, ...]:
    """Stock lengths in a row, joints under joists, no scrap at the end; every other row begins with a shorter one."""
    length, stock = distance(start, end), direct.furring.length
    under = crossings(joists, start, end) if joists is not None else ()
    least = joists.spacing if joists else 0.0
    cuts, at, reach = [0.0], 0.0, stock if odd else max(stock / 2, least)
    while length - at > reach + TOLERANCE_MM:
        most = min(at + reach, max(at + least, length - least)) + TOLERANCE_MM
        at = max((joist for joist in under if at + TOLERANCE_MM < joist <= most), default=at + reach)
        cuts.append(at)
        reach = stock
    cuts.append(length)
    return gathered(
        Piece(direct.furring.item, b - a, _ends(a == 0.0, b == length, abs(b - a - stock) <= TOLERANCE_MM))
        for a, b in pairwise(cuts)
    )


def _ends(first: bool, last: bool, whole: bool) -> tuple[End, End]:
    """Wood has no factory end that matters: a whole length is as bought, any other is cut at its far end."""
    if whole:
        return ("factory", "factory")
    return ("cut", "factory") if first and not last else ("factory", "cut")
