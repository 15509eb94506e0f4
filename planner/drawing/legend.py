"""The legend: every sign that is on the sheet, and no other, with what it means.

Public sources disagree on what a crossed square stands for, so the sheet itself must say.
"""

from collections.abc import Sequence

from planner.ceiling.model import Service
from planner.drawing import words
from planner.drawing.annotation import start_target
from planner.drawing.dimensions import written_module
from planner.drawing.labels import Heights
from planner.drawing.lettering import clean
from planner.drawing.member_roles import MEMBER_ROLES
from planner.drawing.roles import Role
from planner.drawing.shapes import Circle, Line, Outline, Shape, Text
from planner.drawing.symbols import Look
from planner.drawing.tables import PITCH, RISE, Row, Stack, drawn_rows, moved, shortened, wrapped
from planner.plan import Plan
from planner.room.service_kinds import KINDS

_SAMPLE = 9.0  #: width of a sample, millimetres


def legend(plan: Plan, looks: Sequence[Look], scale: float, width: float, heights: Heights) -> Stack:
    """Samples with their meaning; services by kind and size, with how many there are."""
    entries = [*_lines(plan, heights), *services_entries(plan, looks, scale, heights)]
    rows = [legend_row(shapes, text, width, heights) for shapes, text in entries]
    if any(look.enlarged for look in looks):
        height = heights[Role.LEGEND]
        for line in wrapped(words.ENLARGED, width, height):
            rows.append(Row(PITCH * height, (Text(Role.LEGEND, (0.0, -RISE * height), line),)))
    return drawn_rows(words.LEGEND, rows, width, heights)


def service_size(service: Service, units: str) -> str:
    """Size as the trade says it: 24" × 48", Ø 150."""
    if service.round:
        return f"Ø {written_module(service.size[0], units)}"
    return " × ".join(written_module(side, units) for side in service.size)


def assumed_size(service: Service) -> bool:
    """True for a size that is the planner's own and stands for whatever will be bought."""
    kind = KINDS[service.kind]
    own = (kind.cut_out_mm, kind.cut_out_mm) if kind.cut_out_mm else kind.shown_mm
    return service.size == own


Entry = tuple[tuple[Shape, ...], str]


def _lines(plan: Plan, heights: Heights) -> list[Entry]:
    """The drawn lines, each as a short sample around (0, 0)."""
    x, y = _SAMPLE / 2, 0.5 * heights[Role.LEGEND] + 0.3
    box = ((-x, -y), (x, -y), (x, y), (-x, y))
    kinds = {member.kind for member in plan.ceiling.members} - {"furring strip"}  # that lies above the ceiling
    entries: list[Entry] = [(stroke_sample(Role.WALL), words.WALL)]
    entries += [(stroke_sample(MEMBER_ROLES[kind]), word) for kind, word in words.MEMBERS.items() if kind in kinds]
    if any(not panel.full_size for panel in plan.ceiling.panels):
        entries.append(((Outline(Role.CUT_SHADE, box, fill=True), Outline(Role.CUT_PANEL, box)), words.CUT_PANEL))
    if plan.room.columns:
        small = ((-y, -y), (y, -y), (y, y), (-y, y))
        cross = (Line(Role.COLUMN, small[0], small[2]), Line(Role.COLUMN, small[1], small[3]))
        entries.append(((Outline(Role.COLUMN, small), *cross), words.COLUMN))
    entries.append((start_target((0.0, 0.0), 0.55 * y), words.START_POINT))
    corner = (Circle(Role.CORNER_MARK, (0.0, 0.0), 0.5 * y), Circle(Role.CORNER_MARK, (0.0, 0.0), y))
    entries.append((corner, words.REFERENCE_CORNER))
    if any(finding.where for finding in plan.findings):
        sign = (Circle(Role.FINDING, (y, 0.0), y), Line(Role.FINDING, (-1.5 * y, 0.0), (0.0, 0.0)))
        entries.append(((*sign, Circle(Role.FINDING, (-1.5 * y, 0.0), 0.4, fill=True)), words.FINDING))
    if plan.room.ceiling_height is not None:
        tag = Outline(Role.NOTE, ((-0.8 * x, -y), (0.8 * x, -y), (0.8 * x, y), (-0.8 * x, y)))
        letters = Text(Role.NOTE, (0.0, 0.0), words.HEIGHT_TAG.format(height="").strip(), "centre", "middle")
        entries.append(((tag, letters), words.HEIGHT_TAG_MEANING))
    return entries


def stroke_sample(role: Role) -> tuple[Line, ...]:
    """A sample of a drawn line."""
    return (Line(role, (-_SAMPLE / 2, 0.0), (_SAMPLE / 2, 0.0)),)


def services_entries(plan: Plan, looks: Sequence[Look], scale: float, heights: Heights) -> list[Entry]:
    """One entry for each kind and size, in the order of the table of kinds."""
    found: dict[tuple[int, str], tuple[Look, int]] = {}
    order = list(KINDS)
    for service, look in zip(plan.ceiling.services, looks, strict=True):
        text = KINDS[service.kind].label
        if not assumed_size(service):
            text = f"{text}, {service_size(service, plan.room.units)}"
        key = (order.index(service.kind), text)
        found[key] = (look, found.get(key, (look, 0))[1] + 1)
    return [
        (_sample(look, scale, heights), f"{text} ({count})")
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
