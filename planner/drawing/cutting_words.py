"""What is said of cutting, of bars and panels alike: how good it is, what to saw, what a number before a drawing means.

In: a cutting, lengths in millimetres. Out: sentences and lengths as they are lettered; rows of sentences for a stack.
"""

from collections.abc import Iterable, Sequence

from planner.drawing import words
from planner.drawing.dimensions import spoken
from planner.drawing.labels import Heights
from planner.drawing.lettering import clean
from planner.drawing.roles import Role
from planner.drawing.shapes import Text
from planner.drawing.tables import PITCH, RISE, Row
from planner.drawing.wrapping import wrapped
from planner.stock.model import Cutting, Over, PanelCutting

#: The end of the key of what is said of a bound, by what it holds over.
_OVER: dict[Over, str] = {
    "pieces": "pieces",
    "first cuts": "runs",
    "fewest splices": "unspliced",
    "splices": "spliced",
}


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


def kerf_said(kerf: float, units: str) -> list[str]:
    """What the saw takes; nothing where it takes nothing, as a knife does."""
    return [words.say("cutting.kerf", kerf=spoken(kerf, units))] if kerf else []


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
