"""The pictures that the README shows are what the planner draws today; `pytest --bless` draws them anew."""

import io
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from PIL import Image

from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.planning import plan
from planner.render.pdf import write_pdf
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
PICTURES = FIXTURES / "pictures"
DPI = 100
#: Share of the pixels that may differ visibly: letters are smoothed a little differently from machine to machine.
TOLERATED = 0.002

SHOWN = {
    "kiln-room-ceiling-plan.png": ("kiln-room", "us-ncs", 0),
}


def picture(room: str, style: str, sheet: int) -> Image.Image:
    """Draw one sheet of a demo room as PDF, and turn the page into a picture with PDFium."""
    made, chosen = plan(read_room(FIXTURES / f"{room}.yaml")), load_style(style)
    content = write_pdf(draw(made, chosen, SheetWish()), chosen, title=room)
    page = pypdfium2.PdfDocument(io.BytesIO(content))[sheet]
    return page.render(scale=DPI / 72).to_pil().convert("RGB")


def difference(one: Image.Image, other: Image.Image) -> float:
    """Share of pixels that differ by more than a quarter of full scale; 1 when the sizes differ."""
    if one.size != other.size:
        return 1.0
    a, b = (np.asarray(image, dtype=np.int16) for image in (one, other))
    return float((np.abs(a - b).max(axis=2) > 64).mean())


@pytest.mark.parametrize("name", SHOWN)
def test_a_picture_in_the_readme_is_what_is_drawn_today(name: str, bless: bool) -> None:
    drawn = picture(*SHOWN[name])
    if bless:
        PICTURES.mkdir(exist_ok=True)
        drawn.quantize(64).save(PICTURES / name, optimize=True)
    assert difference(drawn, Image.open(PICTURES / name).convert("RGB")) <= TOLERATED


@pytest.mark.parametrize("name", SHOWN)
def test_a_spoiled_sheet_would_be_noticed(name: str) -> None:
    """A panel-sized smear on the kept picture is more than is tolerated."""
    kept = Image.open(PICTURES / name).convert("RGB")
    spoiled = kept.copy()
    spoiled.paste((200, 0, 0), (kept.width // 4, kept.height // 4, kept.width // 4 + 90, kept.height // 4 + 60))
    assert difference(kept, spoiled) > TOLERATED


def test_every_picture_is_shown_in_the_readme() -> None:
    readme = (FIXTURES.parent / "README.md").read_text("utf-8")
    for name in SHOWN:
        assert f"fixtures/pictures/{name}" in readme
