"""Whole panels that stop short of two opposite walls, where the ledge of the wall angle hides what is missing.

In: a room, the wish and the kind of grid. Out: how much is hidden at each end of the two grid axes, and the room as far
as panels and tees reach. Rule: a panel must still lie on its ledge by `LEAST_ON_LEDGE_MM`, with the whole of its
undersize at the wall, and the rest is split evenly between the two walls, so that the grid stands in the middle of the
room. In rooms of four walls along the grid only. Wall angle and set-out keep to the true walls.
"""

import math
from collections.abc import Iterator
from dataclasses import replace

from planner.ceiling.grid.asked import angle_asked, module_asked
from planner.ceiling.model import Layout
from planner.ceiling.system import System
from planner.errors import PlannerError
from planner.findings import Finding
from planner.geometry import TOLERANCE_MM, Box, Frame, Point, box_of, edges
from planner.lengths import MM_PER_INCH, Rounding, format_length, format_mm
from planner.records import dataclass
from planner.room.brief import GridWish
from planner.room.outline import Room
from planner.sayings import linked, said

#: What a whole panel must still lie on its ledge by: 3/8 in, which ASTM E580 asks of tee ends (read second hand; for
#: panels no published figure was found).
LEAST_ON_LEDGE_MM = 3 / 8 * float(MM_PER_INCH)

#: Less than this missing from whole panels is nothing; a wall less than this out of line lies along the grid.
NOTHING_MM = 0.1

_RULE = "uncut over the ledge"
_SOURCE = "ASTM E580, of tee ends, read second hand; for panels no published figure was found"


@dataclass(frozen=True, slots=True)
class Reach:
    """How far panels and tees reach."""

    room: Room  #: with its walls where they end
    hidden: tuple[float, float] = (0.0, 0.0)  #: at each end of the two grid axes, millimetres
    wish: GridWish | None = None  #: for this room; None where it is the wish as it stands


def reach_of(room: Room, wish: GridWish, system: System) -> Reach:
    """The room as far as it is covered: as it is, save where panels are wished uncut.

    PlannerError when panels are wished uncut and no ledge hides what is missing.
    """
    if not wish.uncut:
        return Reach(room)
    frame, module = Frame((0.0, 0.0), angle_asked(room, wish.align)), module_asked(room, wish, system)
    if not stands_straight(room, frame):
        raise PlannerError(
            "panels can stay uncut over the ledge only where the room has four walls, all along the grid.",
            where="grid › borders",
            mend="Write  borders: balanced  or a border of your own.",
        )
    extent = box_of(map(frame.inward, room.outline))
    hidden = hidden_parts(extent, module, system)
    if not any(hidden):
        if all(rest <= NOTHING_MM for rest in _rests(extent, module)):
            return Reach(room)  # whole panels fit as it is
        raise _too_much(room, extent, module, system)
    full = (("left", "full"), ("front", "full"))
    borders = tuple(border for border, part in zip(full, hidden, strict=True) if part)
    covered = replace(room, outline=tuple(_nearer(room, frame, extent.centre, hidden)))
    return Reach(covered, hidden, replace(wish, borders=borders, centre_on=None))  # type: ignore[arg-type]


def stands_straight(room: Room, frame: Frame) -> bool:
    """Whether a room has four straight walls, all along the grid."""
    return len(room.outline) == 4 and all(_straight(frame, *side) for side in edges(room.outline))


def hidden_parts(extent: Box, module: tuple[float, float], system: System) -> tuple[float, float]:
    """Half of what is missing from whole panels along each axis, where a panel still lies on both ledges; else 0.

    The whole undersize of the panel is taken to lie at the wall. See `LEAST_ON_LEDGE_MM`.
    """
    most = hides_at_most(system) + TOLERANCE_MM
    u, v = (
        (side % length) / 2 if side >= length and NOTHING_MM < side % length <= 2 * most else 0.0
        for side, length in zip((extent.width, extent.height), module, strict=True)
    )
    return (u, v)


def hides_at_most(system: System) -> float:
    """How far a whole panel may stop short of a wall."""
    return system.ledge - system.panel_undersize - LEAST_ON_LEDGE_MM


def told(layout: Layout, reach: Reach, room: Room) -> Layout:
    """The layout with a sentence that says what the ledge hides."""
    if not any(reach.hidden):
        return layout
    sides = [(said("left and right"), reach.hidden[0]), (said("front and back"), reach.hidden[1])]
    parts = linked(_part_said(part, side, room) for side, part in sides if part)
    rule = said("{rule} Panels stay uncut: the ledge of the wall angle hides {parts}.", rule=layout.rule, parts=parts)
    return replace(layout, rule=rule)


def on_ledge(reach: Reach, room: Room, system: System) -> Iterator[Finding]:
    """How far whole panels still lie on the ledge that hides what they lack; see `LEAST_ON_LEDGE_MM`."""
    if not any(reach.hidden):
        return
    rest = system.ledge - system.panel_undersize - max(reach.hidden)
    text = said(
        "Whole panels stop {short} short of the walls and lie on the ledge by {rest}; {least} is the least.",
        short=_fine(max(reach.hidden), room.units),
        rest=_fine(rest, room.units),
        least=_fine(LEAST_ON_LEDGE_MM, room.units),
    )
    remedy = said(
        "Set the grid out exactly in the middle of the room: what is gained at one wall is lost at the other."
    )
    yield Finding("note", _RULE, _SOURCE, text, None, remedy)


def _nearer(room: Room, frame: Frame, middle: Point, hidden: tuple[float, float]) -> Iterator[Point]:
    """The corners, moved towards the middle by what is hidden."""
    for point in map(frame.inward, room.outline):
        u, v = (p - math.copysign(h, p - m) for p, m, h in zip(point, middle, hidden, strict=True))
        yield frame.outward((u, v))


def _straight(frame: Frame, start: Point, end: Point) -> bool:
    (x0, y0), (x1, y1) = frame.inward(start), frame.inward(end)
    return min(abs(x1 - x0), abs(y1 - y0)) <= NOTHING_MM


def _rests(extent: Box, module: tuple[float, float]) -> tuple[float, float]:
    """What is missing from whole panels along each axis."""
    return (extent.width % module[0], extent.height % module[1])


def _too_much(room: Room, extent: Box, module: tuple[float, float], system: System) -> PlannerError:
    along, away = (_fine(rest, room.units) for rest in _rests(extent, module))
    most = _fine(2 * hides_at_most(system), room.units, Rounding.DOWN)
    return PlannerError(
        f"whole panels leave {along} along the base wall and {away} away from it; the ledges hide {most} at most from"
        " wall to wall.",
        where="grid › borders",
        mend="Write  borders: balanced;  planner options shows modules that fit.",
    )


def _part_said(part: float, side: str, room: Room) -> str:
    return said("{part} {side}", part=_fine(part, room.units), side=side)


def _fine(mm: float, units: str, rounding: Rounding = Rounding.NEAREST) -> str:
    """A small length, to a tenth of a millimetre or a thirty-second of an inch."""
    if units in ("ft-in", "in"):
        return format_length(mm, "in", rounding, denominator=32)
    return f"{format_mm(mm, rounding, 0.1)} mm"
