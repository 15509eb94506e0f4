"""Lengths in words that remember what they are, so that a sheet can write them as it writes all others.

In: a text, and the lengths that it was made from. Out: a `Measure`, which is that text and can be used as such. Who
plans writes it in the units of the room file; a sheet has one unit, and may give the other system too.
"""

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from planner.lengths import Rounding


class Measure(str):
    """A length, or the sides of something, as a sentence has it; `rewrite` says it again in other units."""

    __slots__ = ("mm", "rewrite", "rounding", "units")
    mm: tuple[float, ...]  #: the sides, millimetres
    units: str  #: ft-in, in, mm, cm or m
    rounding: "Rounding"
    rewrite: "Rewrite"

    def __reduce__(self) -> "tuple[Rewrite, tuple[tuple[float, ...], str, Rounding]]":
        return self.rewrite, (self.mm, self.units, self.rounding)

    def again(self, units: str) -> "Measure":
        """The same in other units."""
        return self.rewrite(self.mm, units, self.rounding)


Rewrite = Callable[[tuple[float, ...], str, "Rounding"], Measure]


def measure(text: str, mm: tuple[float, ...], units: str, rounding: "Rounding", rewrite: Rewrite) -> Measure:
    """A text that was made from lengths; `rewrite`, a function at the top of a module, made it."""
    made = Measure(text)
    made.mm, made.units, made.rounding, made.rewrite = mm, units, rounding, rewrite
    return made
