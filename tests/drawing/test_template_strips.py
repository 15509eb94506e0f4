"""Strips along a wall: its whole border at full size, and its set-out marks on a story pole."""

import math
from itertools import pairwise
from pathlib import Path

import pypdfium2
import pytest
import shapely
from drawing.template_rooms import METRIC, fixture, room, style_of
from drawing.whole_sheets import outside

from planner.drawing.labels import box_ring
from planner.drawing.lettering import clean
from planner.drawing.roles import Role
from planner.drawing.shapes import Line, Sheet, Text
from planner.drawing.templates.border_strip import strip_of, strip_sheets, wall_named
from planner.drawing.templates.order import ordered
from planner.drawing.templates.paper import template_paper
from planner.drawing.templates.sheets import TemplateWish, job_of
from planner.drawing.templates.story_pole import TALL, pole_sheets
from planner.drawing.templates.tiles import OVERLAP
from planner.drawing.wish import SheetWish
from planner.errors import PlannerError
from planner.geometry import distance
from planner.planning import Plan
from planner.render.pdf import write_pdf


@pytest.fixture(scope="module")
def gallery() -> Plan:
    return fixture("gallery-bowed")


# --- borders ----------------------------------------------------------------------------------------------------------


def test_a_strip_has_every_panel_along_the_wall_in_its_order(gallery: Plan) -> None:
    """Face up the row lies the other way round than on the plan, which shows the backs.

    Wall D-A runs from the back to the front, so on the plan, seen along the wall with the room ahead, q1 at corner D is
    first; face up it is last.
    """
    wall = wall_named(gallery, "D-A", "--wall")
    back, face = (strip_of(gallery, wall, from_back=side) for side in (True, False))
    names = [each.piece.panel for each in back.pieces]
    assert names[0] == "q1" and names[-1] == "a1" and len(names) == 9
    assert [each.piece.panel for each in face.pieces] == names[::-1]


def test_edges_along_the_tees_are_what_the_bow_leaves(gallery: Plan) -> None:
    """Along a tee the edge runs from the far corner to the cut, 2.5 off the circle of the wall.

    Wall D-A: centre (-17943.75, 2325), radius 18093.75. Tees stand every 600 from the grid's origin; a panel's edge is
    2.5 beside the line, and its far corner 2.5 before the next line.
    """
    centre, radius = (-17943.75, 2325.0), 18093.75 + 2.5
    grid = gallery.ceiling.layout.frame
    panels = {panel.id: panel for panel in gallery.ceiling.panels}
    strip = strip_of(gallery, wall_named(gallery, "D-A", "--wall"), from_back=True)
    checked = 0
    for each in strip.pieces:
        i, j = panels[each.piece.panel].cell
        far = grid.origin[0] + 600 * (i + 1) - 2.5
        # with the room ahead and D at the left the left edge of a panel is its back edge
        for tee, line in ((each.before, 600 * (j + 1) - 2.5), (each.after, 600 * j + 2.5)):
            if tee is not None:
                y = grid.origin[1] + line
                at = centre[0] + math.sqrt(radius**2 - (y - centre[1]) ** 2)
                assert distance(tee.points[0], tee.points[-1]) == pytest.approx(far - at, abs=0.05)
                checked += 1
    assert checked == 16


def test_tee_lines_run_midway_between_panels_and_past_the_cut(gallery: Plan) -> None:
    """Nine panels, eight tees between them; each line is 2.5 from the edges beside it."""
    strip = strip_of(gallery, wall_named(gallery, "D-A", "--wall"), from_back=False)
    assert len(strip.tees) == 8
    for (left, right), (start, end) in zip(pairwise(strip.pieces), sorted(strip.tees), strict=True):
        assert left.after is not None and right.before is not None
        line = shapely.LineString([start, end])
        for side in (left.after, right.before):
            assert shapely.LineString(side.points).distance(line) == pytest.approx(2.5, abs=0.02)
        cut = shapely.LineString(left.side.points).union(shapely.LineString(right.side.points))
        assert min(point[1] for point in (start, end)) < shapely.intersection(cut, line.buffer(3.0)).bounds[1]


@pytest.mark.parametrize("name, wall", [("gallery-bowed", "C-D"), ("gallery-bowed", "D-A"), ("garage-quad", "B-C")])
def test_the_pages_of_a_strip_show_all_of_the_cut(name: str, wall: str) -> None:
    made = fixture(name)
    strip = strip_of(made, wall_named(made, wall, "--wall"), from_back=False)
    job = job_of(made, style_of(made), TemplateWish())
    pages, sheets = strip_sheets(made, strip, template_paper("A4"), job, from_back=False)
    cut = shapely.union_all([shapely.LineString(each.side.points) for each in strip.pieces])
    shown = shapely.union_all([shapely.Polygon(box_ring(tile.box)) for tile in pages.kept])
    assert cut.difference(shown.buffer(1e-6)).length == 0
    assert pages.tiling.rows == 1 and len(sheets) >= len(pages.kept) + 1


