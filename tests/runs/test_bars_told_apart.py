"""Small jobs at the saw, worked out by hand, each of which tells two readings of one rule apart.

Bars are 3600 mm with slots every 150 mm and a saw of 3 mm (`METRIC`), unless said; lengths in tenths of a millimetre.
"""

import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from runs.run_jobs import METRIC, assert_it_can_be_built, cuts_of, job_of, rechecked

from planner.runs import choose, tidy
from planner.runs.anew import Enough, cut_anew, in_line
from planner.runs.certificate import RunCertificate, ValuedRun, ValuedSingle
from planner.runs.choose import begin_runs, plain, prove
from planner.runs.effort import Effort
from planner.runs.ends import longer_ends, short
from planner.runs.flow import Flow
from planner.runs.job import Bar, Cut, Job, LaidBar, Run, Single
from planner.runs.lots import begun_together
from planner.runs.nearness import Nearness
from planner.runs.pack import bars_for, bought
from planner.runs.solver import quiet_solver
from planner.runs.tenths import kerf_tenths, tenths
from planner.runs.tidy import tidied

NO_KERF = replace(METRIC, kerf=0)


# What a proof counts


def test_no_slot_beyond_the_last_that_a_piece_fits_in() -> None:
    """Bars of 30 mm, a slot every 5: a piece of 20.1 begins at 0 or 5, for at 10 it would end at 30.1.

    By length it is worth 20.1 wherever it lies, so that three are 60.3 of bars of 30: three bars. At 10 it would lose
    20.0 of the bar only, and 60.0 are two.
    """
    three = RunCertificate(Bar(300, 50), (), (ValuedSingle(201, 0, 3),), 300)
    assert three.bound == 3


def test_two_kinds_that_may_lie_anywhere_stand_one_behind_the_other() -> None:
    """2000 + 1600 are 3600: of either kind five come from five bars, and the model of bars knows that."""
    kinds = [ValuedSingle(20_000, None, 5), ValuedSingle(16_000, None, 5)]
    found = Flow(NO_KERF, (), kinds).whole(5, Effort.of(5))
    assert found.least == 5
    assert sorted(bar.singles for bar in found.bars) == [((20_000, None), (16_000, None))] * 5


def test_a_bar_begins_at_its_left_end() -> None:
    """Ten runs of 2 m with the first slot at the end of the bar: each takes a bar, though 20 m are six bars long."""
    begun = begin_runs(job_of([(20_000, 0)] * 10), 5.0)
    assert_it_can_be_built(begun)
    assert (begun.bought, begun.lower_bound) == (10, 10)


def test_prices_are_asked_for_only_where_the_length_leaves_a_doubt() -> None:
    """Ten runs of 2 m by length are 20.03 m of 3.6: six bars; prices prove ten. With six as enough, length will do."""
    job = job_of([(20_000, 0)] * 10)
    assert prove(job, Effort.of(5)).bound == 10
    by_length = prove(job, Effort.of(5), 6)
    assert (by_length.bound, by_length.steps) == (6, ())


