"""How a dimension looks, the same in every format.

In: a dimension, the height of its capitals on paper, and the scale: how much larger than paper its points lie. Out: its
strokes and its letters, in the frame of its points. Rule: a thin line between two extension lines, oblique 45 degree
ticks about 1/8" long, extension lines that begin 1/16" off the object and run 1/8" beyond the line (published US
drafting advice). Where the letters stand is the rule of `labels.dimension_text`; when that is beyond the end of the
line, the line is drawn out below them.
"""

import math
from dataclasses import replace

from planner.drawing.labels import dimension_text, readable
from planner.drawing.lettering import clean, text_width
from planner.drawing.shapes import Dimension, Text
from planner.geometry import Point, distance
from planner.records import dataclass

TICK = 3.2  #: length of the oblique stroke, 1/8"
GAP = 1.6  #: object to extension line, 1/16"
BEYOND = 3.2  #: extension line past the dimension line, 1/8"

Segment = tuple[Point, Point]


@dataclass(frozen=True, slots=True)
class DrawnDimension:
    """A dimension as strokes and letters, in the frame of its points."""

    segments: tuple[Segment, ...]
    letters: Text
    usual: bool  #: the letters stand above the middle of the line, where CAD would put them


def draw_dimension(shape: Dimension, height: float, scale: float) -> DrawnDimension:
    """Work out what a dimension looks like."""
    letters = dimension_text(replace(shape, text=clean(shape.text)), height, scale)
    along = _unit(shape.angle_deg)
    first, last = _foot(shape.start, shape.line_at, along), _foot(shape.end, shape.line_at, along)
    outward = _direction(first, last, along)
    past = (letters.at[0] - last[0]) * outward[0] + (letters.at[1] - last[1]) * outward[1]
    beyond = shape.text_at is None and past > 0
    reach = past + text_width(letters.text, height) * scale / 2 if beyond else 0.0
    slant = _unit(readable(shape.angle_deg) + 45.0)
    segments = (
        (first, _moved(last, outward, reach)),
        *_extension(shape.start, first, scale),
        *_extension(shape.end, last, scale),
        *((_moved(foot, slant, -TICK / 2 * scale), _moved(foot, slant, TICK / 2 * scale)) for foot in (first, last)),
    )
    return DrawnDimension(segments, letters, shape.text_at is None and not beyond)


def _unit(angle_deg: float) -> Point:
    radians = math.radians(angle_deg)
    return (math.cos(radians), math.sin(radians))


def _foot(point: Point, line_at: Point, along: Point) -> Point:
    """Find where a point meets the dimension line, square to it."""
    t = (point[0] - line_at[0]) * along[0] + (point[1] - line_at[1]) * along[1]
    return _moved(line_at, along, t)


def _direction(first: Point, last: Point, otherwise: Point) -> Point:
    length = distance(first, last)
    return ((last[0] - first[0]) / length, (last[1] - first[1]) / length) if length > 1e-9 else otherwise


def _moved(point: Point, direction: Point, by: float) -> Point:
    return (point[0] + direction[0] * by, point[1] + direction[1] * by)


def _extension(point: Point, foot: Point, scale: float) -> tuple[Segment, ...]:
    """Draw the extension line of one measured point; none where the dimension line runs through the point itself."""
    length = distance(point, foot)
    if length < 1e-6 * scale:
        return ()
    away = _direction(point, foot, (0.0, 0.0))
    begin = _moved(point, away, GAP * scale) if length > GAP * scale else foot
    return ((begin, _moved(foot, away, BEYOND * scale)),)
