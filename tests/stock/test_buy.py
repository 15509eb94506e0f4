"""From a framed ceiling to an order."""

from collections.abc import Sequence

import pytest

from planner.ceiling.framing import frame
from planner.ceiling.mains import choose_mains
from planner.ceiling.model import Ceiling, Layout, Panel
from planner.ceiling.system import System, load_system
from planner.errors import PlannerError
from planner.geometry import Frame
from planner.room.brief import GridWish, StockWish
from planner.room.outline import Room
from planner.stock.buy import buy_stock
from planner.stock.model import Stock, TakeOffLine
from planner.stock.takeoff import Item, take_off

INCH = 25.4
IMPERIAL = load_system("lay-in-imperial")
METRIC = load_system("lay-in-metric")


def room_of(width: float, depth: float) -> Room:
    outline = ((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth))
    return Room("test room", "mm", outline, ("A", "B", "C", "D"))


def ceiling_of(
    room: Room,
    system: System,
    origin: tuple[float, float],
    module: float,
    *,
    full: int,
    cut: Sequence[tuple[float, float]] = (),
) -> Ceiling:
    """Frame a room; `cut` gives the sizes of its cut panels."""
    layout = Layout(Frame(origin), (module, module), (), None, (), (), True, "for the test")
    mains = choose_mains(room, layout, system, GridWish(system.name))
    panels = tuple(Panel(f"a{k}", (0, k), (), (), size, size, 0.0, False) for k, size in enumerate(cut))
    members = frame(room, layout, system, mains)
    return Ceiling(system, layout, (), panels, full, members, mains.direction)


def line(stock: Stock, item: str) -> TakeOffLine:
    return next(row for row in stock.takeoff if row.item == item)


def navy_stock(wish: StockWish) -> Stock:
    """13 ft 7 in x 10 ft 4 in: 7 x 6 modules (CV-04), 5 x 4 of them whole, 22 cut."""
    room = room_of(163 * INCH, 124 * INCH)
    whole, wide, deep = 23.75 * INCH, 21.25 * INCH, 13.75 * INCH
    cut = [(wide, deep)] * 4 + [(wide, whole)] * 8 + [(whole, deep)] * 10
    ceiling = ceiling_of(room, IMPERIAL, (21.5 * INCH, 14 * INCH), 24 * INCH, full=20, cut=cut)
    return buy_stock(ceiling, wish)


def test_the_order_of_the_navy_room() -> None:
    """NAVEDTRA 14044 pp. 5-16, 5-17.

    Panels 7 x 6 = 42: every cut is over half, so none shares a panel. Mains: 138.5 and 24.5 in, and 24.5 and 138.5 in
    the other way about, to stagger the splices; the short begin and the short end come from one of 144, so 3. 4 ft
    tees: six lines of 38 + 48 + 38: 6 whole and 12 of 38, of which no two come from one: 18. 2 ft tees: three lines of
    21.5, 5 x 24, 21.5: 15 whole and 6: 21. Wall angle: 4 (CV-03).
    """
    stock = navy_stock(StockWish())
    assert {line.item: line.net for line in stock.takeoff} == {
        "panel": 42,
        "main tee": 3,
        "cross tee 2 ft": 21,
        "cross tee 4 ft": 18,
        "wall angle": 4,
    }
    assert [line.item for line in stock.takeoff] == [
        "panel",
        "main tee",
        "cross tee 2 ft",
        "cross tee 4 ft",
        "wall angle",
    ]
    assert {line.unit for line in stock.takeoff} == {"piece"}


def test_the_ten_by_twelve_room() -> None:
    """E10, published: 44 ft of wall takes 4 wall angles of 12 ft, and the room two mains.

    Each main is 12 ft long, but its first tee at 24 in misses the slots (3 + 6 k): 9 in come off and are put on behind.
    Cut with snips (no kerf), two mains do.
    """
    room = room_of(144 * INCH, 120 * INCH)
    ceiling = ceiling_of(room, IMPERIAL, (0.0, 0.0), 24 * INCH, full=30)
    assert sum(member.kind == "main tee" for member in ceiling.members) == 2
    stock = buy_stock(ceiling, StockWish(saw_kerf=0.0))
    assert (line(stock, "wall angle").net, line(stock, "main tee").net) == (4, 2)
    assert line(stock, "panel").net == 30  # CV-34: 10 x 12 ft takes 30 of 2 x 2


def test_each_item_that_is_cut_has_its_bars() -> None:
    stock = navy_stock(StockWish())
    assert [cutting.item for cutting in stock.cutting] == ["main tee", "cross tee 2 ft", "cross tee 4 ft", "wall angle"]
    by_item = {cutting.item: cutting for cutting in stock.cutting}
    assert all(by_item[line.item].bought == line.net for line in stock.takeoff if line.item != "panel")
    assert {piece.member for bar in by_item["main tee"].bars for piece in bar.pieces} == {"M1", "M2"}


