"""All sheets of one plan: one where it fits its paper, else an overview and the plan in parts.

In: a plan, a style, what somebody wishes, a `Subject`. Out: the sheets in order. A plan whose letters would be lost at
the scale that one sheet takes is shown in parts; so is one that does not fit at the scale that was asked for. What
would take too many parts is a PlannerError that names what would do.
"""

from collections.abc import Sequence
from dataclasses import replace

from planner.drawing.labels import Heights
from planner.drawing.papers import find_paper, larger_papers, paper_for
from planner.drawing.place import Place
from planner.drawing.plan_parts import Parting, in_parts, parted
from planner.drawing.plan_sheet import Subject, Task, arrangeable, one_sheet
from planner.drawing.scales import Scale, scale_of, standard_scales
from planner.drawing.shapes import Sheet
from planner.drawing.stylebook import Style
from planner.drawing.wish import SheetWish
from planner.errors import PlannerError
from planner.planning import Plan

#: Plans are not drawn larger than this: beyond, the letters look lost.
_LARGEST = 20.0
#: Nor smaller on one sheet if a few parts do instead: 1:100 and 1/8" to the foot are what a public building manual
#: (US Department of Veterans Affairs) asks of ceiling plans.
_SMALLEST = 100.0
#: Parts that nobody asked for by a scale; and those that are drawn at all.
FEW_PARTS = 12
MOST_PARTS = 60


def plan_sheets(plan: Plan, style: Style, wish: SheetWish, place: Place, subject: Subject) -> tuple[Sheet, ...]:
    """The sheets; PlannerError when paper or scale are not known or the plan does not fit them."""
    task = _task(plan, style, wish, place, subject)
    parting = None if place.pages == 1 else _parting(task) if place.pages else _way(task)
    if parting is not None:
        return in_parts(task, parting)
    sheet = one_sheet(task, _legible(task)) or one_sheet(task, _scales(task))
    if sheet is None:
        raise _misfit(task)
    return (sheet,)


def count_sheets(plan: Plan, style: Style, wish: SheetWish, place: Place, subject: Subject) -> int:
    """How many sheets `plan_sheets` makes, without drawing them; its errors."""
    parting = _way(_task(plan, style, wish, place, subject))
    return 1 if parting is None else 1 + len(parting.parts)


def _task(plan: Plan, style: Style, wish: SheetWish, place: Place, subject: Subject) -> Task:
    paper = paper_for(style, wish)
    return Task(plan, subject, wish, place, paper, Heights.of(style), {} if place.kept is None else place.kept)


def _way(task: Task) -> Parting | None:
    """The plan in parts, or None for one sheet; PlannerError when neither can be."""
    if arrangeable(task, _legible(task)):
        return None
    parting = _parting(task, FEW_PARTS if task.wish.scale is None else MOST_PARTS)
    if parting is not None:
        return parting
    if arrangeable(task, _scales(task)):
        return None
    parting = _parting(task)
    if parting is None:
        raise _misfit(task)
    return parting


def _parting(task: Task, most: int = MOST_PARTS) -> Parting | None:
    """The plan in at most so many parts, at the scale that was asked for or at the largest that is not too small."""
    larger = () if task.wish.scale is not None else _legible(task)[:-1]
    scales = [scale for scale in _scales(task) if scale not in larger]
    found = (parted(task, scale, most) for scale in (scales if most > FEW_PARTS else scales[:1]))
    return next((parting for parting in found if parting is not None), None)


def _scales(task: Task) -> Sequence[Scale]:
    """Every scale that may be used, largest first."""
    if task.wish.scale is not None:
        return (scale_of(task.wish.scale, task.plan.room.imperial),)
    return [s for s in standard_scales(task.plan.room.imperial) if s.denominator >= _LARGEST]


def _legible(task: Task) -> Sequence[Scale]:
    """The scales that one sheet is drawn at where that can be."""
    if task.wish.scale is not None:
        return _scales(task)
    return [s for s in _scales(task) if s.denominator <= _SMALLEST]


def _misfit(task: Task) -> PlannerError:
    """What would do instead: a smaller scale on this paper, and the next paper that takes what was asked for."""
    mends = []
    wish, paper, imperial = task.wish, task.paper, task.plan.room.imperial
    asked = f"1:{wish.scale:g}" if wish.scale is not None else "any standard scale"
    if wish.scale is not None:
        smaller = [s for s in standard_scales(imperial) if s.denominator > wish.scale]
        fitting = next(((s, how) for s in smaller if (how := _how(task, s)) is not None), None)
        if fitting is not None:
            mends.append(f"{fitting[0].name} fits {paper.name}{fitting[1]}")
    for name in larger_papers(paper.name):
        larger = task.on(replace(find_paper(name, portrait=wish.portrait), border=paper.border))
        taken = next(((s, how) for s in _scales(task) if (how := _how(larger, s)) is not None), None)
        if taken is not None:
            mends.append(f"{name} takes it at {taken[0].name}{taken[1]}")
            break
    return PlannerError(
        f"{task.subject.title}: the room does not fit {paper.name} at {asked}, not even in {MOST_PARTS} parts.",
        where="paper and scale",
        mend=f"{'; '.join(mends)}." if mends else "No paper known here takes it; plan it as several rooms.",
    )


def _how(task: Task, scale: Scale) -> str | None:
    """Nothing to add where one sheet takes the plan at a scale, or in how many parts; None where it does not fit."""
    if arrangeable(task, (scale,)):
        return ""
    parting = parted(task, scale, MOST_PARTS)
    return None if parting is None else f" in {len(parting.parts)} parts"
