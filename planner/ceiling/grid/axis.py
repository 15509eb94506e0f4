"""One axis of the grid search: how the walls are cut for every place of a grid line.

In: the edges of a room in the grid's own directions. Out: an `Axis`. A place is the origin of the lines, 0 up to a
module. The cut at a point of a wall is the distance along the axis into the room to the next line; a line on the wall
gives a whole module, and no cut is wider than the room is there. A wall lies along the grid when it can be kept at half
a module: it leans, or bows, by half a module at most. Cuts are short when they are so by more than `SLACK_MM`.

Where a line crosses a wall so near to its outermost point that the ledge of the wall angle hides all that lies beyond,
nothing is cut there: that part of the wall counts as having a whole module. A line before the whole of a wall leaves a
strip all along it, which stays a cut: to hide that is asked for apart (`planner.ceiling.ledge`). Nor is anything hidden
where the line goes on beside the end of the wall, so that a tee must stand on it.

Corners are rounded to 1/80 mm, which holds tenths of a millimetre and sixteenths of an inch exactly, and lines to half
of that, so that halves between two walls are exact as well. All that is weighed bends only at whole places (where the
gap before a slanted wall passes a limit, that point is rounded likewise), so trying every whole place is exact for the
rounded room.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from planner.ceiling.grid.alike import ALIKE_MM, aligned, even
from planner.ceiling.grid.circle import SUM_PER_MM, closed_wall, cover, short_wall
from planner.ceiling.grid.clear import NOTHING_BARRED, Barred
from planner.ceiling.grid.gaps import Flags, Floats, Ints, Parts, narrower, reaches, wall_parts, wider
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
    ledge: int  #: how far from a wall the ledge hides that nothing lies there
    struck_in: Ints  #: rows (from, to) between which a line strikes a pipe
    beside_in: Ints  #: those between which it is too near to a pipe, or along the face of a column

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

    @cached_property
    def struck(self) -> Ints:
        """How many pipes lines strike, for each place."""
        return self._within(self.struck_in)

    @cached_property
    def beside(self) -> Ints:
        """How many pipes lines are too near to, and how many faces of columns they run along, for each place."""
        return self._within(self.beside_in)

    def _within(self, spans: Ints) -> Ints:
        """How many spans lines stand inside, for each place; at their ends they do not."""
        if not len(spans):
            return np.zeros(self.module, dtype=np.int64)
        count = np.clip(spans[:, 1] - spans[:, 0] - 1, 0, self.module)
        return cover((spans[:, 0] + 1) % self.module, count, self.module)

    def short_at(self, place: int, limit: int) -> float:
        """Millimetres of wall, slanted and bowed ones included, with a cut under a limit at one place."""
        if limit == self.quarter:
            return int(self.slivers[place] + self.slanted_slivers[place]) / SUM_PER_MM
        if limit == self.half:
            return int(self.halves[place] + self.slanted_halves[place]) / SUM_PER_MM
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
        _, least, most = self._reaches
        return most - least

    @cached_property
    def _reaches(self) -> tuple[Ints, Ints, Ints]:
        """Number, least and greatest coordinate of the wall that each edge belongs to; of columns nothing."""
        found = np.zeros((3, len(self.edges)), dtype=np.int64)
        found[:, : self.walls] = reaches(self.edges[: self.walls])
        return found[0], found[1], found[2]

    @cached_property
    def _out(self) -> Ints:
        """Coordinate of the wall that each edge belongs to that is furthest out of the room."""
        _, least, most = self._reaches
        return np.where(self._into > 0, least, most)

    @cached_property
    def _into(self) -> Ints:
        """+1 where the room lies towards greater coordinates from an edge that counts, -1 where towards lesser."""
        into = np.ones(len(self.edges), dtype=np.int64)
        into[self.parts.edge] = self.parts.into
        return into

    @cached_property
    def _hidden(self) -> Ints:
        """How far from the outermost point of a wall a line may cross it so that the ledge hides all that lies beyond.

        For each edge, that of its wall.
        """
        most = min(self.ledge, self.quarter - 1)
        hidden = np.where(self._lean + most < self.module, np.minimum(self._lean, most), 0)
        return np.where(np.isin(self._reaches[0], self._going_on(hidden)), 0, hidden)

    def _going_on(self, hidden: Ints) -> Ints:
        """The numbers of walls past an end of which lines go on that cross them as near to their outermost point."""
        wall, into, out, hidden = (each[: self.walls] for each in (self._reaches[0], self._into, self._out, hidden))
        going_on = np.zeros(self.walls, dtype=np.bool_)
        for end, way in ((0, 1), (2, -1)):
            corner = self.edges[: self.walls, end]
            beyond = np.roll(corner, way)  # the other end of the edge before, or after
            deepest = np.maximum(into * (corner - out), into * (beyond - out))
            going_on |= (np.roll(wall, way) != wall) & (deepest < hidden)
        return wall[going_on]

    @cached_property
    def _slanting(self) -> Flags:
        return self._is_wall & ~self.along

    @cached_property
    def _all_faces(self) -> Faces:
        return faces_of(self.parts, self.module, self._out, self._hidden)

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
        open_ = wider(parts, limit)
        closed = closed_wall(open_, self._out[open_.edge], self._hidden[open_.edge], self.module, self.per_mm)
        return short_wall(open_, self.module, limit, self.per_mm) - closed + round(always)

    def from_low(self, place: int) -> int:
        """Cut at the left or front wall, measured at its outermost point; a whole module where the ledge hides it."""
        return int(self._outermost(np.array([place]))[0, 0])

    def from_high(self, place: int) -> int:
        """Cut at the right or back wall, measured at its outermost point; a whole module where the ledge hides it."""
        return int(self._outermost(np.array([place]))[1, 0])

    def uneven(self, places: Ints) -> Ints:
        """Difference between the two borders, for each of some places."""
        low, high = self._outermost(places)
        return np.asarray(np.abs(low - high), dtype=np.int64)

    def _outermost(self, places: Ints) -> Ints:
        """Cuts at the outermost points on either side (rows), for each of some places."""
        cuts = np.stack([(places - self.low) % self.module, (self.high - places) % self.module])
        hidden = np.array([self._hidden_at(end) for end in (self.low, self.high)])
        return np.where(cuts <= hidden[:, None], self.module, cuts)

    def _hidden_at(self, end: int) -> int:
        """How far the ledge hides what lies beyond a line, of the walls that reach one end of the axis."""
        walls = np.intersect1d(self.parts.edge, np.flatnonzero(self._is_wall & (self._out == end)))
        return int(self._hidden[walls].min()) if len(walls) else 0

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


def axis_of(
    edges: Floats, walls: int, module: float, centred: Floats, ledge: float = 0.0, clear_of: Barred = NOTHING_BARRED
) -> Axis:
    """Make the search axis for edges (along, across, along, across), a module and coordinates along; millimetres.

    `ledge` is how far a panel may stop short of a wall, `clear_of` where columns bar lines.
    """
    whole = 4 * max(round(module * PLACES_PER_MM / 4), 1)
    per_mm = whole / module
    units = aligned(even(edges * per_mm), whole, round(ALIKE_MM * per_mm))
    hidden = max(int(ledge * per_mm + 1e-6), 0)
    struck, beside = even(clear_of.struck * per_mm), even(clear_of.beside * per_mm)
    return Axis(units, walls, whole, per_mm, even(centred * per_mm), hidden, struck, beside)
