"""Marks of members stand in a row, joints show beside hangers, extension lines are drawn once, legends tell apart."""

from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pytest
from drawing.hand_plans import hand_plan, rectangle, room, round_column, service, square_column
from drawing.whole_sheets import ceiling_plan, framing_plan, said
from shapely.geometry import LineString, Point, Polygon

from planner.ceiling.model import Hanger, Member, Piece
from planner.drawing import words
from planner.drawing.dimensions import Side
from planner.drawing.framing_plan import framing_sheets
from planner.drawing.hanger_symbols import HALF, SERVICE_HALF, WIDEST
from planner.drawing.labels import Heights, grown_ring, text_ring
from planner.drawing.legend import column_entries
from planner.drawing.lettering import text_width
from planner.drawing.papers import paper_for
from planner.drawing.profile import point_on, profile
from planner.drawing.roles import Role
from planner.drawing.setout_plan import setout_sheets
from planner.drawing.shapes import Circle, Dimension, Line, Outline, Text
from planner.drawing.sheet_frame import heading, zone_stops
from planner.drawing.splices import splice_ticks, splices
from planner.drawing.strings import surround
from planner.drawing.stylebook import load_style
from planner.drawing.symbols import look_of
from planner.drawing.wish import SheetWish
from planner.findings import Finding, placed
from planner.geometry import Box
from planner.planning import Plan, plan
from planner.render.dimensioning import draw_dimension
from planner.room.reader import read_room

STYLES = ("iso-13567", "us-ncs", "bs-1192", "site-bold")
ISO = load_style("iso-13567")
HEIGHTS = Heights.of(ISO)
FIXTURES = Path(__file__).parents[2] / "fixtures"
ELL = ((0.0, 0.0), (6000.0, 0.0), (6000.0, 2000.0), (4000.0, 2000.0), (4000.0, 4000.0), (0.0, 4000.0))


@pytest.fixture(scope="module", params=["studio-l", "clinic", "workshop-low"])
def made(request) -> Plan:
    return plan(read_room(str(FIXTURES / f"{request.param}.yaml")))


def marks(made: Plan) -> dict[str, Text]:
    (sheet,) = framing_sheets(made, ISO, SheetWish())
    shapes = sheet.windows[0].drawing.shapes
    return {s.text.split()[0]: s for s in shapes if isinstance(s, Text) and s.role == Role.MEMBER_MARK}


def test_runs_bear_lengths_all_or_none(made: Plan):
    runs = {member.id for member in made.ceiling.members if member.kind in ("main tee", "carrier")}
    lettered = [mark.text for name, mark in marks(made).items() if name in runs]
    assert len(lettered) == len(runs)
    assert len({" " in text for text in lettered}) == 1
    assert all("first" in text or text.count(" ") == 2 for text in lettered if " " in text)


def test_most_tees_that_begin_at_one_wall_are_lettered_in_one_row(made: Plan):
    """Of the tees that run up from the wall below, two in three at least have ids that begin at the same height."""
    up = [m for m in made.ceiling.members if m.kind == "cross tee" and m.start[0] == m.end[0] and m.start[1] < 1.0]
    (sheet,) = framing_sheets(made, ISO, SheetWish())
    tall = HEIGHTS[Role.MEMBER_MARK] * sheet.windows[0].drawing.scale
    rings = {name: text_ring(mark, tall) for name, mark in marks(made).items()}
    heights = [round(min(y for _, y in rings[member.id])) for member in up if member.id in rings]
    assert len(heights) > 3
    assert 3 * max(heights.count(height) for height in heights) >= 2 * len(heights)


def run(kind: str = "main tee") -> Member:
    """4000 long, of 2500 and 1500."""
    pieces = (Piece(kind, 2500.0, ("factory", "factory"), 1), Piece(kind, 1500.0, ("factory", "factory"), 1))
    return Member("M1", kind, (0.0, 600.0), (4000.0, 600.0), pieces, 2500.0)


def ticks(*hangers: Hanger) -> tuple[Line, ...]:
    made = hand_plan(room(rectangle(4000, 3000)))
    return splices(replace(made.ceiling, members=(run(),), hangers=hangers), 50.0)


