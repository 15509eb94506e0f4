"""What every sheet has around its drawing: the frame, its zones, the heading.

In: a paper, a part of it, words. Out: shapes in paper millimetres. Which border there is the style says.
iso-5457 (ISO 5457:1999, read on public pages): a heavy line at the margins, centring marks at the four mid-edges, and
fields of 50 mm counted from them, letters down and numbers across from the upper left, no I and no O, lines of 0.35 mm;
the outermost fields take what is left over. On A4 only at the top and the right (from memory, as are the 5 mm that
fields and marks reach beyond the frame).
us (ASME Y14.1, from memory): an even number of zones of at most 5-1/2 in, equal on each side of the centring marks,
numbers from right to left, letters from below.
plain: the frame alone.
"""

from collections.abc import Iterator, Sequence

from planner.drawing.composition import GUTTER
from planner.drawing.labels import Heights, box_ring
from planner.drawing.lettering import clean, text_width
from planner.drawing.roles import Role
from planner.drawing.shapes import Line, Outline, Paper, Shape, Text
from planner.drawing.stop_band import band_width, stop_band
from planner.drawing.wrapping import shortened, wrapped
from planner.geometry import Box, Point

_REACH = 5.0  #: of zones and centring marks beyond the frame
_FIELD = 50.0
_LONGEST_ZONE = 5.5 * 25.4
_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
#: A title with its descenders, in heights of its capitals.
_BELOW = 1.3
#: A last line shorter than this part of the width is given more words.
_ORPHAN = 0.25


def frame(paper: Paper) -> tuple[Shape, ...]:
    """The frame, and what the paper's border has around it."""
    line = Outline(Role.FRAME, box_ring(paper.frame))
    if paper.border == "plain":
        return (line,)
    return (line, *_centring_marks(paper), *_zones(paper))


def heading_height(heights: Heights) -> float:
    """Paper that a heading takes below the top of its part of the sheet."""
    return GUTTER + _BELOW * heights[Role.SHEET_TITLE] + 5.0 * heights[Role.NOTE]


def heading(box: Box, title: str, facts: str, note: str, heights: Heights, stop: str = "") -> tuple[Shape, ...]:
    """Title, a line of facts, and a note of two lines at most, in the upper left corner of `box`.

    A note that takes more loses its last sentences. What is to `stop` who reads it stands in a band at the right.
    """
    large, small = heights[Role.SHEET_TITLE], heights[Role.NOTE]
    width = box.width - 2 * GUTTER
    left, y = box.left + GUTTER, box.top - GUTTER - large
    foot = y - (_BELOW - 1.0) * large
    lines = _two_lines(note, width, small)
    band = band_width(stop, box, heights)
    texts = [
        _headed(clean(title), (left, y), width - band - (GUTTER if band else 0.0), heights),
        Text(Role.NOTE, (left, foot - 1.4 * small), shortened(clean(facts), width, small)),
        *(Text(Role.NOTE, (left, foot - (3.0 + 1.6 * k) * small), line) for k, line in enumerate(lines)),
    ]
    shown = tuple(text for text in texts if text.text)
    return (*shown, *stop_band(stop, (box.right - GUTTER, y + large / 2), box, heights))


def _two_lines(note: str, width: float, height: float) -> tuple[str, ...]:
    sentences = note.split(". ")
    while len(lines := wrapped(". ".join(sentences), width, height)) > 2 and len(sentences) > 1:
        sentences = [*sentences[:-2], f"{sentences[-2]}."]
    if len(lines) > 1 and text_width(lines[1], height) < _ORPHAN * width:
        broken = wrapped(". ".join(sentences), (1.0 - _ORPHAN) * width, height)
        lines = broken if len(broken) == 2 else lines
    return lines[:2]


def _headed(title: str, at: Point, width: float, heights: Heights) -> Text:
    """A title as large as its width allows, shortened only where even small letters are too wide."""
    roles = (Role.SHEET_TITLE, Role.HEADING, Role.NOTE)
    role = next((role for role in roles if text_width(title, heights[role]) <= width), Role.NOTE)
    return Text(role, at, shortened(title, width, heights[role]))


def zone_names(count: int, axis: int, border: str) -> list[str]:
    """The names of the fields along one axis, from the left or from below."""
    names = [str(k + 1) for k in range(count)] if axis == 0 else [_LETTERS[k] for k in range(count)]
    return names[::-1] if (axis == 0) == (border == "us") else names


def zone_stops(paper: Paper, axis: int) -> list[float]:
    """Where the fields along one axis begin and end, from the left or from below; paper millimetres."""
    box = paper.frame
    low, high = (box.left, box.right) if axis == 0 else (box.bottom, box.top)
    if paper.border == "us":
        count = 2
        while (paper.width if axis == 0 else paper.height) / count > _LONGEST_ZONE:
            count += 2
        middle, half = (paper.width if axis == 0 else paper.height) / 2, count // 2
        before = [low + (middle - low) * k / half for k in range(half)]
        return [*before, *(middle + (high - middle) * k / half for k in range(half + 1))]
    middle = (paper.width if axis == 0 else paper.height) / 2
    each = max(1, round(max(middle - low, high - middle) / _FIELD))
    return [low, *(middle + _FIELD * k for k in range(1 - each, each)), high]


def _centring_marks(paper: Paper) -> Iterator[Line]:
    box, x, y = paper.frame, paper.width / 2, paper.height / 2
    yield Line(Role.FRAME, (box.left - _REACH, y), (box.left, y))
    yield Line(Role.FRAME, (box.right, y), (box.right + _REACH, y))
    yield Line(Role.FRAME, (x, box.bottom - _REACH), (x, box.bottom))
    yield Line(Role.FRAME, (x, box.top), (x, box.top + _REACH))


def _zones(paper: Paper) -> Iterator[Shape]:
    """Fields around the frame with their letters and numbers."""
    box = paper.frame
    outer = box.grown(_REACH)
    everywhere = paper.border == "us" or paper.name != "A4"
    if everywhere:
        yield Outline(Role.ZONE, box_ring(outer))
    else:
        corner = (outer.right, outer.top)
        yield Line(Role.ZONE, (box.left, outer.top), corner)
        yield Line(Role.ZONE, corner, (outer.right, box.bottom))
    edges: list[tuple[int, float, float]] = [(0, box.top, outer.top), (1, box.right, outer.right)]
    if everywhere:
        edges += [(0, outer.bottom, box.bottom), (1, outer.left, box.left)]
    for axis, near, far in edges:
        yield from _fields(paper, axis, near, far)


def _fields(paper: Paper, axis: int, near: float, far: float) -> Iterator[Shape]:
    """The fields of one strip of the border."""

    def at(along: float, across: float) -> Point:
        return (along, across) if axis == 0 else (across, along)

    stops = zone_stops(paper, axis)
    for stop in _inner(stops, paper, axis):
        yield Line(Role.ZONE, at(stop, near), at(stop, far))
    names = zone_names(len(stops) - 1, axis, paper.border)
    for k, name in enumerate(names):
        middle = at((stops[k] + stops[k + 1]) / 2, (near + far) / 2)
        yield Text(Role.ZONE, middle, name, "centre", "middle")


def _inner(stops: Sequence[float], paper: Paper, axis: int) -> Iterator[float]:
    """Where fields meet, but for the middle, where the centring mark is."""
    middle = (paper.width if axis == 0 else paper.height) / 2
    return (stop for stop in stops if abs(stop - middle) > 0.1)
