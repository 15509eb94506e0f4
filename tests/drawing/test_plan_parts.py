"""Plans in parts: match lines where nothing is parted, no letters across them, nothing lost between two sheets."""

import io
from collections.abc import Iterable
from itertools import pairwise
from pathlib import Path

import pikepdf
import pytest
from drawing.hand_plans import hand_plan, rectangle, room, service
from drawing.test_setout_plan import set_out
from drawing.whole_sheets import check, said
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.drawing.ceiling_plan import ceiling_sheets
from planner.drawing.labels import text_boxes
from planner.drawing.match_lines import OVERLAP, Seams, parts_of, seams_for
from planner.drawing.plan_sheets import FEW_PARTS, MOST_PARTS
from planner.drawing.roles import Role
from planner.drawing.shapes import Outline, Sheet, Text
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style, style_names
from planner.drawing.wish import SheetWish
from planner.geometry import Box, box_of
from planner.planning import Plan, plan
from planner.render.dxf import write_dxf
from planner.render.pdf import write_pdf
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
ISO = load_style("iso-13567")
#: An L, 24.3 m by 15.4 m: at 1:50 it is 486 by 308 mm of paper, on A4 at least 2 by 2 parts.
HALL = ((0.0, 0.0), (24300.0, 0.0), (24300.0, 9000.0), (15000.0, 9000.0), (15000.0, 15400.0), (0.0, 15400.0))
AT_50 = SheetWish(paper="A4", scale=50.0, sheets=("ceiling-plan", "framing", "set-out"))


def hall(**more) -> Plan:
    lights = tuple(service(f"L{k}", "troffer", (1500.0 + 3000.0 * k, 4200.0), (600.0, 1200.0)) for k in range(7))
    return set_out(hand_plan(room(HALL, ceiling_height=2700.0, **more), services=lights))


@pytest.fixture(scope="module")
def sheets() -> tuple[Sheet, ...]:
    return draw(hall(), ISO, AT_50)


def parts(sheets: tuple[Sheet, ...], key: str) -> list[Sheet]:
    return [sheet for sheet in sheets if sheet.part_of == key]


def seen(sheet: Sheet, role: Role) -> list[str]:
    return [box.text for box in text_boxes(sheet, ISO) if box.role == role]


def test_an_overview_comes_first_and_then_its_parts(sheets):
    for key in AT_50.sheets:
        keys = [sheet.key for sheet in sheets if key in (sheet.key, sheet.part_of)]
        assert keys == [key, *(f"{key}-part-{k}" for k in range(1, len(keys)))]
        assert len(keys) > 4


@pytest.mark.parametrize("style", [load_style(name) for name in style_names()], ids=style_names())
def test_no_letters_lie_over_others_or_across_the_edge_of_a_part(style):
    for sheet in draw(hall(), style, AT_50):
        check(sheet, style)


def test_no_letters_of_the_plan_lie_across_a_match_line(sheets):
    for sheet in sheets:
        if sheet.part_of:
            lines = [s for s in sheet.shapes if s.role == Role.MATCH_LINE and not isinstance(s, Text)]
            assert lines
            window = sheet.windows[0].box
            for box in (box_of(lettered.ring) for lettered in text_boxes(sheet, ISO)):
                for line in lines:
                    upright = line.start[0] == line.end[0]
                    low, high = (box.left, box.right) if upright else (box.bottom, box.top)
                    at = line.start[0] if upright else line.start[1]
                    assert not (window.grown(0.02).holds(box) and low + 0.02 < at < high - 0.02)


def test_whatever_is_lettered_on_one_sheet_is_lettered_on_some_part(sheets):
    """On A1 the hall is on one sheet at 1:50; slivers in a row share a mark, "g1 to g14", on the parts in two rows."""
    made = hall()
    (whole,) = draw(made, ISO, SheetWish(paper="A1", scale=50.0, sheets=("ceiling-plan",)))
    texts = [text for sheet in parts(sheets, "ceiling-plan") for text in seen(sheet, Role.PANEL_MARK)]
    assert each_named(texts) == each_named(seen(whole, Role.PANEL_MARK)) == {p.id for p in made.ceiling.panels}
    marks = {text for sheet in parts(sheets, "ceiling-plan") for text in seen(sheet, Role.SERVICE_MARK)}
    assert marks == {light.name for light in made.ceiling.services}
    ids = {text.split()[0] for sheet in parts(sheets, "framing") for text in seen(sheet, Role.MEMBER_MARK)}
    wanted = {member.id for member in made.ceiling.members if member.kind in ("main tee", "cross tee")}
    assert wanted <= ids