def test_a_joint_under_a_hanger_is_ticked_beside_its_sign():
    """At 1:50 the ring of a hanger is 1.3 × 0.9 × 50 = 58.5 mm about its wire."""
    assert len(ticks()) == 1
    assert len(ticks(Hanger("H1", (2700.0, 600.0), "M1", "wire"))) == 1
    two = ticks(Hanger("H1", (2520.0, 600.0), "M1", "wire"))
    assert len(two) == 2
    for tick in two:
        assert tick.start[0] == tick.end[0] == 2500.0
        assert min(abs(tick.start[1] - 600.0), abs(tick.end[1] - 600.0)) > WIDEST * HALF * 50.0


def test_joints_of_cover_strips_are_ticked_on_one_side():
    (tick,) = splice_ticks(run("cover strip"), 50.0)
    assert {tick.start, tick.end} == {(2500.0, 520.0), (2500.0, 600.0)}
    assert list(splice_ticks(run("cross tee"), 50.0)) == []


def test_the_sign_of_a_services_wire_holds_that_of_a_hanger():
    """A diamond of half width w touches a circle of radius w / sqrt(2)."""
    assert SERVICE_HALF / 2**0.5 > WIDEST * HALF


def test_where_a_wall_is_square_to_a_side_the_extension_line_begins_at_its_outer_end():
    spans = profile(ELL, "top")
    assert point_on(spans, "top", 4000.0) == (4000.0, 4000.0)
    assert point_on(spans, "top", 5000.0) == (5000.0, 2000.0)


@pytest.mark.parametrize("side", ["left", "right", "top", "bottom"])
def test_no_extension_line_is_drawn_twice(side: Side):
    """Of the lines from the points of dimensions to their own lines no two lie on each other."""
    made = hand_plan(room(ELL))
    shapes = surround(made.room, made.ceiling.layout, HEIGHTS, 50.0).shapes
    across = 1 if side in ("top", "bottom") else 0
    lines = set()
    for shape in (s for s in shapes if isinstance(s, Dimension) and s.angle_deg == (0.0 if across else 90.0)):
        for point in (shape.start, shape.end):
            low, high = sorted((point[across], shape.line_at[across]))
            lines.add((point[1 - across], low, high))
    for (at, low, high), (other, below, above) in combinations(lines, 2):
        assert at != other or min(high, above) <= max(low, below)


@pytest.mark.parametrize("name", STYLES)
def test_lines_of_a_grid_are_told_apart_in_every_style(name: str):
    style = load_style(name)
    roles = (Role.MAIN_TEE, Role.CROSS_TEE, Role.WALL_ANGLE, Role.COVER_STRIP, Role.JOIST)
    looks = [(style.layer(role).colour, style.layer(role).pen, style.layer(role).dash) for role in roles]
    assert len(set(looks)) == len(looks)


def test_a_drilled_panel_is_tinted_and_told():
    made = plan(read_room(str(FIXTURES / "clinic.yaml")))
    sheet = ceiling_plan(made, ISO, SheetWish())
    tints = [s for s in sheet.windows[0].drawing.shapes if isinstance(s, Outline) and s.role == Role.CUT_SHADE]
    assert len(tints) == len(made.ceiling.panels)
    assert "Panel that is cut or drilled" in said(sheet)


def test_the_legend_shows_round_and_angular_columns_as_there_are():
    both = (round_column("P1", 1000.0, 1000.0, 100.0), square_column("K1", 2000.0, 1000.0, 300.0))
    for columns, signs in (((), []), (both[:1], [Circle]), (both[1:], [Outline]), (both, [Outline, Circle])):
        made = hand_plan(room(rectangle(4000, 3000), columns=columns))
        assert [type(entry.shapes[0]) for entry in column_entries(made, 1.5)] == signs


