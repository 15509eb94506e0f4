"""The least stock that covers what is wanted, with a proof; how it is found, from quick to thorough.

In: a `Task`. Out: a `Cover`. Each step is taken only while cost and bound differ and effort is left:
1. a greedy plan, and bounds by length and by sizes that exclude each other;
2. column generation: the least cost in fractions; its prices become an integer certificate (Farley's bound);
3. diving: whole numbers are fixed one after the other, and what is left is solved again in fractions;
4. whole numbers for all patterns found so far;
5. all patterns that any cheaper plan could use; if these too yield none, there is none.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from planner.runs.effort import Effort
from planner.stock.covering.cover import (
    Certificate,
    Column,
    Cover,
    Task,
    certify,
    cost_of,
    gathered,
    taken_from,
    useful,
)

if TYPE_CHECKING:
    from planner.stock.covering.master import Master, Relaxed

#: Prices of pieces are whole multiples of this part of a unit of cost.
SCALE = 1_000_000

#: With more kinds of pieces than this, no column generation: greedy plan and bound alone.
MOST_KINDS = 200

Plan = list[tuple[Column, int]]

#: Chooses columns to fix, and how often each, from a solution in fractions.
Pick = Callable[[Sequence[float]], list[tuple[int, int]]]


@dataclass(slots=True)
class _Search:
    """The best plan and the best bound so far."""

    task: Task
    effort: Effort
    plan: Plan
    cost: int
    certificate: Certificate
    paid: int  #: work of the bench that the effort was spent for already, or that came before
    tried_all: bool = False

    @property
    def bound(self) -> int:
        return self.cost if self.tried_all else self.certificate.bound

    @property
    def done(self) -> bool:
        return self.cost <= self.bound or self.late

    @property
    def late(self) -> bool:
        return self.effort.spent

    def pay(self) -> None:
        """Spend the effort for what the bench has done since."""
        done = self.task.bench.work - self.paid
        self.effort.spend(done)
        self.paid += done

    def offer(self, plan: Plan) -> None:
        """Keep a plan if it is the cheapest so far."""
        cost = cost_of(self.task, plan)
        if cost < self.cost:
            self.plan, self.cost = plan, cost

    def sign(self, certificate: Certificate) -> None:
        """Keep a certificate if it is the strongest so far; the last one of equals is the sharpest."""
        if certificate.bound >= self.certificate.bound:
            self.certificate = certificate


def solve(task: Task, quick: Certificate, budget_s: float, start: Sequence[tuple[Column, int]] = ()) -> Cover:
    """Cover a task with the least cost that is found with the work that takes about so many seconds.

    `quick` is a bound to begin with, `start` is a plan that is known to work, to be bettered.
    """
    plan = list(start) or task.bench.greedy(task.demand, task.limits)
    search = _Search(task, Effort.of(budget_s), plan, cost_of(task, plan), quick, task.bench.work)
    if start and search.cost > search.bound:
        search.offer(task.bench.greedy(task.demand, task.limits))
        search.pay()
    if not search.done and len(task.demand) <= MOST_KINDS:
        _search_columns(search)
    certificate = None if search.tried_all and search.certificate.bound < search.cost else search.certificate
    return Cover(gathered(search.plan), search.cost, min(search.bound, search.cost), certificate)


def _search_columns(search: _Search) -> None:
    """Steps 2 to 5."""
    from planner.stock.covering.master import Master  # loaded only where a plain count leaves a doubt

    master = Master(search.task)
    for column, _ in search.plan:
        master.add(column)
    _price(search, master, search.task.demand, root=True)
    for pick in (_floor_then_largest, _nearest_first, _one_at_a_time):
        if not search.done:
            _dive(search, master, pick)
    if not search.done:
        _whole(search, master.columns)
    _try_all(search)


def _price(search: _Search, master: "Master", demand: Sequence[int], *, root: bool = False) -> "Relaxed | None":
    """Solve in fractions, adding columns as long as one is worth more than it costs."""
    task = search.task
    while (relaxed := master.relaxed(search.effort)) is not None and not search.late:
        values = [max(math.floor(worth * SCALE), 0) for worth in relaxed.worth]
        fills = task.bench.best(values, demand)
        search.pay()
        if root:
            search.sign(certify(task, values, [fill.value for fill in fills]))
            step = search.certificate.step
            if search.certificate.bound >= math.ceil((relaxed.cost - 1e-6) / step) * step:
                break
        dear = [
            Column(k, fill.counts)
            for k, fill in enumerate(fills)
            if fill.counts and fill.value > (task.costs[k] + relaxed.scarce[k]) * SCALE + SCALE // 100_000
        ]
        if not [column for column in dear if master.add(column)]:
            break
    return relaxed


def _dive(search: _Search, master: "Master", pick: Pick) -> None:
    """Fix whole numbers step by step; after each, finish what is left greedily and see whether that is cheaper."""
    task = search.task
    demand, limits, plan, cost = list(task.demand), list(task.limits), Plan(), 0
    while any(demand) and not search.done and cost < search.cost:
        master.want(demand, limits)
        relaxed = _price(search, master, demand)
        if relaxed is None:
            break
        for at, times in pick(relaxed.times):
            column = master.columns[at]
            times = _possible(useful(demand, column, times), limits[column.stock])
            taken_from(demand, column, times)
            limits[column.stock] = _less(limits[column.stock], times)
            plan.append((column, times))
        cost = cost_of(task, plan)
        search.offer(plan + task.bench.greedy(demand, limits))
        search.pay()
    master.want(task.demand, task.limits)


def _possible(times: int, limit: int | None) -> int:
    return times if limit is None else min(times, limit)


def _less(limit: int | None, times: int) -> int | None:
    return None if limit is None else limit - times


def _floor_then_largest(times: Sequence[float]) -> list[tuple[int, int]]:
    """All whole parts; where there are none, the largest fraction once."""
    whole = [(at, math.floor(x + 1e-6)) for at, x in enumerate(times) if x >= 1 - 1e-6]
    return whole or _largest(times)


def _nearest_first(times: Sequence[float]) -> list[tuple[int, int]]:
    """All that are nearly whole, rounded; where there are none, the largest fraction once."""
    near = [(at, round(x)) for at, x in enumerate(times) if round(x) >= 1 and abs(x - round(x)) <= 0.2]
    return near or _floor_then_largest(times)


def _one_at_a_time(times: Sequence[float]) -> list[tuple[int, int]]:
    """The one that is used most, once less than it asks for."""
    at, count = max(enumerate(times), key=lambda entry: (entry[1], -entry[0]))
    return [(at, max(math.floor(count + 1e-6), 1))]


def _largest(times: Sequence[float]) -> list[tuple[int, int]]:
    return [(max(enumerate(times), key=lambda entry: (entry[1], -entry[0]))[0], 1)]


def _whole(search: _Search, columns: Sequence[Column]) -> bool:
    """Whole numbers for given columns; True where no plan with them is cheaper than the best now known."""
    from planner.stock.covering.master import whole

    found = whole(search.task, columns, search.bound, search.certificate.step, search.effort)
    if found.plan is not None:
        search.offer(found.plan)
    return found.exact


def _try_all(search: _Search) -> None:
    """Gather all patterns that a cheaper plan could use, and solve with these.

    In a plan of cost c, what its patterns fall short of `most` for each unit of cost adds up to c * most - worth; so a
    pattern that falls shorter than this is in no such plan.
    """
    task = search.task
    while not search.done:
        certificate, best = search.certificate, search.cost
        short = (best - certificate.step) * certificate.most - certificate.worth
        prices = zip(task.costs, certificate.beyond, strict=True)
        least = [cost * certificate.most + beyond - short for cost, beyond in prices]
        columns = task.bench.near(certificate.values, least, task.demand)
        search.pay()
        if columns is None or search.late:
            return
        exact = _whole(search, columns) if columns else True
        if search.cost == best:
            search.tried_all = exact
            return
