"""Every place a grid line can take within one module, laid round a circle, and how much wall is cut short at each.

In: stretches of wall (`Parts`), a module and a limit. Out: one whole number for each place 0 .. module - 1: the length
of wall whose cut is under the limit. The counts rise and fall evenly between whole places, because corners, module and
limits are whole, so nothing lies between the places that is better than what is on them. Lengths are summed as whole
billionths of a millimetre: equal sums are equal.
"""

import numpy as np

from planner.ceiling.grid.gaps import Ints, Parts

#: Whole units of length sums in a millimetre.
SUM_PER_MM = 1_000_000_000


def short_wall(parts: Parts, module: int, limit: int, per_mm: float) -> Ints:
    """Length of wall with a cut under `limit` for a grid line at each whole place; in 1 / SUM_PER_MM mm.

    A cut runs from the wall into the room to the next line; a line on the wall gives a whole module. `per_mm` is the
    number of units in a millimetre.
    """
    low, high = parts.low, parts.high
    lengths = np.rint(parts.length * (SUM_PER_MM / per_mm)).astype(np.int64)
    straight = high == low
    first = np.where(parts.into > 0, low + 1, low - limit + 1)
    total = _steps(first[straight], lengths[straight], limit - 1, module)
    if not straight.all():
        shift = np.where(parts.into > 0, 0, limit)[~straight]  # seen from its far side a cut looks back, not ahead
        total += _slopes(low[~straight] - shift, high[~straight] - shift, lengths[~straight], limit, module)
    return total


def closed_wall(parts: Parts, out: Ints, hidden: Ints, module: int, per_mm: float) -> Ints:
    """Length of wall that the ledge closes beyond a line, for each whole place; in 1 / SUM_PER_MM mm.

    `out` is the outermost coordinate of each stretch's wall: with a line 1 .. `hidden` into the room from there, all of
    that wall which lies beyond it is closed.
    """
    low, high = parts.low, parts.high
    before = np.where(parts.into > 0, low - out, out - high)  # from the outermost point on to the stretch
    some = (hidden > 0) & (before < hidden)
    if not some.any():
        return np.zeros(module, dtype=np.int64)
    into, out, hidden, before = parts.into[some], out[some], hidden[some], before[some]
    run = np.maximum(high - low, 1)[some]
    density = np.rint(np.rint(parts.length[some] * (SUM_PER_MM / per_mm)).astype(np.int64) / run).astype(np.int64)
    rising = np.minimum(run, hidden - before)
    # each wall's hidden band by itself, from its outermost point on: the length rises evenly over each stretch, and
    # ends with the last hidden place
    walls, number = np.unique(np.stack([out, into, hidden]), axis=1, return_inverse=True)
    ends = np.cumsum(walls[2] + 2)
    first = (ends - walls[2] - 2)[number.reshape(-1)]
    rise, jump = np.zeros(ends[-1] + 1, dtype=np.int64), np.zeros(ends[-1] + 1, dtype=np.int64)
    np.add.at(rise, first + before + 1, density)
    np.subtract.at(rise, first + before + rising + 1, density)
    np.subtract.at(jump, first + hidden + 1, density * rising)
    away = np.arange(ends[-1]) - np.repeat(ends - walls[2] - 2, walls[2] + 2)
    places = np.repeat(walls[0], walls[2] + 2) + np.repeat(walls[1], walls[2] + 2) * away
    total = np.zeros(module, dtype=np.int64)
    np.add.at(total, places % module, np.cumsum(np.cumsum(rise) + jump)[:-1])
    return total


def cover(first: Ints, count: Ints, module: int) -> Ints:
    """How many stretches of `count` places, a module at most, from `first` on hold each place of the circle."""
    change = np.zeros(2 * module + 1, dtype=np.int64)
    np.add.at(change, first, 1)
    np.subtract.at(change, first + count, 1)
    twice = np.cumsum(change[:-1])
    return np.asarray(twice[:module] + twice[module:], dtype=np.int64)


def _steps(first: Ints, lengths: Ints, count: int, module: int) -> Ints:
    """Each length counts in full at `count` places from `first` on."""
    first, change = first % module, np.zeros(module + 1, dtype=np.int64)
    np.add.at(change, first, lengths)
    np.subtract.at(change, (first + count) % module, lengths)
    change[0] += lengths[first + count >= module].sum()
    return np.cumsum(change[:module])


def _slopes(low: Ints, high: Ints, lengths: Ints, limit: int, module: int) -> Ints:
    """Sum slanted stretches: each counts with the share of it that lies less than `limit` behind a line.

    Its share is evenly spread over low .. high, so its length at each place is a sum of ramps: the second difference of
    the sum is a handful of spikes for each stretch, and two running totals give the sum.
    """
    density = np.rint(lengths / (high - low)).astype(np.int64)
    bend = np.zeros(module, dtype=np.int64)
    for place, sign in ((low, 1), (high, -1), (low + limit, -1), (high + limit, 1)):
        np.add.at(bend, place % module, sign * density)
    at_0 = int((density * _covered(low, high, limit, module)).sum())
    at_1 = int((density * _covered(low - 1, high - 1, limit, module)).sum())
    rise = at_1 - at_0 + np.concatenate([[0], np.cumsum(bend[1:-1])])
    return np.concatenate([[at_0], at_0 + np.cumsum(rise)])


def _covered(low: Ints, high: Ints, limit: int, module: int) -> Ints:
    """How much of low .. high lies less than `limit` behind a line, with lines at the whole modules."""
    return _below(high, limit, module) - _below(low, limit, module)


def _below(place: Ints, limit: int, module: int) -> Ints:
    return place // module * limit + np.maximum(place % module - (module - limit), 0)
