"""The fewest points to hang a run from: against a brute force, and what every choice must keep."""

from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.ceiling.holding.spacing import Limits, Stride, evenly, fewest, too_long

FEET = 12.0  #: inches here


def keeps(points, length, limits):
    """Said anew for the test: whether the limits are kept, wall to wall."""
    if not points:
        return length <= limits.first
    steps = [b - a for a, b in pairwise(points)]
    return points[0] <= limits.first and length - points[-1] <= limits.first and all(s <= limits.apart for s in steps)


def brute_force(points, length, limits, fixed):
    """The least number of points by trying every set, the small ones first; None when no set will do."""
    others = [point for point in points if point not in fixed]
    for more in range(len(others) + 1):
        if any(keeps(sorted((*fixed, *some)), length, limits) for some in combinations(others, more)):
            return more + len(fixed)
    return None


runs = st.lists(st.integers(1, 60), max_size=9, unique=True).map(sorted)


@settings(max_examples=300, deadline=None)
@given(runs, st.integers(1, 61), st.integers(3, 40), st.integers(3, 40), st.data())
def test_fewest_is_what_brute_force_finds(points, length, apart, first, data):
    points = [point for point in points if point < length]
    fixed = data.draw(st.lists(st.sampled_from(points), max_size=3, unique=True)) if points else []
    limits = Limits(apart, first)
    chosen = fewest(points, length, limits, fixed)
    assert set(fixed) <= set(chosen) <= set(points)
    assert list(chosen) == sorted(set(chosen))
    best = brute_force(points, length, limits, fixed)
    if best is None:
        assert list(too_long(chosen, length, limits))
    else:
        assert len(chosen) == best
        assert keeps(chosen, length, limits)
        assert not list(too_long(chosen, length, limits))


def test_joists_16_in_apart_under_a_4_ft_limit():
    """Joists at 9, 25, 41, 57, 73, 89, 105, 121, 137, 153 in over a run of 163 in, limit 48 in everywhere.

    41 is the last within 48 of the wall, 89 the last within 48 of 41, 137 of 89; 163 - 137 = 26 <= 48.
    """
    joists = [9 + 16 * k for k in range(10)]
    assert fewest(joists, 163, Limits(48, 48)) == (41, 89, 137)


def test_a_short_run_lies_on_its_two_walls():
    assert fewest([9, 25], 48, Limits(48, 48)) == ()
    assert evenly(48, Limits(48, 48)) == ()
    assert len(evenly(49, Limits(48, 48))) == 1


def test_where_no_point_is_in_reach_the_next_is_taken_and_told():
    """Points at 60 and 120 in 170, limits 48: 60 from the wall, 60 apart and 50 to the wall, all too far."""
    chosen = fewest([60, 120], 170, Limits(48, 48))
    assert chosen == (60, 120)
    assert list(too_long(chosen, 170, Limits(48, 48))) == [
        Stride(0, 60, 48, True),
        Stride(120, 170, 48, True),
        Stride(60, 120, 48, False),
    ]


@settings(max_examples=200, deadline=None)
@given(
    st.floats(1, 20000),
    st.floats(300, 1300),
    st.floats(100, 1300),
    st.lists(st.floats(0.01, 0.99), max_size=3, unique=True),
)
def test_even_points_keep_every_limit(length, apart, first, shares):
    limits, fixed = Limits(apart, min(first, apart)), sorted(share * length for share in shares)
    points = evenly(length, limits, fixed)
    assert list(points) == sorted(points) and set(fixed) <= set(points)
    assert not list(too_long(points, length, limits))


@pytest.mark.parametrize(("length", "count"), [(1200, 0), (2400, 1), (2401, 2), (3600, 2), (3601, 3)])
def test_even_points_are_as_few_as_can_be(length, count):
    """With k points there are k + 1 strides of 1200: 2400 takes one, 3600 two."""
    assert len(evenly(length, Limits(1200, 1200))) == count
