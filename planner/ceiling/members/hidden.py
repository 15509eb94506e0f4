"""Lines that carry no tee because they lie over the wall angle alone.

In: stretches of grid lines, the walls they lie between, and the system. Out: the stretches that carry a tee, and those
that are bare.

Rules (common practice, no source): where a line crosses a corner so near to it that all of it lies over the ledges of
the walls, those carry what a tee would: no tee is put there, 25 mm of main tee least of all. All of it: the panel that
ends half an undersize short of the line must lie on a ledge by `LEAST_BEARING_MM`. Where another line crosses it, its
tee stays: something hooks into it. But a line along a wall that stands nowhere further from it than the ledge hides of
a whole panel (`planner.ceiling.ledge`) carries no tee however long it is, whatever crosses it: all that would hook in
there ends over the ledge itself.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from planner.ceiling.ledge import NOTHING_MM, hides_at_most
from planner.ceiling.members.lines import Stretch
from planner.ceiling.system import System
from planner.geometry import TOLERANCE_MM, Point, Ring
from planner.records import dataclass

#: A panel should lie on its tee or ledge by this much, 1/4 in. No published figure was found; from memory, not sure.
LEAST_BEARING_MM = 6.35

#: Of lines across a corner longer ones, in widths of the ledge, are not looked at: no corner of a room is so sharp.
_LONGEST = 6

_Lines = Mapping[int, Sequence[Stretch]]
_Found = tuple[int, Stretch]  #: a line by its index, a stretch of it


@dataclass(frozen=True, slots=True)
class Parted:
    """One family of lines, by index."""

    carrying: dict[int, tuple[Stretch, ...]]
    bare: dict[int, tuple[Stretch, ...]]  #: these carry no tee: they lie over the ledge alone

    def bare_at(self, along: float) -> frozenset[int]:
        """The lines that are bare where a line square to them, at this coordinate along them, crosses them."""
        return frozenset(
            index
            for index, stretches in self.bare.items()
            if any(start - TOLERANCE_MM <= along <= end + TOLERANCE_MM for start, end in stretches)
        )


def least_end(system: System) -> float:
    """An end piece of a cross tee, from where it hooks in to the wall, is longer than this; else there is none.

    Of a shorter one nothing shows between the flange of the tee that it hooks into and the ledge, and the corners of
    the panels beside it lie on those two (common practice, no source).
    """
    return system.ledge + system.tee_face / 2


def parted(lines: _Lines, rings: Sequence[Ring], axis: int, pitches: tuple[float, float], system: System) -> Parted:
    """Part the lines at coordinate[axis] = index * pitches[axis] into what carries a tee and what does not.

    `rings` are the walls with ledges in the grid frame; `pitches` are those of both families of lines.
    """
    bare = set(_bare(_beside_walls(lines, rings, axis, pitches[axis], system), rings, axis, pitches, system))
    return Parted(_kept(lines, bare, among=False), _kept(lines, bare, among=True))


def _kept(lines: _Lines, found: set[_Found], *, among: bool) -> dict[int, tuple[Stretch, ...]]:
    kept = {k: tuple(each for each in stretches if ((k, each) in found) is among) for k, stretches in lines.items()}
    return {k: stretches for k, stretches in kept.items() if stretches}


def _beside_walls(lines: _Lines, rings: Iterable[Ring], axis: int, pitch: float, system: System) -> list[_Found]:
    """The stretches of which the middle is over a ledge: of a hall's thousands hardly any."""
    found = [(k, stretch) for k, stretches in lines.items() for stretch in stretches]
    if not found:
        return []
    sides = np.concatenate([np.stack([ring, np.roll(ring, -1, axis=0)], axis=1) for ring in rings])
    spans = np.array([stretch for _, stretch in found])
    at = np.array([k for k, _ in found]) * pitch
    middles = np.stack([at, spans.mean(axis=1)] if axis == 0 else [spans.mean(axis=1), at], axis=1)
    tree = shapely.STRtree(np.asarray(shapely.linestrings(sides)))
    near, _ = tree.query(shapely.points(middles), predicate="dwithin", distance=system.ledge)
    return [found[k] for k in np.unique(near).tolist()]


def _bare(
    found: Sequence[_Found], rings: Sequence[Ring], axis: int, pitches: tuple[float, float], system: System
) -> Iterator[_Found]:
    """Those of some stretches that lie over ledges from end to end and that no tee hooks into."""
    if not found:
        return
    walls = [shapely.LinearRing(ring) for ring in rings]
    pitch, other = pitches[axis], pitches[1 - axis]
    over_corner = _near(walls, system.ledge - system.panel_undersize / 2 - LEAST_BEARING_MM)
    along_wall = _near(walls, hides_at_most(system) + NOTHING_MM)
    sides = shapely.union_all(walls)
    for index, stretch in found:
        at = index * pitch
        line = shapely.LineString([_point(axis, at, end) for end in stretch])
        crossings = _crossings(stretch, other)
        short = stretch[1] - stretch[0] <= _LONGEST * system.ledge and not len(crossings)
        if (short and over_corner.covers(line)) or (
            along_wall.covers(line) and _all_end(sides, axis, at, crossings, least_end(system))
        ):
            yield index, stretch


def _near(walls: Sequence[shapely.LinearRing], reach: float) -> BaseGeometry:
    return shapely.union_all([wall.buffer(reach) for wall in walls]) if reach > 0 else shapely.Point()


def _crossings(stretch: Stretch, pitch: float) -> Sequence[float]:
    """Where lines square to it cross a stretch."""
    first, last = (stretch[0] + TOLERANCE_MM) // pitch + 1, (stretch[1] - TOLERANCE_MM) // pitch
    return [float(k * pitch) for k in np.arange(first, last + 1)]


def _all_end(sides: BaseGeometry, axis: int, at: float, crossings: Iterable[float], within: float) -> bool:
    """Whether each line that crosses one at `at` meets a wall so near to it, on one side or the other."""
    for along in crossings:
        here = _point(axis, at, along)
        ways = (_point(axis, at + way, along) for way in (-within, within))
        if not any(sides.intersects(shapely.LineString([here, there])) for there in ways):
            return False
    return True


def _point(axis: int, at: float, along: float) -> Point:
    return (at, along) if axis == 0 else (along, at)
