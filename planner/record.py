"""plan.json: everything computed, for programs. Format "ceiling-plan/1", described by planner/plan.schema.json.

In: a `Plan`. Out: plain data. Millimetres to a ten-thousandth, degrees, points in the room frame. A value that was not
computed is null, never an empty list.
"""

import json
from collections.abc import Iterable
from importlib.resources import files

from planner.ceiling.model import Brace, Ceiling, Hanger, Layout, Loads, Member, Panel, SetOut
from planner.ceiling.order import order_of_work
from planner.geometry import Point, Ring
from planner.planning import Plan
from planner.proof_record import Record, border_tees_record, certificate_record
from planner.room.survey import Survey, Suspect, line_name
from planner.stock.model import Bill, Cutting, PanelCutting, TakeOffLine

FORMAT = "ceiling-plan/1"


def record_of(plan: Plan) -> Record:
    """The whole plan as JSON-ready data."""
    return {
        "format": FORMAT,
        "room": _room(plan),
        "layout": _layout(plan.ceiling.layout),
        "panels": [_panel(panel) for panel in plan.ceiling.panels],
        "members": [_member(member) for member in plan.ceiling.members],
        "hangers": [_hanger(hanger) for hanger in plan.ceiling.hangers],
        "braces_mm": [_point(at) for at in plan.ceiling.braces],
        "brace": _brace(plan.ceiling),
        "loads": None if plan.ceiling.loads is None else _loads(plan.ceiling.loads),
        "services": _services(plan.ceiling),
        "cutting": [cutting_record(cutting) for cutting in plan.stock.cutting],
        "border_tees": None if plan.ceiling.border_tees is None else border_tees_record(plan.ceiling.border_tees),
        "panel_cutting": None if plan.stock.panels is None else panel_cutting_record(plan.stock.panels),
        "takeoff": takeoff_record(plan.stock.takeoff),
        "bill": bill_record(plan.stock.bill),
        **_setout(plan.ceiling.setout),
        "order_of_work": list(order_of_work(plan.room, plan.ceiling, plan.findings)),
        "findings": findings_record(plan),
    }


def plan_schema() -> Record:
    """The published JSON Schema of the record."""
    schema: Record = json.loads((files("planner") / "plan.schema.json").read_text("utf-8"))
    return schema


def _room(plan: Plan) -> Record:
    room = plan.room
    return {
        "name": room.name,
        "units": room.units,
        "corners": {name: _point(at) for name, at in room.corners.items()},
        "outline_mm": _ring(room.outline),
        "holes_mm": [_ring(column.outline) for column in room.columns],
        "area_mm2": _number(room.area),
        "perimeter_mm": _number(room.perimeter),
        "survey": None if plan.survey is None else _survey(plan.survey),
    }


def _survey(survey: Survey) -> Record:
    return {
        "readings": [
            {
                "between": reading.name,
                "taped_mm": _number(reading.taped),
                "adjusted_mm": _number(reading.adjusted),
                "residual_mm": _number(reading.residual),
            }
            for reading in survey.readings
        ],
        "redundancy": survey.redundancy,
        "suspect": None if survey.suspect is None else _suspect(survey.suspect),
        "accuracy_mm": {name: _number(accuracy.radius) for name, accuracy in survey.accuracy.items()},
        "out_of_square_mm": {name: _number(off) for name, off in survey.out_of_square.items()},
    }


def _suspect(suspect: Suspect) -> Record:
    return {
        "between": line_name(suspect.between),
        "taped_mm": _number(suspect.taped),
        "proposed_mm": _number(suspect.proposed),
        "explanation": suspect.explanation,
    }


def _layout(layout: Layout) -> Record:
    return {
        "module_mm": _point(layout.module),
        "origin_mm": _point(layout.frame.origin),
        "angle_deg": _number(layout.frame.angle_deg),
        "borders_mm": {
            border.wall: {"min": _number(border.least), "max": _number(border.most)} for border in layout.borders
        },
        "smallest_cut_mm": None if layout.smallest_cut is None else _number(layout.smallest_cut),
        "narrowest_panel_mm": None if layout.narrowest_panel is None else _number(layout.narrowest_panel),
        "full_panels": layout.full_panels,
        "cut_panels": len(layout.cut_panels),
        "closed_by_ledge": [
            {"outline_mm": _ring(closed.outline), "holes_mm": [_ring(hole) for hole in closed.holes]}
            for closed in layout.closed
        ],
        "proven": layout.proven,
        "rule": layout.rule,
    }


def _panel(panel: Panel) -> Record:
    return {
        "id": panel.id,
        "outline_mm": _ring(panel.outline),
        "holes_mm": [_ring(hole) for hole in panel.holes],
        "opening_mm": _point(panel.opening),
        "cut_to_mm": _point(panel.cut_to),
        "taper_mm": _number(panel.taper),
        "shape": panel.shape,
        "cutouts": [
            {
                "service": hole.service,
                "shape": hole.shape,
                "centre_mm": _point(hole.centre),
                "size_mm": _point(hole.size),
            }
            for hole in panel.cutouts
        ],
    }


def _member(member: Member) -> Record:
    return {
        "id": member.id,
        "kind": member.kind,
        "start_mm": _point(member.start),
        "end_mm": _point(member.end),
        "gaps_mm": _point(member.gaps),
        "length_mm": _number(member.length),
        "pieces": [
            {"stock": piece.stock, "length_mm": _number(piece.length), "ends": list(piece.ends)}
            for piece in member.pieces
            for _ in range(piece.count)
        ],
    }


