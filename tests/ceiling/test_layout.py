"""Where the grid falls: published examples, wishes of the room file, and rooms worked out by hand."""

import math
from dataclasses import replace

import pytest

from planner.ceiling.layout import lay_out
from planner.ceiling.ledge import hides_at_most
from planner.ceiling.model import Layout
from planner.ceiling.system import MainTee, System, Tee
from planner.errors import PlannerError
from planner.geometry import Frame, Point
from planner.room.brief import GridWish
from planner.room.outline import Column, Room, Units

INCH = 25.4


def system(*modules: tuple[float, float], imperial: bool = False) -> System:
    undersize = 6.35 if imperial else 5.0
    main, angle = MainTee("main tee", 3600.0), Tee("wall angle", 3000.0)
    return System("test-grid", "", imperial, "hung", modules, undersize, 24.0, 22.0, main, (), angle, ())


METRIC = system((600.0, 600.0), (600.0, 1200.0))


def room(*points: Point, units: Units = "mm", columns: tuple[Column, ...] = ()) -> Room:
    corners = tuple((float(x), float(y)) for x, y in points)
    return Room("room", units, corners, tuple("ABCDEFGHJKLM"[: len(corners)]), columns)


def rectangle(wide: float, deep: float, units: Units = "mm", columns: tuple[Column, ...] = ()) -> Room:
    return room((0, 0), (wide, 0), (wide, deep), (0, deep), units=units, columns=columns)


def pier(x: float, y: float, wide: float, deep: float) -> Column:
    ring = ((x, y), (x + wide, y), (x + wide, y + deep), (x, y + deep))
    return Column("C1", ring, (x + wide / 2, y + deep / 2))


def borders(layout: Layout) -> dict[str, tuple[float, float]]:
    return {border.wall: (border.least, border.most) for border in layout.borders}


def inches(wide: float, deep: float, module: float, **wish: object) -> Layout:
    """Lay out a rectangle in inches with square modules."""
    grid = GridWish("test-grid", **wish)  # type: ignore[arg-type]
    return lay_out(
        rectangle(wide * INCH, deep * INCH, "in"), grid, system((module * INCH, module * INCH), imperial=True)
    )


def along(layout: Layout, module: float) -> tuple[float, int, float]:
    """Border left, whole modules between, border right; inches."""
    cuts = borders(layout)
    left, right = cuts["D-A"][0] / INCH, cuts["B-C"][0] / INCH
    columns = {panel.cell[0] for panel in layout.cut_panels}
    for run in layout.full_runs:
        columns |= set(range(run.first, run.last + 1))
    return left, len(columns) - (left < module) - (right < module), right


@pytest.mark.parametrize(
    ("source", "length", "module", "border", "full"),
    [
        ("CV-05 and E1, NAVEDTRA 14044 pp. 5-16, 7-23: 13 ft 7 in room", 163, 24, 21.5, 5),
        ("CV-05 and E1, NAVEDTRA 14044 pp. 5-16, 7-23: 10 ft 4 in room", 124, 24, 14.0, 4),
        (
            "CV-06 first line, 48 in main rule of a do-it-yourself article: first main 38 in from the wall",
            124,
            48,
            38.0,
            1,
        ),
        (
            "CV-10 and E2, do-it-yourself article on furring: 9 ft 8 in, 12 in tile; published 10 in and 8",
            116,
            12,
            10.0,
            8,
        ),
        ("CV-11 and E3, same article: 12 ft 4 in; published count 11, the width is a misprint", 148, 12, 8.0, 11),
        ("CV-12 and E4, lumber-yard sheet: 10 ft 6 in, 12 in tile; published 9 in", 126, 12, 9.0, 9),
        ("E5, how-to article of 2011: 13 ft, 4 ft panels; published 30 in", 156, 48, 30.0, 2),
        ("CV-14, how-to article of 2012: 15 ft 6 in; by the rule 21 in, published naively 9 in", 186, 24, 21.0, 6),
        ("CV-27, 17 ft room of an article of 2011, by the rule", 204, 24, 18.0, 7),
        ("CV-28, 176 in floor of a parquet article, by the rule", 176, 12, 10.0, 13),
        ("CV-31, a quarter inch over five modules", 120.25, 24, 12.125, 4),
    ],
)
def test_published_rooms_get_the_half_module_border(
    source: str, length: float, module: float, border: float, full: int
) -> None:
    """The half-tile rule of NAVEDTRA 14044 p. 7-23: border = (what is over + one module) / 2 at both ends."""
    left, whole, right = along(inches(length, 10 * module, module), module)
    assert (left, right) == (pytest.approx(border, abs=1e-6), pytest.approx(border, abs=1e-6)), source
    assert whole == full, source


