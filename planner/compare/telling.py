"""A comparison as a table for a terminal, and as a record for programs."""

from collections.abc import Iterator
from itertools import groupby
from typing import Any

from planner.compare.changes import Change, Comparison, Value
from planner.errors import printable
from planner.lengths import spoken_length, spoken_piece
from planner.room.outline import Units
from planner.wording import counted

FORMAT = "ceiling-comparison/1"

#: Of one group so many rows are shown; the record has them all.
_SHOWN = 14
_SQUARE_FOOT_MM2, _SQUARE_METRE_MM2 = 304.8**2, 1e6


def comparison_text(made: Comparison, names: tuple[str, str]) -> str:
    """What changed, a table for each group; lengths in the units of the newer room."""
    old, new = map(printable, names)
    if made.same:
        return f"{old} and {new}: nothing changed."
    lines = [f"{old} -> {new}: {counted(len(made.changes), 'change')}"]
    for group, changes in groupby(made.changes, key=lambda change: change.group):
        lines += ["", group, *_rows(list(changes), made.new.room.units)]
    return "\n".join(lines)


def _rows(changes: list[Change], units: Units) -> Iterator[str]:
    if changes[0].group == "findings":
        yield from (_finding_row(change) for change in changes)
        return
    shown = [
        (_what(change, units), *(_value(change, v, units) for v in (change.old, change.new)), change.note)
        for change in changes
    ]
    widths = [max(len(row[k]) for row in shown[:_SHOWN]) for k in range(3)]
    for what, old, new, note in shown[:_SHOWN]:
        row = f"  {what:{widths[0]}}  {old:>{widths[1]}} -> {new:{widths[2]}}"
        yield printable(f"{row}  {note}".rstrip())
    if len(shown) > _SHOWN:
        yield f"  and {len(shown) - _SHOWN} more; --json has them all"


def _finding_row(change: Change) -> str:
    sign, text = ("new ", change.new) if change.old is None else ("gone", change.old)
    return printable(f"  {sign}  {text}  (rule: {change.what})")


def _what(change: Change, units: Units) -> str:
    """Sizes inside a name, written in the room's units."""
    if change.group == "panels":
        size, _, holes = change.what.partition(", ")
        sides = " x ".join(spoken_length(float(side), units) for side in size.split(" x "))
        return f"{sides}, {holes}" if holes else sides
    if change.group == "pieces":
        stock, _, length = change.what.rpartition(" ")
        return f"{stock}, {spoken_piece(float(length), units, whole=change.whole)}"
    return change.what


def _value(change: Change, value: Value, units: Units) -> str:
    if change.group == "members" and isinstance(value, float | int):
        return spoken_piece(value, units, whole=change.whole)
    return _said(value, change.unit, units)


def _said(value: Value, unit: str, units: Units) -> str:
    match value:
        case None:
            return "-"
        case (float() | int() as x, float() | int() as y):
            return f"{spoken_length(x, units)}, {spoken_length(y, units)}"
        case float() | int() if unit == "mm":
            return spoken_length(value, units)
        case float() | int() if unit == "mm2":
            imperial = units in ("ft-in", "in")
            return f"{value / _SQUARE_FOOT_MM2:.1f} sq ft" if imperial else f"{value / _SQUARE_METRE_MM2:.2f} m2"
        case float() if unit == "degrees":
            return f"{value:g} degrees"
        case float():
            return f"{value:.2f}"
        case _:
            return str(value)


def comparison_record(made: Comparison, names: tuple[str, str]) -> dict[str, Any]:
    """The same for programs; lengths in millimetres, null for what was not there or is no more."""
    return {
        "format": FORMAT,
        "old": names[0],
        "new": names[1],
        "same": made.same,
        "changes": [
            {
                "group": change.group,
                "what": change.what,
                "old": list(change.old) if isinstance(change.old, tuple) else change.old,
                "new": list(change.new) if isinstance(change.new, tuple) else change.new,
                "unit": change.unit or None,
                "note": change.note or None,
            }
            for change in made.changes
        ],
    }
