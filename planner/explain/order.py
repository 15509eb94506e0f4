"""Why so many of an item are ordered: pieces, bars or panels, spare, packs, cost, each number added up.

In: a `Job` and the name of an item of the take-off. Out: an explanation. The counts are those of the members, of the
cutting and of the take-off; each sum is done again here, from what the wings say of each part.
"""

from collections import Counter
from collections.abc import Iterator

from planner.ceiling.members.border_tees import COST_STEPS
from planner.ceiling.model import BorderTees, Brace
from planner.explain.hangers import HANDOUTS, lean_rule
from planner.explain.model import COMPUTED, MEMORY, PRACTICE, Explanation, Job, Step
from planner.explain.words import listed
from planner.lengths import Rounding
from planner.stock.fasteners import (
    ANCHOR,
    ANGLE_FIXING,
    BLOCKING,
    BRACE_ANCHOR,
    BRACE_POST,
    BRACE_WIRE,
    FIXINGS_APART_MM,
    FURRING_NAIL,
    WIRE,
    fixings_for,
)
from planner.stock.model import Cutting, Over, PanelCutting, TakeOffLine
from planner.stock.takeoff import PANEL
from planner.wording import counted


def explain_item(job: Job, line: TakeOffLine) -> Explanation:
    """One line of the order."""
    steps = [*_net_steps(job, line), *_order_steps(job, line)]
    unit = "" if line.unit == "piece" else f" {line.unit}"
    answer = f"{line.net}{unit} needed, {line.order}{unit} to order."
    return Explanation(line.item, "item", answer, tuple(steps))


def explain_cost(job: Job) -> Explanation:
    """What the order comes to."""
    stock = job.plan.stock
    bill, unit = stock.bill, stock.bill.currency or "money"
    steps = [
        Step(f"{line.item}: {line.cost:.2f}.", line.cost, unit)
        for line in stock.takeoff
        if line.cost is not None and line.order
    ]
    if bill.material is not None:
        steps.append(Step(f"Together the material is {bill.material:.2f}.", bill.material, unit))
    if bill.unpriced:
        steps.append(Step(f"Without a price, so not counted: {listed(bill.unpriced)}."))
    for work in bill.labour:
        text = f"{work.what}: {work.count} at {work.minutes:g} minutes = {work.hours:.2f} hours."
        steps.append(Step(text, work.hours, "hours", "the file's own rates", "the room file"))
    if bill.labour_cost is not None and bill.hour is not None:
        text = f"{bill.hours:.2f} hours at {bill.hour:.2f} = {bill.labour_cost:.2f}."
        steps.append(Step(text, bill.labour_cost, unit, "the file's own rates", "the room file"))
    if bill.tax is not None and bill.tax_share is not None:
        on = "material" if bill.tax_on == "material" else "all of this"
        text = f"Tax, {100 * bill.tax_share:g} % on {on}: {bill.tax:.2f}."
        steps.append(Step(text, bill.tax, unit, "the file's own rate", "the room file"))
    if bill.apart:
        steps.append(Step(f"Not included: {listed(bill.apart)}."))
    if bill.total is None:
        return Explanation(
            "cost", "order", "Nothing has a price: add  stock: {prices: ...}  to the room file.", tuple(steps)
        )
    answer = f"The order comes to {bill.total:.2f} {bill.currency}".rstrip() + "."
    return Explanation("cost", "order", answer, (*steps, Step(f"In all {bill.total:.2f}.", bill.total, unit)))


def _net_steps(job: Job, line: TakeOffLine) -> Iterator[Step]:
    """What the ceiling needs of an item."""
    cutting = next((cutting for cutting in job.plan.stock.cutting if cutting.item == line.item), None)
    if line.extra:
        yield Step(f"{line.net} asked for under stock: extras.", line.net, "pieces", "as asked for", "the room file")
    elif line.item == PANEL:
        yield from _panel_steps(job, line)
    elif cutting is not None:
        yield from _bar_steps(job, cutting)
        if (chosen := job.plan.ceiling.border_tees) is not None and cutting.item in chosen.items:
            yield from _shared_steps(job, cutting.item, chosen)
    else:
        yield from _fastener_steps(job, line)


