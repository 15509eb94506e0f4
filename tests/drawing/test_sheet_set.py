"""The set as a whole: which sheets there are, how they are numbered, and that none has words over words."""

from dataclasses import replace
from pathlib import Path

import pytest
from drawing.hand_plans import hand_plan, rectangle, room, service
from drawing.test_setout_plan import set_out
from drawing.whole_sheets import check, said

from planner.drawing.roles import Role
from planner.drawing.shapes import Text
from planner.drawing.sheets import SHEETS, draw
from planner.drawing.stylebook import Style, load_style, style_names
from planner.drawing.wish import SheetWish
from planner.errors import PlannerError
from planner.findings import Finding
from planner.planning import Plan, plan
from planner.room.reader import read_room

FIXTURES = sorted((Path(__file__).parents[2] / "fixtures").glob("*.yaml"))
STYLES = {name: load_style(name) for name in style_names()}
ISO = STYLES["iso-13567"]


@pytest.fixture(scope="module", params=FIXTURES, ids=lambda path: path.stem)
def fixture_plan(request) -> Plan:
    return plan(read_room(str(request.param)))


@pytest.mark.parametrize("style", STYLES.values(), ids=STYLES)
def test_on_no_sheet_of_any_demo_room_do_texts_overlap_or_leave_the_frame(fixture_plan: Plan, style: Style):
    for sheet in draw(fixture_plan, style, SheetWish()):
        check(sheet, style)


@pytest.mark.parametrize("stem", ["chapel-attic", "workshop-t", "garage-quad", "den-wrong-way"])
@pytest.mark.parametrize(("paper", "portrait"), [("A4", True), ("A4", False), ("A1", False), ("ledger", False)])
def test_nor_on_other_papers(stem: str, paper: str, portrait: bool):
    made = plan(read_room(FIXTURES[0].with_name(f"{stem}.yaml")))
    for sheet in draw(made, ISO, SheetWish(paper=paper, portrait=portrait)):
        check(sheet, ISO)


def small_plan(**more) -> Plan:
    made = room(rectangle(4140, 3150), ceiling_height=2700.0, **more)
    lights = (service("L1", "troffer", (1770.0, 1575.0), (600.0, 1200.0)),)
    found = (Finding("warn", "hanger spacing", "ASTM C636", "A wire is missing.", (1170.0, 675.0), "Add it."),)
    return hand_plan(made, services=lights, findings=found)


def keys(made: Plan, *asked: str) -> list[str]:
    return [sheet.key for sheet in draw(made, ISO, SheetWish(sheets=asked))]


def test_a_sheet_without_content_is_not_made():
    """Nothing was set out in a plan made by hand, so it has no set-out sheet; when it is, the sheet comes third."""
    made = small_plan()
    assert keys(made) == ["ceiling-plan", "framing", "schedules", "order-of-work"]
    assert keys(set_out(made)) == ["ceiling-plan", "framing", "set-out", "schedules", "order-of-work"]


def test_every_title_block_says_which_sheet_of_how_many_it_is():
    for number, sheet in enumerate(draw(small_plan(), ISO, SheetWish()), 1):
        assert f"{number} of 4" in {s.text for s in sheet.shapes if isinstance(s, Text) and s.role == Role.TITLE_TEXT}


def test_the_ceiling_plan_sends_the_reader_to_the_sheets_that_have_the_rest():
    """Third the schedules, fourth the cautions."""
    words = said(draw(small_plan(), ISO, SheetWish())[0])
    assert "see sheet 3" in words and "see sheet 4" in words


def test_a_sheet_by_itself_sends_nobody_to_sheets_that_are_not_there():
    (sheet,) = draw(small_plan(), ISO, SheetWish(sheets=("ceiling-plan",)))
    assert "see sheet" not in said(sheet)
    assert "1 of 1" in said(sheet)


def test_wished_sheets_come_in_the_order_of_the_set():
    assert keys(small_plan(), "framing", "ceiling-plan") == ["ceiling-plan", "framing"]


def test_a_sheet_that_is_not_known_names_the_nearest_and_all():
    with pytest.raises(PlannerError, match='no sheet "framming"') as caught:
        draw(small_plan(), ISO, SheetWish(sheets=("framming",)))
    assert "Did you mean framing?" in str(caught.value)
    assert all(key in str(caught.value) for key in SHEETS)


def test_a_wish_for_nothing_but_sheets_without_content_is_refused():
    with pytest.raises(PlannerError, match="nothing for set-out"):
        draw(small_plan(), ISO, SheetWish(sheets=("set-out",)))


def test_keys_and_titles_are_all_different_so_that_files_and_layouts_are():
    many = tuple(service(f"D{k}", "downlight", (300.0 + k, 400.0), (100.0, 100.0), True) for k in range(200))
    made = small_plan()
    sheets = draw(replace(made, ceiling=replace(made.ceiling, services=many)), ISO, SheetWish(sheets=("schedules",)))
    assert len(sheets) > 1
    assert len({sheet.key for sheet in sheets}) == len({sheet.title for sheet in sheets}) == len(sheets)
    assert "1 of" in said(sheets[0]) and f"{len(sheets)} of {len(sheets)}" in said(sheets[-1])


def test_the_same_plan_makes_the_same_set():
    assert draw(small_plan(), ISO, SheetWish()) == draw(small_plan(), ISO, SheetWish())


@pytest.mark.parametrize("style", STYLES.values(), ids=STYLES)
def test_every_style_has_a_layer_for_every_role(style: Style):
    assert {role for role, _ in style.roles} == set(Role)
    assert {style.layer(role) for role in Role} <= set(style.layers)


HOSTILE = ("%%c^J\\P{x}", "<script>alert(1)</script>", "x" * 300, "\u202e\u05d0\u05d1", "a\x00b\nc")


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_words_are_drawn_safely_on_every_sheet(name: str):
    made = room(rectangle(4140, 3150), name=name, corner_names=(name, "B", "C", "D"), project=(("client", name),))
    lights = (service(name, "downlight", (1170.0, 675.0), (150.0, 150.0), True),)
    found = (Finding("warn", f"hanger {name}", name, f"Look at {name}.", (1170.0, 675.0), name),)
    for sheet in draw(set_out(hand_plan(made, services=lights, findings=found), name), ISO, SheetWish()):
        check(sheet, ISO)
        drawings = (shape for window in sheet.windows for shape in window.drawing.shapes)
        assert all(shape.text.isprintable() for shape in (*sheet.shapes, *drawings) if isinstance(shape, Text))
