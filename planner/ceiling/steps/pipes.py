"""Pipes and thin posts in the order of work: panels are cut round them, and something else closes the gap.

In: a `Work`. Out: a text; empty where there are none. Rule: `planner.ceiling.members.pipes`.
"""

from planner.ceiling.members.pipes import across, pipes
from planner.ceiling.steps.work import MOST_NAMES, Work
from planner.lengths import Rounding
from planner.sayings import joined, said


def panels_round_pipes(work: Work) -> str:
    """Which pipes there are, how wide their holes are cut (`planner.ceiling.grid.cut`), and what goes round them."""
    found = pipes(work.room)
    if not found:
        return ""
    off = work.ceiling.system.panel_undersize
    holes = [said("hole of {width}", width=work.said(across(pipe) + off, Rounding.UP)) for pipe in found[:MOST_NAMES]]
    named = [said("{pipe} ({across})", pipe=pipe.name, across=hole) for pipe, hole in zip(found, holes, strict=False)]
    names = joined(named, ", ")
    if (more := len(found) - MOST_NAMES) > 0:
        names = said("{places}; and {count} more", places=names, count=more)
    return said(
        "Cut the panels round {pipes} and screw nothing to them: no wall angle goes there. A cover ring or sealant "
        "closes each gap; the take-off leaves those out ({count}).",
        pipes=names,
        count=len(found),
    )