def _panel_steps(job: Job, line: TakeOffLine) -> Iterator[Step]:
    """Whole panels, drilled ones, and those that the cut ones come from."""
    ceiling, cutting = job.plan.ceiling, job.plan.stock.panels
    layout, taken = ceiling.layout, _taken_by_services(job)
    drilled = sum(panel.full_size for panel in ceiling.panels)
    yield Step(f"{layout.full_panels} whole modules.", layout.full_panels, "modules")
    if taken:
        names = listed(f"{name} {count}" for name, count in taken.items())
        yield Step(f"Less {sum(taken.values())} that services fill: {names}.", sum(taken.values()), "modules")
    if drilled:
        names = listed(panel.id for panel in ceiling.panels if panel.full_size)
        yield Step(
            f"{drilled} of the rest are drilled for services ({names}); they are whole panels too.", drilled, "panels"
        )
    yield Step(f"Whole panels: {ceiling.full_panels + drilled}.", ceiling.full_panels + drilled, "panels")
    if cutting is not None:
        yield from _cut_panel_steps(job, cutting)
    total = f"{ceiling.full_panels + drilled} + {cutting.bought} = {line.net}." if cutting else f"{line.net}."
    yield Step(f"Panels needed: {total}", line.net, "panels")


def _cut_panel_steps(job: Job, cutting: PanelCutting) -> Iterator[Step]:
    cut = sum(not panel.full_size for panel in job.plan.ceiling.panels)
    pieces = Counter(len(panel.pieces) for panel in cutting.panels for _ in range(panel.count))
    order = sorted(pieces.items(), reverse=True)
    how = listed(f"{counted(number, 'panel')} with {counted(each, 'piece')} each" for each, number in order)
    yield Step(f"{cut} cut panels come from {cutting.bought}: {how}.", cutting.bought, "panels")
    if cutting.proven:
        text = f"No way of cutting by the same rules needs fewer than {cutting.lower_bound}."
    else:
        text = f"At least {cutting.lower_bound} are needed; a better way might save {cutting.gap} at most."
    by_area = f" One panel for each cut would be {cutting.one_each}; by area alone it would be {cutting.by_area}."
    yield Step(text + by_area, cutting.lower_bound, "panels", "fewest panels, with proof", COMPUTED)


def _taken_by_services(job: Job) -> dict[str, int]:
    """How many whole modules each lay-in service fills: all of its modules, where no hole is cut for it."""
    return {service.name: len(service.cells) for service in job.plan.ceiling.services if service.fills}


def _bar_steps(job: Job, cutting: Cutting) -> Iterator[Step]:
    """Pieces, whole ones and cut ones, and the lengths that they come from."""
    whole = sum(bar.count for bar in cutting.bars if not bar.pieces)
    cut = sum(bar.count * len(bar.pieces) for bar in cutting.bars)
    cut_bars = cutting.bought - whole
    places = Counter(
        member.kind
        for member in job.plan.ceiling.members
        for piece in member.pieces
        if piece.stock == cutting.item
        for _ in range(piece.count)
    )
    kinds = listed(f"{number} in {kind}s" if len(places) > 1 else str(number) for kind, number in places.items())
    yield Step(f"Pieces of {cutting.item}: {kinds}.", whole + cut, "pieces")
    if whole:
        yield Step(f"{whole} are whole lengths of {job.said(cutting.stock_length)}.", whole, "lengths")
    if cut:
        yield Step(f"{cut} are cut; they come from {counted(cut_bars, 'length')}:", cut_bars, "lengths")
        yield from _pattern_steps(job, cutting)
    parts = f"{whole} whole + {cut_bars} to cut = {cutting.bought}" if whole and cut else str(cutting.bought)
    yield Step(f"Lengths needed: {parts}.", cutting.bought, "lengths")
    if cutting.proven:
        proof = f"No way of cutting needs fewer than {cutting.lower_bound}{_OVER[cutting.over]}."
    else:
        proof = f"At least {cutting.lower_bound} are needed; a better way might save {cutting.gap} at most."
    yield Step(proof, cutting.lower_bound, "lengths", "fewest lengths, with proof", COMPUTED)


#: What a proof holds over, beside the ways to cut.
_OVER: dict[Over, str] = {
    "pieces": "",
    "first cuts": ", however the runs are begun",
    "fewest splices": ", with no more splices than the lengths need",
    "splices": ", however the walls are spliced",
}

