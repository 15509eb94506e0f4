"""Bars for runs whose first cuts are chosen.

In: a job and a way of cutting for each run. Out: bars. A piece that begins a run shares a bar with a rest where the two
fit: pairs are as many as can be (the longest takes the shortest that is left; or, with `tight`, the longest that fits,
which is as good). Single pieces then go where they leave least, the longest first: that is a rule of thumb.
"""

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

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


@dataclass(slots=True)
class _Open:
    """A bar that single pieces are still put on."""

    rest: int
    first: int
    place: int  #: up to here it is taken from the left
    limit: int  #: from here on it is taken from the right
    singles: list[Single] = field(default_factory=list)

    def next_place(self, single: Single, bar: Bar) -> int | None:
        """Where a single piece would begin; None where it has no room."""
        place = bar.slotted(self.place, single.slot)
        if place + single.length > self.limit or not _rest_kept(bar, [*self._lengths(), single.length]):
            return None
        return place

    def _lengths(self) -> list[int]:
        return [length for length in (self.rest, self.first) if length] + [one.length for one in self.singles]


def _rest_kept(bar: Bar, lengths: Sequence[int]) -> bool:
    """Whether the last and shortest piece is cut from a rest that is kept."""
    if not bar.reuse or len(lengths) < 2:
        return True
    shortest = min(lengths)
    return sum(lengths) - shortest + (len(lengths) - 1) * bar.kerf + max(shortest, bar.reuse) <= bar.length


def _with_singles(bar: Bar, pairs: Iterable[tuple[int, int]], singles: Iterable[Single]) -> tuple[LaidBar, ...]:
    open_bars = [
        _Open(rest, first, rest + bar.kerf if rest else 0, bar.length - first - bar.kerf if first else bar.length)
        for first, rest in pairs
    ]
    for single in sorted(singles, key=lambda single: -single.length):
        if single.length >= bar.length:
            continue
        spots = [(one, place) for one in open_bars if (place := one.next_place(single, bar)) is not None]
        if spots:
            best, place = min(spots, key=lambda spot: spot[0].limit - spot[1] - single.length)
        else:
            best = _Open(0, 0, 0, bar.length)
            open_bars.append(best)
            place = best.next_place(single, bar) or 0
        best.singles.append(single)
        best.place = place + single.length + bar.kerf
    return tuple(LaidBar(one.rest, tuple(single.kind for single in one.singles), one.first) for one in open_bars)
