"""Small covers by hand: which plan is kept, which proof is shown, and where pieces in a row lie."""

from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.runs.effort import Effort
from planner.stock.barwork.bench import BarBench, quick_certificate
from planner.stock.covering.cover import Certificate, Column, Fill, Task, certify, gathered, taken_from, useful
from planner.stock.covering.master import whole
from planner.stock.covering.solve import solve
from planner.stock.panelwork.guillotine import Placed, Size
from planner.stock.panelwork.reveal import Sides
from planner.stock.panelwork.rows import RowBench
from planner.stock.panelwork.strips import cut_strips


def bars(room: int, sizes: Sequence[int], demand: Sequence[int]) -> tuple[Task, Certificate]:
    """Bars of one length, pieces of some sizes, the longest first; no kerf."""
    bench = BarBench([room], list(sizes), ["none"] * len(sizes))
    return Task(tuple(demand), (1,), (None,), bench), quick_certificate(sizes, demand, room)


# Proofs


def test_one_piece_of_little_value_still_needs_a_bar() -> None:
    """Three pieces worth 1 each, of which a bar holds one: three bars. Worth nothing, they prove nothing."""
    task, _ = bars(10, [6], [3])
    proof = certify(task, [1], [1])
    assert (proof.most, proof.bound) == (1, 3)
    assert (certify(task, [0], [0]).most, certify(task, [0], [0]).bound) == (1, 0)


def test_a_proof_is_shown_while_a_gap_is_left_open() -> None:
    """Of 6, 5, 5, 4 twice each off bars of 10: 40 are four bars long. A start of eight bars is kept without effort."""
    task, quick = bars(10, [6, 5, 4], [2, 4, 2])
    alone = [(Column(0, ((kind, 1),)), times) for kind, times in enumerate(task.demand)]
    poor = Task(task.demand, task.costs, task.limits, _NoRule(task.bench))
    cover = solve(poor, quick, 0.0, alone)
    assert (cover.cost, cover.bound, cover.proven) == (8, 4, False)
    assert cover.certificate == quick


class _NoRule(BarBench):
    """A bench whose rule of thumb puts every piece on a bar of its own."""

    def __init__(self, _: object) -> None:
        super().__init__([10], [6, 5, 4], ["none"] * 3)

    def greedy(self, demand: Sequence[int], limits: Sequence[int | None]) -> list[tuple[Column, int]]:
        del limits
        return [(Column(0, ((kind, 1),)), times) for kind, times in enumerate(demand) if times]


def test_a_start_that_is_better_than_the_rule_of_thumb_is_kept() -> None:
    """6 + 4 and 5 + 5 twice: four bars, where the rule would take eight."""
    task = Task((2, 4, 2), (1,), (None,), _NoRule(None))
    start = [(Column(0, ((0, 1), (2, 1))), 2), (Column(0, ((1, 2),)), 2)]
    cover = solve(task, quick_certificate([6, 5, 4], [2, 4, 2], 10), 0.0, start)
    assert (cover.plan, cover.cost, cover.proven) == (gathered(start), 4, True)


def test_a_rule_of_thumb_that_is_better_than_the_start_is_taken() -> None:
    task, quick = bars(10, [6, 5, 4], [2, 4, 2])
    alone = [(Column(0, ((kind, 1),)), times) for kind, times in enumerate(task.demand)]
    assert solve(task, quick, 1.0, alone).cost == 4


class SevenSquares:
    """A bar or panel of which come four of seven kinds, in seven ways; and all that comes of less.

    Kinds are 1 to 7 as three binary digits, the ways likewise; a way yields the kinds with which it has an odd number
    of ones in common. So each kind comes of four ways. Two ways miss the kind that has an even number in common with
    both, there is always one; three (1, 2 and 4) miss none.
    """

    work = 0
    ways = tuple(tuple((kind - 1, 1) for kind in range(1, 8) if (kind & way).bit_count() % 2) for way in range(1, 8))

    def best(self, values: Sequence[int], demand: Sequence[int]) -> list[Fill]:
        useful_ways = [tuple((k, n) for k, n in way if demand[k]) for way in self.ways]
        return [max(Fill(sum(values[k] for k, _ in way), way) for way in useful_ways)]

    def greedy(self, demand: Sequence[int], limits: Sequence[int | None]) -> list[tuple[Column, int]]:
        del limits
        return [(Column(0, ((kind, 1),)), times) for kind, times in enumerate(demand) if times]

    def near(self, values: Sequence[int], least: Sequence[int], demand: Sequence[int]) -> list[Column] | None:
        del demand
        return [Column(0, way) for way in self.ways if sum(values[k] for k, _ in way) >= least[0]]


def test_where_every_way_was_tried_no_proof_is_shown_that_proves_less() -> None:
    """One of each of seven kinds: 7/4 in fractions proves two; that it takes three is known from trying all ways."""
    assert [len(way) for way in SevenSquares.ways] == [4] * 7
    task = Task((1,) * 7, (1,), (None,), SevenSquares())
    cover = solve(task, certify(task, [1] * 7, [4]), 5.0)
    assert (cover.cost, cover.bound, cover.proven, cover.certificate) == (3, 3, True, None)
    hasty = solve(task, certify(task, [1] * 7, [4]), 0.0)
    assert (hasty.cost, hasty.bound, hasty.proven) == (7, 2, False)
    assert hasty.certificate is not None and hasty.certificate.bound == 2


