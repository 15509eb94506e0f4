"""Runs and cross tees in the order of work: which go up first, from which pieces, what is cut at the walls.

In: a `Work`. Out: a text for each step; empty where there is nothing to do. Mains before cross tees: NAVEDTRA 14044
p. 5-17. Pieces are told from the end from which the lists tell them. Lengths are told from wall to wall, along the
middle of a tee: that a little less is sawn so that it goes in, and that an end is cut to the slope of its wall, is said
here (common practice, no source).
"""

from collections.abc import Iterator, Sequence

from planner.ceiling.holding.tee_ends import TeeEnd
from planner.ceiling.members.free_ends import perimeter_of
from planner.ceiling.members.left_first import pieces_in_order
from planner.ceiling.model import Member, Piece
from planner.ceiling.steps.work import MOST_NAMES, Work, ids_said, names_said
from planner.lengths import Rounding, spoken_piece
from planner.sayings import joined, linked, said

#: So much less is sawn off a length that reaches from wall to wall (common practice, no source).
CUT_SHORT_MM, CUT_SHORT_INCH = 3.0, 3.175
#: An end is square where one edge of the tee would be longer by less than this, be the wall as slanted as it may.
LEAST_MM = 1.0
#: A side that would make it longer by more widths of its face is one that the tee runs along.
MOST_FACES = 6


def runs_said(work: Work, kind: str) -> Iterator[str]:
    """The main runs in order, grouped where neighbours or others are cut alike; pieces as the list of runs has them."""
    runs = work.of(kind)
    if not runs:
        return
    groups: dict[str, list[Member]] = {}  # alike is what reads alike
    for run in runs:
        groups.setdefault(str(_pieces_said(work, pieces_in_order(run))), []).append(run)
    text = _hang_said(runs) + _ends_said(work) if kind == "main tee" else _carriers_said(runs)
    text += _cut_short_said(work) + _slopes_said(work, runs)
    if len(groups) <= MOST_NAMES:
        cuts = (
            joined((ids_said(alike), _pieces_said(work, pieces_in_order(alike[0]))), ": ") for alike in groups.values()
        )
        text += said(" Pieces from the left, or from the front: {cuts}.", cuts=joined(cuts, "; "))
    yield text


def cross_tees_said(work: Work) -> str:
    """Whole ones and cut ones together: whole short ones may hang between long ones that are cut."""
    tees = [piece for member in work.of("cross tee") for piece in member.pieces]
    if not tees:
        return ""
    whole = sum(piece.count for piece in tees if piece.whole)
    cut = sum(piece.count for piece in tees) - whole
    order = said(", the long ones before the short ones between them") if len({t.stock for t in tees}) > 1 else ""
    if not cut:
        return said("Hook in the {whole} cross tees{order}.", whole=whole, order=order)
    ends = (
        said("fixed or short of the wall as the mains are, its cut end on the wall angle")
        if perimeter_of(work.room, work.ceiling.system)
        else said("its cut end on the wall angle")
    )
    bare = [end for end in work.tee_ends if not end.carried and end.tee.kind == "cross tee"]
    text = said(
        "Hook in the cross tees{order}: {whole} whole, and {cut} {where}, each cut to its own measure, {ends}.",
        order=order,
        whole=whole,
        cut=cut - len(bare),
        where=_where_said(work),
        ends=ends,
    )
    return joined((text, _bare_said(bare), _slopes_said(work, work.of("cross tee"))), "")


def _where_said(work: Work) -> str:
    """Where cross tees are cut: at walls, at columns too where some end there."""
    at_columns = any(end.column and end.carried and end.tee.kind == "cross tee" for end in work.tee_ends)
    return said("at walls and columns") if at_columns else said("at the walls")


def _bare_said(bare: Sequence[TeeEnd]) -> str:
    """The tees of which an end is carried by nothing but its wire."""
    if not bare:
        return ""
    return said(
        " {tees} end at {pipes}, where no wall angle carries them: tie each free end to its wire before you let go "
        "({count}).",
        tees=names_said(list(dict.fromkeys(end.tee.id for end in bare))),
        pipes=linked(dict.fromkeys(end.place for end in bare)),
        count=len(bare),
    )


def _cut_short_said(work: Work) -> str:
    """Nothing goes in that is as long as the room; where an earthquake asks for a gap there is room enough."""
    if perimeter_of(work.room, work.ceiling.system):
        return ""
    short = CUT_SHORT_INCH if work.room.imperial else CUT_SHORT_MM
    return said(" Lengths reach the walls: saw up to {short} less there, so that each goes in.", short=work.said(short))


def _slopes_said(work: Work, tees: Sequence[Member]) -> str:
    """Where ends are cut to the slope of a wall, and how much longer that makes one edge."""
    ids, face = {tee.id for tee in tees}, work.ceiling.system.tee_face
    sloped = [end for end in work.tee_ends if end.tee.id in ids and LEAST_MM <= end.longer(face) <= face * MOST_FACES]
    if not sloped:
        return ""
    places = sorted({end.place for end in sloped})
    shown = joined(places, ", ") if len(places) <= MOST_NAMES else said("the slanted walls")
    return said(
        " Cut the ends at {places} to the slope of the wall: lengths are told along the middle, one edge comes out up "
        "to {longer} longer.",
        places=shown,
        longer=work.said(max(end.longer(face) for end in sloped), Rounding.UP),
    )


def _hang_said(runs: Sequence[Member]) -> str:
    if len(runs) == 1:
        return said("Hang main tee {id} from its first mark on, the cut ends at the walls.", id=runs[0].id)
    return said(
        "Hang the main tees in order, {ids}, each from its first mark on, the cut ends at the walls.",
        ids=ids_said(runs),
    )


def _carriers_said(runs: Sequence[Member]) -> str:
    if len(runs) == 1:
        return said("Put up carrier {id} from its first mark on, the cut ends at the walls.", id=runs[0].id)
    return said(
        "Put up the carriers in order, {ids}, each from its first mark on, the cut ends at the walls.",
        ids=ids_said(runs),
    )


def _ends_said(work: Work) -> str:
    """How tees end at walls, for an earthquake."""
    ends = perimeter_of(work.room, work.ceiling.system)
    if ends is None:
        return ""
    gap = work.said(ends.gap)
    if not ends.fixed:
        return said(" All tee ends stay {gap} short of the walls.", gap=gap)
    return said(" Fix tee ends at {walls}; anywhere else they stay {gap} short.", walls=linked(ends.fixed), gap=gap)


def _pieces_said(work: Work, pieces: Sequence[Piece]) -> str:
    parts = []
    for piece in pieces:
        whole = piece.whole
        size = said("whole") if whole else spoken_piece(piece.length, work.room.units)
        if whole and piece.count > 1:
            size = said("{count} whole", count=piece.count)
        parts.append(size if whole or piece.count == 1 else joined((str(piece.count), size)))
    return joined(parts, " + ")
