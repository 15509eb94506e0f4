"""Services in their places: which modules they fill, which panels are drilled for them, and what is in the way.

In: a room, where its grid and its main tees lie, and the services wished for. Out: `Placed`.

Fixed services (`at`) are set first, then the others (`near`) in the order of the room file, each in the nearest place
that is free and sound. A size that fills whole modules replaces their panels; any other is a hole in a panel. Sizes
and holes lie along the grid, so they turn with it. Rules: `seats` and `holes` in
`planner.ceiling.seating`.
"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import replace

from planner.ceiling.mains import MainLines
from planner.ceiling.model import Cell, CutOut, Layout, Panel, Service
from planner.ceiling.seating.drilled import drilled_panels
from planner.ceiling.seating.ground import Ground, Span, cells_of
from planner.ceiling.seating.holes import Fault, Hole, Ledger, faults, fits_a_whole_panel
from planner.ceiling.seating.objections import Stand, objections
from planner.ceiling.seating.places import nearest_place, place_in_cell
from planner.ceiling.seating.seats import nearest_seat, seat_at, seat_round, whole_modules
from planner.ceiling.system import System
from planner.findings import Finding
from planner.geometry import Point, distance
from planner.records import dataclass
from planner.room.brief import ServiceWish
from planner.room.outline import Room
from planner.room.service_kinds import KINDS


@dataclass(frozen=True, slots=True)
class Placed:
    """Every service that has a place, and what that does to the panels."""

    services: tuple[Service, ...]  #: in the order of the room file; those without any place are left out
    panels: tuple[Panel, ...]  #: every cut panel, and the whole ones that are drilled
    replaced: tuple[tuple[Cell, ...], ...]  #: for each lay-in service the modules it fills
    full_panels: int  #: whole panels that stay whole
    findings: tuple[Finding, ...]


def place_services(
    room: Room, layout: Layout, system: System, mains: MainLines, wishes: tuple[ServiceWish, ...]
) -> Placed:
    """Set every service in its place; what cannot stand where it is fixed has a finding of severity "stop".

    A service that is fixed where it cannot be built is still given there, without modules or holes of its own.
    """
    ground, ledger = Ground(room, layout, system, mains), Ledger()
    stands = _deal_all(ground, ledger, wishes)
    cutouts = _cutouts(ground, stands)
    panels, marks = drilled_panels(ground, cutouts)
    drilled = sum(not isinstance(place, Panel) for place in cutouts)
    replaced = tuple(
        s.service.cells for s in stands if s.service is not None and s.seat is not None and s.service.cells
    )
    return Placed(
        services=tuple(_marked(s.service, marks) for s in stands if s.service is not None),
        panels=panels,
        replaced=replaced,
        full_panels=layout.full_panels - sum(map(len, replaced)) - drilled,
        findings=tuple(objections(ground, ledger, stands)),
    )


def centred_points(wishes: Iterable[ServiceWish]) -> tuple[Point, ...]:
    """Room-frame points that would best be panel centres: the fixed services that a hole is cut for."""
    return tuple(wish.at for wish in wishes if wish.at is not None and KINDS[wish.kind].form == "cut-out")


def _deal_all(ground: Ground, ledger: Ledger, wishes: tuple[ServiceWish, ...]) -> list[Stand]:
    """A stand for each wish, in the order of the wishes; the fixed ones choose first."""
    order = sorted(range(len(wishes)), key=lambda k: (wishes[k].at is None, k))
    stands = {k: _deal(ground, ledger, wishes[k]) for k in order}
    return [stands[k] for k in range(len(wishes))]


def _deal(ground: Ground, ledger: Ledger, wish: ServiceWish) -> Stand:
    place = ground.layout.frame.inward(_wished(wish))
    span = _span(ground, wish)
    if span is not None:
        return _seated(ground, ledger, wish, span, place)
    hole = _hole(ground, wish, place)
    if hole is None:
        return Stand(wish)
    return _fixed_hole(ground, ledger, wish, hole) if wish.at else _free_hole(ground, ledger, wish, hole)


def _wished(wish: ServiceWish) -> Point:
    """Where a service is wished; ValueError when neither `at` nor `near` is set, which no room file can bring about."""
    place = wish.at or wish.near
    if place is None:
        raise ValueError(f"service {wish.name} has no place")
    return place


def _span(ground: Ground, wish: ServiceWish) -> Span | None:
    """The whole modules that a service fills; None when it fills none."""
    form = KINDS[wish.kind].form
    if form == "surface" or wish.diameter is not None:
        return None
    if wish.size is None:
        return (1, 1) if form == "lay-in" else None
    return whole_modules(wish.size, ground.layout.module, ground.system)


def _hole(ground: Ground, wish: ServiceWish, place: Point) -> Hole | None:
    """The hole, or the body below the panel; None when a lay-in service neither fills modules nor fits in one panel."""
    kind = KINDS[wish.kind]
    bare = kind.own_size(imperial=ground.room.imperial) or (0.0, 0.0)
    size = (wish.diameter, wish.diameter) if wish.diameter else wish.size or bare
    is_round = wish.diameter is not None or (wish.size is None and size[0] == size[1])
    hole = Hole(wish.name, place, size, is_round, kind.rim_mm, cut=kind.form != "surface")
    sized_in_modules = kind.form == "lay-in" and wish.diameter is None
    return None if sized_in_modules and not fits_a_whole_panel(ground, hole) else hole


def _seated(ground: Ground, ledger: Ledger, wish: ServiceWish, span: Span, place: Point) -> Stand:
    seat = seat_at(ground, ledger, span, place) if wish.at else nearest_seat(ground, ledger, span, place)
    if seat is None:
        return Stand(wish, span=span)
    size = wish.size or (span[0] * ground.layout.module[0], span[1] * ground.layout.module[1])
    if seat.obstacle:
        return Stand(wish, _service(ground, wish, place, size, ()), span=span, seat=seat)
    first = seat_round(ground, ledger, span, place)
    ledger.take(ground, seat.cell, span, wish.name)
    cells = cells_of(seat.cell, span)
    service = replace(_service(ground, wish, seat.centre, size, cells), fills=True)
    service = replace(service, obstacle=first.obstacle or "", obstacle_of=first.other)
    return Stand(wish, service, span=span, seat=seat)


def _fixed_hole(ground: Ground, ledger: Ledger, wish: ServiceWish, hole: Hole) -> Stand:
    found = faults(ground, ledger, hole)
    ledger.stand(ground, hole)
    cell = ground.cell_at(hole.centre)
    cells = () if any(fault.trouble in ("outside", "panel taken") for fault in found) else (cell,)
    return Stand(wish, _service(ground, wish, hole.centre, hole.size, cells, hole.round), hole, found)


def _free_hole(ground: Ground, ledger: Ledger, wish: ServiceWish, hole: Hole) -> Stand:
    in_cell = place_in_cell(ground, ledger, hole)
    place = in_cell or nearest_place(ground, ledger, hole)
    if place is None:
        return Stand(wish, hole=hole)
    obstacle, other = ("", "") if in_cell else _in_the_way(ground, ledger, hole)
    ledger.stand(ground, hole.at(place))
    service = _service(ground, wish, place, hole.size, (ground.cell_at(place),), hole.round)
    service = replace(service, obstacle=obstacle, obstacle_of=other)
    return Stand(wish, service, hole.at(place))


def _in_the_way(ground: Ground, ledger: Ledger, hole: Hole) -> tuple[str, str]:
    """What keeps a hole from the middle of the module that it was wished in, and the service that is there."""
    found = faults(ground, ledger, hole.at(ground.box(ground.cell_at(hole.centre)).centre))
    worst = next((fault for fault in found if fault.severity != "note"), None)
    return ("cut panel", "") if worst is None else (worst.trouble, worst.other if worst.trouble != "sliver" else "")


def _service(
    ground: Ground,
    wish: ServiceWish,
    centre: Point,
    size: tuple[float, float],
    cells: tuple[Cell, ...],
    is_round: bool = False,
) -> Service:
    at = ground.layout.frame.outward(centre)
    moved = distance(at, _wished(wish))
    return Service(wish.name, wish.kind, at, size, is_round, cells, (), moved, wish.weight_kg)


def _cutouts(ground: Ground, stands: list[Stand]) -> dict[Panel | Cell, tuple[CutOut, ...]]:
    """The holes to be cut, by cut panel or by cell of a whole one; none where a hole has a fault that stops it."""
    found: dict[Panel | Cell, list[CutOut]] = defaultdict(list)
    for stand in stands:
        hole, service = stand.hole, stand.service
        if hole is None or service is None or not hole.cut or not any(hole.size) or _stopped(stand.faults):
            continue
        cell = ground.cell_at(hole.centre)
        place = cell if ground.is_full(cell) else ground.piece_at(hole.centre)
        if place is not None:
            found[place].append(CutOut(service.name, "round" if hole.round else "rectangle", service.at, hole.size))
    return {place: tuple(holes) for place, holes in found.items()}


def _stopped(found: tuple[Fault, ...]) -> bool:
    return any(fault.severity == "stop" for fault in found)


def _marked(service: Service, marks: dict[str, str]) -> Service:
    return replace(service, panels=(marks[service.name],)) if service.name in marks else service
