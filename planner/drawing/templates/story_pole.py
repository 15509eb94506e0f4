"""A story pole on paper: the set-out marks of one wall at full size, on strips to tape together and to the wall.

In: a plan and a wall. Out: sheets with several strips each. One faces the wall from inside the room when it is marked;
walls run with the room on their left, so the wall's first corner is at the right, and the pole is drawn that way.
On a bowed wall the strip lies along the bow, as the tape does.
"""

import math
from collections.abc import Iterator

from planner.drawing import words
from planner.drawing.dimensions import written
from planner.drawing.labels import Heights, Taken, box_ring, first_free, text_ring
from planner.drawing.lettering import clean
from planner.drawing.roles import Role
from planner.drawing.shapes import Drawing, Line, Paper, Shape, Sheet, Text, Window
from planner.drawing.templates.border_strip import corners_of
from planner.drawing.templates.full_page import seen_in
from planner.drawing.templates.key_page import Job
from planner.drawing.templates.page_marks import ARM, bars, foot
from planner.drawing.templates.paper import turned, window_of
from planner.drawing.templates.stretch import on_page, stretched
from planner.drawing.templates.tiles import OVERLAP
from planner.drawing.windows import Tile, Tiling, tiled
from planner.drawing.wrapping import shortened, wrapped
from planner.errors import PlannerError
from planner.geometry import Box, Point
from planner.planning import Plan
from planner.records import dataclass
from planner.room.outline import Wall

#: Height of a strip, and between strips, millimetres on paper.
TALL = 30.0
_APART = 6.0
#: A strip shows so much beyond the corners.
_BEYOND = 4.0
#: Small marks stand every so often, to be held against a tape.
_STEP_MM, _STEP_INCH = 100.0, 152.4
_TICK = 3.0
#: Crosses stand so far from the edges of a strip.
_CROSS = 5.0


@dataclass(frozen=True, slots=True)
class _Pole:
    """The wall that a pole is for, as it is lettered."""

    name: str
    corners: tuple[str, str]
    length: float


def pole_sheets(plan: Plan, wall: Wall, paper: Paper, job: Job) -> tuple[Sheet, ...]:
    """The pole of a wall on the fewest sheets; PlannerError where nothing is marked on it."""
    setout = plan.ceiling.setout
    marks = next((each.marks for each in setout.walls if each.wall == wall.name), ()) if setout else ()
    if not marks:
        mend = "The set-out sheet shows which walls are marked."
        raise PlannerError(f"nothing is marked on {wall.name}.", where="--story-pole", mend=mend)
    told = [(mark.at, words.drawn(mark.what)) for mark in marks]
    first, last = corners_of(plan, wall)
    pole = _Pole(clean(wall.name), (clean(first), clean(last)), wall.length)
    pages = [_laid(page, pole, job) for page in (paper, turned(paper))]
    page, tiling, places = min(pages, key=lambda laid: math.ceil(len(laid[1].tiles) / len(laid[2])))
    job.refuse_more(math.ceil(len(tiling.tiles) / len(places)))
    along = on_page(job.by, page)[0]
    joints = [(tile.box.left + OVERLAP / 2) / along for tile in tiling.tiles if tile.column]
    shapes = stretched(_pole(pole, told, joints, job), (along, 1.0))
    strips = list(reversed(tiling.tiles))  # from the first corner, which is at the right
    groups = [strips[k : k + len(places)] for k in range(0, len(strips), len(places))]
    return tuple(_sheet(group, k, places, page, shapes, pole, tiling, job) for k, group in enumerate(groups))


