"""Boxes, frames and areas that every wing shares, against shapely and by hand."""

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from planner.geometry import Box, Frame, Point, box_of, edges, midpoint, signed_area

#: On a coarse raster, so that edges and corners often touch.
SIDE = st.integers(-3, 3).map(float)
POINT = st.tuples(st.floats(-1e5, 1e5), st.floats(-1e5, 1e5))


@st.composite
def boxes(draw: st.DrawFn) -> Box:
    left, bottom = draw(SIDE), draw(SIDE)
    return Box(left, bottom, left + draw(st.integers(1, 4)), bottom + draw(st.integers(1, 4)))


def polygon(box: Box) -> shapely.Polygon:
    return shapely.box(box.left, box.bottom, box.right, box.top)


@given(boxes(), boxes())
def test_boxes_overlap_where_their_insides_meet(one: Box, other: Box) -> None:
    assert one.overlaps(other) == (polygon(one).intersection(polygon(other)).area > 0) == other.overlaps(one)


@given(boxes(), boxes())
def test_a_box_holds_what_lies_in_it_edges_and_all(one: Box, other: Box) -> None:
    assert one.holds(other) == polygon(one).covers(polygon(other))


@given(boxes(), st.floats(0, 5))
def test_a_box_grows_on_all_sides(box: Box, by: float) -> None:
    grown, middle = box.grown(by), polygon(box).centroid
    assert box.centre == pytest.approx((middle.x, middle.y)) == grown.centre
    assert (grown.width, grown.height) == pytest.approx((box.width + 2 * by, box.height + 2 * by))


def test_the_box_of_points_needs_points() -> None:
    assert box_of([(3.0, 1.0), (-2.0, 5.0), (0.0, 0.0)]) == Box(-2.0, 0.0, 3.0, 5.0)
    with pytest.raises(ValueError, match="not enough values"):
        box_of([])


@given(POINT, st.floats(-720, 720), POINT)
def test_what_a_frame_takes_in_it_gives_back_turned_and_shifted(origin: Point, angle: float, point: Point) -> None:
    """By complex numbers: outside = origin + inside · e^(i angle)."""
    frame = Frame(origin, angle)
    turn = complex(math.cos(math.radians(angle)), math.sin(math.radians(angle)))
    outside = complex(*origin) + complex(*point) * turn
    assert frame.outward(point) == pytest.approx((outside.real, outside.imag), abs=1e-6)
    assert frame.inward(frame.outward(point)) == pytest.approx(point, abs=1e-6)


def test_a_frame_of_which_nothing_is_said_is_the_one_around_it() -> None:
    assert Frame().outward((3.0, 4.0)) == (3.0, 4.0) == Frame().inward((3.0, 4.0))


@pytest.mark.parametrize("turns", range(-5, 6))
def test_quarter_turns_are_exact(turns: int) -> None:
    """So that a square room stays square to the last digit: 1/3 has no end in any number of figures."""
    x, y = 1 / 3, 2 / 3
    for _ in range(turns % 4):
        x, y = -y, x
    assert Frame((0.0, 0.0), 90.0 * turns).outward((1 / 3, 2 / 3)) == (x, y)
    assert Frame((0.0, 0.0), 90.0 * turns).inward((x, y)) == (1 / 3, 2 / 3)


def test_areas_turn_left_and_lose_no_digits_far_off() -> None:
    """An L of 4 x 3 less 1 x 1, 11 units of area; a million kilometres away it has the same."""
    ring = ((0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (3.0, 2.0), (3.0, 3.0), (0.0, 3.0))
    assert signed_area(ring) == 11.0
    assert signed_area(ring[::-1]) == -11.0
    assert signed_area(tuple((x + 1e12, y - 1e12) for x, y in ring)) == 11.0
    assert [midpoint(a, b) for a, b in edges(ring)][-1] == (0.0, 1.5)
