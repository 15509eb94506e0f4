"""From the opening of a panel to the piece that fits it.

In: the openings of a ceiling and one of its cut panels. Out: a `Piece`, seen as on the plan.

The rule is the one that gives `Panel.cut_to`: what is cut is smaller than its opening by the undersize, half of it on
each side. So a side on a tee ends half the undersize from the tee's centre line, where the factory's edge is; a side
on a wall or column stays half the undersize away from it. It is applied here, once; the saw's kerf is for the saw.
"""

import math
from collections.abc import Iterator, Sequence

from shapely.geometry import Point as Spot

from planner.ceiling.grid.cut import solid_cuts
from planner.ceiling.model import Panel
from planner.drawing.templates.openings import Openings
from planner.drawing.templates.piece import Circle, CutOut, Hole, Piece, Side, SideKind
from planner.geometry import Box, Point, Ring, edges, midpoint, signed_area
from planner.records import dataclass

#: Sides are told apart by what lies this near; the outline itself is nearer to the truth than that.
_NEAR_MM = 0.06
#: A corner that bends less than this (sine of the angle) is none.
_STRAIGHT = 1e-5
#: A corner of a curve's chords bends less than this.
_CHORD = math.sin(math.radians(8.0))


def piece_of(openings: Openings, panel: Panel) -> Piece | None:
    """The piece for a panel, seen as on the plan; None where its opening is narrower than what the seat takes."""
    plan = openings.plan
    under, module = plan.ceiling.system.panel_undersize, plan.ceiling.layout.module
    (shape,) = solid_cuts([openings.opening(panel)], [Box(0.0, 0.0, *module)], under)
    if shape is None:
        return None
    frame = openings.frame_of(panel)
    whole = Box(under / 2, under / 2, module[0] - under / 2, module[1] - under / 2)
    outline, *holes = (_tidy(list(ring.coords)[:-1]) for ring in (shape.exterior, *shape.interiors))
    around = _Around(openings, panel, under / 2)
    sides = tuple(_sides(outline, whole, around))
    return Piece(
        panel=panel.id,
        cut_to=panel.cut_to,
        outline=_turned_to(outline, sides),
        holes=tuple(_hole(hole, around) for hole in holes),
        sides=sides,
        cutouts=tuple(CutOut(c.service, c.shape, frame.inward(c.centre), c.size) for c in panel.cutouts),
        whole=whole,
        corner=frame.inward(plan.room.outline[0]),
    )


class _Around:
    """Walls and columns round a piece, in its frame."""

    def __init__(self, openings: Openings, panel: Panel, clearance: float) -> None:
        self.clearance = clearance
        self._openings = openings
        self._corner = openings.corner_of(panel)

    def nearest(self, point: Point) -> tuple[SideKind, str, Circle | None, float]:
        """What lies nearest: kind, name, the circle of a bowed edge along it, distance."""
        x, y = self._corner
        spot = Spot(point[0] + x, point[1] + y)
        edge = self._openings.nearest(spot)
        circle = None
        if edge.radius is not None:
            centre = (edge.centre[0] - x, edge.centre[1] - y)
            circle = Circle(centre, edge.radius + (self.clearance if edge.hollow else -self.clearance))
        return edge.kind, edge.name, circle, edge.line.distance(spot)


def _hole(ring: Ring, around: _Around) -> Hole:
    _, name, circle, _ = around.nearest(ring[0])
    return Hole(name, ring, circle)


def _tidy(points: Sequence[tuple[float, ...]]) -> Ring:
    """Counter-clockwise, without twin corners and corners in a line."""
    ring = [(float(p[0]), float(p[1])) for p in points]
    if signed_area(ring) < 0:
        ring.reverse()
    ring = [p for before, p in zip([ring[-1], *ring[:-1]], ring, strict=True) if math.dist(before, p) > 1e-4]
    around = zip([ring[-1], *ring[:-1]], ring, [*ring[1:], ring[0]], strict=True)
    return tuple(p for before, p, after in around if abs(_bend(before, p, after)) > _STRAIGHT)


def _bend(before: Point, at: Point, after: Point) -> float:
    """Sine of the angle that a chain turns by, counter-clockwise positive."""
    (ax, ay), (bx, by) = (at[0] - before[0], at[1] - before[1]), (after[0] - at[0], after[1] - at[1])
    norm = math.hypot(ax, ay) * math.hypot(bx, by)
    return (ax * by - ay * bx) / norm if norm else 0.0


def _sides(outline: Ring, whole: Box, around: _Around) -> Iterator[Side]:
    """The outline as stretches that lie on one thing each."""
    known = [_Edge.of(a, b, whole, around) for a, b in edges(outline)]
    joined = [_goes_on(known[k - 1], known[k]) for k in range(len(known))]
    first = joined.index(False) if False in joined else 0
    run: list[_Edge] = []
    for k in (*range(first, len(known)), *range(first)):
        if run and not joined[k]:
            yield _side(run)
            run = []
        run.append(known[k])
    yield _side(run)


@dataclass(frozen=True, slots=True)
class _Edge:
    """One straight edge of an outline."""

    start: Point
    end: Point
    kind: SideKind
    name: str
    circle: Circle | None
    factory: bool

    @classmethod
    def of(cls, a: Point, b: Point, whole: Box, around: _Around) -> "_Edge":
        x, y = midpoint(a, b)
        length = math.dist(a, b)
        out = ((b[1] - a[1]) / length, (a[0] - b[0]) / length)
        kind, name, circle, gap = around.nearest((x + out[0] * around.clearance, y + out[1] * around.clearance))
        to_whole = (abs(x - whole.left), abs(x - whole.right), abs(y - whole.bottom), abs(y - whole.top))
        level = abs(out[0]) < 1e-6 or abs(out[1]) < 1e-6
        on_whole = level and min(to_whole) <= _NEAR_MM
        if gap > _NEAR_MM and on_whole:
            kind, name, circle = "tee", "", None
        return cls(a, b, kind, name, circle, on_whole)


def _goes_on(before: _Edge, edge: _Edge) -> bool:
    """Whether an edge is another chord of the same bow."""
    same = before.circle is not None and (before.kind, before.name) == (edge.kind, edge.name)
    return same and abs(_bend(before.start, edge.start, edge.end)) < _CHORD


def _side(run: Sequence[_Edge]) -> Side:
    first = run[0]
    points = (first.start, *(edge.end for edge in run))
    return Side(first.kind, first.name, points, all(e.factory for e in run), first.circle if len(run) > 1 else None)


def _turned_to(outline: Ring, sides: Sequence[Side]) -> Ring:
    """The outline from the start of its first side on."""
    first = outline.index(sides[0].points[0])
    return (*outline[first:], *outline[:first])