def test_a_wire_that_stands_at_another_service_bears_the_name_of_its_own():
    """The wire of S1 stands 50 mm from the edge of L1, at 1:50 a millimetre; that of L1 far from S1."""
    lights = (service("L1", "troffer", (1200.0, 1200.0), (600.0, 600.0)),)
    given = (*lights, service("S1", "supply_diffuser", (1800.0, 1200.0), (600.0, 600.0)))
    made = hand_plan(room(rectangle(4000, 3000)), services=given)
    wires = (Hanger("H1", (1550.0, 1500.0), "S1", "service wire"), Hanger("H2", (950.0, 900.0), "L1", "service wire"))
    hung = replace(made, ceiling=replace(made.ceiling, hangers=wires))
    shapes = framing_plan(hung, ISO, SheetWish()).windows[0].drawing.shapes
    named = [s.text for s in shapes if isinstance(s, Text) and s.role == Role.MEMBER_MARK]
    assert "S1" in named and "L1" not in named


def test_chains_are_explained_where_walls_slant():
    slanting = ((0.0, 0.0), (4000.0, 0.0), (4060.0, 3000.0), (0.0, 3000.0))
    assert "Chains of dimensions" in said(ceiling_plan(hand_plan(room(slanting)), ISO, SheetWish()))
    assert "Chains of dimensions" not in said(ceiling_plan(hand_plan(room(ELL)), ISO, SheetWish()))


@pytest.mark.parametrize("name", ["attic-office", "studio-l", "workshop-t"])
def test_no_line_of_a_dimension_shows_in_the_circle_of_a_corner(name: str):
    """Either none meets it, or lines are left out below it: within 0.1 mm of the circle's own edge."""
    given = plan(read_room(str(FIXTURES / f"{name}.yaml")))
    drawing = ceiling_plan(given, ISO, SheetWish()).windows[0].drawing
    strings = [s for s in drawing.shapes if isinstance(s, Dimension)]
    segments = [part for s in strings for part in draw_dimension(s, HEIGHTS[s.role], drawing.scale).segments]
    circles = [s for s in drawing.shapes if isinstance(s, Circle) and s.role == Role.CORNER_MARK]
    letters = {s.at: s for s in drawing.shapes if isinstance(s, Text) and s.role == Role.CORNER_MARK}
    assert len(circles) > len(given.room.corner_names)
    for circle in circles:
        text = letters[circle.centre]
        disc = Point(circle.centre).buffer(circle.radius - 0.1 * drawing.scale)
        blank = Polygon(grown_ring(text, HEIGHTS[text.role] * drawing.scale, text.mask * drawing.scale))
        for segment in segments:
            shown = LineString(segment).intersection(disc)
            assert shown.is_empty or (text.mask and shown.difference(blank).length < 1.1 * drawing.scale), text.text


def test_the_line_to_a_finding_runs_along_no_line():
    """L6 of the clinic, whose tube is drawn as a lying line through its middle, where the finding points to."""
    given = plan(read_room(str(FIXTURES / "clinic.yaml")))
    (light,) = [each for each in given.ceiling.services if each.name == "L6"]
    shapes = ceiling_plan(given, ISO, SheetWish()).windows[0].drawing.shapes
    (line,) = [s for s in shapes if isinstance(s, Line) and s.role == Role.FINDING and s.start == light.at]
    assert abs(line.end[1] - line.start[1]) > 100.0


def test_a_short_string_bears_the_id_of_its_run():
    """The string of M1 in the foyer is 1965 mm and crossed in its middle: no room for "string: main M1"."""
    given = plan(read_room(str(FIXTURES / "foyer-diagonal.yaml")))
    (sheet,) = setout_sheets(given, ISO, SheetWish())
    shapes = sheet.windows[0].drawing.shapes
    assert "M1" in [s.text for s in shapes if isinstance(s, Text) and s.role == Role.STRING_LINE]


