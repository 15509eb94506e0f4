"""Templates on paper: which pages are printed, what stands on them, and that they come out true."""

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from drawing.template_rooms import METRIC, PIXELS, Laid, fixture, pdf_of, style_of, templates
from drawing.whole_sheets import outside
from hypothesis import given, settings
from hypothesis import strategies as st
from render.rendered import picture_of_pdf

from planner.drawing.labels import box_ring, text_boxes
from planner.drawing.roles import Role
from planner.drawing.shapes import Line, Sheet, Text
from planner.drawing.stylebook import Style
from planner.drawing.templates.paper import template_paper, window_of
from planner.drawing.templates.sheets import TemplateSheets
from planner.drawing.templates.tiles import OVERLAP, Pages, pages_for
from planner.errors import PlannerError
from planner.geometry import Point
from planner.planning import Plan


@pytest.fixture(scope="module")
def gallery() -> Plan:
    return fixture("gallery-bowed")


# --- which pages ------------------------------------------------------------------------------------------------------


@st.composite
def cut_lines(draw: st.DrawFn) -> shapely.Geometry:
    """The rim of a star of five to nine corners, and perhaps a round hole in it."""
    count = draw(st.integers(5, 9))
    reach = draw(st.lists(st.floats(30.0, 700.0), min_size=count, max_size=count))
    turns = [2 * math.pi * k / count for k in range(count)]
    corners = [(r * math.cos(t), r * math.sin(t)) for r, t in zip(reach, turns, strict=True)]
    rim = shapely.Polygon(corners)
    hole = shapely.Point(0, 0).buffer(draw(st.floats(5.0, 20.0))).exterior
    return shapely.union_all([rim.exterior, hole] if draw(st.booleans()) else [rim.exterior])


PAPERS = st.sampled_from(["letter", "A4", "legal", "A3", "150x180", "24x36in"])
FACTORS = st.tuples(st.floats(0.98, 1.02), st.floats(0.98, 1.02))


def shown(tile_boxes: list) -> shapely.Geometry:
    return shapely.union_all([shapely.Polygon(box_ring(box)) for box in tile_boxes])


@settings(deadline=None, max_examples=60)
@given(cut_lines(), PAPERS, FACTORS, st.booleans())
def test_printed_pages_show_every_cut_and_the_others_none(
    lines: shapely.Geometry, paper: str, by: tuple[float, float], joined: bool
) -> None:
    pages = pages_for(lines, template_paper(paper), by, joined=joined)
    drawn = shapely.transform(lines, lambda points: points * pages.by)
    left_out = [t.box for t in pages.tiling.tiles if (t.row, t.column) not in pages.printed]
    assert drawn.difference(shown([tile.box for tile in pages.kept]).buffer(1e-6)).length == 0
    assert not left_out or drawn.distance(shown(left_out)) > 0
    if joined:
        assert joined_to_one(pages)


def joined_to_one(pages: Pages) -> bool:
    """Whether every page can be taped to another, side by side, until all hang together."""
    left = set(pages.printed)
    edge = {left.pop()}
    while edge:
        edge = {(r + a, c + b) for r, c in edge for a, b in ((0, 1), (1, 0), (0, -1), (-1, 0))} & left
        left -= edge
    return not left


def test_strip_mode_follows_the_cut_alone(gallery: Plan) -> None:
    (whole,), (strip,) = templates(gallery, "d1"), templates(gallery, "d1", strip=True)
    assert len(strip.pages.printed) < len(whole.pages.printed)
    cut = next(side for side in strip.template.piece.cuts)
    assert shapely.LineString(cut.points).difference(shown([t.box for t in strip.pages.kept])).length == 0


def test_the_key_page_shows_pages_that_are_left_out_in_grey(gallery: Plan) -> None:
    (one,) = templates(gallery, "j1")
    grey = [s for s in one.sheets[0].windows[0].drawing.shapes if s.role is Role.OFFCUT]
    assert len(grey) == len(one.pages.tiling.tiles) - len(one.pages.printed) > 0


# --- what stands on a page --------------------------------------------------------------------------------------------


