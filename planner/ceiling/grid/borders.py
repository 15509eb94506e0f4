"""Where the grid's lines fall along one axis: an exact search, no sampling.

In: an `Axis`, which says for every place of a grid line how the walls are cut. Out: the best places by the order of
wishes:

1. of walls along the grid the least length with a sliver, a cut under a quarter module;
2. of walls along the grid the least length with a cut under half a module (the half-module rule: NAVEDTRA 14044
   p. 5-16 "equal, and as large as possible", with the arithmetic of its half-tile rule on p. 7-23);
3. of slanted and bowed walls no sliver at those that can be free of it, if all can, and little length cut short,
   slivers counted twice: at most half a module above the least;
4. lines clear of pipes, which no tee can pass;
5. beside columns little length of sliver: at most a quarter module above the least; then few lines along the faces of
   columns, or where a pipe's cover ring goes, if that costs the narrowest border no more than `GIVEN_MM`;
6. the widest smallest cut at walls along the grid, then the widest second smallest, and so on;
7. opposite borders equal;
8. fixed services in panel centres;
9. the widest smallest cut, and so on, at columns and at slanted and bowed walls.

To a foreman: the straight walls decide, the others and the columns choose among what those leave. A wall is along the
grid when it can be kept at half a module: it leans, or bows, by half a module at most. Any other is cut to nothing
somewhere wherever the lines lie, and how much of it is short hardly changes, so it must not decide over a straight
border (wish 3), and a panel is notched round a column anyway (wish 5; common practice, no source, both). A tee that
strikes a pipe is cut in two there, so borders may rather differ, as long as none falls under half a module for it and
none that is under half gets narrower (wish 4, and 5; common practice, no source). A line on the face of a wall is no
such thing: it leaves whole panels. Cuts count as short when they are so by more than `SLACK_MM`: no tape knows better.

All is weighed at every whole place of an `Axis` (`planner.ceiling.grid.axis` says why that is exact). Lengths of wall
that differ by less than TOLERANCE_MM count as equal.
"""

import numpy as np

from planner.ceiling.grid.axis import Axis
from planner.ceiling.grid.circle import SUM_PER_MM
from planner.ceiling.grid.gaps import Flags, Ints
from planner.ceiling.grid.widest import MOST_CUTS, narrowest, smallest, widest
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
    kept.append(_clear_of_pipes(axis, kept[-1]))
    few = _few_slivers(axis, kept[-1])
    widest_cuts, even, proven = _widest_and_even(axis, few)
    beside = _off_faces(axis, few, even)
    if len(beside) < len(few):
        widest_cuts, even, proven = _widest_and_even(axis, beside)
    centred = _least(even, axis.off_centre(even))
    last, all_weighed = widest(axis.other_faces, axis.module, centred)
    return (*kept, beside, widest_cuts, even, centred, last), proven and all_weighed


def _widest_and_even(axis: Axis, places: Ints) -> tuple[Ints, Ints, bool]:
    """What the sixth and the seventh wish leave of some places, and whether all were weighed."""
    widest_cuts, proven = widest(axis.faces, axis.module, places)
    return widest_cuts, _least(widest_cuts, axis.uneven(widest_cuts)), proven


def but_for_columns(axis: Axis) -> Ints:
    """Where the lines would stand if no column were looked at; nothing where there is none."""
    if len(axis.edges) == axis.walls:
        return np.zeros(0, dtype=np.int64)
    *_, few = _by_walls(axis, without_slivers(axis, np.arange(axis.module, dtype=np.int64)))
    best, _ = widest(axis.faces, axis.module, few)
    return _least(best, axis.uneven(best))


def _by_walls(axis: Axis, places: Ints) -> list[Ints]:
    """The places that are left after the second and the third wish."""
    halves = _least(places, axis.halves[places], within=_EQUAL)
    free = _least(halves, leans_short(axis, halves))
    return [halves, _least(free, ragged(axis, free), within=ragged_slack(axis))]


def _clear_of_pipes(axis: Axis, places: Ints) -> Ints:
    """The places that come out best at the fourth wish."""
    if not axis.struck[places].any():
        return places
    _, even, _ = _widest_and_even(axis, _few_slivers(axis, places))
    best = _least(even, axis.struck[even])[:1]
    free = _better(axis, places, best, axis.struck)
    return free if len(free) else places


def _off_faces(axis: Axis, places: Ints, even: Ints) -> Ints:
    """The places that come out best at the second half of the fifth wish; `even` are the best but for that."""
    best = _least(even, axis.beside[even])[:1]
    if not axis.beside[best[0]]:
        return places
    open_ = axis.faces.taken(axis.faces.cap >= axis.module)
    wide = places
    if len(open_):
        least = int(narrowest(open_, axis.module, best).min()) - round(GIVEN_MM * axis.per_mm)
        wide = places[smallest(open_, axis.module, places, exact_from=least) >= least]
    free = _better(axis, wide, best, axis.beside)
    return free if len(free) else places


def _few_slivers(axis: Axis, places: Ints) -> Ints:
    return _least(places, axis.column_slivers[places], within=column_slack(axis))


def _better(axis: Axis, places: Ints, best: Ints, struck: Ints) -> Ints:
    """Those with the least that is struck, less than at the best place, and no border under half a module narrower."""
    fewer: Ints = places[struck[places] < struck[best[0]]]
    while len(fewer):
        free = _least(fewer, struck[fewer])
        kept: Ints = free[_no_narrower(axis, free, best)]
        if len(kept):
            return kept
        fewer = fewer[struck[fewer] > struck[free[0]]]
    return fewer


def _no_narrower(axis: Axis, places: Ints, best: Ints) -> Flags:
    """Whether no border that is under half a module at the best place is narrower at each of some places."""
    cuts = narrowest(axis.faces, axis.module, best)[0]
    short = cuts < axis.half
    faces, least = axis.faces.taken(short), cuts[short]
    parts = np.array_split(places, len(places) * len(faces) // MOST_CUTS + 1)
    wide = [(narrowest(faces, axis.module, some) >= least).all(axis=1) for some in parts]
    return np.asarray(np.concatenate(wide), dtype=np.bool_)


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

#: To clear the face of a column the narrowest border gives no more: 2 in, over ledge and flange and what a tape may be
#: out (common practice, no source).
GIVEN_MM = 50.0


def _least(places: Ints, values: Ints, within: int = 0) -> Ints:
    return np.asarray(places[values <= values.min() + within], dtype=np.int64)


def closes(length: float, module: float, left: float, full: int, right: float, within: float = TOLERANCE_MM) -> bool:
    """Whether two borders and `full` whole modules between them make up a length: left + full * module + right.

    Every published layout must pass this (NAVEDTRA 14044 p. 7-23, half-tile rule turned round); misprints do not.
    """
    return full >= 0 and min(left, right) >= 0 and abs(left + full * module + right - length) <= within
