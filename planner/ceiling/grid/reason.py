"""One sentence that says why the grid lies where it lies, with real numbers.

In: the search axes, the places chosen, what the room file fixed and what came out. Out: the sentence.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from planner.ceiling.grid.borders import Axis
from planner.ceiling.grid.circle import SUM_PER_MM
from planner.geometry import TOLERANCE_MM, Frame, Point
from planner.lengths import format_length
from planner.room.outline import Room

#: Wall cut short over less than this goes without saying: the tip of a corner that is not quite square.
_WORTH_SAYING_MM = 25.0
#: A wall that leans less than this from a grid line lies along the grid.
_ALONG_DEG = 5.0

_SIDES = (("left", "right"), ("front", "back"))


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the search came to."""

    axes: tuple[Axis, Axis]
    places: tuple[int, int]
    angle_deg: float  #: of the grid
    asked: tuple[bool, bool]  #: the room file fixed the place on this axis
    proven: bool
    fewest_first: bool
    panels: int  #: whole and cut
    smallest_cut: float | None


def reason(room: Room, outcome: Outcome) -> str:
    """Say where the borders fall and why."""
    borders = ", ".join(text for axis in (0, 1) if (text := _borders(room, outcome, axis)))
    head = f"Borders {borders}" if borders else "No wall lies along the grid"
    return f"{head}: {_why(room, outcome)}."


def _borders(room: Room, outcome: Outcome, number: int) -> str:
    """Say how wide the outermost borders of an axis are; nothing where no wall lies along the grid."""
    axis, place, (low, high) = outcome.axes[number], outcome.places[number], _SIDES[number]
    near, far = axis.from_low(place), axis.from_high(place)
    has_low, has_high = _walls_at(room, outcome, number, axis.low), _walls_at(room, outcome, number, axis.high)
    if not (has_low and has_high):
        sides = [(near, low)] * has_low + [(far, high)] * has_high
        return " and ".join(f"{_length(room, axis, width)} {side}" for width, side in sides)
    if axis.high - axis.low <= min(near, far):
        return f"one panel of {_length(room, axis, axis.high - axis.low)} from {low} to {high}"
    if near == far == axis.module:
        return f"whole panels {low} and {high}"
    if abs(near - far) <= TOLERANCE_MM * axis.per_mm:
        return f"{_length(room, axis, near)} {low} and {high}"
    return f"{_length(room, axis, near)} {low} and {_length(room, axis, far)} {high}"


def _walls_at(room: Room, outcome: Outcome, number: int, end: int) -> bool:
    """Whether a wall lies along the grid at one end of an axis."""
    axis, across = outcome.axes[number], Frame((0.0, 0.0), outcome.angle_deg)
    for side in _sides(room):
        start, stop = map(across.inward, side)
        along = abs(stop[1 - number] - start[1 - number])
        off = max(abs(point[number] - end / axis.per_mm) for point in (start, stop))
        if off <= along * math.tan(math.radians(_ALONG_DEG)):
            return True
    return False


def _sides(room: Room) -> Iterator[tuple[Point, Point]]:
    """Every wall from corner to corner, and the chords of bowed ones: they may lie along the grid at the apex."""
    for wall in room.walls:
        yield wall.start, wall.end
        if wall.arc is not None:
            yield from pairwise(wall.points)


def _length(room: Room, axis: Axis, units: int) -> str:
    return format_length(units / axis.per_mm, room.units)


def _why(room: Room, outcome: Outcome) -> str:
    if all(outcome.asked):
        return f"as asked for; {_shortest(room, outcome)}"
    if outcome.smallest_cut is None and _plain(outcome):
        return "the room takes whole panels and nothing is cut"
    wish = _wish(outcome)
    asked = [" and ".join(_SIDES[k]) for k in (0, 1) if outcome.asked[k]]
    return "; ".join([*(f"{sides} as asked for" for sides in asked), wish, _shortest(room, outcome)])


def _plain(outcome: Outcome) -> bool:
    """Whether the room is a rectangle along the grid with nothing in it."""
    axis = outcome.axes[0]
    return len(axis.edges) == 4 and not axis.slanted


def _wish(outcome: Outcome) -> str:
    if not outcome.proven:
        return "the best of the places tried"
    if outcome.fewest_first:
        return f"no place without more slivers takes fewer panels than {outcome.panels}"
    if _plain(outcome):
        return "equal and as wide as possible (half-module rule)"
    return "the least wall with short cuts, then the widest narrow cuts that this room allows"


def _shortest(room: Room, outcome: Outcome) -> str:
    """Say how much wall, column sides included, is cut short."""
    pairs = list(zip(outcome.axes, outcome.places, strict=True))
    slivers = sum(int(axis.slivers[place]) for axis, place in pairs) / SUM_PER_MM
    halves = sum(int(axis.halves[place]) for axis, place in pairs) / SUM_PER_MM
    if halves < _WORTH_SAYING_MM:
        return "no cut under half a module"
    under = f"{format_length(halves, room.units)} of wall is cut under half a module"
    if slivers < _WORTH_SAYING_MM:
        return f"{under}, none under a quarter"
    return f"{under}, {format_length(slivers, room.units)} of it under a quarter"
