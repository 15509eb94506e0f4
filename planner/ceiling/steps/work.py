"""A room and its ceiling, with what the steps of the order of work ask of them."""

from collections.abc import Iterable, Sequence
from functools import cached_property

from planner.ceiling.holding.tee_ends import TeeEnd, tee_ends
from planner.ceiling.model import Ceiling, Member
from planner.lengths import Rounding, spoken_length
from planner.naming import names_told
from planner.room.outline import Room
from planner.sayings import said

#: More groups of runs than this are not told piece by piece; nor rows of twice as many panels.
MOST_NAMES = 8


class Work:
    """A room and its ceiling, with what the steps ask of them."""

    def __init__(self, room: Room, ceiling: Ceiling) -> None:
        self.room = room
        self.ceiling = ceiling

    def said(self, mm: float, rounding: Rounding = Rounding.NEAREST) -> str:
        return spoken_length(mm, self.room.units, rounding)

    @cached_property
    def tee_ends(self) -> list[TeeEnd]:
        """Where tees end at walls and columns."""
        return tee_ends(self.room, self.ceiling.members)

    def of(self, kind: str) -> list[Member]:
        return [member for member in self.ceiling.members if member.kind == kind]

    @property
    def level(self) -> str:
        height = self.ceiling.setout.level if self.ceiling.setout else None
        return (
            said("at the height of the ceiling")
            if height is None
            else said("{height} above the floor", height=self.said(height))
        )

    @property
    def first_corner(self) -> str:
        return said("corner {corner}", corner=self.room.corner_names[0])


def ids_said(members: Iterable[Member]) -> str:
    return names_said([member.id for member in members])


def names_said(names: Sequence[str]) -> str:
    """A row of names: "M1, M3"; "M1 to M3" where three and more follow one another, as in the lists."""
    return names_told(names, in_order=True)