def crosses(sheet: Sheet) -> set[Point]:
    """Where the registration crosses of a page stand in the template, to a thousandth."""
    (view,) = sheet.windows
    arms = [shape for shape in sheet.shapes if isinstance(shape, Line) and shape.role is Role.REGISTER]
    x, y = view.box.centre
    middles = [((a.start[0] + a.end[0]) / 2, (a.start[1] + a.end[1]) / 2) for a in arms]
    return {(round(view.centre[0] + px - x, 3), round(view.centre[1] + py - y, 3)) for px, py in middles}


@pytest.mark.parametrize("paper", ["letter", "A4"])
def test_neighbours_have_their_crosses_at_the_same_points(gallery: Plan, paper: str) -> None:
    (one,) = templates(gallery, "j1", paper=paper)
    names = [tile.name for tile in one.pages.kept]
    sheets = dict(zip(names, one.sheets[-len(names) :], strict=True))
    pairs = 0
    for tile in one.pages.kept:
        for down, right in ((0, 1), (1, 0)):
            other = one.pages.neighbour(tile, down, right)
            if other is not None:
                pairs += 1
                common = crosses(sheets[tile.name]) & crosses(sheets[other.name])
                assert len(common) >= 3
    assert pairs >= 8


def test_a_page_is_trimmed_at_its_right_and_its_top(gallery: Plan) -> None:
    """Where it has neighbours; the line runs through the crosses, in the middle of the 10 mm that both show."""
    (one,) = templates(gallery, "j1")
    pages = one.pages
    for tile, sheet in zip(pages.kept, one.sheets[-len(pages.kept) :], strict=True):
        told = [s.text for s in sheet.shapes if isinstance(s, Text) and s.text.startswith("trim")]
        wanted = [pages.neighbour(tile, 0, 1), pages.neighbour(tile, -1, 0)]
        assert sorted(told) == sorted(f"trim here, lay on {other.name}" for other in wanted if other)
        (view,) = sheet.windows
        uprights = [
            s for s in sheet.shapes if s.role is Role.TRIM_LINE and isinstance(s, Line) and s.start[0] == s.end[0]
        ]
        assert all(
            min(abs(s.start[0] - view.box.left), abs(s.start[0] - view.box.right)) == OVERLAP / 2 for s in uprights
        )


def every_sheet(found: tuple[TemplateSheets, ...]) -> list[Sheet]:
    return [sheet for each in found for sheet in each.sheets]


@pytest.mark.parametrize("name", ["gallery-bowed", "workshop-low", "garage-quad", "foyer-diagonal"])
def test_letters_stay_on_the_paper_and_off_each_other(name: str) -> None:
    made = fixture(name)
    style = style_of(made)
    for sheet in every_sheet(templates(made)):
        assert not outside_paper(sheet, style), sheet.key
        assert not overlapping_seen(sheet, style), sheet.key


def outside_paper(sheet: Sheet, style: Style) -> list[str]:
    """Words on the paper that leave its safe part; what windows show is clipped anyway."""
    return outside(Sheet(sheet.key, sheet.title, sheet.paper, (), sheet.shapes), style)


def overlapping_seen(sheet: Sheet, style: Style) -> list[tuple[str, str]]:
    """Texts that overlap as far as windows show them."""
    boxes = [
        (box.text, shapely.Polygon(box.ring)) for box in text_boxes(Sheet("", "", sheet.paper, (), sheet.shapes), style)
    ]
    for window in sheet.windows:
        seen = shapely.Polygon(box_ring(window.box))
        inside = text_boxes(Sheet("", "", sheet.paper, (window,), ()), style)
        boxes += [(box.text, shapely.Polygon(box.ring).intersection(seen)) for box in inside]
    tree = shapely.STRtree([box for _, box in boxes])
    pairs = ((int(i), int(k)) for k, (_, box) in enumerate(boxes) for i in tree.query(box) if i < k)
    return [(boxes[i][0], boxes[k][0]) for i, k in pairs if boxes[i][1].intersection(boxes[k][1]).area > 0.02]


