"""Hatching: what is waste, as slanting lines that stop at its edge.

In: an area as a shapely shape. Out: lines. Drawn line by line, so that every format shows the same.
"""

import math
from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from planner.drawing.roles import Role
from planner.drawing.shapes import Line

_FINEST = 0.3  #: shorter scraps are not drawn, in parts of the spacing


def hatched(area: BaseGeometry, spacing: float, role: Role = Role.WASTE_HATCH) -> Iterator[Line]:
    """Lines at 45 degrees over an area, `spacing` apart, in the unit of the area."""
    if area.is_empty:
        return
    left, bottom, right, top = area.bounds
    step = spacing * math.sqrt(2.0)
    first, last = math.floor((left - top) / step), math.ceil((right - bottom) / step)
    at = np.arange(first, last + 1) * step  # lines x - y = at, at the same places whatever the area
    ends = np.stack(
        [np.stack([at + bottom, np.full_like(at, bottom)], 1), np.stack([at + top, np.full_like(at, top)], 1)], 1
    )
    cut = shapely.intersection(shapely.linestrings(ends), area)
    for part in shapely.get_parts(cut):
        if part.geom_type == "LineString" and part.length > _FINEST * spacing:
            (ax, ay), (bx, by) = part.coords[0], part.coords[-1]
            yield Line(role, (ax, ay), (bx, by))
