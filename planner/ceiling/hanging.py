"""Hangers of a hung ceiling: which joist each wire hangs from, and what it holds.

In: a room, its layout and system, the members of the frame, the services in place, and the most that hangers may be
apart. Out: `Hanging`. Hangers are numbered as one walks: up one main run and down the next.

Rules: wires along the mains no further apart than the limit (4 ft or 1200 mm: ASTM C636 as quoted by building
departments, NAVEDTRA 14044 p. 5-17), one on each side of every splice (NAVEDTRA 14044 p. 5-17), the first within the
system's limit of a wall. Real joists are hung from where a run crosses them; where joists are not given, or do not
suit, the points are spread evenly and a finding says what to do. No wire is tied at a splice itself: where that is
below a joist, the wire leans a little. Services and walls in earthquakes: `service_wires` and `wall_wires` in
`planner.ceiling.holding`.
"""

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import accumulate
from typing import Literal

from planner.ceiling.holding.blocking import blocked, services_blocked
from planner.ceiling.holding.end_wires import end_wires
from planner.ceiling.holding.overhead import (
    PLUMB,
    Up,
    crossings,
    drop_of,
    leans_at_most,
    lies_under,
    names_said,
    point_at,
    stride_along,
    wire_length,
    wire_up,
)
from planner.ceiling.holding.service_wires import service_wires
from planner.ceiling.holding.spacing import Limits, Stride, evenly, fewest, too_long
from planner.ceiling.holding.wall_wires import wall_wires
from planner.ceiling.model import Hanger, Layout, Member, Service
from planner.ceiling.system import System
from planner.findings import Finding, placed
from planner.geometry import TOLERANCE_MM, Point
from planner.lengths import spoken_length
from planner.records import dataclass
from planner.room.outline import Room
from planner.sayings import said

#: How far from a splice its two wires are where any point will do: one slot pitch (common practice, no source).
SPLICE_REACH_MM = 150.0
#: No wire is tied nearer to a splice, where the coupling is: 1 in, 25 mm (common practice, no source).
SPLICE_CLEAR_MM = {True: 25.4, False: 25.0}

SPACING_SOURCE = "ASTM C636 as quoted by building departments; NAVEDTRA 14044 p. 5-17"


@dataclass(frozen=True, slots=True)
class Hanging:
    """Every wire, and what there is to say about where they hang."""

    hangers: tuple[Hanger, ...]
    findings: tuple[Finding, ...]


Overhead = Literal["joists", "a joist all along", "unknown", "parallel", "far apart"]


@dataclass(frozen=True, slots=True)
class _Hung:
    """One main run with the points it hangs from, measured from the wall, which its end may be free of."""

    run: Member
    points: tuple[float, ...]
    by_splice: frozenset[float]
    added: tuple[float, ...] = ()  #: those beside a splice that has no joist between it and the wall
    above: Overhead = "joists"

    @property
    def length(self) -> float:
        """From wall to wall."""
        return self.run.length + sum(self.run.gaps)

    def at(self, point: float) -> Point:
        return point_at(*self.run.wall_to_wall, point)


def hang(
    room: Room,
    layout: Layout,
    system: System,
    members: Sequence[Member],
    services: Sequence[Service],
    apart: float | None = None,
) -> Hanging:
    """Hang a ceiling; nothing is hung where the system is not "hung". `apart` is the system's own when None."""
    if system.fixing != "hung":
        return Hanging((), ())
    limits = Limits(apart or system.hanging.spacing, system.hanging.first)
    hung = [_hung(room, member, limits) for member in members if member.kind == "main tee"]
    wires = [hanger for k, one in enumerate(hung) for hanger in _wires(room, one, back=k % 2 == 1)]
    own = service_wires(room, layout, services, [wire.overhead for wire in wires])
    walls = wall_wires(room, system, members, wires)
    ends = end_wires(room, members, (*wires, *walls.hangers))
    every = (*wires, *own.hangers, *walls.hangers, *ends)
    numbered = (replace(wire, id=f"HW{k}") for k, wire in enumerate(every, 1))
    findings = (*_findings(room, hung, limits), *own.findings, *services_blocked(room, own.hangers), *walls.findings)
    return Hanging(blocked(room, numbered), findings)


