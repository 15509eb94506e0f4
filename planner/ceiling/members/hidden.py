"""Lines that carry no tee because they lie over the wall angle alone.

In: stretches of grid lines, the walls they lie between, and the system. Out: the stretches that carry a tee.

Rule: where a line crosses a corner so near to it that all of it lies over the ledges of the walls, those carry what a
tee would: no tee is put there, 25 mm of main tee least of all (common practice, no source). All of it: the panel that
ends half an undersize short of the line must lie on a ledge by `LEAST_BEARING_MM`. Where another line crosses it, its
tee stays: something hooks into it.
"""

from collections.abc import Iterable, Mapping, Sequence

import shapely

from planner.ceiling.members.lines import Stretch
from planner.ceiling.system import System
from planner.geometry import TOLERANCE_MM, Ring

#: A panel should lie on its tee or ledge by this much, 1/4 in. No published figure was found; from memory, not sure.
LEAST_BEARING_MM = 6.35

#: Longer ones, in widths of the ledge, are not looked at: no corner of a room is so sharp.
_LONGEST = 6


def least_end(system: System) -> float:
    """An end piece of a cross tee, from where it hooks in to the wall, is longer than this; else there is none.

    Of a shorter one nothing shows between the flange of the tee that it hooks into and the ledge, and the corners of
    the panels beside it lie on those two (common practice, no source).
    """
    return system.ledge + system.tee_face / 2


def carrying(
    lines: Mapping[int, Sequence[Stretch]],
    rings: Iterable[Ring],
    axis: int,
    pitches: tuple[float, float],
    system: System,
) -> dict[int, tuple[Stretch, ...]]:
    """The stretches of lines at coordinate[axis] = index * pitches[axis] that carry a tee.

    `rings` are the walls with ledges in the grid frame; `pitches` are those of both families of lines.
    """
    short = [
        (index, stretch)
        for index, stretches in lines.items()
        for stretch in stretches
        if stretch[1] - stretch[0] <= _LONGEST * system.ledge and not _crossed(stretch, pitches[1 - axis])
    ]
    hidden = set(_hidden(short, rings, axis, pitches[axis], system)) if short else set()
    kept = {k: tuple(each for each in stretches if (k, each) not in hidden) for k, stretches in lines.items()}
    return {k: stretches for k, stretches in kept.items() if stretches}


def _crossed(stretch: Stretch, pitch: float) -> bool:
    """Whether a line square to it crosses a stretch."""
    return (stretch[1] - TOLERANCE_MM) // pitch > (stretch[0] + TOLERANCE_MM) // pitch


def _hidden(
    short: Iterable[tuple[int, Stretch]], rings: Iterable[Ring], axis: int, pitch: float, system: System
) -> Iterable[tuple[int, Stretch]]:
    """Those of short stretches of which every point is near enough to a wall."""
    reach = system.ledge - system.panel_undersize / 2 - LEAST_BEARING_MM
    if reach <= 0:
        return
    over = shapely.union_all([shapely.LinearRing(ring).buffer(reach) for ring in rings])
    for index, (start, end) in short:
        at = index * pitch
        ends = [(at, t) if axis == 0 else (t, at) for t in (start, end)]
        if over.covers(shapely.LineString(ends)):
            yield index, (start, end)
