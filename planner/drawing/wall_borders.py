"""The border along one wall, as it is told on sheets: one width, both ends' where it tapers, or that it varies.

In: a wall and the layout. Out: words, or the widths at the wall's two ends. The border at a point is the distance,
square to the grid, to the first grid line inside; where grid lines cross the wall it varies from nothing to a module.
"""

import math
from collections.abc import Callable
from typing import Literal

from planner.ceiling.model import Border, Layout
from planner.drawing import words
from planner.drawing.dimensions import written
from planner.geometry import TOLERANCE_MM, Point
from planner.planning import Plan
from planner.room.outline import Wall

#: What a tape tells apart: a millimetre, a sixteenth of an inch.
MARK_MM, MARK_INCH = 1.0, 25.4 / 16


def border_text(plan: Plan, wall: Wall) -> str:
    """The border along a wall in words."""
    border = _border_of(plan.ceiling.layout, wall)
    if border is None:
        return words.say("walls.no border")
    units = plan.room.units
    ends = tapered_ends(plan.ceiling.layout, wall)
    if ends == "varies":
        return words.say("walls.varies")
    if ends is None:
        return border_range(border, units, written)
    one = one_width(*ends, units)
    if one is not None:
        return written(one, units)
    first, second = (written(width, units) for width in ends)
    corners = wall.corners
    if not all(corners):
        return words.say("walls.border range", least=first, most=second)
    return words.say("walls.border ends", first=first, first_corner=corners[0], second=second, second_corner=corners[1])


def border_range(border: Border, units: str, say: Callable[[float, str], str]) -> str:
    """The least and the most of a border, or one width."""
    one = one_width(border.least, border.most, units)
    if one is not None:
        return say(one, units)
    return words.say("walls.border range", least=say(border.least, units), most=say(border.most, units))


def one_width(first: float, second: float, units: str) -> float | None:
    """The narrower of two widths that no tape tells apart; None where one does, by a mark or more."""
    mark = MARK_INCH if units in ("ft-in", "in") else MARK_MM
    return min(first, second) if abs(first - second) < mark else None


def tapered_ends(layout: Layout, wall: Wall) -> tuple[float, float] | Literal["varies"] | None:
    """Border at the start and at the end of a wall that is not parallel to the grid; None for one that is, or is bowed.

    "varies" where grid lines cross the wall, or it has no border.
    """
    a, b = layout.frame.inward(wall.start), layout.frame.inward(wall.end)
    axis = across_axis(layout, wall)
    if abs(a[axis] - b[axis]) < 10 * TOLERANCE_MM or wall.arc is not None:
        return None
    module, inward = layout.module[axis], _inward(a, b, axis)
    lines = [_first_line(point[axis], module, inward) for point in (a, b)]
    if lines[0] != lines[1]:
        return "varies"
    first, second = (abs(lines[0] * module - point[axis]) for point in (a, b))
    return first, second


def across_axis(layout: Layout, wall: Wall) -> int:
    """The grid axis across a wall: 0 when the wall runs along the second, 1 when along the first."""
    a, b = layout.frame.inward(wall.start), layout.frame.inward(wall.end)
    return 1 if abs(b[0] - a[0]) >= abs(b[1] - a[1]) else 0


def border_feet(layout: Layout, wall: Wall, share: float) -> tuple[Point, Point]:
    """A point of a tapered wall, `share` of its length from its start, and the point of the grid line facing it."""
    a, b = layout.frame.inward(wall.start), layout.frame.inward(wall.end)
    axis = across_axis(layout, wall)
    at = (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
    line = _first_line(a[axis], layout.module[axis], _inward(a, b, axis)) * layout.module[axis]
    foot = (line, at[1]) if axis == 0 else (at[0], line)
    return layout.frame.outward(at), layout.frame.outward(foot)


def _border_of(layout: Layout, wall: Wall) -> Border | None:
    return next((border for border in layout.borders if border.wall == wall.name), None)


def _inward(a: Point, b: Point, axis: int) -> int:
    """The side of a wall on which the room lies, along one axis; the room is on the left of the wall."""
    left = a[1] - b[1] if axis == 0 else b[0] - a[0]
    return 1 if left > 0 else -1


def _first_line(at: float, module: float, inward: int) -> int:
    """The number of the first grid line inside."""
    if inward > 0:
        return math.floor((at + TOLERANCE_MM) / module) + 1
    return math.ceil((at - TOLERANCE_MM) / module) - 1
