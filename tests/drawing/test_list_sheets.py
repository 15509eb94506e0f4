"""Lists on sheets of their own: what they hold, and how they go on from page to page."""

import re
from dataclasses import replace
from pathlib import Path

import pytest
from drawing.hand_plans import hand_plan, rectangle, room, service
from drawing.test_setout_plan import set_out
from drawing.whole_sheets import check, said
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.ceiling.order import order_of_work
from planner.drawing.labels import Heights
from planner.drawing.list_sheets import ListSubject, list_sheets
from planner.drawing.lists import lists
from planner.drawing.order_sheets import order_sheets
from planner.drawing.panel_marks import panel_class
from planner.drawing.place import ALONE
from planner.drawing.schedule_sheets import schedule_sheets
from planner.drawing.shapes import Text
from planner.drawing.stylebook import load_style
from planner.drawing.tables import signed_notes, table
from planner.drawing.wish import SheetWish
from planner.findings import Finding
from planner.planning import Plan
from planner.planning import plan as make_plan
from planner.room.reader import read_room
from planner.stock.model import Bar, BarPiece, Cutting, Stock, TakeOffLine

ISO = load_style("iso-13567")
HEIGHTS = Heights.of(ISO)
FIXTURES = Path(__file__).parents[2] / "fixtures"


def made_plan() -> Plan:
    lights = (
        service("L1", "troffer", (1770.0, 1575.0), (600.0, 1200.0)),
        replace(service("D1", "downlight", (1170.0, 675.0), (150.0, 150.0), True), weight_kg=0.9, moved=41.6),
    )
    cutting = Cutting(
        "cross tee",
        1200.0,
        3.0,
        (
            Bar((BarPiece("T1", 565.0), BarPiece("T2", 565.0)), 64.0),
            Bar((BarPiece("T3", 565.0), BarPiece("T4", 565.0)), 64.0),
            Bar((), 0.0, 7),
        ),
        9,
        8,
    )
    takeoff = (
        TakeOffLine("panel", "piece", 30, 2, 32, 4, 8, None, None),
        TakeOffLine("main tee", "piece", 4, 0, 4, None, None, None, None),
    )
    made = hand_plan(room(rectangle(4140, 3150)), services=lights)
    return replace(made, stock=Stock((cutting,), takeoff))


def words_of(made: Plan) -> dict[str, str]:
    """Each list as one line of words, by its heading."""
    found = {}
    for stack in lists(made, 120.0, HEIGHTS):
        heading = next(s.text for s in stack.heading.shapes if isinstance(s, Text))
        found[heading] = " ".join(s.text for row in stack.rows for s in row.shapes if isinstance(s, Text))
    return found


def test_a_service_is_told_with_its_place_from_the_reference_corner():
    listed = words_of(made_plan())["Services"]
    assert "L1 Light, lay-in 600 × 1200 1770 1575" in listed
    assert "D1 Downlight Ø 150 1170 675 0 × 300 0.9 kg" in listed  # grid lines at 570 + 600, 375 + 0
    assert "along A-B and away from it, from corner A" in listed


def test_weights_are_in_pounds_where_lengths_are_in_feet():
    """0.9 kg over 0.45359237 are 1.98 lb."""
    made = made_plan()
    assert "2 lb" in words_of(replace(made, room=replace(made.room, units="ft-in")))["Services"]


def test_the_order_leaves_out_columns_that_would_be_empty():
    """Spare and packs are used here, weights are not known."""
    assert words_of(made_plan())["What to buy"] == "item net spare order packs panel 30 2 32 4 × 8 = 32 main tee 4 4"


def test_what_is_on_hand_and_what_the_owner_keeps_stand_beside_the_order():
    """4 + 1 - 4 on hand are 1; 58 + 3 + 4 for the owner are 65."""
    made = made_plan()
    tees = TakeOffLine("main tee", "piece", 4, 1, 1, None, None, None, None, on_hand=4)
    panels = TakeOffLine("panel", "piece", 58, 3, 65, None, None, None, None, for_owner=4)
    listed = words_of(replace(made, stock=Stock((), (panels, tees))))["What to buy"]
    assert listed.startswith("item net spare owner on hand order panel 58 3 4 65 main tee 4 1 4 1")


