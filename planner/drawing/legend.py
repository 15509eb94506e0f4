"""The legend: every sign that is on the sheet, and no other, with what it means.

Public sources disagree on what a crossed square stands for, so the sheet itself must say.
"""

import math
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from planner.ceiling.model import Service
from planner.drawing import words
from planner.drawing.annotation import start_target
from planner.drawing.dimensions import written_size
from planner.drawing.labels import Heights
from planner.drawing.lettering import clean
from planner.drawing.member_roles import MEMBER_ROLES, TOLD_KINDS
from planner.drawing.roles import Role
from planner.drawing.shapes import Circle, Line, Outline, Shape, Symbol, Text
from planner.drawing.symbols import Look, look_of
from planner.drawing.tables import PITCH, RISE, Row, Stack, drawn_rows, moved
from planner.drawing.wrapping import shortened, wrapped
from planner.findings import Finding
from planner.planning import Plan
from planner.room.service_kinds import KINDS

_SAMPLE = 9.0  #: width of a sample, millimetres


class Entry(NamedTuple):
    """A sign and what it means; without shapes, a sentence about the symbols."""

    shapes: tuple[Shape, ...]
    text: str
    sign: str = ""  #: name of its block or title of its shape; empty = its role tells it from others
    plain: str = ""  #: the text where only a part of the room is shown, without numbers for all of it


def signs(plan: Plan, scale: float, heights: Heights) -> list[Entry]:
    """What is on a ceiling plan at 1:`scale`; services by kind and size, with how many there are."""
    looks = [look_of(service, scale) for service in plan.ceiling.services]
    entries = [*_lines(plan, heights), *services_entries(plan, looks, scale, heights)]
    return [*entries, Entry((), words.say("legend.enlarged"))] if any(look.enlarged for look in looks) else entries


def legend(entries: Iterable[Entry], width: float, heights: Heights) -> Stack:
    """Samples with their meaning."""
    rows: list[Row] = []
    height = heights[Role.LEGEND]
    for entry in entries:
        if entry.shapes:
            rows.append(legend_row(entry.shapes, entry.text, width, heights))
            continue
        for line in wrapped(entry.text, width, height):
            rows.append(Row(PITCH * height, (Text(Role.LEGEND, (0.0, -RISE * height), line),)))
    return drawn_rows(words.say("legend.heading"), rows, width, heights)


def among(entries: Iterable[Entry], shapes: Iterable[Shape]) -> list[Entry]:
    """The entries whose signs are among the shapes, without numbers for the whole room."""
    roles: set[Role] = set()
    names: set[str] = set()
    for shape in shapes:
        roles.add(shape.role)
        names.add(shape.block if isinstance(shape, Symbol) else getattr(shape, "title", ""))
    symbols = any(entry.sign in names for entry in entries if entry.sign)
    return [
        entry._replace(text=entry.plain or entry.text)
        for entry in entries
        if (entry.sign in names if entry.sign else entry.shapes[-1].role in roles if entry.shapes else symbols)
    ]


def service_size(service: Service, units: str) -> str:
    """Size as the trade says it: 24" × 48", Ø 150."""
    if service.round:
        return written_size(service.size[:1], units, "Ø ")
    return written_size(service.size, units)


def assumed_size(service: Service, imperial: bool) -> bool:
    """True for a size that is the planner's own and stands for whatever will be bought."""
    return service.size == KINDS[service.kind].own_size(imperial=imperial)


def _lines(plan: Plan, heights: Heights) -> list[Entry]:
    """The drawn lines, each as a short sample around (0, 0)."""
    x, y = _SAMPLE / 2, 0.5 * heights[Role.LEGEND] + 0.3
    box = ((-x, -y), (x, -y), (x, y), (-x, y))
    kinds = {member.kind for member in plan.ceiling.members} - {"furring strip"}  # that lies above the ceiling
    entries = [Entry(stroke_sample(Role.WALL), words.say("legend.wall"))]
    entries += [
        Entry(stroke_sample(MEMBER_ROLES[kind]), words.say(f"members.{kind}")) for kind in TOLD_KINDS if kind in kinds
    ]
    if panels := plan.ceiling.panels:
        cut = (Outline(Role.CUT_SHADE, box, fill=True), Outline(Role.CUT_PANEL, box))
        drilled = any(panel.full_size for panel in panels)
        entries.append(Entry(cut, words.say("legend.cut or drilled panel" if drilled else "legend.cut panel")))
    entries += column_entries(plan, y)
    entries.append(Entry(start_target((0.0, 0.0), 0.55 * y), words.say("legend.start point")))
    entries.append(corner_entry(0.5 * y, y))
    entries += finding_entries(plan.findings, y)
    if plan.ceiling.height is not None:
        tag = Outline(Role.NOTE, ((-0.8 * x, -y), (0.8 * x, -y), (0.8 * x, y), (-0.8 * x, y)))
        letters = Text(Role.NOTE, (0.0, 0.0), words.say("legend.height tag", height="").strip(), "centre", "middle")
        entries.append(Entry((tag, letters), words.say("legend.height tag meaning")))
    return entries


