"""First cuts of main runs: the fewest bars, by other ways of counting and by hand."""

import random
from dataclasses import replace
from itertools import pairwise, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model
from runs.run_jobs import INCHES, METRIC, assert_it_can_be_built, cuts_of, job_of, rechecked

from planner.runs.anew import in_line
from planner.runs.certificate import RunCertificate
from planner.runs.choose import begin_runs, plain, prove
from planner.runs.effort import Effort
from planner.runs.job import Bar, Cut, Job, Run, Single
from planner.runs.joints import Joints
from planner.runs.lots import together
from planner.runs.pack import bars_for, bought

# By hand


def beside_each_other() -> Job:
    """Runs of 4.5 m and 5.1 m, the second beginning 1.5 m before the first.

    The first is 1.8 + 2.7 m. The second is 3.3 + 1.8, its joint beside that of the first (1.8 m from its start), and
    1.8 + 1.8 come from one main: three mains. Or it is 1.7 + 3.4: 1.6 m clear of it, but no two pieces share one: four.
    """
    first = Run("M1", 0.0, (Cut(18_000, 0, 27_000, 1800.0),), (1,))
    second = Run("M2", -1500.0, (Cut(33_000, 0, 18_000, 3300.0), Cut(17_000, 0, 34_000, 1700.0)), (0,))
    return Job(replace(METRIC, kerf=0), (first, second), (), 600.0)


def test_a_main_is_saved_though_joints_come_to_stand_in_line() -> None:
    begun = begin_runs(beside_each_other(), 5.0)
    assert (begun.bought, in_line(begun.job, begun.chosen)) == (3, 2)


def test_joints_stand_apart_where_that_is_wished_for_a_main_more() -> None:
    begun = begin_runs(beside_each_other(), 5.0, apart=True)
    assert (begun.bought, in_line(begun.job, begun.chosen)) == (4, 0)
    assert begun.lower_bound <= 3  # the bound is over every way, so that nobody believes these four to be the least


def test_two_runs_share_a_main_where_they_are_begun_for_it() -> None:
    """Two runs of 4.5 m. The longest piece first, 3.6 + 0.9 twice: two rests never share a main, so four mains.

    One begun with 0.9 and the other ended with 0.9, or the like: those two come from one main, so three.
    """
    job = job_of([(45_000, 0), (45_000, 0)], replace(METRIC, kerf=0))
    begun = begin_runs(job, 5.0)
    assert_it_can_be_built(begun)
    assert (begun.bought, begun.lower_bound) == (3, 3)  # 9 m are two and a half mains


def test_what_is_plain_and_no_worse_stays() -> None:
    """One run of 5 m takes two mains however it is begun: the longest first piece."""
    job = job_of([(50_000, 750)])
    begun = begin_runs(job, 5.0)
    assert begun.chosen == (job.runs[0].cuts[0],)
    assert begun.chosen[0].first == 35_250
    assert begun.proven


def test_a_run_that_one_main_spans_is_never_spliced() -> None:
    """Ten runs of 2 m: 20 m would be six mains, but a main gives only one piece of 2 m: ten."""
    begun = begin_runs(job_of([(20_000, 750)] * 10), 5.0)
    assert_it_can_be_built(begun)
    assert (begun.bought, begun.lower_bound, begun.bars[0].singles) == (10, 10, ((20_000, 750),))


def test_short_runs_need_slots_where_the_cross_tees_are() -> None:
    """Runs of 1.0 m, first slot 75 beyond a multiple of 150: begun at 75, 1275 (after 1078), 2475: ends at 3475.

    Three from a main of 3.6 m; of 1.15 m (75, 1275, 2475, ending at 3625) only two.
    """
    assert begin_runs(job_of([(10_000, 750)] * 9), 5.0).bought == 3
    begun = begin_runs(job_of([(11_500, 750)] * 8), 5.0)
    assert_it_can_be_built(begun)
    assert (begun.bought, begun.lower_bound) == (4, 4)


def test_scraps_that_are_thrown_away_begin_no_run() -> None:
    """Two runs of 4.5 m, as above: 0.9 m from a main leave 2.7 m. Where nothing under 3 m is kept, four are needed."""
    for reuse, fewest in ((20_000, 3), (30_000, 4)):
        begun = begin_runs(job_of([(45_000, 0)] * 2, Bar(36_000, 1_500, 0, reuse)), 5.0)
        assert_it_can_be_built(begun)
        assert (begun.bought, begun.lower_bound) == (fewest, fewest)


# The cases of a study, each with a number that two other solvers had proved


