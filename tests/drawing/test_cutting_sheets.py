"""Cutting sheets: what is drawn, at which scale, with whose ids, and how good the cutting is said to be."""

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
from drawing.hand_plans import hand_plan, rectangle, room
from drawing.whole_sheets import check, said
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import rotate, scale, translate
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from planner.ceiling.model import Member, Piece
from planner.drawing.cutting_names import told
from planner.drawing.cutting_patterns import lots
from planner.drawing.cutting_shapes import panel_patterns
from planner.drawing.cutting_sheets import cutting_sheets
from planner.drawing.dimensions import written_piece as sawn
from planner.drawing.roles import Role
from planner.drawing.shapes import Outline, Sheet, Text
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.geometry import Box, box_of
from planner.planning import Plan, plan
from planner.room.reader import read_room
from planner.stock.model import Bar, BarPiece, CutPanel, Cutting, PanelCutting, PanelPiece, Stock

ISO = load_style("iso-13567")
FIXTURES = Path(__file__).parents[2] / "fixtures"


def bar(*pieces: tuple[str, float], left: float = 0.0, count: int = 1) -> Bar:
    return Bar(tuple(BarPiece(*piece) for piece in pieces), left, count)


def cut(item: str, length: float, *bars: Bar, least: int | None = None, kerf: float = 0.0) -> Cutting:
    bought = sum(each.count for each in bars)
    return Cutting(item, length, kerf, bars, bought, bought if least is None else least)


def made(*cuttings: Cutting, panels: PanelCutting | None = None, members: tuple[Member, ...] = ()) -> Plan:
    hand = hand_plan(room(rectangle(4140, 3150)))
    ceiling = replace(hand.ceiling, members=(*hand.ceiling.members, *members))
    return replace(hand, ceiling=ceiling, stock=Stock(cuttings, (), panels))


def run(name: str, *pieces: tuple[float, tuple[str, str]], stock: str = "main tee") -> Member:
    parts = tuple(Piece(stock, length, ends) for length, ends in pieces)  # type: ignore[arg-type]
    return Member(name, "main tee", (0.0, 0.0), (1.0, 0.0), parts)


def boxes(sheet: Sheet, role: Role) -> list[Box]:
    return [box_of(shape.points) for shape in sheet.shapes if isinstance(shape, Outline) and shape.role == role]


def box_around(sheet: Sheet, words: str, role: Role = Role.CUT_PIECE) -> Box:
    """The outline of a role in which some words stand."""
    (at,) = [shape.at for shape in sheet.shapes if isinstance(shape, Text) and shape.text == words]
    (found,) = [box for box in boxes(sheet, role) if box.left < at[0] < box.right and box.bottom < at[1] < box.top]
    return found


def drawn(made_plan: Plan) -> Sheet:
    (sheet,) = cutting_sheets(made_plan, ISO, SheetWish())
    check(sheet, ISO)
    return sheet


# Bars


def test_a_bar_is_drawn_to_the_scale_that_the_heading_says():
    """3000 at 1:20 is 150 mm long, and a piece of 2000 on it 100 mm; at 1:10 the bar would not fit half of an A3."""
    sheet = drawn(made(cut("wall angle", 3000.0, bar(("W1", 2000.0), left=1000.0))))
    assert "Wall angle: lengths of 3000; drawn at 1:20" in said(sheet)
    assert [box.width for box in boxes(sheet, Role.STOCK)] == pytest.approx([150.0])
    assert box_around(sheet, "W1  2000").width == pytest.approx(100.0)


def test_what_the_saw_takes_has_its_unit():
    """A heading is a name, as it stands on the order; a sentence says 3 mm."""
    sheet = drawn(made(cut("wall angle", 3000.0, bar(("W1", 2000.0), left=1000.0), kerf=3.0)))
    assert "The saw takes 3 mm a cut." in said(sheet)


def test_what_is_left_over_is_tinted_and_lies_under_everything_else():
    """1000 of 3000 at 1:20 are 50 mm; layers are painted as they first appear, so the tint must come first."""
    sheet = drawn(made(cut("wall angle", 3000.0, bar(("W1", 2000.0), left=1000.0))))
    first = sheet.shapes[0]
    assert isinstance(first, Outline) and first.role == Role.OFFCUT and first.fill
    assert box_of(first.points).width == pytest.approx(50.0)
    assert "1000" in [shape.text for shape in sheet.shapes if isinstance(shape, Text)]


