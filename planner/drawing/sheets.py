"""The sheet set: which sheets there are, each made by one module as a pure function from `Plan` to `Sheet`.

In: a plan, a style, what somebody wishes of the sheets. Out: the sheets in order, numbered; what has no content is not
made. Every sheet knows the numbers of the others, so that it can send the reader there.
"""

from collections.abc import Callable, Sequence
from difflib import get_close_matches

from planner.drawing import ceiling_plan, cutting_sheets, framing_plan, order_sheets, schedule_sheets, setout_plan
from planner.drawing.place import Place
from planner.drawing.shapes import Sheet
from planner.drawing.stylebook import Style
from planner.drawing.wish import SheetWish
from planner.errors import PlannerError
from planner.plan import Plan

__all__ = ["SHEETS", "SheetWish", "draw"]

_Maker = Callable[[Plan, Style, SheetWish, Place], Sequence[Sheet]]


def _setout(plan: Plan, style: Style, wish: SheetWish, place: Place) -> tuple[Sheet, ...]:
    sheet = setout_plan.setout_plan(plan, style, wish, place)
    return () if sheet is None else (sheet,)


#: Every kind of sheet by its key, in the order of the set.
_MAKERS: dict[str, _Maker] = {
    ceiling_plan.KEY: lambda *given: (ceiling_plan.ceiling_plan(*given),),
    framing_plan.KEY: lambda *given: (framing_plan.framing_plan(*given),),
    setout_plan.KEY: _setout,
    schedule_sheets.KEY: schedule_sheets.schedule_sheets,
    cutting_sheets.KEY: cutting_sheets.cutting_sheets,
    order_sheets.KEY: order_sheets.order_sheets,
}

SHEETS = tuple(_MAKERS)


def draw(plan: Plan, style: Style, wish: SheetWish) -> tuple[Sheet, ...]:
    """The wished sheets of the set, in order; PlannerError for a sheet that is not known or does not fit its paper."""
    wanted = [key for key in SHEETS if key in _known(wish.sheets)] if wish.sheets else list(SHEETS)
    numbers: dict[str, int] = {}
    count = 0
    for key in wanted:
        pages = _pages(key, plan, style, wish)
        if pages:
            numbers[key] = count + 1
        count += pages
    if not numbers:
        raise PlannerError(
            f"this ceiling has nothing for {', '.join(wanted)}.",
            where="--sheets",
            mend=f"Leave --sheets out for the whole set, or choose from {', '.join(SHEETS)}.",
        )
    others = tuple(numbers.items())
    return tuple(
        sheet
        for key, number in numbers.items()
        for sheet in _MAKERS[key](plan, style, wish, Place(number, count, others))
    )


def _pages(key: str, plan: Plan, style: Style, wish: SheetWish) -> int:
    """How many sheets a kind will have; lists are set once to know."""
    if key in (ceiling_plan.KEY, framing_plan.KEY):
        return 1
    if key == setout_plan.KEY:
        return int(plan.ceiling.setout is not None)
    return len(_MAKERS[key](plan, style, wish, Place()))


def _known(asked: tuple[str, ...]) -> tuple[str, ...]:
    for key in asked:
        if key not in SHEETS:
            near = get_close_matches(key, SHEETS, n=1, cutoff=0.0)[0]
            raise PlannerError(
                f'there is no sheet "{key[:40]}".',
                where="--sheets",
                mend=f"Did you mean {near}? There are: {', '.join(SHEETS)}.",
            )
    return asked
