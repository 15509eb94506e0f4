"""What a length of tee weighs, how many panels are laid, and orders in which some line asks for nothing."""

from dataclasses import replace

import pytest
from ceiling.framing_rooms import rectangle
from ceiling.hand_layouts import METRIC

from planner.ceiling.build import build_ceiling
from planner.errors import CuttingError
from planner.room.brief import Brief, GridWish, LabourWish, StockWish
from planner.stock.bill import bill_of
from planner.stock.buy import weight_of
from planner.stock.saw import Saw
from planner.stock.stocks import PieceWanted, StockLength, cut_from


@pytest.mark.parametrize(("length", "kg_per_m", "weight"), [(3600.0, 0.3, 1.08), (600.0, 0.25, 0.15)])
def test_a_length_of_tee_weighs_its_metres(length: float, kg_per_m: float, weight: float) -> None:
    """3.6 m at 0.3 kg are 1.08 kg; 0.6 m at 0.25 kg are 0.15 kg."""
    assert weight_of(replace(METRIC.main, length=length, kg_per_m=kg_per_m)) == pytest.approx(weight)


def test_what_a_tee_weighs_is_not_guessed() -> None:
    assert weight_of(replace(METRIC.main, kg_per_m=None)) is None


def test_every_panel_is_laid_and_those_that_are_cut_are_cut_besides() -> None:
    """A room of 3300 x 2700 mm: whole panels and cut ones. At one minute each for laying and two for cutting."""
    ceiling = build_ceiling(Brief(rectangle(3300.0, 2700.0), GridWish("lay-in-metric")))
    cut = len(ceiling.panels)
    assert ceiling.full_panels > 0 and cut > 0
    labour = LabourWish((("panel", 1.0), ("cut panel", 2.0)))
    works = {work.what: work for work in bill_of((), [ceiling], StockWish(labour=labour)).labour}
    assert works["panel"].count == ceiling.full_panels + cut
    assert works["cut panel"].count == cut
    assert works["panel"].hours == pytest.approx((ceiling.full_panels + cut) / 60)


def test_a_line_that_asks_for_no_piece_is_no_matter() -> None:
    """Two of 1500 from 3000 with snips, which take no kerf; none of 2000, and none of 9000 either."""
    wanted = [PieceWanted(9000.0, 0), PieceWanted(1500.0, 2), PieceWanted(2000.0, 0)]
    answer = cut_from([StockLength(3000.0, 7.5)], wanted, Saw(0))
    assert (answer.cost, answer.lower_bound) == (7.5, 7.5)
    assert [bar.lengths for bar in answer.bars] == [(1500.0, 1500.0)]


def test_nothing_wanted_costs_nothing_and_less_than_nothing_is_refused() -> None:
    answer = cut_from([StockLength(3000.0, 7.5)], [PieceWanted(1500.0, 0)], Saw(3))
    assert (answer.bars, answer.cost, answer.lower_bound, answer.proven) == ((), 0.0, 0.0, True)
    with pytest.raises(CuttingError, match="-2 pieces of 1500 mm are none"):
        cut_from([StockLength(3000.0, 7.5)], [PieceWanted(1500.0, -2)], Saw(3))


@pytest.mark.parametrize("kerf", [-0.1, float("inf"), float("nan")])
def test_no_saw_has_such_a_kerf(kerf: float) -> None:
    with pytest.raises(CuttingError, match="kerf"):
        cut_from([StockLength(3000.0)], [PieceWanted(1500.0)], Saw(kerf))


def test_of_a_pattern_that_yields_too_much_only_what_is_wanted_is_listed() -> None:
    """Five of 700 from bars of 3000, four to a bar: the second bar gives one, though it could give four."""
    answer = cut_from([StockLength(3000.0)], [PieceWanted(700.0, 5)], Saw(3))
    assert sorted(length for bar in answer.bars for length in bar.lengths) == [700.0] * 5
    assert answer.cost == answer.lower_bound == 2
