"""The order of a building, for the pages of all its rooms: what to buy, what that saves, whose share is what, the saw.

In: the pool and the rooms' names. Out: markup.
"""

from collections.abc import Iterator

from planner.building import BuildingPlan
from planner.drawing import words
from planner.page.lists import cutting_table, order_table, rows_table, section
from planner.page.markup import Html, element, together
from planner.planning import Plan
from planner.records import dataclass
from planner.stock.pool import Pool


@dataclass(frozen=True, slots=True)
class Building:
    """What the rooms of a building have in common."""

    name: str
    pool: Pool
    rooms: tuple[tuple[str, str], ...]  #: the name that stands before the ids of a room's pieces, and the room's own


def building_of(made: BuildingPlan) -> Building:
    """What the pages of a building share."""
    rooms = zip(made.folders, made.plans, strict=True)
    return Building(made.name, made.pool, tuple((folder, plan.room.name) for folder, plan in rooms))


def together_lists(building: Building, plan: Plan) -> Html:
    """The pooled order, in the units of the room whose page it is."""
    pool = building.pool
    order = section(words.say("building.order"), order_table(pool.takeoff, pool.bill, plan.room.imperial))
    cuttings = [
        section(words.say("page.sawing", item=words.named(each.item)), cutting_table(each, plan.room.units))
        for each in pool.cutting
    ]
    return together([order, _savings(pool), *_shares(building), *cuttings])


def _savings(pool: Pool) -> Html:
    rows = [(words.named(each.item), str(each.alone), str(each.pooled), str(each.saved)) for each in pool.savings]
    rows = [row for row in rows if row[3] != "0"]
    nothing = element("p", words.say("building.saves nothing"))
    table = rows_table(words.row("building.saving heads"), rows) if rows else nothing
    return section(words.say("building.savings"), table)


def _shares(building: Building) -> Iterator[Html]:
    for key, name in building.rooms:
        rows = [
            (words.named(each.item), str(each.alone), f"{each.part:.0%}")
            for each in building.pool.shares
            if each.room == key
        ]
        if rows:
            yield section(words.say("building.share", room=name), rows_table(words.row("building.share heads"), rows))
