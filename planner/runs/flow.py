"""First cuts as a flow along a bar, for HiGHS: the fewest bars in fractions and in whole numbers.

In: kinds of alike runs with every way to cut each, kinds of single pieces. A place is so far from a bar's left end. A
bar begins at place 0, or after the rest of a run and a kerf; a single piece takes it from one place to a later one; a
piece that begins a run takes all from its left end on; bars wait from each place to the next. Unknown is how many runs
of a kind are cut in each way. So there are as many unknowns as pieces that a run may begin or end with, not as many as
pairs of these. What a bar is worth at each place, in fractions, makes the certificate.
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import highspy
import numpy as np

from planner.records import dataclass
from planner.runs.certificate import RunCertificate, ValuedRun, ValuedSingle
from planner.runs.effort import Effort
from planner.runs.job import Bar, LaidBar
from planner.runs.solver import quiet_solver

#: Prices are whole multiples of this part of a bar.
SCALE = 1_000_000

_NO_ROWS, _NO_VALUES = np.array([], dtype=np.int32), np.array([], dtype=np.float64)


@dataclass(frozen=True, slots=True)
class Counted:
    """How many runs of each kind are cut in each way; `counts` is None where nothing was found."""

    counts: tuple[tuple[int, ...], ...] | None
    bars: tuple[LaidBar, ...]  #: the sawn ones
    least: int  #: no way needs fewer bars


class Flow:
    """The model of one job."""

    def __init__(self, bar: Bar, runs: Sequence[ValuedRun], singles: Sequence[ValuedSingle]) -> None:
        self._bar, self._runs = bar, runs
        self._singles = [single for single in singles if single.length < bar.length]
        self._all_singles = singles
        self._uncut_singles = sum(single.count for single in singles if single.length >= bar.length)
        self._spots = list(self._begins())
        self._places = sorted({0, *self._run_places(), *self._single_places()})
        self._row = {place: row for row, place in enumerate(self._places)}
        self._solver = quiet_solver()
        self._columns = 0
        for _ in self._places:
            self._solver.addRow(0.0, 0.0, 0, _NO_ROWS, _NO_VALUES)
        self._first_kind = len(self._places)
        for count in [run.count for run in runs] + [single.count for single in self._singles]:
            self._solver.addRow(float(count), float(count), 0, _NO_ROWS, _NO_VALUES)
        self._ways = [[self._add_way(kind, way) for way in range(len(run.cuts))] for kind, run in enumerate(runs)]
        self._taken = list(self._add_singles())
        self._add(1.0, [(0, 1.0)])  # a bar that begins at place 0
        for row in range(len(self._places)):
            self._add(0.0, [(row, -1.0), *([(row + 1, 1.0)] if row + 1 < len(self._places) else [])])

    def certificate(self, effort: Effort) -> RunCertificate | None:
        """The proof that the prices of a solution in fractions make; None when the effort did not suffice."""
        if not self._solver.fractions(effort):
            return None
        worths = list(self._solver.getSolution().row_dual)[: len(self._places)]
        steps, last = [(0, SCALE)], SCALE
        for place, worth in zip(self._places[1:], worths[1:], strict=True):
            now = min(max(round(worth * SCALE), 0), last)
            if now < last:
                steps.append((place, now))
                last = now
        return RunCertificate(self._bar, tuple(self._runs), tuple(self._all_singles), SCALE, tuple(steps))

    def whole(self, target: int, effort: Effort) -> Counted:
        """The fewest bars in whole numbers; stops at the target."""
        columns = [column for ways in self._ways for column in ways] + [c for row in self._taken for c in row]
        kinds = np.array([highspy.HighsVarType.kInteger] * len(columns))
        self._solver.changeColsIntegrality(len(columns), np.array(columns, dtype=np.int32), kinds)
        self._solver.setOptionValue("mip_abs_gap", 1 - 1e-3)
        self._solver.setOptionValue("objective_target", target - self._uncut_singles + 1e-3)
        self._solver.whole_numbers(effort)
        info = self._solver.getInfo()
        bound = info.mip_dual_bound
        least = math.ceil(bound - 1e-6) + self._uncut_singles if math.isfinite(bound) else 0
        if info.primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
            return Counted(None, (), least)
        values = [round(value) for value in self._solver.getSolution().col_value]
        counts = tuple(tuple(values[column] for column in ways) for ways in self._ways)
        return Counted(counts, self._bars(counts, values), least)

    def _bars(self, counts: Sequence[Sequence[int]], values: Sequence[int]) -> tuple[LaidBar, ...]:
        """Follow the bars from place to place."""
        bar, closed = self._bar, list[LaidBar]()
        arriving: defaultdict[int, list[LaidBar]] = defaultdict(list)
        leaving: defaultdict[int, list[int]] = defaultdict(list)
        for run, times in zip(self._runs, counts, strict=True):
            for cut, count in zip(run.cuts, times, strict=True):
                if cut.rest:
                    arriving[bar.seat(cut.rest) + bar.kerf] += [LaidBar(cut.rest)] * count
                if first := cut.sawn(bar):
                    leaving[bar.length - bar.seat(first)] += [first] * count
        waiting: list[LaidBar] = []
        for place in self._places:
            waiting += arriving[place]
            for single, places, row in zip(self._singles, self._spots, self._taken, strict=True):
                for column in (column for at, column in zip(places, row, strict=True) if at == place):
                    for _ in range(values[column]):
                        one = waiting.pop() if waiting else LaidBar()
                        more = replace(one, singles=(*one.singles, (single.length, single.slot)))
                        arriving[place + single.length + bar.kerf].append(more)
            for first in leaving[place]:
                closed.append(replace(waiting.pop() if waiting else LaidBar(), first=first))
        return (*closed, *waiting)

    def _add(self, cost: float, entries: Sequence[tuple[int, float]]) -> int:
        sums: dict[int, float] = {}
        for row, value in entries:
            sums[row] = sums.get(row, 0.0) + value
        rows, values = np.array(list(sums), dtype=np.int32), np.array(list(sums.values()))
        self._solver.addCol(cost, 0.0, highspy.kHighsInf, len(rows), rows, values)
        self._columns += 1
        return self._columns - 1

    def _add_way(self, kind: int, way: int) -> int:
        cut, bar = self._runs[kind].cuts[way], self._bar
        entries = [(self._first_kind + kind, 1.0)]
        if cut.rest:
            entries.append((self._row[bar.seat(cut.rest) + bar.kerf], 1.0))
        if first := cut.sawn(bar):
            entries.append((self._row[bar.length - bar.seat(first)], -1.0))
        return self._add(float(cut.uncut(bar) + (cut.rest > 0)), entries)

    def _add_singles(self) -> Iterator[list[int]]:
        for kind, (single, places) in enumerate(zip(self._singles, self._spots, strict=True)):
            row, taken = self._first_kind + len(self._runs) + kind, single.length + self._bar.kerf
            yield [
                self._add(0.0, [(self._row[place], -1.0), (self._row[place + taken], 1.0), (row, 1.0)])
                for place in places
            ]

    def _run_places(self) -> Iterable[int]:
        bar = self._bar
        for run in self._runs:
            for cut in run.cuts:
                if cut.rest:
                    yield bar.seat(cut.rest) + bar.kerf
                if first := cut.sawn(bar):
                    yield bar.length - bar.seat(first)

    def _single_places(self) -> Iterable[int]:
        for single, places in zip(self._singles, self._spots, strict=True):
            for place in places:
                yield from (place, place + single.length + self._bar.kerf)

    def _begins(self) -> Iterator[list[int]]:
        """Where single pieces of each kind may begin.

        At their slots; and one that may begin anywhere is pushed left: against the bar's end, a rest, one that begins
        at a slot, or one of its own kind or of the kinds before it.
        """
        bar = self._bar
        free = [single.slot is None or not bar.pitch for single in self._singles]
        at_slots = [
            [] if anywhere else list(range(min(single.slot or 0, last), last + 1, bar.pitch))
            for single, anywhere in zip(self._singles, free, strict=True)
            for last in [bar.length - single.length]
        ]
        pushed = {0, *(bar.seat(cut.rest) + bar.kerf for run in self._runs for cut in run.cuts if cut.rest)}
        for single, places in zip(self._singles, at_slots, strict=True):
            pushed |= {place + single.length + bar.kerf for place in places}
        for single, anywhere, places in zip(self._singles, free, at_slots, strict=True):
            if not anywhere:
                yield places
                continue
            last, taken = bar.length - single.length, single.length + bar.kerf
            begins = {b + k * taken for b in pushed for k in range(min(single.count, last // taken + 1))}
            begins = {place for place in begins if place <= last}
            pushed |= {place + taken for place in begins}
            yield sorted(begins)