def test_the_saw_takes_its_kerf_between_two_pieces():
    """At 1:20 a kerf of 4 is 0.2 mm wide."""
    sheet = drawn(made(cut("wall angle", 3000.0, bar(("W1", 1000.0), ("W2", 900.0), left=1092.0), kerf=4.0)))
    gap = box_around(sheet, "W2  900").left - box_around(sheet, "W1  1000").right
    assert gap == pytest.approx(0.2)


def test_bars_that_are_cut_alike_are_drawn_once_with_all_ids():
    bars = [bar((f"W{k}", 975.0), left=2025.0) for k in range(1, 7)]
    sheet = drawn(made(cut("wall angle", 3000.0, *bars)))
    assert len(boxes(sheet, Role.STOCK)) == 1
    assert "6 ×" in said(sheet) and "cut 6 like this" in said(sheet) and "975: W1 to W6" in said(sheet)


def test_bars_that_are_used_whole_come_first_and_the_longest_pieces_next():
    (lot,) = lots(
        made(
            cut(
                "wall angle",
                3000.0,
                bar(("W1", 500.0), left=2500.0),
                bar(("W2", 2000.0), ("W3", 700.0), left=300.0),
                bar(count=4),
                bar(("W4", 2000.0), ("W5", 900.0), left=100.0),
            )
        )
    )
    assert [[slot.length for slot in pattern.slots] for pattern in lot.patterns] == [
        [],
        [2000.0, 900.0],
        [2000.0, 700.0],
        [500.0],
    ]
    assert [pattern.count for pattern in lot.patterns] == [4, 1, 1, 1]


def test_items_come_as_they_are_put_up_wall_angle_before_main_tees_before_cross_tees():
    wall = Member("W1", "wall angle", (0.0, 0.0), (1.0, 0.0), (Piece("wall angle", 900.0, ("cut", "cut")),))
    cross = Member("T1", "cross tee", (0.0, 0.0), (1.0, 0.0), (Piece("cross tee", 500.0, ("factory", "cut")),))
    given_ = made(
        cut("cross tee", 600.0, bar(("T1", 500.0))),
        cut("main tee", 3600.0, bar(("M1", 900.0))),
        cut("wall angle", 3000.0, bar(("W1", 900.0))),
        members=(wall, cross, run("M1", (900.0, ("factory", "cut")))),
    )
    assert [lot.cutting.item for lot in lots(given_)] == ["wall angle", "main tee", "cross tee"]


def test_two_pieces_of_one_cross_tee_lie_at_its_two_ends_since_each_keeps_one():
    """600 at 1:5 is 120 mm: 300 lies at the left, 60 mm; 200 at the right, 40 mm; the rest is between them."""
    sheet = drawn(made(cut("cross tee", 600.0, bar(("T1", 300.0), ("T2", 200.0), left=100.0))))
    (whole,) = boxes(sheet, Role.STOCK)
    left, right = box_around(sheet, "T1  300"), box_around(sheet, "T2  200")
    (tint,) = boxes(sheet, Role.OFFCUT)
    assert (left.left, right.right) == pytest.approx((whole.left, whole.right))
    assert (tint.left, tint.right) == pytest.approx((left.right, right.left))
    assert tint.width == pytest.approx(20.0)


def test_a_main_tee_piece_that_keeps_the_right_factory_end_lies_at_the_right():
    """M2 begins its run with a cut, so it keeps the end at its right; M1 ends its run, though it is the shorter."""
    members = (run("M1", (600.0, ("factory", "cut"))), run("M2", (2000.0, ("cut", "factory"))))
    sheet = drawn(made(cut("main tee", 3600.0, bar(("M2", 2000.0), ("M1", 600.0), left=1000.0)), members=members))
    (whole,) = boxes(sheet, Role.STOCK)
    assert box_around(sheet, "M1  600").left == pytest.approx(whole.left)
    assert box_around(sheet, "M2  2000").right == pytest.approx(whole.right)


def test_a_piece_that_is_too_short_for_letters_has_them_below_at_a_leader():
    """60 at 1:20 is 3 mm, too little for "W2  60" at 2.5 mm."""
    sheet = drawn(made(cut("wall angle", 3000.0, bar(("W1", 2900.0), ("W2", 60.0), left=40.0))))
    (at,) = [shape.at for shape in sheet.shapes if isinstance(shape, Text) and shape.text == "W2  60"]
    assert all(at[1] < box.bottom for box in boxes(sheet, Role.STOCK))


