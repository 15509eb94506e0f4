"""Which cut panels are alike, and their marks: class letter by first appearance, number within the class.

In: what is cut, in the order of the walk. Out: marks such as "b7". Rule: what reads alike on the lists is one class:
the same size to saw, the same kind of shape, the same taper as told. Plain rectangles need no more. Others must lie
within a mark of the tape of each other, one in the other, so that the smaller one does for both; turned and mirrored
ones are others.
"""

import math
from collections import defaultdict
from collections.abc import Hashable, Iterable
from dataclasses import dataclass

from shapely import Polygon, affinity

from planner.ceiling.grid.cut import Cut
from planner.ceiling.marks import class_letters

#: By so much one of two pieces may reach beyond the other and still be called the smaller.
_HAIR_MM = 0.2


@dataclass(slots=True)
class _Class:
    """Pieces that are cut alike: the first and the smallest of them, moved to their own corners."""

    number: int
    first: Polygon
    least: Polygon
    members: int = 0

    def takes(self, piece: Polygon, mark: float) -> bool:
        """Whether a piece is within a mark of the first, and the smaller one of it and the smallest fits the other."""
        if piece.boundary.hausdorff_distance(self.first.boundary) > mark:
            return False
        small, large = sorted((piece, self.least), key=lambda shape: shape.area)
        return bool(large.buffer(_HAIR_MM, join_style="mitre").covers(small))


def marks_of(cuts: Iterable[tuple[Cut, Hashable]], mark: float) -> list[str]:
    """A mark for each piece; what comes with each must be the same for pieces of one class (its size to saw).

    `mark` is the step of the saw, millimetres.
    """
    alike: defaultdict[Hashable, list[_Class]] = defaultdict(list)
    count, names = 0, []
    for cut, size in cuts:
        key = (size, cut.shape, len(cut.outline.interiors), math.floor(cut.taper / mark + 0.5))
        moved = affinity.translate(cut.outline, -cut.box.left, -cut.box.bottom)
        found = next((each for each in alike[key] if cut.shape == "plain" or each.takes(moved, mark)), None)
        if found is None:
            found = _Class(count, moved, moved)
            alike[key].append(found)
            count += 1
        found.members += 1
        found.least = min(found.least, moved, key=lambda shape: shape.area)
        names.append(f"{class_letters(found.number)}{found.members}")
    return names
