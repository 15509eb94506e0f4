"""What every page of a template has around its window: bars to measure, trim lines, crosses, its name.

In: a page among its neighbours. Out: shapes on the paper. Rules: crosses stand at the same points of the template on
both neighbours, in the middle of what they share; there the page is trimmed at its right and at its top, and its
neighbour shows by a line where that edge comes to lie. Bars of 100 mm and 4 in stand across and along.
"""

from collections.abc import Iterator, Sequence

from planner.drawing import words
from planner.drawing.labels import Heights, Taken, first_free, text_ring
from planner.drawing.lettering import clean, text_width
from planner.drawing.roles import Role
from planner.drawing.shapes import Line, Paper, Shape, Text, Window
from planner.drawing.templates.paper import window_of
from planner.drawing.templates.stretch import Factors, on_page
from planner.drawing.templates.tiles import OVERLAP, Pages
from planner.drawing.windows import Tile
from planner.drawing.wrapping import shortened
from planner.geometry import Box, Point

#: Lengths of the bars.
MM_BAR, INCH_BAR = 100.0, 101.6
#: From the window to the first and the second bar, across and along; half a tick.
_BARS = (3.6, 8.2)
_BESIDE = (3.2, 6.8)
_TICK = 1.5
#: Arms of a cross, millimetres.
ARM = 4.0


def bars(paper: Paper, by: Factors, heights: Heights) -> Iterator[Shape]:
    """Bars below and beside the window that measure true when the page is printed true.

    `by` are the printer's factors along the short and the long side of its paper, by which bars are named: a page that
    lies is fed as one that stands.
    """
    height, window, upright = heights[Role.SCALE_BAR], window_of(paper), paper.width <= paper.height
    sides = [words.say(f"templates.{side} side") for side in (("short", "long") if upright else ("long", "short"))]
    by = on_page(by, paper)
    for length, key, below, beside in zip((MM_BAR, INCH_BAR), ("mm", "inch"), _BARS, _BESIDE, strict=True):
        texts = [words.say(f"templates.{key} bar", side=side) for side in sides]
        y, x = window.bottom - below, window.left - beside
        right, top = window.left + length * by[0], window.bottom + length * by[1]
        yield Line(Role.SCALE_BAR, (window.left, y), (right, y))
        yield Line(Role.SCALE_BAR, (x, window.bottom), (x, top))
        for end in (window.left, right):
            yield Line(Role.SCALE_BAR, (end, y - _TICK), (end, y + _TICK))
        for end in (window.bottom, top):
            yield Line(Role.SCALE_BAR, (x - _TICK, end), (x + _TICK, end))
        yield Text(Role.SCALE_BAR, (right + 2.0, y), texts[0], "left", "middle")
        yield Text(Role.SCALE_BAR, (x + height / 2, top + 2.0), texts[1], "left", "base", 90.0)


def foot(window: Box, name: str, told: Sequence[str], side: str, heights: Heights) -> Iterator[Shape]:
    """Below the bars: which template and page this is, and what to check."""
    edge = window.right
    if name:
        yield Text(Role.BANNER, (edge, window.bottom - 3.0), name, "right", "top")
        edge -= text_width(name, heights[Role.BANNER]) + 5.0
    room = edge - window.left - INCH_BAR - 30.0
    role = next((r for r in (Role.SHEET_TITLE, Role.HEADING) if text_width(side, heights[r]) <= room), Role.NOTE)
    yield Text(role, (edge, window.bottom - 3.0), shortened(side, room, heights[role]), "right", "top")
    size = heights[Role.NOTE]
    wide = window.right - window.left - (text_width(name, heights[Role.BANNER]) + 4.0 if name else 0.0)
    for k, line in enumerate(told):
        y = window.bottom - 11.2 - (k + 1) * 1.5 * size
        yield Text(Role.NOTE, (window.left, y), shortened(clean(line), wide, size))


def joints(pages: Pages, tile: Tile, view: Window, heights: Heights) -> tuple[Shape, ...]:
    """Trim lines, the lines on which neighbours' edges lie, and crosses."""
    box, taken, strokes = view.box, Taken(), Taken()
    for shape in view.drawing.shapes:
        if isinstance(shape, Text):
            taken.add(tuple(map(view.to_paper, text_ring(shape, heights[shape.role]))))
        elif isinstance(shape, Line):
            strokes.add_stroke(view.to_paper(shape.start), view.to_paper(shape.end))
    half = OVERLAP / 2
    found: list[Shape] = []
    for (down, right), upright, near, outward in (
        ((0, 1), True, box.right - half, 1),
        ((-1, 0), False, box.top - half, 1),
        ((0, -1), True, box.left + half, -1),
        ((1, 0), False, box.bottom + half, -1),
    ):
        other = pages.neighbour(tile, down, right)
        if other is None:
            continue
        ends = ((near, box.bottom), (near, box.top)) if upright else ((box.left, near), (box.right, near))
        found.append(Line(Role.TRIM_LINE, *ends))
        text = words.say("templates.trim" if outward > 0 else "templates.lies here", page=other.name)
        places, height = _along(ends, upright, outward, text), heights[Role.TRIM_LINE]
        letters = first_free(places, height, taken, (strokes,)) or first_free(places, height, taken)
        found += [letters] if letters else []
    found += (line for at in crosses(pages, tile) for line in _cross(view.to_paper(at)))
    return tuple(found)


def crosses(pages: Pages, tile: Tile) -> tuple[Point, ...]:
    """The crosses on a page, in the template's own millimetres: three on what it shares with each neighbour."""
    found: dict[Point, None] = {}
    for down, right in ((0, 1), (-1, 0), (0, -1), (1, 0)):
        other = pages.neighbour(tile, down, right)
        if other is not None:
            found |= dict.fromkeys(shared_crosses(tile.box, other.box, upright=right != 0))
    return tuple(found)


def shared_crosses(one: Box, other: Box, *, upright: bool) -> tuple[Point, ...]:
    """Crosses along the middle of what two windows share, the same whichever is named first."""
    left, right = max(one.left, other.left), min(one.right, other.right)
    bottom, top = max(one.bottom, other.bottom), min(one.top, other.top)
    x, y, half = (left + right) / 2, (bottom + top) / 2, OVERLAP / 2
    if upright:
        return ((x, bottom + half), (x, y), (x, top - half))
    return ((left + half, y), (x, y), (right - half, y))


def _cross(at: Point) -> Iterator[Line]:
    x, y = at
    yield Line(Role.REGISTER, (x - ARM, y), (x + ARM, y))
    yield Line(Role.REGISTER, (x, y - ARM), (x, y + ARM))


def _along(ends: tuple[Point, Point], upright: bool, outward: int, text: str) -> list[Text]:
    """Places beside a line, on its outer side."""
    (ax, ay), (bx, by) = ends
    dx, dy = (outward * OVERLAP / 4, 0.0) if upright else (0.0, outward * OVERLAP / 4)
    return [
        Text(
            Role.TRIM_LINE,
            (ax + share * (bx - ax) + dx, ay + share * (by - ay) + dy),
            text,
            "centre",
            "middle",
            90.0 if upright else 0.0,
        )
        for share in (0.35, 0.65, 0.25, 0.75, 0.15, 0.85)
    ]
