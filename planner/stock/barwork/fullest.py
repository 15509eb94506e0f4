"""Filling one bar after the other as full as can be, each with the longest piece that is left.

In: sizes and how many of each, in whole tenths with the kerf added. Out: patterns. What lengths can be made up from
pieces is a row of bits in one large number, so that a whole bar is a few hundred shifts. (A greedy rule, known as
minimum bin slack: Gupta and Ho 1999, from memory.) Often the least; never a proof.
"""

from collections import Counter
from collections.abc import Sequence

from planner.stock.covering.cover import Counts

#: Kinds of pieces times bars; beyond this it takes too long.
MOST_WORK = 400_000


def fullest_bars(sizes: Sequence[int], demand: Sequence[int], capacity: int) -> Counter[Counts]:
    """Cut everything that is wanted, bar by bar; each pattern is cut as often as it stays the same."""
    left = list(demand)
    order = sorted(range(len(sizes)), key=lambda k: (-sizes[k], k))
    plan: Counter[Counts] = Counter()
    while True:
        order = [kind for kind in order if left[kind]]
        if not order:
            return plan
        counts = _fullest(sizes, left, order, capacity)
        times = min(left[kind] // count for kind, count in counts)
        for kind, count in counts:
            left[kind] -= count * times
        plan[counts] += times


def _fullest(sizes: Sequence[int], left: Sequence[int], order: Sequence[int], capacity: int) -> Counts:
    """The longest piece, and with it what fills the bar best."""
    first, room = order[0], capacity - sizes[order[0]]
    within = (1 << (room + 1)) - 1
    rows, pieces, reached = [], [], 1  # bit n of a row: length n can be made up
    for kind in order:
        for _ in range(min(left[kind] - (kind == first), room // sizes[kind])):
            rows.append(reached)
            pieces.append(kind)
            reached |= (reached << sizes[kind]) & within
        if reached >> room:
            break
    return _back(sizes, rows, pieces, reached.bit_length() - 1, first)


def _back(sizes: Sequence[int], rows: Sequence[int], pieces: Sequence[int], length: int, first: int) -> Counts:
    """Which pieces make up a length: those without which it could not be reached."""
    counts = Counter([first])
    for row, kind in zip(reversed(rows), reversed(pieces), strict=True):
        if not row >> length & 1:
            counts[kind] += 1
            length -= sizes[kind]
    return tuple(sorted(counts.items()))
