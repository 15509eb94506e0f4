"""Blocking between joists, for wires that have no joist near enough.

In: the wires, of which those that need blocking are known. Out: the same, each with the number of its blocking; and
what is said of services that need it.

Rules: a wire leans 1 in 6 at most (ASTM C636 as quoted by building departments); one of a service may be slack (a
building department's handout, Everett WA), so it needs blocking only where no joist is within 45 degrees (`SLACK`;
common practice, no source). Wires between the same two joists, at the same place along them, share their blocking
(common practice, no source).
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from planner.ceiling.holding.overhead import SLACK, along_joists, bay_of, leans_at_most, names_said, to_joist
from planner.ceiling.model import Hanger
from planner.findings import Finding
from planner.lengths import Rounding, spoken_length
from planner.room.outline import Room
from planner.sayings import said

#: Wires that are no further from each other along the joists share their blocking (common practice, no source).
SHARED_MM = 100.0

SOURCE = "building department handout (Everett WA): may be slack; 45 degrees: common practice, no source"


def blocked(room: Room, wires: Iterable[Hanger]) -> tuple[Hanger, ...]:
    """The wires with the numbers of their blocking, from 1, in the order of the wires."""
    wires, joists = tuple(wires), room.joists
    if joists is None or not any(wire.block for wire in wires):
        return wires
    order = sorted(
        (bay_of(joists, wire.at), along_joists(joists, wire.at), k) for k, wire in enumerate(wires) if wire.block
    )
    first_of: dict[int, int] = {}
    start: tuple[int, float, int] | None = None
    for bay, along, k in order:
        if start is None or bay != start[0] or along - start[1] > SHARED_MM:
            start = (bay, along, k)
        first_of[k] = start[2]
    numbers = {first: number for number, first in enumerate(sorted(set(first_of.values())), 1)}
    return tuple(replace(w, block=numbers[first_of[k]]) if k in first_of else w for k, w in enumerate(wires))


def services_blocked(room: Room, wires: Iterable[Hanger]) -> Iterator[Finding]:
    """Services whose wires, though they may be slack, reach no joist within 45 degrees."""
    joists, far = room.joists, [wire for wire in wires if wire.block]
    if joists is None or not far:
        return
    aside = [to_joist(joists, wire.at) for wire in far]
    text = said(
        "Wires of {services} have no joist near enough ({count}): the nearest is up to {aside} aside, and {most} is "
        "allowed (45 degrees).",
        services=names_said(dict.fromkeys(wire.member for wire in far)),
        count=len(far),
        aside=spoken_length(max(aside), room.units),
        most=spoken_length(leans_at_most(room, SLACK), room.units, Rounding.DOWN),
    )
    remedy = said("Set blocking between the joists over them before the grid goes up; the take-off counts it.")
    where = far[0].at if len(far) == 1 else None  # of several the plan of the framing shows each
    yield Finding("warn", "hangers need blocking", SOURCE, text, where, remedy)