def test_spare_is_rounded_up_and_what_is_on_hand_comes_off() -> None:
    """5 % of 42 panels is 2.1, so 3; 5 % of 3 mains is 0.15, so 1; 3 + 1 less 2 on hand is 2."""
    stock = navy_stock(StockWish(spare=0.05, on_hand=(("main tee", 2),)))
    panel, main = line(stock, "panel"), line(stock, "main tee")
    assert (panel.net, panel.spare, panel.order) == (42, 3, 45)
    assert (main.net, main.spare, main.on_hand, main.order) == (3, 1, 2, 2)


def test_more_on_hand_than_needed_orders_nothing() -> None:
    assert line(navy_stock(StockWish(on_hand=(("wall angle", 9),))), "wall angle").order == 0


def test_spare_that_comes_out_whole_is_not_rounded_up() -> None:
    """10 % of 30 is 3, though 30 * 0.1 in floats is 3.0000000000000004 or so."""
    (only,) = take_off([Item("panel", 30)], StockWish(spare=0.1))
    assert only.spare == 3


def test_whole_packs_are_ordered_and_paid_for() -> None:
    """42 panels in cartons of 12: 4 cartons, 48 panels at 6.40 = 307.20; 18 tees in packs of 10: 2."""
    wish = StockWish(panels_per_carton=12, prices=(("panel", 6.40),), packs=(("cross tee 4 ft", 10),))
    stock = navy_stock(wish)
    panel, tee = line(stock, "panel"), line(stock, "cross tee 4 ft")
    assert (panel.order, panel.packs, panel.pack_size, panel.cost) == (42, 4, 12, 307.2)
    assert (tee.packs, tee.pack_size, tee.cost) == (2, 10, None)
    assert line(stock, "main tee").packs is None


def test_weight_is_told_only_where_it_is_known() -> None:
    """4 pieces of 3.6 m at 0.5 kg/m are 7.2 kg."""
    known, unknown = take_off([Item("main tee", 4, 1.8), Item("panel", 3)], StockWish())
    assert (known.weight_kg, unknown.weight_kg) == (pytest.approx(7.2), None)


def test_items_that_are_not_needed_are_not_ordered() -> None:
    """A niche inside one module: one panel and wall angle, no tees."""
    room = room_of(500, 500)
    ceiling = ceiling_of(room, METRIC, (-50, -50), 600, full=0, cut=[(490.0, 490.0)])
    assert [line.item for line in buy_stock(ceiling, StockWish()).takeoff] == ["panel", "wall angle"]


def test_unknown_items_are_refused_all_at_once() -> None:
    wish = StockWish(prices=(("main te", 9.85),), on_hand=(("wall angel", 2),))
    with pytest.raises(PlannerError) as caught:
        navy_stock(wish)
    text = str(caught.value)
    assert "stock › prices › main te" in text
    assert "stock › on_hand › wall angel" in text
    assert "Did you mean main tee, wall angle?" in text
    assert "cross tee 4 ft" in text


def test_an_item_that_this_room_does_not_need_may_still_be_priced() -> None:
    room = room_of(500, 500)
    ceiling = ceiling_of(room, METRIC, (-50, -50), 600, full=0, cut=[(490.0, 490.0)])
    stock = buy_stock(ceiling, StockWish(prices=(("main tee", 9.0),)))
    assert "main tee" not in [line.item for line in stock.takeoff]


def test_two_pack_sizes_for_panels_are_one_too_many() -> None:
    with pytest.raises(PlannerError, match="Keep one of the two"):
        navy_stock(StockWish(panels_per_carton=12, packs=(("panel", 10),)))


def test_a_large_room_buys_what_the_area_says() -> None:
    """CV-41: 100 ft x 100 ft: 1250 less 25 of the 4 ft tees (one line is wall), 1250 of 2 ft.

    24 runs of 1200 in of main, first tee at 24 in: 3 in come off the first; 141 + 7 x 144 + 51, every other run the
    other way about. 24 * 7 = 168 whole, 24 of 141, and 12 times a begin and an end of 51 from one: 204, where
    2400 ft / 12 ft = 200.
    """
    room = room_of(1200 * INCH, 1200 * INCH)
    stock = buy_stock(ceiling_of(room, IMPERIAL, (0.0, 0.0), 24 * INCH, full=2500), StockWish())
    assert line(stock, "cross tee 4 ft").net == 1225
    assert line(stock, "cross tee 2 ft").net == 1250
    assert line(stock, "main tee").net == 204
    assert next(c.lower_bound for c in stock.cutting if c.item == "main tee") == 204
