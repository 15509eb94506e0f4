"""The sheet set: which sheets there are, each made by one module as a pure function from `Plan` to `Sheet`."""

from planner.drawing.ceiling_plan import ceiling_plan
from planner.drawing.shapes import Sheet
from planner.drawing.stylebook import Style
from planner.drawing.wish import SheetWish
from planner.plan import Plan

__all__ = ["SheetWish", "draw"]

_MAKERS = (ceiling_plan,)


def draw(plan: Plan, style: Style, wish: SheetWish) -> tuple[Sheet, ...]:
    """Every sheet of the set, in order."""
    return tuple(make(plan, style, wish) for make in _MAKERS)
