"""What there is to say about the layouts of one room side by side, in sentences and as a record for programs.

In: the `Option`s of a room, the planner's own among them. Out: remarks (which one the planner takes and why, what the
half-module rule costs in panels, what the ledge may hide), and plain values for JSON.
"""

from collections.abc import Iterator, Sequence
from typing import Any

from planner.lengths import format_length
from planner.options import Option


def numbered(options: Sequence[Option]) -> Iterator[tuple[int, Option]]:
    """Options with the numbers by which remarks, table, record and sheet call them."""
    return enumerate(options, 1)


def remarks(options: Sequence[Option]) -> tuple[str, ...]:
    """What there is to say about the options: which one the planner takes and why, and what its rule costs."""
    return (*_why(options), *_price(options), *_dearer(options), *_hiding(options), *_unsure(options))


def record_of_options(options: Sequence[Option]) -> dict[str, Any]:
    """The options for programs: lengths in millimetres, shares between 0 and 1."""
    return {
        "format": "ceiling-options/1",
        "taken": next(number for number, option in numbered(options) if option.taken),
        "remarks": list(remarks(options)),
        "options": [_record(number, option) for number, option in numbered(options)],
    }


def _why(options: Sequence[Option]) -> Iterator[str]:
    for number, option in numbered(options):
        if option.taken:
            yield f"Number {number} is what the planner takes. {option.plan.ceiling.layout.rule}"


def _price(options: Sequence[Option]) -> Iterator[str]:
    """What borders of half a module and more cost in panels of the size that the planner takes."""
    size = next(sorted(option.module) for option in options if option.taken)
    same = [(n, option) for n, option in numbered(options) if sorted(option.module) == size and not option.uncut]
    keeping = [(n, option) for n, option in same if option.half_module_rule]
    if not keeping:
        yield "No layout with panels of this size keeps the half-module rule (borders of half a module and more)."
        return
    (few, fewest), (best, kept) = (min(some, key=lambda item: item[1].panels) for some in (same, keeping))
    if kept.panels == fewest.panels:
        yield f"The half-module rule costs no panels: number {best} keeps it with the fewest, {kept.panels}."
        return
    more = _counted(kept.panels - fewest.panels, "panel")
    yield (
        f"The half-module rule costs {more} more than the fewest: "
        f"{kept.panels} (number {best}) in place of {fewest.panels} (number {few})."
    )


def _dearer(options: Sequence[Option]) -> Iterator[str]:
    """Where a layout that keeps the half-module rule too takes fewer panels than the planner's own."""
    own = next(option for option in options if option.taken)
    keeping = [(n, o) for n, o in numbered(options) if o.half_module_rule and sorted(o.module) == sorted(own.module)]
    number, least = min(keeping, key=lambda item: (item[1].uncut, item[1].panels), default=(0, own))
    if own.half_module_rule and not least.uncut and least.panels < own.panels:
        more = _counted(own.panels - least.panels, "panel")
        yield f"What the planner takes needs {more} more than number {number}, for wider borders."


def _hiding(options: Sequence[Option]) -> Iterator[str]:
    for hidden in dict.fromkeys(option.hidden for option in options if option.uncut):
        alike = [(number, option) for number, option in numbered(options) if option.hidden == hidden]
        units = alike[0][1].plan.room.units
        said = " and ".join(
            f"{_fine(part, units)} at each end {way} the base wall"
            for part, way in zip(hidden, ("along", "away from"), strict=True)
            if part
        )
        who = ", ".join(str(number) for number, _ in alike)
        yield (
            f"{'Number' if len(alike) == 1 else 'Numbers'} {who}: the ledge of the wall angle hides {said}, so panels "
            f"there stay uncut and still lie on it by 3/8 in (9.5 mm) or more, which ASTM E580 asks of tees (read "
            f"second hand)."
        )


def _unsure(options: Sequence[Option]) -> Iterator[str]:
    unsure = [(str(number), str(option.unsure)) for number, option in numbered(options) if option.unsure]
    if unsure:
        who, fewer = map(", ".join, zip(*unsure, strict=True))
        several = "s" if len(unsure) > 1 else ""
        yield f"Number{several} {who} might be cut from fewer panels, by {fewer} at best; the time to search was up."


def _fine(mm: float, units: str) -> str:
    """A small length, to a tenth of a millimetre or a thirty-second of an inch."""
    return f"{mm:.1f} mm" if units not in ("ft-in", "in") else format_length(mm, "in", denominator=32)


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def _record(number: int, option: Option) -> dict[str, Any]:
    smallest = option.smallest_border
    return {
        "number": number,
        "taken": option.taken,
        "names": list(option.names),
        "module_mm": [round(side, 3) for side in option.module],
        "mains": option.plan.ceiling.mains,
        "smallest_border_mm": None if smallest is None else round(smallest, 3),
        "half_module_rule": option.half_module_rule,
        "hidden_mm": [round(hidden, 3) for hidden in option.hidden],
        "cut_panels": option.cut_panels,
        "panels": option.panels,
        "panels_at_least": option.panels - option.unsure,
        "lengths": option.lengths,
        "items": {line.item: line.net for line in option.plan.stock.takeoff},
        "panel_waste": round(option.panel_waste, 4),
        "length_waste": round(option.length_waste, 4),
        "cost": option.cost,
        "unpriced": list(option.unpriced),
        "why": option.plan.ceiling.layout.rule,
    }
