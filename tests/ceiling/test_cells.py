"""What the grid cuts: whole modules in runs, outlines, sizes to saw, names; rooms worked out by hand."""

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from planner.ceiling.grid import clipping
from planner.ceiling.grid.cells import Marks, count_cells, count_marked, edges_of, full_runs, mark
from planner.ceiling.grid.classes import marks_of
from planner.ceiling.grid.clipping import clip
from planner.ceiling.grid.cut import Cut, cuts_of
from planner.ceiling.layout import lay_out
from planner.ceiling.marks import class_letters, tape_mark
from planner.ceiling.model import Layout, Panel, Run
from planner.ceiling.system import MainTee, System, Tee
from planner.geometry import Box, Frame, Point, Ring
from planner.room.brief import GridWish
from planner.room.outline import Column, Room

M = 600.0
INCH = 25.4


def system(imperial: bool = False) -> System:
    module, undersize = (24 * INCH, 6.35) if imperial else (M, 5.0)
    main, angle = MainTee("main tee", 3600.0), Tee("wall angle", 3000.0)
    return System("test-grid", "", imperial, "hung", ((module, module),), undersize, 24.0, 22.0, main, (), angle, ())


def laid(*corners: Point, columns: tuple[Ring, ...] = (), line: Point = (0.0, 0.0), imperial: bool = False) -> Layout:
    """Lay a room with a crossing of grid lines at `line`."""
    module = system(imperial).modules[0][0]
    wish = GridWish("test-grid", centre_on=(line[0] + module / 2, line[1] + module / 2))
    return lay_out(room(*corners, columns=columns), wish, system(imperial))


def room(*corners: Point, columns: tuple[Ring, ...] = (), units: str = "mm") -> Room:
    outline = tuple((float(x), float(y)) for x, y in corners)
    names = tuple(f"P{k}" for k in range(len(outline)))
    return Room("room", units, outline, names, tuple(Column(f"C{k}", c, c[0]) for k, c in enumerate(columns)))


def rectangle(wide: float, deep: float, x: float = 0.0, y: float = 0.0) -> Ring:
    return ((x, y), (x + wide, y), (x + wide, y + deep), (x, y + deep))


def panel_at(layout: Layout, x: float, y: float) -> Panel:
    (found,) = [p for p in layout.cut_panels if Polygon(p.outline, p.holes).contains(shapely.Point(x, y))]
    return found


def test_whole_modules_are_runs_and_borders_are_panels() -> None:
    """1500 x 1300 from the corner: 2 x 2 whole, 300 left over to the right, 100 at the back."""
    layout = laid(*rectangle(1500, 1300))
    assert layout.full_runs == (Run(0, 0, 1), Run(1, 0, 1))
    assert [panel.cell for panel in layout.cut_panels] == [(2, 0), (2, 1), (0, 2), (1, 2), (2, 2)]
    assert [panel.opening for panel in layout.cut_panels] == [
        (300, 600),
        (300, 600),
        (600, 100),
        (600, 100),
        (300, 100),
    ]
    assert layout.smallest_cut == 100


def test_outlines_are_exact_and_run_counter_clockwise_from_the_lower_left() -> None:
    layout = laid(*rectangle(1500, 1300))
    assert layout.cut_panels[0].outline == ((1200.0, 0.0), (1500.0, 0.0), (1500.0, 600.0), (1200.0, 600.0))


def test_corners_of_the_room_come_out_as_they_were_given() -> None:
    """163 1/16 in is 4141.7875 mm; borders (19 1/16 + 24) / 2 = 21.53125 in = 546.89375 mm, to the last digit."""
    wide = 163.0625 * INCH
    layout = lay_out(room(*rectangle(wide, 24 * INCH)), GridWish("test-grid"), system(imperial=True))
    assert layout.frame.origin == (546.89375, 0.0)
    (first, last) = layout.cut_panels
    assert first.outline == ((0.0, 0.0), (546.89375, 0.0), (546.89375, 609.6), (0.0, 24 * INCH))
    assert (wide, 0.0) in last.outline


