"""Border tees from several lengths of cross tee: the least cost, by hand and by other ways of counting."""

from dataclasses import replace
from itertools import combinations_with_replacement, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from planner.pairs import choose
from planner.pairs.certificate import PairCertificate, by_length
from planner.pairs.choose import Shared, share
from planner.pairs.job import Job, Kind, Stock
from planner.pairs.lots import joined, shared_together

BY_LENGTH = (Stock(6096, 6096), Stock(12192, 12192))  # 2 ft and 4 ft, by length
INCH = 254
SHORT, LONG = (0, 1), (1,)  #: a border tee of a 2 ft line, and one that only a 4 ft tee reaches


def job_of(*kinds: Kind, stocks: tuple[Stock, ...] = BY_LENGTH, kerf: int = 0, reuse: int = 0) -> Job:
    return Job(stocks, kinds, kerf, reuse)


# By hand


def test_two_borders_of_fourteen_inches_come_from_one_tee_of_four_feet() -> None:
    """NAVEDTRA 14044 p. 5-17, two border tees from one cross tee: 14 + 14 in do not come from 24 in, but from 48.

    By length that is no less (four of 2 ft, or two of 4 ft), so the fewer tees are taken.
    """
    shared = share(job_of(Kind(14 * INCH, 4, SHORT)), 5.0)
    assert (shared.bought_own, shared.bought, shared.moved) == ((4, 0), (0, 2), 4)
    assert shared.cost == shared.cost_own == shared.lower_bound == 8 * 12 * INCH


def test_never_three_from_one_tee() -> None:
    """Four pieces of 11 in fit in 48 in, but each keeps a factory end: two from 24 in, and that is as good."""
    shared = share(job_of(Kind(11 * INCH, 4, SHORT)), 5.0)
    assert (shared.bought, shared.moved) == ((2, 0), 0)


def test_what_a_long_border_leaves_is_used() -> None:
    """Borders of 30 in leave 18 in of 4 ft, enough for 14 in: six of 2 ft are saved, and nothing is bought for them."""
    shared = share(job_of(Kind(30 * INCH, 6, LONG), Kind(14 * INCH, 6, SHORT)), 5.0)
    assert (shared.bought_own, shared.bought) == ((6, 6), (0, 6))
    assert shared.proven
    assert shared.certificate is not None
    assert shared.certificate.holds()


def test_the_saw_and_scraps_are_respected() -> None:
    """30 + 18 in are 48: with a kerf they do not fit; nor does 17 in, where off-cuts under 20 in are thrown away."""
    pieces = (Kind(30 * INCH, 2, LONG), Kind(18 * INCH, 2, SHORT))
    assert share(job_of(*pieces), 5.0).bought == (0, 2)
    assert share(job_of(*pieces, kerf=32), 5.0).cost == 2 * 48 * INCH + 2 * 24 * INCH
    fitting = (pieces[0], Kind(17 * INCH, 2, SHORT))
    assert share(job_of(*fitting, kerf=32), 5.0).bought == (0, 2)
    assert share(job_of(*fitting, reuse=20 * INCH), 5.0).cost == 2 * 48 * INCH + 2 * 24 * INCH


def test_prices_decide_where_they_are_given() -> None:
    """Six borders of 14 in: six of 2 ft or three of 4 ft. At 1.00 and 2.10 the short ones, at 1.00 and 1.90 the long.

    With five, two long ones and one short: 3.80 + 1.00 = 4.80, where five short ones cost 5.00.
    """
    dear, fair = (Stock(6096, 1000), Stock(12192, 2100)), (Stock(6096, 1000), Stock(12192, 1900))
    six, five = Kind(14 * INCH, 6, SHORT), Kind(14 * INCH, 5, SHORT)
    assert share(job_of(six, stocks=dear), 5.0).bought == (6, 0)
    assert share(job_of(six, stocks=fair), 5.0).bought == (0, 3)
    odd = share(job_of(five, stocks=fair), 5.0)
    assert (odd.bought, odd.cost, odd.lower_bound) == ((1, 2), 4800, 4800)


def test_nothing_to_choose() -> None:
    shared = share(job_of(Kind(30 * INCH, 3, LONG)), 5.0)
    assert shared.bought == shared.bought_own == (0, 3)
    assert share(job_of(), 5.0).cost == 0


def test_without_time_each_comes_from_its_own_length() -> None:
    shared = share(job_of(Kind(14 * INCH, 4, SHORT), Kind(30 * INCH, 4, LONG)), 0.0)
    assert shared.moved == 0
    assert shared.lower_bound <= shared.cost


def test_two_rooms_choose_together() -> None:
    """A border of 14 in in each of two rooms: each for itself takes a short tee, together one long one, as by hand."""
    alone = [share(job_of(Kind(14 * INCH, 1, SHORT)), 5.0) for _ in range(2)]
    assert [lot.bought for lot in alone] == [(1, 0), (1, 0)]
    both = shared_together(alone, BY_LENGTH, 5.0)
    assert [lot.counts for lot in both] == [((0, 1),), ((0, 1),)]
    assert joined(both).bought == (0, 1)


# By other ways of counting


