"""Wires of their own for services, by weight.

In: the services in place, and where other wires are tied. Out: their wires, which may hang slack, and findings. Where
joists are known each wire goes up to one (`planner.ceiling.holding.ties`); else to the nearest sound structure.

Rule: under 10 lb one wire, 10 to 56 lb two at opposite corners, over 56 lb straight from the structure and not from the
grid (a building department's handout on suspended ceilings, Everett WA, with ASTM E580). At exactly 10 lb sources
differ, one table having one wire; here two. What hangs from its own pipe or box is left out.
"""

from collections.abc import Iterable, Iterator, Sequence

from planner.ceiling.holding.overhead import names_said
from planner.ceiling.holding.ties import Held, tied
from planner.ceiling.model import Hanger, Layout, Service
from planner.findings import Finding, placed
from planner.geometry import Point
from planner.records import dataclass
from planner.room.outline import Room
from planner.room.service_kinds import KINDS
from planner.room.values import KG_PER_POUND
from planner.sayings import said

ONE_WIRE_UNDER_KG = 10 * KG_PER_POUND
GRID_CARRIES_KG = 56 * KG_PER_POUND

#: Four connections of 100 lb (the least that building departments ask of one wire's connection to the structure): what
#: is heavier hangs from nothing that a ceiling fixer puts up.
NOBODY_HANGS_KG = 4 * 100 * KG_PER_POUND

#: What is never left to the grid alone, by what it is supplied as.
_HUNG = ("lights", "diffusers", "grilles")

SOURCE = "building department handout on ASTM E580 (Everett WA)"


@dataclass(frozen=True, slots=True)
class ServiceWires:
    """Wires of services, not yet numbered."""

    hangers: tuple[Hanger, ...]
    findings: tuple[Finding, ...]


def service_wires(
    room: Room, layout: Layout, services: Sequence[Service], others: Sequence[Point] = ()
) -> ServiceWires:
    """The wires that services need; `others` are where other wires are fixed to the structure."""
    carried = [service for service in services if KINDS[service.kind].on_grid]
    held = [
        Held(service.name, service.at, service.size, service.round, count)
        for service in carried
        if (count := wires_for(service.weight_kg) or 0)
    ]
    hangers = (
        tie.up.hanger(tie.at, name, "service wire")
        for name, ties in tied(room, layout.frame.angle_deg, held, others)
        for tie in ties
    )
    return ServiceWires(tuple(hangers), tuple(_findings(room, carried)))


def unweighed(services: Sequence[Service]) -> tuple[str, ...]:
    """Lights and vents that rest on the grid, of which no weight is given: even the lightest needs a wire."""
    return tuple(s.name for s in services if s.weight_kg is None and KINDS[s.kind].supplied in _HUNG)


def held_apart(services: Iterable[Service]) -> tuple[Service, ...]:
    """Services that are too heavy for the grid: the structure alone holds them, on hangers not planned here."""
    return tuple(s for s in services if KINDS[s.kind].on_grid and wires_for(s.weight_kg) is None)


def wires_for(weight_kg: float | None) -> int | None:
    """How many wires a service needs; 0 when its weight is not known, None when it hangs straight from the structure.

    Everett WA handout: under 10 lb one, 10 to 56 lb two, over 56 lb the structure.
    """
    if weight_kg is None:
        return 0
    if weight_kg > GRID_CARRIES_KG * (1 + 1e-9):
        return None
    return 1 if weight_kg < ONE_WIRE_UNDER_KG * (1 - 1e-9) else 2


def _findings(room: Room, carried: Sequence[Service]) -> Iterator[Finding]:
    heavy = held_apart(carried)
    for service in heavy:
        assert service.weight_kg is not None
        if service.weight_kg > NOBODY_HANGS_KG:
            text = said(
                "{service} weighs {weight}: nothing that belongs to a ceiling carries that.",
                service=service.name,
                weight=weight_said(service.weight_kg, room.imperial),
            )
            remedy = said("Check the weight; if it is true, a structural engineer says how it is held.")
            yield Finding("stop", "weight of a service", SOURCE, text, service.at, remedy)
    if some := [s for s in heavy if (s.weight_kg or 0.0) <= NOBODY_HANGS_KG]:
        text = said(
            "{names}: over {limit}, so the structure alone holds it, on approved hangers of its own; no wire of the "
            "ceiling does.",
            names=names_said(s.name for s in some),
            limit=weight_said(GRID_CARRIES_KG, room.imperial),
        )
        remedy = said(
            "Whoever fits it puts the hangers up before the grid, by its maker's instructions, where the building "
            "office approves them. They are neither planned nor counted here."
        )
        told = Finding("warn", "weight of a service", SOURCE, text, None, remedy)
        yield placed(told, (service.at for service in some))


def weight_said(kg: float, imperial: bool) -> str:
    """A weight in pounds or kilograms, to a tenth."""
    return f"{kg / KG_PER_POUND:.1f} lb".replace(".0 ", " ") if imperial else f"{kg:.1f} kg"