def test_the_navy_room_takes_seven_by_six_panels() -> None:
    """CV-04, NAVEDTRA 14044 p. 5-16: 163 x 124 in at 24 in counts as 14 x 12 ft, 7 x 6 = 42 panels; 5 x 4 are whole."""
    layout = inches(163, 124, 24)
    assert layout.full_panels == 5 * 4
    assert len(layout.cut_panels) == 42 - 20
    assert layout.smallest_cut == pytest.approx(14 * INCH)
    assert layout.proven


@pytest.mark.parametrize("room_", [rectangle(120 * INCH, 120 * INCH), rectangle(3000, 3000)])
def test_a_room_of_whole_modules_is_not_cut(room_: Room) -> None:
    """CV-30, lumber-yard sheet: exact feet need no border cut; 120 in = 5 x 24 in, 3000 mm = 5 x 600 mm."""
    module = room_.box.width / 5
    layout = lay_out(room_, GridWish("test-grid"), system((module, module)))
    assert layout.full_panels == 25
    assert layout.cut_panels == ()
    assert layout.smallest_cut is None
    assert layout.frame.origin == (0.0, 0.0)
    assert "nothing is cut" in layout.rule


def test_the_published_count_of_eighty_tiles() -> None:
    """E11, article on glued 500 mm tiles: a room of 4.7 x 3.8 m takes 10 x 8 = 80 tiles in all."""
    layout = lay_out(rectangle(4700, 3800), GridWish("test-grid"), system((500.0, 500.0)))
    assert layout.full_panels + len(layout.cut_panels) == 80


def test_the_rule_is_said_with_the_numbers() -> None:
    assert inches(163, 124, 24).rule == (
        'Borders 21 1/2" left and right, 14" front and back: equal and as wide as possible (half-module rule); '
        "no cut under half a module."
    )


def test_the_naive_layout_can_be_asked_for() -> None:
    """CV-14, how-to article of 2012: 186 in at 24 in with 9 in borders and 7 whole modules, 9 + 7 x 24 + 9 = 186."""
    layout = inches(186, 240, 24, borders=(("left", 9 * INCH), ("right", 9 * INCH)))
    assert along(layout, 24) == (pytest.approx(9), 7, pytest.approx(9))
    assert "as asked for" in layout.rule


def test_published_borders_that_do_not_close_are_refused() -> None:
    """CV-27, article of 2011: 17 ft = 204 in with 9 in borders; with 8 modules of 24 in it makes 210, 6 in too much."""
    with pytest.raises(PlannerError, match=r'204": 6" over'):
        inches(204, 240, 24, borders=(("left", 9 * INCH), ("right", 9 * INCH)))


def test_a_border_fixes_its_own_axis_only() -> None:
    """A line on the front wall: 4000 = 6 x 600 + 400 at the back; 5000 stays balanced at (200 + 600) / 2 = 400."""
    layout = lay_out(rectangle(5000, 4000), GridWish("test-grid", borders=(("front", "full"),)), METRIC)
    assert borders(layout) == {"A-B": (600, 600), "B-C": (400, 400), "C-D": (400, 400), "D-A": (400, 400)}


