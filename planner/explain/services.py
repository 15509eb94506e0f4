"""Why a service stands where it stands: where it was asked for, what was in the way, how far it moved.

In: a `Job` and a service. Out: an explanation. What was in the way is told by the service itself, as it was placed.
"""

from collections.abc import Iterator

from planner.ceiling.holding.service_wires import GRID_CARRIES_KG, ONE_WIRE_UNDER_KG, SOURCE, weight_said, wires_for
from planner.ceiling.model import Service
from planner.explain.model import PRACTICE, Explanation, Job, Step
from planner.explain.words import listed
from planner.geometry import TOLERANCE_MM, Point
from planner.room.brief import ServiceWish
from planner.room.service_kinds import KINDS
from planner.wording import counted

_IN_THE_WAY = {
    "cut panel": "its modules there are cut by a wall or a column",
    "main tee": "a main tee runs through there",
    "taken": "{other} has those modules",
    "long side": "no cross tee is long enough to run along its side there",
    "outside": "that is outside the room",
    "panel taken": "{other} has that module",
    "tee": "its hole would meet a tee there",
    "wall": "its hole would meet the wall angle there",
    "hole": "it would meet {other} there",
    "sliver": "its hole would leave too narrow a rim there",
}


def explain_service(job: Job, service: Service) -> Explanation:
    """One service in its place."""
    wish = next(wish for wish in job.brief.services if wish.name == service.name)
    kind = KINDS[service.kind]
    steps = [*_wish_steps(job, service, wish), *_seat_steps(job, service), *weight_steps(job, service)]
    moved = f", {job.said(service.moved)} from where it was asked for" if service.moved > TOLERANCE_MM else ""
    answer = f"{kind.label} at {_place(job, service.at)}{moved}."
    return Explanation(service.name, "service", answer, tuple(steps))


def _place(job: Job, point: Point) -> str:
    base = job.room.base
    return f"{job.said(point[0])} along {base} and {job.said(point[1])} from it"


def _wish_steps(job: Job, service: Service, wish: ServiceWish) -> Iterator[Step]:
    """Asked for, in the way, placed."""
    if wish.at is not None:
        yield Step(
            f"Fixed by the room file (at:) at {_place(job, wish.at)}.", None, "", "as asked for", "the room file"
        )
        if service.moved > TOLERANCE_MM:
            text = f"Set {job.said(service.moved)} aside, in the middle of its modules: within a panel's play."
            yield Step(text, service.moved, "mm", "", PRACTICE)
        return
    if wish.near is not None:
        yield Step(f"Asked for near {_place(job, wish.near)}.", None, "", "as asked for", "the room file")
    if service.obstacle:
        why = _IN_THE_WAY.get(service.obstacle, service.obstacle).format(other=service.obstacle_of or "something")
        yield Step(f"It cannot be there: {why}.", None, "", _rule_of(service), PRACTICE)
    seat = "the nearest whole modules that suit" if service.fills else "the middle of its panel"
    if service.obstacle and not service.fills:
        seat = "the middle of the nearest panel that suits"
    text = f"Placed at {_place(job, service.at)}, {seat}: moved {job.said(service.moved)}."
    yield Step(text, service.moved, "mm", "the nearest place that suits", PRACTICE)


def _rule_of(service: Service) -> str:
    return "no service cuts a main" if service.obstacle == "main tee" else "clear of tees, walls and other services"


def _seat_steps(job: Job, service: Service) -> Iterator[Step]:
    """What it does to the panels."""
    if service.fills:
        text = f"It fills {counted(len(service.cells), 'whole module')} and takes the place of as many panels."
        yield Step(text, len(service.cells), "panels", "a size that fills whole modules lies in", PRACTICE)
    elif service.panels:
        size = job.said(service.size[0])
        shape = f"round, {size}" if service.round else f"{size} x {job.said(service.size[1])}"
        yield Step(f"A hole, {shape}, is cut for it in panel {listed(service.panels)}.", service.size[0], "mm")
    elif KINDS[service.kind].form == "surface":
        yield Step("It is fixed below the panel; only a wire passes.", None, "", "", PRACTICE)
    else:
        yield Step(
            "Nothing is cut for it: it cannot be built where it is fixed; a finding says why and where it could."
        )


def weight_steps(job: Job, service: Service) -> Iterator[Step]:
    """Its wires, by weight."""
    if not KINDS[service.kind].on_grid or service.weight_kg is None:
        return
    imperial, wires = job.room.imperial, wires_for(service.weight_kg)
    weight, one, most = (weight_said(kg, imperial) for kg in (service.weight_kg, ONE_WIRE_UNDER_KG, GRID_CARRIES_KG))
    rule = f"under {one} one wire, up to {most} two, above that straight from the structure"
    if job.system.fixing != "hung":
        yield Step(f"It weighs {weight}.", service.weight_kg, "kg")
    elif wires is None:
        text = f"It weighs {weight}: the structure alone holds it, on approved hangers of its own."
        yield Step(text, service.weight_kg, "kg", rule, SOURCE)
    else:
        ids = [hanger.id for hanger in job.plan.ceiling.hangers if hanger.member == service.name]
        text = f"It weighs {weight}: {counted(wires, 'wire')} of its own, {listed(ids)}."
        yield Step(text, wires, "wires", rule, SOURCE)