@st.composite
def jobs(draw: st.DrawFn, most_kinds: int = 4, most: int = 3) -> Job:
    prices = draw(st.sampled_from([(6096, 12192), (1000, 1800), (1000, 2100), (700, 4000), (950, 1777)]))
    stocks = tuple(Stock(length, cost) for length, cost in zip((6096, 12192), prices, strict=True))
    kinds = []
    for _ in range(draw(st.integers(1, most_kinds))):
        short = draw(st.booleans())
        length = draw(st.integers(100, 6095) if short else st.integers(6097, 12_191))
        kinds.append(Kind(length, draw(st.integers(1, most)), SHORT if short else LONG))
    return Job(stocks, tuple(kinds), draw(st.sampled_from([0, 32])), draw(st.sampled_from([0, 1524])))


def patterns(job: Job, stock: int) -> list[tuple[int, ...]]:
    """What may come from one length: a piece, or two that fit, said without the planner's words for it."""
    here = [k for k, kind in enumerate(job.kinds) if stock in kind.stocks]
    length = job.stocks[stock].length

    def fit(a: int, b: int) -> bool:
        long, short = sorted((job.kinds[a].length, job.kinds[b].length), reverse=True)
        return long + job.kerf + short <= length and (not job.reuse or length - long - job.kerf >= job.reuse)

    return [(k,) for k in here] + [pair for pair in combinations_with_replacement(here, 2) if fit(*pair)]


def cheapest(job: Job) -> int:
    """The second opinion: pairs and single pieces as patterns, for CP-SAT."""
    model, cost = cp_model.CpModel(), []
    cut: list[list[cp_model.LinearExprT]] = [[] for _ in job.kinds]
    for at, stock in enumerate(job.stocks):
        for pattern in patterns(job, at):
            times = model.new_int_var(0, sum(kind.count for kind in job.kinds), "")
            cost.append(stock.cost * times)
            for k in pattern:
                cut[k].append(times)
    for kind, times in zip(job.kinds, cut, strict=True):
        model.add(sum(times) >= kind.count)
    model.minimize(sum(cost))
    solver = cp_model.CpSolver()
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


def worth_no_more(proof: PairCertificate) -> bool:
    """Re-check a certificate: no pattern is worth more than its length costs."""
    job = proof.job
    return all(
        sum(proof.values[k] for k in pattern) <= proof.most * stock.cost
        for at, stock in enumerate(job.stocks)
        for pattern in patterns(job, at)
    )


def assert_it_can_be_cut(shared: Shared) -> None:
    for kind, row in zip(shared.job.kinds, shared.counts, strict=True):
        assert sum(row) == kind.count
        assert min(row) >= 0
    assert shared.bought == shared.job.bought(shared.counts)
    assert shared.lower_bound <= shared.cost <= shared.cost_own
    if shared.certificate is not None:
        assert shared.certificate.bound <= shared.cost
        assert shared.certificate.holds()
        assert worth_no_more(shared.certificate)


@settings(max_examples=120, deadline=None)
@given(jobs(most_kinds=7, most=9))
def test_no_choice_costs_less(job: Job) -> None:
    shared = share(job, 5.0)
    assert_it_can_be_cut(shared)
    assert shared.cost == shared.lower_bound == cheapest(job)


@settings(max_examples=40, deadline=None)
@given(jobs(most_kinds=3))
def test_of_equal_cost_fewest_lengths_then_fewest_moved(job: Job) -> None:
    """Every choice there is, one after the other."""
    rows = [
        [(kind.count - n, n) for n in range(kind.count + 1)] if len(kind.stocks) > 1 else [(kind.count,)]
        for kind in job.kinds
    ]
    best = min(
        (job.cost(bought), sum(bought), sum(sum(row[1:]) for row in counts))
        for counts in product(*rows)
        for bought in [job.bought(counts)]
    )
    shared = share(job, 5.0)
    assert (shared.cost, sum(shared.bought), shared.moved) == best


@settings(max_examples=60, deadline=None)
@given(jobs(most_kinds=6, most=5))
def test_lengths_are_paired_as_well_as_can_be(job: Job) -> None:
    """The count of lengths for given pieces, against CP-SAT: only their own stock is allowed."""
    alone = replace(job, kinds=tuple(replace(kind, stocks=kind.stocks[:1]) for kind in job.kinds))
    assert alone.cost(alone.bought([(kind.count,) for kind in alone.kinds])) == cheapest(alone)


@settings(max_examples=30, deadline=None)
@given(jobs(most_kinds=8, most=4))
def test_near_lengths_taken_together_give_a_choice_and_a_bound_that_hold(job: Job) -> None:
    """As in a room with thousands of different lengths: nothing too short is cut, and the bound stays below."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(choose, "MOST_KINDS", 3)
        shared = share(job, 5.0)
    assert_it_can_be_cut(shared)
    assert shared.lower_bound <= cheapest(job) <= shared.cost


@given(jobs())
def test_the_bound_by_length_holds(job: Job) -> None:
    proof = by_length(job)
    assert worth_no_more(proof)
    assert proof.bound <= cheapest(job)


@settings(max_examples=40, deadline=None)
@given(st.lists(jobs(most_kinds=3), min_size=2, max_size=3))
def test_rooms_together_take_no_more_than_as_they_were(found: list[Job]) -> None:
    """Every piece is still there, in its room; and no choice for all together costs less."""
    alike = [replace(job, stocks=found[0].stocks, kerf=found[0].kerf, reuse=found[0].reuse) for job in found]
    alone = [share(job, 5.0) for job in alike]
    both = shared_together(alone, found[0].stocks, 5.0)
    for lot in both:
        assert [sum(row) for row in lot.counts] == [kind.count for kind in lot.job.kinds]
    assert joined(both).cost <= joined(alone).cost
    assert joined(both).cost == cheapest(joined(alone).job)
