"""What every sheet must hold to: no two texts overlap, nothing leaves the frame, no window clips what it shows."""

from planner.drawing.labels import Heights, dimension_text, rings_overlap, text_boxes, text_ring
from planner.drawing.shapes import Circle, Dimension, Line, Outline, Sheet, Text, Window
from planner.drawing.stylebook import Style
from planner.geometry import box_of


def overlapping(sheet: Sheet, style: Style) -> list[tuple[str, str]]:
    boxes = [(box, box_of(box.ring)) for box in text_boxes(sheet, style)]
    return [
        (a.text, b.text)
        for k, (a, of_a) in enumerate(boxes)
        for b, of_b in boxes[:k]
        if of_a.overlaps(of_b) and rings_overlap(a.ring, b.ring)
    ]


def outside(sheet: Sheet, style: Style) -> list[str]:
    return [box.text for box in text_boxes(sheet, style) if not sheet.paper.frame.holds(box_of(box.ring))]


def leaving_window(window: Window, style: Style) -> list[str]:
    """Letters and drawn points that a window would clip."""
    heights, scale = Heights.of(style), window.drawing.scale
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
