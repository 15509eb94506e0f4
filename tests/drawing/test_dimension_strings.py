"""Dimension strings: what they say adds up, and what they measure is what they say."""

import re
from fractions import Fraction
from itertools import pairwise

import pytest
from drawing.hand_plans import hand_plan, rectangle, room
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.drawing.dimensions import grid_segments, plain_segments, span, written, written_size
from planner.drawing.labels import Heights
from planner.drawing.profile import profile
from planner.drawing.shapes import Dimension
from planner.drawing.strings import surround
from planner.drawing.stylebook import load_style
from planner.geometry import distance

HEIGHTS = Heights.of(load_style("iso-13567"))


def texts(segments) -> list[str]:
    return [segment.text for segment in segments]


def test_border_run_border_in_millimetres():
    """4140 with 600 modules by the half-module rule: (540 + 600) / 2 = 570 at both ends, 5 x 600 = 3000 between."""
    assert texts(grid_segments((0.0, 4140.0), 570.0, 600.0, "mm")) == ["570", "5 × 600 = 3000", "570"]


def test_border_run_border_in_feet_and_inches():
    """13'-7" is 163 in: borders of 21 1/2", 5 modules of 24" = 10'-0" (NAVEDTRA 14044 p. 5-16 room, half rule)."""
    found = grid_segments((0.0, 163 * 25.4), 21.5 * 25.4, 609.6, "ft-in")
    assert texts(found) == ["1'-9 1/2\"", '5 × 24" = 10\'-0"', "1'-9 1/2\""]


def test_a_grid_that_ends_at_the_walls_has_no_borders():
    assert texts(grid_segments((0.0, 3000.0), 0.0, 600.0, "mm")) == ["5 × 600 = 3000"]


def test_a_closet_narrower_than_a_module_has_one_length():
    assert texts(grid_segments((0.0, 400.0), 500.0, 600.0, "mm")) == ["400"]


def test_one_module_needs_no_product():
    assert texts(grid_segments((0.0, 1200.0), 300.0, 600.0, "mm")) == ["300", "600", "300"]


def test_a_run_is_split_at_the_start_point():
    found = grid_segments((0.0, 3000.0), 300.0, 600.0, "mm", also=(900.0,))
    assert texts(found) == ["300", "600", "3 × 600 = 1800", "300"]


def test_a_metric_module_keeps_its_tenth():
    assert written_size([609.6], "mm") == "609.6"
    assert written_size([609.6], "ft-in") == '24"'


def test_metric_drawings_are_in_millimetres_whatever_the_room_file_says():
    assert written(4140.0, "m") == written(4140.0, "cm") == "4140"


def inches(text: str) -> Fraction:
    """Inches of a text such as 18'-7 1/2", computed here without the planner."""
    feet, rest = re.fullmatch(r"(\d+)'-(.*)\"", text).groups()
    return 12 * int(feet) + sum(Fraction(part) for part in rest.split())


positions = st.lists(st.floats(0, 40000), min_size=2, max_size=8, unique_by=lambda x: round(x / 5))


@given(positions)
def test_printed_millimetres_add_up_to_the_printed_total(stops):
    breaks = tuple(sorted(stops))
    parts = [int(text) for text in texts(plain_segments(breaks, "mm"))]
    assert sum(parts) == int(texts(plain_segments((breaks[0], breaks[-1]), "mm"))[0])


@given(positions)
def test_printed_feet_and_inches_add_up_to_the_printed_total(stops):
    breaks = tuple(sorted(stops))
    parts = [inches(text) for text in texts(plain_segments(breaks, "ft-in"))]
    assert sum(parts) == inches(texts(plain_segments((breaks[0], breaks[-1]), "ft-in"))[0])


@given(st.floats(700, 30000), st.floats(0, 599), st.sampled_from((600.0, 609.6)))
def test_a_string_covers_its_side_without_gap_or_overlap(width, at, module):
    found = grid_segments((0.0, width), at, module, "mm")
    assert (found[0].start, found[-1].end) == (0.0, width)
    assert all(a.end == b.start for a, b in pairwise(found))
    assert sum(span(s.start, s.end, 0.0, "mm") for s in found) == span(0.0, width, 0.0, "mm")


def test_the_profile_of_an_ell_shows_its_step_from_above_and_not_from_below():
    ell = ((0, 0), (7000, 0), (7000, 4000), (4000, 4000), (4000, 6000), (0, 6000))
    assert [(s.low, s.high) for s in profile(ell, "bottom")] == [(0, 7000)]
    assert [(s.low, s.high, s.start[1]) for s in profile(ell, "top")] == [(0, 4000, 6000), (4000, 7000, 4000)]
    assert [(s.low, s.high) for s in profile(ell, "right")] == [(0, 4000), (4000, 6000)]