def splices(run: Member) -> tuple[float, ...]:
    """Where the pieces of a run meet, as distances from its start."""
    ends = accumulate(piece.length for piece in run.pieces for _ in range(piece.count))
    return tuple(ends)[:-1]


def _from_the_wall(run: Member) -> Iterator[float]:
    """Splices as distances from the wall."""
    return (run.gaps[0] + splice for splice in splices(run))


def _hung(room: Room, run: Member, limits: Limits) -> _Hung:
    joists = room.joists
    if joists is None:
        return _anywhere(run, limits, "unknown")
    stride = stride_along(joists, run.start, run.end)
    if stride <= limits.apart + TOLERANCE_MM:
        crossed = crossings(joists, run.start, run.end)
        return _on_joists(room, run, limits, tuple(run.gaps[0] + at for at in crossed))
    if lies_under(joists, run.start, run.end):
        return _anywhere(run, limits, "a joist all along")
    return _anywhere(run, limits, "parallel" if stride > 5 * joists.spacing else "far apart")


def _on_joists(room: Room, run: Member, limits: Limits, joists: Sequence[float]) -> _Hung:
    clear, length = SPLICE_CLEAR_MM[room.imperial], run.length + sum(run.gaps)
    all_splices = tuple(_from_the_wall(run))
    points = list(_clear_of(all_splices, joists, clear, leans_at_most(room)))
    sides, added = set[float](), list[float]()
    for splice in all_splices:
        before, after = bisect_left(points, splice), bisect_right(points, splice)
        sides |= {*points[max(before - 1, 0) : before], *points[after : after + 1]}
        added += [_beside(splice, length)[0]] * (before == 0) + [_beside(splice, length)[1]] * (after == len(points))
    chosen = fewest(sorted((*points, *added)), length, limits, (*sides, *added))
    return _Hung(run, chosen, frozenset((*sides, *added)), tuple(added))


def _clear_of(all_splices: Sequence[float], joists: Iterable[float], clear: float, most: float) -> Iterator[float]:
    """Where a run is tied below joists: a little aside of one that is over a splice, where the wire may lean so far."""
    for at in joists:
        near = next((splice for splice in all_splices if abs(at - splice) < clear - TOLERANCE_MM), None)
        if near is None:
            yield at
        elif abs((aside := near + math.copysign(clear, at - near)) - at) <= most:
            yield aside


def _beside(splice: float, length: float) -> tuple[float, float]:
    """Points on both sides of a splice, where any will do."""
    return max(splice - SPLICE_REACH_MM, splice / 2), min(splice + SPLICE_REACH_MM, (splice + length) / 2)


def _anywhere(run: Member, limits: Limits, above: Overhead) -> _Hung:
    sides, length = set[float](), run.length + sum(run.gaps)
    for splice in _from_the_wall(run):
        sides |= {*_beside(splice, length)}
    return _Hung(run, evenly(length, limits, sides), frozenset(sides), above=above)


def _wires(room: Room, hung: _Hung, *, back: bool) -> Iterator[Hanger]:
    for at in reversed(hung.points) if back else hung.points:
        kind: Literal["splice wire", "wire"] = "splice wire" if at in hung.by_splice else "wire"
        up = Up(wire_length(room)) if hung.above == "a joist all along" else wire_up(room, hung.at(at))
        yield up.hanger(hung.at(at), hung.run.id, kind)


def _findings(room: Room, hung: Sequence[_Hung], limits: Limits) -> Iterator[Finding]:
    yield from _overhead(room, hung)
    on_joists = [one for one in hung if one.above == "joists"]
    wide = [(one, stride) for one in on_joists for stride in too_long(one.points, one.length, limits)]
    yield from _too_far_apart(room, [(one, stride) for one, stride in wide if not stride.at_wall])
    yield from _too_far_from_wall(room, [(one, stride) for one, stride in wide if stride.at_wall], limits)
    yield from _short_of_joists(room, hung)


def _short_of_joists(room: Room, hung: Sequence[_Hung]) -> Iterator[Finding]:
    """Splices with no joist between them and the wall."""
    short = [(one, at) for one in hung for at in one.added if wire_up(room, one.at(at)).block]
    for at_start in (True, False):
        here = [(one, at) for one, at in short if (at < one.length / 2) is at_start]
        for one, at in here:
            text = said(
                "{run} has a last piece of {length}, and no joist over it for the wire beside its splice.",
                several="{run} have last pieces of {length}, and no joist over them for the wires beside their "
                "splices.",
                run=one.run.id,
                length=spoken_length(one.run.pieces[0 if at_start else -1].length, room.units),
            )
            remedy = said("Set blocking between the joists there; the take-off counts it.")
            yield Finding("note", "wire on each side of a splice", "NAVEDTRA 14044 p. 5-17", text, one.at(at), remedy)


