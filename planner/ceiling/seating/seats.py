"""Lay-in services: whole modules that a light, a diffuser or an access panel fills.

In: the ground, what stands already, a size and a place. Out: the modules it takes, or why it cannot have them. A group
of modules may lie across cross tees, which are left out there, but never across a main tee, which carries the ceiling,
and the tee along its side must reach from hook to hook (common practice, no source).
"""

from typing import Literal

from planner.ceiling.model import Cell
from planner.ceiling.seating.ground import Ground, Span, cells_of
from planner.ceiling.seating.holes import Ledger
from planner.ceiling.seating.nearest import nearest
from planner.ceiling.system import System
from planner.geometry import TOLERANCE_MM, Point
from planner.records import dataclass

#: A size may be off its modules by this share: enough for rounding, too little to take 600 mm for 24 in.
SIZE_TOLERANCE = 0.005

Obstacle = Literal["off the modules", "cut panel", "main tee", "taken", "long side"]


@dataclass(frozen=True, slots=True)
class Seat:
    """The modules under a fixed place; `obstacle` is why the service cannot sit there, None when it can."""

    cell: Cell
    centre: Point  #: grid frame
    obstacle: Obstacle | None = None
    other: str = ""  #: the service that has the modules


def whole_modules(size: tuple[float, float], module: tuple[float, float], system: System) -> Span | None:
    """How many modules a size fills each way; None when it does not fill whole ones.

    Sizes may be nominal (the module) or as made (the module less the panel's undersize).
    """
    along = _multiple(size[0], module[0], system.panel_undersize)
    away = _multiple(size[1], module[1], system.panel_undersize)
    return (along, away) if along and away else None


def seat_at(ground: Ground, ledger: Ledger, span: Span, place: Point) -> Seat:
    """The modules round a fixed place, which may miss their middle by no more than a panel's play in its opening."""
    cell = _cell_round(ground, span, place)
    centre = ground.box(cell, span).centre
    play = ground.system.panel_undersize + TOLERANCE_MM
    if max(abs(centre[0] - place[0]), abs(centre[1] - place[1])) > play:
        return Seat(cell, centre, "off the modules")
    return _judged(ground, ledger, span, Seat(cell, centre))


def seat_round(ground: Ground, ledger: Ledger, span: Span, place: Point) -> Seat:
    """The modules that lie nearest round a place, however far off their middle is; says what is in the way there."""
    cell = _cell_round(ground, span, place)
    return _judged(ground, ledger, span, Seat(cell, ground.box(cell, span).centre))


def nearest_seat(ground: Ground, ledger: Ledger, span: Span, place: Point) -> Seat | None:
    """The nearest whole modules that nobody has and no main tee crosses."""

    def suits(cell: Cell) -> bool:
        return all(map(ledger.free, cells_of(cell, span))) and _is_borne(ground, ledger, cell, span)

    cell = nearest(ground, span, place, suits)
    return None if cell is None else Seat(cell, ground.box(cell, span).centre)


def _cell_round(ground: Ground, span: Span, place: Point) -> Cell:
    """The first of the modules round a place."""
    width, depth = ground.layout.module
    return (round(place[0] / width - span[0] / 2), round(place[1] / depth - span[1] / 2))


def _multiple(size: float, module: float, undersize: float) -> int:
    """Whole modules in a size, 0 when it fills none."""
    count = round(size / module)
    off = size - count * module
    slack = SIZE_TOLERANCE * count * module
    return count if -max(slack, undersize + TOLERANCE_MM) <= off <= slack else 0


def _judged(ground: Ground, ledger: Ledger, span: Span, seat: Seat) -> Seat:
    cells = cells_of(seat.cell, span)
    if not all(map(ground.is_full, cells)):
        return Seat(seat.cell, seat.centre, "cut panel")
    if ground.straddles_main(seat.cell, span):
        return Seat(seat.cell, seat.centre, "main tee")
    for cell in cells:
        if not ledger.free(cell):
            other = ledger.taken.get(cell) or ledger.holes[cell][0].service
            return Seat(seat.cell, seat.centre, "taken", other)
    return seat if _is_borne(ground, ledger, seat.cell, span) else Seat(seat.cell, seat.centre, "long side")


def _is_borne(ground: Ground, ledger: Ledger, cell: Cell, span: Span) -> bool:
    """Whether the tees beside the group still have something to hook into, with what others took out before."""
    return ground.bears(ground.unhooked(cell, span), ledger.unhooked)
