"""The most valuable pieces that fit on one bar: exact dynamic programming over whole tenths.

In: sizes with the kerf added (so is the bar's), values, how many of each may be used, and the factory ends each needs.
Out: for each bar length the greatest value and its pieces. Off-cuts shorter than `reuse` are thrown away: a further
piece is cut only from a rest of at least that, the shortest piece last. A bar of one piece leaves no such rest.
"""

from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planner.records import dataclass
from planner.stock.barwork.ends import MOST_ON_A_BAR, TRANSITIONS, EndsNeeded
from planner.stock.covering.cover import Counts, Fill

Table = NDArray[np.int64]

#: Strokes that it takes to offer pieces to every bar; and how many lengths of bars are looked at in one.
OFFER, OFFERED = 4, 3000


@dataclass(frozen=True, slots=True)
class _Step:
    """Some alike pieces, put on a bar together or not at all, and where that is better than without them."""

    kind: int
    copies: int
    size: int
    taken: tuple[tuple[int, int, NDArray[Any]], ...]  #: (state after, state before, better where)


@dataclass(frozen=True, slots=True)
class _End:
    """Where a pattern ends: after so many steps, in a state, with so much room, and a last piece."""

    value: int
    steps: int
    state: int
    room: int
    last: int | None = None


class Knapsack:
    """Bars of some lengths, and kinds of pieces; all lengths with the kerf added."""

    def __init__(
        self, capacities: Sequence[int], sizes: Sequence[int], ends: Sequence[EndsNeeded], reuse: int = 0
    ) -> None:
        self._capacities, self._sizes, self._ends, self._reuse = capacities, sizes, ends, reuse
        self._longest = max(capacities)
        self._states = 4 if any(need != "none" for need in ends) else 1
        self._moves = {need: sum(state < self._states for _, state in moves) for need, moves in TRANSITIONS.items()}
        self.work = 0  #: strokes so far

    def best(self, values: Sequence[int], demand: Sequence[int]) -> list[Fill]:
        """The greatest value for each bar length, and its pieces."""
        table: Table = np.zeros((self._states, self._longest + 1), dtype=np.int64)
        steps: list[_Step] = []
        order = sorted((k for k, n in enumerate(demand) if n and values[k] > 0), key=lambda k: (-self._sizes[k], k))
        for k in order:
            if self._sizes[k] >= self._reuse:
                steps += self._put(table, k, values[k], demand[k])
        best = [self._full(table, len(steps), capacity) for capacity in self._capacities]
        for k in (k for k in order if self._sizes[k] < self._reuse):
            steps += self._put(table, k, values[k], demand[k] - 1)
            for at, capacity in enumerate(self._capacities):
                best[at] = max(best[at], self._closed(table, len(steps), k, values[k], capacity), key=_worth)
            steps += self._put(table, k, values[k], 1)
        return [Fill(end.value, self._counts(steps, end)) for end in best]

    def _put(self, table: Table, kind: int, value: int, wanted: int) -> Iterator[_Step]:
        """Offer pieces of a kind to every bar; in ones, twos, fours, so that any number up to the most is a choice."""
        need, size = self._ends[kind], self._sizes[kind]
        most = min(wanted, self._longest // size, MOST_ON_A_BAR[need] or wanted)
        for copies in _batches(most) if need == "none" else [1] * most:
            if copies * size <= self._longest:
                yield self._offer(table, kind, copies, value)

    def _offer(self, table: Table, kind: int, copies: int, value: int) -> _Step:
        size = copies * self._sizes[kind]
        self.work += OFFER + (self._longest - size) * (self._states + 2 * self._moves[self._ends[kind]]) // OFFERED
        before = table[:, : self._longest + 1 - size] + copies * value
        taken = []
        for source, state in TRANSITIONS[self._ends[kind]]:
            if state < self._states:
                better = before[source] > table[state, size:]
                np.copyto(table[state, size:], before[source], where=better)
                taken.append((state, source, better))
        return _Step(kind, copies, size, tuple(taken))

    def _full(self, table: Table, steps: int, capacity: int) -> _End:
        state = int(np.argmax(table[:, capacity]))
        return _End(int(table[state, capacity]), steps, state, capacity)

    def _closed(self, table: Table, steps: int, kind: int, value: int, capacity: int) -> _End:
        """The best bar whose last and shortest piece is of this kind."""
        room = capacity - max(self._sizes[kind], self._reuse)
        alone = _End(value if self._sizes[kind] <= capacity else 0, 0, 0, 0, kind)
        if room < 0:
            return alone
        sources = [source for source, state in TRANSITIONS[self._ends[kind]] if state < self._states]
        state = max(sources, key=lambda source: (int(table[source, room]), -source))
        return max(alone, _End(int(table[state, room]) + value, steps, state, room, kind), key=_worth)

    def _counts(self, steps: Sequence[_Step], end: _End) -> Counts:
        """Walk back through the steps and gather what was taken."""
        counts: dict[int, int] = {} if end.last is None else {end.last: 1}
        state, room = end.state, end.room
        for step in reversed(steps[: end.steps]):
            at = room - step.size
            if at < 0:
                continue
            for after, source, better in reversed(step.taken):
                if after == state and better[at]:
                    counts[step.kind] = counts.get(step.kind, 0) + step.copies
                    state, room = source, at
                    break
        return tuple(sorted(counts.items()))


def _worth(end: _End) -> int:
    return end.value


def _batches(most: int) -> list[int]:
    """Split a number into 1, 2, 4, ... and a rest."""
    batches, size = [], 1
    while most > 0:
        batches.append(min(size, most))
        most -= batches[-1]
        size *= 2
    return batches
