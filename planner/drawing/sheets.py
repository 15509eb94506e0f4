"""The sheet set: which sheets there are, each made by one module as a pure function from `Plan` to `Sheet`.

In: a plan, a style, what somebody wishes of the sheets. Out: the sheets in order, numbered; what has no content is not
made. Every sheet knows the numbers of the others, so that it can send the reader there.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from difflib import get_close_matches
from typing import Any

from planner.drawing import (
    ceiling_plan,
    cutting_sheets,
    framing_plan,
    order_sheets,
    schedule_sheets,
    setout_plan,
    words,
)
from planner.drawing.labels import Heights
from planner.drawing.links import lead_on
from planner.drawing.place import Place
from planner.drawing.plan_sheet import Subject
from planner.drawing.plan_sheets import count_sheets
from planner.drawing.shapes import Sheet
from planner.drawing.stylebook import Style
from planner.drawing.wish import SheetWish, refuse_too_many
from planner.errors import PlannerError
from planner.planning import Plan

__all__ = ["SHEETS", "SheetWish", "draw"]

_Maker = Callable[[Plan, Style, SheetWish, Place], Sequence[Sheet]]


#: Every kind of sheet by its key, in the order of the set.
_MAKERS: dict[str, _Maker] = {
    ceiling_plan.KEY: ceiling_plan.ceiling_sheets,
    framing_plan.KEY: framing_plan.framing_sheets,
    setout_plan.KEY: setout_plan.setout_sheets,
    schedule_sheets.KEY: schedule_sheets.schedule_sheets,
    cutting_sheets.KEY: cutting_sheets.cutting_sheets,
    order_sheets.KEY: order_sheets.order_sheets,
}

#: What those with a plan show.
_SUBJECTS: dict[str, Callable[[Plan, Heights, Place], Subject | None]] = {
    ceiling_plan.KEY: ceiling_plan.subject_of,
    framing_plan.KEY: framing_plan.subject_of,
    setout_plan.KEY: setout_plan.subject_of,
}

SHEETS = tuple(_MAKERS)

#: Numbers of sheets are not known while they are counted: as wide as any.
_ANY_NUMBER = 888


@words.in_its_language
def draw(plan: Plan, style: Style, wish: SheetWish) -> tuple[Sheet, ...]:
    """The wished sheets of the set, in order; PlannerError for a sheet that is not known or does not fit its paper."""
    wanted = [key for key in SHEETS if key in _known(wish.sheets)] if wish.sheets else list(SHEETS)
    numbers: dict[str, int] = {}
    count = 0
    kept: dict[str, dict[Any, Any]] = {key: {} for key in wanted}
    pages = {key: _pages(key, plan, style, wish, wanted, kept[key]) for key in wanted}
    for key in wanted:
        if pages[key]:
            numbers[key] = count + 1
        count += pages[key]
    refuse_too_many(count, wish)
    if not numbers:
        raise PlannerError(
            f"this ceiling has nothing for {', '.join(wanted)}.",
            where="--sheets",
            mend=f"Leave --sheets out for the whole set, or choose from {', '.join(SHEETS)}.",
        )
    others = tuple(numbers.items())
    return tuple(
        replace(sheet, shapes=lead_on(sheet.shapes, numbers))
        for key, number in numbers.items()
        for sheet in _MAKERS[key](plan, style, wish, Place(number, count, others, pages[key], kept[key]))
    )


def _pages(key: str, plan: Plan, style: Style, wish: SheetWish, wanted: Sequence[str], kept: dict[Any, Any]) -> int:
    """How many sheets a kind will have: plans are arranged to know, lists are set; `kept` is for when they are made."""
    if key not in _SUBJECTS:
        return len(_MAKERS[key](plan, style, wish, Place(kept=kept)))
    place = Place(_ANY_NUMBER, _ANY_NUMBER, tuple((other, _ANY_NUMBER) for other in wanted), kept=kept)
    subject = _SUBJECTS[key](plan, Heights.of(style), place)
    return 0 if subject is None else count_sheets(plan, style, wish, place, subject)


def _known(asked: tuple[str, ...]) -> tuple[str, ...]:
    for key in asked:
        if key not in SHEETS:
            near = get_close_matches(key, SHEETS, n=1, cutoff=0.5)
            hint = f"Did you mean {near[0]}? " if near else ""
            raise PlannerError(
                f'there is no sheet "{key[:40]}".',
                where="--sheets",
                mend=f"{hint}There are: {', '.join(SHEETS)}.",
            )
    return asked
