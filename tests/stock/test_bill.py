"""What an order comes to: nothing is guessed, and what is missing is said."""

from dataclasses import replace
from pathlib import Path

import pytest

from planner.ceiling.model import Ceiling, Service
from planner.errors import InputError, PlannerError
from planner.planning import Plan
from planner.planning import plan as make_plan
from planner.room.brief import ExtraWish, LabourWish, StockWish
from planner.room.reader import read_room
from planner.stock.bill import bill_notes, bill_of, bill_rows, bill_sentences
from planner.stock.model import Bill, TakeOffLine
from planner.stock.takeoff import Item, take_off

#: 5 panels at 6.00 are 30.00; wall angle has no price.
LINES = (
    TakeOffLine("panel", "piece", 5, 0, 5, None, None, None, 30.0),
    TakeOffLine("wall angle", "piece", 4, 0, 4, None, None, None, None),
)


@pytest.fixture(scope="module")
def square(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """3000 x 2400 of 600 modules: 5 x 4 = 20 whole panels, nothing cut."""
    path = tmp_path_factory.mktemp("bill") / "room.yaml"
    path.write_text("units: mm\nroom: {rectangle: [3000, 2400]}\n")
    return make_plan(read_room(path))


@pytest.fixture
def ceiling(square: Plan) -> Ceiling:
    return square.ceiling


def with_services(ceiling: Ceiling, *kinds: str) -> Ceiling:
    services = tuple(Service(k, k, (300, 300), (600, 600), False, ((0, 0),), (), 0.0) for k in kinds)
    return replace(ceiling, services=services)


def rows_of(bill: Bill) -> dict[str, float]:
    return {what: cost for what, cost, _ in bill_rows(bill)}


def test_without_prices_there_is_no_sum_and_no_guess(ceiling: Ceiling) -> None:
    unpriced = tuple(replace(line, cost=None) for line in LINES)
    bill = bill_of(unpriced, [ceiling], StockWish())
    assert (bill.material, bill.hours, bill.tax, bill.total) == (None, None, None, None)
    assert list(bill_rows(bill)) == []
    assert "labour" in bill.apart and "tax" not in bill.apart, "no tax where there is nothing to tax"


def test_the_sum_says_how_many_items_have_no_price(ceiling: Ceiling) -> None:
    bill = bill_of(LINES, [ceiling], StockWish(currency="CHF"))
    assert list(bill_rows(bill)) == [("total", 30.0, "1 of 2 items without a price: wall angle")]
    assert "total: 30.00 CHF; 1 of 2 items without a price: wall angle." in bill_sentences(bill, LINES)
    assert bill.apart[-2:] == ("labour", "tax")


def test_what_is_all_on_hand_needs_no_price(ceiling: Ceiling) -> None:
    lines = (LINES[0], replace(LINES[1], order=0))
    assert bill_of(lines, [ceiling], StockWish()).unpriced == ()


def test_labour_is_the_users_own_and_apart_from_the_material(ceiling: Ceiling) -> None:
    """20 panels at 3 min and one room at 30 min: 90 min are 1.5 h, at 40.00 an hour 60.00; tax of 10 % on 90.00."""
    labour = LabourWish((("panel", 3.0), ("room", 30.0), ("cut panel", 9.0)), 40.0)
    bill = bill_of(LINES, [ceiling], StockWish(labour=labour, tax=0.1))
    assert {work.what: work.count for work in bill.labour} == {"room": 1, "panel": 20}, "nothing is cut"
    assert bill.hours == pytest.approx(1.5)
    assert rows_of(bill) == {"material": 30.0, "labour": 60.0, "tax": 9.0, "total": 99.0}
    assert not {"labour", "tax"} & set(bill.apart)
    note = next(bill_notes(bill, LINES))
    assert note == "Labour, at the rates that the file gives: 1.5 h; room 0.5 h (1 at 30 min), panel 1 h (20 at 3 min)."


def test_tax_on_the_material_alone(ceiling: Ceiling) -> None:
    """8 % of 30.00 are 2.40."""
    labour = LabourWish((("panel", 3.0),), 40.0)
    bill = bill_of(LINES, [ceiling], StockWish(labour=labour, tax=0.08, tax_on="material"))
    assert rows_of(bill) == {"material": 30.0, "labour": 40.0, "tax": 2.4, "total": 72.4}


def test_hours_without_a_price_cost_nothing(ceiling: Ceiling) -> None:
    bill = bill_of(LINES, [ceiling], StockWish(labour=LabourWish((("panel", 3.0),))))
    assert (bill.hours, bill.labour_cost, bill.total) == (pytest.approx(1.0), None, 30.0)


def test_every_kind_of_work_is_counted_by_the_piece(ceiling: Ceiling) -> None:
    """Twice the ceiling is twice the work."""
    wish = StockWish(
        labour=LabourWish(tuple((what, 1.0) for what in ("main tee", "cross tee", "wall angle", "hanger")))
    )
    one, two = (bill_of(LINES, [ceiling] * n, wish) for n in (1, 2))
    assert [work.count * 2 for work in one.labour] == [work.count for work in two.labour]
    pieces = {work.what: work.count for work in one.labour}
    mains = [member for member in ceiling.members if member.kind == "main tee"]
    assert pieces["main tee"] == sum(piece.count for member in mains for piece in member.pieces)
    assert pieces["hanger"] == len(ceiling.hangers) > 0


@pytest.mark.parametrize(
    ("kinds", "apart"),
    [
        (("troffer",), ("lights", "wiring")),
        (("downlight", "troffer", "sprinkler"), ("lights", "sprinkler heads", "wiring", "pipes")),
        (("return_grille", "supply_diffuser"), ("diffusers", "grilles", "ducts")),
        (("access_panel",), ("access panels",)),
        ((), ("anything that is fitted into the ceiling (the file names no services)",)),
    ],
)
def test_what_is_not_included_follows_from_the_services(
    ceiling: Ceiling, kinds: tuple[str, ...], apart: tuple[str, ...]
) -> None:
    bill = bill_of((), [with_services(ceiling, *kinds)], StockWish())
    assert bill.apart == (*apart, "labour")
    assert list(bill_notes(bill, ())) == [f"Not included: {', '.join(bill.apart)}."]


def test_what_a_step_asks_for_and_no_list_has_is_said_not_to_be_included() -> None:
    """The low workshop's grid is shimmed under its joists and a post P1 comes through; the kiln room has neither."""
    fixtures = Path(__file__).parents[2] / "fixtures"
    low, kiln = (make_plan(read_room(fixtures / f"{name}.yaml")).stock.bill for name in ("workshop-low", "kiln-room"))
    assert {"shims under the joists", "cover rings or sealant at pipes"} <= set(low.apart)
    assert not any("shims" in thing or "rings" in thing for thing in kiln.apart)


def test_panels_for_the_owner_are_beyond_need_and_spare() -> None:
    """40 and 5 % (2) and 3 for the owner, 1 on hand: 44; told on a line of its own."""
    wish = StockWish(spare=0.05, for_owner=(("panel", 3),), on_hand=(("panel", 1),))
    (line,) = take_off([Item("panel", 40)], wish)
    assert (line.net, line.spare, line.for_owner, line.on_hand, line.order) == (40, 2, 3, 1, 44)
    assert "To be left with the owner: panel (3)." in list(bill_notes(Bill(), [line]))


def test_spare_by_share_is_rounded_up_and_by_count_is_kept() -> None:
    """7 % of 10 are 0.7, so 1; 2 asked for by count stay 2."""
    wish = StockWish(spare=0.07, spare_pieces=(("main tee", 2),))
    panel, main = take_off([Item("panel", 10), Item("main tee", 10)], wish)
    assert (panel.spare, main.spare) == (1, 2)


def test_extras_are_bought_as_given() -> None:
    """One can, no spare, 12.50; of five pads in packs of two, three packs: six at 2.00."""
    extras = (ExtraWish("touch-up paint", 1, 0.4), ExtraWish("pad", 5))
    wish = StockWish(spare=0.5, extras=extras, prices=(("touch-up paint", 12.5), ("pad", 2.0)), packs=(("pad", 2),))
    _, paint, pad = take_off([Item("panel", 4)], wish)
    assert (paint.order, paint.spare, paint.cost, paint.weight_kg, paint.extra) == (1, 0, 12.5, 0.4, True)
    assert (pad.order, pad.packs, pad.cost) == (5, 3, 12.0)


def test_an_extra_is_nothing_that_is_counted_anyway() -> None:
    with pytest.raises(PlannerError, match="panel is on the list already"):
        take_off([Item("panel", 4)], StockWish(extras=(ExtraWish("panel", 2),)))


@pytest.mark.parametrize(
    ("stock", "expected"),
    [
        ("prices: {panel: -1}", "stock › prices › panel"),
        ("prices: {panel: 1, panel: 2}", "panel"),
        ("extras: [{item: paint, price: 1}, {item: paint}]", "paint is named twice"),
        ("{prices: {paint: 2}, extras: [{item: paint, price: 1}]}", "paint is named twice: as prices and in extras"),
        ("extras: [{item: paint, price: -3}]", "price"),
        ("labour: {each: {panel: 3}}", "Write it as 3 min, 1.5 h or 40 s."),
        ("labour: {each: {pannel: 3 min}}", 'Did you mean "panel"'),
        ("labour: {hour: 45}", "each"),
        ("tax: 800%", "is not a share between 0 and 1"),
        ("leave_with_owner: {panel: -2}", "leave_with_owner"),
    ],
)
def test_what_cannot_be_meant_is_refused(tmp_path: Path, stock: str, expected: str) -> None:
    path = tmp_path / "room.yaml"
    given = stock if stock.startswith("{") else f"{{{stock}}}"
    path.write_text(f"units: mm\nroom: {{rectangle: [3000, 2400]}}\nstock: {given}\n")
    with pytest.raises(InputError) as caught:
        read_room(path)
    assert expected in str(caught.value)


def test_the_keys_reach_the_order(tmp_path: Path) -> None:
    path = tmp_path / "room.yaml"
    path.write_text(
        "units: mm\nroom: {rectangle: [3000, 2400]}\n"
        "stock:\n  leave_with_owner: {panel: 2}\n  extras: [{item: touch-up paint, price: 4, weight: 1 kg}]\n"
        "  labour: {each: {panel: 90 s, room: 1.5 h}, hour: 50}\n  tax: 8%\n  tax_on: material\n"
    )
    bought = make_plan(read_room(path)).stock
    # 20 panels at 1.5 min are 0.5 h, and 1.5 h for the room: 2 h at 50; tax 8 % of 4.00
    assert rows_of(bought.bill) == {"material": 4.0, "labour": 100.0, "tax": 0.32, "total": 104.32}
    assert next(line for line in bought.takeoff if line.item == "panel").order == 22
