"""The true shapes of cut panels, each where it lies on a bought panel that is laid uncut into its module.

In: panels of a ceiling. Out: polygons, millimetres from the lower left corner of the bought panel, directions as in the
grid frame; so sides on tees are edges of the panel. Rule: what is cut is the opening less half the undersize on every
side (`ceiling.grid.cut`), and no larger than the size that is told, which is rounded down to a mark of the tape.
"""

from collections.abc import Sequence

import numpy as np
import shapely
from shapely import Polygon, affinity

from planner.ceiling.grid.cut import cuts_of
from planner.ceiling.model import Layout, Panel
from planner.geometry import Box

#: A side that comes as near to the edge of its module as this reaches it.
_NEAR_MM = 0.1
#: Of a millimetre; what lies on the panel's edge lies there without float noise.
_DIGITS = 6


def sawn(panels: Sequence[Panel], layout: Layout, undersize: float) -> list[Polygon]:
    """What is cut for each panel; the whole panel where it has no outline or nothing is left of it."""
    rings = [
        tuple(tuple(layout.frame.inward(p) for p in ring) for ring in (panel.outline, *panel.holes))
        for panel in panels
        if panel.outline
    ]
    wide, deep = layout.module
    cells = [panel.cell for panel in panels if panel.outline]
    modules = [Box(c * wide, r * deep, (c + 1) * wide, (r + 1) * deep) for c, r in cells]
    cuts = iter(cuts_of(rings, modules, undersize))
    whole = shapely.box(0.0, 0.0, layout.module[0] - undersize, layout.module[1] - undersize)
    found = []
    for panel in panels:
        cut = next(cuts) if panel.outline else None
        found.append(whole if cut is None else _told(_home(cut.outline, panel, layout, undersize), panel, whole))
    return found


def _home(outline: Polygon, panel: Panel, layout: Layout, undersize: float) -> Polygon:
    corner = (panel.cell[axis] * layout.module[axis] + undersize / 2 for axis in (0, 1))
    left, low = corner
    return affinity.translate(outline, -left, -low)


def _told(outline: Polygon, panel: Panel, whole: Polygon) -> Polygon:
    """No larger than the size that is told: smaller towards the side on a tee, if there is one."""
    box = outline.bounds
    spans = [_span(axis, box, panel, whole.bounds) for axis in (0, 1)]
    factors = [(high - low) / (box[2 + axis] - box[axis]) for axis, (low, high) in enumerate(spans)]
    moves = [low - box[axis] * factors[axis] for axis, (low, _) in enumerate(spans)]
    told = affinity.affine_transform(outline, [factors[0], 0.0, 0.0, factors[1], *moves])
    return shapely.transform(told, lambda points: np.round(points, _DIGITS))


def _span(axis: int, box: Sequence[float], panel: Panel, whole: Sequence[float]) -> tuple[float, float]:
    low, high, side, size = box[axis], box[2 + axis], whole[2 + axis], panel.cut_to[axis]
    size = min(size, side)
    if low <= _NEAR_MM:
        return (0.0, size)
    if high >= side - _NEAR_MM:
        return (side - size, side)
    low = min(max(low, 0.0), side - size)
    return (low, low + size)
