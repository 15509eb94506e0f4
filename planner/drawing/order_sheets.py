"""Order of work, findings and cautions in full: the sheet that is read before the first tool is lifted."""

from planner.ceiling.checks import cautions
from planner.ceiling.order import order_of_work
from planner.drawing import words
from planner.drawing.annotation import findings_in_order
from planner.drawing.labels import Heights
from planner.drawing.list_sheets import ListSubject, list_sheets
from planner.drawing.place import ALONE, Place
from planner.drawing.roles import Role
from planner.drawing.schedules import ORDER_OF_WORK
from planner.drawing.shapes import Sheet
from planner.drawing.stylebook import Style
from planner.drawing.tables import Stack, notes, signed_notes
from planner.drawing.wish import SheetWish
from planner.findings import Finding
from planner.plan import Plan

KEY = ORDER_OF_WORK


def order_sheets(plan: Plan, style: Style, wish: SheetWish, place: Place = ALONE) -> tuple[Sheet, ...]:
    """As many sheets as the words need; PlannerError when the paper is not known."""
    heights = Heights.of(style)
    subject = ListSubject(KEY, words.ORDER_SHEET, "", lambda width: _stacks(plan, width, heights))
    return list_sheets(plan, style, wish, place, subject)


def _stacks(plan: Plan, width: float, heights: Heights) -> tuple[Stack, ...]:
    steps = order_of_work(plan.room, plan.ceiling)
    work = signed_notes(words.ORDER_OF_WORK, ((f"{k}.", step) for k, step in enumerate(steps, 1)), width, heights)
    care = notes(words.CAUTIONS, cautions(plan.room, plan.ceiling.system), width, heights, Role.CAUTION, "!")
    found = findings_in_order(plan.findings)
    rows = [(str(number), _in_full(finding)) for number, finding in enumerate(found, 1)]
    told = (signed_notes(words.FINDINGS_IN_FULL, rows, width, heights),) if rows else ()
    return (work, care, *told) if steps else (care, *told)


def _in_full(finding: Finding) -> str:
    """A finding with its remedy, its rule and where that comes from."""
    parts = (
        f"{words.SEVERITY[finding.severity]}: {finding.message}",
        finding.remedy,
        words.RULE.format(rule=finding.rule, source=finding.source),
    )
    return " ".join(part.strip() for part in parts if part)
