"""Which stock each piece is cut from, so that all together cost least, and what is proven of it.

In: a job. Out: `Shared`. Of what costs alike the choice with the fewest lengths is taken, then the one in which most
pieces come from their own stock. Each step is taken only while effort is left:
1. all from their own stock, and the bound by length;
2. prices of pieces, by a solution in fractions, as a certificate;
3. the least cost in whole numbers, then the fewest lengths at that cost.
Where there are very many different lengths, near ones are taken as the longest of them for the choice, and as the
shortest for the bound.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby

from planner.pairs.certificate import PairCertificate, by_length, certified, step_up
from planner.pairs.job import Job, Kind
from planner.records import dataclass
from planner.runs.effort import Effort

#: With more kinds than this, near lengths are taken together.
MOST_KINDS = 400

Counts = tuple[tuple[int, ...], ...]  #: of each kind, how many come from each of its stocks


@dataclass(frozen=True, slots=True)
class Shared:
    """How many pieces of each kind come from each of its stocks."""

    job: Job
    counts: Counts
    bought: tuple[int, ...]  #: of each stock
    bought_own: tuple[int, ...]  #: of each, if every piece came from its own stock
    lower_bound: int  #: no choice costs less
    certificate: PairCertificate | None  #: None where the bound rests on a search for whole numbers

    @property
    def cost(self) -> int:
        return self.job.cost(self.bought)

    @property
    def cost_own(self) -> int:
        return self.job.cost(self.bought_own)

    @property
    def proven(self) -> bool:
        return self.cost == self.lower_bound

    @property
    def moved(self) -> int:
        """Pieces that come from a stock that is not their own."""
        return sum(sum(row[1:]) for row in self.counts)


def as_chosen(job: Job, counts: Counts) -> Shared:
    """A choice as it stands, with the bound by length."""
    own = job.bought([(sum(row), *([0] * (len(row) - 1))) for row in counts])
    proof = by_length(job)
    return Shared(job, counts, job.bought(counts), own, proof.bound, proof)


def share(job: Job, budget_s: float) -> Shared:
    """Choose a stock for each piece, with the work that takes about so many seconds."""
    best = as_chosen(job, tuple((kind.count, *([0] * (len(kind.stocks) - 1))) for kind in job.kinds))
    if job.kinds and budget_s > 0:
        best = _searched(best, Effort.of(budget_s))
    bound = best.certificate.bound if best.certificate else best.lower_bound
    return replace(best, lower_bound=min(bound, best.cost))


def _searched(best: Shared, effort: Effort) -> Shared:
    """Steps 2 and 3."""
    from planner.pairs.model import Model  # the solver is loaded only where there is something to choose

    job, proof, searched = best.job, best.certificate, 0
    low, high = _near_together(job, longest=False), _near_together(job, longest=True)
    values = (model := Model(low)).values(effort.part(1 / 4))
    if values is not None and (proof is None or certified(low, values).bound >= proof.bound):
        proof = certified(low, values)
    if len(job.kinds) > MOST_KINDS:
        model = Model(high)
    found = model.cheapest(proof.bound if proof else 0, effort.part(1 / 2))
    if len(job.kinds) <= MOST_KINDS:
        searched = step_up(found.least, job)
    if found.counts is not None:
        best = _better(best, _dealt(job, found.counts))
        fewest = model.fewest(high.cost(high.bought(found.counts)), effort)
        if fewest.counts is not None:
            best = _better(best, _dealt(job, fewest.counts))
    if proof is None or searched > proof.bound:
        return replace(best, lower_bound=searched, certificate=None)
    return replace(best, certificate=proof)


def _better(best: Shared, counts: Counts) -> Shared:
    """The better of two choices."""
    other = replace(best, counts=counts, bought=best.job.bought(counts))
    return min(best, other, key=lambda one: (one.cost, sum(one.bought), one.moved))


def _groups(job: Job) -> Iterator[list[int]]:
    """Numbers of the kinds that are taken together, the longest of each group first."""
    numbers = list(range(len(job.kinds)))
    if len(numbers) <= MOST_KINDS:
        yield from ([number] for number in numbers)
        return
    numbers.sort(key=lambda k: (job.kinds[k].stocks, -job.kinds[k].length))
    size = -(-len(numbers) // MOST_KINDS)
    for _, alike in groupby(numbers, key=lambda k: job.kinds[k].stocks):
        row = list(alike)
        yield from (row[at : at + size] for at in range(0, len(row), size))


def _near_together(job: Job, *, longest: bool) -> Job:
    """The job with near lengths taken together, as the longest of them or as the shortest."""
    kinds = []
    for group in _groups(job):
        first = job.kinds[group[0 if longest else -1]]
        kinds.append(Kind(first.length, sum(job.kinds[k].count for k in group), first.stocks))
    return replace(job, kinds=tuple(kinds))


def _dealt(job: Job, counts: Counts) -> Counts:
    """Deal out what was chosen for kinds taken together: the longest stay with their own stock first."""
    rows = [[0] * len(kind.stocks) for kind in job.kinds]
    for group, row in zip(_groups(job), counts, strict=True):
        left = [at for at, count in enumerate(row) for _ in range(count)]
        for k in group:
            for at in left[: job.kinds[k].count]:
                rows[k][at] += 1
            del left[: job.kinds[k].count]
    return tuple(map(tuple, rows))
