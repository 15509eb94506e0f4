"""The lists of a ceiling, each as a stack for a sheet of lists: panels, services, walls, survey, order.

In: a plan and the width of a column. Out: stacks; what a ceiling has not gives none.
"""

from planner.ceiling.model import Layout
from planner.drawing import words
from planner.drawing.dimensions import written, written_pair
from planner.drawing.framing_words import runs
from planner.drawing.labels import Heights
from planner.drawing.legend import service_size
from planner.drawing.schedules import panel_schedule, quantities, written_weight
from planner.drawing.setout_words import MOST_ROWS, hang_points, marks_table
from planner.drawing.tables import Stack, compact_table, leading_to, table
from planner.drawing.wall_borders import border_text
from planner.geometry import TOLERANCE_MM, Point
from planner.planning import Plan
from planner.stock.bill import bill_sentences

#: Keys of the sheets that show what is listed here; a test holds them against the set.
CEILING_PLAN, FRAMING, SET_OUT = "ceiling-plan", "framing", "set-out"


def lists(plan: Plan, width: float, heights: Heights) -> tuple[Stack, ...]:
    """Every list that a ceiling has, in order of use."""
    found = (
        quantities(plan, width, heights),
        leading_to(panel_schedule(plan, width, None, heights), CEILING_PLAN),
        leading_to(_services(plan, width, heights), CEILING_PLAN, columns=2),
        _walls(plan, width, heights),
        _readings(plan, width, heights),
        _corners(plan, width, heights),
        leading_to(marks_table(plan, width, heights), SET_OUT),
        leading_to(hang_points(plan, width, heights), FRAMING),
        leading_to(runs(plan, width, None, heights), FRAMING),
        order_list(plan, width, heights),
    )
    return tuple(stack for stack in found if stack is not None)


def _off_the_grid(at: Point, layout: Layout, units: str) -> str:
    """How far a centre is from the grid lines left of it and below it, along the grid."""
    offs = []
    for along, module in zip(layout.frame.inward(at), layout.module, strict=True):
        off = along % module
        offs.append(0.0 if module - off < TOLERANCE_MM else off)
    return written_pair(offs, units)


def _services(plan: Plan, width: float, heights: Heights) -> Stack | None:
    """Each service with its place from the reference corner: along the base wall and away from it."""
    services = plan.ceiling.services
    if not services:
        return None
    units = plan.room.units
    rows = [
        (
            str(number),
            service.name,
            words.say(f"service kinds.{service.kind}"),
            service_size(service, units),
            " ".join(service.panels),
            written(service.at[0], units),
            written(service.at[1], units),
            _off_the_grid(service.at, plan.ceiling.layout, units),
            "" if service.weight_kg is None else written_weight(service.weight_kg, plan.room.imperial),
        )
        for number, service in enumerate(services[:MOST_ROWS], 1)
    ]
    base = plan.room.walls[0].name
    last = [words.say("services.places", wall=base, corner=plan.room.corner_names[0])]
    last += _more(len(services))
    return compact_table(
        words.say("services.heading"), "lllllrrrr", words.row("services.heads"), rows, width, heights, last
    )


def _walls(plan: Plan, width: float, heights: Heights) -> Stack:
    units, walls = plan.room.units, plan.room.walls
    rows = [
        (wall.name, written(wall.length, units), border_text(plan, wall), words.say("walls.bowed") if wall.arc else "")
        for wall in walls[:MOST_ROWS]
    ]
    return table(words.say("walls.heading"), "llll", words.row("walls.heads"), rows, width, heights, _more(len(walls)))


def _readings(plan: Plan, width: float, heights: Heights) -> Stack | None:
    """The tape readings of a taped room, each with what it should be."""
    if plan.survey is None:
        return None
    from planner.room.closing.table import reading_rows  # most rooms are not taped

    rows = reading_rows(plan.survey, plan.room.units)
    return table(words.say("survey.readings"), "lrrrl", words.row("survey.reading heads"), rows, width, heights)


def _corners(plan: Plan, width: float, heights: Heights) -> Stack | None:
    if plan.survey is None:
        return None
    from planner.room.closing.table import closing_lines, corner_rows

    rows = corner_rows(plan.survey, plan.room.units)
    last = closing_lines(plan.survey, plan.room.units)
    return table(words.say("survey.corners"), "lrrrl", words.row("survey.corner heads"), rows, width, heights, last)


def order_list(plan: Plan, width: float, heights: Heights) -> Stack | None:
    """What to buy, and in sentences what it comes to; None when there is nothing."""
    if not plan.stock.takeoff:
        return None
    rows = [
        (
            words.named(line.item),
            line.counted(line.net),
            line.counted(line.spare) if line.spare else "",
            line.amount,
            "" if line.packs is None else words.say("order.packs", packs=line.packs, size=line.pack_size),
            "" if line.weight_kg is None else written_weight(line.weight_kg, plan.room.imperial),
        )
        for line in plan.stock.takeoff
    ]
    last = bill_sentences(plan.stock.bill, plan.stock.takeoff)
    return compact_table(words.say("order.heading"), "lrrrrr", words.row("order.heads"), rows, width, heights, last)


def _more(count: int) -> list[str]:
    return [words.say("left out.rows", n=count - MOST_ROWS)] if count > MOST_ROWS else []