def test_many_short_pieces_are_numbered_and_told_below():
    """Thirteen pieces of 230, 11.5 mm each: no room for "W10-long  230", nor for all of them in one line below."""
    pieces = [(f"Wlong{k}", 230.0) for k in range(1, 14)]
    sheet = drawn(made(cut("wall angle", 3000.0, bar(*pieces, left=10.0))))
    alone = {shape.text for shape in sheet.shapes if isinstance(shape, Text)}
    assert {str(k) for k in range(1, 14)} <= alone
    assert said(sheet).endswith("13: Wlong13 230")
    assert "left over 10" in said(sheet)  # beyond the end of the bar


@pytest.mark.parametrize(
    ("over", "proven", "unproven"),
    [
        ("pieces", "14 bought: the fewest possible for these pieces.", "these pieces take at least 13"),
        (
            "first cuts",
            "14 bought: the fewest possible for these runs, wherever they are spliced as the slots allow.",
            "at least 13 are needed, where",
        ),
        (
            "fewest splices",
            "14 bought: the fewest possible with no more splices",
            "than it needs, it takes at least 13",
        ),
        (
            "splices",
            "14 bought: the fewest possible, wherever it is spliced.",
            "at least 13 are needed, wherever it is spliced",
        ),
    ],
)
def test_how_good_the_cutting_is_is_said_and_over_what(over, proven: str, unproven: str):  # type: ignore[no-untyped-def]
    closed = replace(cut("wall angle", 3000.0, bar(("W1", 1000.0), count=14)), over=over)
    assert proven in said(drawn(made(closed)))
    words = said(drawn(made(replace(closed, lower_bound=13))))
    assert unproven in words
    assert "1 may still be saved." in words


# Ids


def test_ids_in_a_row_are_told_as_a_range_in_natural_order():
    assert told(["T10", "T2", "T3", "T4", "T1", "W1-2"]) == "T1 to T4, T10, W1-2"


def test_ids_of_several_pieces_are_told_once_with_how_many():
    assert told(["M1", "M1", "M2"]) == "M2; M1 (2 of it)"
    assert told(["M1", "M2", "M1", "M2"]) == "M1, M2 (2 of each)"


def test_the_name_of_a_room_is_told_where_it_changes():
    pooled = ["hall b1", "hall b2", "hall b3", "hall T5", "store T1", "store T2"]
    assert told(pooled) == "hall T5, b1 to b3, store T1, T2"
    assert told(["long wall", "short wall"]) == "long wall, short wall"


def test_ids_without_numbers_are_told_one_by_one():
    assert told(["north", "a", "b", ""]) == "a, b, north"


# Panels


def panel_cutting(*panels: CutPanel) -> PanelCutting:
    bought = sum(each.count for each in panels)
    return PanelCutting((595.0, 595.0), 0.0, panels, bought, bought, bought + 3, bought - 1)


def piece(name: str, x: float, width: float, height: float = 595.0) -> PanelPiece:
    return PanelPiece(name, (x, 0.0), (width, height))


def test_a_panel_is_drawn_to_scale_with_its_pieces():
    """One pattern is drawn as large as two abreast would be: 595 at 1:10 is 59.5 mm, a piece of 300 on it 30 mm, and
    what is left of 595 - 300 - 200 is 9.5 mm.
    """
    cutting = panel_cutting(CutPanel((piece("x1", 0.0, 300.0), piece("y1", 300.0, 200.0))))
    sheet = drawn(made(panels=cutting))
    assert "Panels 595 × 595; drawn at 1:10" in said(sheet)
    (whole,) = boxes(sheet, Role.STOCK)
    assert (whole.width, whole.height) == pytest.approx((59.5, 59.5))
    assert sorted(box.width for box in boxes(sheet, Role.CUT_PIECE)) == pytest.approx([20.0, 30.0])
    assert [box.width for box in boxes(sheet, Role.OFFCUT)] == pytest.approx([9.5])
    assert "x1" in said(sheet) and "y1" in said(sheet)
    assert "One panel for each cut would take 4. By area alone the pieces would fill 0." in said(sheet)


def test_only_other_counts_of_panels_are_compared():
    """Where 4 are bought, one for each of 4 cuts is no other way, nor are 4 by area."""
    cutting = panel_cutting(CutPanel((piece("x1", 0.0, 300.0), piece("y1", 300.0, 200.0))))
    words = said(drawn(made(panels=replace(cutting, bought=4, lower_bound=4, one_each=4, by_area=4))))
    assert "4 bought: the fewest possible." in words
    assert "One panel for each cut" not in words and "By area" not in words


def test_of_one_that_is_bought_nothing_is_proved():
    one = replace(cut("wall angle", 3000.0, bar(("W1", 1000.0))), over="first cuts")
    words = said(drawn(made(one)))
    assert "1 bought." in words and "fewest" not in words


