"""The reflected ceiling plan: the sheet from which a ceiling is built.

In: a `Plan`, a style, what somebody wishes of the sheet. Out: one `Sheet`: the plan in a window at the largest standard
scale that fits the paper, with everything around it that the trade expects. A plan that fits at no scale, or not at the
scale that was asked for, is a PlannerError that names what would do.

Plan coordinates are never mirrored: a reflected plan has the orientation of the floor plan (agreed public practice).
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import partial

from planner.drawing import words
from planner.drawing.annotation import annotate
from planner.drawing.board import turn_of
from planner.drawing.composition import Ground, compose, fits, set_words
from planner.drawing.labels import Heights
from planner.drawing.legend import assumed_size, legend, service_size
from planner.drawing.lettering import clean
from planner.drawing.papers import find_paper, larger_papers
from planner.drawing.plan_lines import plan_lines
from planner.drawing.roles import Role
from planner.drawing.scale_bar import scale_bar
from planner.drawing.scales import Scale, scale_of, standard_scales
from planner.drawing.schedules import (
    Limits,
    caution_notes,
    finding_notes,
    layout_notes,
    panel_schedule,
    project_notes,
    quantities,
    wall_schedule,
    written_long,
)
from planner.drawing.shapes import Drawing, Line, Paper, Shape, Sheet, Symbol, Window
from planner.drawing.sheet_frame import frame, heading, heading_height
from planner.drawing.strings import Surround, surround
from planner.drawing.stylebook import Style
from planner.drawing.symbols import Look, look_of
from planner.drawing.tables import Stack
from planner.drawing.title_block import WIDTH, Facts, title_block, title_block_height
from planner.drawing.wish import SheetWish
from planner.errors import PlannerError
from planner.geometry import Box
from planner.plan import Plan
from planner.room.service_kinds import KINDS

KEY = "ceiling-plan"

#: Plans are not drawn larger than this: beyond, the letters look lost.
_LARGEST = 20.0
#: From generous to scarce; what a small paper forces out is said on the sheet. Beside each, how much larger the plan
#: must become for it.
_LIMITS = (
    (Limits(24, 16, 12, 12, 12), 1.0),
    (Limits(14, 10, 8, 8, 8), 1.05),
    (Limits(8, 6, 5, 5, 5), 1.3),
    (Limits(4, 4, 2, 2, 3), 1.9),
    (Limits(2, 2, 1, 0, 2), 2.5),
    (Limits(0, 0, 1, 0, 1), 3.5),
)


@dataclass(frozen=True, slots=True)
class _Made:
    """An arrangement, its scale, and how long its lists may be."""

    ground: Ground
    scale: Scale
    whole: bool
    limits: Limits


@dataclass(frozen=True, slots=True)
class _Drawn:
    """The plan as a drawing, what stands around it, and what had to be left out."""

    drawing: Drawing
    around: Surround
    remarks: tuple[str, ...]


def ceiling_plan(plan: Plan, style: Style, wish: SheetWish, number: int = 1, of: int = 1) -> Sheet:
    """The sheet; PlannerError when paper or scale are not known or the plan does not fit them."""
    paper = find_paper(wish.paper or style.paper, portrait=wish.portrait)
    heights = Heights.of(style)
    scales = _scales(plan, wish.scale)
    found = _made_and_drawn(plan, paper, heights, scales)
    if found is None:
        raise _misfit(plan, paper, heights, wish)
    made, drawn = found
    facts = _facts(plan, wish, paper, made.scale, number, of)
    return _sheet(plan, paper, heights, made, drawn, facts)


def _made_and_drawn(
    plan: Plan, paper: Paper, heights: Heights, scales: Sequence[Scale], reserve: tuple[str, ...] = (), tries: int = 4
) -> tuple[_Made, _Drawn] | None:
    """An arrangement and the plan drawn for it; None when nothing fits.

    What had to be left out is known only when the plan is drawn, and saying so takes room: then all is arranged anew.
    """
    made = _composed(plan, paper, heights, scales, reserve)
    if made is None:
        return None
    drawn = _drawing(plan, heights, made)
    if tries == 0 or _beside(plan, heights, made, drawn.remarks, made.whole) is not None:
        return made, drawn
    more = (*reserve, *(remark for remark in drawn.remarks if remark not in reserve))
    return _made_and_drawn(plan, paper, heights, scales, more, tries - 1) or (made, drawn)


def _scales(plan: Plan, asked: float | None) -> Sequence[Scale]:
    if asked is not None:
        return (scale_of(asked, plan.room.imperial),)
    return [s for s in standard_scales(plan.room.imperial) if s.denominator >= _LARGEST]


def _composed(
    plan: Plan, paper: Paper, heights: Heights, scales: Sequence[Scale], reserve: Sequence[str] = ()
) -> _Made | None:
    """The best arrangement with as many words as there is room for."""
    block = (min(WIDTH, paper.frame.width), title_block_height(heights))
    surrounds = {s: surround(plan.room, plan.ceiling.layout, heights, s.denominator) for s in scales}

    def need(scale: Scale) -> tuple[float, float]:
        around, box = surrounds[scale], plan.room.box
        return (
            box.width / scale.denominator + around.left + around.right,
            box.height / scale.denominator + around.bottom + around.top,
        )

    found: list[tuple[float, _Made]] = []
    for limits, price in _LIMITS:
        stacks = _memory(partial(_words, plan, reserve, scales[-1].denominator, limits, heights))
        made = compose(paper.frame, block, heading_height(heights), heights[Role.NOTE], need, stacks, scales)
        if made is not None:
            found.append((price * made.price, _Made(made.ground, made.scale, made.whole, limits)))
    return min(found, key=lambda item: item[0])[1] if found else None


def _memory(make: Callable[[float], Sequence[Stack]]) -> Callable[[float], Sequence[Stack]]:
    """Make stacks once for each width."""
    known: dict[float, Sequence[Stack]] = {}

    def remembered(width: float) -> Sequence[Stack]:
        if width not in known:
            known[width] = make(width)
        return known[width]

    return remembered


def _words(
    plan: Plan, remarks: Iterable[str], scale: float, limits: Limits, heights: Heights, width: float
) -> list[Stack]:
    """All that is said beside the plan, in order of use on site."""
    looks = [look_of(service, scale) for service in plan.ceiling.services]
    stacks = (
        legend(plan, looks, scale, width, heights),
        panel_schedule(plan, width, limits.classes, heights),
        quantities(plan, width, heights),
        wall_schedule(plan, width, limits.walls, heights),
        layout_notes(plan, remarks, width, limits, heights),
        finding_notes(plan, width, limits.findings, heights),
        caution_notes(plan, width, limits.cautions, heights),
        project_notes(plan, width, limits.note_lines, heights),
        scale_bar(scale, width, heights),
    )
    return [stack for stack in stacks if stack is not None]


def _drawing(plan: Plan, heights: Heights, made: _Made) -> _Drawn:
    """The plan itself, lettered for the scale that was found."""
    scale = made.scale
    looks = [look_of(service, scale.denominator) for service in plan.ceiling.services]
    around = surround(plan.room, plan.ceiling.layout, heights, scale.denominator)
    lettered = annotate(plan, looks, around, scale.denominator, heights)
    shapes = (*plan_lines(plan.room, plan.ceiling), *_symbols(plan, looks), *around.shapes, *lettered.shapes)
    blocks = tuple({look.block.name: look.block for look in looks}.values())
    drawing = Drawing(shapes, blocks, scale.denominator, "in" if plan.room.imperial else "mm", scale.imperial)
    return _Drawn(drawing, around, lettered.remarks)


def _beside(plan: Plan, heights: Heights, made: _Made, remarks: Sequence[str], whole: bool) -> tuple[Shape, ...] | None:
    """The words in their columns; None when the remarks are too much for them."""
    stacks = _words(plan, remarks, made.scale.denominator, made.limits, heights, made.ground.width)
    return set_words(stacks, made.ground.columns) if fits(stacks, made.ground.columns, whole) else None


def _sheet(plan: Plan, paper: Paper, heights: Heights, made: _Made, drawn: _Drawn, facts: Facts) -> Sheet:
    ground = made.ground
    beside = _beside(plan, heights, made, drawn.remarks, False) or _beside(plan, heights, made, (), False) or ()
    line = _line_of_facts(plan, facts)
    shapes = (
        *frame(paper),
        *(Line(Role.TITLE_BLOCK, a, b) for a, b in ground.rules),
        *title_block(ground.title, facts, heights),
        *heading(ground.window, words.TITLE, line, words.TITLE_NOTE, heights),
        *beside,
    )
    return Sheet(KEY, words.TITLE, paper, (_window(plan, drawn, ground.window, heights),), shapes)


def _symbols(plan: Plan, looks: Sequence[Look]) -> tuple[Symbol, ...]:
    turn = turn_of(plan)
    found = []
    for service, look in zip(plan.ceiling.services, looks, strict=True):
        label = KINDS[service.kind].label
        size = service_size(service, plan.room.units)
        attributes = {
            "MARK": service.name,
            "KIND": label,
            "SIZE": size,
            "PANEL": " ".join(service.panels),
            "WEIGHT": f"{service.weight_kg:g} kg" if service.weight_kg is not None else "",
        }
        clean_ones = tuple((key, clean(value)) for key, value in attributes.items())
        title = f"{label} {clean(service.name)}" + ("" if assumed_size(service) else f", {size}")
        found.append(Symbol(look.role, look.block.name, service.at, turn, clean_ones, title))
    return tuple(found)


def _window(plan: Plan, drawn: _Drawn, box: Box, heights: Heights) -> Window:
    """The plan in the middle of what its heading leaves."""
    free = Box(box.left, box.bottom, box.right, box.top - heading_height(heights))
    room, around, s = plan.room.box, drawn.around, drawn.drawing.scale
    middle = (
        room.centre[0] + s * (around.right - around.left) / 2,
        room.centre[1] + s * (around.top - around.bottom) / 2,
    )
    return Window(drawn.drawing, free, middle)


def _line_of_facts(plan: Plan, facts: Facts) -> str:
    height = plan.room.ceiling_height
    level = "" if height is None else f"; {words.CEILING_HEIGHT.lower()} {written_long(height, plan.room.units)}"
    return f"{words.SCALE} {facts.scale}{level}"


def _facts(plan: Plan, wish: SheetWish, paper: Paper, scale: Scale, number: int, of: int) -> Facts:
    return Facts(
        job=plan.room.name,
        scale=f"{scale.name} {words.AT} {paper.name}",
        paper=paper.name,
        units=words.UNIT_NAMES[plan.room.units],
        sheet=words.SHEET_OF.format(n=number, m=of),
        date=wish.date,
        project=plan.room.project,
    )


def _misfit(plan: Plan, paper: Paper, heights: Heights, wish: SheetWish) -> PlannerError:
    """What would do instead: a smaller scale on this paper, and the next paper that takes what was asked for."""
    mends = []
    asked = f"1:{wish.scale:g}" if wish.scale is not None else "any standard scale"
    if wish.scale is not None:
        made = _composed(plan, paper, heights, _scales(plan, None))
        if made is not None:
            mends.append(f"{made.scale.name} fits {paper.name}")
    for name in larger_papers(paper.name):
        larger = find_paper(name, portrait=wish.portrait)
        made = _composed(plan, larger, heights, _scales(plan, wish.scale))
        if made is not None:
            mends.append(f"{name} takes it at {made.scale.name}")
            break
    return PlannerError(
        f"{words.TITLE}: the room does not fit {paper.name} at {asked}.",
        where="paper and scale",
        mend=f"{'; '.join(mends)}." if mends else "No paper known here takes it; plan it in parts.",
    )
