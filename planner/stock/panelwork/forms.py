"""Pieces of panel as they really are: convex parts, where they may lie on a bought panel, and what keeps two apart.

In: outlines at home, which is where a piece lies on a panel laid into its own module, uncut: so the sides that it has
on tees are the panel's own edges. Out: `Lie`s, one for each quarter turn, and for two of them the straight lines along
one of which they can be parted. Millimetres, from the panel's lower left corner.
"""

import math
from collections.abc import Iterator, Sequence
from functools import cache

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from planner.geometry import Point, Ring, edges
from planner.records import dataclass

#: Bows are taken as chains of chords that are nowhere further off than this; so much is kept free beside them.
CHORD_MM = 0.4
#: Two pieces that overlap by no more than this are not said to be in each other's way.
DOUBT_MM = 0.05
#: A piece that reaches the edge of its panel, but for float noise.
REACHES_MM = 0.06

Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Form:
    """A piece of panel."""

    parts: tuple[Ring, ...]  #: convex, counter-clockwise, from the lower left corner of their box
    size: tuple[float, float]
    home: Point  #: lower left corner of its box on the panel
    area: float
    slack: float = 0.0  #: how far the parts may be off the true outline
    plain: bool = False  #: a rectangle

    @classmethod
    def of(cls, outline: Polygon, *, plain: bool = False) -> "Form":
        left, low, right, high = outline.bounds
        solid = shapely.transform(outline, lambda points: points - (left, low))
        simple = solid.simplify(CHORD_MM)
        rough = simple if isinstance(simple, Polygon) and not simple.is_empty else solid
        slack = CHORD_MM if shapely.get_num_coordinates(rough) < shapely.get_num_coordinates(solid) else 0.0
        return cls(_convex(rough), (right - left, high - low), (left, low), solid.area, slack, plain)


@dataclass(frozen=True, slots=True)
class Lie:
    """A form given so many quarter turns to the left, and where its lower left corner may be."""

    form: int
    quarters: int
    parts: tuple[Ring, ...]
    size: tuple[float, float]
    xs: Span
    ys: Span
    home: Point
    slack: float


@dataclass(frozen=True, slots=True)
class Side:
    """A way to part two convex pieces: the second is further along a direction than the first, by so much at least."""

    x: float
    y: float
    least: float


def lies_of(
    form: Form, number: int, panel: tuple[float, float], quarters: Sequence[int], *, kept: bool
) -> Iterator[Lie]:
    """The ways a form may lie on a panel; `kept`: its sides on tees stay the panel's own edges."""
    for turn in quarters:
        parts, size, home = form.parts, form.size, form.home
        outer = panel
        for _ in range(turn):
            high = size[1]
            parts = tuple(tuple((high - y, x) for x, y in part) for part in parts)
            home, size, outer = (outer[1] - home[1] - high, home[0]), (high, size[0]), (outer[1], outer[0])
        if kept and outer != panel:
            continue
        if size[0] > panel[0] + DOUBT_MM or size[1] > panel[1] + DOUBT_MM:
            continue
        xs, ys = (_span(home[axis], size[axis], panel[axis], kept=kept) for axis in (0, 1))
        yield Lie(number, turn, parts, size, xs, ys, home if outer == panel else (0.0, 0.0), form.slack)


def _span(home: float, side: float, whole: float, *, kept: bool) -> Span:
    free = max(whole - side, 0.0)
    if kept and (home <= REACHES_MM or home + side >= whole - REACHES_MM):
        return (min(max(home, 0.0), free),) * 2
    return (0.0, free)


@cache
def sides_between(one: Ring, other: Ring) -> tuple[Side, ...]:
    """Every side on which a convex piece may lie of another: a cut between them follows an edge of one of them."""
    normals = [*_normals(one), *((-x, -y) for x, y in _normals(other))]
    return tuple(
        Side(x, y, max(x * a + y * b for a, b in one) - min(x * a + y * b for a, b in other)) for x, y in normals
    )


def _normals(ring: Ring) -> Iterator[Point]:
    for (ax, ay), (bx, by) in edges(ring):
        length = math.hypot(bx - ax, by - ay)
        if length > 1e-9:
            yield ((by - ay) / length, (ax - bx) / length)


def _convex(outline: Polygon) -> tuple[Ring, ...]:
    """Convex parts of an outline: itself, or triangles joined as long as they stay convex."""
    if _is_convex(outline):
        return (_ring(outline),)
    parts: list[Polygon] = list(shapely.get_parts(shapely.constrained_delaunay_triangles(outline)))
    k = 0
    while k < len(parts):
        at = next((j for j in range(k + 1, len(parts)) if _joins(parts[k], parts[j])), None)
        if at is None:
            k += 1
        else:
            parts[k], k = Polygon(_ring(parts[k].union(parts.pop(at)))), 0
    return tuple(_ring(part) for part in parts)


def _joins(one: Polygon, other: Polygon) -> bool:
    both = one.union(other)
    return isinstance(both, Polygon) and _is_convex(both)


def _is_convex(outline: Polygon) -> bool:
    return bool(outline.convex_hull.area - outline.area <= 1e-6 * outline.area)


def _ring(outline: BaseGeometry) -> Ring:
    """The corners of a convex outline, counter-clockwise."""
    ring = shapely.get_coordinates(shapely.normalize(outline.convex_hull))[-2::-1]  # which writes it clockwise
    return tuple((float(x), float(y)) for x, y in ring)
