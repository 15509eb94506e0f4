"""What each output file holds, as bytes; nothing is written here.

In: a plan, its sheets, a style. Out: file names and contents, the same bytes for the same input.
"""

import csv
import io
import json
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from planner.cells import inert
from planner.drawing.shapes import Sheet
from planner.drawing.stylebook import Style
from planner.drawing.wish import SheetWish
from planner.planning import Plan
from planner.record import record_of
from planner.records import dataclass
from planner.stock.bill import bill_notes, bill_rows
from planner.stock.laid import as_laid, sawn_off
from planner.stock.model import Bar, Bill, Cutting, TakeOffLine

if TYPE_CHECKING:
    from planner.drawing.templates.order import Ordered
    from planner.drawing.templates.sheets import TemplateWish
    from planner.options import Option
    from planner.page.contents import Beside


@dataclass(frozen=True, slots=True)
class FileWish:
    """What somebody wishes of the files, beside what is on the sheets."""

    dxf_version: str = "R2010"
    all_templates: bool = False  #: of plain rectangles too
    page: bool = False  #: all of it for a browser too, in one file


USUAL = FileWish()
USUAL_SHEETS = SheetWish()


#: So many templates are in templates.pdf at most; `planner template` draws any of them.
MOST_TEMPLATES = 40


def files_of(
    plan: Plan,
    sheets: Sequence[Sheet],
    style: Style,
    wish: FileWish = USUAL,
    sheet_wish: SheetWish = USUAL_SHEETS,
    beside: "Beside | None" = None,
) -> dict[str, bytes]:
    """All files of one plan, in the order they are written; `sheet_wish` is what the sheets were drawn by.

    `beside` is what the page tells of beyond the plan.
    """
    from planner.render.dxf import write_dxf
    from planner.render.pdf import write_pdf
    from planner.render.strokes import explode
    from planner.render.svg import write_svg

    contents = {"ceiling.dxf": write_dxf(sheets, style, wish.dxf_version)}
    drawn = [explode(sheet, style) for sheet in sheets]
    contents |= {f"{sheet.key}.svg": write_svg(sheet, style, each) for sheet, each in zip(sheets, drawn, strict=True)}
    contents["sheets.pdf"] = write_pdf(sheets, style, title=plan.room.name, drawn=drawn)
    contents |= _templates(plan, style, sheet_wish, wish.all_templates)
    if wish.page:
        contents["page.html"] = _page(plan, sheets, style, sheet_wish, beside)
    contents["cutting.csv"] = cutting_csv(plan).encode()
    contents["takeoff.csv"] = takeoff_csv(plan).encode()
    contents["plan.json"] = json_text(record_of(plan)).encode()
    return contents


def _templates(plan: Plan, style: Style, wish: SheetWish, everything: bool) -> dict[str, bytes]:
    """The templates in one file; no file where no panel needs one."""
    from planner.drawing.templates.sheets import TemplateWish, template_set
    from planner.render.pdf import write_pdf

    sheets = template_set(plan, style, wish, TemplateWish(everything=everything), MOST_TEMPLATES)
    return {"templates.pdf": write_pdf(sheets, style, title=plan.room.name)} if sheets else {}


def template_pdf(plan: Plan, ordered: Iterable["Ordered"], style: Style) -> bytes:
    """Templates, strips and story poles that were asked for, in one file."""
    from planner.render.pdf import write_pdf

    return write_pdf([sheet for each in ordered for sheet in each.sheets], style, title=plan.room.name)


def machine_svgs(plan: Plan, style: Style, wish: SheetWish, templates: "TemplateWish") -> dict[str, bytes]:
    """Templates for a cutting machine, one SVG file each, by the template's name."""
    from planner.drawing.labels import Heights
    from planner.drawing.templates.machine import machine_style
    from planner.drawing.templates.order import for_machine
    from planner.render.svg import write_svg

    cutting = machine_style(Heights.of(style))
    return {name: write_svg(sheet, cutting) for name, sheet in for_machine(plan, style, wish, templates).items()}