def test_an_order_without_any_spare_says_so():
    made = made_plan()
    assert "spare" not in words_of(made)["What to buy"].replace("net spare order", "")
    bare = tuple(replace(line, spare=0, order=line.net) for line in made.stock.takeoff)
    assert "No spare is counted." in words_of(replace(made, stock=replace(made.stock, takeoff=bare)))["What to buy"]


def test_a_service_in_a_border_row_is_told_from_the_first_line_inside_the_room():
    """Lines at 570 + 600 k and 375 + 600 k: those at -30 and -225 are outside; 100 - 570 and 100 - 375 are left."""
    corner = replace(made_plan().ceiling.services[1], at=(100.0, 100.0), weight_kg=None)
    made = hand_plan(room(rectangle(4140, 3150)), services=(corner,))
    listed = words_of(made)["Services"]
    assert "100 100 -470 × -275" in listed
    assert "With a minus a centre lies left of its grid line, or in front of it." in listed
    assert "minus" not in words_of(made_plan())["Services"]


def test_where_no_grid_line_lies_beside_a_service_none_is_told():
    """500 x 500: the first lines are at 570 and 375; along the wall there is none in the room."""
    made = made_plan()
    lone = replace(made.ceiling.services[1], at=(250.0, 250.0), moved=0.0)
    small = room(rectangle(500, 500))
    placed = replace(made, room=small, ceiling=replace(made.ceiling, services=(lone,)))
    assert "off grid lines" not in words_of(placed)["Services"]


def test_a_taper_is_told_as_one():
    """The bowed wall of the gallery slants panels a by 36 mm and ac by 70."""
    made = make_plan(read_room(str(FIXTURES / "gallery-bowed.yaml")))
    listed = words_of(made)["Cut panels"]
    slanted = [panel for panel in made.ceiling.panels if panel.shape == "tapered"]
    assert slanted
    for panel in slanted:
        assert f"{panel.cut_to[0]:.0f} × {panel.cut_to[1]:.0f} taper {panel.taper:.0f} 1" in listed


def test_what_is_not_counted_in_pieces_has_its_unit_in_every_column():
    """40 m of wire and 3 m to spare are 43 m."""
    made = made_plan()
    wire = TakeOffLine("hanger wire", "m", 40, 3, 43, None, None, None, None)
    listed = words_of(replace(made, stock=Stock((), (wire,))))["What to buy"]
    assert listed.startswith("item net spare order hanger wire 40 m 3 m 43 m")


def test_set_out_marks_are_listed_when_there_are_any():
    assert "Set-out marks" not in words_of(made_plan())
    assert words_of(set_out(made_plan()))["Set-out marks"].startswith("wall at what A-B 570 main M0")


def test_a_room_that_was_not_taped_has_no_survey():
    assert not any("Survey" in heading for heading in words_of(made_plan()))


def test_schedules_are_clean_sheets_not_to_scale():
    for sheet in schedule_sheets(made_plan(), ISO, SheetWish()):
        check(sheet, ISO)
        assert sheet.windows == () and "not to scale" in said(sheet)


def test_findings_stand_in_full_with_remedy_rule_and_source():
    found = (Finding("warn", "hanger spacing", "ASTM C636", "A wire is missing.", None, "Add it."),)
    (sheet,) = order_sheets(replace(made_plan(), findings=found), ISO, SheetWish())
    assert "1 Check: A wire is missing. Add it. Rule: hanger spacing (ASTM C636)." in said(sheet)
    assert "Never load, hang from, lean on or walk on the grid." in said(sheet)


def test_the_order_of_work_is_numbered_and_comes_first():
    (sheet,) = order_sheets(made_plan(), ISO, SheetWish())
    steps = order_of_work(made_plan().room, made_plan().ceiling)
    words = said(sheet)
    assert len(steps) > 3
    assert words.index("Order of work 1. " + steps[0].split(",")[0][:20]) < words.index("Cautions !")
    assert f" {len(steps)}. " in words


