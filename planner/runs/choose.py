"""How to begin every run so that the fewest bars are bought, and what is proven of it.

In: a job. Out: `Begun`. Of equally few bars those whose joints stand clear of their neighbours' are taken, then those
with fewest joints; or, if that is wished, joints that stand clear come before few bars. Where the plain way (run after
run, each cut as it comes first) is no worse, that stays. Each step is taken only while a doubt and effort are left:
1. the plain way, and the bound by length;
2. the prices of the flow model, as a certificate;
3. best-fit chains, in several orders from a fixed seed;
4. whole numbers for the flow model.
"""

import random
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from planner.records import dataclass
from planner.runs.anew import Enough, cut_anew, in_line
from planner.runs.certificate import RunCertificate, ValuedRun, ValuedSingle
from planner.runs.chain import Manner, chained, work_of_chain
from planner.runs.effort import Effort
from planner.runs.job import Cut, Job, LaidBar
from planner.runs.nearness import Nearness
from planner.runs.pack import bars_for, bought, kept
from planner.runs.tidy import tidied

if TYPE_CHECKING:
    from planner.runs.flow import Flow

#: With more ways to cut than this, all kinds of runs together, there is no flow model.
MOST_WAYS = 3_000

#: With so few it is solved in whole numbers before longer tries.
FEW_WAYS = 300

#: Ways looked at by all chains together; and never fewer chains than the least, nor more than the most.
CHAIN_WORK = 120_000
LEAST_CHAINS, MOST_CHAINS = 4, 60


@dataclass(frozen=True, slots=True)
class Begun:
    """How runs are put together, and what they are cut from."""

    job: Job
    chosen: tuple[Cut, ...]  #: of each run
    bars: tuple[LaidBar, ...]  #: the sawn ones
    bought: int
    lower_bound: int  #: whatever the first cuts, no fewer bars will do
    certificate: RunCertificate | None  #: None where the bound rests on a search for whole numbers

    @property
    def proven(self) -> bool:
        return self.bought == self.lower_bound


def begin_runs(
    job: Job, budget_s: float, *, tight: bool = False, apart: bool = False, start: Sequence[Cut] = ()
) -> Begun:
    """Choose a way of cutting for each run, with the work that takes about so many seconds.

    `tight` prefers few long off-cuts; with `apart`, joints clear of their neighbours' count more than a bar; `start` is
    a choice to be bettered.
    """
    return _begun(job, Effort.of(budget_s), tight=tight, apart=apart, start=start)


def _begun(job: Job, effort: Effort, *, tight: bool, apart: bool, start: Sequence[Cut] = ()) -> Begun:
    search = _Search(job, effort, tight, apart)
    search.offer(plain(job))
    if start:
        search.offer(start)
    fewest = search.cost
    if search.open:
        _search(search)
    if not effort.spent and (search.cost < fewest or search.in_line):
        _tidy(search)
    if search.in_line and not apart and not effort.spent:
        search.offer(_begun(job, effort.part(1 / 2), tight=tight, apart=True).chosen)
    return search.begun()


def plain(job: Job) -> list[Cut]:
    """The plain way: run after run, clear of the neighbours' joints, else as it comes first in the run's list.

    Clear of the joints of the runs before it, then fewest pieces, then the first way, then the last one of those with
    fewest pieces: the mirror image of the first.
    """
    chosen: list[Cut | None] = [None] * len(job.runs)
    for at, run in enumerate(job.runs):
        fewest = min(cut.count for cut in run.cuts)
        mirror = max(k for k, cut in enumerate(run.cuts) if cut.count == fewest)

        def rank(k: int, at: int = at, cuts: Sequence[Cut] = run.cuts, mirror: int = mirror) -> tuple[float, int, int]:
            last = 1 if k == mirror and k else 0 if k == 0 else k + 1
            return (job.near(at, cuts[k], chosen), cuts[k].count, last)

        chosen[at] = run.cuts[min(range(len(run.cuts)), key=rank)]
    return [cut for cut in chosen if cut is not None]


def prove(job: Job, effort: Effort, enough: int | None = None) -> RunCertificate:
    """The strongest certificate that takes no search; the one by length where that proves `enough`."""
    runs = Counter(run.cuts for run in job.runs)
    singles = Counter(single.kind for single in job.singles)
    kinds = tuple(ValuedRun(cuts, count) for cuts, count in runs.items())
    alone = tuple(ValuedSingle(*kind, count) for kind, count in singles.items())
    by_length = RunCertificate(job.bar, kinds, alone, job.bar.length)
    if by_length.bound == enough or effort.spent or sum(len(kind.cuts) for kind in kinds) > MOST_WAYS:
        return by_length
    priced = _flow(by_length).certificate(effort)
    return by_length if priced is None or priced.bound < by_length.bound else priced


@dataclass(slots=True)
class _Best:
    rank: tuple[int, int, int]
    bars_bought: int
    in_line: int
    chosen: tuple[Cut, ...]
    bars: tuple[LaidBar, ...]


