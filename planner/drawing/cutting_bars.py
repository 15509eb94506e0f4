"""Bars drawn to scale with the pieces that come off them, as rows below a heading for each stock item.

In: lots of patterns, the width of a column. Out: stacks. Each bar bears its pieces' ids and lengths; what has no room
in its piece stands below the bar with a leader, or, where there are too many such pieces, is told in words. Bars that
are cut alike are drawn once, with how many, and the ids of all their pieces below.
"""

from collections.abc import Iterator, Sequence

from planner.drawing import words
from planner.drawing.cutting_below import Desk, Part, fits, lines_below, told_below
from planner.drawing.cutting_names import told
from planner.drawing.cutting_patterns import Lot, Pattern
from planner.drawing.cutting_words import best_said, kerf_said, like_this, put_short, sentences
from planner.drawing.dimensions import piece_said, written, written_piece
from planner.drawing.labels import Heights
from planner.drawing.lettering import clean, text_width
from planner.drawing.roles import Role
from planner.drawing.scales import Scale, standard_scales
from planner.drawing.shapes import Outline, Shape, Text
from planner.drawing.tables import Row, Stack, drawn_rows
from planner.geometry import Ring
from planner.lengths import DROPPED_MM
from planner.stock.closing import left_printed

#: Of each item at most so many patterns are drawn.
MOST_PATTERNS = 120
#: So many walls and columns are named with the trim that runs along them.
_MOST_PLACES = 40
#: Height of a bar, in heights of capitals.
_TALL = 2.3
#: Off-cuts below this are saw dust; millimetres.
_DUST = 1.0


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
    desk = Desk(heights, units, left, width, scale.denominator, cutting.stock_length, cutting.kerf)
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


def _remarks(lot: Lot, desk: Desk) -> list[Row]:
    """How good the cutting is, and how to read the bars."""
    cutting = lot.cutting
    said = [best_said(cutting)]
    if any(pattern.slots for pattern in lot.patterns):
        said.append(words.say(f"cutting.{_told_of_ends(lot)}"))
        if lot.from_longer:
            said.append(words.say("cutting.from longer", count=lot.from_longer))
        said += like_this(pattern.count for pattern in lot.patterns if pattern.slots)
        said += kerf_said(cutting.kerf, desk.units)
    return sentences((" ".join(said), *_along(lot)), desk.width, desk.heights)


def _along(lot: Lot) -> list[str]:
    """Where each length of trim runs, as no plan has its id; and what no straight length follows."""
    groups: dict[str, list[str]] = {}
    for name, place in lot.places:
        groups.setdefault(place, []).append(name)
    shown = [words.say("cutting.place", ids=told(ids), place=place) for place, ids in groups.items()][:_MOST_PLACES]
    more = [words.say("cutting.more ids", n=len(groups) - len(shown))] if len(groups) > len(shown) else []
    said = [words.say("cutting.places", places=", ".join([*shown, *more]))] if shown else []
    return [*said, words.say("cutting.curved", ids=told(lot.curved))] if lot.curved else said


def _cut_length(length: float, desk: Desk) -> str:
    """What to saw; a bar that is used whole has the length that it is sold by."""
    whole = length > desk.stock - DROPPED_MM
    return written_piece(desk.stock if whole else length, desk.units, whole=whole)


def _row(pattern: Pattern, desk: Desk) -> Row:
    """A bar, what stands below it, and how many are cut like this."""
    tall = _TALL * desk.letter
    shapes: list[Shape] = [Text(Role.HEADING, (0.0, -tall / 2), _many(pattern), "left", "middle")]
    parts = list(_parts(pattern, desk))
    shapes += _bar(pattern, parts, desk, tall)
    homeless = [part for part in parts if part.must and not fits(part.inside, part, desk)]
    beside = next((part for part in homeless if _has_room_beside(part, desk)), None)
    if beside is not None:
        homeless.remove(beside)
        shapes.append(Text(Role.PIECE_MARK, (beside.end + desk.letter, -tall / 2), beside.text, "left", "middle"))
    numbers, below, foot = told_below(homeless, tall, desk)
    for part in parts:
        text = numbers.get(part, part.inside)
        if fits(text, part, desk):
            shapes.append(Text(Role.PIECE_MARK, (part.middle, -tall / 2), text, "centre", "middle"))
    lines, foot = _ids(pattern, foot, desk)
    return Row(foot + 1.3 * desk.letter, (*shapes, *below, *lines))