sizes = st.lists(st.tuples(st.booleans(), st.integers(1, 90)), min_size=1, max_size=8)


@settings(max_examples=15, deadline=None)
@given(sizes, st.sampled_from(("A4", "A3", "ledger")), st.booleans())
def test_no_row_is_lost_or_repeated_however_long_the_lists(given_sizes, paper, portrait):
    def say(width: float):
        for k, (as_table, count) in enumerate(given_sizes):
            rows = [(f"r{k}.{n}", "words of a row") for n in range(count)]
            yield (
                table(f"List {k}", "ll", ("a", "b"), rows, width, HEIGHTS)
                if as_table
                else signed_notes(f"List {k}", rows, width, HEIGHTS)
            )

    subject = ListSubject("lists", "Lists", "", lambda width: tuple(say(width)))
    sheets = list_sheets(made_plan(), ISO, SheetWish(paper=paper, portrait=portrait), ALONE, subject)
    signs = [s.text for sheet in sheets for s in sheet.shapes if isinstance(s, Text) and s.text.startswith("r")]
    wanted = sorted(f"r{k}.{n}" for k, (_, count) in enumerate(given_sizes) for n in range(count))
    assert sorted(sign for sign in signs if "." in sign) == wanted
    for sheet in sheets:
        check(sheet, ISO)


def test_a_list_is_carried_on_below_its_heading_again():
    rows = [(str(n), "words") for n in range(200)]
    subject = ListSubject("lists", "Lists", "", lambda width: (table("Long", "ll", (), rows, width, HEIGHTS),))
    sheets = list_sheets(made_plan(), ISO, SheetWish(), ALONE, subject)
    assert "Long (cont.)" in said(sheets[-1])


def test_pages_are_numbered_and_named():
    rows = [(str(n), "words") for n in range(400)]
    subject = ListSubject("lists", "Lists", "", lambda width: (table("Long", "ll", (), rows, width, HEIGHTS),))
    first, second, *_ = list_sheets(made_plan(), ISO, SheetWish(), ALONE, subject)
    assert (first.key, second.key) == ("lists", "lists-2")
    assert (first.title, second.title) == ("Lists", "Lists, page 2")


@pytest.mark.parametrize("units", ["mm", "ft-in"])
def test_the_units_are_told_below_the_title(units):
    made = made_plan()
    (sheet, *_) = schedule_sheets(replace(made, room=replace(made.room, units=units)), ISO, SheetWish())
    assert f"lengths in {'millimetres' if units == 'mm' else 'feet and inches'}" in said(sheet)


def test_the_way_the_mains_run_is_told_against_the_base_wall() -> None:
    """A grid at 45 degrees has its mains at 45 or 135 degrees, whatever it calls along."""
    made = make_plan(read_room(Path(__file__).parents[2] / "fixtures" / "foyer-diagonal.yaml"))
    expected = 45.0 if made.ceiling.mains == "along" else 135.0
    assert f"at {expected:g}° to base wall" in words_of(made)["Main quantities"]


def three_lists(*counts: int) -> ListSubject:
    """Lists of so many short lines, the first of them named."""
    return ListSubject(
        "lists",
        "Lists",
        "",
        lambda width: tuple(
            signed_notes(f"List {k}", [(str(n), "line") for n in range(count)], width, HEIGHTS)
            for k, count in enumerate(counts)
        ),
    )


def columns_of(subject: ListSubject) -> list[list[str]]:
    """The headings of each column of the one sheet, from above."""
    (sheet,) = list_sheets(hand_plan(room(rectangle(4140, 3150))), ISO, SheetWish(), ALONE, subject)
    heads = [shape for shape in sheet.shapes if isinstance(shape, Text) and shape.text.startswith("List ")]
    lefts = sorted({text.at[0] for text in heads})
    return [[t.text for t in sorted(heads, key=lambda t: -t.at[1]) if t.at[0] == left] for left in lefts]


def test_lists_that_one_column_would_hold_are_spread_over_all_of_them():
    """Three columns on A3: ten lines in each rather than thirty in the first."""
    assert columns_of(three_lists(10, 10, 10)) == [["List 0"], ["List 1"], ["List 2"]]
    assert columns_of(three_lists(30, 10, 10)) == [["List 0"], ["List 1", "List 2"]]


