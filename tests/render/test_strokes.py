"""A sheet exploded to strokes: where things land on the paper, on which layer, in which order."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from render.rendered import ROOM, at_paper, rectangle, sheet_of

from planner.drawing.lettering import text_width
from planner.drawing.roles import Role
from planner.drawing.shapes import Arc, Block, Circle, Dimension, Line, Outline, Symbol, Text
from planner.drawing.stylebook import Layer, Style, load_style
from planner.render.strokes import Area, Glyphs, Mark, Round, Stroke, explode

STYLE = load_style("iso-13567")


def marks(sheet, role, style=STYLE) -> list[Mark]:
    wanted = style.layer(role).name
    layers = [found for found in explode(sheet, style) if found.layer.name == wanted]
    return [mark for layer in layers for patch in layer.patches for mark in patch.marks]


def near(point):
    return pytest.approx(point, abs=1e-9)


def test_a_metre_at_1_to_50_is_20_mm_on_paper():
    (stroke,) = marks(sheet_of(Line(Role.MAIN_TEE, (1000.0, 2500.0), (2000.0, 2500.0))), Role.MAIN_TEE)
    # 100 + 1000 / 50 = 120 and 80 + 2500 / 50 = 130
    assert stroke == Stroke(((120.0, 130.0), (140.0, 130.0)))


def test_an_outline_with_a_hole_is_two_closed_strokes_or_one_area():
    hole = rectangle(1000.0, 1000.0, 2000.0, 2000.0)
    outline = replace(ROOM, holes=(hole,))
    assert [mark.closed for mark in marks(sheet_of(outline), Role.WALL)] == [True, True]
    (area,) = marks(sheet_of(replace(outline, fill=True)), Role.WALL)
    assert isinstance(area, Area)
    assert area.rings[1] == ((120.0, 100.0), (140.0, 100.0), (140.0, 120.0), (120.0, 120.0))
    assert area.title == "The room"


def test_circles_stay_circles():
    stroked, filled = marks(
        sheet_of(
            Circle(Role.SPRINKLER, (500.0, 500.0), 100.0), Circle(Role.SPRINKLER, (500.0, 500.0), 25.0, fill=True)
        ),
        Role.SPRINKLER,
    )
    assert stroked == Round((110.0, 90.0), 2.0)
    assert filled == Round((110.0, 90.0), 0.5, fill=True)


def test_an_arc_runs_counter_clockwise_and_stays_an_arc():
    """A half circle of radius 500 at 1:50 is 10 mm on paper; its bulge is tan(180° / 4) = 1."""
    (stroke,) = marks(sheet_of(Arc(Role.DETECTOR, (0.0, 0.0), 500.0, 270.0, 90.0, "Bow")), Role.DETECTOR)
    centre = at_paper(0.0, 0.0)
    assert stroke.points == (near((centre[0], centre[1] - 10.0)), near((centre[0], centre[1] + 10.0)))
    assert stroke.bulges == (near(1.0),)  # positive: from below to above by the right-hand side
    assert (stroke.closed, stroke.title) == (False, "Bow")


def test_an_arc_of_more_than_a_half_circle_is_two():
    """270° in two halves of 135°, each tan(135° / 4); a full turn in two half circles."""
    (stroke,) = marks(sheet_of(Arc(Role.DETECTOR, (0.0, 0.0), 500.0, 0.0, 270.0)), Role.DETECTOR)
    assert stroke.bulges == near((math.tan(math.radians(135.0 / 4)),) * 2)
    (full,) = marks(sheet_of(Arc(Role.DETECTOR, (0.0, 0.0), 500.0, 30.0, 30.0)), Role.DETECTOR)
    assert full.bulges == near((1.0, 1.0))
    assert full.points[0] == near(full.points[2])


BOWED = replace(ROOM, bulges=(0.0, 0.25, 0.0, -0.1), holes=(rectangle(1000.0, 1000.0, 2000.0, 2000.0),))


def test_an_outline_keeps_its_bows_and_its_holes_stay_straight():
    edge, hole = marks(sheet_of(BOWED), Role.WALL)
    assert (edge.bulges, edge.closed, hole.bulges) == ((0.0, 0.25, 0.0, -0.1), True, ())


def test_the_edge_of_a_fill_leaves_its_arcs_by_less_than_five_thousandths_of_a_millimetre():
    """The wall from (8000, 0) to (8000, 5000) rises 0.25 * 5000 / 2 = 625 mm, 12.5 mm on paper at (272.5, 130)."""
    (area,) = marks(sheet_of(replace(BOWED, fill=True)), Role.WALL)
    edge, hole = area.rings
    assert len(hole) == 4
    assert max(x for x, _ in edge) == near(at_paper(8625.0, 2500.0)[0])
    radius = 5000.0 * (1 + 0.25**2) / (4 * 0.25)
    centre = at_paper(8625.0 - radius, 2500.0)
    bow = [p for p in edge if p[0] >= at_paper(8000.0, 0.0)[0] - 1e-9]
    assert len(bow) > 10
    for a, b in pairwise(bow):
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        assert 0.0 <= radius / 50 - math.dist(middle, centre) <= 0.005


def test_bulges_must_be_as_many_as_edges_and_finite():
    with pytest.raises(ValueError, match="4 edges but 1 bulges"):
        replace(ROOM, bulges=(0.1,))
    with pytest.raises(ValueError, match="inf"):
        replace(ROOM, bulges=(0.1, 0.0, 0.0, math.inf))


@pytest.mark.parametrize(("vertical", "drop"), [("base", 0.0), ("middle", 1.25), ("top", 2.5)])
def test_letters_hang_by_their_capitals(vertical, drop):
    """Capitals are 2.5 mm tall, so their middle is 1.25 mm and their top 2.5 mm above the baseline."""
    (glyphs,) = marks(sheet_of(Text(Role.SERVICE_MARK, (0.0, 0.0), "L1", vertical=vertical)), Role.SERVICE_MARK)
    assert isinstance(glyphs, Glyphs)
    assert glyphs.at == near((100.0, 80.0 - drop))
    assert glyphs.height == 2.5


def test_turned_letters_hang_sideways():
    text = Text(Role.SERVICE_MARK, (0.0, 0.0), "L1", vertical="top", angle_deg=90.0)
    (glyphs,) = marks(sheet_of(text), Role.SERVICE_MARK)
    assert glyphs.at == near((102.5, 80.0))  # upwards is to the left, so the baseline lies to the right


@pytest.mark.parametrize(("horizontal", "part"), [("left", 0.0), ("centre", 0.5), ("right", 1.0)])
def test_letters_start_where_their_width_says(horizontal, part):
    (glyphs,) = marks(sheet_of(Text(Role.SERVICE_MARK, (0.0, 0.0), "L12", horizontal)), Role.SERVICE_MARK)
    assert glyphs.start == near((100.0 - part * text_width("L12", 2.5), 80.0))


def test_a_symbol_is_turned_moved_and_carries_its_title_to_every_stroke():
    block = Block("LIGHT", (Line(Role.LIGHT, (0.0, 0.0), (600.0, 0.0)), Line(Role.WALL, (0.0, 0.0), (0.0, 300.0))))
    symbol = Symbol(Role.LIGHT, "LIGHT", (1000.0, 0.0), 90.0, title="Light L1")
    sheet = sheet_of(symbol, blocks=(block,))
    (along,) = marks(sheet, Role.LIGHT)
    assert along.points == (near((120.0, 80.0)), near((120.0, 92.0)))  # 600 / 50 = 12 mm, now upwards
    assert along.title == "Light L1"
    assert len(marks(sheet, Role.WALL)) == 1  # shapes in a block keep their own role


def test_a_block_may_hold_another_but_not_itself():
    inner = Block("IN", (Line(Role.LIGHT, (0.0, 0.0), (100.0, 0.0)),))
    outer = Block("OUT", (Symbol(Role.LIGHT, "IN", (500.0, 0.0)),))
    (stroke,) = marks(sheet_of(Symbol(Role.LIGHT, "OUT", (0.0, 0.0)), blocks=(inner, outer)), Role.LIGHT)
    assert stroke.points[0] == near((110.0, 80.0))
    looped = Block("OUT", (Symbol(Role.LIGHT, "OUT", (500.0, 0.0)),))
    with pytest.raises(ValueError, match="holds itself"):
        explode(sheet_of(Symbol(Role.LIGHT, "OUT", (0.0, 0.0)), blocks=(looped,)), STYLE)
    with pytest.raises(ValueError, match="no block 'OUT'"):
        explode(sheet_of(Symbol(Role.LIGHT, "OUT", (0.0, 0.0))), STYLE)


def test_layers_are_painted_in_the_order_in_which_they_first_appear():
    tint = Outline(Role.CUT_SHADE, rectangle(0.0, 0.0, 600.0, 600.0), fill=True)
    tee = Line(Role.MAIN_TEE, (0.0, 0.0), (600.0, 0.0))
    order = [found.layer.name for found in explode(sheet_of(tint, ROOM, tee, tint), STYLE)]
    assert order == [STYLE.layer(role).name for role in (Role.CUT_SHADE, Role.WALL, Role.MAIN_TEE)]


def test_a_layer_that_does_not_plot_is_left_out():
    layers = (Layer("SEEN", "#000000", 7, 0.25), Layer("UNSEEN", "#000000", 7, 0.25, plots=False))
    roles = tuple((role, replace(STYLE.role(role), layer="UNSEEN" if role == Role.WALL else "SEEN")) for role in Role)
    style = Style("own", "", "A3", layers, roles)
    sheet = sheet_of(ROOM, Line(Role.MAIN_TEE, (0.0, 0.0), (1.0, 0.0)))
    assert [found.layer.name for found in explode(sheet, style)] == ["SEEN"]


# --- dimensions -------------------------------------------------------------------------------------------------------

WIDE = Dimension(Role.DIMENSION, (0.0, 0.0), (8000.0, 0.0), (0.0, -500.0), 0.0, "8000")


def strokes_and_letters(dimension):
    found = marks(sheet_of(dimension), Role.DIMENSION)
    return [mark.points for mark in found if isinstance(mark, Stroke)], [m for m in found if isinstance(m, Glyphs)]


def test_a_dimension_is_a_line_two_extension_lines_and_two_ticks_with_text_above():
    """8000 / 50 = 160 mm long, 500 / 50 = 10 mm below the room: extension lines 1.6 mm off, 3.2 mm beyond."""
    (line, left, right, *ticks), (letters,) = strokes_and_letters(WIDE)
    assert line == (near((100.0, 70.0)), near((260.0, 70.0)))
    assert left == (near((100.0, 78.4)), near((100.0, 66.8)))
    assert right == (near((260.0, 78.4)), near((260.0, 66.8)))
    half = 1.6 / math.sqrt(2)  # 3.2 mm long at 45 degrees
    assert ticks[0] == (near((100.0 - half, 70.0 - half)), near((100.0 + half, 70.0 + half)))
    assert letters.at == near((180.0, 71.0))  # in the middle, 1 mm above the line
    assert (letters.text, letters.horizontal, letters.angle_deg) == ("8000", "centre", 0.0)


@pytest.mark.parametrize(
    ("angle", "reads"),
    [(0.0, 0.0), (90.0, 90.0), (180.0, 0.0), (270.0, 90.0), (-90.0, 90.0), (45.0, 45.0), (135.0, -45.0)],
)
def test_dimension_text_reads_from_below_or_from_the_right(angle, reads):
    end = (8000.0 * math.cos(math.radians(angle)), 8000.0 * math.sin(math.radians(angle)))
    _, (letters,) = strokes_and_letters(Dimension(Role.DIMENSION, (0.0, 0.0), end, (0.0, 0.0), angle, "8000"))
    assert letters.angle_deg == pytest.approx(reads)


@pytest.mark.parametrize(("start", "end", "outward"), [(0.0, 100.0, 1), (100.0, 0.0, -1)])
def test_text_without_room_stands_beyond_the_end_on_a_line_drawn_out_to_it(start, end, outward):
    """100 / 50 = 2 mm between the extension lines; "100" is some 6 mm wide."""
    shape = Dimension(Role.DIMENSION, (start, 0.0), (end, 0.0), (0.0, -500.0), 0.0, "100")
    (line, *_), (letters,) = strokes_and_letters(shape)
    width = text_width("100", 2.5)
    last = 100.0 + end / 50.0
    # half a tick and a millimetre clear of the end
    assert letters.at[0] == pytest.approx(last + outward * (2.6 + width / 2))
    assert line[1][0] == pytest.approx(last + outward * (2.6 + width))


def test_a_dimension_measures_along_its_own_direction_not_between_its_points():
    """A wall that leans 1000 over 8000 measured square to the base is 8000 long, its line level."""
    (line, *_), _ = strokes_and_letters(
        Dimension(Role.DIMENSION, (0.0, 0.0), (8000.0, 1000.0), (0.0, -500.0), 0.0, "8000")
    )
    assert line == (near((100.0, 70.0)), near((260.0, 70.0)))


def test_letters_go_where_they_are_told():
    shape = replace(WIDE, text_at=(1000.0, -800.0), text_angle_deg=90.0)
    (line, *_), (letters,) = strokes_and_letters(shape)
    assert line[1] == near((260.0, 70.0))  # not drawn out
    # (1000, -800) is (120, 64) on paper and the middle of the capitals: upright letters have their foot to the right
    assert letters.at == near((121.25, 64.0))
    assert letters.angle_deg == 90.0


def test_a_dimension_line_through_its_points_has_no_extension_lines():
    strokes, _ = strokes_and_letters(replace(WIDE, line_at=(0.0, 0.0)))
    assert len(strokes) == 3  # the line and two ticks


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_a_shape_refuses_numbers_that_no_file_can_hold(bad):
    with pytest.raises(ValueError, match="a shape holds"):
        Line(Role.WALL, (0.0, bad), (1.0, 1.0))
    with pytest.raises(ValueError, match="a shape holds"):
        Outline(Role.WALL, rectangle(0.0, 0.0, 1.0, 1.0), holes=(((0.0, 0.0), (bad, 0.0), (0.0, 1.0)),))
