"""The fullest bar against every bar there is, and bars cut anew for longer off-cuts, worked out by hand."""

from collections import Counter
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.errors import CuttingError
from planner.stock.bars import Wanted, pair_cuts
from planner.stock.barwork.ends import EndsNeeded
from planner.stock.barwork.knapsack import Knapsack
from planner.stock.barwork.offcuts import gather_offcuts
from planner.stock.model import Bar, BarPiece
from planner.stock.saw import Saw

NEEDS: list[EndsNeeded] = ["none", "left", "right", "either", "both"]


def ends_suffice(needs: list[EndsNeeded]) -> bool:
    """A bar has one left and one right factory end; a piece for either end takes whichever is left."""
    count = Counter(needs)
    left, right = count["left"] + count["both"], count["right"] + count["both"]
    return left <= 1 and right <= 1 and left + right + count["either"] <= 2


def may_be_cut(sizes: list[int], capacity: int, reuse: int) -> bool:
    """All fit, and the shortest, cut last, comes from no rest that is thrown away (unless it is alone on its bar)."""
    if sum(sizes) > capacity:
        return False
    return len(sizes) < 2 or capacity - (sum(sizes) - min(sizes)) >= reuse


@settings(deadline=None, max_examples=150)
@given(st.data())
def test_no_bar_is_worth_more_than_the_one_found(data: st.DataObject) -> None:
    kinds = data.draw(st.integers(1, 4))
    sizes = data.draw(st.lists(st.integers(2, 14), min_size=kinds, max_size=kinds))
    demand = data.draw(st.lists(st.integers(0, 3), min_size=kinds, max_size=kinds))
    values = data.draw(st.lists(st.integers(0, 9), min_size=kinds, max_size=kinds))
    needs = data.draw(
        st.lists(st.sampled_from([*NEEDS, "none", "none", "none", "none"]), min_size=kinds, max_size=kinds)
    )
    capacities = data.draw(st.lists(st.integers(8, 30), min_size=1, max_size=2))
    reuse = data.draw(st.sampled_from([0, 5, 9, 12]))
    fills = Knapsack(capacities, sizes, needs, reuse).best(values, demand)
    for capacity, fill in zip(capacities, fills, strict=True):
        best = 0
        for counts in product(*(range(most + 1) for most in demand)):
            cut = [k for k, n in enumerate(counts) for _ in range(n)]
            if may_be_cut([sizes[k] for k in cut], capacity, reuse) and ends_suffice([needs[k] for k in cut]):
                best = max(best, sum(values[k] for k in cut))
        assert fill.value == best
        taken = [k for k, n in fill.counts for _ in range(n)]
        assert sum(values[k] for k in taken) == best
        assert all(n <= demand[k] for k, n in fill.counts)
        assert may_be_cut([sizes[k] for k in taken], capacity, reuse)
        assert ends_suffice([needs[k] for k in taken])


def bar(*lengths: float, stock: float = 3000.0) -> Bar:
    return Bar(tuple(BarPiece(f"M{length:g}", length) for length in lengths), stock - sum(lengths), 1)


def offcuts(bars: tuple[Bar, ...]) -> list[float]:
    return sorted(one.offcut for one in bars for _ in range(one.count))


class TestLongOffcuts:
    """1500, 1400, 1000 and 900 from two bars of 3000: 1500 + 1000 and 1400 + 900 leave 500 and 700; 1500 + 1400 and
    1000 + 900 leave 100 and 1100.
    """

    BARS = (bar(1500, 1000), bar(1400, 900))

    def test_the_longer_offcut_is_made_longer_still(self) -> None:
        anew = gather_offcuts(self.BARS, 3000.0, Saw(0))
        assert offcuts(anew) == pytest.approx([100.0, 1100.0])
        pieces = sorted(piece.length for one in anew for piece in one.pieces)
        assert pieces == [900, 1000, 1400, 1500]

    @pytest.mark.parametrize(("reuse", "left"), [(1500.0, [100.0, 1100.0]), (1500.1, [500.0, 700.0])])
    def test_no_piece_comes_from_a_rest_that_is_thrown_away(self, reuse: float, left: list[float]) -> None:
        """After 1500 is cut, 1500 is left for the 1400; if rests are kept from 1500.1 on, it may not be used."""
        assert offcuts(gather_offcuts(self.BARS, 3000.0, Saw(0, reuse_from=reuse))) == pytest.approx(left)

    def test_the_saw_takes_its_share_of_a_rest(self) -> None:
        """With 3 mm a cut only 1497 is left of the first bar after its 1500."""
        kept = gather_offcuts(self.BARS, 3000.0, Saw(3, reuse_from=1497.0))
        assert max(offcuts(kept)) > 1000
        assert max(offcuts(gather_offcuts(self.BARS, 3000.0, Saw(3, reuse_from=1497.1)))) < 1000

    def test_bars_that_cannot_be_bettered_stay(self) -> None:
        """One piece a bar, too long to share one."""
        bars = (bar(2000), bar(1900))
        assert offcuts(gather_offcuts(bars, 3000.0, Saw(0))) == [1000.0, 1100.0]

    def test_whole_lengths_stay_whole(self) -> None:
        bars = (Bar((), 0.0, 3), *self.BARS)
        assert gather_offcuts(bars, 3000.0, Saw(0))[0] == Bar((), 0.0, 3)


@pytest.mark.parametrize("stock", [0.0, 0.04, -600.0, float("inf"), float("nan")])
def test_stock_of_no_length_is_refused(stock: float) -> None:
    """At the saw lengths are whole tenths of a millimetre: 0.04 mm is nothing."""
    with pytest.raises(CuttingError, match="cannot cut bars of"):
        pair_cuts("t", [], stock, Saw(0))
    with pytest.raises(CuttingError, match=r"cannot cut bars of|cannot come from"):
        pair_cuts("t", [Wanted("T1", 300.0)], stock, Saw(0))
