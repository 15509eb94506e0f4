"""The widest smallest cut, then the widest second smallest, and so on: the third wish of the grid search.

In: stretches of wall (`Parts`) on one axis and the places a grid line may take. Out: the places where the cuts, sorted
from the narrowest up, are the greatest in that order. All in whole units, so equal cuts are equal.

Each wall is judged by its narrowest cut. A stretch where the room is narrower than a module is judged apart from the
rest of its wall, and no cut there is wider than the room is: a pipe close to a wall, or the tip of an acute corner,
then does not speak for the whole wall. What is the same in every place does not matter.
"""

from dataclasses import fields

import numpy as np

from planner.ceiling.grid.circle import cover
from planner.ceiling.grid.gaps import Flags, Ints, Parts, narrower, wider
from planner.records import dataclass

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
    out: Ints  #: coordinate of its wall that is furthest out of the room
    hidden: Ints  #: what the ledge hides of the wall beyond a line that crosses it, measured from `out`; 0 = nothing

    def taken(self, keep: Ints | Flags) -> "Faces":
        return Faces(*(getattr(self, field.name)[keep] for field in fields(self)))

    def __len__(self) -> int:
        return len(self.edge)


def faces_of(parts: Parts, module: int, out: Ints, hidden: Ints) -> Faces:
    """Gather stretches into faces: one for a wall's open part, one for each wall or column it has close before it.

    `out` and `hidden` are those of `Faces`, one for each edge.
    """
    several = [_gathered(wider(parts, module), -1), _gathered(narrower(parts, module), None)]
    edge, into, low, high, cap = (np.concatenate(column) for column in zip(*several, strict=True))
    face = np.where(into > 0, high, low)
    return Faces(edge, into, face, high - low, np.minimum(cap, module), out[edge], hidden[edge])


def narrowest(faces: Faces, module: int, places: Ints) -> Ints:
    """Narrowest cut of each face (columns) for a grid line at each place (rows); 0 where a line crosses the face.

    Where the ledge hides what lies beyond the line, nothing is cut there, and what is before the line speaks for it.
    """
    cuts = _cuts(faces, module, places)
    some = np.flatnonzero(faces.hidden)
    if len(some):
        cuts[:, some] = _beyond_ledge(faces.taken(some), module, places, cuts[:, some])
    return cuts


def _cuts(faces: Faces, module: int, places: Ints) -> Ints:
    """The same of faces of which no ledge hides anything."""
    reach = _reach(faces, module, places)
    return np.where(reach > module - faces.lean, 0, np.minimum(reach, faces.cap))


def _beyond_ledge(faces: Faces, module: int, places: Ints, cuts: Ints) -> Ints:
    """Those cuts once what the ledge hides counts as uncut."""
    reach, beyond = _reach(faces, module, places), (faces.into * (places[:, None] - faces.out)) % module
    closed = (beyond > 0) & (beyond <= faces.hidden)
    return np.where(closed, np.where(reach <= beyond, faces.cap, np.minimum(reach, faces.cap)), cuts)


def _reach(faces: Faces, module: int, places: Ints) -> Ints:
    """From each face to the next line, 1 up to a module."""
    return (faces.into * (places[:, None] - faces.face) - 1) % module + 1


def widest_cut(faces: Faces, module: int, place: int) -> Ints:
    """Widest cut of each face for a grid line at `place`; a face that is crossed has a whole one, if there is room."""
    least = narrowest(faces, module, np.array([place]))[0]
    return np.asarray(np.where(least == 0, faces.cap, np.minimum(least + faces.lean, faces.cap)), dtype=np.int64)


def widest(faces: Faces, module: int, places: Ints) -> tuple[Ints, bool]:
    """Keep the best of `places`, in order, and say whether all of them were weighed."""
    faces = faces.taken(faces.lean < module)
    while len(faces) and len(places) > 1:
        least = smallest(faces, module, places)
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


def smallest(faces: Faces, module: int, places: Ints, exact_from: int | None = None) -> Ints:
    """Narrowest cut of all faces together for each place, by looking for the nearest face on either side.

    Where the ledge hides what lies beyond the line it may be told too small, but not from `exact_from` on; if nothing
    is said of that, not where it is the widest of all.
    """
    hiding = faces.hidden > 0
    if not hiding.any():
        return _least_open(faces, module, places)
    some, others = faces.taken(hiding), faces.taken(~hiding)
    at_most = _least_open(others, module, places) if len(others) else np.full(len(places), module, dtype=np.int64)
    least = np.minimum(_least_open(some, module, places), at_most)
    sought = int(least.max()) if exact_from is None else exact_from
    closed = np.flatnonzero((cover(*_closed(some, module), module)[places % module] > 0) & (at_most >= sought))
    for few in np.array_split(closed, len(closed) * len(some) // MOST_CUTS + 1):
        least[few] = np.minimum(narrowest(some, module, places[few]).min(axis=1), at_most[few])
    return least


def _least_open(faces: Faces, module: int, places: Ints) -> Ints:
    """The same of faces of which no ledge hides anything."""
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
    return np.asarray(cover(first, leaning.lean, module) > 0)


def _closed(faces: Faces, module: int) -> tuple[Ints, Ints]:
    """The places, first and count, at which the ledge hides what lies beyond the line."""
    return np.where(faces.into > 0, faces.out + 1, faces.out - faces.hidden) % module, faces.hidden


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


def _first_by_cuts(cuts: Ints) -> Ints:
    """Rows of sorted cuts that come out on top when compared cut by cut, the narrowest first."""
    best = np.arange(len(cuts))
    for column in range(cuts.shape[1]):
        values = cuts[best, column]
        best = best[values == values.max()]
        if len(best) == 1:
            break
    return best
