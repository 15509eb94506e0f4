"""Which stock each piece comes from, for HiGHS: the least cost in fractions and in whole numbers.

In: a job. Out: prices of pieces, or how many of each kind come from each stock. Unknown is that, and how many lengths
of each stock are bought. Pairs are no unknowns: for any length t, a piece that fits with none of t or longer counts
double, one shorter than t not at all, and the rest once; half of what all pieces on a stock count together is the
least that must be bought of it, and of all t the greatest of these numbers is enough (see `planner.stock.barwork`).
"""

import math
from collections.abc import Sequence

import highspy
import numpy as np

from planner.pairs.job import Job, Kind
from planner.records import dataclass
from planner.runs.effort import Effort
from planner.runs.solver import quiet_solver

#: Prices of pieces are whole multiples of this part of a unit of cost.
SCALE = 10_000


@dataclass(frozen=True, slots=True)
class Chosen:
    """How many of each kind come from each of its stocks; None where nothing was found. No choice costs less."""

    counts: tuple[tuple[int, ...], ...] | None
    least: float


class Model:
    """The model of one job."""

    def __init__(self, job: Job) -> None:
        self._job = job
        self._solver = quiet_solver()
        self._pieces = [[self._add(0.0, kind.count) for _ in kind.stocks] for kind in job.kinds]
        self._lengths = [self._add(float(stock.cost), highspy.kHighsInf) for stock in job.stocks]
        for kind, columns in zip(job.kinds, self._pieces, strict=True):
            self._row(float(kind.count), float(kind.count), [(column, 1.0) for column in columns])
        for stock in range(len(job.stocks)):
            self._add_stock(stock)

    def values(self, effort: Effort) -> list[int] | None:
        """What each piece is worth, by a solution in fractions; None when the effort did not suffice."""
        if not self._solver.fractions(effort):
            return None
        worth = list(self._solver.getSolution().row_dual)[: len(self._job.kinds)]
        return [max(math.floor(each * SCALE), 0) for each in worth]

    def cheapest(self, target: int, effort: Effort) -> Chosen:
        """The least cost in whole numbers; stops at the target."""
        self._whole_numbers()
        self._solver.setOptionValue("mip_abs_gap", self._job.step - 1e-3)
        self._solver.setOptionValue("objective_target", target + 1e-3)
        return self._solved(effort)

    def fewest(self, cost: int, effort: Effort) -> Chosen:
        """Fewest lengths, then fewest pieces from a stock that is not their own, for no more than a cost."""
        self._row(0.0, float(cost), [(c, float(s.cost)) for c, s in zip(self._lengths, self._job.stocks, strict=True)])
        moved = sum(kind.count for kind in self._job.kinds if len(kind.stocks) > 1)
        for column in self._lengths:
            self._solver.changeColCost(column, moved + 1.0)
        for columns in self._pieces:
            for column in columns[1:]:
                self._solver.changeColCost(column, 1.0)
        self._solver.setOptionValue("mip_abs_gap", 1 - 1e-3)
        self._solver.setOptionValue("objective_target", -highspy.kHighsInf)
        return self._solved(effort)

    def _solved(self, effort: Effort) -> Chosen:
        self._solver.whole_numbers(effort)
        info = self._solver.getInfo()
        least = info.mip_dual_bound if math.isfinite(info.mip_dual_bound) else 0.0
        if info.primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
            return Chosen(None, least)
        values = self._solver.getSolution().col_value
        return Chosen(tuple(tuple(round(values[column]) for column in row) for row in self._pieces), least)

    def _add_stock(self, stock: int) -> None:
        """For each length t: half of what the pieces count is bought at least."""
        here = [
            (kind, columns[kind.stocks.index(stock)])
            for kind, columns in zip(self._job.kinds, self._pieces, strict=True)
            if stock in kind.stocks
        ]
        for length in sorted({kind.length for kind, _ in here}):
            counted = [(column, -float(times)) for kind, column in here if (times := self._times(stock, kind, length))]
            self._row(0.0, highspy.kHighsInf, [(self._lengths[stock], 2.0), *counted])

    def _times(self, stock: int, kind: Kind, length: int) -> int:
        if kind.length < length:
            return 0
        return 1 if self._job.fits(stock, kind.length, length) else 2

    def _add(self, cost: float, most: float) -> int:
        column = int(self._solver.getNumCol())
        self._solver.addCol(cost, 0.0, float(most), 0, np.array([], dtype=np.int32), np.array([], dtype=np.float64))
        return column

    def _row(self, low: float, high: float, entries: Sequence[tuple[int, float]]) -> None:
        columns = np.array([column for column, _ in entries], dtype=np.int32)
        self._solver.addRow(low, high, len(entries), columns, np.array([value for _, value in entries]))

    def _whole_numbers(self) -> None:
        count = int(self._solver.getNumCol())
        kinds = np.array([highspy.HighsVarType.kInteger] * count)
        self._solver.changeColsIntegrality(count, np.arange(count, dtype=np.int32), kinds)
