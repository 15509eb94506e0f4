"""Why a hanger hangs where it hangs, what it bears, and how long its wire is; and what the mains carry.

In: a `Job` and a hanger. Out: an explanation. Limits, joists, loads and lengths are those of
`planner.ceiling.hanging` and `planner.ceiling.loads`.
"""

from collections.abc import Iterator
from itertools import pairwise

from planner.ceiling.hanging import SPACING_SOURCE, splices
from planner.ceiling.holding.blocking import SOURCE as SLACK_SOURCE
from planner.ceiling.holding.overhead import PLUMB, SLACK, crossings, drop_of, leans_at_most, to_joist
from planner.ceiling.holding.ties import FROM_CORNER_MM
from planner.ceiling.holding.wall_wires import SOURCE as WALL_SOURCE
from planner.ceiling.holding.wall_wires import WALL_WIRE_MM
from planner.ceiling.loads import CONNECTION_N, GRAVITY, N_OF_LB, N_PER_M_OF_LB_FT, SAG, carried
from planner.ceiling.loads import SOURCE as DUTY_SOURCE
from planner.ceiling.model import Hanger, Loads, Member
from planner.explain.model import MEMORY, PRACTICE, Explanation, Job, Step
from planner.explain.services import weight_steps
from planner.geometry import TOLERANCE_MM, distance
from planner.lengths import Rounding

HANDOUTS = "building department handouts (Daly City CA, Everett WA)"

#: A hanger this near the line of a joist hangs from it.
_ON_JOIST_MM = 1.0


def explain_hanger(job: Job, hanger: Hanger) -> Explanation:
    """One wire or screw."""
    if hanger.kind == "screw":
        steps = [*_screw_steps(job, hanger)]
    elif hanger.kind == "service wire":
        steps = [*_service_steps(job, hanger)]
    elif hanger.kind == "wall wire":
        steps = [*_wall_steps(job, hanger)]
    elif hanger.kind == "end wire":
        text = f"{hanger.member} ends at a pipe or post, where no wall angle carries it: a wire holds its free end."
        steps = [Step(text, None, "", "tee meets a pipe", PRACTICE), *_joist_steps(job, hanger)]
    else:
        steps = [*limit_steps(job), *_along_steps(job, hanger), *_load_steps(job, hanger)]
    steps += _length_steps(job, hanger)
    on = job.members.get(hanger.member)
    at = f", {job.said(distance(on.start, hanger.at))} from its start" if on else ""
    return Explanation(hanger.id, hanger.kind, f"It holds {hanger.member}{at}.", tuple(steps))


def explain_loads(job: Job) -> Explanation:
    """What the main tees bear, and how far apart that lets hangers be."""
    loads, limits = job.plan.ceiling.loads, tuple(limit_steps(job))
    if loads is None:
        hung = job.system.fixing == "hung"
        why = (
            "the weight of the panels is not given: write  grid: {panel_weight: 1.0 psf}" if hung else "it is not hung"
        )
        return Explanation("loads", "ceiling", f"No loads are reckoned for this grid: {why}.", limits)
    share = f"{100 * loads.carried / loads.allowed:.0f} %"
    answer = f"The mains bear {_line_load(job, loads.carried)} at most, {share} of what they carry."
    return Explanation("loads", "ceiling", answer, (*limits, *_carried_steps(job, loads), *_heaviest_steps(job, loads)))


def _carried_steps(job: Job, loads: Loads) -> Iterator[Step]:
    """What the main that bears most bears, part by part, and what its class carries."""
    worst = max(job.burdens.values(), key=lambda burden: carried([burden], loads.spacing), default=None)
    if worst is not None:
        panels, added = worst.per_metre, loads.carried - worst.per_metre
        text = f"Panels and grid weigh {_line_load(job, panels)} on each main tee."
        yield Step(text, panels, "N/m", "a main bears half of what is to either side", DUTY_SOURCE)
        text = (
            f"Services add most on {worst.run.id}, {_line_load(job, added)}: those of a span, each as if in its middle."
        )
        yield Step(text, added, "N/m", "a weight at midspan counts 8/5 of it spread evenly", "beam formulas")
        yield Step(f"Together {_line_load(job, loads.carried)}, on {worst.run.id}.", loads.carried, "N/m")
    text = f"Mains of {loads.duty} duty carry {_line_load(job, loads.allowed)}, held every {job.said(loads.spacing)}."
    rule = f"sag of 1/{round(1 / SAG)} of the span; the load goes with 1 / span^3"
    yield Step(text, loads.allowed, "N/m", rule, DUTY_SOURCE)


def _heaviest_steps(job: Job, loads: Loads) -> Iterator[Step]:
    if loads.heaviest:
        text = f"{loads.heaviest} bears most: {_weight(job, loads.reaction)}; {_holds(job)}."
        yield Step(text, loads.reaction, "N", "100 lb at least for a connection", HANDOUTS)


