"""Runs of several rooms from the same bars: never more than each by itself, fewer where one room's rest suits another.

Bars are 3600 mm, slots 150 apart, the saw takes 3 mm. A run of 4500 is a whole bar and 900 more. The 900 may end it
(and keeps a left factory end) or begin it (and keeps a right one); from one bar comes one of each. So one run takes two
bars, two take three, if one of them is begun with its 900 and the other is not.
"""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from runs.run_jobs import METRIC, assert_it_can_be_built, job_of

from planner.runs.choose import Begun, begin_runs
from planner.runs.lots import begun_together, together


def lot(*lengths: int, off: int = 0) -> Begun:
    return begin_runs(job_of([(length, off) for length in lengths]), 0.5)


def test_two_rooms_as_they_are_begun_by_themselves() -> None:
    """Each begins with a whole bar: two rests of 900, which do not come from one bar. Three would do."""
    rooms = [lot(45_000), lot(45_000)]
    assert [(room.bought, room.proven) for room in rooms] == [(2, True), (2, True)]
    pooled = together(rooms, ["north", "south"], 0.5)
    assert_it_can_be_built(pooled)
    assert (pooled.bought, pooled.lower_bound) == (4, 3)
    assert [run.name for run in pooled.job.runs] == ["north M1", "south M1"]


def test_begun_anew_they_take_a_bar_less() -> None:
    rooms = [lot(45_000), lot(45_000)]
    anew = begun_together(rooms, 4, 1.0)
    assert [room.job for room in anew] == [room.job for room in rooms]
    assert sum(now.chosen != then.chosen for now, then in zip(anew, rooms, strict=True)) == 1
    for room in anew:
        assert_it_can_be_built(room)
        assert room.bought == 2  # by itself it takes what it took
    pooled = together(anew, ["north", "south"], 0.5)
    assert_it_can_be_built(pooled)
    assert (pooled.bought, pooled.proven) == (3, True)


@pytest.mark.parametrize("most", [3, 2])
def test_where_nothing_is_saved_every_room_stays_as_it_is(most: int) -> None:
    """The rooms' bars, with other things cut from what is left of them, are three at most already: why move a mark?"""
    rooms = (lot(45_000), lot(45_000))
    assert begun_together(rooms, most, 1.0) == rooms


def test_single_pieces_keep_their_rooms_names() -> None:
    """Runs of 1000 in either room are one piece each."""
    pooled = together([lot(10_000, 45_000), lot(10_000)], ["north", "south"], 0.5)
    assert_it_can_be_built(pooled)
    assert sorted(single.name for single in pooled.job.singles) == ["north M1", "south M1"]
    assert [run.name for run in pooled.job.runs] == ["north M2"]


def test_single_pieces_share_a_bar_across_rooms_and_with_what_runs_leave() -> None:
    """Three of 1000 and two cuts of 3 mm between them are 3006 of 3600: one bar. A fourth needs another."""
    assert together([lot(10_000), lot(10_000), lot(10_000)], ["a", "b", "c"], 0.5).bought == 1
    assert together([lot(10_000, 10_000), lot(10_000, 10_000)], ["a", "b"], 0.5).bought == 2
    # 4500 leaves 2700 of its second bar: two of 1000 go there
    assert together([lot(45_000), lot(10_000, 10_000)], ["a", "b"], 0.5).bought == 2


@pytest.mark.parametrize(("reuse", "bars"), [(0, 1), (15_940, 1), (15_950, 2)])
def test_no_single_piece_comes_from_a_rest_that_is_thrown_away(reuse: int, bars: int) -> None:
    """Before the third of 1000 is cut 3600 - 2 · 1003 = 1594 are left: enough, if rests are kept from 1594 on."""
    job = job_of([(10_000, 0)] * 3, replace(METRIC, reuse=reuse))
    assert begin_runs(job, 0.5).bought == bars


def test_neighbours_stay_neighbours_in_their_own_room() -> None:
    """Two runs side by side in each room: the second room's stand beside each other, not beside the first room's."""
    pooled = together([lot(45_000, 50_000), lot(47_000, 52_000)], ["a", "b"], 0.2)
    assert [run.beside for run in pooled.job.runs] == [(1,), (0,), (3,), (2,)]


@settings(deadline=None, max_examples=15)
@given(st.lists(st.lists(st.integers(370, 900).map(lambda n: 100 * n), min_size=1, max_size=3), min_size=2, max_size=3))
def test_together_they_never_take_more(rooms: list[list[int]]) -> None:
    begun = [lot(*lengths) for lengths in rooms]
    alone = sum(room.bought for room in begun)
    anew = begun_together(begun, alone, 0.3)
    pooled = together(anew, [f"room {k}" for k in range(len(anew))], 0.2)
    assert_it_can_be_built(pooled)
    assert pooled.bought <= max(alone, together(begun, [""] * len(begun), 0.0).bought)
    assert pooled.lower_bound <= pooled.bought
    for room in anew:
        assert_it_can_be_built(room)
    assert pooled.job.bar == METRIC
