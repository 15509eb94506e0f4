"""The lists of a ceiling, each as a stack for a sheet of lists: panels, services, walls, survey, order.

In: a plan and the width of a column. Out: stacks; what a ceiling has not gives none.
"""

from collections.abc import Iterator, Sequence

from shapely.geometry import Point as Spot
from shapely.geometry import Polygon

from planner.ceiling.members.trim import bent_places
from planner.drawing import words
from planner.drawing.dimensions import spoken, written, written_pair
from planner.drawing.framing_words import runs
from planner.drawing.labels import Heights
from planner.drawing.legend import service_size
from planner.drawing.lettering import clean
from planner.drawing.schedules import panel_schedule, quantities, written_weight
from planner.drawing.setout_words import MOST_ROWS, furring_places, hang_points, marks_table
from planner.drawing.tables import Stack, compact_table, leading_to, table
from planner.drawing.wall_borders import border_text
from planner.geometry import TOLERANCE_MM, Point
from planner.planning import Plan
from planner.stock.bill import bill_sentences
from planner.stock.model import TakeOffLine

#: So many services are told that were moved; what is moved by less stands where it was wished.
_MOST_MOVED, _LEAST_MOVE_MM = 12, 1.0

#: Keys of the sheets that show what is listed here; a test holds them against the set.
CEILING_PLAN, FRAMING, SET_OUT = "ceiling-plan", "framing", "set-out"


def lists(plan: Plan, width: float, heights: Heights, building: str = "") -> tuple[Stack, ...]:
    """Every list that a ceiling has, in order of use; `building` is that whose rooms are supplied together."""
    found = (
        quantities(plan, width, heights),
        leading_to(panel_schedule(plan, width, None, heights), CEILING_PLAN),
        leading_to(_services(plan, width, heights), CEILING_PLAN, columns=2),
        _walls(plan, width, heights),
        _readings(plan, width, heights),
        _corners(plan, width, heights),
        leading_to(marks_table(plan, width, heights), SET_OUT),
        leading_to(hang_points(plan, width, heights), FRAMING),
        leading_to(furring_places(plan, width, heights), FRAMING),
        leading_to(runs(plan, width, None, heights), FRAMING),
        order_list(plan, width, heights, building),
    )
    return tuple(stack for stack in found if stack is not None)


def _off_the_grid(at: Point, plan: Plan) -> str:
    """How far a centre is from the grid lines left of it and in front of it, along the grid; from the next line, with a
    minus, where that one lies outside of the room. Empty where no line is beside it.
    """
    layout = plan.ceiling.layout
    spot, offs = layout.frame.inward(at), []
    for axis, module in enumerate(layout.module):
        over = spot[axis] % module
        over = 0.0 if module - over < TOLERANCE_MM else over
        seen = (off for off in (over, over - module) if _in_room(spot, axis, off, plan))
        offs.append(next(seen, None))
    return "" if None in offs else written_pair([off for off in offs if off is not None], plan.room.units)


def _in_room(spot: Point, axis: int, off: float, plan: Plan) -> bool:
    """Whether a grid line so far from a spot lies in the room there, and in no column; `spot` in the grid's frame."""
    line = (spot[0] - off, spot[1]) if axis == 0 else (spot[0], spot[1] - off)
    foot = Spot(plan.ceiling.layout.frame.outward(line))
    if any(Polygon(column.outline).contains(foot) for column in plan.room.columns):
        return False
    return Polygon(plan.room.outline).distance(foot) <= TOLERANCE_MM


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
            _off_the_grid(service.at, plan),
            "" if service.weight_kg is None else written_weight(service.weight_kg, plan.room.imperial),
        )
        for number, service in enumerate(services[:MOST_ROWS], 1)
    ]
    base = plan.room.walls[0].name
    last = [words.say("services.places", wall=base, corner=plan.room.corner_names[0])]
    if any("-" in row[7] for row in rows):
        last.append(words.say("services.minus"))
    last += [*_moved(plan), *_more(len(services))]
    return compact_table(
        words.say("services.heading"), "lllllrrrr", words.row("services.heads"), rows, width, heights, last
    )


