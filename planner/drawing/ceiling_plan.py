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
from planner.drawing.legend import assumed_size, service_size, signs
from planner.drawing.lettering import clean
from planner.drawing.match_lines import Seams
from planner.drawing.place import ALONE, Place
from planner.drawing.plan_lines import plan_lines
from planner.drawing.plan_sheet import Drawn, Subject
from planner.drawing.plan_sheets import plan_sheets
from planner.drawing.roles import Role
from planner.drawing.schedules import (
    Limits,
    caution_notes,
    finding_notes,
    layout_notes,
    panel_schedule,
    project_notes,
    quantities,
    written_weight,
)
from planner.drawing.shapes import Sheet, Symbol
from planner.drawing.strings import Surround, surround
from planner.drawing.stylebook import Style
from planner.drawing.symbols import Look, look_of
from planner.drawing.tables import Stack
from planner.drawing.wish import SheetWish
from planner.planning import Plan

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


@words.in_its_language
def ceiling_sheets(plan: Plan, style: Style, wish: SheetWish, place: Place = ALONE) -> tuple[Sheet, ...]:
    """One sheet, or an overview and parts; PlannerError when the plan does not fit paper and scale."""
    return plan_sheets(plan, style, wish, place, subject_of(plan, Heights.of(style), place))


def subject_of(plan: Plan, heights: Heights, place: Place) -> Subject:
    """What the sheets show."""
    return Subject(
        key=KEY,
        title=words.say("sheets.ceiling plan"),
        note=words.say("sheets.reflected"),
        limits=LIMITS,
        around=lambda scale, seams: surround(plan.room, plan.ceiling.layout, heights, scale, seams),
        draw=partial(_draw, plan, heights),
        signs=lambda scale: signs(plan, scale, heights),
        say=partial(_say, plan, heights, place),
    )


def _say(
    plan: Plan, heights: Heights, place: Place, limits: Limits, width: float, remarks: Sequence[str]
) -> list[Stack]:
    """All that is said beside the plan and its legend, in order of use on site."""
    stacks = (
        quantities(plan, width, heights, place) if limits.note_lines else None,
        panel_schedule(plan, width, limits.classes, heights),
        layout_notes(plan, remarks, width, heights),
        finding_notes(plan, width, limits.findings, heights, place),
        caution_notes(plan, width, limits.cautions, heights, place),
        project_notes(plan, width, limits.note_lines, heights) if limits.note_lines else None,
    )
    return [stack for stack in stacks if stack is not None]


def _draw(plan: Plan, heights: Heights, scale: float, around: Surround, seams: Seams) -> Drawn:
    """The plan itself, lettered for a scale."""
    looks = [look_of(service, scale) for service in plan.ceiling.services]
    lettered = annotate(plan, looks, around, scale, heights, seams)
    lines = (shape for shape in plan_lines(plan.room, plan.ceiling) if shape.role != Role.FURRING)  # that is not seen
    shapes = (*lines, *service_symbols(plan, looks), *around.shapes, *lettered.shapes)
    blocks = tuple({look.block.name: look.block for look in looks}.values())
    return Drawn(shapes, blocks, lettered.remarks)


def service_symbols(plan: Plan, looks: Sequence[Look]) -> tuple[Symbol, ...]:
    """The services in their places, with their data; `looks` in the order of the services."""
    turn = turn_of(plan)
    found = []
    for service, look in zip(plan.ceiling.services, looks, strict=True):
        label = words.say(f"service kinds.{service.kind}")
        size = service_size(service, plan.room.units)
        attributes = {
            "MARK": service.name,
            "KIND": label,
            "SIZE": size,
            "PANEL": " ".join(service.panels),
            "WEIGHT": "" if service.weight_kg is None else written_weight(service.weight_kg, plan.room.imperial),
        }
        clean_ones = tuple((key, clean(value)) for key, value in attributes.items())
        title = f"{label} {clean(service.name)}" + ("" if assumed_size(service, plan.room.imperial) else f", {size}")
        found.append(Symbol(look.role, look.block.name, service.at, turn, clean_ones, title))
    return tuple(found)