def column_entries(plan: Plan, half: float) -> list[Entry]:
    """The signs of what goes through the ceiling, angular and round, half of each so large; those that there are."""
    found = []
    if any(column.diameter is None for column in plan.room.columns):
        square = Outline(Role.COLUMN, ((-half, -half), (half, -half), (half, half), (-half, half)))
        found.append(Entry((square, *_crossed(half)), words.say("legend.column")))
    if any(column.diameter is not None for column in plan.room.columns):
        circle = Circle(Role.COLUMN, (0.0, 0.0), half)
        found.append(Entry((circle, *_crossed(half * math.sqrt(0.5))), words.say("legend.round column")))
    return found


def _crossed(y: float) -> tuple[Line, Line]:
    return Line(Role.COLUMN, (-y, -y), (y, y)), Line(Role.COLUMN, (y, -y), (-y, y))


def finding_entries(findings: Iterable[Finding], half: float) -> list[Entry]:
    """The sign of findings; none where none of them has a place."""
    sign = (
        Circle(Role.FINDING, (half, 0.0), half),
        Line(Role.FINDING, (-1.5 * half, 0.0), (0.0, 0.0)),
        Circle(Role.FINDING, (-1.5 * half, 0.0), 0.4, fill=True),
    )
    return [Entry(sign, words.say("legend.finding"))] if any(finding.where for finding in findings) else []


def corner_entry(inner: float, outer: float) -> Entry:
    """The sign of the reference corner, with the radii of its circles."""
    said = words.say("legend.reference corner")
    circles = (Circle(Role.CORNER_MARK, (0.0, 0.0), inner), Circle(Role.CORNER_MARK, (0.0, 0.0), outer))
    return Entry(circles, said, said)


def stroke_sample(role: Role) -> tuple[Line, ...]:
    """A sample of a drawn line."""
    return (Line(role, (-_SAMPLE / 2, 0.0), (_SAMPLE / 2, 0.0)),)


def services_entries(plan: Plan, looks: Sequence[Look], scale: float, heights: Heights) -> list[Entry]:
    """One entry for each kind and size, in the order of the table of kinds."""
    found: dict[tuple[int, str], tuple[Look, int]] = {}
    order = list(KINDS)
    for service, look in zip(plan.ceiling.services, looks, strict=True):
        text = words.say(f"service kinds.{service.kind}")
        if not assumed_size(service, plan.room.imperial):
            text = f"{text}, {service_size(service, plan.room.units)}"
        key = (order.index(service.kind), text)
        found[key] = (look, found.get(key, (look, 0))[1] + 1)
    return [
        Entry(_sample(look, scale, heights), f"{text} ({count})", look.block.name, text)
        for (_, text), (look, count) in sorted(found.items(), key=lambda item: item[0])
    ]


def _sample(look: Look, scale: float, heights: Heights) -> tuple[Shape, ...]:
    """A block as large as on the plan, or as the legend has room for."""
    tall = 1.9 * heights[Role.LEGEND]
    x, y = look.half
    factor = min(1.0 / scale, _SAMPLE / (2 * x), tall / (2 * y))
    return moved(look.block.shapes, (0.0, 0.0), factor)


def legend_row(sample: tuple[Shape, ...], text: str, width: float, heights: Heights) -> Row:
    """A sample and its meaning, in two lines at most."""
    height = heights[Role.LEGEND]
    left = _SAMPLE + 2.5
    first, *more = wrapped(clean(text), width - left, height)
    lines = [first, shortened(" ".join(more), width - left, height)] if more else [first]
    tall = max(len(lines) * PITCH * height, _tallness(sample) + 1.0)
    feet = [-tall / 2 + 0.5 * PITCH * height * (len(lines) - 1 - 2 * k) for k in range(len(lines))]
    letters = (Text(Role.LEGEND, (left, y), line, "left", "middle") for y, line in zip(feet, lines, strict=True))
    return Row(tall, (*moved(sample, (_SAMPLE / 2, -tall / 2)), *letters))


def _tallness(shapes: Sequence[Shape]) -> float:
    """Height of a sample about its middle line."""
    reach = 0.0
    for shape in shapes:
        match shape:
            case Line(start=a, end=b):
                reach = max(reach, abs(a[1]), abs(b[1]))
            case Outline(points=ring):
                reach = max(reach, *(abs(y) for _, y in ring))
            case Circle(centre=(_, y), radius=r):
                reach = max(reach, abs(y) + r)
    return 2 * reach
