"""`Brief`: everything a room file asks for, read and in millimetres, before anything is planned."""

from dataclasses import field
from typing import Literal

from planner.documents import Document
from planner.findings import Finding
from planner.geometry import Point
from planner.limits import USUAL, Limits
from planner.records import dataclass
from planner.room.outline import Room
from planner.room.survey import Survey


@dataclass(frozen=True, slots=True)
class GridWish:
    """The grid as asked for; `None` leaves the choice to the planner."""

    system: str  #: name of a built-in system, or a path to a file of the user's own
    module: tuple[float, float] | None = None  #: along the base wall, away from it
    mains: Literal["auto", "along", "across"] = "auto"
    align: str | float | None = None  #: a wall's name, or an angle in degrees against the base wall
    borders: tuple[tuple[Literal["left", "right", "front", "back"], float | Literal["full"]], ...] = ()
    centre_on: Point | None = None  #: put a panel's centre here
    uncut: bool = False  #: whole panels that stop short of walls where the ledge hides it
    prefer: Literal["widest_borders", "fewest_panels"] = "widest_borders"
    panel_kg_m2: float | None = None  #: weight of the panels
    hanger_spacing: float | None = None  #: most between hangers along a main tee; the system's own when None
    panel_edge: Literal["plain", "revealed"] = "plain"  #: whether the panels' edges lie hidden on the flanges
    panel_turns: bool = True  #: False for patterned panels, which lie all one way


@dataclass(frozen=True, slots=True)
class ServiceWish:
    """A light, vent or the like; exactly one of `at` (fixed) and `near` (may move to suit the grid) is set."""

    name: str
    kind: str  #: a key of `planner.room.service_kinds.KINDS`
    size: tuple[float, float] | None = None  #: along the base wall, away from it
    diameter: float | None = None
    at: Point | None = None  #: centre, room frame
    near: Point | None = None  #: centre, room frame
    weight_kg: float | None = None
    path: tuple[str | int, ...] = ()  #: where it stands in the room file, for messages


@dataclass(frozen=True, slots=True)
class ExtraWish:
    """Something to buy that the ceiling itself does not call for: touch-up paint, say."""

    item: str
    count: int
    weight_kg: float | None = None  #: of one


@dataclass(frozen=True, slots=True)
class LabourWish:
    """The user's own rates; there are none of the planner's."""

    each: tuple[tuple[str, float], ...] = ()  #: kinds of work, `planner.room.work_kinds`, with minutes for one
    hour: float | None = None  #: price of an hour


@dataclass(frozen=True, slots=True)
class StockWish:
    """How material is bought. `prices`, `packs`, `on_hand` and `for_owner` are keyed by take-off item."""

    panels_per_carton: int | None = None
    spare: float = 0.0  #: share of the net quantity, 0.05 = 5 %
    saw_kerf: float = 3.175
    prices: tuple[tuple[str, float], ...] = ()
    packs: tuple[tuple[str, int], ...] = ()
    on_hand: tuple[tuple[str, int], ...] = ()
    currency: str = ""
    spare_pieces: tuple[tuple[str, int], ...] = ()  #: spare of single items by count, in place of the share
    reuse_from: float = 0.0  #: off-cuts shorter than this are thrown away, and nothing more is cut from them
    long_offcuts: bool = False  #: few long off-cuts rather than many short ones
    splice_from: float | None = None  #: shortest piece of wall angle where a wall may be spliced to save a length
    staggered_splices: bool = False  #: splices of neighbouring runs stand apart even where that takes a bar more
    border_tees_from_longer: bool = False  #: border tees may come from longer cross tees than their own
    budget_s: float = 5.0  #: to search for a better way of cutting, for each item: `planner.runs.effort`
    for_owner: tuple[tuple[str, int], ...] = ()  #: pieces to leave with the owner, beyond need and spare
    extras: tuple[ExtraWish, ...] = ()
    labour: LabourWish = LabourWish()
    tax: float | None = None  #: share of what is taxed, 0.08 = 8 %
    tax_on: Literal["all", "material"] = "all"  #: what the tax is on: material and labour, or material alone


@dataclass(frozen=True, slots=True)
class Brief:
    """A room and what is wanted in it."""

    room: Room
    grid: GridWish
    services: tuple[ServiceWish, ...] = ()
    stock: StockWish = field(default_factory=StockWish)
    document: Document | None = None  #: for messages that point into the file
    survey: Survey | None = None  #: of a taped room
    findings: tuple[Finding, ...] = ()  #: about what was measured
    limits: Limits = USUAL
