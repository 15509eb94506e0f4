"""Whether pieces on a panel can be cut apart with a knife along a straightedge.

In: pieces, each as its convex parts. Out: yes or no. A cut goes right across what is being cut and parts the pieces in
two groups, each of which is cut on in the same way; or pieces lie in the notch of another, and the two cuts of the
notch take them out together.
"""

from collections.abc import Iterator, Sequence

import numpy as np
import numpy.typing as npt
import shapely
from shapely import Polygon

_NEAR_MM = 0.1  #: so much a cut may run into a piece by float noise and chords

_Points = npt.NDArray[np.float64]


def parted(pieces: Sequence[Sequence[Polygon]]) -> bool:
    """Whether all pieces come apart."""
    if len(pieces) < 2:
        return True
    points = [np.concatenate([np.asarray(part.exterior.coords) for part in parts]) for parts in pieces]
    for low in _cuts(points):
        one = [piece for piece, below in zip(pieces, low, strict=True) if below]
        other = [piece for piece, below in zip(pieces, low, strict=True) if not below]
        return parted(one) and parted(other)  # what can be cut apart still can when a cut is made before
    return any(_notched(pieces, k) for k, parts in enumerate(pieces) if len(parts) > 1)


def _cuts(points: Sequence[_Points]) -> Iterator[list[bool]]:
    """Straight lines that run through no piece, with some pieces on each side: which are on the one."""
    for ring in points:
        hull = shapely.get_coordinates(shapely.MultiPoint(ring).convex_hull)
        along = np.diff(hull, axis=0)
        lengths = np.hypot(along[:, 0], along[:, 1])
        for (dx, dy), length, (x, y) in zip(along, lengths, hull[:-1], strict=True):
            if length <= _NEAR_MM:
                continue
            off = [((each - (x, y)) @ np.array([-dy, dx])) / length for each in points]
            low = [float(each.max()) <= _NEAR_MM for each in off]
            high = [float(each.min()) >= -_NEAR_MM for each in off]
            if any(low) and not all(low) and all(a or b for a, b in zip(low, high, strict=True)):
                yield low


def _notched(pieces: Sequence[Sequence[Polygon]], k: int) -> bool:
    """Whether pieces lie in a notch of one, and all come apart once they are taken out with it."""
    solid = shapely.union_all(list(pieces[k]))
    for notch in shapely.get_parts(solid.envelope.difference(solid)):
        room = notch.buffer(_NEAR_MM, join_style="mitre")
        held = [all(room.covers(part) for part in parts) for parts in pieces]
        if any(held):
            inner = [piece for piece, inside in zip(pieces, held, strict=True) if inside]
            rest = [piece for piece, inside in zip(pieces, held, strict=True) if not inside]
            return parted(inner) and parted(rest)
    return False
