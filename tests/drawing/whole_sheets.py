"""What every sheet must hold to: no two texts overlap, nothing leaves the frame, no window clips what it shows."""

from collections.abc import Iterable
from typing import Any

from planner.drawing.ceiling_plan import ceiling_sheets
from planner.drawing.framing_plan import framing_sheets
from planner.drawing.labels import Heights, box_ring, dimension_text, rings_overlap, text_boxes, text_ring
from planner.drawing.roles import Role
from planner.drawing.setout_plan import setout_sheets
from planner.drawing.shapes import Circle, Dimension, Line, Outline, Sheet, Text, Window
from planner.drawing.stylebook import Style
from planner.geometry import Box, box_of


def ceiling_plan(*given: Any) -> Sheet:
    """The ceiling plan where it is one sheet."""
    (sheet,) = ceiling_sheets(*given)
    return sheet


def framing_plan(*given: Any) -> Sheet:
    (sheet,) = framing_sheets(*given)
    return sheet


def setout_plan(*given: Any) -> Sheet | None:
    sheets = setout_sheets(*given)
    assert len(sheets) < 2
    return sheets[0] if sheets else None


def all_lettered(sheets: Iterable[Sheet]) -> str:
    """All that is lettered on the paper of sheets, beside their windows, in a row."""
    return " ".join(shape.text for sheet in sheets for shape in sheet.shapes if isinstance(shape, Text))


def overlapping(sheet: Sheet, style: Style) -> list[tuple[str, str]]:
    boxes = [(box, box_of(box.ring)) for box in text_boxes(sheet, style)]
    return [
        (a.text, b.text)
        for k, (a, of_a) in enumerate(boxes)
        for b, of_b in boxes[:k]
        if of_a.overlaps(of_b) and rings_overlap(a.ring, b.ring)
    ]


def outside(sheet: Sheet, style: Style) -> list[str]:
    """Texts that leave the frame; the letters of its zones stand between it and the edge of the paper."""
    paper = Box(0.0, 0.0, sheet.paper.width, sheet.paper.height)
    return [
        box.text
        for box in text_boxes(sheet, style)
        if not (paper if box.role == Role.ZONE else sheet.paper.frame).holds(box_of(box.ring))
    ]


def leaving_window(window: Window, style: Style) -> list[str]:
    """Letters and drawn points that a window would clip."""
    heights, scale = Heights.of(style), window.drawing.scale
    if window.part is not None:
        return letters_parted(window, style)
    gone = []
    for shape in window.drawing.shapes:
        points: tuple = ()
        match shape:
            case Text():
                points = text_ring(shape, heights[shape.role] * scale)
            case Line(start=a, end=b):
                points = (a, b)
            case Outline(points=ring):
                points = ring
            case Circle(centre=(x, y), radius=r):
                points = ((x - r, y - r), (x + r, y + r))
            case Dimension(start=a, end=b, line_at=c):
                letters = dimension_text(shape, heights[shape.role], scale)
                points = (a, b, c, *text_ring(letters, heights[shape.role] * scale))
        if points and not window.box.holds(box_of(map(window.to_paper, points))):
            gone.append(repr(shape)[:120])
    return gone


def letters_parted(window: Window, style: Style) -> list[str]:
    """Letters that the edge of a part cuts in two; lines go on, letters must not."""
    heights, scale = Heights.of(style), window.drawing.scale
    gone = []
    for shape in window.drawing.shapes:
        if isinstance(shape, Text | Dimension):
            text = shape if isinstance(shape, Text) else dimension_text(shape, heights[shape.role], scale)
            ring = tuple(map(window.to_paper, text_ring(text, heights[shape.role] * scale)))
            if rings_overlap(ring, box_ring(window.box)) and not window.box.grown(0.02).holds(box_of(ring)):
                gone.append(text.text)
    return gone


def check(sheet: Sheet, style: Style) -> None:
    assert overlapping(sheet, style) == []
    assert outside(sheet, style) == []
    for window in sheet.windows:
        assert leaving_window(window, style) == []
        assert sheet.paper.frame.holds(window.box)


def said(sheet: Sheet) -> str:
    """All words on the paper of a sheet."""
    return " ".join(shape.text for shape in sheet.shapes if isinstance(shape, Text))


def drawn_words(sheet: Sheet) -> list[str]:
    """All words in the window of a sheet."""
    return [shape.text for shape in sheet.windows[0].drawing.shapes if isinstance(shape, Text)]