# Plans


def test_equal_patterns_are_counted_together_in_a_fixed_order() -> None:
    one, two = Column(0, ((0, 2),)), Column(0, ((1, 1),))
    assert gathered([(two, 1), (one, 2), (two, 3), (one, 0)]) == ((one, 2), (two, 4))
    assert gathered([(one, 2), (two, 4)]) == ((one, 2), (two, 4))


def test_no_pattern_is_cut_once_more_than_it_is_of_use() -> None:
    """Two of the one and three of the other from a bar: of five and four wanted three bars have a use."""
    column = Column(0, ((0, 2), (1, 3)))
    assert [useful([5, 4], column, times) for times in (1, 3, 9)] == [1, 3, 3]
    left = [5, 4]
    taken_from(left, column, 2)
    assert left == [1, 0]


def test_whole_numbers_of_given_patterns() -> None:
    """5 + 5 and 6 alone: two of 6 and four of 5 are four bars; without the 6 there is no plan at all, for sure."""
    task, _ = bars(10, [6, 5], [2, 4])
    pair, single = Column(0, ((1, 2),)), Column(0, ((0, 1),))
    found = whole(task, [pair, single], 0, 1, Effort.of(1))
    assert (sorted(found.plan or []), found.exact) == (sorted([(single, 2), (pair, 2)]), True)
    assert whole(task, [pair], 0, 1, Effort.of(1)) == whole(task, [pair], 9, 1, Effort.of(1))
    assert whole(task, [pair], 0, 1, Effort.of(1)).exact


# Strips and rows of a panel


def test_strips_of_both_directions_are_all_cut_and_worth_what_they_need() -> None:
    """Panels 600 x 500. Three of 400 x 500 stand upright, one to a panel; three of 600 x 300 lie, one to a panel."""
    sizes = [Size(6000 - 2000, 5000), Size(6000, 3000)]
    strips = cut_strips(Size(6000, 5000), sizes, [3, 3], None, False, 1.0)
    assert sum(times for _, times in strips.plan) == 6
    assert strips.certificate.bound == 6


def test_narrow_and_wide_strips_share_panels_each_way() -> None:
    """Panels 600 x 500. Upright 350 and 250 share one; lying 300 and 200 share one: two of each pair are four."""
    sizes = [Size(3500, 5000), Size(2500, 5000), Size(6000, 3000), Size(6000, 2000)]
    strips = cut_strips(Size(6000, 5000), sizes, [2, 2, 2, 2], None, False, 1.0)
    assert sorted(strips.plan) == [(Column(0, ((0, 1), (1, 1))), 2), (Column(0, ((2, 1), (3, 1))), 2)]
    assert strips.certificate.bound == 4


LEFT, RIGHT, NEITHER = frozenset({"left"}), frozenset({"right"}), frozenset({"front"})


@settings(max_examples=60, deadline=None)
@given(
    st.tuples(st.integers(500, 3000), st.integers(500, 3000)),
    st.sampled_from(
        [(LEFT, RIGHT), (RIGHT, LEFT), (NEITHER, LEFT), (NEITHER, RIGHT), (RIGHT, NEITHER), (NEITHER, NEITHER)]
    ),
)
def test_two_pieces_in_a_row_lie_at_their_sides_and_not_on_each_other(
    widths: tuple[int, int], tees: tuple[Sides, Sides]
) -> None:
    """Panels 600 x 600, pieces 400 high; who must keep the left or the right side of the panel lies there."""
    bench = RowBench(Size(6000, 6000), [Size(width, 4000) for width in widths], tees, turns=False, kerf=0)
    laid = bench.placed(((0, 1), (1, 1)))
    assert sorted(piece.kind for piece in laid) == [0, 1]
    for piece in laid:
        assert piece.x >= 0 and piece.x + piece.size.width <= 6000 and piece.y + piece.size.height <= 6000
        at = {"left": piece.x == 0, "right": piece.x + piece.size.width == 6000}
        assert all(at[side] for side in tees[piece.kind] & {"left", "right"})
    assert _apart(*laid)


def _apart(a: Placed, b: Placed) -> bool:
    return a.x + a.size.width <= b.x or b.x + b.size.width <= a.x


@pytest.mark.parametrize("order", [(0, 1), (1, 0)])
def test_what_may_lie_anywhere_leaves_the_far_side_to_what_must_lie_there(order: tuple[int, int]) -> None:
    """A corner piece that keeps the right side, and one that keeps only the front: 600 wide, 200 and 300."""
    pieces = [(Size(2000, 4000), frozenset({"right", "back"})), (Size(3000, 4000), frozenset({"front"}))]
    some = [pieces[k] for k in order]
    bench = RowBench(Size(6000, 6000), [s for s, _ in some], [t for _, t in some], turns=False, kerf=0)  # type: ignore[misc]
    at = {order[piece.kind]: piece.x for piece in bench.placed(((0, 1), (1, 1)))}
    assert at == {0: 4000, 1: 0}
