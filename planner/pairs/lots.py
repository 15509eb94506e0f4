"""Pieces of several lots, of several rooms, that are cut from the same lengths.

In: each lot with the stocks chosen for it. Out: all of them as one; or each of them with stocks chosen anew, where all
together cost less so, or take fewer lengths for the same.
"""

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import replace

from planner.pairs.choose import Shared, as_chosen, share
from planner.pairs.job import Kind, Stock

#: A piece's length and the stocks it may come from.
_Key = tuple[int, tuple[int, ...]]


def joined(lots: Sequence[Shared]) -> Shared:
    """All lots as one, with the stocks chosen for each; what they cost is as in the first."""
    chosen: defaultdict[_Key, Counter[int]] = defaultdict(Counter)
    for lot in lots:
        for kind, row in zip(lot.job.kinds, lot.counts, strict=True):
            chosen[kind.length, kind.stocks].update(dict(enumerate(row)))
    keys = sorted(chosen, key=lambda key: (-key[0], key[1]))
    counts = tuple(tuple(chosen[key][at] for at in range(len(key[1]))) for key in keys)
    kinds = tuple(Kind(length, chosen[length, stocks].total(), stocks) for length, stocks in keys)
    return as_chosen(replace(lots[0].job, kinds=kinds), counts)


def shared_together(lots: Sequence[Shared], stocks: tuple[Stock, ...], budget_s: float) -> tuple[Shared, ...]:
    """The lots with stocks chosen for all of them together, at what the stocks cost here; as they are if no better.

    Of alike pieces those of the first lots stay with their own stock first.
    """
    now = joined([replace(lot, job=replace(lot.job, stocks=stocks)) for lot in lots])
    found = share(now.job, budget_s)
    if (found.cost, sum(found.bought)) >= (now.cost, sum(now.bought)):
        return tuple(lots)
    left = {
        (kind.length, kind.stocks): [at for at, count in enumerate(row) for _ in range(count)][::-1]
        for kind, row in zip(found.job.kinds, found.counts, strict=True)
    }
    return tuple(_chosen_as(lot, left, stocks) for lot in lots)


def _chosen_as(lot: Shared, left: dict[_Key, list[int]], stocks: tuple[Stock, ...]) -> Shared:
    """A lot with its part of what was chosen; takes that from `left`."""
    counts = []
    for kind in lot.job.kinds:
        taken = Counter(left[kind.length, kind.stocks].pop() for _ in range(kind.count))
        counts.append(tuple(taken[at] for at in range(len(kind.stocks))))
    return as_chosen(replace(lot.job, stocks=stocks), tuple(counts))
