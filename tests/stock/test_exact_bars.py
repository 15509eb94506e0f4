"""Exact cutting of bars: a second opinion by another solver, proofs re-checked, wishes, large jobs, bad input."""

import math
import random
from collections import Counter
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model
from stock.saws import BOTH, END, INCH, KERF, START, assert_bars_hold, assert_cut_once, borders, most_on_a_bar, walls

from planner.errors import PlannerError
from planner.runs.job import Bar
from planner.runs.splices import spliced
from planner.stock.bars import Saw, Wanted, cut_angle, cut_bars, cut_mains, pair_cuts, tenths
from planner.stock.barwork.ends import EndsNeeded
from planner.stock.barwork.splices import over_splices
from planner.stock.model import Cutting
from planner.stock.stocks import PieceWanted, StockLength, cut_from

# Second opinion


def least_bars_by_assignment(
    lengths: Sequence[float], stock: float, kerf: float, needs: Sequence[EndsNeeded] | None = None
) -> int:
    """CP-SAT decides for each piece on which bar it lies, with at most as many bars as pieces."""
    model, count = cp_model.CpModel(), len(lengths)
    saw, room = math.ceil(kerf * 10), tenths(stock)
    on = [[model.new_bool_var("") for _ in range(count)] for _ in range(count)]
    used = [model.new_bool_var("") for _ in range(count)]
    for piece in on:
        model.add_exactly_one(piece)
    for bar in range(count):
        model.add(sum((tenths(x) + saw) * on[k][bar] for k, x in enumerate(lengths)) <= (room + saw) * used[bar])
        for end in ("left", "right"):
            model.add(sum(on[k][bar] for k in range(count) if needs and needs[k] == end) <= 1)
        if bar:
            model.add_implication(used[bar], used[bar - 1])
    model.minimize(sum(used))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 8
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


@pytest.mark.parametrize("seed", range(8))
def test_wall_angle_by_another_solver(seed: int) -> None:
    """Remainders of walls and sides of columns, from 12 ft or 3000 mm."""
    dice = random.Random(seed)
    stock, kerf = dice.choice([(144 * INCH, KERF), (3000.0, 2.0), (3050.0, 0.0)])
    lengths = [dice.uniform(0.08, 0.75) * stock for _ in range(dice.randint(8, 13))]
    cutting = cut_angle("wall angle", walls(*lengths), stock, Saw(kerf))
    assert cutting.proven
    assert cutting.bought == least_bars_by_assignment(lengths, stock, kerf)


@pytest.mark.parametrize("seed", range(6))
def test_main_tees_by_another_solver(seed: int) -> None:
    """Begins, ends and pieces cut at both ends; no pitch, so that the bound is for the same rule."""
    dice = random.Random(100 + seed)
    pieces = [Wanted(f"M{k}", dice.uniform(300, 2400), dice.choice([START, END, BOTH])) for k in range(11)]
    needs: dict[object, EndsNeeded] = {START: "right", END: "left", BOTH: "none"}
    cutting = cut_mains("main tee", pieces, 3600, Saw(3))
    assert_cut_once(cutting, pieces)
    assert cutting.proven
    asked = [piece.length for piece in pieces]
    assert cutting.bought == least_bars_by_assignment(asked, 3600, 3, [needs[piece.ends] for piece in pieces])


