"""The rough shape of a taped room, and what can be seen in it.

In: inside angles as they should be, wall lengths where they were taped. Out: corners to start the adjustment from,
which need not be near; and, of any shape, whether it is still a room (walls that cross, corners that folded over) and
which lines a tape can be pulled along. The rule of the start: walk the walls, turn at each corner as much as it should
turn, and spread what does not close.
"""

import numpy as np
from numpy.typing import NDArray

from planner.room.closing.adjustment import Floats, Ints, inside_angles

#: An untaped wall gives this much more than a taped one when the walk is made to close (as variances).
_UNTAPED = 1e6
_SHORTEST = 0.05  #: of the mean wall: no wall of the start is shorter, so that every corner has two arms
_NEAR_MM = 5.0  #: a line that passes a corner closer than this cannot be taped freely
#: Corners within this of straight may come out on either side of straight.
_STRAIGHT_DEG = 20.0


def corner_triples(count: int) -> Ints:
    """(before, at, after) for each corner of a ring of `count` corners: (count, 3)."""
    at = np.arange(count)
    return np.column_stack(((at - 1) % count, at, (at + 1) % count))


def start_shape(inside: Floats, walls: Floats) -> Floats:
    """Corners (n, 2) of a closed walk; `inside` angles in radians, `walls` in mm with nan where not taped.

    Where the turns do not add up to one round, the difference is spread over the corners alike.
    """
    spare = (inside.sum() - (len(inside) - 2) * np.pi) / len(inside)
    turns = np.pi - (inside - spare)
    heading = np.concatenate(([0.0], np.cumsum(turns[1:])))
    ways = np.column_stack((np.cos(heading), np.sin(heading)))
    lengths = _closing(walls, ways)
    corners = np.vstack((np.zeros(2), np.cumsum(lengths[:, None] * ways, axis=0)))
    share = np.concatenate(([0.0], np.cumsum(lengths))) / lengths.sum()
    closed: Floats = (corners - share[:, None] * corners[-1])[:-1]
    return closed


def _closing(walls: Floats, ways: Floats) -> Floats:
    """Wall lengths that close the walk along `ways`, as near to the tape as can be; untaped ones give way first."""
    untaped = np.isnan(walls)
    usual = float(np.mean(walls[~untaped])) if not untaped.all() else 1000.0
    lengths = np.where(untaped, usual, walls)
    give = np.where(untaped, _UNTAPED, 1.0)
    pull = (ways * give[:, None]) @ np.linalg.pinv(ways.T @ (ways * give[:, None]))
    return np.maximum(lengths - pull @ (lengths @ ways), _SHORTEST * usual)


def crossing_walls(shape: Floats) -> tuple[int, int] | None:
    """Two walls (by their first corners) that meet though they are not neighbours; None when none do."""
    first, second = _apart(len(shape))
    after = np.roll(shape, -1, axis=0)
    hits = np.flatnonzero(_meet(shape[first], after[first], shape[second], after[second]))
    return (int(first[hits[0]]), int(second[hits[0]])) if len(hits) else None


def folded_corners(shape: Floats, inside: Floats) -> list[int]:
    """Corners that should jut in but do not, or the other way round; `inside` is how they should be, radians."""
    found = inside_angles(shape, corner_triples(len(shape)))
    clear = np.abs(inside - np.pi) > np.radians(_STRAIGHT_DEG)
    return [int(k) for k in np.flatnonzero(clear & ((found > np.pi) != (inside > np.pi)))]


def sight_lines(shape: Floats) -> Ints:
    """Every pair of corners (k, 2) that a tape can be pulled between inside the room; walls come first, in order.

    The lines of sight of any simple room fix its shape: a polygon can be cut into triangles by n - 3 of them.
    """
    at = np.arange(len(shape))
    walls = np.column_stack((at, (at + 1) % len(shape)))
    across = np.column_stack(_apart(len(shape)))
    a, b = shape[across[:, 0], None], shape[across[:, 1], None]
    blocked = _meet(a, b, shape, np.roll(shape, -1, axis=0)).any(axis=1)
    return np.vstack((walls, across[~blocked & ~_grazes(shape, a, b) & _inside(shape, (a + b)[:, 0] / 2)]))


def _apart(count: int) -> tuple[Ints, Ints]:
    """Every two corners of a ring that are not neighbours; the same for walls, by their first corners."""
    first, second = np.triu_indices(count, 2)
    apart = (first > 0) | (second < count - 1)
    return first[apart], second[apart]


def _grazes(shape: Floats, a: Floats, b: Floats) -> NDArray[np.bool_]:
    """Whether lines from a to b, (k, 1, 2) each, pass some other corner too closely for a tape, or have no length."""
    way, away = b - a, shape - a
    span = np.maximum(np.hypot(way[..., 0], way[..., 1]), 1e-9)
    along = (away * way).sum(axis=2) / span
    aside = np.abs(away[..., 0] * way[..., 1] - away[..., 1] * way[..., 0]) / span
    passed = (along > _NEAR_MM) & (along < span - _NEAR_MM) & (aside < _NEAR_MM)
    close: NDArray[np.bool_] = passed.any(axis=1) | (span[:, 0] < _NEAR_MM)
    return close


def _meet(a: Floats, b: Floats, c: Floats, d: Floats) -> NDArray[np.bool_]:
    """Whether segments a-b and c-d (x and y last) cross; those in one line, apart or end to end, do not."""
    near = (np.maximum(a, b) >= np.minimum(c, d)) & (np.maximum(c, d) >= np.minimum(a, b))
    return near.all(axis=-1) & (_side(a, b, c) * _side(a, b, d) < 0) & (_side(c, d, a) * _side(c, d, b) < 0)


def _side(a: Floats, b: Floats, p: Floats) -> Floats:
    turn: Floats = (b[..., 0] - a[..., 0]) * (p[..., 1] - a[..., 1]) - (b[..., 1] - a[..., 1]) * (p[..., 0] - a[..., 0])
    return np.sign(turn)


def _inside(shape: Floats, points: Floats) -> NDArray[np.bool_]:
    """Whether points (k, 2) lie in the ring: a ray to the right meets an odd number of walls."""
    a, b = shape, np.roll(shape, -1, axis=0)
    x, y = points[:, :1], points[:, 1:]
    rise = np.where(a[:, 1] == b[:, 1], 1.0, b[:, 1] - a[:, 1])
    at = a[:, 0] + (y - a[:, 1]) * (b[:, 0] - a[:, 0]) / rise
    met = ((a[:, 1] > y) != (b[:, 1] > y)) & (at > x)
    odd: NDArray[np.bool_] = np.logical_xor.reduce(met, axis=1)
    return odd
