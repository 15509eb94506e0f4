"""The reflected ceiling plan: the sheet from which a ceiling is built.

In: a `Plan`, a style, what somebody wishes of the sheet. Out: one `Sheet` with what the trade expects beside the plan:
legend, main quantities, layout, findings, the shortest cautions, scale bar. Long lists stand on sheets of their own, so
that the plan is as large as it can be.

Plan coordinates are never mirrored: a reflected plan has the orientation of the floor plan (agreed public practice).
"""

from collections.abc import Sequence
from functools import partial

from planner.drawing import words
from planner.drawing.annotation import annotate
from planner.drawing.board import turn_of
from planner.drawing.labels import Heights
from planner.drawing.legend import assumed_size, legend, service_size
from planner.drawing.lettering import clean
from planner.drawing.place import ALONE, Place
from planner.drawing.plan_lines import plan_lines
from planner.drawing.plan_sheet import Drawn, Subject, plan_sheet
from planner.drawing.roles import Role
from planner.drawing.scale_bar import scale_bar
from planner.drawing.schedules import (
    Limits,
    caution_notes,
    finding_notes,
    layout_notes,
    panel_schedule,
    project_notes,
    quantities,
)
from planner.drawing.shapes import Sheet, Symbol
from planner.drawing.strings import Surround, surround
from planner.drawing.stylebook import Style
from planner.drawing.symbols import Look, look_of
from planner.drawing.tables import Stack
from planner.drawing.wish import SheetWish
from planner.plan import Plan
from planner.room.service_kinds import KINDS

KEY = "ceiling-plan"

#: From generous to scarce; what a small paper forces out is said on the sheet. Beside each, how much larger the plan
#: must become for it.
LIMITS = (
    (Limits(8, 10, 4, 8), 1.0),
    (Limits(0, 8, 4, 6), 1.05),
    (Limits(0, 6, 3, 4), 1.2),
    (Limits(0, 4, 2, 2), 1.4),
    (Limits(0, 2, 2, 2), 1.7),
    (Limits(0, 1, 0, 1), 2.5),
    (Limits(0, 1, 0, 0), 3.5),  # without the main quantities, which the schedules have too
)


def ceiling_plan(plan: Plan, style: Style, wish: SheetWish, place: Place = ALONE) -> Sheet:
    """The sheet; PlannerError when paper or scale are not known or the plan does not fit them."""
    heights = Heights.of(style)
    subject = Subject(
        key=KEY,
        title=words.TITLE,
        note=words.TITLE_NOTE,
        limits=LIMITS,
        around=lambda scale: surround(plan.room, plan.ceiling.layout, heights, scale),
        draw=partial(_draw, plan, heights),
        say=partial(_say, plan, heights, place),
    )
    return plan_sheet(plan, style, wish, place, subject)


def _say(
    plan: Plan, heights: Heights, place: Place, limits: Limits, scale: float, width: float, remarks: Sequence[str]
) -> list[Stack]:
    """All that is said beside the plan, in order of use on site."""
    looks = [look_of(service, scale) for service in plan.ceiling.services]
    stacks = (
        legend(plan, looks, scale, width, heights),
        quantities(plan, width, heights, place) if limits.note_lines else None,
        panel_schedule(plan, width, limits.classes, heights),
        layout_notes(plan, remarks, width, heights),
        finding_notes(plan, width, limits.findings, heights, place),
        caution_notes(plan, width, limits.cautions, heights, place),
        project_notes(plan, width, limits.note_lines, heights) if limits.note_lines else None,
        scale_bar(scale, width, heights),
    )
    return [stack for stack in stacks if stack is not None]


def _draw(plan: Plan, heights: Heights, scale: float, around: Surround) -> Drawn:
    """The plan itself, lettered for a scale."""
    looks = [look_of(service, scale) for service in plan.ceiling.services]
    lettered = annotate(plan, looks, around, scale, heights)
    lines = (shape for shape in plan_lines(plan.room, plan.ceiling) if shape.role != Role.FURRING)  # that is not seen
    shapes = (*lines, *service_symbols(plan, looks), *around.shapes, *lettered.shapes)
    blocks = tuple({look.block.name: look.block for look in looks}.values())
    return Drawn(shapes, blocks, lettered.remarks)


def service_symbols(plan: Plan, looks: Sequence[Look]) -> tuple[Symbol, ...]:
    """The services in their places, with their data; `looks` in the order of the services."""
    turn = turn_of(plan)
    found = []
    for service, look in zip(plan.ceiling.services, looks, strict=True):
        label = KINDS[service.kind].label
        size = service_size(service, plan.room.units)
        attributes = {
            "MARK": service.name,
            "KIND": label,
            "SIZE": size,
            "PANEL": " ".join(service.panels),
            "WEIGHT": f"{service.weight_kg:g} kg" if service.weight_kg is not None else "",
        }
        clean_ones = tuple((key, clean(value)) for key, value in attributes.items())
        title = f"{label} {clean(service.name)}" + ("" if assumed_size(service) else f", {size}")
        found.append(Symbol(look.role, look.block.name, service.at, turn, clean_ones, title))
    return tuple(found)
