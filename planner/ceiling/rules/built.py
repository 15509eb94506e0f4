"""What the rules look at: a room and everything that was planned in it."""

import shapely

from planner.ceiling.model import FirstCuts, Hanger, Layout, Member, Service
from planner.ceiling.system import System
from planner.geometry import Point
from planner.lengths import spoken_length
from planner.records import dataclass
from planner.room.brief import GridWish, ServiceWish
from planner.room.outline import Room

INCH = 25.4
PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class OnLedge:
    """A stretch of a tee that lies on the ledge of a wall or column alongside."""

    tee: Member
    face: str  #: name of the wall or column
    stretch: shapely.LineString


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
    wished: tuple[ServiceWish, ...] = ()
    on_ledges: tuple[OnLedge, ...] | None = None  #: tees on ledges, once they have been looked for

    def said(self, mm: float) -> str:
        return spoken_length(mm, self.room.units)
