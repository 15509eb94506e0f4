"""The page in a real browser: the live page, and the page as a file."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from page.browsing import (
    DESK,
    NEEDS_BROWSER,
    PHONE,
    Watch,
    begun,
    opened,
    playwright,
    tap_model,
    violations,
    wait_for,
)
from page.shown_rooms import NASTY, room_text, shown, shown_fixture

from planner.page.page import page_html

pytestmark = NEEDS_BROWSER


@pytest.fixture(scope="module")
def watched(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Watch]:
    with begun(tmp_path_factory.mktemp("watched"), room_text("Kiln")) as watch:
        yield watch


@pytest.fixture
def live(watched: Watch, browser: Any) -> Iterator[Any]:
    watched.save(room_text("Kiln"))
    with opened(browser, watched.address, **DESK) as tab:
        wait_for(tab, "#job", "Kiln")
        tab.locator("#news[data-state=well]").wait_for()
        yield tab


@pytest.fixture
def written(tmp_path: Path) -> str:
    file = tmp_path / "page.html"
    file.write_bytes(page_html(shown_fixture("clinic.yaml")))
    return file.as_uri()


# --- the live page ---------------------------------------------------------------------------------------------------


def test_a_save_is_seen_and_what_the_reader_does_is_kept(live, watched):
    live.locator("#tab-sheet-framing").click()
    live.locator("#tab-list-stock").click()
    live.locator("#zoom-closer").click()
    seen = live.locator("#sheet-framing svg").get_attribute("viewBox")
    watched.save(room_text("Kiln, wider", "5300 mm"))
    wait_for(live, "#job", "Kiln, wider")
    assert live.locator("#tab-sheet-framing").get_attribute("aria-selected") == "true"
    assert live.locator("#tab-list-stock").get_attribute("aria-selected") == "true"
    assert live.locator("#sheet-framing svg").get_attribute("viewBox") == seen
    assert live.locator("#sheet-framing").is_visible() and not live.locator("#sheet-ceiling-plan").is_visible()
    wait_for(live, "#news", r"Planned in \d+\.\d\d s")


def test_a_chosen_panel_stays_chosen_with_its_new_size(live, watched):
    """The corner panel a1: 4700 = 6 * 600 + 2 * 550, sawn 5 mm smaller; 4720 = 6 * 600 + 2 * 560."""
    tap_model(live, "ceiling-plan", (100.0, 100.0))
    wait_for(live, "#chosen h3", "Panel a1")
    wait_for(live, "#chosen .big", "Cut to 545 × 545 mm")
    watched.save(room_text("Kiln", "4720 mm"))
    wait_for(live, "#chosen .big", "Cut to 555 × 545 mm")
    assert live.locator("#sheet-ceiling-plan .marks .chosen").count() == 2  # the mark and its halo


def test_a_broken_file_shows_its_line_and_the_last_good_plan_and_is_mended(live, watched):
    watched.save(room_text("Kiln").replace("4700 mm", "47oo mm"))
    live.locator("#trouble").wait_for()
    trouble = live.locator("#trouble")
    playwright.expect(trouble).to_contain_text("room.yaml, line 3")
    playwright.expect(trouble.locator("pre")).to_contain_text("3 | room: {rectangle: [47oo mm, 3500 mm]}")
    playwright.expect(trouble.locator("mark")).to_have_text("47oo mm")
    assert live.locator("#sheet-ceiling-plan svg").is_visible()
    wait_for(live, "#news", "Not planned")
    assert violations(live) == []
    watched.save(room_text("Mended"))
    wait_for(live, "#job", "Mended")
    trouble.wait_for(state="hidden")


def test_a_page_opened_on_a_broken_file_shows_it_too(watched, browser):
    watched.save("room: [")
    with opened(browser, watched.address, **PHONE) as tab:
        tab.locator("#trouble").wait_for()
        playwright.expect(tab.locator("#trouble")).to_contain_text("line 1")
        watched.save(room_text("Kiln"))
        tab.locator("#trouble").wait_for(state="hidden")


def test_a_watch_begun_on_a_broken_file_waits_for_it_to_be_mended(browser, tmp_path):
    with (
        begun(tmp_path, room_text("Kiln").replace("600 mm", "6oo mm")) as watch,
        opened(browser, watch.address, **DESK) as tab,
    ):
        tab.locator("#trouble").wait_for()
        playwright.expect(tab.locator("#trouble")).to_contain_text("There is no plan yet.")
        assert violations(tab) == []
        watch.save(room_text("Kiln"))
        wait_for(tab, "#job", "Kiln")
        tab.locator("#sheet-ceiling-plan svg").wait_for()
        tap_model(tab, "ceiling-plan", (100.0, 100.0))
        wait_for(tab, "#chosen h3", "Panel a1")


def test_markup_in_a_name_stays_text_when_the_page_renews_itself(live, watched):
    watched.save(room_text(NASTY))
    playwright.expect(live.locator("#job")).to_have_text(NASTY)
    assert live.locator("img:not(#stage img)").count() == 0


# --- the page as a file ----------------------------------------------------------------------------------------------


def test_layers_can_be_switched_off_and_are_then_not_met(browser, written):
    with opened(browser, written, **DESK) as tab:
        tees = tab.locator("#sheet-ceiling-plan [data-layer='A-352---E-']")
        assert tees.evaluate("each => getComputedStyle(each).display") != "none"
        tab.locator("#tab-list-layers").click()
        tab.locator("[data-switch='A-352---E-']").uncheck()
        assert tees.evaluate("each => getComputedStyle(each).display") == "none"
        tab.locator("#tab-sheet-framing").click()
        assert tab.locator("#sheet-framing [data-layer='A-352---E-']").evaluate("e => getComputedStyle(e).display") == (
            "none"
        )
        tab.get_by_role("button", name="Show all").click()
        assert tees.evaluate("each => getComputedStyle(each).display") != "none"


def test_a_light_a_tee_a_whole_panel_and_a_finding_tell_what_they_are(browser, written):
    plan = shown_fixture("clinic.yaml").plan
    light = next(service for service in plan.ceiling.services if service.name == "L1")
    main = next(member for member in plan.ceiling.members if member.id == "M1")
    x, y = plan.ceiling.layout.frame.origin
    with opened(browser, written, **DESK) as tab:
        tap_model(tab, "ceiling-plan", light.at)
        wait_for(tab, "#chosen h3", "L1")
        tab.keyboard.press("Escape")
        assert not tab.locator("#chosen").is_visible()
        middle = ((main.start[0] + main.end[0]) / 2 + 170.0, (main.start[1] + main.end[1]) / 2)
        tap_model(tab, "ceiling-plan", middle)
        wait_for(tab, "#chosen h3", "Main tee M1")
        tap_model(tab, "ceiling-plan", (x + 1.5 * 600, y + 1.5 * 600))
        wait_for(tab, "#chosen h3", "Whole panel")
        tab.locator("#tab-list-findings").click()
        before = tab.locator("#sheet-ceiling-plan svg").get_attribute("viewBox")
        tab.locator("[data-finding='1']").click()
        tab.locator("#sheet-ceiling-plan .flash").wait_for(state="attached")
        assert tab.locator("#sheet-ceiling-plan svg").get_attribute("viewBox") != before


def test_the_keyboard_is_enough(browser, written):
    with opened(browser, written, **DESK) as tab:
        svg = tab.locator("#sheet-ceiling-plan svg")
        tab.locator("#stage").focus()
        whole = svg.get_attribute("viewBox")
        tab.keyboard.press("+")
        closer = svg.get_attribute("viewBox")
        tab.keyboard.press("ArrowRight")
        moved = svg.get_attribute("viewBox")
        assert len({whole, closer, moved}) == 3
        tab.keyboard.press("0")
        assert svg.get_attribute("viewBox") == whole
        tab.locator("#tab-sheet-ceiling-plan").focus()
        tab.keyboard.press("ArrowRight")
        assert tab.evaluate("document.activeElement.id") == "tab-sheet-framing"
        assert tab.locator("#sheet-framing").is_visible()
        tab.locator("#tab-list-parts").focus()
        tab.keyboard.press("Enter")
        tab.locator("[data-part='panel:b2']").focus()
        tab.keyboard.press("Enter")
        wait_for(tab, "#chosen h3", "Panel b2")
        assert tab.locator("#sheet-ceiling-plan").is_visible() or tab.locator("#sheet-framing").is_visible()
        playwright.expect(tab.locator("#spoken")).to_contain_text("Panel b2")


def test_on_a_phone_a_finger_is_enough(browser, written):
    with opened(browser, written, **PHONE) as tab:
        assert not tab.locator("#list-details").is_visible()
        tap_model(tab, "ceiling-plan", (150.0, 150.0), touch=True)
        wait_for(tab, "#chosen h3", "Panel a1")
        assert tab.locator("#list-details").is_visible()
        tab.locator("#tab-list-details").tap()
        assert not tab.locator("#list-details").is_visible()
        small = tab.evaluate(
            """() => [...document.querySelectorAll("button, a, label")].filter((each) => {
              const box = each.getBoundingClientRect();
              return box.width && box.height && (box.width < 44 || box.height < 44);
            }).map((each) => each.outerHTML.slice(0, 80))"""
        )
        assert small == []
        assert tab.evaluate("document.documentElement.scrollWidth <= innerWidth")
        before = tab.locator("#sheet-ceiling-plan svg").get_attribute("viewBox").split()
        _pinch(tab)
        after = tab.locator("#sheet-ceiling-plan svg").get_attribute("viewBox").split()
        assert float(after[2]) == pytest.approx(float(before[2]) / 2, rel=0.02)


@pytest.mark.parametrize("height", [640, 780])
def test_on_a_phone_an_error_and_an_open_list_leave_the_drawing_its_place(watched, browser, height):
    """A third of the screen, and of the error its place, its words and what would mend it are to be had by a thumb."""
    watched.save(room_text("Kiln"))
    with opened(browser, watched.address, **PHONE | {"viewport": {"width": 360, "height": height}}) as tab:
        wait_for(tab, "#job", "Kiln")
        tap_model(tab, "ceiling-plan", (150.0, 150.0), touch=True)
        wait_for(tab, "#chosen h3", "Panel a1")
        watched.save(room_text("Kiln").replace("4700 mm", "47oo mm").replace("600 mm", "6oo mm"))
        tab.locator("#trouble").wait_for()
        assert tab.locator("#list-details").is_visible()
        stage = tab.locator("#stage").bounding_box()
        assert stage["height"] >= height / 3
        tab.locator("#tab-list-details").tap()  # the list put away, more of the error is seen
        assert tab.locator("#stage").bounding_box()["height"] >= height / 3
    watched.save(room_text("Kiln"))


def _pinch(tab: Any) -> None:
    """Two fingers, 100 pixels apart, to 200."""
    box = tab.locator("#stage").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    session = tab.context.new_cdp_session(tab)
    for kind, half in (("touchStart", 50), *(("touchMove", 50 + 5 * k) for k in range(1, 11)), ("touchEnd", None)):
        points = [] if half is None else [{"x": x - half, "y": y, "id": 0}, {"x": x + half, "y": y, "id": 1}]
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("device", [DESK, PHONE], ids=["desk", "phone"])
def test_no_rule_of_accessibility_is_broken(browser, written, scheme, device):
    with opened(browser, written, color_scheme=scheme, **device) as tab:
        tap_model(tab, "ceiling-plan", (150.0, 150.0), touch=device is PHONE)
        wait_for(tab, "#chosen h3", "Panel a1")
        tab.evaluate("document.querySelectorAll('#stage svg').forEach((svg) => svg.replaceChildren())")
        assert violations(tab) == []
        lists = ("findings", "work", "parts", "stock", "layers")
        for name in lists if (scheme == "dark") == (device is PHONE) else ():
            tab.locator(f"#tab-list-{name}").click()
            assert violations(tab, f"#list-{name}") == [], name


def test_on_paper_every_sheet_has_its_own_page_at_true_size(browser, tmp_path):
    """A3 lying is 420 by 297 mm; a point is 1/72 in."""
    pypdfium2 = pytest.importorskip("pypdfium2")
    file = tmp_path / "page.html"
    file.write_bytes(page_html(shown(room_text())))
    with opened(browser, file.as_uri(), **DESK) as tab:
        tab.locator("#zoom-closer").click()
        printed = tab.pdf(prefer_css_page_size=True)
    document = pypdfium2.PdfDocument(printed)
    sheets = shown(room_text()).sheets
    for number, sheet in enumerate(sheets):
        width, height = document[number].get_size()
        assert (width, height) == pytest.approx(
            (sheet.paper.width / 25.4 * 72, sheet.paper.height / 25.4 * 72), abs=1.5
        )
        text = "".join(document[number].get_textpage().get_text_range().split())
        assert "".join(sheet.title.split()) in text
    document.close()


def test_without_its_program_the_page_still_shows_everything(browser, written):
    with opened(browser, written, java_script_enabled=False, **DESK) as tab:
        for name in ("ceiling-plan", "framing", "set-out"):
            assert tab.locator(f"#sheet-{name} svg").is_visible()
        assert tab.locator("#list-work").is_visible() and tab.locator("#list-stock").is_visible()
        assert not tab.locator("#tab-list-stock").is_visible()


def test_ctrl_c_ends_the_watch_while_pages_still_listen(tmp_path):
    import http.client

    with begun(tmp_path, room_text("Kiln")) as watch:
        port = int(watch.address.rsplit(":", 1)[1].strip("/"))
        lines = [http.client.HTTPConnection("127.0.0.1", port, timeout=20) for _ in range(5)]
        for line in lines:
            line.request("GET", "/news")
        answers = [line.getresponse() for line in lines]
        assert all(answer.readline().startswith(b"data: ") for answer in answers)
    for line, answer in zip(lines, answers, strict=True):
        answer.close()
        line.close()
