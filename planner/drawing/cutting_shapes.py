"""Panels that are cut alike, gathered, each with the true shapes that come off it.

In: a plan. Out: patterns, those cut most often first, then the ones with the largest pieces (common practice, no
source: a fence that is set once cuts them all). A pattern's shapes are millimetres on the bought panel, from its lower
left corner; panels lie as on the ceiling plan unless a piece is turned.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace

from shapely.geometry import Point as Spot
from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry

from planner.ceiling.model import CutOut, Panel
from planner.drawing.cutaways import Cutaway, cutaways
from planner.drawing.panel_marks import panel_class
from planner.geometry import Frame, Point, box_of
from planner.planning import Plan
from planner.records import dataclass
from planner.stock.model import CutPanel, PanelPiece


@dataclass(frozen=True, slots=True)
class PanelSlot:
    """A piece on a panel, and the panels of the ceiling that such pieces become."""

    size: tuple[float, float]  #: what to saw, as it lies
    shape: BaseGeometry  #: what is left of the box when all is cut
    plain: bool  #: a rectangle without holes
    panels: tuple[str, ...]
    turned: bool = False  #: by a quarter, so that its width on the plan is its height here
    #: What a tape can mark of what is missing: where on the bought panel, with sizes as seen on the ceiling plan.
    off: tuple[Cutaway, ...] = ()

    @property
    def told(self) -> tuple[float, float]:
        """Width and depth as seen on the ceiling plan, as every list has them."""
        return (self.size[1], self.size[0]) if self.turned else self.size


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
    turns = piece.turned + 2 * piece.half if shaped else piece.turned and piece.size[0] != piece.size[1]
    return (tuple(round(way, 3) for way in piece.at), piece.size, turns, shaped)


def _is_plain(panel: Panel) -> bool:
    return panel.shape == "plain" and not panel.cutouts


def _pattern(
    cuts: Sequence[CutPanel], size: tuple[float, float], panels: Mapping[str, Panel], frame: Frame
) -> PanelPattern:
    lying = [_in_order(cut) for cut in cuts]
    slots = []
    for k, piece in enumerate(lying[0]):
        names = tuple(pieces[k].panel for pieces, cut in zip(lying, cuts, strict=True) for _ in range(cut.count))
        panel = panels.get(piece.panel)
        plain = panel is None or _is_plain(panel)
        shape = _solid(piece) if panel is None else _drilled(_solid(piece), piece, panel, frame)
        slots.append(PanelSlot(piece.size, shape, plain, names, piece.turned, _off(piece, panel)))
    waste: BaseGeometry = box(0.0, 0.0, *size)
    for slot in slots:
        waste = waste.difference(slot.shape)
    return PanelPattern(sum(cut.count for cut in cuts), tuple(slots), waste)


def _solid(piece: PanelPiece) -> Polygon:
    """What is cut, without what is drilled."""
    if piece.rings:
        return Polygon(piece.rings[0], piece.rings[1:])
    return box(piece.at[0], piece.at[1], piece.at[0] + piece.size[0], piece.at[1] + piece.size[1])


def _off(piece: PanelPiece, panel: Panel | None) -> tuple[Cutaway, ...]:
    """Notches, corners and holes that a tape can mark; none where there is more to it."""
    if panel is None or panel.shape in ("plain", "tapered"):
        return ()
    found = cutaways(_solid(piece)) or ()
    return tuple(replace(each, size=each.size[::-1]) for each in found) if piece.turned else found


def _drilled(shape: BaseGeometry, piece: PanelPiece, panel: Panel, frame: Frame) -> BaseGeometry:
    """A shape without the holes for services: their places go with the panel's box, from opening to what is cut."""
    for hole in panel.cutouts:
        shape = shape.difference(Polygon([_seated(point, piece, panel, frame) for point in _rim(hole, frame)]))
    return shape


def _rim(hole: CutOut, frame: Frame) -> list[Point]:
    """The edge of a cut-out in the frame of the grid."""
    x, y = frame.inward(hole.centre)
    wide, deep = hole.size[0] / 2, hole.size[1] / 2
    rim = Spot(x, y).buffer(wide) if hole.shape == "round" else box(x - wide, y - deep, x + wide, y + deep)
    return [(a, b) for a, b in list(rim.exterior.coords)[:-1]]


def _seated(point: Point, piece: PanelPiece, panel: Panel, frame: Frame) -> Point:
    """A point of the grid's frame on the bought panel."""
    around = box_of([frame.inward(corner) for corner in panel.outline])
    size = (piece.size[1], piece.size[0]) if piece.turned else piece.size
    x = (point[0] - around.left) * size[0] / around.width
    y = (point[1] - around.bottom) * size[1] / around.height
    for _ in range(piece.turned + 2 * piece.half):  # quarter turns to the left
        x, y, size = size[1] - y, x, (size[1], size[0])
    return (piece.at[0] + x, piece.at[1] + y)