def _hanger(hanger: Hanger) -> Record:
    return {
        "id": hanger.id,
        "at_mm": _point(hanger.at),
        "hung_at_mm": _point(hanger.overhead),
        "blocking": hanger.block or None,
        "member": hanger.member,
        "kind": hanger.kind,
        "wire_mm": None if hanger.length is None else _number(hanger.length),
    }


def _brace(ceiling: Ceiling) -> Record | None:
    if ceiling.brace is None:
        return None
    return {"wires": Brace.WIRES, "wire_mm": _number(ceiling.brace.wire), "post_mm": _number(ceiling.brace.post)}


def _setout(setout: SetOut | None) -> Record:
    if setout is None:
        return dict.fromkeys(("setout", "diagonals", "strings", "hang_points", "level_mm"))
    return {
        "setout": [
            {
                "wall": wall.wall,
                "from": wall.corner,
                "marks": [{"at_mm": _number(mark.at), "what": mark.what} for mark in wall.marks],
            }
            for wall in setout.walls
        ],
        "diagonals": [
            {
                "between": diagonal.between,
                "length_mm": _number(diagonal.length),
                "start_mm": _point(diagonal.start),
                "end_mm": _point(diagonal.end),
            }
            for diagonal in setout.diagonals
        ],
        "strings": [
            {"start_mm": _point(start), "end_mm": _point(end), "what": what} for start, end, what in setout.lines
        ],
        "hang_points": [{"member": run.member, "at_mm": [_number(at) for at in run.at]} for run in setout.hang_points],
        "level_mm": None if setout.level is None else _number(setout.level),
    }


def _loads(loads: Loads) -> Record:
    return {
        "duty": loads.duty,
        "hanger_spacing_mm": _number(loads.spacing),
        "carried_n_per_m": _number(loads.carried),
        "allowed_n_per_m": _number(loads.allowed),
        "deflection_limit_mm": _number(loads.deflection),
        "heaviest_hanger": loads.heaviest or None,
        "reaction_n": _number(loads.reaction),
    }


def _services(ceiling: Ceiling) -> list[Record]:
    return [
        {
            "name": service.name,
            "kind": service.kind,
            "at_mm": _point(service.at),
            "size_mm": _point(service.size),
            "panels": list(service.panels),
            "moved_mm": _number(service.moved),
        }
        for service in ceiling.services
    ]


def cutting_record(cutting: Cutting) -> Record:
    return {
        "stock": cutting.item,
        "stock_length_mm": _number(cutting.stock_length),
        "kerf_mm": _number(cutting.kerf),
        "bars": [
            {
                "count": bar.count,
                "pieces": [
                    {
                        "for": piece.member,
                        "length_mm": _number(piece.length),
                        "at_mm": None if piece.at is None else _number(piece.at),
                    }
                    for piece in bar.pieces
                ],
                "offcut_mm": _number(bar.offcut),
            }
            for bar in cutting.bars
        ],
        "bought": cutting.bought,
        "lower_bound": cutting.lower_bound,
        "proven": cutting.proven,
        "over": cutting.over,
        "certificate": None if cutting.certificate is None else certificate_record(cutting.certificate),
    }


def panel_cutting_record(cutting: PanelCutting) -> Record:
    return {
        "size_mm": _point(cutting.size),
        "kerf_mm": _number(cutting.kerf),
        "panels": [
            {
                "count": panel.count,
                "pieces": [
                    {
                        "for": piece.panel,
                        "at_mm": _point(piece.at),
                        "size_mm": _point(piece.size),
                        "turned": piece.turned,
                        "half_turn": piece.half,
                    }
                    for piece in panel.pieces
                ],
            }
            for panel in cutting.panels
        ],
        "bought": cutting.bought,
        "lower_bound": cutting.lower_bound,
        "proven": cutting.proven,
        "one_each": cutting.one_each,
        "by_area": cutting.by_area,
    }


def takeoff_record(lines: Iterable[TakeOffLine]) -> list[Record]:
    """The order, one record for each line."""
    return [
        {
            "item": line.item,
            "unit": line.unit,
            "net": line.net,
            "spare": line.spare,
            "for_owner": line.for_owner,
            "on_hand": line.on_hand,
            "order": line.order,
            "packs": line.packs,
            "pack_size": line.pack_size,
            "weight_kg": None if line.weight_kg is None else _number(line.weight_kg),
            "cost": None if line.cost is None else round(line.cost, 2),
        }
        for line in lines
    ]


def bill_record(bill: Bill) -> Record:
    """What the order comes to, and what is not in it; amounts in the currency that the file names."""
    return {
        "currency": bill.currency or None,
        "material": bill.material,
        "unpriced": list(bill.unpriced),
        "labour": [
            {"work": work.what, "count": work.count, "minutes_each": _number(work.minutes)} for work in bill.labour
        ],
        "hours": None if bill.hours is None else _number(bill.hours),
        "hour_price": bill.hour,
        "labour_cost": bill.labour_cost,
        "tax_share": bill.tax_share,
        "tax_on": None if bill.tax_share is None else bill.tax_on,
        "tax": bill.tax,
        "total": bill.total,
        "not_included": list(bill.apart),
    }


def findings_record(plan: Plan) -> list[Record]:
    return [
        {
            "severity": finding.severity,
            "rule": finding.rule,
            "source": finding.source,
            "message": finding.message,
            "where_mm": None if finding.where is None else _point(finding.where),
            "also_mm": [_point(spot) for spot in finding.also],
            "remedy": finding.remedy,
        }
        for finding in plan.findings
    ]


def _number(value: float) -> float:
    """Rounded, and never a minus zero."""
    return round(value, 4) + 0.0


def _point(point: Point) -> list[float]:
    return [_number(point[0]), _number(point[1])]


def _ring(ring: Ring) -> list[list[float]]:
    return [_point(point) for point in ring]
