"""Where the joints of a run stand, and how far they are from those of the run beside it."""

import math

from planner.geometry import TOLERANCE_MM
from planner.records import dataclass

#: Splices of neighbouring runs stand at least this many slots from each other (common practice, no source).
STAGGER_PITCHES = 4


@dataclass(frozen=True, slots=True)
class Joints:
    """The splices of one run: `count` of them, `apart` from each other, along a coordinate that runs share; mm."""

    first: float
    apart: float
    count: int

    @property
    def places(self) -> list[float]:
        return [self.first + k * self.apart for k in range(self.count)]

    def distance(self, other: "Joints") -> float:
        """The least distance between two splices; infinite where one of the runs has none."""
        if not self.count or not other.count:
            return math.inf
        if self.apart and other.apart and abs(self.apart - other.apart) > TOLERANCE_MM:
            return min(abs(a - b) for a in self.places for b in other.places)
        off, step = other.first - self.first, max(self.apart, other.apart)
        if not step:
            return abs(off)
        shift = min(max(round(-off / step), 1 - self.count), other.count - 1)
        return abs(off + shift * step)
