"""In a real browser: why a part is as it is, a page in Spanish, and the pages of a building."""

import re
import shutil
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from page.browsing import (
    DESK,
    NEEDS_BROWSER,
    PHONE,
    Watch,
    opened,
    playwright,
    tap_model,
    violations,
    wait_for,
    watching,
)
from page.shown_rooms import FIXTURES, shown_fixture

from planner.page.page import page_html

pytestmark = NEEDS_BROWSER

#: What a finger hits: at least 44 pixels either way (WCAG 2.1, 2.5.5).
_TOO_SMALL = """() => [...document.querySelectorAll("button, a, label")].filter((each) => {
  const box = each.getBoundingClientRect();
  return box.width && box.height && (box.width < 44 || box.height < 44);
}).map((each) => each.outerHTML.slice(0, 80))"""
#: What is wider than its place.
_CUT_OFF = """() => [...document.querySelectorAll(".list")].filter((each) => each.scrollWidth > each.clientWidth + 1)
  .map((each) => each.id)"""
_LISTS = ("details", "findings", "work", "parts", "stock", "layers")


def _file(folder: Path, language: str = "") -> str:
    file = folder / "page.html"
    file.write_bytes(page_html(shown_fixture("clinic.yaml", language)))
    return file.as_uri()


def test_panel_tee_light_hanger_wall_and_module_each_tell_their_own_reason(browser, tmp_path):
    plan = shown_fixture("clinic.yaml").plan
    light = next(service for service in plan.ceiling.services if service.name == "L1")
    main = next(member for member in plan.ceiling.members if member.id == "M1")
    hanger = next(hanger for hanger in plan.ceiling.hangers if hanger.kind == "wire")
    wall, (x, y) = plan.room.walls[0], plan.ceiling.layout.frame.origin
    tee = ((main.start[0] + main.end[0]) / 2 + 170.0, main.start[1])
    middle = ((wall.start[0] + wall.end[0]) / 2 + 37.0, wall.start[1] - 60.0)  # outside: inside it is the angle
    places = [
        ("ceiling-plan", (150.0, 150.0), "Panel a1", "rounded down"),
        ("ceiling-plan", light.at, "Light, lay-in L1", "whole module"),
        ("ceiling-plan", middle, "Wall A-B", "390 mm, from the wall to the first grid line"),
        ("ceiling-plan", (x + 900.0, y + 900.0), "Whole panel", "Away from A-B: wish 1"),
        ("framing", tee, "Main tee M1", "square to the joists"),
        ("framing", hanger.at, f"Hanger {hanger.id}", "Hangers may be"),
    ]
    with opened(browser, _file(tmp_path), **DESK) as tab:
        for sheet, at, title, reason in places:
            tab.locator(f"#tab-sheet-{sheet}").click()
            tap_model(tab, sheet, at)
            wait_for(tab, "#chosen h3", f"^{re.escape(title)}$")
            told = tab.locator("#chosen .steps li")
            assert told.count() >= 1, title
            assert re.search(reason, " ".join(told.all_inner_texts())), title
            assert tab.locator("#chosen .steps").get_attribute("lang") == "en"
        assert violations(tab, "#list-details") == []


@pytest.mark.parametrize("device", [DESK, PHONE], ids=["desk", "phone"])
def test_a_spanish_page_is_spanish_and_fits(browser, tmp_path, device):
    with opened(browser, _file(tmp_path, "es"), **device) as tab:
        assert tab.evaluate("document.documentElement.lang") == "es"
        tap_model(tab, "ceiling-plan", (150.0, 150.0), touch=device is PHONE)
        wait_for(tab, "#chosen h3", "^Placa a1$")
        playwright.expect(tab.locator("#chosen .show")).to_have_text("Ver en el plano")
        playwright.expect(tab.locator("#chosen .why")).to_contain_text("hueco")  # in Spanish, above the English steps
        playwright.expect(tab.locator("#chosen h4")).to_contain_text("en inglés")
        for name in _LISTS:
            tab.locator(f"#tab-list-{name}").click()
            if name == "details":  # it was open: on a phone a second tap puts it away
                tab.locator("#tab-list-details").click()
            assert tab.evaluate(_CUT_OFF) == [], name
            assert tab.evaluate(_TOO_SMALL) == [] or device is DESK, name
        playwright.expect(tab.locator("#switches .all")).to_have_text("Mostrar todas")


@pytest.fixture(scope="module")
def mill(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Watch]:
    """A building of three rooms, spoken of in Spanish."""
    folder = tmp_path_factory.mktemp("mill") / "building"
    shutil.copytree(FIXTURES / "building", folder)
    with watching(folder / "building.yaml", "--language", "es") as watch:
        yield watch


def _room(mill: Watch, name: str) -> Path:
    return mill.file.with_name(name)


def test_a_building_has_a_page_for_each_room_and_one_order_for_all(browser, mill):
    with opened(browser, mill.address, **DESK) as tab:
        wait_for(tab, "#rooms", "Office.*Store.*Hall")
        tab.locator("#tab-list-together").click()
        order = tab.locator("#list-together")
        playwright.expect(order).to_contain_text("Qué comprar para todos los locales")
        playwright.expect(order).to_contain_text("Parte de Store")
        before = order.locator("table").first.inner_text()
        tab.get_by_role("link", name="Store").click()
        wait_for(tab, "#job", "^Store$")
        assert tab.locator("#rooms [aria-current=page]").inner_text() == "Store"
        tab.locator("#tab-list-together").click()
        assert tab.locator("#list-together table").first.inner_text() == before
        assert violations(tab, ".pane") == []


def test_a_room_of_a_building_that_is_saved_changes_the_order_on_the_page_of_another(browser, mill: Any):
    store = _room(mill, "store.yaml")
    good = store.read_text("utf-8")
    with opened(browser, mill.address, **PHONE) as tab:
        tab.locator("#news[data-state=well]").wait_for()
        tab.locator("#tab-list-together").tap()
        before = tab.locator("#list-together table").first.inner_text()
        found = re.search(r"rectangle: \[([^,]+),", good)
        assert found
        store.write_text(good.replace(found[1], "21'", 1), "utf-8")
        playwright.expect(tab.locator("#list-together table").first).not_to_have_text(before)
        store.write_text(good.replace("grid:", "grdi:", 1), "utf-8")
        playwright.expect(tab.locator("#trouble")).to_contain_text("store.yaml, línea")
        assert violations(tab) == []
        seen = [tab.locator(each).bounding_box() for each in ("#trouble", "#sheets", "#list-together", "#lists")]
        for above, below in pairwise(seen):
            assert above["y"] + above["height"] <= below["y"] + 1  # nothing lies on anything else
        store.write_text(good, "utf-8")
        tab.locator("#trouble").wait_for(state="hidden")
        playwright.expect(tab.locator("#list-together table").first).to_have_text(before, use_inner_text=True)
