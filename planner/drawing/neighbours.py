"""Whose mark it is: letters belong to what they are nearest to.

In: the places on paper of all that bears a mark: signs of services, corners. Out: whether letters in a box would be
read as the mark of their own place. Paper millimetres.
"""

import math
from collections.abc import Iterator, Sequence

from planner.geometry import Box, Point

#: Distances that look alike, millimetres.
_ALIKE = 0.3
#: From what others mark to letters that a line leads to, millimetres.
_FAR = 4.0


class Neighbours:
    """What bears marks, found again by squares, so that none of a thousand marks stands beside another's sign."""

    def __init__(self, places: Sequence[Point], square: float = 10.0) -> None:
        self._square = square  #: side of the squares by which places are found again: letters reach no further
        self._cells: dict[tuple[int, int], list[Point]] = {}
        for place in places:
            self._cells.setdefault(self._cell(place), []).append(place)

    def belongs(self, letters: Box, own: Point) -> bool:
        """Whether letters are nearer to their own than to any other, or as near."""
        return all(_off(letters, own) <= _off(letters, place) + _ALIKE for place in self._near(letters.centre))

    def far_from(self, letters: Box, own: Point) -> bool:
        """Whether no other is so near to letters that they would be read as its mark."""
        return all(place == own or _off(letters, place) > _FAR for place in self._near(letters.centre))

    def nearest(self, to: Point, own: Point) -> float:
        """How far the nearest other is from a point; infinity where none is about."""
        return min((math.dist(to, place) for place in self._near(to) if place != own), default=math.inf)

    def _near(self, point: Point) -> Iterator[Point]:
        i, j = self._cell(point)
        return (p for u in (-1, 0, 1) for v in (-1, 0, 1) for p in self._cells.get((i + u, j + v), ()))

    def _cell(self, place: Point) -> tuple[int, int]:
        return math.floor(place[0] / self._square), math.floor(place[1] / self._square)


def _off(box: Box, point: Point) -> float:
    """From a point to the nearest of a box."""
    x, y = point
    return math.hypot(max(box.left - x, 0.0, x - box.right), max(box.bottom - y, 0.0, y - box.top))
