"""Drawing and writing for programs, with the same choices as the command line.

In: a plan, and what is wished of its sheets. Out: sheets, or files in a folder. Anything left out is chosen as
`planner plan` chooses it.
"""

import os
from collections.abc import Sequence
from pathlib import Path

from planner.drawing.shapes import Sheet
from planner.drawing.sheets import draw as draw_sheets
from planner.drawing.stylebook import Style, load_style
from planner.drawing.wish import SheetWish
from planner.export import write_set
from planner.files import FileWish, files_of
from planner.page.contents import Beside
from planner.planning import Plan
from planner.room.brief import Brief


def draw(
    plan: Plan,
    *,
    style: str | Style | None = None,
    paper: str | None = None,
    portrait: bool = False,
    scale: float | None = None,
    sheets: Sequence[str] = (),
    language: str = "",
    dual: bool = False,
    date: str = "",
) -> tuple[Sheet, ...]:
    """The sheets of a plan, in order.

    `style` is a name that `planner styles` lists, the path of a style file, or a style already loaded; left out it is
    the one that an office in the room's own units would use. `paper` is a name such as A3 or "ANSI B"; `scale` 50 means
    1:50, and the largest that fits when left out; `sheets` are keys such as "ceiling-plan", all of them when left out;
    `language` is en, es or a table of words; `dual` puts lengths in the other system beside; `date` is printed as it
    is written.
    PlannerError for a style, paper, sheet or language that is not known, and for what does not fit its paper.
    """
    wish = SheetWish(paper, portrait, scale, date, tuple(sheets), language, dual)
    return draw_sheets(plan, _style(plan, style), wish)


def write(
    plan: Plan,
    folder: str | os.PathLike[str],
    *,
    style: str | Style | None = None,
    paper: str | None = None,
    portrait: bool = False,
    scale: float | None = None,
    sheets: Sequence[str] = (),
    language: str = "",
    dual: bool = False,
    date: str = "",
    dxf_version: str = "R2010",
    all_templates: bool = False,
    page: bool = False,
    brief: Brief | None = None,
) -> tuple[Path, ...]:
    """Write drawings (DXF, SVG, PDF), lists (CSV) and plan.json into a folder, whole or not at all; their paths.

    As for `draw`; `dxf_version` is R2007, R2010, R2013 or R2018, `all_templates` asks for one of every cut panel.
    `page` asks for page.html too; with the `brief` that the plan was made from, that page says why each number is what
    it is. Files of other names that are in the folder stay there.
    OutputError, a PlannerError, when the folder cannot be written.
    """
    chosen = _style(plan, style)
    wish = SheetWish(paper, portrait, scale, date, tuple(sheets), language, dual)
    files = FileWish(dxf_version, all_templates, page)
    beside = Beside(brief) if page else None
    contents = files_of(plan, draw_sheets(plan, chosen, wish), chosen, files, wish, beside)
    return write_set(Path(folder), contents)


def _style(plan: Plan, style: str | Style | None) -> Style:
    if isinstance(style, Style):
        return style
    return load_style(style or ("us-ncs" if plan.room.imperial else "iso-13567"), Path.cwd())
