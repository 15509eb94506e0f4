"""The sheet as a whole: nothing overlaps, nothing leaves the frame, everything the trade expects is there."""

import math
from pathlib import Path

import pytest
from drawing.hand_plans import (
    hand_plan,
    rectangle,
    room,
    round_column,
    service,
    square_column,
)
from drawing.whole_sheets import ceiling_plan, check, outside, overlapping
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.drawing import words
from planner.drawing.ceiling_plan import ceiling_sheets
from planner.drawing.labels import Heights, descent, text_boxes
from planner.drawing.roles import Role
from planner.drawing.schedules import start_sentence
from planner.drawing.shapes import Circle, Line, Sheet, Symbol, Text
from planner.drawing.sheets import draw
from planner.drawing.strings import surround
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.errors import PlannerError
from planner.findings import Finding
from planner.planning import Plan, plan
from planner.render.strokes import Glyphs, explode
from planner.room.reader import read_room

FIXTURES = [Path(__file__).parents[2] / "fixtures" / f"{name}.yaml" for name in ("kiln-room", "chapel-attic", "clinic")]
STYLES = ("iso-13567", "us-ncs", "site-bold")
ISO = load_style("iso-13567")

SERVICES = (
    service("L1", "troffer", (1770.0, 1575.0), (600.0, 1200.0)),
    service("SA1", "supply_diffuser", (2670.0, 1275.0), (600.0, 600.0)),
    service("H1", "sprinkler", (1170.0, 675.0), (50.0, 50.0), True),
    service("EX1", "exit_sign", (3900.0, 1575.0), (300.0, 80.0)),
)
FINDINGS = (
    Finding("warn", "tee", "common practice, no source", "Sprinkler H1 is close to a tee.", (1170.0, 675.0)),
    Finding("stop", "column", "common practice, no source", "Light L1 meets column C1.", (1770.0, 1575.0)),
)


def small_room(**more) -> Plan:
    made = room(rectangle(4140, 3150), columns=(square_column("C1", 3000, 2200, 200),), ceiling_height=2700.0)
    return hand_plan(made, services=SERVICES, findings=FINDINGS, **more)


@pytest.fixture(scope="module", params=FIXTURES, ids=lambda path: path.stem)
def fixture_plan(request) -> Plan:
    return plan(read_room(str(request.param)))


def test_the_check_can_fail():
    """Two letters on one spot, and one on the margin, are found."""
    sheet = ceiling_plan(small_room(), ISO, SheetWish())
    spoiled = (*sheet.shapes, Text(Role.NOTE, (100.0, 100.0), "one"), Text(Role.NOTE, (101.0, 101.0), "two"))
    assert ("two", "one") in overlapping(Sheet(sheet.key, sheet.title, sheet.paper, sheet.windows, spoiled), ISO)
    far = (*sheet.shapes, Text(Role.NOTE, (5.0, 5.0), "gone"))
    assert outside(Sheet(sheet.key, sheet.title, sheet.paper, sheet.windows, far), ISO) == ["gone"]


def test_the_boxes_are_where_the_letters_are_drawn(fixture_plan):
    """Every line of glyphs that the renderers draw begins at a corner of a box, and as many are drawn as boxed."""
    sheet = ceiling_plan(fixture_plan, ISO, SheetWish())
    boxes = text_boxes(sheet, ISO)
    drawn = [m for layer in explode(sheet, ISO) for p in layer.patches for m in p.marks if isinstance(m, Glyphs)]
    assert len(drawn) == len(boxes)
    for glyphs in drawn:
        nearest = min((box for box in boxes if box.text == glyphs.text), key=lambda box: _gap(box.ring, glyphs))
        assert _gap(nearest.ring, glyphs) < 0.05, glyphs.text


def _gap(ring, glyphs: Glyphs) -> float:
    """From the start of a line of glyphs, lowered by the descenders, to the first corner of a box."""
    x, y = glyphs.start
    drop, turn = descent(glyphs.text) * glyphs.height, math.radians(glyphs.angle_deg)
    return math.dist(ring[0], (x + drop * math.sin(turn), y - drop * math.cos(turn)))


corners = st.tuples(st.floats(900, 9000), st.floats(900, 9000), st.floats(0.2, 0.8), st.floats(0.2, 0.8))


