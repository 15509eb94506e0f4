"""Why the grid falls where it falls, and why each border is as wide as it is.

In: a `Job`. Out: the explanation of one wall, or of all borders. The wishes and the numbers are those of the search
itself (`planner.ceiling.grid.borders`); nothing is searched here but the places that a person would have tried.
"""

from planner.arcs import arc_length
from planner.ceiling.grid.axis import Axis
from planner.ceiling.ledge import LEAST_ON_LEDGE_MM, hides_at_most
from planner.ceiling.model import Border
from planner.explain.model import PRACTICE, Explanation, Job, Step
from planner.explain.panels import UNDERSIZE, undersize_source
from planner.explain.wishes import next_best, wishes_told
from planner.geometry import TOLERANCE_MM
from planner.lengths import spoken_cut
from planner.room.outline import Wall
from planner.wording import counted

HALF = "equal and as wide as possible (half-module rule)"
HALF_SOURCE = "NAVEDTRA 14044 pp. 5-16, 7-23"

_SIDES = (("left", "right"), ("front", "back"))


def explain_wall(job: Job, number: int) -> Explanation:
    """One wall: its border and why, its trim, its marks."""
    wall, border = job.room.walls[number], job.layout.borders[number]
    steps = [
        *_taped(job, wall),
        *axis_steps(job, _axis_of(job, wall)),
        *_border_steps(job, wall, border),
        *_trim_steps(job, number),
        *_mark_steps(job, wall),
    ]
    return Explanation(wall.name, "wall", _border_said(job, wall, border), tuple(steps))


def explain_borders(job: Job) -> Explanation:
    """The whole layout: both axes, then every wall."""
    layout = job.layout
    steps = [Step(f"The module is {job.said(layout.module[0])} x {job.said(layout.module[1])}{_module_from(job)}.")]
    steps += [step for number in (0, 1) for step in axis_steps(job, number)]
    for wall, border in zip(job.room.walls, layout.borders, strict=True):
        steps += _border_steps(job, wall, border)
    steps += _narrowest_steps(job)
    count = layout.full_panels + len(layout.cut_panels)
    whole = f"{layout.full_panels} whole modules and {len(layout.cut_panels)} cut panels make {count}."
    steps.append(Step(whole, count, "panels"))
    return Explanation("borders", "layout", layout.rule, tuple(steps))


def _narrowest_steps(job: Job) -> list[Step]:
    """The narrowest opening of all cut panels, and the narrowest panel that is sawn."""
    layout, steps = job.layout, list[Step]()
    if (opening := layout.smallest_cut) is not None:
        steps.append(Step(f"The narrowest opening of all cut panels is {job.said(opening)}.", opening, "mm"))
    if (panel := layout.narrowest_panel) is not None:
        sawn = spoken_cut((panel,), job.room.units)
        text = f"The narrowest panel is sawn {sawn} wide: panels are smaller than their openings, so that they drop in."
        steps.append(Step(text, panel, "mm", UNDERSIZE, undersize_source(job)))
    return steps


def _module_from(job: Job) -> str:
    return ", as the room file asks" if job.wish.module else f", the first that {job.system.name} names"


def _axis_of(job: Job, wall: Wall) -> int:
    """The axis along which a wall's border is measured: the one that it is steeper to, the first at 45 degrees."""
    (u0, v0), (u1, v1) = job.layout.frame.inward(wall.start), job.layout.frame.inward(wall.end)
    return 0 if abs(u1 - u0) <= abs(v1 - v0) + TOLERANCE_MM else 1


def axis_steps(job: Job, number: int) -> list[Step]:
    """Why the lines stand where they stand along one axis."""
    axis, place, fixed = job.search.axes[number], job.places[number], job.search.fixed[number]
    if hidden := job.reach.hidden[number]:
        return [_hidden_step(job, axis, hidden)]
    if fixed is not None:
        return _asked_steps(job, number)
    if len(axis.edges) == 4 and not axis.slanted and job.wish.prefer == "widest_borders":
        return _plain_steps(job, axis, place, _SIDES[number])
    return _weighed_steps(job, number)


def _hidden_step(job: Job, axis: Axis, hidden: float) -> Step:
    """Whole panels that stop short of two walls."""
    whole, covered = (axis.high - axis.low) // axis.module, (axis.high - axis.low) / axis.per_mm
    length = covered + 2 * hidden
    head = f"{whole} whole panels make {job.said(covered)}, the room is {job.said(length)}"
    text = f"{head}: they stay uncut, and the ledge at either wall hides {hidden:.1f} mm"
    most = (
        f"; {hides_at_most(job.system):.1f} mm are the most that still leave {LEAST_ON_LEDGE_MM:.1f} mm on the ledge."
    )
    return Step(text + most, hidden, "mm", "uncut over the ledge", "ASTM E580, of tee ends, read second hand")