@pytest.mark.parametrize(("beyond", "proven"), [(0, True), (1, False)])
def test_with_too_many_ways_there_is_no_model_and_nothing_is_called_proven(
    beyond: int, proven: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Four runs of 4.5 m are five bars long and take six, as the model of bars knows, if it may hold all ways."""
    job = job_of([(45_000, 0)] * 4)
    monkeypatch.setattr(choose, "MOST_WAYS", len(job.runs[0].cuts) - beyond)
    begun = begin_runs(job, 5.0)
    assert (begun.bought, begun.lower_bound, begun.proven) == (6, 6 if proven else 5, proven)


def test_a_run_as_long_as_a_bar_is_a_bar_in_the_model_too() -> None:
    """Three runs of 3600 and two of 2000: five bars, of which two are sawn."""
    kinds = [ValuedSingle(36_000, None, 3), ValuedSingle(20_000, None, 2)]
    found = Flow(METRIC, (), kinds).whole(5, Effort.of(5))
    assert found.least == 5
    assert [bar.singles for bar in found.bars] == [((20_000, None),)] * 2


def test_a_slot_beyond_the_last_place_is_the_last_place() -> None:
    """Bars of 30 mm: a piece of 26 begins at 4 at most, though its slot is at 5: it is worth 26, two take two bars."""
    assert RunCertificate(Bar(300, 50), (), (ValuedSingle(260, 50, 2),), 300).bound == 2


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 320), st.integers(0, 100)), max_size=5),
    st.integers(20, 290),
    st.sampled_from([None, 0, 10]),
    st.sampled_from([0, 3]),
)
def test_a_single_piece_is_worth_what_it_costs_where_it_costs_least(
    falls: list[tuple[int, int]], length: int, slot: int | None, kerf: int
) -> None:
    """A hundred alike, by ten lines that try every place."""
    steps, worth = [(0, 100)], 100
    for place, lost in sorted(dict(falls).items()):
        worth = max(worth - lost, 0)
        steps.append((place, worth))
    proof = RunCertificate(Bar(300, 50, kerf), (), (ValuedSingle(length, slot, 100),), 100, tuple(steps))
    assert proof.holds()
    assert proof.bound == rechecked(proof)


def test_one_bar_more_than_the_bound_is_not_proven() -> None:
    begun = begin_runs(job_of([(50_000, 0)]), 1.0)
    assert begun.proven
    assert not replace(begun, bought=begun.bought + 1).proven
    assert not replace(begun, lower_bound=begun.lower_bound - 1).proven


# What lies on a bar


def test_the_saw_takes_its_part_between_a_rest_and_a_single_piece() -> None:
    """4500 leaves 2700 less 3 of its second bar: a piece of 2697 comes from there, one of 2697.1 does not."""
    run = Run("M1", 0.0, (Cut(36_000, 0, 9_000, 3_600.0),))
    fits, short = (Job(METRIC, (run,), (Single("S", length),)) for length in (26_970, 26_971))
    assert begin_runs(fits, 1.0).bought == 2
    assert begin_runs(short, 1.0).bought == 3


def test_the_saw_takes_its_part_between_a_single_piece_and_what_begins_a_run() -> None:
    """A run of 5600 that is begun with 2000: 1600 less 3 are left before it."""
    run = Run("M1", 0.0, (Cut(20_000, 1, 0, 2_000.0),))
    fits, short = (Job(METRIC, (run,), (Single("S", length),)) for length in (15_970, 15_971))
    assert begin_runs(fits, 1.0).bought == 2
    assert begin_runs(short, 1.0).bought == 3


def test_the_longest_single_pieces_are_laid_first() -> None:
    """1100, 1100, 1300, 1300, 2200, 2200 in this order: 2200 + 1300 twice and 1100 + 1100 are three bars."""
    singles = tuple(
        Single(f"S{k}", length) for k, length in enumerate((11_000, 11_000, 13_000, 13_000, 22_000, 22_000))
    )
    laid = bars_for(Job(NO_KERF, (), singles), [])
    assert sorted(tuple(length for length, _ in bar.singles) for bar in laid) == [
        (11_000, 11_000),
        (22_000, 13_000),
        (22_000, 13_000),
    ]


def test_a_rest_that_is_thrown_away_carries_no_piece() -> None:
    """Off-cuts under 1000 are scrap: beside 2600 less than 1000 is left, beside 2597 just 1000."""
    keeps = replace(METRIC, reuse=10_000)
    assert (keeps.seat(26_000), keeps.seat(25_970)) == (36_000, 25_970)
    assert bars_for(Job(keeps, _begun_and_ended(26_000, 5_000)), [Cut(26_000, 0, 5_000, 2_600.0)]) == (
        LaidBar(0, (), 26_000),
        LaidBar(5_000),
    )
    assert bars_for(Job(keeps, _begun_and_ended(25_970, 5_000)), [Cut(25_970, 0, 5_000, 2_597.0)]) == (
        LaidBar(5_000, (), 25_970),
    )


def test_no_long_rest_goes_beside_a_short_piece_where_what_it_leaves_is_scrap() -> None:
    """A rest of 2600 takes a whole bar, for less than 1000 is left beside it: 500 that begins a run takes another."""
    keeps = replace(METRIC, reuse=10_000)
    assert bars_for(Job(keeps, _begun_and_ended(5_000, 26_000)), [Cut(5_000, 0, 26_000, 500.0)]) == (
        LaidBar(0, (), 5_000),
        LaidBar(26_000),
    )


def test_lengths_at_the_saw() -> None:
    """Down to whole tenths, the kerf up, but for the noise of floats: 1/8 in is 3.175 mm, 32 tenths."""
    assert [tenths(mm) for mm in (3600.0, 3599.999999, 3599.99, 0.3 - 0.1 - 0.1)] == [36_000, 36_000, 35_999, 1]
    assert [kerf_tenths(mm) for mm in (0.0, 3.0, 3.000001, 3.175)] == [0, 30, 30, 32]


def test_an_effort_of_one_stroke_is_not_spent() -> None:
    assert (Effort(1).spent, Effort(0).spent, Effort(-1).spent) == (False, True, True)


def _begun_and_ended(first: int, rest: int) -> tuple[Run, ...]:
    return (Run("M1", 0.0, (Cut(first, 0, rest, first / 10),)),)


# The plain way, and what stays as it is


def test_after_the_first_way_the_plain_way_takes_its_mirror_image() -> None:
    """M1 is spliced at 1800. M2 may be at 1800, in line, at 2550 or at 3000, both clear: the last, then the second."""
    job = one_beside_one(18_000, 25_500, 30_000)
    assert plain(job)[1].first == 30_000
    assert plain(one_beside_one(25_500, 26_000, 30_000))[1].first == 25_500
    assert plain(one_beside_one(18_000, 25_500, 26_000, 20_000))[1].first == 25_500


def test_of_equals_what_was_first_stays() -> None:
    """A run of 5 m takes two bars however it is begun: the plain way, whatever is offered to begin with."""
    job = job_of([(50_000, 750)])
    assert begin_runs(job, 1.0, start=job.runs[0].cuts[1:2]).chosen == job.runs[0].cuts[:1]


def test_joints_in_line_are_freed_though_no_bar_is_to_be_saved() -> None:
    """M2 has one way, beside M1's first; M1's other way takes as many bars, three in all."""
    ways = (Cut(18_000, 0, 27_000, 1_800.0), Cut(27_000, 0, 18_000, 2_700.0))
    runs = (Run("M1", 0.0, ways, (1,)), Run("M2", 0.0, ways[:1], (0,)))
    job = Job(METRIC, runs, (), 600.0)
    assert in_line(job, plain(job)) == 2
    assert in_line(job, begin_runs(job, 1.0).chosen) == 0


def test_rooms_stay_as_they_are_begun_where_another_way_is_only_as_good() -> None:
    """Two rooms with a run of 4.5 m, begun with 3450: two bars each, four together; so with 3600 in the plain way."""
    room = begin_runs(job_of([(45_000, 0)]), 0.0)
    other = room.job.runs[0].cuts[1]
    rooms = [replace(room, chosen=(other,), bars=bars_for(room.job, [other]))] * 2
    assert begun_together(rooms, 4, 0.0) == tuple(rooms)


def test_an_end_of_just_the_least_is_not_short() -> None:
    cuts = [Cut(3_000, 1, 0), Cut(2_999, 1, 0), Cut(36_000, 0, 3_000), Cut(36_000, 0, 2_999), Cut(36_000, 0, 0)]
    assert [short(cut, 3_000) for cut in cuts] == [False, True, False, True, False]


def test_runs_without_short_ends_keep_theirs() -> None:
    """M1 is 300 + 3300 where 1800 + 1800 would do: 300 is no short end, so nothing is moved."""
    ways = (Cut(3_000, 0, 33_000, 300.0), Cut(18_000, 0, 18_000, 1_800.0))
    begun = begin_runs(Job(METRIC, (Run("M1", 0.0, ways),)), 1.0)
    assert begun.chosen == ways[:1]
    assert longer_ends(begun).chosen == ways[:1]


# Runs cut anew, and tidied


def in_line_with_the_first() -> Job:
    """M2 and M3 are alike; spliced at 1800 mm each stands in line with M1 or M4, at 2700 with neither.

    M1 is spliced at 1800, M4 at 2700; M2 stands beside M1, M3 beside M4. Without a kerf 1800 + 1800 come from one bar:
    two such bars while two runs are begun with 1800 and two are ended with it, one if only one of them is recut.
    """
    ways = (Cut(18_000, 0, 27_000, 1_800.0), Cut(27_000, 0, 18_000, 2_700.0))
    return Job(
        NO_KERF,
        (
            Run("M1", 0.0, ways[:1], (1,)),
            Run("M2", 0.0, ways, (0,)),
            Run("M3", 0.0, ways, (3,)),
            Run("M4", 0.0, ways[1:], (2,)),
        ),
        (),
        600.0,
    )


def test_two_alike_runs_change_places_where_that_frees_both() -> None:
    """M2 at 1800 beside M1 at 1800, M3 at 2700 beside M4 at 2700: changed, all are clear, from the same pieces."""
    job = in_line_with_the_first()
    short, long = job.runs[1].cuts
    wrong = [short, short, long, long]
    assert (in_line(job, wrong), bought(job, wrong, bars_for(job, wrong))) == (4, 6)
    assert tidied(job, wrong, 6, Nearness(job)) == [short, long, short, long]


def test_runs_that_stand_clear_keep_their_places() -> None:
    job = in_line_with_the_first()
    short, long = job.runs[1].cuts
    right = [short, long, short, long]
    assert tidied(job, right, bought(job, right, bars_for(job, right)), Nearness(job)) == right


def one_beside_one(*begun: int) -> Job:
    """M1 is spliced at 1800 mm; M2, of 4500, at one of some places."""
    ways = tuple(Cut(first, 0, 45_000 - first, first / 10) for first in begun)
    return Job(
        METRIC, (Run("M1", 0.0, (Cut(18_000, 0, 18_000, 1_800.0),), (1,)), Run("M2", 0.0, ways, (0,))), (), 600.0
    )


def test_a_better_way_is_found_behind_a_worse_one() -> None:
    """M2 at 1950 is 150 from M1, at 1800 nothing, at 2550 750: clear. The worse one stands before it in the list."""
    job = one_beside_one(19_500, 18_000, 25_500)
    now = [job.runs[0].cuts[0], job.runs[1].cuts[0]]
    assert tidied(job, now, 4, Nearness(job))[1].first == 25_500


def test_the_best_of_the_better_ways_is_taken() -> None:
    """1800 is in line, 2100 stands 300 from M1, 2550 clear: at once that, not the first that is better."""
    job = one_beside_one(18_000, 21_000, 25_500)
    now = [job.runs[0].cuts[0], job.runs[1].cuts[0]]
    assert tidied(job, now, 4, Nearness(job))[1].first == 25_500


def two_that_suit_each_other() -> Job:
    """M1 is 800 + 1700 and begins a metre further on; M2, of 4500, is spliced at 1800, beside M1's splice, or at 2550.

    1800 + 1700 and 800 + 2700 come from one bar each. With 2550 + 1950 only 800 and 1950 share one: three bars.
    """
    ways = (Cut(18_000, 0, 27_000, 1_800.0), Cut(25_500, 0, 19_500, 2_550.0))
    first = Run("M1", 1_000.0, (Cut(8_000, 0, 17_000, 800.0),), (1,))
    return Job(METRIC, (first, Run("M2", 0.0, ways, (0,))), (), 600.0)


@pytest.mark.parametrize(("most", "begun"), [(2, 18_000), (3, 25_500)])
def test_no_way_is_better_that_takes_a_bar_more(most: int, begun: int) -> None:
    job = two_that_suit_each_other()
    now = [run.cuts[0] for run in job.runs]
    assert (bought(job, now, bars_for(job, now)), in_line(job, now)) == (2, 2)
    assert tidied(job, now, most, Nearness(job))[1].first == begun


def test_who_has_no_work_left_gives_back_what_there_is(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tidy, "MOST_WORK", 0)
    job = two_that_suit_each_other()
    now = [run.cuts[0] for run in job.runs]
    assert tidied(job, now, 2, Nearness(job)) == now


@settings(max_examples=12, deadline=None)
@given(st.integers(0, 10_000), st.booleans(), st.booleans())
def test_cut_anew_is_no_worse_by_any_measure_in_its_order(seed: int, joints: bool, apart: bool) -> None:
    """Bars, runs in line (the other way round with `apart`), then pieces; or the squares of what bars leave."""
    dice = random.Random(seed)
    job = job_of([(dice.randint(37_000, 150_000), dice.randint(0, 1_499)) for _ in range(dice.randint(2, 6))])
    if not job.runs:
        return
    start = plain(job)

    def rank(cuts: list[Cut]) -> tuple[int, int, int]:
        bars = bars_for(job, cuts)
        pieces = sum(cut.count for cut in cuts)
        left = sum((job.bar.length - bar.rest - bar.first) ** 2 for bar in bars)
        first = (bought(job, cuts, bars), in_line(job, cuts))
        return (*(first[::-1] if apart else first), pieces if joints else -left)

    found = cut_anew(job, start, Effort.of(0.1), Enough(0, apart), Nearness(job), joints=joints)
    assert rank(found) <= rank(start)
    assert all(cut in run.cuts for run, cut in zip(job.runs, found, strict=True))


def test_what_is_enough_is_left_alone() -> None:
    """Two runs of 5 m, 3600 + 1400 and 1400 + 3600: the two of 1400 share a bar. Where three are enough, that stays."""
    job = job_of([(50_000, 0), (50_000, 0)])
    start, whole = plain(job), Effort.of(1).left
    assert (bought(job, start, bars_for(job, start)), in_line(job, start)) == (3, 0)
    enough, tried = Effort.of(1), Effort.of(1)
    assert cut_anew(job, start, enough, Enough(3), Nearness(job), joints=False) == start
    cut_anew(job, start, tried, Enough(2), Nearness(job), joints=False)
    assert enough.left == whole > tried.left  # what is tried is paid for


# The solver


def test_the_solver_is_quiet_and_always_the_same(capfd: pytest.CaptureFixture[str]) -> None:
    solver = quiet_solver()
    assert [solver.getOptionValue(name)[1] for name in ("threads", "random_seed")] == [1, 0]
    Flow(METRIC, (ValuedRun(cuts_of(50_000, 0, METRIC), 3),), ()).whole(0, Effort.of(1))
    shown = capfd.readouterr()
    assert (shown.out, shown.err) == ("", "")


def test_whole_numbers_are_sought_for_large_jobs_too(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whether there are few ways or many says when whole numbers are sought, not whether."""
    sought: list[str] = []
    monkeypatch.setattr(choose, "_whole", lambda search: sought.append("whole"))
    monkeypatch.setattr(choose, "_manners", lambda job: iter(()))
    monkeypatch.setattr(choose, "cut_anew", lambda job, chosen, *_, **__: sought.append("anew") or chosen)
    job = job_of([(132_000, 0)] * 10)  # 40 bars as they come, 37 by length
    for beyond in (0, 1):
        monkeypatch.setattr(choose, "FEW_WAYS", len(job.runs[0].cuts) - beyond)
        choose.begin_runs(job, 1.0)
    assert sought == ["whole", "anew", "anew", "whole"]
