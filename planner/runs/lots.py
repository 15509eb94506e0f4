"""Several lots of runs, of several rooms, that are cut from the same bars.

In: each lot as it is begun by itself. Out: all of them as one, as they are begun, with the bound over every way to
begin them; or each of them begun anew, where all together take fewer bars so.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from planner.runs.choose import Begun, begin_runs, prove
from planner.runs.effort import Effort
from planner.runs.job import Cut, Job, Run
from planner.runs.pack import bars_for, bought


def together(begun: Sequence[Begun], names: Sequence[str], budget_s: float, *, tight: bool = False) -> Begun:
    """Cut several lots of runs from the same bars, as each lot is begun already; `names` go before those of its runs.

    The bound is over all ways to begin the runs of all lots.
    """
    job, chosen = _joined(begun, names)
    bars = bars_for(job, chosen, tight=tight)
    count = bought(job, chosen, bars)
    proof = prove(job, Effort.of(budget_s), count)
    return Begun(job, chosen, bars, count, proof.bound, proof)


def begun_together(
    begun: Sequence[Begun], most: int, budget_s: float, *, tight: bool = False, apart: bool = False
) -> tuple[Begun, ...]:
    """The lots begun so that all of them take the fewest bars together; as they are where that saves none.

    `most` is what they take at most in any case, each by itself. Each lot keeps its own bound.
    """
    job, chosen = _joined(begun, [""] * len(begun))
    now = min(most, bought(job, chosen, bars_for(job, chosen, tight=tight)))
    if now <= prove(job, Effort(0)).bound:
        return tuple(begun)
    found = begin_runs(job, budget_s, tight=tight, apart=apart, start=chosen)
    if found.bought >= now:
        return tuple(begun)
    left = iter(found.chosen)
    return tuple(_begun_as(lot, tuple(next(left) for _ in lot.job.runs), tight=tight) for lot in begun)


def _begun_as(lot: Begun, chosen: tuple[Cut, ...], *, tight: bool) -> Begun:
    if chosen == lot.chosen:
        return lot
    bars = bars_for(lot.job, chosen, tight=tight)
    return replace(lot, chosen=chosen, bars=bars, bought=bought(lot.job, chosen, bars))


def _joined(begun: Sequence[Begun], names: Sequence[str]) -> tuple[Job, tuple[Cut, ...]]:
    """All lots as one job, as they are begun."""
    runs: list[Run] = []
    for lot, name in zip(begun, names, strict=True):
        runs += _named(lot, name, len(runs))
    singles = [
        replace(single, name=f"{name} {single.name}")
        for lot, name in zip(begun, names, strict=True)
        for single in lot.job.singles
    ]
    job = replace(begun[0].job, runs=tuple(runs), singles=tuple(singles))
    return job, tuple(cut for lot in begun for cut in lot.chosen)


def _named(lot: Begun, name: str, before: int) -> Iterator[Run]:
    for run in lot.job.runs:
        yield replace(run, name=f"{name} {run.name}", beside=tuple(before + other for other in run.beside))
