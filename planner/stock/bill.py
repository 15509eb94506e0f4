"""What an order comes to: material, labour at the user's own rates, tax, and in plain words what is not in it.

In: the lines of the order, the ceilings it is for, and the wish. Out: a `Bill`, and sentences for whoever shows it. The
planner knows no prices and no rates: what the file does not say is not guessed, and is said to be missing. Nothing is
converted; the currency is a word that is repeated.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from planner.ceiling.holding.service_wires import held_apart
from planner.ceiling.model import Ceiling
from planner.room.brief import StockWish
from planner.room.service_kinds import KINDS
from planner.room.work_kinds import WORK
from planner.sayings import joined, said, term
from planner.stock.model import Bill, TakeOffLine, Work

WIRING = "wiring"
HEAVY = "hangers of what is too heavy for the grid"
LABOUR = "labour"
TAX = "tax"

#: So many items without a price are named; of more only the number is told.
_NAMED = 4


def bill_of(lines: Sequence[TakeOffLine], ceilings: Sequence[Ceiling], wish: StockWish) -> Bill:
    """Add up what is known, and list what is not included."""
    bought = [line for line in lines if line.order]  # what is all on hand needs no price
    costs = [line.cost for line in bought if line.cost is not None]
    rates = dict(wish.labour.each)
    works = _works(ceilings)
    labour = tuple(Work(what, works[what], rates[what]) for what in WORK if what in rates and works[what])
    apart = list(_apart(ceilings))
    apart += [] if labour else [LABOUR]
    apart += [TAX] if wish.tax is None and (costs or wish.labour.hour is not None) else []
    return Bill(
        material=round(sum(costs), 2) if costs else None,
        unpriced=tuple(line.item for line in bought if line.cost is None),
        items=len(bought),
        labour=labour,
        hour=wish.labour.hour,
        tax_share=wish.tax,
        tax_on=wish.tax_on,
        currency=wish.currency,
        apart=tuple(apart),
    )


def bill_rows(bill: Bill) -> Iterator[tuple[str, float, str]]:
    """What there is to pay, from the material to the total: a word, an amount, and what it is made of."""
    if bill.subtotal is None or bill.total is None:
        return
    if bill.labour_cost is None and bill.tax is None:  # nothing but material: one line says it all
        yield said("total"), bill.total, _without(bill)
        return
    if bill.material is not None:
        yield said("material"), bill.material, _without(bill)
    if bill.labour_cost is not None:
        note = said(
            "{hours} h at {price} an hour, both as the file says",
            hours=_hours(bill.hours or 0.0),
            price=f"{bill.hour:.2f}",
        )
        yield said("labour"), bill.labour_cost, note
    if bill.tax is not None:
        yield said("tax"), bill.tax, _tax_note(bill)
    yield said("total"), bill.total, _total_note(bill)


def bill_notes(bill: Bill, lines: Sequence[TakeOffLine]) -> Iterator[str]:
    """Sentences that belong below every list: hours, what is left with the owner, what is not included."""
    if bill.hours is not None:
        each = [
            said(
                "{work} {hours} h ({count} at {time})",
                work=said(work.what),
                hours=_hours(work.hours),
                count=work.count,
                time=_time(work.minutes),
            )
            for work in bill.labour
        ]
        hours = _hours(bill.hours)
        yield said("Labour, at the rates that the file gives: {hours} h; {each}.", hours=hours, each=joined(each, ", "))
    left = [joined((term(line.item), f"({line.for_owner})")) for line in lines if line.for_owner]
    if left:
        yield said("To be left with the owner: {items}.", items=joined(left, ", "))
    if any(line.bought != line.order and (line.weight_kg, line.cost) != (None, None) for line in lines):
        yield said("Weight and cost of what comes in packs are those of whole packs.")
    if bill.apart:
        yield said("Not included: {things}.", things=joined(map(term, bill.apart), ", "))


def bill_sentences(bill: Bill, lines: Sequence[TakeOffLine]) -> list[str]:
    """All of it in sentences, for a list that has no column for amounts."""
    return [*(_row_said(bill, *row) for row in bill_rows(bill)), *bill_notes(bill, lines)]


def _row_said(bill: Bill, what: str, cost: float, note: str) -> str:
    amount = f"{cost:.2f} {bill.currency}".rstrip()
    told = joined([what, amount], ": ")
    return joined([joined([told, note], "; ") if note else told, "."], "")


def _hours(hours: float) -> str:
    """To a hundredth, so that hours times their price are the amount beside them: 5.55 h at 45.00 are 249.75."""
    return f"{round(hours, 2):g}"


def _works(ceilings: Iterable[Ceiling]) -> Counter[str]:
    """How many there are of each kind of work."""
    works: Counter[str] = Counter()
    for ceiling in ceilings:
        works["room"] += 1
        works["panel"] += ceiling.full_panels + len(ceiling.panels)
        works["cut panel"] += len(ceiling.panels)
        for member in ceiling.members:
            works[member.kind] += sum(piece.count for piece in member.pieces)
        for hanger in ceiling.hangers:
            works["screw" if hanger.kind == "screw" else "hanger"] += 1
    return works


def _apart(ceilings: Iterable[Ceiling]) -> Iterator[str]:
    """What others supply: the services that the rooms have and what runs to them, in the order of the table; and what
    the order of work asks for beside the lists.
    """
    present = {service.kind for ceiling in ceilings for service in ceiling.services}
    kinds = [kind for key, kind in KINDS.items() if key in present]
    if not kinds:
        yield "anything that is fitted into the ceiling (the file names no services)"
    yield from dict.fromkeys(kind.supplied for kind in kinds)
    if any(held_apart(ceiling.services) for ceiling in ceilings):
        yield HEAVY
    if any(kind.electric for kind in kinds):
        yield WIRING
    yield from dict.fromkeys(kind.fed_by for kind in kinds if kind.fed_by)
    yield from dict.fromkeys(thing for ceiling in ceilings for thing in ceiling.beside)


def _without(bill: Bill) -> str:
    """How many items have no price, and which."""
    count = len(bill.unpriced)
    if not count:
        return said("every item has a price")
    if count > _NAMED:
        return said("{count} of {items} items without a price", count=count, items=bill.items)
    named = joined(map(term, bill.unpriced), ", ")
    return said("{count} of {items} items without a price: {named}", count=count, items=bill.items, named=named)


def _tax_note(bill: Bill) -> str:
    share = f"{100 * (bill.tax_share or 0.0):g}"
    if bill.tax_on == "material":
        return said("{share} % on the material, as the file says", share=share)
    if bill.labour_cost is None or bill.material is None:
        return said("{share} % on what is above, as the file says", share=share)
    return said("{share} % on material and labour, as the file says", share=share)


def _total_note(bill: Bill) -> str:
    missing = bill.items if bill.material is None else len(bill.unpriced)
    if not missing:
        return ""
    return said("without the items that have no price ({count})", count=missing)


def _time(minutes: float) -> str:
    if minutes >= 60:
        return f"{minutes / 60:g} h"
    return f"{minutes:g} min" if minutes >= 1 else f"{minutes * 60:g} s"