def each_named(texts: Iterable[str]) -> set[str]:
    """Every id of a list like "g1 to g3, g7"."""
    found = set()
    for one in (one for text in texts for one in text.split(", ")):
        first, *rest = one.split(" to ")
        letters = first.rstrip("0123456789")
        low, high = (int(name.removeprefix(letters)) for name in (first, *(rest or [first])))
        found |= {f"{letters}{k}" for k in range(low, high + 1)}
    return found


def test_a_main_bears_its_id_on_every_part_that_it_runs_through(sheets):
    """A main along A-B runs through all columns of parts; of each that shows two metres of it, its id is on one."""
    made = hall()
    for main in (member for member in made.ceiling.members if member.kind == "main tee"):
        for sheet in parts(sheets, "framing"):
            window = sheet.windows[0]
            s, (x, y) = window.drawing.scale, window.centre
            box = Box(
                x - s * window.box.width / 2,
                y - s * window.box.height / 2,
                x + s * window.box.width / 2,
                y + s * window.box.height / 2,
            ).grown(-s * OVERLAP)
            low, high = sorted((main.start[0], main.end[0]))
            if box.bottom < main.start[1] < box.top and min(high, box.right) - max(low, box.left) > 2000.0:
                assert main.id in {text.split()[0] for text in seen(sheet, Role.MEMBER_MARK)}


def test_every_match_line_leads_to_the_sheet_that_it_names_and_back(sheets):
    """Letter A on two neighbours: each names the other's number, and links to its key."""
    numbers = {sheet.key: number for number, sheet in enumerate(sheets, 1)}
    for key in AT_50.sheets:
        links: set[tuple[str, str, str]] = set()
        for sheet in parts(sheets, key):
            for text in sheet.shapes:
                if isinstance(text, Text) and text.role == Role.MATCH_LINE and text.link:
                    assert text.text.endswith(f"see sheet {numbers[text.link]}")
                    links.add((sheet.key, text.link, text.text.split(":")[0]))
        assert links
        assert {(b, a, name) for a, b, name in links} == links


def test_every_part_has_a_key_plan_with_itself_tinted_and_says_how_much_it_shares(sheets):
    for sheet in parts(sheets, "ceiling-plan"):
        (tint,) = [s for s in sheet.shapes if s.role == Role.KEY_SHADE]
        assert isinstance(tint, Outline) and tint.fill
        assert sheet.shapes[0] is tint  # painted below all lines
        assert "share 1000 mm" in said(sheet)  # 20 mm of paper at 1:50


def test_neighbours_share_a_strip_of_twenty_millimetres_of_paper(sheets):
    first, second = parts(sheets, "ceiling-plan")[:2]
    a, b = first.windows[0], second.windows[0]
    right = a.centre[0] + 50.0 * a.box.width / 2
    left = b.centre[0] - 50.0 * b.box.width / 2
    assert right - left == pytest.approx(50.0 * OVERLAP)


def test_a_legend_lists_only_what_is_on_its_part(sheets):
    """The lights are in the lower parts; the legend of an upper one does not know them."""
    for sheet in parts(sheets, "ceiling-plan"):
        assert sheet.windows[0].part is not None
        drawn = {shape.role for shape in sheet.windows[0].part}
        assert ("Light, lay-in" in said(sheet)) == (Role.LIGHT in drawn)
        assert ("Start point" in said(sheet)) == (Role.START_POINT in drawn)


def test_match_lines_run_on_grid_lines_and_so_do_the_ends_of_runs(sheets):
    """Runs end at the match line: their parts add up to the whole, and each part says its own."""
    made = hall()
    layout = made.ceiling.layout
    (tall,) = [sheet for sheet in sheets if sheet.key == "ceiling-plan-part-2"]
    upright = [s for s in tall.shapes if s.role == Role.MATCH_LINE and not isinstance(s, Text)]
    window = tall.windows[0]
    for line in upright:
        if line.start[0] == line.end[0]:
            x = window.centre[0] + (line.start[0] - window.box.centre[0]) * window.drawing.scale
            steps = (x - layout.frame.origin[0]) / layout.module[0]
            assert steps == pytest.approx(round(steps), abs=1e-6)
    assert any(" × 600 = " in text for text in seen(tall, Role.DIMENSION))


def test_all_parts_share_one_drawing_so_that_a_dxf_file_holds_it_once(sheets):
    drawings = [sheet.windows[0].drawing for sheet in parts(sheets, "ceiling-plan")]
    assert all(drawing is drawings[0] for drawing in drawings)
    assert [sheet.windows for sheet in sheets if sheet.key == "ceiling-plan"] == [()]


