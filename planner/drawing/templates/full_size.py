"""A piece at full size, as shapes in its own frame: what is laid on the panel.

In: a `Piece` and its numbers. Out: shapes at scale 1. Cut sides are heavy, edges as bought dashed; along the cuts a
band of waste is hatched, so that the side to keep cannot be mistaken. Letters stand inside the piece, beside what they
tell, again and again, so that every page has them.
"""

import math
from collections.abc import Iterator, Sequence

import shapely
from shapely.geometry import LineString

from planner.drawing import words
from planner.drawing.cutaways import halving
from planner.drawing.dimensions import written
from planner.drawing.labels import Heights, Taken, box_ring, first_free, readable, text_ring
from planner.drawing.lettering import clean, text_width
from planner.drawing.roles import Role
from planner.drawing.shapes import Line, Outline, Shape, Text
from planner.drawing.templates.hatch import hatched
from planner.drawing.templates.offsets import Offsets
from planner.drawing.templates.piece import CutOut, Piece, Side
from planner.drawing.templates.piece_lines import cut_lines, hole_rings, kept_edges, waste_band
from planner.geometry import Box, Point, distance, midpoint
from planner.lengths import Rounding

#: Width of the hatched band, and between its lines.
BAND = 9.0
_HATCH = 4.0
#: Letters stand so far inside an edge, and are told again after so much.
_INSIDE = 3.0
_AGAIN = 140.0
#: Arms of centre marks reach so far beyond what they mark.
_ARM = 10.0


def full_size(piece: Piece, offsets: Offsets, heights: Heights, units: str, corner: str) -> tuple[Shape, ...]:
    """Everything that is drawn of a piece; `corner` is the name of the room's reference corner."""
    board = _Board(piece, heights)
    shapes = [*cut_lines(piece), *kept_edges(piece), *hatched(waste_band(piece, BAND), _HATCH)]
    for cutout in piece.cutouts:
        shapes += _centre(cutout.centre, max(cutout.size) / 2 + _ARM)
        board.letter(_beside(cutout, _cutout_words(cutout, units)), anywhere=True)
    for hole in piece.holes:
        if hole.circle is not None:
            shapes += _centre(hole.circle.centre, hole.circle.radius + _ARM)
        for start, end in halving(piece.shape, shapely.Polygon(hole.outline)):
            shapes.append(Line(Role.TEMPLATE_CUT, start, end))
            board.letter(_on_line(start, end, words.say("templates.halved")))
    shapes += _start_mark(offsets)
    for each in offsets.corners:
        board.letter(_in_corner(each.at, str(each.number), piece, heights[Role.NOTE]))
    shapes += board.heading(offsets, corner)
    for side in piece.sides:
        board.along(side)
    return (*shapes, *board.texts)


def _centre(at: Point, arm: float) -> Iterator[Line]:
    x, y = at
    yield Line(Role.CENTRE_MARK, (x - arm, y), (x + arm, y))
    yield Line(Role.CENTRE_MARK, (x, y - arm), (x, y + arm))


def _cutout_words(cutout: CutOut, units: str) -> str:
    return round_or_box(cutout.service, cutout.size, cutout.shape, units)


def round_or_box(name: str, size: tuple[float, float], shape: str, units: str) -> str:
    """What a cut-out is and how large."""
    told = [written(side, "in" if units == "ft-in" else units, Rounding.NEAREST) for side in size]
    if shape == "round":
        return words.say("templates.round", name=clean(name), size=told[0])
    return words.say("templates.box", name=clean(name), size=" × ".join(told))


def _on_line(start: Point, end: Point, text: str) -> list[Text]:
    """Along a level or upright line, on either side of its middle."""
    x, y = midpoint(start, end)
    if abs(end[0] - start[0]) >= abs(end[1] - start[1]):
        return [
            Text(Role.NOTE, (x, y + 1.5), text, "centre", "base"),
            Text(Role.NOTE, (x, y - 1.5), text, "centre", "top"),
        ]
    return [
        Text(Role.NOTE, (x - 1.5, y), text, "centre", "base", 90.0),
        Text(Role.NOTE, (x + 1.5, y), text, "centre", "top", 90.0),
    ]