class _Search:
    """The best way so far, and the best bound."""

    def __init__(self, job: Job, effort: Effort, tight: bool, apart: bool) -> None:
        self.job, self.effort, self.tight, self.apart = job, effort, tight, apart
        self.best: _Best | None = None
        self.searched = 0  #: bound by a search for whole numbers
        self.nearness = Nearness(job)
        self.sign(prove(job, Effort(0)))

    def sign(self, certificate: RunCertificate) -> None:
        """Take a proof; what it proves is worked out once."""
        self.certificate, self.proven = certificate, certificate.bound

    @property
    def bound(self) -> int:
        return max(self.proven, self.searched)

    @property
    def cost(self) -> int:
        assert self.best is not None
        return self.best.bars_bought

    @property
    def in_line(self) -> int:
        assert self.best is not None
        return self.best.in_line

    @property
    def chosen(self) -> tuple[Cut, ...]:
        assert self.best is not None
        return self.best.chosen

    @property
    def open(self) -> bool:
        return self.cost > self.bound and not self.effort.spent

    def offer(self, chosen: Sequence[Cut], bars: tuple[LaidBar, ...] | None = None) -> None:
        if bars is None:
            bars = bars_for(self.job, chosen, tight=self.tight)
        count, near = bought(self.job, chosen, bars), in_line(self.job, chosen)
        pieces = sum(cut.count for cut in chosen)
        rank = (near, count, pieces) if self.apart else (count, near, pieces)
        if self.best is None or rank < self.best.rank:
            self.best = _Best(rank, count, near, tuple(chosen), bars)

    def begun(self) -> Begun:
        assert self.best is not None
        proof = None if self.searched > self.proven else self.certificate
        return Begun(self.job, self.best.chosen, self.best.bars, self.cost, self.bound, proof)


def _search(search: _Search) -> None:
    """Steps 2 to 4."""
    job = search.job
    search.sign(prove(job, search.effort.part(1 / 2), search.cost))
    for manner in _manners(job):
        if not search.open:
            return
        search.effort.spend(work_of_chain(job))
        search.offer(chained(job, manner, search.nearness))
    small = sum(len(kind.cuts) for kind in search.certificate.runs) <= FEW_WAYS
    if search.open and small:
        _whole(search)
    if search.open and job.runs:
        enough = Enough(search.bound, search.apart)
        effort = search.effort.part(1 / 2)
        search.offer(cut_anew(job, search.chosen, effort, enough, search.nearness, joints=False))
    if search.open and not small:
        _whole(search)


def _tidy(search: _Search) -> None:
    """Fewer joints in line, and fewer joints."""
    job = search.job
    if search.in_line:
        enough = Enough(search.cost, search.apart)
        effort = search.effort.part(1 / 2)
        search.offer(cut_anew(job, search.chosen, effort, enough, search.nearness, joints=True))
    search.offer(tidied(job, search.chosen, search.cost, search.nearness))
    if search.in_line and search.apart:
        most = sum(cut.count for cut in search.chosen) + len(job.singles)
        search.offer(tidied(job, search.chosen, most, search.nearness))


def _manners(job: Job) -> Iterator[Manner]:
    """Orders and shares to try; those that keep joints apart first."""
    dice = random.Random(0)
    each = sum(len(run.cuts) for run in job.runs)
    if not each:
        return
    chains = min(max(CHAIN_WORK // each, LEAST_CHAINS), MOST_CHAINS)
    natural = tuple(range(len(job.runs)))
    shares = (0.1, 0.3, 0.6, 0.02)
    for number in range(chains):
        order = natural if number < 2 else tuple(dice.sample(natural, len(natural)))
        yield Manner(order, shares[number % 4], fewest_joints=number % 2 == 0, in_line=4 * number >= 3 * chains)


def _flow(certificate: RunCertificate) -> "Flow":
    from planner.runs.flow import Flow  # the solver is loaded only where a plain count leaves a doubt

    return Flow(certificate.bar, certificate.runs, certificate.singles)


def _whole(search: _Search) -> None:
    """Whole numbers for the flow model, dealt out to the runs."""
    if sum(len(kind.cuts) for kind in search.certificate.runs) > MOST_WAYS:
        return
    flow = _flow(search.certificate)
    found = flow.whole(search.bound, search.effort)
    if found.counts is not None:
        chosen = _dealt(search.job, search.certificate.runs, found.counts)
        search.offer(chosen)
        if all(kept(search.job.bar, bar) for bar in found.bars):
            search.offer(chosen, found.bars)
    search.searched = min(found.least, search.cost)


def _dealt(job: Job, kinds: Sequence[ValuedRun], counts: Sequence[Sequence[int]]) -> list[Cut]:
    """Give each run one of the ways its kind is cut in, clear of its neighbours' joints where that can be."""
    left: defaultdict[tuple[Cut, ...], list[Cut]] = defaultdict(list)
    for kind, times in zip(kinds, counts, strict=True):
        for cut, count in zip(kind.cuts, times, strict=True):
            left[kind.cuts] += [cut] * count
    chosen: list[Cut | None] = [None] * len(job.runs)
    for at, run in enumerate(job.runs):
        cut = min(dict.fromkeys(left[run.cuts]), key=lambda one, at=at: job.near(at, one, chosen))  # type: ignore[misc]
        left[run.cuts].remove(cut)
        chosen[at] = cut
    return [cut for cut in chosen if cut is not None]