@pytest.mark.parametrize(
    ("lengths", "bar", "naive", "fewest"),
    [
        ([(132_000, 0)] * 10, INCHES, 40, 37),  # 132 m are 36.1 bars of 12 ft
        ([(119_800, 0)] * 20, METRIC, 80, 67),  # 239.6 m are 66.6 bars of 3600
    ],
)
def test_equal_mains(lengths: list[tuple[int, int]], bar: Bar, naive: int, fewest: int) -> None:
    """Naive: each run starts on a new bar."""
    job = job_of(lengths, bar)
    assert sum(-(-length // bar.length) for length, _ in lengths) == naive
    begun = begin_runs(job, 5.0)
    assert_it_can_be_built(begun)
    assert (begun.bought, begun.lower_bound) == (fewest, fewest)
    assert fewest == -(-sum(length for length, _ in lengths) // bar.length)
    assert in_line(job, begun.chosen) == 0


def test_an_l_room_of_fourteen_mains() -> None:
    """Four of 12.75, six of 11.58 and four of 6 m: the plain way 42; the length alone allows 41."""
    job = job_of([(127_500, 0)] * 4 + [(115_800, 0)] * 6 + [(60_000, 0)] * 4)
    begun = begin_runs(job, 5.0)
    assert_it_can_be_built(begun)
    assert (bought(job, plain(job), bars_for(job, plain(job))), begun.bought, begun.lower_bound) == (42, 41, 41)


def test_distinct_mains_take_hardly_more_than_their_length() -> None:
    """Twenty-four runs of 6 to 22 m, each with its own slots."""
    dice = random.Random(3)
    lengths = [(dice.randint(60_000, 220_000), dice.randint(0, 1_400)) for _ in range(24)]
    job = job_of(lengths)
    begun = begin_runs(job, 10.0)
    assert_it_can_be_built(begun)
    by_length = -(-sum(length for length, _ in lengths) // 36_000)
    assert by_length <= begun.lower_bound <= begun.bought <= begun.lower_bound + 1
    assert begun.bought < bought(job, plain(job), bars_for(job, plain(job)))


# Second opinions


def fewest_by_places(job: Job) -> int:
    """CP-SAT lays every piece on a bar, as an interval that must not meet another; it knows of no flow and no proof."""
    bar, model = job.bar, cp_model.CpModel()
    bars = range(2 * len(job.runs) + len(job.singles))
    on: list[list[cp_model.IntervalVar]] = [[] for _ in bars]
    used = [model.new_bool_var("") for _ in bars]
    whole = []

    def laid(start: cp_model.LinearExprT, length: int, when: cp_model.IntVar) -> None:
        spots = [model.new_bool_var("") for _ in bars]
        model.add(sum(spots) == 1).only_enforce_if(when)
        model.add(sum(spots) == 0).only_enforce_if(~when)
        for number, spot in enumerate(spots):
            model.add_implication(spot, used[number])
            on[number].append(model.new_optional_fixed_size_interval_var(start, length + bar.kerf, spot, ""))

    for run in job.runs:
        ways = [model.new_bool_var("") for _ in run.cuts]
        model.add_exactly_one(ways)
        for cut, way in zip(run.cuts, ways, strict=True):
            whole.append(cut.uncut(bar) * way)
            if cut.rest:
                laid(0, cut.rest, way)
            if first := cut.sawn(bar):
                laid(bar.length - first, first, way)
    always = model.new_constant(1)
    for single in job.singles:
        last = bar.length - single.length
        step, slot = (1, 0) if single.slot is None else (bar.pitch, single.slot)
        number = model.new_int_var(0, (last - slot) // step, "")
        laid(slot + step * number, single.length, always)
    for intervals in on:
        model.add_no_overlap(intervals)
    for one, other in pairwise(used):
        model.add_implication(other, one)
    model.minimize(sum(whole) + sum(used))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 8
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


@pytest.mark.parametrize("seed", range(14))
def test_another_solver_finds_no_fewer(seed: int) -> None:
    """Few slots, so that there are few ways: bars of 3 m, a slot every 0.5 m; runs of up to 7 m and short ones."""
    dice = random.Random(seed)
    bar = Bar(30_000, 5_000, dice.choice([0, 30]))
    alike = dice.randint(0, 4_000)
    lengths = [
        (dice.randint(3_000, 25_000) if dice.random() < 0.35 else dice.randint(31_000, 70_000), alike)
        for _ in range(dice.randint(3, 5))
    ]
    if seed % 3 == 0:
        lengths = [(length, dice.randint(0, 4_000)) for length, _ in lengths]
    job = job_of(lengths, bar)
    if seed % 4 == 1:  # short ones that meet no cross tee and may lie anywhere
        job = replace(job, singles=tuple(replace(single, slot=None) for single in job.singles))
    begun = begin_runs(job, 30.0)
    assert_it_can_be_built(begun)
    assert begun.proven
    assert begun.bought == fewest_by_places(job)


def fewest_of_all(job: Job) -> int:
    """Every way of every run with every other, pieces matched by trying."""
    return min(
        sum(cut.uncut(job.bar) for cut in cuts)
        + _laid(
            [cut.sawn(job.bar) for cut in cuts if cut.sawn(job.bar)], [cut.rest for cut in cuts if cut.rest], job.bar
        )
        for cuts in product(*(run.cuts for run in job.runs))
    )


def _laid(firsts: list[int], rests: list[int], bar: Bar) -> int:
    """Bars for some firsts and rests: the first of the firsts alone, or with each rest."""
    if not firsts:
        return len(rests)
    one, others = firsts[0], firsts[1:]
    fewest = 1 + _laid(others, rests, bar)
    for number, rest in enumerate(rests):
        longest = max(one, rest)
        if one + rest + bar.kerf <= bar.length and (not bar.reuse or longest + bar.kerf + bar.reuse <= bar.length):
            fewest = min(fewest, 1 + _laid(others, rests[:number] + rests[number + 1 :], bar))
    return fewest


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.tuples(st.integers(301, 900), st.integers(0, 49)), min_size=1, max_size=3),
    st.sampled_from([0, 3]),
    st.sampled_from([0, 60, 120]),
)
def test_no_choice_of_all_there_are_needs_fewer(lengths: list[tuple[int, int]], kerf: int, reuse: int) -> None:
    job = job_of(lengths, Bar(300, 50, kerf, reuse))
    if job.singles:
        job = replace(job, singles=())
    begun = begin_runs(job, 10.0)
    assert_it_can_be_built(begun)
    assert begun.bought == begun.lower_bound == (fewest_of_all(job) if job.runs else 0)


# What always holds

some_runs = st.lists(st.tuples(st.integers(1_000, 200_000), st.integers(0, 1_499)), min_size=1, max_size=9)


@settings(max_examples=60, deadline=None)
@given(some_runs, st.sampled_from([0, 30]), st.sampled_from([0, 3_000, 12_000]))
def test_what_is_chosen_can_be_built(lengths: list[tuple[int, int]], kerf: int, reuse: int) -> None:
    job = job_of(lengths, Bar(36_000, 1_500, kerf, reuse))
    begun = begin_runs(job, 1.0)
    assert_it_can_be_built(begun)
    first = plain(job)
    assert begun.bought <= bought(job, first, bars_for(job, first))
    assert begun.bought * 36_000 >= sum(length for length, _ in lengths if length > 36_000)


@settings(max_examples=30, deadline=None)
@given(some_runs, some_runs)
def test_lots_cut_together_take_no_more_runs_begun_as_they_are(
    one: list[tuple[int, int]], other: list[tuple[int, int]]
) -> None:
    """Runs only: what two rooms need by themselves is one way to cut both."""
    lots = [begin_runs(replace(job_of(lengths), singles=()), 1.0) for lengths in (one, other)]
    both = together(lots, ["a", "b"], 1.0)
    assert_it_can_be_built(both)
    assert both.bought <= sum(lot.bought for lot in lots)
    assert both.lower_bound <= both.bought
    assert len({run.name for run in both.job.runs}) == len(both.job.runs)


def test_the_same_job_gives_the_same_cuts() -> None:
    dice = random.Random(8)
    job = job_of([(dice.randint(40_000, 150_000), dice.randint(0, 1_400)) for _ in range(9)])
    assert begin_runs(job, 60.0) == begin_runs(job, 60.0)


def test_no_time_still_gives_the_plain_way_and_a_bound() -> None:
    job = job_of([(132_000, 0)] * 10)
    begun = begin_runs(job, 0.0)
    assert_it_can_be_built(begun)
    assert list(begun.chosen) == plain(job)
    assert begun.lower_bound == 37 < begun.bought == 40


def test_a_hall_of_distinct_runs_gets_an_answer_and_its_gap() -> None:
    """120 runs of 60 to 300 m: five or six thousand mains; the plain way is some short, the bound tells how much."""
    dice = random.Random(2)
    job = job_of([(dice.randint(600_000, 3_000_000), dice.randint(0, 1_400)) for _ in range(120)])
    begun = begin_runs(job, 2.0)
    assert_it_can_be_built(begun)
    assert begun.bought - begun.lower_bound <= begun.bought // 500


def test_nothing_is_nothing() -> None:
    begun = begin_runs(Job(METRIC, ()), 1.0)
    assert (begun.bought, begun.lower_bound, begun.bars) == (0, 0, ())


# Proofs


def test_a_proof_that_rises_or_is_too_dear_does_not_hold() -> None:
    by_length = prove(job_of([(50_000, 0)]), Effort(0))
    assert by_length.holds()
    assert not replace(by_length, most=35_999).holds()
    assert replace(by_length, most=100, steps=((0, 100), (500, 40), (9_000, 0))).holds()
    for steps in (((0, 100), (500, 101)), ((0, 99), (500, 40)), ((0, 100), (500, 40), (400, 30)), ((0, 100), (5, -1))):
        assert not replace(by_length, most=100, steps=steps).holds()


@settings(max_examples=25, deadline=None)
@given(
    st.lists(st.tuples(st.integers(301, 900), st.integers(0, 49)), min_size=1, max_size=3),
    st.lists(st.tuples(st.integers(1, 320), st.integers(0, 100)), max_size=6),
    st.lists(st.tuples(st.integers(20, 200), st.sampled_from([None, 0, 10])), max_size=2),
)
def test_whatever_falls_proves_no_more_than_is_true(
    lengths: list[tuple[int, int]], falls: list[tuple[int, int]], short: list[tuple[int, int | None]]
) -> None:
    """Any worth that never rises makes a bound that holds, be it a good one or not."""
    job = job_of(lengths, Bar(300, 50, 3))
    singles = tuple(Single(f"S{k}", length, slot) for k, (length, slot) in enumerate(short))
    job = replace(job, singles=(*job.singles, *singles))
    worth = 100
    steps = [(0, worth)]
    for place, lost in sorted(dict(falls).items()):
        worth = max(worth - lost, 0)
        steps.append((place, worth))
    kinds = prove(job, Effort(0))
    certificate = RunCertificate(job.bar, kinds.runs, kinds.singles, 100, tuple(steps))
    assert certificate.holds()
    assert certificate.bound == rechecked(certificate)
    assert certificate.bound <= begin_runs(job, 10.0).bought


# Joints


def test_the_plain_way_staggers_joints() -> None:
    """Three runs of 7.5 m: first pieces 3600, then the mirror image of that, then 3600 again."""
    job = job_of([(75_000, 0)] * 3)
    first, second, third = plain(job)
    assert (first.first, third.first) == (36_000, 36_000)
    assert Joints(0, 3600, 0).distance(Joints(5, 3600, 3)) == float("inf")
    assert job.runs[1].joints(second, METRIC).distance(job.runs[0].joints(first, METRIC)) >= 600


def test_joints_in_line_are_avoided_where_that_costs_no_bar() -> None:
    for seed in range(6):
        dice = random.Random(seed)
        job = job_of([(dice.randint(40_000, 140_000), 0)] * 6)
        begun = begin_runs(job, 10.0)
        assert_it_can_be_built(begun)
        assert begun.proven
        assert in_line(job, begun.chosen) == 0


def test_a_run_goes_clear_of_what_it_lies_under() -> None:
    """A joint of a carrier at 3600: a strip of 5 m over it has its own at 3000 or less."""
    run = Run("CS1", 0.0, cuts_of(50_000, 0, METRIC), under=(Joints(3600.0, 3600.0, 1),))
    begun = begin_runs(Job(METRIC, (run,), apart=600.0), 5.0)
    assert begun.chosen[0].first <= 30_000


def test_a_run_with_one_way_takes_it() -> None:
    only = Cut(20_000, 0, 16_000, 2_000.0)
    begun = begin_runs(Job(METRIC, (Run("M1", 0.0, (only,)),)), 5.0)
    assert (begun.chosen, begun.bought) == ((only,), 2)  # 20,000 + 16,000 and a kerf are more than a bar


@settings(max_examples=20, deadline=None)
@given(st.lists(st.tuples(st.integers(361, 900), st.integers(0, 19)), min_size=2, max_size=3), st.sampled_from([6, 12]))
def test_apart_first_is_the_best_of_all_ways_by_that_measure(runs: list[tuple[int, int]], apart: int) -> None:
    """Runs in line, then bars: no better among all combinations of every third way."""
    job = replace(job_of([(length * 100, off * 75) for length, off in runs]), apart=apart * 100.0)
    begun = begin_runs(job, 30.0, apart=True)
    assert_it_can_be_built(begun)
    ways = product(*(run.cuts[::3] for run in job.runs))
    best = min((in_line(job, chosen), bought(job, chosen, bars_for(job, chosen))) for chosen in ways)
    assert (in_line(job, begun.chosen), begun.bought) <= best
