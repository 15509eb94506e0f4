"""One axis of the grid search: how the walls are cut for every place of a grid line.

In: the edges of a room in the grid's own directions. Out: an `Axis`. A place is the origin of the lines, 0 up to a
module. The cut at a point of a wall is the distance along the axis into the room to the next line; a line on the wall
gives a whole module, and no cut is wider than the room is there. A wall lies along the grid when it can be kept at half
a module: it leans, or bows, by half a module at most. Cuts are short when they are so by more than `SLACK_MM`.

Corners are rounded to 1/80 mm, which holds tenths of a millimetre and sixteenths of an inch exactly, and lines to half
of that, so that halves between two walls are exact as well. All that is weighed bends only at whole places (where the
gap before a slanted wall passes a limit, that point is rounded likewise), so trying every whole place is exact for the
rounded room.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from planner.ceiling.grid.alike import ALIKE_MM, aligned, even
from planner.ceiling.grid.circle import SUM_PER_MM, short_wall
from planner.ceiling.grid.gaps import Flags, Floats, Ints, Parts, leans, narrower, wall_parts, wider
from planner.ceiling.grid.widest import Faces, faces_of, narrowest, widest_cut

#: Whole places in a millimetre, nearly: exactly 160 for a module of whole fortieths of a millimetre.
PLACES_PER_MM = 160

#: A cut short of half (or a quarter) of a module by no more than this passes for it: a quarter inch, nearly. It is what
#: a tape cannot tell: a reading of 12 m is only called wrong from 3.29 x sqrt(1.0^2 + (0.12 x 12)^2) = 5.8 mm on.
SLACK_MM = 6.0


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
        """The walls along the grid, each judged by its narrowest cut, less what has no room before it."""
        return self._open_faces.taken(self.along[self._open_faces.edge])

    @cached_property
    def other_faces(self) -> Faces:
        """Columns, and slanted and bowed walls, likewise."""
        return self._open_faces.taken(~self.along[self._open_faces.edge])

    @cached_property
    def slivers(self) -> Ints:
        """Length of wall along the grid with a sliver, for each place; in 1 / SUM_PER_MM mm."""
        return self.short(self.along, self.quarter)

    @cached_property
    def halves(self) -> Ints:
        """Length of wall along the grid with a cut under half a module, for each place; in 1 / SUM_PER_MM mm."""
        return self.short(self.along, self.half)

    @cached_property
    def slanted_slivers(self) -> Ints:
        """Length of slanted and bowed wall with a sliver, for each place; in 1 / SUM_PER_MM mm."""
        return self.short(self._slanting, self.quarter)

    @cached_property
    def slanted_halves(self) -> Ints:
        """Length of slanted and bowed wall with a cut under half a module, for each place; in 1 / SUM_PER_MM mm."""
        return self.short(self._slanting, self.half)

    @cached_property
    def leaning_slivers(self) -> Ints:
        """The same of those that could be free of slivers: they lean by three quarters of a module at most."""
        return self.short(self._slanting & (self._lean <= self.module - self.quarter), self.quarter)

    @cached_property
    def column_slivers(self) -> Ints:
        """Length of column side with a sliver, for each place; in 1 / SUM_PER_MM mm."""
        return self.short(~self._is_wall, self.quarter)

    def short_at(self, place: int, limit: int) -> float:
        """Millimetres of wall, slanted and bowed ones included, with a cut under a limit at one place."""
        return int(self.short(self._is_wall, limit)[place]) / SUM_PER_MM

    @cached_property
    def quarter(self) -> int:
        """A cut under this is a sliver."""
        return max(self.module // 4 - round(SLACK_MM * self.per_mm), 1)

    @cached_property
    def half(self) -> int:
        """A cut under this is under half a module."""
        return max(self.module // 2 - round(SLACK_MM * self.per_mm), 1)

    @cached_property
    def _is_wall(self) -> Flags:
        """Which edges belong to the outline."""
        return np.arange(len(self.edges)) < self.walls

    @cached_property
    def along(self) -> Flags:
        """Which edges belong to walls that can be kept at half a module."""
        return self._is_wall & (self._lean <= self.module - self.half)

    @cached_property
    def _lean(self) -> Ints:
        """How far the wall that each edge belongs to leans or bows along the axis; columns by nothing."""
        found = np.zeros(len(self.edges), dtype=np.int64)
        found[: self.walls] = leans(self.edges[: self.walls])
        return found

    @cached_property
    def _slanting(self) -> Flags:
        return self._is_wall & ~self.along

    @cached_property
    def _all_faces(self) -> Faces:
        return faces_of(self.parts, self.module)

    @cached_property
    def _open_faces(self) -> Faces:
        return self._all_faces.taken(self._all_faces.cap >= self.alike)

    def short(self, which: Flags, limit: int) -> Ints:
        """Length of some edges with a cut under a limit, for each place; in 1 / SUM_PER_MM mm."""
        parts = self.parts.taken(which[self.parts.edge])
        if not len(parts.edge):
            return np.zeros(self.module, dtype=np.int64)
        tight = wider(narrower(parts, limit), self.alike)
        always = float(tight.length.sum()) * SUM_PER_MM / self.per_mm
        return short_wall(wider(parts, limit), self.module, limit, self.per_mm) + round(always)

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
        """Narrowest cuts of the walls along the grid, sorted from the narrowest up."""
        return np.sort(narrowest(self.faces, self.module, np.array([place]))[0])

    def other_cuts(self, place: int) -> Ints:
        """Narrowest cuts at columns and at slanted and bowed walls, sorted from the narrowest up."""
        return np.sort(narrowest(self.other_faces, self.module, np.array([place]))[0])


def axis_of(edges: Floats, walls: int, module: float, centred: Floats) -> Axis:
    """Make the search axis for edges (along, across, along, across), a module and coordinates along; millimetres."""
    whole = 4 * max(round(module * PLACES_PER_MM / 4), 1)
    per_mm = whole / module
    units = aligned(even(edges * per_mm), whole, round(ALIKE_MM * per_mm))
    return Axis(units, walls, whole, per_mm, even(centred * per_mm))
