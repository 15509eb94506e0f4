"""What the framing and hanging plan says beside the drawing: legend, members, hangers, runs, findings.

In: a plan, the width of a column, how many rows a list may have. Out: stacks.
"""

from collections import Counter
from collections.abc import Iterator, Sequence

from planner.ceiling.holding.service_wires import held_apart, weight_said
from planner.ceiling.members.left_first import pieces_in_order, places_in_order
from planner.ceiling.model import Brace, Member, Piece
from planner.drawing import words
from planner.drawing.dimensions import spoken, written, written_piece
from planner.drawing.hanger_symbols import HANGER_KINDS, TIE_DOT, brace_block, hanger_block
from planner.drawing.labels import Heights
from planner.drawing.legend import Entry, column_entries, corner_entry, finding_entries, services_entries, stroke_sample
from planner.drawing.lettering import clean
from planner.drawing.member_roles import JOINTED, MEMBER_ROLES, TOLD_KINDS
from planner.drawing.place import Place
from planner.drawing.roles import Role
from planner.drawing.schedules import SCHEDULES, Limits, finding_notes
from planner.drawing.shapes import Block, Circle
from planner.drawing.splices import joint_entries
from planner.drawing.symbols import look_of
from planner.drawing.tables import Stack, compact_table, notes, signed_notes, table
from planner.findings import Finding
from planner.geometry import distance
from planner.lengths import Rounding
from planner.planning import Plan

_N_PER_M_OF_LB_FT = 14.5939
_N_PER_LB = 4.4482216
#: Lines of the list of runs; a longer one ends with a sentence that names the files that have all.
MOST_RUNS = 400
#: Kinds whose lines are told piece by piece, as they are put together end to end.
_TOLD_BY_PIECES = (*JOINTED, "furring strip")
#: A finding is about framing or hanging when its rule has one of these words.
_FRAMING = ("main", "tee", "hang", "wire", "splice", "joist", "duty", "load", "seismic", "brac", "furring", "screw")


def about_framing(finding: Finding) -> bool:
    """True for a finding that the person who frames and hangs must know."""
    rule = finding.rule.lower()
    return any(word in rule for word in _FRAMING)


def framing_words(
    plan: Plan, heights: Heights, place: Place, limits: Limits, width: float, remarks: Sequence[str]
) -> list[Stack]:
    """All that is said beside the plan and its legend; `limits.classes` is how many rows the list of runs may have."""
    stacks = (
        _members(plan, width, heights),
        _hangers(plan, width, heights),
        _loads(plan, width, heights) if limits.findings else None,
        runs(plan, width, limits.classes, heights, place),
        finding_notes(plan, width, limits.findings, heights, place, about_framing) if limits.findings else None,
        _notes(plan, remarks, place, width, heights),
    )
    return [stack for stack in stacks if stack is not None]


def framing_signs(plan: Plan, scale: float, heights: Heights) -> list[Entry]:
    """What is on the plan at 1:`scale`."""
    kinds = {member.kind for member in plan.ceiling.members}
    entries = [Entry(stroke_sample(Role.WALL), words.say("legend.wall"))]
    entries += [
        Entry(stroke_sample(MEMBER_ROLES[kind]), words.say(f"members.{kind}")) for kind in TOLD_KINDS if kind in kinds
    ]
    if plan.room.joists is not None:
        entries.append(Entry(stroke_sample(Role.JOIST), words.say("legend.joist")))
    entries += joint_entries(plan.ceiling.members)
    half = 0.5 * heights[Role.LEGEND] + 0.3
    entries += [*column_entries(plan, half), corner_entry(0.5 * half, half)]
    entries += finding_entries(filter(about_framing, plan.findings), half)
    looks = [look_of(service, scale) for service in plan.ceiling.services]
    return [*entries, *_held_entries(plan, scale), *services_entries(plan, looks, scale, heights)]


def _held_entries(plan: Plan, scale: float) -> Iterator[Entry]:
    """Hangers by their kinds, and braces, with how many there are."""
    counts = Counter(str(hanger.kind) for hanger in plan.ceiling.hangers)
    for kind in HANGER_KINDS:
        if counts[kind]:
            yield _counted(
                words.say(f"hangers.{kind}"), counts[kind], hanger_block(kind, 1.0), hanger_block(kind, scale)
            )
    if blocks := len({hanger.block for hanger in plan.ceiling.hangers if hanger.block}):
        what = words.say("legend.counted", what=words.say("legend.blocking"), count=blocks)
        yield Entry(stroke_sample(Role.FURRING), what)
    if any(hanger.top is not None for hanger in plan.ceiling.hangers):
        (line,) = stroke_sample(Role.HANGER)
        yield Entry((line, Circle(Role.HANGER, line.end, TIE_DOT, fill=True)), words.say("legend.leaning"))
    if plan.ceiling.braces:
        yield _counted(words.say("legend.brace"), len(plan.ceiling.braces), brace_block(1.0), brace_block(scale))


def _counted(what: str, count: int, sample: Block, block: Block) -> Entry:
    return Entry(sample.shapes, words.say("legend.counted", what=what, count=count), block.name, what)


def _members(plan: Plan, width: float, heights: Heights) -> Stack:
    """How many lines of each kind, of how many pieces, how long together."""
    rows = []
    for kind in TOLD_KINDS:
        alike = [member for member in plan.ceiling.members if member.kind == kind]
        if alike:
            pieces = sum(piece.count for member in alike for piece in member.pieces)
            total = sum(member.length for member in alike)
            rows.append((words.say(f"members.{kind}"), str(len(alike)), str(pieces), spoken(total, plan.room.units)))
    return table(words.say("framing.members"), "lrrr", words.row("framing.member heads"), rows, width, heights)


