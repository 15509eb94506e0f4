"""What can be asked about a plan, and the answer.

In: a `Job` and a name: of a wall, panel, member, hanger, service, item or rule, or of one of the overviews. Out:
explanations, more than one where a name means several things. A name that means nothing is refused, with the nearest.
"""

from collections.abc import Callable, Iterator
from difflib import get_close_matches
from functools import partial

from planner.errors import PlannerError
from planner.explain.columns import explain_column
from planner.explain.hangers import explain_hanger, explain_loads
from planner.explain.mains import explain_mains
from planner.explain.members import explain_member
from planner.explain.model import Explanation, Job
from planner.explain.order import explain_cost, explain_item
from planner.explain.panels import explain_panel
from planner.explain.rules import RULES, explain_rule
from planner.explain.services import explain_service
from planner.explain.walls import explain_borders, explain_wall
from planner.records import dataclass

_OVERVIEWS: dict[str, Callable[[Job], Explanation]] = {
    "borders": explain_borders,
    "mains": explain_mains,
    "loads": explain_loads,
    "cost": explain_cost,
}

#: Other words for the overviews.
_ALSO = {
    "border": "borders",
    "layout": "borders",
    "grid": "borders",
    "module": "borders",
    "main": "mains",
    "hangers": "loads",
    "load": "loads",
    "duty": "loads",
    "order": "cost",
    "price": "cost",
    "total": "cost",
    "takeoff": "cost",
    "take-off": "cost",
}


@dataclass(frozen=True, slots=True)
class Topic:
    """Things of one kind that can be asked about."""

    kind: str
    names: tuple[str, ...]


def topics(job: Job) -> tuple[Topic, ...]:
    """Everything that can be asked about a plan, by kind; kinds with nothing in them are left out."""
    ceiling, plan = job.plan.ceiling, job.plan
    groups = {
        "overviews": tuple(_OVERVIEWS),
        "walls": tuple(wall.name for wall in job.room.walls),
        "columns": tuple(column.name for column in job.room.columns),
        "panels": tuple(panel.id for panel in ceiling.panels),
        "members": tuple(member.id for member in ceiling.members),
        "hangers": tuple(hanger.id for hanger in ceiling.hangers),
        "services": tuple(service.name for service in ceiling.services),
        "items": tuple(line.item for line in plan.stock.takeoff),
        "rules": tuple(dict.fromkeys(finding.rule for finding in plan.findings)),
    }
    return tuple(Topic(kind, names) for kind, names in groups.items() if names)


def explain(job: Job, name: str) -> tuple[Explanation, ...]:
    """Everything that a name stands for, explained; PlannerError when it stands for nothing."""
    asked = " ".join(name.split())
    found = [make() for known, make in _all(job) if known == asked]
    if not found:
        found = [make() for known, make in _all(job) if known.lower() == asked.lower()]
    if not found and (turned := "-".join(reversed(asked.split("-")))) != asked:
        found = [make() for known, make in _walls(job) if known.lower() == turned.lower()]
    if not found and asked.lower() in _ALSO:
        found = [_OVERVIEWS[_ALSO[asked.lower()]](job)]
    if not found and asked.lower() in RULES:
        found = [explain_rule(job, asked.lower())]
    if not found:
        raise _nothing(job, asked)
    return tuple(found)


def named_alike(job: Job, name: str) -> tuple[str, ...]:
    """What differs from a name that means something by small and large letters alone, each in a sentence."""
    asked = " ".join(name.split())
    names = [(known, topic.kind) for topic in topics(job) for known in topic.names]
    return tuple(
        f"{known} is something else, a {kind.removesuffix('s')}: write its name in those letters to ask about it."
        for known, kind in names
        if known != asked and known.lower() == asked.lower() and any(asked == other for other, _ in names)
    )


_Named = tuple[str, Callable[[], Explanation]]


def _all(job: Job) -> Iterator[_Named]:
    """Every name with what explains it."""
    ceiling, plan = job.plan.ceiling, job.plan
    yield from _walls(job)
    yield from ((column.name, partial(explain_column, job, column)) for column in job.room.columns)
    yield from ((panel.id, partial(explain_panel, job, panel)) for panel in ceiling.panels)
    yield from ((member.id, partial(explain_member, job, member)) for member in ceiling.members)
    yield from ((hanger.id, partial(explain_hanger, job, hanger)) for hanger in ceiling.hangers)
    yield from ((service.name, partial(explain_service, job, service)) for service in ceiling.services)
    yield from ((line.item, partial(explain_item, job, line)) for line in plan.stock.takeoff)
    rules = dict.fromkeys(finding.rule for finding in plan.findings)
    yield from ((rule, partial(explain_rule, job, rule)) for rule in rules)
    yield from ((name, partial(make, job)) for name, make in _OVERVIEWS.items())


def _walls(job: Job) -> Iterator[_Named]:
    yield from ((wall.name, partial(explain_wall, job, k)) for k, wall in enumerate(job.room.walls))


def _nothing(job: Job, asked: str) -> PlannerError:
    names = {name.lower(): name for topic in topics(job) for name in topic.names}
    near = get_close_matches(asked.lower(), names, n=3, cutoff=0.5)
    mend = f"Did you mean {' or '.join(names[name] for name in near)}? " if near else ""
    mend += "Leave the name out for a list of all that can be asked."
    return PlannerError(f'there is nothing called "{asked[:40]}" in this plan.', where="explain", mend=mend)
