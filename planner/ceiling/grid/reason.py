"""One sentence that says why the grid lies where it lies, with real numbers.

In: the search axes, the places chosen, what the room file fixed and what came out. Out: the sentence.
"""

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import numpy as np

from planner.ceiling.grid.axis import SLACK_MM, Axis
from planner.ceiling.grid.borders import but_for_columns
from planner.ceiling.grid.circle import SUM_PER_MM
from planner.ceiling.grid.gaps import Ints, narrower, wider
from planner.geometry import TOLERANCE_MM, Frame, Point
from planner.lengths import spoken_length
from planner.records import dataclass
from planner.room.outline import Room, Wall
from planner.sayings import joined, linked, said

#: Wall cut short over less than this goes without saying: the tip of a corner that is not quite square.
_WORTH_SAYING_MM = 25.0
#: A wall that leans less than this from a grid line lies along the grid.
_ALONG_DEG = 5.0

#: Borders that differ by less are the same ones.
_OTHER_MM = 2.0

#: A wall, or a chord of a bowed one, with its ends in the grid's directions.
_Turned = tuple[Wall, Point, Point]

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
    axis, place = outcome.axes[number], outcome.places[number]
    near, far = axis.from_low(place), axis.from_high(place)
    low, high = _side(room, outcome, number, 0), _side(room, outcome, number, 1)
    if not (low and high):
        return linked(joined((_length(room, axis, width), side)) for width, side in ((near, low), (far, high)) if side)
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


def _side(room: Room, outcome: Outcome, number: int, end: int) -> str:
    """One end of an axis in words, with the wall that is furthest out there where others face the same way.

    The border is measured at the outermost point, which is said of a wall that leans or bows. Empty where no wall lies
    along the grid there.
    """
    axis, across, side = outcome.axes[number], Frame((0.0, 0.0), outcome.angle_deg), _SIDES[number][end]
    limit = (axis.low, axis.high)[end] / axis.per_mm
    turned = [(wall, across.inward(one), across.inward(other)) for wall, (one, other) in _sides(room)]
    along = [each for each in turned if abs(each[2][number] - each[1][number]) <= _off_at_most(each, number)]
    outermost = [each for each in along if _off(each, number, limit) <= _off_at_most(each, number)]
    if not outermost:
        return ""
    wall = min(outermost, key=lambda each: (round(_off(each, number, limit), 3), -_off_at_most(each, number)))[0]
    reach = [across.inward(point)[number] for point in wall.points]
    if max(reach) - min(reach) >= _WORTH_SAYING_MM:
        return said("{side} ({wall} at its furthest)", side=side, wall=wall.name)
    alike = {each.name for each, one, other in along if (other[1 - number] > one[1 - number]) == (end != number)}
    return said("{side} ({wall})", side=side, wall=wall.name) if len(alike) > 1 else side


def _off_at_most(side: _Turned, number: int) -> float:
    """How far the ends of a side may be off a grid line for it to lie along the grid."""
    return abs(side[2][1 - number] - side[1][1 - number]) * math.tan(math.radians(_ALONG_DEG))


def _off(side: _Turned, number: int, limit: float) -> float:
    return max(abs(point[number] - limit) for point in side[1:])


def _sides(room: Room) -> Iterator[tuple[Wall, tuple[Point, Point]]]:
    """Every wall from corner to corner, and the chords of bowed ones: they may lie along the grid at the apex."""
    for wall in room.walls:
        yield wall, (wall.start, wall.end)
        if wall.arc is not None:
            yield from ((wall, chord) for chord in pairwise(wall.points))


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
    return said("as little wall as possible with cuts under half a module; those cuts as wide as the room allows")


def _shortest(room: Room, outcome: Outcome) -> str:
    """Say how much wall is cut short, and how much column side has a sliver."""
    pairs = list(zip(outcome.axes, outcome.places, strict=True))
    beside = sum(int(axis.column_slivers[place]) for axis, place in pairs) / SUM_PER_MM
    walls = _short_walls(room, pairs, with_columns=len(pairs[0][0].edges) > pairs[0][0].walls)
    before = sum(before_columns(axis, axis.half) for axis, _ in pairs)
    if before >= _WORTH_SAYING_MM:
        walls = said(
            "{walls}; before {before} of wall a column or pipe stands nearer than that",
            walls=walls,
            before=_spoken(room, before),
        )
    if beside < _WORTH_SAYING_MM:
        return walls
    return said("{walls}; beside columns {slivers} under a quarter", walls=walls, slivers=_spoken(room, beside))


def before_columns(axis: Axis, limit: int) -> float:
    """Millimetres of wall with a column or pipe nearer to it than a limit: short wherever the grid falls."""
    parts = axis.parts
    facing = parts.taken((parts.edge < axis.walls) & (parts.opposite >= axis.walls))
    return float(wider(narrower(facing, limit), axis.alike).length.sum()) / axis.per_mm


def _short_walls(room: Room, pairs: list[tuple[Axis, int]], with_columns: bool) -> str:
    slivers = sum(_cut_short(axis, place, axis.quarter) for axis, place in pairs)
    halves = sum(_cut_short(axis, place, axis.half) for axis, place in pairs)
    if halves < _WORTH_SAYING_MM:
        if sum(_cut_short(axis, place, axis.module // 2) for axis, place in pairs) >= _WORTH_SAYING_MM:
            return said("no wall cut more than {slack} under half a module", slack=_spoken(room, SLACK_MM))
        return said("no wall cut under half a module") if with_columns else said("no cut under half a module")
    under = said("{halves} of wall is cut under half a module", halves=_spoken(room, halves))
    if slivers < _WORTH_SAYING_MM:
        return said("{under}, none under a quarter", under=under)
    return said("{under}, {slivers} of it under a quarter", under=under, slivers=_spoken(room, slivers))


def _cut_short(axis: Axis, place: int, limit: int) -> float:
    """Millimetres of wall that the grid cuts under a limit, without what a column or pipe is before."""
    return axis.short_at(place, limit) - before_columns(axis, limit)


def _spoken(room: Room, mm: float) -> str:
    return spoken_length(mm, room.units)
