"""What a border under half a module buys: the wall that could have more, and what would be short then.

In: a room, its search axes and the places chosen on them. Out: sentences, for who would rather have it the other way.
"""

from itertools import islice

import numpy as np

from planner.ceiling.grid.axis import Axis
from planner.ceiling.grid.borders import best_places, without_slivers
from planner.ceiling.grid.circle import SUM_PER_MM
from planner.ceiling.grid.gaps import Flags, Ints
from planner.ceiling.grid.widest import narrowest
from planner.lengths import spoken_length
from planner.room.outline import Room
from planner.sayings import joined, linked, said

#: Wall cut short over less than this is the tip of a corner that is not quite square.
_TIP_MM = 25.0

#: Walls named of those that would be short, at most.
_NAMED = 3


def bargain(room: Room, axes: tuple[Axis, Axis], places: tuple[int, int]) -> str:
    """For each axis the longest wall along the grid with under half a module, and what half a module there costs."""
    wall_of = np.array(room.wall_of_edge)
    found = (_of_axis(room, axis, place, wall_of) for axis, place in zip(axes, places, strict=True))
    return joined((text for text in found if text), " ")


def _of_axis(room: Room, axis: Axis, place: int, wall_of: Ints) -> str:
    short = _short_walls(axis, place, wall_of)
    if not short:
        return ""
    wall = next(iter(short))
    left_short = axis.short(_edges(axis, wall_of, wall), axis.half)
    free = np.flatnonzero(left_short < _TIP_MM * SUM_PER_MM).astype(np.int64)
    if not len(free):
        return ""
    other = int(best_places(axis, without_slivers(axis, free))[0][0])
    then = _short_walls(axis, other, wall_of)
    told = [
        said("{wall} has {cut}", wall=room.walls[k].name, cut=_spoken(room, axis, cut))
        for k, cut in islice(then.items(), _NAMED)
    ]
    return said(
        "{wall} could have {cut}, but then {others}.",
        wall=room.walls[wall].name,
        cut=_spoken(room, axis, _narrowest_at(axis, _edges(axis, wall_of, wall), other)),
        others=linked([*told, said("others are short too")] if len(then) > _NAMED else told),
    )


def _short_walls(axis: Axis, place: int, wall_of: Ints) -> dict[int, int]:
    """Walls along the grid with under half a module, though there is room for it, and their cuts; the longest first."""
    faces = axis.faces
    cuts = narrowest(faces, axis.module, np.array([place]))[0]
    short = (cuts < axis.half) & (faces.cap >= axis.half)
    walls, cuts = wall_of[faces.edge[short]], cuts[short]
    known = {int(wall): int(cuts[walls == wall].min()) for wall in np.unique(walls)}
    return dict(sorted(known.items(), key=lambda item: (-_length(axis, _edges(axis, wall_of, item[0])), item[0])))


def _edges(axis: Axis, wall_of: Ints, wall: int) -> Flags:
    """Which edges are those of a wall along the grid."""
    found = axis.along.copy()
    found[: axis.walls] &= wall_of == wall
    return found


def _length(axis: Axis, edges: Flags) -> int:
    return int(np.abs(axis.edges[edges, 3] - axis.edges[edges, 1]).sum())


def _narrowest_at(axis: Axis, edges: Flags, place: int) -> int:
    faces = axis.faces.taken(edges[axis.faces.edge])
    return int(narrowest(faces, axis.module, np.array([place]))[0].min())


def _spoken(room: Room, axis: Axis, units: int) -> str:
    return spoken_length(units / axis.per_mm, room.units)
