"""What the set-out sheet says beside the drawing: legend, what to do, the diagonals; and the list of all marks.

In: a plan and its set-out, the width of a column. Out: stacks.
"""

from collections.abc import Sequence
from dataclasses import replace

from planner.ceiling.members.left_first import places_in_order
from planner.ceiling.model import SetOut
from planner.ceiling.proof_strings import allowance
from planner.drawing import words
from planner.drawing.cutting_names import told
from planner.drawing.dimensions import spoken, written, written_place
from planner.drawing.labels import Heights
from planner.drawing.legend import Entry, column_entries, corner_entry, stroke_sample
from planner.drawing.lettering import clean
from planner.drawing.member_roles import RUNS
from planner.drawing.place import Place
from planner.drawing.roles import Role
from planner.drawing.schedules import SCHEDULES
from planner.drawing.setout_labels import WallRun, wall_runs
from planner.drawing.shapes import Line
from planner.drawing.tables import Stack, notes, signed_notes, table
from planner.drawing.wrapping import shortened
from planner.geometry import TOLERANCE_MM
from planner.lengths import Rounding
from planner.planning import Plan

#: Rows of the list of marks; a longer one ends with a sentence that names the files that have all.
MOST_ROWS = 400
#: The name of a service takes at most this share of a column.
_LONGEST_NAME = 0.2
#: Walls told in the table; more end with a sentence that names the files that have all.
_MOST_WALLS = 40


def setout_words(
    plan: Plan, setout: SetOut, heights: Heights, place: Place, width: float, remarks: Sequence[str]
) -> list[Stack]:
    """All that is said beside the plan and its legend.

    A remark that is what a wall's label would say (`WallRun.said`) stands for a label that had no room: a row of the
    table of walls.
    """
    runs = {run.said: run for run in wall_runs(plan.room)}
    untold = [runs[remark] for remark in remarks if remark in runs]
    stacks = (
        _steps(plan, setout, width, heights),
        _diagonals(plan, setout, width, heights),
        _walls(untold, width, heights),
        _notes([remark for remark in remarks if remark not in runs], place, width, heights),
    )
    return [stack for stack in stacks if stack is not None]


def setout_signs(plan: Plan, setout: SetOut) -> list[Entry]:
    """What is on the plan."""
    tick = (*stroke_sample(Role.WALL), Line(Role.SET_OUT, (0.0, -1.6), (0.0, 1.6)))
    entries = [
        Entry(stroke_sample(Role.WALL), words.say("legend.wall")),
        Entry(tick, words.say("legend.set-out mark")),
        *column_entries(plan, 1.6),
        corner_entry(1.3, 1.8),
    ]
    if setout.lines:
        entries.append(Entry(stroke_sample(Role.STRING_LINE), words.say("legend.string line")))
    if setout.diagonals:
        sample = (Line(Role.DIMENSION, (-4.5, 0.0), (4.5, 0.0), words.say("legend.diagonal")),)
        entries.append(Entry(sample, words.say("legend.diagonal"), words.say("legend.diagonal")))
    return entries


def _steps(plan: Plan, setout: SetOut, width: float, heights: Heights) -> Stack:
    units = plan.room.units
    hooked = {"corner": plan.room.corner_names[0], "wall": plan.room.walls[0].name}
    turned = plan.room.turned
    steps = [words.say("set-out.hook turned", **hooked) if turned else words.say("set-out.hook", **hooked)]
    if setout.level is not None:
        steps.append(words.say("set-out.laser", level=spoken(setout.level, units)))
    marked = {marks.wall for marks in setout.walls if marks.marks}
    if bowed := [clean(wall.name) for wall in plan.room.walls if wall.arc is not None and wall.name in marked]:
        steps.append(words.say("set-out.bowed", walls=told(bowed)))
    if setout.diagonals:
        steps.append(words.say("set-out.prove"))
    elif setout.lines:
        steps.append(words.say("set-out.prove untaped"))
    numbered = ((f"{k}.", step) for k, step in enumerate(steps, 1))
    return signed_notes(words.say("set-out.how to"), numbered, width, heights)


def _diagonals(plan: Plan, setout: SetOut, width: float, heights: Heights) -> Stack | None:
    """Each diagonal with what a tape cannot tell at its length, rounded up to a mark of the tape."""
    if not setout.diagonals:
        return None
    units = plan.room.units
    rows = [
        (
            words.say(
                "set-out.allowed",
                length=written(diagonal.length, units),
                off=spoken(allowance(diagonal.length), units, Rounding.UP),
            ),
            diagonal.between,
        )
        for diagonal in setout.diagonals
    ]
    heading = words.say("set-out.diagonals")
    said, tells = signed_notes(heading, rows, width, heights), words.say("set-out.tape tells")
    return replace(said, rows=(*said.rows, *notes(heading, (tells,), width, heights, sign="").rows))


