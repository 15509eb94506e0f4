"""What every sheet has around its drawing: the frame, the heading.

In: a paper, a part of it, words. Out: shapes in paper millimetres. The frame is that of ISO 5457: a heavy line at the
margins, and centring marks at the four mid-edges (their reach, 5 mm outside of the frame here, is from memory).
"""

from planner.drawing.composition import GUTTER
from planner.drawing.labels import Heights, box_ring
from planner.drawing.lettering import clean
from planner.drawing.roles import Role
from planner.drawing.shapes import Line, Outline, Paper, Shape, Text
from planner.drawing.tables import shortened, wrapped
from planner.geometry import Box

_MARK = 5.0
#: A title with its descenders, in heights of its capitals.
_BELOW = 1.3


def frame(paper: Paper) -> tuple[Shape, ...]:
    """The frame and its four centring marks."""
    box = paper.frame
    x, y = paper.width / 2, paper.height / 2
    return (
        Outline(Role.FRAME, box_ring(box)),
        Line(Role.FRAME, (box.left - _MARK, y), (box.left, y)),
        Line(Role.FRAME, (box.right, y), (box.right + _MARK, y)),
        Line(Role.FRAME, (x, box.bottom - _MARK), (x, box.bottom)),
        Line(Role.FRAME, (x, box.top), (x, box.top + _MARK)),
    )


def heading_height(heights: Heights) -> float:
    """Paper that a heading takes below the top of its part of the sheet."""
    return GUTTER + _BELOW * heights[Role.SHEET_TITLE] + 5.0 * heights[Role.NOTE]


def heading(box: Box, title: str, facts: str, note: str, heights: Heights) -> tuple[Shape, ...]:
    """Title, a line of facts, and a note of two lines at most, in the upper left corner of `box`."""
    large, small = heights[Role.SHEET_TITLE], heights[Role.NOTE]
    width = box.width - 2 * GUTTER
    left, y = box.left + GUTTER, box.top - GUTTER - large
    foot = y - (_BELOW - 1.0) * large
    lines = wrapped(note, width, small)
    texts = [
        Text(Role.SHEET_TITLE, (left, y), shortened(title, width, large)),
        Text(Role.NOTE, (left, foot - 1.4 * small), shortened(clean(facts), width, small)),
        *(Text(Role.NOTE, (left, foot - (3.0 + 1.6 * k) * small), line) for k, line in enumerate(lines[:2])),
    ]
    return tuple(text for text in texts if text.text)
