"""No short last pieces where longer ones take no bar more."""

from hypothesis import given, settings
from hypothesis import strategies as st
from runs.run_jobs import assert_it_can_be_built, job_of

from planner.runs.choose import Begun, begin_runs
from planner.runs.ends import longer_ends, short
from planner.runs.job import Bar, Cut, Job, Run
from planner.runs.pack import bars_for, bought


def begun(*runs: Run, apart: float = 600.0) -> Begun:
    return begin_runs(Job(Bar(36_000, 1_500, 30), runs, (), apart), 1.0)


def test_a_stub_becomes_longer_where_that_costs_nothing() -> None:
    """3750 of bars of 3600: the plain way leaves 150. With 3150 + 600 both come from as many bars, two."""
    before = begin_runs(job_of([(37_500, 0)]), 1.0)
    assert short(before.chosen[0])
    after = longer_ends(before)
    assert (after.chosen[0].first, after.chosen[0].rest) == (31_500, 6_000)
    assert after.bought == before.bought == 2
    assert after.lower_bound == before.lower_bound


def test_it_stays_where_it_would_cost_a_bar() -> None:
    """M1 is a whole bar and a stub of 150, which comes off the bar that M2's first 3440 comes from: with M2's whole
    bar three in all. A rest of 750 would not: 3440 + 750 is more than a bar, nor with its own first 3000: four.
    """
    one = (Cut(36_000, 0, 1_500, 3600.0), Cut(30_000, 0, 7_500, 3000.0))
    other = (Cut(34_400, 1, 0, 3440.0),)
    before = begun(Run("M1", 0.0, one), Run("M2", 0.0, other), apart=0.0)
    assert before.bought == 3 and short(before.chosen[0])
    assert longer_ends(before) == before


def test_it_stays_where_a_joint_would_stand_in_line() -> None:
    """M2's only splice is at 3000: M1 may be spliced at 3600 (a stub of 150), not at 3150, 150 from it."""
    one = (Cut(36_000, 0, 1_500, 3600.0), Cut(31_500, 0, 6_000, 3150.0))
    other = (Cut(30_000, 0, 20_000, 3000.0),)
    before = begun(Run("M1", 0.0, one, (1,)), Run("M2", 0.0, other, (0,)))
    assert longer_ends(before).chosen == before.chosen


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(20_000, 120_000), st.integers(0, 1_400)), min_size=1, max_size=6), st.booleans())
def test_nothing_else_becomes_worse(lengths: list[tuple[int, int]], tight: bool) -> None:
    job = job_of(lengths)
    before = begin_runs(job, 0.2, tight=tight)
    after = longer_ends(before, tight=tight)
    assert after.bought <= before.bought
    assert after.bought == bought(job, after.chosen, bars_for(job, after.chosen, tight=tight)) or after == before
    assert sum(map(short, after.chosen)) <= sum(map(short, before.chosen))
    assert sum(cut.count for cut in after.chosen) <= sum(cut.count for cut in before.chosen)
    assert all(
        job.near(at, cut, after.chosen) <= 0 or job.near(at, before.chosen[at], before.chosen) > 0
        for at, cut in enumerate(after.chosen)
    )
    assert_it_can_be_built(after)
