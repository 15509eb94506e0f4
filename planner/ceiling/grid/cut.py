"""What is cut for an opening: its true outline, how its shape reads, its taper.

In: openings between walls and tees, in the grid frame, and their modules. Out: `Cut`s. Rule: what is cut is smaller
than its opening by the panel's undersize, half of it on each side, along slanted walls too; so a sharp corner loses
more than a square one. Where a wall takes no more off a module than that half, nothing is cut: a panel laid in the
middle of its module clears it as it is, and can still be moved away from it by as much. Nobody saws 1 mm off a panel
there, under a ledge many times as wide. (Worked out from how panels lie; no source.)
"""

import math
from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from shapely import LinearRing, Polygon
from shapely.geometry.base import BaseGeometry

from planner.ceiling.model import Shape
from planner.geometry import TOLERANCE_MM, Box, Point, Ring, box_of, distance, edges
from planner.records import dataclass

#: Tapers, bows and notches of less are told nowhere: a tape does not show them.
LEAST_TOLD_MM = 1.0
#: Sides that turn by less follow each other on one bow (chords of walls and columns turn by less).
_BOW_DEG = 8.0
#: Two walls that both lean off the grid still only taper a panel while they lean by no more than this.
_LEANING = math.tan(math.radians(5.0))
#: A mitre reaches so far at most, in widths of what is taken off.
_MITRE = 10.0


@dataclass(frozen=True, slots=True)
class Cut:
    """A piece of panel as it is cut, in the grid frame."""

    outline: Polygon
    shape: Shape
    taper: float  #: difference between the two ends of a wall-side cut; 0 unless `shape` is tapered

    @property
    def box(self) -> Box:
        return Box(*self.outline.bounds)


def cuts_of(openings: Sequence[tuple[Ring, ...]], modules: Sequence[Box], undersize: float) -> list[Cut | None]:
    """What is cut for each opening (its outline, then its holes); None where the undersize leaves nothing."""
    shapes = solid_cuts([Polygon(rings[0], rings[1:]) for rings in openings], modules, undersize)
    return [None if shape is None else _cut(shape) for shape in shapes]


def solid_cuts(openings: Sequence[Polygon], modules: Sequence[Box], undersize: float) -> list[Polygon | None]:
    """The outlines of what is cut for openings in modules; None where nothing is left."""
    cleared = _cleared(openings, modules, undersize / 2)
    left = shapely.buffer(cleared, -undersize / 2, join_style="mitre", mitre_limit=_MITRE)
    whole = _in_the_middle(modules, undersize / 2)
    clear = shapely.covers(shapely.buffer(openings, TOLERANCE_MM, join_style="mitre"), whole)
    return [_largest(panel if clears else shape) for shape, panel, clears in zip(left, whole, clear, strict=True)]


def _in_the_middle(modules: Sequence[Box], gap: float) -> Sequence[Polygon]:
    """Whole panels, laid in the middle of their modules."""
    boxes = np.array([(box.left, box.bottom, box.right, box.top) for box in modules]).reshape(-1, 4)
    left, low, right, high = (boxes + np.array([gap, gap, -gap, -gap])).T
    found: Sequence[Polygon] = shapely.box(left, low, right, high)
    return found


def _cleared(openings: Sequence[Polygon], modules: Sequence[Box], play: float) -> list[BaseGeometry]:
    """Openings with what walls take off them at an edge of the module filled in, if no deeper than the play."""
    points, of = shapely.get_coordinates(openings, return_index=True)
    boxes = np.array([(box.left, box.bottom, box.right, box.top) for box in modules]).reshape(-1, 4)[of]
    off = np.abs(np.concatenate([points, points], axis=1) - boxes)
    near = set(of[((off > TOLERANCE_MM) & (off <= play + TOLERANCE_MM)).any(axis=1)].tolist())
    return [_filled(each, modules[k], play) if k in near else each for k, each in enumerate(openings)]