def _has_room_beside(part: Part, desk: Desk) -> bool:
    """Whether it is what is left at the right end of the bar, with room for its text beyond that."""
    at_end = abs(part.end - desk.left - desk.stock / desk.scale) < 1e-6
    return part.waste and at_end and part.end + desk.letter + text_width(part.text, desk.letter) <= desk.width


def _many(pattern: Pattern) -> str:
    return words.say("cutting.times", n=pattern.count)


def _parts(pattern: Pattern, desk: Desk) -> Iterator[Part]:
    """What lies on the bar from left to right, kerfs between; a bar used whole is one part."""
    begin, end, scale = desk.left, desk.left + desk.stock / desk.scale, desk.scale
    if not pattern.slots:
        yield Part(begin, end, words.say("cutting.not cut"), must=False)
        return
    x, last, off = begin, end, list[Part]()
    for slot in pattern.slots:
        if slot.at_end:
            last = end - slot.length / scale
            span = (last, end)
        else:
            if slot.sawn_off:
                text = words.say("cutting.sawn off", length=_sawn_off(slot.sawn_off, desk.units))
                off.append(Part(x, x + slot.sawn_off / scale, text, must=slot.sawn_off >= _DUST, waste=True))
                x += slot.sawn_off / scale
            span = (x, x + slot.length / scale)
            x = span[1] + desk.kerf / scale
        length = _cut_length(slot.length, desk)
        text = f"{slot.members[0]}  {length}" if pattern.one_name and slot.members[0] else length
        yield Part(*span, clean(text), must=True)
    yield from off
    if pattern.offcut >= _DUST and x < last:
        length = put_short(_left(pattern, desk), desk.units)
        yield Part(x, last, words.say("cutting.left over", length=length), length, waste=True)


def _sawn_off(mm: float, units: str) -> str:
    """Rounded as every piece that is sawn is."""
    return piece_said(mm, units) if units in ("ft-in", "in") else written_piece(mm, units)


def _left(pattern: Pattern, desk: Desk) -> float:
    """What is left over, by the numbers that are printed."""
    pieces, off = zip(*((slot.length, slot.sawn_off) for slot in pattern.slots), strict=True)
    return left_printed(desk.stock, pieces, off, desk.kerf, desk.units in ("ft-in", "in"))


def _told_of_ends(lot: Lot) -> str:
    """How the pieces lie: what is left over is said to lie between them only where it does on every bar."""
    if not lot.keeps_ends:
        return "longest first"
    left = [pattern for pattern in lot.patterns if pattern.slots and pattern.offcut >= _DUST]
    between = all(len(pattern.slots) > 1 and pattern.slots[-1].at_end for pattern in left)
    return "ends kept" if left and between else "ends kept tinted"


def _bar(pattern: Pattern, parts: Sequence[Part], desk: Desk, tall: float) -> Iterator[Shape]:
    """The tint of what is left over, the pieces, and the bar around all."""
    pieces = len(pattern.slots) or 1
    for part in parts[pieces:]:
        yield Outline(Role.OFFCUT, _upright(part.start, part.end, tall), fill=True, title=part.text)
    for part in parts[:pieces] if pattern.slots else ():
        yield Outline(Role.CUT_PIECE, _upright(part.start, part.end, tall), title=part.text)
    yield Outline(Role.STOCK, _upright(desk.left, desk.left + desk.stock / desk.scale, tall))


def _upright(left: float, right: float, tall: float) -> Ring:
    return ((left, -tall), (right, -tall), (right, 0.0), (left, 0.0))


def _ids(pattern: Pattern, foot: float, desk: Desk) -> tuple[list[Shape], float]:
    """The ids of the pieces of bars that are cut alike but for different members, by their length."""
    if pattern.whole:
        return lines_below((words.say("cutting.whole for", ids=told(pattern.whole)),), foot, desk)
    if pattern.one_name:
        return [], foot
    by_length: dict[float, list[str]] = {}
    for slot in pattern.slots:
        by_length.setdefault(slot.length, []).extend(slot.members)
    said = [
        words.say("cutting.pieces for", length=_cut_length(length, desk), ids=told(ids))
        for length, ids in by_length.items()
    ]
    return lines_below(said, foot, desk)
