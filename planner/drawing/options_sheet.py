"""Layouts side by side on one page: a thumbnail of each at one scale, with its figures below it.

In: options, a style, what somebody wishes of the sheet. Out: one `Sheet`. The thumbnails stand in rows, in as many
columns as let them be drawn largest at a round scale; the planner's own has a frame. What there is to say about
them stands below, above the title block. PlannerError when the paper is too small for so many.
"""

from collections.abc import Iterator, Sequence
from itertools import product

from planner.drawing import words
from planner.drawing.composition import GUTTER
from planner.drawing.dimensions import written_size
from planner.drawing.labels import Heights, box_ring
from planner.drawing.lettering import clean
from planner.drawing.member_roles import MEMBER_ROLES, TRIM
from planner.drawing.papers import larger_papers, paper_for
from planner.drawing.place import ALONE
from planner.drawing.plan_lines import MOST_PANELS, column_shapes, walls_shape
from planner.drawing.plan_sheet import facts_of
from planner.drawing.roles import Role
from planner.drawing.scales import Scale, largest_that_fits, scale_of, standard_scales
from planner.drawing.shapes import Drawing, Line, Outline, Paper, Shape, Sheet, Text, Window, extents
from planner.drawing.sheet_frame import frame, heading, heading_height
from planner.drawing.stop_band import stop_said
from planner.drawing.stylebook import Style
from planner.drawing.tables import PITCH
from planner.drawing.title_block import WIDTH, title_block, title_block_height
from planner.drawing.wish import SheetWish
from planner.drawing.wrapping import shortened, wrapped
from planner.errors import PlannerError
from planner.geometry import Box
from planner.lengths import spoken_length
from planner.options import Option
from planner.planning import Plan
from planner.records import dataclass
from planner.weighing import numbered, remarks

KEY = "options"

#: Thumbnails are not drawn larger than this, nor in cells where less than this many millimetres are left for them.
_LARGEST = 20.0
_LEAST_MM = 8.0
#: Metric scales between the standard ones, since nobody measures on a thumbnail.
_BETWEEN = (30.0, 40.0, 60.0, 75.0, 125.0, 150.0, 250.0, 300.0, 400.0, 600.0, 750.0)


@dataclass(frozen=True, slots=True)
class _Tiling:
    """How the page is divided: the cells row by row, what stands in each, and the scale that fits all of them."""

    cells: tuple[Box, ...]
    captions: tuple[tuple[str, ...], ...]
    scale: Scale

    @property
    def lines(self) -> int:
        """Of the longest caption."""
        return max(map(len, self.captions))


def options_sheet(options: Sequence[Option], style: Style, wish: SheetWish) -> Sheet:
    """Draw the options; PlannerError when they do not fit the paper, or the scale asked for does not."""
    with words.speaking(options[0].plan.room, wish):
        return _sheet(options, style, wish)


def _sheet(options: Sequence[Option], style: Style, wish: SheetWish) -> Sheet:
    paper, heights, own = (
        paper_for(style, wish),
        Heights.of(style),
        options[0].plan,
    )
    box = paper.frame
    tall = title_block_height(heights, own.room.project)
    title = Box(box.right - min(WIDTH, box.width), box.bottom, box.right, box.bottom + tall)
    said = _said(options, Box(box.left, title.top, box.right, box.top), heights)
    foot = max((text.at[1] for text in said), default=title.top) + (2.0 * heights[Role.NOTE] if said else 0.0)
    area = Box(box.left, foot, box.right, box.top - heading_height(heights))
    drawings = [_shapes(option) for option in options]
    figures = [_figures(number, option) for number, option in numbered(options)]
    tiling = _tiling(drawings, figures, area, heights, wish, own, paper)
    name = words.say("options.title")
    facts = facts_of(own, wish, paper, tiling.scale.name, name, ALONE)
    line = f"{facts.job}, {facts.units}, {facts.scale}"
    shapes: list[Shape] = [
        *frame(paper),
        *title_block(title, facts, heights),
        *heading(box, name, line, words.say("options.note"), heights, stop_said(own.findings, ALONE)),
        *(Line(Role.TITLE_BLOCK, (box.left, y), (box.right, y)) for y in (title.top, foot)),
        *said,
    ]
    for option, caption, cell in zip(options, tiling.captions, tiling.cells, strict=True):
        shapes += _caption(caption, tiling.lines, option, cell, heights)
    windows = tuple(
        _window(drawn, _inner(cell, tiling.lines, heights), tiling.scale, own)
        for drawn, cell in zip(drawings, tiling.cells, strict=True)
    )
    return Sheet(KEY, name, paper, windows, tuple(shapes), words.language())


def _said(options: Sequence[Option], area: Box, heights: Heights) -> list[Text]:
    """The remarks, set from the foot of an area upwards so that the last line stands just above it."""
    height = heights[Role.NOTE]
    lines = [
        line
        for said in remarks(options)
        for line in wrapped(clean(words.translated(said)), area.width - 2 * GUTTER, height)
    ]
    left, low = area.left + GUTTER, area.bottom + 0.8 * height
    return [Text(Role.NOTE, (left, low + k * PITCH * height), line) for k, line in enumerate(reversed(lines))]


