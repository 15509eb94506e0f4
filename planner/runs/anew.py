"""A few runs at a time cut anew, as long as that is no worse.

In: a job and a way of cutting for each run. Out: another, as good or better. Two or three runs are taken out; what is
left of the other runs' bars is what they are then cut from, by best fit. What counts is the number of bars, then how
many runs have joints in line, then joints or long off-cuts, as asked. (The idea is known as ruin and recreate: Schrimpf
and others 2000, from memory.) Often the fewest; never a proof.
"""

import random
from bisect import insort
from collections.abc import Sequence

from planner.records import dataclass
from planner.runs.chain import Manner, Offcuts, rated, work_of_chain
from planner.runs.effort import Effort
from planner.runs.job import Cut, Job, LaidBar
from planner.runs.nearness import Nearness
from planner.runs.pack import bars_for, bought, work_of_bars

#: Runs looked at by all tries together, and tries.
MOST_WORK, MOST_TRIES = 40_000, 800

#: Strokes that it takes to see whether a run stands in line with its neighbours.
IN_LINE = 4

#: So many runs are cut anew at a time.
AT_A_TIME = 3

Rank = tuple[int, int, int]


def in_line(job: Job, chosen: Sequence[Cut]) -> int:
    """Runs whose joints stand too near to those of a neighbour."""
    return sum(job.near(at, cut, chosen) > 0 for at, cut in enumerate(chosen))


@dataclass(frozen=True, slots=True)
class Enough:
    """So few bars, with no joints in line, are enough."""

    bars: int
    apart: bool = False  #: runs in line count more than bars

    def ordered(self, bars: int, near: int) -> tuple[int, int]:
        """What counts first, and what counts then."""
        return (near, bars) if self.apart else (bars, near)


def cut_anew(
    job: Job, chosen: Sequence[Cut], effort: Effort, enough: Enough, nearness: Nearness, *, joints: bool
) -> list[Cut]:
    """Better cuts, by bars and runs in line; stops at `enough` of these, or when the effort is spent.

    What counts then is few joints where `joints`, else long off-cuts, from which the next runs can be cut.
    """

    def rank(cuts: Sequence[Cut], near: Sequence[bool]) -> Rank:
        bars = bars_for(job, cuts)
        last = sum(cut.count for cut in cuts) if joints else _long_offcuts(job, bars)
        return (*enough.ordered(bought(job, cuts, bars), sum(near)), last)

    dice, now, near = random.Random(0), list(chosen), nearness.in_line(chosen)
    best = rank(now, near)
    each = 2 * work_of_bars(job) + IN_LINE * len(now) * (1 + joints) + AT_A_TIME * work_of_chain(job) // len(now)
    for number in range(min(MOST_TRIES, MOST_WORK // len(now))):
        if best[:2] <= enough.ordered(enough.bars, 0) or effort.spent:
            break
        effort.spend(each)
        taken = _taken([at for at, wrong in enumerate(near) if wrong and joints], len(now), dice, number)
        manner = Manner((), dice.choice((0.3, 0.6, 1.0)), fewest_joints=joints and number % 4 < 2)
        cuts = _without(job, now, taken, manner, nearness)
        nearer = nearness.again(near, cuts, taken)
        other = rank(cuts, nearer)
        if other <= best:
            now, near, best = cuts, nearer, other
    return now


def _taken(wrong: Sequence[int], count: int, dice: random.Random, number: int) -> list[int]:
    """Runs to take out: one that is wrong if there are any, and some next to it, or some anywhere."""
    first = dice.choice(wrong) if wrong else dice.randrange(count)
    others = (
        [(first + k) % count for k in range(1, AT_A_TIME)] if number % 2 else dice.sample(range(count), min(2, count))
    )
    taken = list(dict.fromkeys([first, *others]))
    dice.shuffle(taken)
    return taken


def _without(job: Job, chosen: Sequence[Cut], taken: Sequence[int], manner: Manner, nearness: Nearness) -> list[Cut]:
    """Take some runs out and cut them anew, one after the other."""
    cuts: list[Cut | None] = [None if at in taken else cut for at, cut in enumerate(chosen)]
    offcuts = _left(job, [cut for cut in cuts if cut is not None])
    for at in taken:
        ways = rated(job.runs[at], offcuts, manner, nearness.of_ways(at, cuts))
        _, cut, together = min(ways, key=lambda entry: entry[0])
        cuts[at] = cut
        offcuts.take(cut, together=together)
    return [cut for cut in cuts if cut is not None]


def _left(job: Job, chosen: Sequence[Cut]) -> Offcuts:
    """What is left of bars from which one piece is cut."""
    offcuts, bar = Offcuts(job.bar), job.bar
    for laid in bars_for(job, chosen):
        room = bar.length - bar.kerf - bar.seat(laid.first or laid.rest)
        if room > 0 and not (laid.first and laid.rest) and not laid.singles:
            insort(offcuts.for_rest if laid.first else offcuts.for_first, room)
    return offcuts


def _long_offcuts(job: Job, bars: Sequence[LaidBar]) -> int:
    """The less, the longer the off-cuts are."""
    return -sum((job.bar.length - laid.rest - laid.first) ** 2 for laid in bars)
