"""What is said of cutting, of bars and panels alike: how good it is, what to saw, what a number before a drawing means.

In: a cutting, lengths in millimetres. Out: sentences and lengths as they are lettered; rows of sentences for a stack.
"""

from collections.abc import Iterable, Sequence

from planner.drawing import words
from planner.drawing.dimensions import spoken, written
from planner.drawing.labels import Heights
from planner.drawing.lettering import clean
from planner.drawing.roles import Role
from planner.drawing.shapes import Text
from planner.drawing.tables import PITCH, RISE, Row
from planner.drawing.wrapping import wrapped
from planner.lengths import format_mm, spoken_length
from planner.stock.closing import kerf_printed, left_printed
from planner.stock.laid import as_laid, sawn_off
from planner.stock.model import Bar, Cutting, Over, PanelCutting

#: The end of the key of what is said of a bound, by what it holds over.
_OVER: dict[Over, str] = {
    "pieces": "pieces",
    "first cuts": "runs",
    "fewest splices": "unspliced",
    "splices": "spliced",
}


def best_said(cutting: Cutting | PanelCutting) -> str:
    """How many lengths or panels are bought, whether fewer would do, and what that holds over."""
    if cutting.proven and cutting.bought <= 1:
        return words.say("cutting.bought", count=cutting.bought)
    fields = {"count": cutting.bought, "least": cutting.lower_bound}
    if isinstance(cutting, PanelCutting):
        best = "best shapes" if cutting.shaped else "best"
        if cutting.proven:
            return words.say(f"cutting.{best}", **fields)
        return words.say(f"cutting.{best} open", **fields, gap=cutting.gap)
    over = _OVER[cutting.over]
    if cutting.proven:
        return words.say(f"cutting.best {over}", **fields)
    return words.say(f"cutting.best {over} open", **fields, gap=cutting.gap)


def like_this(counts: Iterable[int]) -> list[str]:
    """What a number before a drawing means, by the largest there is; nothing where all is cut once."""
    most = max(counts, default=1)
    return [words.say("cutting.like this", n=most)] if most > 1 else []


def kerf_said(kerf: float, units: str) -> list[str]:
    """What the saw takes; nothing where it takes nothing."""
    return [words.say("cutting.kerf", kerf=_kerf(kerf, units))] if kerf else []


def gap_said(kerf: float, units: str) -> list[str]:
    """What is left between pieces of panel, which are cut with a knife; nothing where nothing is."""
    return [words.say("cutting.kerf panels", kerf=_kerf(kerf, units))] if kerf else []


def exactly(mm: float, units: str) -> str:
    """A length that others are added to: on a mark in inches, else in millimetres to the tenth."""
    if units in ("ft-in", "in"):
        return written(mm, units)
    text = format_mm(mm, step=0.1)
    return words.say("units.both", length=text, other=spoken_length(mm, "ft-in")) if words.dual() else text


def put_short(mm: float, units: str) -> str:
    """What is left over or sawn off, behind words: feet are not told where there are none."""
    return spoken(mm, units) if units in ("ft-in", "in") else exactly(mm, units)


def left_said(bar: Bar, cutting: Cutting, units: str) -> str:
    """What is left over of a bar, by the numbers that are printed, with its unit."""
    imperial = units in ("ft-in", "in")
    lengths = [piece.length for piece in bar.pieces]
    off = sawn_off(as_laid(bar.pieces, cutting), cutting.kerf) if all(p.at is not None for p in bar.pieces) else ()
    left = left_printed(cutting.stock_length, lengths, off, cutting.kerf, imperial) if bar.pieces else 0.0
    return spoken(left, units) if imperial else f"{format_mm(left, step=0.1)} {words.say('units.short mm')}"


def _kerf(kerf: float, units: str) -> str:
    """With its unit, as sentences have it."""
    if units in ("ft-in", "in"):
        return spoken(kerf_printed(kerf, imperial=True), units)
    text = f"{format_mm(kerf_printed(kerf, imperial=False), step=0.1)} {words.say('units.short mm')}"
    return words.say("units.both", length=text, other=spoken_length(kerf, "ft-in")) if words.dual() else text


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