def test_a_right_border_is_measured_from_the_right_wall() -> None:
    """350 from the right wall leaves 5000 - 350 = 4650 = 7 x 600 + 450."""
    layout = lay_out(rectangle(5000, 4000), GridWish("test-grid", borders=(("right", 350.0),)), METRIC)
    assert borders(layout)["B-C"] == (350, 350)
    assert borders(layout)["D-A"] == (450, 450)


@pytest.mark.parametrize("width", [0.0, -50.0, 700.0])
def test_a_border_wider_than_a_module_or_nothing_is_refused(width: float) -> None:
    with pytest.raises(PlannerError, match="borders › left"):
        lay_out(rectangle(5000, 4000), GridWish("test-grid", borders=(("left", width),)), METRIC)


def test_a_panel_is_centred_where_asked() -> None:
    """A panel centred on (1000, 900) has lines at 700 and 600: 100 and 0 from the walls."""
    layout = lay_out(rectangle(5000, 4000), GridWish("test-grid", centre_on=(1000.0, 900.0)), METRIC)
    assert borders(layout)["D-A"] == (100, 100)
    assert borders(layout)["A-B"] == (600, 600)


def test_a_border_and_a_centre_that_disagree_are_refused() -> None:
    """A panel centred on x = 1000 has a line at 100; a border of 250 has it at 250, 150 away."""
    wish = GridWish("test-grid", borders=(("left", 250.0),), centre_on=(1000.0, 900.0))
    with pytest.raises(PlannerError, match="150 mm"):
        lay_out(rectangle(5000, 4000), wish, METRIC)


def test_an_unknown_module_names_what_there_is() -> None:
    with pytest.raises(PlannerError, match=r"600 mm x 600 mm, 600 mm x 1200 mm"):
        lay_out(rectangle(5000, 4000), GridWish("test-grid", module=(625.0, 625.0)), METRIC)


def test_a_module_may_lie_either_way_round() -> None:
    """1200 along: 5000 = 4 x 1200 + 200, border (200 + 1200) / 2 = 700; 600 away: (400 + 600) / 2 = 500."""
    layout = lay_out(rectangle(5000, 4000), GridWish("test-grid", module=(1200.0, 600.0)), METRIC)
    assert borders(layout)["D-A"] == (700, 700)
    assert borders(layout)["A-B"] == (500, 500)


def test_an_unknown_wall_names_the_walls() -> None:
    with pytest.raises(PlannerError, match="A-B, B-C, C-D, D-A"):
        lay_out(rectangle(5000, 4000), GridWish("test-grid", align="A-C"), METRIC)


@pytest.mark.parametrize("wall", ["B-C", "C-B", "D-A", "A-B"])
def test_walls_square_to_the_base_wall_do_not_turn_the_grid(wall: str) -> None:
    layout = lay_out(rectangle(5000, 4000), GridWish("test-grid", module=(1200.0, 600.0), align=wall), METRIC)
    assert layout.frame.angle_deg == 0.0
    assert layout.module == (1200.0, 600.0)


@pytest.mark.parametrize("angle", [7.0, 30.0, 45.0, -20.0, 90.0, 180.0])
def test_a_turned_room_is_cut_like_the_room_itself(angle: float) -> None:
    """The same L-shape turned about its first corner and laid parallel to a wall: the same borders, to 1/80 mm."""
    shape = [(0, 0), (7000, 0), (7000, 3000), (4000, 3000), (4000, 5000), (0, 5000)]
    turned = [Frame(angle_deg=angle).outward(point) for point in shape]
    straight = lay_out(room(*shape), GridWish("test-grid"), METRIC)
    for align in (None, "A-B", "C-D"):
        layout = lay_out(room(*turned), GridWish("test-grid", align=align), METRIC)
        for border, known in zip(layout.borders, straight.borders, strict=True):
            assert border.least == pytest.approx(known.least, abs=0.0125)
            assert border.most == pytest.approx(known.most, abs=0.0125)
        assert layout.full_panels == straight.full_panels
        assert [p.id for p in layout.cut_panels] == [p.id for p in straight.cut_panels]
        assert math.remainder(layout.frame.angle_deg - angle, 360) == pytest.approx(0)


