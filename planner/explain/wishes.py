"""Which wish of the grid search decided where the lines stand on an axis, and what another place would have cost.

In: a `Job` and the number of an axis. Out: steps. The order of wishes and everything that is weighed are the search's
own (`planner.ceiling.grid.borders`). The other places weighed are those that a person with a pencil would try: a whole
panel at one wall, or equal borders at two.
"""

from collections.abc import Iterator
from itertools import combinations, islice

import numpy as np

from planner.ceiling.grid.axis import Axis
from planner.ceiling.grid.borders import (
    best_places,
    column_slack,
    leans_short,
    narrowing,
    ragged,
    ragged_slack,
    without_slivers,
)
from planner.ceiling.grid.circle import SUM_PER_MM
from planner.ceiling.grid.gaps import Ints
from planner.explain.model import PRACTICE, Job, Step
from planner.geometry import TOLERANCE_MM

ORDER_SOURCE = "NAVEDTRA 14044 pp. 5-16, 7-23, and common practice"

#: Walls that a person would try to set the grid out from, at most; of more the longest count.
_TRIED_WALLS = 40
#: A place nearer to the chosen one than a mark on the tape is the same place.
_SAME_MM = 2.0

#: Lengths of wall that differ by less are alike.
_EQUAL = round(TOLERANCE_MM * SUM_PER_MM)

_SIDES = ("left or right", "front or back")


def wishes_told(job: Job, number: int) -> Iterator[Step]:
    """The wishes in their order, with what each comes to here and how many places it leaves."""
    axis, place = job.search.axes[number], job.places[number]
    kept = [without_slivers(axis, np.arange(axis.module, dtype=np.int64))]
    if job.wish.prefer == "fewest_panels":
        yield from _fewest_told(job, axis, place, kept[0], number)
        return
    more, proven = narrowing(axis, kept[0])
    kept += more
    deciding = next(k for k, places in enumerate(kept) if len(places) == len(kept[-1]))
    for k, (wish, places) in enumerate(zip(_said(job, axis, place, number), kept, strict=True)):
        left = f"leaves {_places_said(job, axis, places)}{', and so decides' if k == deciding else ''}"
        if wish:
            text = f"{job.ways[number]}: wish {k + 1}, {wish}, {left}."
            yield Step(text, None, "", "order of wishes", ORDER_SOURCE)
        if k == deciding:
            break
    if not proven:
        yield Step("There were too many places and walls to weigh every one: the best of an even choice is taken.")
    if len(kept[-1]) > 1:
        yield Step("Among these the fewest panels decide, then the first.", None, "", "order of wishes", PRACTICE)


def _said(job: Job, axis: Axis, place: int, number: int) -> tuple[str, ...]:
    """What each wish is about and what it comes to here; nothing where the room has nothing of the kind."""
    slanted, beside = axis.slanted_slivers.any() or axis.slanted_halves.any(), len(axis.edges) > axis.walls
    ragged = f"{_wall_said(job, axis.slanted_halves, place)} under half, {_wall_said(job, axis.slanted_slivers, place)}"
    column = _wall_said(job, axis.column_slivers, place, "column side")
    return (
        f"the least wall along the grid cut under a quarter of a module ({_wall_said(job, axis.slivers, place)})",
        f"the least wall along the grid cut under half a module ({_wall_said(job, axis.halves, place)})",
        f"no more slanted or bowed wall cut short than must be, to half a module ({ragged} under a quarter)"
        if slanted
        else "",
        f"no more slivers beside columns than must be, to a quarter of a module ({column})" if beside else "",
        f"the widest narrow cuts along the grid ({_cuts_said(job, axis, axis.cuts(place))})",
        f"borders {_SIDES[number]} alike (they differ by {job.said(_uneven(axis, place))})",
        "fixed services in the middle of panels",
        f"the widest narrow cuts elsewhere ({_cuts_said(job, axis, axis.other_cuts(place))})",
    )


def _fewest_told(job: Job, axis: Axis, place: int, places: Ints, number: int) -> Iterator[Step]:
    count = job.layout.full_panels + len(job.layout.cut_panels)
    wall = _wall_said(job, axis.slivers, place)
    first = f"wish 1, the least wall cut under a quarter of a module ({wall}), leaves {_places_said(job, axis, places)}"
    yield Step(f"{job.ways[number]}: {first}.", None, "", "order of wishes", ORDER_SOURCE)
    text = f"Then the fewest panels, as prefer: fewest_panels asks: {count}, whole and cut."
    yield Step(text, count, "panels", "prefer: fewest_panels", "the room file")


def next_best(job: Job, number: int, head: str) -> list[Step]:
    """The best of the other places that a person would try on an axis, and what tells it from the one taken."""
    axis, place = job.search.axes[number], job.places[number]
    tried = {at: said for at, said in _tried(job, axis) if _apart(axis, at, place) > _SAME_MM * axis.per_mm}
    if not tried:
        return []
    at = int(best_places(axis, without_slivers(axis, np.array(sorted(tried), dtype=np.int64)))[0][0])
    return [
        Step(f"{head}, {tried[at]}: {_difference(job, axis, at, place)}.", None, "", "order of wishes", ORDER_SOURCE)
    ]


def _apart(axis: Axis, one: int, other: int) -> int:
    return min((one - other) % axis.module, (other - one) % axis.module)


