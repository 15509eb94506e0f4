"""Which wish of the grid search decided where the lines stand on an axis, and what another place would have cost.

In: a `Job` and the number of an axis. Out: steps. The order of wishes and everything that is weighed are the search's
own (`planner.ceiling.grid.borders`). The other places weighed are those that a person with a pencil would try: a whole
panel at one wall, or equal borders at two.
"""

from collections.abc import Iterator
from itertools import combinations

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
from planner.ceiling.grid.reason import before_columns
from planner.ceiling.grid.widest import Faces, narrowest
from planner.explain.model import PRACTICE, Job, Step
from planner.geometry import TOLERANCE_MM
from planner.wording import counted

ORDER_SOURCE = "NAVEDTRA 14044 pp. 5-16, 7-23, and common practice"

#: Walls that a person would try to set the grid out from, at most; of more the longest count.
_TRIED_WALLS = 40
#: A place nearer to the chosen one than a mark on the tape is the same place.
_SAME_MM = 2.0

#: Lengths of wall that differ by less are alike.
_EQUAL = round(TOLERANCE_MM * SUM_PER_MM)

#: Of cuts only the narrowest are told, each width once.
_NARROWEST_TOLD = 3
_TIMES = {1: "", 2: " twice"}

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
    slivers, halves = (_along_said(job, axis, limit, place) for limit in (axis.quarter, axis.half))
    struck = counted(int(axis.struck[place]), "pipe")
    pipes = f"lines clear of pipes, where borders allow that (they strike {struck})" if axis.struck.any() else ""
    return (
        f"the least wall along the grid cut under a quarter of a module ({slivers})",
        f"the least wall along the grid cut under half a module ({halves})",
        f"no more slanted or bowed wall cut short than must be, to half a module ({ragged} under a quarter)"
        if slanted
        else "",
        pipes,
        f"no more slivers beside columns than must be, to a quarter of a module ({column}), and few lines along their "
        f"faces ({int(axis.beside[place])})"
        if beside
        else "",
        f"the widest narrow borders along the grid ({_cuts_said(job, axis, axis.faces, place)})",
        f"borders {_SIDES[number]} alike (they differ by {job.said(_uneven(axis, place))})",
        "fixed services in the middle of panels",
        f"the widest narrow cuts elsewhere, as at columns ({_cuts_said(job, axis, axis.other_faces, place)})",
    )


def _fewest_told(job: Job, axis: Axis, place: int, places: Ints, number: int) -> Iterator[Step]:
    count = job.layout.full_panels + len(job.layout.cut_panels)
    wall = _along_said(job, axis, axis.quarter, place)
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
    for struck, what in ((axis.struck, "strike a pipe"), (axis.beside, "run along a column, or where a ring goes")):
        if int(struck[there]) > int(struck[here]):
            return f"its lines {what} {_times(int(struck[there]))}, these {_times(int(struck[here]))}"
    narrower = _narrower(job, axis, axis.cuts(there), axis.cuts(here), "border")
    uneven = [_uneven(axis, at) for at in (there, here)]
    if not narrower and abs(uneven[0] - uneven[1]) > TOLERANCE_MM:
        return f"its outermost borders differ by {job.said(uneven[0])}, here by {job.said(uneven[1])}"
    elsewhere = _narrower(job, axis, axis.other_cuts(there), axis.other_cuts(here), "cut")
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


def _times(count: int) -> str:
    return {0: "nowhere", 1: "once", 2: "twice"}.get(count, f"{count} times")


def _borne(axis: Axis) -> Iterator[tuple[Ints, int, str, str]]:
    """For the first wishes, but clear lines: the wall that each weighs at every place, and the most that it bears."""
    everywhere = np.arange(axis.module, dtype=np.int64)
    free = without_slivers(axis, everywhere)
    halves, few, clear, *_ = narrowing(axis, free)[0]
    slanted = ragged(axis, everywhere)
    yield axis.slivers, 0, "wall", "a quarter of a module"
    yield axis.halves, 0, "wall", "half a module"
    if not leans_short(axis, halves).all():
        yield axis.leaning_slivers, int(axis.leaning_slivers.min()), "slanted or bowed wall", "a quarter of a module"
    most = int(slanted[few].min()) + ragged_slack(axis)
    yield slanted, most, "slanted or bowed wall", "half a module, slivers counted twice"
    most = int(axis.column_slivers[clear].min()) + column_slack(axis)
    yield axis.column_slivers, most, "column side", "a quarter of a module"


def _narrower(job: Job, axis: Axis, there: Ints, here: Ints, what: str) -> str:
    """The first of two rows of cuts, from the narrowest up, that differ; nothing where they are alike."""
    for k, (one, other) in enumerate(zip(there.tolist(), here.tolist(), strict=True)):
        if one != other:
            which = f"its narrowest {what} is" if k == 0 else f"what is narrower is alike, then its narrowest {what} is"
            return f"{which} {job.said(one / axis.per_mm)}, here it is {job.said(other / axis.per_mm)}"
    return ""


def _uneven(axis: Axis, place: int) -> float:
    return float(axis.uneven(np.array([place]))[0]) / axis.per_mm


def _wall_said(job: Job, values: Ints, place: int, kind: str = "wall") -> str:
    length = int(values[place]) / SUM_PER_MM
    return f"no {kind}" if length <= TOLERANCE_MM else f"{job.said(length)} of {kind}"


def _along_said(job: Job, axis: Axis, limit: int, place: int) -> str:
    """How much wall along the grid is cut under a limit, and how much of it only since a column or pipe is near."""
    values = axis.slivers if limit == axis.quarter else axis.halves
    text, before = _wall_said(job, values, place), before_columns(axis, limit)
    if before <= TOLERANCE_MM:
        return text
    part = "all" if before >= int(values[place]) / SUM_PER_MM - TOLERANCE_MM else job.said(before)
    return f"{text}, {part} of it before a column or pipe that is nearer than that"


def _cuts_said(job: Job, axis: Axis, faces: Faces, place: int) -> str:
    """The narrowest of some cuts, and by themselves those of stretches that have less than a module before them."""
    cuts, is_open = narrowest(faces, axis.module, np.array([place]))[0], faces.cap >= axis.module
    texts = [_widths_said(job, axis, cuts[is_open])] if is_open.any() else []
    if not is_open.all():
        texts.append(f"where less than a module is free, {_widths_said(job, axis, cuts[~is_open])}")
    return "; ".join(texts) or "none"


def _widths_said(job: Job, axis: Axis, all_cuts: Ints) -> str:
    """The narrowest cuts, each width once, with how many there are of it."""
    told: dict[str, int] = {}
    for width, count in zip(*(each.tolist() for each in np.unique(all_cuts, return_counts=True)), strict=True):
        said = job.said(width / axis.per_mm)
        if said not in told and len(told) == _NARROWEST_TOLD:
            break
        told[said] = told.get(said, 0) + count
    cuts = [f"{said}{_TIMES.get(count, f' {count} times')}" for said, count in told.items()]
    return f"the narrowest {'is' if len(cuts) == 1 else 'are'} {', '.join(cuts)}"


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
