"""The part of a plan's record that is compared, and where it comes from: a plan.json, or a room file that is planned.

In: a path, or a plan. Out: a `PlanRecord`; InputError for a file that is neither. Keys that are not compared, and those
that a later version may add, are passed over.
"""

import json
import os
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from planner.documents import read_document, refuse
from planner.errors import Complaint, InputError
from planner.limits import USUAL, Limits, raising
from planner.planning import Plan, plan
from planner.record import FORMAT, record_of
from planner.room.reader import brief_from
from planner.wording import worded

#: Numbers beyond this are no length, weight or count of any ceiling.
FURTHEST = 1e12

Number = Annotated[float, Field(allow_inf_nan=False, ge=-FURTHEST, le=FURTHEST)]
Whole = Annotated[int, Field(ge=-FURTHEST, le=FURTHEST)]
Pair = tuple[Number, Number]


class _Part(BaseModel):
    model_config = ConfigDict(extra="ignore", frozen=True)


class RoomPart(_Part):
    name: str
    units: Literal["ft-in", "in", "mm", "cm", "m"] = "mm"
    corners: dict[str, Pair]
    area_mm2: Number


class BorderPart(_Part):
    min: Number
    max: Number


class LayoutPart(_Part):
    module_mm: Pair
    origin_mm: Pair
    angle_deg: Number
    borders_mm: dict[str, BorderPart]
    smallest_cut_mm: Number | None
    full_panels: Whole
    cut_panels: Whole


class CutOutPart(_Part):
    service: str
    shape: str
    size_mm: Pair


class PanelPart(_Part):
    id: str
    cut_to_mm: Pair
    taper_mm: Number = 0.0
    cutouts: tuple[CutOutPart, ...] = ()


class PiecePart(_Part):
    stock: str
    length_mm: Number
    ends: tuple[str, ...] = ()

    @property
    def whole(self) -> bool:
        """It is used as it is sold."""
        return self.ends == ("factory", "factory")


class MemberPart(_Part):
    id: str
    kind: str
    start_mm: Pair
    end_mm: Pair
    length_mm: Number
    pieces: tuple[PiecePart, ...]

    @property
    def whole(self) -> bool:
        """It is a single piece that is used as it is sold."""
        return len(self.pieces) == 1 and self.pieces[0].whole


class HangerPart(_Part):
    id: str
    at_mm: Pair
    kind: str
    wire_mm: Number | None = None


class ServicePart(_Part):
    name: str
    kind: str
    at_mm: Pair
    size_mm: Pair


class OrderPart(_Part):
    item: str
    unit: str = "piece"
    net: Whole
    spare: Whole
    order: Whole
    packs: Whole | None = None
    weight_kg: Number | None = None
    cost: Number | None = None


class BillPart(_Part):
    currency: str | None = None
    material: Number | None = None
    total: Number | None = None


class FindingPart(_Part):
    severity: str
    rule: str
    message: str


class PlanRecord(_Part):
    """What is compared of a record; millimetres, points in the room frame."""

    room: RoomPart
    layout: LayoutPart
    panels: tuple[PanelPart, ...]
    members: tuple[MemberPart, ...]
    hangers: tuple[HangerPart, ...]
    services: tuple[ServicePart, ...]
    takeoff: tuple[OrderPart, ...]
    bill: BillPart = BillPart()
    findings: tuple[FindingPart, ...]


def record_from(made: Plan) -> PlanRecord:
    """The record of a plan, as its plan.json would have it."""
    return PlanRecord.model_validate(record_of(made))


def record_in(path: str | os.PathLike[str], reach: str | os.PathLike[str] = "", limits: Limits = USUAL) -> PlanRecord:
    """The record in a plan.json, or that of a room file once planned; InputError for anything else.

    `reach` and `limits` are as for `planner.documents.read_document`.
    """
    file = os.fspath(path)
    if file.lower().endswith(".json"):
        data = _json(file, limits)
        if isinstance(data, dict) and "format" in data:
            return _checked(file, data)
        if not (isinstance(data, dict) and ("room" in data or "rooms" in data)):
            raise _no_plan(file, f'it has no "format": "{FORMAT}"')
    return record_from(plan(brief_from(read_document(path, reach, limits))))


def _json(file: str, limits: Limits) -> Any:
    try:
        with open(file, "rb") as stream:
            content = stream.read(limits.record + 1)
    except (OSError, ValueError) as error:
        problem = f"the file cannot be read: {getattr(error, 'strerror', None) or error}."
        raise InputError((Complaint("", problem, "Name a room file or a plan.json.", file=file),)) from error
    if len(content) > limits.record:
        raise _no_plan(file, f"it is larger than {limits.record:,} bytes", raising("record", 2 * limits.record))
    try:
        return json.loads(content)
    except (ValueError, RecursionError) as error:
        raise _no_plan(file, "it is not JSON") from error


def _checked(file: str, data: dict[str, Any]) -> PlanRecord:
    if data["format"] != FORMAT:
        mend = "Compare the plan.json of each of its rooms." if data["format"] == "ceiling-building/1" else ""
        raise _no_plan(file, f'its format is "{str(data["format"])[:40]}", not "{FORMAT}"', mend)
    try:
        return PlanRecord.model_validate(data)
    except ValidationError as error:
        faults = (worded(details, PlanRecord, data) for details in error.errors(include_url=False))
        refuse(
            Complaint(_place(fault.path), fault.problem, "Write it anew: planner plan.", file=file) for fault in faults
        )
        raise AssertionError("a fault without a complaint") from error


def _place(path: tuple[str | int, ...]) -> str:
    return " › ".join(str(step + 1) if isinstance(step, int) else step for step in path)


def _no_plan(file: str, why: str, mend: str = "") -> InputError:
    mend = mend or "Name a room file, or a plan.json that `planner plan` wrote."
    return InputError((Complaint("", f"this is no plan: {why}.", mend, file=file),))