def _page(plan: Plan, sheets: Sequence[Sheet], style: Style, wish: SheetWish, beside: "Beside | None") -> bytes:
    from planner.page.contents import Beside, Shown
    from planner.page.page import page_html

    return page_html(Shown(plan, tuple(sheets), style, wish, beside or Beside()))


def options_pdf(options: Sequence["Option"], style: Style, wish: SheetWish) -> bytes:
    """Layouts side by side on one page."""
    from planner.drawing.options_sheet import options_sheet
    from planner.render.pdf import write_pdf

    return write_pdf([options_sheet(options, style, wish)], style, title=options[0].plan.room.name)


def json_text(record: dict[str, Any]) -> str:
    """JSON that a person can scroll through and a program reads fast: one line for each item of a top-level list."""
    return "{\n" + ",\n".join(f"{_json(key)}: {_value(value)}" for key, value in record.items()) + "\n}\n"


def takeoff_csv(plan: Plan) -> str:
    """The take-off of a plan for a spreadsheet."""
    return order_csv(plan.stock.takeoff, plan.stock.bill)


def order_csv(lines: Sequence[TakeOffLine], bill: Bill) -> str:
    """A take-off for a spreadsheet; weights in kilograms, cost in the room file's currency.

    Names are those that prices go by; the size of one as it is sold, in millimetres, and its sort stand behind. Below
    an empty line stands what it comes to, with the word in the first column and the amount below `cost`, and in
    sentences what is not included.
    """
    head = (
        *("item", "unit", "net", "spare", "for_owner", "on_hand"),
        *("order", "packs", "pack_size", "weight_kg", "cost", "size_mm", "sort"),
    )
    rows = [
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
            None if line.weight_kg is None else f"{line.weight_kg:.1f}",
            None if line.cost is None else f"{line.cost:.2f}",
            " x ".join(f"{side:g}" for side in line.size),
            line.sort,
        )
        for line in lines
    ]
    empty = (None,) * (head.index("cost") - 1)
    below = [
        (", ".join(part for part in (what, bill.currency, note) if part), *empty, f"{cost:.2f}", None, None)
        for what, cost, note in bill_rows(bill)
    ]
    return _csv(head, [*rows, (), *below, *((note,) for note in bill_notes(bill, lines))])


def cutting_csv(plan: Plan) -> str:
    """Which piece comes off which stock length, for one plan."""
    return bars_csv(plan.stock.cutting)


def bars_csv(cuttings: Iterable[Cutting]) -> str:
    """Which piece comes off which stock length: one row for each piece, bars numbered within their item.

    `sawn_off_mm` is what must go before the piece, kerf included, so that its slots meet the cross tees; it is no part
    of what is left over (`offcut_mm`).
    """
    head = ("stock", "stock_length_mm", "bar", "bars_alike", "piece", "for", "length_mm", "offcut_mm", "sawn_off_mm")
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
            f"{off:.1f}",
        )
        for cutting in cuttings
        for number, bar in enumerate(cutting.bars, 1)
        for place, (piece, off) in enumerate(zip(bar.pieces, _sawn_off(bar, cutting), strict=True), 1)
    )
    return _csv(head, rows)


def _sawn_off(bar: Bar, cutting: Cutting) -> list[float]:
    """What is sawn off before each piece; nothing where pieces may lie anywhere on their bar."""
    if any(piece.at is None for piece in bar.pieces):
        return [0.0] * len(bar.pieces)
    return sawn_off(as_laid(bar.pieces, cutting), cutting.kerf)


def _csv(head: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(head)
    writer.writerows([inert(cell) for cell in row] for row in rows)
    return text.getvalue()


def _value(value: Any) -> str:
    if isinstance(value, list) and value:
        return "[\n" + ",\n".join(map(_json, value)) + "\n]"
    if isinstance(value, dict):
        return "{\n" + ",\n".join(f"{_json(key)}: {_json(part)}" for key, part in value.items()) + "\n}"
    return _json(value)


def _json(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)
