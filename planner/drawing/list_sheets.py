"""Sheets of lists: stacks of words set in columns, page after page, with frame, heading and title block.

In: what makes the stacks for a column width. Out: as many sheets as the lists need. A list that does not fit what is
left of a page is carried on in the next column or on the next page, below its heading again.
"""

from collections.abc import Callable, Sequence
from dataclasses import field, replace

from planner.drawing import words
from planner.drawing.composition import GUTTER
from planner.drawing.labels import Heights
from planner.drawing.lettering import clean
from planner.drawing.papers import paper_for
from planner.drawing.place import Place
from planner.drawing.plan_sheet import facts_of
from planner.drawing.roles import Role
from planner.drawing.shapes import Line, Outline, Paper, Shape, Sheet
from planner.drawing.sheet_frame import frame, heading, heading_height
from planner.drawing.stop_band import stop_said
from planner.drawing.stylebook import Style
from planner.drawing.tables import Row, Stack, moved
from planner.drawing.title_block import WIDTH, title_block, title_block_height
from planner.drawing.wish import SheetWish
from planner.drawing.wrapping import shortened
from planner.geometry import Box
from planner.planning import Plan
from planner.records import dataclass

#: Columns of lists are at least so many heights of capitals wide.
NARROWEST = 44.0
_BETWEEN = 4.0
#: A list is broken only where a column has room for its heading and so many rows, or so many millimetres of tall ones.
_FEW = 3
_ENOUGH = 30.0
#: Lists of so many rows at most begin a new page rather than being broken.
_SHORT = 8
#: How often the height of the last page's columns is halved, to fill them evenly: to a 64th of it.
_HALVINGS = 6
#: Early pages hold at least this share of what they would hold if no list had to keep its place.
_FULL = 0.6
#: The job's name in a heading takes at most this share of the paper's width.
_LONGEST_JOB = 0.5


@dataclass(frozen=True, slots=True)
class ListSubject:
    """What one kind of list sheet shows."""

    key: str
    title: str
    note: str
    say: Callable[[float], Sequence[Stack]]  #: at a column width
    narrowest: float = NARROWEST  #: columns are at least so many heights of capitals wide
    scale: str = ""  #: what the title block says of the scale
    stop: str = ""  #: what the band beside the title says; empty: what the plan's findings say
    alone: bool = False  #: it holds for this room alone, where a building's rooms are supplied together


def list_sheets(plan: Plan, style: Style, wish: SheetWish, place: Place, subject: ListSubject) -> tuple[Sheet, ...]:
    """The sheets, numbered from the place of the first; none when there is nothing to say."""
    paper = paper_for(style, wish)
    heights = Heights.of(style)
    title = _title_box(paper, title_block_height(heights, plan.room.project))
    columns = _columns(paper, title, heights, subject.narrowest)
    pages = place.once(subject.key, lambda: _flow(subject.say(columns[0].width), columns))
    sheets = []
    for k, placed in enumerate(pages):
        here = Place(place.number + k, place.of, place.others)
        name = subject.title if k == 0 else words.say("sheets.page", title=subject.title, page=k + 1)
        facts = facts_of(plan, wish, paper, subject.scale, subject.title, here)
        stop = subject.stop or stop_said(plan.findings, here) or _alone_said(subject, wish)
        shapes = (
            *(shape for shape in placed if _lies_under(shape)),
            *frame(paper),
            *title_block(title, facts, heights),
            *heading(paper.frame, name, _job_and_units(plan, facts.units, paper, heights), "", heights, stop),
            Line(Role.TITLE_BLOCK, (paper.frame.left, columns[0].top), (paper.frame.right, columns[0].top)),
            *(shape for shape in placed if not _lies_under(shape)),
        )
        sheets.append(Sheet(_key(subject.key, k), name, paper, (), shapes, words.language()))
    return tuple(sheets)


def _alone_said(subject: ListSubject, wish: SheetWish) -> str:
    """That nobody cuts by it, where another sheet has the same for all rooms together."""
    return words.say("building.alone", building=clean(wish.building)) if subject.alone and wish.building else ""


def _job_and_units(plan: Plan, units: str, paper: Paper, heights: Heights) -> str:
    """Whose lists they are and what the lengths are in, which no long name pushes off the paper."""
    job = shortened(clean(plan.room.name), _LONGEST_JOB * paper.frame.width, heights[Role.NOTE])
    return words.say("sheets.job and units", job=job, units=units)


def _lies_under(shape: Shape) -> bool:
    """Tints come first: layers are painted in the order in which they first appear."""
    return isinstance(shape, Outline) and shape.fill


def _key(key: str, page: int) -> str:
    return key if page == 0 else f"{key}-{page + 1}"


def _title_box(paper: Paper, height: float) -> Box:
    box = paper.frame
    wide = min(WIDTH, box.width)
    return Box(box.right - wide, box.bottom, box.right, box.bottom + height)


