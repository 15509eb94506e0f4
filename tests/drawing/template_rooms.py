"""Small rooms for tests of templates, and a way to lay printed pages together again."""

from collections.abc import Iterable
from pathlib import Path

import numpy as np
from render.rendered import picture_of_pdf

from planner.drawing.stylebook import Style, load_style
from planner.drawing.templates.sheets import TemplateSheets, TemplateWish, template_sheets
from planner.drawing.wish import SheetWish
from planner.planning import Plan, plan
from planner.render.pdf import write_pdf
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
METRIC, INCHES = load_style("iso-13567"), load_style("us-ncs")
PIXELS = 10  #: a millimetre, at 254 dots an inch


def fixture(name: str) -> Plan:
    return plan(read_room(FIXTURES / f"{name}.yaml"))


def room(folder: Path, text: str) -> Plan:
    path = folder / "room.yaml"
    path.write_text(text)
    return plan(read_room(path))


def style_of(made: Plan) -> Style:
    return INCHES if made.room.imperial else METRIC


def templates(made: Plan, *panels: str, paper: str | None = None, **wish: object) -> tuple[TemplateSheets, ...]:
    wanted = TemplateWish(panels=panels, **wish)  # type: ignore[arg-type]
    return template_sheets(made, style_of(made), SheetWish(paper=paper), wanted)


def pdf_of(found: Iterable[TemplateSheets], style: Style = METRIC) -> bytes:
    return write_pdf([sheet for each in found for sheet in each.sheets], style, title="templates")


class Laid:
    """The full-size pages of one template, printed, trimmed to their windows and laid side by side again.

    Each page is placed by its own offset alone, to the nearest pixel of a tenth of a millimetre.
    """

    def __init__(self, one: TemplateSheets, pdf: bytes) -> None:
        tiles, window, paper = one.pages.tiling.tiles, one.pages.window, one.pages.paper
        rim = 40.0
        self.left, self.top = min(t.box.left for t in tiles) - rim, max(t.box.top for t in tiles) + rim
        right, bottom = max(t.box.right for t in tiles) + rim, min(t.box.bottom for t in tiles) - rim
        size = (round((self.top - bottom) * PIXELS), round((right - self.left) * PIXELS))
        self.picture = np.full(size, 255, dtype=np.uint8)
        keys = len(one.sheets) - len(one.pages.kept)
        rows = slice(round((paper.height - window.top) * PIXELS), round((paper.height - window.bottom) * PIXELS))
        columns = slice(round(window.left * PIXELS), round(window.right * PIXELS))
        for k, tile in enumerate(one.pages.kept):
            part = picture_of_pdf(pdf, keys + k)[rows, columns]
            y = rows.start + round((self.top - tile.box.top - (paper.height - window.top)) * PIXELS)
            x = columns.start + round((tile.box.left - window.left - self.left) * PIXELS)
            there = self.picture[y : y + part.shape[0], x : x + part.shape[1]]
            np.minimum(there, part, out=there)

    def line_off(self, at: tuple[float, float], out: tuple[float, float], reach: float = 1.0) -> float | None:
        """How far the middle of a black line lies off a point of the template, along a direction; None for no line.

        Hatching and trim lines are lighter than black and do not count.
        """
        steps = np.arange(-reach, reach + 0.01, 0.05)
        columns = (at[0] + steps * out[0] - self.left) * PIXELS - 0.5
        rows = (self.top - at[1] - steps * out[1]) * PIXELS - 0.5
        darkness = np.clip(60.0 - _sampled(self.picture, rows, columns), 0.0, None)
        if darkness.max() < 40.0:
            return None
        return float((steps * darkness).sum() / darkness.sum())


def _sampled(picture: np.ndarray, rows: np.ndarray, columns: np.ndarray) -> np.ndarray:
    """Grey values between pixels."""
    r, c = np.floor(rows).astype(int), np.floor(columns).astype(int)
    dr, dc = rows - r, columns - c
    low, left, high, right = r.min(), c.min(), r.max() + 2, c.max() + 2
    grey, r, c = picture[low:high, left:right].astype(float), r - low, c - left
    return (grey[r, c] * (1 - dc) + grey[r, c + 1] * dc) * (1 - dr) + (
        grey[r + 1, c] * (1 - dc) + grey[r + 1, c + 1] * dc
    ) * dr
