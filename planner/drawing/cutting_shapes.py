"""Panels that are cut alike, gathered, each with the true shapes that come off it.

In: a plan. Out: patterns, those cut most often first, then the ones with the largest pieces (common practice, no
source: a fence that is set once cuts them all). A pattern's shapes are millimetres on the bought panel, from its lower
left corner; panels lie as on the ceiling plan unless a piece is turned.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shapely.geometry import Point as Spot
from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry

from planner.ceiling.model import CutOut, Panel
from planner.drawing.panel_marks import panel_class
from planner.geometry import Frame, Point, Ring, box_of
from planner.planning import Plan
from planner.stock.model import CutPanel, PanelPiece


@dataclass(frozen=True, slots=True)
class PanelSlot:
    """A piece on a panel, and the panels of the ceiling that such pieces become."""

    size: tuple[float, float]  #: what to saw, as it lies
    shape: BaseGeometry  #: what is left of the box when all is cut
    plain: bool  #: a rectangle without holes
    panels: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PanelPattern:
    """How a number of panels are cut."""

    count: int
    slots: tuple[PanelSlot, ...]
    waste: BaseGeometry

    @property
    def one_name(self) -> bool:
        return all(len(set(slot.panels)) == 1 for slot in self.slots)


def panel_patterns(plan: Plan) -> tuple[PanelPattern, ...]:
    """The patterns by which cut panels come off bought ones; none where nothing is cut."""
    cutting = plan.stock.panels
    if cutting is None:
        return ()
    panels = {panel.id: panel for panel in plan.ceiling.panels}
    alike: defaultdict[tuple[object, ...], list[CutPanel]] = defaultdict(list)
    for cut in cutting.panels:
        alike[tuple(_key(piece, panels.get(piece.panel)) for piece in _in_order(cut))].append(cut)
    found = (_pattern(cuts, cutting.size, panels, plan.ceiling.layout.frame) for cuts in alike.values())
    return tuple(sorted(found, key=lambda pattern: (-pattern.count, [_turn(slot) for slot in pattern.slots])))


def _turn(slot: PanelSlot) -> tuple[float, float, float]:
    width, height = slot.size
    return (-width * height, -width, -height)


def _in_order(cut: CutPanel) -> list[PanelPiece]:
    """From the lower left on."""
    return sorted(cut.pieces, key=lambda piece: (piece.at[1], piece.at[0], piece.size))


def _key(piece: PanelPiece, panel: Panel | None) -> tuple[object, ...]:
    """What must be the same for pieces to be cut alike."""
    shaped = "" if panel is None or _is_plain(panel) else panel_class(panel)
    return (piece.at, piece.size, piece.turned and bool(shaped), shaped)


def _is_plain(panel: Panel) -> bool:
    return panel.shape == "plain" and not panel.cutouts


def _pattern(
    cuts: Sequence[CutPanel], size: tuple[float, float], panels: dict[str, Panel], frame: Frame
) -> PanelPattern:
    lying = [_in_order(cut) for cut in cuts]
    slots = []
    for k, piece in enumerate(lying[0]):
        names = tuple(pieces[k].panel for pieces, cut in zip(lying, cuts, strict=True) for _ in range(cut.count))
        panel = panels.get(piece.panel)
        plain = panel is None or _is_plain(panel)
        slots.append(PanelSlot(piece.size, _shape(piece, None if plain else panel, frame), plain, names))
    waste: BaseGeometry = box(0.0, 0.0, *size)
    for slot in slots:
        waste = waste.difference(slot.shape)
    return PanelPattern(sum(cut.count for cut in cuts), tuple(slots), waste)


def _shape(piece: PanelPiece, panel: Panel | None, frame: Frame) -> BaseGeometry:
    """The piece as it lies on the bought panel; its box, when it is plain."""
    if panel is None:
        return box(piece.at[0], piece.at[1], piece.at[0] + piece.size[0], piece.at[1] + piece.size[1])
    seat = _Seat.of(piece, panel, frame)
    shape: BaseGeometry = Polygon(seat.ring(panel.outline), [seat.ring(hole) for hole in panel.holes]).buffer(0)
    for hole in panel.cutouts:
        shape = shape.difference(Polygon(seat.ring(tuple(_rim(hole, frame)))))
    return shape


def _rim(hole: CutOut, frame: Frame) -> Iterator[Point]:
    """The edge of a cut-out in the room."""
    x, y = frame.inward(hole.centre)
    if hole.shape == "round":
        rim = list(Spot(x, y).buffer(hole.size[0] / 2).exterior.coords)[:-1]
    else:
        rim = list(
            box(x - hole.size[0] / 2, y - hole.size[1] / 2, x + hole.size[0] / 2, y + hole.size[1] / 2).exterior.coords
        )[:-1]
    return (frame.outward((a, b)) for a, b in rim)


@dataclass(frozen=True, slots=True)
class _Seat:
    """Takes points of the room to the bought panel."""

    frame: Frame
    corner: Point  #: of the panel's box, in the grid frame
    factors: tuple[float, float]  #: what is sawn is a little less than the opening
    piece: PanelPiece

    @classmethod
    def of(cls, piece: PanelPiece, panel: Panel, frame: Frame) -> "_Seat":
        around = box_of([frame.inward(point) for point in panel.outline])
        width, depth = (piece.size[1], piece.size[0]) if piece.turned else piece.size
        return cls(frame, (around.left, around.bottom), (width / around.width, depth / around.height), piece)

    def ring(self, points: Ring) -> Ring:
        return tuple(map(self._point, points))

    def _point(self, point: Point) -> Point:
        u, v = self.frame.inward(point)
        x, y = (u - self.corner[0]) * self.factors[0], (v - self.corner[1]) * self.factors[1]
        if self.piece.turned:  # a quarter turn to the left
            x, y = self.piece.size[0] - y, x
        return (self.piece.at[0] + x, self.piece.at[1] + y)
