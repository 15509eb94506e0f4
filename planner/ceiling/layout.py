"""Where the grid falls in a room, and the proof that no other place is better.

In: a room, the grid as wished for, the kind of grid and the fixed services that ask for a panel's middle. Out: a
`Layout`. The room is turned into the grid's directions around its reference corner; each axis is searched exactly
(`planner.ceiling.grid.borders` has the order of wishes and where it comes from); then modules are marked, and only
those that a wall or a column passes through are clipped.
"""

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from planner.ceiling.grid.asked import angle_asked, module_asked, place_asked
from planner.ceiling.grid.axis import Axis, axis_of
from planner.ceiling.grid.bargain import bargain
from planner.ceiling.grid.cells import EDGE_MM, count_marked, edges_of, full_runs, mark, rings_of
from planner.ceiling.grid.clear import Sides, barred
from planner.ceiling.grid.clipping import clip, polygon_of
from planner.ceiling.grid.gaps import Floats
from planner.ceiling.grid.origins import Choice, choose
from planner.ceiling.grid.pieces import panels_of, smallest_cut
from planner.ceiling.grid.reason import Outcome, reason
from planner.ceiling.ledge import hides_at_most
from planner.ceiling.members.pipes import pipes
from planner.ceiling.model import Border, Layout
from planner.ceiling.system import System
from planner.geometry import Frame, Point
from planner.records import dataclass
from planner.room.brief import GridWish
from planner.room.outline import Room

_ACROSS = [1, 0, 3, 2]  #: turns edges (u, v, u, v) into (v, u, v, u)
_DIGITS = 9  #: of a millimetre; hides float noise in the frame's origin


@dataclass(frozen=True, slots=True)
class _Turned:
    """A room in the grid's directions, seen from its reference corner; millimetres."""

    frame: Frame
    module: tuple[float, float]
    edges: Floats  #: rows (u, v, u, v): the outline, then the columns
    sizes: tuple[int, ...]  #: number of edges of the outline and of each column
    ceiling: BaseGeometry  #: the outline without the columns
    pipe: tuple[bool, ...]  #: whether each column is a pipe
    system: System

    def axis(self, number: int, centred: list[Point]) -> Axis:
        along = self.edges if number == 0 else self.edges[:, _ACROSS]
        middles = np.array([point[number] for point in centred], dtype=np.float64)
        columns = np.repeat(np.arange(len(self.pipe)), self.sizes[1:])
        sides = Sides(along[self.sizes[0] :], columns, np.array(self.pipe, dtype=np.bool_)[columns])
        clear_of = barred(sides, self.ceiling, self.system, number)
        return axis_of(along, self.sizes[0], self.module[number], middles, hides_at_most(self.system), clear_of)

    def seen_from(self, origin: Point) -> Floats:
        """Edges from another origin with the same directions."""
        return self.edges - [*origin, *origin]


@dataclass(frozen=True, slots=True)
class Search:
    """What was searched: the two axes of the grid, and the places that the room file fixes on them."""

    axes: tuple[Axis, Axis]
    fixed: tuple[int | None, int | None]  #: of a grid line, in the units of its axis


def lay_out(room: Room, wish: GridWish, system: System, centred: tuple[Point, ...] = ()) -> Layout:
    """Find the best place for the grid and what it cuts.

    `centred` are places of fixed services (room frame, millimetres) that ask to sit in the middle of a panel.
    PlannerError when the wish names a wall or a module that is not there, or borders that do not close.
    """
    turned = _turned(room, wish, system)
    search = _search(room, wish, turned, centred)
    axes, fixed = search.axes, search.fixed
    fewest_first = wish.prefer == "fewest_panels"
    choice = choose(axes, fixed, lambda x, y: _count(turned, axes, (x, y)), fewest_first)
    return _laid(room, turned, axes, choice, system, (fixed[0] is not None, fixed[1] is not None), fewest_first)


def search_of(room: Room, wish: GridWish, system: System, centred: tuple[Point, ...] = ()) -> Search:
    """The axes that `lay_out` searches, for whoever wants to know why a place was taken; takes and raises the same."""
    return _search(room, wish, _turned(room, wish, system), centred)


def _turned(room: Room, wish: GridWish, system: System) -> _Turned:
    frame = Frame(room.outline[0], angle_asked(room, wish.align))
    rings = rings_of(room)
    module, sizes, bare = module_asked(room, wish, system), tuple(map(len, rings)), set(map(id, pipes(room)))
    pipe = tuple(id(column) in bare for column in room.columns)
    edges = edges_of(rings, frame)
    ceiling = polygon_of([ring[:, :2] for ring in np.split(edges, np.cumsum(sizes)[:-1])])
    return _Turned(frame, module, edges, sizes, ceiling, pipe, system)


