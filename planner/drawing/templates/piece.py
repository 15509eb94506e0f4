"""The piece to cut for one panel, at full size: its true outline, and what each side of it lies on.

Points are millimetres in the panel's own frame: the lower left corner of its module, as the grid runs, is the origin.
`clearance.piece_of` makes pieces, seen as on the plan; `face_up` turns them over.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Literal

from shapely.geometry import LinearRing, Polygon
from shapely.geometry import Point as Spot

from planner.drawing.labels import box_ring
from planner.geometry import Box, Point, Ring, box_of
from planner.records import dataclass

#: Tapers and bows of less are told nowhere: a tape does not show them.
LEAST_TOLD_MM = 1.0

SideKind = Literal["tee", "wall", "column"]


@dataclass(frozen=True, slots=True)
class Circle:
    """What a bow is part of."""

    centre: Point
    radius: float


@dataclass(frozen=True, slots=True)
class Side:
    """A stretch of the piece's edge that lies on one thing; runs with the piece on its left."""

    kind: SideKind
    name: str  #: of the wall or column; empty for a tee
    points: tuple[Point, ...]  #: two where it is straight
    factory: bool  #: an edge of the panel as bought, so that nothing is cut here
    circle: Circle | None = None  #: of a bow, as the piece is cut


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole in a piece for a column that stands inside it, its clearance added."""

    name: str  #: of the column
    outline: Ring
    circle: Circle | None


@dataclass(frozen=True, slots=True)
class CutOut:
    """A hole in a piece for a service."""

    service: str
    shape: Literal["round", "rectangle"]
    centre: Point
    size: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Piece:
    """What to cut for one panel. Points are in the panel's own frame, or mirrored in it: see `face_up`."""

    panel: str
    cut_to: tuple[float, float]  #: what to saw, as all lists tell it
    outline: Ring  #: counter-clockwise
    holes: tuple[Hole, ...]
    sides: tuple[Side, ...]  #: all round, as the outline runs
    cutouts: tuple[CutOut, ...]
    whole: Box  #: the panel as bought, where it lies before anything is cut
    corner: Point  #: where the room's reference corner is
    face_up: bool = False  #: seen from below, as it lies on the bench face up; else as on the plan, from its back

    @property
    def box(self) -> Box:
        return box_of(self.outline)

    @property
    def shape(self) -> Polygon:
        """The outline less the holes for columns."""
        return Polygon(self.outline, [hole.outline for hole in self.holes])

    @property
    def plain(self) -> bool:
        """A rectangle without holes: two numbers cut it."""
        return not self.holes and not self.cutouts and _is_box(self.outline, self.box)

    @property
    def cuts(self) -> tuple[Side, ...]:
        """The sides that are cut."""
        return tuple(side for side in self.sides if not side.factory)


def face_up(piece: Piece) -> Piece:
    """The piece as it lies on the bench with its face up.

    A reflected ceiling plan keeps the directions of the floor plan, as if one looked down through the ceiling: it shows
    the panel's back. The face, which is seen from below, is its mirror image.
    """
    width = piece.whole.left + piece.whole.right
    return replace(moved(piece, lambda point: (width - point[0], point[1]), over=True), face_up=not piece.face_up)


def moved(piece: Piece, go: Callable[[Point], Point], *, over: bool) -> Piece:
    """The piece as `go` moves or turns its points, `over` when it mirrors them; `whole` stays where it was."""

    def turned(ring: Ring) -> Ring:
        return tuple(map(go, reversed(ring) if over else ring))

    def round_about(circle: Circle | None) -> Circle | None:
        return circle and replace(circle, centre=go(circle.centre))

    sides = tuple(replace(s, points=turned(s.points), circle=round_about(s.circle)) for s in piece.sides)
    return replace(
        piece,
        outline=turned(piece.outline),
        holes=tuple(replace(h, outline=turned(h.outline), circle=round_about(h.circle)) for h in piece.holes),
        sides=sides[::-1] if over else sides,
        cutouts=tuple(replace(cutout, centre=go(cutout.centre)) for cutout in piece.cutouts),
        corner=go(piece.corner),
    )


def _is_box(outline: Ring, box: Box) -> bool:
    """Whether an outline is a rectangle for the trade: nowhere off its box by as much as is told of a taper."""
    rim, corners = LinearRing(box_ring(box)), [Spot(point) for point in outline]
    near = all(rim.distance(corner) < LEAST_TOLD_MM for corner in corners)
    return near and all(min(map(Spot(c).distance, corners)) < LEAST_TOLD_MM for c in box_ring(box))
