"""Which shapes of a drawing can be seen in which part of it.

In: a drawing and boxes in its millimetres. Out: for each box the shapes that reach into it, in their own order. Letters
are as wide as they are drawn, symbols as large as their blocks.
"""

import math
from collections.abc import Sequence

from planner.drawing.labels import Heights, box_ring, dimension_text, rings_overlap, text_ring
from planner.drawing.shapes import Dimension, Drawing, Line, Outline, Shape, Symbol, Text, extents
from planner.geometry import Box, box_of, edges

#: Pens and ticks reach so far beyond the geometry, paper millimetres.
_BEYOND = 4.0


def parts_seen(drawing: Drawing, boxes: Sequence[Box], heights: Heights) -> list[tuple[Shape, ...]]:
    """The shapes that reach into each box."""
    reach = {block.name: _radius(extents(block.shapes)) for block in drawing.blocks if block.shapes}
    found: list[list[Shape]] = [[] for _ in boxes]
    for shape in drawing.shapes:
        taken = _taken(shape, drawing.scale, heights, reach)
        for k, box in enumerate(boxes):
            if box.overlaps(taken) and (box.holds(taken) or _reaches(shape, box)):
                found[k].append(shape)
    return [tuple(shapes) for shapes in found]


def _taken(shape: Shape, scale: float, heights: Heights, reach: dict[str, float]) -> Box:
    """The box around all that is drawn of a shape."""
    if isinstance(shape, Text):
        return box_of(text_ring(shape, heights[shape.role] * scale))
    if isinstance(shape, Symbol):
        return extents((shape,)).grown(reach.get(shape.block, 0.0))
    box = extents((shape,))
    if isinstance(shape, Dimension):
        letters = text_ring(dimension_text(shape, heights[shape.role], scale), heights[shape.role] * scale)
        corners = ((box.left, box.bottom), (box.right, box.top))
        return box_of((*corners, *letters)).grown(_BEYOND * scale)
    return box.grown(0.5 * scale)


def _reaches(shape: Shape, box: Box) -> bool:
    """Whether a line longer than a part is in it; taken for granted of bowed lines and of all that is filled."""
    if isinstance(shape, Line):
        return rings_overlap((shape.start, shape.end), box_ring(box))
    if isinstance(shape, Outline) and not shape.fill and not any(shape.bulges):
        ring = box_ring(box)
        return any(rings_overlap(edge, ring) for outline in (shape.points, *shape.holes) for edge in edges(outline))
    return True


def _radius(box: Box) -> float:
    return max(math.hypot(x, y) for x in (box.left, box.right) for y in (box.bottom, box.top))
