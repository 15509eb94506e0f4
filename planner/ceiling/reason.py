"""One sentence that says why the grid lies where it lies, with real numbers.

In: the search axes, the places chosen, what the room file fixed and what came out. Out: the sentence.
"""

from dataclasses import dataclass

from planner.ceiling.borders import Axis
from planner.ceiling.circle import SUM_PER_MM
from planner.geometry import TOLERANCE_MM
from planner.lengths import format_length
from planner.room.outline import Room

#: Wall cut short over less than this goes without saying: the tip of a corner that is not quite square.
_WORTH_SAYING_MM = 1.6

_SIDES = (("left", "right"), ("front", "back"))


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the search came to."""

    axes: tuple[Axis, Axis]
    places: tuple[int, int]
    asked: tuple[bool, bool]  #: the room file fixed the place on this axis
    proven: bool
    fewest_first: bool
    panels: int  #: whole and cut
    smallest_cut: float | None


def reason(room: Room, outcome: Outcome) -> str:
    """Say where the borders fall and why."""
    borders = ", ".join(_borders(room, outcome, axis) for axis in (0, 1))
    return f"Borders {borders}: {_why(room, outcome)}."


def _borders(room: Room, outcome: Outcome, number: int) -> str:
    axis, place, (low, high) = outcome.axes[number], outcome.places[number], _SIDES[number]
    near, far = axis.from_low(place), axis.from_high(place)
    if axis.high - axis.low <= min(near, far):
        return f"one panel of {_length(room, axis, axis.high - axis.low)} from {low} to {high}"
    if near == far == axis.module:
        return f"whole panels {low} and {high}"
    if abs(near - far) <= TOLERANCE_MM * axis.per_mm:
        return f"{_length(room, axis, near)} {low} and {high}"
    return f"{_length(room, axis, near)} {low} and {_length(room, axis, far)} {high}"


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