def test_an_angle_is_counted_from_the_base_wall() -> None:
    turned = [Frame(angle_deg=10.0).outward(point) for point in [(0, 0), (5000, 0), (5000, 4000), (0, 4000)]]
    assert lay_out(room(*turned), GridWish("test-grid", align=20.0), METRIC).frame.angle_deg == pytest.approx(30.0)


def test_a_grid_along_a_slanted_wall_has_one_cut_along_it() -> None:
    """B-C runs 3 along and 4 away: the grid turns by 53.13 - 90 = -36.87 degrees, as little as it can."""
    layout = lay_out(room((0, 0), (5000, 0), (8000, 4000), (0, 4000)), GridWish("test-grid", align="B-C"), METRIC)
    assert layout.frame.angle_deg == pytest.approx(math.degrees(math.atan2(4, 3)) - 90)
    least, most = borders(layout)["B-C"]
    assert least == pytest.approx(most, abs=0.02)


def test_a_niche_narrower_than_a_module_takes_one_panel_across() -> None:
    """A niche 450 wide and 1000 deep behind a room of 4100: no line falls in it if its walls can be had whole.

    4100 = 6 x 600 + 500, balanced (500 + 600) / 2 = 550, lines at 550 + 600 k. The niche lies from 1150 to 1600 between
    the lines at 1150 and 1750.
    """
    niche = [(1600, 3000), (1600, 4000), (1150, 4000), (1150, 3000)]
    layout = lay_out(room((0, 0), (4100, 0), (4100, 3000), *niche, (0, 3000)), GridWish("test-grid"), METRIC)
    assert borders(layout)["D-E"] == (450, 450)
    assert borders(layout)["F-G"] == (450, 450)
    in_niche = [panel for panel in layout.cut_panels if min(y for _, y in panel.outline) >= 3000 - 1e-6]
    assert {panel.opening[0] for panel in in_niche} == {450.0}


def test_a_closet_narrower_than_a_module_takes_one_row() -> None:
    layout = lay_out(rectangle(450, 2000), GridWish("test-grid"), METRIC)
    assert {panel.cell[0] for panel in layout.cut_panels} == {layout.cut_panels[0].cell[0]}
    assert borders(layout)["D-A"] == borders(layout)["B-C"] == (450, 450)
    assert "one panel of 450 mm from left to right" in layout.rule


def test_a_column_is_kept_clear_of_slivers() -> None:
    """Walls alone want 400 at both ends, lines at 400 + 600 k, one at 2800: 50 before the column at 2850.

    With a line x from the left wall (200 < x < 600) the cuts are x and 800 - x at the walls, both 294 and more from 294
    to 506. Before the column it is 2850 - x - 600 k: 450 - x up to 450, a sliver from 306 on; after it, at 3150,
    x - 150, a sliver up to 294. So 294 to 306 and 450 to 506 are left. x = 450 gives the widest, but then a tee runs
    along the face: 7 behind it, as a tape tells 6, is x = 457, and 457 and 343 are left.
    """
    layout = lay_out(rectangle(5000, 4000, columns=(pier(2850, 1800, 300, 300),)), GridWish("test-grid"), METRIC)
    assert borders(layout)["D-A"] == (457, 457)
    assert borders(layout)["B-C"] == (343, 343)
    assert "no wall cut under half a module" in layout.rule


def test_a_panel_of_half_width_beside_a_column_is_nothing_to_avoid() -> None:
    """A column at 2650 to 2950: lines at 400 + 600 k leave 250 before it and 450 after it; 400 and 400 stay."""
    layout = lay_out(rectangle(5000, 4000, columns=(pier(2650, 1800, 300, 300),)), GridWish("test-grid"), METRIC)
    assert borders(layout)["D-A"] == borders(layout)["B-C"] == (400, 400)


