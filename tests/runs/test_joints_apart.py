"""How far the splices of two runs are from each other, against looking at every pair of them."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.runs.joints import Joints

#: One run may come from 12 ft tees, the other from 10 ft ones; one with fewer than two splices has no spacing.
SPACINGS = st.sampled_from([3657.6, 3048.0, 3000.0, 100.0])


@st.composite
def joints(draw: st.DrawFn) -> Joints:
    count = draw(st.integers(0, 6))
    first = draw(st.one_of(st.floats(-5000, 5000), st.integers(-10, 10).map(lambda n: n * 76.2)))
    return Joints(first, draw(SPACINGS) if count > 1 else 0.0, count)


def splices(run: Joints) -> list[float]:
    return [run.first + k * run.apart for k in range(run.count)]


@given(joints(), joints())
def test_the_nearest_two_of_all_pairs(one: Joints, other: Joints) -> None:
    pairs = [abs(a - b) for a in splices(one) for b in splices(other)]
    assert one.distance(other) == pytest.approx(min(pairs, default=math.inf), abs=0.1)
    assert one.distance(other) == pytest.approx(other.distance(one), abs=1e-6)


def test_runs_from_tees_of_two_lengths() -> None:
    """Splices at 1000, 4000, 7000 and at 3200, 6257.6: 742.4 from 6257.6 to 7000, and 800 from 3200 to 4000."""
    assert Joints(1000.0, 3000.0, 3).distance(Joints(3200.0, 3057.6, 2)) == pytest.approx(742.4)


def test_a_run_ends_where_it_ends() -> None:
    """Splices at 0 and 3000; at 9100: nothing is near though 9100 is 100 beyond a third that there is not: 6100."""
    assert Joints(0.0, 3000.0, 2).distance(Joints(9100.0, 0.0, 1)) == pytest.approx(6100.0)
    assert Joints(9100.0, 0.0, 1).distance(Joints(0.0, 3000.0, 2)) == pytest.approx(6100.0)


def test_a_whole_tee_has_no_splice_to_stand_near() -> None:
    assert Joints(0.0, 0.0, 0).distance(Joints(0.0, 0.0, 1)) == math.inf
