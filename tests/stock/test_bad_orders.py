"""What cannot be ordered or cut is refused with a message that says what to do; what is merely much gets an answer."""

import random
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from planner.ceiling.model import Member, Piece
from planner.ceiling.system import load_system
from planner.errors import CuttingError, InputError, PlannerError
from planner.planning import plan
from planner.room.brief import StockWish
from planner.room.reader import read_room
from planner.stock.bars import Saw, Wanted, cut_bars, pair_cuts
from planner.stock.buy import cut_members
from planner.stock.stocks import PieceWanted, StockLength, cut_from
from planner.stock.takeoff import Item, take_off

METRIC = load_system("lay-in-metric")


def member(kind: str, item: str, length: float) -> Member:
    piece = Piece(item, length, ("factory", "cut"))
    return Member("X7", kind, (0.0, 0.0), (length, 0.0), (piece,))  # type: ignore[arg-type]


def test_a_cross_tee_that_is_too_long_may_not_be_spliced() -> None:
    tee = METRIC.cross_tees[-1]
    with pytest.raises(CuttingError) as caught:
        cut_members([member("cross tee", tee.item, tee.length + 50)], METRIC, StockWish())
    assert "X7 needs a cross tee 1200 of 1250 mm, which is sold in 1200 mm." in str(caught.value)
    assert "It may not be spliced" in caught.value.mend


@pytest.mark.parametrize(("kind", "part"), [("wall angle", METRIC.wall_angle), ("main tee", METRIC.main)])
def test_what_is_too_long_and_may_be_spliced(kind: str, part: object) -> None:
    item, length = part.item, part.length  # type: ignore[attr-defined]
    with pytest.raises(CuttingError) as caught:
        cut_members([member(kind, item, length + 1)], METRIC, StockWish())
    assert f"X7 needs a {item} of {length + 1:g} mm" in str(caught.value)
    assert caught.value.mend == "It may be spliced: ask for it in parts."


def test_a_piece_longer_than_any_stock_is_named() -> None:
    with pytest.raises(CuttingError, match=r"a piece of 3001 mm is longer than any stock .* \(3000 mm\)"):
        cut_from([StockLength(2400), StockLength(3000)], [PieceWanted(3001)], Saw(3))
    with pytest.raises(ValueError, match=r"3001 mm.* cannot come from 3000 mm"):
        cut_bars(3000, [3001])


def test_two_prices_for_one_item(tmp_path: Path) -> None:
    path = tmp_path / "room.yaml"
    path.write_text("units: mm\nroom: {rectangle: [3000, 2400]}\nstock: {prices: {panel: 6, main tee: 2, panel: 7}}\n")
    with pytest.raises(InputError) as caught:
        read_room(path)
    assert ":3:" in str(caught.value) and "panel" in str(caught.value)
    assert "Keep one of the two." in str(caught.value)


def test_a_price_under_another_spelling_is_no_second_price(tmp_path: Path) -> None:
    path = tmp_path / "room.yaml"
    path.write_text("units: mm\nroom: {rectangle: [3000, 2400]}\nstock: {prices: {panel: 6, Panel: 7}}\n")
    with pytest.raises(PlannerError, match=r"(?s)takes no Panel\..*Did you mean panel\?"):
        plan(read_room(path))


def test_panels_in_two_pack_sizes() -> None:
    with pytest.raises(PlannerError, match=r"8 panels in a pack, but panels_per_carton: 12"):
        take_off([Item("panel", 9)], StockWish(panels_per_carton=12, packs=(("panel", 8),)))


# Much of it: bounded answers, each with its gap


@pytest.mark.parametrize(("low", "high"), [(5, 60), (5, 3590), (900, 1300)])
def test_a_hundred_thousand_lengths(low: int, high: int) -> None:
    """Dust, all sizes, and thirds of a bar: all are cut, and the bound is at least the length of all of them."""
    dice = random.Random(high)
    lengths = [dice.randint(10 * low, 10 * high) / 10 for _ in range(100_000)]
    answer = cut_bars(3600, lengths, 3.0, budget_s=0.5)
    assert Counter(length for bar in answer.bars for length in bar) == Counter(lengths)
    assert all(sum(bar) + 3.0 * (len(bar) - 1) <= 3600 + 1e-6 for bar in answer.bars)
    assert sum(lengths) / 3600 <= answer.lower_bound <= answer.bought
    assert answer.gap == answer.bought - answer.lower_bound


def test_a_hundred_thousand_border_tees_are_paired_and_proven() -> None:
    dice = random.Random(3)
    wanted = [Wanted(f"T{k}", dice.randint(1000, 11900) / 10, ("factory", "cut")) for k in range(100_000)]
    cutting = pair_cuts("cross tee", wanted, 1200, Saw(3, budget_s=0.5))
    assert cutting.proven and sum(len(bar.pieces) * bar.count for bar in cutting.bars) == 100_000


def test_a_great_hall_is_ordered(tmp_path: Path) -> None:
    """120 m x 90 m: 200 x 150 modules less two rows of borders; the order is made, spare and all."""
    path = tmp_path / "room.yaml"
    path.write_text("units: m\nroom: {rectangle: [120.3, 90.3]}\nstock: {spare: 3%}\n")
    brief = read_room(path)
    made = plan(replace(brief, stock=replace(brief.stock, budget_s=0.5)))
    panel = next(line for line in made.stock.takeoff if line.item == "panel")
    assert panel.net == made.ceiling.full_panels + (made.stock.panels.bought if made.stock.panels else 0)
    assert panel.net > 29_000 and panel.spare == -(-panel.net * 3 // 100)