def _shapes(option: Option) -> tuple[Shape, ...]:
    """The room, its cut panels and its tees; no letters, they would not be read at this scale."""
    ceiling, room = option.plan.ceiling, option.plan.room
    tees = [(role, m) for kind, role in MEMBER_ROLES.items() for m in ceiling.members if m.kind == kind]
    return (
        *(Outline(Role.CUT_SHADE, p.outline, p.holes, True) for p in ceiling.panels[:MOST_PANELS] if not p.full_size),
        *(Line(role, m.start, m.end) for role, m in tees if m.kind not in TRIM),
        walls_shape(room),
        *(shape for column in room.columns for shape in column_shapes(column)),
    )


def _tiling(
    drawings: Sequence[tuple[Shape, ...]],
    figures: Sequence[Sequence[str]],
    area: Box,
    heights: Heights,
    wish: SheetWish,
    own: Plan,
    paper: Paper,
) -> _Tiling:
    """The division with the largest scale; among those the one with the fewest columns.

    Captions are broken into lines; only where the paper has no room for that are they shortened to one line each.
    """
    sizes = [extents(shapes) for shapes in drawings]
    size = (max(box.width for box in sizes), max(box.height for box in sizes))
    imperial = own.room.imperial
    between = () if imperial else map(Scale, _BETWEEN)
    scales = sorted((*standard_scales(imperial), *between), key=lambda scale: scale.denominator)
    scales = [scale for scale in scales if scale.denominator >= _LARGEST]
    wished = [scale_of(wish.scale, imperial)] if wish.scale else scales
    found: list[_Tiling] = []
    for lettered, count in product((_captioned, _shortened), range(1, len(drawings) + 1)):
        if found and lettered is _shortened:
            break
        cells = _cells(area, count, len(drawings))
        captions = tuple(lettered(each, cells[0], heights) for each in figures)
        inner = _inner(cells[0], max(map(len, captions)), heights)
        space = (inner.width, inner.height)
        scale = largest_that_fits(lambda s: (size[0] / s.denominator, size[1] / s.denominator), space, wished)
        if scale is not None and min(space) >= _LEAST_MM:
            found.append(_Tiling(cells, captions, scale))
    if not found:
        larger = ", ".join(larger_papers(paper.name)) or "a smaller scale"
        problem = f"{len(drawings)} layouts do not fit {paper.name}{f' at 1:{wish.scale:g}' if wish.scale else ''}."
        raise PlannerError(problem, where="paper", mend=f"Take {larger}.")
    return min(found, key=lambda tiling: tiling.scale.denominator)


def _cells(area: Box, columns: int, count: int) -> tuple[Box, ...]:
    rows = -(-count // columns)
    wide, tall = area.width / columns, area.height / rows
    lefts = [(area.left + k % columns * wide, area.top - k // columns * tall) for k in range(count)]
    return tuple(Box(left, top - tall, left + wide, top) for left, top in lefts)


def _inner(cell: Box, lines: int, heights: Heights) -> Box:
    """What a cell leaves for the thumbnail above a caption of so many lines."""
    foot = cell.bottom + 1.0 + (lines + 0.3) * PITCH * heights[Role.NOTE]
    return Box(cell.left + GUTTER, foot, cell.right - GUTTER, cell.top - 0.7 * GUTTER)


def _window(shapes: tuple[Shape, ...], inner: Box, scale: Scale, own: Plan) -> Window:
    unit = "in" if own.room.imperial else "mm"
    drawing = Drawing(shapes, (), scale.denominator, unit, scale.imperial)
    return Window(drawing, inner, extents(shapes).centre)


def _captioned(figures: Sequence[str], cell: Box, heights: Heights) -> tuple[str, ...]:
    """Figures in as many lines as they need."""
    return tuple(line for said in figures for line in wrapped(clean(said), cell.width - 2 * GUTTER, heights[Role.NOTE]))


def _shortened(figures: Sequence[str], cell: Box, heights: Heights) -> tuple[str, ...]:
    """Figures in a line each."""
    return tuple(shortened(clean(said), cell.width - 2 * GUTTER, heights[Role.NOTE]) for said in figures)


def _caption(caption: Sequence[str], lines: int, option: Option, cell: Box, heights: Heights) -> Iterator[Shape]:
    """Lines below a thumbnail, all beginning at one height; a frame round the whole cell of the planner's own."""
    height = heights[Role.NOTE]
    for k, line in enumerate(caption, 1):
        yield Text(Role.NOTE, (cell.left + GUTTER, cell.bottom + 1.6 + (lines - k + 0.2) * PITCH * height), line)
    if option.taken:
        yield Outline(Role.FRAME, box_ring(cell.grown(-1.0)))


def _border(mm: float, units: str) -> str:
    """How wide, in inches rather than feet."""
    return words.translated(spoken_length(mm, "in" if units == "ft-in" else units))


def _figures(number: int, option: Option) -> tuple[str, ...]:
    units = option.plan.room.units
    module = written_size(option.module, units)
    border = words.say("options.no border")
    if option.smallest_border is not None:
        border = words.say("options.border", border=_border(option.smallest_border, units))
    waste = words.say("options.waste", panels=f"{option.panel_waste:.0%}", lengths=f"{option.length_waste:.0%}")
    if option.cost is not None:
        waste = words.say("options.with cost", waste=waste, cost=f"{option.cost:.2f}")
    return (
        f"{number}. {', '.join(words.translated(name) for name in option.names)}",
        words.say(f"options.mains {option.plan.ceiling.mains}", module=module),
        words.say("options.rule kept" if option.half_module_rule else "options.rule broken", border=border),
        words.say("options.counts", cut=option.cut_panels, panels=option.panels, lengths=option.lengths),
        waste,
    )
