"""How all the runs of a ceiling are begun: with the fewest bars, and with joints staggered from run to run.

In: where runs lie, the stock they are put together from, and how it is sawn. Out: the pieces of each run, and what
`planner.runs` has proven of them.

Rules: of equally few bars, splices are staggered (from memory) by `STAGGER_PITCHES` slots where that can be, with the
fewest pieces, and then as the first way of each run says; none ends in a short piece where another way is as good
(`planner.runs.ends`). With no wish as to stock, runs are put together the plain way: one after the other, each as if it
were alone.
"""

from collections.abc import Iterable, Sequence
from itertools import pairwise

from planner.ceiling.members.runs import Ways, joints_of, ways_of
from planner.ceiling.model import FirstCuts, Piece
from planner.ceiling.system import MainTee
from planner.records import dataclass
from planner.room.brief import StockWish
from planner.runs.choose import Begun, begin_runs
from planner.runs.ends import longer_ends
from planner.runs.job import Bar, Job
from planner.runs.joints import STAGGER_PITCHES, Joints
from planner.runs.tenths import kerf_tenths, tenths


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a run lies: along a coordinate that all runs share, millimetres; runs of one `line` do not meet."""

    line: int
    start: float
    end: float
    to_first: float | None  #: from its start to the first cross tee; None where it meets none


def begin(
    spots: Sequence[Spot],
    main: MainTee,
    names: str,
    wish: StockWish | None,
    least: float | None = None,
    under: Sequence[Joints] = (),
    agreed: FirstCuts | None = None,
) -> tuple[list[tuple[Piece, ...]], FirstCuts]:
    """Pieces of each run, and how they were chosen. Runs are named by `names` and a number from 1.

    `least` is the shortest end piece, `under` are splices, run by run, that its own must not stand under. `agreed` is
    how these same runs are begun for this room and others together.
    """
    ways = [ways_of(spot.end - spot.start, spot.to_first, main, least) for spot in spots]
    if agreed is None:
        job = _job(spots, ways, main, names, wish, under)
        agreed = FirstCuts(main.item, _begun(job, wish))
    chosen = iter(agreed.begun.chosen)
    pieces = [way.pieces[way.cuts.index(next(chosen))] if way.cuts else way.pieces[0] for way in ways]
    return pieces, agreed


def joints_along(spots: Iterable[Spot], pieces: Iterable[tuple[Piece, ...]]) -> tuple[Joints, ...]:
    """The splices of runs."""
    return tuple(joints_of(row, spot.start) for spot, row in zip(spots, pieces, strict=True))


def _begun(job: Job, wish: StockWish | None) -> Begun:
    if wish is None:
        return begin_runs(job, 0.0)
    begun = begin_runs(job, wish.budget_s, tight=wish.long_offcuts, apart=wish.staggered_splices)
    return longer_ends(begun, tight=wish.long_offcuts)


def _job(
    spots: Sequence[Spot],
    ways: Sequence[Ways],
    main: MainTee,
    names: str,
    wish: StockWish | None,
    under: Sequence[Joints],
) -> Job:
    """The runs that are spliced, and those of one piece, as `planner.runs` sees them."""
    spliced = [k for k, way in enumerate(ways) if way.cuts]
    number = {k: n for n, k in enumerate(spliced)}
    beside = _beside(spots)
    runs = tuple(
        ways[k].run(
            f"{names}{k + 1}",
            spots[k].start,
            tuple(number[other] for other in beside[k] if other in number),
            tuple(under[k : k + 1]),
        )
        for k in spliced
    )
    singles = tuple(way.single(f"{names}{k + 1}") for k, way in enumerate(ways) if not way.cuts)
    saw = (0, 0) if wish is None else (kerf_tenths(wish.saw_kerf), tenths(wish.reuse_from))
    bar = Bar(tenths(main.length), tenths(main.slot_pitch), *saw)
    return Job(bar, runs, singles, STAGGER_PITCHES * main.slot_pitch)


def _beside(spots: Sequence[Spot]) -> list[list[int]]:
    """For each run those on the lines next to its own that lie beside it."""
    lines: dict[int, list[int]] = {}
    for k, spot in enumerate(spots):
        lines.setdefault(spot.line, []).append(k)
    beside: list[list[int]] = [[] for _ in spots]
    rows = list(lines.values())
    for row, following in pairwise(rows):
        for one in row:
            for other in following:
                if spots[one].start < spots[other].end and spots[one].end > spots[other].start:
                    beside[one].append(other)
                    beside[other].append(one)
    return beside
