"""Bars for runs whose first cuts are chosen.

In: a job and a way of cutting for each run. Out: bars. A piece that begins a run shares a bar with a rest where the two
fit: pairs are as many as can be (the longest takes the shortest that is left; or, with `tight`, the longest that fits,
which is as good). Single pieces then go where they leave least, the longest first: that is a rule of thumb.
"""

from bisect import bisect_right
from collections.abc import Iterable, Sequence

from planner.runs.job import Bar, Cut, Job, LaidBar, Single

#: Strokes that it takes to lay a piece; and to look at a bar for a single piece.
LAY, LAY_SINGLE = 2, 1


def bars_for(job: Job, chosen: Sequence[Cut], *, tight: bool = False) -> tuple[LaidBar, ...]:
    """The sawn bars; whole ones are not among them."""
    bar = job.bar
    firsts = [cut.sawn(bar) for cut in chosen if cut.sawn(bar)]
    rests = [cut.rest for cut in chosen if cut.rest]
    pairs = list(_pairs(bar, firsts, rests, tight=tight or bool(job.singles)))
    if not job.singles:
        return tuple(LaidBar(rest, (), first) for first, rest in pairs)
    return _with_singles(bar, pairs, job.singles)


def work_of_bars(job: Job) -> int:
    """Strokes that laying pieces on bars takes."""
    runs, singles = len(job.runs), len(job.singles)
    return LAY * (runs + singles) + LAY_SINGLE * singles * (runs + singles)


def bought(job: Job, chosen: Sequence[Cut], bars: Sequence[LaidBar]) -> int:
    """Bars bought: sawn ones, whole ones of runs, single pieces as long as a bar."""
    whole = sum(cut.uncut(job.bar) for cut in chosen)
    return len(bars) + whole + sum(single.length >= job.bar.length for single in job.singles)


def kept(bar: Bar, laid: LaidBar) -> bool:
    """Whether no piece of a bar is cut from a rest that is thrown away."""
    return _rest_kept(bar, [length for length in (laid.rest, laid.first, *(one for one, _ in laid.singles)) if length])


def _pairs(bar: Bar, firsts: Iterable[int], rests: Iterable[int], *, tight: bool) -> Iterable[tuple[int, int]]:
    """Pieces that begin a run with rests, as many as fit; 0 beside those that stay alone."""
    left = sorted(rests)
    for first in sorted(firsts, reverse=True):
        room = bar.length - bar.kerf - bar.seat(first)
        fitting = bisect_right(left, room)
        while fitting and bar.seat(left[fitting - 1]) > room:
            fitting -= 1
        yield (first, left.pop(fitting - 1 if tight else 0)) if fitting else (first, 0)
    for rest in reversed(left):
        yield (0, rest)


def _rest_kept(bar: Bar, lengths: Sequence[int]) -> bool:
    """Whether the last and shortest piece is cut from a rest that is kept."""
    if not bar.reuse or len(lengths) < 2:
        return True
    shortest = min(lengths)
    return sum(lengths) - shortest + (len(lengths) - 1) * bar.kerf + max(shortest, bar.reuse) <= bar.length


def _with_singles(bar: Bar, pairs: Sequence[tuple[int, int]], singles: Iterable[Single]) -> tuple[LaidBar, ...]:
    laid = _Laid(bar, pairs)
    for single in sorted(singles, key=lambda single: -single.length):
        if single.length < bar.length:
            laid.put(single)
    return laid.bars()


class _Laid:
    """Bars that single pieces are still put on: each is free between what is taken from its left and its right."""

    def __init__(self, bar: Bar, pairs: Sequence[tuple[int, int]]) -> None:
        self._bar = bar
        self._pairs = list(pairs)
        self._from = [rest + bar.kerf if rest else 0 for _, rest in pairs]
        self._to = [bar.length - first - bar.kerf if first else bar.length for first, _ in pairs]
        self._singles: dict[int, list[Single]] = {}

    def put(self, single: Single) -> None:
        """Lay a piece where it leaves least; on a new bar where it fits nowhere."""
        best, place, least = None, 0, self._bar.length
        for at, (start, end) in enumerate(zip(self._from, self._to, strict=True)):
            if end - start >= single.length:
                begins = self._bar.slotted(start, single.slot)
                if 0 <= end - begins - single.length < least and self._keeps(at, single):
                    best, place, least = at, begins, end - begins - single.length
        if best is None:
            best, place = len(self._pairs), self._bar.slotted(0, single.slot)
            if place + single.length > self._bar.length:
                place = 0
            self._pairs.append((0, 0))
            self._from.append(0)
            self._to.append(self._bar.length)
        self._singles.setdefault(best, []).append(single)
        self._from[best] = place + single.length + self._bar.kerf

    def bars(self) -> tuple[LaidBar, ...]:
        return tuple(
            LaidBar(rest, tuple(single.kind for single in self._singles.get(at, ())), first)
            for at, (first, rest) in enumerate(self._pairs)
        )

    def _keeps(self, at: int, single: Single) -> bool:
        """Whether a piece more leaves a bar that no piece is cut from what is thrown away."""
        lengths = [length for length in self._pairs[at] if length] + [one.length for one in self._singles.get(at, ())]
        return _rest_kept(self._bar, [*lengths, single.length])
