"""What the rules look at: a room and everything that was planned in it."""

from dataclasses import dataclass

from planner.ceiling.model import FirstCuts, Hanger, Layout, Member, Service
from planner.ceiling.system import System
from planner.geometry import Point
from planner.lengths import spoken_length
from planner.room.brief import GridWish
from planner.room.outline import Room

INCH = 25.4
PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Built:
    """What the rules look at."""

    room: Room
    wish: GridWish
    system: System
    layout: Layout
    services: tuple[Service, ...]
    members: tuple[Member, ...] = ()
    hangers: tuple[Hanger, ...] = ()
    braces: tuple[Point, ...] = ()
    first_cuts: tuple[FirstCuts, ...] = ()
    staggered: bool = False  #: splices are to stand apart even where that takes more lengths

    def said(self, mm: float) -> str:
        return spoken_length(mm, self.room.units)