def _start_mark(offsets: Offsets) -> Iterator[Line]:
    """A small square in the corner to measure from."""
    (x, y), (a, b) = offsets.start, offsets.way
    size = 7.0
    yield Line(Role.CENTRE_MARK, (x + a * size, y), (x + a * size, y + b * size))
    yield Line(Role.CENTRE_MARK, (x, y + b * size), (x + a * size, y + b * size))


def _beside(cutout: CutOut, text: str) -> list[Text]:
    """Above a cut-out, below it, then in its quarters."""
    (x, y), depth = cutout.centre, cutout.size[1]
    off = 3.0
    found = [
        Text(Role.NOTE, (x + off, y + depth / 2 + off), text, "left", "base"),
        Text(Role.NOTE, (x + off, y - depth / 2 - off), text, "left", "top"),
    ]
    for side, dx in (("left", off), ("right", -off)):
        for foot, dy in (("base", off), ("top", -off)):
            found.append(Text(Role.NOTE, (x + dx, y + dy), text, side, foot))  # type: ignore[arg-type]
    return found


def _in_corner(at: Point, text: str, piece: Piece, height: float) -> list[Text]:
    """In the corner's angle, inside the piece: on the ring round the corner, where it is furthest from the edges."""
    solid, rim = piece.shape, LineString([*piece.outline, piece.outline[0]])
    found = []
    for reach in (2.6 * height, 4.0 * height, 6.0 * height):
        spots = [
            (at[0] + reach * math.cos(k * math.pi / 12), at[1] + reach * math.sin(k * math.pi / 12)) for k in range(24)
        ]
        inner = [spot for spot in spots if solid.covers(shapely.Point(spot))]
        inner.sort(key=lambda spot: -round(rim.distance(shapely.Point(spot)), 2))
        found += [Text(Role.NOTE, spot, text, "centre", "middle") for spot in inner[:4]]
    return found


