"""A sheet with a plan on it: the room in a window at the largest standard scale that fits, words beside or below it.

In: a `Task`: a plan, paper, letter heights and a `Subject`, which is what is drawn at a scale and what is said beside
it. Out: one `Sheet`, or None where the plan fits at no scale, or not at the scale that was asked for.
"""

from collections.abc import Callable, Sequence
from dataclasses import field, replace
from functools import cache, partial

from planner.drawing import words
from planner.drawing.composition import Composition, Ground, compose, fits, set_words
from planner.drawing.dimensions import spoken, units_named
from planner.drawing.labels import Heights
from planner.drawing.legend import Entry, legend
from planner.drawing.match_lines import WHOLE, Seams
from planner.drawing.place import Place
from planner.drawing.roles import Role
from planner.drawing.scale_bar import scale_bar
from planner.drawing.scales import Scale
from planner.drawing.schedules import Limits, revision_table
from planner.drawing.shapes import Block, Drawing, Line, Paper, Shape, Sheet, Window
from planner.drawing.sheet_frame import frame, heading, heading_height
from planner.drawing.stop_band import status_of, stop_said, stops
from planner.drawing.strings import Surround
from planner.drawing.tables import Stack
from planner.drawing.title_block import WIDTH, Facts, title_block, title_block_height
from planner.drawing.wish import SheetWish
from planner.geometry import Box, Frame
from planner.planning import Plan
from planner.records import dataclass


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
    around: Callable[[float, Seams], Surround]  #: at a scale, in parts
    draw: Callable[[float, Surround, Seams], Drawn]
    signs: Callable[[float], list[Entry]]  #: what the legend says, at a scale
    say: Callable[[Limits, float, Sequence[str]], list[Stack]]  #: column width, remarks; without legend and scale bar
    bare: bool = False  #: far from walls and columns there is nothing to see but what runs through


@dataclass(frozen=True, slots=True)
class Task:
    """What the sheets of one plan are made from."""

    plan: Plan
    subject: Subject
    wish: SheetWish
    place: Place
    paper: Paper
    heights: Heights
    _known: dict[tuple[float, Seams], Surround] = field(default_factory=dict, repr=False, compare=False)

    @property
    def block(self) -> tuple[float, float]:
        """Width and height of the title block."""
        return min(WIDTH, self.paper.frame.width), title_block_height(self.heights, self.plan.room.project)

    def around(self, scale: float, seams: Seams = WHOLE) -> Surround:
        """What stands around the room; drawn once for each scale."""
        if (scale, seams) not in self._known:
            self._known[scale, seams] = self.subject.around(scale, seams)
        return self._known[scale, seams]

    def on(self, paper: Paper) -> "Task":
        """The same on another paper."""
        return replace(self, paper=paper)


@dataclass(frozen=True, slots=True)
class Arranged:
    """An arrangement, its scale, and how long its lists may be."""

    ground: Ground
    scale: Scale
    whole: bool
    limits: Limits


def one_sheet(task: Task, scales: Sequence[Scale]) -> Sheet | None:
    """The whole plan on one sheet, at the first of `scales` at which it fits; None where it does not."""
    found = _arranged_and_drawn(task, scales)
    if found is None:
        return None
    made, drawn = found
    beside, note = with_remarks(task, made, drawn.remarks)
    drawing = drawing_of(task.plan, drawn, made.scale)
    around = task.around(made.scale.denominator)
    window = Window(drawing, free_of_heading(made.ground.window, task.heights), middle(task.plan, around, made.scale))
    title = task.subject.title
    shapes = furniture(task, made.ground, made.scale, title, beside, f"{note} {task.subject.note}".strip())
    return Sheet(task.subject.key, title, task.paper, (window,), shapes, words.language())


def arranged(task: Task, scales: Sequence[Scale], reserve: Sequence[str] = (), signs: bool = True) -> Arranged | None:
    """The best arrangement with as many words as there is room for; None when nothing fits.

    `reserve` are remarks to keep room for; without `signs` there is no legend.
    """

    @cache
    def need(scale: Scale) -> tuple[float, float]:
        around, box = task.around(scale.denominator), task.plan.room.box
        return (
            box.width / scale.denominator + around.left + around.right,
            box.height / scale.denominator + around.bottom + around.top,
        )

    layouts = partial(
        compose, task.paper.frame, task.block, heading_height(task.heights), task.heights[Role.NOTE], need
    )
    bare = layouts(words=lambda _: (), scales=scales)
    if bare is None:
        return None
    best: tuple[float, Arranged] | None = None
    for limits, price in task.subject.limits:
        if best is not None and price * bare.price >= best[0]:
            continue  # not even without any words would it be worth it
        made = layouts(_stacks_by_width(task, limits, scales[-1].denominator, reserve, signs), scales)
        if made is not None and (best is None or price * made.price < best[0]):
            best = price * made.price, _with_limits(made, limits)
    return None if best is None else best[1]


def arrangeable(task: Task, scales: Sequence[Scale]) -> bool:
    """Whether `arranged` finds anything, which the shortest lists tell first."""
    shortest = replace(task.subject, limits=task.subject.limits[-1:])
    return arranged(replace(task, subject=shortest), scales) is not None or arranged(task, scales) is not None


def stacks_beside(
    task: Task, limits: Limits, scale: float, width: float, remarks: Sequence[str], signs: bool = True
) -> list[Stack]:
    """All that stands beside a plan: legend, what is said of it, scale bar."""
    shown = [legend(task.subject.signs(scale), width, task.heights)] if signs else []
    issues = revision_table(task.plan, width, task.heights)
    said = [*task.subject.say(limits, width, remarks), *([] if issues is None else [issues])]
    return [*shown, *said, scale_bar(scale, width, task.heights)]


