"""One sentence that says why the grid lies where it lies, with real numbers.

In: the search axes, the places chosen, what the room file fixed and what came out. Out: the sentence.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from planner.ceiling.grid.axis import SLACK_MM, Axis
from planner.ceiling.grid.borders import but_for_columns
from planner.ceiling.grid.circle import SUM_PER_MM
from planner.ceiling.grid.gaps import Ints
from planner.geometry import TOLERANCE_MM, Frame, Point
from planner.lengths import spoken_length
from planner.room.outline import Room
from planner.sayings import joined, linked, said

#: Wall cut short over less than this goes without saying: the tip of a corner that is not quite square.
_WORTH_SAYING_MM = 25.0
#: A wall that leans less than this from a grid line lies along the grid.
_ALONG_DEG = 5.0

#: Borders that differ by less are the same ones.
_OTHER_MM = 2.0

_SIDES = ((said("left"), said("right")), (said("front"), said("back")))


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
    borders = joined((text for axis in (0, 1) if (text := _borders(room, outcome, axis))), ", ")
    head = said("Borders {borders}", borders=borders) if borders else said("No wall lies along the grid")
    return said("{head}: {why}.", head=head, why=_why(room, outcome))


def _borders(room: Room, outcome: Outcome, number: int) -> str:
    """Say how wide the outermost borders of an axis are; nothing where no wall lies along the grid."""
    axis, place, (low, high) = outcome.axes[number], outcome.places[number], _SIDES[number]
    near, far = axis.from_low(place), axis.from_high(place)
    has_low, has_high = _walls_at(room, outcome, number, axis.low), _walls_at(room, outcome, number, axis.high)
    if not (has_low and has_high):
        sides = [(near, low)] * has_low + [(far, high)] * has_high
        return linked(joined((_length(room, axis, width), side)) for width, side in sides)
    if axis.high - axis.low <= min(near, far):
        return said(
            "one panel of {width} from {low} to {high}",
            width=_length(room, axis, axis.high - axis.low),
            low=low,
            high=high,
        )
    if near == far == axis.module:
        return said("whole panels {low} and {high}", low=low, high=high)
    if abs(near - far) <= TOLERANCE_MM * axis.per_mm:
        return said("{near} {low} and {high}", near=_length(room, axis, near), low=low, high=high)
    return said(
        "{near} {low} and {far} {high}",
        near=_length(room, axis, near),
        low=low,
        far=_length(room, axis, far),
        high=high,
    )


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
    return spoken_length(units / axis.per_mm, room.units)


def _why(room: Room, outcome: Outcome) -> str:
    if all(outcome.asked):
        return said("as asked for; {shortest}", shortest=_shortest(room, outcome))
    if outcome.smallest_cut is None and _plain(outcome):
        return said("the room takes whole panels and nothing is cut")
    wish = _wish(outcome)
    asked = [linked(_SIDES[k]) for k in (0, 1) if outcome.asked[k]]
    if outcome.proven and not outcome.fewest_first:
        told = [_but_for_columns(room, outcome, number) for number in (0, 1) if not outcome.asked[number]]
        if others := [borders for borders in told if borders]:
            borders = joined(others, ", ")
            wish = joined((wish, said("without the columns it would be {borders}", borders=borders)), "; ")
    parts = [*(said("{sides} as asked for", sides=sides) for sides in asked), wish, _shortest(room, outcome)]
    return joined(parts, "; ")


def _but_for_columns(room: Room, outcome: Outcome, number: int) -> str:
    """Say which borders an axis would have if no column stood in the way; nothing where they would be the same."""
    axis, place = outcome.axes[number], outcome.places[number]
    others = but_for_columns(axis)
    if not len(others) or _apart(axis, others, place) < _OTHER_MM * axis.per_mm:
        return ""
    places = (int(others[0]), outcome.places[1]) if number == 0 else (outcome.places[0], int(others[0]))
    return _borders(room, replace(outcome, places=places), number)


def _apart(axis: Axis, others: Ints, place: int) -> int:
    return int(np.minimum((others - place) % axis.module, (place - others) % axis.module).min())


def _plain(outcome: Outcome) -> bool:
    """Whether the room is a rectangle along the grid with nothing in it."""
    axis = outcome.axes[0]
    return len(axis.edges) == 4 and not axis.slanted


def _wish(outcome: Outcome) -> str:
    if not outcome.proven:
        return said("the best of the places tried")
    if outcome.fewest_first:
        return said(
            "no place without more slivers at straight walls has fewer modules, whole and cut, than {panels} (how many"
            " cut ones come off one panel is not weighed here)",
            panels=outcome.panels,
        )
    if _plain(outcome):
        return said("equal and as wide as possible (half-module rule)")
    return said("the least wall with short cuts, then the widest narrow cuts that this room allows")


def _shortest(room: Room, outcome: Outcome) -> str:
    """Say how much wall is cut short, and how much column side has a sliver."""
    pairs = list(zip(outcome.axes, outcome.places, strict=True))
    beside = sum(int(axis.column_slivers[place]) for axis, place in pairs) / SUM_PER_MM
    walls = _short_walls(room, pairs, with_columns=len(pairs[0][0].edges) > pairs[0][0].walls)
    if beside < _WORTH_SAYING_MM:
        return walls
    return said("{walls}; beside columns {slivers} under a quarter", walls=walls, slivers=_spoken(room, beside))


def _short_walls(room: Room, pairs: list[tuple[Axis, int]], with_columns: bool) -> str:
    slivers = sum(axis.short_at(place, axis.quarter) for axis, place in pairs)
    halves = sum(axis.short_at(place, axis.half) for axis, place in pairs)
    if halves < _WORTH_SAYING_MM:
        if sum(axis.short_at(place, axis.module // 2) for axis, place in pairs) >= _WORTH_SAYING_MM:
            return said("no wall cut more than {slack} under half a module", slack=_spoken(room, SLACK_MM))
        return said("no wall cut under half a module") if with_columns else said("no cut under half a module")
    under = said("{halves} of wall is cut under half a module", halves=_spoken(room, halves))
    if slivers < _WORTH_SAYING_MM:
        return said("{under}, none under a quarter", under=under)
    return said("{under}, {slivers} of it under a quarter", under=under, slivers=_spoken(room, slivers))


def _spoken(room: Room, mm: float) -> str:
    return spoken_length(mm, room.units)
