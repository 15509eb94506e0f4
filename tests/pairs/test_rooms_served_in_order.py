"""Border tees from the same cross tees: which room gives up its own stock, what it costs, and what is proven of it."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.pairs import choose
from planner.pairs.certificate import PairCertificate
from planner.pairs.choose import Shared, as_chosen, share
from planner.pairs.job import Job, Kind, Stock
from planner.pairs.lots import joined, shared_together

INCH = 254
BY_LENGTH = (Stock(24 * INCH, 24 * INCH), Stock(48 * INCH, 48 * INCH))  #: 2 ft and 4 ft, by length
SHORT, LONG = (0, 1), (1,)  #: a border tee of a 2 ft line, and one that only a 4 ft tee reaches


def room(*kinds: Kind, stocks: tuple[Stock, ...] = BY_LENGTH) -> Shared:
    """Every piece from its own stock."""
    job = Job(stocks, kinds)
    return as_chosen(job, tuple((kind.count, *([0] * (len(kind.stocks) - 1))) for kind in kinds))


def test_the_first_rooms_keep_their_own_stock() -> None:
    """Three rooms with a border tee of 14 in each: one of 4 ft gives two, the third is cut from 2 ft.

    That is 72 in as before, in two lengths for three; the two that move are those of the last rooms.
    """
    alone = [room(Kind(14 * INCH, 1, SHORT)) for _ in range(3)]
    both = shared_together(alone, BY_LENGTH, 5.0)
    assert [lot.counts for lot in both] == [((1, 0),), ((0, 1),), ((0, 1),)]
    assert joined(both).bought == (1, 1)


def test_pieces_of_one_length_that_may_come_from_other_stocks_are_not_mixed_up() -> None:
    """30 in reach only 4 ft; 14 in fit into what is left of that: the room with 14 in gives up its 2 ft tee."""
    alone = [room(Kind(30 * INCH, 1, LONG)), room(Kind(14 * INCH, 1, SHORT))]
    long, short = shared_together(alone, BY_LENGTH, 5.0)
    assert (long.counts, short.counts) == (((1,),), ((0, 1),))
    together = joined([long, short])
    assert (together.bought, together.cost) == ((0, 1), 48 * INCH)
    assert [kind.length for kind in together.job.kinds] == [30 * INCH, 14 * INCH]  # the longest first


def test_rooms_stay_as_they_are_where_nothing_is_saved() -> None:
    alone = (room(Kind(11 * INCH, 2, SHORT)), room(Kind(11 * INCH, 2, SHORT)))
    assert shared_together(alone, BY_LENGTH, 5.0) == alone  # two pairs of 2 x 11 in 24, whoever shares with whom


def test_for_the_same_lengths_at_the_same_cost_no_room_is_cut_in_another_way() -> None:
    """Two of 14 and 9 in lie in what 30 in leave of 4 ft, and 9 in come from 2 ft; one there would do as well."""
    kinds = (Kind(30 * INCH, 2, LONG), Kind(14 * INCH, 1, SHORT), Kind(9 * INCH, 2, SHORT))
    lots = (as_chosen(Job(BY_LENGTH, kinds), ((2,), (0, 1), (1, 1))),)
    assert (lots[0].bought, lots[0].moved) == ((1, 2), 2)
    assert shared_together(lots, BY_LENGTH, 5.0) == lots


def test_all_together_cost_what_the_first_room_pays() -> None:
    """The rooms' price lists differ: 10.00 and 11.00 for 2 ft; two tees of 2 ft are 20.00."""
    lists = [(Stock(24 * INCH, price), Stock(48 * INCH, 2 * price)) for price in (1000, 1100)]
    rooms = [room(Kind(20 * INCH, 1, SHORT), stocks=stocks) for stocks in lists]
    assert joined(rooms).cost == 2000


