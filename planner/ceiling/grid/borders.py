"""Where the grid's lines fall along one axis: an exact search, no sampling.

In: the edges of a room in the grid's own directions. Out: an `Axis`, which says for every place of a grid line (its
origin, 0 up to a module) how the walls are cut, and `best_places`, which picks the best by the agreed order of wishes:

1. the least wall with a sliver, a cut under a quarter module;
2. the least wall with a cut under half a module (the half-module rule: NAVEDTRA 14044 p. 5-16 "equal, and as large as
   possible", with the arithmetic of its half-tile rule on p. 7-23);
3. the widest smallest cut, then the widest second smallest, and so on;
4. opposite borders equal;
5. fixed services in panel centres.

The cut at a point of a wall is the distance along the axis into the room to the next line; a line on the wall gives a
whole module, and no cut is wider than the room is there. Columns count like walls. Corners are rounded to 1/80 mm,
which holds tenths of a millimetre and sixteenths of an inch exactly, and lines to half of that, so that halves between
two walls are exact as well. All wishes bend only at whole places (where the gap before a slanted wall passes a limit,
that point is rounded likewise), so trying every whole place is exact for the rounded room. Lengths of wall that differ
by less than TOLERANCE_MM count as equal.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from planner.ceiling.grid.circle import SUM_PER_MM, short_wall
from planner.ceiling.grid.gaps import Floats, Ints, Parts, narrower, wall_parts, wider
from planner.ceiling.grid.widest import Faces, faces_of, narrowest, widest, widest_cut
from planner.geometry import TOLERANCE_MM

#: Whole places in a millimetre, nearly: exactly 160 for a module of whole fortieths of a millimetre.
PLACES_PER_MM = 160

#: Walls whose distances from the lines differ by less than this are taken to lie alike; a gap under it is none.
ALIKE_MM = 0.05


@dataclass(frozen=True)
class Axis:
    """One axis of the grid search. Whole units throughout: `per_mm` of them make a millimetre."""

    edges: Ints  #: one row (along, across, along, across) for each edge of the outline, then of each column
    walls: int  #: how many of the edges belong to the outline
    module: int
    per_mm: float
    centred: Ints  #: coordinates of services that ask for the middle of a panel

    @cached_property
    def alike(self) -> int:
        return round(ALIKE_MM * self.per_mm)

    @cached_property
    def slanted(self) -> bool:
        """Whether any wall or column side is parallel to neither axis."""
        return bool(np.any((self.edges[:, 0] != self.edges[:, 2]) & (self.edges[:, 1] != self.edges[:, 3])))

    @cached_property
    def low(self) -> int:
        """Least coordinate of the outline: the left or front wall."""
        return int(self.edges[: self.walls, [0, 2]].min())

    @cached_property
    def high(self) -> int:
        """Greatest coordinate of the outline: the right or back wall."""
        return int(self.edges[: self.walls, [0, 2]].max())

    @cached_property
    def parts(self) -> Parts:
        return wall_parts(self.edges, self.module)

    @cached_property
    def faces(self) -> Faces:
        """What is judged by its narrowest cut, less what has no room before it."""
        return self._all_faces.taken(self._all_faces.cap >= self.alike)

    @cached_property
    def _all_faces(self) -> Faces:
        return faces_of(self.parts, self.module)

    @cached_property
    def slivers(self) -> Ints:
        """Length of wall with a cut under a quarter module, for each place; in 1 / SUM_PER_MM mm."""
        return self._short(self.module // 4)

    @cached_property
    def halves(self) -> Ints:
        """Length of wall with a cut under half a module, for each place; in 1 / SUM_PER_MM mm."""
        return self._short(self.module // 2)

    def _short(self, limit: int) -> Ints:
        tight = wider(narrower(self.parts, limit), self.alike)
        always = float(tight.length.sum()) * SUM_PER_MM / self.per_mm
        movable = wider(self.parts, limit)
        return short_wall(movable, self.module, limit, self.per_mm) + round(always)

    def from_low(self, place: int) -> int:
        """Cut at the left or front wall, measured at its outermost point."""
        return (place - self.low) % self.module or self.module

    def from_high(self, place: int) -> int:
        """Cut at the right or back wall, measured at its outermost point."""
        return (self.high - place) % self.module or self.module

    def uneven(self, places: Ints) -> Ints:
        """Difference between the two borders, for each of some places."""
        both = np.stack([(places - self.low) % self.module, (self.high - places) % self.module])
        both = np.where(both == 0, self.module, both)
        return np.asarray(np.abs(both[0] - both[1]), dtype=np.int64)

    def off_centre(self, places: Ints) -> Ints:
        """Sum of the distances of services from the middle of their panels, for each of some places."""
        total = np.zeros(len(places), dtype=np.int64)
        for service in self.centred:
            total += np.abs((service - places) % self.module - self.module // 2)
        return total

    def borders(self, place: int, wall_of: Ints) -> dict[int, tuple[float, float]]:
        """Narrowest and widest cut in millimetres at each wall that counts on this axis, by the wall's number.

        `wall_of` names the wall of each edge of the outline: a bowed wall has several. Stretches that face less than a
        module speak for a wall only where it has no others.
        """
        faces = self._all_faces.taken(self._all_faces.edge < self.walls)
        walls = wall_of[faces.edge]
        is_open = np.zeros(self.walls, dtype=np.bool_)
        is_open[walls[faces.cap == self.module]] = True
        spoken = (faces.cap == self.module) | ~is_open[walls]
        faces, walls = faces.taken(spoken), walls[spoken]
        least = narrowest(faces, self.module, np.array([place]))[0] / self.per_mm
        most = widest_cut(faces, self.module, place) / self.per_mm
        cuts: dict[int, tuple[float, float]] = {}
        for wall, low, high in zip(walls.tolist(), least.tolist(), most.tolist(), strict=True):
            known = cuts.get(wall, (low, high))
            cuts[wall] = (min(low, known[0]), max(high, known[1]))
        return cuts

    def cuts(self, place: int) -> Ints:
        """All narrowest cuts, sorted from the narrowest up."""
        return np.sort(narrowest(self.faces, self.module, np.array([place]))[0])


def axis_of(edges: Floats, walls: int, module: float, centred: Floats) -> Axis:
    """Make the search axis for edges (along, across, along, across), a module and coordinates along; millimetres."""
    whole = 4 * max(round(module * PLACES_PER_MM / 4), 1)
    per_mm = whole / module
    units = _aligned(_even(edges * per_mm), whole, round(ALIKE_MM * per_mm))
    return Axis(units, walls, whole, per_mm, _even(centred * per_mm))


def without_slivers(axis: Axis, places: Ints) -> Ints:
    """Keep the places that come out best at the first wish."""
    return _least(places, axis.slivers[places], within=_EQUAL)


def best_places(axis: Axis, places: Ints) -> tuple[Ints, bool]:
    """Keep the places that come out best at the second to fifth wish, and say whether all were weighed."""
    kept, proven = narrowing(axis, places)
    return kept[-1], proven


def narrowing(axis: Axis, places: Ints) -> tuple[tuple[Ints, Ints, Ints, Ints], bool]:
    """The places that are left after the second, third, fourth and fifth wish, and whether all were weighed."""
    fewest_halves = _least(places, axis.halves[places], within=_EQUAL)
    widest_cuts, proven = widest(axis.faces, axis.module, fewest_halves)
    even = _least(widest_cuts, axis.uneven(widest_cuts))
    return (fewest_halves, widest_cuts, even, _least(even, axis.off_centre(even))), proven


_EQUAL = round(TOLERANCE_MM * SUM_PER_MM)


def _least(places: Ints, values: Ints, within: int = 0) -> Ints:
    return np.asarray(places[values <= values.min() + within], dtype=np.int64)


def _even(values: Floats) -> Ints:
    """Round to even numbers; halves, which come from thirty-seconds of an inch, always up, whatever the float noise."""
    return 2 * np.floor(values / 2 + 0.5 + 1e-6).astype(np.int64)


def _aligned(edges: Ints, module: int, alike: int) -> Ints:
    """Move straight walls that lie alike within a module onto one line each, that of the longest wall among them.

    Else 0.02 mm of noise in a drawing would turn a room of whole modules into one with slivers.
    """
    straight = (np.abs(edges[:, 0] - edges[:, 2]) <= alike) & (edges[:, 1] != edges[:, 3])
    values, which = np.unique(edges[straight][:, [0, 2]], return_inverse=True)
    rises = np.repeat(np.abs(edges[straight, 1] - edges[straight, 3]), 2)
    lengths = np.bincount(which.reshape(-1), weights=rises, minlength=len(values))
    shifts = np.zeros(len(values) + 1, dtype=np.int64)
    for group in _groups(values % module, module, alike):
        on = values[group[np.argmax(lengths[group])]]
        shifts[group] = (on - values[group] + module // 2) % module - module // 2
    moved, places = edges.copy(), edges[:, [0, 2]]
    found = np.searchsorted(values, places)
    known = np.append(values, np.iinfo(np.int64).max)[found] == places
    moved[:, [0, 2]] += np.where(known, shifts[found], 0)
    return moved


def _groups(residues: Ints, module: int, alike: int) -> list[Ints]:
    """Indices of places on the circle that lie within `alike` of the first of them, two or more together."""
    if len(residues) < 2:
        return []
    order = np.argsort(residues, kind="stable")
    gaps = np.diff(residues[order], append=residues[order[0]] + module)
    order = np.roll(order, -int(np.argmax(gaps)) - 1)  # begin after the widest gap, so that no group is split
    turned = (residues[order] - residues[order[0]]) % module
    groups, start = [], 0
    for end in range(1, len(order) + 1):
        if end == len(order) or turned[end] - turned[start] > alike:
            groups.append(order[start:end])
            start = end
    return [group for group in groups if len(group) > 1]


def closes(length: float, module: float, left: float, full: int, right: float, within: float = TOLERANCE_MM) -> bool:
    """Whether two borders and `full` whole modules between them make up a length: left + full * module + right.

    Every published layout must pass this (NAVEDTRA 14044 p. 7-23, half-tile rule turned round); misprints do not.
    """
    return full >= 0 and min(left, right) >= 0 and abs(left + full * module + right - length) <= within
