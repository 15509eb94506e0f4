"""What the framing and hanging plan says beside the drawing: legend, members, hangers, runs, findings.

In: a plan, the width of a column, how many rows a list may have. Out: stacks.
"""

from collections import Counter
from collections.abc import Iterator, Sequence

from planner.ceiling.model import Member, Piece
from planner.drawing import words
from planner.drawing.dimensions import written
from planner.drawing.hanger_symbols import brace_block, hanger_block
from planner.drawing.labels import Heights
from planner.drawing.legend import Entry, legend_row, services_entries, stroke_sample
from planner.drawing.member_roles import MEMBER_ROLES, RUNS
from planner.drawing.place import Place
from planner.drawing.roles import Role
from planner.drawing.scale_bar import scale_bar
from planner.drawing.schedules import SCHEDULES, Limits, finding_notes, written_long
from planner.drawing.shapes import Line
from planner.drawing.symbols import look_of
from planner.drawing.tables import Stack, compact_table, drawn_rows, notes, signed_notes, table
from planner.findings import Finding
from planner.plan import Plan

_N_PER_M_OF_LB_FT = 14.5939
_N_PER_LB = 4.4482216
_UPRIGHT = 1e-6
#: Lines of the list of runs; a longer one ends with a sentence that names the files that have all.
MOST_RUNS = 400
#: A finding is about framing or hanging when its rule has one of these words.
_FRAMING = ("main", "tee", "hang", "wire", "splice", "joist", "duty", "load", "seismic", "brac", "furring", "screw")


def about_framing(finding: Finding) -> bool:
    """True for a finding that the person who frames and hangs must know."""
    rule = finding.rule.lower()
    return any(word in rule for word in _FRAMING)


def framing_words(
    plan: Plan, heights: Heights, place: Place, limits: Limits, scale: float, width: float, remarks: Sequence[str]
) -> list[Stack]:
    """All that is said beside the plan; `limits.classes` is how many rows the list of runs may have."""
    stacks = (
        _legend(plan, scale, width, heights),
        _members(plan, width, heights),
        _hangers(plan, width, heights),
        _loads(plan, width, heights) if limits.findings else None,
        runs(plan, width, limits.classes, heights, place),
        finding_notes(plan, width, limits.findings, heights, place, about_framing) if limits.findings else None,
        _notes(plan, remarks, width, heights),
        scale_bar(scale, width, heights),
    )
    return [stack for stack in stacks if stack is not None]


def _legend(plan: Plan, scale: float, width: float, heights: Heights) -> Stack:
    kinds = {member.kind for member in plan.ceiling.members}
    entries: list[Entry] = [(stroke_sample(Role.WALL), words.WALL)]
    entries += [(stroke_sample(MEMBER_ROLES[kind]), word) for kind, word in words.MEMBERS.items() if kind in kinds]
    if plan.room.joists is not None:
        entries.append((stroke_sample(Role.JOIST), words.JOIST))
    if any(len(member.pieces) > 1 or member.pieces[0].count > 1 for member in _runs(plan) if member.pieces):
        tick = Line(Role.SPLICE, (0.0, -1.6), (0.0, 1.6))
        run = next(MEMBER_ROLES[member.kind] for member in _runs(plan))
        entries.append(((*stroke_sample(run), tick), words.SPLICE))
    counts = Counter(hanger.kind for hanger in plan.ceiling.hangers)
    for kind, word in words.HANGERS.items():
        if counts[kind]:  # type: ignore[index]
            entries.append((hanger_block(kind, 1.0).shapes, words.COUNTED.format(what=word, count=counts[kind])))  # type: ignore[index]
    if plan.ceiling.braces:
        said = words.COUNTED.format(what=words.BRACE, count=len(plan.ceiling.braces))
        entries.append((brace_block(1.0).shapes, said))
    looks = [look_of(service, scale) for service in plan.ceiling.services]
    entries += services_entries(plan, looks, scale, heights)
    return drawn_rows(words.LEGEND, [legend_row(*entry, width, heights) for entry in entries], width, heights)


def _runs(plan: Plan) -> list[Member]:
    return [member for member in plan.ceiling.members if member.kind in RUNS]


def _members(plan: Plan, width: float, heights: Heights) -> Stack:
    """How many lines of each kind, of how many pieces, how long together."""
    rows = []
    for kind, word in words.MEMBERS.items():
        alike = [member for member in plan.ceiling.members if member.kind == kind]
        if alike:
            pieces = sum(piece.count for member in alike for piece in member.pieces)
            total = sum(member.length for member in alike)
            rows.append((word, str(len(alike)), str(pieces), written_long(total, plan.room.units)))
    return table(words.MEMBER_TABLE, "lrrr", words.MEMBER_HEADS, rows, width, heights)


