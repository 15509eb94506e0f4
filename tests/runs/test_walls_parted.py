"""Lengths along walls that may be spliced anywhere, each worked out by hand; tenths of a millimetre.

Bars are 3600 mm and the saw takes 3 mm (`METRIC`), unless said.
"""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st
from runs.run_jobs import METRIC

from planner.runs.splices import fewest_by_length, spliced

NO_KERF = replace(METRIC, kerf=0)


@given(st.lists(st.integers(1, 120), min_size=1, max_size=5), st.sampled_from([0, 5]))
def test_the_longest_part_of_a_wall_comes_first(lengths: list[int], reuse: int) -> None:
    rows = spliced([1000 * length for length in lengths], replace(METRIC, reuse=1000 * reuse), 3_000)
    assert [sum(row) for row in rows] == [1000 * length for length in lengths]
    assert all(row == sorted(row, reverse=True) for row in rows)


def test_one_of_three_walls_is_parted_though_scraps_are_thrown_away() -> None:
    """Three walls of 2400 are two bars of 3600: 2400 + 1200 twice, with a splice in the middle of the third wall."""
    assert sorted(spliced([24_000] * 3, replace(NO_KERF, reuse=3_000), 3_000)) == [[12_000, 12_000], [24_000], [24_000]]


def test_two_bars_are_emptied_one_after_the_other() -> None:
    """Six walls of 2400 are four bars: two of them are parted."""
    rows = spliced([24_000] * 6, replace(NO_KERF, reuse=3_000), 3_000)
    assert sorted(rows) == [[12_000, 12_000]] * 2 + [[24_000]] * 4


def test_the_saw_counts_between_parts_of_one_bar() -> None:
    """Two walls of 1800 are a bar of 3600, and with a cut of 3 mm between them more; three of 1198 and two cuts not."""
    assert fewest_by_length([18_000] * 2, METRIC) == 2
    assert fewest_by_length([11_980] * 3, METRIC) == 1
    assert fewest_by_length([18_000] * 2, NO_KERF) == 1


def test_a_wall_is_parted_into_parts_of_just_the_least() -> None:
    """3300, 3300 and 600 are two bars: 300 and 300 of the last wall go on them, and 300 is the least that may be."""
    rows = spliced([33_000, 33_000, 6_000], replace(NO_KERF, reuse=3_000), 3_000)
    assert rows == [[33_000], [33_000], [3_000, 3_000]]
