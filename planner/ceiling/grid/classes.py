"""Which cut panels are alike, and their marks: class letter by first appearance, number within the class.

In: what is cut, in the order of the walk. Out: marks such as "b7". Rule: what reads alike on the lists is one class:
the same size to saw, the same kind of shape, the same taper as told. Plain rectangles need no more. Others must lie
within a mark of the tape of each other, one in the other, so that the smaller one does for both; turned and mirrored
ones are others.
"""

import math
from collections import defaultdict
from collections.abc import Hashable, Iterable, Iterator
from dataclasses import dataclass
from itertools import product
from operator import add

from shapely import Point, Polygon, affinity
from shapely.geometry.base import BaseGeometry

from planner.ceiling.grid.cut import Cut
from planner.ceiling.marks import class_letters

#: By so much one of two pieces may reach beyond the other and still be called the smaller.
_HAIR_MM = 0.2


#: Outlines that one class may take have their centroids nearer than this many marks.
_NEAR_MARKS = 6

_Spot = tuple[int, ...]
_AROUND = tuple(product((-1, 0, 1), repeat=4))


@dataclass(slots=True)
class _Class:
    """Pieces that are cut alike: the outline of the first and the smallest of them, moved to their own corners."""

    number: int
    first: BaseGeometry
    area: float  #: of the first
    least: Polygon
    members: int = 0

    def takes(self, piece: Polygon, mark: float) -> bool:
        """Whether a piece is within a mark of the first, and the smaller one of it and the smallest fits the other.

        Outlines within a mark of each other differ in area by no more than twice that band.
        """
        if abs(self.area - piece.area) > 2 * mark * piece.length:
            return False
        if piece.boundary.hausdorff_distance(self.first) > mark:
            return False
        small, large = sorted((piece, self.least), key=lambda shape: shape.area)
        return bool(large.buffer(_HAIR_MM, join_style="mitre").covers(small))


def marks_of(cuts: Iterable[tuple[Cut, Hashable]], mark: float) -> list[str]:
    """A mark for each piece; what comes with each must be the same for pieces of one class (its size to saw).

    `mark` is the step of the saw, millimetres.
    """
    alike: defaultdict[Hashable, dict[_Spot, list[_Class]]] = defaultdict(dict)
    count, names = 0, []
    for cut, size in cuts:
        known = alike[size, cut.shape, len(cut.outline.interiors), math.floor(cut.taper / mark + 0.5)]
        piece = affinity.translate(cut.outline, -cut.box.left, -cut.box.bottom)
        spot = (0,) * 4 if cut.shape == "plain" else _spot(piece, mark)
        near = (each for at in _around(spot) for each in known.get(at, ()))
        found = next(near, None) if cut.shape == "plain" else _first(near, piece, mark)
        if found is None:
            found = _Class(count, piece.boundary, piece.area, piece)
            known.setdefault(spot, []).append(found)
            count += 1
        found.members += 1
        found.least = min(found.least, piece, key=lambda shape: shape.area)
        names.append(f"{class_letters(found.number)}{found.members}")
    return names


def _spot(piece: Polygon, mark: float) -> _Spot:
    """Where a piece is kept: by centroid, by area, and by how far the corners of its box are from its edge.

    Classes that may take it are here or in the spots around. A hall has thousands of panels notched each in another
    place, so not every one can be held against every other.
    """
    centre, edge = piece.centroid, piece.boundary
    left, low, right, high = piece.bounds
    off = sum(edge.distance(Point(x, y)) for x in (left, right) for y in (low, high))
    band = 4 * mark * (right - left + high - low)  # so much two outlines within a mark of each other differ, no more
    apart = mark * _NEAR_MARKS
    return (round(centre.x / apart), round(centre.y / apart), round(piece.area / band), round(off / (4 * mark)))


def _around(spot: _Spot) -> Iterator[_Spot]:
    return (tuple(map(add, spot, step)) for step in _AROUND)


def _first(near: Iterable[_Class], piece: Polygon, mark: float) -> _Class | None:
    """The first of the classes that take a piece."""
    return min((each for each in near if each.takes(piece, mark)), key=lambda each: each.number, default=None)