def _search(room: Room, wish: GridWish, turned: _Turned, centred: tuple[Point, ...]) -> Search:
    middles = [turned.frame.inward(point) for point in centred]
    axes = (turned.axis(0, middles), turned.axis(1, middles))
    return Search(axes, (_fixed(room, wish, turned, axes, 0), _fixed(room, wish, turned, axes, 1)))


def _fixed(room: Room, wish: GridWish, turned: _Turned, axes: tuple[Axis, Axis], number: int) -> int | None:
    """Place of a line that the room file fixes on an axis, in the axis's units."""
    axis = axes[number]
    centre = None if wish.centre_on is None else turned.frame.inward(wish.centre_on)[number]
    ends = (axis.low / axis.per_mm, axis.high / axis.per_mm)
    place = place_asked(room, wish, number, ends, turned.module[number], centre)
    return None if place is None else round(place * axis.per_mm)


def _count(turned: _Turned, axes: tuple[Axis, Axis], places: tuple[int, int]) -> int:
    origin = (places[0] / axes[0].per_mm, places[1] / axes[1].per_mm)
    return count_marked(mark(turned.seen_from(origin), turned.module))


def _laid(
    room: Room,
    turned: _Turned,
    axes: tuple[Axis, Axis],
    choice: Choice,
    system: System,
    asked: tuple[bool, bool],
    fewest_first: bool,
) -> Layout:
    """Mark, clip and name what the chosen place gives."""
    ceiling = turned.ceiling
    origin = _start(ceiling, turned.module, axes, choice.places)
    x, y = turned.frame.outward(origin)
    frame = Frame((round(x, _DIGITS), round(y, _DIGITS)), turned.frame.angle_deg)
    marks = mark(turned.seen_from(origin), turned.module)
    pieces = clip(shapely.transform(ceiling, lambda points: points - origin), marks, turned.module)
    cut = panels_of(room, frame, turned.module, system, pieces)
    panels = cut.panels
    whole = np.array([cell in cut.whole for cell in map(tuple, marks.touched.tolist())], dtype=np.bool_)
    runs = full_runs(marks, pieces.whole | whole)
    narrowest = smallest_cut(panels, turned.module)
    count = len(panels) + sum(run.count for run in runs)
    outcome = Outcome(axes, choice.places, frame.angle_deg, asked, choice.proven, fewest_first, count, narrowest)
    borders = _borders(room, axes, choice.places)
    why = reason(room, outcome)
    told = "" if any(asked) or fewest_first or not choice.proven else bargain(room, axes, choice.places)
    return Layout(frame, turned.module, borders, narrowest, runs, panels, choice.proven, why, cut.closed, told)


def _start(
    ceiling: BaseGeometry, module: tuple[float, float], axes: tuple[Axis, Axis], places: tuple[int, int]
) -> Point:
    """Pick the crossing in the room that is nearest the reference corner; the nearest of all when none is in it.

    Crossings are looked for in growing squares around the corner.
    """
    left, low, right, high = ceiling.bounds
    most = int(max(right - left, high - low, -left, -low) // min(module)) + 2
    reach = 3
    while True:
        points = _crossings(axes, places, reach)
        order = np.lexsort((points[:, 0], points[:, 1], np.round(np.hypot(points[:, 0], points[:, 1]), 6)))
        points = points[order]
        inside = points[shapely.dwithin(ceiling, shapely.points(points), EDGE_MM)]
        near = inside[np.hypot(inside[:, 0], inside[:, 1]) <= reach * min(module)] if reach < most else inside
        if len(near) or reach >= most:
            u, v = (near if len(near) else points)[0]
            return (float(u), float(v))
        reach = min(reach * 4, most)


def _crossings(axes: tuple[Axis, Axis], places: tuple[int, int], reach: int) -> Floats:
    steps = np.arange(-reach - 1, reach + 2)
    u, v = ((place + steps * axis.module) / axis.per_mm for axis, place in zip(axes, places, strict=True))
    return np.stack([axis.reshape(-1) for axis in np.meshgrid(u, v)], axis=1)


def _borders(room: Room, axes: tuple[Axis, Axis], places: tuple[int, int]) -> tuple[Border, ...]:
    """Cut at each wall along the axis it is steeper to (the first at 45°), at its narrowest and widest.

    Of a bowed wall every chord is measured along the axis that it is steeper to.
    """
    chords = [len(wall.points) - 1 for wall in room.walls]
    wall_of = np.array(room.wall_of_edge)
    first, second = (axis.borders(place, wall_of) for axis, place in zip(axes, places, strict=True))
    known = second | first
    for wall in [k for k in first.keys() & second.keys() if chords[k] > 1]:
        ends = (first[wall], second[wall])
        known[wall] = (min(low for low, _ in ends), max(high for _, high in ends))
    return tuple(Border(wall.name, *known[k]) for k, wall in enumerate(room.walls))
