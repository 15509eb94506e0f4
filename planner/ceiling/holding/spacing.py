"""Where along one run to hang it: the fewest points that keep every limit.

In: the points of a run that can be hung from, its length, and the limits. Out: distances from the start of the run.

Rules: the first and the last point within `first` of the walls, neighbours at most `apart`, and every fixed point
taken. A run no longer than `first` needs none: both of its ends lie on the wall angle (common practice, no source).
Taking the furthest point in reach each time gives the fewest: whatever another choice reaches, this one reaches too.
Fixed points cut a run into parts that do not touch each other, so the same holds for each part.
"""

import math
from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from planner.geometry import TOLERANCE_MM
from planner.records import dataclass


@dataclass(frozen=True, slots=True)
class Limits:
    """How far points may be from each other and from the walls; millimetres."""

    apart: float
    first: float


@dataclass(frozen=True, slots=True)
class Stride:
    """A stretch of a run that is longer than its limit: between two points, or from a wall to the nearest one."""

    start: float
    end: float
    limit: float
    at_wall: bool

    @property
    def length(self) -> float:
        return self.end - self.start


def fewest(points: Sequence[float], length: float, limits: Limits, fixed: Iterable[float] = ()) -> tuple[float, ...]:
    """The fewest of `points` (in order) that keep the limits, with all of `fixed`, which are among them.

    Where no point is in reach the next one is taken; `too_long` tells where that is.
    """
    chosen, here, reach = list[float](), 0.0, limits.first
    for goal in sorted(set(fixed)):
        while goal - here > reach + TOLERANCE_MM and (step := _furthest(points, here, reach)) < goal:
            chosen.append(step)
            here, reach = step, limits.apart
        chosen.append(goal)
        here, reach = goal, limits.apart
    while length - here > limits.first + TOLERANCE_MM and points and points[-1] > here:
        here = _furthest(points, here, reach)
        chosen.append(here)
        reach = limits.apart
    return tuple(chosen)


def _furthest(points: Sequence[float], here: float, reach: float) -> float:
    """The furthest point within reach of here; the next one beyond it when there is none. There is one beyond here."""
    after, last = bisect_right(points, here), bisect_right(points, here + reach + TOLERANCE_MM) - 1
    return points[max(after, last)]


def evenly(length: float, limits: Limits, fixed: Iterable[float] = ()) -> tuple[float, ...]:
    """The fewest points that keep the limits where any point will do, as even as can be, with all of `fixed`."""
    goals = sorted(set(fixed))
    chosen = list[float]()
    for k, (here, goal) in enumerate(pairwise((0.0, *goals, length))):
        before = limits.first if k == 0 else limits.apart
        after = limits.first if k == len(goals) else limits.apart
        chosen += (here + part for part in _between(goal - here, before, after, limits.apart))
        chosen += [goal] * (k < len(goals))
    return tuple(chosen)


def _between(gap: float, before: float, after: float, apart: float) -> Iterator[float]:
    """Points inside a gap, their strides in proportion to the limits at its two ends and between."""
    if gap <= min(before, after) + TOLERANCE_MM:
        return
    count = max(1, math.ceil((gap - before - after - TOLERANCE_MM) / apart) + 1)
    total = before + after + (count - 1) * apart
    for k in range(count):
        yield gap * (before + k * apart) / total


def too_long(points: Sequence[float], length: float, limits: Limits) -> Iterator[Stride]:
    """The stretches of a run that are longer than allowed."""
    if not points:
        if length > limits.first + TOLERANCE_MM:
            yield Stride(0.0, length, limits.first, True)
        return
    ends = ((0.0, points[0]), (points[-1], length))
    yield from (Stride(a, b, limits.first, True) for a, b in ends if b - a > limits.first + TOLERANCE_MM)
    inside = ((a, b) for a, b in pairwise(points) if b - a > limits.apart + TOLERANCE_MM)
    yield from (Stride(a, b, limits.apart, False) for a, b in inside)
