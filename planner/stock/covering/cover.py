"""Covering what is wanted with patterns: the nouns that bars and panels share.

A task asks for so many pieces of each kind; a bench knows what fits on one bar or panel. An answer is a list of
patterns with how often each is cut, what they cost, and a bound that no other list can go below.
"""

import math
from collections.abc import Iterable, Sequence
from typing import NamedTuple, Protocol

from planner.records import dataclass

#: (kind, how many) for each kind of piece on one bar or panel, by rising kind.
Counts = tuple[tuple[int, int], ...]


class Column(NamedTuple):
    """One stock and what is cut from it."""

    stock: int
    counts: Counts


class Fill(NamedTuple):
    """The most valuable pattern of one stock."""

    value: int
    counts: Counts


class Bench(Protocol):
    """What fits on one bar or panel of each stock."""

    @property
    def work(self) -> int:
        """Strokes of `planner.runs.effort` that it has taken so far."""

    def best(self, values: Sequence[int], demand: Sequence[int]) -> list[Fill]:
        """For each stock the pattern of greatest value, with no more of a kind than is wanted.

        The value must be the greatest or more, never less: bounds are built on it.
        """

    def greedy(self, demand: Sequence[int], limits: Sequence[int | None]) -> list[tuple[Column, int]]:
        """Cover the demand quickly and not badly."""

    def near(self, values: Sequence[int], least: Sequence[int], demand: Sequence[int]) -> list[Column] | None:
        """All patterns that are worth `least` for their stock and take no further piece; None when too many."""


@dataclass(frozen=True, slots=True)
class Task:
    """Pieces wanted, and the stocks to cut them from."""

    demand: tuple[int, ...]  #: how many of each kind
    costs: tuple[int, ...]  #: of one of each stock
    limits: tuple[int | None, ...]  #: how many there are of each stock
    bench: Bench


@dataclass(frozen=True, slots=True)
class Certificate:
    """A proof that needs no trust in a solver: a value for each kind of piece.

    No bar or panel holds pieces worth more than `most`, whatever is cut from it; what is wanted is worth
    sum(demand * values); so at least that over `most` must be bought. With several stocks `most` is what a unit of
    cost may hold, and `given` is the value that stocks of limited number may hold beyond it, `beyond` that of each one.
    """

    demand: tuple[int, ...]
    values: tuple[int, ...]
    most: int
    given: int = 0
    beyond: tuple[int, ...] = (0,)
    step: int = 1  #: costs are multiples of this

    @property
    def worth(self) -> int:
        return sum(n * value for n, value in zip(self.demand, self.values, strict=True)) - self.given

    @property
    def bound(self) -> int:
        """Least cost (or number, where each costs 1) of any way to cut."""
        return max(-(-self.worth // (self.most * self.step)), 0) * self.step


@dataclass(frozen=True, slots=True)
class Cover:
    """Patterns that cover a task."""

    plan: tuple[tuple[Column, int], ...]
    cost: int
    bound: int  #: no plan costs less
    certificate: Certificate | None  #: None where the bound rests on trying all patterns that could do better

    @property
    def proven(self) -> bool:
        return self.cost == self.bound


def certify(task: Task, values: Sequence[int], worth_each: Sequence[int]) -> Certificate:
    """Turn values of pieces, and the most that one of each stock can be worth, into a certificate."""
    open_ended = [k for k, limit in enumerate(task.limits) if limit is None]
    most = max((-(-worth_each[k] // task.costs[k]) for k in open_ended), default=1)
    most = max(most, 1)
    beyond = tuple(max(worth - most * cost, 0) for worth, cost in zip(worth_each, task.costs, strict=True))
    given = sum((limit or 0) * more for limit, more in zip(task.limits, beyond, strict=True))
    return Certificate(task.demand, tuple(values), most, given, beyond, math.gcd(*task.costs) or 1)


def cost_of(task: Task, plan: Iterable[tuple[Column, int]]) -> int:
    return sum(task.costs[column.stock] * count for column, count in plan)


def taken_from(demand: list[int], column: Column, times: int) -> None:
    """Take what a pattern yields off the demand, in place; what is too much is nothing."""
    for kind, count in column.counts:
        demand[kind] = max(demand[kind] - count * times, 0)


def useful(demand: Sequence[int], column: Column, times: int) -> int:
    """How often a pattern still yields something that is wanted, up to `times`."""
    return min(times, max((-(-demand[kind] // count) for kind, count in column.counts), default=0))


def gathered(plan: Iterable[tuple[Column, int]]) -> tuple[tuple[Column, int], ...]:
    """The same patterns with equal ones counted together, in a fixed order."""
    counted: dict[Column, int] = {}
    for column, count in plan:
        if count:
            counted[column] = counted.get(column, 0) + count
    return tuple(sorted(counted.items()))
