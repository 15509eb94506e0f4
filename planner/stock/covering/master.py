"""The master problem: how often to cut each pattern, by HiGHS.

In: costs, limits, columns. Out: how often each column is cut, and what one more piece of each kind would cost. One
thread and fixed order, so that the same task gives the same answer.
"""

from collections.abc import Sequence
from typing import Protocol

import highspy
import numpy as np

from planner.records import dataclass
from planner.runs.effort import Effort
from planner.runs.solver import quiet_solver
from planner.stock.covering.cover import Column

_NO_ROWS, _NO_VALUES = np.array([], dtype=np.int32), np.array([], dtype=np.float64)


class Wanted(Protocol):
    """What is to be covered, of a `Task` or without a bench."""

    @property
    def demand(self) -> tuple[int, ...]: ...

    @property
    def costs(self) -> tuple[int, ...]: ...

    @property
    def limits(self) -> tuple[int | None, ...]: ...


@dataclass(frozen=True, slots=True)
class Relaxed:
    """A solution in fractions."""

    cost: float
    times: list[float]  #: of each column
    worth: list[float]  #: of each kind of piece
    scarce: list[float]  #: what one more of each stock of limited number would save


@dataclass(frozen=True, slots=True)
class Whole:
    """A solution in whole numbers; `plan` is None when none was found."""

    plan: list[tuple[Column, int]] | None
    exact: bool  #: no plan with these columns costs less


class Master:
    """Columns found so far, and the rows they must cover."""

    def __init__(self, task: Wanted) -> None:
        self._task = task
        self._limited = [k for k, limit in enumerate(task.limits) if limit is not None]
        self.columns: list[Column] = []
        self._known: set[Column] = set()
        self._solver = quiet_solver()
        for count in task.demand:
            self._solver.addRow(float(count), highspy.kHighsInf, 0, _NO_ROWS, _NO_VALUES)
        for k in self._limited:
            self._solver.addRow(-highspy.kHighsInf, float(task.limits[k] or 0), 0, _NO_ROWS, _NO_VALUES)

    def add(self, column: Column) -> bool:
        """Add a column; False for one that is there already."""
        if column in self._known:
            return False
        self._known.add(column)
        self.columns.append(column)
        rows = [kind for kind, _ in column.counts]
        entries = [float(count) for _, count in column.counts]
        if column.stock in self._limited:
            rows.append(len(self._task.demand) + self._limited.index(column.stock))
            entries.append(1.0)
        cost = float(self._task.costs[column.stock])
        self._solver.addCol(cost, 0.0, highspy.kHighsInf, len(rows), np.array(rows, dtype=np.int32), np.array(entries))
        return True

    def want(self, demand: Sequence[int], limits: Sequence[int | None]) -> None:
        """Change how much is to be covered."""
        for row, count in enumerate(demand):
            self._solver.changeRowBounds(row, float(count), highspy.kHighsInf)
        for row, k in enumerate(self._limited, len(demand)):
            self._solver.changeRowBounds(row, -highspy.kHighsInf, float(limits[k] or 0))

    def relaxed(self, effort: Effort) -> Relaxed | None:
        """Solve in fractions; None when the columns cannot cover what is wanted, or the effort does not suffice."""
        if not self._solver.fractions(effort):
            return None
        solution, kinds = self._solver.getSolution(), len(self._task.demand)
        duals = list(solution.row_dual)
        scarce = [0.0] * len(self._task.costs)
        for k, dual in zip(self._limited, duals[kinds:], strict=True):
            scarce[k] = -dual
        cost = self._solver.getInfo().objective_function_value
        return Relaxed(cost, list(solution.col_value), duals[:kinds], scarce)


def whole(task: Wanted, columns: Sequence[Column], target: int, step: int, effort: Effort) -> Whole:
    """Cover a task in whole numbers with given columns; stops at the target cost."""
    master = Master(task)
    for column in columns:
        master.add(column)
    solver, count = master._solver, len(master.columns)
    solver.changeColsIntegrality(
        count, np.arange(count, dtype=np.int32), np.array([highspy.HighsVarType.kInteger] * count)
    )
    solver.setOptionValue("mip_abs_gap", step - 1e-3)
    solver.setOptionValue("objective_target", target + 1e-3)
    solver.whole_numbers(effort)
    status, info = solver.getModelStatus(), solver.getInfo()
    if status == highspy.HighsModelStatus.kInfeasible:
        return Whole(None, exact=True)
    if info.primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
        return Whole(None, exact=False)
    times = [round(value) for value in solver.getSolution().col_value]
    plan = [(column, n) for column, n in zip(master.columns, times, strict=True) if n > 0]
    return Whole(plan, exact=status == highspy.HighsModelStatus.kOptimal)
