"""Where each drawing of a sheet set lies in the one model space of a DXF file.

In: sheets. Out: a seat for every drawing that differs from the others, in the order in which they are first shown.
Rule: the first keeps the room's coordinates; the others stand to its right, clear of all that any window shows. Where
the room has a place in somebody else's drawing, all of this is laid down there: the first drawing lands on theirs.
"""

import math
from collections.abc import Sequence

from planner.drawing.shapes import Drawing, Sheet, Window, extents
from planner.geometry import Box, Frame, Point, box_of
from planner.records import dataclass


@dataclass(frozen=True, slots=True)
class Seat:
    """A drawing and where it lies in model space; millimetres."""

    drawing: Drawing
    shift: float  #: along the room's x
    shown: Box  #: its shapes, shifted; not yet laid down

    @property
    def frame(self) -> Frame:
        """The drawing's own frame in model space."""
        place = self.drawing.placement
        return Frame(place.outward((self.shift, 0.0)), place.angle_deg)

    @property
    def extents(self) -> Box:
        """Around all its shapes in model space."""
        low, high = (self.shown.left, self.shown.bottom), (self.shown.right, self.shown.top)
        corners: tuple[Point, ...] = (low, (high[0], low[1]), high, (low[0], high[1]))
        return box_of(map(self.drawing.placement.outward, corners))


def side_by_side(sheets: Sequence[Sheet]) -> list[Seat]:
    """Seat every drawing that differs from the others."""
    seats: list[Seat] = []
    right = 0.0
    for drawing in distinct(sheets):
        shown = [_shown(window) for sheet in sheets for window in sheet.windows if window.drawing == drawing]
        bounds = [*shown, extents(drawing.shapes)] if drawing.shapes else shown
        region = box_of((x, y) for box in bounds for x, y in ((box.left, box.bottom), (box.right, box.top)))
        step = 3048.0 if drawing.unit in ("in", "ft") else 1000.0
        shift = math.ceil((right + step - region.left) / step) * step if seats else 0.0
        inner = bounds[-1]
        seats.append(Seat(drawing, shift, Box(inner.left + shift, inner.bottom, inner.right + shift, inner.top)))
        right = region.right + shift
    return seats


def distinct(sheets: Sequence[Sheet]) -> list[Drawing]:
    """Drawings as they are first shown, each once."""
    found: list[Drawing] = []
    for window in (window for sheet in sheets for window in sheet.windows):
        if window.drawing not in found:
            found.append(window.drawing)
    return found


def _shown(window: Window) -> Box:
    """Find what a window shows, in the drawing's millimetres."""
    x, y = window.centre
    wide, high = window.box.width * window.drawing.scale / 2, window.box.height * window.drawing.scale / 2
    return Box(x - wide, y - high, x + wide, y + high)