@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(corners, st.sampled_from(("rectangle", "ell", "slanted")), st.sampled_from(STYLES[:2]), st.floats(0, 89))
def test_any_room_makes_a_clean_sheet(numbers, form, style, angle):
    width, depth, x, y = numbers
    outline = {
        "rectangle": rectangle(width, depth),
        "ell": ((0.0, 0.0), (width, 0.0), (width, y * depth), (x * width, y * depth), (x * width, depth), (0.0, depth)),
        "slanted": ((0.0, 0.0), (width, 0.0), (1.2 * width, y * depth), (x * width, depth), (-0.1 * width, y * depth)),
    }[form]
    lights = tuple(
        service(f"D{k}", "downlight", (width * k / 4, y * depth / 2), (150.0, 150.0), True) for k in range(1, 4)
    )
    turned = angle if form == "slanted" else 0.0
    chosen = load_style(style)
    check(ceiling_plan(hand_plan(room(outline), services=lights, angle=turned), chosen, SheetWish()), chosen)


def model(sheet: Sheet) -> tuple:
    return sheet.windows[0].drawing.shapes


def of_role(sheet: Sheet, role: Role) -> list:
    return [shape for shape in model(sheet) if shape.role == role]


def test_one_line_for_each_member_and_one_outline_for_the_room():
    made = small_room()
    sheet = ceiling_plan(made, ISO, SheetWish())
    for kind, role in (("main tee", Role.MAIN_TEE), ("cross tee", Role.CROSS_TEE), ("wall angle", Role.WALL_ANGLE)):
        members = [m for m in made.ceiling.members if m.kind == kind]
        lines = of_role(sheet, role)
        assert len(lines) == len(members)
        assert all(line.title.startswith(kind.capitalize()) for line in lines)
    assert [shape.points for shape in of_role(sheet, Role.WALL)] == [made.room.outline]


def test_plan_coordinates_are_not_mirrored():
    sheet = ceiling_plan(small_room(), ISO, SheetWish())
    a, b = sheet.windows[0].to_paper((0.0, 0.0)), sheet.windows[0].to_paper((1000.0, 0.0))
    scale = sheet.windows[0].drawing.scale
    assert b[0] - a[0] == pytest.approx(1000.0 / scale) and a[1] == b[1]


def test_every_plan_sheet_says_once_from_where_it_is_seen():
    """A mirror on the floor has the directions of the floor plan; "from below" alone would change left and right."""
    for sheet in draw(small_room(), ISO, SheetWish(sheets=("ceiling-plan", "framing", "set-out"))):
        said = " ".join(s.text for s in sheet.shapes if isinstance(s, Text))
        assert said.count(words.say("sheets.reflected")) == 1
        assert "from below" not in said


def test_cut_panels_are_tinted_edged_named_and_told_on_hover():
    made = small_room()
    sheet = ceiling_plan(made, ISO, SheetWish())
    cut = [p for p in made.ceiling.panels if not p.full_size]
    assert len(of_role(sheet, Role.CUT_SHADE)) == len(cut)
    assert len(of_role(sheet, Role.CUT_PANEL)) == len(made.ceiling.panels)
    assert "Panel a1, cut to 565 × 370" in {shape.title for shape in of_role(sheet, Role.CUT_PANEL)}
    marks = {text.text for text in of_role(sheet, Role.PANEL_MARK)}
    assert marks <= {p.id for p in cut} and len(marks) >= len(cut) - 2


def test_wall_angles_are_drawn_at_the_edge_of_their_ledge():
    """The ledge is 22 mm: the angle along the base wall shows from (22, 22) to (4118, 22)."""
    sheet = ceiling_plan(small_room(), ISO, SheetWish())
    ends = {(line.start, line.end) for line in of_role(sheet, Role.WALL_ANGLE)}
    assert ((22.0, 22.0), (4118.0, 22.0)) in ends


def test_services_are_symbols_with_their_data_and_a_visible_mark():
    sheet = ceiling_plan(small_room(), ISO, SheetWish())
    symbols = {dict(s.attributes)["MARK"]: s for s in model(sheet) if isinstance(s, Symbol)}
    assert set(symbols) == {"L1", "SA1", "H1", "EX1"}
    assert dict(symbols["L1"].attributes)["SIZE"] == "600 × 1200"
    assert symbols["L1"].at == (1770.0, 1575.0)
    assert {t.text for t in of_role(sheet, Role.SERVICE_MARK)} == set(symbols)
    assert {s.block for s in symbols.values()} <= {b.name for b in sheet.windows[0].drawing.blocks}