def test_panels_that_are_cut_alike_are_drawn_once_with_all_ids():
    cutting = panel_cutting(*(CutPanel((piece(f"x{k}", 0.0, 400.0),)) for k in range(1, 9)))
    sheet = drawn(made(panels=cutting))
    assert len(boxes(sheet, Role.STOCK)) == 1
    assert "8 ×" in said(sheet) and "x1 to x8" in said(sheet)


def test_a_small_piece_has_its_id_beside_it():
    cutting = panel_cutting(CutPanel((piece("x1", 0.0, 30.0, 30.0),)))
    sheet = drawn(made(panels=cutting))
    assert "x1" in {shape.text for shape in sheet.shapes if isinstance(shape, Text)}
    assert "30 × 30: x1" in said(sheet)


def test_a_ceiling_of_which_nothing_is_cut_has_no_cutting_sheet():
    assert cutting_sheets(made(), ISO, SheetWish()) == ()


def test_tall_panels_are_drawn_small_enough_for_a_lying_a4():
    """1195 tall: the paper has 190 mm within its frame, and heading and title block take a good third of that."""
    tall = PanelPiece("x1", (0.0, 0.0), (400.0, 1195.0))
    cutting = replace(
        panel_cutting(*(CutPanel((replace(tall, panel=f"x{k}"),)) for k in range(9))), size=(595.0, 1195.0)
    )
    for sheet in cutting_sheets(made(panels=cutting), ISO, SheetWish(paper="A4")):
        check(sheet, ISO)
        assert all(sheet.paper.frame.holds(box) for box in boxes(sheet, Role.STOCK))


# Whole rooms


@pytest.fixture(scope="module", params=["reference", "foyer-diagonal", "garage-quad", "den-wrong-way"])
def fixture_plan(request) -> Plan:
    return plan(read_room(FIXTURES / f"{request.param}.yaml"))


def test_every_bar_and_piece_of_a_room_is_in_a_pattern_once(fixture_plan: Plan):
    for lot in lots(fixture_plan):
        bars = lot.cutting.bars
        assert sum(pattern.count for pattern in lot.patterns) == lot.cutting.bought
        units = fixture_plan.room.units
        wanted = Counter((p.member, sawn(p.length, units)) for b in bars for p in b.pieces for _ in range(b.count))
        shown = Counter(
            (name, sawn(slot.length, units))
            for pattern in lot.patterns
            for slot in pattern.slots
            for name in slot.members
        )
        assert shown == wanted


def test_bars_that_read_alike_are_drawn_once(fixture_plan: Plan):
    """However their pieces differ by tenths of a millimetre: no two patterns of an item print the same."""
    for lot in lots(fixture_plan):
        printed = [
            tuple(
                (sawn(slot.length, fixture_plan.room.units), slot.at_end, slot.sawn_off > 0) for slot in pattern.slots
            )
            for pattern in lot.patterns
            if not any(slot.sawn_off for slot in pattern.slots)
        ]
        assert len(printed) == len(set(printed))


def test_bars_within_a_millimetre_are_cut_alike_to_the_shorter():
    """500.9 and 500.2 are both cut to 500, on two bars; 499.8 is not. What is left over is told as the least of it."""
    wall = [bar((f"W{k}", length), left=3000.0 - length) for k, length in enumerate((500.9, 499.8, 500.2), 1)]
    (lot,) = lots(made(cut("wall angle", 3000.0, *wall)))
    assert [(pattern.count, pattern.slots[0].length, pattern.slots[0].members) for pattern in lot.patterns] == [
        (2, 500.2, ("W1", "W3")),
        (1, 499.8, ("W2",)),
    ]
    assert [pattern.offcut for pattern in lot.patterns] == [2499.1, 2500.2]


def test_every_cut_panel_of_a_room_is_in_a_pattern_once(fixture_plan: Plan):
    """Whole panels are not in the cutting: all ids but those of panels that are only drilled."""
    shown = Counter(name for pattern in panel_patterns(fixture_plan) for slot in pattern.slots for name in slot.panels)
    assert shown == Counter(panel.id for panel in fixture_plan.ceiling.panels if not panel.full_size)


def test_pieces_of_a_panel_lie_on_it_and_not_upon_each_other(fixture_plan: Plan):
    """The areas of pieces and waste add up to that of the panel."""
    cutting = fixture_plan.stock.panels
    assert cutting is not None
    for pattern in panel_patterns(fixture_plan):
        parts = sum(slot.shape.area for slot in pattern.slots) + pattern.waste.area
        assert parts == pytest.approx(cutting.size[0] * cutting.size[1], rel=1e-6)


