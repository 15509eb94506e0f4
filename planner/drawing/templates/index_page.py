"""The first page of a file of templates: which there are, for which panels, on which pages.

In: templates on paper. Out: sheets with one table, in as many pages as it needs.
"""

from collections.abc import Sequence

from planner.drawing import words
from planner.drawing.dimensions import written_cut
from planner.drawing.roles import Role
from planner.drawing.shapes import Paper, Shape, Sheet, Text
from planner.drawing.tables import notes, table
from planner.drawing.templates.choice import Template
from planner.drawing.templates.key_page import Job, flow
from planner.drawing.templates.page_marks import bars, foot
from planner.drawing.templates.paper import window_of
from planner.drawing.wrapping import shortened
from planner.geometry import Box

_MOST_IDS = 6


def index_pages(templates: Sequence[tuple[Template, int]], left_out: int, paper: Paper, job: Job) -> tuple[Sheet, ...]:
    """The index of templates with the number of sheets of each; `left_out` more have no room in the file."""
    pages = _drawn(templates, left_out, paper, job, 1)
    pages = _drawn(templates, left_out, paper, job, len(pages))  # now that it is known where the first template begins
    window = window_of(paper)
    title = words.say("templates.index")
    return tuple(
        Sheet(
            key="templates" if k == 0 else f"templates-{k + 1}",
            title=title if k == 0 else words.say("sheets.page", title=title, page=k + 1),
            paper=paper,
            windows=(),
            shapes=(
                *shapes,
                *bars(paper, job.by, job.heights),
                *foot(window, "", job.checks, "", job.heights),
            ),
            language=job.language,
        )
        for k, shapes in enumerate(pages)
    )


def _drawn(
    templates: Sequence[tuple[Template, int]], left_out: int, paper: Paper, job: Job, before: int
) -> list[list[Shape]]:
    window, heights = window_of(paper), job.heights
    banner = heights[Role.SHEET_TITLE]
    head: list[Shape] = [
        Text(Role.SHEET_TITLE, (window.left, window.top - banner), words.say("templates.index")),
        Text(
            Role.NOTE,
            (window.left, window.top - banner - 2.0 * heights[Role.NOTE]),
            shortened(job.room, window.width, heights[Role.NOTE]),
        ),
    ]
    rows, first = [], before + 1
    for template, count in templates:
        rows.append(
            (
                template.name,
                _panels(template),
                str(len(template.panels)),
                written_cut(template.piece.cut_to, job.units),
                _span(first, count),
            )
        )
        first += count
    told = [words.say("templates.index how")]
    if left_out > 0:
        told.append(words.say("templates.left out", count=left_out))
    stacks = [
        notes(words.say("templates.how to"), told, window.width, heights),
        table(
            words.say("templates.index list"), "lllll", words.row("templates.index heads"), rows, window.width, heights
        ),
    ]
    area = Box(window.left, window.bottom, window.right, window.top - banner - 4.0 * heights[Role.NOTE])
    pages = flow(stacks, [area], [window])
    pages[0] = [*head, *pages[0]]
    return pages


def _panels(template: Template) -> str:
    names = ", ".join(template.panels[:_MOST_IDS])
    more = len(template.panels) - _MOST_IDS
    return words.say("templates.and more", names=names, n=more) if more > 0 else names


def _span(first: int, count: int) -> str:
    return words.say("templates.pages from to", first=first, last=first + count - 1)
