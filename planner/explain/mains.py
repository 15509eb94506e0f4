"""Why the main tees run the way they run, and why on these lines.

In: a `Job`. Out: steps, or an explanation of all mains. What decided, and what each way to begin the count would take,
are told by `planner.ceiling.mains`.
"""

from planner.ceiling.mains import direction_of, starts
from planner.ceiling.model import Member
from planner.explain.model import MEMORY, PRACTICE, Explanation, Job, Step
from planner.explain.words import listed
from planner.geometry import TOLERANCE_MM
from planner.wording import counted

SQUARE = "mains square to the joists"
SQUARE_SOURCE = "NAVEDTRA 14044 p. 5-16"

RUNS = ("main tee", "carrier")


def explain_mains(job: Job) -> Explanation:
    """All mains: which way, which lines, how many."""
    runs = [member for member in job.plan.ceiling.members if member.kind in RUNS]
    steps = [*direction_steps(job), *line_steps(job)]
    steps += [Step(f"{run.id} is {job.said(run.length)} long.", run.length, "mm") for run in runs]
    total = sum(run.length for run in runs)
    name = "carrier" if job.system.direct else "main tee"
    answer = f"{counted(len(runs), 'run')} of {name}s, {job.said(total)} in all."
    return Explanation("mains", "layout", answer, tuple(steps))


def direction_steps(job: Job) -> list[Step]:
    """Which way the mains run, and what decided it."""
    direction, ground = direction_of(job.reach.room, job.layout, job.system, job.wish)
    base = job.room.walls[0].name
    way = "along" if direction == "along" else "square to"
    head = f"They run {way} the grid's first axis" if job.layout.frame.angle_deg else f"They run {way} {base}"
    joists = job.room.joists
    if ground == "asked":
        return [Step(f"{head}: mains: {direction} asks for it.", None, "", "as asked for", "the room file")]
    if ground == "framing":
        text = "the cross tees that there are frame the module this way only"
        return [Step(f"{head}: {text}.", None, "", "a module must be framed", f"the parts of {job.system.name}")]
    if ground == "joists" and joists is not None:
        lie = f"square to {base}" if joists.direction == "across" else f"along {base}"
        return [Step(f"{head}: square to the joists, which lie {lie}.", None, "", SQUARE, SQUARE_SOURCE)]
    if ground == "panel":
        text = "square to the long side of the panels, which takes half the main tee of the other way"
        return [Step(f"{head}: {text}.", None, "", "no joists are given", PRACTICE)]
    return [Step(f"{head}: along the longer side of the room.", None, "", "no joists are given", PRACTICE)]


def line_steps(job: Job) -> list[Step]:
    """Which grid lines carry a main."""
    mains = job.mains
    apart = mains.step * job.layout.module[1 if mains.direction == "along" else 0]
    if mains.step == 1:
        return [
            Step(
                f"Every grid line carries one, {job.said(apart)} apart.",
                apart,
                "mm",
                "a cross tee apart",
                _spacing(job),
            )
        ]
    text = f"Every {_nth(mains.step)} grid line carries one, {job.said(apart)} apart: the long cross tee between them."
    steps = [Step(text, apart, "mm", "a cross tee apart", _spacing(job))]
    ways = starts(job.reach.room, job.layout, job.system, mains.direction, mains.step)
    told = [
        f"{'this' if way.phase == mains.phase else 'another'} takes {counted(way.runs, 'run')}, {job.said(way.length)}"
        for way in sorted(ways, key=lambda way: way.phase != mains.phase)
    ]
    text = f"Of the {mains.step} ways to begin the count, from wall to wall: {listed(told)}."
    taken = next(way for way in ways if way.phase == mains.phase)
    steps.append(
        Step(text, taken.runs, "runs", "the fewest runs, then the least length, then the lowest line", PRACTICE)
    )
    return steps


def _spacing(job: Job) -> str:
    return next((source for what, source in job.system.sources if what.endswith(", spacing")), MEMORY)


def _nth(number: int) -> str:
    return {2: "second", 3: "third"}.get(number, f"{number}th")


def in_the_way(job: Job, run: Member) -> list[Step]:
    """Services that were wished across a run: they gave way, since the mains are chosen first."""
    frame, along = job.layout.frame, job.mains.direction == "along"
    axis = 1 if along else 0
    line = frame.inward(run.start)[axis]
    low, high = sorted(frame.inward(end)[1 - axis] for end in (run.start, run.end))
    wishes = {wish.name: wish for wish in job.brief.services}
    steps = []
    for service in job.plan.ceiling.services:
        wish = wishes[service.name]
        if wish.near is None or not service.fills:
            continue
        near = frame.inward(wish.near)
        if abs(near[axis] - line) < service.size[axis] / 2 - TOLERANCE_MM and low <= near[1 - axis] <= high:
            text = f"{service.name} was wished across it and stands beside it, {job.said(service.moved)} away."
            steps.append(Step(text, service.moved, "mm", "no service cuts a main", PRACTICE))
    return steps