def test_a_panel_is_sawn_a_quarter_inch_short_and_rounded_down() -> None:
    """How-to article of 2010: deduct 1/4 in from the tee-to-angle dimension.

    21 17/32 - 1/4 = 21 9/32, on the tape 21 1/4 in; across it is a whole panel, 24 - 1/4 = 23 3/4 in.
    """
    shape = rectangle(163.0625 * INCH, 24 * INCH)
    layout = lay_out(room(*shape, units="ft-in"), GridWish("test-grid"), system(imperial=True))
    wide, deep = layout.cut_panels[0].cut_to
    assert wide == pytest.approx(21.25 * INCH)
    assert deep == 23.75 * INCH


def test_a_metric_tape_has_no_sixteenths_whatever_the_grid() -> None:
    """546.89 - 6.35 = 540.54, on a metric tape 540, though the grid is an imperial one; whole: 609.6 - 6.35."""
    layout = lay_out(room(*rectangle(163.0625 * INCH, 24 * INCH)), GridWish("test-grid"), system(imperial=True))
    assert layout.cut_panels[0].cut_to == (540.0, 603.25)


def test_a_metric_panel_is_sawn_to_a_whole_millimetre() -> None:
    """300.7 - 5 = 295.7, sawn to 295; 600 - 5 = 595."""
    assert laid(*rectangle(900.7, 600)).cut_panels[0].cut_to == (295, 595)


@pytest.mark.parametrize(("over", "panels"), [(3, 0), (5.5, 0), (22, 0), (24, 1)])
def test_a_strip_that_the_ledge_covers_is_no_panel(over: float, panels: int) -> None:
    """3 - 5 is less than nothing, 5.5 - 5 is no millimetre, and 22 lies on the ledge of 22; 24 - 5 leaves 19."""
    layout = laid(*rectangle(600 + over, 600))
    assert [panel.cut_to for panel in layout.cut_panels] == [(19, 595)] * panels
    assert [closed.outline for closed in layout.closed] == [rectangle(over, 600, x=600)] * (1 - panels)
    assert layout.smallest_cut == (24 if panels else None)


def test_a_strip_thinner_than_the_undersize_is_no_panel_however_narrow_the_ledge() -> None:
    """Nothing is left of 4 mm to be cut, though a ledge of 2 mm does not cover it."""
    wish = GridWish("test-grid", centre_on=(300.0, 300.0))
    layout = lay_out(room(*rectangle(604, 600)), wish, replace(system(), ledge=2.0))
    assert (layout.cut_panels, len(layout.closed)) == ((), 1)


@pytest.mark.parametrize("over", [0.0, 0.04, -0.04])
def test_a_module_that_is_whole_but_for_a_hair_is_whole(over: float) -> None:
    layout = laid(*rectangle(1200 + over, 600))
    assert layout.full_runs == (Run(0, 0, 1),)
    assert layout.cut_panels == ()


def test_a_module_that_a_column_splits_gives_a_panel_for_each_part() -> None:
    """A column 200 wide through the module from front to back leaves 150 and 250."""
    layout = laid(*rectangle(600, 1800), columns=(rectangle(200, 600, 150, 600),))
    assert [panel.opening for panel in layout.cut_panels] == [(150, 600), (250, 600)]
    assert [panel.cell for panel in layout.cut_panels] == [(0, 1), (0, 1)]
    assert layout.full_panels == 2


def test_a_pipe_inside_a_panel_is_a_hole() -> None:
    """A round pipe as chords; the panel keeps its module, so no border is cut."""
    pipe = tuple((300 + 50 * math.cos(a), 300 + 50 * math.sin(a)) for a in np.linspace(0, 2 * math.pi, 25)[:-1])
    layout = laid(*rectangle(1200, 600), columns=(pipe,))
    (panel,) = layout.cut_panels
    assert panel.opening == (600, 600)
    assert [len(hole) for hole in panel.holes] == [24]
    assert set(panel.holes[0]) == set(pipe)
    assert panel.taper == 0
    assert layout.smallest_cut is None


