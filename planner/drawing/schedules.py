"""What the sheet says in words and numbers beside the plan: quantities, panels, walls, findings, cautions.

In: a plan, the width of a column, how many rows a list may have. Out: stacks, ready to be set.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from planner.ceiling.checks import cautions
from planner.ceiling.model import Panel
from planner.drawing import words
from planner.drawing.annotation import border_text, findings_in_order
from planner.drawing.dimensions import written, written_module
from planner.drawing.labels import Heights
from planner.drawing.lettering import clean
from planner.drawing.panel_marks import panel_class
from planner.drawing.plan_lines import panel_size
from planner.drawing.roles import Role
from planner.drawing.tables import Stack, notes, shortened, signed_notes, table
from planner.geometry import Frame
from planner.lengths import format_length
from planner.plan import Plan

_SQUARE_FOOT = 304.8**2
_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class Limits:
    """How long each list may be on a sheet; what is left out is said."""

    classes: int
    walls: int
    findings: int
    cautions: int
    note_lines: int


def quantities(plan: Plan, width: float, heights: Heights) -> Stack:
    """The main numbers of the ceiling."""
    system = clean(plan.ceiling.system.title)
    return table(words.QUANTITIES, "lr", (), _facts(plan), width, heights, system)


def _facts(plan: Plan) -> list[tuple[str, str]]:
    room, ceiling = plan.room, plan.ceiling
    layout = ceiling.layout
    rows = [
        (words.MODULE, " × ".join(written_module(side, room.units) for side in layout.module)),
        (words.MAINS, words.MAINS_RUN[ceiling.mains]),
        (words.AREA, _area(room.area, room.imperial)),
        (words.PERIMETER, written_long(room.perimeter, room.units)),
        (words.FULL_PANELS, str(ceiling.full_panels)),
        (words.CUT_PANELS, str(len(ceiling.panels))),
    ]
    if layout.smallest_cut is not None:
        rows.append((words.SMALLEST_CUT, written(layout.smallest_cut, room.units)))
    if room.ceiling_height is not None:
        rows.append((words.CEILING_HEIGHT, written_long(room.ceiling_height, room.units)))
    return rows


def _area(mm2: float, imperial: bool) -> str:
    return f"{mm2 / _SQUARE_FOOT:.1f} sq ft" if imperial else f"{mm2 / 1e6:.2f} m²"


def written_long(mm: float, units: str) -> str:
    """A length with its unit."""
    return format_length(mm, units) if units in ("ft-in", "in") else format_length(mm, "mm")


def panel_schedule(plan: Plan, width: float, limit: int, heights: Heights) -> Stack | None:
    """One row for each class of panels that are cut alike; None when nothing is cut, or no row allowed."""
    classes: dict[str, list[Panel]] = {}
    for panel in plan.ceiling.panels:
        classes.setdefault(panel_class(panel), []).append(panel)
    if not classes or not limit:
        return None
    names = sorted(classes, key=lambda name: (len(name), name))
    rows = [_class_row(name, classes[name], plan.room.units) for name in _first(names, limit)]
    more = words.MORE_CLASSES.format(n=len(names) - len(rows)) if len(names) > len(rows) else ""
    return table(words.PANELS, "lllr", words.PANEL_HEADS, rows, width, heights, more)


def _class_row(name: str, panels: Sequence[Panel], units: str) -> tuple[str, str, str, str]:
    panel = panels[0]
    taper = written(panel.taper, "in" if units == "ft-in" else units) if panel.taper >= 1.0 else ""
    size = words.DRILLED if panel.full_size else panel_size(panel, units)
    if panel.cutouts and not panel.full_size:
        taper = taper or words.WITH_HOLE
    return (name, size, taper, str(len(panels)))


def wall_schedule(plan: Plan, width: float, limit: int, heights: Heights) -> Stack | None:
    """Each wall, its length, and the border along it, both ends where it tapers; None when no row is allowed."""
    if not limit:
        return None
    units = plan.room.units
    walls = plan.room.walls
    rows = [(wall.name, written(wall.length, units), border_text(plan, wall)) for wall in _first(walls, limit)]
    more = words.MORE_WALLS.format(n=len(walls) - len(rows)) if len(walls) > len(rows) else ""
    return table(words.WALLS, "lll", words.WALL_HEADS, rows, width, heights, more)


def layout_notes(plan: Plan, remarks: Iterable[str], width: float, limits: Limits, heights: Heights) -> Stack:
    """Why the grid lies here, where it starts, what the sheet leaves out."""
    bare = () if limits.walls else (words.LISTS_LEFT_OUT,)
    return notes(words.LAYOUT, (plan.ceiling.layout.rule, start_sentence(plan), *remarks, *bare), width, heights)


def start_sentence(plan: Plan) -> str:
    """Where the start point is, from the walls that meet at the reference corner."""
    units = plan.room.units
    base, last = plan.room.walls[0], plan.room.walls[-1]
    turn = math.degrees(math.atan2(base.end[1] - base.start[1], base.end[0] - base.start[0]))
    corner = Frame(base.start, turn)
    x, y = corner.inward(plan.ceiling.layout.frame.origin)
    if abs(corner.inward(last.start)[0]) < 1.0:
        first, second = written(abs(y), units), written(abs(x), units)
        return words.START_SENTENCE.format(first=first, first_wall=base.name, second=second, second_wall=last.name)
    return words.START_LONE.format(
        away=written(abs(y), units),
        wall=base.name,
        along=written(abs(x), units),
        way=words.PAST if x >= 0 else words.SHORT_OF,
        corner=plan.room.corner_names[0],
    )


def finding_notes(plan: Plan, width: float, limit: int, heights: Heights) -> Stack | None:
    """The findings with their numbers on the plan; None when there are none."""
    findings = findings_in_order(plan.findings)
    if not findings:
        return None
    rows = [
        (str(number), f"{words.SEVERITY[finding.severity]}: {finding.message}")
        for number, finding in enumerate(_first(findings, limit), start=1)
    ]
    if len(findings) > len(rows):
        rows.append(("", words.MORE_FINDINGS.format(n=len(findings) - len(rows))))
    return signed_notes(words.FINDINGS, rows, width, heights)


def caution_notes(plan: Plan, width: float, limit: int, heights: Heights) -> Stack | None:
    """What to mind while building; the planner checks none of it."""
    sentences = cautions(plan.room, plan.ceiling.system)
    if not sentences:
        return None
    shown = list(_first(sentences, limit))
    if len(sentences) > len(shown):
        shown.append(words.MORE_CAUTIONS.format(n=len(sentences) - len(shown)))
    return notes(words.CAUTIONS, shown, width, heights, Role.CAUTION, "!")


def project_notes(plan: Plan, width: float, lines: int, heights: Heights) -> Stack | None:
    """The notes of the room file, in about so many lines at most; None when there are none."""
    given = " ".join(value for key, value in plan.room.project if key.strip().lower() == "notes").split()
    if not given:
        return None
    height = heights[Role.NOTE]
    text = shortened(clean(" ".join(given)), lines * (width - 2 * height), height)
    return notes(words.NOTES, (text,), width, heights)


def _first(items: Sequence[_T], limit: int) -> Sequence[_T]:
    """The first items; all of them when only one more than the limit, since saying so takes a row too."""
    return items if len(items) <= limit + 1 else items[:limit]
