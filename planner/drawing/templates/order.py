"""What `planner template` prints: templates of panels, strips of borders, story poles, in the order asked.

In: a plan, a style, what is wished. Out: for each what it is for, how many pages it has, and its sheets; on demand the
sheets for a cutting machine. Where only walls are named, no templates of panels are made.
"""

from collections.abc import Iterator

from planner.drawing import words
from planner.drawing.shapes import Sheet
from planner.drawing.stylebook import Style
from planner.drawing.templates.border_strip import strip_of, strip_sheets, wall_named
from planner.drawing.templates.choice import Template, templates_of
from planner.drawing.templates.machine import machine_sheet
from planner.drawing.templates.sheets import TemplateWish, job_of, paper_of, template_sheets
from planner.drawing.templates.story_pole import pole_sheets
from planner.drawing.wish import SheetWish
from planner.errors import PlannerError
from planner.planning import Plan
from planner.records import dataclass


@dataclass(frozen=True, slots=True)
class Ordered:
    """One thing that is printed."""

    name: str  #: of a template's first panel, of a wall
    what: str  #: template, border or story pole
    panels: tuple[str, ...]  #: that a template serves
    pages: int  #: at full size, printed
    of: int  #: at full size, with those that are left out
    sheets: tuple[Sheet, ...]  #: the key too


@words.in_its_language
def ordered(plan: Plan, style: Style, wish: SheetWish, templates: TemplateWish) -> tuple[Ordered, ...]:
    """Everything that is asked for; PlannerError for what is not there, and when nothing needs a template."""
    found: list[Ordered] = []
    job = job_of(plan, style, templates, wish.most_pages)
    for each in (*_templates(plan, style, wish, templates), *_strips(plan, style, wish, templates)):
        found.append(each)
        job.refuse_more(sum(len(one.sheets) for one in found))
    if not found:
        raise PlannerError(
            f'no panel of "{plan.room.name}" needs a template: two numbers cut each, as the cutting sheet has them.',
            mend="Name panels or add --all to have them at full size none the less.",
        )
    return tuple(found)


@words.in_its_language
def for_machine(plan: Plan, style: Style, wish: SheetWish, templates: TemplateWish) -> dict[str, Sheet]:
    """A sheet for a cutting machine for each template that is asked for, by its name."""
    if not wants_panels(templates):
        return {}
    job = job_of(plan, style, templates, wish.most_pages)
    return {each.name: machine_sheet(each, job) for each in wanted(plan, templates)}


def wants_panels(templates: TemplateWish) -> bool:
    """Whether templates of panels are asked for, by name or because nothing else is."""
    return bool(templates.panels or templates.everything or not (templates.walls or templates.poles))


def wanted(plan: Plan, templates: TemplateWish) -> tuple[Template, ...]:
    """The templates that are asked for."""
    return templates_of(plan, templates.panels, everything=templates.everything, from_back=templates.from_back)


def _templates(plan: Plan, style: Style, wish: SheetWish, templates: TemplateWish) -> Iterator[Ordered]:
    if wants_panels(templates):
        for each in template_sheets(plan, style, wish, templates):
            counts = len(each.pages.printed), len(each.pages.tiling.tiles)
            yield Ordered(each.template.name, "template", each.template.panels, *counts, each.sheets)


def _strips(plan: Plan, style: Style, wish: SheetWish, templates: TemplateWish) -> Iterator[Ordered]:
    paper, job = paper_of(plan, wish), job_of(plan, style, templates, wish.most_pages)
    for name in templates.walls:
        wall = wall_named(plan, name, "--wall")
        strip = strip_of(plan, wall, from_back=templates.from_back)
        pages, sheets = strip_sheets(plan, strip, paper, job, from_back=templates.from_back)
        along = tuple(dict.fromkeys(each.piece.panel for each in strip.pieces))
        yield Ordered(wall.name, "border", along, len(pages.printed), len(pages.tiling.tiles), sheets)
    for name in templates.poles:
        wall = wall_named(plan, name, "--story-pole")
        sheets = pole_sheets(plan, wall, paper, job)
        yield Ordered(wall.name, "story pole", (), len(sheets), len(sheets), sheets)
