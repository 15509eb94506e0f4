"""Every sheet of four rooms is what was looked at and accepted; `pytest --bless` accepts what is drawn now.

Kept are small grey pictures of the PDF as PDFium shows it. It shows them four times as large and they are made small
here, so that little depends on how PDFium smooths lines and letters, which another build may do a little differently.
What is held against each other is how much ink there is in each place, in windows of about 3 mm: smoothing leaves that
as it is; a line that is missing, a label that moved or a pen that is thicker does not.
"""

import io
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pypdfium2
import pytest
from PIL import Image, ImageFilter

from planner.drawing.roles import Role
from planner.drawing.shapes import Line, Shape, Sheet, Text
from planner.drawing.sheets import draw
from planner.drawing.stylebook import Style, load_style
from planner.drawing.wish import SheetWish
from planner.planning import plan
from planner.render.pdf import write_pdf
from planner.room.reader import read_room

KEPT = Path(__file__).parents[2] / "fixtures" / "sheets"
ROOMS = {"kiln-room": "us-ncs", "gallery-bowed": "iso-13567", "shop-l-taped": "iso-13567", "den-wrong-way": "iso-13567"}
DPI, FINER = 72, 4
#: Greys are kept in steps of so much of 255.
STEP = 5
#: Side of the windows, pixels. So much ink may be too much or missing in one of them, as a share of all black: another
#: smoothing comes to half of it (0.007), a missing cross tee, which has the finest pen, to 0.0196.
WINDOW, TOLERATED = 9, 0.014


@cache
def styled(room: str) -> Style:
    return load_style(ROOMS[room])


@cache
def sheets(room: str) -> dict[str, Sheet]:
    """The whole set of a demo room."""
    made = draw(plan(read_room(KEPT.parent / f"{room}.yaml")), styled(room), SheetWish())
    return {sheet.key: sheet for sheet in made}


