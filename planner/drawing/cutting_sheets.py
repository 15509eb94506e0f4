"""Cutting sheets, for who stands at the saw: bars, then panels, each drawn to scale with what comes off it.

In: a plan. Out: sheets of drawings on paper, as many as they need. Each stock item and each size of panel is drawn at
its own scale, which its heading says; nothing here lies in the room, so nothing stands in a model space.
"""

from dataclasses import replace

from planner.drawing import words
from planner.drawing.cutting_bars import bar_stacks
from planner.drawing.cutting_panels import panel_stacks
from planner.drawing.cutting_patterns import lots
from planner.drawing.labels import Heights
from planner.drawing.list_sheets import ListSubject, list_sheets
from planner.drawing.papers import paper_for
from planner.drawing.place import ALONE, Place
from planner.drawing.shapes import Sheet
from planner.drawing.sheet_frame import heading_height
from planner.drawing.stylebook import Style
from planner.drawing.title_block import Given, title_block_height
from planner.drawing.wish import SheetWish
from planner.planning import Plan

KEY = "cutting"
PANELS_KEY = "cutting-panels"

#: Columns are at least so many heights of capitals wide: two on A3.
NARROWEST = 66.0
#: A panel takes at most this share of what is left of the paper's height; the rest is for words.
_TALLEST = 0.5


@words.in_its_language
def cutting_sheets(plan: Plan, style: Style, wish: SheetWish, place: Place = ALONE) -> tuple[Sheet, ...]:
    """The sheets of bars and those of panels; none of what is not cut. PlannerError when the paper is not known."""
    heights = Heights.of(style)
    units, imperial = plan.room.units, plan.room.imperial
    found = lots(plan)
    tall = tallest_panel(style, wish, plan.room.project)
    across = paper_for(style, wish).frame.width
    bars = ListSubject(
        KEY,
        words.say("sheets.cutting bars"),
        "",
        lambda width: bar_stacks(found, units, imperial, width, heights),
        NARROWEST,
        words.say("sheets.as drawn"),
        alone=True,
    )
    panels = ListSubject(
        PANELS_KEY,
        words.say("sheets.cutting panels"),
        "",
        lambda width: panel_stacks(plan, width, tall, heights, tall / _TALLEST * max(1, int(across // width))),
        NARROWEST,
        words.say("sheets.as drawn"),
        alone=True,
    )
    first = list_sheets(plan, style, wish, place, bars)
    after = replace(place, number=place.number + len(first))
    return (*first, *list_sheets(plan, style, wish, after, panels))


def tallest_panel(style: Style, wish: SheetWish, project: Given = ()) -> float:
    """How tall a panel may be drawn, millimetres on paper; PlannerError when the paper is not known."""
    heights = Heights.of(style)
    paper = paper_for(style, wish)
    return _TALLEST * (paper.frame.height - heading_height(heights) - title_block_height(heights, project))