def test_a_wall_that_whole_panels_meet_has_no_border(tmp_path: object) -> None:
    made = fixture("kiln-room")
    with pytest.raises(PlannerError, match=r'no wall "Q-R"') as refused:
        wall_named(made, "Q-R", "--wall")
    assert "A-B" in refused.value.mend
    assert wall_named(made, "b-a", "--wall").name == "A-B"


# --- story poles ------------------------------------------------------------------------------------------------------


def marks_of(sheets: tuple[Sheet, ...], role: Role) -> set[float]:
    """Where lines of a role stand across the whole height of a pole."""
    return {
        round(shape.start[0], 3)
        for sheet in sheets
        for window in sheet.windows
        for shape in window.drawing.shapes
        if isinstance(shape, Line) and shape.role is role and {shape.start[1], shape.end[1]} == {0.0, TALL}
    }


def test_a_pole_reads_as_one_faces_the_wall(gallery: Plan) -> None:
    """Wall B-C, 4650 long, mains at 306, 1506, 2706 and 3906 from B.

    Walls are walked with the room on the left; turned to face the wall one has walked from right to left, so B is at
    the right and lengths grow to the left.
    """
    job = job_of(gallery, METRIC, TemplateWish())
    sheets = pole_sheets(gallery, wall_named(gallery, "B-C", "--story-pole"), template_paper("A4"), job)
    assert marks_of(sheets, Role.SET_OUT) == {-306.0, -1506.0, -2706.0, -3906.0}
    assert marks_of(sheets, Role.TEMPLATE_CUT) == {0.0, -4650.0}
    words = [s.text for sheet in sheets for w in sheet.windows for s in w.drawing.shapes if isinstance(s, Text)]
    assert {"corner B", "corner C", "main M1", "main M4", "1506"} <= set(words)


def test_the_strips_of_a_pole_go_on_where_the_last_one_ends(gallery: Plan) -> None:
    """From the first corner, at the right, to the last, each sharing 10 mm with the next; true along the wall."""
    wall = wall_named(gallery, "D-A", "--story-pole")
    sheets = pole_sheets(gallery, wall, template_paper("letter"), job_of(gallery, METRIC, TemplateWish()))
    spans = [
        (window.centre[0] - window.box.width / 2, window.centre[0] + window.box.width / 2)
        for sheet in sheets
        for window in sheet.windows
    ]
    assert spans[0][1] > 0 and spans[-1][0] < -wall.length
    assert all(before[0] + OVERLAP == pytest.approx(after[1]) for before, after in pairwise(spans))
    assert wall.length == pytest.approx(2 * 18093.75 * math.asin(4650 / 2 / 18093.75))  # along the bow, as a tape lies


def test_a_pole_is_stretched_for_the_printer_along_the_strip(gallery: Plan) -> None:
    job = job_of(gallery, METRIC, TemplateWish(stretch=(1.01, 1.0)))
    sheets = pole_sheets(gallery, wall_named(gallery, "B-C", "--story-pole"), template_paper("A4"), job)
    lies = sheets[0].paper.width > sheets[0].paper.height
    assert max(abs(x) for x in marks_of(sheets, Role.SET_OUT)) == pytest.approx(
        3906 * (1.0 if lies else 1.01), abs=0.001
    )


def test_in_the_rooms_own_language(gallery: Plan) -> None:
    wish = TemplateWish(panels=("q1",), walls=("D-A",), poles=("B-C",))
    found = ordered(gallery, METRIC, SheetWish(language="es"), wish)
    titles = [each.sheets[0].title for each in found]
    assert titles[0].startswith("Plantilla q1") and all(each.sheets[0].language == "es" for each in found)


# --- names ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "name", ["</title><script>", "{x} {0!r}", "W" * 300, "a-b-c", "\u202e\u05d7\u05d3", "\U0001f600"]
)
def test_names_that_mean_harm_stay_names(name: str, tmp_path: Path) -> None:
    """As a room's, a corner's, a column's and a service's; all that is lettered can be drawn and stays on its page."""
    quoted = "'" + name + "'"
    made = room(
        tmp_path,
        f"""
job: {quoted}
units: mm
room:
  corners: [{quoted}, B, C, D]
  tape: {{B-C: 3150, C-D: 4140, B-D: 5202}}
  columns: [{{name: {quoted}, at: [2000, 1500], diameter: 200}}]
services: [{{name: {quoted}, kind: downlight, diameter: 120, near: [1000, 1000]}}]
""",
    )
    first, last = wall_named(made, f"{name}-B", "--wall"), wall_named(made, f"B-{name}", "--wall")
    assert first == last
    wish = TemplateWish(walls=(f"{name}-B",), poles=("B-C", f"D-{name}"), everything=True)
    found = ordered(made, METRIC, SheetWish(), wish)
    sheets = [sheet for each in found for sheet in each.sheets]
    for sheet in sheets:
        texts = [s for s in sheet.shapes if isinstance(s, Text)]
        texts += [s for window in sheet.windows for s in window.drawing.shapes if isinstance(s, Text)]
        assert all(text.text.isprintable() and text.text == clean(text.text) for text in texts)
        assert not outside(Sheet(sheet.key, sheet.title, sheet.paper, (), sheet.shapes), METRIC)
    assert len(pypdfium2.PdfDocument(write_pdf(sheets, METRIC, title=name))) == len(sheets)
