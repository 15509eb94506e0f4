"""Cutting bars, against the Navy manual, by hand and against brute force."""

import math
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from stock.saws import BOTH, END, INCH, KERF, START, assert_bars_hold, assert_cut_once, borders

from planner.stock.bars import Saw, Wanted, cut_angle, cut_mains, least_bars, pair_cuts, tenths

# Published counts


@pytest.mark.parametrize(
    ("perimeter", "laps", "count"),
    [
        (44 * 12, 0, 4),  # CV-02: 10 x 12 ft room; 44 / 12 = 3.67
        (2 * (163 + 124), 0, 4),  # CV-03: 574 in measured; 574 / 144 = 3.99
        (52 * 12, 0, 5),  # CV-03: the room rounded up to 14 x 12 ft; 52 / 12 = 4.33
        (2 * (163 + 124), 4, 5),  # CV-03: four laps of 1 in; 578 / 144 = 4.01
        (4 * 144, 0, 4),  # no fraction, no piece more
    ],
)
def test_wall_angle_by_the_navy_rule(perimeter: float, laps: float, count: int) -> None:
    """NAVEDTRA 14044 p. 5-16: perimeter over 12 ft, and a piece more for any fraction."""
    assert least_bars((perimeter + laps) * INCH, 144 * INCH) == count


@pytest.mark.parametrize(
    ("stock", "border", "per_tee"),
    [(24, 7, 2), (24, 11.5, 2), (24, 12.25, 1), (48, 14, 2), (48, 38, 1)],
)
def test_border_tees_from_one_cross_tee(stock: float, border: float, per_tee: int) -> None:
    """CV-08, NAVEDTRA 14044 p. 5-17: at most two, also where three would fit (7 in from 24)."""
    cutting = pair_cuts("cross tee", borders(*[border * INCH] * 12), stock * INCH, Saw(KERF))
    assert cutting.bought == 12 // per_tee
    assert cutting.proven


def test_wall_angle_of_the_navy_room_comes_from_four_lengths() -> None:
    """163 and 124 twice each: two whole, and 124 + 19 = 143 in from each of two more."""
    walls = [Wanted(f"W{k}", length * INCH) for k, length in enumerate((144, 19, 124, 144, 19, 124))]
    cutting = cut_angle("wall angle", walls, 144 * INCH, Saw(KERF))
    assert (cutting.bought, cutting.lower_bound) == (4, 4)
    assert cutting.bars[0].count == 2
    assert cutting.bars[0].pieces == ()


# The rules, worked by hand


def test_a_kerf_between_two_pieces_counts() -> None:
    """Two of 300 from 600: with no kerf one tee, with 3 mm two."""
    assert pair_cuts("t", borders(300, 300), 600, Saw()).bought == 1
    assert pair_cuts("t", borders(300, 300), 600, Saw(3)).bought == 2


def test_two_halves_of_24_inches_fit_to_the_tenth() -> None:
    """2 x 304.8 = 609.6; in floats 12 * 25.4 * 2 need not be exactly 24 * 25.4."""
    assert pair_cuts("t", borders(12 * INCH, 12 * INCH), 24 * INCH, Saw()).bought == 1


def test_whole_lengths_are_counted_and_not_cut() -> None:
    wanted = [Wanted("T1", 600, ("factory", "factory"), 7), Wanted("T2", 600, START), Wanted("T3", 200, START)]
    cutting = pair_cuts("t", wanted, 600, Saw(3))
    assert [(bar.count, [p.member for p in bar.pieces], bar.offcut) for bar in cutting.bars] == [
        (8, [], 0),
        (1, ["T3"], 397),
    ]
    assert cutting.bought == 9


def test_a_start_and_an_end_of_a_run_share_a_main() -> None:
    """3600 stock: start 2000 takes end 1500: 2000 + 1500 + 3 = 3503."""
    wanted = [Wanted("M1", 2000, START), Wanted("M1", 1500, END), Wanted("M2", 1700, START)]
    cutting = cut_mains("main tee", wanted, 3600, Saw(3))
    assert sorted(tuple(piece.length for piece in bar.pieces) for bar in cutting.bars) == [(1700,), (2000, 1500)]
    assert cutting.proven


def test_pieces_cut_at_both_ends_lie_between_the_two() -> None:
    """2000 + 900 + 500 and two kerfs are 3406; each middle piece needs up to a slot pitch more to meet its slots.

    900 and 500 with 150 more each: 2000 + 1050 + 650 + 6 = 3706, so one of them goes elsewhere.
    """
    wanted = [Wanted("M1", 2000, START), Wanted("M2", 900, BOTH), Wanted("M3", 500, BOTH)]
    assert cut_mains("main tee", wanted, 3600, Saw(3)).bought == 1
    cutting = cut_mains("main tee", wanted, 3600, Saw(3), pitch=150)
    assert (cutting.bought, cutting.lower_bound, cutting.gap) == (2, 1, 1)
    assert not cutting.proven


