"""Why one line of the frame is as it is: its place, its pieces, its first cut, and the lengths they come from.

In: a `Job` and a member. Out: an explanation. Slots and ways to cut a run are those of `planner.ceiling.members.runs`
and `planner.runs`; bars are those of the cutting.
"""

import math
from collections import Counter
from collections.abc import Iterator

from planner.ceiling.members.free_ends import perimeter_of
from planner.ceiling.members.runs import saw_off
from planner.ceiling.model import FirstCuts, Member, Piece
from planner.ceiling.rules.seismic import E580
from planner.explain.mains import RUNS, direction_steps, in_the_way, line_steps
from planner.explain.model import COMPUTED, MEMORY, PRACTICE, Explanation, Job, Step
from planner.explain.words import listed
from planner.geometry import TOLERANCE_MM
from planner.lengths import Rounding
from planner.stock.fasteners import fixings_for
from planner.stock.model import Cutting
from planner.wording import counted

TOGETHER = "fewest lengths, then splices apart, then fewest splices"
SLOT = "a slot meets the first cross tee"
SLOT_SOURCE = "how-to articles; the slots are the system's"


def explain_member(job: Job, member: Member) -> Explanation:
    """One member: where it comes from, piece by piece."""
    steps = [*_place_steps(job, member), *_gap_steps(job, member), *_piece_steps(job, member)]
    if member.kind in (*RUNS, "cover strip"):
        steps += _first_cut_steps(job, member)
    steps += [*_fixing_steps(job, member), *_bar_steps(job, member)]
    count = sum(piece.count for piece in member.pieces)
    answer = f"{job.piece(member.length, whole=member.whole)} long, in {counted(count, 'piece')}."
    return Explanation(member.id, member.kind, answer, tuple(steps))


def _place_steps(job: Job, member: Member) -> Iterator[Step]:
    """Why there is one here."""
    if member.kind in RUNS:
        yield from direction_steps(job)
        yield from line_steps(job)
        yield from in_the_way(job, member)
    elif member.kind == "cross tee":
        yield from _cross_place(job, member)
    elif member.kind in ("wall angle", "track"):
        yield Step(
            "Trim goes along every wall and round every column, where the ceiling meets them.", None, "", "", PRACTICE
        )
        text = f"At the corners it is {job.system.corners}."
        source = next((source for what, source in job.system.sources if what.endswith(", corners")), MEMORY)
        yield Step(text, None, "", "corners of the trim", source)
    elif member.kind == "furring strip":
        text = "Furring goes across the joists: along the walls and at every line of cross tees."
        yield Step(text, None, "", "carriers beside the joists need furring", "how-to articles on wood furring")
    else:
        yield Step("A cover strip snaps over every carrier.", None, "", "", MEMORY)


def _cross_place(job: Job, member: Member) -> Iterator[Step]:
    (u0, v0), (u1, v1) = job.layout.frame.inward(member.start), job.layout.frame.inward(member.end)
    along = (abs(u1 - u0) > abs(v1 - v0)) == (job.mains.direction == "along")
    if along:
        text = "It runs along the mains, between two of them: short tees, hooked into the middles of the long ones."
        yield Step(text, None, "", "every grid line carries a tee", MEMORY)
    else:
        text = "It runs square to the mains: tees from main to main, and from the last main to the wall."
        yield Step(text, None, "", "every grid line carries a tee", PRACTICE)


def _gap_steps(job: Job, member: Member) -> Iterator[Step]:
    """What an earthquake leaves free at its ends."""
    ends = perimeter_of(job.room, job.system)
    if ends is None or not any(member.gaps):
        return
    whole, left = member.length + sum(member.gaps), [job.said(gap) for gap in member.gaps if gap]
    where = f"of all walls but {listed(ends.fixed)}, which they are fixed at" if ends.fixed else "of every wall"
    text = (
        f"For earthquakes tees end {job.said(ends.gap)} free {where}, square to the wall: "
        f"{' - '.join((job.said(whole), *left))} = {job.piece(member.length)}."
    )
    yield Step(text, member.length, "mm", "seismic perimeter", E580)


def _piece_steps(job: Job, member: Member) -> Iterator[Step]:
    """The pieces in a row, and their sum."""
    for piece in member.pieces:
        length = job.piece(piece.length, whole=piece.whole)
        text = f"{piece.count} x {length} of {piece.stock}: {_ends_said(job, piece)}."
        yield Step(text, piece.length * piece.count, "mm")
    if len(member.pieces) > 1:
        text = f"Together they reach {job.piece(member.length)}; each cut is told to the mark of the tape below it."
        yield Step(text, member.length, "mm")
    if member.kind == "cross tee":
        text = "Each is the shortest tee sold that reaches, and that has a slot where a shorter one hooks in."
        yield Step(text, None, "", "shortest tee that reaches", PRACTICE)
        chosen = job.plan.ceiling.border_tees
        if chosen is not None and any("cut" in piece.ends for piece in member.pieces):
            number = counted(chosen.shared.moved, "border tee")
            text = f"But {number} of this ceiling come from a longer one, as all together take less so."
            yield Step(text, chosen.shared.moved, "pieces", "border tees may come from longer ones", "the room file")


def _ends_said(job: Job, piece: Piece) -> str:
    start, end = piece.ends
    if start == end == "factory":
        return "factory ends, as sold"
    if start == end:
        return "cut at both ends"
    return "cut at its start, factory end on" if start == "cut" else "factory end first, cut at its end"