def shown(sheet: Sheet, style: Style, smoothed: float = 0.0) -> Image.Image:
    """One sheet as PDFium shows it, in fewer greys; `smoothed` by so many pixels of the large picture."""
    document = pypdfium2.PdfDocument(io.BytesIO(write_pdf((sheet,), style, title=sheet.title)))
    large = document[0].render(scale=DPI * FINER / 72, grayscale=True).to_pil().convert("L")
    small = (large.filter(ImageFilter.GaussianBlur(smoothed)) if smoothed else large).reduce(FINER)
    return Image.fromarray(((np.asarray(small, dtype=np.int16) + STEP // 2) // STEP * STEP).astype(np.uint8))


def spread(ink: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """The mean of a window around each pixel, twice over: what lies in the middle of a window counts most."""
    for axis in (0, 0, 1, 1):
        around = [(WINDOW // 2 + 1, WINDOW // 2) if k == axis else (0, 0) for k in (0, 1)]
        sums = np.cumsum(np.pad(ink, around), axis=axis)
        count = ink.shape[axis]
        ink = (np.take(sums, range(WINDOW, WINDOW + count), axis) - np.take(sums, range(count), axis)) / WINDOW
    return ink


def difference(one: Image.Image, other: Image.Image) -> float:
    """Where most ink is too much or missing: how much, as a share of all black; 1 for pictures of other sizes."""
    if one.size != other.size:
        return 1.0
    a, b = (np.asarray(image, dtype=np.float64) / 255 for image in (one, other))
    return float(np.abs(spread(a - b)).max())


def both(was: Image.Image, now: Image.Image) -> Image.Image:
    """For whoever must find out: red is what was there, blue is what is new."""
    size = (max(was.width, now.width), max(was.height, now.height))
    before, after = (Image.new("L", size, 255) for _ in range(2))
    before.paste(was)
    after.paste(now)
    lighter = np.minimum(np.asarray(before), np.asarray(after))
    return Image.merge("RGB", (after, Image.fromarray(lighter), before))


@pytest.mark.parametrize("room", ROOMS)
def test_every_sheet_is_what_was_accepted(room: str, bless: bool, tmp_path: Path) -> None:
    drawn = {f"{room}.{key}.png": shown(sheet, styled(room)) for key, sheet in sheets(room).items()}
    if bless:
        KEPT.mkdir(exist_ok=True)
        for path in KEPT.glob(f"{room}.*.png"):
            path.unlink()
        for name, picture in drawn.items():
            picture.quantize(256 // STEP + 1).save(KEPT / name, optimize=True)
    kept = {path.name: Image.open(path).convert("L") for path in KEPT.glob(f"{room}.*.png")}
    assert kept.keys() == drawn.keys(), "sheets came or went: look, then bless"
    wrong = [name for name in drawn if difference(kept[name], drawn[name]) > TOLERATED]
    for name in wrong:
        both(kept[name], drawn[name]).save(tmp_path / name)
    assert not wrong, f"look at {', '.join(wrong)} in {tmp_path}: red was there, blue is new; then mend, or bless"


def test_all_that_is_kept_is_small() -> None:
    assert sum(path.stat().st_size for path in KEPT.iterdir()) < 2_500_000
    assert {path.name.split(".")[0] for path in KEPT.iterdir()} == set(ROOMS)


# What a picture must not let pass, on the ceiling plan of the kiln room.


def redrawn(change: Callable[[Shape], Shape | None]) -> Sheet:
    """The sheet with the shapes of its plan changed, or without those of which nothing is left."""
    sheet = sheets("kiln-room")["ceiling-plan"]
    (window,) = sheet.windows
    shapes = tuple(changed for shape in window.drawing.shapes if (changed := change(shape)) is not None)
    return replace(sheet, windows=(replace(window, drawing=replace(window.drawing, shapes=shapes)),))


def without_a_tee() -> Image.Image:
    shapes = sheets("kiln-room")["ceiling-plan"].windows[0].drawing.shapes
    tee = next(shape for shape in shapes if isinstance(shape, Line) and shape.role == Role.CROSS_TEE)
    return shown(redrawn(lambda shape: None if shape is tee else shape), styled("kiln-room"))


def with_a_label_moved() -> Image.Image:
    """By 1.5 mm on paper, at 1:24."""

    def change(shape: Shape) -> Shape:
        if isinstance(shape, Text) and shape.text == "S1":
            return replace(shape, at=(shape.at[0] + 1.5 * 24, shape.at[1]))
        return shape

    return shown(redrawn(change), styled("kiln-room"))


def with_another_pen(role: Role, pen: float) -> Image.Image:
    style = styled("kiln-room")
    layers = tuple(replace(layer, pen=pen) if layer == style.layer(role) else layer for layer in style.layers)
    return shown(sheets("kiln-room")["ceiling-plan"], replace(style, layers=layers))


SPOILED: dict[str, Callable[[], Image.Image]] = {
    "a tee is missing": without_a_tee,
    "a label moved": with_a_label_moved,
    "walls with the next thicker pen": lambda: with_another_pen(Role.WALL, 0.7),
    "mains with the next thicker pen": lambda: with_another_pen(Role.MAIN_TEE, 0.5),
}


@pytest.mark.parametrize("spoiled", SPOILED)
def test_a_spoiled_sheet_is_noticed(spoiled: str) -> None:
    right = Image.open(KEPT / "kiln-room.ceiling-plan.png").convert("L")
    assert difference(right, SPOILED[spoiled]()) > TOLERATED


@pytest.mark.parametrize("room", ROOMS)
def test_another_smoothing_is_not_held_against_a_sheet(room: str) -> None:
    """Smoothed by a quarter of a pixel more, which is as much as lines and letters are smoothed at all."""
    sheet = sheets(room)["ceiling-plan"]
    again = shown(sheet, styled(room), smoothed=1.0)
    assert 0.0 < difference(shown(sheet, styled(room)), again) < TOLERATED / 2
