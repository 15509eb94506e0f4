"""Where a sheet stands in its set, and where to look for what is on another sheet."""

from collections.abc import Callable, Hashable
from dataclasses import field
from typing import Any, TypeVar

from planner.drawing import words
from planner.records import dataclass

_Made = TypeVar("_Made")


@dataclass(frozen=True, slots=True)
class Place:
    """Number of a sheet, number of sheets, and the numbers of the others by their keys."""

    number: int = 1
    of: int = 1
    others: tuple[tuple[str, int], ...] = ()
    pages: int = 0  #: how many sheets its kind has; 0 = not counted yet
    kept: dict[Any, Any] | None = field(default=None, repr=False, compare=False)  #: for `once`; None: nothing is kept

    def once(self, what: Hashable, make: Callable[[], _Made]) -> _Made:
        """What is the same whatever the sheets' numbers are: made when they are counted, kept until they are drawn."""
        if self.kept is None:
            return make()
        if what not in self.kept:
            self.kept[what] = make()
        made: _Made = self.kept[what]
        return made

    def see(self, key: str) -> str:
        """Words that send the reader to another sheet; empty when it is not in the set."""
        number = dict(self.others).get(key)
        return "" if number is None else words.say("sheets.see", n=number)

    def pointed(self, sentence: str, key: str) -> str:
        """A sentence, and where to read on, if that is in the set."""
        see = self.see(key)
        return f"{sentence}: {see}" if see else sentence


#: A sheet that is drawn by itself.
ALONE = Place()