def test_corners_are_lettered_and_the_reference_corner_has_two_rings():
    sheet = ceiling_plan(small_room(), ISO, SheetWish())
    marks = of_role(sheet, Role.CORNER_MARK)
    assert {m.text for m in marks if isinstance(m, Text)} == set("ABCD")
    assert sum(isinstance(m, Circle) for m in marks) == 5
    assert sum(isinstance(m, Circle) and m.title == words.say("legend.reference corner") for m in marks) == 1


def test_findings_are_numbered_gravest_first_on_the_plan_and_in_the_list():
    sheet = ceiling_plan(small_room(), ISO, SheetWish())
    tags = {t.text: t.at for t in of_role(sheet, Role.FINDING) if isinstance(t, Text)}
    assert set(tags) == {"1", "2"}
    assert math.dist(tags["1"], (1770.0, 1575.0)) < math.dist(tags["1"], (1170.0, 675.0))
    said = " ".join(s.text for s in sheet.shapes if isinstance(s, Text))
    assert "STOP: Light L1 meets column C1." in said


def test_the_start_point_is_a_target_at_the_grid_crossing():
    made = small_room()
    sheet = ceiling_plan(made, ISO, SheetWish())
    target = of_role(sheet, Role.START_POINT)
    circle = next(s for s in target if isinstance(s, Circle))
    assert circle.centre == pytest.approx(made.ceiling.layout.frame.origin)
    assert words.say("legend.start") in [s.text for s in target if isinstance(s, Text)]


def test_the_start_point_is_told_from_the_walls_at_the_reference_corner():
    """Borders by the half-module rule: (3150 - 2400) / 2 = 375 from A-B, (4140 - 3000) / 2 = 570 from D-A."""
    assert start_sentence(small_room()) == "The grid starts at a crossing 375 mm from A-B and 570 mm from D-A."


def test_the_start_point_is_told_along_the_base_wall_where_the_corner_is_not_square():
    slanted = room(((0.0, 0.0), (6000.0, 0.0), (5500.0, 4000.0), (1000.0, 4000.0)))
    sentence = start_sentence(hand_plan(slanted, origin=(350.0, 500.0)))
    assert sentence == "The grid starts at a crossing 500 mm away from wall A-B and 350 mm past corner A along it."


def test_the_height_of_the_ceiling_is_tagged_only_when_it_is_known():
    shown = {s.text for s in model(ceiling_plan(small_room(), ISO, SheetWish())) if isinstance(s, Text)}
    assert "CH 2700" in shown
    bare = hand_plan(room(rectangle(4140, 3150)))
    shown = {s.text for s in model(ceiling_plan(bare, ISO, SheetWish())) if isinstance(s, Text)}
    assert not any(text.startswith("CH") for text in shown)


def test_columns_are_crossed_within_their_outline():
    made = hand_plan(room(rectangle(4140, 3150), columns=(round_column("P1", 2000, 1500, 300),)))
    lines = [s for s in of_role(ceiling_plan(made, ISO, SheetWish()), Role.COLUMN) if isinstance(s, Line)]
    assert len(lines) == 2
    assert all(math.dist(p, (2000, 1500)) <= 150.01 for line in lines for p in (line.start, line.end))


def test_the_scale_that_is_asked_for_is_used():
    sheet = ceiling_plan(small_room(), ISO, SheetWish(scale=75.0))
    assert sheet.windows[0].drawing.scale == 75.0
    assert "1:75 at A3" in {s.text for s in sheet.shapes if isinstance(s, Text)}


def test_feet_and_inches_have_their_scale_named_their_way():
    """13'-7" by 10'-4" on ledger paper."""
    made = hand_plan(room(rectangle(163 * 25.4, 124 * 25.4), units="ft-in"), (609.6, 609.6))
    drawing = ceiling_plan(made, load_style("us-ncs"), SheetWish(scale=48.0)).windows[0].drawing
    assert (drawing.unit, drawing.imperial_scale) == ("in", '1/4" = 1\'-0"')


def test_a_scale_that_takes_too_many_parts_names_a_scale_and_a_paper_that_do():
    """60 m by 48 m at 1:20 is 3000 by 2400 mm of paper: more than 60 times what the frame of A3 (390 by 277) leaves
    beside words and title block; A2 has twice as much, and at 1:50 the plan is 1200 by 960 mm.
    """
    hall = hand_plan(room(rectangle(60000, 48000)))
    with pytest.raises(PlannerError) as caught:
        ceiling_sheets(hall, ISO, SheetWish(scale=20.0))
    message = str(caught.value)
    assert "does not fit A3 at 1:20, not even in 60 parts" in message
    for asked, said in (
        (SheetWish(scale=50.0), "1:50 fits A3 in {n} parts"),
        (SheetWish(scale=20.0, paper="A2"), "A2 takes it at 1:20 in {n} parts"),
    ):
        _, *parts = ceiling_sheets(hall, ISO, asked)
        assert said.format(n=len(parts)) in message


