"""The lists of a ceiling, each as a stack for a sheet of lists: panels, services, walls, survey, order.

In: a plan and the width of a column. Out: stacks; what a ceiling has not gives none.
"""

from planner.drawing import words
from planner.drawing.dimensions import written
from planner.drawing.framing_words import runs
from planner.drawing.labels import Heights
from planner.drawing.legend import service_size
from planner.drawing.schedules import panel_schedule, quantities, written_weight
from planner.drawing.setout_words import MOST_ROWS, hang_points, marks_table
from planner.drawing.tables import Stack, compact_table, table
from planner.drawing.wall_borders import border_text
from planner.plan import Plan
from planner.room.closing.table import closing_lines, corner_rows, reading_rows
from planner.room.service_kinds import KINDS


def lists(plan: Plan, width: float, heights: Heights) -> tuple[Stack, ...]:
    """Every list that a ceiling has, in order of use."""
    found = (
        quantities(plan, width, heights),
        panel_schedule(plan, width, None, heights),
        _services(plan, width, heights),
        _walls(plan, width, heights),
        _readings(plan, width, heights),
        _corners(plan, width, heights),
        marks_table(plan, width, heights),
        hang_points(plan, width, heights),
        runs(plan, width, None, heights),
        _order(plan, width, heights),
    )
    return tuple(stack for stack in found if stack is not None)


def _services(plan: Plan, width: float, heights: Heights) -> Stack | None:
    """Each service with its place from the reference corner: along the base wall and away from it."""
    services = plan.ceiling.services
    if not services:
        return None
    units = plan.room.units
    rows = [
        (
            service.name,
            KINDS[service.kind].label,
            service_size(service, units),
            " ".join(service.panels),
            written(service.at[0], units),
            written(service.at[1], units),
            "" if service.weight_kg is None else written_weight(service.weight_kg, plan.room.imperial),
        )
        for service in services[:MOST_ROWS]
    ]
    base = plan.room.walls[0].name
    last = [words.SERVICE_PLACES.format(wall=base, corner=plan.room.corner_names[0])]
    last += _more(len(services))
    return compact_table(words.SERVICES, "llllrrr", words.SERVICE_HEADS, rows, width, heights, last)


def _walls(plan: Plan, width: float, heights: Heights) -> Stack:
    units, walls = plan.room.units, plan.room.walls
    rows = [
        (wall.name, written(wall.length, units), border_text(plan, wall), words.BOWED if wall.arc else "")
        for wall in walls[:MOST_ROWS]
    ]
    return table(words.WALLS, "llll", words.WALL_HEADS, rows, width, heights, _more(len(walls)))


def _readings(plan: Plan, width: float, heights: Heights) -> Stack | None:
    """The tape readings of a taped room, each with what it should be."""
    if plan.survey is None:
        return None
    rows = reading_rows(plan.survey, plan.room.units)
    return table(words.READINGS, "lrrrl", words.READING_HEADS, rows, width, heights)


def _corners(plan: Plan, width: float, heights: Heights) -> Stack | None:
    if plan.survey is None:
        return None
    rows = corner_rows(plan.survey, plan.room.units)
    last = closing_lines(plan.survey, plan.room.units)
    return table(words.CORNERS, "lrrrl", words.CORNER_HEADS, rows, width, heights, last)


def _order(plan: Plan, width: float, heights: Heights) -> Stack | None:
    """What to buy."""
    if not plan.stock.takeoff:
        return None
    rows = [
        (
            line.item,
            str(line.net),
            str(line.spare) if line.spare else "",
            line.amount,
            "" if line.packs is None else words.PACKS.format(packs=line.packs, size=line.pack_size),
            "" if line.weight_kg is None else written_weight(line.weight_kg, plan.room.imperial),
        )
        for line in plan.stock.takeoff
    ]
    return compact_table(words.ORDER, "lrrrrr", words.ORDER_HEADS, rows, width, heights)


def _more(count: int) -> list[str]:
    return [words.MORE_ROWS.format(n=count - MOST_ROWS)] if count > MOST_ROWS else []
