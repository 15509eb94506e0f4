"""The lists of a ceiling on sheets of their own: cut panels, services, walls, survey, order, cutting."""

from planner.drawing import words
from planner.drawing.labels import Heights
from planner.drawing.list_sheets import NARROWEST, ListSubject, list_sheets
from planner.drawing.lists import lists
from planner.drawing.place import ALONE, Place
from planner.drawing.schedules import SCHEDULES
from planner.drawing.shapes import Sheet
from planner.drawing.stylebook import Style
from planner.drawing.tables import Stack
from planner.drawing.wish import SheetWish
from planner.planning import Plan

KEY = SCHEDULES
#: Lengths in both systems take so much more room.
_DUAL = 1.4


@words.in_its_language
def schedule_sheets(plan: Plan, style: Style, wish: SheetWish, place: Place = ALONE) -> tuple[Sheet, ...]:
    """As many sheets as the lists need; PlannerError when the paper is not known."""
    heights = Heights.of(style)
    narrowest = NARROWEST * (_DUAL if words.dual() else 1.0)

    def say(width: float) -> tuple[Stack, ...]:
        return lists(plan, width, heights, wish.building)

    subject = ListSubject(KEY, words.say("sheets.schedules"), "", say, narrowest)
    return list_sheets(plan, style, wish, place, subject)
