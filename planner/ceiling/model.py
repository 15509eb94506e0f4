"""The nouns of the ceiling wing, each frozen once made. Points are in the room frame, millimetres.

Two frames matter: the room frame, and the grid frame, whose origin is a crossing of two grid lines and whose axes run
along the grid. In the grid frame the lines stand at u = i * module[0] and v = j * module[1], and cell (i, j) is the
module between lines i and i + 1, j and j + 1.
"""

from dataclasses import field
from typing import Literal

from planner.ceiling.system import System
from planner.findings import Finding
from planner.geometry import TOLERANCE_MM, Frame, Point, Ring, distance
from planner.pairs.choose import Shared
from planner.records import dataclass
from planner.runs.choose import Begun

Cell = tuple[int, int]
End = Literal["factory", "cut"]
#: How the outline of a cut panel reads: a rectangle; one with a side that leans; one with a side that bows; one with
#: something cut out of its edge or middle; any other, which only a template tells.
Shape = Literal["plain", "tapered", "curved", "notched", "shaped"]


@dataclass(frozen=True, slots=True)
class Border:
    """How far one wall is from its first grid line: the width of the cut panels along it."""

    wall: str
    least: float
    most: float  #: differs from `least` where the wall is not parallel to the grid


@dataclass(frozen=True, slots=True)
class CutOut:
    """A hole in a panel for a service."""

    service: str
    shape: Literal["round", "rectangle"]
    centre: Point
    size: tuple[float, float]  #: along the two grid axes; a round one has its diameter twice


@dataclass(frozen=True, slots=True)
class Panel:
    """A panel that must be cut, or drilled for a service. Full panels without a hole are only counted."""

    id: str  #: class letter and number, e.g. "b7": all panels of class b are cut alike
    cell: Cell
    outline: Ring  #: what shows of the cell: wall to tee centre line
    holes: tuple[Ring, ...]  #: columns that stand wholly inside it
    opening: tuple[float, float]  #: extent of the outline along the two grid axes
    cut_to: tuple[float, float]  #: what to saw, rounded down to a mark on the tape: the one size that is told
    taper: float  #: difference between the two ends of a wall-side cut that leans; 0 unless `shape` is tapered
    full_size: bool  #: True when only holes are cut, the edges are as bought
    cutouts: tuple[CutOut, ...] = ()
    shape: Shape = "plain"

    @property
    def is_shaped(self) -> bool:
        """Whether more than straight cuts right across make it, so that its size and taper do not tell it."""
        return self.shape in ("curved", "notched", "shaped")


@dataclass(frozen=True, slots=True)
class Closed:
    """A part of a module that the ledge of the wall angle closes alone, so that no panel is cut for it."""

    cell: Cell
    outline: Ring
    holes: tuple[Ring, ...] = ()


@dataclass(frozen=True, slots=True)
class Run:
    """Full panels side by side in one row of cells: columns first to last, both included."""

    row: int
    first: int
    last: int

    @property
    def count(self) -> int:
        return self.last - self.first + 1


@dataclass(frozen=True, slots=True)
class Layout:
    """Where the grid falls."""

    frame: Frame  #: the grid frame in the room frame; its origin is the crossing nearest the reference corner
    module: tuple[float, float]
    borders: tuple[Border, ...]  #: one for each wall, in the room's order
    smallest_cut: float | None  #: the narrowest opening of any cut panel, wall to grid line; None when nothing is cut
    full_runs: tuple[Run, ...]
    cut_panels: tuple[Panel, ...]
    proven: bool  #: no origin is better by the agreed order of wishes
    rule: str  #: one sentence that says why the grid lies here
    closed: tuple[Closed, ...] = ()  #: what is left of the floor: too small for a panel, over a ledge
    bargain: str = ""  #: which border under half a module could be wider, and what would be short then

    @property
    def full_panels(self) -> int:
        return sum(run.count for run in self.full_runs)

    @property
    def narrowest_panel(self) -> float | None:
        """The least width that any panel is sawn to: smaller than its opening by the undersize; None when none is."""
        sawn = (
            size
            for panel in self.cut_panels
            for size, opening, whole in zip(panel.cut_to, panel.opening, self.module, strict=True)
            if opening < whole - TOLERANCE_MM
        )
        return min(sawn, default=None)


