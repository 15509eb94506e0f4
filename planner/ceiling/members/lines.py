"""Grid lines clipped to the room.

In: the room's outline and columns as rings in the grid frame, and the pitch of one family of lines. Out: for each line
the stretches that have room on both sides. Only the edges that a line crosses are looked at, so the work grows with
the walls, not with the floor. A line that runs along a wall has room on one side only and carries nothing there: the
wall angle does.
"""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from planner.geometry import TOLERANCE_MM, Frame, Ring, signed_area
from planner.room.outline import Room

Stretch = tuple[float, float]  #: from, to along a line
Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

#: A stretch shorter than this carries no tee: nobody cuts one (common practice, no source).
SHORTEST_TEE_MM = 1.0


def rings_in(frame: Frame, room: Room) -> tuple[Ring, ...]:
    """Outline and columns in the grid frame: the outline first and counter-clockwise, the columns clockwise."""
    outline = _wound(tuple(map(frame.inward, room.outline)), 1)
    return (outline, *(_wound(tuple(map(frame.inward, column.outline)), -1) for column in room.columns))


def clip_lines(rings: Sequence[Ring], axis: int, pitch: float) -> dict[int, tuple[Stretch, ...]]:
    """Stretches of the lines that stand at coordinate[axis] = index * pitch, by index, in order.

    `rings` as from `rings_in`. Lines that carry nothing are left out. Near a corner or along a wall a line is looked at
    a hundredth of a millimetre to either side, and both sides must be in the room.
    """
    edges = _edge_array(rings, axis)
    near = _lines_near(edges[:, 0], pitch)
    clear = _scan(edges, pitch, 0.0, axis)
    below, above = (_scan(edges, pitch, side * TOLERANCE_MM, axis) for side in (-1, 1))
    lines = {k: stretches for k, stretches in clear.items() if k not in near}
    lines |= {k: _both(below.get(k, []), above.get(k, [])) for k in near}
    return {
        k: tuple(s for s in lines[k] if s[1] - s[0] >= SHORTEST_TEE_MM)
        for k in sorted(lines)
        if any(s[1] - s[0] >= SHORTEST_TEE_MM for s in lines[k])
    }


def _wound(ring: Ring, way: int) -> Ring:
    return ring if signed_area(ring) * way > 0 else ring[::-1]


def _edge_array(rings: Sequence[Ring], axis: int) -> Floats:
    """Every edge as (across, along, across, along): across is the coordinate that the lines stand at."""
    rows = []
    for ring in rings:
        points: Floats = np.asarray(ring, dtype=np.float64)[:, [axis, 1 - axis]]
        rows.append(np.hstack([points, np.roll(points, -1, axis=0)]))
    return np.vstack(rows)


def _lines_near(across: Floats, pitch: float) -> set[int]:
    """Lines that pass within twice the tolerance of a corner."""
    lines = np.rint(across / pitch)
    close = np.abs(lines * pitch - across) <= 2 * TOLERANCE_MM
    return set(lines[close].astype(np.int64).tolist())


def _scan(edges: Floats, pitch: float, aside: float, axis: int) -> dict[int, list[Stretch]]:
    """Stretches inside the room of the lines at index * pitch + aside.

    Walking along a line, each edge that is crossed leads into the room or out of it. An edge takes the lines from its
    lower end up to, but without, its upper end, so a corner is never counted twice.
    """
    a0, t0, a1, t1 = edges.T
    first = np.ceil((np.minimum(a0, a1) - aside) / pitch).astype(np.int64)
    after = np.ceil((np.maximum(a0, a1) - aside) / pitch).astype(np.int64)
    crossed = after - first
    edge: Ints = np.repeat(np.arange(len(edges)), crossed)
    line: Ints = np.arange(len(edge)) - np.repeat(np.cumsum(crossed) - crossed, crossed) + first[edge]
    share = (line * pitch + aside - a0[edge]) / (a1[edge] - a0[edge])
    at = t0[edge] + share * (t1[edge] - t0[edge])
    inward = np.sign(a1 - a0)[edge] * (1 if axis == 0 else -1)
    order = np.lexsort((at, line))
    line, at = line[order], at[order]
    inside = np.cumsum(inward[order])[:-1] > 0.5  # columns only take away, so 1 is the most
    lines: dict[int, list[Stretch]] = {}
    for k in np.flatnonzero(inside):
        lines.setdefault(int(line[k]), []).append((float(at[k]), float(at[k + 1])))
    return lines


def _both(some: list[Stretch], others: list[Stretch]) -> list[Stretch]:
    """What two lists of stretches share; both are in order."""
    shared, i, j = [], 0, 0
    while i < len(some) and j < len(others):
        start, end = max(some[i][0], others[j][0]), min(some[i][1], others[j][1])
        if end > start:
            shared.append((start, end))
        if some[i][1] < others[j][1]:
            i += 1
        else:
            j += 1
    return shared
