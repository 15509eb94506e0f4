"""The rules that speak about a finished ceiling, gathered, and the standing cautions for its sheets.

In: a room and what was planned in it. Out: findings, and sentences. Each rule is one small function with its source, in
a module of its kind: `rules_borders`, `rules_heights`, `rules_services`, `rules_seismic`, `rules_site`. Where services
stand is checked in `planner.ceiling.services`, hangers and loads where they are chosen. The rules remind; local codes
and licensed people decide.
"""

import re
from collections.abc import Callable, Iterator
from dataclasses import replace

from planner.ceiling.rules.borders import (
    border_under_half,
    closed_by_ledge,
    narrower_than_a_module,
    panel_bearing,
    sliver_at_wall,
    small_panels,
)
from planner.ceiling.rules.built import Built
from planner.ceiling.rules.heights import clearance_above, finished_height, high_work
from planner.ceiling.rules.held_ends import fixed_walls_for_nothing, held_at_neither_end
from planner.ceiling.rules.rows import row_off_its_line
from planner.ceiling.rules.seismic import (
    lateral_bracing,
    seismic_duty,
    seismic_ledge,
    seismic_perimeter,
    seismic_rings,
    separation_joint,
)
from planner.ceiling.rules.services import detector_near_air, sprinkler_distances
from planner.ceiling.rules.site import ASBESTOS_UNTIL, asbestos_age, fire_rated, first_joist, wiring
from planner.ceiling.rules.splices import staggered_joints
from planner.ceiling.rules.tees_beside import on_ledges, tee_meets_pipe, tee_on_face, tee_on_ledge
from planner.ceiling.system import System
from planner.findings import Finding
from planner.lengths import spoken_length
from planner.naming import names_told
from planner.room.outline import Room
from planner.sayings import said

__all__ = ["RULES", "Built", "cautions", "check"]

#: Names of what may get hot where it goes through a ceiling.
FLUE = re.compile(r"(?<![a-z])(flue|chimney|stove|chimenea|estufa)", re.IGNORECASE)

#: Every rule, in the order in which they speak; a new rule is one more function here.
RULES: tuple[Callable[[Built], Iterator[Finding]], ...] = (
    border_under_half,
    sliver_at_wall,
    narrower_than_a_module,
    panel_bearing,
    closed_by_ledge,
    small_panels,
    tee_meets_pipe,
    tee_on_ledge,
    tee_on_face,
    staggered_joints,
    clearance_above,
    finished_height,
    high_work,
    first_joist,
    detector_near_air,
    sprinkler_distances,
    row_off_its_line,
    seismic_perimeter,
    held_at_neither_end,
    fixed_walls_for_nothing,
    seismic_ledge,
    seismic_duty,
    seismic_rings,
    lateral_bracing,
    separation_joint,
    fire_rated,
    asbestos_age,
    wiring,
)


def check(built: Built) -> tuple[Finding, ...]:
    """Ask every rule in `RULES`."""
    built = replace(built, on_ledges=on_ledges(built))
    return tuple(finding for rule in RULES for finding in rule(built))


def cautions(room: Room, system: System, height: float | None) -> tuple[str, ...]:
    """The care sentences for a sheet, each at most 110 characters; `height` of the ceiling above the floor.

    Sources, in order: 29 CFR 1926.1053 and 1926.451 (ladders and scaffolds, from memory); 29 CFR 1926.102 (eyes, from
    memory) and trade articles (dust); 29 CFR 1926.417 (from memory) and NEC 300.11 and 410.36(B) as quoted in trade
    articles; codes and makers ask for a clearance from a hot flue (from memory); a trade body's survey of ceiling
    collapses, 2010; 29 CFR 1926.1101 (buildings up to 1980); the scope of
    ASTM C636 (fire-rated) and of ASTM E580 (seismic); 29 CFR 1926.1153 and common practice for fixings overhead.
    """
    overhead = (
        said("Set every hanger in sound structure; a wire or anchor that is not sure holds nothing.")
        if system.fixing == "hung"
        else said("Fix every part into sound structure; a screw that misses the joist holds nothing.")
    )
    return (
        said(
            "{height}Work from a steady platform or ladder on firm ground; never overreach.",
            height=_height_said(room, height),
        ),
        said("Wear eye protection and a dust mask when cutting, drilling and working overhead."),
        said(
            "Power off and proved dead before any wiring; wiring is for a licensed person. No cable lies on the grid."
        ),
        overhead,
        _load_said(system),
        *_flues_said(room),
        _asbestos_said(room),
        _listed_said(room),
        said("This plan is a reminder of good practice. Local code and licensed people decide."),
    )


def _load_said(system: System) -> str:
    if system.fixing == "hung":
        return said("Never load, hang from, lean on or walk on the grid. Lights and vents need wires of their own.")
    return said("Never load, hang from, lean on or walk on the grid. Fix lights and vents to the joists, not to it.")


def _flues_said(room: Room) -> Iterator[str]:
    """What goes through the ceiling and by its name may get hot; codes ask for a clearance (from memory)."""
    flues = [column.name for column in room.columns if FLUE.search(column.name)]
    if flues:
        yield said(
            "{flues}: ask whether it gets hot. Clearance to the ceiling is by its maker and the code.",
            flues=names_told(flues),
        )


def _height_said(room: Room, height: float | None) -> str:
    return (
        ""
        if height is None
        else said("Ceiling at {ceiling_height}. ", ceiling_height=spoken_length(height, room.units))
    )


def _asbestos_said(room: Room) -> str:
    year = room.site.built
    if year is not None and year <= ASBESTOS_UNTIL:
        return said(
            "Built {year}: lagging and sprayed ceilings are presumed to hold asbestos, old tiles may. Test first.",
            year=year,
        )
    return said("Old tiles, sprayed ceilings and pipe lagging may hold asbestos: do not disturb them. Stop and test.")


def _listed_said(room: Room) -> str:
    parts = said("only the parts of the listed design, put together as listed.")
    if room.site.fire_rated:
        return said("This ceiling is fire-rated: {parts}", parts=parts)
    if room.site.seismic in ("C", "D", "E", "F"):
        return said("Seismic design category {seismic}: {parts}", seismic=room.site.seismic, parts=parts)
    return said("Fire-rated or seismic ceilings: {parts}", parts=parts)
