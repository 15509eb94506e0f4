"""What fits on a bar: the bench for one-dimensional cutting.

In: stock lengths and pieces in whole tenths, the kerf added to each (one kerf fewer than pieces is then exact), and the
factory ends that pieces need. Greedy plans are best fit, longest first: the classic rule of the trade.
"""

from bisect import bisect_left, insort
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import field

from planner.records import dataclass
from planner.stock.barwork.ends import MOST_ON_A_BAR, STATES, TRANSITIONS, EndsNeeded
from planner.stock.barwork.fullest import MOST_WORK, fullest_bars
from planner.stock.barwork.knapsack import Knapsack
from planner.stock.covering.cover import Certificate, Column, Counts, taken_from, useful

#: More patterns, or more tries, than this are not listed.
MOST_PATTERNS = 20_000
MOST_TRIES = 400_000

#: Strokes that it takes to put a piece where it fits best, and to try a pattern.
FIT, TRY = 2, 1
#: So many kinds are weighed for a full bar in one.
WEIGHED = 3


@dataclass(frozen=True, slots=True)
class _Kind:
    """A kind of piece in the search for patterns, by falling value for its size."""

    kind: int
    size: int
    value: int
    most: int
    need: EndsNeeded


@dataclass(slots=True)
class _Listing:
    """Patterns found, and how many tries are left."""

    kinds: list[_Kind]
    least: int
    found: list[Counts] = field(default_factory=list)
    tries: int = MOST_TRIES

    @property
    def full(self) -> bool:
        return self.tries <= 0 or len(self.found) > MOST_PATTERNS