def limit_steps(job: Job) -> Iterator[Step]:
    """How far apart hangers may be, and what says so."""
    if job.system.fixing != "hung":
        return
    system, asked = job.system.hanging, job.wish.hanger_spacing
    sources = dict(job.system.sources)
    source = sources.get("hangers, spacing", SPACING_SOURCE)
    limit = system.spacing if asked is None else asked
    text = f"Hangers may be {job.said(system.spacing)} apart along a main tee."
    yield Step(text, system.spacing, "mm", "farthest between hangers", source)
    own = (
        "less than between hangers: that is this system's own limit, while ASTM C636, by which grids in inches are "
        "hung, names none at a wall but that between hangers"
        if system.first < system.spacing - TOLERANCE_MM
        else "as between hangers: ASTM C636 names no other limit at a wall, where the wall angle carries the end; "
        "metric practice asks for less, and so do the metric systems here"
    )
    text = f"From a wall to the first hanger it may be {job.said(system.first)}, {own}."
    yield Step(text, system.first, "mm", "first hanger from a wall", sources.get("hangers, first from a wall", MEMORY))
    if asked is not None:
        yield Step(f"The room file asks for {job.said(asked)} at most.", asked, "mm", "hanger_spacing", "the room file")
    loads = job.plan.ceiling.loads
    if loads is not None and loads.spacing < limit - TOLERANCE_MM:
        text = f"With what the mains bear, {loads.duty} duty takes {job.said(loads.spacing)} at most."
        yield Step(text, loads.spacing, "mm", "duty of the main tees", DUTY_SOURCE)


def _limit(job: Job) -> float:
    loads = job.plan.ceiling.loads
    if loads is not None:
        return loads.spacing
    return job.system.hanging.spacing if job.wish.hanger_spacing is None else job.wish.hanger_spacing


def _on_run(job: Job, run: Member) -> list[float]:
    """Where a run is held, as distances from its start."""
    kinds = ("wire", "splice wire")
    held = [hanger for hanger in job.plan.ceiling.hangers if hanger.member == run.id and hanger.kind in kinds]
    return sorted(distance(run.start, hanger.at) for hanger in held)


def _along_steps(job: Job, hanger: Hanger) -> Iterator[Step]:
    """The joist, the splice, the neighbours."""
    run = job.members[hanger.member]
    at, length = distance(run.start, hanger.at), distance(run.start, run.end)
    yield from _joist_steps(job, hanger)
    if hanger.kind == "splice wire":
        near = min(splices(run), key=lambda splice: abs(splice - at))
        side = "before" if at < near else "after"
        text = f"It holds {run.id} {job.said(abs(near - at))} {side} the splice at {job.said(near)}."
        yield Step(text, abs(near - at), "mm", "a wire on each side of a splice", "NAVEDTRA 14044 p. 5-17")
    spots = [0.0, *_on_run(job, run), length]
    before, after = max(s for s in spots if s < at - TOLERANCE_MM), min(s for s in spots if s > at + TOLERANCE_MM)
    behind = f"{job.said(at - before)} from {'the hanger before' if before else 'the start of the run'}"
    ahead = f"{job.said(after - at)} to {'the next' if after < length else 'its end'}"
    yield Step(f"It is {behind}, {ahead}.", at, "mm", "the fewest that keep every limit", PRACTICE)
    yield from _reach_steps(job, run, at, before)


def _joist_steps(job: Job, hanger: Hanger) -> Iterator[Step]:
    joists = job.room.joists
    if joists is None:
        yield Step("No joists are given: hangers are spread evenly.", None, "", "joists not given", PRACTICE)
        return
    slope, rule, source = lean_rule(hanger)
    if hanger.block or to_joist(joists, hanger.overhead) > _ON_JOIST_MM:
        text = "No joist is near enough: it needs blocking between the joists."
        yield Step(text, None, "", rule, source)
        return
    if hanger.top is not None:
        aside = distance(hanger.at, hanger.top)
        text = f"It leans {job.said(aside)}; {job.said(leans_at_most(job.room, slope), Rounding.DOWN)} is allowed."
        yield Step(text, aside, "mm", rule, source)
    along = hanger.overhead[0 if joists.direction == "across" else 1]
    number = round((along - joists.first) / joists.spacing)
    corner, way = job.room.corner_names[0], "along" if joists.direction == "across" else "square to"
    sums = f"{job.said(joists.first)} + {number} x {job.said(joists.spacing)} = {job.said(along)}"
    text = f"It hangs from joist {number + 1}: {sums}"
    yield Step(
        f"{text} from {corner}, {way} {job.room.walls[0].name}.",
        along,
        "mm",
        "hangers hang from real joists",
        SPACING_SOURCE,
    )


