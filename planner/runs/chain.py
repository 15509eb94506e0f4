"""First cuts by best fit: each run is begun and ended from the off-cuts that those before it left.

In: a job, an order of the runs. Out: a way of cutting for each. What is lost is counted: what stays of an off-cut that
is used up, and a share of what a new bar leaves. Ways whose joints stand too near to a neighbour's come last. A rule of
thumb; tried with several orders and shares, it often finds as few as can be.
"""

from bisect import bisect_left, insort
from collections.abc import Sequence
from dataclasses import dataclass, field

from planner.runs.job import Bar, Cut, Job

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
        bar, first, rest = self.bar, cut.sawn(self.bar), cut.rest
        of_first, of_rest = bar.seat(first), bar.seat(rest)
        apart = _lost(self.for_first, first, of_first, bar, share) + _lost(self.for_rest, rest, of_rest, bar, share)
        together = bar.length - bar.kerf - of_first - of_rest
        if first and rest and 0 <= together < apart:
            return float(together), True
        return apart, False

    def take(self, cut: Cut, *, together: bool) -> None:
        if not together:
            first = cut.sawn(self.bar)
            _take(self.for_first, self.for_rest, first, self.bar)
            _take(self.for_rest, self.for_first, cut.rest, self.bar)


def _lost(offcuts: list[int], piece: int, seat: int, bar: Bar, share: float) -> float:
    """What is lost where a piece that takes `seat` of a bar is cut from the shortest off-cut, or from a new bar."""
    if not piece:
        return 0.0
    at = bisect_left(offcuts, seat)
    return float(offcuts[at] - piece) if at < len(offcuts) else share * (bar.length - seat)


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


def chained(job: Job, manner: Manner) -> list[Cut]:
    """A way of cutting for each run."""
    offcuts = Offcuts(job.bar)
    cuts: list[Cut | None] = [None] * len(job.runs)
    for at in manner.order:
        best = min(rated(job, at, cuts, offcuts, manner), key=lambda entry: entry[0])
        cuts[at] = best[1]
        offcuts.take(best[1], together=best[2])
    return [cut for cut in cuts if cut is not None]


def rated(
    job: Job, at: int, chosen: Sequence[Cut | None], offcuts: Offcuts, manner: Manner
) -> list[tuple[tuple[float, int, float], Cut, bool]]:
    """Every way to cut a run with how good it is, the least the best."""
    run = job.runs[at]
    fewest = min(cut.count for cut in run.cuts)
    neighbours = () if manner.in_line else job.neighbours(at, chosen)
    rated = []
    for cut in run.cuts:
        lost, together = offcuts.lost(cut, manner.share)
        near = job.too_near(at, cut, neighbours) if neighbours else 0.0
        more = cut.count - fewest if manner.fewest_joints else 0
        rated.append(((near, more, lost), cut, together))
    return rated
