"""All rooms of a building: each is planned, and stock is cut and ordered for all together.

In: a `Building`. Out: a `BuildingPlan`. Each room is planned by itself; where all together take less stock if some of
them cut their runs in another way, these are planned anew (`planner.stock.agree`). Rooms that take longer than
processes take to start are planned side by side on all cores; the order of the rooms, and what comes out, is the same
as one after another, unless the time for a search runs out.
"""

from collections.abc import Sequence
from dataclasses import replace

from planner.ceiling.model import Agreed
from planner.crew import Crew
from planner.documents import pointing_into
from planner.planning import Plan, plan
from planner.records import dataclass
from planner.room.brief import Brief, StockWish
from planner.room.building import Building
from planner.stock.agree import Settled, agree, turns, worse
from planner.stock.pool import Pool, RoomStock, pool_stock

#: A room, and what it agreed on with others.
_Wanted = tuple[Brief, Agreed | None]


@dataclass(frozen=True, slots=True)
class BuildingPlan:
    """Everything computed for a building."""

    name: str
    plans: tuple[Plan, ...]  #: in the order of the file
    folders: tuple[str, ...]  #: one for each room; also what its pieces and shares are named by
    pool: Pool
    briefs: tuple[Brief, ...] = ()  #: what was asked for, room by room


def plan_building(building: Building, workers: int | None = None) -> BuildingPlan:
    """Plan every room and supply them together, on so many cores (all if None).

    PlannerError when what is wished cannot be; the first room's at fault, in the order of the file.
    """
    briefs = [replace(brief, stock=_sawn_alike(brief.stock, building.stock)) for brief in building.briefs]
    with Crew(workers) as crew:
        alone = crew.each(_planned, [(brief, None) for brief in briefs])
        plans = _agreed(briefs, alone, building.stock, crew)
    rooms = [
        RoomStock(folder, made.ceiling, brief.grid, made.stock, own.stock)
        for folder, made, brief, own in zip(building.folders, plans, briefs, alone, strict=True)
    ]
    with pointing_into(building.document):
        pooled = pool_stock(rooms, building.stock)
    return BuildingPlan(building.name, plans, building.folders, pooled, tuple(briefs))


def _sawn_alike(room: StockWish, building: StockWish) -> StockWish:
    """Keep a room's prices and spare for its own list; it is sawn as the building says."""
    return replace(
        room,
        saw_kerf=building.saw_kerf,
        reuse_from=building.reuse_from,
        long_offcuts=building.long_offcuts,
        splice_from=building.splice_from,
        staggered_splices=building.staggered_splices,
        border_tees_from_longer=building.border_tees_from_longer,
        budget_s=building.budget_s,
    )


def _agreed(briefs: Sequence[Brief], alone: Sequence[Plan], wish: StockWish, crew: Crew) -> tuple[Plan, ...]:
    """Plan anew those rooms whose runs and border tees are cut in another way, so that all rooms take less."""
    made = list(alone)
    apart = rooms = [Settled(each.ceiling, each.stock) for each in alone]
    for turn in range(turns(rooms)):
        agreed = agree(rooms, turn, wish)
        changed = [at for at, now in enumerate(agreed) if now is not None]
        anew = crew.each(_planned, [(briefs[at], agreed[at]) for at in changed])
        for at, each in zip(changed, anew, strict=True):
            made[at] = each
        rooms = [replace(room, ceiling=each.ceiling) for room, each in zip(rooms, made, strict=True)]
        rooms = [replace(room, agreed=now or room.agreed) for room, now in zip(rooms, agreed, strict=True)]
    return tuple(alone) if worse(apart, rooms, wish) else tuple(made)


def _planned(room: _Wanted) -> Plan:
    return plan(*room)
