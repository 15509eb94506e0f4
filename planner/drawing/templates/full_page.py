"""One page at full size: what shows in its window, and all that stands round it.

In: shapes at full size, the pages they go over, one of them. Out: a sheet.
"""

from collections.abc import Iterator, Sequence

from planner.drawing import words
from planner.drawing.labels import Heights, text_ring
from planner.drawing.shapes import Drawing, Shape, Sheet, Text, Window, extents
from planner.drawing.templates.key_page import Job
from planner.drawing.templates.page_marks import bars, foot, joints
from planner.drawing.templates.tiles import Pages
from planner.drawing.windows import Tile
from planner.geometry import Box, box_of
from planner.records import dataclass


@dataclass(frozen=True, slots=True)
class Page:
    """What pages at full size say of themselves."""

    name: str  #: fit for a file name
    title: str
    told: str  #: one line below the bars
    side: str  #: in large letters


def page_sheet(page: Page, shapes: Sequence[Shape], pages: Pages, tile: Tile, job: Job) -> Sheet:
    """One page at full size."""
    seen = tuple(seen_in(shapes, tile.box, job.heights))
    view = Window(Drawing(seen, (), 1.0, "mm"), pages.window, tile.box.centre)
    return Sheet(
        key=f"template-{page.name}-{tile.name}",
        title=words.say("templates.full size page", title=page.title, page=tile.name),
        paper=pages.paper,
        windows=(view,),
        shapes=(
            *joints(pages, tile, view, job.heights),
            *bars(pages.paper, job.by, job.heights),
            *foot(pages.window, tile.name, (page.told, *job.checks), page.side, job.heights),
        ),
        language=job.language,
    )


def seen_in(shapes: Sequence[Shape], box: Box, heights: Heights) -> Iterator[Shape]:
    """The shapes that may show in a box; the rest need not be written on its page."""
    near = box.grown(1.0)
    for shape in shapes:
        around = box_of(text_ring(shape, heights[shape.role])) if isinstance(shape, Text) else extents((shape,))
        if near.overlaps(around.grown(0.01)):
            yield shape
