"""Services that sit in panels, in the order of work: which panels are drilled for them, and what holds them.

In: a `Work`. Out: a text; empty where nothing is fixed in or below a panel. Common practice, no source: overhead, with
a panel that lies loose in its tees, no round hole comes out.
"""

from collections.abc import Sequence

from planner.ceiling.model import CutOut, Service
from planner.ceiling.rules.seismic import WIDER_MM, ringed
from planner.ceiling.steps.work import Work, names_said
from planner.lengths import spoken_cut
from planner.naming import follows
from planner.room.service_kinds import KINDS
from planner.sayings import joined, linked, said


def drilled_panels(work: Work) -> str:
    """Which panel gets whose hole: all of them, those in a row together."""
    seated = [service for service in work.ceiling.services if service.panels]
    surface = [service for service in work.ceiling.services if KINDS[service.kind].form == "surface"]
    parts = [*_holes(work, seated), *_fitted(work, [*seated, *surface])]
    if surface:
        names = names_said([service.name for service in surface])
        below = said("Below the panels, with only a cable through them: {names}.", names=names)
        parts.insert(1 if seated else 0, below)
    return joined(parts)


def _holes(work: Work, seated: Sequence[Service]) -> list[str]:
    if not seated:
        return []
    holes = {hole.service: hole for panel in work.ceiling.panels for hole in panel.cutouts}
    places = joined((_place(work, row, holes) for row in _in_rows(seated, holes)), ", ")
    heads = any(KINDS[service.kind].fed_by == "pipes" for service in seated)
    text = said(
        "Cut the holes into these panels on the bench, face up, before they go in; what is fitted has the last word on "
        "its hole: {places}.",
        places=places,
    )
    return (
        [text, said("Ask whoever fits the sprinklers where their pipes come down before you cut.")] if heads else [text]
    )


def _in_rows(seated: Sequence[Service], holes: dict[str, CutOut]) -> list[list[Service]]:
    """Services with holes of one size together where their names and those of their panels both count on by one.

    Of two each is told by itself: that reads as quickly.
    """
    rows: list[list[Service]] = []
    for service in seated:
        if rows and _goes_on(rows[-1][-1], service, holes):
            rows[-1].append(service)
        else:
            rows.append([service])
    return [part for row in rows for part in ([row] if len(row) > 2 else [[service] for service in row])]


def _goes_on(one: Service, other: Service, holes: dict[str, CutOut]) -> bool:
    if not len(one.panels) == len(other.panels) == 1 or _cut(one, holes) != _cut(other, holes):
        return False
    return follows(one.name, other.name) and follows(one.panels[0], other.panels[0])


def _cut(service: Service, holes: dict[str, CutOut]) -> tuple[str, tuple[float, float]] | None:
    hole = holes.get(service.name)
    return None if hole is None else (hole.shape, hole.size)


def _place(work: Work, row: Sequence[Service], holes: dict[str, CutOut]) -> str:
    hole, services = holes.get(row[0].name), names_said([service.name for service in row])
    panels = linked(row[0].panels) if len(row) == 1 else names_said([service.panels[0] for service in row])
    if hole is None:
        return said("{service} in {panels}", service=services, panels=panels)
    return said("{service} in {panels} ({size})", service=services, panels=panels, size=_size(work, row[0], hole))


def _size(work: Work, service: Service, hole: CutOut) -> str:
    """How large a hole is; that of a pipe which an earthquake shakes is told by the pipe, as no size of it is known."""
    if ringed(work.room, work.ceiling.system, [service]):
        return said("pipe + {wider}", wider=work.said(WIDER_MM))
    return work.said(hole.size[0]) if hole.shape == "round" else spoken_cut(hole.size, work.room.units)


def _fitted(work: Work, fitted: Sequence[Service]) -> list[str]:
    """When they go in, and on what."""
    if not fitted:
        return []
    held = {hanger.member for hanger in work.ceiling.hangers if hanger.kind == "service wire"}
    electric = any(KINDS[service.kind].electric for service in fitted)
    wiring = said("; a licensed person does the wiring") if electric else ""
    names = [service.name for service in fitted if service.name in held]
    text = said("Each is fitted once its panel lies{wiring}.", wiring=wiring)
    return [text, said("Tie {names} to separate wires.", names=names_said(names))] if names else [text]