def lean_rule(hanger: Hanger) -> tuple[float, str, str]:
    """How far a wire may lean, as a share of its drop; the rule, and its source."""
    if hanger.kind == "service wire":
        return SLACK, "a wire of a service may be slack: 45 degrees at most", SLACK_SOURCE
    return PLUMB, "a wire leans 1 in 6 at most", SPACING_SOURCE


def _reach_steps(job: Job, run: Member, at: float, before: float) -> Iterator[Step]:
    """Why not a joist further on."""
    joists = job.room.joists
    if joists is None:
        return
    points = crossings(joists, run.start, run.end)
    beyond = next((one for one, other in pairwise((*points, float("inf"))) if one > at + TOLERANCE_MM), None)
    limit = job.system.hanging.first if before == 0.0 else _limit(job)
    if beyond is not None and beyond - before > limit + TOLERANCE_MM:
        text = f"The next joist on would be {job.said(beyond - before)} from there, more than {job.said(limit)}."
        yield Step(text, beyond - before, "mm", "farthest between hangers", SPACING_SOURCE)


def _load_steps(job: Job, hanger: Hanger) -> Iterator[Step]:
    """Its share of what the run bears."""
    newtons = job.reactions.get(hanger.id)
    if newtons is None:
        return
    burden = job.burdens[hanger.member]
    borne = f"Of {_line_load(job, burden.per_metre)} of panels and grid, and of the services near it"
    text = f"{borne}, it bears {_weight(job, newtons)}; {_holds(job)}."
    yield Step(text, newtons, "N", "half of each span beside it", HANDOUTS)


def _service_steps(job: Job, hanger: Hanger) -> Iterator[Step]:
    service = next(service for service in job.plan.ceiling.services if service.name == hanger.member)
    yield from weight_steps(job, service)
    if job.room.joists is None:
        text = "It is tied at a corner of the service and goes to the nearest sound structure."
        yield Step(text, None, "", "", PRACTICE)
        return
    text = f"It is tied at a corner of the service, or within {job.said(FROM_CORNER_MM)} of it."
    yield Step(text, None, "", "wires of services at their corners", HANDOUTS)
    yield from _joist_steps(job, hanger)


def _wall_steps(job: Job, hanger: Hanger) -> Iterator[Step]:
    category = job.room.site.seismic
    text = (
        f"Seismic design category {category}: each tee end at a wall has a wire within {job.said(WALL_WIRE_MM)} of it."
    )
    yield Step(text, WALL_WIRE_MM, "mm", "wires at the walls", WALL_SOURCE)
    member = job.members[hanger.member]
    end = min(distance(member.start, hanger.at), distance(member.end, hanger.at))
    yield Step(f"It stands {job.said(end)} from the end of {member.id}.", end, "mm")


def _screw_steps(job: Job, hanger: Hanger) -> Iterator[Step]:
    member, direct = job.members[hanger.member], job.system.direct
    if direct is None:
        return
    if member.kind == "track":
        text = f"Track is screwed into studs, {job.said(direct.track_screws)} apart at most, evenly spread."
        yield Step(text, direct.track_screws, "mm", "screws of the track", MEMORY)
        return
    joists = job.room.joists
    if any(each.kind == "furring strip" for each in job.plan.ceiling.members):
        yield Step(
            f"{member.id} is screwed to every furring strip that it passes under.",
            None,
            "",
            "a screw at every crossing",
            MEMORY,
        )
    elif joists is None:
        yield Step(
            "Joists are not given: drawn as if they ran square to the carriers.", None, "", "joists not known", MEMORY
        )
    else:
        text = f"{member.id} is screwed to every joist that it crosses, {job.said(joists.spacing)} apart."
        yield Step(text, joists.spacing, "mm", "a screw at every joist crossed", MEMORY)


def _length_steps(job: Job, hanger: Hanger) -> Iterator[Step]:
    """The wire to cut."""
    drop = drop_of(job.room)
    if hanger.length is None or drop is None:
        return
    allowance = job.room.site.wire_allowance
    slack = hanger.length - drop - allowance
    slope = f" + {job.said(slack)} for its slope" if slack > TOLERANCE_MM else ""
    parts = f"{job.said(drop)} from joists to ceiling{slope} + {job.said(allowance)} for its ties"
    text = f"Wire: {parts} = {job.said(hanger.length)}."
    yield Step(text, hanger.length, "mm", "drop, and the ties at both ends", PRACTICE)


def _holds(job: Job) -> str:
    return f"a connection holds {_weight(job, CONNECTION_N)}"


def _line_load(job: Job, newtons_per_metre: float) -> str:
    imperial = job.room.imperial
    return f"{newtons_per_metre / N_PER_M_OF_LB_FT:.1f} lb/ft" if imperial else f"{newtons_per_metre:.1f} N/m"


def _weight(job: Job, newtons: float) -> str:
    return f"{newtons / N_OF_LB:.1f} lb" if job.room.imperial else f"{newtons:.1f} N ({newtons / GRAVITY:.1f} kg)"
