"""How many published instances are proven within the budget, how long the median takes; what the fixtures take.

Run: python tests/bench/bench_cutting.py [seconds for each, default 5]

For each fixture and item: pieces bought when each piece takes one of its own (one length for each piece of a member,
one panel for each cut), what is bought, the lower bound, and the seconds for all items of the room.
"""

import json
import random
import statistics
import sys
import time
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path

from planner.building import plan_building
from planner.ceiling.build import build_ceiling
from planner.ceiling.model import Ceiling
from planner.documents import Document, read_document
from planner.room.building import building_from, is_building
from planner.room.reader import brief_from
from planner.stock.bars import cut_bars
from planner.stock.buy import buy_stock
from planner.stock.model import Stock
from planner.stock.panels import PanelRules, PanelWanted, cut_pieces
from planner.stock.saw import Saw

FIXTURES = Path(__file__).parents[2] / "fixtures"

Timed = tuple[bool, float]


def main() -> None:
    budget = float(sys.argv[1]) if len(sys.argv) > 1 else 5.0
    cut_bars(10, [6, 5, 4, 3], budget_s=budget)
    path = Path(__file__).parents[1] / "stock" / "published_bins.json"
    instances = json.loads(path.read_text("utf-8"))["instances"]
    _tell("published bin packing", [_published(instance, budget) for instance in instances])
    for count, longest in ((20, 0.9), (60, 0.7), (150, 0.5)):
        jobs = [_lengths(seed, count, longest) for seed in range(20)]
        _tell(f"wall angle, {count} pieces", [_bars(job, budget) for job in jobs])
    for revealed in (False, True):
        name = "revealed" if revealed else "plain"
        _tell(f"panels, {name} edges, 60 pieces", [_panels(seed, revealed, budget) for seed in range(20)])
    _fixtures(budget)


def _fixtures(budget: float) -> None:
    """One line for each item of each fixture, and one for the rooms of the building together."""
    print(f"\n{'fixture':18} {'item':18} {'each':>6} {'bought':>6} {'bound':>6} {'seconds':>8}")
    for path in sorted([*FIXTURES.glob("*.yaml"), *FIXTURES.glob("building/*.yaml")]):
        document = read_document(path)
        if is_building(document):
            _pooled(path.stem, document)
            continue
        brief = brief_from(document)
        ceiling = build_ceiling(brief)
        start = time.perf_counter()
        stock = buy_stock(ceiling, replace(brief.stock, budget_s=budget), brief.grid)
        seconds = f"{time.perf_counter() - start:8.3f}"
        for name, each, bought, bound in _items(ceiling, stock):
            print(f"{path.stem:18} {name:18} {each:6} {bought:6} {bound:6} {seconds}".rstrip())
            seconds = ""


def _items(ceiling: Ceiling, stock: Stock) -> Iterable[tuple[str, int, int, int]]:
    whole = ceiling.full_panels + sum(panel.full_size for panel in ceiling.panels)
    panels = stock.panels
    cut = (panels.one_each, panels.bought, panels.lower_bound) if panels else (0, 0, 0)
    yield ("panel", *(whole + count for count in cut))  # type: ignore[misc]
    pieces = Counter[str]()
    for member in ceiling.members:
        for piece in member.pieces:
            pieces[piece.stock] += piece.count
    for cutting in stock.cutting:
        yield cutting.item, pieces[cutting.item], cutting.bought, cutting.lower_bound


def _pooled(name: str, document: Document) -> None:
    start = time.perf_counter()
    pool = plan_building(building_from(document)).pool
    seconds = f"{time.perf_counter() - start:.3f}"
    for saving in pool.savings:
        print(f"{name:18} {saving.item:18} {saving.alone:6} {saving.pooled:6} {'':6} {seconds:>8}  pooled")
        seconds = ""


def _tell(what: str, results: Iterable[Timed]) -> None:
    proven, seconds = zip(*results, strict=True)
    print(
        f"{what:36} {sum(proven):3} of {len(proven):3} proven,"
        f" median {statistics.median(seconds) * 1000:7.1f} ms, longest {max(seconds) * 1000:7.1f} ms"
    )


def _published(instance: dict[str, list[int]], budget: float) -> Timed:
    start = time.perf_counter()
    answer = cut_bars(float(instance["capacity"]), instance["items"], budget_s=budget)  # type: ignore[arg-type]
    return answer.proven and answer.bought == instance["optimum"], time.perf_counter() - start


def _lengths(seed: int, count: int, longest: float) -> list[float]:
    dice = random.Random(seed)
    return [round(dice.uniform(0.05, longest) * 3657.6, 1) for _ in range(count)]


def _bars(lengths: Sequence[float], budget: float) -> Timed:
    start = time.perf_counter()
    return cut_bars(3657.6, lengths, 3.175, budget).proven, time.perf_counter() - start


def _panels(seed: int, revealed: bool, budget: float) -> Timed:
    """Borders of five widths on four sides, as a room with a few corners has them."""
    dice = random.Random(seed)
    sides = {
        "left": frozenset({"right", "front", "back"}),
        "front": frozenset({"left", "right", "back"}),
    }
    widths = [dice.randint(90, 500) for _ in range(5)]
    wanted = []
    for number in range(60):
        side, width = dice.choice(sorted(sides)), float(dice.choice(widths))
        wanted.append(PanelWanted(str(number), (width, 595.0) if side == "left" else (595.0, width), sides[side]))
    start = time.perf_counter()
    cutting = cut_pieces(wanted, (595.0, 595.0), PanelRules(revealed), Saw(3.0, budget_s=budget))
    return cutting.proven, time.perf_counter() - start


if __name__ == "__main__":
    main()