def test_lists_keep_their_order_however_they_are_spread():
    """The short one fits below the first, but nobody would look for it there."""
    assert columns_of(three_lists(10, 14, 3)) == [["List 0"], ["List 1"], ["List 2"]]


def test_a_first_page_is_not_left_half_empty_for_the_sake_of_order():
    """Beside a list as long as a column, short ones stand below the first list and do not wait for the last page."""
    subject = three_lists(12, 46, 20, 14, 46, 20, 20)
    first, *_ = list_sheets(hand_plan(room(rectangle(4140, 3150))), ISO, SheetWish(), ALONE, subject)
    at = {shape.text: shape.at for shape in first.shapes if isinstance(shape, Text) and shape.text.startswith("List ")}
    assert at["List 2"][0] == at["List 0"][0] < at["List 1"][0]


def test_one_list_alone_is_not_broken_to_fill_the_columns():
    assert columns_of(three_lists(12)) == [["List 0"]]


@given(counts=st.lists(st.integers(1, 60), min_size=1, max_size=7))
@settings(max_examples=30, deadline=None)
def test_no_line_is_lost_and_none_leaves_the_frame_however_lists_are_spread(counts: list[int]):
    subject = three_lists(*counts)
    sheets = list_sheets(hand_plan(room(rectangle(4140, 3150))), ISO, SheetWish(), ALONE, subject)
    for sheet in sheets:
        check(sheet, ISO)
    lines = [shape for sheet in sheets for shape in sheet.shapes if isinstance(shape, Text) and shape.text == "line"]
    assert len(lines) == sum(counts)


def cells_of(*rows: tuple[str, ...], wide: float) -> list[list[str]]:
    """The lines of each row of a table as set, without its heads."""
    made = table("Table", "l" * len(rows[0]), ("",) * len(rows[0]), rows, wide, HEIGHTS)
    return [[shape.text for shape in row.shapes if isinstance(shape, Text)] for row in made.rows[1:]]


def test_a_size_without_room_is_broken_between_its_sides_and_never_in_a_fraction():
    """Both columns are wider than there is room for; a side is the least that stays whole."""
    (row,) = cells_of(('11 13/16" × 2 3/8"', '12" × 31 3/4"'), wide=40.0)
    assert row == ['11 13/16" ×', '2 3/8"', '12" ×', '31 3/4"']


def test_room_goes_to_the_column_where_it_keeps_most_cells_on_one_line():
    """Five names of two words against one size: the names stay on their lines, the size does not."""
    names = [("Sprinkler head", '24" × 48"')] * 5
    rows = cells_of(*names, ("Light", '211 13/16" × 102 3/8"'), wide=52.0)
    assert rows[0] == ["Sprinkler head", '24" × 48"']
    assert rows[5] == ["Light", '211 13/16" ×', '102 3/8"']


def test_a_panel_that_two_numbers_and_a_taper_do_not_tell_is_called_notched_or_shaped():
    """The studio's column and inner corner notch panels, and nothing of it is slanted; the foyer's grid is turned by 45
    degrees, so that its walls cut triangles; a rectangle has neither.
    """
    for stem, kinds in (("studio-l", {"notched"}), ("foyer-diagonal", {"shaped"}), ("kiln-room", set())):
        made = make_plan(read_room(str(FIXTURES / f"{stem}.yaml")))
        told = "Curved, notched and shaped panels: the templates show all of the cut."
        cut, *last = words_of(made)["Cut panels"].split(told)
        classes = {panel_class(panel): panel.shape for panel in made.ceiling.panels}
        for kind, sized in (("notched", r"notch \d+ × \d+"), ("shaped", r"corner off \d+ × \d+|right triangle")):
            counted = cut.count(kind) + len(re.findall(sized, cut))  # one notch or corner is told with its size
            assert (kind in kinds) == bool(counted)
            assert counted == list(classes.values()).count(kind)
        assert len(last) == bool(kinds)
