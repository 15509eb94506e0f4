"""What is kept of distances between joints is what the job says itself."""

from hypothesis import given
from hypothesis import strategies as st

from planner.runs.job import Bar, Cut, Job, Run, Single
from planner.runs.joints import Joints
from planner.runs.nearness import Nearness
from planner.runs.pack import bars_for

ways = st.builds(
    lambda first, whole, begun: Cut(first, whole, 100, begun),
    st.integers(100, 36_000),
    st.integers(0, 3),
    st.floats(10, 3_600).map(lambda millimetres: round(millimetres, 2)),
)


@st.composite
def jobs(draw: st.DrawFn) -> tuple[Job, list[Cut]]:
    count = draw(st.integers(1, 5))
    at = st.integers(0, count - 1)
    runs = tuple(
        Run(
            str(k),
            draw(st.floats(0, 3_600)),
            tuple(draw(st.lists(ways, min_size=1, max_size=4))),
            tuple(draw(st.lists(at.filter(lambda other, k=k: other != k), max_size=2))) if count > 1 else (),
            draw(st.sampled_from([(), (Joints(500.0, 3_600.0, 3),)])),
        )
        for k in range(count)
    )
    return Job(Bar(36_000), runs, (), 1_200.0), [draw(st.sampled_from(run.cuts)) for run in runs]


@given(jobs())
def test_every_way_is_as_near_as_the_job_says(made: tuple[Job, list[Cut]]) -> None:
    job, chosen = made
    nearness = Nearness(job)
    for _ in range(2):  # worked out, then kept
        for at, run in enumerate(job.runs):
            others: list[Cut | None] = [cut if k != at else None for k, cut in enumerate(chosen)]
            said = [job.near(at, cut, others) for cut in run.cuts]
            assert list(nearness.of_ways(at, others)) == said
            assert [nearness.near(at, cut, others) for cut in run.cuts] == said


@given(jobs(), st.data())
def test_runs_in_line_are_the_same_when_only_the_changed_are_looked_at(
    made: tuple[Job, list[Cut]], data: st.DataObject
) -> None:
    job, chosen = made
    nearness = Nearness(job)
    before = nearness.in_line(chosen)
    changed = data.draw(st.lists(st.integers(0, len(chosen) - 1), min_size=1, unique=True))
    now = [data.draw(st.sampled_from(job.runs[at].cuts)) if at in changed else cut for at, cut in enumerate(chosen)]
    assert nearness.again(before, now, changed) == nearness.in_line(now)
    assert before == [job.near(at, cut, chosen) > 0 for at, cut in enumerate(chosen)]


def test_a_single_piece_goes_where_it_leaves_least() -> None:
    """Of bars of 3600 one with 1000 begun leaves 2600, one with 2000 leaves 1600.

    2500, the longest, fits the former alone; 1500 then the latter alone, where 100 are left; 1500 takes a new bar.
    """
    runs = tuple(Run(str(k), 0.0, (Cut(first, 1, 0),)) for k, first in enumerate((10_000, 20_000)))
    singles = tuple(Single(str(k), length) for k, length in enumerate((15_000, 15_000, 25_000)))
    job = Job(Bar(36_000), runs, singles)
    laid = bars_for(job, [run.cuts[0] for run in runs])
    assert [(bar.first, [length for length, _ in bar.singles]) for bar in laid] == [
        (20_000, [15_000]),
        (10_000, [25_000]),
        (0, [15_000]),
    ]


def test_no_piece_is_cut_from_what_is_thrown_away() -> None:
    """Off-cuts below 600 are thrown away: 3600 - 2900 = 700 is kept and gives 650; 3600 - 3100 = 500 is not."""
    for begun, bars in ((29_000, 1), (31_000, 2)):
        job = Job(Bar(36_000, reuse=6_000), (Run("A", 0.0, (Cut(begun, 1, 0),)),), (Single("B", 4_000),))
        assert len(bars_for(job, [job.runs[0].cuts[0]])) == bars