def _moved(plan: Plan) -> Iterator[str]:
    """Which services stand elsewhere than wished, and by how much; of many the first."""
    moved = [service for service in plan.ceiling.services if service.moved >= _LEAST_MOVE_MM]
    if moved:
        named = [f"{clean(each.name)} {spoken(each.moved, plan.room.units)}" for each in moved[:_MOST_MOVED]]
        more = [words.say("services.more moved", n=len(moved) - len(named))] if len(moved) > len(named) else []
        yield words.say("services.moved", moves=", ".join([*named, *more]))


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

    heads, rows = _unit_in_heads(words.row("survey.reading heads"), reading_rows(plan.survey, plan.room.units))
    return table(words.say("survey.readings"), "lrrrl", heads, rows, width, heights)


def _corners(plan: Plan, width: float, heights: Heights) -> Stack | None:
    if plan.survey is None:
        return None
    from planner.room.closing.table import closing_lines, corner_rows

    heads, rows = _unit_in_heads(words.row("survey.corner heads"), corner_rows(plan.survey, plan.room.units))
    last = closing_lines(plan.survey, plan.room.units)
    return table(words.say("survey.corners"), "lrrrl", heads, rows, width, heights, last)


def _unit_in_heads(
    heads: tuple[str, ...], rows: Sequence[tuple[str, ...]]
) -> tuple[tuple[str, ...], list[tuple[str, ...]]]:
    """A table whose columns of millimetres have the unit in their head once; 0 has none anyway."""
    unit = words.say("units.short mm")
    columns = []
    for head, cells in zip(heads, zip(*(map(words.translated, row) for row in rows), strict=True), strict=True):
        told = all(cell == "0" or cell.endswith(f" {unit}") for cell in cells) and set(cells) != {"0"}
        columns.append(
            (f"{head}, {unit}" if told else head, [c.removesuffix(f" {unit}") if told else c for c in cells])
        )
    return tuple(head for head, _ in columns), list(zip(*(cells for _, cells in columns), strict=True))


def order_list(plan: Plan, width: float, heights: Heights, building: str = "") -> Stack | None:
    """What to buy, and in sentences what it comes to; None when there is nothing."""
    if not plan.stock.takeoff:
        return None
    rows = [
        (
            words.translated(line.named),
            line.counted(line.net),
            *(line.counted(number) if number else "" for number in (line.spare, line.for_owner, line.on_hand)),
            line.amount,
            packs_said(line),
            "" if line.weight_kg is None else written_weight(line.weight_kg, plan.room.imperial),
            "" if line.cost is None else f"{line.cost:,.2f}",
        )
        for line in plan.stock.takeoff
    ]
    last = [*bill_sentences(plan.stock.bill, plan.stock.takeoff)]
    if not any(line.spare for line in plan.stock.takeoff):
        last.insert(0, words.say("order.no spare"))
    if bent := bent_places(plan.ceiling.members, plan.room):
        last.insert(0, words.say("order.curved", places=", ".join(bent)))
    if building:
        last.insert(0, words.say("order.building order", building=clean(building)))
    heading = words.say("order.this room" if building else "order.heading")
    return compact_table(heading, "lrrrrrrrr", words.row("order.heads"), rows, width, heights, last)


def packs_said(line: TakeOffLine) -> str:
    """How many packs of what size, and what they hold; empty where it is sold by the piece."""
    if line.packs is None:
        return ""
    return words.say("order.packs", packs=line.packs, size=line.pack_size, all=line.bought)


def _more(count: int) -> list[str]:
    return [words.say("left out.rows", n=count - MOST_ROWS)] if count > MOST_ROWS else []
