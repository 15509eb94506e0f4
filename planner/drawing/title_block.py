"""The title block, bottom right, 180 mm wide where the paper allows, with the fields of ISO 7200.

In: what the room file says of the project. Out: shapes in the lower right corner of the frame. Nothing is invented: a
field that nobody filled stays empty. Scale, paper and units are no fields of ISO 7200 and stand beside them.
The fields (ISO 7200, read on a public page): legal owner, identification number, revision, date of issue, sheet and
number of sheets, language, title, document type, approval person, creator, status always; supplementary title,
department, technical reference and classification where they are given. The width is from memory.
A text too long for its cell is set smaller, then in two lines, and only then shortened.
"""

from collections.abc import Sequence

from planner.drawing import words
from planner.drawing.labels import Heights
from planner.drawing.lettering import clean, text_width
from planner.drawing.roles import Role
from planner.drawing.shapes import Line, Outline, Shape, Text
from planner.drawing.wrapping import shortened, wrapped
from planner.geometry import Box, Point
from planner.records import dataclass

WIDTH = 180.0
_PAD = 1.5
#: From the foot of one line of small letters to the next, in their heights.
_PITCH = 1.45
_CLOSE = 1.35  #: where two lines stand in the place of one

Given = tuple[tuple[str, str], ...]  #: what the room file says of the project, key by key


@dataclass(frozen=True, slots=True)
class Facts:
    """What the planner knows for the title block; `project` is the rest, as given."""

    job: str
    document: str  #: what kind of sheet it is
    scale: str  #: e.g. 1:50 at A3
    paper: str
    units: str
    sheet: str  #: e.g. 1 of 1
    date: str
    project: Given


@dataclass(frozen=True, slots=True)
class _Field:
    label: str
    text: str
    share: float  #: of the width of its row
    tall: bool = False
    below: str = ""  #: a second line, smaller


def title_block_height(heights: Heights, project: Given = ()) -> float:
    """The height that the block takes for what is given of the project."""
    facts = Facts("", "", "", "", "", "", "", project)
    return sum(_row_height(row, heights) for row in _rows(facts))


def title_block(box: Box, facts: Facts, heights: Heights) -> tuple[Shape, ...]:
    """The block filling `box`, whose height is `title_block_height`."""
    shapes: list[Shape] = [
        Outline(
            Role.TITLE_BLOCK,
            ((box.left, box.bottom), (box.right, box.bottom), (box.right, box.top), (box.left, box.top)),
        )
    ]
    top = box.top
    for k, row in enumerate(_rows(facts)):
        foot = top - _row_height(row, heights)
        if k:
            shapes.append(Line(Role.TITLE_BLOCK, (box.left, top), (box.right, top)))
        shapes += _row(row, Box(box.left, foot, box.right, top), heights)
        top = foot
    return tuple(shapes)


def _rows(facts: Facts) -> list[tuple[_Field, ...]]:
    given = {key.strip().lower().replace("_", " "): value for key, value in facts.project}

    def field(key: str, share: float, *keys: str) -> _Field:
        text = next((given[k] for k in (key, *keys) if given.get(k)), "")
        return _Field(words.say(f"title block.{key}"), text, share)

    def told(key: str, text: str, share: float, tall: bool = False, below: str = "") -> _Field:
        return _Field(words.say(f"title block.{key}"), text, share, tall, below)

    more = [key for key in ("department", "technical reference", "classification") if given.get(key)]
    rows = [
        (field("legal owner", 0.34), field("client", 0.34), told("document", facts.document, 0.32)),
        (
            told("title", facts.job, 0.55, True, given.get("supplementary title", "")),
            told("scale", facts.scale, 0.45, True),
        ),
        tuple(field(key, 1.0 / len(more)) for key in more),
        (
            field("drawn by", 0.28),
            field("approved by", 0.28, "checked by"),
            told("date", facts.date or given.get("date", ""), 0.22),
            field("status", 0.22),
        ),
        (
            field("number", 0.24),
            field("revision", 0.12),
            told("language", words.language(), 0.11),
            told("paper", facts.paper, 0.13),
            told("units", facts.units, 0.24),
            told("sheet", facts.sheet, 0.16),
        ),
    ]
    return [row for row in rows if row]


def _row_height(row: Sequence[_Field], heights: Heights) -> float:
    tall = row[0].tall
    below = _PITCH * heights[Role.TITLE_TEXT] if any(entry.below for entry in row) else 0.0
    return 1.5 * heights[Role.TITLE_LABEL] + (2.1 if tall else 2.3) * heights[_text_role(tall)] + below


def _text_role(tall: bool) -> Role:
    return Role.HEADING if tall else Role.TITLE_TEXT


def _row(fields: tuple[_Field, ...], box: Box, heights: Heights) -> list[Shape]:
    """Cells side by side: a small label at the top, the text below it."""
    shapes: list[Shape] = []
    left = box.left
    for k, entry in enumerate(fields):
        width = entry.share * box.width
        if k:
            shapes.append(Line(Role.TITLE_BLOCK, (left, box.bottom), (left, box.top)))
        small = heights[Role.TITLE_LABEL]
        label = shortened(clean(entry.label), width - 2 * _PAD, small)
        shapes.append(Text(Role.TITLE_LABEL, (left + _PAD, box.top - 1.45 * small), label))
        foot = box.bottom + 0.6 * heights[_text_role(entry.tall)]
        if entry.below:
            line = shortened(clean(entry.below), width - 2 * _PAD, heights[Role.TITLE_TEXT])
            shapes.append(Text(Role.TITLE_TEXT, (left + _PAD, box.bottom + 0.6 * heights[Role.TITLE_TEXT]), line))
            foot += _PITCH * heights[Role.TITLE_TEXT]
        shapes += _fitted(clean(entry.text), entry, (left + _PAD, foot), width - 2 * _PAD, heights)
        left += width
    return [shape for shape in shapes if not isinstance(shape, Text) or shape.text]


def _fitted(text: str, entry: _Field, at: Point, width: float, heights: Heights) -> list[Text]:
    """A text in the largest way that its cell has room for, standing on `at`."""
    role, smaller = _text_role(entry.tall), Role.TITLE_TEXT if entry.tall else Role.TITLE_LABEL
    if text_width(text, heights[role]) <= width:
        return [Text(role, at, text)]
    height = heights[smaller]
    first, *rest = wrapped(text, width, height) or ("",)
    if not rest or entry.below:
        return [Text(smaller, at, shortened(text, width, height))]
    second = shortened(" ".join(rest), width, height)
    foot = at[1] - (0.55 if entry.tall else 0.45) * height
    return [Text(smaller, (at[0], foot + _CLOSE * height), first), Text(smaller, (at[0], foot), second)]
