"""The nouns of explaining: a `Job` is what was asked and what came of it, an `Explanation` one answer with its steps.

Numbers in steps are millimetres, newtons, kilograms, pieces or money, as `unit` says; texts are in the room's units.
"""

from functools import cached_property

from planner.ceiling.layout import Search, search_of
from planner.ceiling.ledge import Reach, reach_of
from planner.ceiling.loads import Burden, burdens, reactions
from planner.ceiling.mains import MainLines, choose_mains
from planner.ceiling.model import Layout, Member
from planner.ceiling.services import centred_points
from planner.ceiling.system import System
from planner.geometry import Frame
from planner.lengths import Rounding, spoken_length, spoken_piece
from planner.planning import Plan
from planner.records import dataclass
from planner.room.brief import Brief, GridWish
from planner.room.outline import Room

PRACTICE = "common practice, no source"
MEMORY = "from memory"
COMPUTED = "computed here, with a bound that nobody can beat"


@dataclass(frozen=True, slots=True)
class Step:
    """One link of a derivation."""

    text: str
    value: float | None = None  #: the number that this step arrives at
    unit: str = ""  #: mm, N, N/m, kg, pieces, panels ... or a currency
    rule: str = ""  #: that this step follows, in a few words
    source: str = ""  #: where the rule was read; "common practice, no source"; "from memory"


@dataclass(frozen=True, slots=True)
class Explanation:
    """Why one thing is as it is."""

    subject: str  #: a name, as in the plan
    kind: str  #: what it is: "wall", "main tee", "item", "rule" ...
    answer: str  #: in one sentence
    steps: tuple[Step, ...]


@dataclass(frozen=True)
class Job:
    """What was asked for and what was planned, with what the wings can say about how they came to it."""

    brief: Brief
    plan: Plan

    @property
    def room(self) -> Room:
        return self.plan.room

    @property
    def wish(self) -> GridWish:
        return self.brief.grid

    @property
    def system(self) -> System:
        return self.plan.ceiling.system

    @property
    def layout(self) -> Layout:
        return self.plan.ceiling.layout

    @cached_property
    def reach(self) -> Reach:
        """How far panels and tees reach: to the walls, save where ledges hide what is missing."""
        return reach_of(self.room, self.wish, self.system)

    @cached_property
    def search(self) -> Search:
        wish = self.reach.wish or self.wish
        return search_of(self.reach.room, wish, self.system, centred_points(self.brief.services))

    @cached_property
    def places(self) -> tuple[int, int]:
        """Where the grid's lines stand on the two searched axes, in the axes' units."""
        corner = Frame(self.reach.room.outline[0], self.layout.frame.angle_deg).inward(self.layout.frame.origin)
        one, other = (round(at * axis.per_mm) % axis.module for at, axis in zip(corner, self.search.axes, strict=True))
        return one, other

    @cached_property
    def mains(self) -> MainLines:
        return choose_mains(self.reach.room, self.layout, self.system, self.wish)

    @cached_property
    def members(self) -> dict[str, Member]:
        return {member.id: member for member in self.plan.ceiling.members}

    @cached_property
    def burdens(self) -> dict[str, Burden]:
        """What each main run bears, by its id; empty where the panels' weight is not given or nothing is hung."""
        weight, ceiling = self.wish.panel_kg_m2, self.plan.ceiling
        if weight is None or self.system.fixing != "hung":
            return {}
        found = burdens(self.layout, self.system, self.mains, ceiling.members, ceiling.services, weight)
        return {burden.run.id: burden for burden in found}

    @property
    def ways(self) -> tuple[str, str]:
        """The two directions of the grid, in words."""
        if self.layout.frame.angle_deg:
            return "Along the grid", "Square to that"
        base = self.room.walls[0].name
        return f"Along {base}", f"Away from {base}"

    @cached_property
    def reactions(self) -> dict[str, float]:
        """What each hanger along a main bears, newtons, by its id."""
        return {name: newtons for newtons, name in reactions(tuple(self.burdens.values()), self.plan.ceiling.hangers)}

    def said(self, mm: float, rounding: Rounding = Rounding.NEAREST) -> str:
        """A length in the room's units."""
        return spoken_length(mm, self.room.units, rounding)

    def piece(self, mm: float, *, whole: bool = False) -> str:
        """A piece of a bar as the lists have it: what is sawn is rounded down."""
        return spoken_piece(mm, self.room.units, whole=whole)
