"""The lines of a piece: what is cut, what stays as bought, what is waste.

In: a `Piece`. Out: shapes to draw, and the same as geometry to ask questions of; millimetres in the piece's frame.
"""

import math
from collections.abc import Iterator

import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from planner.drawing.roles import Role
from planner.drawing.shapes import Arc, Circle, Line, Outline, Shape
from planner.drawing.templates.openings import circle
from planner.drawing.templates.piece import CutOut, Piece, Side
from planner.geometry import Ring


def cut_lines(piece: Piece, role: Role = Role.TEMPLATE_CUT) -> Iterator[Shape]:
    """Every line to cut by: sides, cut-outs, holes."""
    for side in piece.cuts:
        yield from side_lines(side, role)
    for cutout in piece.cutouts:
        if cutout.shape == "round":
            yield Circle(role, cutout.centre, cutout.size[0] / 2)
        else:
            yield Outline(role, cutout_ring(cutout))
    for hole in piece.holes:
        if hole.circle is not None:
            yield Circle(role, hole.circle.centre, hole.circle.radius)
        else:
            yield Outline(role, hole.outline)


def kept_edges(piece: Piece, role: Role = Role.TEMPLATE_EDGE) -> Iterator[Shape]:
    """The edges that stay as the factory made them."""
    for side in piece.sides:
        if side.factory:
            yield from side_lines(side, role)


def side_lines(side: Side, role: Role) -> Iterator[Shape]:
    """A side as it runs: a line, or the true arc where it is part of a circle."""
    if side.circle is None or len(side.points) < 3:
        yield from (Line(role, a, b) for a, b in zip(side.points, side.points[1:], strict=False))
        return
    (x, y), turned = side.circle.centre, bends_left(side)
    start, end = (side.points[0], side.points[-1]) if turned else (side.points[-1], side.points[0])
    angles = [math.degrees(math.atan2(p[1] - y, p[0] - x)) for p in (start, end)]
    yield Arc(role, (x, y), side.circle.radius, angles[0], angles[1])


def cut_geometry(piece: Piece) -> BaseGeometry:
    """The cut lines as geometry, to ask what a page shows of them."""
    lines = [LineString(side.points) for side in piece.cuts]
    lines += [LineString([*ring, ring[0]]) for ring in hole_rings(piece)]
    return shapely.union_all(lines)


def edge_geometry(piece: Piece) -> BaseGeometry:
    """The whole outline and all cut lines as geometry."""
    rim = LineString([*piece.outline, piece.outline[0]])
    return shapely.union_all([rim, cut_geometry(piece)])


def hole_rings(piece: Piece) -> list[Ring]:
    """Everything that is cut out of a piece, as rings."""
    return [*(cutout_ring(cutout) for cutout in piece.cutouts), *(hole.outline for hole in piece.holes)]


def cutout_ring(cutout: CutOut) -> Ring:
    """The rim of a cut-out."""
    (x, y), (width, depth) = cutout.centre, cutout.size
    if cutout.shape == "round":
        return circle(cutout.centre, width / 2)
    a, b = width / 2, depth / 2
    return ((x - a, y - b), (x + a, y - b), (x + a, y + b), (x - a, y + b))


def waste_band(piece: Piece, width: float) -> BaseGeometry:
    """The waste beside the cut lines: within `width` of them, outside the piece or inside what is cut out."""
    solid, whole = piece.shape, piece.whole
    sides = [LineString(side.points).buffer(width, cap_style="flat", join_style="mitre") for side in piece.cuts]
    bands = [shapely.union_all(sides).difference(solid)] if sides else []
    for ring in hole_rings(piece):
        hole = shapely.Polygon(ring)
        bands.append(hole.difference(hole.buffer(-width)))
    return shapely.union_all(bands).intersection(shapely.box(whole.left, whole.bottom, whole.right, whole.top))


def bends_left(side: Side) -> bool:
    """Whether a bow turns counter-clockwise as it runs, so that the piece bulges there."""
    a, b, c = side.points[0], side.points[len(side.points) // 2], side.points[-1]
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) > 0
