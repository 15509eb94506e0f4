"""What one side of the room shows to somebody who looks at it square: spans of wall, from corner to corner.

In: an outline and a side. Out: the spans in order, each with the points where it begins and ends.
"""

import itertools
from dataclasses import dataclass

from planner.drawing.dimensions import Side
from planner.geometry import TOLERANCE_MM, Point, Ring, edges


@dataclass(frozen=True, slots=True)
class Span:
    """Part of a wall that is seen from a side; positions along the side, points on the wall."""

    low: float
    high: float
    start: Point
    end: Point


def profile(outline: Ring, side: Side) -> tuple[Span, ...]:
    """The spans seen from outside on a side, from low to high; together they cover the whole width of the room."""
    along = 0 if side in ("bottom", "top") else 1
    sign = 1.0 if side in ("bottom", "left") else -1.0
    walls = [tuple(sorted(edge, key=lambda p: p[along])) for edge in edges(outline)]
    walls = [(a, b) for a, b in walls if b[along] - a[along] > TOLERANCE_MM]
    stops = _distinct(sorted(point[along] for point in outline))
    spans: list[tuple[int, float, float]] = []
    for low, high in itertools.pairwise(stops):
        middle = (low + high) / 2
        seen = [k for k, (a, b) in enumerate(walls) if a[along] < middle < b[along]]
        nearest = min(seen, key=lambda k: sign * _at(walls[k], along, middle)[1 - along])
        if spans and spans[-1][0] == nearest:
            spans[-1] = (nearest, spans[-1][1], high)
        else:
            spans.append((nearest, low, high))
    return tuple(Span(low, high, _at(walls[k], along, low), _at(walls[k], along, high)) for k, low, high in spans)


def point_on(spans: tuple[Span, ...], along: int, position: float) -> Point:
    """The point of the profile at a position, on the span that begins or lies there."""
    span = next((s for s in spans if s.low - TOLERANCE_MM <= position <= s.high + TOLERANCE_MM), spans[-1])
    return _at((span.start, span.end), along, position)


def _at(wall: tuple[Point, ...], along: int, position: float) -> Point:
    """The point of a wall at a position along the side."""
    a, b = wall[0], wall[1]
    share = min(1.0, max(0.0, (position - a[along]) / (b[along] - a[along])))
    return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))


def _distinct(values: list[float]) -> list[float]:
    """Sorted values, those closer than the tolerance taken as one."""
    kept = values[:1]
    for value in values[1:]:
        if value - kept[-1] > TOLERANCE_MM:
            kept.append(value)
    return kept
