"""No short last pieces where longer ones take no bar more.

In: how runs are begun, and how long an end piece should be. Out: the same runs from as many bars, with fewer end pieces
that are shorter, where that was found: one run at a time is cut in another way. No joint comes nearer to its
neighbour's than it was, and no run is put together of more pieces.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from planner.runs.choose import Begun
from planner.runs.job import Cut, Job
from planner.runs.pack import bars_for, bought

#: An end piece should be this long: one hanger or screw at least finds room on it beside its splice (common practice,
#: no source); tenths of a millimetre, as all lengths here.
LEAST_END = 3_000

#: Pieces laid on bars by all tries together.
MOST_WORK = 100_000


def longer_ends(begun: Begun, *, tight: bool = False, least: int = LEAST_END) -> Begun:
    """The runs with longer end pieces; `tight` as in `bars_for`."""
    job, now, work = begun.job, list(begun.chosen), MOST_WORK
    for at in [at for at, cut in enumerate(now) if short(cut, least)]:
        for cut in _better(job, now, at, least):
            work -= len(now) + len(job.singles)
            changed = [*now[:at], cut, *now[at + 1 :]]
            if work > 0 and bought(job, changed, bars_for(job, changed, tight=tight)) <= begun.bought:
                now = changed
                break
    if now == list(begun.chosen):
        return begun
    bars = bars_for(job, now, tight=tight)
    return replace(begun, chosen=tuple(now), bars=bars, bought=bought(job, now, bars))


def short(cut: Cut, least: int = LEAST_END) -> bool:
    """Whether an end piece of a run is shorter."""
    return cut.first < least or 0 < cut.rest < least


def _better(job: Job, chosen: Sequence[Cut], at: int, least: int) -> Iterator[Cut]:
    """Ways to cut a run without short ends, no worse in anything else, the best first: ends of twice the least do."""
    here = chosen[at]
    near = job.near(at, here, chosen)
    ranked = sorted(
        (job.near(at, cut, chosen), cut.count, -min(_shortest_end(cut), 2 * least), number)
        for number, cut in enumerate(job.runs[at].cuts)
        if cut.count <= here.count and not short(cut, least)
    )
    yield from (job.runs[at].cuts[number] for nearer, _, _, number in ranked if nearer <= near)


def _shortest_end(cut: Cut) -> int:
    return min(cut.first, cut.rest or cut.first)