@pytest.mark.parametrize("mirror, told", [(False, "FACE UP"), (True, "CUT FROM THE BACK")])
def test_every_page_says_which_side_is_up(gallery: Plan, mirror: bool, told: str) -> None:
    for sheet in every_sheet(templates(gallery, "d1", from_back=mirror)):
        assert told in [shape.text for shape in sheet.shapes if isinstance(shape, Text)]
    key = templates(gallery, "d1", from_back=mirror)[0].sheets[0]
    large = [shape.text for shape in key.shapes if isinstance(shape, Text) and shape.role is Role.BANNER]
    assert large == [told] and METRIC.role(Role.BANNER).height >= 9


# --- printed ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("paper", ["letter", "A4"])
def test_printed_pages_laid_together_give_the_bowed_edge(gallery: Plan, paper: str) -> None:
    """PDFium draws every page at 254 dpi; laid by their offsets the cut is the circle that the wall was taped as.

    From the back the template lies as the plan does: module (i, j) begins 600 i, 600 j from the grid's origin. Wall D-A
    bows in by 150 over 4650: its circle has its centre at (-17943.75, 2325), radius 4650² / 1200 + 75 = 18093.75;
    the piece stays 2.5 clear of it.
    """
    (one,) = templates(gallery, "d1", paper=paper, from_back=True)
    laid = Laid(one, pdf_of([one]))
    panel = next(panel for panel in gallery.ceiling.panels if panel.id == "d1")
    grid = gallery.ceiling.layout.frame
    assert grid.angle_deg == 0.0
    left, bottom = grid.origin[0] + 600 * panel.cell[0], grid.origin[1] + 600 * panel.cell[1]
    centre, radius = (-17943.75 - left, 2325.0 - bottom), 18093.75 + 2.5
    missing, off = 0, []
    for y in np.linspace(8.0, 592.0, 120):
        turn = math.asin((y - centre[1]) / radius)
        out = (math.cos(turn), math.sin(turn))
        found = laid.line_off((centre[0] + radius * out[0], centre[1] + radius * out[1]), out)
        missing += found is None
        off += [] if found is None else [found]
    assert missing <= 4  # a trim line in red is painted over the cut where they cross
    assert max(map(abs, off)) <= 0.15  # one pixel, and half a one by which a page is laid aside


@pytest.mark.parametrize("paper", ["letter", "A4"])
def test_printed_pages_laid_together_give_a_notch_and_a_hole_back(paper: str) -> None:
    """A studio's column, 300 square at (3800, 2450), notches panels: the gap is 2.5 on every side of it.

    On the face the plan is mirrored in the module: x becomes 600 - x.
    """
    made = fixture("studio-l")
    grid = made.ceiling.layout.frame
    found = [
        each for each in templates(made, paper=paper) if any(side.name == "C1" for side in each.template.piece.sides)
    ]
    one = found[0]
    panel = next(panel for panel in made.ceiling.panels if panel.id == one.template.name)
    laid = Laid(one, pdf_of([one]))
    left, bottom = grid.origin[0] + 600 * panel.cell[0], grid.origin[1] + 600 * panel.cell[1]
    notch = (3800 - 2.5 - left, 2450 - 2.5 - bottom, 4100 + 2.5 - left, 2750 + 2.5 - bottom)
    checked = 0
    for x in notch[0::2]:
        if 10 < x < 590:
            low, high = max(notch[1], 4.0), min(notch[3], 596.0)
            for y in np.linspace(low + 8, high - 8, 20):
                off = laid.line_off((600 - x, y), (1.0, 0.0))
                assert off is None or abs(off) <= 0.1
                checked += off is not None
    assert checked >= 18  # of 20 on a side; where a trim line crosses the cut its red lies over it


def long_runs(picture: np.ndarray) -> list[float]:
    """Lengths of unbroken dark runs between 90 and 110 mm along the rows of a picture, neighbouring rows once."""
    found: list[float] = []
    before: set[int] = set()
    for row in picture < 128:
        edges = np.flatnonzero(np.diff(np.concatenate([[0], row.view(np.int8), [0]])))
        runs = {int(a): int(b - a) for a, b in zip(edges[::2], edges[1::2], strict=True) if 900 < b - a < 1100}
        found += [length / PIXELS for start, length in runs.items() if not any(abs(start - s) < 5 for s in before)]
        before = set(runs)
    return sorted(found)


