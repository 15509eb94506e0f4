"""The page in a real browser: Chromium as the system has it, driven by Playwright; skipped where there is none."""

import os
import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from page.shown_rooms import NASTY, room_text, shown, shown_fixture

from planner.page.page import page_html

playwright = pytest.importorskip("playwright.sync_api", reason="the browser tests need playwright (extra: test)")
axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="the browser tests need axe (extra: test)")
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
#: Where programs were installed for these tests, none may be passed over for want of one.
pytestmark = pytest.mark.skipif(
    CHROMIUM is None and os.environ.get("PROGRAMS") != "required",
    reason="no Chromium on this machine (Debian: apt install chromium)",
)

PHONE = {"viewport": {"width": 390, "height": 780}, "has_touch": True, "is_mobile": True, "device_scale_factor": 2}
DESK = {"viewport": {"width": 1360, "height": 820}}
WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with playwright.sync_playwright() as running:
        made = running.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield made
        made.close()


@contextmanager
def _opened(browser: Any, address: str, **wishes: Any) -> Iterator[Any]:
    """A tab in which nothing is logged as an error, and from which nothing leaves this machine."""
    context = browser.new_context(**wishes)
    tab = context.new_page()
    tab.set_default_timeout(20_000)
    complaints: list[str] = []
    strays: list[str] = []
    tab.on("console", lambda said: complaints.append(said.text) if said.type in ("error", "warning") else None)
    tab.on("pageerror", lambda error: complaints.append(str(error)))
    tab.on("request", lambda request: strays.append(request.url) if _leaves(request.url) else None)
    tab.goto(address)
    yield tab
    context.close()
    assert complaints == []
    assert strays == []


def _leaves(address: str) -> bool:
    return not re.match(r"file:///|data:|http://127\.0\.0\.1:\d+/", address)


class _Watch:
    """`planner watch` as somebody would start it."""

    def __init__(self, folder: Path, text: str) -> None:
        self.file = folder / "room.yaml"
        self.file.write_text(text, "utf-8")
        command = [sys.executable, "-m", "planner", "watch", "room.yaml", "--no-open"]
        self._process = subprocess.Popen(
            command, cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, env=_plain_environment()
        )
        assert self._process.stdout is not None
        line = self._process.stdout.readline()
        found = re.search(r"http://127\.0\.0\.1:\d+/", line)
        assert found, line
        self.address = found[0]

    def save(self, text: str) -> None:
        """As editors do that replace the file."""
        new = self.file.with_suffix(".new")
        new.write_text(text, "utf-8")
        os.replace(new, self.file)

    def stop(self) -> tuple[int, str]:
        self._process.send_signal(signal.SIGINT)
        said, _ = self._process.communicate(timeout=30)
        return self._process.returncode, said


@contextmanager
def _begun(folder: Path, text: str) -> Iterator[_Watch]:
    """A watch that is ended whatever happens, as Ctrl-C ends it: in peace."""
    watch = _Watch(folder, text)
    try:
        yield watch
    finally:
        ended = watch.stop()
    assert ended == (0, "Stopped.\n")


def _plain_environment() -> dict[str, str]:
    return os.environ | {"PYTHONUNBUFFERED": "1", "PYTHONPATH": str(Path(__file__).parents[2])}


@pytest.fixture(scope="module")
def watched(tmp_path_factory: pytest.TempPathFactory) -> Iterator[_Watch]:
    with _begun(tmp_path_factory.mktemp("watched"), room_text("Kiln")) as watch:
        yield watch


@pytest.fixture
def live(watched: _Watch, browser: Any) -> Iterator[Any]:
    watched.save(room_text("Kiln"))
    with _opened(browser, watched.address, **DESK) as tab:
        _wait_for(tab, "#job", "Kiln")
        tab.locator("#news[data-state=well]").wait_for()
        yield tab


@pytest.fixture
def written(tmp_path: Path) -> str:
    file = tmp_path / "page.html"
    file.write_bytes(page_html(shown_fixture("clinic.yaml")))
    return file.as_uri()


def _wait_for(tab: Any, selector: str, text: str) -> None:
    playwright.expect(tab.locator(selector)).to_have_text(re.compile(text), timeout=20_000)