def test_columns_do_not_cost_a_wall_half_a_module() -> None:
    """62350 = 103 x 600 + 550: 294 and more at both ends is x = 544 to 600 left and 1150 - x (or 550 - x + 600) right.

    Before a column at 475 + 600 k, and after it as it is 600 wide, lines leave 1075 - x, 475 to 531, and x - 475, 69 to
    125: a sliver in all of these places, so it changes nothing, though x from 20 to 330 would have none.
    """
    column = pier(16 * 600 + 475, 1800, 600, 600)
    layout = lay_out(rectangle(62_350, 4000, columns=(column,)), GridWish("test-grid"), METRIC)
    assert borders(layout)["D-A"] == borders(layout)["B-C"] == (575, 575)


@pytest.mark.parametrize(("side", "left"), [(150.0, 400.0), (151.0, 457.0)])
def test_a_pipe_is_a_hole_in_a_panel(side: float, left: float) -> None:
    """A quarter of a module wide, a pipe at 2850 moves nothing, 50 before it or not; anything wider counts.

    A column of 151 has a sliver before it from x = 306 up to 450 and after it, at 3001 = 5 x 600 + 1, up to x = 145.
    On its face, at 450, no tee should run: it is 7 behind it.
    """
    layout = lay_out(rectangle(5000, 4000, columns=(pier(2850, 1800, side, side),)), GridWish("test-grid"), METRIC)
    assert borders(layout)["D-A"] == (left, left)


def test_a_tape_does_not_decide_between_half_a_module_and_a_hair_less() -> None:
    """An L as it was taped: B-C, 3.4 m long, leans in by 6 mm and F-A, 5.5 m, by 3.

    With a line x from A the cuts are x - 3 to x at F-A, 596 - x to 602 - x at B-C and 500 - x at D-E, 2.1 m long. Half
    a module at both long walls is 303 <= x <= 296: never, to the millimetre, and x = 200 would be had for less wall. To
    6 mm it is 297 to 302, and x = 297 gives D-E the most, 203. So it is on a ledge of 14 mm, which hides nothing: 14
    less 5 of undersize less 3/8 in.
    """
    shape = [(0, 0), (6002, 0), (5996, 3401), (3500, 3401), (3500, 5500), (3, 5500)]
    layout = lay_out(room(*shape), GridWish("test-grid"), replace(METRIC, ledge=14.0))
    assert borders(layout)["F-A"] == pytest.approx((294, 297), abs=0.05)
    assert borders(layout)["B-C"] == pytest.approx((299, 305), abs=0.05)
    assert borders(layout)["D-E"] == pytest.approx((203, 203), abs=0.05)


def test_what_the_ledge_hides_beside_a_leaning_wall_is_no_cut() -> None:
    """The same L on a ledge wide enough to hide 6 mm: a line across B-C leaves nothing to cut beyond it.

    Across B-C it is at x = 596 to 602 from A, or an end of it. Then F-A has x - 3 to x, 593 at the least, B-C whole
    modules less what it leans in before the line, and D-E 1100 - x: 504 to 498. The widest smallest cut is that of D-E,
    so x = 596: the line touches B-C at C.
    """
    shape = [(0, 0), (6002, 0), (5996, 3401), (3500, 3401), (3500, 5500), (3, 5500)]
    layout = lay_out(room(*shape), GridWish("test-grid"), METRIC)
    assert hides_at_most(METRIC) >= 6
    assert borders(layout)["F-A"] == pytest.approx((593, 596), abs=0.05)
    assert borders(layout)["B-C"] == pytest.approx((600, 600), abs=0.05)
    assert borders(layout)["D-E"] == pytest.approx((504, 504), abs=0.05)


def test_nothing_is_hidden_where_a_line_goes_on_beside_the_wall() -> None:
    """B-C leans in by 6 mm from C at 6000 to B at 5994, and past C the room goes on: there a tee must stand on it.

    An L with its foot in front: A (0, 0), B (5994, 0) and C (6000, 3000), from where it is 1 m wider.
    """
    shape = [(0, 0), (5994, 0), (6000, 3000), (7000, 3000), (7000, 4200), (0, 4200)]
    layout = lay_out(room(*shape), GridWish("test-grid", borders=(("left", 598.0),)), METRIC)
    assert borders(layout)["B-C"] == pytest.approx((0, 600), abs=0.05)
    other = [(0, 0), (5994, 0), (6000, 3000), (0, 3000)]
    layout = lay_out(room(*other), GridWish("test-grid", borders=(("left", 598.0),)), METRIC)
    assert borders(layout)["B-C"] == pytest.approx((596, 600), abs=0.05)