def test_a_column_at_a_crossing_notches_four_panels() -> None:
    layout = laid(*rectangle(1200, 1200), columns=(rectangle(200, 200, 500, 500),))
    assert {panel.cell for panel in layout.cut_panels} == {(0, 0), (1, 0), (0, 1), (1, 1)}
    assert [len(panel.outline) for panel in layout.cut_panels] == [6] * 4
    assert [panel.id for panel in layout.cut_panels] == ["a1", "b1", "c1", "d1"]  # each notched in another corner
    assert [panel.shape for panel in layout.cut_panels] == ["notched"] * 4
    assert [panel.taper for panel in layout.cut_panels] == [0.0] * 4
    assert [panel.cut_to for panel in layout.cut_panels] == [(595, 595)] * 4  # two numbers do not tell them
    assert layout.full_panels == 0


def test_a_column_that_fills_modules_leaves_no_panel_there() -> None:
    layout = laid(*rectangle(1800, 1800), columns=(rectangle(600, 600, 600, 600),))
    assert layout.full_runs == (Run(0, 0, 2), Run(1, 0, 0), Run(1, 2, 2), Run(2, 0, 2))
    assert layout.cut_panels == ()


def test_a_slanted_wall_tapers_its_panels() -> None:
    """The right wall leans out by 100 over 1200: over the 595 of each panel 49.58, openings at their widest.

    What is cut of 250: at the panel's end, 2.5 short of the module's, the wall is 0.21 nearer, and the cut runs 2.5
    from it, square to it (2.51 along), and 2.5 from the tee: 250 - 0.21 - 2.51 - 2.5 = 244.78.
    """
    layout = laid((0, 0), (800, 0), (900, 1200), (0, 1200))
    lower, upper = panel_at(layout, 700, 300), panel_at(layout, 700, 900)
    assert lower.opening == pytest.approx((250, 600))
    assert upper.opening == pytest.approx((300, 600))
    assert lower.taper == pytest.approx(595 / 12)
    assert upper.taper == pytest.approx(595 / 12)
    assert [panel.shape for panel in (lower, upper)] == ["tapered"] * 2
    assert lower.cut_to == (244, 595)


def bowed(rise: float) -> Panel:
    """The panel at a wall from (700, 0) to (700, 600) that bows out by a rise, in chords that turn little."""
    parts = (0.25, 0.5, 0.75)
    bow = [(700 + rise * 4 * part * (1 - part), 600 * part) for part in parts]
    return panel_at(laid((0, 0), (700, 0), *bow, (700, 600), (0, 600)), 650, 300)


def test_a_panel_at_a_bow_is_curved_and_no_taper_tells_it() -> None:
    """Cut straight from end to end it would leave a gap of the whole rise, 15 mm."""
    panel = bowed(15)
    assert (panel.shape, panel.taper) == ("curved", 0.0)


def test_a_bow_of_less_than_a_millimetre_is_none() -> None:
    """Over the 595 that are cut a bow of 0.9 rises by a hair less than 0.9, one of 1.2 by 1.18."""
    assert bowed(0.9).shape == "plain"
    assert bowed(1.2).shape == "curved"


def test_a_slanted_wall_that_bows_by_less_only_tapers_its_panel() -> None:
    """From 700 to 730 over 600, 0.8 beyond the straight line in the middle."""
    layout = laid((0, 0), (700, 0), (715.8, 300), (730, 600), (0, 600))
    assert panel_at(layout, 650, 300).shape == "tapered"


@pytest.mark.parametrize(("wide", "whole"), [(1197.5, True), (1197.6, True), (1197.4, False), (1198.7, True)])
def test_a_panel_that_clears_the_wall_in_the_middle_of_its_module_is_whole(wide: float, whole: bool) -> None:
    """Panels are 5 smaller than their modules, 2.5 on each side: up to 2.5 the wall takes nothing off them."""
    layout = laid(*rectangle(wide, 600))
    assert sum(run.count for run in layout.full_runs) == (2 if whole else 1)
    assert [panel.cut_to for panel in layout.cut_panels] == ([] if whole else [(592, 595)])


def test_a_hair_off_one_side_is_not_sawn_off_a_panel_that_is_cut_along_another() -> None:
    """1198.7 x 900: the right column is 1.3 short of its module; behind, 300 are left, less 5 is 295."""
    layout = laid(*rectangle(1198.7, 900))
    assert [panel.cut_to for panel in layout.cut_panels] == [(595, 295), (595, 295)]
    assert len({panel.id[0] for panel in layout.cut_panels}) == 1


