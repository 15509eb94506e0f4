"""What one side of the room shows to somebody who looks at it square: spans of wall, from corner to corner.

In: an outline and a side. Out: the spans in order, each with the points where it begins and ends; a bowed wall, which
the outline has as chords, is one span.
"""

import itertools
from collections.abc import Sequence

from planner.drawing.dimensions import Side
from planner.geometry import TOLERANCE_MM, Point, Ring, edges
from planner.records import dataclass

#: Where a bowed wall turns away from a side it runs nearly square to it: less than this along the side to one across.
_STEEP = 0.35


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


def point_on(spans: tuple[Span, ...], side: Side, position: float) -> Point:
    """The point of the profile at a position: where two spans meet, of the one that is further out on the side.

    At the crown of a bowed wall, whose tangent a line square to the side is, it lies level with the end of the wall.
    """
    along, sign = (0 if side in ("bottom", "top") else 1), (-1.0 if side in ("bottom", "left") else 1.0)
    there = [s for s in spans if s.low - TOLERANCE_MM <= position <= s.high + TOLERANCE_MM] or [spans[-1]]
    points = [_on_span(span, along, position) for span in there]
    crowned = [p for s, p in zip(there, points, strict=True) for p in (_level(s, p, along, sign) if s.chain else p,)]
    return max(crowned, key=lambda point: sign * point[1 - along])


def _on_span(span: Span, along: int, position: float) -> Point:
    chain = span.chain or (span.start, span.end)
    pairs = list(itertools.pairwise(chain))
    return _at(next((pair for pair in pairs if position <= pair[1][along]), pairs[-1]), along, position)


def _level(span: Span, point: Point, along: int, sign: float) -> Point:
    """A point of a bowed span, or level with the other end of the span where the chord that ends there is steep."""
    inner = {span.chain[0]: span.chain[1], span.chain[-1]: span.chain[-2]}.get(point)
    if inner is None or abs(inner[along] - point[along]) > _STEEP * abs(inner[1 - along] - point[1 - along]):
        return point
    out = max(sign * p[1 - along] for p in span.chain) * sign
    return (point[0], out) if along == 0 else (out, point[1])


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
