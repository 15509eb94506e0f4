"""What the set-out sheet says beside the drawing: legend, what to do, the diagonals; and the list of all marks.

In: a plan and its set-out, the width of a column. Out: stacks.
"""

from collections.abc import Sequence

from planner.ceiling.model import SetOut
from planner.drawing import words
from planner.drawing.dimensions import spoken, written
from planner.drawing.labels import Heights
from planner.drawing.legend import Entry, column_entries, corner_entry, stroke_sample
from planner.drawing.place import Place
from planner.drawing.roles import Role
from planner.drawing.schedules import SCHEDULES
from planner.drawing.shapes import Line
from planner.drawing.tables import Stack, notes, signed_notes, table
from planner.planning import Plan

#: Rows of the list of marks; a longer one ends with a sentence that names the files that have all.
MOST_ROWS = 400
#: How far the diagonals may be off before a string is moved: 2 mm or 1/16 in (common practice, no source).
_OFF_MM = 2.0
_OFF_INCH = 25.4 / 16


def setout_words(
    plan: Plan, setout: SetOut, heights: Heights, place: Place, width: float, remarks: Sequence[str]
) -> list[Stack]:
    """All that is said beside the plan and its legend."""
    stacks = (
        _steps(plan, setout, width, heights),
        _diagonals(plan, setout, width, heights),
        _notes(remarks, place, width, heights),
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
    if setout.diagonals:
        off = _OFF_INCH if plan.room.imperial else _OFF_MM
        steps.append(words.say("set-out.prove", off=spoken(off, units)))
    numbered = ((f"{k}.", step) for k, step in enumerate(steps, 1))
    return signed_notes(words.say("set-out.how to"), numbered, width, heights)


def _diagonals(plan: Plan, setout: SetOut, width: float, heights: Heights) -> Stack | None:
    if not setout.diagonals:
        return None
    rows = [(diagonal.between, written(diagonal.length, plan.room.units)) for diagonal in setout.diagonals]
    paragraphs = ((length, between) for between, length in rows)
    return signed_notes(words.say("set-out.diagonals"), paragraphs, width, heights)


def _notes(remarks: Sequence[str], place: Place, width: float, heights: Heights) -> Stack | None:
    see = place.see(SCHEDULES)
    said = [*remarks, *([words.say("set-out.listed", see=see)] if see else [])]
    return notes(words.say("sheets.notes"), said, width, heights) if said else None


def hang_points(plan: Plan, width: float, heights: Heights) -> Stack | None:
    """Running distances along every run; runs that are held alike share a line. None when nothing is hung."""
    setout = plan.ceiling.setout
    if setout is None or not setout.hang_points:
        return None
    alike: dict[str, list[str]] = {}
    for run in setout.hang_points:
        alike.setdefault(", ".join(written(at, plan.room.units) for at in run.at), []).append(run.member)
    rows = [(first, _held(points, also)) for points, (first, *also) in alike.items()]
    more = [("", words.say("left out.rows", n=len(rows) - MOST_ROWS))] if len(rows) > MOST_ROWS else []
    return signed_notes(words.say("set-out.hang points"), [*rows[:MOST_ROWS], *more], width, heights)


def _held(points: str, also: Sequence[str]) -> str:
    return words.say("set-out.likewise", points=points, names=", ".join(also)) if also else points


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