def with_remarks(
    task: Task, made: Arranged, remarks: Sequence[str], signs: bool = True
) -> tuple[tuple[Shape, ...], str]:
    """The words in their columns, and a sentence about remarks that found no room among them; empty where all did.

    Lists give way to remarks: they stand elsewhere too, and what a drawing leaves out is told nowhere else.
    """
    every = [limits for limits, _ in task.subject.limits]
    for limits in (made.limits, *every[every.index(made.limits) + 1 :]):
        if (beside := _beside(task, replace(made, limits=limits), remarks, False, signs)) is not None:
            return beside, ""
    for kept in range(len(remarks) - 1, -1, -1):
        if (beside := _beside(task, made, remarks[:kept], False, signs)) is not None:
            return beside, words.say("left out.remarks", count=len(remarks) - kept)
    return (), words.say("left out.remarks", count=len(remarks)) if remarks else ""


def furniture(
    task: Task, ground: Ground, scale: Scale, title: str, beside: Sequence[Shape], note: str | None = None
) -> tuple[Shape, ...]:
    """What lies on the paper itself: frame, title block, heading, the words beside the plan."""
    facts = facts_of(task.plan, task.wish, task.paper, scale.name, task.subject.title, task.place)
    said = task.subject.note if note is None else note
    stop = stop_said(task.plan.findings, task.place)
    return (
        *frame(task.paper),
        *(Line(Role.TITLE_BLOCK, a, b) for a, b in ground.rules),
        *title_block(ground.title, facts, task.heights),
        *heading(ground.window, title, _line_of_facts(task.plan, facts), said, task.heights, stop),
        *beside,
    )


def drawing_of(plan: Plan, drawn: Drawn, scale: Scale) -> Drawing:
    """What was drawn, in the job's unit or where the room lies in the drawing that it came from."""
    unit, place = ("in" if plan.room.imperial else "mm"), Frame()
    if plan.room.placement is not None:
        unit, place = plan.room.placement.unit, plan.room.placement.frame
    return Drawing(drawn.shapes, drawn.blocks, scale.denominator, unit, scale.imperial, place)


def free_of_heading(window: Box, heights: Heights) -> Box:
    """What a heading leaves of its part of a sheet."""
    return Box(window.left, window.bottom, window.right, window.top - heading_height(heights))


def middle(plan: Plan, around: Surround, scale: Scale) -> tuple[float, float]:
    """The middle of the room with all that stands around it."""
    x, y = plan.room.box.centre
    s = scale.denominator
    return (x + s * (around.right - around.left) / 2, y + s * (around.top - around.bottom) / 2)


def facts_of(plan: Plan, wish: SheetWish, paper: Paper, scale: str, title: str, place: Place) -> Facts:
    """What the title block says; `scale` is empty on sheets without a plan."""
    return Facts(
        job=plan.room.name,
        document=title,
        scale=words.say("sheets.scale at", scale=scale, paper=paper.name) if scale else words.say("sheets.no scale"),
        paper=paper.name,
        units=units_named(plan.room.units),
        sheet=words.say("title block.sheet of", n=place.number, m=place.of),
        date=wish.date,
        project=status_of(plan.room.project, stops(plan.findings)),
    )


def _arranged_and_drawn(
    task: Task, scales: Sequence[Scale], reserve: tuple[str, ...] = (), tries: int = 4
) -> tuple[Arranged, Drawn] | None:
    """An arrangement and the plan drawn for it; None when nothing fits.

    What had to be left out is known only when the plan is drawn, and saying so takes room: then all is arranged anew.
    """
    made = arranged(task, scales, reserve)
    if made is None:
        return None
    scale = made.scale.denominator
    drawn = task.subject.draw(scale, task.around(scale), WHOLE)
    if tries == 0 or _beside(task, made, drawn.remarks, made.whole) is not None:
        return made, drawn
    more = (*reserve, *(remark for remark in drawn.remarks if remark not in reserve))
    return _arranged_and_drawn(task, scales, more, tries - 1) or (made, drawn)


def _with_limits(made: Composition, limits: Limits) -> Arranged:
    return Arranged(made.ground, made.scale, made.whole, limits)


def _stacks_by_width(
    task: Task, limits: Limits, scale: float, remarks: Sequence[str], signs: bool
) -> Callable[[float], Sequence[Stack]]:
    """Make stacks once for each width."""
    known: dict[float, Sequence[Stack]] = {}

    def stacks(width: float) -> Sequence[Stack]:
        if width not in known:
            known[width] = stacks_beside(task, limits, scale, width, remarks, signs)
        return known[width]

    return stacks


def _beside(
    task: Task, made: Arranged, remarks: Sequence[str], whole: bool, signs: bool = True
) -> tuple[Shape, ...] | None:
    """The words in their columns; None when the remarks are too much for them."""
    stacks = stacks_beside(task, made.limits, made.scale.denominator, made.ground.width, remarks, signs)
    return set_words(stacks, made.ground.columns) if fits(stacks, made.ground.columns, whole) else None


def _line_of_facts(plan: Plan, facts: Facts) -> str:
    height, told = plan.ceiling.height, {"scale": facts.scale, "units": facts.units}
    if height is None:
        return words.say("sheets.facts", **told)
    return words.say("sheets.facts with height", **told, height=spoken(height, plan.room.units))
