"""building.json and the summary of a building. Format "ceiling-building/1", described by planner/building.schema.json.

In: a `BuildingPlan`. Out: plain data, or lines of text. Millimetres as in plan.json.
"""

import json
from importlib.resources import files

from planner.building import BuildingPlan
from planner.errors import printable
from planner.proof_record import Record
from planner.record import (
    bill_record,
    cutting_record,
    findings_record,
    panel_cutting_record,
    takeoff_record,
)
from planner.report import summary

FORMAT = "ceiling-building/1"


def building_record(made: BuildingPlan) -> Record:
    """What is computed for all rooms together; what there is to heed in each room stands here too, the rest in its own
    plan.json.
    """
    pool = made.pool
    return {
        "format": FORMAT,
        "name": made.name,
        "rooms": [
            {"name": plan.room.name, "folder": folder, "findings": findings_record(plan)}
            for plan, folder in zip(made.plans, made.folders, strict=True)
        ],
        "cutting": [cutting_record(cutting) for cutting in pool.cutting],
        "panel_cutting": [panel_cutting_record(panels) for panels in pool.panels],
        "takeoff": takeoff_record(pool.takeoff),
        "bill": bill_record(pool.bill),
        "shares": [
            {"room": s.room, "item": s.item, "unit": s.unit, "alone": s.alone, "part": round(s.part, 6)}
            for s in pool.shares
        ],
        "saved": [
            {"item": s.item, "unit": s.unit, "alone": s.alone, "pooled": s.pooled, "saved": s.saved}
            for s in pool.savings
        ],
    }


def building_schema() -> Record:
    """The published JSON Schema of the record."""
    schema: Record = json.loads((files("planner") / "building.schema.json").read_text("utf-8"))
    return schema


def building_summary(made: BuildingPlan) -> str:
    """Each room, then what buying for all of them together saves."""
    savings = made.pool.savings
    lines = [printable(made.name), *(summary(plan) for plan in made.plans)]
    saved = ", ".join(f"{s.saved} {s.item} ({s.pooled} in place of {s.alone})" for s in savings if s.saved > 0)
    more = ", ".join(f"{-s.saved} {s.item} ({s.pooled} in place of {s.alone})" for s in savings if s.saved < 0)
    told = f"Cut together, the rooms save: {printable(saved) or 'nothing'}"
    return "\n".join([*lines, told + (f"; for that they take more: {printable(more)}" if more else "")])