@pytest.mark.parametrize(
    ("left", "said"),
    [
        (300.0, "no cut under half a module"),
        (294.0, "no wall cut more than 6 mm under half a module"),
        (293.0, "4000 mm of wall is cut under half a module, none under a quarter"),
    ],
)
def test_a_wall_a_hair_under_half_a_module_is_told_as_it_is(left: float, said: str) -> None:
    """5000 x 4000 with a border asked for at the left; at the right 5000 - 4200 - left, 500 and more."""
    layout = lay_out(rectangle(5000, 4000), GridWish("test-grid", borders=(("left", left),)), METRIC)
    assert said in layout.rule


def test_a_straight_wall_decides_over_an_apse() -> None:
    """Behind a front wall an apse of radius 1500 around (1500, 4000), 45 degrees and more of it facing back.

    That part of it runs from 5060.7 to 5500: 439 deep, more than half a module, so the front wall comes first: p of
    294 to 600. A line at 4800 + p then crosses the apse, and cuts short 3000 x (asin((y1 - 4000) / 1500) -
    asin((y0 - 4000) / 1500)) of it up to 294, and 144, behind the line. From y0 = 5094 (p = 294) that is
    3000 x (1.1820 - 0.8173) = 1094 and 3000 x (0.9708 - 0.8173) = 460, 1554 in all and the least; half a module more,
    1854, is had up to y0 = 5164.8: 3000 x (1.3360 - 0.8890) + 3000 x (1.0603 - 0.8890) = 1341 + 514. So p = 364.8.
    """
    bow = [(1500 + 1500 * math.cos(k * math.pi / 180), 4000 + 1500 * math.sin(k * math.pi / 180)) for k in range(181)]
    apse = Room("apse", "mm", ((0.0, 0.0), (3000.0, 0.0), *bow), tuple(f"P{k}" for k in range(183)))
    layout = lay_out(apse, GridWish("test-grid"), METRIC)
    assert layout.borders[0].least == pytest.approx(364.8, abs=1.0)


@pytest.mark.parametrize(("at", "left"), [(2800.0, 352.0), (2750.0, 400.0), (2790.0, 438.0), (2810.0, 362.0)])
def test_lines_keep_clear_of_a_pipe_and_its_ring(at: float, left: float) -> None:
    """Walls alone want 400 at both ends, and a line at 2800; a pipe of 22 stands at `at`.

    Half a flange of 24 and 25 for a ring keep lines 11 + 12 + 25 = 48 from its middle: at 2750 there is no need to
    move. At 2800 borders of 352 and 448 or of 448 and 352 are as good, and the pipe has 537 beside it either way: the
    first place is taken. At 2790 and at 2810 it is the nearer way out.
    """
    pipe = Column("P", pier(at - 11, 1989, 22, 22).outline, (at, 2000.0))
    layout = lay_out(rectangle(5000, 4000, columns=(pipe,)), GridWish("test-grid"), METRIC)
    assert borders(layout)["D-A"] == (left, left)
    assert borders(layout)["B-C"] == (800 - left, 800 - left)


def test_a_pipe_never_costs_half_a_module() -> None:
    """5400 is 9 x 600, or 300 and 8 x 600 and 300: a pipe at 2700 = 300 + 4 x 600 has a line in it, one at 2400 not.

    Of whole modules, which are wider, lines stand at 2400; a line 48 beside it is 252, less than 294, from one wall.
    At 2400 the lines at 300 + 600 k are clear, and keep half a module at both walls.
    """
    for at, left in ((2400.0, 300.0), (2700.0, 600.0)):
        pipe = Column("P", pier(at - 11, 1989, 22, 22).outline, (at, 2000.0))
        layout = lay_out(rectangle(5400, 4000, columns=(pipe,)), GridWish("test-grid"), METRIC)
        assert borders(layout)["D-A"] == borders(layout)["B-C"] == (left, left)
    both = tuple(Column("P", pier(at - 11, 1989, 22, 22).outline, (at, 2000.0)) for at in (2400.0, 2700.0))
    layout = lay_out(rectangle(5400, 4000, columns=both), GridWish("test-grid"), METRIC)
    assert borders(layout)["D-A"] == borders(layout)["B-C"] == (600, 600)


