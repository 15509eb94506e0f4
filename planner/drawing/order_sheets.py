"""Order of work, findings and cautions in full: the sheet that is read before the first tool is lifted."""

import re
from dataclasses import replace

from planner.ceiling.checks import cautions
from planner.ceiling.order import order_of_work
from planner.drawing import words
from planner.drawing.annotation import finding_said
from planner.drawing.labels import Heights
from planner.drawing.list_sheets import ListSubject, list_sheets
from planner.drawing.on_site import remedy_on_site, source_on_site, without_provenance
from planner.drawing.place import ALONE, Place
from planner.drawing.roles import Role
from planner.drawing.schedules import ORDER_OF_WORK
from planner.drawing.shapes import Sheet
from planner.drawing.stylebook import Style
from planner.drawing.tables import Stack, notes, signed_notes
from planner.drawing.wish import SheetWish
from planner.gathering import Gathered, gathered
from planner.planning import Plan

KEY = ORDER_OF_WORK
_TIMES = re.compile(r"(?<=[0-9\"]) x (?=[0-9])")
#: Below each step, so that whoever comes back to the sheet finds his place; in heights of capitals.
_AIR = 0.7


@words.in_its_language
def order_sheets(plan: Plan, style: Style, wish: SheetWish, place: Place = ALONE) -> tuple[Sheet, ...]:
    """As many sheets as the words need; PlannerError when the paper is not known."""
    heights = Heights.of(style)
    subject = ListSubject(KEY, words.say("sheets.order of work"), "", lambda width: _stacks(plan, width, heights))
    return list_sheets(plan, style, wish, place, subject)


def _stacks(plan: Plan, width: float, heights: Heights) -> tuple[Stack, ...]:
    on_site = [replace(finding, remedy=remedy_on_site(finding.remedy)) for finding in plan.findings]
    steps = order_of_work(plan.room, plan.ceiling, on_site)
    numbered = ((f"{k}.", _signed(step)) for k, step in enumerate(steps, 1))
    work = signed_notes(words.say("order of work.heading"), numbered, width, heights, air=_AIR)
    warned = cautions(plan.room, plan.ceiling.system, plan.ceiling.height)
    care = notes(words.say("cautions.heading"), warned, width, heights, Role.CAUTION, "!", _AIR)
    found = gathered(plan.findings)
    rows = [(str(number), _in_full(finding)) for number, finding in enumerate(found, 1)]
    told = (signed_notes(words.say("findings.heading in full"), rows, width, heights, air=_AIR),) if rows else ()
    return (work, care, *told) if steps else (care, *told)


def _in_full(finding: Gathered) -> str:
    """A finding with what to do on site, its rule and where that comes from."""
    source = source_on_site(finding.source)
    rule = {"rule": words.named(finding.rule), "source": source}
    parts = (
        without_provenance(finding_said(finding)),
        *dict.fromkeys(map(remedy_on_site, finding.remedies)),
        words.say("findings.rule", **rule) if source else words.say("findings.rule alone", **rule),
    )
    return " ".join(_sentence(part.strip()) for part in parts if part.strip())


def _signed(text: str) -> str:
    """A text in the sheet's language, its sizes with the sign that all other lists have: 600 × 600, not 600 x 600."""
    return _TIMES.sub(" × ", words.translated(text))


def _sentence(text: str) -> str:
    """A text that ends as a sentence does, so that the next one does not run on from it."""
    return text if text[-1] in ".!?…" else f"{text}."