@dataclass(frozen=True, slots=True)
class Service:
    """A service in its final place."""

    name: str
    kind: str
    at: Point
    size: tuple[float, float]  #: along the two grid axes; a round one has its diameter twice
    round: bool
    cells: tuple[Cell, ...]  #: modules it takes (lay-in) or sits in
    panels: tuple[str, ...]  #: ids of the panels it is cut into; empty for lay-in services
    moved: float  #: distance from where it was wished to be
    weight_kg: float | None = None
    fills: bool = False  #: lies in whole modules, in place of their panels
    obstacle: str = ""  #: what kept it from the module that it was wished in: "main tee", "taken", "tee", "hole" ...
    obstacle_of: str = ""  #: the service that was there


@dataclass(frozen=True, slots=True)
class Piece:
    """One or more equal pieces in a row of one member."""

    stock: str  #: take-off item it comes from
    length: float
    ends: tuple[End, End]
    count: int = 1

    @property
    def whole(self) -> bool:
        """It is used as it is sold."""
        return self.ends == ("factory", "factory")


@dataclass(frozen=True, slots=True)
class Member:
    """A line of the frame: a main run, a line of cross tees, the wall angle along one wall."""

    id: str
    kind: Literal["main tee", "cross tee", "wall angle", "carrier", "track", "cover strip", "furring strip"]
    start: Point
    end: Point
    pieces: tuple[Piece, ...]  #: in order from start to end
    bulge: float = 0.0  #: of wall angle along a bowed wall, as in `planner.arcs`; everything else is straight
    gaps: tuple[float, float] = (0.0, 0.0)  #: from start and end on to the walls that they stop short of

    @property
    def length(self) -> float:
        return sum(piece.length * piece.count for piece in self.pieces)

    @property
    def whole(self) -> bool:
        """It is a single piece that is used as it is sold."""
        return len(self.pieces) == 1 and self.pieces[0].whole and self.pieces[0].count == 1

    @property
    def wall_to_wall(self) -> tuple[Point, Point]:
        """Start and end, on to the walls that they stop short of."""
        if not any(self.gaps):
            return self.start, self.end
        (x0, y0), (x1, y1) = self.start, self.end
        before, after = (gap / distance(self.start, self.end) for gap in self.gaps)
        dx, dy = x1 - x0, y1 - y0
        return (x0 - before * dx, y0 - before * dy), (x1 + after * dx, y1 + after * dy)


@dataclass(frozen=True, slots=True)
class FirstCuts:
    """How the runs of one stock item are begun, and what was proven of it; runs bear the ids of their members."""

    item: str
    begun: Begun
    for_all: bool = False  #: begun so that several rooms together take the fewest


@dataclass(frozen=True, slots=True)
class BorderTees:
    """Which cross tees the cut ones come from, and what was proven of it."""

    items: tuple[str, ...]  #: of the stocks of the job
    priced: bool  #: costs are thousandths of the user's prices; else tenths of a millimetre of tee
    shared: Shared
    for_all: bool = False  #: chosen so that several rooms together take least

    def from_longer(self, item: str) -> int:
        """How many border tees come from an item that is longer than their own."""
        at = self.items.index(item)
        rows = zip(self.shared.job.kinds, self.shared.counts, strict=True)
        return sum(row[kind.stocks.index(at)] for kind, row in rows if at in kind.stocks[1:])

    def spared(self, item: str) -> int:
        """How many fewer of an item are bought for it; below 0 where there are more."""
        at = self.items.index(item)
        return self.shared.bought_own[at] - self.shared.bought[at]


@dataclass(frozen=True, slots=True)
class Agreed:
    """What was chosen for a room and others together, so that stock for all of them is least."""

    first_cuts: tuple[FirstCuts, ...] = ()
    border_tees: BorderTees | None = None


HangerKind = Literal["wire", "splice wire", "wall wire", "end wire", "service wire", "screw"]


