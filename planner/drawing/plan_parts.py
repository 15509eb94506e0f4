"""A plan in parts: an overview that says which sheet shows what, then a sheet for each part.

In: a `Task` and a scale. Out: sheets. All parts show the same drawing, so that a format with a model space holds it
once; letters were placed clear of match lines and of the edges of every part. Every part has a key plan, the signs that
are on it, and on each side where the plan goes on its match line with the number of the sheet to go on with. What is
said once of the whole plan stands on the overview.
"""

from collections.abc import Iterator
from dataclasses import replace

from shapely import union_all
from shapely.geometry import Polygon
from shapely.geometry import box as box_polygon

from planner.ceiling.marks import class_letters
from planner.drawing import words
from planner.drawing.composition import GUTTER, Ground, fits, grounds, set_words
from planner.drawing.dimensions import spoken
from planner.drawing.key_plan import key_plan, overview_shapes
from planner.drawing.legend import among, legend
from planner.drawing.match_lines import OVERLAP, Part, Seams, parts_of, seams_for
from planner.drawing.plan_sheet import (
    Arranged,
    Drawn,
    Subject,
    Task,
    arranged,
    drawing_of,
    free_of_heading,
    furniture,
    with_remarks,
)
from planner.drawing.roles import Role
from planner.drawing.scale_bar import scale_bar
from planner.drawing.scales import Scale, standard_scales
from planner.drawing.seen import parts_seen
from planner.drawing.shapes import Drawing, Line, Shape, Sheet, Text, Window
from planner.drawing.strings import Surround
from planner.drawing.tables import Stack, moved, notes
from planner.drawing.wrapping import shortened
from planner.geometry import Box
from planner.records import dataclass

#: Beside a side on which the plan goes on, for the words along it: in heights of their capitals.
_BAND = 2.4
#: Match lines reach so far beyond their window, millimetres.
_PAST = 3.0
#: Around the room on the overview, for the letters of match lines; millimetres.
_MARGIN = 9.0
#: Numbers of sheets are not known while sheets are arranged: as wide as any.
_ANY_NUMBER = 888
_TRIES = 4


@dataclass(frozen=True, slots=True)
class Parting:
    """How a plan is parted: the ground of its sheets, the scale, the match lines and the parts."""

    ground: Ground
    scale: Scale
    seams: Seams
    parts: tuple[Part, ...]
    overview: Arranged


def parted(task: Task, scale: Scale, most: int) -> Parting | None:
    """The plan at a scale in as few parts as there can be; None when that is more than `most`, or cannot be."""
    overview = arranged(_overview_of(task, scale), standard_scales(task.plan.room.imperial), (), signs=False)
    if overview is None:
        return None
    ways: list[tuple[int, float, Ground]] = []
    for ground in grounds(task.paper.frame, task.block, task.heights[Role.NOTE]):
        seams = _seams(task, scale, ground, task.around(scale.denominator))
        if seams is not None and _words_fit(task, scale, ground):
            count = (len(seams.upright) + 1) * (len(seams.lying) + 1)
            if count <= 2 * most:
                ways.append((count, -min(_most(task, scale, ground)), ground))
    for _, _, ground in sorted(ways, key=lambda way: way[:2])[:_TRIES]:
        seams = _settled(task, scale, ground)
        parts = () if seams is None else _worth_showing(task, scale, seams)
        if seams is not None and 1 < len(parts) <= most:
            return Parting(ground, scale, seams, parts, overview)
    return None


def in_parts(task: Task, parting: Parting) -> tuple[Sheet, ...]:
    """The overview, then every part."""
    scale, seams = parting.scale, parting.seams
    drawn = task.subject.draw(scale.denominator, task.around(scale.denominator, seams), seams)
    drawing = drawing_of(task.plan, drawn, scale)
    boxes = [part.shown for part in parting.parts]
    seen = parts_seen(drawing, boxes, task.heights)
    sheets = [_part_sheet(task, parting, drawing, k, seen[k]) for k in range(len(parting.parts))]
    if _bare_parts(task, parting):
        drawn = replace(drawn, remarks=(*drawn.remarks, words.say("parts.bare")))
    return (_overview(task, parting, drawn), *sheets)


def _most(task: Task, scale: Scale, ground: Ground) -> tuple[float, float]:
    """How much of the room one window can show, across and up."""
    free, band = _free(task, ground), 2 * _band(task)
    return (free.width - band) * scale.denominator, (free.height - band) * scale.denominator


def _free(task: Task, ground: Ground) -> Box:
    return free_of_heading(ground.window, task.heights).grown(-GUTTER / 2)


def _band(task: Task) -> float:
    return _BAND * task.heights[Role.MATCH_LINE]


