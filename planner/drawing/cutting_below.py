"""What stands below a drawn bar: texts without room in their pieces, at leaders or, where they are too many, in words.

In: the parts of a bar as they lie on paper. Out: shapes, and how far down they reach; paper millimetres.
"""

from collections.abc import Mapping, Sequence

from planner.drawing import words
from planner.drawing.labels import Heights
from planner.drawing.lettering import clean, text_width
from planner.drawing.roles import Role
from planner.drawing.shapes import Line, Shape, Text
from planner.drawing.tables import PITCH, RISE
from planner.drawing.wrapping import wrapped
from planner.records import dataclass

#: Of ids below a bar at most so many lines.
_MOST_LINES = 8
#: What stays free at each side of letters in a piece, in heights of capitals.
_BESIDE = 0.4


@dataclass(frozen=True, slots=True)
class Desk:
    """What is the same for all bars of an item."""

    heights: Heights
    units: str
    left: float  #: where the bars begin; what is left of it is for how many
    width: float  #: of the column
    scale: float
    stock: float
    kerf: float

    @property
    def letter(self) -> float:
        return self.heights[Role.PIECE_MARK]


@dataclass(frozen=True, slots=True)
class Part:
    """A piece or an off-cut as it lies on the drawn bar, paper millimetres."""

    start: float
    end: float
    text: str
    short: str = ""  #: written in it instead of `text`, where what it is can be seen
    must: bool = True  #: it is told below the bar where it has no room in it
    waste: bool = False  #: no piece

    @property
    def middle(self) -> float:
        return (self.start + self.end) / 2

    @property
    def inside(self) -> str:
        """What is written in it, where there is room."""
        return self.short or self.text


def fits(text: str, part: Part, desk: Desk) -> bool:
    return text_width(text, desk.letter) + 2 * _BESIDE * desk.letter <= part.end - part.start


def told_below(parts: Sequence[Part], tall: float, desk: Desk) -> tuple[dict[Part, str], list[Shape], float]:
    """Parts without room for their texts: numbers to put into them instead, what stands below, how far down that is."""
    if _room_for(parts, desk):
        return {}, *_leaders(parts, tall, desk)
    numbers = _numbered(parts, desk)
    return numbers, *_told(parts, numbers, tall, desk)


def _room_for(parts: Sequence[Part], desk: Desk) -> bool:
    """True when the texts of these parts fit side by side in one line below the bar."""
    wide = sum(text_width(part.text, desk.letter) + desk.letter for part in parts)
    return wide - desk.letter <= desk.width - desk.left


def _numbered(parts: Sequence[Part], desk: Desk) -> dict[Part, str]:
    """Numbers for pieces, from the left; none when a piece has no room even for its number."""
    ordered = sorted((part for part in parts if not part.waste), key=lambda part: part.start)
    numbers = {part: str(k) for k, part in enumerate(ordered, 1)}
    return numbers if all(fits(number, part, desk) for part, number in numbers.items()) else {}


def _told(parts: Sequence[Part], numbers: Mapping[Part, str], tall: float, desk: Desk) -> tuple[list[Shape], float]:
    """Parts that stand neither in their pieces nor at leaders, in words: by their numbers, else from the left."""
    ordered = sorted(parts, key=lambda part: part.start)
    if numbers:
        said = ";  ".join(
            words.say("cutting.numbered", n=numbers[part], piece=part.text) if part in numbers else part.text
            for part in ordered
        )
    else:
        said = words.say("cutting.in order", pieces="; ".join(part.text for part in ordered))
    return lines_below((said,), tall, desk)


def _leaders(parts: Sequence[Part], tall: float, desk: Desk) -> tuple[list[Shape], float]:
    """What had no room in its piece, below the bar with leaders; and how far down that reaches."""
    if not parts:
        return [], tall
    letter = desk.letter
    ordered = sorted(parts, key=lambda part: part.start)
    wide = [text_width(part.text, letter) for part in ordered]
    lefts = _spread([part.middle for part in ordered], wide, letter, desk)
    top = -tall - 1.1 * letter
    shapes: list[Shape] = []
    for part, x, width in zip(ordered, lefts, wide, strict=True):
        shapes.append(Line(Role.CUT_PIECE, (part.middle, -tall / 2), (x + width / 2, top + 0.35 * letter)))
        shapes.append(Text(Role.PIECE_MARK, (x, top), part.text, "left", "top"))
    return shapes, -top + 1.4 * letter


def _spread(middles: Sequence[float], wide: Sequence[float], gap: float, desk: Desk) -> list[float]:
    """Where each text begins: near its piece, none upon another, all within the column.

    Half-way between pushing all that collide to the right and pushing them to the left; both hold, so that does too.
    """
    wanted = [middle - width / 2 for middle, width in zip(middles, wide, strict=True)]
    rightward = _within(_pushed(wanted, wide, gap, desk.left), wide, gap, desk.width)
    mirrored = _pushed(
        [-x - width for x, width in zip(reversed(wanted), reversed(wide), strict=True)], wide[::-1], gap, -desk.width
    )
    mirrored = _within(mirrored, wide[::-1], gap, -desk.left)
    leftward = [-x - width for x, width in zip(reversed(mirrored), wide, strict=True)]
    return [(one + other) / 2 for one, other in zip(rightward, leftward, strict=True)]


def _pushed(wanted: Sequence[float], wide: Sequence[float], gap: float, start: float) -> list[float]:
    """From the left on, each where it is wanted or behind the one before it."""
    lefts: list[float] = []
    for x, width in zip(wanted, wide, strict=True):
        lefts.append(max(start, x))
        start = lefts[-1] + width + gap
    return lefts


def _within(lefts: Sequence[float], wide: Sequence[float], gap: float, limit: float) -> list[float]:
    """Moved back as far as is needed for the last to end at `limit`."""
    found = list(lefts)
    for k in reversed(range(len(found))):
        found[k] = min(found[k], limit - wide[k])
        limit = found[k] - gap
    return found


def lines_below(said: Sequence[str], foot: float, desk: Desk) -> tuple[list[Shape], float]:
    """Words below a bar, and how far down they reach."""
    letter = desk.letter
    lines = [line for each in said for line in wrapped(clean(each), desk.width - desk.left, letter)]
    if len(lines) > _MOST_LINES:
        lines = [*lines[: _MOST_LINES - 1], words.say("cutting.more lines", n=len(lines) - _MOST_LINES + 1)]
    shapes: list[Shape] = [
        Text(Role.PIECE_MARK, (desk.left, -foot - (RISE + 0.2 + PITCH * k) * letter), line)
        for k, line in enumerate(lines)
    ]
    return shapes, foot + (0.5 + PITCH * len(lines)) * letter
