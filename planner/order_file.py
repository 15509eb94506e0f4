"""The order as a spreadsheet, a sheet for each counter: grid, panels, fasteners, extras; and one with what it comes to.

In: the lines of a take-off and its bill. Out: the bytes of an .xlsx file, the same for the same lines. Rule: names
are the user's, so every text is written as text and never as a formula. Needs openpyxl, which comes with the extra
`xlsx`.
"""

import io
import re
import zipfile
from collections.abc import Iterable, Sequence
from typing import Any

from planner.cells import FORMULA
from planner.errors import PlannerError
from planner.stock.bill import bill_notes, bill_rows
from planner.stock.fasteners import ANCHOR, ANGLE_FIXING, WIRE
from planner.stock.model import Bill, TakeOffLine
from planner.stock.takeoff import PANEL

HEAD = ("item", "unit", "net", "spare", "owner", "on hand", "order", "packs", "pack size", "weight kg", "cost")
_MORE = ("size mm", "sort")  #: as it is sold, behind what is counted
GROUPS = ("grid", "panels", "fasteners", "extras")
SUM = "sum"

#: A file is dated by whoever sends it; the oldest date that a zip can hold keeps its bytes the same.
_DATE = (1980, 1, 1, 0, 0, 0)
_UNPRINTABLE = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f]")


def order_xlsx(lines: Sequence[TakeOffLine], bill: Bill) -> bytes:
    """Write the order, a sheet for each group that has lines; PlannerError when openpyxl is not there."""
    try:
        from openpyxl import Workbook
    except ImportError as error:
        mend = (
            "In the folder that the planner was installed from:  pip install '.[xlsx]'  (it brings openpyxl).  "
            "Or use --csv."
        )
        raise PlannerError("a spreadsheet needs openpyxl, which is not there.", where="--xlsx", mend=mend) from error
    book = Workbook()
    book.remove(book.active)
    for group in GROUPS:
        mine = [line for line in lines if _group(line) == group]
        if mine:
            _fill(book.create_sheet(group), mine)
    _sum_up(book.create_sheet(SUM), lines, bill)
    packed = io.BytesIO()
    book.save(packed)
    return _undated(packed.getvalue())


def _group(line: TakeOffLine) -> str:
    if line.extra:
        return "extras"
    if line.item == PANEL or line.item.startswith(f"{PANEL} "):
        return "panels"
    return "fasteners" if line.item in (WIRE, ANCHOR, ANGLE_FIXING) or "screw" in line.item else "grid"


def _fill(sheet: Any, lines: Sequence[TakeOffLine]) -> None:
    """Head, lines and the totals of weight and cost; a total of what is known only where something is."""
    rows: list[Sequence[object]] = [(*HEAD, *_MORE)]
    rows += [
        (
            line.item,
            line.unit,
            line.net,
            line.spare,
            line.for_owner,
            line.on_hand,
            line.order,
            line.packs,
            line.pack_size,
            None if line.weight_kg is None else round(line.weight_kg, 1),
            line.cost,
            " x ".join(f"{side:g}" for side in line.size),
            line.sort,
        )
        for line in lines
    ]
    weights = [line.weight_kg for line in lines if line.weight_kg is not None]
    costs = [line.cost for line in lines if line.cost is not None]
    totals = (round(sum(weights), 1) if weights else None, round(sum(costs), 2) if costs else None)
    rows.append(("total", *[None] * (len(HEAD) - 3), *totals))
    _write(sheet, rows)
    sheet.freeze_panes = "A2"


def _sum_up(sheet: Any, lines: Sequence[TakeOffLine], bill: Bill) -> None:
    """What all sheets come to, and below it what is not included."""
    costs = [(what, cost, note) for what, cost, note in bill_rows(bill)]
    head = [("", bill.currency or "cost", "")] if costs else []
    _write(sheet, [*head, *costs, *([()] if costs else []), *((note,) for note in bill_notes(bill, lines))])


def _write(sheet: Any, rows: Iterable[Sequence[object]]) -> None:
    for at, row in enumerate(rows, 1):
        for across, value in enumerate(row, 1):
            _put(sheet.cell(at, across), value)
    sheet.column_dimensions["A"].width = 28


def _put(cell: Any, value: object) -> None:
    if not isinstance(value, str):
        cell.value = value
        return
    cell.value = _UNPRINTABLE.sub("", value)
    cell.data_type = "s"
    cell.quotePrefix = FORMULA.match(value) is not None


def _undated(packed: bytes) -> bytes:
    """The same file without the time at which it was made."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(packed)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            content = old.read(name)
            if name == "docProps/core.xml":
                content = re.sub(rb"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", b"1980-01-01T00:00:00Z", content)
            entry = zipfile.ZipInfo(name, _DATE)
            entry.compress_type = zipfile.ZIP_DEFLATED
            new.writestr(entry, content)
    return out.getvalue()
