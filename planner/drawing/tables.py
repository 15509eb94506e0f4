"""Tables and notes as stacks of rows that can be set one below the other and carried on in the next column.

In: words. Out: a `Stack`: rows of known height, drawn with their upper left corner at (0, 0), paper millimetres.
A text that is too wide is wrapped (notes) or shortened with an ellipsis (cells); nothing ever runs out of its column.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from planner.drawing import words
from planner.drawing.column_widths import MOST_LINES, Column, columns_for
from planner.drawing.labels import Heights
from planner.drawing.lettering import clean, text_width
from planner.drawing.roles import Role
from planner.drawing.shapes import Arc, Circle, Dimension, Line, Outline, Shape, Symbol, Text
from planner.drawing.wrapping import shortened, wrapped
from planner.geometry import Point
from planner.records import dataclass

#: From the foot of one line of letters to the next, in heights of capitals (ISO 3098 asks for 1.4 at least).
PITCH = 1.75
#: Room above the foot of the first line of a row.
RISE = 1.35
#: Lines of a paragraph that stay together in one column.
_KEPT = 5


@dataclass(frozen=True, slots=True)
class Row:
    """One row, its upper left corner at (0, 0)."""

    height: float
    shapes: tuple[Shape, ...] = ()


@dataclass(frozen=True, slots=True)
class Stack:
    """Rows below a heading; a stack that is carried on repeats its heading."""

    heading: Row
    again: Row
    rows: tuple[Row, ...]

    @property
    def height(self) -> float:
        return self.heading.height + sum(row.height for row in self.rows)


def table(
    heading: str,
    sides: str,
    heads: Sequence[str],
    rows: Sequence[Sequence[str]],
    width: float,
    heights: Heights,
    last: Sequence[str] = (),
) -> Stack:
    """A table below its heading. `sides` has a letter for each column: l, r for the side its words keep to.

    Columns are as wide as their words need; what is left over goes between them, what is missing is taken from the
    widest. No heads, no row for them. `last` are sentences across all columns below.
    """
    set_in = [(Role.TITLE_LABEL, heads), *((Role.NOTE, row) for row in rows)]
    lettered = [[(words.drawn(row[k]), heights[role]) for role, row in set_in if row] for k in range(len(sides))]
    columns = columns_for(sides, lettered, width, heights[Role.NOTE])
    body = [_cells(columns, row, Role.NOTE, heights) for row in rows]
    if heads:
        head = _cells(columns, heads, Role.TITLE_LABEL, heights)
        rule = Line(Role.LEGEND, (0.0, -head.height), (width, -head.height))
        body.insert(0, Row(head.height + 0.4, (*head.shapes, rule)))
    for sentence in last:
        text = words.drawn(sentence)
        for line in wrapped(text[:1].upper() + text[1:], width, heights[Role.NOTE]):
            body.append(_cells((Column(width),), (line,), Role.NOTE, heights))
    return Stack(*_headings(heading, width, heights), tuple(body))


def leading_to(stack: Stack | None, key: str, columns: int = 1) -> Stack | None:
    """A table whose first columns send the reader to the sheet of a key; its head and its last sentences do not."""
    return stack and replace(stack, rows=tuple(_leading(row, key, columns) for row in stack.rows))


def _leading(row: Row, key: str, columns: int) -> Row:
    """A row with its leftmost words as links, where it has more cells than that."""
    texts = [shape for shape in row.shapes if isinstance(shape, Text) and shape.role is Role.NOTE]
    if len(texts) <= columns:
        return row
    first = sorted(texts, key=lambda text: text.at[0])[:columns]
    return replace(
        row,
        shapes=tuple(
            replace(each, link=key) if isinstance(each, Text) and each in first else each for each in row.shapes
        ),
    )


def compact_table(
    heading: str,
    sides: str,
    heads: Sequence[str],
    rows: Sequence[Sequence[str]],
    width: float,
    heights: Heights,
    last: Sequence[str] = (),
) -> Stack:
    """A table without the columns that would be empty throughout."""
    kept = [k for k in range(len(heads)) if k == 0 or any(row[k] for row in rows)]
    shown = [[row[k] for k in kept] for row in rows]
    return table(heading, "".join(sides[k] for k in kept), [heads[k] for k in kept], shown, width, heights, last)


def notes(
    heading: str,
    paragraphs: Iterable[str],
    width: float,
    heights: Heights,
    role: Role = Role.NOTE,
    sign: str = "–",
    air: float = 0.0,
) -> Stack:
    """Paragraphs one below the other, each with a sign that hangs at its left."""
    numbered = ((sign, paragraph) for paragraph in paragraphs)
    return signed_notes(heading, numbered, width, heights, role, air)


def signed_notes(
    heading: str,
    paragraphs: Iterable[tuple[str, str]],
    width: float,
    heights: Heights,
    role: Role = Role.NOTE,
    air: float = 0.0,
) -> Stack:
    """Paragraphs, each with its own sign at the left; below each some `air`, in heights of capitals."""
    height = heights[role]
    signed = [(clean(sign), words.drawn(text)) for sign, text in paragraphs]
    indent = max((text_width(sign, height) for sign, _ in signed), default=0.0) + 0.6 * height
    rows: list[Row] = []
    for sign, text in signed:
        lines = wrapped(text, width - indent, height)
        for k in range(0, len(lines), _KEPT):
            row = _paragraph(role, sign if k == 0 else "", lines[k : k + _KEPT], indent, height)
            last = k + _KEPT >= len(lines)
            rows.append(replace(row, height=row.height + air * height) if last else row)
    return Stack(*_headings(heading, width, heights), tuple(rows))


def _paragraph(role: Role, sign: str, lines: Sequence[str], indent: float, height: float) -> Row:
    feet = [-(RISE + PITCH * k) * height for k in range(len(lines))]
    letters = [Text(role, (indent, y), line) for y, line in zip(feet, lines, strict=True)]
    if sign:
        letters.insert(0, Text(role, (0.0, feet[0]), sign))
    return Row(PITCH * height * len(lines), tuple(letters))


def drawn_rows(heading: str, rows: Iterable[Row], width: float, heights: Heights) -> Stack:
    """Rows that somebody else drew, below a heading."""
    return Stack(*_headings(heading, width, heights), tuple(rows))


def moved(shapes: Iterable[Shape], by: Point, factor: float = 1.0) -> tuple[Shape, ...]:
    """Shapes made larger about (0, 0) and then moved."""

    def go(point: Point) -> Point:
        return (by[0] + factor * point[0], by[1] + factor * point[1])

    return tuple(_moved(shape, go, factor) for shape in shapes)


def _moved(shape: Shape, go: Callable[[Point], Point], factor: float) -> Shape:
    match shape:
        case Line():
            return replace(shape, start=go(shape.start), end=go(shape.end))
        case Outline():
            holes = tuple(tuple(map(go, hole)) for hole in shape.holes)
            return replace(shape, points=tuple(map(go, shape.points)), holes=holes)
        case Circle() | Arc():
            return replace(shape, centre=go(shape.centre), radius=shape.radius * factor)
        case Dimension():
            text_at = shape.text_at and go(shape.text_at)
            return replace(shape, start=go(shape.start), end=go(shape.end), line_at=go(shape.line_at), text_at=text_at)
        case Text() | Symbol():
            return replace(shape, at=go(shape.at))


def _headings(heading: str, width: float, heights: Heights) -> tuple[Row, Row]:
    height = heights[Role.HEADING]
    again = words.say("sheets.continued", heading=heading)
    rows = (
        Row(
            2.1 * height,
            (
                Text(Role.HEADING, (0.0, -1.2 * height), shortened(text, width, height)),
                Line(Role.LEGEND, (0.0, -1.75 * height), (width, -1.75 * height)),
            ),
        )
        for text in (heading, again)
    )
    first, second = rows
    return first, second


def _cells(columns: Sequence[Column], cells: Sequence[str], role: Role, heights: Heights) -> Row:
    """One row of a table; every cell keeps within its column, on up to `MOST_LINES` lines."""
    height = heights[role]
    shapes: list[Shape] = []
    left, tall = 0.0, 1
    for column, cell in zip(columns, cells, strict=True):
        room = column.width - column.free
        lines = _lines(words.drawn(cell), room, height)
        tall = max(tall, len(lines))
        x = left if column.side == "left" else left + room
        for n, line in enumerate(lines):
            shapes.append(Text(role, (x, -(RISE + n * PITCH) * height), line, column.side))
        left += column.width
    return Row(PITCH * height * tall, tuple(shapes))


def _lines(text: str, width: float, height: float) -> Sequence[str]:
    """A text on as many lines as it needs; the last that there may be is shortened. None for a text without letters."""
    if text_width(text, height) <= width:
        return (text,) if text else ()
    lines = wrapped(text, width, height)
    kept, rest = lines[: MOST_LINES - 1], " ".join(lines[MOST_LINES - 1 :])
    return [line for line in (*kept, shortened(rest, width, height)) if line]