def test_a_wall_that_clips_the_corner_of_a_module_less_than_its_play_leaves_the_panel_whole() -> None:
    """The panel's corner is 2.5 from both tees, 3.54 from the module's; a wall at 45 degrees is 2.83 from that where
    it takes 4 off each side, and 4.24 where it takes 6.
    """
    clipped, cut = (laid((0, 0), (600 - off, 0), (600, off), (600, 600), (0, 600)) for off in (4, 6))
    assert clipped.cut_panels == ()
    assert [panel.shape for panel in cut.cut_panels] == ["shaped"]


def test_equal_panels_share_a_letter_and_mirrored_ones_do_not() -> None:
    """A trapezoid: the left and right ends are mirror images, the strips behind are all alike."""
    layout = laid((0, 0), (1800, 0), (1500, 700), (300, 700))
    left, right = panel_at(layout, 500, 300), panel_at(layout, 1300, 300)
    assert left.opening == right.opening
    assert left.id[0] != right.id[0]


def test_panels_are_numbered_row_by_row_from_the_reference_corner() -> None:
    """900 x 900 from the corner: whole; right 300 x 600; back 600 x 300; corner 300 x 300."""
    assert [(p.id, p.cell) for p in laid(*rectangle(900, 900)).cut_panels] == [
        ("a1", (1, 0)),
        ("b1", (0, 1)),
        ("c1", (1, 1)),
    ]


def test_numbers_run_within_a_letter() -> None:
    """Borders of 300 all round 1200 x 1200: corners a, sides in front and behind b, left and right c."""
    layout = laid(*rectangle(1200, 1200), line=(300.0, 300.0))
    assert [p.id for p in layout.cut_panels] == ["a1", "b1", "a2", "c1", "c2", "a3", "b2", "a4"]


def test_the_walk_starts_at_the_reference_corner_in_a_turned_grid_too() -> None:
    turned = [Frame(angle_deg=180.0).outward(corner) for corner in rectangle(900, 900)]
    wish = GridWish("test-grid", align=180.0, centre_on=(-300.0, -300.0))
    layout = lay_out(room(*turned), wish, system())
    assert layout.frame.angle_deg == 0.0
    assert [p.id for p in layout.cut_panels] == ["a1", "b1", "c1"]
    assert all(-900 <= x <= 0 and -900 <= y <= 0 for p in layout.cut_panels for x, y in p.outline)
    assert [p.opening for p in layout.cut_panels] == [(300, 600), (600, 300), (300, 300)]


def test_letters_that_read_as_figures_are_left_out() -> None:
    """26 less i, l and o are 23; after z comes aa, after az ba."""
    names = [class_letters(k) for k in range(23 * 24 + 1)]
    assert names[:11] == list("abcdefghjkm")
    assert names[22:25] == ["z", "aa", "ab"]
    assert names[23 + 23] == "ba"
    assert names[-1] == "aaa"
    assert len(set(names)) == len(names)
    assert not set("ilo") & set("".join(names))


@settings(max_examples=60, deadline=None)
@given(
    wide=st.integers(min_value=600, max_value=20_000),
    deep=st.integers(min_value=600, max_value=20_000),
    x=st.integers(min_value=0, max_value=599),
    y=st.integers(min_value=0, max_value=599),
)
def test_rectangles_are_counted_row_times_column(wide: int, deep: int, x: int, y: int) -> None:
    """A length L with a line at x takes ceil((L - x) / m) modules from there, and one more before it unless x is 0."""
    count = math.prod(math.ceil((size - at) / 600) + (at > 0) for size, at in ((wide, x), (deep, y)))
    assert count_cells(room(*rectangle(wide, deep)), Frame((float(x), float(y))), (M, M)) == count