@dataclass(frozen=True, slots=True)
class Hanger:
    """Where the ceiling is held from above: a wire, or on direct grids a screw."""

    id: str  #: HW1, HW2 ... for wires, FX1 ... for screws, in walking order
    at: Point  #: where it is tied to what it holds
    member: str  #: id of the member it holds; of the service, for a service's own wire
    kind: HangerKind
    length: float | None = None  #: of wire to cut, ties included; None when heights are not known
    top: Point | None = None  #: on a joist, where the wire does not go straight up
    block: int = 0  #: number of the blocking between two joists that it hangs from; 0: none

    @property
    def overhead(self) -> Point:
        """Where it is fixed to the structure."""
        return self.top or self.at


@dataclass(frozen=True, slots=True)
class Brace:
    """What stands at one bracing point: four splayed wires and a post."""

    wire: float  #: of each to cut at least, ties included
    post: float  #: from the grid to the structure

    WIRES = 4


@dataclass(frozen=True, slots=True)
class Loads:
    """What the main tees and their hangers bear; newtons and millimetres."""

    duty: str  #: ASTM C635 class of the main tee: light, intermediate, heavy
    spacing: float  #: most between hangers, chosen so that the mains carry it
    carried: float  #: N/m, most on any main tee, services counted
    allowed: float  #: N/m that the class carries at this spacing within `deflection`
    deflection: float  #: most that a main may sag, 1/360 of the spacing
    reaction: float  #: N at the hanger that bears most; 0 where nothing is hung
    heaviest: str  #: that hanger; empty where nothing is hung


@dataclass(frozen=True, slots=True)
class Mark:
    """A mark to make on a wall or a string."""

    at: float  #: running from the start of the wall
    what: str  #: e.g. "main M2", "cross line"


@dataclass(frozen=True, slots=True)
class WallMarks:
    """All marks along one wall, from its start corner."""

    wall: str
    marks: tuple[Mark, ...]
    corner: str = ""  #: that they are measured from


@dataclass(frozen=True, slots=True)
class Diagonal:
    """A length between two marks that proves two lines square."""

    start: Point
    end: Point
    between: str  #: in words, e.g. "A-B 4'-0" mark to A-D 6'-0" mark"
    length: float


@dataclass(frozen=True, slots=True)
class RunMarks:
    """Where one run is held from above."""

    member: str
    at: tuple[float, ...]  #: running from the member's start


@dataclass(frozen=True, slots=True)
class SetOut:
    """Where to put each mark before anything is fixed."""

    walls: tuple[WallMarks, ...]
    diagonals: tuple[Diagonal, ...]
    lines: tuple[tuple[Point, Point, str], ...]  #: strings or chalk lines to stretch, with what each is
    level: float | None  #: underside of the wall angle above the floor, for the laser
    hang_points: tuple[RunMarks, ...] = ()  #: along each main or carrier, its own hangers or screws


@dataclass(frozen=True, slots=True)
class Ceiling:
    """What will be built."""

    system: System
    layout: Layout
    services: tuple[Service, ...]
    panels: tuple[Panel, ...]  #: the cut ones and the drilled ones, with their cut-outs
    full_panels: int  #: whole panels, as bought, that no service replaces and no hole is cut into
    members: tuple[Member, ...]
    mains: Literal["along", "across"]  #: direction of the main tees against the grid's first axis
    findings: tuple[Finding, ...] = field(default=())
    hangers: tuple[Hanger, ...] = ()
    loads: Loads | None = None  #: None where the weight of the panels is not given, and on direct grids
    braces: tuple[Point, ...] = ()  #: where an earthquake asks for lateral bracing
    brace: Brace | None = None  #: what stands at each; None where there is none or heights are not known
    setout: SetOut | None = None
    first_cuts: tuple[FirstCuts, ...] = ()  #: of main tees; of carriers and cover strips
    border_tees: BorderTees | None = None  #: None where each comes from its own length
    height: float | None = None  #: of the ceiling above the floor, as it will be; the room's is what is wished
    nails: int = 0  #: in furring
    beside: tuple[str, ...] = ()  #: what the order of work asks for and no list has, in words
