"""The lists of a plan as HTML: findings, order of work, parts, what to buy and how to cut it.

In: a `Plan` and its parts. Out: markup. Names of parts are buttons that the page's program answers to by their
`data-part`; without the program they are words like any other.
"""

from collections.abc import Iterable, Sequence
from itertools import groupby

from planner.ceiling.order import order_of_work
from planner.drawing import words
from planner.drawing.cutting_words import best_said, kerf_said, left_said
from planner.drawing.dimensions import piece_said, spoken
from planner.drawing.lists import packs_said
from planner.drawing.panel_marks import panel_class
from planner.drawing.schedules import written_weight
from planner.gathering import Gathered, gathered
from planner.page.markup import Html, element, together
from planner.page.parts import Part, panel_said
from planner.planning import Plan
from planner.stock.bill import bill_notes, bill_rows
from planner.stock.model import Bar, Bill, Cutting, TakeOffLine

#: Names shown for one row; who looks for another finds it by its name.
MOST_NAMES = 60


def findings_list(plan: Plan) -> Html:
    """Every finding with its number on the sheets, the gravest first."""
    found = gathered(plan.findings)
    if not found:
        return element("p", words.say("page.no findings"), class_="none")
    return element("ol", *(_finding(number, each) for number, each in enumerate(found, 1)), class_="findings")


def work_list(plan: Plan) -> Html:
    """The order of work, with a box to tick for each step."""
    steps = map(words.translated, order_of_work(plan.room, plan.ceiling, plan.findings))
    return element("ol", *(_step(number, step) for number, step in enumerate(steps, 1)), class_="work")


def parts_lists(plan: Plan, parts: Sequence[Part]) -> Html:
    """Everything with a name, by kind."""
    panels = [part for part in parts if part.group == "panel"]
    sections = [section(words.say("panels.heading"), _panels_by_class(plan, panels))] if panels else []
    others = [part for part in parts if part.group != "panel"]
    for kind, group in groupby(others, lambda part: part.kind):
        found = list(group)
        sections.append(section(words.say("page.kind counted", kind=kind, n=len(found)), _names(found)))
    return together(sections)


def stock_lists(plan: Plan) -> Html:
    """What to buy, what it comes to, and how the lengths are sawn."""
    sections = [
        section(words.say("order.heading"), order_table(plan.stock.takeoff, plan.stock.bill, plan.room.imperial))
    ]
    sections += [
        section(words.say("page.sawing", item=words.named(cutting.item)), cutting_table(cutting, plan.room.units))
        for cutting in plan.stock.cutting
    ]
    return together(sections)


def order_table(lines: Sequence[TakeOffLine], bill: Bill, imperial: bool) -> Html:
    """A take-off, and in sentences what it comes to; what is on hand and what the owner keeps stand on the sheet."""
    heads = words.row("order.heads")
    rows = [
        (
            words.translated(line.named),
            str(line.net),
            str(line.spare or ""),
            line.amount,
            packs_said(line),
            "" if line.weight_kg is None else written_weight(line.weight_kg, imperial),
            "" if line.cost is None else f"{line.cost:,.2f}",
        )
        for line in lines
    ]
    costs = [
        (", ".join(map(words.translated, filter(None, (what, note)))), f"{cost:,.2f} {bill.currency}".rstrip())
        for what, cost, note in bill_rows(bill)
    ]
    return together(
        [
            rows_table((*heads[:3], *heads[5:]), rows, words_in=4),
            *([rows_table(words.row("page.cost heads"), costs)] if costs else []),
            *(element("p", words.translated(note)) for note in bill_notes(bill, lines)),
        ]
    )


def facts_list(facts: Iterable[tuple[str, str]]) -> Html:
    """Terms and what is said of them."""
    return element("dl", *(together([element("dt", term), element("dd", said)]) for term, said in facts))


def _finding(number: int, finding: Gathered) -> Html:
    body = [
        element("b", f"{number} {words.say(f'page.sign {finding.severity}')}", class_="sign"),
        element("span", words.translated(finding.message), class_="message"),
        *(element("span", words.translated(remedy), class_="remedy") for remedy in finding.remedies),
        element("span", _rule_said(finding), class_="rule"),
    ]
    card = (
        element("div", *body, class_="card")
        if not finding.places
        else element("button", *body, class_="card", type="button", data_finding=number)
    )
    return element("li", card, class_=finding.severity)


def _rule_said(finding: Gathered) -> str:
    return words.say("page.finding rule", rule=words.named(finding.rule), source=words.named(finding.source))


def _step(number: int, text: str) -> Html:
    box = element("input", type="checkbox", id=f"step-{number}")
    return element("li", element("label", box, element("span", text), for_=f"step-{number}"))


def _panels_by_class(plan: Plan, parts: Sequence[Part]) -> Html:
    by_id = {part.name: part for part in parts}
    panels = sorted(plan.ceiling.panels, key=lambda panel: (len(panel_class(panel)), panel_class(panel)))
    pieces: list[Html] = []
    for name, group in groupby(panels, panel_class):
        found = list(group)
        size = words.say("page.full drilled") if found[0].full_size else panel_said(found[0], plan.room.units)
        pieces.append(element("h4", element("b", name), words.say("page.class size", size=size, n=len(found))))
        pieces.append(_names([by_id[panel.id] for panel in found]))
    return together(pieces)


def _names(parts: Sequence[Part]) -> Html:
    shown = [element("button", part.name, type="button", data_part=part.key) for part in parts[:MOST_NAMES]]
    more = len(parts) - MOST_NAMES
    left = element("span", words.say("page.names more", n=more)) if more > 0 else None
    return element("div", *shown, left, class_="names")


def cutting_table(cutting: Cutting, units: str) -> Html:
    """How the lengths of one item are sawn, bar by bar."""
    rows = [
        (
            str(number),
            str(bar.count),
            _bar_said(bar, cutting, units),
            left_said(bar, cutting, units),
        )
        for number, bar in enumerate(cutting.bars, 1)
    ]
    length = words.say("page.lengths", length=spoken(cutting.stock_length, units))
    said = " ".join((length, capitalised(best_said(cutting)), *kerf_said(cutting.kerf, units)))
    return together([element("p", said), rows_table(words.row("page.bar heads"), rows, words_in=2)])


def capitalised(text: str) -> str:
    """A sentence that begins with a large letter; the rest as it is."""
    return text[:1].upper() + text[1:]


def _bar_said(bar: Bar, cutting: Cutting, units: str) -> str:
    return " + ".join(
        words.say("page.piece for", length=length, member=piece.member) if piece.member else length
        for piece in bar.pieces
        for length in (piece_said(piece.length, units, whole=cutting.is_whole(piece.length)),)
    )


def section(heading: str, *content: Html) -> Html:
    """A part of a list, below its heading."""
    return element("section", element("h3", heading), *content)


def rows_table(heads: Sequence[str], rows: Sequence[Sequence[str]], words_in: int | None = None) -> Html:
    """A table without the columns that are empty throughout; figures to the right, but for one column of words."""
    kept = [k for k in range(len(heads)) if any(row[k] for row in rows)]
    look = {k: "words" if k == words_in else None for k in kept}
    head = element("tr", *(element("th", heads[k], scope="col", class_=look[k]) for k in kept))
    body = [element("tr", *(element("td", row[k], class_=look[k]) for k in kept)) for row in rows]
    return element("table", element("thead", head), element("tbody", *body))
