"""Lines of tees, parted where a service takes tees out.

In: a stretch of a grid line from wall to wall, the modules along it whose tee is taken out, and what is left free at
the walls. Out: its unbroken parts.
"""

from collections.abc import Iterator

from planner.ceiling.members.lines import Stretch
from planner.geometry import TOLERANCE_MM
from planner.records import dataclass

Gaps = dict[int, set[int]]  #: for each line, the modules along it whose tee is taken out


@dataclass(frozen=True, slots=True)
class Part:
    """An unbroken part of a line, and whether each end lies on a wall."""

    start: float
    end: float
    walls: tuple[bool, bool]
    gaps: tuple[float, float] = (0.0, 0.0)  #: left free before the walls


def unbroken(stretch: Stretch, taken_out: set[int], pitch: float, gaps: tuple[float, float]) -> Iterator[Part]:
    """A stretch less the modules whose tee is taken out; `gaps` are left free at its ends."""
    start, on_wall, gap = stretch[0], True, gaps[0]
    for k in sorted(taken_out):
        low, high = k * pitch, (k + 1) * pitch
        if high <= start or low >= stretch[1]:
            continue
        if low - start > TOLERANCE_MM:
            yield Part(start, low, (on_wall, False), (gap, 0.0))
        start, on_wall, gap = high, False, 0.0
    if stretch[1] - start > TOLERANCE_MM:
        yield Part(start, stretch[1], (on_wall, True), (gap, gaps[1]))
