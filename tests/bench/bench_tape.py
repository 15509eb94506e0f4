"""What closing a survey costs, and how often blunders are found. Run it: python tests/bench/bench_tape.py

Rooms with a row of bays along their far wall; times are medians of several runs in one process, imports not counted.
"""

import math
import statistics
import time
from collections.abc import Callable

import numpy as np

from planner.geometry import Point
from planner.room.closing.adjustment import Angles, Network, adjust
from planner.room.closing.blunders import Clues, find_blunder
from planner.room.closing.shape import corner_triples, sight_lines
from planner.room.survey import Clipboard, Reading, Survey, tape_accuracy
from planner.room.tape import close_survey

RUNS = 7


def bays(count: int) -> tuple[tuple[Point, ...], tuple[int, ...]]:
    """A room with `count` corners (a multiple of four), and which of them jut in."""
    corners: list[Point] = [(0.0, 0.0), (count * 450.0, 0.0)]
    outside: list[int] = []
    for k in range(count // 4):
        right, left = (count - 4 * k) * 450.0, (count - 4 * k - 2) * 450.0
        corners += [(right, 6200.0), (left, 6200.0)]
        if k < count // 4 - 1:
            corners += [(left, 4100.0), (left - 900.0, 4100.0)]
            outside += [len(corners) - 2, len(corners) - 1]
    corners[-1] = (0.0, 6200.0)
    return tuple(corners), tuple(outside)


def clipboard(count: int, share: float, times: int, blunder: float = 0.0) -> Clipboard:
    """The room taped with a share of its inner lines of sight, everything `times` times."""
    at, outside = bays(count)
    rng = np.random.default_rng(1)
    room = np.array(at) + rng.normal(0, 8, (count, 2))
    lines = sight_lines(room)
    kept = rng.permutation(len(lines) - count)[: round((len(lines) - count) * share)] + count
    chosen = np.vstack([np.vstack((lines[:count], lines[kept]))] * times)
    names = tuple(f"C{k + 1}" for k in range(count))
    readings = []
    for a, b in chosen:
        length = math.dist(room[a], room[b])
        readings.append(Reading((names[a], names[b]), length + float(rng.normal()) * tape_accuracy(length)))
    first = readings[0]
    readings[0] = Reading(first.between, first.taped + blunder)
    return Clipboard(names, tuple(readings), tuple(names[k] for k in outside))


def milliseconds(job: Callable[[], object]) -> float:
    spent = []
    for _ in range(RUNS):
        start = time.perf_counter()
        job()
        spent.append((time.perf_counter() - start) * 1e3)
    return statistics.median(spent)


def row(title: str, board: Clipboard) -> str:
    survey: Survey = close_survey(board)
    spent = milliseconds(lambda: close_survey(board))
    verdict = "suspect named" if survey.suspect else ("agrees" if survey.agrees else "disagrees")
    return (
        f"{title:44} {len(board.corners):7} {len(board.readings):8} {survey.redundancy:5} {len(survey.assumptions):7} "
        f"{spent:8.1f}  {verdict}"
    )


def rates(title: str, times: int, by: float, trials: int = 400) -> str:
    """How often a blunder of `by` mm (s = 1 mm) in a braced quadrilateral is seen, located, and located wrongly."""
    room = np.array([(0, 0), (5680, 0), (5610, 3450), (-40, 3500)], dtype=float)
    lines = np.vstack([np.array([(0, 1), (1, 2), (2, 3), (3, 0), (0, 2), (1, 3)], dtype=np.intp)] * times)
    told = Angles(corner_triples(4), np.full(4, math.pi / 2), np.full(4, 0.005))
    held = Angles(told.corners[:0], told.radians[:0], told.accuracy[:0])
    true = np.hypot(*(room[lines[:, 1]] - room[lines[:, 0]]).T)
    rng = np.random.default_rng(2)
    seen = located = wrong = 0
    for trial in range(trials):
        taped = true + rng.normal(0, 1, len(true))
        taped[trial % len(true)] += by
        network = Network(lines, taped, np.ones(len(true)), held)
        verdict = find_blunder(network, adjust(network, room), Clues(room, lines, told, "mm"))
        seen += verdict.beyond
        located += verdict.located is not None
        wrong += verdict.located is not None and verdict.located.reading != trial % len(true)
    return f"{title:44} {by:6.0f} mm   {seen / trials:6.1%} {located / trials:8.1%} {wrong / trials:8.1%}"


def main() -> None:
    print(f"{'room':44} corners readings spare assumed       ms")
    print(row("quadrilateral, both diagonals", clipboard(4, 1.0, 1)))
    print(row("quadrilateral, all twice", clipboard(4, 1.0, 2)))
    print(row("40 corners, walls only", clipboard(40, 0.0, 1)))
    print(row("40 corners, every second line of sight", clipboard(40, 0.5, 1)))
    print(row("40 corners, every line of sight", clipboard(40, 1.0, 1)))
    print(row("40 corners, every line of sight twice", clipboard(40, 1.0, 2)))
    print(row("40 corners, the same with a foot misread", clipboard(40, 1.0, 2, 304.8)))
    print()
    print(f"{'blunders, each reading in turn':44} {'size':>9}   {'seen':>6} {'located':>8} {'wrongly':>8}")
    for by in (8.0, 15.0, 25.0):
        print(rates("quadrilateral, both diagonals", 1, by))
        print(rates("quadrilateral, all twice", 2, by))


if __name__ == "__main__":
    main()