def _overhead(room: Room, hung: Sequence[_Hung]) -> Iterator[Finding]:
    """What is overhead where it is not a joist at every hang point."""
    practice = "common practice, no source"
    if room.joists is None:
        if hung:
            text = said("No joists are given: the hangers are spread evenly, wherever the structure may be.")
            remedy = said(
                "Find the joists, measure them and add  structure: {{joists: ...}}; then each wire is put on one."
            )
            yield Finding("note", "joists not given", practice, text, None, remedy)
        return
    remedies: dict[Overhead, str] = {
        "parallel": said(
            "Set blocking or channel across the joists over the hang points, or turn the main tees (mains:)."
        ),
        "far apart": said("Hang channel across the joists, and the wires from the channel."),
    }
    for above, mend in remedies.items():
        bare = [(one, at) for one in hung if one.above == above for at in one.points if wire_up(room, one.at(at)).block]
        if bare:
            how = (
                said("run between the joists")
                if above == "parallel"
                else said("cross joists further apart than hangers may be")
            )
            text = said(
                "{runs} {how}: {count} wires have nothing to hang from.",
                runs=_named(bare),
                how=how,
                count=len(bare),
            )
            where = bare[0][0].at(bare[0][1]) if len(bare) == 1 else None  # of several the plan shows each
            yield Finding("warn", "hangers need blocking", practice, text, where, mend)


def _too_far_apart(room: Room, wide: list[tuple[_Hung, Stride]]) -> Iterator[Finding]:
    if not wide:
        return
    stride = max((stride for _, stride in wide), key=lambda stride: stride.length)
    text = said(
        "No joist for a hanger within {limit}: up to {widest} apart on {runs}.",
        limit=spoken_length(stride.limit, room.units),
        widest=spoken_length(stride.length, room.units),
        runs=_named(wide),
    )
    remedy = said("Set blocking between the joists{splay}.", splay=_splay(room))
    yield placed(Finding("warn", "hanger spacing", SPACING_SOURCE, text, None, remedy), _middles(wide))


def _too_far_from_wall(room: Room, wide: list[tuple[_Hung, Stride]], limits: Limits) -> Iterator[Finding]:
    """First hangers that are too far from the wall; grave only where the tee would span more than between hangers."""
    if not wide:
        return
    stride = max((stride for _, stride in wide), key=lambda stride: stride.length)
    text = said(
        "No joist for the first hanger within {limit} of the wall: up to {widest} on {runs}.",
        limit=spoken_length(stride.limit, room.units),
        widest=spoken_length(stride.length, room.units),
        runs=_named(wide),
    )
    grave = stride.length > limits.apart + TOLERANCE_MM
    source = "limit of the system file; ASTM C636 at a wall from memory; " + SPACING_SOURCE
    remedy = (
        said("Set blocking at the wall{splay}.", splay=_splay(room))
        if grave
        else said(
            "The wall angle carries the end. {limit} is this system's own limit: ASTM C636, by which grids in inches "
            "are hung, names none at a wall but the {apart} between hangers. Where {limit} must hold, add blocking.",
            apart=spoken_length(limits.apart, room.units),
            limit=spoken_length(limits.first, room.units),
        )
    )
    told = Finding("warn" if grave else "note", "first hanger from the wall", source, text, None, remedy)
    yield placed(told, _middles(wide))


def _middles(wide: Iterable[tuple[_Hung, Stride]]) -> Iterator[Point]:
    """Where hangers are missing."""
    return (one.at((stride.start + stride.end) / 2) for one, stride in wide)


def _splay(room: Room) -> str:
    drop = drop_of(room)
    return (
        said(", or splay a wire by {aside} at most (1 in 6)", aside=spoken_length(drop * PLUMB, room.units))
        if drop
        else ""
    )


def _named(found: Iterable[tuple[_Hung, object]]) -> str:
    return names_said(dict.fromkeys(one.run.id for one, _ in found))
