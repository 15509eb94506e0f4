"""Whether some pieces fit on one panel together, and where each lies: exactly, or not known.

In: the ways each piece may lie. Out: places, or "no" where no places can be, or None where neither could be found out
with the effort. Which pair is parted on which side is chosen by HiGHS, in whole numbers; where the sides leave no
choice nobody is asked. A gap of the kerf stays between two pieces.
"""

from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import Literal

import highspy
import numpy as np

from planner.records import dataclass
from planner.runs.effort import Effort
from planner.runs.solver import Solver, quiet_solver
from planner.stock.panelwork.forms import DOUBT_MM, Lie, Side, sides_between

#: Strokes that it takes to look at the sides of two parts.
LOOK = 12
#: And to begin a program of places.
BEGIN = 2_500
#: What it is worth to push a piece into its corner, against the gap between pieces.
_PUSH = 1e-4

Places = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class _Parted:
    """The sides on which two parts may be parted, of which one must be; with the least gap that must be there."""

    first: int
    second: int
    sides: tuple[Side, ...]
    least: float  #: without so much of a gap they do not fit, whatever is done
    wanted: float  #: with so much they do


def fit(lies: Sequence[Lie], kerf: float, effort: Effort) -> Places | Literal["no"] | None:
    """Find places for pieces that are turned as they are; None where it is not known whether there are any."""
    parted: list[_Parted] = []
    for k, one in enumerate(lies):
        for j in range(k + 1, len(lies)):
            for pair in _between(k, j, one, lies[j], kerf, effort):
                if not pair.sides:
                    return "no"
                parted.append(pair)
    if all(lie.xs[0] == lie.xs[1] and lie.ys[0] == lie.ys[1] for lie in lies):
        places = tuple((lie.xs[0], lie.ys[0]) for lie in lies)
        return places if all(_holds(pair, places) for pair in parted) else None
    return _Program(lies, parted).places(effort)


def may_fit(one: Lie, other: Lie, kerf: float, effort: Effort) -> bool:
    """Whether each part of one piece has a side free of each part of the other's."""
    return all(pair.sides for pair in _between(0, 1, one, other, kerf, effort))


def _between(k: int, j: int, one: Lie, other: Lie, kerf: float, effort: Effort) -> Iterator[_Parted]:
    """For every two parts the sides that the places leave possible; nothing for parts that are apart in any case."""
    low = (other.xs[0] - one.xs[1], other.ys[0] - one.ys[1])
    high = (other.xs[1] - one.xs[0], other.ys[1] - one.ys[0])
    slack = one.slack + other.slack
    least, wanted = kerf - slack - DOUBT_MM, kerf + slack
    for a in one.parts:
        for b in other.parts:
            effort.spend(LOOK)
            possible = []
            for side in sides_between(a, b):
                most = max(side.x * low[0], side.x * high[0]) + max(side.y * low[1], side.y * high[1])
                if most < side.least + least:
                    continue
                if _worst(side, one, other) >= side.least + wanted:
                    break
                possible.append(side)
            else:
                yield _Parted(k, j, tuple(possible), least, wanted)


def _holds(pair: _Parted, places: Places) -> bool:
    x, y = (places[pair.second][axis] - places[pair.first][axis] for axis in (0, 1))
    return any(side.x * x + side.y * y >= side.least + pair.wanted - DOUBT_MM for side in pair.sides)


class _Program:
    """Places as a program in whole numbers: one side of each pair holds; the gap is as wide as can be."""

    def __init__(self, lies: Sequence[Lie], parted: Sequence[_Parted]) -> None:
        self._lies, self._parted = lies, parted

    def places(self, effort: Effort) -> Places | Literal["no"] | None:
        solver = self._solver
        effort.spend(BEGIN)
        solver.whole_numbers(effort)
        status, info = solver.getModelStatus(), solver.getInfo()
        if status == highspy.HighsModelStatus.kInfeasible:
            return "no"
        if info.primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
            return None
        values = list(solver.getSolution().col_value)
        places = tuple(
            (_snapped(values[2 * k], lie.xs), _snapped(values[2 * k + 1], lie.ys)) for k, lie in enumerate(self._lies)
        )
        return places if all(_holds(pair, places) for pair in self._parted) else None

    @cached_property
    def _solver(self) -> Solver:
        """Columns: the places x, y of each piece, the gap from least (0) to wanted (1), the sides."""
        solver = quiet_solver()
        none = np.array([], dtype=np.int32), np.array([], dtype=np.float64)
        for lie in self._lies:
            for home, span in zip(lie.home, (lie.xs, lie.ys), strict=True):
                near = home <= (span[0] + span[1]) / 2
                solver.addCol(_PUSH if near else -_PUSH, *span, 0, *none)
        gap = 2 * len(self._lies)
        solver.addCol(-1.0, 0.0, 1.0, 0, *none)
        for pair in self._parted:
            self._choose(solver, pair, gap)
        return solver

    def _choose(self, solver: Solver, pair: _Parted, gap: int) -> None:
        """One side of a pair must hold; the others need not."""
        a, b = 2 * pair.first, 2 * pair.second
        first = solver.getNumCol()
        none = np.array([], dtype=np.int32), np.array([], dtype=np.float64)
        if len(pair.sides) > 1:
            for _ in pair.sides:
                solver.addCol(0.0, 0.0, 1.0, 0, *none)
                solver.changeColIntegrality(solver.getNumCol() - 1, highspy.HighsVarType.kInteger)
            count = len(pair.sides)
            chosen = np.arange(first, first + count, dtype=np.int32)
            solver.addRow(1.0, float(count), count, chosen, np.ones(count))
        one, other = self._lies[pair.first], self._lies[pair.second]
        for k, side in enumerate(pair.sides):
            columns = [a, a + 1, b, b + 1, gap]
            entries = [-side.x, -side.y, side.x, side.y, pair.least - pair.wanted]
            bound = side.least + pair.least
            if len(pair.sides) > 1:
                short = max(bound + pair.wanted - pair.least - _worst(side, one, other), 0.0)
                columns.append(first + k)
                entries.append(-short)
                bound -= short
            solver.addRow(bound, highspy.kHighsInf, len(columns), np.array(columns, dtype=np.int32), np.array(entries))


def _worst(side: Side, one: Lie, other: Lie) -> float:
    """How far the second is along a side at least."""
    xs = (side.x * (other.xs[0] - one.xs[1]), side.x * (other.xs[1] - one.xs[0]))
    ys = (side.y * (other.ys[0] - one.ys[1]), side.y * (other.ys[1] - one.ys[0]))
    return min(xs) + min(ys)


def _snapped(value: float, span: tuple[float, float]) -> float:
    """A place that the solver has just off an end of its span is that end."""
    return next((end for end in span if abs(end - value) <= 1e-4), value)