def test_alike_pieces_of_two_rooms_are_one_kind() -> None:
    """Of 14 in the one room cuts 2 from 2 ft and 1 from 4 ft, the other 1 and 3: 3 and 4 of them."""
    job = Job(BY_LENGTH, (Kind(14 * INCH, 3, SHORT),))
    rooms = [as_chosen(job, ((2, 1),)), as_chosen(replace(job, kinds=(Kind(14 * INCH, 4, SHORT),)), ((1, 3),))]
    both = joined(rooms)
    assert (both.job.kinds, both.counts) == ((Kind(14 * INCH, 7, SHORT),), ((3, 4),))
    assert both.bought == (3, 2)


def test_no_piece_moves_that_need_not() -> None:
    """Two of 30 in leave 18 in each of 4 ft: of 14, 9 and 9 in one must go there so that one tee of 2 ft is enough.

    Two could go there as well, and the third be cut from that tee; but one that moves is as good: 2 x 48 + 24 in.
    """
    shared = share(Job(BY_LENGTH, (Kind(30 * INCH, 2, LONG), Kind(14 * INCH, 1, SHORT), Kind(9 * INCH, 2, SHORT))), 5.0)
    assert (shared.bought, shared.moved, shared.proven) == ((1, 2), 1, True)


def test_one_unit_more_than_the_bound_is_not_proven() -> None:
    shared = share(Job(BY_LENGTH, (Kind(14 * INCH, 4, SHORT),)), 5.0)
    assert shared.proven
    assert not replace(shared, lower_bound=shared.lower_bound - 1).proven


# Proofs


def test_a_proof_that_is_wrong_of_one_stock_is_wrong() -> None:
    """30 in come from 4 ft alone: worth 49 in they are worth more than that costs, though 2 ft has nothing to say."""
    job = Job(BY_LENGTH, (Kind(30 * INCH, 1, LONG),))
    assert PairCertificate(job, (48 * INCH,), 1).holds()
    assert not PairCertificate(job, (49 * INCH,), 1).holds()


def test_half_a_second_of_work_is_enough_for_a_room() -> None:
    """Four of 14 in come from two of 4 ft."""
    assert share(Job(BY_LENGTH, (Kind(14 * INCH, 4, SHORT),)), 0.5).bought == (0, 2)


PIECES = st.tuples(st.integers(100, 6095), st.integers(1, 3), st.just(SHORT)) | st.tuples(
    st.integers(6097, 12_191), st.integers(1, 3), st.just(LONG)
)


@settings(max_examples=40, deadline=None)
@given(st.lists(PIECES, min_size=3, max_size=6, unique_by=lambda piece: piece[0]), st.sampled_from([1600, 2000, 2300]))
def test_kinds_taken_together_prove_no_more_than_is_true(
    pieces: list[tuple[int, int, tuple[int, ...]]], price: int
) -> None:
    """Near lengths as the shortest of them cost no more than they do, as the longest no less: so bound and choice."""
    stocks = (Stock(24 * INCH, 1000), Stock(48 * INCH, price))
    job = Job(stocks, tuple(Kind(*piece) for piece in sorted(pieces, reverse=True)))
    exact = share(job, 5.0)
    assert exact.proven
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(choose, "MOST_KINDS", 2)
        coarse = share(job, 5.0)
    assert coarse.lower_bound <= exact.cost <= coarse.cost
    assert coarse.certificate is not None and coarse.certificate.holds()
    assert [sum(row) for row in coarse.counts] == [kind.count for kind in job.kinds]


def test_kinds_taken_together_leave_a_gap_that_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """23.8 and 23.4 in and a cut of 1 in are 48.2: two of 4 ft. Twice 23.4 would be 47.8: only one is proven so."""
    job = Job(BY_LENGTH, tuple(Kind(length * INCH // 10, 1, LONG) for length in (238, 234)), kerf=INCH)
    assert (share(job, 5.0).bought, share(job, 5.0).proven) == ((0, 2), True)
    monkeypatch.setattr(choose, "MOST_KINDS", 1)
    coarse = share(job, 5.0)
    assert (coarse.bought, coarse.lower_bound, coarse.proven) == ((0, 2), 48 * INCH, False)
