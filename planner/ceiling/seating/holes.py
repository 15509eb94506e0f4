"""Holes in panels, and what may be wrong with one.

In: the ground, what stands in the ceiling already, and a hole with its place. Out: its faults. Grid frame, millimetres.

The rules: a hole lies in one panel, touches no tee, wall angle or other hole, and leaves a rim of panel all round
(`ServiceKind.rim_mm`; common practice, no source).
"""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import field
from typing import Literal

import shapely
from shapely import Point as Spot
from shapely.geometry.base import BaseGeometry

from planner.ceiling.model import Cell
from planner.ceiling.seating.ground import Ground, Hook, Span, cells_of
from planner.findings import Severity
from planner.geometry import TOLERANCE_MM, Box, Point
from planner.records import dataclass
from planner.sayings import said

Trouble = Literal["outside", "panel taken", "tee", "wall", "hole", "sliver"]


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole, or the body of something that is fixed below the panel."""

    service: str
    centre: Point
    size: tuple[float, float]  #: along the two grid axes; a round one has its diameter twice
    round: bool
    rim: float
    cut: bool = True  #: False = nothing is cut, only the body needs its place

    @property
    def box(self) -> Box:
        (x, y), (width, depth) = self.centre, self.size
        return Box(x - width / 2, y - depth / 2, x + width / 2, y + depth / 2)

    @property
    def shape(self) -> BaseGeometry:
        """The hole as drawn; a round one is only its centre, `reach` away from its edge."""
        return Spot(self.centre) if self.round else shapely.box(*sides(self.box))

    @property
    def reach(self) -> float:
        """From `shape` to the edge of the hole."""
        return self.size[0] / 2 if self.round else 0.0

    def at(self, centre: Point) -> "Hole":
        return Hole(self.service, centre, self.size, self.round, self.rim, self.cut)


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong with a hole where it is; `gap` is what is left between it and `other`, negative when they meet."""

    severity: Severity
    trouble: Trouble
    gap: float = 0.0
    other: str = ""  #: the service in the way; for a sliver also "the tee" or "the wall angle"


@dataclass(frozen=True, slots=True)
class Ledger:
    """Who stands where; filled service by service as they are dealt out."""

    taken: dict[Cell, str] = field(default_factory=dict)  #: modules that lay-in services fill
    holes: dict[Cell, list[Hole]] = field(default_factory=lambda: defaultdict(list))
    unhooked: set[Hook] = field(default_factory=set)  #: see `Ground.unhooked`

    def take(self, ground: Ground, cell: Cell, span: Span, service: str) -> None:
        self.taken.update(dict.fromkeys(cells_of(cell, span), service))
        self.unhooked.update(ground.unhooked(cell, span))

    def stand(self, ground: Ground, hole: Hole) -> None:
        for cell in ground.cells_under(hole.box):
            self.holes[cell].append(hole)

    def without(self, hole: Hole) -> "Ledger":
        """The same without one hole, to ask where it might go."""
        holes = {cell: [other for other in here if other is not hole] for cell, here in self.holes.items()}
        return Ledger(self.taken, defaultdict(list, holes), self.unhooked)

    def free(self, cell: Cell) -> bool:
        return cell not in self.taken and not self.holes.get(cell)


def faults(ground: Ground, ledger: Ledger, hole: Hole) -> tuple[Fault, ...]:
    """Everything wrong with a hole where it is, the worst first; empty when it may be cut."""
    if not ground.floor.contains(Spot(hole.centre)):
        return (Fault("stop", "outside"),)
    found = [*_panel_faults(ground, ledger, hole), *_tee_faults(ground, hole), *_wall_faults(ground, hole)]
    found += _neighbour_faults(ground, ledger, hole)
    return tuple(sorted(found, key=lambda fault: ("stop", "warn", "note").index(fault.severity)))


def fits_a_whole_panel(ground: Ground, hole: Hole) -> bool:
    """True when the hole, centred, leaves its rim in a panel of full size."""
    return not any(_tee_faults(ground, hole.at(ground.box((0, 0)).centre)))


def _panel_faults(ground: Ground, ledger: Ledger, hole: Hole) -> Iterator[Fault]:
    owner = ledger.taken.get(ground.cell_at(hole.centre))
    if owner is not None:
        yield Fault("stop", "panel taken", other=owner)


def _tee_faults(ground: Ground, hole: Hole) -> Iterator[Fault]:
    """Against the flanges of the tees round the hole's own module."""
    module, own = ground.box(ground.cell_at(hole.centre)), hole.box
    to_lines = (own.left - module.left, module.right - own.right, own.bottom - module.bottom, module.top - own.top)
    gap = min(to_lines) - ground.system.tee_face / 2
    if gap < -TOLERANCE_MM:
        yield Fault("stop" if hole.cut else "note", "tee", gap)
    elif hole.cut and gap < hole.rim - TOLERANCE_MM:
        yield Fault("warn", "sliver", gap, said("the tee"))


def _wall_faults(ground: Ground, hole: Hole) -> Iterator[Fault]:
    """Against the ledge of the wall angle on walls and columns in the hole's own module."""
    walls = ground.edges_in(ground.box(ground.cell_at(hole.centre)))
    if walls.is_empty:
        return
    gap = hole.shape.distance(walls) - hole.reach - ground.system.ledge
    if not hole.cut:
        if gap + ground.system.ledge < -TOLERANCE_MM:
            yield Fault("warn", "wall", gap)
    elif gap < -TOLERANCE_MM:
        yield Fault("stop", "wall", gap)
    elif gap < hole.rim - TOLERANCE_MM:
        yield Fault("warn", "sliver", gap, said("the wall angle"))


def _neighbour_faults(ground: Ground, ledger: Ledger, hole: Hole) -> Iterator[Fault]:
    """Against what stands in the same module; each neighbour is told once."""
    for other in ledger.holes.get(ground.cell_at(hole.centre), ()):
        gap = hole.shape.distance(other.shape) - hole.reach - other.reach
        if gap < TOLERANCE_MM:
            yield Fault("stop", "hole", gap, other.service)
        elif hole.cut and other.cut and gap < max(hole.rim, other.rim) - TOLERANCE_MM:
            yield Fault("warn", "sliver", gap, other.service)


def sides(box: Box) -> tuple[float, float, float, float]:
    """Left, bottom, right, top, as shapely takes them."""
    return (box.left, box.bottom, box.right, box.top)