def _filled(opening: Polygon, module: Box, play: float) -> BaseGeometry:
    left, low, right, high = opening.bounds
    sides = (
        (Box(module.left, low, right, high), Box(module.left, low, module.left + play, high)),
        (Box(left, low, module.right, high), Box(module.right - play, low, module.right, high)),
        (Box(left, module.bottom, right, high), Box(left, module.bottom, right, module.bottom + play)),
        (Box(left, low, right, module.top), Box(left, module.top - play, right, module.top)),
    )
    found: list[BaseGeometry] = [opening]
    for whole, edge in sides:
        band = _box(edge).buffer(TOLERANCE_MM, join_style="mitre")
        found += [part for part in shapely.get_parts(_box(whole).difference(opening)) if band.covers(part)]
    return shapely.union_all(found)


def _box(box: Box) -> Polygon:
    return shapely.box(box.left, box.bottom, box.right, box.top)


def _largest(left: shapely.Geometry) -> Polygon | None:
    solid = [part for part in shapely.get_parts(left) if isinstance(part, Polygon) and not part.is_empty]
    return max(solid, key=lambda part: part.area, default=None)


def _cut(outline: Polygon) -> Cut:
    sides = list(_sides(tuple((x, y) for x, y in outline.exterior.coords[:-1])))
    shape = _shape(outline, sides)
    return Cut(outline, shape, max(map(_lean, sides)) if shape == "tapered" else 0.0)


def _sides(ring: Ring) -> Iterator[Ring]:
    """A ring corner by corner: the points of each straight side or bow, both ends included."""
    ring = tuple(b for a, b in edges(ring) if distance(a, b) >= LEAST_TOLD_MM) or ring
    count = len(ring)
    corners = [k for k in range(count) if _turn(ring[k - 1], ring[k], ring[(k + 1) % count]) >= _BOW_DEG] or [0]
    for first, last in zip(corners, [*corners[1:], corners[0] + count], strict=True):
        yield tuple(ring[k % count] for k in range(first, last + 1))


def _turn(before: Point, at: Point, after: Point) -> float:
    """Degrees by which a chain turns at a point, whichever way."""
    (ax, ay), (bx, by) = (at[0] - before[0], at[1] - before[1]), (after[0] - at[0], after[1] - at[1])
    return abs(math.degrees(math.atan2(ax * by - ay * bx, ax * bx + ay * by)))


def _lean(side: Ring) -> float:
    """How far a side gets away from the grid's direction: between its ends, or the rise of a bow."""
    box = box_of(side)
    return min(box.width, box.height)


def _shape(outline: Polygon, sides: Sequence[Ring]) -> Shape:
    """How the outline reads: as two numbers, as two and a taper, or only as drawn."""
    if outline.interiors:
        return "notched"
    if _fills_its_box(outline):
        return "plain"
    leaning = [side for side in sides if _lean(side) > TOLERANCE_MM]
    bowed = any(_rise(side) >= LEAST_TOLD_MM for side in sides)
    if len(sides) == 4 and (len(leaning) == 1 or all(map(_leans_little, leaning))):
        return "curved" if bowed else "tapered"
    hull = outline.convex_hull.boundary
    deepest = max(hull.distance(shapely.Point(point)) for point in outline.exterior.coords)
    if deepest >= LEAST_TOLD_MM:
        return "notched"
    return "curved" if bowed else "shaped"


def _rise(side: Ring) -> float:
    """How far a side gets away from the straight line between its ends: what a straight cut would leave open."""
    chord = shapely.LineString([side[0], side[-1]])
    return max(chord.distance(shapely.Point(point)) for point in side)


def _fills_its_box(outline: Polygon) -> bool:
    """Whether an outline is a rectangle for the trade: nowhere off its box by as much as is told of a taper."""
    left, low, right, high = outline.bounds
    rim = LinearRing([(left, low), (right, low), (right, high), (left, high)])
    return bool(rim.hausdorff_distance(outline.exterior) < LEAST_TOLD_MM)


def _leans_little(side: Ring) -> bool:
    box = box_of(side)
    return min(box.width, box.height) <= _LEANING * max(box.width, box.height)