#: So many ways of cutting are told; of more only their number.
_TOLD = 8


def _pattern_steps(job: Job, cutting: Cutting) -> Iterator[Step]:
    """How lengths are cut, alike ones together."""
    patterns: Counter[tuple[tuple[float, ...], float]] = Counter()
    for bar in cutting.bars:
        if bar.pieces:
            patterns[tuple(sorted((piece.length for piece in bar.pieces), reverse=True)), bar.offcut] += bar.count
    for (lengths, offcut), count in list(patterns.items())[:_TOLD]:
        alike = Counter(job.piece(length, whole=cutting.is_whole(length)) for length in lengths)
        cuts = " + ".join(f"{number} x {said}" if number > 1 else said for said, number in alike.items())
        yield Step(f"  {count} x ({cuts}), off-cut {job.said(offcut, Rounding.DOWN)}.", count, "lengths")
    if (rest := sum(list(patterns.values())[_TOLD:])) > 0:
        yield Step(f"  {rest} more, in {len(patterns) - _TOLD} other ways; cutting.csv has them all.", rest, "lengths")


def _shared_steps(job: Job, item: str, chosen: BorderTees) -> Iterator[Step]:
    """What it does that border tees may come from longer cross tees."""
    shared, rule = chosen.shared, "border tees may come from longer ones"
    if longer := chosen.from_longer(item):
        text = f"Among the pieces {longer} would come from a shorter tee, were each cut from its own length."
        yield Step(text, longer, "pieces", rule, "the room file")
    if spared := chosen.spared(item):
        more = "fewer" if spared > 0 else "more"
        yield Step(f"That makes {abs(spared)} {more} of {item}.", -spared, "lengths", rule, "the room file")
    if chosen.for_all:
        text = "So all rooms of the building together take least; this one alone could perhaps do with less."
        yield Step(text, None, "", rule, "the building's file")
        return
    unit = (job.plan.stock.bill.currency or "money") if chosen.priced else "mm"

    def said(cost: int) -> str:
        return f"{cost / COST_STEPS:.2f} {unit}" if chosen.priced else f"{job.said(cost / 10)} of tee"

    least, best = said(shared.lower_bound), said(shared.cost)
    text = f"The cut cross tees of all lengths take {best}, in place of {said(shared.cost_own)}; at least {least}."
    yield Step(text, shared.cost / (COST_STEPS if chosen.priced else 10), unit, "least cost, with proof", COMPUTED)


def _fastener_steps(job: Job, line: TakeOffLine) -> Iterator[Step]:
    """What fastens the ceiling, counted where it is fixed."""
    if line.item == ANGLE_FIXING:
        yield from _fixing_steps(job, line)
    elif line.item in (WIRE, ANCHOR):
        yield from _wire_steps(job, line)
    elif line.item == FURRING_NAIL:
        text = f"Two at each joist that a furring strip crosses: {line.net}."
        yield Step(text, line.net, "pieces", "two nails at each joist", "how-to articles on wood furring")
    elif line.item == BLOCKING:
        yield from _blocking_steps(job, line)
    elif line.item in (BRACE_POST, BRACE_WIRE, BRACE_ANCHOR):
        yield from _bracing_steps(job, line)
    else:
        screws = [hanger for hanger in job.plan.ceiling.hangers if hanger.kind == "screw"]
        on = Counter(job.members[hanger.member].kind for hanger in screws)
        text = f"Screws as planned: {listed(f'{number} in {kind}s' for kind, number in on.items())}: {len(screws)}."
        yield Step(text, len(screws), "pieces", "a screw at every joist crossed", MEMORY)


def _fixing_steps(job: Job, line: TakeOffLine) -> Iterator[Step]:
    for member in job.plan.ceiling.members:
        if member.kind == "wall angle":
            each = fixings_for(member.length)
            yield Step(f"{member.id}, {job.piece(member.length, whole=member.whole)}: {each}.", each, "pieces")
    rule = f"no more than {job.said(FIXINGS_APART_MM)} apart, one at each end"
    yield Step(f"Fixings needed: {line.net}.", line.net, "pieces", rule, "NAVEDTRA 14044 p. 5-17")