def _area(task: Task, scale: Scale, around: Surround) -> Box:
    """The room with all that stands around it."""
    room, s = task.plan.room.box, scale.denominator
    return Box(
        room.left - s * around.left,
        room.bottom - s * around.bottom,
        room.right + s * around.right,
        room.top + s * around.top,
    )


def _seams(task: Task, scale: Scale, ground: Ground, around: Surround) -> Seams | None:
    most = _most(task, scale, ground)
    if min(most) <= 0:
        return None
    area, ceiling = _area(task, scale, around), task.plan.ceiling
    return seams_for(area, task.plan.room.box, most, scale.denominator, ceiling.layout, ceiling.members)


def _settled(task: Task, scale: Scale, ground: Ground) -> Seams | None:
    """Match lines that leave room for the strings as they are with these match lines; None where that never settles."""
    around = task.around(scale.denominator)
    for _ in range(_TRIES):
        seams = _seams(task, scale, ground, around)
        if seams is None:
            return None
        with_them = task.around(scale.denominator, seams)
        area = _area(task, scale, with_them)
        most = _most(task, scale, ground)
        if all(p.shown.width <= most[0] + 1.0 and p.shown.height <= most[1] + 1.0 for p in parts_of(area, seams)):
            return seams
        around = with_them
    return None


def _worth_showing(task: Task, scale: Scale, seams: Seams) -> tuple[Part, ...]:
    """The parts on which there is something of the room, or of what stands around it."""
    around = task.around(scale.denominator, seams)
    room = Polygon(task.plan.room.outline)
    parts = parts_of(_area(task, scale, around), seams)
    blank = Drawing(around.shapes, (), scale.denominator, "mm")
    seen = parts_seen(blank, [part.core for part in parts], task.heights)
    columns = [Polygon(column.outline) for column in task.plan.room.columns]
    drawn = union_all([room.boundary, *columns]) if task.subject.bare else room
    return tuple(
        part for part, shapes in zip(parts, seen, strict=True) if shapes or drawn.intersects(_polygon(part.core))
    )


def _bare_parts(task: Task, parting: Parting) -> bool:
    """Whether there are parts within the room that no sheet shows, because there is nothing on them."""
    room, scale = Polygon(task.plan.room.outline), parting.scale
    every = parts_of(_area(task, scale, task.around(scale.denominator, parting.seams)), parting.seams)
    return any(part not in parting.parts and room.intersects(_polygon(part.core)) for part in every)


def _polygon(box: Box) -> Polygon:
    return box_polygon(box.left, box.bottom, box.right, box.top)


def _words_fit(task: Task, scale: Scale, ground: Ground) -> bool:
    """Whether the words of a part find room, the legend with all signs there are."""
    width, heights = ground.width, task.heights
    key = key_plan(task.plan.room, (), 0, (), width, heights)
    signs = legend(task.subject.signs(scale.denominator), width, heights)
    return fits([key, signs, *_said(task, scale, _ANY_NUMBER, width)], ground.columns)


def _said(task: Task, scale: Scale, overview: int, width: float) -> list[Stack]:
    """What is said on every part."""
    sentence = words.say("parts.see overview", see=words.say("sheets.see", n=overview))
    return [
        notes(words.say("sheets.notes"), (sentence,), width, task.heights),
        scale_bar(scale.denominator, width, task.heights),
    ]


def _part_sheet(task: Task, parting: Parting, drawing: Drawing, k: int, shapes: tuple[Shape, ...]) -> Sheet:
    """One part: its window in the middle of what the heading leaves, its match lines around it."""
    subject, ground, scale = task.subject, parting.ground, parting.scale
    part = parting.parts[k]
    here = replace(task, place=replace(task.place, number=task.place.number + 1 + k))
    window = _window(task, ground, drawing, part, shapes)
    stacks = [
        key_plan(task.plan.room, parting.parts, k, _numbered(task, parting), ground.width, task.heights),
        legend(among(subject.signs(scale.denominator), shapes), ground.width, task.heights),
        *_said(task, scale, task.place.number, ground.width),
    ]
    title = words.say("parts.title", title=subject.title, n=k + 1)
    paper = (
        *furniture(here, ground, scale, title, set_words(stacks, ground.columns), _note(task, parting, k)),
        *_match_lines(task, parting, k, window),
    )
    tints = tuple(shape for shape in paper if shape.role == Role.KEY_SHADE)  # painted first
    rest = tuple(shape for shape in paper if shape.role != Role.KEY_SHADE)
    shapes = (*tints, *rest)
    return Sheet(part_key(subject, k), title, task.paper, (window,), shapes, words.language(), part_of=subject.key)


def _numbered(task: Task, parting: Parting) -> list[tuple[int, str]]:
    """Number and key of the sheet of each part."""
    return [(task.place.number + 1 + k, part_key(task.subject, k)) for k in range(len(parting.parts))]


