"""Plane geometry that every wing shares: points, frames, edges, areas. Millimetres, angles in degrees, y up."""

import math
from collections.abc import Iterable, Iterator, Sequence

from planner.records import dataclass

Point = tuple[float, float]
Ring = tuple[Point, ...]  #: closed by implication; counter-clockwise unless a docstring says otherwise

#: Lengths closer than this are the same length everywhere but at the saw (whole tenths there).
TOLERANCE_MM = 0.01


@dataclass(frozen=True, slots=True)
class Frame:
    """A turned and shifted frame inside another: `origin` and `angle_deg` (counter-clockwise) as seen outside."""

    origin: Point = (0.0, 0.0)
    angle_deg: float = 0.0

    def outward(self, point: Point) -> Point:
        """From this frame to the one around it."""
        c, s = self._turn()
        x, y = point
        return (self.origin[0] + c * x - s * y, self.origin[1] + s * x + c * y)

    def inward(self, point: Point) -> Point:
        """From the frame around this one into it."""
        c, s = self._turn()
        x, y = point[0] - self.origin[0], point[1] - self.origin[1]
        return (c * x + s * y, c * y - s * x)

    def _turn(self) -> Point:
        """Cosine and sine, exact for quarter turns so that square rooms stay square."""
        quarter, rest = divmod(self.angle_deg, 90.0)
        if rest == 0.0:
            return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter) % 4]
        radians = math.radians(self.angle_deg)
        return (math.cos(radians), math.sin(radians))


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.top - self.bottom

    @property
    def centre(self) -> Point:
        return ((self.left + self.right) / 2, (self.bottom + self.top) / 2)

    def grown(self, by: float) -> "Box":
        return Box(self.left - by, self.bottom - by, self.right + by, self.top + by)

    def overlaps(self, other: "Box") -> bool:
        """True when the insides meet; touching edges do not count."""
        return (
            self.left < other.right and other.left < self.right and self.bottom < other.top and other.bottom < self.top
        )

    def holds(self, other: "Box") -> bool:
        return (
            self.left <= other.left
            and self.bottom <= other.bottom
            and self.right >= other.right
            and self.top >= other.top
        )


def box_of(points: Iterable[Point]) -> Box:
    """The smallest upright box around points; ValueError when there are none."""
    xs, ys = zip(*points, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))


def edges(ring: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    """Each side of a closed ring, from its first corner on."""
    for k, start in enumerate(ring):
        yield start, ring[(k + 1) % len(ring)]


def signed_area(ring: Sequence[Point]) -> float:
    """Area of a ring in square millimetres, positive when it runs counter-clockwise."""
    x0, y0 = ring[0]  # near the ring, so that far-off coordinates lose no digits
    return sum((a[0] - x0) * (b[1] - y0) - (b[0] - x0) * (a[1] - y0) for a, b in edges(ring)) / 2


def distance(a: Point, b: Point) -> float:
    return math.hypot(b[0] - a[0], b[1] - a[1])


def midpoint(a: Point, b: Point) -> Point:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