def _tried(job: Job, axis: Axis) -> Iterator[tuple[int, str]]:
    """Places that one would try: a line on a wall, which leaves whole panels there, and equal borders at two walls."""
    faces = axis.faces
    straight = faces.taken((faces.lean == 0) & (faces.edge < axis.walls))
    lengths = np.abs(axis.edges[straight.edge, 3] - axis.edges[straight.edge, 1])
    longest = straight.taken(np.argsort(-lengths, kind="stable")[:_TRIED_WALLS])
    names = [job.room.walls[k].name for k in job.room.wall_of_edge]
    walls = [(names[edge], into, face) for edge, into, face in _rows(longest.edge, longest.into, longest.face)]
    for name, _, face in walls:
        yield face % axis.module, f"whole panels along {name}"
    for (one, into, a), (other, facing, b) in combinations(walls, 2):
        if into == -facing:
            for half in (0, axis.module):
                yield ((a + b + half) // 2) % axis.module, f"equal borders at {one} and {other}"


def _rows(*columns: Ints) -> Iterator[tuple[int, ...]]:
    return zip(*(column.tolist() for column in columns), strict=True)


def _difference(job: Job, axis: Axis, there: int, here: int) -> str:
    """The first wish at which two places differ, in numbers."""
    more = _more_cut_short(job, axis, there, here)
    if more:
        return more
    narrower = _narrower(job, axis, axis.cuts(there), axis.cuts(here))
    uneven = [_uneven(axis, at) for at in (there, here)]
    if not narrower and abs(uneven[0] - uneven[1]) > TOLERANCE_MM:
        return f"its outermost borders differ by {job.said(uneven[0])}, here by {job.said(uneven[1])}"
    elsewhere = _narrower(job, axis, axis.other_cuts(there), axis.other_cuts(here))
    alike = "it cuts the walls no better and no worse; the planner counts panels and takes the first"
    return narrower or (f"elsewhere {elsewhere}" if elsewhere else alike)


def _more_cut_short(job: Job, axis: Axis, there: int, here: int) -> str:
    """What one of two places cuts short by more than the wishes bear, the first of it; nothing where nothing is."""
    at = np.array([there, here], dtype=np.int64)
    for values, most, kind, what in _borne(axis):
        other, own = values[at].tolist()
        if max(other, own) > most + _EQUAL and abs(other - own) > _EQUAL:
            has = f"it has {_wall_said(job, values, there, kind)} cut under {what}"
            return f"{has}, this has {_wall_said(job, values, here, kind)}"
    return ""


def _borne(axis: Axis) -> Iterator[tuple[Ints, int, str, str]]:
    """For the first four wishes: the wall that each weighs at every place, and the most that it bears."""
    everywhere = np.arange(axis.module, dtype=np.int64)
    free = without_slivers(axis, everywhere)
    _, halves, few, *_ = (free, *narrowing(axis, free)[0])
    slanted = ragged(axis, everywhere)
    yield axis.slivers, 0, "wall", "a quarter of a module"
    yield axis.halves, 0, "wall", "half a module"
    if not leans_short(axis, halves).all():
        yield axis.leaning_slivers, int(axis.leaning_slivers.min()), "slanted or bowed wall", "a quarter of a module"
    most = int(slanted[few].min()) + ragged_slack(axis)
    yield slanted, most, "slanted or bowed wall", "half a module, slivers counted twice"
    most = int(axis.column_slivers[few].min()) + column_slack(axis)
    yield axis.column_slivers, most, "column side", "a quarter of a module"


def _narrower(job: Job, axis: Axis, there: Ints, here: Ints) -> str:
    """The first of two rows of cuts, from the narrowest up, that differ; nothing where they are alike."""
    for k, (one, other) in enumerate(zip(there.tolist(), here.tolist(), strict=True)):
        if one != other:
            which = "its narrowest cut is" if k == 0 else f"{k} narrower cuts are alike, then it has"
            return f"{which} {job.said(one / axis.per_mm)}, here it is {job.said(other / axis.per_mm)}"
    return ""


def _uneven(axis: Axis, place: int) -> float:
    return float(axis.uneven(np.array([place]))[0]) / axis.per_mm


def _wall_said(job: Job, values: Ints, place: int, kind: str = "wall") -> str:
    length = int(values[place]) / SUM_PER_MM
    return f"no {kind}" if length <= TOLERANCE_MM else f"{job.said(length)} of {kind}"


def _cuts_said(job: Job, axis: Axis, all_cuts: Ints) -> str:
    cuts = [job.said(cut / axis.per_mm) for cut in islice(all_cuts.tolist(), 3)]
    return (
        f"the narrowest is {cuts[0]}" if len(cuts) == 1 else f"the narrowest are {', '.join(cuts)}" if cuts else "none"
    )


def _places_said(job: Job, axis: Axis, places: Ints) -> str:
    """How much of a module the lines may still be shifted over."""
    if len(places) == 1:
        return "one place"
    if len(places) == axis.module:
        return f"every place in the module of {job.said(axis.module / axis.per_mm)}"
    shifts, module = len(places) / axis.per_mm, job.said(axis.module / axis.per_mm)
    return (
        f"{len(places)} places" if shifts < _SAME_MM else f"{job.said(shifts)} of the module's {module} to choose from"
    )
