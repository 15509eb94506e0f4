"""How much room each part of a wall has in front of it, along one axis of the grid.

In: the edges of a room's outline and columns, in whole units of the grid search. Out: `Parts`, the stretches of wall
that count on this axis. The room is cut into trapezoids between the levels of its corners; in each, edges pair up left
and right, and the gap between them changes evenly. A wall counts for the axis it is steeper to (at 45° for both); the
others only bound gaps. Where no gap is under a module a wall comes in one stretch, so the work stays small.
"""

from collections.abc import Iterator
from dataclasses import fields
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from planner.records import dataclass

Ints = npt.NDArray[np.int64]
Floats = npt.NDArray[np.float64]
Flags = npt.NDArray[np.bool_]

#: Edges that bend by less than this are one bowed wall.
BEND_DEG = 15.0

#: Trapezoid sides held at a time; only odd, comb-like outlines ever come near it.
_SIDES_AT_ONCE = 2_000_000


@dataclass(frozen=True, slots=True)
class Parts:
    """Stretches of wall, one entry each; units of the grid search, measured along the axis unless said otherwise."""

    edge: Ints  #: index of the edge
    opposite: Ints  #: index of the edge it faces; -1 where it faces a module or more
    into: Ints  #: +1 where the room lies towards greater coordinates, -1 where towards lesser
    start: Floats  #: coordinate of its lower end (least across the axis)
    end: Floats  #: coordinate of its upper end
    gap_start: Floats  #: room in front of the lower end
    gap_end: Floats
    foot: Floats  #: across the axis, its lower end
    head: Floats  #: across the axis, its upper end

    def taken(self, keep: Ints | Flags) -> "Parts":
        return Parts(*(getattr(self, field.name)[keep] for field in fields(self)))

    @property
    def length(self) -> Floats:
        """True length along the wall."""
        return np.hypot(self.end - self.start, self.head - self.foot)

    @property
    def low(self) -> Ints:
        """Least coordinate, to the nearest unit."""
        return np.rint(np.minimum(self.start, self.end)).astype(np.int64)

    @property
    def high(self) -> Ints:
        """Greatest coordinate, to the nearest unit."""
        return np.rint(np.maximum(self.start, self.end)).astype(np.int64)


def wall_parts(edges: Ints, module: int) -> Parts:
    """Split walls where the room in front of them is narrower than a module.

    `edges` has one row (along, across, along, across) for each edge of each ring, any direction. Stretches that face a
    module or more carry `module` as their gap.
    """
    upward = np.where((edges[:, 1] > edges[:, 3])[:, None], edges[:, [2, 3, 0, 1]], edges)
    counts = (upward[:, 3] - upward[:, 1] >= np.abs(upward[:, 2] - upward[:, 0])) & (upward[:, 3] > upward[:, 1])
    into = np.zeros(len(upward), dtype=np.int64)
    narrow = []
    for sides in _trapezoids(upward):
        open_ = sides.gap_start + sides.gap_end > 0  # where a column stands on a wall the order of the two is chance
        into[sides.edge[open_]] = sides.into[open_]
        narrow.append(sides.taken(counts[sides.edge] & (np.minimum(sides.gap_start, sides.gap_end) < module)))
    tight = joined(narrow)
    return joined([_remainder(upward, np.flatnonzero(counts), into, tight, module), tight])


def leans(walls: Ints) -> Ints:
    """How far each edge of an outline, with those that go on from it, reaches along the axis."""
    _, least, most = reaches(walls)
    return np.asarray(most - least, dtype=np.int64)


def reaches(walls: Ints) -> tuple[Ints, Ints, Ints]:
    """The wall that each edge of an outline belongs to, by number, and the least and greatest coordinate it reaches.

    A bowed wall comes as many chords: edges that bend from one to the next by less than BEND_DEG are one wall, as far
    as they count on this axis.
    """
    run, rise = walls[:, 2] - walls[:, 0], walls[:, 3] - walls[:, 1]
    counts, heading = (np.abs(rise) >= np.abs(run)) & (rise != 0), np.degrees(np.arctan2(rise, run))
    bend = np.abs((heading - np.roll(heading, 1) + 180) % 360 - 180)
    number = np.cumsum(~counts | ~np.roll(counts, 1) | (bend >= BEND_DEG))
    number[number == 0] = number[-1]  # what comes before the first break goes on from the last edge
    low, high = np.minimum(walls[:, 0], walls[:, 2]), np.maximum(walls[:, 0], walls[:, 2])
    least, most = np.full(number.max() + 1, low.max()), np.full(number.max() + 1, high.min())
    np.minimum.at(least, number, low)
    np.maximum.at(most, number, high)
    return number, least[number], most[number]


