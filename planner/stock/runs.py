"""Cutting the runs whose first cuts the ceiling has chosen, with the proof that no others need fewer bars.

In: what `planner.runs` made of the runs of one item. Out: a `Cutting` with the members' names on its bars. The bound is
over every way in which the runs may be begun, not only for the pieces that were chosen.
"""

from collections import Counter, defaultdict
from collections.abc import Hashable

from planner.runs.choose import Begun
from planner.runs.job import Bar as RunBar
from planner.runs.job import LaidBar
from planner.stock.model import Bar, BarPiece, Cutting
from planner.stock.saw import Saw

Names = dict[Hashable, list[str]]


def cut_runs(item: str, begun: Begun, stock: float, saw: Saw) -> Cutting:
    """Write names on the bars of runs; `stock` is their length in millimetres."""
    names = _names(begun)
    rows = Counter(_laid(bar, begun.job.bar, names) for bar in begun.bars)
    whole = begun.bought - len(begun.bars)
    uncut = (Bar((), 0.0, whole),) if whole else ()
    bars = tuple(Bar(row, offcut, count) for (row, offcut), count in rows.items())
    return Cutting(
        item,
        stock,
        saw.kerf,
        (*uncut, *bars),
        begun.bought,
        begun.lower_bound,
        begun.certificate,
        over="first cuts",
    )


def _names(begun: Begun) -> Names:
    """For each kind of piece the members that want one, in their order, the last one first."""
    names: defaultdict[Hashable, list[str]] = defaultdict(list)
    bar = begun.job.bar
    for run, cut in zip(begun.job.runs, begun.chosen, strict=True):
        if first := cut.sawn(bar):
            names["first", first].append(run.name)
        if cut.rest:
            names["rest", cut.rest].append(run.name)
    for single in begun.job.singles:
        names["single", single.kind].append(single.name)
    return {kind: row[::-1] for kind, row in names.items()}


def _laid(laid: LaidBar, bar: RunBar, names: Names) -> tuple[tuple[BarPiece, ...], float]:
    """The pieces of a bar from left to right, single ones where their slots meet the cross tees; and the off-cut.

    The off-cut lies between what is cut from the left and the piece at the right end; a kerf goes at each side.
    """
    pieces, place = [], 0
    if laid.rest:
        pieces.append(BarPiece(names["rest", laid.rest].pop(), laid.rest / 10, 0.0))
        place = laid.rest + bar.kerf
    for kind in laid.singles:
        length, slot = kind
        place = bar.slotted(place, slot)
        pieces.append(BarPiece(names["single", kind].pop(), length / 10, place / 10))
        place += length + bar.kerf
    if laid.first:
        pieces.append(BarPiece(names["first", laid.first].pop(), laid.first / 10, (bar.length - laid.first) / 10))
    end = bar.length - laid.first - bar.kerf if laid.first else bar.length
    return tuple(pieces), max(end - place, 0) / 10
