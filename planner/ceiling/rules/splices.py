"""Rules about where runs are spliced.

In: a `Built`. Out: findings.
"""

from collections.abc import Iterator

from planner.ceiling.holding.overhead import names_said, point_at
from planner.ceiling.model import FirstCuts, Member
from planner.ceiling.rules.built import PRACTICE, Built
from planner.findings import Finding, placed
from planner.geometry import TOLERANCE_MM, Point
from planner.sayings import said


def staggered_joints(built: Built) -> Iterator[Finding]:
    """Splices of runs side by side stand apart, so that the grid has no weak line across it.

    Common practice, no source; how far is in `planner.runs.joints`. Where bars are saved by it they may stand in line.
    """
    for cuts in built.first_cuts:
        if names := _in_line(cuts):
            yield _finding(built, cuts, names)


def _in_line(cuts: FirstCuts) -> list[str]:
    """Runs with a splice too near to one beside it, or above it."""
    job, chosen = cuts.begun.job, cuts.begun.chosen
    return [run.name for at, run in enumerate(job.runs) if job.near(at, chosen[at], chosen) > 0]


def _finding(built: Built, cuts: FirstCuts, names: list[str]) -> Finding:
    text = said(
        "Splices of {runs} stand less than {apart} from those next to them.",
        runs=names_said(names),
        apart=built.said(cuts.begun.job.apart),
    )
    if built.staggered:
        remedy = said("No way to splice these runs was found that keeps them all apart: look at their lengths.")
    else:
        remedy = said("Write staggered_splices: true under stock to have them apart, with a length more if need be.")
    members = {member.id: member for member in built.members}
    spots = [spot for name in names if name in members for spot in _spots(cuts, members[name])]
    return placed(Finding("note", "staggered joints", PRACTICE, text, None, remedy), spots)


def _spots(cuts: FirstCuts, member: Member) -> Iterator[Point]:
    """The splices of a run that are too near to one beside it."""
    job, chosen = cuts.begun.job, cuts.begun.chosen
    at = next(k for k, run in enumerate(job.runs) if run.name == member.id)
    others = [place for joints in job.neighbours(at, chosen) for place in joints.places]
    for place in job.runs[at].joints(chosen[at], job.bar).places:
        if any(abs(place - other) < job.apart - TOLERANCE_MM for other in others):
            yield point_at(member.start, member.end, place - job.runs[at].start)
