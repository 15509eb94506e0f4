"""All rooms of a building: each is planned, and stock is cut and ordered for all together.

In: a `Building`. Out: a `BuildingPlan`. More than a few rooms are planned side by side on all cores; the order of the
rooms, and what comes out, is the same as one after another, unless the time for a search runs out.
"""

import os
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, replace
from multiprocessing import get_context

from planner.documents import pointing_into
from planner.errors import PlannerError
from planner.planning import Plan, plan
from planner.room.brief import Brief, StockWish
from planner.room.building import Building
from planner.stock.pool import Pool, RoomStock, pool_stock

#: With so few rooms, starting processes takes longer than it saves.
FEW_ROOMS = 4


@dataclass(frozen=True, slots=True)
class BuildingPlan:
    """Everything computed for a building."""

    name: str
    plans: tuple[Plan, ...]  #: in the order of the file
    folders: tuple[str, ...]  #: one for each room; also what its pieces and shares are named by
    pool: Pool


def plan_building(building: Building, workers: int | None = None) -> BuildingPlan:
    """Plan every room and supply them together, on so many cores (all if None).

    PlannerError when what is wished cannot be; the first room's at fault, in the order of the file.
    """
    briefs = [replace(brief, stock=_sawn_alike(brief.stock, building.stock)) for brief in building.briefs]
    plans = _plan_all(briefs, os.cpu_count() or 1 if workers is None else workers)
    rooms = [
        RoomStock(folder, made.ceiling, brief.grid, made.stock)
        for folder, made, brief in zip(building.folders, plans, briefs, strict=True)
    ]
    with pointing_into(building.document):
        pooled = pool_stock(rooms, building.stock)
    return BuildingPlan(building.name, plans, building.folders, pooled)


def _sawn_alike(room: StockWish, building: StockWish) -> StockWish:
    """Keep a room's prices and spare for its own list; it is sawn as the building says."""
    return replace(
        room,
        saw_kerf=building.saw_kerf,
        reuse_from=building.reuse_from,
        long_offcuts=building.long_offcuts,
        splice_from=building.splice_from,
        budget_s=building.budget_s,
    )


def _plan_all(briefs: Sequence[Brief], workers: int) -> tuple[Plan, ...]:
    made: list[Plan | None] = [None] * len(briefs)
    if len(briefs) > FEW_ROOMS and workers > 1:
        made = _side_by_side(briefs, workers) or made
    return tuple(plan(brief) if each is None else each for brief, each in zip(briefs, made, strict=True))


def _side_by_side(briefs: Sequence[Brief], workers: int) -> list[Plan | None]:
    """Plan in processes of their own; nothing where the machine, or the program that called, allows none."""
    try:
        with ProcessPoolExecutor(min(workers, len(briefs)), mp_context=get_context("spawn")) as crew:
            return list(crew.map(_try_plan, briefs))
    except (OSError, BrokenProcessPool):
        return []


def _try_plan(brief: Brief) -> Plan | None:
    """None where a room is at fault: it is then planned again at home, which raises the error as it stands."""
    try:
        return plan(brief)
    except PlannerError:
        return None
