"""A sheet with a plan on it: the room in a window at the largest standard scale that fits, words beside or below it.

In: a plan, a style, what somebody wishes of the sheet, and a `Subject`: what is drawn at a scale and what is said
beside it. Out: one `Sheet`. A plan that fits at no scale, or not at the scale that was asked for, is a PlannerError
that names what would do.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from planner.drawing import words
from planner.drawing.composition import Ground, compose, fits, set_words
from planner.drawing.labels import Heights
from planner.drawing.papers import find_paper, larger_papers
from planner.drawing.place import Place
from planner.drawing.roles import Role
from planner.drawing.scales import Scale, scale_of, standard_scales
from planner.drawing.schedules import Limits, written_long
from planner.drawing.shapes import Block, Drawing, Line, Paper, Shape, Sheet, Window
from planner.drawing.sheet_frame import frame, heading, heading_height
from planner.drawing.strings import Surround
from planner.drawing.stylebook import Style
from planner.drawing.tables import Stack
from planner.drawing.title_block import WIDTH, Facts, title_block, title_block_height
from planner.drawing.wish import SheetWish
from planner.errors import PlannerError
from planner.geometry import Box, Frame
from planner.plan import Plan

#: Plans are not drawn larger than this: beyond, the letters look lost.
_LARGEST = 20.0


@dataclass(frozen=True, slots=True)
class Drawn:
    """The plan as shapes in the room, lettered for one scale, and sentences about what had to be left out."""

    shapes: tuple[Shape, ...]
    blocks: tuple[Block, ...]
    remarks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Subject:
    """What one kind of sheet shows."""

    key: str
    title: str
    note: str  #: below the heading, two lines at most
    limits: Sequence[tuple[Limits, float]]  #: from generous to scarce; the plan must become so much larger for it
    around: Callable[[float], Surround]  #: at a scale
    draw: Callable[[float, Surround], Drawn]
    say: Callable[[Limits, float, float, Sequence[str]], list[Stack]]  #: scale, column width, remarks


@dataclass(frozen=True, slots=True)
class _Made:
    """An arrangement, its scale, and how long its lists may be."""

    ground: Ground
    scale: Scale
    whole: bool
    limits: Limits


def plan_sheet(plan: Plan, style: Style, wish: SheetWish, place: Place, subject: Subject) -> Sheet:
    """The sheet; PlannerError when paper or scale are not known or the plan does not fit them."""
    paper = find_paper(wish.paper or style.paper, portrait=wish.portrait)
    heights = Heights.of(style)
    subject = _remembering(subject)
    found = _made_and_drawn(plan, paper, heights, _scales(plan, wish.scale), subject)
    if found is None:
        raise _misfit(plan, paper, heights, wish, subject)
    made, drawn = found
    facts = facts_of(plan, wish, paper, made.scale.name, subject.title, place)
    return _sheet(plan, paper, heights, made, drawn, facts, subject)


def facts_of(plan: Plan, wish: SheetWish, paper: Paper, scale: str, title: str, place: Place) -> Facts:
    """What the title block says; `scale` is empty on sheets without a plan."""
    return Facts(
        job=plan.room.name,
        document=title,
        scale=f"{scale} {words.AT} {paper.name}" if scale else words.NO_SCALE,
        paper=paper.name,
        units=words.UNIT_NAMES[plan.room.units],
        sheet=words.SHEET_OF.format(n=place.number, m=place.of),
        date=wish.date,
        project=plan.room.project,
    )


def _remembering(subject: Subject) -> Subject:
    """The same subject; what stands around the room is drawn once for each scale."""
    known: dict[float, Surround] = {}

    def around(scale: float) -> Surround:
        if scale not in known:
            known[scale] = subject.around(scale)
        return known[scale]

    return replace(subject, around=around)


def _made_and_drawn(
    plan: Plan,
    paper: Paper,
    heights: Heights,
    scales: Sequence[Scale],
    subject: Subject,
    reserve: tuple[str, ...] = (),
    tries: int = 4,
) -> tuple[_Made, Drawn] | None:
    """An arrangement and the plan drawn for it; None when nothing fits.

    What had to be left out is known only when the plan is drawn, and saying so takes room: then all is arranged anew.
    """
    made = _composed(plan, paper, heights, scales, subject, reserve)
    if made is None:
        return None
    drawn = subject.draw(made.scale.denominator, subject.around(made.scale.denominator))
    if tries == 0 or _beside(subject, made, drawn.remarks, made.whole) is not None:
        return made, drawn
    more = (*reserve, *(remark for remark in drawn.remarks if remark not in reserve))
    return _made_and_drawn(plan, paper, heights, scales, subject, more, tries - 1) or (made, drawn)


def _scales(plan: Plan, asked: float | None) -> Sequence[Scale]:
    if asked is not None:
        return (scale_of(asked, plan.room.imperial),)
    return [s for s in standard_scales(plan.room.imperial) if s.denominator >= _LARGEST]


def _composed(
    plan: Plan,
    paper: Paper,
    heights: Heights,
    scales: Sequence[Scale],
    subject: Subject,
    reserve: Sequence[str] = (),
) -> _Made | None:
    """The best arrangement with as many words as there is room for."""
    block = (min(WIDTH, paper.frame.width), title_block_height(heights))
    head = heading_height(heights)

    def need(scale: Scale) -> tuple[float, float]:
        around, box = subject.around(scale.denominator), plan.room.box
        return (
            box.width / scale.denominator + around.left + around.right,
            box.height / scale.denominator + around.bottom + around.top,
        )

    found: list[tuple[float, _Made]] = []
    for limits, price in subject.limits:
        stacks = _stacks_by_width(subject, limits, scales[-1].denominator, reserve)
        made = compose(paper.frame, block, head, heights[Role.NOTE], need, stacks, scales)
        if made is not None:
            found.append((price * made.price, _Made(made.ground, made.scale, made.whole, limits)))
    return min(found, key=lambda item: item[0])[1] if found else None


def _stacks_by_width(
    subject: Subject, limits: Limits, scale: float, remarks: Sequence[str]
) -> Callable[[float], Sequence[Stack]]:
    """Make stacks once for each width."""
    known: dict[float, Sequence[Stack]] = {}

    def stacks(width: float) -> Sequence[Stack]:
        if width not in known:
            known[width] = subject.say(limits, scale, width, remarks)
        return known[width]

    return stacks


def _beside(subject: Subject, made: _Made, remarks: Sequence[str], whole: bool) -> tuple[Shape, ...] | None:
    """The words in their columns; None when the remarks are too much for them."""
    stacks = subject.say(made.limits, made.scale.denominator, made.ground.width, remarks)
    return set_words(stacks, made.ground.columns) if fits(stacks, made.ground.columns, whole) else None


def _sheet(
    plan: Plan, paper: Paper, heights: Heights, made: _Made, drawn: Drawn, facts: Facts, subject: Subject
) -> Sheet:
    ground, scale = made.ground, made.scale
    beside = _beside(subject, made, drawn.remarks, False) or _beside(subject, made, (), False) or ()
    unit, place = ("in" if plan.room.imperial else "mm"), Frame()
    if plan.room.placement is not None:  # it lies where the room lies in the drawing that it came from
        unit, place = plan.room.placement.unit, plan.room.placement.frame
    drawing = Drawing(drawn.shapes, drawn.blocks, scale.denominator, unit, scale.imperial, place)
    shapes = (
        *frame(paper),
        *(Line(Role.TITLE_BLOCK, a, b) for a, b in ground.rules),
        *title_block(ground.title, facts, heights),
        *heading(ground.window, subject.title, _line_of_facts(plan, facts), subject.note, heights),
        *beside,
    )
    window = _window(plan, drawing, subject.around(scale.denominator), ground.window, heights)
    return Sheet(subject.key, subject.title, paper, (window,), shapes)


def _window(plan: Plan, drawing: Drawing, around: Surround, box: Box, heights: Heights) -> Window:
    """The plan in the middle of what its heading leaves."""
    free = Box(box.left, box.bottom, box.right, box.top - heading_height(heights))
    room, s = plan.room.box, drawing.scale
    middle = (
        room.centre[0] + s * (around.right - around.left) / 2,
        room.centre[1] + s * (around.top - around.bottom) / 2,
    )
    return Window(drawing, free, middle)


def _line_of_facts(plan: Plan, facts: Facts) -> str:
    height = plan.room.ceiling_height
    level = "" if height is None else f"; {words.CEILING_HEIGHT.lower()} {written_long(height, plan.room.units)}"
    return f"{words.SCALE} {facts.scale}{level}"


def _misfit(plan: Plan, paper: Paper, heights: Heights, wish: SheetWish, subject: Subject) -> PlannerError:
    """What would do instead: a smaller scale on this paper, and the next paper that takes what was asked for."""
    mends = []
    asked = f"1:{wish.scale:g}" if wish.scale is not None else "any standard scale"
    if wish.scale is not None:
        made = _composed(plan, paper, heights, _scales(plan, None), subject)
        if made is not None:
            mends.append(f"{made.scale.name} fits {paper.name}")
    for name in larger_papers(paper.name):
        larger = find_paper(name, portrait=wish.portrait)
        made = _composed(plan, larger, heights, _scales(plan, wish.scale), subject)
        if made is not None:
            mends.append(f"{name} takes it at {made.scale.name}")
            break
    return PlannerError(
        f"{subject.title}: the room does not fit {paper.name} at {asked}.",
        where="paper and scale",
        mend=f"{'; '.join(mends)}." if mends else "No paper known here takes it; plan it in parts.",
    )
