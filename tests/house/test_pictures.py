"""The pictures that the README shows are what the planner draws today; `pytest --bless` draws them anew."""

import io
import os
import shutil
from collections.abc import Callable
from functools import partial
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from PIL import Image

from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.templates.sheets import TemplateWish, template_sheets
from planner.drawing.wish import SheetWish
from planner.files import options_pdf
from planner.options import options_for
from planner.page.contents import Shown
from planner.page.page import page_html
from planner.planning import Plan, plan
from planner.render.pdf import write_pdf
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
PICTURES = FIXTURES / "pictures"
DPI = 90
#: Share of the pixels that may differ visibly: letters are smoothed a little differently from machine to machine.
TOLERATED = 0.002

#: A browser takes the letters of the page from its machine, so only what is seen from afar is held against the picture:
#: each square of so many pixels as one, of which so many may differ.
AFAR, TOLERATED_AFAR = 16, 0.08
SEEN = {"width": 1200, "height": 750}

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
needs_browser = pytest.mark.skipif(
    CHROMIUM is None and os.environ.get("PROGRAMS") != "required",
    reason="no Chromium on this machine (Debian: apt install chromium)",
)


def planned(room: str) -> Plan:
    return plan(read_room(FIXTURES / f"{room}.yaml"))


def pages(content: bytes, *numbers: int, dpi: int = DPI) -> Image.Image:
    """Pages of a PDF as PDFium shows them, side by side."""
    document = pypdfium2.PdfDocument(io.BytesIO(content))
    shown = [document[number].render(scale=dpi / 72).to_pil().convert("RGB") for number in numbers]
    row = Image.new("RGB", (sum(page.width for page in shown), max(page.height for page in shown)), "white")
    for k, page in enumerate(shown):
        row.paste(page, (sum(before.width for before in shown[:k]), 0))
    return row


def sheet(room: str, key: str) -> Image.Image:
    """One sheet of the whole set of a demo room."""
    style = load_style("us-ncs")
    chosen = next(made for made in draw(planned(room), style, SheetWish()) if made.key == key)
    return pages(write_pdf((chosen,), style, title=room), 0)


def layouts(room: str) -> Image.Image:
    """Its layouts side by side."""
    found = options_for(read_room(FIXTURES / f"{room}.yaml"))
    return pages(options_pdf(found, load_style("us-ncs"), SheetWish()), 0)


def template(room: str, panel: str) -> Image.Image:
    """The key page of a template, and its second page."""
    style = load_style("iso-13567")
    (made,) = template_sheets(planned(room), style, SheetWish(), TemplateWish(panels=(panel,)))
    return pages(write_pdf(made.sheets, style, title=room), 0, 2, dpi=70)


SHOWN: dict[str, Callable[[], Image.Image]] = {
    "kiln-room-ceiling-plan.png": partial(sheet, "kiln-room", "ceiling-plan"),
    "kiln-room-set-out.png": partial(sheet, "kiln-room", "set-out"),
    "kiln-room-cutting.png": partial(sheet, "kiln-room", "cutting"),
    "kiln-room-options.png": partial(layouts, "kiln-room"),
    "gallery-bowed-template.png": partial(template, "gallery-bowed", "g1"),
}
PAGE = "kiln-room-page.png"

#: Taps where a point of the room lies on the screen, as the sheet's own data say.
PLACE = """([sheet, at]) => {
  const told = JSON.parse(document.getElementById("data").textContent).sheets.find((s) => s.key === sheet);
  const [window] = told.windows, [left, top, width, height] = window.box;
  const svg = document.querySelector(`#sheet-${sheet} svg`), point = new DOMPoint(
    left + width / 2 + (at[0] - window.centre[0]) / window.scale,
    top + height / 2 - (at[1] - window.centre[1]) / window.scale).matrixTransform(svg.getScreenCTM());
  return [point.x, point.y];
}"""


def screen(folder: Path) -> Image.Image:
    """The page of the kiln room in a browser, with the panel at the left wall tapped that is second from the front."""
    playwright = pytest.importorskip("playwright.sync_api", reason="needs playwright (extra: test)")
    made, style = planned("kiln-room"), load_style("us-ncs")
    file = folder / "page.html"
    file.write_bytes(page_html(Shown(made, draw(made, style, SheetWish()), style, SheetWish())))
    with playwright.sync_playwright() as running:
        browser = running.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        tab = browser.new_page(viewport=SEEN, reduced_motion="reduce")
        tab.goto(file.as_uri())
        tab.mouse.click(*tab.evaluate(PLACE, ["ceiling-plan", [273.0, 1270.0]]))
        tab.locator("#chosen h3").wait_for()
        content = tab.screenshot(animations="disabled")
        browser.close()
    return Image.open(io.BytesIO(content)).convert("RGB")


def difference(one: Image.Image, other: Image.Image) -> float:
    """Share of pixels that differ by more than a quarter of full scale; 1 when the sizes differ."""
    if one.size != other.size:
        return 1.0
    a, b = (np.asarray(image, dtype=np.int16) for image in (one, other))
    return float((np.abs(a - b).max(axis=2) > 64).mean())


def from_afar(one: Image.Image, other: Image.Image) -> float:
    """Share of squares whose mean differs by more than an eighth of full scale; 1 when the sizes differ."""
    if one.size != other.size:
        return 1.0
    a, b = (np.asarray(image.reduce(AFAR), dtype=np.int16) for image in (one, other))
    return float((np.abs(a - b).max(axis=2) > 32).mean())


def kept(name: str) -> Image.Image:
    return Image.open(PICTURES / name).convert("RGB")


def accept(name: str, drawn: Image.Image) -> None:
    PICTURES.mkdir(exist_ok=True)
    drawn.quantize(128, Image.Quantize.MAXCOVERAGE).save(PICTURES / name, optimize=True)  # keeps rare colours


@pytest.mark.parametrize("name", SHOWN)
def test_a_picture_in_the_readme_is_what_is_drawn_today(name: str, bless: bool) -> None:
    drawn = SHOWN[name]()
    if bless:
        accept(name, drawn)
    assert difference(drawn, kept(name)) <= TOLERATED


@needs_browser
def test_the_page_in_the_readme_is_what_a_browser_shows_today(tmp_path: Path, bless: bool) -> None:
    drawn = screen(tmp_path)
    if bless:
        accept(PAGE, drawn)
    assert from_afar(drawn, kept(PAGE)) <= TOLERATED_AFAR


@pytest.mark.parametrize("name", SHOWN)
def test_a_spoiled_sheet_would_be_noticed(name: str) -> None:
    """A panel-sized smear on the kept picture is more than is tolerated."""
    right = kept(name)
    spoiled = right.copy()
    spoiled.paste((200, 0, 0), (right.width // 4, right.height // 4, right.width // 4 + 90, right.height // 4 + 60))
    assert difference(right, spoiled) > TOLERATED


def test_a_page_without_its_drawing_would_be_noticed() -> None:
    """Where the plan is, at the left, there is nothing."""
    right = kept(PAGE)
    spoiled = right.copy()
    spoiled.paste((221, 225, 224), (0, right.height // 8, right.width // 2, right.height))
    assert from_afar(right, spoiled) > TOLERATED_AFAR


def test_every_picture_is_shown_in_the_readme_and_none_is_large() -> None:
    readme = (FIXTURES.parent / "README.md").read_text("utf-8")
    there = {path.name for path in PICTURES.iterdir()}
    assert there == {*SHOWN, PAGE}
    assert [name for name in there if f"fixtures/pictures/{name}" not in readme] == []
    assert sum((PICTURES / name).stat().st_size for name in there) < 1_500_000