class _Board:
    """What is lettered on a piece so far, and where there is room."""

    def __init__(self, piece: Piece, heights: Heights) -> None:
        self.piece, self.heights = piece, heights
        self.texts: list[Text] = []
        self._solid = piece.shape.difference(shapely.union_all([shapely.Polygon(r) for r in hole_rings(piece)]))
        self._taken = Taken()

    def letter(self, places: Sequence[Text], *, anywhere: bool = False) -> bool:
        """Letter in the first free place that lies inside the piece, or else `anywhere`."""
        if not places:
            return False
        height = self.heights[places[0].role]
        inside = [t for t in places if self._solid.covers(shapely.Polygon(text_ring(t, height)))]
        found = first_free([*inside, *(places if anywhere else ())], height, self._taken, gap=0.8)
        if found is not None:
            self.texts.append(found)
        return found is not None

    def along(self, side: Side) -> None:
        """What a side lies on, inside it, every so often."""
        line = LineString(side.points)
        told = side_words(side)
        count = max(1, round(line.length / _AGAIN))
        for k in range(count):
            middle = (k + 0.5) * line.length / count
            for text in (told, words.say(f"templates.short {side.kind}", name=clean(side.name))):
                spots = (self._at(line, middle + shift, text) for shift in (0.0, 12.0, -12.0, 25.0, -25.0))
                if self.letter([spot for spot in spots if spot is not None]):
                    break

    def _at(self, line: LineString, along: float, text: str) -> Text | None:
        if not 0 <= along <= line.length:
            return None
        half = text_width(text, self.heights[Role.NOTE]) / 2
        a, b = (line.interpolate(min(max(along + d, 0.0), line.length)) for d in (-half, half))
        length = math.hypot(b.x - a.x, b.y - a.y)
        if length < half:
            return None
        across = (-(b.y - a.y) / length, (b.x - a.x) / length)  # into the piece, which lies on the left
        off = _INSIDE + self.heights[Role.NOTE] / 2
        middle = line.interpolate(along)
        at = (middle.x + off * across[0], middle.y + off * across[1])
        angle = readable(math.degrees(math.atan2(b.y - a.y, b.x - a.x)))
        return Text(Role.NOTE, at, text, "centre", "middle", angle)

    def heading(self, offsets: Offsets, corner: str) -> Iterator[Shape]:
        """Large: what to keep, which side is up, and the way to the reference corner."""
        told = [self.piece.panel, words.say("templates.face up" if self.piece.face_up else "templates.from back")]
        (x, y), (a, b) = offsets.start, offsets.way
        for k, (role, text) in enumerate(((Role.BANNER, told[0]), (Role.SHEET_TITLE, told[1]))):
            self.letter(list(self._near_start((x, y), (a, b), role, text, 14.0 + 13.0 * k)))
        yield from self._arrow((x, y), (a, b), corner)

    def _near_start(self, start: Point, way: tuple[int, int], role: Role, text: str, off: float) -> Iterator[Text]:
        """Near the start, then further along, level; then upright."""
        side = "left" if way[0] > 0 else "right"
        foot = "base" if way[1] > 0 else "top"
        for further in range(0, 400, 15):
            for dx, dy in ((further, 0.0), (0.0, further), (further, further)):
                at = (start[0] + way[0] * (14.0 + dx), start[1] + way[1] * (off + dy))
                yield Text(role, at, text, side, foot)  # type: ignore[arg-type]
        for further in range(0, 400, 15):
            at = (start[0] + way[0] * off, start[1] + way[1] * (14.0 + further))
            yield Text(role, at, text, "left" if way[1] > 0 else "right", "top" if way[0] > 0 else "base", 90.0)

    def _arrow(self, start: Point, way: tuple[int, int], corner: str) -> Iterator[Shape]:
        """An arrow to the room's reference corner, with its words."""
        text = words.say("templates.to corner", corner=corner)
        for further in range(0, 400, 10):
            for dx, dy in ((further, 0.0), (0.0, further), (further, further)):
                at = (start[0] + way[0] * (22.0 + dx), start[1] + way[1] * (50.0 + dy))
                tip, tail = _towards(at, self.piece.corner, 9.0)
                ring = box_ring(Box(at[0] - 10.0, at[1] - 10.0, at[0] + 10.0, at[1] + 10.0))
                if not self._solid.covers(shapely.Polygon(ring)):
                    continue
                side = "left" if way[0] > 0 else "right"
                place = Text(Role.NOTE, (at[0] + way[0] * 12.0, at[1]), text, side, "middle")  # type: ignore[arg-type]
                if self._taken.free(ring) and self.letter([place]):
                    self._taken.add(ring)
                    yield from arrow(tail, tip, 4.0)
                    return


def side_words(side: Side) -> str:
    """What a side lies on, and whether it is cut."""
    if side.kind == "tee":
        return words.say("templates.tee" if side.factory else "templates.tee cut")
    return words.say(
        f"templates.{side.kind} whole" if side.factory else f"templates.{side.kind}", name=clean(side.name)
    )


def arrow(tail: Point, tip: Point, head: float) -> Iterator[Shape]:
    """A straight arrow with a filled head."""
    length = distance(tail, tip)
    ux, uy = (tip[0] - tail[0]) / length, (tip[1] - tail[1]) / length
    neck = (tip[0] - head * ux, tip[1] - head * uy)
    yield Line(Role.CENTRE_MARK, tail, neck)
    wing = 0.35 * head
    barbs = ((neck[0] - wing * uy, neck[1] + wing * ux), (neck[0] + wing * uy, neck[1] - wing * ux))
    yield Outline(Role.CENTRE_MARK, (tip, *barbs), fill=True)


def _towards(at: Point, goal: Point, reach: float) -> tuple[Point, Point]:
    length = max(distance(at, goal), 1e-9)
    ux, uy = (goal[0] - at[0]) / length * reach, (goal[1] - at[1]) / length * reach
    return (at[0] + ux, at[1] + uy), (at[0] - ux, at[1] - uy)