def part_key(subject: Subject, k: int) -> str:
    """Key of the sheet of part `k`, counted from 0."""
    return f"{subject.key}-part-{k + 1}"


def _note(task: Task, parting: Parting, k: int) -> str:
    overlap = spoken(OVERLAP * parting.scale.denominator, task.plan.room.units)
    return words.say("parts.note", n=k + 1, of=len(parting.parts), overlap=overlap)


def _window(task: Task, ground: Ground, drawing: Drawing, part: Part, shapes: tuple[Shape, ...]) -> Window:
    free, s = _free(task, ground), drawing.scale
    x, y = free.centre
    half = (part.shown.width / s / 2, part.shown.height / s / 2)
    box = Box(x - half[0], y - half[1], x + half[0], y + half[1])
    return Window(drawing, box, part.shown.centre, shapes)


def _match_lines(task: Task, parting: Parting, k: int, window: Window) -> Iterator[Shape]:
    """On each side where the plan goes on: the match line, and beside the window where to go on."""
    part, box = parting.parts[k], window.box
    left, bottom = window.to_paper((part.core.left, part.core.bottom))
    right, top = window.to_paper((part.core.right, part.core.top))
    off, x, y = _band(task) / 2, *box.centre
    across, up = len(parting.seams.upright), len(parting.seams.lying)
    sides = (
        (0, -1, part.column - 1, ((left, box.bottom), (left, box.top)), (box.left - off, y), 90.0),
        (0, 1, part.column, ((right, box.bottom), (right, box.top)), (box.right + off, y), 90.0),
        (-1, 0, across + part.row - 1, ((box.left, top), (box.right, top)), (x, box.top + off), 0.0),
        (1, 0, across + part.row, ((box.left, bottom), (box.right, bottom)), (x, box.bottom - off), 0.0),
    )
    for row, column, line, (a, b), at, angle in sides:
        if not (0 <= part.row + row <= up and 0 <= part.column + column <= across):
            continue
        room = (box.height if angle else box.width) - 2 * OVERLAP
        yield from _match_line(task, parting, (part.row + row, part.column + column), line, room, at, angle)
        past = (0.0, _PAST) if angle else (_PAST, 0.0)
        yield Line(Role.MATCH_LINE, (a[0] - past[0], a[1] - past[1]), (b[0] + past[0], b[1] + past[1]))


def _match_line(
    task: Task, parting: Parting, beyond: tuple[int, int], line: int, room: float, at: tuple[float, float], angle: float
) -> Iterator[Text]:
    """The words along one match line."""
    letter = class_letters(line).upper()
    goal = next((k for k, part in enumerate(parting.parts) if (part.row, part.column) == beyond), None)
    if goal is None:
        text, link = words.say("parts.match line", letter=letter), ""
    else:
        see = words.say("sheets.see", n=task.place.number + 1 + goal)
        text, link = words.say("parts.goes on", letter=letter, see=see), part_key(task.subject, goal)
    fitting = shortened(text, room, task.heights[Role.MATCH_LINE])
    yield Text(Role.MATCH_LINE, at, fitting, "centre", "middle", angle, link)


def _overview_of(task: Task, scale: Scale) -> Task:
    """The task of the overview: nothing around the room but the letters of match lines."""
    bare = Surround((), _MARGIN, _MARGIN, _MARGIN, _MARGIN, True)
    return replace(task, subject=replace(task.subject, around=lambda *_: bare), _known={})


def _overview(task: Task, parting: Parting, drawn: Drawn) -> Sheet:
    """Which sheet shows what, and all that is said of the whole plan. It lies on the paper, not in a window."""
    subject = task.subject
    bare = _overview_of(task, parting.scale)
    scales = standard_scales(task.plan.room.imperial)
    made = arranged(bare, scales, drawn.remarks, signs=False) or arranged(bare, scales, (), signs=False)
    made = made or parting.overview
    s, box = made.scale.denominator, free_of_heading(made.ground.window, task.heights)
    shapes = overview_shapes(task.plan, parting.parts, parting.seams, _numbered(task, parting), s, task.heights)
    x, y = task.plan.room.box.centre
    on_paper = moved(shapes, (box.centre[0] - x / s, box.centre[1] - y / s), 1.0 / s)
    beside, untold = with_remarks(bare, made, drawn.remarks, signs=False)
    note = words.say("parts.overview note", of=len(parting.parts), scale=parting.scale.name)
    note = f"{untold} {note}".strip()
    title = words.say("parts.overview", title=subject.title)
    return Sheet(
        subject.key,
        title,
        task.paper,
        (),
        (*furniture(task, made.ground, made.scale, title, beside, note), *on_paper),
        words.language(),
    )
