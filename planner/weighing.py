"""What there is to say about the layouts of one room side by side, in sentences and as a record for programs.

In: the `Option`s of a room, the planner's own among them. Out: remarks (which one the planner takes and why, what the
half-module rule costs in panels, what the ledge may hide), and plain values for JSON.
"""

from collections.abc import Iterator, Sequence
from typing import Any

from planner.lengths import format_length
from planner.options import Option
from planner.sayings import linked, said


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
            yield said(
                "Number {number} is what the planner takes. {rule}", number=number, rule=option.plan.ceiling.layout.rule
            )


def _price(options: Sequence[Option]) -> Iterator[str]:
    """What borders of half a module and more cost in panels of the size that the planner takes."""
    size = next(sorted(option.module) for option in options if option.taken)
    same = [(n, option) for n, option in numbered(options) if sorted(option.module) == size and not option.uncut]
    keeping = [(n, option) for n, option in same if option.half_module_rule]
    if not keeping:
        yield said("No layout with panels of this size keeps the half-module rule (borders of half a module and more).")
        return
    (few, fewest), (best, kept) = (min(some, key=lambda item: item[1].panels) for some in (same, keeping))
    if kept.panels == fewest.panels:
        yield said(
            "The half-module rule costs no panels: number {best} keeps it with the fewest, {panels}.",
            best=best,
            panels=kept.panels,
        )
        return
    more = _panels(kept.panels - fewest.panels)
    yield (
        said(
            "The half-module rule costs {more} more than the fewest: {panels} (number {best}) in place of "
            "{least} (number {few}).",
            more=more,
            panels=kept.panels,
            best=best,
            least=fewest.panels,
            few=few,
        )
    )


def _dearer(options: Sequence[Option]) -> Iterator[str]:
    """Where a layout that keeps the half-module rule too takes fewer panels than the planner's own."""
    own = next(option for option in options if option.taken)
    keeping = [(n, o) for n, o in numbered(options) if o.half_module_rule and sorted(o.module) == sorted(own.module)]
    number, least = min(keeping, key=lambda item: (item[1].uncut, item[1].panels), default=(0, own))
    if own.half_module_rule and not least.uncut and least.panels < own.panels:
        more = _panels(own.panels - least.panels)
        wider = (own.smallest_border or 0.0) > (least.smallest_border or 0.0)
        text = (
            "What the planner takes needs {more} more than number {number}, for wider borders."
            if wider
            else "What the planner takes needs {more} more than number {number}, which keeps the half-module rule too."
        )
        yield said(text, more=more, number=number)


def _hiding(options: Sequence[Option]) -> Iterator[str]:
    for hidden in dict.fromkeys(option.hidden for option in options if option.uncut):
        alike = [(number, option) for number, option in numbered(options) if option.hidden == hidden]
        units = alike[0][1].plan.room.units
        along, away = (_fine(part, units) if part else "" for part in hidden)
        told = linked(
            part
            for part, hides in (
                (said("{hidden} at each end along the base wall", hidden=along), along),
                (said("{hidden} at each end away from the base wall", hidden=away), away),
            )
            if hides
        )
        who = ", ".join(str(number) for number, _ in alike)
        yield (
            said(
                "{numbers}: the ledge of the wall angle hides {hidden}, so panels there stay uncut and still "
                "lie on it by 3/8 in (9.5 mm) or more, which ASTM E580 asks of tees (read second hand).",
                numbers=said("Number {who}", who=who) if len(alike) == 1 else said("Numbers {who}", who=who),
                hidden=told,
            )
        )


def _unsure(options: Sequence[Option]) -> Iterator[str]:
    unsure = [(str(number), str(option.unsure)) for number, option in numbered(options) if option.unsure]
    if unsure:
        who, fewer = map(", ".join, zip(*unsure, strict=True))
        numbers = said("Number {who}", who=who) if len(unsure) == 1 else said("Numbers {who}", who=who)
        yield said(
            "{numbers} might be cut from fewer panels, by {fewer} at best; the time to search was up.",
            numbers=numbers,
            fewer=fewer,
        )


def _fine(mm: float, units: str) -> str:
    """A small length, to a tenth of a millimetre or a thirty-second of an inch."""
    return f"{mm:.1f} mm" if units not in ("ft-in", "in") else format_length(mm, "in", denominator=32)


def _panels(count: int) -> str:
    return said("{count} panel", count=count) if count == 1 else said("{count} panels", count=count)


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
