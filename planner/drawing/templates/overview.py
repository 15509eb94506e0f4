"""The whole piece, small, with the pages on it: what the key page shows.

In: a piece, its numbers, its pages, how much room there is. Out: a window on the paper. Pages that are not printed are
grey. Letters stand where they touch no other; what finds no room is left out here, since the full-size pages have it.
"""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise, product

import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from planner.drawing import words
from planner.drawing.labels import Heights, Taken, box_ring, first_free, readable
from planner.drawing.lettering import clean
from planner.drawing.roles import Role
from planner.drawing.shapes import Drawing, Line, Outline, Shape, Text, Window
from planner.drawing.templates.full_size import arrow
from planner.drawing.templates.hatch import hatched
from planner.drawing.templates.offsets import Offsets
from planner.drawing.templates.piece import Piece, Side
from planner.drawing.templates.piece_lines import cut_lines, hole_rings, kept_edges
from planner.drawing.templates.tiles import OVERLAP, Pages
from planner.drawing.windows import Tile
from planner.geometry import Box, Point, Ring, box_of, distance, edges

_SCALES = (1.0, 2.0, 2.5, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 40.0, 50.0, 80.0, 100.0)
#: Room round the panel for words, millimetres on paper.
_ROUND = 11.0
_HATCH = 2.0


def overview(piece: Piece, offsets: Offsets, pages: Pages, corner: str, room: Box, heights: Heights) -> Window:
    """A window that shows all of a piece and its pages in `room`."""
    cores = {(t.row, t.column): _core(t, pages) for t in pages.tiling.tiles}
    around = box_of([*_corners(piece.whole), *(p for core in cores.values() for p in _corners(core))])
    scale = next(
        (
            each
            for each in _SCALES
            if around.width / each + 2 * _ROUND <= room.width and around.height / each + 2 * _ROUND <= room.height
        ),
        _SCALES[-1],
    )
    board = _Overview(piece, offsets, scale, heights)
    several = len(cores) > 1
    shapes: list[Shape] = []
    if several:
        grey = [core for place, core in cores.items() if place not in pages.printed]
        shapes += [Outline(Role.OFFCUT, box_ring(core), fill=True) for core in grey]
    shapes += hatched(_waste(piece), _HATCH * scale)
    shapes += (Outline(Role.TRIM_LINE, box_ring(core)) for core in cores.values() if several)
    shapes += [*_cut_off_edges(piece), *kept_edges(piece), *cut_lines(piece)]
    board.corners()
    if several:
        for tile in pages.tiling.tiles:
            board.page(tile, cores[tile.row, tile.column])
    for side in piece.sides:
        board.side(side)
    shapes += board.arrow(corner)
    drawing = Drawing((*shapes, *board.texts), (), scale, "mm")
    return Window(drawing, room, around.centre)


def _core(tile: Tile, pages: Pages) -> Box:
    """What a page shows up to the middle of what it shares; all of it where it has no neighbour."""
    last = (pages.tiling.rows - 1, pages.tiling.columns - 1)
    half = OVERLAP / 2
    box, by = tile.box, pages.by
    left, right = box.left + half * (tile.column > 0), box.right - half * (tile.column < last[1])
    bottom, top = box.bottom + half * (tile.row < last[0]), box.top - half * (tile.row > 0)
    return Box(left / by[0], bottom / by[1], right / by[0], top / by[1])


def _corners(box: Box) -> Ring:
    return box_ring(box)


def _waste(piece: Piece) -> BaseGeometry:
    """All of the bought panel that is cut off or out."""
    whole = shapely.box(piece.whole.left, piece.whole.bottom, piece.whole.right, piece.whole.top)
    cut = shapely.union_all([shapely.Polygon(ring) for ring in hole_rings(piece)])
    return whole.difference(shapely.Polygon(piece.outline)).union(cut)


def _cut_off_edges(piece: Piece) -> Iterator[Line]:
    """The edges of the bought panel that are cut off with the waste."""
    rim = shapely.LinearRing(box_ring(piece.whole))
    rest = rim.difference(shapely.LinearRing(piece.outline).buffer(0.05))
    for part in shapely.get_parts(shapely.line_merge(rest)):
        for a, b in pairwise(part.coords):
            yield Line(Role.STOCK, (a[0], a[1]), (b[0], b[1]))