@pytest.mark.parametrize("seed", range(4))
def test_several_stocks_by_another_solver(seed: int) -> None:
    """Two lengths with prices and two old bars on hand: the same cost as CP-SAT finds over all bars."""
    dice = random.Random(seed)
    lengths = [dice.randint(400, 2300) for _ in range(8)]
    stocks = [StockLength(3600, 10), StockLength(3000, 8.5), StockLength(2400, 0, 2)]
    answer = cut_from(stocks, [PieceWanted(length) for length in lengths], Saw(3))
    bars = [(36000, 10000)] * 8 + [(30000, 8500)] * 8 + [(24000, 0)] * 2
    model = cp_model.CpModel()
    used = [model.new_bool_var("") for _ in bars]
    on = [[model.new_bool_var("") for _ in bars] for _ in lengths]
    for piece in on:
        model.add_exactly_one(piece)
    for bar, (room, _) in enumerate(bars):
        model.add(sum((10 * x + 30) * on[k][bar] for k, x in enumerate(lengths)) <= (room + 30) * used[bar])
    model.minimize(sum(cost * used[bar] for bar, (_, cost) in enumerate(bars)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 8
    assert solver.solve(model) == cp_model.OPTIMAL
    assert (answer.cost, answer.lower_bound) == (solver.objective_value / 1000, solver.objective_value / 1000)
    assert Counter(length for bar in answer.bars for length in bar.lengths) == Counter(lengths)
    assert sum(bar.stock == 2 for bar in answer.bars) <= 2
    assert all(sum(b.lengths) + 3 * (len(b.lengths) - 1) <= stocks[b.stock].length for b in answer.bars)


# Proofs

short_lists = st.lists(st.integers(2, 59).map(lambda n: n * 10.0), min_size=1, max_size=14)


@settings(max_examples=40, deadline=None)
@given(short_lists, st.sampled_from([0.0, 3.0]))
def test_every_proof_holds_by_ten_lines(lengths: list[float], kerf: float) -> None:
    answer = cut_bars(600, lengths, kerf)
    assert answer.gap == 0
    if answer.certificate is not None:
        assert most_on_a_bar(answer.certificate) <= answer.certificate.most
        assert answer.certificate.bound == answer.bought


@settings(max_examples=60, deadline=None)
@given(short_lists, st.sampled_from([0.0, 3.0]), st.sampled_from([0.0, 120.0, 250.0, 400.0]))
def test_pairs_carry_their_own_proof(lengths: list[float], kerf: float, reuse: float) -> None:
    """Values 0, 1 and 2 of the pieces; the search for pairs and the proof do not know of each other."""
    cutting = pair_cuts("cross tee", borders(*lengths), 600, Saw(kerf, reuse_from=reuse))
    assert cutting.proven
    assert cutting.certificate is not None
    assert cutting.certificate.holds()


@settings(max_examples=60, deadline=None)
@given(short_lists, short_lists, st.sampled_from([0.0, 3.0]))
def test_begins_and_ends_carry_their_own_proof(begins: list[float], ends: list[float], kerf: float) -> None:
    wanted = [Wanted("M", x, START) for x in begins] + [Wanted("M", x, END) for x in ends]
    cutting = cut_mains("main tee", wanted, 600, Saw(kerf))
    assert cutting.proven
    assert cutting.certificate is not None
    assert cutting.certificate.holds()


# Wishes


def test_scraps_that_are_thrown_away_are_not_cut_from() -> None:
    """1500 and 400 from 2000: with 400 left of the first cut, and 500 the least that crews keep, two bars."""
    assert cut_angle("w", walls(1500, 400), 2000, Saw(0)).bought == 1
    assert cut_angle("w", walls(1500, 400), 2000, Saw(0, reuse_from=500)).bought == 1  # 500 are left, and kept
    assert cut_angle("w", walls(1500, 400), 2000, Saw(0, reuse_from=501)).bought == 2
    assert pair_cuts("t", borders(1500, 400), 2000, Saw(0, reuse_from=501)).bought == 2


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(20, 590).map(float), min_size=1, max_size=9), st.sampled_from([0.0, 150.0, 300.0]))
def test_nothing_is_cut_from_a_scrap(lengths: list[float], reuse: float) -> None:
    """The last cut of a bar, its shortest piece, comes from a rest of at least what is kept."""
    wanted = walls(*lengths)
    for cutting in (cut_angle("w", wanted, 600, Saw(3, reuse)), pair_cuts("t", wanted, 600, Saw(3, reuse))):
        assert_cut_once(cutting, wanted)
        for bar in cutting.bars:
            pieces = sorted((piece.length for piece in bar.pieces), reverse=True)
            if len(pieces) > 1:
                assert 600 - sum(pieces[:-1]) - 3 * (len(pieces) - 1) >= reuse - 1e-6


def test_few_long_offcuts_are_preferred_where_asked() -> None:
    """500, 400 twice and 300 from 1000: 500 + 300 and 400 + 400 leave 200 twice; 500 + 400, 400 + 300 leave 100, 300.

    Border tees: the longest with the shortest, or with the longest that goes with it.
    """
    plain = pair_cuts("t", borders(500, 400, 400, 300), 1000, Saw(0))
    tight = pair_cuts("t", borders(500, 400, 400, 300), 1000, Saw(0, long_offcuts=True))
    assert sorted(bar.offcut for bar in plain.bars) == [200, 200]
    assert sorted(bar.offcut for bar in tight.bars) == [100, 300]


