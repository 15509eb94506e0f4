"""Fewer joints in line and fewer joints, with no bar more.

In: a job and a way of cutting for each run. Out: another, as good or better. Two alike runs change places, or one run
is cut in another way, as long as that helps. Not the best there can be: a wish, where the number of bars is the duty.
"""

from collections.abc import Iterator, Sequence

from planner.runs.job import Cut, Job
from planner.runs.nearness import Nearness
from planner.runs.pack import bars_for, bought

#: Pieces laid on bars by all tries together, and rounds over all runs.
MOST_WORK = 400_000
MOST_ROUNDS = 3


def tidied(job: Job, chosen: Sequence[Cut], most: int, nearness: Nearness) -> list[Cut]:
    """The same runs from at most so many bars, with fewer joints in line, then fewer joints, where that was found.

    `nearness` is that of the job.
    """
    now, work = list(chosen), MOST_WORK
    for _ in range(MOST_ROUNDS):
        before = list(now)
        for at in range(len(now)):
            _change_places(job, now, at, nearness)
        for at in range(len(now)):
            for cut in _better(job, now, at, nearness):
                work -= len(now)
                changed = [*now[:at], cut, *now[at + 1 :]]
                if bought(job, changed, bars_for(job, changed)) <= most:
                    now = changed
                    break
                if work < 0:
                    return now
        if now == before:
            break
    return now


def _better(job: Job, chosen: Sequence[Cut], at: int, nearness: Nearness) -> Iterator[Cut]:
    """Ways to cut a run that are better than the one it has, the best first."""
    here = _rank(nearness, chosen, at, chosen[at])
    ranked = sorted(
        ((_rank(nearness, chosen, at, cut), number) for number, cut in enumerate(job.runs[at].cuts)),
    )
    for rank, number in ranked:
        if rank >= here:
            return
        yield job.runs[at].cuts[number]


def _rank(nearness: Nearness, chosen: Sequence[Cut], at: int, cut: Cut) -> tuple[float, int]:
    return (nearness.near(at, cut, chosen), cut.count)


def _change_places(job: Job, chosen: list[Cut], at: int, nearness: Nearness) -> None:
    """Where a run's joints stand in line with a neighbour's, let it change places, in `chosen`, with one alike."""
    if not nearness.near(at, chosen[at], chosen):
        return
    for other, run in enumerate(job.runs):
        if run.cuts == job.runs[at].cuts and chosen[other] != chosen[at]:
            before = _in_line(job, chosen, (at, other), nearness)
            chosen[at], chosen[other] = chosen[other], chosen[at]
            if _in_line(job, chosen, (at, other), nearness) < before:
                return
            chosen[at], chosen[other] = chosen[other], chosen[at]


def _in_line(job: Job, chosen: Sequence[Cut], changed: Sequence[int], nearness: Nearness) -> tuple[int, float]:
    """How many of some runs and their neighbours have joints in line, and by how much in all."""
    touched = {near for at in changed for near in (at, *job.runs[at].beside)}
    by = [nearness.near(at, chosen[at], chosen) for at in sorted(touched)]
    return (sum(near > 0 for near in by), sum(by))
