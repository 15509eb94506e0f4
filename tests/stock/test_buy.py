"""From a framed ceiling to an order."""

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest

from planner.ceiling.framing import frame
from planner.ceiling.mains import choose_mains
from planner.ceiling.members.trim import spliced_trim
from planner.ceiling.model import Ceiling, Hanger, Layout, Panel
from planner.ceiling.system import System, load_system
from planner.errors import PlannerError
from planner.geometry import Frame
from planner.planning import plan as make_plan
from planner.room.brief import GridWish, StockWish
from planner.room.outline import Room
from planner.room.reader import read_room
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
    21.5, 5 x 24, 21.5: 15 whole and 6: 21. Wall angle: 4 (CV-03), fixed at 24 in and at its ends: two walls of 163 in
    with 7 + 1, two of 124 in with 6 + 1 fixings are 30.
    """
    stock = navy_stock(StockWish())
    assert {line.item: line.net for line in stock.takeoff} == {
        "panel": 42,
        "main tee": 3,
        "cross tee 2 ft": 21,
        "cross tee 4 ft": 18,
        "wall angle": 4,
        "wall angle fixing": 30,
    }
    assert [line.item for line in stock.takeoff] == [
        "panel",
        "main tee",
        "cross tee 2 ft",
        "cross tee 4 ft",
        "wall angle",
        "wall angle fixing",
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
    assert all(by_item[line.item].bought == line.net for line in stock.takeoff if line.item in by_item)
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
    items = [line.item for line in buy_stock(ceiling, StockWish()).takeoff]
    assert items == ["panel", "wall angle", "wall angle fixing"]


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


def test_spare_by_count_stands_in_place_of_the_share() -> None:
    """Six panels to leave with the owner; of the rest 5 %, rounded up: 18 tees of 4 ft make 0.9, so 1."""
    stock = navy_stock(StockWish(spare=0.05, spare_pieces=(("panel", 6),)))
    assert (line(stock, "panel").spare, line(stock, "panel").order) == (6, 48)
    assert line(stock, "cross tee 4 ft").spare == 1
    with pytest.raises(PlannerError, match="stock › spare_pieces › panle"):
        navy_stock(StockWish(spare_pieces=(("panle", 6),)))


def test_panels_weigh_what_the_wish_says() -> None:
    """23.75 in square is 0.3639 m2; 42 panels at 5 kg/m2 are 76.4 kg."""
    room = room_of(163 * INCH, 124 * INCH)
    ceiling = ceiling_of(room, IMPERIAL, (21.5 * INCH, 14 * INCH), 24 * INCH, full=42)
    stock = buy_stock(ceiling, StockWish(), GridWish("lay-in-imperial", panel_kg_m2=5.0))
    assert line(stock, "panel").weight_kg == pytest.approx(42 * 5 * (23.75 * 0.0254) ** 2)


def test_wall_angle_is_spliced_only_where_asked() -> None:
    """Four walls of 2 m in 3 m lengths: one wall from each of four; spliced, 8 m of 3 m lengths are three."""
    ceiling = ceiling_of(room_of(2000, 2000), METRIC, (100, 100), 600, full=9)
    plain = buy_stock(ceiling, StockWish())
    wish = StockWish(splice_from=300.0, saw_kerf=0.0)
    parted = replace(ceiling, members=spliced_trim(ceiling.members, METRIC.wall_angle, wish))
    spliced = buy_stock(parted, wish)
    assert (line(plain, "wall angle").net, line(spliced, "wall angle").net) == (4, 3)
    angles = [member for member in parted.members if member.kind == "wall angle"]
    assert sum(len(member.pieces) for member in angles) == 5  # the frame is told of the splice
    assert [member.length for member in angles] == [2000] * 4


def test_revealed_edges_may_take_more_panels() -> None:
    """Twelve strips of 75 mm: with hidden edges seven come from one panel of 595, else two."""
    cut = [(75.0, 595.0)] * 12
    panels = {}
    for edge in ("plain", "revealed"):
        ceiling = ceiling_of(room_of(2000, 2000), METRIC, (100, 100), 600, full=9, cut=cut)
        outline = ((525.0, 0.0), (600.0, 0.0), (600.0, 600.0), (525.0, 600.0))
        strips = tuple(replace(panel, cell=(0, 0), outline=outline) for panel in ceiling.panels)
        layout = replace(ceiling.layout, frame=Frame())
        wish = GridWish("lay-in-metric", panel_edge=edge)
        stock = buy_stock(replace(ceiling, layout=layout, panels=strips), StockWish(), wish)
        panels[edge] = line(stock, "panel").net - 9
    assert panels == {"plain": 2, "revealed": 6}


def test_keys_of_the_room_file_reach_the_saw(tmp_path: Path) -> None:
    path = tmp_path / "room.yaml"
    path.write_text(
        "units: mm\nroom: {rectangle: [3500, 2900]}\n"
        "grid: {panel_edge: revealed, panel_turns: false}\n"
        "stock: {spare_pieces: {panel: 4}, reuse_from: 300, long_offcuts: true, splice_from: 250, budget: 2 s}\n",
        "utf-8",
    )
    brief = read_room(path)
    assert (brief.grid.panel_edge, brief.grid.panel_turns) == ("revealed", False)
    wish = brief.stock
    assert (wish.spare_pieces, wish.reuse_from, wish.long_offcuts, wish.splice_from, wish.budget_s) == (
        (("panel", 4),),
        300,
        True,
        250,
        2,
    )


@pytest.mark.parametrize(
    ("written", "seconds"), [("0", 0), ("2.5", 2.5), ("2 s", 2), ("2s", 2), ("1.5 min", 90), ("60 min", 3600)]
)
def test_the_time_to_search_is_said_in_the_file(written: str, seconds: float, tmp_path: Path) -> None:
    path = tmp_path / "room.yaml"
    path.write_text(f"units: mm\nroom: {{rectangle: [3500, 2900]}}\nstock: {{budget: {written}}}\n", "utf-8")
    assert read_room(path).stock.budget_s == seconds


@pytest.mark.parametrize("written", ["-1", "61 min", "5 h", "soon", "true", ".inf", ".nan", "[5]", "9e99"])
def test_what_is_no_time_to_search_is_refused(written: str, tmp_path: Path) -> None:
    path = tmp_path / "room.yaml"
    path.write_text(f"units: mm\nroom: {{rectangle: [3500, 2900]}}\nstock: {{budget: {written}}}\n", "utf-8")
    with pytest.raises(PlannerError, match="not a time to search"):
        read_room(path)


def test_wire_and_anchors_are_counted_as_planned() -> None:
    """Three wires of 655 mm are 1.965 m, so 2 m, and three anchors; a screw is no wire."""
    room = room_of(3000, 3000)
    bare = ceiling_of(room, METRIC, (0.0, 0.0), 600, full=25)
    wires = tuple(Hanger(f"HW{k}", (600.0 * k, 1200.0), "M1", "wire", 655.0) for k in range(1, 4))
    stock = buy_stock(replace(bare, hangers=wires), StockWish())
    assert (line(stock, "hanger wire").net, line(stock, "hanger wire").unit) == (2, "m")
    assert line(stock, "hanger anchor").net == 3
    unknown = tuple(replace(wire, length=None) for wire in wires)
    stock = buy_stock(replace(bare, hangers=unknown), StockWish())
    assert (line(stock, "hanger wire").net, line(stock, "hanger wire").unit) == (3, "piece")


def test_every_screw_of_a_grid_on_joists_is_in_the_order() -> None:
    plan = make_plan(read_room(Path(__file__).parents[2] / "fixtures" / "workshop-low.yaml"))
    screws = sum(hanger.kind == "screw" for hanger in plan.ceiling.hangers)
    assert line(plan.stock, plan.ceiling.system.screws()[0]).net == screws > 0
