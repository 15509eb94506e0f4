"""What the main tees bear, how far apart hangers may be for it, and what the heaviest hanger bears.

In: weights of panels, grid and services; where the mains run; then the hangers. Out: `Loads`, with findings.

Rules: ASTM C635 s. 4.1 (read) rates a main tee by the uniform load that lets it sag 1/360 of a simple span of 4 ft
[1200 mm]; light 5, intermediate 12, heavy 16 lb/ft (73, 175, 233 N/m; from memory). At a fixed sag of span/360 the load
that a beam carries goes with 1 / span^3, so closer hangers carry more: (48/42)^3 = 1.4927. A weight at midspan sags a
beam as much as 8/5 of it spread evenly (beam formulas, P L^3 / 48 EI and 5 w L^4 / 384 EI), and every service in a span
is taken to be there. Panels that a service replaces are not taken off, on the safe side. A hanger's connection to the
structure holds 100 lb at least (building departments' handouts, Daly City CA and Everett WA).
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from planner.ceiling.holding.overhead import names_said
from planner.ceiling.holding.service_wires import wires_for
from planner.ceiling.mains import MainLines
from planner.ceiling.model import Hanger, Layout, Loads, Member, Service
from planner.ceiling.system import System
from planner.findings import Finding
from planner.geometry import TOLERANCE_MM, distance, midpoint
from planner.lengths import spoken_length
from planner.records import dataclass
from planner.room.outline import Room
from planner.room.service_kinds import KINDS
from planner.sayings import said, term

GRAVITY = 9.80665  #: m/s2, standard
N_PER_M_OF_LB_FT = 14.5939  #: 1 lbf/ft
N_OF_LB = 4.4482216

#: Uniform load on a main tee hung every 4 ft [1200 mm], sagging 1/360 of that; pounds per foot. ASTM C635, from memory.
DUTY_LB_FT = {"light": 5.0, "intermediate": 12.0, "heavy": 16.0}
SPAN_IN_FEET_MM, SPAN_METRIC_MM = 1219.2, 1200.0  #: the span of ASTM C635 s. 4.1, in its two systems of units
SAG = 1 / 360  #: ASTM C635 s. 4.1
AT_MIDSPAN = 8 / 5

CONNECTION_N = 100 * N_OF_LB  #: handouts of Daly City CA and Everett WA

#: Hangers are drawn together by steps of a slot pitch, and no closer than two feet (common practice, no source).
CLOSEST_MM = 600.0

SOURCE = "ASTM C635 s. 4.1; duty classes from memory"


@dataclass(frozen=True, slots=True)
class Burden:
    """What one main run bears."""

    run: Member
    per_metre: float  #: N/m of panels and grid
    services: tuple[tuple[float, float], ...]  #: (distance from the start of the run, newtons), in order


@dataclass(frozen=True, slots=True)
class Carrying:
    """The greatest spacing of hangers that carries the load, and the load there."""

    spacing: float
    carried: float  #: N/m
    allowed: float  #: N/m; less than `carried` when no spacing is close enough


def burdens(
    layout: Layout,
    system: System,
    mains: MainLines,
    members: Sequence[Member],
    services: Iterable[Service],
    panel_kg_m2: float,
) -> tuple[Burden, ...]:
    """What each main run bears; every run as if it had a neighbour on both sides, a whole spacing away."""
    along, across = (0, 1) if mains.direction == "along" else (1, 0)
    width = mains.step * layout.module[across]
    even = (panel_kg_m2 + _grid_kg_m2(system, layout, mains)) * GRAVITY * width / 1000
    spots = [
        (layout.frame.inward(service.at), (service.weight_kg or 0.0) * GRAVITY)
        for service in services
        if KINDS[service.kind].on_grid and service.weight_kg and wires_for(service.weight_kg) is not None
    ]
    found = []
    for run in members:
        if run.kind == "main tee":
            start, end = layout.frame.inward(run.start), layout.frame.inward(run.end)
            near = (
                (abs(spot[along] - start[along]), weight * (1 - abs(spot[across] - start[across]) / width))
                for spot, weight in spots
                if abs(spot[across] - start[across]) < width
                and min(start[along], end[along]) <= spot[along] <= max(start[along], end[along])
            )
            found.append(Burden(run, even, tuple(sorted(near))))
    return tuple(found)


def _grid_kg_m2(system: System, layout: Layout, mains: MainLines) -> float:
    """Weight of the tees of an endless grid, where the system knows what they weigh; else nothing."""
    tees = (system.main, *system.cross_tees)
    if any(tee.kg_per_m is None for tee in tees):
        return 0.0
    along, across = layout.module if mains.direction == "along" else layout.module[::-1]
    heaviest = max(tee.kg_per_m or 0.0 for tee in system.cross_tees)
    lines = (system.main.kg_per_m or 0.0) / (mains.step * across)
    lines += heaviest * (1 / along + (1 - 1 / mains.step) / across)
    return lines * 1000


def capacity(duty: str, span: float, *, imperial: bool = True) -> float:
    """Uniform load, N/m, that a main tee of a duty class carries between hangers `span` apart, sagging span/360."""
    rated = SPAN_IN_FEET_MM if imperial else SPAN_METRIC_MM
    return DUTY_LB_FT[duty] * N_PER_M_OF_LB_FT * (rated / span) ** 3


def carried(loads: Iterable[Burden], span: float) -> float:
    """The most that any span of a main bears, N/m, services as if at midspan."""
    return max(
        (b.per_metre + AT_MIDSPAN * _most_within(b.services, span) / (span / 1000) for b in loads),
        default=0.0,
    )


def _most_within(services: Sequence[tuple[float, float]], span: float) -> float:
    """The greatest sum of weights whose places lie no further apart than a span."""
    most, total, first = 0.0, 0.0, 0
    for at, weight in services:
        total += weight
        while at - services[first][0] > span:
            total -= services[first][1]
            first += 1
        most = max(most, total)
    return most


def spacing_that_carries(loads: Sequence[Burden], system: System, limit: float) -> Carrying:
    """The greatest spacing, at most `limit`, at which the duty class of the mains carries the load.

    Where none does, the closest is given, with `allowed` under `carried`.
    """
    step = system.main.slot_pitch or limit
    spans = [limit]
    while (closer := (spans[-1] - TOLERANCE_MM) // step * step) >= min(limit, CLOSEST_MM) - TOLERANCE_MM and closer > 0:
        spans.append(closer)
    tried = [
        Carrying(span, carried(loads, span), capacity(system.hanging.duty, span, imperial=system.imperial))
        for span in spans
    ]
    return next((one for one in tried if one.carried <= one.allowed * (1 + 1e-9)), tried[-1])


def weigh(
    room: Room,
    system: System,
    loads: Sequence[Burden],
    carrying: Carrying,
    hangers: Sequence[Hanger],
) -> tuple[Loads, tuple[Finding, ...]]:
    """The loads as they will be, and what to say about them."""
    reaction, heaviest = max(reactions(loads, hangers), default=(0.0, ""))
    result = Loads(
        duty=system.hanging.duty,
        spacing=carrying.spacing,
        carried=carrying.carried,
        allowed=carrying.allowed,
        deflection=carrying.spacing * SAG,
        reaction=reaction,
        heaviest=heaviest,
    )
    return result, tuple(_findings(room, system, loads, result, hangers))


def reactions(loads: Sequence[Burden], hangers: Iterable[Hanger]) -> Iterator[tuple[float, str]]:
    """What each hanger along a main bears, in newtons, with its name; the walls carry the ends of a run.

    Each span is a simple beam between its two supports.
    """
    held: dict[str, list[tuple[float, str]]] = defaultdict(list)
    runs = {burden.run.id: burden for burden in loads}
    for hanger in hangers:
        if hanger.member in runs and hanger.kind != "service wire":
            held[hanger.member].append((distance(runs[hanger.member].run.start, hanger.at), hanger.id))
    for name, row in held.items():
        burden = runs[name]
        supports = [(0.0, ""), *sorted(row), (burden.run.length, "")]
        for (before, _), (at, hanger_id), (after, _) in zip(supports, supports[1:], supports[2:], strict=False):
            weight = burden.per_metre * (after - before) / 2000
            for spot, newtons in burden.services:
                if before < spot < after:
                    reach = at - before if spot <= at else after - at
                    weight += newtons * (1 - abs(spot - at) / reach if reach else 1.0)
            yield weight, hanger_id


def _findings(
    room: Room, system: System, loads: Sequence[Burden], result: Loads, hangers: Sequence[Hanger]
) -> Iterator[Finding]:
    units, spacing = room.units, spoken_length(result.spacing, room.units)
    worst = max(loads, key=lambda b: carried([b], result.spacing), default=None)
    where = midpoint(worst.run.start, worst.run.end) if worst else None
    where_said = worst.run.id if worst else said("the mains")
    borne = said("{load} on {run}", load=_load_said(result.carried, room), run=where_said)
    if result.carried > result.allowed * (1 + 1e-9):
        text = said(
            "{borne}; {duty} duty carries {load} with hangers {spacing} apart.",
            borne=borne,
            duty=term(result.duty),
            load=_load_said(result.allowed, room),
            spacing=spacing,
        )
        remedy = said("Take main tees of a heavier class, lighter panels, or hang the services from the structure.")
        yield Finding("stop", "duty of the main tees", SOURCE, text, where, remedy)
    elif result.spacing < system.hanging.spacing - TOLERANCE_MM and _closer_needed(system, loads):
        usual = spoken_length(system.hanging.spacing, units)
        text = said(
            "{borne}: hangers are set {spacing} apart at most, not {usual}, so that {duty} duty carries it.",
            borne=borne,
            spacing=spacing,
            usual=usual,
            duty=term(result.duty),
        )
        remedy = said("Nothing to do; or take main tees of a heavier class and keep the usual spacing.")
        yield Finding("note", "duty of the main tees", SOURCE, text, where, remedy)
    if result.reaction > CONNECTION_N:
        over = [name for newtons, name in reactions(loads, hangers) if newtons > CONNECTION_N]
        most, least = _weight_said(result.reaction, room), _weight_said(CONNECTION_N, room)
        text = said(
            "{names} bear up to {most}; a connection must hold {least}.", names=names_said(over), most=most, least=least
        )
        at = next((hanger.at for hanger in hangers if hanger.id == result.heaviest), None)
        source = "building department handouts (Daly City CA, Everett WA): 100 lb at least"
        remedy = said("Set hangers closer (hanger_spacing:), or use anchors whose maker states more.")
        yield Finding("warn", "load on a hanger", source, text, at, remedy)


def _closer_needed(system: System, loads: Sequence[Burden]) -> bool:
    spacing = system.hanging.spacing
    return carried(loads, spacing) > capacity(system.hanging.duty, spacing, imperial=system.imperial) * (1 + 1e-9)


def _load_said(newtons_per_metre: float, room: Room) -> str:
    return f"{newtons_per_metre / N_PER_M_OF_LB_FT:.1f} lb/ft" if room.imperial else f"{newtons_per_metre:.0f} N/m"


def _weight_said(newtons: float, room: Room) -> str:
    return f"{newtons / N_OF_LB:.0f} lb" if room.imperial else f"{newtons:.0f} N"
