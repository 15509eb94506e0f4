"""The crossing of the grid: what the two axes leave open is settled by counting panels.

In: the two search axes, the places that the room file fixes and a count of panels for a crossing. Out: a `Choice`.
By the agreed order panels are counted last; with `fewest_first` right after slivers, before half modules. Then the
smallest place wins, so that the answer is unique.
"""

from collections.abc import Callable
from itertools import product
from typing import TypeVar

import numpy as np

from planner.ceiling.grid.axis import Axis
from planner.ceiling.grid.borders import best_places, column_slack, leans_short, ragged, ragged_slack, without_slivers
from planner.ceiling.grid.circle import SUM_PER_MM
from planner.ceiling.grid.gaps import Floats, Ints
from planner.geometry import TOLERANCE_MM
from planner.records import dataclass

Count = Callable[[int, int], int]
Item = TypeVar("Item")

#: Crossings to count panels for, at most: as many as this over the number of edges, within bounds.
_COUNTED_EDGES = 100_000
_LEAST_COUNTED, _MOST_COUNTED = 25, 1024

#: Stretches between corners to weigh on an axis, at most.
_MOST_STRETCHES = 200


@dataclass(frozen=True, slots=True)
class Choice:
    """A crossing of grid lines."""

    places: tuple[int, int]  #: from 0 up to a module, in the units of each axis
    proven: bool  #: every place was weighed at every wish that was needed


def choose(axes: tuple[Axis, Axis], fixed: tuple[int | None, int | None], count: Count, fewest_first: bool) -> Choice:
    """Pick the best crossing; a place that is fixed is taken as it is."""
    open_places = [_open(axis, place) for axis, place in zip(axes, fixed, strict=True)]
    if fewest_first:
        return _fewest_first(axes, open_places, count)
    best = [best_places(axis, places) for axis, places in zip(axes, open_places, strict=True)]
    (xs, ys), counted = _thinned(axes, [places.tolist() for places, _ in best])
    return Choice(min(_fewest(list(product(xs, ys)), count)), counted and all(proven for _, proven in best))


def _open(axis: Axis, fixed: int | None) -> Ints:
    if fixed is not None:
        return np.array([fixed % axis.module], dtype=np.int64)
    return without_slivers(axis, np.arange(axis.module, dtype=np.int64))


def _fewest_first(axes: tuple[Axis, Axis], places: list[Ints], count: Count) -> Choice:
    """Count panels before the rest.

    Where all walls run along the grid the count changes only where a line passes a corner, so the best place between
    two corners stands for all places there. With slanted walls it may change elsewhere too: then nothing is proven.
    """
    split = [_between_corners(axis, some) for axis, some in zip(axes, places, strict=True)]
    few = [_spread(stretches, _MOST_STRETCHES) for stretches in split]
    stretches = [[best_places(axis, some) for some in kept] for axis, kept in zip(axes, few, strict=True)]
    whole = [len(kept) for kept in few] == [len(all_of) for all_of in split]
    sure = whole and all(known for stretch in stretches for _, known in stretch) and not axes[0].slanted
    (xs, ys), counted = _thinned(axes, [[int(best[0]) for best, _ in stretch] for stretch in stretches])
    return Choice(_best_pair(axes, _fewest(list(product(xs, ys)), count)), sure and counted)


def _between_corners(axis: Axis, places: Ints) -> list[Ints]:
    """Split places into those on a corner's line and those between two."""
    corners = np.unique(axis.edges[:, [0, 2]] % axis.module)
    number = np.searchsorted(corners, places, side="left") + np.searchsorted(corners, places, side="right")
    number[number == 2 * len(corners)] = 0  # past the last corner is before the first
    return [places[number == k] for k in np.unique(number)]


def _thinned(axes: tuple[Axis, Axis], places: list[list[int]]) -> tuple[list[list[int]], bool]:
    """Keep no more places than there is time to count crossings for, and say whether all were kept."""
    most = min(max(_COUNTED_EDGES // len(axes[0].edges), _LEAST_COUNTED), _MOST_COUNTED)
    if len(places[0]) * len(places[1]) <= most:
        return places, True
    each = max(int(most**0.5), most // max(map(len, places)))
    return [_spread(some, each) for some in places], False


def _spread(items: list[Item], most: int) -> list[Item]:
    """Keep at most so many, evenly spread, the first among them."""
    return items if len(items) <= most else [items[k * len(items) // most] for k in range(most)]


def _fewest(pairs: list[tuple[int, int]], count: Count) -> list[tuple[int, int]]:
    if len(pairs) == 1:
        return pairs
    counts = [count(*pair) for pair in pairs]
    least = min(counts)
    return [pair for pair, panels in zip(pairs, counts, strict=True) if panels == least]


#: The second to fourth wish: what is least, and how much more of it counts as no more.
_WEIGHED: tuple[tuple[Callable[[Axis, Ints], Ints], Callable[[Axis], int]], ...] = (
    (lambda axis, places: axis.halves[places], lambda _: round(TOLERANCE_MM * SUM_PER_MM)),
    (leans_short, lambda _: 0),
    (ragged, ragged_slack),
    (lambda axis, places: axis.column_slivers[places], column_slack),
)


def _best_pair(axes: tuple[Axis, Axis], pairs: list[tuple[int, int]]) -> tuple[int, int]:
    """Compare crossings by the wishes after the first, both axes together, then by place."""
    each = [np.array(places, dtype=np.int64) for places in zip(*pairs, strict=True)]
    kept = np.arange(len(pairs))
    for wish, slack in _WEIGHED:
        first, second = (wish(axis, places[kept]) for axis, places in zip(axes, each, strict=True))
        kept = kept[first + second <= (first + second).min() + max(map(slack, axes))]
    left = [pairs[k] for k in kept]
    return min(left, key=lambda pair: (_narrowness(axes, pair), *_uneven(axes, pair), _rest(axes, pair), pair))


def _narrowness(axes: tuple[Axis, Axis], pair: tuple[int, int]) -> list[float]:
    """Cuts of both axes from the narrowest up, in millimetres with the sign turned: the least comes first."""
    return _turned([axis.cuts(place) / axis.per_mm for axis, place in zip(axes, pair, strict=True)])


def _rest(axes: tuple[Axis, Axis], pair: tuple[int, int]) -> list[float]:
    """The same of columns and of slanted and bowed walls."""
    return _turned([axis.other_cuts(place) / axis.per_mm for axis, place in zip(axes, pair, strict=True)])


def _turned(cuts: list[Floats]) -> list[float]:
    return [round(-float(cut), 6) for cut in np.sort(np.concatenate(cuts))]


def _uneven(axes: tuple[Axis, Axis], pair: tuple[int, int]) -> tuple[float, float]:
    ones = [np.array([place]) for place in pair]
    uneven = sum(axis.uneven(p)[0] / axis.per_mm for axis, p in zip(axes, ones, strict=True))
    off = sum(axis.off_centre(p)[0] / axis.per_mm for axis, p in zip(axes, ones, strict=True))
    return (round(float(uneven), 6), round(float(off), 6))