def test_the_face_of_a_column_is_worth_two_inches_and_no_whole_panels() -> None:
    """4800 x 4000, whole modules left and right; lines at 2400 run along the face of a column at 2400.

    Off it they would leave 593 and 7 at the walls, or 300 at both: they stay. In 5000 they go from 400 to 393 or 407.
    """
    layout = lay_out(rectangle(4800, 4000, columns=(pier(2400, 1800, 300, 300),)), GridWish("test-grid"), METRIC)
    assert borders(layout)["D-A"] == borders(layout)["B-C"] == (600, 600)
    layout = lay_out(rectangle(5000, 4000, columns=(pier(2800, 1800, 300, 300),)), GridWish("test-grid"), METRIC)
    assert borders(layout)["D-A"] == (407, 407)


def test_a_column_against_a_wall_bars_no_line_along_that_wall() -> None:
    """A chase of 600 stands against the back wall at 3600, its front at 3300, its sides at 1500 and 2100.

    The face that lies on the wall faces nobody: lines on the wall leave whole modules there.
    """
    layout = lay_out(rectangle(5000, 3600, columns=(pier(1500, 3300, 600, 300),)), GridWish("test-grid"), METRIC)
    assert borders(layout)["A-B"] == borders(layout)["C-D"] == (600, 600)


def test_a_column_close_to_a_wall_does_not_speak_for_the_whole_wall() -> None:
    """350 between the left wall and a column at 350 to 510 holds no line from 350 on: 350 there, whatever else.

    The rest of the wall still wants a wide cut, and the borders stay equal at (200 + 600) / 2 = 400.
    """
    layout = lay_out(rectangle(5000, 4000, columns=(pier(350, 1800, 160, 60),)), GridWish("test-grid"), METRIC)
    assert borders(layout)["D-A"] == borders(layout)["B-C"] == (400, 400)


def test_a_room_a_little_out_of_square_is_laid_like_a_square_one() -> None:
    """The back wall falls by 6 mm and the right wall leans by 4: borders stay within those of 5000 x 4000."""
    layout = lay_out(room((0, 0), (5000, 0), (5004, 3994), (0, 4000)), GridWish("test-grid"), METRIC)
    assert borders(layout)["D-A"][0] == pytest.approx(400, abs=4)
    assert borders(layout)["A-B"][0] == pytest.approx(500, abs=6)
    assert borders(layout)["B-C"][1] - borders(layout)["B-C"][0] == pytest.approx(4)


@pytest.mark.parametrize("noise", [0.02, -0.02, 1e-9, -1e-9])
def test_noise_in_a_drawing_does_not_cut_a_room_of_whole_modules(noise: float) -> None:
    """5 x 600 and 4 x 600, the right wall out by a few hundredths of a millimetre and leaning by as much."""
    shape = room((0, 0), (3000 + noise, 0), (3000 + 2 * noise, 2400 - noise), (0, 2400))
    layout = lay_out(shape, GridWish("test-grid"), METRIC)
    assert layout.full_panels == 20
    assert layout.cut_panels == ()


def test_one_wall_that_must_be_cut_to_nothing_does_not_decide_for_the_others() -> None:
    """C-D leans by 3000 over 4000, so lines cross it everywhere; A-B and E-A still get the widest cuts.

    Away from the base wall 4000 = 6 x 600 + 400 gives (400 + 600) / 2 = 500 at both.
    """
    layout = lay_out(room((0, 0), (8000, 0), (5000, 4000), (0, 4000)), GridWish("test-grid"), METRIC)
    assert borders(layout)["A-B"] == borders(layout)["C-D"] == (500, 500)
    assert borders(layout)["B-C"] == (0, 600)


