"""Results as lines of text for a terminal; no colours, no arithmetic beyond column widths."""

from collections.abc import Sequence

from planner.findings import Finding
from planner.lengths import Rounding, format_length
from planner.plan import Plan
from planner.room.closing.table import survey_table

_SIGN = {"stop": "STOP", "warn": "warn", "note": "note"}


def summary(plan: Plan) -> str:
    """What a person wants to know first: where the grid falls, how much is cut, what there is to heed."""
    room, layout = plan.room, plan.ceiling.layout
    lines = [printable(room.name), f"  {printable(layout.rule)}"]
    lines.append(f"  {layout.full_panels} whole modules, {len(layout.cut_panels)} cut panels")
    if layout.smallest_cut is not None:
        smallest = format_length(layout.smallest_cut, room.units, Rounding.NEAREST)
        lines[-1] += f", the narrowest {smallest}"
    lines += findings_text(plan.findings)
    return "\n".join(lines)


def survey_text(plan: Plan) -> str:
    """The tape's table, as one reads it on a ladder; empty when the room was not taped."""
    if plan.survey is None:
        return ""
    return "\n".join(printable(f"  {row}".rstrip()) for row in survey_table(plan.survey, plan.room.units))


def findings_text(findings: Sequence[Finding]) -> list[str]:
    """Findings, the gravest first."""
    order = sorted(findings, key=lambda finding: list(_SIGN).index(finding.severity))
    lines: list[str] = []
    for finding in order:
        lines.append(f"  {_SIGN[finding.severity]}  {printable(finding.message)}")
        if finding.remedy:
            lines.append(f"        {printable(finding.remedy)}")
        lines.append(f"        rule: {finding.rule} ({finding.source})")
    return lines


def takeoff_table(plan: Plan) -> str:
    """The order as a table; columns that would be empty throughout are left out."""
    head = ("item", "net", "spare", "order", "packs", "weight kg", "cost")
    rows = [
        (
            line.item,
            str(line.net),
            str(line.spare),
            str(line.order),
            "" if line.packs is None else f"{line.packs} of {line.pack_size}",
            "" if line.weight_kg is None else f"{line.weight_kg:.1f}",
            "" if line.cost is None else f"{line.cost:.2f}",
        )
        for line in plan.stock.takeoff
    ]
    return _table(head, rows)


def printable(text: str) -> str:
    """Text without anything that could drive a terminal."""
    return "".join(c if c.isprintable() else " " for c in text)


def _table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    kept = [k for k in range(len(head)) if k == 0 or any(row[k] for row in rows)]
    widths = {k: max(len(head[k]), *(len(row[k]) for row in rows)) for k in kept}
    ruled = [head, tuple("-" * widths.get(k, 0) for k in range(len(head))), *rows]
    return "\n".join("  ".join(_cell(row[k], widths[k], k == 0) for k in kept).rstrip() for row in ruled)


def _cell(text: str, width: int, first: bool) -> str:
    return text.ljust(width) if first else text.rjust(width)
