"""Why each part is as it is: the steps of `planner explain`, packed so that what many parts share is written once.

In: a brief with its plan. Out: numbered steps and rules, and for each part the numbers of its steps. They are English
whatever the page speaks: the page marks them as such.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import partial
from itertools import zip_longest
from typing import Any

from planner.explain.hangers import explain_hanger
from planner.explain.members import explain_member
from planner.explain.model import Explanation, Job, Step
from planner.explain.panels import explain_panel
from planner.explain.services import explain_service
from planner.explain.walls import axis_steps, explain_wall
from planner.planning import Plan
from planner.room.brief import Brief

#: Of more parts the steps are left out: each looks at all others, and the page is to open on a phone.
MOST_PARTS = 6000
#: What the steps of a module that is neither cut nor taken are found by.
WHOLE = "whole"


@dataclass(slots=True)
class Reasons:
    """Steps, rules and who is explained by which; every text is there once."""

    rules: dict[str, int] = field(default_factory=dict)
    steps: dict[tuple[str, int], int] = field(default_factory=dict)
    rows: dict[tuple[int, ...], int] = field(default_factory=dict)
    of: dict[str, int] = field(default_factory=dict)  #: the row of a part, by the part's key

    def record(self) -> dict[str, Any]:
        """For the page's program: rules, steps as text and number of rule (-1 for none), rows of steps."""
        return {"rules": list(self.rules), "steps": list(self.steps), "rows": list(self.rows)}

    def take(self, key: str, steps: tuple[Step, ...]) -> None:
        """Note the steps of one part."""
        numbers = tuple(self._number(step, following) for step, following in zip_longest(steps, steps[1:]))
        if numbers:
            self.of[key] = self.rows.setdefault(numbers, len(self.rows))

    def _number(self, step: Step, following: Step | None) -> int:
        """A step; its rule is left to the next one when that says the same."""
        told_below = following is not None and (following.rule, following.source) == (step.rule, step.source)
        said = "" if told_below or not step.rule else f"{step.rule} ({step.source})" if step.source else step.rule
        rule = self.rules.setdefault(said, len(self.rules)) if said else -1
        return self.steps.setdefault((step.text, rule), len(self.steps))


def reasons_of(brief: Brief | None, plan: Plan) -> Reasons:
    """The reasons of every part; none where the brief is not at hand, or there are more than `MOST_PARTS`."""
    found = Reasons()
    if brief is None or not told_of(plan):
        return found
    job = Job(brief, plan)
    for key, make in _all(job):
        found.take(key, make().steps)
    found.take(WHOLE, tuple(step for axis in (0, 1) for step in axis_steps(job, axis)))
    return found


def told_of(plan: Plan) -> bool:
    """Whether the parts are few enough for their reasons to be on the page."""
    ceiling = plan.ceiling
    count = len(ceiling.panels) + len(ceiling.members) + len(ceiling.hangers) + len(ceiling.services)
    return count <= MOST_PARTS


def _all(job: Job) -> Iterator[tuple[str, Callable[[], Explanation]]]:
    """What explains each part, by the part's key."""
    ceiling = job.plan.ceiling
    yield from ((f"service:{each.name}", partial(explain_service, job, each)) for each in ceiling.services)
    yield from ((f"wall:{wall.name}", partial(explain_wall, job, k)) for k, wall in enumerate(job.room.walls))
    yield from ((f"panel:{each.id}", partial(explain_panel, job, each)) for each in ceiling.panels)
    yield from ((f"member:{each.id}", partial(explain_member, job, each)) for each in ceiling.members)
    yield from ((f"hanger:{each.id}", partial(explain_hanger, job, each)) for each in ceiling.hangers)
