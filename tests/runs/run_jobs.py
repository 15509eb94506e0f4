"""Runs to be begun, as they would stand in a room; and what must hold of every answer."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from planner.runs.certificate import RunCertificate
from planner.runs.choose import Begun
from planner.runs.job import Bar, Cut, Job, Run, Single

METRIC = Bar(36_000, 1_500, 30)  #: 3600 mm main tees, slots every 150 mm, a saw of 3 mm
INCHES = Bar(36_576, 1_524, 32)  #: 12 ft, 6 in, 1/8 in


def cuts_of(length: int, off: int, bar: Bar, least: int | None = None) -> tuple[Cut, ...]:
    """Every way to put a run together: the first piece is `off` short of a bar, or whole slots shorter.

    No end piece is shorter than a slot pitch, unless told.
    """
    least = bar.pitch if least is None else least
    found = []
    for first in range(bar.length - off, least - 1, -bar.pitch):
        rest = (length - first) % bar.length
        if rest == 0 or rest >= least:
            found.append(Cut(first, (length - first) // bar.length, rest, first / 10))
    return tuple(found)


def job_of(lengths: Sequence[tuple[int, int]], bar: Bar = METRIC) -> Job:
    """Runs side by side, each (length, off); those that one bar spans are single pieces."""
    runs, singles = list[Run](), list[Single]()
    for number, (length, off) in enumerate(lengths, 1):
        cuts = cuts_of(length, off, bar) if length > bar.length - off else ()
        if cuts:
            runs.append(Run(f"M{number}", 0.0, cuts))
        else:
            singles.append(Single(f"M{number}", min(length, bar.length - off), off))
    last = len(runs) - 1
    beside = [tuple(other for other in (at - 1, at + 1) if 0 <= other <= last) for at in range(len(runs))]
    placed = tuple(replace(run, beside=near) for run, near in zip(runs, beside, strict=True))
    return Job(bar, placed, tuple(singles), 4 * bar.pitch / 10)


def assert_it_can_be_built(begun: Begun) -> None:
    """Every run is cut in one of its ways, every piece comes off one bar, and no bar gives more than it has."""
    job, bar = begun.job, begun.job.bar
    assert len(begun.chosen) == len(job.runs)
    wanted: Counter[object] = Counter()
    whole = 0
    for run, cut in zip(job.runs, begun.chosen, strict=True):
        assert cut in run.cuts
        wanted["first", cut.sawn(bar)] += 1
        wanted["rest", cut.rest] += 1
        whole += cut.uncut(bar)
    for single in job.singles:
        if single.length < bar.length:
            wanted["single", single.kind] += 1
        else:
            whole += 1
    got: Counter[object] = Counter()
    for laid in begun.bars:
        assert laid.rest or laid.first or laid.singles
        got["first", laid.first] += 1
        got["rest", laid.rest] += 1
        place = laid.rest + bar.kerf if laid.rest else 0
        lengths = [length for length in (laid.rest, laid.first) if length]
        for length, slot in laid.singles:
            got["single", (length, slot)] += 1
            lengths.append(length)
            if slot is not None:
                place += (slot - place) % bar.pitch  # a slot must meet the cross tees
            place += length + bar.kerf
        assert place <= (bar.length - laid.first if laid.first else bar.length + bar.kerf)
        if bar.reuse and len(lengths) > 1:
            kept = bar.length - (sum(lengths) - min(lengths)) - (len(lengths) - 1) * bar.kerf
            assert kept >= bar.reuse
    for counter in (wanted, got):
        del counter["first", 0], counter["rest", 0]
    assert got == wanted
    assert begun.bought == len(begun.bars) + whole
    assert begun.lower_bound <= begun.bought
    if begun.certificate is not None:
        assert begun.certificate.holds()
        assert begun.certificate.bound == begun.lower_bound == rechecked(begun.certificate)


def rechecked(certificate: RunCertificate) -> int:
    """The bound from what a bar is worth, without the certificate's own code: the ten lines anybody can write."""
    bar, steps = certificate.bar, certificate.steps

    def worth(place: int) -> int:
        if not steps:
            return max(bar.length - place, 0)
        return [value for at, value in steps if at <= place][-1]

    def seat(piece: int) -> int:
        return bar.length if piece + bar.kerf + bar.reuse > bar.length else piece

    most, total = worth(0), 0
    for run in certificate.runs:
        ways = []
        for cut in run.cuts:
            first = most if cut.first == bar.length else worth(bar.length - seat(cut.first))
            rest = most - worth(seat(cut.rest) + bar.kerf) if cut.rest else 0
            ways.append(first + cut.whole * most + rest)
        total += run.count * min(ways)
    for single in certificate.singles:
        last, taken = bar.length - single.length, single.length + bar.kerf
        step = range(last + 1) if single.slot is None else range(single.slot, last + 1, bar.pitch)
        each = most if single.length >= bar.length else min(worth(at) - worth(at + taken) for at in step)
        total += single.count * each
    return -(-total // most)
