"""Where lines of tees had better not stand, along one axis of the grid: in pipes, and along the faces of columns.

In: the sides of the columns in the grid's own directions, and the system. Out: `Barred` spans of coordinates. Rules
(common practice, no source): a tee can neither pass a pipe nor end on it (`planner.ceiling.members.pipes`); between its
flange and a pipe there is room for a cover ring; a tee that runs along the face of a column, or a hair behind it, has
nothing to lie on and no panel beside it.
"""

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from planner.ceiling.grid.gaps import Flags, Floats, Ints
from planner.ceiling.system import System
from planner.records import dataclass

#: A line this near to a face may as well lie behind it, as far as a tape tells (common practice, no source).
TAPED_MM = 6.0
#: From the flange of a tee to a pipe: room for a cover ring (common practice, no source).
RING_MM = 25.0
#: Kept beyond what is needed, so that a border may be rounded to a mark.
SPARE_MM = 1.0

#: So far before a face it is seen whether the room is there.
_BEFORE_MM = 1.0


@dataclass(frozen=True, slots=True)
class Barred:
    """Spans along an axis, rows of (from, to), in which no line should stand; millimetres."""

    struck: Floats  #: a tee would meet a pipe
    beside: Floats  #: a pipe has no room for its ring, or a tee runs along the face of a column


NOTHING_BARRED = Barred(np.zeros((0, 2)), np.zeros((0, 2)))


@dataclass(frozen=True, slots=True)
class Sides:
    """The sides of columns, one entry each."""

    edges: Floats  #: (along, across, along, across)
    column: Ints  #: number of the column, in order
    pipe: Flags  #: it is a pipe


def over_ledge(system: System) -> float:
    """A tee whose middle is nearer to a wall than this has no panel between them: ledge and flange fill it."""
    return system.ledge + system.tee_face / 2


def barred(sides: Sides, ceiling: BaseGeometry, system: System, axis: int) -> Barred:
    """What columns bar along an axis; `ceiling` is the room without them, in the grid's own directions."""
    if not len(sides.edges):
        return NOTHING_BARRED
    pipes = _extents(sides)
    flange = system.tee_face / 2
    faces = _faces(sides.edges[~sides.pipe], ceiling, axis, over_ledge(system) + SPARE_MM)
    return Barred(_wider(pipes, flange), np.concatenate([_wider(pipes, flange + RING_MM), faces]))


def _extents(sides: Sides) -> Floats:
    """From where to where each pipe reaches along the axis."""
    edges, column = sides.edges[sides.pipe], sides.column[sides.pipe]
    if not len(edges):
        return np.zeros((0, 2))
    starts = np.flatnonzero(np.diff(column, prepend=-1))
    low, high = np.minimum.reduceat(edges[:, 0], starts), np.maximum.reduceat(edges[:, 0], starts)
    return np.stack([low, high], axis=1)


def _wider(spans: Floats, by: float) -> Floats:
    return np.stack([spans[:, 0] - by, spans[:, 1] + by], axis=1)


def _faces(edges: Floats, ceiling: BaseGeometry, axis: int, before: float) -> Floats:
    """From a little behind to `before` each face that runs along the lines and has room before it."""
    run = np.abs(edges[:, 0] - edges[:, 2]) <= TAPED_MM
    some = edges[run & (np.abs(edges[:, 1] - edges[:, 3]) > TAPED_MM)]
    at, across = (some[:, 0] + some[:, 2]) / 2, (some[:, 1] + some[:, 3]) / 2
    spans = []
    for way in (-1.0, 1.0):
        spot = (at + way * _BEFORE_MM, across)
        here = at[shapely.contains_xy(ceiling, *(spot if axis == 0 else spot[::-1]))]
        ends = np.stack([here - way * (TAPED_MM + SPARE_MM), here + way * before], axis=1)
        spans.append(np.sort(ends, axis=1))
    return np.concatenate(spans)
