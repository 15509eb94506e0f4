"""Rules about where runs are spliced.

In: a `Built`. Out: findings.
"""

from collections.abc import Iterator

from planner.ceiling.holding.overhead import names_said
from planner.ceiling.model import FirstCuts
from planner.ceiling.rules.built import PRACTICE, Built
from planner.findings import Finding
from planner.geometry import midpoint
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
    first = next((member for member in built.members if member.id == names[0]), None)
    text = said(
        "Splices of {runs} stand less than {apart} from those next to them.",
        runs=names_said(names),
        apart=built.said(cuts.begun.job.apart),
    )
    if built.staggered:
        remedy = said("No way to splice these runs was found that keeps them all apart: look at their lengths.")
    else:
        remedy = said("Write staggered_splices: true under stock to have them apart, with a length more if need be.")
    where = None if first is None else midpoint(first.start, first.end)
    return Finding("note", "staggered joints", PRACTICE, text, where, remedy)