def _hangers(plan: Plan, width: float, heights: Heights) -> Stack | None:
    """Wires of each kind by the length to cut."""
    hangers = plan.ceiling.hangers
    if not hangers:
        return None
    counts = Counter(
        (hanger.kind, "" if hanger.length is None else written(hanger.length, plan.room.units)) for hanger in hangers
    )
    order = list(words.HANGERS)
    rows = [
        (words.WIRE_KINDS[kind], length, str(counts[kind, length]))
        for kind, length in sorted(counts, key=lambda key: (order.index(key[0]), key[1]))
    ]
    last = [words.WIRES_TIED] if any(hanger.length is not None for hanger in hangers) else []
    heading = words.SCREW_TABLE if all(hanger.kind == "screw" for hanger in hangers) else words.WIRE_TABLE
    return compact_table(heading, "lrr", words.WIRE_HEADS, rows, width, heights, last)


def _loads(plan: Plan, width: float, heights: Heights) -> Stack | None:
    """What the mains and the heaviest hanger bear; None when it was not computed."""
    loads = plan.ceiling.loads
    if loads is None:
        return None
    units, imperial = plan.room.units, plan.room.imperial
    rows = [
        (words.DUTY, loads.duty),
        (words.SPACING, written_long(loads.spacing, units)),
        (words.CARRIED, _load(loads.carried, imperial)),
        (words.ALLOWED, _load(loads.allowed, imperial)),
    ]
    if loads.heaviest:
        force = f"{loads.reaction / _N_PER_LB:.0f} lb" if imperial else f"{loads.reaction:.0f} N"
        rows.append((words.HEAVIEST, words.AT_HANGER.format(force=force, hanger=loads.heaviest)))
    return table(words.LOADS, "lr", (), rows, width, heights)


def _load(newtons_per_metre: float, imperial: bool) -> str:
    return f"{newtons_per_metre / _N_PER_M_OF_LB_FT:.1f} lb/ft" if imperial else f"{newtons_per_metre:.0f} N/m"


def runs(plan: Plan, width: float, limit: int | None, heights: Heights, place: Place | None = None) -> Stack | None:
    """The pieces of every run, alike neighbours in one line; where there are more than `limit`, on another sheet."""
    rows = list(_run_rows(plan))
    if not rows:
        return None
    if limit is not None and len(rows) > limit:
        see = place.see(SCHEDULES) if place else ""
        return notes(words.RUNS, (see[0].upper() + see[1:] + ".",), width, heights) if see else None
    more = [("", words.MORE_ROWS.format(n=len(rows) - MOST_RUNS))] if len(rows) > MOST_RUNS else []
    return signed_notes(words.RUNS, [*rows[:MOST_RUNS], *more, ("", words.RUNS_FROM)], width, heights)


def _run_rows(plan: Plan) -> Iterator[tuple[str, str]]:
    units = plan.room.units
    group: list[Member] = []
    text = ""
    for member in _runs(plan):
        said = " + ".join(
            f"{piece.count} × {written(piece.length, units)}" if piece.count > 1 else written(piece.length, units)
            for piece in pieces_in_order(member)
        )
        if group and said != text:
            yield _names(group), text
            group = []
        text = said
        group.append(member)
    if group and text:
        yield _names(group), text


def pieces_in_order(member: Member) -> tuple[Piece, ...]:
    """The pieces of a run from its left end on, or from its front end where it stands upright."""
    return member.pieces[::-1] if runs_backwards(member) else member.pieces


def runs_backwards(member: Member) -> bool:
    """True for a member that begins at its right end, or at its back end where it stands upright."""
    dx, dy = member.end[0] - member.start[0], member.end[1] - member.start[1]
    return dx < -_UPRIGHT * abs(dy) or (abs(dx) <= _UPRIGHT * abs(dy) and dy < 0)


def _names(group: Sequence[Member]) -> str:
    first, last = group[0].id, group[-1].id
    return first if len(group) == 1 else words.TO.format(first=first, last=last)


def _notes(plan: Plan, remarks: Sequence[str], width: float, heights: Heights) -> Stack | None:
    said = [*([] if plan.room.joists else [words.JOISTS_NOT_GIVEN]), *remarks]
    return notes(words.NOTES, said, width, heights) if said else None
