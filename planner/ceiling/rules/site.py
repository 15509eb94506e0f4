"""Cautions that the building gives reason for: its age, a fire rating, wiring, joists that nobody has found yet.

In: a `Built`. Out: findings. Deliberately reminders: local codes and licensed people decide.
"""

from collections.abc import Iterator

from planner.ceiling.rules.built import PRACTICE, Built
from planner.findings import Finding
from planner.room.service_kinds import KINDS
from planner.sayings import said

#: 29 CFR 1926.1101 (read in summaries): insulation and sprayed surfacing up to this year are presumed to hold asbestos.
ASBESTOS_UNTIL = 1980
LEAD_BEFORE = 1978  #: 40 CFR 745 (second hand): paint in housing

#: A supplier's glossary: lighter panels need hold-down clips in rated designs. 1.0 psf.
HELD_DOWN_UNDER_KG_M2 = 4.8824


def fire_rated(built: Built) -> Iterator[Finding]:
    """A fire-rated ceiling is built from the parts of one listed design only; scope of ASTM C636, NEC 300.11."""
    if not built.room.site.fire_rated:
        return
    text = said(
        "Fire-rated: every tee, clip, panel and light is of the listed design; expansion notches stay as they are."
    )
    weight = built.wish.panel_kg_m2
    if weight is not None and weight < HELD_DOWN_UNDER_KG_M2 - 1e-9:
        text += said(" Panels under 1.0 psf (4.9 kg/m2) need hold-down clips.")
    remedy = said("Get the listing and keep to it; this plan knows nothing of it.")
    yield Finding("warn", "fire-rated ceiling", "scope of ASTM C636; NEC 300.11, second hand", text, None, remedy)


def asbestos_age(built: Built) -> Iterator[Finding]:
    """Buildings up to 1980 may hold asbestos, housing before 1978 lead paint; 29 CFR 1926.1101, 40 CFR 745 (Code of
    Federal Regulations, second hand).
    """
    year = built.room.site.built
    if year is None or year > ASBESTOS_UNTIL:
        return
    lead = said(" Paint in housing of that age may hold lead.") if year < LEAD_BEFORE else ""
    text = said(
        "Built {year}: insulation and sprayed ceilings are presumed to hold asbestos, old tiles may.{lead}",
        year=year,
        lead=lead,
    )
    remedy = said("Have it tested before anything overhead is disturbed.")
    yield Finding("warn", "asbestos", "29 CFR 1926.1101, second hand", text, None, remedy)


def first_joist(built: Built) -> Iterator[Finding]:
    """Wires and screws are put on joists, so one has to be found and measured; common practice, no source."""
    joists = built.room.joists
    if joists is None or joists.found:
        return
    text = said(
        "Where the first joist lies is not given: one is taken to lie at corner {corner}, and no wire or screw can be "
        "trusted to meet a joist.",
        corner=built.room.corner_names[0],
    )
    remedy = said(
        "Find one joist, measure from corner {corner} square to the joists, and add  first: ...  to joists.",
        corner=built.room.corner_names[0],
    )
    yield Finding("warn", "first joist not given", PRACTICE, text, None, remedy)


def wiring(built: Built) -> Iterator[Finding]:
    """Lights are fastened to the grid and cables keep off it; NEC 410.36(B) and 300.11 (the electrical Code, quoted).

    Said in the cautions of every sheet; a finding only in a fire-rated ceiling, where it is part of the rating.
    """
    powered = [service for service in built.services if KINDS[service.kind].electric]
    if powered and built.room.site.fire_rated:
        text = said(
            "{count} electric services: their cables hang from wires of their own, marked, never from the grid.",
            count=len(powered),
        )
        remedy = said("A licensed person wires them; lights are clipped to the tees as their listing says.")
        yield Finding("note", "wiring above the ceiling", "NEC 300.11 and 410.36(B), second hand", text, None, remedy)