class BarBench(Knapsack):
    """Bars and pieces; `reuse` is the shortest off-cut to cut from again, with the kerf added."""

    def greedy(self, demand: Sequence[int], limits: Sequence[int | None]) -> list[tuple[Column, int]]:
        """Best fit, longest first; with several stocks, the fullest bar for its length."""
        self.work += FIT * sum(demand)
        if len(self._capacities) > 1 or limits[0] is not None:
            return list(self._fullest_first(demand, list(limits)))
        plans = [self._best_fit(demand)]
        plain = self._states == 1 and not self._reuse
        if plain and len(plans[0]) * len(self._sizes) <= MOST_WORK:
            self.work += len(plans[0]) * len(self._sizes) // WEIGHED
            plans.append(fullest_bars(self._sizes, demand, self._longest))
        return [(Column(0, counts), n) for counts, n in sorted(min(plans, key=Counter.total).items())]

    def _best_fit(self, demand: Sequence[int]) -> Counter[Counts]:
        bars: list[list[int]] = []
        free: list[list[tuple[int, int]]] = [[] for _ in STATES]  # by used ends: what is left of each bar, and which
        for kind in sorted(range(len(demand)), key=lambda k: (-self._sizes[k], k)):
            size = self._sizes[kind]
            moves = TRANSITIONS[self._ends[kind]]
            for _ in range(demand[kind]):
                fits = [
                    (free[source][at], at, source, state)
                    for source, state in moves
                    if (at := bisect_left(free[source], (max(size, self._reuse), 0))) < len(free[source])
                ]
                if fits:
                    (left, bar), at, source, state = min(fits)
                    del free[source][at]
                else:
                    left, bar, state = self._longest, len(bars), moves[0][1]
                    bars.append([])
                bars[bar].append(kind)
                insort(free[state], (left - size, bar))
        return Counter(tuple(sorted(Counter(bar).items())) for bar in bars)

    def _fullest_first(self, demand: Sequence[int], limits: list[int | None]) -> Iterator[tuple[Column, int]]:
        """Fill the stock that is used best, as often as that goes; limited stock before what can be bought."""
        left = list(demand)
        while any(left):
            longest = max(self._sizes[kind] for kind, n in enumerate(left) if n)
            fills = [
                (fill, k) for k, fill in enumerate(self._with_longest(left)) if limits[k] != 0 and fill is not None
            ]
            if not fills:
                raise ValueError(f"no stock is left for a piece of {longest} tenths, the kerf included")
            counts, k = max(fills, key=lambda entry: (limits[entry[1]] is not None, self._used(*entry), -entry[1]))
            column = Column(k, counts)
            limit = limits[k]
            times = max(min(left[kind] // count for kind, count in counts), 1)
            times = useful(left, column, times if limit is None else min(times, limit))
            taken_from(left, column, times)
            limits[k] = None if limit is None else limit - times
            yield column, times

    def _with_longest(self, left: Sequence[int]) -> list[Counts | None]:
        """For each stock the fullest bar among those with the longest piece; None where it does not fit."""
        longest = max((kind for kind, n in enumerate(left) if n), key=lambda kind: self._sizes[kind])
        values = list(self._sizes)
        values[longest] += 2 * self._longest  # so that a bar with it is worth more than any without
        fills = self.best(values, [n if kind != longest else 1 for kind, n in enumerate(left)])
        return [fill.counts if fill.value > 2 * self._longest else None for fill in fills]

    def _used(self, counts: Counts, stock: int) -> float:
        return sum(self._sizes[kind] * n for kind, n in counts) / self._capacities[stock]

    def near(self, values: Sequence[int], least: Sequence[int], demand: Sequence[int]) -> list[Column] | None:
        """List patterns that are worth enough and take no further piece; None where there are too many to list."""
        if self._reuse:
            return None
        kinds = [_Kind(k, self._sizes[k], values[k], n, self._ends[k]) for k, n in enumerate(demand) if n]
        kinds.sort(key=lambda k: (-k.value / k.size, k.kind))
        columns = []
        for stock, capacity in enumerate(self._capacities):
            listing = _Listing(kinds, least[stock])
            _list_from(listing, 0, capacity, 0, 0, [])
            self.work += TRY * (MOST_TRIES - listing.tries)
            if listing.full:
                return None
            columns += [Column(stock, counts) for counts in dict.fromkeys(listing.found)]
        return columns


def _list_from(listing: _Listing, at: int, room: int, value: int, state: int, taken: list[tuple[int, int]]) -> None:
    """Try every number of the kind at hand, the greatest first, then the kinds after it."""
    listing.tries -= 1
    if listing.full:
        return
    if at == len(listing.kinds):
        counts = dict(taken)
        if value >= listing.least and not _takes_more(listing.kinds, counts, room, state):
            listing.found.append(tuple(sorted(counts.items())))
        return
    kind = listing.kinds[at]
    if value * kind.size + room * kind.value < listing.least * kind.size:
        return
    for count in range(min(kind.most, room // kind.size, MOST_ON_A_BAR[kind.need] or kind.most), -1, -1):
        for after in _states_after(kind.need, state, count):
            more = [(kind.kind, count)] if count else []
            _list_from(listing, at + 1, room - count * kind.size, value + count * kind.value, after, taken + more)


def _states_after(need: EndsNeeded, state: int, count: int) -> set[int]:
    """The ends that may be used after so many pieces of one kind; none where they do not fit."""
    states = {state}
    for _ in range(count if need != "none" else 0):
        states = {after for source, after in TRANSITIONS[need] if source in states}
    return states


def _takes_more(kinds: Sequence[_Kind], counts: dict[int, int], room: int, state: int) -> bool:
    return any(
        kind.size <= room and counts.get(kind.kind, 0) < kind.most and _states_after(kind.need, state, 1)
        for kind in kinds
    )


def quick_certificate(sizes: Sequence[int], demand: Sequence[int], capacity: int) -> Certificate:
    """The best bound without a solver: by length, or by pieces that exclude each other.

    For a length t up to half a bar: pieces longer than bar - t share a bar with none of t or longer, so each counts as
    a whole bar; those shorter than t count as nothing; those between by their length (Martello and Toth's bound L2).
    """
    order = sorted(range(len(sizes)), key=lambda k: sizes[k])
    lengths = [sizes[k] for k in order]
    counts, totals = [0], [0]
    for k in order:
        counts.append(counts[-1] + demand[k])
        totals.append(totals[-1] + demand[k] * sizes[k])

    def worth(shortest: int) -> int:
        low, high = bisect_left(lengths, shortest), bisect_left(lengths, capacity - shortest + 1)
        return (counts[-1] - counts[high]) * capacity + totals[high] - totals[low]

    shortest = max([0, *(length for length in lengths if 2 * length <= capacity)], key=lambda t: (worth(t), -t))
    values = [0 if size < shortest else capacity if size > capacity - shortest else size for size in sizes]
    return Certificate(tuple(demand), tuple(values), capacity)
