"""Where the pieces of runs lie on their bars, and what is left between them, worked out by hand."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from runs.run_jobs import METRIC, job_of

from planner.runs.choose import Begun, begin_runs
from planner.runs.job import Bar, Cut, Job, LaidBar, Run, Single
from planner.stock.model import BarPiece
from planner.stock.runs import cut_runs
from planner.stock.saw import Saw

#: 3600 mm main tees, slots every 150 mm, a saw of 3 mm; all in tenths.
BAR = Bar(36_000, 1_500, 30)


def begun_by_hand() -> Begun:
    """M1 begins with 800 mm and M2 ends with 500; M3 is one piece of 300 that begins 20 beyond a slot."""
    runs = (Run("M1", 0.0, (Cut(8_000, 1, 0),)), Run("M2", 0.0, (Cut(36_000, 0, 5_000),)))
    job = Job(BAR, runs, (Single("M3", 3_000, 200),))
    bar = LaidBar(5_000, ((3_000, 200),), 8_000)
    return Begun(job, (runs[0].cuts[0], runs[1].cuts[0]), (bar,), 3, 3, None)


def test_from_the_left_the_rest_then_single_pieces_and_what_begins_a_run_at_the_right_end() -> None:
    """The rest ends at 500, with the saw's cut at 503; the first place 20 beyond a slot is 20 + 4 · 150 = 620. M3 ends
    at 920, with its cut at 923. 800 from the right end, and a cut before it: 3600 - 800 - 3 = 2797, so 1874 are left.
    """
    whole, sawn = cut_runs("main tee", begun_by_hand(), 3600.0, Saw(3)).bars
    assert (whole.pieces, whole.count) == ((), 2)
    assert sawn.pieces == (BarPiece("M2", 500.0, 0.0), BarPiece("M3", 300.0, 620.0), BarPiece("M1", 800.0, 2800.0))
    assert sawn.offcut == pytest.approx(1874.0)


def test_of_one_piece_alone_all_the_rest_is_left() -> None:
    """A rest of 500: 503 are gone, 3097 are left. A piece that begins a run: 3600 - 800 - 3 = 2797."""
    runs = (Run("M1", 0.0, (Cut(8_000, 0, 5_000),)),)
    begun = Begun(Job(BAR, runs), runs[0].cuts, (LaidBar(5_000), LaidBar(first=8_000)), 2, 2, None)
    rest, first = cut_runs("main tee", begun, 3600.0, Saw(3)).bars
    assert (rest.pieces, rest.offcut) == ((BarPiece("M1", 500.0, 0.0),), pytest.approx(3097.0))
    assert (first.pieces, first.offcut) == ((BarPiece("M1", 800.0, 2800.0),), pytest.approx(2797.0))


@settings(deadline=None, max_examples=30)
@given(st.lists(st.tuples(st.integers(300, 9_000).map(lambda n: 10 * n), st.integers(0, 14).map(lambda n: 100 * n)),
                min_size=1, max_size=5))  # fmt: skip
def test_no_two_pieces_lie_on_each_other_and_every_member_gets_its_length(lengths: list[tuple[int, int]]) -> None:
    job = job_of(lengths)
    cutting = cut_runs("main tee", begin_runs(job, 0.2), METRIC.length / 10, Saw(METRIC.kerf / 10))
    assert sum(bar.count for bar in cutting.bars) == cutting.bought
    got: dict[str, float] = {}
    for bar in cutting.bars:
        for piece in bar.pieces:
            assert piece.at is not None
            got[piece.member] = got.get(piece.member, 0.0) + bar.count * piece.length
        for one, other in pairwise(bar.pieces):
            assert one.at is not None and other.at is not None
            assert one.at + one.length + METRIC.kerf / 10 <= other.at + 1e-6
        if bar.pieces:
            last = bar.pieces[-1]
            assert last.at is not None and last.at + last.length <= METRIC.length / 10 + 1e-6
            assert 0 <= bar.offcut <= METRIC.length / 10 - sum(piece.length for piece in bar.pieces) + 1e-6
    for single in job.singles:
        assert single.length >= METRIC.length or got[single.name] == pytest.approx(single.length / 10)
    for run in job.runs:
        whole = {cut.whole * METRIC.length + cut.first + cut.rest for cut in run.cuts}
        (length,) = whole
        assert (length - round(10 * got.get(run.name, 0.0))) % METRIC.length == 0
