"""How a hung ceiling is held up: loads decide how far apart hangers may be, then the hangers are placed.

In: the room, what is wished, and everything that was planned below. Out: `Held`; nothing on a system that is not hung.

Rule: hangers are as far apart as the system, the wish and the load allow; without a weight of panels no load is
checked, and a finding says so.
"""

from collections.abc import Iterator, Sequence

from planner.ceiling.hanging import hang
from planner.ceiling.holding.bracing import braces
from planner.ceiling.holding.overhead import names_said
from planner.ceiling.holding.service_wires import service_wires, unweighed
from planner.ceiling.loads import burdens, spacing_that_carries, weigh
from planner.ceiling.mains import MainLines
from planner.ceiling.model import Hanger, Layout, Loads, Member, Service
from planner.ceiling.system import System
from planner.errors import PlannerError
from planner.findings import Finding
from planner.geometry import TOLERANCE_MM, Point
from planner.lengths import spoken_length
from planner.records import dataclass
from planner.room.brief import GridWish
from planner.room.outline import Room
from planner.sayings import joined, linked, said


@dataclass(frozen=True, slots=True)
class Held:
    """Hangers, what they bear, and what to say about both."""

    hangers: tuple[Hanger, ...] = ()
    loads: Loads | None = None
    braces: tuple[Point, ...] = ()
    findings: tuple[Finding, ...] = ()


def hold_up(
    room: Room,
    wish: GridWish,
    layout: Layout,
    system: System,
    mains: MainLines,
    members: Sequence[Member],
    services: Sequence[Service],
) -> Held:
    """Hang a ceiling; PlannerError when hangers are wished further apart than the system allows.

    On a grid that is not hung only what is too heavy for it is told.
    """
    if system.fixing != "hung":
        return Held(findings=service_wires(room, layout, services).findings)
    limit = _limit(room, wish, system)
    braced = braces(room, layout, members)
    if wish.panel_kg_m2 is None:
        hanging = hang(room, layout, system, members, services, limit)
        return Held(hanging.hangers, None, braced, (*hanging.findings, *_not_weighed(wish, services)))
    bearing = burdens(layout, system, mains, members, services, wish.panel_kg_m2)
    carrying = spacing_that_carries(bearing, system, limit)
    hanging = hang(room, layout, system, members, services, carrying.spacing)
    loads, findings = weigh(room, system, bearing, carrying, hanging.hangers)
    return Held(hanging.hangers, loads, braced, (*hanging.findings, *findings, *_not_weighed(wish, services)))


def _limit(room: Room, wish: GridWish, system: System) -> float:
    wished, most = wish.hanger_spacing, system.hanging.spacing
    if wished is not None and wished > most + TOLERANCE_MM:
        wide, allowed = spoken_length(wished, room.units), spoken_length(most, room.units)
        raise PlannerError(
            f"hangers {wide} apart are further than {system.name} allows, {allowed}.",
            where="grid › hanger_spacing",
            mend="Leave hanger_spacing out, or write a shorter one.",
        )
    return most if wished is None else wished


def _not_weighed(wish: GridWish, services: Sequence[Service]) -> Iterator[Finding]:
    """What is left out because its weight is not given, in one finding."""
    unknown = unweighed(services)
    if wish.panel_kg_m2 is not None and not unknown:
        return
    parts, remedies = [], []
    if wish.panel_kg_m2 is None:
        parts.append(said("of the panels, so no load is checked"))
        remedies.append(said("grid: {{panel_weight: 1.0 psf}}  (or 5 kg/m2)"))
    if unknown:
        parts.append(said("of {names}, so no wires of their own are counted", names=names_said(unknown)))
        remedies.append(said("weight: ...  (lb or kg) to each service"))
    text = said("Weights are not given: {parts}.", parts=joined(parts, "; "))
    source = "ASTM C635 s. 4.1; building department handout (Everett WA)"
    yield Finding(
        "note",
        "weights not given",
        source,
        text,
        None,
        said("Add  {keys}.", keys=linked(remedies, "{some}  and  {last}")),
    )
