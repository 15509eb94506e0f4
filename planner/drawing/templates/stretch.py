"""Shapes made a little larger or smaller, across and along apart, for a printer that does not print true.

In: shapes and two factors. Out: the same shapes, ready to come out true from that printer. With both factors 1 nothing
is touched; else arcs and circles become chords within 0.005 mm, since no format has arcs that are stretched one way.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise

from planner.drawing.shapes import Arc, Circle, Dimension, Line, Outline, Paper, Shape, Symbol, Text
from planner.drawing.templates.openings import CURVE_MM, circle
from planner.geometry import Point

Factors = tuple[float, float]  #: across and up; of a printer along the short and the long side of its paper
TRUE: Factors = (1.0, 1.0)


def on_page(by: Factors, paper: Paper) -> Factors:
    """A printer's factors, by short and long side of the paper, as they fall on a page across and up."""
    return by if paper.width <= paper.height else (by[1], by[0])


def stretched(shapes: Iterable[Shape], by: Factors) -> tuple[Shape, ...]:
    """The shapes, `by[0]` times as wide and `by[1]` times as high, seen from (0, 0)."""
    return tuple(shapes) if by == TRUE else tuple(part for shape in shapes for part in _stretched(shape, by))


def _stretched(shape: Shape, by: Factors) -> Iterator[Shape]:
    def go(point: Point) -> Point:
        return (point[0] * by[0], point[1] * by[1])

    match shape:
        case Line():
            yield replace(shape, start=go(shape.start), end=go(shape.end))
        case Outline():
            holes = tuple(tuple(map(go, hole)) for hole in shape.holes)
            yield replace(shape, points=tuple(map(go, shape.points)), holes=holes)
        case Circle():
            ring = circle(shape.centre, shape.radius)
            yield Outline(shape.role, tuple(map(go, ring)), fill=shape.fill, title=shape.title)
        case Arc():
            for a, b in pairwise(map(go, _chords(shape))):
                yield Line(shape.role, a, b, shape.title)
        case Dimension():
            text_at = shape.text_at and go(shape.text_at)
            yield replace(shape, start=go(shape.start), end=go(shape.end), line_at=go(shape.line_at), text_at=text_at)
        case Text() | Symbol():
            yield replace(shape, at=go(shape.at))


def _chords(arc: Arc) -> Iterator[Point]:
    sweep = math.radians((arc.end_deg - arc.start_deg) % 360.0 or 360.0)
    step = 2 * math.acos(max(1 - CURVE_MM / arc.radius, 0.0))
    count = max(1, math.ceil(sweep / step))
    for k in range(count + 1):
        turn = math.radians(arc.start_deg) + sweep * k / count
        yield (arc.centre[0] + arc.radius * math.cos(turn), arc.centre[1] + arc.radius * math.sin(turn))
