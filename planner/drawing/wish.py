"""What a person may ask of the sheets; anything left out is chosen by the planner or the style."""

from planner.errors import PlannerError
from planner.limits import USUAL, raising
from planner.records import dataclass


@dataclass(frozen=True, slots=True)
class SheetWish:
    """Paper, scale, which sheets, in which language, and the date that the title block shows."""

    paper: str | None = None  #: a name from `planner.drawing.papers`; None = the style's
    portrait: bool = False
    scale: float | None = None  #: denominator; None = the largest standard scale that fits
    date: str = ""  #: printed as written; the planner never reads a clock
    sheets: tuple[str, ...] = ()  #: keys of the sheets to draw; empty = the whole set
    language: str = ""  #: ISO 639 name or the path of a table of words; empty = what the room file says, or English
    dual: bool = False  #: lengths in the other system too, in brackets
    most_pages: int = USUAL.pages  #: more are refused rather than drawn
    building: str = ""  #: for whose rooms together is ordered and cut; empty: the room stands alone


def refuse_too_many(count: int, wish: SheetWish) -> None:
    """PlannerError for more sheets than may be drawn at once."""
    if count > wish.most_pages:
        raise PlannerError(
            f"that would be {count:,} sheets, and {wish.most_pages:,} are the most.",
            where="--sheets",
            mend=f"Choose larger paper or fewer sheets. {raising('pages', count)}",
        )
