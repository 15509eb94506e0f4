"""What the tape leaves open, and the fewest corners to take as square so that the shape is fixed.

In: a shape near the true one, the lines that were taped and the lines of sight that could be. Out: which corners must
be assumed, which line would make each assumption needless, or, where no corner helps, which lines must still be taped.
The rule: the motions of the shape that change no taped line (beyond moving it whole) are the null space of the design
matrix; as many corners are taken as it has dimensions, each time the one that stiffens it most.
"""

import numpy as np

from planner.room.closing.adjustment import Angles, Floats, Ints, angle_rows, length_rows

#: A motion of 1 mm (all corners together) that changes the taped lines by less than this is free: a millimetre of tape
#: would move the room by 50. Rooms of 4 to 44 corners with every line of sight taped do not fall below 0.035.
#: Likewise a corner that turns, over the size of the room, by less than this is no hold on the motion.
_FREE = 0.02
_ALIKE = 0.98  #: a corner or line that does this share of the best is as good; the first in order is taken


def free_motions(shape: Floats, lines: Ints) -> Floats:
    """Unit motions (2n, d), square to each other, that change no taped line; d = 0 when the tape fixes the shape."""
    rows = np.vstack((length_rows(shape, lines) / np.sqrt(2.0), _moving_whole(shape)))
    _, strength, motions = np.linalg.svd(rows)
    fixed = int(np.count_nonzero(strength > _FREE))
    free: Floats = motions[fixed:].T
    return free


def _moving_whole(shape: Floats) -> Floats:
    """The three motions that change no shape: two shifts and a turn, as unit rows (3, 2n)."""
    arms = shape - shape.mean(axis=0)
    east, north = np.zeros_like(shape), np.zeros_like(shape)
    east[:, 0] = north[:, 1] = 1.0
    turn = np.column_stack((-arms[:, 1], arms[:, 0]))
    rows = np.vstack([motion.ravel() / np.linalg.norm(motion) for motion in (east, north, turn)])
    return rows


def corners_to_assume(shape: Floats, free: Floats, angles: Angles) -> Ints:
    """The fewest of `angles` (as row numbers, in order) that leave the least free; they may not be enough."""
    size = float(np.hypot(*np.ptp(shape, axis=0)))
    pull = angle_rows(shape, angles.corners) @ free / angles.accuracy[:, None]
    return np.sort(_stiffest(pull * size * float(angles.accuracy.min())))


def lines_to_tape(shape: Floats, sights: Ints, free: Floats, angles: Angles, chosen: Ints) -> Ints:
    """Lines (k, 2) that fix what the chosen corners still leave free, untaped walls before diagonals; k may be 0."""
    held = angle_rows(shape, angles.corners[chosen]) @ free * float(np.hypot(*np.ptp(shape, axis=0)))
    taped = length_rows(shape, sights) @ free / np.sqrt(2.0)
    loose = taped @ _null_space(held)
    walls = len(shape)
    first = np.sort(_stiffest(loose[:walls]))
    left = loose[walls:] @ _null_space(loose[first])
    return sights[np.concatenate((first, walls + np.sort(_stiffest(left))))]


def lines_instead(shape: Floats, sights: Ints, free: Floats, angles: Angles, chosen: Ints) -> list[Ints | None]:
    """For each chosen corner the line to tape to be rid of it; all these lines together make all corners needless.

    None where no line in the room does, as with a corner that lies straight between its neighbours and faces no other.
    """
    taped = length_rows(shape, sights) @ free
    held = angle_rows(shape, angles.corners[chosen]) @ free
    instead: list[Ints | None] = []
    for k in range(len(chosen)):
        opening = np.linalg.solve(held, np.eye(len(chosen))[k])  # the motion that opens this corner and no other
        opening /= np.linalg.norm(opening)
        told = np.abs(taped @ opening)
        best = int(np.argmax(told >= _ALIKE * told.max()))
        if told[best] < _FREE:
            instead.append(None)
            continue
        instead.append(sights[best])
        held[k] = taped[best] * np.linalg.norm(held[k]) / np.linalg.norm(taped[best])
    return instead


def _stiffest(rows: Floats) -> Ints:
    """Row numbers, greedily the one that adds most to those already taken, until nothing is left free."""
    left, taken = rows.copy(), list[int]()
    while left.size and len(taken) < rows.shape[1]:
        sizes = np.linalg.norm(left, axis=1)
        best = int(np.argmax(sizes >= _ALIKE * sizes.max()))
        if sizes[best] < _FREE:
            break
        taken.append(best)
        way = left[best] / sizes[best]
        left = left - np.outer(left @ way, way)
        left[best] = 0.0
    return np.array(taken, dtype=np.intp)


def _null_space(rows: Floats) -> Floats:
    """An orthonormal basis (d, k) of what `rows` (m, d) leave free."""
    if not rows.size:
        return np.eye(rows.shape[1])
    _, strength, motions = np.linalg.svd(rows)
    free: Floats = motions[np.count_nonzero(strength > _FREE) :].T
    return free