@settings(max_examples=30, deadline=None)
@given(st.lists(st.integers(50, 590).map(float), min_size=1, max_size=12))
def test_long_offcuts_cost_no_bar(lengths: list[float]) -> None:
    wanted = walls(*lengths)
    plain, long = (cut_angle("w", wanted, 600, Saw(3, long_offcuts=wish)) for wish in (False, True))
    assert_cut_once(long, wanted)
    assert_bars_hold(long)
    assert long.bought == plain.bought
    assert max(bar.offcut for bar in long.bars) >= max(bar.offcut for bar in plain.bars)


def test_long_offcuts_and_scraps_go_together() -> None:
    """700, 600, 300 and 250 from 1000, no kerf: 700 + 300 would leave 150 beside 600 + 250, if 400 were not the least.

    With it the 300 left of the 700 are thrown away, so 600 + 300 or 600 + 250 is all there is: one bar more.
    """
    wanted = walls(700, 600, 300, 250)
    free = cut_angle("w", wanted, 1000, Saw(0, long_offcuts=True))
    kept = cut_angle("w", wanted, 1000, Saw(0, reuse_from=400, long_offcuts=True))
    assert sorted(bar.offcut for bar in free.bars) == [0, 150]
    assert kept.bought == 3 and kept.proven
    assert max(bar.offcut for bar in kept.bars) == 750, "600 + 300, and the 250 by itself"


@settings(max_examples=30, deadline=None)
@given(st.lists(st.integers(50, 590).map(float), min_size=1, max_size=12), st.sampled_from([150.0, 250.0]))
def test_long_offcuts_cut_from_no_scrap(lengths: list[float], reuse: float) -> None:
    wanted = walls(*lengths)
    plain, long = (cut_angle("w", wanted, 600, Saw(3, reuse, long_offcuts=wish)) for wish in (False, True))
    assert_cut_once(long, wanted)
    assert long.bought == plain.bought
    assert max(bar.offcut for bar in long.bars) >= max(bar.offcut for bar in plain.bars)
    for bar in long.bars:
        pieces = sorted((piece.length for piece in bar.pieces), reverse=True)
        if len(pieces) > 1:
            assert 600 - sum(pieces[:-1]) - 3 * (len(pieces) - 1) >= reuse - 1e-6


def spliced_angle(lengths: Sequence[float], stock: float, shortest: float, saw: Saw) -> Cutting:
    """Walls in parts, cut as such."""
    rows = spliced(
        [tenths(length) for length in lengths], Bar(tenths(stock), 0, math.ceil(saw.kerf * 10)), tenths(shortest)
    )
    parts = [Wanted(f"W{k}", part / 10) for k, row in enumerate(rows, 1) for part in row]
    return over_splices(cut_angle("wall angle", parts, stock, saw), parts)


def test_a_wall_is_spliced_to_save_a_length() -> None:
    """Three walls of 2000 from 3000: three bars, or two with one wall in two parts of 1000."""
    whole = cut_angle("wall angle", walls(2000, 2000, 2000), 3000, Saw(0))
    parted = spliced_angle([2000, 2000, 2000], 3000, 300, Saw(0))
    assert (whole.bought, parted.bought, parted.lower_bound) == (3, 2, 2)
    assert sum(len(bar.pieces) for bar in parted.bars) == 4
    assert spliced_angle([2000, 2000, 2000], 3000, 1001, Saw(0)).bought == 3  # no part shorter than that


def test_no_wall_ends_in_a_scrap() -> None:
    """3100 from 3000, no part under 300: 2800 + 300, not 3000 + 100."""
    assert spliced([31000], Bar(30000), 3000) == [[28000, 3000]]


def test_splices_may_be_anywhere_where_every_tenth_counts() -> None:
    """Nine walls of 2600 from 2925: 8 x 2925 = 23,400 = 9 x 2600, so all bars must be used up to the end."""
    parted = spliced_angle([2600] * 9, 2925, 300, Saw(0))
    assert (parted.bought, parted.lower_bound, parted.over) == (8, 8, "splices")
    assert all(bar.offcut == 0 for bar in parted.bars)


