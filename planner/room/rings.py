"""What can be wrong with a closed outline, be it of a room or of a column.

In: corners in order. Out: faults, at the path of the list of corners. An outline is in order when it has three corners
or more, no two in a row in one place, no two walls that meet elsewhere than at their common corner, and an inside.
"""

import math
from collections.abc import Sequence

from shapely import LineString, STRtree

from planner.geometry import TOLERANCE_MM, Point, distance, edges, signed_area
from planner.wording import Fault
from planner.yaml_text import Path

#: An outline whose inside is smaller than this (a square centimetre) has none.
SMALLEST_INSIDE_MM2 = 100.0
MOST_CROSSINGS_SHOWN = 3


def ring_faults(ring: Sequence[Point], names: Sequence[str], path: Path) -> list[Fault]:
    """Say what is wrong with an outline; nothing when it is a simple polygon."""
    if len(ring) < 3:
        return [Fault(path, f"an outline has three corners or more, not {len(ring)}.", "Give the corners in order.")]
    if repeated := _repeated(ring, names, path):
        return repeated
    if crossings := _crossings(ring, names, path):
        return crossings
    if abs(signed_area(ring)) < SMALLEST_INSIDE_MM2:
        return [Fault(path, "the corners lie on one line and enclose nothing.", "Check the coordinates.")]
    return []


def _repeated(ring: Sequence[Point], names: Sequence[str], path: Path) -> list[Fault]:
    """Find corners that repeat the one before them; a wall between them has no length."""
    mend = "Give each corner once."
    return [
        Fault((*path, k), f"corner {names[k]} is in the same place as corner {names[k - 1]}.", mend)
        for k in range(1, len(ring))
        if distance(ring[k - 1], ring[k]) <= TOLERANCE_MM
    ]


def _crossings(ring: Sequence[Point], names: Sequence[str], path: Path) -> list[Fault]:
    """Find pairs of walls that cross, touch or fold back on each other."""
    count = len(ring)
    folded = [
        Fault(path, f"walls {_wall(names, k - 1)} and {_wall(names, k)} lie on each other.", "Check the coordinates.")
        for k in range(count)
        if _folds_back(ring[k - 1], ring[k], ring[(k + 1) % count])
    ]
    if folded:
        return folded[:MOST_CROSSINGS_SHOWN]
    walls = [LineString(wall) for wall in edges(ring)]
    pairs = STRtree(walls).query(walls, predicate="dwithin", distance=TOLERANCE_MM).T.tolist()
    met = sorted((a, b) for a, b in pairs if b - a > 1 and (a, b) != (0, count - 1))
    mend = "Give the corners in the order in which one walks along the walls."
    crossing = [Fault(path, f"walls {_wall(names, a)} and {_wall(names, b)} cross or touch.", mend) for a, b in met]
    return crossing[:MOST_CROSSINGS_SHOWN]


def _folds_back(before: Point, corner: Point, after: Point) -> bool:
    """Tell whether the walk turns round on the spot at a corner, within a millionth of a turn."""
    ax, ay, bx, by = before[0] - corner[0], before[1] - corner[1], after[0] - corner[0], after[1] - corner[1]
    return abs(math.atan2(ax * by - ay * bx, ax * bx + ay * by)) < math.tau * 1e-6


def _wall(names: Sequence[str], k: int) -> str:
    return f"{names[k]}-{names[(k + 1) % len(names)]}"
