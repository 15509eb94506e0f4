"""Results as lines of text for a terminal; no colours, no arithmetic beyond column widths."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from planner.errors import printable
from planner.findings import Finding
from planner.gathering import gathered
from planner.lengths import format_length, spoken_cut, spoken_length
from planner.planning import Plan
from planner.stock.bill import bill_notes, bill_rows
from planner.stock.model import Bill, TakeOffLine

if TYPE_CHECKING:
    from planner.options import Option

_SIGN = {"stop": "STOP", "warn": "warn", "note": "note"}


def summary(plan: Plan) -> str:
    """What a person wants to know first: where the grid falls, how much is cut, what there is to heed."""
    room, layout = plan.room, plan.ceiling.layout
    lines = [printable(room.name), f"  {printable(layout.rule)}"]
    lines.append(f"  {layout.full_panels} whole modules, {len(layout.cut_panels)} cut panels")
    if layout.smallest_cut is not None:
        lines[-1] += f"; the narrowest opening is {spoken_length(layout.smallest_cut, room.units)}"
    if layout.narrowest_panel is not None:
        lines[-1] += f", the narrowest panel {spoken_cut((layout.narrowest_panel,), room.units)}"
    lines += findings_text(plan.findings)
    return "\n".join(lines)


def survey_text(plan: Plan) -> str:
    """The tape's table, as one reads it on a ladder; empty when the room was not taped."""
    if plan.survey is None:
        return ""
    from planner.room.closing.table import survey_table  # most rooms are not taped

    return "\n".join(printable(f"  {row}".rstrip()) for row in survey_table(plan.survey, plan.room.units))


def findings_text(findings: Sequence[Finding]) -> list[str]:
    """Findings, the gravest first; those that say the same of several things as one."""
    lines: list[str] = []
    for finding in gathered(findings):
        lines.append(f"  {_SIGN[finding.severity]}  {printable(finding.message)}")
        lines += [f"        {printable(remedy)}" for remedy in finding.remedies]
        lines.append(f"        rule: {finding.rule} ({finding.source})")
    return lines


def order_table(lines: Sequence[TakeOffLine], bill: Bill) -> str:
    """The order as a table, and below what it comes to; columns that would be empty throughout are left out."""
    head = ("item", "net", "spare", "owner", "on hand", "order", "packs", "weight kg", "cost")
    rows = [
        (
            printable(line.named),
            str(line.net),
            str(line.spare),
            str(line.for_owner or ""),
            str(line.on_hand or ""),
            line.amount,
            "" if line.packs is None else f"{line.packs} x {line.pack_size} = {line.bought}",
            "" if line.weight_kg is None else f"{line.weight_kg:.1f}",
            "" if line.cost is None else f"{line.cost:.2f}",
        )
        for line in lines
    ]
    parts = [_table(head, rows)] if rows else []
    costs = [(what, f"{cost:.2f}", printable(note)) for what, cost, note in bill_rows(bill)]
    if costs:
        parts.append(_table(("", printable(bill.currency) or "cost", ""), costs, last=1))
    parts.append("\n".join(map(printable, bill_notes(bill, lines))))
    return "\n\n".join(part for part in parts if part)


def options_table(options: Sequence["Option"]) -> str:
    """Layouts side by side, the planner's own starred, and below what there is to say about them."""
    from planner.weighing import numbered, remarks

    room = options[0].plan.room
    head = ("", "layout", "module", "mains", "border", "half", "cut", "panels", "lengths", "waste", "cost")
    rows = [
        (
            f"{'*' if option.taken else ' '}{number}",
            printable(", ".join(option.names)),
            " x ".join(_short(side, room.units) for side in option.module),
            option.plan.ceiling.mains,
            "" if option.smallest_border is None else _short(option.smallest_border, room.units),
            "yes" if option.half_module_rule else "no",
            str(option.cut_panels),
            str(option.panels),
            str(option.lengths),
            f"{option.panel_waste:.0%} + {option.length_waste:.0%}",
            "" if option.cost is None else f"{option.cost:.2f}",
        )
        for number, option in numbered(options)
    ]
    key = (
        "border: the smallest at a wall along the grid; half: the half-module rule holds there; lengths: tees, wall "
        "angle and the like; waste: of panels + of lengths"
    )
    unpriced = dict.fromkeys(item for option in options if option.cost is not None for item in option.unpriced)
    without = [f"cost: without {', '.join(unpriced)}, which have no price"] if unpriced else []
    if options[0].cost is not None and any(option.cost is None for option in options):
        without.append("no cost: panels of another size than those whose price is known")
    return "\n".join([_table(head, rows, 4), "", key, *map(printable, (*without, *remarks(options)))])


def _short(mm: float, units: str) -> str:
    """A side of a panel as the trade says it: inches, never feet; else the room's own unit."""
    return format_length(mm, "in" if units == "ft-in" else units)


def _table(head: Sequence[str], rows: Sequence[Sequence[str]], words: int = 1, last: int = 0) -> str:
    """Columns as wide as need be; the first `words` of them and the `last` flush left, the others right."""
    kept = [k for k in range(len(head)) if k == 0 or any(row[k] for row in rows)]
    widths = {k: max(len(head[k]), *(len(row[k]) for row in rows)) for k in kept}
    ruled = [head, tuple("-" * widths.get(k, 0) for k in range(len(head))), *rows]
    return "\n".join(
        "  ".join(_cell(row[k], widths[k], k < words or k >= len(head) - last) for k in kept).rstrip() for row in ruled
    )


def _cell(text: str, width: int, left: bool) -> str:
    return text.ljust(width) if left else text.rjust(width)
