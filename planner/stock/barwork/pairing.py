"""Pairing: bars of which at most two pieces come, because each keeps a factory end.

In: lengths of pieces, longest first, and what fits together. Out: pairs and singles by place in the list, the fewest
there can be, and the values of a certificate for it. "Fits" must be monotone: what fits with a long piece fits with any
shorter one.
"""

from bisect import bisect_right
from collections.abc import Callable, Sequence

from planner.stock.covering.cover import Column

Fits = Callable[[int, int], bool]  #: of two lengths, the longer one first

Pairs = list[tuple[int, ...]]


def pair_any(lengths: Sequence[int], fits: Fits, *, tight: bool = False) -> Pairs:
    """Pair pieces of one list.

    The longest piece is paired with the shortest if the two fit. If they do not, the longest fits with none; if they
    do, pairing them loses nothing: whatever else the two were to be paired with fits together as well. With `tight` it
    takes the longest that fits instead, for the same reason; that leaves few long off-cuts rather than many short ones.
    """
    if tight:
        return _tight_pairs(lengths, fits)
    bars: Pairs = []
    first, last = 0, len(lengths) - 1
    while first <= last:
        if first < last and fits(lengths[first], lengths[last]):
            bars.append((first, last))
            last -= 1
        else:
            bars.append((first,))
        first += 1
    return bars


def _tight_pairs(lengths: Sequence[int], fits: Fits) -> Pairs:
    left, bars = list(range(len(lengths))), Pairs()
    while left:
        one = left.pop(0)
        at = _first_fit(lengths[one], lengths, left, fits)
        bars.append((one,) if at == len(left) else (one, left.pop(at)))
    return bars


def pair_two(begins: Sequence[int], ends: Sequence[int], fits: Fits, *, tight: bool = False) -> Pairs:
    """Pair pieces that begin a run with pieces that end one; the ends are numbered on after the begins.

    The longest beginning takes the shortest end still free, if the two fit (or, with `tight`,
    the longest that fits): whatever fits with a long piece fits with a short one too, so no pairing has more
    pairs.
    """
    if tight:
        return _tight_matches(begins, ends, fits)
    bars: Pairs = []
    free = len(ends)
    for at, begin in enumerate(begins):
        if free and fits(*_ordered(begin, ends[free - 1])):
            free -= 1
            bars.append((at, len(begins) + free))
        else:
            bars.append((at,))
    return bars + [(len(begins) + at,) for at in range(free)]


def _tight_matches(begins: Sequence[int], ends: Sequence[int], fits: Fits) -> Pairs:
    left, bars = list(range(len(ends))), Pairs()
    for at, begin in enumerate(begins):
        spot = _first_fit(begin, ends, left, fits)
        bars.append((at,) if spot == len(left) else (at, len(begins) + left.pop(spot)))
    return bars + [(len(begins) + end,) for end in left]


def _first_fit(length: int, others: Sequence[int], left: Sequence[int], fits: Fits) -> int:
    """Where in what is left, whose lengths fall, the pieces begin to fit."""
    return bisect_right(left, False, key=lambda other: fits(*_ordered(length, others[other])))


def _ordered(one: int, other: int) -> tuple[int, int]:
    return (one, other) if one >= other else (other, one)


def columns_of(each: Sequence[int], pairs: Pairs) -> list[tuple[Column, int]]:
    """Turn pairs of places into patterns; `each` says of what kind the piece at each place is."""
    plan: dict[Column, int] = {}
    for pair in pairs:
        kinds = sorted(each[place] for place in pair)
        counts = tuple((kind, kinds.count(kind)) for kind in dict.fromkeys(kinds))
        plan[Column(0, counts)] = plan.get(Column(0, counts), 0) + 1
    return list(plan.items())


def values_of_any(lengths: Sequence[int], fits: Fits) -> tuple[list[int], int]:
    """Values of pieces so that no bar holds more than 2: the proof that pairing cannot do better.

    For a length t: 2 for pieces that fit with nothing of t or longer, 0 for those shorter than t, 1 for the rest. Of
    all t the one that proves most is taken.
    """
    places, last = range(len(lengths)), {length: at for at, length in enumerate(lengths)}

    def worth(shortest: int) -> int:
        return last[shortest] + 1 + min(_first_fit(shortest, lengths, places, fits), last[shortest] + 1)

    best = max(last, key=worth)
    alone = _first_fit(best, lengths, places, fits)
    return [2 if at < alone else 1 for at in range(last[best] + 1)] + [0] * (len(lengths) - last[best] - 1), 2


def values_of_two(begins: Sequence[int], ends: Sequence[int], fits: Fits) -> tuple[list[int], int]:
    """Values of pieces, begins before ends, so that no bar holds more than 1.

    For a length t: 1 for beginnings of t or longer and for ends that fit with none of these, 0 for the rest.
    """
    places, last = range(len(ends)), {length: at for at, length in enumerate(begins)}
    alone = {length: _first_fit(length, ends, places, fits) for length in last}
    best = max(last, key=lambda length: last[length] + 1 + alone[length], default=None)
    if best is None or last[best] + 1 + alone[best] < len(ends):
        return [0] * len(begins) + [1] * len(ends), 1
    taken = last[best] + 1
    begun = [1] * taken + [0] * (len(begins) - taken)
    return begun + [1] * alone[best] + [0] * (len(ends) - alone[best]), 1