def _columns(paper: Paper, title: Box, heights: Heights, narrowest: float) -> list[Box]:
    """Columns side by side below the heading; those above the title block end at it."""
    box = paper.frame
    top = box.top - heading_height(heights) + 2.6 * heights[Role.NOTE]
    count = max(1, int((box.width - GUTTER) // (narrowest * heights[Role.NOTE] + GUTTER)))
    width = (box.width - GUTTER) / count - GUTTER
    lefts = [box.left + GUTTER + k * (width + GUTTER) for k in range(count)]
    return [Box(x, (title.top if x + width > title.left else box.bottom) + 0.5 * GUTTER, x + width, top) for x in lefts]


@dataclass(slots=True)
class _Page:
    """A page while it is being set: how far each column is filled, and what stands where."""

    columns: Sequence[Box]
    feet: list[float] = field(default_factory=list)
    placed: list[tuple[Row, float, float]] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.feet = [column.top - 0.6 * GUTTER for column in self.columns]

    @property
    def shapes(self) -> list[Shape]:
        return [shape for row, x, y in self.placed for shape in moved(row.shapes, (x, y))]

    def room(self, k: int) -> float:
        return self.feet[k] - self.columns[k].bottom

    def put(self, k: int, rows: Sequence[Row]) -> None:
        for row in rows:
            self.placed.append((row, self.columns[k].left, self.feet[k]))
            self.feet[k] -= row.height

    def column_for(self, height: float, first: int = 0) -> int | None:
        """The first column with so much room, from column `first` on."""
        return next((k for k in range(first, len(self.columns)) if self.room(k) >= height - 1e-6), None)


@dataclass(slots=True)
class _Setting:
    """All pages while they are being set; those from `late` on have lower columns."""

    columns: Sequence[Box]
    late: int = 0
    lower: Sequence[Box] = ()
    ordered_from: int | None = None  #: from this page on no list goes before one that was set earlier
    pages: list[_Page] = field(default_factory=list)
    parts: int = 0  #: lists and parts of lists
    column: int = 0  #: the last that was begun

    @property
    def first(self) -> int:
        """The first column that a list may be set in."""
        ordered = self.ordered_from is not None and len(self.pages) > self.ordered_from
        return self.column if ordered else 0

    @property
    def early(self) -> float:
        """What stands on all pages but the last, in millimetres of lines."""
        return sum(row.height for page in self.pages[:-1] for row, _, _ in page.placed)

    def turn(self) -> _Page:
        """A new page."""
        self.column = 0
        self.pages.append(_Page(self.lower if self.lower and len(self.pages) >= self.late else self.columns))
        return self.pages[-1]


def _flow(stacks: Sequence[Stack], columns: Sequence[Box]) -> list[list[Shape]]:
    """The pages that the stacks need; on the last one the columns are filled as evenly as can be.

    All lists keep their order where that leaves no early page half empty; else those on the last page do.
    """
    free = _set(stacks, _Setting(columns))
    last = len(free.pages) - 1
    setting = next((found for page in (0, last) if (found := _evened(stacks, columns, free, page))), free)
    return [page.shapes for page in setting.pages]


def _evened(stacks: Sequence[Stack], columns: Sequence[Box], free: _Setting, ordered_from: int) -> _Setting | None:
    """The same pages with the lowest columns on the last that hold it all; None where no order does."""
    found = None
    short, enough = 0.0, max(column.height for column in columns)
    for _ in range(_HALVINGS if free.pages else 0):
        middle = (short + enough) / 2
        lower = _cut_short(columns, middle)
        tried = _set(stacks, _Setting(columns, len(free.pages) - 1, lower, ordered_from))
        as_many = len(tried.pages) == len(free.pages) and tried.parts <= (found or free).parts
        if as_many and tried.early >= _FULL * free.early:
            found, enough = tried, middle
        else:
            short = middle
    return found


def _cut_short(columns: Sequence[Box], tall: float) -> list[Box]:
    """Columns no taller than so much."""
    return [replace(column, bottom=max(column.bottom, column.top - tall)) for column in columns]


def _set(stacks: Sequence[Stack], setting: _Setting) -> _Setting:
    """Each stack whole where the page has room for it, else carried on from column to column and page to page."""
    for stack in stacks:
        page = setting.pages[-1] if setting.pages else setting.turn()
        k = page.column_for(stack.height, setting.first)
        if k is None and len(stack.rows) <= _SHORT and page.placed:
            page, k = setting.turn(), 0
        if k is not None:
            page.put(k, (stack.heading, *stack.rows))
            page.feet[k] -= _BETWEEN
            setting.parts, setting.column = setting.parts + 1, k
        else:
            _break(stack, setting)
    return setting


def _break(stack: Stack, setting: _Setting) -> None:
    """Set a stack in parts, from the first column that has room for a few rows on."""
    rows, head, first = list(stack.rows), stack.heading, setting.first
    while rows:
        page = setting.pages[-1]
        k = page.column_for(head.height + _few(rows), first)
        if k is None:
            if not page.placed:  # not even an empty page has room for a few: one row at a time, come what may
                k = 0
            else:
                setting.turn()
                first = 0
                continue
        part, left = [rows.pop(0)], page.room(k) - head.height
        left -= part[0].height
        while rows and rows[0].height <= left + 1e-6:
            left -= rows[0].height
            part.append(rows.pop(0))
        if len(rows) == 1 and len(part) > _FEW:  # no row stands alone below a heading
            rows.insert(0, part.pop())
        page.put(k, (head, *part))
        setting.parts, setting.column = setting.parts + 1, k
        page.feet[k] = page.feet[k] - _BETWEEN if not rows else page.columns[k].bottom
        head, first = stack.again, k + 1


def _few(rows: Sequence[Row]) -> float:
    """The height of the first rows, which stay together."""
    height = 0.0
    for row in rows[:_FEW]:
        height += row.height
        if height >= _ENOUGH:
            break
    return height
