"""What each output file holds, as bytes; nothing is written here.

In: a plan, its sheets, a style. Out: file names and contents, the same bytes for the same input.
"""

import csv
import io
import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from planner.drawing.shapes import Sheet
from planner.drawing.stylebook import Style
from planner.drawing.wish import SheetWish
from planner.options import Option
from planner.plan import Plan
from planner.record import record_of
from planner.stock.model import Cutting, TakeOffLine


@dataclass(frozen=True, slots=True)
class FileWish:
    """What somebody wishes of the files, beside what is on the sheets."""

    dxf_version: str = "R2010"


USUAL = FileWish()


def files_of(plan: Plan, sheets: Sequence[Sheet], style: Style, wish: FileWish = USUAL) -> dict[str, bytes]:
    """All files of one plan, in the order they are written."""
    from planner.render.dxf import write_dxf
    from planner.render.pdf import write_pdf
    from planner.render.svg import write_svg

    contents = {"ceiling.dxf": write_dxf(sheets, style, wish.dxf_version)}
    contents |= {f"{sheet.key}.svg": write_svg(sheet, style) for sheet in sheets}
    contents["sheets.pdf"] = write_pdf(sheets, style, title=plan.room.name)
    contents["cutting.csv"] = cutting_csv(plan).encode()
    contents["takeoff.csv"] = takeoff_csv(plan).encode()
    contents["plan.json"] = json_text(record_of(plan)).encode()
    return contents


def options_pdf(options: Sequence[Option], style: Style, wish: SheetWish) -> bytes:
    """Layouts side by side on one page."""
    from planner.drawing.options_sheet import options_sheet
    from planner.render.pdf import write_pdf

    return write_pdf([options_sheet(options, style, wish)], style, title=options[0].plan.room.name)


def json_text(record: dict[str, Any]) -> str:
    """JSON that a person can scroll through and a program reads fast: one line for each item of a top-level list."""
    return "{\n" + ",\n".join(f"{_json(key)}: {_value(value)}" for key, value in record.items()) + "\n}\n"


def takeoff_csv(plan: Plan) -> str:
    """The take-off of a plan for a spreadsheet."""
    return order_csv(plan.stock.takeoff)


def order_csv(lines: Iterable[TakeOffLine]) -> str:
    """A take-off for a spreadsheet; weights in kilograms, cost in the room file's currency."""
    head = ("item", "unit", "net", "spare", "order", "packs", "pack_size", "weight_kg", "cost")
    rows = (
        (
            line.item,
            line.unit,
            line.net,
            line.spare,
            line.order,
            line.packs,
            line.pack_size,
            None if line.weight_kg is None else f"{line.weight_kg:.1f}",
            None if line.cost is None else f"{line.cost:.2f}",
        )
        for line in lines
    )
    return _csv(head, rows)


def cutting_csv(plan: Plan) -> str:
    """Which piece comes off which stock length, for one plan."""
    return bars_csv(plan.stock.cutting)


def bars_csv(cuttings: Iterable[Cutting]) -> str:
    """Which piece comes off which stock length: one row for each piece, bars numbered within their item."""
    head = ("stock", "stock_length_mm", "bar", "bars_alike", "piece", "for", "length_mm", "offcut_mm")
    rows = (
        (
            cutting.item,
            f"{cutting.stock_length:.1f}",
            number,
            bar.count,
            place,
            piece.member,
            f"{piece.length:.1f}",
            f"{bar.offcut:.1f}",
        )
        for cutting in cuttings
        for number, bar in enumerate(cutting.bars, 1)
        for place, piece in enumerate(bar.pieces, 1)
    )
    return _csv(head, rows)


def _csv(head: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(head)
    writer.writerows(rows)
    return text.getvalue()


def _value(value: Any) -> str:
    if isinstance(value, list) and value:
        return "[\n" + ",\n".join(map(_json, value)) + "\n]"
    if isinstance(value, dict):
        return "{\n" + ",\n".join(f"{_json(key)}: {_json(part)}" for key, part in value.items()) + "\n}"
    return _json(value)


def _json(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)
