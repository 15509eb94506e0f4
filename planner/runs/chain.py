"""First cuts by best fit: each run is begun and ended from the off-cuts that those before it left.

In: a job, an order of the runs. Out: a way of cutting for each. What is lost is counted: what stays of an off-cut that
is used up, and a share of what a new bar leaves. Ways whose joints stand too near to a neighbour's come last. A rule of
thumb; tried with several orders and shares, it often finds as few as can be.
"""

from bisect import bisect_left, insort
from collections.abc import Sequence
from dataclasses import field
from itertools import repeat

from planner.records import dataclass
from planner.runs.job import Bar, Cut, Job, Run
from planner.runs.nearness import Nearness

#: Strokes that it takes to rate one way to cut a run.
RATE = 2


@dataclass(frozen=True, slots=True)
class Manner:
    """How to go about it."""

    order: tuple[int, ...]
    share: float = 0.0  #: of what a new bar leaves that counts as lost
    fewest_joints: bool = True  #: no run in more pieces than it must be
    in_line: bool = False  #: joints may stand beside a neighbour's


@dataclass(slots=True)
class Offcuts:
    """What is left of bars: how long a piece may be, by rising length."""

    bar: Bar
    for_first: list[int] = field(default_factory=list)  #: off-cuts with the right factory end
    for_rest: list[int] = field(default_factory=list)

    def lost(self, cut: Cut, share: float) -> tuple[float, bool]:
        """What a way of cutting loses; and whether both of its sawn pieces come from one new bar."""
        length, most = self.bar.length, self.bar.length - self.bar.kerf - self.bar.reuse
        first, rest = (0 if cut.first == length else cut.first), cut.rest
        of_first, of_rest = (first if first <= most else length), (rest if rest <= most else length)  # as `Bar.seat`
        apart = 0.0
        if first:
            apart += _lost(self.for_first, first, of_first, share * (length - of_first))
        if rest:
            apart += _lost(self.for_rest, rest, of_rest, share * (length - of_rest))
            together = length - self.bar.kerf - of_first - of_rest
            if first and 0 <= together < apart:
                return float(together), True
        return apart, False

    def take(self, cut: Cut, *, together: bool) -> None:
        if not together:
            first = cut.sawn(self.bar)
            _take(self.for_first, self.for_rest, first, self.bar)
            _take(self.for_rest, self.for_first, cut.rest, self.bar)


def _lost(offcuts: list[int], piece: int, seat: int, anew: float) -> float:
    """What is lost where a piece that takes `seat` of a bar is cut from the shortest off-cut; `anew` from a new bar."""
    at = bisect_left(offcuts, seat)
    return float(offcuts[at] - piece) if at < len(offcuts) else anew


def _take(offcuts: list[int], leaves: list[int], piece: int, bar: Bar) -> None:
    """Cut a piece from the shortest off-cut that will do, else from a new bar, whose off-cut is kept."""
    if not piece:
        return
    at = bisect_left(offcuts, bar.seat(piece))
    if at < len(offcuts):
        del offcuts[at]
    elif bar.seat(piece) + bar.kerf < bar.length:
        insort(leaves, bar.length - bar.kerf - piece)


def work_of_chain(job: Job) -> int:
    """Strokes that one chain takes."""
    return RATE * sum(len(run.cuts) for run in job.runs)


def chained(job: Job, manner: Manner, nearness: Nearness) -> list[Cut]:
    """A way of cutting for each run; `nearness` is that of the job."""
    offcuts = Offcuts(job.bar)
    cuts: list[Cut | None] = [None] * len(job.runs)
    for at in manner.order:
        near = None if manner.in_line else nearness.of_ways(at, cuts)
        best = min(rated(job.runs[at], offcuts, manner, near), key=lambda entry: entry[0])
        cuts[at] = best[1]
        offcuts.take(best[1], together=best[2])
    return [cut for cut in cuts if cut is not None]


def rated(
    run: Run, offcuts: Offcuts, manner: Manner, nearness: Sequence[float] | None
) -> list[tuple[tuple[float, int, float], Cut, bool]]:
    """Every way to cut a run with how good it is, the least the best; `nearness` of each way, if that counts."""
    fewest = min(cut.count for cut in run.cuts)
    rated = []
    for cut, near in zip(run.cuts, nearness or repeat(0.0), strict=False):
        lost, together = offcuts.lost(cut, manner.share)
        more = cut.count - fewest if manner.fewest_joints else 0
        rated.append(((near, more, lost), cut, together))
    return rated
