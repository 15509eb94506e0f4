"""Searches stop by the work they have done, never by a clock: a busy or a slow computer finds the same."""

import ast
import itertools
import math
import pickle
import random
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import highspy
import numpy as np
import pytest
from runs.run_jobs import assert_it_can_be_built, job_of

from planner.pairs.choose import share
from planner.pairs.job import Job as PairJob
from planner.pairs.job import Kind, Stock
from planner.runs.choose import begin_runs
from planner.runs.effort import STROKES_A_SECOND, Effort
from planner.runs.job import Job
from planner.runs.solver import MOST_NODES, Solver, quiet_solver
from planner.stock.bars import cut_bars
from planner.stock.barwork.bench import BarBench
from planner.stock.covering.cover import Bench
from planner.stock.panels import PanelRules, PanelWanted, cut_pieces
from planner.stock.panelwork.guillotine import Size
from planner.stock.panelwork.plain import PlainBench
from planner.stock.panelwork.reveal import RevealBench
from planner.stock.saw import Saw

PLANNER = Path(__file__).parents[2] / "planner"

#: Everything between a room file and a plan; `crew` looks at a clock to see whether processes are worth starting.
NO_CLOCK = [path for path in sorted(PLANNER.rglob("*.py")) if path.parent.name not in ("commands", "page")]
CLOCKS = {"time", "datetime", "timeit", "sched", "threading"}


def test_nobody_who_plans_has_a_clock() -> None:
    """Nor asks a solver for its own: `time_limit` is its option, `getRunTime` its clock."""
    with_clock = {str(path.relative_to(PLANNER)): found for path in NO_CLOCK if (found := clocks_in(path))}
    assert with_clock == {"crew.py": {"time"}}


def clocks_in(path: Path) -> set[str]:
    nodes = list(ast.walk(ast.parse(path.read_text("utf-8"))))
    imported = {name.name.split(".")[0] for node in nodes if isinstance(node, ast.Import) for name in node.names}
    imported |= {(node.module or "").split(".")[0] for node in nodes if isinstance(node, ast.ImportFrom)}
    asked = {node.value for node in nodes if isinstance(node, ast.Constant) and node.value == "time_limit"}
    asked |= {node.attr for node in nodes if isinstance(node, ast.Attribute) and node.attr == "getRunTime"}
    return imported & CLOCKS | asked


def test_the_solver_has_no_time_limit() -> None:
    assert quiet_solver().getOptionValue("time_limit")[1] == math.inf