def test_a_room_that_fits_no_paper_is_refused():
    far = hand_plan(room(rectangle(4_000_000, 1000)), module=(600_000.0, 600.0))
    with pytest.raises(PlannerError, match="does not fit A3"):
        ceiling_plan(far, ISO, SheetWish(scale=50.0))


def test_a_long_corridor_has_its_words_below_and_a_tall_one_beside():
    lying = ceiling_plan(hand_plan(room(rectangle(31000, 1950))), ISO, SheetWish())
    standing = ceiling_plan(hand_plan(room(rectangle(1950, 18000))), ISO, SheetWish())
    assert lying.windows[0].box.width == pytest.approx(lying.paper.frame.width)
    assert standing.windows[0].box.width < 0.7 * standing.paper.frame.width
    assert lying.windows[0].drawing.scale == 100.0


def test_ids_that_have_no_room_are_led_to_their_panels():
    """At 1:500 a panel of 600 is 1.2 mm wide: no id can be read in it."""
    sheet = ceiling_plan(small_room(), ISO, SheetWish(scale=500.0))
    marks = of_role(sheet, Role.PANEL_MARK)
    assert any(isinstance(s, Text) for s in marks)
    assert any(isinstance(s, Line) for s in marks)
    said = " ".join(s.text for s in sheet.shapes if isinstance(s, Text))
    assert "A mark with a leader" in said
    check(sheet, ISO)


def test_the_sheet_grows_with_lines_and_not_with_area():
    """60 m by 60 m has 10 000 modules: 99 lines each way, borders all round, and not one shape for a full panel."""
    made = hand_plan(room(rectangle(60150, 60150)))
    sheet = ceiling_sheets(made, ISO, SheetWish())[-1]
    assert made.ceiling.full_panels > 9000
    assert len(model(sheet)) < 4 * len(made.ceiling.panels) + len(made.ceiling.members) + 200


HOSTILE = ("%%c^J\\P{x}", "<script>alert(1)</script>", "x" * 300, "\u202e\u05d0\u05d1", "a\x00b\nc", "🙂", "")


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_names_are_drawn_safely(name):
    made = room(
        rectangle(4140, 3150),
        name=name,
        columns=(square_column(name, 3000, 2200, 200),),
        corner_names=(name, "B", "C", "D"),
        project=(("client", name), ("drawn_by", name), ("notes", name * 40)),
    )
    lights = (service(name, "downlight", (1170.0, 675.0), (150.0, 150.0), True),)
    found = (Finding("warn", name, name, f"Look at {name}.", (1170.0, 675.0)),)
    sheet = ceiling_plan(hand_plan(made, services=lights, findings=found), ISO, SheetWish(date=name))
    check(sheet, ISO)
    for shape in (*sheet.shapes, *model(sheet)):
        if isinstance(shape, Text):
            assert shape.text.isprintable()


def test_the_same_plan_makes_the_same_sheet():
    assert ceiling_plan(small_room(), ISO, SheetWish()) == ceiling_plan(small_room(), ISO, SheetWish())


def test_strings_that_have_no_room_are_left_out_and_said():
    """Twelve steps of 320 mm at 1:500 are 0.64 mm each: no twelve numbers fit there."""
    steps = [(0.0, 0.0), (9000.0, 0.0)]
    for k in range(12):
        steps += [(9000.0 - 320.0 * k, 3000.0 + 320.0 * k), (9000.0 - 320.0 * (k + 1), 3000.0 + 320.0 * k)]
    steps += [(5160.0, 8000.0), (0.0, 8000.0)]
    made = hand_plan(room(tuple(steps)))
    around = surround(made.room, made.ceiling.layout, Heights.of(ISO), 500.0)
    assert not around.complete
    sheet = ceiling_plan(made, ISO, SheetWish(scale=500.0))
    check(sheet, ISO)
    said = " ".join(s.text for s in sheet.shapes if isinstance(s, Text))
    assert "A dimension string had no room" in said