def _hangers(plan: Plan, width: float, heights: Heights) -> Stack | None:
    """Wires of each kind by the length to cut."""
    hangers = plan.ceiling.hangers
    if not hangers:
        return None
    counts = Counter(
        (hanger.kind, "" if hanger.length is None else written(hanger.length, plan.room.units, Rounding.UP))
        for hanger in hangers
    )
    rows = [
        (words.say(f"hanger kinds.{kind}"), length, str(counts[kind, length]))
        for kind, length in sorted(counts, key=lambda key: (HANGER_KINDS.index(key[0]), key[1]))
    ]
    rows += _brace_rows(plan)
    last = [words.say("hangers.tied")] if any(hanger.length is not None for hanger in hangers) else []
    if apart := held_apart(plan.ceiling.services):
        named = ", ".join(f"{each.name} ({weight_said(each.weight_kg or 0.0, plan.room.imperial)})" for each in apart)
        last.append(words.say("hangers.apart", names=clean(named)))
    heading = (
        words.say("hangers.heading screws")
        if all(hanger.kind == "screw" for hanger in hangers)
        else words.say("hangers.heading")
    )
    return compact_table(heading, "lrr", words.row("hangers.heads"), rows, width, heights, last)


def _brace_rows(plan: Plan) -> Iterator[tuple[str, str, str]]:
    """The splayed wires and the posts of all braces."""
    brace, count = plan.ceiling.brace, len(plan.ceiling.braces)
    if count:
        wire, post = (
            (written(length, plan.room.units, Rounding.UP) for length in (brace.wire, brace.post))
            if brace
            else ("", "")
        )
        yield words.say("hanger kinds.brace wire"), wire, str(Brace.WIRES * count)
        yield words.say("hanger kinds.brace post"), post, str(count)


def _loads(plan: Plan, width: float, heights: Heights) -> Stack | None:
    """What the mains and the heaviest hanger bear; None when it was not computed."""
    loads = plan.ceiling.loads
    if loads is None:
        return None
    units, imperial = plan.room.units, plan.room.imperial
    rows = [
        (words.say("loads.duty"), words.named(loads.duty)),
        (words.say("loads.spacing"), spoken(loads.spacing, units)),
        (words.say("loads.carried"), _load(loads.carried, imperial)),
        (words.say("loads.allowed"), _load(loads.allowed, imperial)),
    ]
    if loads.heaviest:
        force = f"{loads.reaction / _N_PER_LB:.0f} lb" if imperial else f"{loads.reaction:.0f} N"
        rows.append((words.say("loads.heaviest"), words.say("loads.at hanger", force=force, hanger=_place_of(plan))))
    return table(words.say("loads.heading"), "lr", (), rows, width, heights)


def _place_of(plan: Plan) -> str:
    """The hanger that bears most, by its run and its place in the list of hang points, as no plan has its id."""
    heaviest = plan.ceiling.loads.heaviest if plan.ceiling.loads else ""
    hanger = next((each for each in plan.ceiling.hangers if each.id == heaviest), None)
    if hanger is None:
        return heaviest
    run = next((member for member in plan.ceiling.members if member.id == hanger.member), None)
    if run is None:
        return hanger.member
    (at,) = places_in_order(run, (distance(run.start, hanger.at),))
    return words.say("loads.place", run=run.id, at=spoken(at, plan.room.units))


def _load(newtons_per_metre: float, imperial: bool) -> str:
    return f"{newtons_per_metre / _N_PER_M_OF_LB_FT:.1f} lb/ft" if imperial else f"{newtons_per_metre:.0f} N/m"


def runs(plan: Plan, width: float, limit: int | None, heights: Heights, place: Place | None = None) -> Stack | None:
    """The pieces of every run, alike neighbours in one line; where there are more than `limit`, on another sheet."""
    rows = list(_run_rows(plan))
    if not rows:
        return None
    if limit is not None and len(rows) > limit:
        see = place.see(SCHEDULES) if place else ""
        return notes(words.say("framing.runs"), (see[0].upper() + see[1:] + ".",), width, heights) if see else None
    more = [("", words.say("left out.rows", n=len(rows) - MOST_RUNS))] if len(rows) > MOST_RUNS else []
    return signed_notes(
        words.say("framing.runs"), [*rows[:MOST_RUNS], *more, ("", words.say("framing.runs from"))], width, heights
    )


def _run_rows(plan: Plan) -> Iterator[tuple[str, str]]:
    units = plan.room.units
    group: list[Member] = []
    text = ""
    for member in (member for kind in _TOLD_BY_PIECES for member in plan.ceiling.members if member.kind == kind):
        said = " + ".join(_cut_length(piece, units) for piece in pieces_in_order(member))
        if group and (said != text or member.kind != group[0].kind):
            yield _names(group), text
            group = []
        text = said
        group.append(member)
    if group and text:
        yield _names(group), text


def _cut_length(piece: Piece, units: str) -> str:
    """A piece as it is sawn, or as it is sold where it is used whole."""
    length = written_piece(piece.length, units, whole=piece.whole)
    return f"{piece.count} × {length}" if piece.count > 1 else length


def _names(group: Sequence[Member]) -> str:
    first, last = group[0].id, group[-1].id
    return first if len(group) == 1 else words.say("framing.to", first=first, last=last)


def _notes(plan: Plan, remarks: Sequence[str], place: Place, width: float, heights: Heights) -> Stack | None:
    see = place.see(SCHEDULES)
    direct = plan.ceiling.system.direct is not None
    told = words.say("framing.listed screws", see=see) if direct else words.say("framing.listed", see=see)
    listed = [told] if see else []
    said = [*([] if plan.room.joists else [words.say("hangers.joists not given")]), *remarks, *listed]
    return notes(words.say("sheets.notes"), said, width, heights) if said else None
