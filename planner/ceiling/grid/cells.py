"""Which modules of the grid lie whole in the room and which are cut by a wall or a column, without clipping anything.

In: the edges of a room's outline and columns in the grid frame, and the module. Out: `Marks`. A module that a wall
passes through is cut; of the others, those with their centre in the room are whole. Walls that reach less than
EDGE_MM into a module do not cut it. Whole modules are kept as spans in rows, so work and memory grow with the walls.
"""

import numpy as np

from planner.ceiling.grid.gaps import Flags, Floats, Ints
from planner.ceiling.model import Run
from planner.geometry import Frame, Ring
from planner.records import dataclass
from planner.room.outline import Room

#: A wall that reaches less than this into a module leaves it whole; a strip of panel thinner than this is none.
EDGE_MM = 0.05


@dataclass(frozen=True, slots=True)
class Marks:
    """Modules that meet the room."""

    touched: Ints  #: one row (column, row) for each module that a wall passes through, row by row
    spans: Ints  #: one row (row, first, last) for each stretch with its centres in the room, touched ones included


def edges_of(rings: tuple[Ring, ...], frame: Frame) -> Floats:
    """List the edges of rings as rows (u, v, u, v) in a frame: in order, ring after ring; millimetres."""
    cosine, sine = Frame(angle_deg=frame.angle_deg).outward((1.0, 0.0))
    ends = []
    for ring in rings:
        x, y = (np.array(ring) - frame.origin).T
        starts = np.stack([cosine * x + sine * y, cosine * y - sine * x], axis=1)
        ends.append(np.concatenate([starts, np.roll(starts, -1, axis=0)], axis=1))
    return np.concatenate(ends)


def rings_of(room: Room) -> tuple[Ring, ...]:
    return (room.outline, *(column.outline for column in room.columns))


def count_cells(room: Room, frame: Frame, module: tuple[float, float]) -> int:
    """Count the modules that meet the room with a grid line crossing at the frame's origin: the panels it takes."""
    return count_marked(mark(edges_of(rings_of(room), frame), module))


def count_marked(marks: Marks) -> int:
    whole = _whole(marks)
    return len(marks.touched) + int((whole[:, 2] - whole[:, 1] + 1).sum())


def mark(edges: Floats, module: tuple[float, float]) -> Marks:
    """Mark the modules that the edges of closed rings pass through, and the rows of centres inside."""
    return Marks(_touched(edges, module), _spans(edges, module))


def full_runs(marks: Marks, whole: Flags) -> tuple[Run, ...]:
    """Gather whole modules into runs; `whole` tells which of the touched ones turned out to be whole after all."""
    rest = Marks(marks.touched[~whole], marks.spans)
    return tuple(Run(row, first, last) for row, first, last in _whole(rest).tolist())


def _touched(edges: Floats, module: tuple[float, float]) -> Ints:
    """Follow every edge through the rows, then through the columns of each row."""
    wide, deep = module
    low, high = np.minimum(edges[:, 1], edges[:, 3]), np.maximum(edges[:, 1], edges[:, 3])
    edge, row = _expanded(_first(low, deep), _last(high, deep))
    u0, v0, u1, v1 = edges[edge].T
    rise = np.where(v1 == v0, 1.0, v1 - v0)
    foot, head = row * deep + EDGE_MM, (row + 1) * deep - EDGE_MM
    enter, leave = (np.clip((level - v0) / rise, 0.0, 1.0) for level in (foot, head))
    enter, leave = np.where(v1 == v0, 0.0, enter), np.where(v1 == v0, 1.0, leave)
    a, b = u0 + enter * (u1 - u0), u0 + leave * (u1 - u0)
    which, column = _expanded(_first(np.minimum(a, b), wide), _last(np.maximum(a, b), wide))
    return np.unique(np.stack([row[which], column], axis=1), axis=0)[:, ::-1]


def _first(low: Floats, module: float) -> Ints:
    return np.asarray(np.ceil((low + EDGE_MM) / module), dtype=np.int64) - 1


def _last(high: Floats, module: float) -> Ints:
    return np.asarray(np.floor((high - EDGE_MM) / module), dtype=np.int64)


def _expanded(first: Ints, last: Ints) -> tuple[Ints, Ints]:
    """Write out first .. last of every entry: the entry's index and the number."""
    count = np.maximum(last - first + 1, 0)
    index = np.repeat(np.arange(len(first)), count)
    return index, np.arange(len(index)) - np.repeat(np.cumsum(count) - count, count) + first[index]


def _spans(edges: Floats, module: tuple[float, float]) -> Ints:
    """Cross every row's centre line with the edges; between odd and even crossings lies the room."""
    wide, deep = module
    low, high = np.minimum(edges[:, 1], edges[:, 3]), np.maximum(edges[:, 1], edges[:, 3])
    first, last = (np.asarray(np.ceil(v / deep - 0.5), dtype=np.int64) for v in (low, high))
    edge, row = _expanded(first, last - 1)  # low <= centre < high, so that a corner on the line counts once
    u0, v0, u1, v1 = edges[edge].T
    u = u0 + ((row + 0.5) * deep - v0) / (v1 - v0) * (u1 - u0)
    order = np.lexsort((u, row))
    row, u = row[order][0::2], u[order] / wide - 0.5
    starts, ends = np.asarray(np.ceil(u[0::2]), dtype=np.int64), np.asarray(np.floor(u[1::2]), dtype=np.int64)
    return np.stack([row, starts, ends], axis=1)[ends >= starts]


def _whole(marks: Marks) -> Ints:
    """Take the touched modules out of the spans: rows (row, first, last) of what is left between them."""
    if not len(marks.spans):
        return marks.spans
    base = min(int(marks.spans[:, 1].min()), int(marks.touched[:, 0].min(initial=0))) - 1
    width = max(int(marks.spans[:, 2].max()), int(marks.touched[:, 0].max(initial=0))) - base + 2
    starts, ends = (marks.spans[:, 0] * width + marks.spans[:, k] - base for k in (1, 2))
    taken = marks.touched[:, 1] * width + marks.touched[:, 0] - base
    # doubled: touched modules stop a run at even numbers, the two ends of a span stop it between modules, at odd ones
    stops = np.unique(np.concatenate([2 * starts - 1, 2 * ends + 1, 2 * taken]))
    first, last = stops[:-1] // 2 + 1, (stops[1:] - 1) // 2
    span = np.maximum(np.searchsorted(starts, first, side="right") - 1, 0)
    inside = (first <= last) & (starts[span] <= first) & (last <= ends[span])
    first, last = first[inside], last[inside]
    return np.stack([first // width, first % width + base, last % width + base], axis=1)
