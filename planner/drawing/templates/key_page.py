"""The key page of a template: the whole piece with its pages, what it is for, its numbers, how to use it.

In: a template, its numbers, its pages. Out: one sheet, more where the numbers need them.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from planner.drawing import words
from planner.drawing.dimensions import written_cut
from planner.drawing.labels import Heights
from planner.drawing.lettering import clean, text_width
from planner.drawing.roles import Role
from planner.drawing.shapes import Paper, Shape, Sheet, Text, Window
from planner.drawing.tables import Row, Stack, moved
from planner.drawing.templates.choice import Template
from planner.drawing.templates.numbers import how_to, number_stacks
from planner.drawing.templates.offsets import Offsets
from planner.drawing.templates.overview import overview
from planner.drawing.templates.page_marks import bars, foot
from planner.drawing.templates.paper import window_of
from planner.drawing.templates.stretch import Factors
from planner.drawing.templates.tiles import Pages
from planner.drawing.wrapping import shortened, wrapped
from planner.errors import PlannerError
from planner.geometry import Box
from planner.limits import USUAL, too_many
from planner.records import dataclass

#: Columns of words are at least so many heights of capitals wide.
_NARROWEST = 30.0
_GUTTER = 5.0
_BETWEEN = 3.5
#: Of ids at most so many are listed.
_MOST_IDS = 24


@dataclass(frozen=True, slots=True)
class Job:
    """What is the same for all templates of a print."""

    room: str
    units: str
    corner: str  #: name of the room's reference corner
    heights: Heights
    language: str
    strip: bool
    by: Factors  #: along the short and the long side of the paper
    checks: tuple[str, ...]  #: what is said below the bars of every page
    most_pages: int = USUAL.pages

    def refuse_more(self, pages: int) -> None:
        """Refuse, before they are drawn, more pages than anybody prints; PlannerError."""
        if wrong := too_many(f"that would be {pages:,} pages", pages, "pages", self.most_pages):
            raise PlannerError(wrong[0], where="--paper", mend=f"Choose larger paper or fewer panels. {wrong[1]}")


@dataclass(frozen=True, slots=True)
class Key:
    """What a key page says and shows, whatever it is the key of."""

    name: str  #: fit for a file name
    title: str
    side: str  #: in large letters
    lines: tuple[str, ...]
    stacks: Sequence[Stack]


def key_pages(template: Template, offsets: Offsets, pages: Pages, paper: Paper, job: Job) -> tuple[Sheet, ...]:
    """The key of a template, on upright paper."""
    width = words_width(paper, job.heights)
    stacks = [how_to(template.piece.face_up, len(pages.printed) > 1, width, job.heights)]
    stacks += number_stacks(template.piece, offsets, width, job.heights, job.units)
    title = words.say("templates.heading", name=template.name)
    key = Key(template.name, title, side_words(template), tuple(_lines(template, pages, job)), stacks)
    return composed(
        key,
        lambda room: overview(template.piece, offsets, pages, job.corner, room, job.heights),
        paper,
        job,
    )


def words_width(paper: Paper, heights: Heights) -> float:
    """How wide the columns of words on a key page are."""
    return _columns(window_of(paper), heights)[0].width


def composed(key: Key, show: Callable[[Box], Window], paper: Paper, job: Job) -> tuple[Sheet, ...]:
    """A key page on upright paper, and others where its words need them."""
    window = window_of(paper)
    lines = [part for line in key.lines for part in wrapped(clean(line), window.width, job.heights[Role.NOTE])]
    head = tuple(_head(key, lines, window, job.heights))
    under = window.top - 1.3 * job.heights[Role.BANNER] - 1.8 * job.heights[Role.NOTE] * len(lines) - 2.0
    full = _columns(Box(window.left, window.bottom, window.right, window.top - 2.0), job.heights)
    picture = _picture(Box(window.left, window.bottom, window.right, under), key.stacks, full)
    columns = [replace(column, top=picture.bottom - 2.0) for column in full]
    view = show(picture)
    return tuple(
        Sheet(
            key=f"template-{key.name}-key" + (f"-{k + 1}" if k else ""),
            title=_page_title(key.title, k),
            paper=paper,
            windows=(view,) if k == 0 else (),
            shapes=(*(head if k == 0 else ()), *shapes, *_foot(key, paper, job)),
            language=job.language,
        )
        for k, shapes in enumerate(flow(key.stacks, columns, full))
    )


def _page_title(title: str, number: int) -> str:
    if number == 0:
        return words.say("templates.key page", title=title)
    return words.say("templates.more key", title=title, n=number + 1)


def _picture(area: Box, stacks: Sequence[Stack], columns: Sequence[Box]) -> Box:
    """The upper part of an area, as high as the words leave it, but no less than 0.42 of it and no more than 0.66."""
    for share in (0.66, 0.6, 0.54, 0.48, 0.42):
        bottom = area.top - share * area.height
        if len(flow(stacks, [replace(column, top=bottom - 2.0) for column in columns], columns)) == 1:
            break
    return Box(area.left, bottom, area.right, area.top)


def side_words(template: Template) -> str:
    """Which side of the panel the template lies on."""
    return words.say("templates.face up" if template.piece.face_up else "templates.from back")


def panels_words(template: Template) -> str:
    """The panels a template serves, and how many pieces."""
    names = ", ".join(template.panels[:_MOST_IDS])
    if len(template.panels) > _MOST_IDS:
        names = words.say("templates.and more", names=names, n=len(template.panels) - _MOST_IDS)
    pieces = words.say("templates.pieces", count=len(template.panels))
    return words.say("templates.for panels", panels=names, pieces=pieces)


def _lines(template: Template, pages: Pages, job: Job) -> list[str]:
    size = written_cut(template.piece.cut_to, job.units)
    count, every = len(pages.printed), len(pages.tiling.tiles)
    if count == every:
        told = words.say("templates.printed all", count=count)
    else:
        told = words.say("templates.printed strip" if job.strip else "templates.printed", printed=count, all=every)
    return [f"{panels_words(template)}; {words.say('templates.cut to', size=size)}", clean(job.room), told]


def _head(key: Key, lines: Sequence[str], window: Box, heights: Heights) -> Iterator[Shape]:
    banner, size = heights[Role.BANNER], heights[Role.NOTE]
    yield Text(Role.BANNER, (window.left, window.top - banner), key.side)
    room = window.width - text_width(key.side, banner) - 6.0
    role = next((r for r in (Role.SHEET_TITLE, Role.HEADING) if text_width(key.title, heights[r]) <= room), Role.NOTE)
    if room > 20.0:
        text = shortened(key.title, room, heights[role])
        yield Text(role, (window.right, window.top - banner), text, "right")
    for k, line in enumerate(lines):
        yield Text(Role.NOTE, (window.left, window.top - 1.3 * banner - (1.4 + 1.8 * k) * size), line)


def _foot(key: Key, paper: Paper, job: Job) -> Iterator[Shape]:
    window = window_of(paper)
    yield from bars(paper, job.by, job.heights)
    yield from foot(window, "", job.checks, key.side, job.heights)


def _columns(area: Box, heights: Heights) -> list[Box]:
    count = max(1, int((area.width + _GUTTER) // (_NARROWEST * heights[Role.NOTE] + _GUTTER)))
    width = (area.width + _GUTTER) / count - _GUTTER
    lefts = (area.left + k * (width + _GUTTER) for k in range(count))
    return [Box(left, area.bottom, left + width, area.top) for left in lefts]


def flow(stacks: Sequence[Stack], first: Sequence[Box], others: Sequence[Box]) -> list[list[Shape]]:
    """Stacks in the columns of a first page, then of as many others as they need; a list is broken where it must be."""
    pages: list[list[Shape]] = [[]]
    columns = list(first)
    y = columns[0].top
    for stack in stacks:
        rows, heading = list(stack.rows), stack.heading
        while rows:
            whole = heading.height + sum(row.height for row in rows)
            least = whole if whole <= columns[0].height and len(rows) <= 12 else heading.height + _some(rows)
            if y - least < columns[0].bottom and y < columns[0].top - 1e-6:
                columns.pop(0)
                if not columns:
                    pages.append([])
                    columns = list(others)
                y = columns[0].top
                continue
            placed = [heading]
            foot_at = y - heading.height
            while rows and (foot_at - rows[0].height >= columns[0].bottom - 1e-6 or len(placed) == 1):
                foot_at -= rows[0].height
                placed.append(rows.pop(0))
            for row in placed:
                pages[-1] += moved(row.shapes, (columns[0].left, y))
                y -= row.height
            heading = stack.again
        y -= _BETWEEN
    return pages


def _some(rows: Sequence[Row]) -> float:
    return sum(row.height for row in rows[:3])