class _Overview:
    """What is lettered on the small picture so far."""

    def __init__(self, piece: Piece, offsets: Offsets, scale: float, heights: Heights) -> None:
        self.piece, self.offsets, self.scale, self.heights = piece, offsets, scale, heights
        self.texts: list[Text] = []
        self._taken, self._lines = Taken(), Taken()
        for ring in (piece.outline, *hole_rings(piece)):
            for a, b in edges(ring):
                self._lines.add_stroke((a[0] / scale, a[1] / scale), (b[0] / scale, b[1] / scale))

    def _letter(self, places: Sequence[Text]) -> bool:
        """Letter in the first free place; places are in the piece's frame, room is looked for on the paper."""
        on_paper = [self._moved(text) for text in places]
        height = self.heights[places[0].role] if places else 0.0
        found = first_free(on_paper, height, self._taken, (self._lines,), gap=0.4)
        found = found or first_free(on_paper, height, self._taken, gap=0.4)
        if found is not None:
            self.texts.append(places[on_paper.index(found)])
        return found is not None

    def _moved(self, text: Text) -> Text:
        x, y = text.at
        return Text(
            text.role, (x / self.scale, y / self.scale), text.text, text.horizontal, text.vertical, text.angle_deg
        )

    def corners(self) -> None:
        """Numbers outside the corners, or inside where that is taken."""
        middle = self.piece.shape.centroid
        for each in self.offsets.corners:
            away = math.atan2(each.at[1] - middle.y, each.at[0] - middle.x)
            places = []
            for reach in (2.6, -2.6, 4.0, -4.0):
                for lean in (0.0, 0.5, -0.5, 1.0, -1.0):
                    off = reach * self.scale
                    at = (each.at[0] + off * math.cos(away + lean), each.at[1] + off * math.sin(away + lean))
                    places.append(Text(Role.PIECE_MARK, at, str(each.number), "centre", "middle"))
            self._letter(places)

    def page(self, tile: Tile, core: Box) -> None:
        """The name of a page, in its middle or towards its corners."""
        places = [
            Text(
                Role.HEADING, (core.left + x * core.width, core.bottom + y * core.height), tile.name, "centre", "middle"
            )
            for x, y in (
                *((0.5, 0.5), (0.3, 0.5), (0.7, 0.5), (0.5, 0.3), (0.5, 0.7)),
                *product((0.25, 0.75), (0.2, 0.8)),
            )
        ]
        self._letter(places)

    def side(self, side: Side) -> None:
        """What a side lies on, outside of it."""
        line = LineString(side.points)
        text = words.say(f"templates.short {side.kind}", name=clean(side.name))
        places = []
        for share in (0.5, 0.35, 0.65, 0.2, 0.8):
            a, b = (line.interpolate(share + d, normalized=True) for d in (-0.02, 0.02))
            length = math.hypot(b.x - a.x, b.y - a.y)
            out = ((b.y - a.y) / length, (a.x - b.x) / length)
            angle = readable(math.degrees(math.atan2(b.y - a.y, b.x - a.x)))
            for off in (-3.0, 3.0, -5.5, 5.5):
                at = ((a.x + b.x) / 2 + off * self.scale * out[0], (a.y + b.y) / 2 + off * self.scale * out[1])
                places.append(Text(Role.NOTE, at, text, "centre", "middle", angle))
        self._letter(places)

    def arrow(self, corner: str) -> Iterator[Shape]:
        """An arrow in the piece that points to the room's reference corner."""
        text = words.say("templates.to corner", corner=corner)
        for spot in self._spots():
            reach = 6.0 * self.scale
            length = max(distance(spot, self.piece.corner), 1e-9)
            ux, uy = (self.piece.corner[0] - spot[0]) / length, (self.piece.corner[1] - spot[1]) / length
            tail, tip = (spot[0] - reach * ux, spot[1] - reach * uy), (spot[0] + reach * ux, spot[1] + reach * uy)
            box = box_of([tail, tip]).grown(0.8 * self.scale)
            ring = box_ring(Box(*(side / self.scale for side in (box.left, box.bottom, box.right, box.top))))
            places = [Text(Role.NOTE, (spot[0], box.bottom - 0.5 * self.scale), text, "centre", "top")]
            if self._taken.free(ring) and self._letter(places):
                self._taken.add(ring)
                yield from arrow(tail, tip, 2.6 * self.scale)
                return

    def _spots(self) -> Iterator[Point]:
        """Spots in the piece, those further from its edges first."""
        solid = self.piece.shape.difference(shapely.union_all([shapely.Polygon(r) for r in hole_rings(self.piece)]))
        box, steps = self.piece.box, [(k + 0.5) / 24 for k in range(24)]
        spots = [(box.left + x * box.width, box.bottom + y * box.height) for x in steps for y in steps]
        gaps = shapely.distance(shapely.points(spots), solid.boundary)
        inside = shapely.contains(solid, shapely.points(spots))
        found = [(-round(float(gap), 1), spot) for spot, gap, within in zip(spots, gaps, inside, strict=True) if within]
        yield from (spot for _, spot in sorted(found))
