"""Bowed walls: chord and rise to arcs, and arcs to polylines that never leave the room."""

import math

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon

from planner.arcs import (
    arc_length,
    arc_middle,
    arc_of,
    arc_points,
    bulge_from_rise,
    bulge_from_sweep,
    is_flat,
    segment_area,
)
from planner.geometry import distance

A, B = (0.0, 0.0), (4000.0, 0.0)
coordinates = st.floats(-20_000, 20_000)
points = st.tuples(coordinates, coordinates)
bulges = st.floats(1e-6, 1.0) | st.floats(-1.0, -1e-6)


def test_a_wall_of_4_m_that_bows_out_by_500() -> None:
    """Radius by the chord theorem: c²/(8r) + r/2 = 16e6/4000 + 250 = 4250; the room lies above A-B, so it bows down.

    Half the angle is asin(2000/4250).
    """
    arc = arc_of(A, B, bulge_from_rise(4000.0, 500.0))
    half = math.degrees(math.asin(2000 / 4250))
    assert arc.radius == pytest.approx(4250.0)
    assert arc.centre == pytest.approx((2000.0, 3750.0))
    assert arc.start_deg == pytest.approx(-90.0 - half)
    assert arc.end_deg == pytest.approx(-90.0 + half)
    assert arc.length == pytest.approx(4250.0 * 2 * math.radians(half))
    assert arc_middle(A, B, bulge_from_rise(4000.0, 500.0)) == pytest.approx((2000.0, -500.0))


def test_bowed_inwards_it_is_the_mirror_image() -> None:
    arc = arc_of(A, B, bulge_from_rise(4000.0, -500.0))
    assert arc.centre == pytest.approx((2000.0, -3750.0))
    assert arc.sweep_deg < 0
    assert arc_middle(A, B, bulge_from_rise(4000.0, -500.0)) == pytest.approx((2000.0, 500.0))


def test_a_half_circle_has_bulge_one_and_a_quarter_the_tangent_of_an_eighth() -> None:
    assert bulge_from_rise(4000.0, 2000.0) == 1.0
    assert bulge_from_sweep(180.0) == pytest.approx(1.0)
    assert bulge_from_sweep(90.0) == pytest.approx(math.sqrt(2) - 1)
    assert segment_area(A, B, 1.0) == pytest.approx(math.pi * 2000.0**2 / 2)
    # quarter circle on a chord of 4000: r = 4000/√2, area r²(π/4 - 1/2)
    assert segment_area(A, B, math.sqrt(2) - 1) == pytest.approx(8e6 * (math.pi / 4 - 0.5))


@pytest.mark.parametrize("rise", [2000.1, -2000.1, math.nan, math.inf])
def test_more_than_half_the_chord_is_refused(rise: float) -> None:
    with pytest.raises(ValueError, match="more than half"):
        bulge_from_rise(4000.0, rise)


@pytest.mark.parametrize("chord", [0.0, -1.0, math.nan, math.inf])
def test_a_chord_that_is_no_length_is_refused(chord: float) -> None:
    with pytest.raises(ValueError, match="no length"):
        bulge_from_rise(chord, 0.0)


def test_a_straight_edge_stays_straight() -> None:
    assert arc_points(A, B, 0.0) == (A, B)
    assert arc_length(A, B, 0.0) == 4000.0
    assert segment_area(A, B, 0.0) == 0.0
    assert is_flat(A, B, 1e-14)
    with pytest.raises(ValueError, match="no centre"):
        arc_of(A, B, 0.0)


@settings(deadline=None)
@given(points, points, bulges)
def test_both_ends_and_the_middle_lie_on_the_circle(start, end, bulge) -> None:
    assume(distance(start, end) > 1 and not is_flat(start, end, bulge))
    arc = arc_of(start, end, bulge)
    # the centre of a flat arc lies far off, and its coordinates are that much coarser
    coarse = 1e-9 + 1e-12 * arc.radius
    for p in (start, end, arc_middle(start, end, bulge)):
        assert distance(arc.centre, p) == pytest.approx(arc.radius, abs=coarse)
    last = math.radians(arc.end_deg)
    there = (arc.centre[0] + arc.radius * math.cos(last), arc.centre[1] + arc.radius * math.sin(last))
    assert distance(there, end) < 1e-6 + 1e-12 * arc.radius
    assert arc_length(start, end, bulge) == pytest.approx(arc.length)
    assert segment_area(start, end, bulge) == pytest.approx(-segment_area(end, start, -bulge))


@settings(deadline=None)
@given(points, points, bulges | st.floats(1.0, 6.0) | st.floats(-6.0, -1.0), st.sampled_from([0.01, 0.1, 5.0]))
@example((0.0, 0.0), (4000.0, 0.0), -0.25, 0.1)
def test_the_polyline_stays_within_its_tolerance_and_on_the_rooms_side(start, end, bulge, within) -> None:
    """Measured from the centre: bowed out it lies on or inside the circle, bowed in on or outside it."""
    assume(distance(start, end) > 1 and abs(bulge) > 1e-4)
    arc = arc_of(start, end, bulge)
    line = arc_points(start, end, bulge, within)
    assert (line[0], line[-1]) == (start, end)
    near = LineString(line).distance(Point(arc.centre))
    far = max(distance(p, arc.centre) for p in line)
    slack = 1e-6
    if bulge > 0:
        assert arc.radius - within - slack <= near and far <= arc.radius + slack
    else:
        assert arc.radius - slack <= near and far <= arc.radius + within + slack


def test_no_more_chords_than_the_tolerance_asks_for() -> None:
    """Radius 4250, 0.1 mm: half a step is acos(1 - 0.1/4250), 0.39 degrees; the wall turns 56.1, so 72 chords."""
    line = arc_points(A, B, bulge_from_rise(4000.0, 500.0))
    steps = 2 * math.asin(2000 / 4250) / (2 * math.acos(1 - 0.1 / 4250))
    assert len(line) - 1 == math.ceil(steps) == 72


@pytest.mark.parametrize("rise", [500.0, -500.0])
def test_a_room_with_a_bowed_wall_is_never_drawn_larger_than_it_is(rise: float) -> None:
    """Its polygon lies inside the true room, which is drawn here with a thousand times finer steps."""
    bulge = bulge_from_rise(4000.0, rise)
    rest = ((4000.0, 3000.0), (0.0, 3000.0))
    drawn = Polygon((*arc_points(A, B, bulge), *rest))
    truth = Polygon((*arc_points(A, B, bulge, 1e-4), *rest))
    assert truth.buffer(2e-4).covers(drawn)
    assert truth.area == pytest.approx(12e6 + segment_area(A, B, bulge), rel=1e-7)
    assert 0 <= truth.area - drawn.area < 0.1 * arc_length(A, B, bulge)


def test_a_wall_bowed_by_a_hair_over_its_length_keeps_its_digits() -> None:
    """Rise 1e-6 on 4000: the sliver is two thirds of chord times rise, the middle exactly the rise off."""
    bulge = bulge_from_rise(4000.0, 1e-6)
    assert segment_area(A, B, bulge) == pytest.approx(2 / 3 * 4000 * 1e-6, rel=1e-9)
    fine = arc_points(A, B, bulge, 1e-8)
    assert min(y for _, y in fine) == pytest.approx(-1e-6, rel=0.02)
