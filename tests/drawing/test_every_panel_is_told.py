"""Every cut panel can be told on the plan: its id is in it, or is led to it, or a remark names it in its order."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from drawing.hand_plans import hand_plan, rectangle, room
from drawing.whole_sheets import check, overlapping, said
from shapely.geometry import Point as Spot
from shapely.geometry import Polygon

from planner.drawing.labels import Heights, rings_overlap, text_boxes, text_ring
from planner.drawing.panel_marks import panel_class
from planner.drawing.roles import Role
from planner.drawing.shapes import Circle, Dimension, Line, Sheet, Text
from planner.drawing.sheets import draw
from planner.drawing.stylebook import Style, load_style, style_names
from planner.drawing.wish import SheetWish
from planner.geometry import Ring, box_of
from planner.planning import Plan, plan
from planner.render.dimensioning import draw_dimension
from planner.render.strokes import Blank, Glyphs, explode
from planner.room.reader import read_room

FIXTURES = sorted((Path(__file__).parents[2] / "fixtures").glob("*.yaml"))
ISO = load_style("iso-13567")
BOLD = load_style("site-bold")


@pytest.fixture(scope="module", params=FIXTURES, ids=lambda path: path.stem)
def made(request) -> Plan:
    return plan(read_room(str(request.param)))


@pytest.fixture(params=style_names())
def style(request) -> Style:
    return load_style(request.param)


@pytest.mark.parametrize("language", ["en", "es"])
def test_no_letters_lie_on_others_on_lines_of_dimensions_or_under_a_mask(made: Plan, style: Style, language: str):
    for sheet in draw(made, style, SheetWish(language=language, sheets=("ceiling-plan",))):
        assert overlapping(sheet, style) == []
        assert list(covered(sheet, style)) == []
        assert list(on_dimensions(sheet, style)) == []
        assert list(untold(made, sheet)) == []


def covered(sheet: Sheet, style: Style) -> Iterator[tuple[str, str]]:
    """Letters that bare paper is painted over, and the letters that it is for."""
    painted: list[tuple[Glyphs, Ring]] = []
    for layer in explode(sheet, style):
        for patch in layer.patches:
            for blank, mark in zip((None, *patch.marks), patch.marks, strict=False):
                if not isinstance(mark, Glyphs):
                    continue
                if isinstance(blank, Blank):
                    own = box_of(blank.ring)
                    near = (g for g, ring in painted if own.overlaps(box_of(ring)) and rings_overlap(ring, blank.ring))
                    yield from ((glyphs.text, mark.text) for glyphs in near)
                text = Text(Role.NOTE, mark.at, mark.text, mark.horizontal, "base", mark.angle_deg)
                painted.append((mark, text_ring(text, mark.height)))


def on_dimensions(sheet: Sheet, style: Style) -> Iterator[tuple[str, str]]:
    """Letters that a line of a dimension crosses, but for dimensions' own and corners', on masks; and the dimension."""
    heights = Heights.of(style)
    for window in sheet.windows:
        scale = window.drawing.scale
        dimensions = [s for s in window.drawing.shapes if isinstance(s, Dimension)]
        texts = (s for s in window.drawing.shapes if isinstance(s, Text) and s.role != Role.CORNER_MARK)
        for text in (s for s in texts if not (s.mask and s.role == Role.DIMENSION)):
            ring = text_ring(text, heights[text.role] * scale)
            for shape in dimensions:
                lines = draw_dimension(shape, heights[shape.role], scale).segments
                if any(rings_overlap(ring, line) for line in lines):
                    yield text.text, shape.text


def untold(made: Plan, sheet: Sheet) -> Iterator[str]:
    """Panels with neither letters nor a dot in them that no remark names."""
    shapes = sheet.windows[0].drawing.shapes
    letters = [s for s in shapes if isinstance(s, Text) and s.role == Role.PANEL_MARK]
    dots = [Spot(s.centre) for s in shapes if isinstance(s, Circle) and s.role == Role.PANEL_MARK]
    words = said(sheet).replace(",", " ").replace(".", " ").split()
    for panel in made.ceiling.panels:
        outline = Polygon(panel.outline)
        names = (panel.id, panel_class(panel))  # panels with the same letters are cut alike
        inside = any(text.text in names and outline.contains(Spot(text.at)) for text in letters)
        if not inside and not any(outline.contains(dot) for dot in dots) and panel.id not in words:
            yield panel.id


def test_panels_in_a_row_that_are_too_small_for_letters_share_one_mark():
    """6.1 by 3.0 m at 1:100: borders of 50 mm are 0.5 mm wide on paper, no letters of 2.5 mm go in.

    The grid of 600 leaves ten whole modules and 50 mm at each end: five panels of one class at each. One mark at each
    end with a line to a line through five dots: 4 x 600 = 2400 mm long, but that the arm of the start point, 3 mm on
    paper, is in the way of the first dot at the left, which stands a tenth of a module further up.
    """
    narrow = hand_plan(room(rectangle(6100, 3000)), origin=(50.0, 0.0))
    (sheet,) = draw(narrow, ISO, SheetWish(paper="A4", scale=100.0, sheets=("ceiling-plan",)))
    check(sheet, ISO)
    shapes = [s for s in sheet.windows[0].drawing.shapes if s.role == Role.PANEL_MARK]
    ids = {panel.id for panel in narrow.ceiling.panels}
    assert len(ids) == 10
    dots = [s for s in shapes if isinstance(s, Circle)]
    assert len(dots) == 10
    rows = [s for s in shapes if isinstance(s, Line) and abs(s.start[0] - s.end[0]) < 1.0]
    lengths = sorted(abs(s.end[1] - s.start[1]) for s in rows if abs(s.end[1] - s.start[1]) > 2000.0)
    assert lengths == pytest.approx([2340.0, 2400.0])
    marks = [s.text for s in shapes if isinstance(s, Text)]
    assert len(marks) == 2
    assert "A mark with a leader belongs to the panel at the dot." in " ".join(said(sheet).split())


def test_the_word_at_the_start_point_leaves_cut_panels_to_their_marks():
    """The Spanish word for it is as long as a panel is wide, and covered the mark of b1."""
    clinic = plan(read_room(str(next(path for path in FIXTURES if path.stem == "clinic"))))
    (sheet,) = draw(clinic, ISO, SheetWish(language="es", sheets=("ceiling-plan",)))
    shapes = sheet.windows[0].drawing.shapes
    (word,) = [s for s in shapes if isinstance(s, Text) and s.role == Role.START_POINT]
    ring = text_ring(word, Heights.of(ISO)[Role.START_POINT] * sheet.windows[0].drawing.scale)
    assert not any(Polygon(ring).intersects(Polygon(panel.outline)) for panel in clinic.ceiling.panels)
    marks = {box.text for box in text_boxes(sheet, ISO) if box.role == Role.PANEL_MARK}
    assert {panel.id for panel in clinic.ceiling.panels} <= marks
