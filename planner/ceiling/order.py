"""The order of work: what to do one after the other, with the room's own numbers, for the person on the ladder.

In: a room and its ceiling, and what was found. Out: one text for each step; its place in the row is its number.

Order of a hung ceiling: wall angle, wires, mains, cross tees, panels (NAVEDTRA 14044 p. 5-17), full panels first,
border panels last (from memory of p. 5-18). On grids fixed to the joists: level, furring, track, carriers, then panels
and cross tees row by row, and the cover strips after the panels (US patent 6,205,733: the cap goes on after the panel;
the rest from memory).
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise

from planner.ceiling.direct import END_CLEAR_MM, OUT_OF_LEVEL_MM
from planner.ceiling.holding.service_wires import held_apart
from planner.ceiling.members.trim import bent_places
from planner.ceiling.model import Ceiling
from planner.ceiling.proof_strings import allowance
from planner.ceiling.setout import STRING
from planner.ceiling.steps.frame import cross_tees_said, runs_said
from planner.ceiling.steps.holes import drilled_panels
from planner.ceiling.steps.panels import cut_panels, full_panels, low_panels, parted_panels
from planner.ceiling.steps.pipes import panels_round_pipes
from planner.ceiling.steps.work import Work, ids_said, names_said
from planner.findings import Finding
from planner.geometry import TOLERANCE_MM, distance
from planner.lengths import Rounding
from planner.room.outline import Room
from planner.room.service_kinds import KINDS
from planner.sayings import Said, joined, linked, said

#: More lengths of wire than this are not told one by one.
MOST_LENGTHS = 4
#: Of so many remedies of what says stop each is told; of more, that they stand with the findings.
MOST_REMEDIES = 3


def order_of_work(room: Room, ceiling: Ceiling, findings: Sequence[Finding] = ()) -> tuple[str, ...]:
    """Every step, in order; lengths in the room's units, cuts rounded down, marks to the nearest.

    Where one of `findings` says stop, the first step is to mend that.
    """
    work = Work(room, ceiling)
    steps = _direct_steps(work) if ceiling.system.direct else _hung_steps(work)
    return tuple(step for step in (_stopped(findings), *steps) if step)


def _stopped(findings: Sequence[Finding]) -> str:
    """What to do before anything is bought, by the remedies of what says stop; empty where nothing does."""
    stops = [finding for finding in findings if finding.severity == "stop"]
    if not stops:
        return ""
    remedies = list(dict.fromkeys(finding.remedy for finding in stops))
    told = all(remedies) and len(remedies) <= MOST_REMEDIES
    return said(
        "Do not order, cut or hang anything yet. {remedies} When that is done, plan anew.",
        remedies=joined(remedies) if told else said("Mend what the findings marked STOP are about."),
    )


def _hung_steps(work: Work) -> Iterator[str]:
    ceiling = work.ceiling
    joint = said("overlap") if ceiling.system.corners == "lapped" else said("mitre")
    yield (
        said(
            "Strike a level line round the room {level}. Fix the wall angle with its underside on the line, "
            "a screw or nail into every stud, at most {fixings} apart; {joint} the corners.",
            level=work.level,
            fixings=_fixings(work),
            joint=joint,
        )
        + _bent_angle(work)
    )
    yield _strings_said(work)
    yield _wires_said(work)
    yield from runs_said(work, "main tee")
    yield cross_tees_said(work)
    yield _squareness_said(work)
    yield _braces_said(work)
    yield _services_said(work)
    yield drilled_panels(work)
    yield parted_panels(work)
    yield panels_round_pipes(work)
    yield full_panels(work)
    yield cut_panels(work)


def _bent_angle(work: Work) -> str:
    """Where the wall angle follows a curve, to which no straight length can be fixed."""
    places = bent_places(work.ceiling.members, work.room)
    if not places:
        return ""
    return said(" Along the curve at {places} fix angle that bends, or snip its legs.", places=", ".join(places))


def _direct_steps(work: Work) -> Iterator[str]:
    room, ceiling = work.room, work.ceiling
    direct = ceiling.system.direct
    assert direct is not None
    if room.joists is not None:
        way = said("square to") if room.joists.direction == "across" else said("parallel to")
        first = (
            said("the first {first} from {corner}", first=work.said(room.joists.first), corner=work.first_corner)
            if room.joists.found
            else said("the first wherever it lies")
        )
        yield (
            said(
                "Find the joists and mark them on the walls: {first}, then every {spacing}, {way} wall {wall}.",
                first=first,
                spacing=work.said(room.joists.spacing),
                way=way,
                wall=room.walls[0].name,
            )
        )
    yield (
        said(
            "Stretch a string under the joists, both ways. Where they are out by more than {out_of_level}, "
            "shim down to the lowest.",
            out_of_level=work.said(OUT_OF_LEVEL_MM),
        )
    )
    if strips := work.of("furring strip"):
        joints = said("joints under joists and staggered from row to row, two nails at each joist")
        yield said(
            "Nail {count} rows of furring across the joists, {ids}: {joints}.",
            count=len(strips),
            ids=ids_said(strips),
            joints=joints,
        )
    tracks = {member.id for member in work.of("track")}
    on_track = sum(screw.member in tracks for screw in ceiling.hangers)
    yield (
        said(
            "Strike a level line round the room {level}. Screw the track to the walls with its face on the "
            "line: {on_track} screws into studs, at most {track_screws} apart.",
            level=work.level,
            on_track=on_track,
            track_screws=work.said(direct.track_screws),
        )
    )
    yield _strings_said(work)
    yield (
        said(
            "Strike a chalk line for each carrier {chalk_offset} beside its middle, so that it stays in "
            "sight when the carrier is up.",
            chalk_offset=work.said(direct.chalk_offset),
        )
    )
    yield from runs_said(work, "carrier")
    screws = sum(screw.kind == "screw" for screw in ceiling.hangers) - on_track
    to = said("furring strip") if work.of("furring strip") else said("joist")
    doubled = _doubled(ceiling)
    yield said(
        "Put a screw through the carriers at every {to} they cross{doubled}: {screws} in all.",
        to=to,
        doubled=said(", and two where two pieces meet at one ({count} times)", count=doubled) if doubled else "",
        screws=screws,
    )
    yield _services_said(work)
    yield drilled_panels(work)
    yield parted_panels(work)
    yield panels_round_pipes(work)
    yield low_panels(work)
    yield (
        said(
            "Snap the cover strips {ids} over the carriers when the panels on both sides are in; keep their "
            "joints away from the carriers' joints, as drawn.",
            ids=ids_said(work.of("cover strip")),
        )
    )


def _doubled(ceiling: Ceiling) -> int:
    """How often two pieces of a carrier meet at what it is screwed to, and have a screw each."""
    starts = {member.id: member.start for member in ceiling.members if member.kind == "carrier"}
    along: dict[str, list[float]] = {name: [] for name in starts}
    for screw in ceiling.hangers:
        if screw.member in starts:
            along[screw.member].append(distance(starts[screw.member], screw.at))
    near = 2 * END_CLEAR_MM + TOLERANCE_MM
    return sum(after - before <= near for row in along.values() for before, after in pairwise(sorted(row)))


def _fixings(work: Work) -> str:
    """NAVEDTRA 14044 p. 5-17: fixings of the wall angle at 24 in."""
    return work.said(609.6 if work.room.imperial else 600.0)


def _strings_said(work: Work) -> str:
    """The two strings, and the diagonal that proves them square best."""
    setout = work.ceiling.setout
    if setout is None or not setout.lines:
        return ""
    names = [what.values["what"] for _, _, what in setout.lines if isinstance(what, Said) and what.template == STRING]
    text = said(
        "Mark the walls as on the set-out sheet and stretch strings for {lines}.",
        lines=linked(names, "{some} and the {last}"),
    )
    if setout.diagonals:
        best = setout.diagonals[0]
        return text + said(
            " They are square when the tape from {between} reads {length}, give or take {off}: no tape is truer than "
            "that.",
            between=best.between,
            length=work.said(best.length),
            off=work.said(allowance(best.length), Rounding.UP),
        )
    return text + said(
        " No diagonal is short enough to tape: prove them square with a laser, or with a triangle of 3, 4 and 5 on "
        "the strings."
    )


def _wires_said(work: Work) -> str:
    hangers = work.ceiling.hangers
    if not hangers:
        return ""
    blocks = len({hanger.block for hanger in hangers if hanger.block})
    first = (
        said(
            "First set blocking between the joists where the framing plan shows it ({count}): no joist is near enough "
            "there. ",
            count=blocks,
        )
        if blocks
        else ""
    )
    text = said(
        "Fix {count} wires to the structure where the framing plan shows them{cut}. Pull each straight "
        "and bend it square at the string; three full turns at each tie.",
        count=len(hangers),
        cut=_wire_lengths_said(work),
    )
    leaning = sum(hanger.top is not None for hanger in hangers)
    last = (
        said(
            " {count} of them lean from the joist to where they are tied, as drawn: wires of tees 1 in 6 at most, "
            "wires of services 45 degrees at most. All others hang plumb.",
            count=leaning,
        )
        if leaning
        else ""
    )
    return joined((first, text, last), "")


def _wire_lengths_said(work: Work) -> str:
    """How long to cut them; of many lengths the longest, which serves for all."""
    counts = Counter(hanger.length for hanger in work.ceiling.hangers if hanger.length is not None)
    if not counts:
        return ""
    if 1 < len(counts) <= MOST_LENGTHS:
        each = (
            said("{count} at {length}", count=counts[mm], length=work.said(mm, Rounding.UP)) for mm in sorted(counts)
        )
        return said(", cut to length: {lengths}", lengths=joined(each, ", "))
    return said(", cut {length} long", length=work.said(max(counts), Rounding.UP))


def _squareness_said(work: Work) -> str:
    width, depth = work.ceiling.layout.module
    across = work.said(distance((0.0, 0.0), (width, depth)))
    return said(
        "Prove the first bay: both diagonals of a module read {across}. Sight along the mains and level "
        "them by the wires.",
        across=across,
    )


def _braces_said(work: Work) -> str:
    """Where an earthquake asks for bracing; see `planner.ceiling.holding.bracing`."""
    brace, count = work.ceiling.brace, len(work.ceiling.braces)
    if not count:
        return ""
    if brace is None:
        return said(
            "Brace the ceiling where the framing plan shows it, {count} times: a post up to the structure, and four "
            "wires splayed to four sides, no steeper than 45 degrees, pulled tight.",
            count=count,
        )
    return said(
        "Brace the ceiling where the framing plan shows it, {count} times: a post of {post} up to the structure, and "
        "four wires of {wire} splayed to four sides, no steeper than 45 degrees, pulled tight.",
        count=count,
        post=work.said(brace.post),
        wire=work.said(brace.wire, Rounding.UP),
    )


def _services_said(work: Work) -> str:
    apart = {service.name for service in held_apart(work.ceiling.services)}
    laid = [each.name for each in work.ceiling.services if KINDS[each.kind].form == "lay-in" and each.name not in apart]
    cabled = any(KINDS[each.kind].electric for each in work.ceiling.services if each.name in laid)
    wiring = said("; a licensed person does the wiring") if cabled else ""
    parts = []
    if laid:
        names = names_said(laid)
        parts.append(
            said("Set {names} in place on separate wires, before the panels{wiring}.", names=names, wiring=wiring)
            if work.ceiling.system.fixing == "hung"
            else said(
                "Set {names} in place before the panels, fixed to the joists, not to the grid{wiring}.",
                names=names,
                wiring=wiring,
            )
        )
    if apart:
        parts.append(
            said(
                "Put {names} in on the hangers that whoever fits them has put up: no weight on the grid.",
                names=names_said(sorted(apart)),
            )
        )
    return joined(parts)
