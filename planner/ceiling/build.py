"""The ceiling wing, front to back: a brief goes in, a `Ceiling` comes out.

System, layout, main tees, services, frame, hangers, checks, set-out: each takes what those before it made. The findings
are sorted, the gravest first.
"""

import math
from dataclasses import replace

from planner.ceiling.checks import Built, check
from planner.ceiling.direct import fix_directly
from planner.ceiling.framing import framed, trimmed
from planner.ceiling.grid.asked import module_asked
from planner.ceiling.holding.bracing import brace_of
from planner.ceiling.holding.held import hold_up
from planner.ceiling.layout import lay_out
from planner.ceiling.ledge import on_ledge, reach_of, told
from planner.ceiling.mains import choose_mains
from planner.ceiling.members.border_tees import from_longer
from planner.ceiling.members.free_ends import FreeEnds
from planner.ceiling.members.trim import spliced_trim
from planner.ceiling.model import Agreed, Ceiling
from planner.ceiling.services import centred_points, place_services
from planner.ceiling.setout import set_out
from planner.ceiling.steps.beside import asked_for_beside
from planner.ceiling.system import System, load_system
from planner.errors import PlannerError
from planner.findings import gravest_first
from planner.geometry import signed_area
from planner.limits import too_many
from planner.room.brief import Brief


def build_ceiling(brief: Brief, agreed: Agreed | None = None) -> Ceiling:
    """Plan the ceiling of a room; PlannerError when its system cannot be read or cannot frame its module.

    `agreed` is what was chosen for this room and others together, once each was planned by itself.
    """
    agreed = agreed or Agreed()
    room, wish = brief.room, brief.grid
    system = load_system(wish.system)
    _refuse_endless(brief, system)
    reach = reach_of(room, wish, system)
    covered = reach.room
    layout = lay_out(covered, reach.wish or wish, system, centred_points(brief.services))
    mains = choose_mains(covered, layout, system, wish)
    placed = place_services(covered, layout, system, mains, brief.services)
    free = FreeEnds(room, system, max(reach.hidden))
    made = framed(covered, layout, system, mains, placed.replaced, brief.stock, agreed.first_cuts, free)
    framing = made.members if covered is room else trimmed(made.members, room, system)
    framing, border_tees = from_longer(framing, system, brief.stock, agreed.border_tees)
    framing = spliced_trim(framing, system.wall_angle, brief.stock)
    fixed = fix_directly(covered, layout, system, mains, framing)
    members = (*framing, *fixed.furring)
    held = hold_up(covered, wish, layout, system, mains, members, placed.services)
    hangers = (*fixed.screws, *held.hangers)
    seen = room if fixed.level is None else replace(room, ceiling_height=fixed.level)
    built = Built(seen, wish, system, layout, placed.services, members, hangers, held.braces, made.first_cuts)
    built = replace(built, staggered=brief.stock.staggered_splices, wished=brief.services)
    findings = (*placed.findings, *fixed.findings, *held.findings, *check(built), *on_ledge(reach, room, system))
    return Ceiling(
        system=system,
        layout=told(layout, reach, room),
        services=placed.services,
        panels=placed.panels,
        full_panels=placed.full_panels,
        members=members,
        mains=mains.direction,
        findings=gravest_first(findings),
        hangers=hangers,
        setout=set_out(seen, system, layout, mains, members, hangers, max(reach.hidden)),
        loads=held.loads,
        braces=held.braces,
        brace=brace_of(room) if held.braces else None,
        first_cuts=made.first_cuts,
        border_tees=border_tees,
        height=seen.ceiling_height,
        nails=fixed.nails,
        beside=asked_for_beside(room, system),
    )


def _refuse_endless(brief: Brief, system: System) -> None:
    """Refuse, before anything is laid out, a grid with more modules than anybody builds; PlannerError."""
    along, away = module_asked(brief.room, brief.grid, system)
    count = math.ceil(abs(signed_area(brief.room.outline)) / (along * away))
    if wrong := too_many(f"the room takes about {count:,} modules", count, "modules", brief.limits):
        raise PlannerError(wrong[0], where="room", mend=f"Check the units. {wrong[1]}")