def _tap_model(tab: Any, sheet: str, at: tuple[float, float], touch: bool = False) -> None:
    """Tap where a point of the room lies on the screen, as the sheet's own data say."""
    x, y = tab.evaluate(
        """([sheet, at]) => {
          const told = JSON.parse(document.getElementById("data").textContent).sheets.find((s) => s.key === sheet);
          const [window] = told.windows, [left, top, width, height] = window.box;
          const svg = document.querySelector(`#sheet-${sheet} svg`), point = new DOMPoint(
            left + width / 2 + (at[0] - window.centre[0]) / window.scale,
            top + height / 2 - (at[1] - window.centre[1]) / window.scale).matrixTransform(svg.getScreenCTM());
          return [point.x, point.y];
        }""",
        [sheet, at],
    )
    if touch:
        tab.touchscreen.tap(x, y)
    else:
        tab.mouse.click(x, y)


def _violations(tab: Any, within: str = "html") -> list[tuple[str, list[str]]]:
    """Rules that are broken. Drawings may be emptied before, to save time: each is one picture to a screen reader."""
    found = axe.Axe().run(tab, within, {"runOnly": {"type": "tag", "values": WCAG}}).response["violations"]
    return [(rule["id"], [node["html"][:120] for node in rule["nodes"][:3]]) for rule in found]


# --- the live page ---------------------------------------------------------------------------------------------------


def test_a_save_is_seen_and_what_the_reader_does_is_kept(live, watched):
    live.locator("#tab-sheet-framing").click()
    live.locator("#tab-list-stock").click()
    live.locator("#zoom-closer").click()
    seen = live.locator("#sheet-framing svg").get_attribute("viewBox")
    watched.save(room_text("Kiln, wider", "5300 mm"))
    _wait_for(live, "#job", "Kiln, wider")
    assert live.locator("#tab-sheet-framing").get_attribute("aria-selected") == "true"
    assert live.locator("#tab-list-stock").get_attribute("aria-selected") == "true"
    assert live.locator("#sheet-framing svg").get_attribute("viewBox") == seen
    assert live.locator("#sheet-framing").is_visible() and not live.locator("#sheet-ceiling-plan").is_visible()
    _wait_for(live, "#news", r"Planned in \d+\.\d\d s")


def test_a_chosen_panel_stays_chosen_with_its_new_size(live, watched):
    """The corner panel a1: 4700 = 6 * 600 + 2 * 550, sawn 5 mm smaller; 4720 = 6 * 600 + 2 * 560."""
    _tap_model(live, "ceiling-plan", (100.0, 100.0))
    _wait_for(live, "#chosen h3", "Panel a1")
    _wait_for(live, "#chosen .big", "Cut to 545 × 545 mm")
    watched.save(room_text("Kiln", "4720 mm"))
    _wait_for(live, "#chosen .big", "Cut to 555 × 545 mm")
    assert live.locator("#sheet-ceiling-plan .marks .chosen").count() == 2  # the mark and its halo


def test_a_broken_file_shows_its_line_and_the_last_good_plan_and_is_mended(live, watched):
    watched.save(room_text("Kiln").replace("4700 mm", "47oo mm"))
    live.locator("#trouble").wait_for()
    trouble = live.locator("#trouble")
    playwright.expect(trouble).to_contain_text("room.yaml, line 3")
    playwright.expect(trouble.locator("pre")).to_contain_text("3 | room: {rectangle: [47oo mm, 3500 mm]}")
    playwright.expect(trouble.locator("mark")).to_have_text("47oo mm")
    assert live.locator("#sheet-ceiling-plan svg").is_visible()
    _wait_for(live, "#news", "Not planned")
    assert _violations(live) == []
    watched.save(room_text("Mended"))
    _wait_for(live, "#job", "Mended")
    trouble.wait_for(state="hidden")


def test_a_page_opened_on_a_broken_file_shows_it_too(watched, browser):
    watched.save("room: [")
    with _opened(browser, watched.address, **PHONE) as tab:
        tab.locator("#trouble").wait_for()
        playwright.expect(tab.locator("#trouble")).to_contain_text("line 1")
        watched.save(room_text("Kiln"))
        tab.locator("#trouble").wait_for(state="hidden")


def test_a_watch_begun_on_a_broken_file_waits_for_it_to_be_mended(browser, tmp_path):
    with (
        _begun(tmp_path, room_text("Kiln").replace("600 mm", "6oo mm")) as watch,
        _opened(browser, watch.address, **DESK) as tab,
    ):
        tab.locator("#trouble").wait_for()
        playwright.expect(tab.locator("#trouble")).to_contain_text("There is no plan yet.")
        assert _violations(tab) == []
        watch.save(room_text("Kiln"))
        _wait_for(tab, "#job", "Kiln")
        tab.locator("#sheet-ceiling-plan svg").wait_for()
        _tap_model(tab, "ceiling-plan", (100.0, 100.0))
        _wait_for(tab, "#chosen h3", "Panel a1")


