"""Cutting pieces from stock lengths: the plain counts of the trade, each with its bars.

In: pieces with the members they are for, a stock length and the kerf, in millimetres. Out: a `Cutting`. Lengths become
whole tenths of a millimetre here, cuts rounded down and the kerf up, so that "does it fit" is `<=` with no tolerance.
A piece as long as the stock is bought whole and not cut. One kerf goes between two pieces of a bar.

Which pieces may share a bar:
- cross tees: two at most, as each keeps one factory end (NAVEDTRA 14044 p. 5-17: no more than two border tees from one
  cross tee). The count is the least for that rule;
- main tees: one that begins a run and one that ends a run, as these keep opposite factory ends; a piece cut at both
  ends has a bar to itself. The count is the least for that rule;
- wall angle: any pieces that fit, the longest first, each from the fullest bar that still has room.
"""

import math
from bisect import bisect_left, insort
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from planner.ceiling.model import End
from planner.stock.model import Bar, BarPiece, Cutting

#: Millimetres of float noise that must not cost a piece a tenth.
NOISE_MM = 1e-5


@dataclass(frozen=True, slots=True)
class Wanted:
    """A piece wanted for a member, perhaps several times."""

    member: str
    length: float
    ends: tuple[End, End] = ("cut", "cut")
    count: int = 1


class _Cut(NamedTuple):
    """A piece to be cut; the length in tenths."""

    length: int
    member: str
    ends: tuple[End, End]


def tenths(mm: float) -> int:
    """Whole tenths of a millimetre, rounded down but for float noise."""
    return math.floor((mm + NOISE_MM) * 10)


def least_bars(total: float, stock: float) -> int:
    """Bars that a total length needs at least; both in millimetres.

    NAVEDTRA 14044 p. 5-16 counts wall angle so: perimeter over stock length, and one more for any fraction.
    """
    return -(-tenths(total) // tenths(stock))


def pair_cuts(item: str, wanted: Iterable[Wanted], stock: float, kerf: float) -> Cutting:
    """Cut pieces of which at most two come from one bar; no way of pairing needs fewer bars.

    The longest piece is paired with the shortest if the two fit. If they do not, the longest fits with none; if they
    do, pairing them loses nothing: whatever else the two were to be paired with fits together as well.
    """
    whole, cuts = _sorted_out(wanted, stock)
    room = tenths(stock) - _kerf(kerf)
    bars: list[list[_Cut]] = []
    first, last = 0, len(cuts) - 1
    while first <= last:
        if first < last and cuts[first].length + cuts[last].length <= room:
            bars.append([cuts[first], cuts[last]])
            last -= 1
        else:
            bars.append([cuts[first]])
        first += 1
    return _cutting(item, stock, kerf, whole, bars, lower_bound=whole + len(bars))


def cut_mains(item: str, wanted: Iterable[Wanted], stock: float, kerf: float) -> Cutting:
    """Cut main tees: from one bar at most one piece that begins a run and one that ends a run.

    The longest beginning takes the shortest end still free, if the two fit: whatever fits with a long one fits with a
    short one too, so no pairing has more pairs. The lower bound is by length alone.
    """
    whole, cuts = _sorted_out(wanted, stock)
    room = tenths(stock) - _kerf(kerf)
    begins = [cut for cut in cuts if cut.ends == ("cut", "factory")]
    ends = [cut for cut in reversed(cuts) if cut.ends == ("factory", "cut")]
    bars = [[cut] for cut in cuts if cut.ends[0] == cut.ends[1]]
    used = 0
    for begin in begins:
        fits = used < len(ends) and begin.length + ends[used].length <= room
        bars.append([begin, ends[used]] if fits else [begin])
        used += fits
    bars += [[end] for end in ends[used:]]
    return _cutting(item, stock, kerf, whole, bars, lower_bound=_by_length(whole, cuts, stock))


def cut_angle(item: str, wanted: Iterable[Wanted], stock: float, kerf: float) -> Cutting:
    """Cut wall angle: any pieces that fit, longest first, each from the fullest bar that has room (best fit).

    The lower bound is by length alone, as the Navy manual counts.
    """
    whole, cuts = _sorted_out(wanted, stock)
    lost = _kerf(kerf)
    bars: list[list[_Cut]] = []
    free: list[tuple[int, int]] = []  # what is left of each bar, and which bar
    for cut in cuts:
        at = bisect_left(free, (cut.length, 0))
        left, bar = free.pop(at) if at < len(free) else (tenths(stock), len(bars))
        if bar == len(bars):
            bars.append([])
        bars[bar].append(cut)
        insort(free, (left - cut.length - lost, bar))
    return _cutting(item, stock, kerf, whole, bars, lower_bound=_by_length(whole, cuts, stock))


def _kerf(kerf: float) -> int:
    """Tenths of a millimetre, rounded up but for float noise."""
    return math.ceil((kerf - NOISE_MM) * 10)


def _sorted_out(wanted: Iterable[Wanted], stock: float) -> tuple[int, list[_Cut]]:
    """How many are bought whole, and the pieces to cut, longest first; ValueError for one longer than the stock."""
    whole, cuts, full = 0, [], tenths(stock)
    for piece in wanted:
        length = tenths(piece.length)
        if length > full:
            raise ValueError(f"a piece of {piece.length} mm for {piece.member} cannot come from {stock} mm")
        if length == full:
            whole += piece.count
        else:
            cuts += [_Cut(length, piece.member, piece.ends)] * piece.count
    return whole, sorted(cuts, key=lambda cut: -cut.length)


def _by_length(whole: int, cuts: Sequence[_Cut], stock: float) -> int:
    return whole - (-sum(cut.length for cut in cuts) // tenths(stock))


def _cutting(
    item: str, stock: float, kerf: float, whole: int, bars: Sequence[Sequence[_Cut]], *, lower_bound: int
) -> Cutting:
    uncut = (Bar((), 0.0, whole),) if whole else ()
    cut = tuple(
        Bar(tuple(BarPiece(piece.member, piece.length / 10) for piece in bar), _offcut(bar, stock, kerf))
        for bar in bars
    )
    return Cutting(item, stock, kerf, (*uncut, *cut), whole + len(bars), lower_bound)


def _offcut(bar: Sequence[_Cut], stock: float, kerf: float) -> float:
    """What is left of a bar: less a kerf between pieces, and one more to part the last from the rest."""
    left = tenths(stock) - sum(piece.length for piece in bar) - len(bar) * _kerf(kerf)
    return max(left, 0) / 10