def joined(several: list[Parts]) -> Parts:
    return Parts(*(np.concatenate([getattr(p, field.name) for p in several]) for field in fields(Parts)))


def wider(parts: Parts, gap: float) -> Parts:
    """Keep what there is of each stretch where the room in front of it is at least `gap`."""
    return _between(parts, parts.gap_start >= gap, parts.gap_end >= gap, gap)


def narrower(parts: Parts, gap: float) -> Parts:
    """Keep what there is of each stretch where the room in front of it is under `gap`."""
    return _between(parts, parts.gap_start < gap, parts.gap_end < gap, gap)


def _between(parts: Parts, first: Flags, last: Flags, gap: float) -> Parts:
    """Keep the end or ends of each stretch that are marked, up to the point where the gap passes `gap`."""
    change = parts.gap_end - parts.gap_start
    passing = np.divide(gap - parts.gap_start, change, out=np.zeros_like(change), where=change != 0)
    lower, upper = np.where(first, 0.0, passing), np.where(last, 1.0, passing)
    run, rise = parts.end - parts.start, parts.head - parts.foot
    cut = Parts(
        parts.edge,
        parts.opposite,
        parts.into,
        parts.start + lower * run,
        parts.start + upper * run,
        parts.gap_start + lower * change,
        parts.gap_start + upper * change,
        parts.foot + lower * rise,
        parts.foot + upper * rise,
    )
    return cut.taken((first | last) & (upper > lower))


def _trapezoids(edges: Ints) -> Iterator[Parts]:
    """Yield the sides of every trapezoid, each with the gap to its partner; `edges` run upwards."""
    levels = np.unique(edges[:, [1, 3]])
    first, last = np.searchsorted(levels, edges[:, 1]), np.searchsorted(levels, edges[:, 3])
    sides = np.cumsum(_counted(first, 1, len(levels)) - _counted(last, 1, len(levels)))
    blocks = np.cumsum(sides) // _SIDES_AT_ONCE
    bounds = [0, *(np.flatnonzero(np.diff(blocks)) + 1).tolist(), len(levels) - 1]
    for low, high in pairwise(bounds):
        yield _paired(edges, levels, np.clip(first, low, high), np.clip(last, low, high))


def _counted(places: Ints, by: int, size: int) -> Ints:
    return np.bincount(places, minlength=size).astype(np.int64) * by


def _paired(edges: Ints, levels: Ints, first: Ints, last: Ints) -> Parts:
    """Pair the edges in each slab between two levels; edge k spans the slabs first[k] up to last[k], less one."""
    edge = np.repeat(np.arange(len(edges)), last - first)
    slab = np.arange(len(edge)) - np.repeat(np.cumsum(last - first) - last + first, last - first) + first[edge]
    lower, upper = _along(edges, edge, levels[slab]), _along(edges, edge, levels[slab + 1])
    order = np.lexsort((lower + upper, slab))
    left, right = order[0::2], order[1::2]
    gap_start, gap_end = np.maximum(lower[right] - lower[left], 0.0), np.maximum(upper[right] - upper[left], 0.0)
    both, other = np.concatenate([left, right]), np.concatenate([right, left])
    return Parts(
        edge[both],
        edge[other],
        np.repeat(np.array([1, -1], dtype=np.int64), len(left)),
        lower[both],
        upper[both],
        np.tile(gap_start, 2),
        np.tile(gap_end, 2),
        levels[slab[both]].astype(np.float64),
        levels[slab[both] + 1].astype(np.float64),
    )


def _along(edges: Ints, edge: Ints, level: Ints | Floats) -> Floats:
    """Coordinate along the axis of each named edge at a level across it."""
    a0, b0, a1, b1 = edges[edge].astype(np.float64).T
    return np.asarray(a0 + (level - b0) * (a1 - a0) / np.where(b1 > b0, b1 - b0, 1.0), dtype=np.float64)


def _remainder(edges: Ints, walls: Ints, into: Ints, tight: Parts, module: int) -> Parts:
    """Find the stretches of walls outside `tight`: from the top of one tight stretch to the foot of the next."""
    edge, foot = _sorted(np.concatenate([walls, tight.edge]), np.concatenate([edges[walls, 1], tight.head]))
    _, head = _sorted(np.concatenate([tight.edge, walls]), np.concatenate([tight.foot, edges[walls, 3]]))
    edge, foot, head = edge[head > foot], foot[head > foot], head[head > foot]
    wide, nothing = np.full(len(edge), float(module)), np.full(len(edge), -1, dtype=np.int64)
    start, end = _along(edges, edge, foot), _along(edges, edge, head)
    return Parts(edge, nothing, into[edge], start, end, wide, wide, foot, head)


def _sorted(edge: Ints, level: Floats) -> tuple[Ints, Floats]:
    order = np.lexsort((level, edge))
    return edge[order], level[order]
