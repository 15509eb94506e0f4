"""The sheets of templates: for each a key page, then its pages at full size.

In: a plan, a style, what is wished. Out: sheets at scale 1, ready for any format.
"""

from planner.drawing import words
from planner.drawing.labels import Heights
from planner.drawing.lettering import clean
from planner.drawing.shapes import Paper, Sheet
from planner.drawing.stop_band import stops
from planner.drawing.stylebook import Style
from planner.drawing.templates.choice import Template, templates_of
from planner.drawing.templates.full_page import Page, page_sheet
from planner.drawing.templates.full_size import full_size
from planner.drawing.templates.index_page import index_pages
from planner.drawing.templates.key_page import Job, key_pages, panels_words, side_words
from planner.drawing.templates.numbers import station_for
from planner.drawing.templates.offsets import offsets_of
from planner.drawing.templates.paper import template_paper
from planner.drawing.templates.piece_lines import cut_geometry, edge_geometry
from planner.drawing.templates.stretch import TRUE, Factors, stretched
from planner.drawing.templates.tiles import Pages, pages_for
from planner.drawing.wish import SheetWish
from planner.limits import USUAL
from planner.planning import Plan
from planner.records import dataclass


@dataclass(frozen=True, slots=True)
class TemplateWish:
    """What a person may ask of templates."""

    panels: tuple[str, ...] = ()  #: ids or class letters; empty = all that need one
    everything: bool = False  #: plain rectangles too
    walls: tuple[str, ...] = ()  #: walls whose whole border is wanted as a strip
    poles: tuple[str, ...] = ()  #: walls whose set-out marks are wanted on a story pole
    from_back: bool = False  #: mirrored, to cut from the back of the panel
    strip: bool = False  #: only the pages along the cut
    stretch: Factors = TRUE  #: along the short and the long side of the paper, for a printer that does not print true
    printer: str = ""  #: its name


@dataclass(frozen=True, slots=True)
class TemplateSheets:
    """A template on paper."""

    template: Template
    pages: Pages
    sheets: tuple[Sheet, ...]  #: its key, then its pages


@words.in_its_language
def template_sheets(plan: Plan, style: Style, wish: SheetWish, templates: TemplateWish) -> tuple[TemplateSheets, ...]:
    """Every wished template on paper; PlannerError for panels or paper that there are not."""
    paper = paper_of(plan, wish)
    job = job_of(plan, style, templates, wish.most_pages)
    found: list[TemplateSheets] = []
    for template in _chosen(plan, templates):
        found.append(_on_paper(template, paper, job))
        job.refuse_more(sum(len(each.sheets) for each in found))
    return tuple(found)


@words.in_its_language
def template_set(plan: Plan, style: Style, wish: SheetWish, templates: TemplateWish, most: int) -> tuple[Sheet, ...]:
    """The sheets of one file of templates: an index, then `most` templates at most; none where none is needed.

    Fewer than `most` where they would take more pages than there may be.
    """
    found = _chosen(plan, templates)
    if not found:
        return ()
    job = job_of(plan, style, templates, wish.most_pages)
    shown: list[TemplateSheets] = []
    for template in found[:most]:
        each = _on_paper(template, paper_of(plan, wish), job)
        if sum(len(other.sheets) for other in (*shown, each)) > job.most_pages:
            break
        shown.append(each)
    counts = [(each.template, len(each.sheets)) for each in shown]
    index = index_pages(counts, len(found) - len(shown), paper_of(plan, wish), job)
    return (*(index if len(found) > 1 else ()), *(sheet for each in shown for sheet in each.sheets))


def _chosen(plan: Plan, wish: TemplateWish) -> tuple[Template, ...]:
    return templates_of(plan, wish.panels, everything=wish.everything, from_back=wish.from_back)


def paper_of(plan: Plan, wish: SheetWish) -> Paper:
    """The wished paper; else what lies in the printers of people who measure as this job does."""
    return template_paper(wish.paper or ("letter" if plan.room.imperial else "A4"))


def job_of(plan: Plan, style: Style, wish: TemplateWish, most_pages: int = USUAL.pages) -> Job:
    """What is the same for all templates of a print."""
    checks = [words.say("templates.check bars")]
    if wish.stretch != TRUE:
        percent = [f"{100 * factor:.2f}" for factor in wish.stretch]
        printer = wish.printer or words.say("templates.this printer")
        checks[0] += " " + words.say("templates.corrected", printer=printer, x=percent[0], y=percent[1])
    if stops(plan.findings):
        checks[0] = words.say("stop.template", check=checks[0])
    return Job(
        room=clean(plan.room.name),
        units=plan.room.units,
        corner=clean(plan.room.corner_names[0]),
        heights=Heights.of(style),
        language=words.language(),
        strip=wish.strip,
        by=wish.stretch,
        checks=tuple(checks),
        most_pages=most_pages,
    )


def _on_paper(template: Template, paper: Paper, job: Job) -> TemplateSheets:
    piece = template.piece
    offsets = offsets_of(piece, station_for(job.units))
    lines = cut_geometry(piece) if job.strip and piece_is_cut(template) else edge_geometry(piece)
    pages = pages_for(lines, paper, job.by, joined=not job.strip)
    job.refuse_more(len(pages.kept))
    shapes = stretched(full_size(piece, offsets, job.heights, job.units, job.corner), pages.by)
    title, told = words.say("templates.heading", name=template.name), f"{panels_words(template)} · {job.room}"
    page = Page(template.name, title, told, side_words(template))
    sheets = (
        *key_pages(template, offsets, pages, paper, job),
        *(page_sheet(page, shapes, pages, tile, job) for tile in pages.kept),
    )
    return TemplateSheets(template, pages, sheets)


def piece_is_cut(template: Template) -> bool:
    """Whether anything is cut at all."""
    return not cut_geometry(template.piece).is_empty