def _laid(paper: Paper, pole: _Pole, job: Job) -> tuple[Paper, Tiling, list[Box]]:
    """How the strips lie on a paper: which there are, and where one page has them."""
    window, along = window_of(paper), on_page(job.by, paper)[0]
    area = Box(-(pole.length + _BEYOND) * along, 0.0, _BEYOND * along, TALL)
    tiling = tiled(area, (window.width, TALL), OVERLAP)
    top = window.top - _head_height(pole, window.width, job)
    count = max(1, int((top - window.bottom + _APART) // (TALL + _APART)))
    tops = [top - k * (TALL + _APART) for k in range(count)]
    return paper, tiling, [Box(window.left, y - TALL, window.right, y) for y in tops]


def _pole(pole: _Pole, marks: list[tuple[float, str]], joints: list[float], job: Job) -> tuple[Shape, ...]:
    """The whole pole: corners, marks, small steps; x runs to the left from the first corner, 0 to TALL in y.

    At `joints` strips meet; letters keep off what stands there.
    """
    ends = ((0.0, pole.corners[0]), (pole.length, pole.corners[1]))
    shapes: list[Shape] = []
    taken, letters = Taken(), list[Text]()
    for x in joints:
        taken.add(box_ring(Box(x - ARM, 0.0, x + ARM, TALL)))
    for at, corner in ends:
        taken.add_stroke((-at, 0.0), (-at, TALL))
        shapes.append(Line(Role.TEMPLATE_CUT, (-at, 0.0), (-at, TALL)))
        side = "right" if at == 0.0 else "left"
        off = -2.0 if at == 0.0 else 2.0
        text = words.say("templates.pole corner", corner=corner)
        places = [Text(Role.HEADING, (-at + off, TALL - y), text, side, "top") for y in (2.0, 8.0, 14.0)]  # type: ignore[arg-type]
        _letter(places, letters, taken, job.heights)
    for at, what in marks:
        taken.add_stroke((-at, 0.0), (-at, TALL))
        shapes.append(Line(Role.SET_OUT, (-at, 0.0), (-at, TALL)))
        for role, text in ((Role.HEADING, what), (Role.SET_OUT, written(at, job.units))):
            places = [
                Text(role, (-at + dx, TALL - y), text, side, "top")  # type: ignore[arg-type]
                for y in (2.0, 8.0, 14.0, 20.0)
                for side, dx in (("right", -2.0), ("left", 2.0))
            ]
            _letter(places, letters, taken, job.heights)
    step = _STEP_INCH if job.units in ("ft-in", "in") else _STEP_MM
    for k in range(1, math.ceil(pole.length / step)):
        shapes.append(Line(Role.CENTRE_MARK, (-k * step, 0.0), (-k * step, _TICK)))
        places = [
            Text(Role.SCALE_BAR, (-k * step + dx, _TICK + 0.8), written(k * step, job.units), side, "base")  # type: ignore[arg-type]
            for side, dx in (
                ("centre", 0.0),
                ("left", 1.0),
                ("right", -1.0),
                ("left", ARM + 1.0),
                ("right", -ARM - 1.0),
            )
        ]
        _letter(places, letters, taken, job.heights)
    return (*shapes, *letters)


def _letter(places: list[Text], letters: list[Text], taken: Taken, heights: Heights) -> None:
    found = first_free(places, heights[places[0].role], taken, gap=0.6)
    letters += [] if found is None else [found]


def _sheet(
    strips: list[Tile],
    number: int,
    places: list[Box],
    paper: Paper,
    shapes: tuple[Shape, ...],
    pole: _Pole,
    tiling: Tiling,
    job: Job,
) -> Sheet:
    window = window_of(paper)
    views = []
    around: list[Shape] = []
    for strip, place in zip(strips, places, strict=False):
        view = Window(Drawing(tuple(seen_in(shapes, strip.box, job.heights)), (), 1.0, "mm"), place, strip.box.centre)
        views.append(view)
        around += _rim(place)
        around += _joints(strip, view, tiling, job.heights)
    title = words.say("templates.pole", wall=pole.name)
    return Sheet(
        key=f"pole-{pole.name}-{number + 1}",
        title=words.say("sheets.page", title=title, page=number + 1),
        paper=paper,
        windows=tuple(views),
        shapes=(
            *_head(pole, window, job),
            *around,
            *bars(paper, job.by, job.heights),
            *foot(window, str(number + 1), (f"{title} · {job.room}", *job.checks), "", job.heights),
        ),
        language=job.language,
    )


def _rim(place: Box) -> Iterator[Shape]:
    """Lines to cut a strip out by."""
    for y in (place.bottom, place.top):
        yield Line(Role.TRIM_LINE, (place.left, y), (place.right, y))


def _joints(strip: Tile, view: Window, tiling: Tiling, heights: Heights) -> Iterator[Shape]:
    """Where a strip is trimmed, at its left, and where the edge of the one before lies, at its right; with crosses."""
    taken = Taken()
    for shape in view.drawing.shapes:
        if isinstance(shape, Text):
            taken.add(tuple(map(view.to_paper, text_ring(shape, heights[shape.role]))))
    number = tiling.columns - strip.column
    size = heights[Role.TRIM_LINE]
    half = OVERLAP / 2
    for there, x, dx, key, other in (
        (strip.column > 0, strip.box.left + half, -half / 2, "pole trim", number + 1),
        (strip.column < tiling.columns - 1, strip.box.right - half, half / 2, "pole edge", number - 1),
    ):
        if not there:
            continue
        foot_at, top = view.to_paper((x, 0.0)), view.to_paper((x, TALL))
        yield Line(Role.TRIM_LINE, foot_at, top)
        for y in (_CROSS, TALL - _CROSS):
            yield from _cross(view.to_paper((x, y)))
        text = words.say(f"templates.{key}", page=other)
        letters = first_free(
            [Text(Role.TRIM_LINE, (foot_at[0] + dx, (foot_at[1] + top[1]) / 2), text, "centre", "middle", 90.0)],
            size,
            taken,
        )
        if letters is not None:
            yield letters
    name = words.say("templates.pole strip", n=number, of=tiling.columns)
    places = [Text(Role.NOTE, (view.box.left + dx, view.box.bottom + 11.0), name) for dx in (14.0, 60.0, 110.0)]
    letters = first_free(places, heights[Role.NOTE], taken)
    if letters is not None:
        yield letters


def _cross(at: Point) -> Iterator[Line]:
    x, y = at
    yield Line(Role.REGISTER, (x - ARM, y), (x + ARM, y))
    yield Line(Role.REGISTER, (x, y - ARM), (x, y + ARM))


def _head_lines(pole: _Pole, width: float, job: Job) -> tuple[str, ...]:
    told = words.say("templates.pole how", corner=pole.corners[0], length=written(pole.length, job.units))
    return wrapped(told, width, job.heights[Role.NOTE])


def _head_height(pole: _Pole, width: float, job: Job) -> float:
    return 1.6 * job.heights[Role.SHEET_TITLE] + 1.8 * job.heights[Role.NOTE] * len(_head_lines(pole, width, job)) + 4.0


def _head(pole: _Pole, window: Box, job: Job) -> Iterator[Shape]:
    title, size = job.heights[Role.SHEET_TITLE], job.heights[Role.NOTE]
    told = shortened(words.say("templates.pole", wall=pole.name), window.width, title)
    yield Text(Role.SHEET_TITLE, (window.left, window.top - title), told)
    for k, line in enumerate(_head_lines(pole, window.width, job)):
        yield Text(Role.NOTE, (window.left, window.top - 1.6 * title - (1.2 + 1.8 * k) * size), line)
