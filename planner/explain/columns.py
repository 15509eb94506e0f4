"""What a column or chase does to the ceiling: the panels cut round it, and its trim.

In: a `Job` and a column. Out: an explanation.
"""

from shapely import Polygon

from planner.ceiling.members.pipes import across, pipes
from planner.explain.model import PRACTICE, Explanation, Job, Step
from planner.explain.words import listed
from planner.geometry import TOLERANCE_MM
from planner.room.outline import Column
from planner.wording import counted


def explain_column(job: Job, column: Column) -> Explanation:
    """One column or chase."""
    base = job.room.base
    along, away = (job.said(at) for at in column.centre)
    grown = Polygon(column.outline).buffer(10 * TOLERANCE_MM)
    cut = [panel.id for panel in job.plan.ceiling.panels if grown.intersects(Polygon(panel.outline, panel.holes))]
    trim = [member for member in job.plan.ceiling.members if _is_trim_of(member.id, column.name)]
    steps = [Step(f"Its middle is {along} along {base} and {away} from it.", column.centre[0], "mm")]
    if column.diameter is not None:
        steps.append(Step(f"It is round, {job.said(column.diameter)} across.", column.diameter, "mm"))
    rule = "columns count like walls in the order of wishes"
    steps.append(Step(f"Cut round it: {listed(cut) or 'no panel'}.", len(cut), "panels", rule, PRACTICE))
    steps += [Step(f"{member.id}, {member.kind}, {job.said(member.length)}.", member.length, "mm") for member in trim]
    answer = f"{counted(len(cut), 'panel')} and {counted(len(trim), 'length')} of trim go round it."
    if column in pipes(job.room):
        answer = f"{counted(len(cut), 'panel')} {'goes' if len(cut) == 1 else 'go'} round it, and no trim."
        text = "A pipe or thin post carries no trim: a cover ring or sealant closes the gap."
        steps.append(Step(text, across(column), "mm", "no trim round pipes and thin posts", PRACTICE))
    return Explanation(column.name, "column", answer, tuple(steps))


def _is_trim_of(member: str, column: str) -> bool:
    """Whether trim is named after a column: "WC1", "WC1-3", "WC1-3a"."""
    return member == f"W{column}" or member.startswith(f"W{column}-")
