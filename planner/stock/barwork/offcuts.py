"""Few long off-cuts instead of many short ones, from the same number of bars.

In: bars as cut. Out: bars as many, with the same pieces. Two bars at a time are cut anew so that one is as full as can
be and what is left of the other is long, as long as that lengthens the longer off-cut, and no piece is cut from a rest
that crews throw away. Not proven to be the best: a wish, where the number of bars is the duty.
"""

from collections import Counter
from collections.abc import Sequence

from planner.stock.barwork.fullest import fullest_bars
from planner.stock.barwork.wanted import offcut
from planner.stock.model import Bar, BarPiece
from planner.stock.saw import Saw, kerf_tenths, tenths

#: Beyond this many bars they are left as they are.
MOST_BARS = 60

#: How often all pairs of bars are looked at.
MOST_ROUNDS = 8


def gather_offcuts(bars: Sequence[Bar], stock: float, saw: Saw) -> tuple[Bar, ...]:
    """Cut bars anew, two at a time, until no off-cut gets longer."""
    whole = [bar for bar in bars if not bar.pieces]
    cut = [bar.pieces for bar in bars for _ in range(bar.count if bar.pieces else 0)]
    if len(cut) <= MOST_BARS:
        for _ in range(MOST_ROUNDS):
            if not _improve(cut, stock, saw):
                break
    counted = Counter(cut)
    return (*whole, *(Bar(pieces, offcut(pieces, stock, saw.kerf), count) for pieces, count in counted.items()))


def _improve(cut: list[tuple[BarPiece, ...]], stock: float, saw: Saw) -> bool:
    """Cut anew, in place, each two bars for which that helps; False when there are none."""
    improved = False
    for one in range(len(cut)):
        for other in range(one + 1, len(cut)):
            pair = _cut_anew((*cut[one], *cut[other]), stock, saw.kerf)
            before = max(offcut(cut[one], stock, saw.kerf), offcut(cut[other], stock, saw.kerf))
            if not pair or not all(_from_kept_rests(pieces, stock, saw) for pieces in pair):
                continue
            if max(offcut(pieces, stock, saw.kerf) for pieces in pair) > before:
                cut[one], cut[other] = pair
                improved = True
    return improved


def _from_kept_rests(pieces: Sequence[BarPiece], stock: float, saw: Saw) -> bool:
    """Whether the last cut of a bar, its shortest piece, comes from a rest that is kept; those before it are longer."""
    if len(pieces) < 2 or not saw.reuse_from:
        return True
    lengths = sorted((tenths(piece.length) for piece in pieces), reverse=True)
    taken = sum(lengths[:-1]) + kerf_tenths(saw.kerf) * (len(lengths) - 1)
    return tenths(stock) - taken >= tenths(saw.reuse_from)


def _cut_anew(
    pieces: Sequence[BarPiece], stock: float, kerf: float
) -> tuple[tuple[BarPiece, ...], tuple[BarPiece, ...]] | None:
    """Fill one bar as full as can be, the rest on the other; None when they need more than two."""
    pieces = sorted(pieces, key=lambda piece: -piece.length)
    lost = kerf_tenths(kerf)
    sizes = [tenths(piece.length) + lost for piece in pieces]
    plan = list(fullest_bars(sizes, [1] * len(sizes), tenths(stock) + lost).elements())
    if len(plan) != 2:
        return None
    first, second = (tuple(pieces[kind] for kind, _ in counts) for counts in plan)
    return first, second