def test_opposite_borders_are_equal_when_a_column_leaves_a_choice() -> None:
    """A column's two sides face lines at any place alike, so the walls decide and stay equal: 400 and 400."""
    layout = lay_out(rectangle(5000, 4000, columns=(pier(2200, 1700, 600, 600),)), GridWish("test-grid"), METRIC)
    assert borders(layout)["D-A"] == borders(layout)["B-C"]


@pytest.mark.parametrize(("service", "line"), [(600.0, 300.0), (900.0, 0.0)])
def test_fixed_services_break_a_tie(service: float, line: float) -> None:
    """Both ends of the room are points of 45 degrees, each wall a module deep: every place cuts them alike.

    Only equal borders are left to wish for: from -600 to 3600 that is a line at 0 or at 300. A service at 600 is in the
    middle of a panel with the second, one at 900 with the first.
    """
    arrow = room((0, 0), (3000, 0), (3600, 600), (3000, 1200), (0, 1200), (-600, 600))
    layout = lay_out(arrow, GridWish("test-grid"), METRIC, centred=((service, 500.0),))
    assert layout.frame.origin[0] % 600 == line


def test_fewest_panels_may_cut_short_but_makes_no_slivers() -> None:
    """5000 x 3800 with a bay of 3000 x 1200: along 5000 = 8 x 600 + 200 needs 9 columns however it lies.

    Away, 3800 = 6 x 600 + 200 and the bay's 1200 = 2 x 600: with a line on the bay's shoulder the bay takes two whole
    rows and the rest 7, which no other place does better.
    """
    shape = [(0, 0), (5000, 0), (5000, 3800), (3000, 3800), (3000, 5000), (0, 5000)]
    widest = lay_out(room(*shape), GridWish("test-grid"), METRIC)
    fewest = lay_out(room(*shape), GridWish("test-grid", prefer="fewest_panels"), METRIC)
    count = fewest.full_panels + len(fewest.cut_panels)
    assert count == min(panels_at(room(*shape), x, y) for x in range(0, 600, 100) for y in range(0, 600, 50))
    assert count < widest.full_panels + len(widest.cut_panels)
    assert fewest.smallest_cut is not None
    assert fewest.smallest_cut >= 150
    assert fewest.proven


def panels_at(room_: Room, x: float, y: float) -> float:
    """Panels with a grid line at x and y; infinite where a wall would have a sliver."""
    wish = GridWish("test-grid", centre_on=(x + 300.0, y + 300.0))
    layout = lay_out(room_, wish, METRIC)
    sliver = any(border.least < 150 for border in layout.borders)
    return math.inf if sliver else layout.full_panels + len(layout.cut_panels)


def test_the_frame_starts_at_a_crossing_in_the_room() -> None:
    """Lines lie 546.1 and 355.6 from the corner of the 163 x 124 in room; that crossing is the nearest in the room."""
    assert inches(163, 124, 24).frame == Frame((546.1, 355.6), 0.0)


def test_a_room_on_an_architects_coordinates_is_laid_where_it_is() -> None:
    away = (251_340.5, -88_012.25)
    shape = [(x + away[0], y + away[1]) for x, y in [(0, 0), (5000, 0), (5000, 4000), (0, 4000)]]
    layout = lay_out(room(*shape), GridWish("test-grid"), METRIC)
    assert layout.frame.origin == (away[0] + 400, away[1] + 500)
    assert borders(layout) == {"A-B": (500, 500), "B-C": (400, 400), "C-D": (500, 500), "D-A": (400, 400)}


def test_the_same_room_gives_the_same_layout() -> None:
    shape = room((0, 0), (6000, 0), (5500, 4000), (500, 4500), columns=(pier(2000, 2000, 300, 400),))
    assert lay_out(shape, GridWish("test-grid"), METRIC) == lay_out(shape, GridWish("test-grid"), METRIC)
