"""What one side of the room shows to somebody who looks at it square: spans of wall, from corner to corner.

In: an outline and a side. Out: the spans in order, each with the points where it begins and ends; a bowed wall, which
the outline has as chords, is one span.
"""

import itertools
from collections.abc import Sequence
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
    chain: tuple[Point, ...] = ()  #: from start to end, where the wall is bowed


def profile(outline: Ring, side: Side, wall_of: Sequence[int] = ()) -> tuple[Span, ...]:
    """The spans seen from outside on a side, from low to high; together they cover the whole width of the room.

    `wall_of` numbers the wall of each edge of the outline; without it every edge is a wall of its own.
    """
    along = 0 if side in ("bottom", "top") else 1
    sign = 1.0 if side in ("bottom", "left") else -1.0
    walls = [tuple(sorted(edge, key=lambda p: p[along])) for edge in edges(outline)]
    owners = wall_of or range(len(walls))
    owner = [own for own, (a, b) in zip(owners, walls, strict=True) if b[along] - a[along] > TOLERANCE_MM]
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
    groups = itertools.groupby(spans, key=lambda span: owner[span[0]])
    return tuple(_span([(walls[k], low, high) for k, low, high in group], along) for _, group in groups)


def _span(parts: list[tuple[tuple[Point, ...], float, float]], along: int) -> Span:
    """A wall of one part, or the chords of a bowed one."""
    (first, low, _), (last, _, high) = parts[0], parts[-1]
    start, end = _at(first, along, low), _at(last, along, high)
    chain = (start, *(_at(wall, along, stop) for wall, _, stop in parts[:-1]), end) if len(parts) > 1 else ()
    return Span(low, high, start, end, chain)


def point_on(spans: tuple[Span, ...], along: int, position: float) -> Point:
    """The point of the profile at a position, on the span that begins or lies there."""
    span = next((s for s in spans if s.low - TOLERANCE_MM <= position <= s.high + TOLERANCE_MM), spans[-1])
    chain = span.chain or (span.start, span.end)
    pairs = list(itertools.pairwise(chain))
    return _at(next((pair for pair in pairs if position <= pair[1][along]), pairs[-1]), along, position)


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