def _wire_steps(job: Job, line: TakeOffLine) -> Iterator[Step]:
    wires = [hanger for hanger in job.plan.ceiling.hangers if hanger.kind != "screw"]
    kinds = Counter(hanger.kind for hanger in wires)
    yield Step(f"{listed(counted(n, kind) for kind, n in kinds.items())}: {len(wires)} in all.", len(wires), "pieces")
    if line.item == WIRE and line.unit != "piece":
        total = sum(hanger.length or 0.0 for hanger in wires)
        text = f"Together, ties included, {job.said(total)}; bought by the {line.unit}, rounded up: {line.net}."
        yield Step(text, line.net, line.unit, "wire from the joists to the ceiling and its ties", PRACTICE)


def _blocking_steps(job: Job, line: TakeOffLine) -> Iterator[Step]:
    """Wires that have no joist near enough: those that must hang nearly plumb, and those of services."""
    wires: dict[tuple[str, str], list[str]] = {}
    for hanger in job.plan.ceiling.hangers:
        if hanger.block:
            wires.setdefault(lean_rule(hanger)[1:], []).append(hanger.id)
    for (rule, source), names in wires.items():
        text = f"No joist is near enough for {counted(len(names), 'wire')}: {listed(names)}."
        yield Step(text, len(names), "pieces", rule, source)
    text = f"Those between the same joists, side by side, share their blocking: {line.net}."
    yield Step(text, line.net, "pieces", "blocking between joists", PRACTICE)


def _bracing_steps(job: Job, line: TakeOffLine) -> Iterator[Step]:
    brace, count = job.plan.ceiling.brace, len(job.plan.ceiling.braces)
    text = f"The ceiling is braced at {counted(count, 'point')}, each with a post and {Brace.WIRES} splayed wires."
    yield Step(text, count, "points", "lateral bracing", f"ASTM E580 s. 1.5; {HANDOUTS}")
    if line.item == BRACE_WIRE and brace is not None:
        text = f"A wire at 45 degrees, ties included, is {job.said(brace.wire)}: {line.net} {line.unit} in all."
        yield Step(text, line.net, line.unit, "wires no steeper than 45 degrees", HANDOUTS)
    elif line.item == BRACE_ANCHOR:
        yield Step(f"Each wire has an anchor of its own: {line.net}.", line.net, "pieces", "200 lb at each", HANDOUTS)


def _order_steps(job: Job, line: TakeOffLine) -> Iterator[Step]:
    """From what is needed to what is ordered, carried and paid."""
    wish = job.brief.stock
    unit, total = line.unit if line.unit != "piece" else "pieces", str(line.net)
    if line.spare:
        by_count = dict(wish.spare_pieces).get(line.item)
        how = "as the file says" if by_count is not None else f"{100 * wish.spare:g} % of {line.net}, rounded up"
        yield Step(f"Spare: {line.spare} ({how}).", line.spare, unit, "spare", "the room file")
        total += f" + {line.spare} spare"
    if line.for_owner:
        yield Step(
            f"To be left with the owner: {line.for_owner}.", line.for_owner, unit, "leave_with_owner", "the room file"
        )
        total += f" + {line.for_owner} for the owner"
    if line.on_hand:
        yield Step(f"On hand already: {line.on_hand}.", line.on_hand, unit, "on_hand", "the room file")
        total += f" - {line.on_hand} on hand"
    least = ", so nothing" if line.order == 0 and line.on_hand else ""
    yield Step(
        f"To order: {total} = {line.order}{least}." if total != str(line.net) else f"To order: {line.order}.",
        line.order,
        unit,
    )
    bought = line.order
    if line.packs is not None and line.pack_size is not None:
        bought = line.packs * line.pack_size
        text = f"In packs of {line.pack_size}: {counted(line.packs, 'pack')}, {bought} {unit}."
        yield Step(text, line.packs, "packs", "whole packs are paid for and carried", "the room file")
    if line.weight_kg is not None and bought:
        each = line.weight_kg / bought
        yield Step(f"Weight: {bought} x {each:.3g} kg = {line.weight_kg:.1f} kg.", line.weight_kg, "kg")
    if line.cost is not None and bought:
        price = dict(wish.prices)[line.item]
        currency = job.plan.stock.bill.currency
        text = f"Cost: {bought} x {price:.2f} = {line.cost:.2f} {currency}".rstrip() + "."
        yield Step(text, line.cost, currency or "money", "the file's own prices", "the room file")