@pytest.mark.parametrize("seed", range(30))
def test_marks_are_what_plain_shapely_finds(seed: int) -> None:
    """Stars with a square hole, modules of 97 x 61: modules met, and modules wholly inside."""
    rng = np.random.default_rng(seed)
    count = int(rng.integers(5, 40))
    angles = (np.arange(count) + rng.uniform(0.1, 0.9, count)) * 2 * np.pi / count
    radii = rng.uniform(300, 900, count)
    star = tuple(zip((radii * np.cos(angles)).tolist(), (radii * np.sin(angles)).tolist(), strict=True))
    hole = rectangle(100, 100, -50, -50)
    marks = mark(edges_of((star, hole), Frame((3.0, 4.0))), (97.0, 61.0))
    shape = shapely.transform(Polygon(star, [hole]), lambda points: points - [3.0, 4.0])
    columns, rows = (corner.reshape(-1) for corner in np.meshgrid(np.arange(-12, 12), np.arange(-18, 18)))
    boxes = shapely.box(columns * 97.0, rows * 61.0, (columns + 1) * 97.0, (rows + 1) * 61.0)
    area = shapely.area(shapely.intersection(shape, boxes))
    assert abs(count_marked(marks) - int((area > 0.01).sum())) <= int(((area > 0) & (area < 0.5)).sum())
    whole, nearly = (
        {(int(r), int(c)) for r, c, a in zip(rows, columns, area, strict=True) if a > 97 * 61 - lost}
        for lost in (1e-6, 0.05 * 97)  # a wall that reaches less than 0.05 into a module leaves it whole
    )
    runs = full_runs(marks, np.zeros(len(marks.touched), dtype=np.bool_))
    assert whole <= {(run.row, c) for run in runs for c in range(run.first, run.last + 1)} <= nearly


def test_runs_end_at_a_column_that_stands_on_a_line() -> None:
    """A column from 600 to 650 touches module 1 only; module 0 beside it stays whole."""
    layout = laid(*rectangle(2400, 600), columns=(rectangle(50, 100, 600, 300),))
    assert layout.full_runs == (Run(0, 0, 0), Run(0, 2, 3))


def floor_of_many_modules() -> tuple[Polygon, Marks]:
    bow = [(6000 + 6000 * math.cos(a), 9000 + 900 * math.sin(a)) for a in np.linspace(0, math.pi, 120)]
    outline = ((0.0, 0.0), (12000.0, 0.0), *bow)
    holes = tuple(rectangle(333, 444, 1000 * k + 111, 977 * k + 222) for k in range(1, 9))
    return Polygon(outline, holes), mark(edges_of((outline, *holes), Frame()), (100.0, 100.0))


def test_tiles_give_the_pieces_that_the_whole_outline_gives(monkeypatch: pytest.MonkeyPatch) -> None:
    floor, marks = floor_of_many_modules()
    monkeypatch.setattr(clipping, "_DIRECT", 0)
    tiled = clip(floor, marks, (100.0, 100.0))
    monkeypatch.setattr(clipping, "_DIRECT", 10**12)
    plain = clip(floor, marks, (100.0, 100.0))
    assert tiled.cells.tolist() == plain.cells.tolist()
    assert tiled.whole.tolist() == plain.whole.tolist()
    assert shapely.area(tiled.shapes) == pytest.approx(shapely.area(plain.shapes))
    assert float(shapely.area(shapely.symmetric_difference(tiled.shapes, plain.shapes)).max()) < 1e-3


def test_fast_clipping_that_loses_floor_is_done_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """Tiles whose clipping comes out empty do not add up to the floor."""
    floor, marks = floor_of_many_modules()
    monkeypatch.setattr(clipping, "_DIRECT", 0)
    known = clip(floor, marks, (100.0, 100.0))
    monkeypatch.setattr(clipping.shapely, "clip_by_rect", lambda *_: Polygon())
    again = clip(floor, marks, (100.0, 100.0))
    assert shapely.area(again.shapes).sum() == pytest.approx(shapely.area(known.shapes).sum())


def test_columns_that_touch_a_wall_or_each_other_are_taken_out_once() -> None:
    """A chase on the left wall and two columns side by side: 2400 x 1200 less 100 x 300, 200 x 200 and 200 x 200."""
    columns = (rectangle(100, 300, 0, 400), rectangle(200, 200, 1100, 500), rectangle(200, 200, 1300, 500))
    layout = laid(*rectangle(2400, 1200), columns=columns)
    area = sum(Polygon(p.outline, p.holes).area for p in layout.cut_panels) + layout.full_panels * M * M
    assert area == pytest.approx(2400 * 1200 - 100 * 300 - 2 * 200 * 200)