def _first_cut_steps(job: Job, member: Member) -> Iterator[Step]:
    """Why a run is begun where it is: the slot, then its neighbours' splices, then the bars of all runs together."""
    main, first = job.system.main, member.pieces[0]
    cuts = next((cuts for cuts in job.plan.ceiling.first_cuts if cuts.item == first.stock), None)
    pitch = job.layout.module[0 if job.mains.direction == "along" else 1]
    start, end = (
        job.layout.frame.inward(at)[0 if job.mains.direction == "along" else 1] for at in (member.start, member.end)
    )
    to_first = (math.floor((min(start, end) + TOLERANCE_MM) / pitch) + 1) * pitch - min(start, end)
    if to_first < member.length - TOLERANCE_MM and job.system.direct is None:
        off = saw_off(to_first, main)
        pitch_said = job.said(main.slot_pitch)
        text = f"A main tee has slots {job.said(main.first_slot)} from its end and every {pitch_said} on."
        yield Step(text, main.slot_pitch, "mm", SLOT, SLOT_SOURCE)
        slot, cross = job.said(to_first + off), job.said(to_first)
        text = (
            f"The first cross tee is {cross} from its start, the next slot at {slot}: so {job.said(off)} is sawn off."
        )
        yield Step(text, off, "mm", SLOT, SLOT_SOURCE)
    if cuts is not None:
        yield from _way_steps(job, member, cuts)


def _way_steps(job: Job, member: Member, cuts: FirstCuts) -> Iterator[Step]:
    """Which of the ways to cut a run was taken, what speaks against the plain one, and the bars of all runs."""
    begun = cuts.begun
    at = next((k for k, run in enumerate(begun.job.runs) if run.name == member.id), None)
    if at is None:
        yield Step("One length spans it: no splice.", 0, "splices")
        return
    run, cut = begun.job.runs[at], begun.chosen[at]
    plain, first = run.cuts[0], job.piece(cut.first / 10, whole=cut.first >= begun.job.bar.length)
    if cut == plain or not begun.job.bar.pitch:
        yield Step(f"Its first piece is {first}, as long as it can be.", cut.first / 10, "mm")
    else:
        further = counted(round((plain.first - cut.first) / begun.job.bar.pitch), "slot")
        why = _against(job, begun.job.near(at, plain, begun.chosen))
        yield Step(f"Its first piece is {first}, {further} shorter than it could be: {why}.", cut.first / 10, "mm")
    near, apart = begun.job.near(at, cut, begun.chosen), job.said(begun.job.apart)
    if begun.job.apart and (run.beside or run.under):
        text = f"Its splices are {apart} or more from those of the runs beside it."
        if near:
            text = f"A splice of it stands nearer than {apart} to one beside it, by {job.said(near)}."
        yield Step(text, begun.job.apart - near, "mm", "splices are staggered", MEMORY)
    if cuts.for_all:
        text = "The runs of all rooms of the building are begun so that together they take the fewest lengths."
        yield Step(text, None, "", TOGETHER, COMPUTED)
        return
    count = len(begun.job.runs) + len(begun.job.singles)
    text = f"All {count} runs are begun so that together they take" if count > 1 else "It is begun so that it takes"
    proof = f"however runs are begun, {begun.lower_bound} is the least"
    yield Step(f"{text} the fewest lengths: {begun.bought}; {proof}.", begun.bought, "lengths", TOGETHER, COMPUTED)


def _against(job: Job, near: float) -> str:
    """What speaks against the plain way to begin a run, as the others are begun."""
    if near:
        return f"else a splice would stand {job.said(near)} too near to one beside it"
    return "the pieces of all runs come off fewer lengths so, or off the same with fewer splices in line"


def _fixing_steps(job: Job, member: Member) -> Iterator[Step]:
    held = [hanger for hanger in job.plan.ceiling.hangers if hanger.member == member.id]
    if held:
        kinds = Counter(hanger.kind for hanger in held)
        how = listed(counted(count, kind) for kind, count in kinds.items())
        yield Step(f"Held by {how}: {listed(hanger.id for hanger in held)}.", len(held), "pieces")
    if member.kind == "wall angle":
        each = fixings_for(member.length)
        yield Step(
            f"{each} fixings, every 24 in at most and one at each end.",
            each,
            "pieces",
            "fixings of the wall angle",
            "NAVEDTRA 14044 p. 5-17",
        )


def _bar_steps(job: Job, member: Member) -> Iterator[Step]:
    """The lengths that the cut pieces come from, with what else comes from them."""
    for cutting in job.plan.stock.cutting:
        if cutting.item in {piece.stock for piece in member.pieces}:
            yield from _bars_of(job, member, cutting)


def _bars_of(job: Job, member: Member, cutting: Cutting) -> Iterator[Step]:
    for bar in cutting.bars:
        mine = [piece for piece in bar.pieces if piece.member == member.id]
        if not mine:
            continue
        alike = Counter(
            f"{job.piece(piece.length, whole=cutting.is_whole(piece.length))} for {piece.member}"
            for piece in bar.pieces
        )
        cuts = " + ".join(f"{count} x {said}" if count > 1 else said for said, count in alike.items())
        times = (
            f"{bar.count} lengths of {cutting.item} each"
            if bar.count > 1
            else f"One length of {cutting.item}, {job.said(cutting.stock_length)},"
        )
        yield Step(
            f"{times} cut into {cuts}; off-cut {job.said(bar.offcut, Rounding.DOWN)}.",
            bar.count * sum(piece.length for piece in mine),
            "mm",
        )
