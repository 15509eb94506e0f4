"""The corridor: a brief goes through the wings in order and comes out as one frozen `Plan`."""

from dataclasses import dataclass

from planner.ceiling.build import build_ceiling
from planner.ceiling.model import Ceiling
from planner.documents import pointing_into
from planner.findings import Finding
from planner.room.brief import Brief
from planner.room.outline import Room
from planner.stock.buy import buy_stock
from planner.stock.model import Stock


@dataclass(frozen=True, slots=True)
class Plan:
    """Everything computed for one room."""

    room: Room
    ceiling: Ceiling
    stock: Stock
    findings: tuple[Finding, ...]


def plan(brief: Brief) -> Plan:
    """Carry a brief through every wing; each value below is final once made.

    PlannerError when what is wished cannot be; it points into the room file, when there is one.
    """
    with pointing_into(brief.document):
        ceiling = build_ceiling(brief)
        stock = buy_stock(ceiling, brief.stock)
    return Plan(brief.room, ceiling, stock, ceiling.findings)
