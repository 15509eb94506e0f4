"""Layouts side by side on one page: one thumbnail each, all at one scale, nothing on top of anything else."""

from functools import cache

import pytest
from drawing.whole_sheets import check, said

from planner.drawing.options_sheet import options_sheet
from planner.drawing.roles import Role
from planner.drawing.shapes import Outline, Sheet
from planner.drawing.stylebook import load_style, style_names
from planner.drawing.wish import SheetWish
from planner.errors import PlannerError
from planner.geometry import box_of
from planner.options import Option, options_for
from planner.room.brief import Brief, GridWish
from planner.room.outline import Room
from planner.weighing import remarks

ISO = load_style("iso-13567")


@cache
def options() -> tuple[Option, ...]:
    outline = ((0.0, 0.0), (4350.0, 0.0), (4350.0, 1200.0), (2550.0, 1200.0), (2550.0, 3000.0), (0.0, 3000.0))
    room = Room("Studio", "mm", outline, tuple("ABCDEF"))
    return options_for(Brief(room, GridWish("lay-in-metric", (600.0, 600.0))))


def framed(sheet: Sheet) -> list[Outline]:
    """Frames other than the sheet's own, which is drawn first."""
    return [shape for shape in sheet.shapes if isinstance(shape, Outline) and shape.role is Role.FRAME][1:]


@pytest.mark.parametrize("style", style_names())
@pytest.mark.parametrize(("paper", "portrait"), [(None, False), ("A4", True), ("ANSI B", False), ("A1", False)])
def test_nothing_overlaps_or_leaves_the_sheet(style: str, paper: str | None, portrait: bool) -> None:
    chosen = load_style(style)
    sheet = options_sheet(options(), chosen, SheetWish(paper, portrait))
    check(sheet, chosen)
    assert len(sheet.windows) == len(options())
    boxes = [window.box for window in sheet.windows]
    assert not any(a.overlaps(b) for k, a in enumerate(boxes) for b in boxes[:k])


def test_all_thumbnails_have_one_scale() -> None:
    sheet = options_sheet(options(), ISO, SheetWish())
    (scale,) = {window.drawing.scale for window in sheet.windows}
    assert f"1:{scale:g} at A3" in said(sheet)


def test_the_frame_is_round_the_planners_own() -> None:
    sheet = options_sheet(options(), ISO, SheetWish())
    (mark,) = framed(sheet)
    around = box_of(mark.points)
    assert [around.holds(window.box) for window in sheet.windows] == [True] + [False] * (len(options()) - 1)


def test_captions_and_remarks_are_on_the_sheet() -> None:
    words = said(options_sheet(options(), ISO, SheetWish("A1")))
    assert "10 cut, 31 panels" in words and "border 375 mm, rule kept" in words
    assert all(remark in words for remark in remarks(options())[1:])


def test_thumbnails_show_what_is_cut() -> None:
    sheet = options_sheet(options(), ISO, SheetWish())
    for option, window in zip(options(), sheet.windows, strict=True):
        shades = [shape for shape in window.drawing.shapes if shape.role is Role.CUT_SHADE]
        assert len(shades) == option.cut_panels


def test_a_scale_that_does_not_fit_is_refused() -> None:
    with pytest.raises(PlannerError, match="do not fit A4 at 1:5"):
        options_sheet(options(), ISO, SheetWish("A4", scale=5.0))
