"""How many published instances are proven within the budget, and how long the median takes.

Run: python tests/bench/bench_cutting.py [seconds for each, default 5]
"""

import json
import random
import statistics
import sys
import time
from collections.abc import Iterable, Sequence
from pathlib import Path

from planner.stock.bars import cut_bars
from planner.stock.panels import PanelRules, PanelWanted, cut_pieces
from planner.stock.saw import Saw

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