def test_shaped_panels_are_drawn_in_their_true_shape(fixture_plan: Plan):
    """Area of outline less holes and cut-outs, as the panel is sawn a little smaller than its opening."""
    panels = {panel.id: panel for panel in fixture_plan.ceiling.panels}
    shaped = [slot for pattern in panel_patterns(fixture_plan) for slot in pattern.slots if not slot.plain]
    for slot in shaped:
        opening = panels[slot.panels[0]].opening
        assert slot.shape.area < slot.size[0] * slot.size[1]
        assert all(side <= room for side, room in zip(sorted(slot.size), sorted(opening), strict=True))


names = st.text("ABW-0123456789é□", max_size=12)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.lists(st.tuples(names, st.integers(1, 700)), min_size=0, max_size=4), min_size=1, max_size=12))
def test_letters_never_collide_whatever_is_cut(bars: list[list[tuple[str, int]]]):
    """Four pieces of at most 700 fit on 3000."""
    cut_bars = [
        bar(*((n, float(length)) for n, length in pieces), left=3000.0 - sum(length for _, length in pieces))
        for pieces in bars
    ]
    for sheet in cutting_sheets(made(cut("wall angle", 3000.0, *cut_bars)), ISO, SheetWish()):
        check(sheet, ISO)


def test_many_patterns_go_on_from_sheet_to_sheet():
    bars = [bar((f"W{k}", 1000.0 + k), left=2000.0 - k) for k in range(80)]
    sheets = cutting_sheets(made(cut("wall angle", 3000.0, *bars)), ISO, SheetWish())
    assert len(sheets) > 1
    assert [sheet.key for sheet in sheets][:2] == ["cutting", "cutting-2"]
    assert sum(len(boxes(sheet, Role.STOCK)) for sheet in sheets) == 80
    for sheet in sheets:
        check(sheet, ISO)


def test_what_to_saw_is_what_the_schedule_says_though_the_saw_counts_in_tenths(fixture_plan: Plan):
    """13 3/4" is 349.25 mm: 349.2 in whole tenths, which rounded down again would be 13 11/16"."""
    sizes = {panel.id: panel.cut_to for panel in fixture_plan.ceiling.panels}
    for pattern in panel_patterns(fixture_plan):
        for slot in pattern.slots:
            assert {tuple(sorted(sizes[name])) for name in slot.panels} == {tuple(sorted(slot.size))}


def test_pieces_may_be_turned_but_are_never_mirrored(fixture_plan: Plan):
    """Some quarter turn brings each notch and slope back onto the outline in the ceiling."""
    panels = {panel.id: panel for panel in fixture_plan.ceiling.panels}
    frame = fixture_plan.ceiling.layout.frame
    for pattern in panel_patterns(fixture_plan):
        for slot in pattern.slots:
            panel = panels[slot.panels[0]]
            if slot.plain or panel.holes or panel.cutouts:
                continue
            shows = Polygon([frame.inward(point) for point in panel.outline])
            under = fixture_plan.ceiling.system.panel_undersize
            own = from_origin(shows.buffer(-under / 2, join_style="mitre", mitre_limit=10))
            turned = [from_origin(rotate(slot.shape, angle, origin=(0, 0))) for angle in (0, 90, 180, 270)]
            wide, deep = own.bounds[2:]  # what is sawn is a little less than what shows
            scaled = [scale(each, wide / each.bounds[2], deep / each.bounds[3], origin=(0, 0)) for each in turned]
            assert min(each.symmetric_difference(own).area for each in scaled) < 0.002 * own.area, panel.id


def from_origin(shape: BaseGeometry) -> BaseGeometry:
    return translate(shape, -shape.bounds[0], -shape.bounds[1])


def test_the_sheet_of_panels_says_which_side_it_shows():
    """A reflected ceiling plan keeps the directions of the floor plan, so a panel is seen through its back."""
    gallery = plan(read_room(str(FIXTURES / "gallery-bowed.yaml")))
    shown = " ".join(said(cutting_sheets(gallery, ISO, SheetWish())[-1]).split())
    assert "Drawn from the back, some turned, none mirrored" in shown
    assert "If cutting face up, mirror it." in shown
    assert "Shapes that are not rectangles: the templates have them at full size, face up" in shown
    kiln = plan(read_room(str(FIXTURES / "kiln-room.yaml")))  # all its pieces are rectangles
    assert "templates" not in said(cutting_sheets(kiln, ISO, SheetWish())[-1])
    spanish = " ".join(said(cutting_sheets(gallery, ISO, SheetWish(language="es"))[-1]).split())
    assert "Dibujadas por el reverso" in spanish and "invertir como en espejo" in spanish