@pytest.mark.parametrize("paper", ["letter", "A4"])
@pytest.mark.parametrize("by", [(1.0, 1.0), (100 / 99.4, 100 / 99.7)])
def test_bars_measure_true_along_both_sides_of_the_paper(gallery: Plan, paper: str, by: tuple[float, float]) -> None:
    """100 mm and 4 in = 101.6 mm; on a printer that makes 99.4 of 100 across, the file's bar is 100 / 0.994 = 100.6.

    A bar's end ticks are drawn on its ends, so half a pen (0.25 mm in all) is added; pixels are 0.1 mm.
    """
    (one,) = templates(gallery, "d1", paper=paper, stretch=by)
    pdf = pdf_of([one])
    for page in (0, len(one.sheets) - 1):
        picture = picture_of_pdf(pdf, page)
        lies = picture.shape[1] > picture.shape[0]
        across, up = (by[1], by[0]) if lies else by
        for runs, factor in ((long_runs(picture), across), (long_runs(picture.T), up)):
            for length in (100.0 * factor, 101.6 * factor):
                assert any(abs(run - 0.25 - length) <= 0.11 for run in runs), (page, runs, length)


def test_the_file_asks_not_to_be_scaled(gallery: Plan) -> None:
    import io

    import pikepdf

    with pikepdf.open(io.BytesIO(pdf_of(templates(gallery, "d1", paper="A4")))) as file:
        assert file.Root.ViewerPreferences.PrintScaling == "/None"
        sizes = {tuple(round(float(v) * 25.4 / 72, 1) for v in page.mediabox[2:]) for page in file.pages}
        assert sizes <= {(210.0, 297.0), (297.0, 210.0)}


def test_a_printers_fault_is_made_up_for_on_pages_that_lie_too(gallery: Plan) -> None:
    """What a printer does along the long side of its paper it does upwards on one page and across on another."""
    lines = shapely.LinearRing([(0, 0), (1000, 0), (1000, 100), (0, 100)])
    pages = pages_for(lines, template_paper("A4"), (1.01, 0.99))
    lies = pages.paper.width > pages.paper.height
    assert pages.by == ((0.99, 1.01) if lies else (1.01, 0.99))


def test_the_same_plan_gives_the_same_bytes(gallery: Plan) -> None:
    assert pdf_of(templates(gallery, "k1", "ad1")) == pdf_of(templates(gallery, "k1", "ad1"))


# --- paper ------------------------------------------------------------------------------------------------------------


def test_any_paper_that_a_printer_takes() -> None:
    assert (template_paper("Letter").width, template_paper("letter").height) == pytest.approx((215.9, 279.4))
    assert (template_paper("legal").width, template_paper("Legal").height) == pytest.approx((215.9, 355.6))
    assert (template_paper("24x36in").width, template_paper("914.4x609.6").width) == pytest.approx((609.6, 609.6))
    assert all(window_of(template_paper(name)).left == 19 for name in ("A4", "A0", "ANSI D", "arch e1"))


@pytest.mark.parametrize(
    "paper, told", [("100x150", "too little"), ("9x9x9", "no paper"), ("6000x200", "longer"), ("B9", "A4")]
)
def test_paper_that_cannot_be_is_refused(paper: str, told: str) -> None:
    with pytest.raises(PlannerError, match=told):
        template_paper(paper)


def test_pages_of_one_row_follow_a_bow() -> None:
    """A wall of 4 m that bows by 200: in one row, each page as high as the wall is there."""
    from planner.drawing.templates.tiles import strip_for

    points = [(x, 200 * (1 - (x / 2000) ** 2)) for x in range(-2000, 2001, 10)]
    lines = shapely.LineString(points)
    pages = strip_for(lines, template_paper("A4"))
    assert pages is not None and pages.tiling.rows == 1
    assert lines.difference(shown([tile.box for tile in pages.kept]).buffer(1e-6)).length == 0
    for a, b in pairwise(pages.tiling.tiles):
        assert a.box.right - b.box.left == pytest.approx(OVERLAP)