def test_two_starts_never_share_a_main() -> None:
    assert cut_mains("m", [Wanted("M1", 500, START), Wanted("M2", 500, START)], 3600, Saw(3)).bought == 2


def test_a_run_of_exactly_one_main_needs_no_kerf_or_a_second_main() -> None:
    """12 ft run with the first tee at 24 in: 135 + 9 in. With snips (no kerf) from one main, with a 1/8 in saw two."""
    wanted = [Wanted("M1", 135 * INCH, START), Wanted("M1", 9 * INCH, END)]
    assert cut_mains("m", wanted, 144 * INCH, Saw()).bought == 1
    assert cut_mains("m", wanted, 144 * INCH, Saw(KERF)).bought == 2


def test_offcuts_are_what_is_left_after_the_saw() -> None:
    """3000 - 1000 - 900 - 2 x 3 = 1094; a piece that leaves less than a kerf leaves nothing."""
    (bar,) = cut_angle("w", [Wanted("W1", 1000), Wanted("W2", 900)], 3000, Saw(3)).bars
    assert bar.offcut == 1094
    (bar,) = cut_angle("w", [Wanted("W1", 2998)], 3000, Saw(3)).bars
    assert bar.offcut == 0


def test_nothing_wanted_is_nothing_bought() -> None:
    assert cut_angle("w", [], 3000, Saw(3)).bought == 0


def test_a_piece_longer_than_its_stock_is_a_fault_of_ours() -> None:
    with pytest.raises(ValueError, match="cannot come from"):
        pair_cuts("t", borders(601), 600, Saw(3))


# Properties

lengths = st.one_of(st.floats(1, 3600), st.integers(1, 24).map(lambda n: n * 150.0))
kerfs = st.sampled_from([0.0, 1.5, KERF])
wanted_pieces = st.lists(
    st.builds(
        Wanted,
        st.sampled_from(["A", "B", "C"]),
        lengths,
        st.sampled_from([START, END, BOTH, ("factory", "factory")]),
        st.integers(1, 3),
    ),
    max_size=12,
)


@pytest.mark.parametrize("method", [pair_cuts, cut_mains, cut_angle])
@settings(max_examples=50, deadline=None)
@given(wanted=wanted_pieces, kerf=kerfs)
def test_every_piece_is_cut_once_and_no_bar_is_over_full(method, wanted: list[Wanted], kerf: float) -> None:  # type: ignore[no-untyped-def]
    cutting = method("item", wanted, 3600, Saw(kerf))
    assert_cut_once(cutting, wanted)
    assert_bars_hold(cutting)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.floats(10, 600), min_size=1, max_size=9), kerfs)
def test_pairing_is_as_good_as_any(sizes: list[float], kerf: float) -> None:
    """Against every way of pairing up to nine pieces."""
    assert pair_cuts("t", borders(*sizes), 600, Saw(kerf)).bought == least_pairs(tuple(sizes), 600, kerf)


def least_pairs(sizes: tuple[float, ...], stock: float, kerf: float) -> int:
    """Try the first piece alone and with each other piece."""
    if not sizes:
        return 0
    first, rest = sizes[0], sizes[1:]
    best = 1 + least_pairs(rest, stock, kerf)
    for k, other in enumerate(rest):
        if tenths(first) + tenths(other) + math.ceil(kerf * 10) <= stock * 10:
            best = min(best, 1 + least_pairs(rest[:k] + rest[k + 1 :], stock, kerf))
    return best


@settings(max_examples=60, deadline=None)
@given(st.lists(st.floats(10, 3590), max_size=6), st.lists(st.floats(10, 3590), max_size=6), kerfs)
def test_starts_and_ends_are_matched_as_well_as_can_be(starts: list[float], ends: list[float], kerf: float) -> None:
    """Against every way of giving each start one end or none."""
    wanted = [Wanted("M", size, START) for size in starts] + [Wanted("M", size, END) for size in ends]
    least = len(starts) + len(ends) - most_matches(starts, ends, 3600, kerf)
    assert cut_mains("m", wanted, 3600, Saw(kerf)).bought == least


def most_matches(starts: Sequence[float], ends: Sequence[float], stock: float, kerf: float) -> int:
    if not starts:
        return 0
    first, rest = starts[0], starts[1:]
    best = most_matches(rest, ends, stock, kerf)
    for k, end in enumerate(ends):
        if tenths(first) + tenths(end) + math.ceil(kerf * 10) <= stock * 10:
            best = max(best, 1 + most_matches(rest, [*ends[:k], *ends[k + 1 :]], stock, kerf))
    return best