def test_a_rectangle_is_dimensioned_below_and_at_the_left_only():
    plan = hand_plan(room(rectangle(4140, 3150)))
    around = surround(plan.room, plan.ceiling.layout, HEIGHTS, 50.0)
    shown = [shape.text for shape in around.shapes if isinstance(shape, Dimension)]
    assert shown == ["570", "5 × 600 = 3000", "570", "4140", "375", "4 × 600 = 2400", "375", "3150"]
    assert around.complete


def test_an_ell_shows_its_walls_as_well():
    ell = ((0, 0), (7300, 0), (7300, 3900), (4200, 3900), (4200, 6100), (0, 6100))
    plan = hand_plan(room(ell))
    around = surround(plan.room, plan.ceiling.layout, HEIGHTS, 50.0)
    shown = [shape.text for shape in around.shapes if isinstance(shape, Dimension)]
    assert {"7300", "6100", "4200", "3100", "3900", "2200"} <= set(shown)


def test_dimensions_measure_what_they_say():
    plan = hand_plan(room(((0, 0), (7300, 0), (7300, 3900), (4200, 3900), (4200, 6100), (0, 6100))))
    for shape in surround(plan.room, plan.ceiling.layout, HEIGHTS, 100.0).shapes:
        assert isinstance(shape, Dimension)
        along = 0 if shape.angle_deg == 0.0 else 1
        assert abs(shape.end[along] - shape.start[along]) == pytest.approx(int(shape.text.split(" = ")[-1]))


def test_a_turned_grid_shows_where_it_starts():
    """The start point is 700 along and 500 away: 700 + 4300 = 5000 and 500 + 3500 = 4000."""
    plan = hand_plan(room(rectangle(5000, 4000)), angle=30.0, origin=(700.0, 500.0))
    around = surround(plan.room, plan.ceiling.layout, HEIGHTS, 50.0)
    shown = [shape.text for shape in around.shapes if isinstance(shape, Dimension)]
    assert shown == ["700", "4300", "5000", "500", "3500", "4000"]


def test_a_bowed_side_is_dimensioned_overall():
    """Forty chords of a bow are no forty dimensions."""
    bow = tuple((5000.0 - 5000.0 * k / 40, 3000.0 + 400.0 * (1 - (k / 20 - 1) ** 2)) for k in range(41))
    plan = hand_plan(room(((0.0, 0.0), (5000.0, 0.0), *bow)))
    around = surround(plan.room, plan.ceiling.layout, HEIGHTS, 50.0)
    assert sum(isinstance(shape, Dimension) for shape in around.shapes) < 20


@settings(max_examples=25, deadline=None)
@given(st.floats(500, 20000), st.floats(500, 20000), st.sampled_from((10.0, 50.0, 100.0, 500.0)))
def test_the_reach_covers_every_dimension_line(width, depth, scale):
    plan = hand_plan(room(rectangle(width, depth)))
    around = surround(plan.room, plan.ceiling.layout, HEIGHTS, scale)
    for shape in around.shapes:
        assert isinstance(shape, Dimension)
        off = -shape.line_at[1] if shape.angle_deg == 0.0 else -shape.line_at[0]
        assert off / scale < (around.bottom if shape.angle_deg == 0.0 else around.left)
        assert distance(shape.start, shape.end) > 0


def test_a_strip_that_the_ledge_hides_is_told_with_the_module_beside_it() -> None:
    """No tee lies on a line 6 mm before the wall: 7 whole modules are left, and 600 + 6 beside them."""
    at_the_end = grid_segments((0.0, 5106.0), 300.0, 600.0, "mm", hidden=[(5100.0, 5106.0)])
    assert texts(at_the_end) == ["300", "7 × 600 = 4200", "606"]
    at_the_start = grid_segments((0.0, 5106.0), 6.0, 600.0, "mm", hidden=[(0.0, 6.0)])
    assert texts(at_the_start) == ["606", "7 × 600 = 4200", "300"]
    assert texts(grid_segments((0.0, 5106.0), 300.0, 600.0, "mm")) == ["300", "8 × 600 = 4800", "6"]


def test_one_module_and_a_hidden_strip_are_one_border() -> None:
    assert texts(grid_segments((0.0, 906.0), 300.0, 600.0, "mm", hidden=[(900.0, 906.0)])) == ["300", "606"]
