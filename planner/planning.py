"""The corridor: a brief goes through the wings in order and comes out as one frozen `Plan`."""

from planner.ceiling.build import build_ceiling
from planner.ceiling.model import Agreed, Ceiling
from planner.documents import pointing_into
from planner.findings import Finding, gravest_first
from planner.records import dataclass
from planner.room.brief import Brief
from planner.room.outline import Room
from planner.room.survey import Survey
from planner.stock.buy import buy_stock
from planner.stock.model import Stock


@dataclass(frozen=True, slots=True)
class Plan:
    """Everything computed for one room."""

    room: Room
    ceiling: Ceiling
    stock: Stock
    findings: tuple[Finding, ...]  #: about what was measured and what will be built, the gravest first
    survey: Survey | None = None  #: of a taped room


def plan(brief: Brief, agreed: Agreed | None = None) -> Plan:
    """Carry a brief through every wing; each value below is final once made.

    `agreed` is what was chosen for this room and others together, once each was planned by itself.
    PlannerError when what is wished cannot be; it points into the room file, when there is one.
    """
    with pointing_into(brief.document):
        ceiling = build_ceiling(brief, agreed)
        stock = buy_stock(ceiling, brief.stock, brief.grid)
    findings = gravest_first((*brief.findings, *ceiling.findings))
    return Plan(brief.room, ceiling, stock, findings, brief.survey)