@pytest.mark.parametrize("noise", [1e-9, 1e-6, 1e-4])
def test_a_corner_that_drawing_noise_doubles_on_a_grid_line_is_kept(noise: float) -> None:
    """A wall that bends a hair beside a grid line leaves two corners of a piece in one place; one must stay."""
    layout = laid((0, 0), (900, 0), (900 + noise, 1200 - noise), (1100, 1800), (0, 1800))
    piece = panel_at(layout, 700, 700)
    assert Polygon(piece.outline).area == pytest.approx(300 * 600, abs=1.0)
    whole = sum(run.count for run in layout.full_runs) * M * M
    cut = sum(Polygon(panel.outline).area for panel in layout.cut_panels)
    assert whole + cut == pytest.approx(900 * 1800 + 200 * 600 / 2, abs=1.0)


def test_two_slanted_walls_that_meet_in_a_corner_are_two_cuts() -> None:
    """The wall behind falls 10 over 1010, so 4.01 over the 405 that are cut in the corner; the right one leans by less.

    Taken for one cut, from the one end to the other, they would come to the whole side of the panel.
    """
    layout = laid((0, 0), (1000, 0), (1010, 990), (0, 1000))
    assert panel_at(layout, 800, 800).taper == pytest.approx(10 / 1010 * 405, abs=0.01)


def classes_of(*openings: Ring, imperial: bool = False) -> list[str]:
    """Marks of what is cut for openings, 5 mm under, to a mark of the tape."""
    mark = tape_mark(imperial)
    modules = [Box(-600.0, -600.0, 1200.0, 1200.0) for _ in openings]  # no wall is near a line of the grid
    cuts = [(cut, sawn(cut, mark)) for cut in cuts_of([(ring,) for ring in openings], modules, 5.0) if cut]
    return marks_of(cuts, mark)


def sawn(cut: Cut, mark: float) -> tuple[int, int]:
    return (math.floor(cut.box.width / mark + 1e-6), math.floor(cut.box.height / mark + 1e-6))


def test_rectangles_that_read_alike_are_one_class() -> None:
    """300.2, 300.9 and one that leans by 0.5: all 295; 299.9 reads 294.

    In sixteenths of an inch 295.2 and 294.9 are both 11 9/16.
    """
    leaning = ((0.0, 0.0), (600.0, 0.0), (600.0, 300.7), (0.0, 300.2))
    shapes = (rectangle(600, 300.2), rectangle(600, 300.9), leaning, rectangle(600, 299.9))
    assert classes_of(*shapes) == ["a1", "a2", "a3", "b1"]
    assert classes_of(rectangle(600, 300.2), rectangle(600, 299.9), imperial=True) == ["a1", "a2"]


def test_of_tapered_ones_those_of_one_size_and_taper_that_lie_in_each_other() -> None:
    """300 at one end and 250 at the other; 0.4 mm more at both; 249 there, so a taper of 51; the mirror image."""

    def tapered(most: float, least: float) -> Ring:
        return ((0.0, 0.0), (600.0, 0.0), (600.0, most), (0.0, least))

    mirrored = ((0.0, 0.0), (600.0, 0.0), (600.0, 250.3), (0.0, 300.3))
    found = classes_of(tapered(300.3, 250.3), tapered(300.7, 250.7), tapered(300.3, 249.0), mirrored)
    assert found == ["a1", "a2", "b1", "c1"]


def test_notched_ones_are_alike_where_their_notches_are() -> None:
    """The notch is 0.6 mm wider, so its panel is the smaller; or it stands 3 mm aside, or 0.6 mm."""

    def notched(start: float, end: float) -> Ring:
        return (
            (0.0, 0.0),
            (start, 0.0),
            (start, 200.0),
            (end, 200.0),
            (end, 0.0),
            (600.0, 0.0),
            (600.0, 600.0),
            (0.0, 600.0),
        )

    found = classes_of(notched(200, 300), notched(200, 300.6), notched(203, 303), notched(199.4, 299.4))
    assert found == ["a1", "a2", "b1", "c1"]