def _plain_steps(job: Job, axis: Axis, place: int, sides: tuple[str, str]) -> list[Step]:
    """A rectangle along the grid: both ways to make the borders equal, in numbers."""
    length, module = axis.high - axis.low, axis.module
    whole, rest = divmod(length, module)
    long, side, over = (job.said(units / axis.per_mm) for units in (length, module, rest))
    head = f"From {sides[0]} to {sides[1]} the room is {long}"
    if not rest:
        text = f"{head} = {whole} x {side}: whole panels from wall to wall, nothing is cut."
        return [Step(text, module / axis.per_mm, "mm", HALF, HALF_SOURCE)]
    if not whole:
        return [Step(f"{head}, less than a module of {side}: one cut.", length / axis.per_mm, "mm")]
    narrow, wide = (units / 2 / axis.per_mm for units in (rest, rest + module))
    near, far = axis.from_low(place) / axis.per_mm, axis.from_high(place) / axis.per_mm
    between = round((length - axis.from_low(place) - axis.from_high(place)) / module)
    check = f"{job.said(near)} + {between} x {side} + {job.said(far)} = {long}"
    first = f"Equal borders can be {over} / 2 = {job.said(narrow)} each, with {whole} whole panels between."
    second = f"Or ({over} + {side}) / 2 = {job.said(wide)} each, with {whole - 1} whole panels between."
    return [
        Step(f"{head} = {whole} x {side} + {over}.", length / axis.per_mm, "mm"),
        Step(first, narrow, "mm"),
        Step(second, wide, "mm"),
        Step(f"The wider ones are taken: {check}.", near, "mm", HALF, HALF_SOURCE),
    ]


def _asked_steps(job: Job, number: int) -> list[Step]:
    """What the room file asks for on an axis, and what that comes to."""
    axis, place, sides = job.search.axes[number], job.places[number], _SIDES[number]
    asked = [
        f"borders: {side}: {'full' if width == 'full' else job.said(float(width))}"
        for side, width in _borders(job, sides)
    ]
    if job.wish.centre_on is not None:
        asked.append("centre_on: a panel's middle")
    near, far = axis.from_low(place) / axis.per_mm, axis.from_high(place) / axis.per_mm
    text = f"The room file fixes this ({', '.join(asked)}): {job.said(near)} {sides[0]}, {job.said(far)} {sides[1]}"
    step = Step(f"{text}, at the outermost points.", near, "mm", "as asked for", "the room file")
    return [step, *next_best(job, number, "Left to the planner, the best of the places that one would try")]


def _borders(job: Job, sides: tuple[str, str]) -> list[tuple[str, float | str]]:
    return [(side, width) for side, width in job.wish.borders if side in sides]


def _weighed_steps(job: Job, number: int) -> list[Step]:
    """A room of another shape: which wish decided, and what the next best would have cost."""
    steps = list(wishes_told(job, number))
    if job.wish.prefer == "fewest_panels":
        return [
            *steps,
            *next_best(job, number, "By the usual order of wishes, the best of the others that one would try"),
        ]
    return [*steps, *next_best(job, number, "The next best of the places that one would try")]


def _border_said(job: Job, wall: Wall, border: Border) -> str:
    least, most = job.said(border.least), job.said(border.most)
    if job.reach.hidden[_axis_of(job, wall)]:
        return f"The panels along {wall.name} are whole, {least}: the ledge hides what they lack."
    if border.most - border.least <= TOLERANCE_MM:
        return f"The panels along {wall.name} are {least} wide, from the wall to the first grid line."
    return f"The panels along {wall.name} run from {least} to {most} wide: the wall does not lie along the grid."


def _border_steps(job: Job, wall: Wall, border: Border) -> list[Step]:
    least, most = job.said(border.least), job.said(border.most)
    even = border.most - border.least <= TOLERANCE_MM
    text = f"{wall.name}: {least}" if even else f"{wall.name}: {least} at its narrowest, {most} at its widest"
    if hidden := job.reach.hidden[_axis_of(job, wall)]:
        text += f", a whole panel that stops {hidden:.1f} mm short of the wall: the first grid line is"
        return [Step(f"{text} {job.said(border.least + hidden)} from it.", border.least, "mm")]
    return [Step(f"{text}, from the wall to the first grid line.", border.least, "mm")]


def _taped(job: Job, wall: Wall) -> list[Step]:
    steps = [Step(f"{wall.name} is {job.said(wall.length)} long.", wall.length, "mm")]
    for reading in job.plan.survey.readings if job.plan.survey else ():
        if set(reading.between) == set(wall.name.split("-")):
            text = (
                f"It was taped {job.said(reading.taped)}; all readings together make it {job.said(reading.adjusted)}."
            )
            steps.append(
                Step(text, reading.adjusted, "mm", "least squares over all readings", "surveying, from memory")
            )
    return steps


def _trim_steps(job: Job, number: int) -> list[Step]:
    """The trim along a wall."""
    steps = []
    for member in job.plan.ceiling.members:
        base = member.id.rstrip("abcdefghijklmnopqrstuvwxyz").split(".")[0]
        if member.kind in ("wall angle", "track") and base == f"W{number + 1}":
            pieces = counted(sum(piece.count for piece in member.pieces), "piece")
            beyond = member.length - arc_length(member.start, member.end, member.bulge)
            round_it = f", {job.said(beyond)} of it round outside corners" if beyond > TOLERANCE_MM else ""
            text = f"{member.id}, {member.kind}, {job.piece(member.length, whole=member.whole)} in {pieces}{round_it}."
            steps.append(Step(text, member.length, "mm"))
    return steps


def _mark_steps(job: Job, wall: Wall) -> list[Step]:
    """What is marked on a wall, running from its first corner."""
    setout = job.plan.ceiling.setout
    start = wall.corners[0]
    marks = [mark for each in setout.walls if each.wall == wall.name for mark in each.marks] if setout else []
    return [Step(f"Mark {mark.what} {job.said(mark.at)} from {start}.", mark.at, "mm", "", PRACTICE) for mark in marks]
