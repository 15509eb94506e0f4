"""True outlines of the modules that a wall or a column cuts.

In: the room in the grid frame and the modules that are touched. Out: one polygon for each piece, and which touched
modules are whole but for a crumb. Large outlines are first clipped to tiles of modules, then each module against its
tile, so that the work does not grow with outline times modules.
"""

import numpy as np
import numpy.typing as npt
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from planner.ceiling.grid.cells import EDGE_MM, Marks, count_marked
from planner.ceiling.grid.gaps import Flags, Ints
from planner.records import dataclass

Shapes = npt.NDArray[np.object_]

#: A piece smaller than this is a crumb; so is what is missing from a module that counts as whole.
CRUMB_MM2 = 1.0

_TILE = 16  #: modules along each side of a tile
_DIRECT = 100_000  #: outline corners times modules up to which tiles do not pay


@dataclass(frozen=True, slots=True)
class Pieces:
    """Cut modules."""

    shapes: Shapes  #: polygons in the grid frame, one for each piece
    cells: Ints  #: (column, row) of each
    whole: Flags  #: one for each touched module: True when all but a crumb of it is there


def clip(room: BaseGeometry, marks: Marks, module: tuple[float, float]) -> Pieces:
    """Clip `room` to each touched module; grid frame."""
    touched = marks.touched
    corners = int(shapely.get_num_coordinates(room))
    if corners * len(touched) <= _DIRECT:
        return _pieces(np.full(len(touched), room, dtype=np.object_), touched, module)
    pieces = _pieces(_tiles(room, touched, module), touched, module)
    if _adds_up(room, pieces, marks, module):
        return pieces
    return _pieces(np.full(len(touched), room, dtype=np.object_), touched, module)


def polygon_of(rings: list[npt.NDArray[np.float64]]) -> BaseGeometry:
    """Make the ceiling of an outline with columns in it, the outline first."""
    ceiling = Polygon(rings[0], rings[1:])
    if ceiling.is_valid:
        return ceiling
    return Polygon(rings[0]).buffer(0).difference(shapely.union_all([Polygon(ring) for ring in rings[1:]]))


def _pieces(within: Shapes, touched: Ints, module: tuple[float, float]) -> Pieces:
    parts, cell = shapely.get_parts(shapely.intersection(within, _boxes(touched, touched, module)), return_index=True)
    parts, again = shapely.get_parts(parts, return_index=True)
    cell, area = cell[again], shapely.area(parts)
    whole = np.zeros(len(touched), dtype=np.bool_)
    whole[cell[area > module[0] * module[1] - CRUMB_MM2]] = True
    thick = 2 * area >= EDGE_MM * shapely.length(parts)
    kept = (area >= CRUMB_MM2) & thick & ~whole[cell]
    return Pieces(parts[kept], touched[cell[kept]], whole)


def _boxes(first: Ints, last: Ints, module: tuple[float, float]) -> Shapes:
    """Boxes around modules first .. last, each (column, row)."""
    low, high = first * module, (last + 1) * np.array(module)
    return np.asarray(shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1]), dtype=np.object_)


def _tiles(room: BaseGeometry, touched: Ints, module: tuple[float, float]) -> Shapes:
    """Find for each touched module the part of the room in the tile around it."""
    tiles, which = np.unique(touched // _TILE, axis=0, return_inverse=True)
    boxes = _boxes(tiles * _TILE, tiles * _TILE + _TILE - 1, module)
    clipped = np.empty(len(tiles), dtype=np.object_)
    for row in np.unique(tiles[:, 1]):
        here = np.flatnonzero(tiles[:, 1] == row)
        left, low, right, high = shapely.total_bounds(boxes[here])
        band = shapely.clip_by_rect(room, left, low, right, high)
        band = band if band.is_valid else shapely.intersection(room, shapely.box(left, low, right, high))
        clipped[here] = [shapely.clip_by_rect(band, *shapely.bounds(box)) for box in boxes[here]]
    broken = ~shapely.is_valid(clipped)
    clipped[broken] = shapely.intersection(room, boxes[broken])
    return np.asarray(clipped[which.reshape(-1)], dtype=np.object_)


def _adds_up(room: BaseGeometry, pieces: Pieces, marks: Marks, module: tuple[float, float]) -> bool:
    """Compare whole modules and pieces with the room's area.

    Fast clipping promises no clean output; what it lost or doubled would show here.
    """
    full = count_marked(marks) - len(marks.touched) + int(pieces.whole.sum())
    found = full * module[0] * module[1] + float(shapely.area(pieces.shapes).sum())
    crumbs = CRUMB_MM2 * len(marks.touched) + EDGE_MM * float(shapely.length(room))
    return bool(abs(found - float(shapely.area(room))) <= crumbs)
