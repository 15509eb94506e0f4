"""The title block, bottom right, 180 mm wide where the paper allows, with the fields of ISO 7200.

In: what the room file says of the project. Out: shapes in the lower right corner of the frame. Nothing is invented: a
field that nobody filled stays empty. Scale, paper and units are no fields of ISO 7200 and stand beside them.
The fields (ISO 7200, read on a public page): legal owner, identification number, revision, date of issue, sheet and
number of sheets, title, document type, approval person, creator, status; the width is from memory.
"""

from dataclasses import dataclass

from planner.drawing import words
from planner.drawing.labels import Heights
from planner.drawing.lettering import clean
from planner.drawing.roles import Role
from planner.drawing.shapes import Line, Outline, Shape, Text
from planner.drawing.tables import shortened
from planner.geometry import Box

WIDTH = 180.0
_PAD = 1.5


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
    project: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class _Field:
    label: str
    text: str
    share: float  #: of the width of its row
    tall: bool = False


def title_block_height(heights: Heights) -> float:
    return sum(_row_height(heights, tall) for tall in (False, True, False, False))


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
        foot = top - _row_height(heights, row[0].tall)
        if k:
            shapes.append(Line(Role.TITLE_BLOCK, (box.left, top), (box.right, top)))
        shapes += _row(row, Box(box.left, foot, box.right, top), heights)
        top = foot
    return tuple(shapes)


def _rows(facts: Facts) -> tuple[tuple[_Field, ...], ...]:
    given = {key.strip().lower().replace("_", " "): value for key, value in facts.project}
    return (
        (
            _Field(words.CLIENT, given.get("client", ""), 0.45),
            _Field(words.DOCUMENT, facts.document, 0.35),
            _Field(words.STATUS, given.get("status", ""), 0.2),
        ),
        (
            _Field(words.JOB, facts.job, 0.55, tall=True),
            _Field(words.SCALE_LABEL, facts.scale, 0.45, tall=True),
        ),
        (
            _Field(words.DRAWN_BY, given.get("drawn by", ""), 0.3),
            _Field(words.APPROVED_BY, given.get("approved by", given.get("checked by", "")), 0.3),
            _Field(words.DATE, facts.date or given.get("date", ""), 0.22),
            _Field(words.REVISION, given.get("revision", ""), 0.18),
        ),
        (
            _Field(words.NUMBER, given.get("number", ""), 0.35),
            _Field(words.PAPER, facts.paper, 0.22),
            _Field(words.UNITS, facts.units, 0.25),
            _Field(words.SHEET, facts.sheet, 0.18),
        ),
    )


def _row_height(heights: Heights, tall: bool) -> float:
    return 1.5 * heights[Role.TITLE_LABEL] + (2.3 if not tall else 2.1) * heights[_text_role(tall)]


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
        small, role = heights[Role.TITLE_LABEL], _text_role(entry.tall)
        for text, kind, at in (
            (entry.label, Role.TITLE_LABEL, (left + _PAD, box.top - 1.45 * small)),
            (entry.text, role, (left + _PAD, box.bottom + 0.6 * heights[role])),
        ):
            fitted = shortened(clean(text), width - 2 * _PAD, heights[kind])
            if fitted:
                shapes.append(Text(kind, at, fitted))
        left += width
    return shapes
