"""Runs and cross tees in the order of work: which go up first, from which pieces, what is cut at the walls.

In: a `Work`. Out: a text for each step; empty where there is nothing to do. Mains before cross tees: NAVEDTRA 14044
p. 5-17. Pieces are told from the end from which the lists tell them.
"""

from collections.abc import Iterator, Sequence

from planner.ceiling.members.free_ends import perimeter_of
from planner.ceiling.members.left_first import pieces_in_order
from planner.ceiling.model import Member, Piece
from planner.ceiling.steps.work import MOST_NAMES, Work, ids_said
from planner.lengths import spoken_piece
from planner.sayings import joined, linked, said


def runs_said(work: Work, kind: str) -> Iterator[str]:
    """The main runs in order, grouped where neighbours or others are cut alike; pieces as the list of runs has them."""
    runs = work.of(kind)
    if not runs:
        return
    groups: dict[str, list[Member]] = {}  # alike is what reads alike
    for run in runs:
        groups.setdefault(str(_pieces_said(work, pieces_in_order(run))), []).append(run)
    text = _hang_said(runs) + _ends_said(work) if kind == "main tee" else _carriers_said(runs)
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
    whole = sum(piece.count for piece in tees if piece.ends == ("factory", "factory"))
    cut = sum(piece.count for piece in tees) - whole
    order = said(", the long ones before the short ones between them") if len({t.stock for t in tees}) > 1 else ""
    if not cut:
        return said("Hook in the {whole} cross tees{order}.", whole=whole, order=order)
    ends = (
        said("fixed or short of the wall as the mains are, its cut end on the wall angle")
        if perimeter_of(work.room, work.ceiling.system)
        else said("its cut end on the wall angle")
    )
    return said(
        "Hook in the cross tees{order}: {whole} whole, and {cut} at the walls, each cut to its own measure, {ends}.",
        order=order,
        whole=whole,
        cut=cut,
        ends=ends,
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