def test_in_the_dxf_file_every_part_is_a_layout_with_one_view_of_the_same_model(tmp_path):
    import ezdxf

    made = draw(hall(), ISO, SheetWish(paper="A4", scale=50.0, sheets=("ceiling-plan",)))
    file = tmp_path / "parts.dxf"
    file.write_bytes(write_dxf(made, ISO))
    document = ezdxf.readfile(file)
    assert len(document.layout_names()) == len(made) + 1
    marks = [e.dxf.text for e in document.modelspace().query("TEXT") if e.dxf.text == "L1"]
    assert marks == ["L1"]
    for sheet, name in zip(made, document.layout_names_in_taborder()[1:], strict=True):
        views = document.paperspace(name).viewports()[1:]  # the first is the layout's own
        assert len(views) == len(sheet.windows)
        for view in views:
            assert view.dxf.view_height / view.dxf.height == pytest.approx(50.0)


def test_in_the_pdf_file_parts_are_bookmarked_below_their_overview(sheets):
    with pikepdf.open(io.BytesIO(write_pdf(sheets, ISO, title="hall"))) as file, file.open_outline() as outline:
        assert [item.title for item in outline.root] == [s.title for s in sheets if not s.part_of]
        for item, key in zip(outline.root, AT_50.sheets, strict=True):
            assert [child.title for child in item.children] == [s.title for s in parts(sheets, key)]


def test_a_scale_that_nobody_asked_for_is_not_under_1_to_100_if_a_few_parts_do():
    """60 m by 48 m is 600 by 480 mm at 1:100: a few parts on A3, and not one sheet at 1:200."""
    overview, *rest = ceiling_sheets(hand_plan(room(rectangle(60000, 48000))), ISO, SheetWish())
    assert overview.windows == ()
    assert 1 < len(rest) <= FEW_PARTS
    assert {sheet.windows[0].drawing.scale for sheet in rest} == {100.0}


def test_a_plan_that_would_take_more_than_a_few_parts_goes_on_one_sheet_at_a_smaller_scale():
    """200 m by 150 m at 1:100 is 2 m by 1.5 m of paper, some 70 sheets of A3."""
    (sheet,) = ceiling_sheets(hand_plan(room(rectangle(200000, 150000)), module=(3000.0, 3000.0)), ISO, SheetWish())
    assert sheet.windows[0].drawing.scale > 100.0


@pytest.mark.parametrize("stem", ["workshop-t", "gallery-bowed", "foyer-diagonal", "shop-l-taped"])
def test_demo_rooms_in_parts_are_as_clean_as_whole_ones(stem: str):
    made = plan(read_room(str(FIXTURES / f"{stem}.yaml")))
    scale, style = (24.0, load_style("us-ncs")) if made.room.imperial else (25.0, ISO)
    drawn = draw(made, style, SheetWish(paper="letter" if made.room.imperial else "A4", scale=scale))
    assert any(sheet.part_of for sheet in drawn)
    for sheet in drawn:
        check(sheet, style)


@settings(deadline=None, max_examples=30)
@given(
    wide=st.floats(8000, 30000),
    tall=st.floats(8000, 30000),
    most=st.tuples(st.floats(4500, 9000), st.floats(4500, 9000)),
    at=st.floats(0, 599),
)
def test_parts_cover_the_plan_and_none_is_larger_than_its_window(wide, tall, most, at):
    """Neighbours meet at their match line; what is shown reaches half of the shared strip beyond."""
    made = hand_plan(room(rectangle(round(wide), round(tall))), origin=(at, at), module=(600.0, 600.0))
    box, area = made.room.box, made.room.box.grown(1500.0)
    found = seams_for(area, box, most, 50.0, made.ceiling.layout, made.ceiling.members)
    assert found is not None
    for lines in (found.upright, found.lying):
        assert all(b - a > found.half for a, b in pairwise(lines))
    shown = parts_of(area, found)
    assert len(shown) == (len(found.upright) + 1) * (len(found.lying) + 1)
    assert sum(part.core.width * part.core.height for part in shown) == pytest.approx(area.width * area.height)
    for part in shown:
        assert part.shown.width <= most[0] + 0.1 and part.shown.height <= most[1] + 0.1


def test_letters_keep_clear_of_the_match_line_and_of_both_edges_beside_it():
    assert Seams((1000.0,), (), 500.0).stops(0) == (500.0, 1000.0, 1500.0)
    assert Seams((1000.0,), (), 500.0).stops(1) == ()


def test_there_is_a_limit_to_parts():
    assert FEW_PARTS < MOST_PARTS == 60
