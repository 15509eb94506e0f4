"""Where the grid's lines fall along one axis: an exact search, no sampling.

In: an `Axis`, which says for every place of a grid line how the walls are cut. Out: the best places by the order of
wishes:

1. of walls along the grid the least length with a sliver, a cut under a quarter module;
2. of walls along the grid the least length with a cut under half a module (the half-module rule: NAVEDTRA 14044
   p. 5-16 "equal, and as large as possible", with the arithmetic of its half-tile rule on p. 7-23);
3. of slanted and bowed walls no sliver at those that can be free of it, if all can, and little length cut short,
   slivers counted twice: at most half a module above the least;
4. beside columns little length of sliver: at most a quarter module above the least;
5. the widest smallest cut at walls along the grid, then the widest second smallest, and so on;
6. opposite borders equal;
7. fixed services in panel centres;
8. the widest smallest cut, and so on, at columns and at slanted and bowed walls.

To a foreman: the straight walls decide, the others and the columns choose among what those leave. A wall is along the
grid when it can be kept at half a module: it leans, or bows, by half a module at most. Any other is cut to nothing
somewhere wherever the lines lie, and how much of it is short hardly changes, so it must not decide over a straight
border (wish 3), and a panel is notched round a column anyway (wish 4; common practice, no source, both). Cuts count as
short when they are so by more than `SLACK_MM`: no tape knows better.

All is weighed at every whole place of an `Axis` (`planner.ceiling.grid.axis` says why that is exact). Lengths of wall
that differ by less than TOLERANCE_MM count as equal.
"""

import numpy as np

from planner.ceiling.grid.axis import Axis
from planner.ceiling.grid.circle import SUM_PER_MM
from planner.ceiling.grid.gaps import Ints
from planner.ceiling.grid.widest import widest
from planner.geometry import TOLERANCE_MM


def without_slivers(axis: Axis, places: Ints) -> Ints:
    """Keep the places that come out best at the first wish."""
    return _least(places, axis.slivers[places], within=_EQUAL)


def best_places(axis: Axis, places: Ints) -> tuple[Ints, bool]:
    """Keep the places that come out best at all wishes after the first, and say whether all were weighed."""
    kept, proven = narrowing(axis, places)
    return kept[-1], proven


def narrowing(axis: Axis, places: Ints) -> tuple[tuple[Ints, ...], bool]:
    """The places that are left after each of the wishes from the second on, and whether all were weighed."""
    kept = _by_walls(axis, places)
    kept.append(_least(kept[-1], axis.column_slivers[kept[-1]], within=column_slack(axis)))
    widest_cuts, proven = widest(axis.faces, axis.module, kept[-1])
    kept.append(widest_cuts)
    kept.append(_least(kept[-1], axis.uneven(kept[-1])))
    kept.append(_least(kept[-1], axis.off_centre(kept[-1])))
    last, all_weighed = widest(axis.other_faces, axis.module, kept[-1])
    return (*kept, last), proven and all_weighed


def but_for_columns(axis: Axis) -> Ints:
    """Where the lines would stand if no column were looked at; nothing where the columns change nothing."""
    *_, few = _by_walls(axis, without_slivers(axis, np.arange(axis.module, dtype=np.int64)))
    clear = _least(few, axis.column_slivers[few], within=column_slack(axis))
    if len(clear) == len(few):
        return few[:0]
    best, _ = widest(axis.faces, axis.module, few)
    return _least(best, axis.uneven(best))


def _by_walls(axis: Axis, places: Ints) -> list[Ints]:
    """The places that are left after the second and the third wish."""
    halves = _least(places, axis.halves[places], within=_EQUAL)
    free = _least(halves, leans_short(axis, halves))
    return [halves, _least(free, ragged(axis, free), within=ragged_slack(axis))]


def leans_short(axis: Axis, places: Ints) -> Ints:
    """Whether slanted or bowed walls have slivers that they could be free of, 1 or 0 for each of some places."""
    return np.asarray(axis.leaning_slivers[places] > axis.leaning_slivers.min() + _EQUAL, dtype=np.int64)


def ragged(axis: Axis, places: Ints) -> Ints:
    """Length of slanted and bowed wall cut short, slivers twice, for each of some places; in 1 / SUM_PER_MM mm."""
    return np.asarray(axis.slanted_slivers[places] + axis.slanted_halves[places], dtype=np.int64)


def ragged_slack(axis: Axis) -> int:
    """How much more slanted wall may be cut short than the least: half a module; in 1 / SUM_PER_MM mm."""
    return _EQUAL + round(axis.module / axis.per_mm * SUM_PER_MM / 2)


def column_slack(axis: Axis) -> int:
    """How much more column side may have a sliver than the least: a quarter module; in 1 / SUM_PER_MM mm.

    A pipe is a hole in a panel: what it leaves beside it is shorter than a sliver is wide.
    """
    return _EQUAL + round(axis.module / axis.per_mm * SUM_PER_MM / 4)


_EQUAL = round(TOLERANCE_MM * SUM_PER_MM)


def _least(places: Ints, values: Ints, within: int = 0) -> Ints:
    return np.asarray(places[values <= values.min() + within], dtype=np.int64)


def closes(length: float, module: float, left: float, full: int, right: float, within: float = TOLERANCE_MM) -> bool:
    """Whether two borders and `full` whole modules between them make up a length: left + full * module + right.

    Every published layout must pass this (NAVEDTRA 14044 p. 7-23, half-tile rule turned round); misprints do not.
    """
    return full >= 0 and min(left, right) >= 0 and abs(left + full * module + right - length) <= within
