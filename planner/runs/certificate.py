"""A proof that no choice of first cuts needs fewer bars, which anybody can re-check without trusting a solver.

`worth` says what a bar is worth that is still uncut from a place on to its right end: `most` at the left end, and
nowhere more than further left. That is all that must hold. Then, whatever is cut from a bar, its pieces are worth no
more than `most` together, if each piece is worth what the bar loses by it: a rest that reaches from the left end to a
place (the kerf included) loses `most - worth(place)`, a piece that begins a run and reaches from a place to the right
end loses `worth(place)`, a single piece the difference, a whole bar `most`. Each run is worth at least what its
cheapest way of being put together is. So at least the worth of all runs over `most`, rounded up, must be bought.

The bound by length is the simplest of these: `worth` is the length that is left.
"""

from bisect import bisect_right
from collections.abc import Iterator
from itertools import pairwise

from planner.records import dataclass
from planner.runs.job import Bar, Cut


@dataclass(frozen=True, slots=True)
class ValuedRun:
    """Alike runs: every way to put one together."""

    cuts: tuple[Cut, ...]
    count: int


@dataclass(frozen=True, slots=True)
class ValuedSingle:
    """Alike runs of one piece."""

    length: int
    slot: int | None
    count: int


@dataclass(frozen=True, slots=True)
class RunCertificate:
    """What is left of a bar is worth so much; lengths are tenths of a millimetre."""

    bar: Bar
    runs: tuple[ValuedRun, ...]
    singles: tuple[ValuedSingle, ...]
    most: int
    steps: tuple[tuple[int, int], ...] = ()  #: (from this place on, worth); none: worth the length that is left

    @property
    def bound(self) -> int:
        """Bars that are needed at least, whole ones and sawn ones."""
        runs = sum(run.count * min(self._of_cut(cut) for cut in run.cuts) for run in self.runs)
        singles = sum(single.count * self._of_single(single) for single in self.singles)
        return -(-(runs + singles) // self.most)

    def holds(self) -> bool:
        """Re-check that a bar is nowhere worth more than further left, and never more than `most`."""
        if not self.steps:
            return self.most == self.bar.length
        worths = [worth for _, worth in self.steps]
        rising = all(one[0] < other[0] for one, other in pairwise(self.steps))
        return rising and self.steps[0] == (0, self.most) and worths == sorted(worths, reverse=True) and worths[-1] >= 0

    def worth(self, place: int) -> int:
        """What a bar is worth that is uncut from a place on."""
        if not self.steps:
            return max(self.bar.length - place, 0)
        return self.steps[bisect_right(self.steps, (place, self.most + 1)) - 1][1]

    def _of_cut(self, cut: Cut) -> int:
        bar, first = self.bar, cut.sawn(self.bar)
        begun = self.worth(bar.length - bar.seat(first)) if first else 0
        ended = self.most - self.worth(bar.seat(cut.rest) + bar.kerf) if cut.rest else 0
        return cut.uncut(bar) * self.most + begun + ended

    def _of_single(self, single: ValuedSingle) -> int:
        if single.length >= self.bar.length:
            return self.most
        taken = single.length + self.bar.kerf
        return min(self.worth(place) - self.worth(place + taken) for place in self._places(single, taken))

    def _places(self, single: ValuedSingle, taken: int) -> Iterator[int]:
        """Where a single piece may begin: at its slots; or anywhere, and then where its loss changes will do."""
        last = self.bar.length - single.length
        if single.slot is not None and self.bar.pitch:
            yield from range(min(single.slot, last), last + 1, self.bar.pitch)
            return
        yield from (0, last)
        for place, _ in self.steps:
            yield from (at for at in (place, place - taken) if 0 <= at <= last)
