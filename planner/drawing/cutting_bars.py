"""Bars drawn to scale with the pieces that come off them, as rows below a heading for each stock item.

In: lots of patterns, the width of a column. Out: stacks. Each bar bears its pieces' ids and lengths; what has no room
in its piece stands below the bar with a leader, or, where there are too many such pieces, is told in words. Bars that
are cut alike are drawn once, with how many, and the ids of all their pieces below.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from planner.drawing import words
from planner.drawing.cutting_names import told
from planner.drawing.cutting_patterns import DROPPED_MM, Lot, Pattern
from planner.drawing.dimensions import spoken, written
from planner.drawing.labels import Heights
from planner.drawing.lettering import clean, text_width
from planner.drawing.roles import Role
from planner.drawing.scales import Scale, standard_scales
from planner.drawing.shapes import Line, Outline, Shape, Text
from planner.drawing.tables import PITCH, RISE, Row, Stack, drawn_rows
from planner.drawing.wrapping import wrapped
from planner.geometry import Ring
from planner.lengths import Rounding
from planner.stock.model import Cutting, Over, PanelCutting

#: Of each item at most so many patterns are drawn.
MOST_PATTERNS = 120
#: Of ids below a bar at most so many lines.
_MOST_LINES = 8
#: Height of a bar, and what stays free at each side of letters in a piece, in heights of capitals.
_TALL = 2.3
_BESIDE = 0.4
#: The end of the key of what is said of a bound, by what it holds over.
_OVER: dict[Over, str] = {
    "pieces": "pieces",
    "first cuts": "runs",
    "fewest splices": "unspliced",
    "splices": "spliced",
}
#: Off-cuts below this are saw dust; millimetres.
_DUST = 1.0


@dataclass(frozen=True, slots=True)
class _Desk:
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


def bar_stacks(lots: Sequence[Lot], units: str, imperial: bool, width: float, heights: Heights) -> tuple[Stack, ...]:
    """One stack for each stock item."""
    return tuple(_stack(lot, units, imperial, width, heights) for lot in lots)


def scale_for(length: float, room: float, imperial: bool) -> Scale:
    """The largest standard scale at which a length has room; the smallest when none has."""
    scales = standard_scales(imperial)
    return next((scale for scale in scales if length / scale.denominator <= room), scales[-1])


def _stack(lot: Lot, units: str, imperial: bool, width: float, heights: Heights) -> Stack:
    cutting = lot.cutting
    most = max(pattern.count for pattern in lot.patterns)
    left = text_width(words.say("cutting.times", n=most), heights[Role.HEADING]) + heights[Role.NOTE]
    scale = scale_for(cutting.stock_length, width - left, imperial)
    desk = _Desk(heights, units, left, width, scale.denominator, cutting.stock_length, cutting.kerf)
    name = words.named(cutting.item)
    heading = words.say(
        "cutting.item",
        item=name[:1].upper() + name[1:],
        length=written(cutting.stock_length, units),  # a name, which nobody measures
        scale=scale.name,
    )
    rows = [*_remarks(lot, desk), *(_row(pattern, desk) for pattern in lot.patterns[:MOST_PATTERNS])]
    if len(lot.patterns) > MOST_PATTERNS:
        more = words.say("cutting.more patterns", n=len(lot.patterns) - MOST_PATTERNS)
        rows += sentences((more,), width, heights)
    return drawn_rows(heading, rows, width, heights)


def _remarks(lot: Lot, desk: _Desk) -> list[Row]:
    """How good the cutting is, and how to read the bars."""
    cutting = lot.cutting
    said = [best_said(cutting)]
    if any(pattern.slots for pattern in lot.patterns):
        said.append(words.say("cutting.ends kept") if lot.keeps_ends else words.say("cutting.longest first"))
        if lot.from_longer:
            said.append(words.say("cutting.from longer", count=lot.from_longer))
        said += like_this(pattern.count for pattern in lot.patterns if pattern.slots)
        if cutting.kerf:
            said.append(words.say("cutting.kerf", kerf=small(cutting.kerf, desk.units)))
    return sentences((" ".join(said),), desk.width, desk.heights)


def best_said(cutting: Cutting | PanelCutting) -> str:
    """How many lengths or panels are bought, whether fewer would do, and what that holds over."""
    fields = {"count": cutting.bought, "least": cutting.lower_bound}
    if isinstance(cutting, PanelCutting):
        if cutting.proven:
            return words.say("cutting.best", **fields)
        return words.say("cutting.best open", **fields, gap=cutting.gap)
    over = _OVER[cutting.over]
    if cutting.proven:
        return words.say(f"cutting.best {over}", **fields)
    return words.say(f"cutting.best {over} open", **fields, gap=cutting.gap)


def like_this(counts: Iterable[int]) -> list[str]:
    """What a number before a drawing means, by the largest there is; nothing where all is cut once."""
    most = max(counts, default=1)
    return [words.say("cutting.like this", n=most)] if most > 1 else []


def sawn(length: float, units: str) -> str:
    """What to saw, rounded down: too long does not go in.

    The saw counts in whole tenths of a millimetre and has dropped the rest, so a length that misses a mark by less than
    one of them is at the mark: 7.9 mm is 5/16" (7.9375 mm).
    """
    return written(length + DROPPED_MM, units, Rounding.DOWN)


def sawn_said(length: float, units: str) -> str:
    """The same as sentences have it."""
    return spoken(length + DROPPED_MM, units, Rounding.DOWN)


def _cut_length(length: float, desk: _Desk) -> str:
    """What to saw; a bar that is used whole has the length that it is sold by."""
    whole = length > desk.stock - DROPPED_MM
    return written(desk.stock, desk.units) if whole else sawn(length, desk.units)


def small(length: float, units: str) -> str:
    """A length of less than a foot: without feet."""
    return written(length, "in" if units == "ft-in" else units)


def sentences(said: Sequence[str], width: float, heights: Heights, role: Role = Role.NOTE) -> list[Row]:
    """Sentences across the column, a row for each, and a little air below the last."""
    height, rows = heights[role], []
    for sentence in said:
        lines = wrapped(clean(sentence), width, height)
        feet = [-(RISE + PITCH * k) * height for k in range(len(lines))]
        rows.append(
            Row(
                PITCH * height * len(lines) + 0.5 * height,
                tuple(Text(role, (0.0, y), line) for y, line in zip(feet, lines, strict=True)),
            )
        )
    return rows


@dataclass(frozen=True, slots=True)
class _Part:
    """A piece or an off-cut as it lies on the drawn bar, paper millimetres."""

    start: float
    end: float
    text: str
    short: str = ""  #: written instead where `text` has no room
    must: bool = True  #: it is told below the bar where it has no room in it

    @property
    def middle(self) -> float:
        return (self.start + self.end) / 2


def _row(pattern: Pattern, desk: _Desk) -> Row:
    """A bar, what stands below it, and how many are cut like this."""
    tall = _TALL * desk.letter
    shapes: list[Shape] = [Text(Role.HEADING, (0.0, -tall / 2), _many(pattern), "left", "middle")]
    parts = list(_parts(pattern, desk))
    shapes += _bar(pattern, parts, desk, tall)
    homeless = [part for part in parts if part.must and not _fits(part.text, part, desk)]
    by_leader = _room_for(homeless, desk)
    numbers = {} if by_leader else _numbered(homeless, desk)
    for part in parts:
        texts = (numbers[part],) if part in numbers else (part.text, part.short)
        text = next((text for text in texts if text and _fits(text, part, desk)), "")
        if text:
            shapes.append(Text(Role.PIECE_MARK, (part.middle, -tall / 2), text, "centre", "middle"))
    below, foot = _leaders(homeless, tall, desk) if by_leader else _told(homeless, numbers, tall, desk)
    lines, foot = _ids(pattern, foot, desk)
    return Row(foot + 1.3 * desk.letter, (*shapes, *below, *lines))


def _many(pattern: Pattern) -> str:
    return words.say("cutting.times", n=pattern.count)


def _fits(text: str, part: _Part, desk: _Desk) -> bool:
    return text_width(text, desk.letter) + 2 * _BESIDE * desk.letter <= part.end - part.start


def _parts(pattern: Pattern, desk: _Desk) -> Iterator[_Part]:
    """What lies on the bar from left to right, kerfs between; a bar used whole is one part."""
    begin, end, scale = desk.left, desk.left + desk.stock / desk.scale, desk.scale
    if not pattern.slots:
        yield _Part(begin, end, words.say("cutting.not cut"), must=False)
        return
    x, last, off = begin, end, list[_Part]()
    for slot in pattern.slots:
        if slot.at_end:
            last = end - slot.length / scale
            span = (last, end)
        else:
            if slot.sawn_off:
                length = sawn(slot.sawn_off, desk.units)
                off.append(_Part(x, x + slot.sawn_off / scale, words.say("cutting.sawn off", length=length)))
                x += slot.sawn_off / scale
            span = (x, x + slot.length / scale)
            x = span[1] + desk.kerf / scale
        length = _cut_length(slot.length, desk)
        text = f"{slot.members[0]}  {length}" if pattern.one_name and slot.members[0] else length
        yield _Part(*span, clean(text), must=True)
    yield from off
    if pattern.offcut >= _DUST and x < last:
        length = written(pattern.offcut, desk.units, Rounding.DOWN)
        yield _Part(x, last, words.say("cutting.left over", length=length), length, must=False)


def _bar(pattern: Pattern, parts: Sequence[_Part], desk: _Desk, tall: float) -> Iterator[Shape]:
    """The tint of what is left over, the pieces, and the bar around all."""
    pieces = len(pattern.slots) or 1
    for part in parts[pieces:]:
        yield Outline(Role.OFFCUT, _upright(part.start, part.end, tall), fill=True)
    for part in parts[:pieces] if pattern.slots else ():
        yield Outline(Role.CUT_PIECE, _upright(part.start, part.end, tall), title=part.text)
    yield Outline(Role.STOCK, _upright(desk.left, desk.left + desk.stock / desk.scale, tall))


def _upright(left: float, right: float, tall: float) -> Ring:
    return ((left, -tall), (right, -tall), (right, 0.0), (left, 0.0))


def _room_for(parts: Sequence[_Part], desk: _Desk) -> bool:
    """True when the texts of these parts fit side by side in one line below the bar."""
    wide = sum(text_width(part.text, desk.letter) + desk.letter for part in parts)
    return wide - desk.letter <= desk.width - desk.left


def _numbered(parts: Sequence[_Part], desk: _Desk) -> dict[_Part, str]:
    """Numbers for parts, from the left; none when a part has no room even for its number."""
    ordered = sorted(parts, key=lambda part: part.start)
    numbers = {part: str(k) for k, part in enumerate(ordered, 1)}
    return numbers if all(_fits(number, part, desk) for part, number in numbers.items()) else {}


def _told(parts: Sequence[_Part], numbers: Mapping[_Part, str], tall: float, desk: _Desk) -> tuple[list[Shape], float]:
    """Parts that stand neither in their pieces nor at leaders, in words: by their numbers, else from the left."""
    ordered = sorted(parts, key=lambda part: part.start)
    if numbers:
        said = ";  ".join(words.say("cutting.numbered", n=numbers[part], piece=part.text) for part in ordered)
    else:
        said = words.say("cutting.in order", pieces="; ".join(part.text for part in ordered))
    return _lines((said,), tall, desk)


def _leaders(parts: Sequence[_Part], tall: float, desk: _Desk) -> tuple[list[Shape], float]:
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


def _spread(middles: Sequence[float], wide: Sequence[float], gap: float, desk: _Desk) -> list[float]:
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


def _ids(pattern: Pattern, foot: float, desk: _Desk) -> tuple[list[Shape], float]:
    """The ids of the pieces of bars that are cut alike but for different members, by their length."""
    if pattern.one_name:
        return [], foot
    by_length: dict[float, list[str]] = {}
    for slot in pattern.slots:
        by_length.setdefault(slot.length, []).extend(slot.members)
    said = [
        words.say("cutting.pieces for", length=_cut_length(length, desk), ids=told(ids))
        for length, ids in by_length.items()
    ]
    return _lines(said, foot, desk)


def _lines(said: Sequence[str], foot: float, desk: _Desk) -> tuple[list[Shape], float]:
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