def test_the_bound_over_splices_knows_the_kerf() -> None:
    """Two walls of 1500 from 3000: with a saw of 3 mm the second is 3 mm short, wherever it is spliced."""
    assert spliced_angle([1500, 1500], 3000, 300, Saw(0)).lower_bound == 1
    assert spliced_angle([1500, 1500], 3000, 300, Saw(3)).lower_bound == 2


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.integers(200, 25_990).map(lambda n: n / 10), min_size=1, max_size=10), st.sampled_from([30.0, 100.0])
)
def test_spliced_parts_make_up_the_walls(lengths: list[float], shortest: float) -> None:
    parted = spliced_angle(lengths, 600, shortest, Saw(3))
    assert_bars_hold(parted)
    assert parted.certificate is not None
    assert parted.certificate.holds()
    assert parted.certificate.bound == parted.lower_bound <= parted.bought
    parts: Counter[str] = Counter()
    shortest_of = [min(length, shortest) for length in lengths]
    for bar in parted.bars:
        for piece in bar.pieces:
            parts[piece.member] += tenths(piece.length) * bar.count
            assert piece.length >= shortest_of[int(piece.member[1:]) - 1]
    whole = sum(bar.count for bar in parted.bars if not bar.pieces)
    assert sum(parts.values()) + 6000 * whole == sum(map(tenths, lengths))


# Rooms together


@settings(max_examples=30, deadline=None)
@given(st.lists(st.lists(st.integers(50, 600).map(float), max_size=6), min_size=1, max_size=4))
def test_rooms_cut_together_never_need_more(rooms: list[list[float]]) -> None:
    """What each room needs by itself is one way to cut them all."""
    for cut in (cut_angle, pair_cuts):
        single = sum(cut("item", walls(*room), 600, Saw(3)).bought for room in rooms)
        assert cut("item", walls(*[length for room in rooms for length in room]), 600, Saw(3)).bought <= single


# Programs, large jobs, bad input


def test_the_plain_face_gives_back_the_lengths_asked_for() -> None:
    """12 ft: 100, 43 and 144 in: two pieces and a kerf from one, one bought whole; lengths as given, longest first."""
    answer = cut_bars(144 * INCH, [43 * INCH, 144 * INCH, 100 * INCH], KERF)
    assert answer.bars == ((144 * INCH,), (100 * INCH, 43 * INCH))
    assert (answer.bought, answer.lower_bound, answer.proven) == (2, 2, True)


def test_the_same_job_gives_the_same_bars() -> None:
    dice = random.Random(5)
    lengths = [dice.randint(200, 1700) for _ in range(60)]
    shuffled = dice.sample(lengths, len(lengths))
    assert cut_bars(3600, lengths, 3) == cut_bars(3600, shuffled, 3)


def test_ten_thousand_alike_pieces_are_one_kind() -> None:
    """Six of 590 and five kerfs of 3 make 3555 of 3600: ten thousand need 1667."""
    answer = cut_bars(3600, [590] * 10_000, 3)
    assert (answer.bought, answer.proven) == (1667, True)


def test_a_hundred_thousand_pieces_get_an_answer_and_its_gap() -> None:
    dice = random.Random(1)
    lengths = [dice.uniform(100, 3600) for _ in range(100_000)]
    answer = cut_bars(3600, lengths, 3, budget_s=1)
    assert sum(map(len, answer.bars)) == 100_000
    assert answer.lower_bound <= answer.bought == answer.lower_bound + answer.gap
    assert answer.gap <= answer.bought // 1000


def test_no_time_still_gives_an_answer() -> None:
    """Triples that just fill a bar, so that the quick rules leave a doubt: the best found, and what it may lack."""
    dice = random.Random(3)
    lengths = []
    for _ in range(40):
        one, other = dice.randint(3800, 4900), dice.randint(2500, 2700)
        lengths += [one / 10, other / 10, (10000 - one - other) / 10]
    hasty, patient = cut_bars(1000, lengths, budget_s=0), cut_bars(1000, lengths, budget_s=60)
    assert hasty.lower_bound <= patient.lower_bound == patient.bought == 40 <= hasty.bought


@pytest.mark.parametrize(
    ("stock", "lengths", "kerf"),
    [
        (3000, [3001], 0),
        (3000, [0], 0),
        (3000, [-5], 0),
        (3000, [math.nan], 0),
        (0, [100], 0),
        (3000, [100], -1),
        (math.inf, [100], 0),
    ],
)
def test_what_cannot_be_cut_is_refused(stock: float, lengths: list[float], kerf: float) -> None:
    with pytest.raises(ValueError) as caught:
        cut_bars(stock, lengths, kerf)
    assert isinstance(caught.value, PlannerError)


def test_stocks_that_make_no_sense_are_refused() -> None:
    piece = [PieceWanted(1000)]
    for stocks in ([StockLength(900)], [StockLength(1200, count=3)], [StockLength(1200, -1)], [StockLength(1200, 0)]):
        with pytest.raises(PlannerError):
            cut_from(stocks, piece, Saw(3))
    with pytest.raises(PlannerError, match="splice"):
        cut_from([StockLength(900)], piece, Saw(3))