def test_a_part_is_spent_from_the_whole() -> None:
    """Of two seconds a quarter is half a second; what is spent of that, one and a half seconds are left without."""
    whole = Effort.of(2.0)
    quarter = whole.part(1 / 4)
    assert (whole.left, quarter.left) == (2 * STROKES_A_SECOND, STROKES_A_SECOND // 2)
    quarter.spend(STROKES_A_SECOND // 2)
    assert quarter.spent and whole.left == STROKES_A_SECOND * 3 // 2 and not whole.spent


# Searches that are not done when their effort is


def many_runs() -> Job:
    """Forty runs of all lengths: the first rules of thumb are far from enough."""
    dice = random.Random(2)
    return job_of([(dice.randint(35_000, 400_000), dice.randint(0, 149) * 10) for _ in range(40)])


def triples() -> list[float]:
    """Forty times three lengths that just fill a bar of a metre, so that forty bars do; quick rules miss that."""
    dice = random.Random(3)
    pairs = [(dice.randint(3800, 4900), dice.randint(2500, 2700)) for _ in range(40)]
    return [length / 10 for one, other in pairs for length in (one, other, 10_000 - one - other)]


def border_tees() -> PairJob:
    dice = random.Random(1)
    kinds = {dice.randint(1000, 5900): dice.randint(1, 3) for _ in range(60)}
    stocks = (Stock(6000, 6000), Stock(12_000, 12_000))
    return PairJob(stocks, tuple(Kind(length, kinds[length], (0, 1)) for length in sorted(kinds, reverse=True)), 30)


def panels(many: int) -> list[PanelWanted]:
    """Corner pieces of so many sizes, three of each."""
    dice = random.Random(4)
    sizes = [(dice.randint(900, 4000) / 10, dice.randint(900, 4000) / 10) for _ in range(many)]
    return [PanelWanted(str(k), size, frozenset({"right", "back"})) for k, size in enumerate(3 * sizes)]


JOBS: dict[str, Callable[[], object]] = {
    "runs": lambda: begin_runs(many_runs(), 0.2),
    "bars": lambda: cut_bars(1000, triples(), budget_s=0.1),
    "border tees": lambda: share(border_tees(), 0.02),
    "plain panels": lambda: cut_pieces(panels(30), (595.0, 595.0), PanelRules(), Saw(3.0, budget_s=0.1)),
    "revealed panels": lambda: cut_pieces(panels(8), (595.0, 595.0), PanelRules(revealed=True), Saw(3.0, budget_s=0.1)),
}


@pytest.mark.parametrize("name", JOBS)
@pytest.mark.parametrize(
    "jump", [0.0, 1000.0], ids=["clocks that stand still", "clocks that run a thousand times fast"]
)
def test_clocks_change_nothing(name: str, jump: float, monkeypatch: pytest.MonkeyPatch) -> None:
    expected, ticks = JOBS[name](), itertools.count()
    for clock in ("monotonic", "perf_counter", "process_time", "time"):
        monkeypatch.setattr(time, clock, lambda: jump * next(ticks))
    assert JOBS[name]() == expected


def test_these_searches_are_cut_short() -> None:
    """Else nothing is said by the tests around this one: with more effort each of the two finds or proves more."""
    hasty, patient = begin_runs(many_runs(), 0.2), begin_runs(many_runs(), 5.0)
    assert not hasty.proven and (patient.bought, -patient.lower_bound) < (hasty.bought, -hasty.lower_bound)
    assert_it_can_be_built(hasty)
    few, more = cut_bars(1000, triples(), budget_s=0.1), cut_bars(1000, triples(), budget_s=5.0)
    assert not few.proven and (more.bought, more.lower_bound) == (40, 40)


_SLOW = """
import pickle, sys
from runs.test_effort import JOBS
print("ready", flush=True)
pickle.dump([JOBS["runs"](), JOBS["bars"]()], open(sys.argv[1], "wb"))
"""


def test_a_computer_with_little_time_for_us_finds_the_same(tmp_path: Path) -> None:
    """The process is stopped five sixths of the time: what takes a second of work takes six of the clock."""
    path = tmp_path / "found"
    command = [sys.executable, "-c", _SLOW, str(path)]
    environment = {"PYTHONPATH": f"{PLANNER.parent}:{PLANNER.parent / 'tests'}"}
    with subprocess.Popen(command, env=environment, stdout=subprocess.PIPE) as process:
        assert process.stdout is not None and process.stdout.readline() == b"ready\n"
        while process.poll() is None:
            process.send_signal(signal.SIGSTOP)
            time.sleep(0.2)
            process.send_signal(signal.SIGCONT)
            time.sleep(0.04)
    assert process.returncode == 0
    assert pickle.loads(path.read_bytes()) == [JOBS["runs"](), JOBS["bars"]()]


def benches() -> dict[str, Bench]:
    """Two kinds of pieces: 300 x 200 and 250 x 150 off panels of 600 x 600, or 300 and 250 off bars of 600; no kerf."""
    sizes, corner = [Size(3000, 2000), Size(2500, 1500)], frozenset({"right", "back"})
    return {
        "bars": BarBench([6000], [3000, 2500], ["none", "none"]),
        "plain panels": PlainBench(Size(6000, 6000), sizes, (4, 4), turns=True, kerf=0),
        "revealed panels": RevealBench(Size(6000, 6000), sizes, [corner, corner], turns=True, kerf=0),
    }


@pytest.mark.parametrize("name", benches())
def test_all_that_a_bench_does_is_counted(name: str) -> None:
    bench = benches()[name]
    counted = [bench.work]
    for work in (
        lambda: bench.best([3, 2], [4, 4]),
        lambda: bench.greedy([4, 4], [None]),
        lambda: bench.near([3, 2], [6], [4, 4]),
    ):
        assert work()
        counted.append(bench.work)
    assert counted[0] == 0 and all(before < after for before, after in itertools.pairwise(counted))


# The solver itself


def hard_program() -> Solver:
    """Thirty rows covered by four hundred columns of four whole numbers each: branching without end."""
    dice, solver = np.random.default_rng(1), quiet_solver()
    for _ in range(30):
        solver.addRow(float(dice.integers(20, 60)), highspy.kHighsInf, 0, np.array([], dtype=np.int32), np.array([]))
    for _ in range(400):
        rows = dice.choice(30, size=4, replace=False).astype(np.int32)
        solver.addCol(1.0, 0.0, highspy.kHighsInf, 4, rows, dice.integers(1, 4, 4).astype(float))
    every = np.arange(400, dtype=np.int32)
    solver.changeColsIntegrality(400, every, np.array([highspy.HighsVarType.kInteger] * 400))
    solver.setOptionValue("mip_abs_gap", 1 - 1e-3)
    return solver


def found(strokes: int) -> tuple[object, ...]:
    solver, effort = hard_program(), Effort(strokes)
    solver.whole_numbers(effort)
    info = solver.getInfo()
    assert effort.spent and solver.getModelStatus() == highspy.HighsModelStatus.kInterrupt
    assert info.mip_node_count < MOST_NODES and info.mip_dual_bound <= info.objective_function_value
    return info.mip_node_count, info.mip_dual_bound, tuple(solver.getSolution().col_value)


def test_whole_numbers_stop_by_work_at_the_same_place_each_time() -> None:
    short, long = found(300_000), found(600_000)
    assert short == found(300_000) and long == found(600_000) != short
    assert int(str(short[0])) <= int(str(long[0]))


def test_fractions_stop_by_work() -> None:
    """Three iterations are not enough for thirty rows; a second of work is."""
    solver = hard_program()
    every = np.arange(400, dtype=np.int32)
    solver.changeColsIntegrality(400, every, np.array([highspy.HighsVarType.kContinuous] * 400))
    effort = Effort(40)
    assert not solver.fractions(effort) and effort.spent
    assert solver.fractions(Effort.of(1.0))