def _walls(runs: Sequence[WallRun], width: float, heights: Heights) -> Stack | None:
    """The walls whose labels had no room on the drawing."""
    if not runs:
        return None
    rows = [(run.wall, run.length, run.corner) for run in runs]
    more = [words.say("left out.rows", n=len(rows) - _MOST_WALLS)] if len(rows) > _MOST_WALLS else []
    return table(
        words.say("set-out.walls"), "lll", words.row("set-out.wall heads"), rows[:_MOST_WALLS], width, heights, more
    )


def _notes(remarks: Sequence[str], place: Place, width: float, heights: Heights) -> Stack | None:
    see = place.see(SCHEDULES)
    said = [*remarks, *([words.say("set-out.listed", see=see)] if see else [])]
    return notes(words.say("sheets.notes"), said, width, heights) if said else None


def hang_points(plan: Plan, width: float, heights: Heights) -> Stack | None:
    """Distances along every run, from its left or front end; runs held alike share a line. None when nothing is."""
    setout = plan.ceiling.setout
    if setout is None or not setout.hang_points:
        return None
    members = {member.id: member for member in plan.ceiling.members if member.kind in RUNS}
    alike: dict[str, list[str]] = {}
    for run in setout.hang_points:
        member = members.get(run.member)
        places = places_in_order(member, run.at) if member else run.at
        alike.setdefault(", ".join(written(at, plan.room.units) for at in places), []).append(run.member)
    heading = words.say("set-out.screw points" if plan.ceiling.system.direct else "set-out.hang points")
    rows = [(first, _held(points, also)) for points, (first, *also) in alike.items()]
    rows += _service_wires(plan, _LONGEST_NAME * width, heights[Role.NOTE])
    more = [("", words.say("left out.rows", n=len(rows) - MOST_ROWS))] if len(rows) > MOST_ROWS else []
    return signed_notes(heading, [*rows[:MOST_ROWS], *more], width, heights)


def _service_wires(plan: Plan, most: float, height: float) -> list[tuple[str, str]]:
    """Where the wires of services are tied, and where they are fixed if they lean; each from the reference corner:
    along the base wall and away from it.
    """
    places: dict[str, list[str]] = {}
    for hanger in plan.ceiling.hangers:
        if hanger.kind == "service wire":
            tied, fixed = (written_place(at, plan.room.units) for at in (hanger.at, hanger.overhead))
            text = tied if tied == fixed else words.say("set-out.leaning wire", tied=tied, fixed=fixed)
            places.setdefault(hanger.member, []).append(text)
    wall = words.drawn(plan.room.walls[0].name)
    rows = [(shortened(clean(name), most, height), "; ".join(found)) for name, found in places.items()]
    return [*rows, ("", words.say("set-out.service wires", wall=wall))] if rows else []


def furring_places(plan: Plan, width: float, heights: Heights) -> Stack | None:
    """Where the middle of each furring strip lies that runs along the base wall or square to it; None without any."""
    room, rows = plan.room, []
    for member in plan.ceiling.members:
        (x0, y0), (x1, y1) = member.start, member.end
        if member.kind != "furring strip" or min(abs(x1 - x0), abs(y1 - y0)) > TOLERANCE_MM:
            continue
        lies = abs(x1 - x0) > abs(y1 - y0)
        place = "away" if lies else "along"
        at = written(y0 if lies else x0, room.units)
        rows.append((member.id, words.say(f"set-out.furring {place}", at=at, wall=words.drawn(room.walls[0].name))))
    if not rows:
        return None
    more = [words.say("left out.rows", n=len(rows) - MOST_ROWS)] if len(rows) > MOST_ROWS else []
    return table(words.say("set-out.furring"), "ll", (), rows[:MOST_ROWS], width, heights, more)


def _held(points: str, also: Sequence[str]) -> str:
    return words.say("set-out.likewise", points=points, names=told(also)) if also else points


def marks_table(plan: Plan, width: float, heights: Heights) -> Stack | None:
    """Every mark with its wall and running length; None when there is no set-out."""
    setout = plan.ceiling.setout
    if setout is None:
        return None
    walls = {wall.name: words.translated(wall.measured) for wall in plan.room.walls}
    rows = [
        (walls.get(marked.wall, marked.wall) if k == 0 else "", written(mark.at, plan.room.units), mark.what)
        for marked in setout.walls
        for k, mark in enumerate(marked.marks)
    ]
    if not rows:
        return None
    more = [words.say("left out.rows", n=len(rows) - MOST_ROWS)] if len(rows) > MOST_ROWS else []
    return table(
        words.say("set-out.marks"), "lll", words.row("set-out.mark heads"), rows[:MOST_ROWS], width, heights, more
    )
