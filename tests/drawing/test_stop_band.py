"""A plan that is not to be built says so on every sheet, page and layout; one that may be built nowhere."""

import io
from dataclasses import replace
from pathlib import Path

import ezdxf
import pytest
from drawing.whole_sheets import outside, overlapping

from planner.building import plan_building
from planner.drawing.building_sheets import Rooms, building_sheets
from planner.drawing.shapes import Sheet, Text
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.templates.sheets import TemplateWish, template_set
from planner.drawing.wish import SheetWish
from planner.findings import Finding
from planner.planning import Plan, plan
from planner.render.dxf import write_dxf
from planner.render.svg import write_svg
from planner.room.building import Building
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
ISO = load_style("iso-13567")
#: No corner of it is square to a tape that was read wrong: its first finding says stop.
SHOP = plan(read_room(FIXTURES / "shop-l-taped.yaml"))
HALL = plan(read_room(FIXTURES / "corridor.yaml"))
BAND, STATUS = "STOP: not for construction. Finding 1", "not for construction"


def words_on(sheet: Sheet) -> list[str]:
    return [shape.text for shape in sheet.shapes if isinstance(shape, Text)]


def bands(sheet: Sheet) -> list[str]:
    return [text for text in words_on(sheet) if text.startswith("STOP: not for construction")]


@pytest.mark.parametrize("style", ["iso-13567", "us-ncs", "bs-1192", "site-bold"])
@pytest.mark.parametrize("wish", [SheetWish(), SheetWish(paper="A4", portrait=True)], ids=["own", "A4"])
def test_every_sheet_has_the_band_and_the_status(style: str, wish: SheetWish) -> None:
    """On its own paper, and on the narrowest there is; no letters lie on others, none leaves the frame."""
    look = load_style(style)
    sheets = draw(SHOP, look, wish)
    assert len(sheets) >= 7
    for sheet in sheets:
        assert len(bands(sheet)) == 1
        assert bands(sheet)[0].startswith(BAND)
        assert STATUS in words_on(sheet)
        assert not overlapping(sheet, look)
        assert not outside(sheet, look)


def test_the_band_sends_to_the_findings_in_full() -> None:
    sheets = draw(SHOP, ISO, SheetWish())
    number = next(n for n, sheet in enumerate(sheets, 1) if sheet.key == "order-of-work")
    assert bands(sheets[1]) == [f"{BAND}: see sheet {number}"]
    (alone,) = draw(SHOP, ISO, SheetWish(sheets=("framing",)))
    assert bands(alone) == [BAND]


def test_every_layout_and_every_picture_has_it() -> None:
    sheets = draw(SHOP, ISO, SheetWish())
    drawing = ezdxf.read(io.StringIO(write_dxf(sheets, ISO).decode()))
    layouts = [layout for layout in drawing.layouts if layout.name != "Model"]
    assert len(layouts) == len(sheets)
    for layout in layouts:
        assert any(text.dxf.text.startswith(BAND) for text in layout.query("TEXT"))
    assert all(BAND in write_svg(sheet, ISO).decode() for sheet in sheets)


def test_every_page_of_templates_has_it() -> None:
    pages = template_set(SHOP, ISO, SheetWish(), TemplateWish(everything=True), 3)
    assert len(pages) > 3
    assert all(len(bands(page)) == 1 for page in pages)
    assert not any(bands(page) for page in template_set(HALL, ISO, SheetWish(), TemplateWish(everything=True), 3))


def test_a_status_that_somebody_gave_stays() -> None:
    room = replace(SHOP.room, project=(*SHOP.room.project, ("status", "for comment")))
    sheet = draw(replace(SHOP, room=room), ISO, SheetWish(sheets=("framing",)))[0]
    assert "for comment" in words_on(sheet)
    assert STATUS not in words_on(sheet)
    assert bands(sheet)


def test_a_plan_that_may_be_built_has_none() -> None:
    assert not any(finding.severity == "stop" for finding in HALL.findings)
    for sheet in draw(HALL, ISO, SheetWish()):
        assert not bands(sheet)
        assert STATUS not in words_on(sheet)


def test_it_is_said_in_the_language_of_the_sheets() -> None:
    sheet = draw(SHOP, ISO, SheetWish(language="es"))[0]
    assert any(text.startswith("ALTO: no apto para obra. Observación 1") for text in words_on(sheet))
    assert "no apto para obra" in words_on(sheet)


def test_the_sheets_of_a_building_name_the_rooms_that_are_stopped() -> None:
    """Two halls alike; then a finding says stop in the second."""
    brief = read_room(FIXTURES / "corridor.yaml")
    made = plan_building(Building("House", (brief, brief), ("one", "two"), brief.stock))
    stop = Finding("stop", "a rule", "common practice, no source", "This does not hold.")
    hall, twin = made.plans
    stopped: Plan = replace(twin, room=replace(twin.room, name="Twin"), findings=(stop, *twin.findings))
    for plans, said in ((made.plans, []), ((hall, stopped), ["STOP: not for construction. Findings of Twin"])):
        sheets = building_sheets(Rooms("House", plans, made.folders), made.pool, ISO, SheetWish())
        assert sheets
        assert all(bands(sheet) == said for sheet in sheets)
