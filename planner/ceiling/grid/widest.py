"""The widest smallest cut, then the widest second smallest, and so on: the third wish of the grid search.

In: stretches of wall (`Parts`) on one axis and the places a grid line may take. Out: the places where the cuts, sorted
from the narrowest up, are the greatest in that order. All in whole units, so equal cuts are equal.

Each wall is judged by its narrowest cut. A stretch where the room is narrower than a module is judged apart from the
rest of its wall, and no cut there is wider than the room is: a pipe close to a wall, or the tip of an acute corner,
then does not speak for the whole wall. What is the same in every place does not matter.
"""

from dataclasses import dataclass, fields

import numpy as np

from planner.ceiling.grid.gaps import Flags, Ints, Parts, narrower, wider

#: Cuts weighed at a time (places times walls); beyond it places are thinned out and the answer is not called proven.
MOST_CUTS = 2_000_000

#: Units by which a gap may fall short of a whole one through float noise.
_NOISE = 1e-6


@dataclass(frozen=True, slots=True)
class Faces:
    """What is judged by its narrowest cut, one entry each; whole units."""

    edge: Ints  #: index of the edge
    into: Ints  #: +1 where the room lies towards greater coordinates, -1 where towards lesser
    face: Ints  #: coordinate that is furthest into the room
    lean: Ints  #: how much the wall leans: its other end is so much further back; 0 = straight
    cap: Ints  #: room in front of it; the module where there is more

    def taken(self, keep: Ints | Flags) -> "Faces":
        return Faces(*(getattr(self, field.name)[keep] for field in fields(self)))

    def __len__(self) -> int:
        return len(self.edge)


def faces_of(parts: Parts, module: int) -> Faces:
    """Gather stretches into faces: one for a wall's open part, one for each wall or column it has close before it."""
    several = [_gathered(wider(parts, module), -1), _gathered(narrower(parts, module), None)]
    edge, into, low, high, cap = (np.concatenate(column) for column in zip(*several, strict=True))
    return Faces(edge, into, np.where(into > 0, high, low), high - low, np.minimum(cap, module))


def narrowest(faces: Faces, module: int, places: Ints) -> Ints:
    """Narrowest cut of each face (columns) for a grid line at each place (rows); 0 where a line crosses the face."""
    reach = (faces.into * (places[:, None] - faces.face)) % module
    reach = np.where(reach == 0, module, reach)
    return np.where(reach > module - faces.lean, 0, np.minimum(reach, faces.cap))


def widest_cut(faces: Faces, module: int, place: int) -> Ints:
    """Widest cut of each face for a grid line at `place`; a face that is crossed has a whole one, if there is room."""
    least = narrowest(faces, module, np.array([place]))[0]
    return np.asarray(np.where(least == 0, faces.cap, np.minimum(least + faces.lean, faces.cap)), dtype=np.int64)


def widest(faces: Faces, module: int, places: Ints) -> tuple[Ints, bool]:
    """Keep the best of `places`, in order, and say whether all of them were weighed."""
    faces = faces.taken(faces.lean < module)
    while len(faces) and len(places) > 1:
        least = _least(faces, module, places)
        places = places[least == least.max()]
        varying = ~_constant(faces, module, places)
        faces = faces.taken(varying)
        if varying.all():
            break
    if not len(faces) or len(places) == 1:
        return places, True
    fitting = max(MOST_CUTS // len(faces), 1)
    proven = len(places) <= fitting
    if not proven:
        places = places[np.linspace(0, len(places) - 1, fitting).astype(np.int64)]
    return places[_first_by_cuts(np.sort(narrowest(faces, module, places), axis=1))], proven


def _gathered(parts: Parts, opposite: int | None) -> tuple[Ints, Ints, Ints, Ints, Ints]:
    """One row for each edge and what it faces: edge, side, least and greatest coordinate, least gap."""
    faced = parts.opposite if opposite is None else np.full(len(parts.edge), opposite, dtype=np.int64)
    order = np.lexsort((faced, parts.edge))
    edge, faced = parts.edge[order], faced[order]
    new = np.ones(len(order), dtype=np.bool_)
    new[1:] = (edge[1:] != edge[:-1]) | (faced[1:] != faced[:-1])
    starts = np.flatnonzero(new)
    if not len(starts):
        return edge, edge, edge, edge, edge
    gap = np.floor(np.minimum(parts.gap_start, parts.gap_end)[order] + _NOISE).astype(np.int64)
    low, high = np.minimum.reduceat(parts.low[order], starts), np.maximum.reduceat(parts.high[order], starts)
    return edge[starts], parts.into[order][starts], low, high, np.minimum.reduceat(gap, starts)


def _least(faces: Faces, module: int, places: Ints) -> Ints:
    """Narrowest cut of all faces together for each place, by looking for the nearest face on either side."""
    least = np.full(len(places), min(int(faces.cap.min()), module), dtype=np.int64)
    for side in (1, -1):
        some = faces.taken(faces.into == side)
        if len(some):
            np.minimum(least, _behind(side * some.face, module, side * places), out=least)
    return np.where(_crossed(faces, module)[places % module], 0, least) if faces.lean.any() else least


def _behind(faces: Ints, module: int, places: Ints) -> Ints:
    """Distance from each place back to the nearest face behind it, 1 up to a module."""
    ring = np.unique(faces % module)
    sought = (places - 1) % module
    found = ring[np.searchsorted(ring, sought, side="right") - 1]  # -1 is the last one, a turn back
    return (sought - found) % module + 1


def _crossed(faces: Faces, module: int) -> Flags:
    """Whether a line at each place of the circle crosses a leaning face."""
    leaning = faces.taken(faces.lean > 0)
    first = np.where(leaning.into > 0, leaning.face - leaning.lean + 1, leaning.face) % module
    return np.asarray(_cover(first, leaning.lean, module) > 0)


def _constant(faces: Faces, module: int, places: Ints) -> Flags:
    """Faces whose cut is the gap before them at every one of `places`: no place lies where a line would cut it less."""
    if (faces.cap == module).all():
        return np.zeros(len(faces), dtype=np.bool_)
    here = np.zeros(module, dtype=np.int64)
    np.add.at(here, places % module, 1)
    before = np.concatenate([[0], np.cumsum(np.tile(here, 2))])
    count = np.minimum(faces.cap + faces.lean - 1, module)
    first = np.where(faces.into > 0, faces.face - faces.lean + 1, faces.face - faces.cap + 1) % module
    return np.asarray((faces.cap < module) & (before[first + count] == before[first]))


def _cover(first: Ints, count: Ints, module: int) -> Ints:
    """How many stretches of `count` places from `first` on hold each place of the circle."""
    change = np.zeros(2 * module + 1, dtype=np.int64)
    np.add.at(change, first, 1)
    np.subtract.at(change, first + count, 1)
    twice = np.cumsum(change[:-1])
    return np.asarray(twice[:module] + twice[module:], dtype=np.int64)


def _first_by_cuts(cuts: Ints) -> Ints:
    """Rows of sorted cuts that come out on top when compared cut by cut, the narrowest first."""
    best = np.arange(len(cuts))
    for column in range(cuts.shape[1]):
        values = cuts[best, column]
        best = best[values == values.max()]
        if len(best) == 1:
            break
    return best
