"""Proof that no choice of stocks costs less, which anybody can re-check without trusting a solver.

Each kind of piece has a value, a whole number. Whatever is cut from a length, one piece or two, it is worth no more
than `most` for each unit that the length costs. So all pieces together cost at least what they are worth over `most`.
"""

import math
from collections.abc import Sequence

from planner.pairs.job import Job
from planner.records import dataclass


@dataclass(frozen=True, slots=True)
class PairCertificate:
    """Values of the kinds of pieces of a job, in its order."""

    job: Job
    values: tuple[int, ...]
    most: int

    @property
    def bound(self) -> int:
        """What any choice costs at least: a multiple of the step of all costs."""
        worth = sum(kind.count * value for kind, value in zip(self.job.kinds, self.values, strict=True))
        return -(-worth // (self.most * self.job.step)) * self.job.step

    def holds(self) -> bool:
        """Re-check that no length yields more than it costs."""
        job = self.job
        return all(dearest(job, self.values, at) <= self.most * stock.cost for at, stock in enumerate(job.stocks))


def dearest(job: Job, values: Sequence[int], stock: int) -> int:
    """The most that one length of a stock may be worth: of each piece alone, and of each two that fit."""
    here = [(kind.length, value) for kind, value in zip(job.kinds, values, strict=True) if stock in kind.stocks]
    alone = [value for _, value in here]
    pairs = [a + b for long, a in here for short, b in here if short <= long and job.fits(stock, long, short)]
    return max([0, *alone, *pairs])


def certified(job: Job, values: Sequence[int]) -> PairCertificate:
    """Turn any values into a proof."""
    worth = [-(-dearest(job, values, at) // stock.cost) for at, stock in enumerate(job.stocks)]
    return PairCertificate(job, tuple(values), max(1, *worth))


def by_length(job: Job) -> PairCertificate:
    """The proof that needs no solver: what is cut from a length is no longer than it, kerfs left out."""
    return certified(job, [kind.length for kind in job.kinds])


def step_up(cost: float, job: Job) -> int:
    """A bound in fractions, raised to the next cost that there can be."""
    return math.ceil(cost / job.step - 1e-6) * job.step