def test_markup_in_a_name_stays_text_when_the_page_renews_itself(live, watched):
    watched.save(room_text(NASTY))
    playwright.expect(live.locator("#job")).to_have_text(NASTY)
    assert live.locator("img:not(#stage img)").count() == 0


# --- the page as a file ----------------------------------------------------------------------------------------------


def test_layers_can_be_switched_off_and_are_then_not_met(browser, written):
    with _opened(browser, written, **DESK) as tab:
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
    with _opened(browser, written, **DESK) as tab:
        _tap_model(tab, "ceiling-plan", light.at)
        _wait_for(tab, "#chosen h3", "L1")
        tab.keyboard.press("Escape")
        assert not tab.locator("#chosen").is_visible()
        middle = ((main.start[0] + main.end[0]) / 2 + 170.0, (main.start[1] + main.end[1]) / 2)
        _tap_model(tab, "ceiling-plan", middle)
        _wait_for(tab, "#chosen h3", "Main tee M1")
        _tap_model(tab, "ceiling-plan", (x + 1.5 * 600, y + 1.5 * 600))
        _wait_for(tab, "#chosen h3", "Whole panel")
        tab.locator("#tab-list-findings").click()
        before = tab.locator("#sheet-ceiling-plan svg").get_attribute("viewBox")
        tab.locator("[data-finding='1']").click()
        tab.locator("#sheet-ceiling-plan .flash").wait_for(state="attached")
        assert tab.locator("#sheet-ceiling-plan svg").get_attribute("viewBox") != before


def test_the_keyboard_is_enough(browser, written):
    with _opened(browser, written, **DESK) as tab:
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
        _wait_for(tab, "#chosen h3", "Panel b2")
        assert tab.locator("#sheet-ceiling-plan").is_visible() or tab.locator("#sheet-framing").is_visible()
        playwright.expect(tab.locator("#spoken")).to_contain_text("Panel b2")


def test_on_a_phone_a_finger_is_enough(browser, written):
    with _opened(browser, written, **PHONE) as tab:
        assert not tab.locator("#list-details").is_visible()
        _tap_model(tab, "ceiling-plan", (150.0, 150.0), touch=True)
        _wait_for(tab, "#chosen h3", "Panel a1")
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
    with _opened(browser, written, color_scheme=scheme, **device) as tab:
        _tap_model(tab, "ceiling-plan", (150.0, 150.0), touch=device is PHONE)
        _wait_for(tab, "#chosen h3", "Panel a1")
        tab.evaluate("document.querySelectorAll('#stage svg').forEach((svg) => svg.replaceChildren())")
        assert _violations(tab) == []
        lists = ("findings", "work", "parts", "stock", "layers")
        for name in lists if (scheme == "dark") == (device is PHONE) else ():
            tab.locator(f"#tab-list-{name}").click()
            assert _violations(tab, f"#list-{name}") == [], name


def test_on_paper_every_sheet_has_its_own_page_at_true_size(browser, tmp_path):
    """A3 lying is 420 by 297 mm; a point is 1/72 in."""
    pypdfium2 = pytest.importorskip("pypdfium2")
    file = tmp_path / "page.html"
    file.write_bytes(page_html(shown(room_text())))
    with _opened(browser, file.as_uri(), **DESK) as tab:
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
    with _opened(browser, written, java_script_enabled=False, **DESK) as tab:
        for name in ("ceiling-plan", "framing", "set-out"):
            assert tab.locator(f"#sheet-{name} svg").is_visible()
        assert tab.locator("#list-work").is_visible() and tab.locator("#list-stock").is_visible()
        assert not tab.locator("#tab-list-stock").is_visible()


def test_ctrl_c_ends_the_watch_while_pages_still_listen(tmp_path):
    import http.client

    with _begun(tmp_path, room_text("Kiln")) as watch:
        port = int(watch.address.rsplit(":", 1)[1].strip("/"))
        lines = [http.client.HTTPConnection("127.0.0.1", port, timeout=20) for _ in range(5)]
        for line in lines:
            line.request("GET", "/news")
        answers = [line.getresponse() for line in lines]
        assert all(answer.readline().startswith(b"data: ") for answer in answers)
    for line, answer in zip(lines, answers, strict=True):
        answer.close()
        line.close()