def test_fields_of_an_american_frame_meet_at_the_centring_marks():
    paper = paper_for(load_style("us-ncs"), SheetWish())
    for axis, size in ((0, paper.width), (1, paper.height)):
        stops = zone_stops(paper, axis)
        assert len(stops) % 2 == 1
        assert stops[len(stops) // 2] == pytest.approx(size / 2)


def test_the_note_below_a_heading_leaves_no_word_alone():
    """150 mm hold all but the last word of the note: then the first line gives more away."""
    note = " ".join(["As a mirror on the floor shows the ceiling"] * 3) + " plan."
    width = text_width(note, HEIGHTS[Role.NOTE]) - 1.0 + 2 * 5.0
    shapes = heading(Box(0.0, 0.0, width, 200.0), "Set-out", "", note, HEIGHTS)
    lines = [s.text for s in shapes if isinstance(s, Text) and s.role == Role.NOTE and s.text]
    assert len(lines) == 2
    assert len(lines[1].split()) > 3


def test_words_beside_a_plan_take_no_more_of_the_paper_than_they_need():
    """Three short lists stand beside the set-out of the kiln room: a column of them is enough, a half sheet is not."""
    given = plan(read_room(str(FIXTURES / "kiln-room.yaml")))
    (sheet,) = setout_sheets(given, load_style("us-ncs"), SheetWish())
    assert sheet.windows[0].box.width > 0.7 * sheet.paper.frame.width


def told_about(*spots: tuple[float, float]) -> Finding:
    return placed(Finding("warn", "row", "common practice, no source", "Look at these."), spots)


def finding_dots(made: Plan) -> list[Circle]:
    shapes = ceiling_plan(made, ISO, SheetWish()).windows[0].drawing.shapes
    return [s for s in shapes if isinstance(s, Circle) and s.role == Role.FINDING and s.fill]


@pytest.mark.parametrize(
    ("spots", "dots"),
    [
        (((500.0, 1000.0), (1500.0, 1500.0), (2500.0, 1000.0)), 1),  # 500 apart across the row, less than a module
        (((500.0, 400.0), (1500.0, 1500.0), (2500.0, 1000.0)), 3),  # 1100 apart: no row either way
        (((500.0, 1000.0), (2500.0, 1000.0)), 2),  # two are no row
    ],
)
def test_one_number_leads_to_a_row_and_to_its_first(spots: tuple[tuple[float, float], ...], dots: int):
    """Modules of 600."""
    found = finding_dots(hand_plan(room(rectangle(4140, 3150)), findings=(told_about(*spots),)))
    assert len(found) == dots
    assert found[0].centre == spots[0]


@pytest.mark.parametrize(
    ("kind", "size"), [("sprinkler", (50.0, 50.0)), ("smoke_detector", (100.0, 100.0)), ("exit_sign", (300.0, 80.0))]
)
def test_the_dot_of_a_finding_stands_beside_a_small_symbol(kind: str, size: tuple[float, float]):
    """It touches the symbol, and no more of it lies within than a hundredth of a millimetre of paper."""
    at = (1500.0, 1200.0)
    small = service("X1", kind, at, size, kind != "exit_sign")
    made = hand_plan(room(rectangle(4140, 3150)), services=(small,), findings=(told_about(at),))
    scale = ceiling_plan(made, ISO, SheetWish()).windows[0].drawing.scale
    x, y = look_of(small, scale).half
    sign = LineString([(at[0] - x, at[1]), (at[0] + x, at[1])]).buffer(y, cap_style="flat")
    if kind != "exit_sign":
        sign = Point(at).buffer(x, 64)
    (dot,) = finding_dots(made)
    off = sign.distance(Point(dot.centre)) - dot.radius
    assert -0.01 * scale < off < 0.3 * scale


def test_the_height_of_the_ceiling_is_told_on_whole_panels():
    """Wall to wall 4140 by 3150 has whole panels in its middle, but one there is drilled: the box keeps off it."""
    made = hand_plan(room(rectangle(4140, 3150), ceiling_height=2700.0))
    (box,) = height_boxes(made)
    middle = box.centroid
    drilled = square_column("K1", middle.x - 50.0, middle.y - 250.0, 100.0)
    made = hand_plan(room(rectangle(4140, 3150), ceiling_height=2700.0, columns=(drilled,)))
    (box,) = height_boxes(made)
    assert made.ceiling.panels
    assert not any(box.intersects(Polygon(panel.outline)) for panel in made.ceiling.panels)


def height_boxes(made: Plan) -> list[Polygon]:
    shapes = ceiling_plan(made, ISO, SheetWish()).windows[0].drawing.shapes
    said_of = words.say("legend.height tag meaning")
    return [Polygon(s.points) for s in shapes if isinstance(s, Outline) and s.title == said_of]
