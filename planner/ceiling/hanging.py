"""Hangers of a hung ceiling: which joist each wire hangs from, and what it holds.

In: a room, its layout and system, the members of the frame, the services in place, and the most that hangers may be
apart. Out: `Hanging`. Hangers are numbered as one walks: up one main run and down the next.

Rules: wires along the mains no further apart than the limit (4 ft or 1200 mm: ASTM C636 as quoted by building
departments, NAVEDTRA 14044 p. 5-17), one on each side of every splice (NAVEDTRA 14044 p. 5-17), the first within the
system's limit of a wall. Real joists are hung from where a run crosses them; where joists are not given, or do not
suit, the points are spread evenly and a finding says what to do. Services and walls in
earthquakes: `service_wires` and `wall_wires` in `planner.ceiling.holding`.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate
from typing import Literal

from planner.ceiling.holding.overhead import (
    PLUMB,
    crossings,
    drop_of,
    lies_under,
    names_said,
    point_at,
    stride_along,
    wire_length,
)
from planner.ceiling.holding.service_wires import service_wires
from planner.ceiling.holding.spacing import Limits, Stride, evenly, fewest, too_long
from planner.ceiling.holding.wall_wires import wall_wires
from planner.ceiling.model import Hanger, Layout, Member, Service
from planner.ceiling.system import System
from planner.findings import Finding
from planner.geometry import TOLERANCE_MM, Point
from planner.lengths import spoken_length
from planner.room.outline import Room
from planner.sayings import said

#: How far from a splice its two wires are where any point will do: one slot pitch (common practice, no source).
SPLICE_REACH_MM = 150.0

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
    one_sided: bool = False  #: a splice has no joist between it and the wall
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
    own = service_wires(room, layout, services)
    walls = wall_wires(room, system, members, wires)
    numbered = (replace(wire, id=f"HW{k}") for k, wire in enumerate((*wires, *own.hangers, *walls.hangers), 1))
    return Hanging(tuple(numbered), (*_findings(room, hung, limits), *own.findings, *walls.findings))


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
        return _on_joists(run, limits, tuple(run.gaps[0] + at for at in crossed))
    if lies_under(joists, run.start, run.end):
        return _anywhere(run, limits, "a joist all along")
    return _anywhere(run, limits, "parallel" if stride > 5 * joists.spacing else "far apart")


def _on_joists(run: Member, limits: Limits, points: tuple[float, ...]) -> _Hung:
    sides, one_sided = set[float](), False
    for splice in _from_the_wall(run):
        before, after = bisect_left(points, splice - TOLERANCE_MM), bisect_right(points, splice + TOLERANCE_MM)
        sides |= {*points[max(before - 1, 0) : before], *points[after : after + 1]}
        one_sided |= before == 0 or after == len(points)
    return _Hung(run, fewest(points, run.length + sum(run.gaps), limits, sides), frozenset(sides), one_sided)


def _anywhere(run: Member, limits: Limits, above: Overhead) -> _Hung:
    sides, length = set[float](), run.length + sum(run.gaps)
    for splice in _from_the_wall(run):
        sides |= {max(splice - SPLICE_REACH_MM, splice / 2), min(splice + SPLICE_REACH_MM, (splice + length) / 2)}
    return _Hung(run, evenly(length, limits, sides), frozenset(sides), above=above)


def _wires(room: Room, hung: _Hung, *, back: bool) -> Iterator[Hanger]:
    length = wire_length(room)
    for at in reversed(hung.points) if back else hung.points:
        kind: Literal["splice wire", "wire"] = "splice wire" if at in hung.by_splice else "wire"
        yield Hanger("", hung.at(at), hung.run.id, kind, length)


def _findings(room: Room, hung: Sequence[_Hung], limits: Limits) -> Iterator[Finding]:
    yield from _overhead(room, hung)
    on_joists = [one for one in hung if one.above == "joists"]
    wide = [(one, stride) for one in on_joists for stride in too_long(one.points, one.length, limits)]
    yield from _too_far_apart(room, [(one, stride) for one, stride in wide if not stride.at_wall])
    yield from _too_far_from_wall(room, [(one, stride) for one, stride in wide if stride.at_wall], limits)
    if one_sided := [one for one in hung if one.one_sided]:
        text = said("A splice of {runs} has a joist on one side only before the wall.", runs=_runs(one_sided))
        remedy = said("Set blocking on the other side, or saw the run so that its splice falls elsewhere.")
        where = one_sided[0].run.end
        yield Finding("note", "wire on each side of a splice", "NAVEDTRA 14044 p. 5-17", text, where, remedy)


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
        runs = [one for one in hung if one.above == above and one.points]
        if runs:
            how = (
                said("run between the joists")
                if above == "parallel"
                else said("cross joists further apart than hangers may be")
            )
            text = said(
                "{runs} {how}: {count} wires have nothing to hang from.",
                runs=_runs(runs),
                how=how,
                count=sum(len(one.points) for one in runs),
            )
            yield Finding("warn", "hangers need blocking", practice, text, runs[0].run.start, mend)


def _too_far_apart(room: Room, wide: list[tuple[_Hung, Stride]]) -> Iterator[Finding]:
    if not wide:
        return
    one, stride = max(wide, key=lambda pair: pair[1].length)
    text = said(
        "No joist for a hanger within {limit}: up to {widest} apart on {runs}.",
        limit=spoken_length(stride.limit, room.units),
        widest=spoken_length(stride.length, room.units),
        runs=_named(wide),
    )
    where = one.at((stride.start + stride.end) / 2)
    yield Finding(
        "warn",
        "hanger spacing",
        SPACING_SOURCE,
        text,
        where,
        said("Set blocking between the joists{splay}.", splay=_splay(room)),
    )


def _too_far_from_wall(room: Room, wide: list[tuple[_Hung, Stride]], limits: Limits) -> Iterator[Finding]:
    """First hangers that are too far from the wall; grave only where the tee would span more than between hangers."""
    if not wide:
        return
    one, stride = max(wide, key=lambda pair: pair[1].length)
    text = said(
        "No joist for the first hanger within {limit} of the wall: up to {widest} on {runs}.",
        limit=spoken_length(stride.limit, room.units),
        widest=spoken_length(stride.length, room.units),
        runs=_named(wide),
    )
    where = one.at((stride.start + stride.end) / 2)
    grave = stride.length > limits.apart + TOLERANCE_MM
    source = "limit of the system file; ASTM C636 at a wall from memory; " + SPACING_SOURCE
    remedy = (
        said("Set blocking at the wall{splay}.", splay=_splay(room))
        if grave
        else said(
            "The wall angle carries the end: ASTM C636, by which grids in inches are hung, names no limit here but the "
            "{apart} between hangers. Where this system's {limit} must hold, add blocking.",
            apart=spoken_length(limits.apart, room.units),
            limit=spoken_length(limits.first, room.units),
        )
    )
    yield Finding("warn" if grave else "note", "first hanger from the wall", source, text, where, remedy)


def _splay(room: Room) -> str:
    drop = drop_of(room)
    return (
        said(", or splay a wire by {aside} at most (1 in 6)", aside=spoken_length(drop * PLUMB, room.units))
        if drop
        else ""
    )


def _named(wide: Iterable[tuple[_Hung, Stride]]) -> str:
    return names_said(dict.fromkeys(one.run.id for one, _ in wide))


def _runs(hung: Iterable[_Hung]) -> str:
    return names_said(one.run.id for one in hung)
