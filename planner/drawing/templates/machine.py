"""A template for a cutting machine: a sheet at real size, with what to cut, score and mark on layers of their own.

In: a template, its numbers. Out: a `Sheet` as large as the piece and a rim, and the `Style` that names the layers cut,
score and mark. What is cut is one closed path for the outline, with true arcs, and one for each hole; scored are centre
lines and the corner to measure from; marked is what a person reads. Red, blue, black: common practice, no source.
Corrections for a printer have no place here.
"""

import itertools
import math

from planner.drawing.labels import Heights
from planner.drawing.roles import Role
from planner.drawing.shapes import Circle, Outline, Paper, Shape, Sheet, Text
from planner.drawing.stylebook import Layer, RoleStyle, Style
from planner.drawing.tables import moved
from planner.drawing.templates.choice import Template
from planner.drawing.templates.full_size import full_size
from planner.drawing.templates.key_page import Job
from planner.drawing.templates.numbers import station_for
from planner.drawing.templates.offsets import offsets_of
from planner.drawing.templates.piece import Piece, Side
from planner.drawing.templates.piece_lines import bends_left, cutout_ring
from planner.geometry import Point, distance

_RIM = 5.0
_LAYERS = (Layer("cut", "#ff0000", 1, 0.13), Layer("score", "#0000ff", 5, 0.13), Layer("mark", "#000000", 7, 0.13))


def machine_sheet(template: Template, job: Job) -> Sheet:
    """The sheet for one template; no windows, so that nothing in the file is clipped."""
    piece, box = template.piece, template.piece.box
    offsets = offsets_of(piece, station_for(job.units))
    drawn = full_size(piece, offsets, job.heights, job.units, job.corner)
    lettered = (shape for shape in drawn if isinstance(shape, Text) or shape.role is Role.CENTRE_MARK)
    shapes = (*_paths(piece), *map(_scored, lettered))
    return Sheet(
        key=f"template-{template.name}",
        title=template.name,
        paper=Paper(template.name, box.width + 2 * _RIM, box.height + 2 * _RIM, (0.0, 0.0, 0.0, 0.0)),
        windows=(),
        shapes=moved(shapes, (_RIM - box.left, _RIM - box.bottom)),
        language=job.language,
    )


def machine_style(heights: Heights) -> Style:
    """Layers for a cutting machine; letters as high as in another style."""
    layers = {Role.TEMPLATE_CUT: "cut", Role.CENTRE_MARK: "score"}
    roles = tuple((role, RoleStyle(layers.get(role, "mark"), heights[role])) for role in Role)
    return Style("machine", "for a cutting machine", "A4", _LAYERS, roles)


def _paths(piece: Piece) -> list[Shape]:
    bulges = tuple(map(_bulge, piece.sides))
    paths: list[Shape] = [Outline(Role.TEMPLATE_CUT, tuple(side.points[0] for side in piece.sides), bulges=bulges)]
    for cutout in piece.cutouts:
        if cutout.shape == "round":
            paths.append(Circle(Role.TEMPLATE_CUT, cutout.centre, cutout.size[0] / 2))
        else:
            paths.append(Outline(Role.TEMPLATE_CUT, cutout_ring(cutout)))
    for hole in piece.holes:
        if hole.circle is not None:
            paths.append(Circle(Role.TEMPLATE_CUT, hole.circle.centre, hole.circle.radius))
        else:
            paths.append(Outline(Role.TEMPLATE_CUT, hole.outline))
    return paths


def _bulge(side: Side) -> float:
    """tan(sweep / 4) of a side, positive where it turns left, as `planner.arcs` has it."""
    if side.circle is None or len(side.points) < 3:
        return 0.0
    half = math.asin(min(distance(side.points[0], side.points[-1]) / (2 * side.circle.radius), 1.0))
    if _length(side.points) > math.pi * side.circle.radius:
        half = math.pi - half
    return math.copysign(math.tan(half / 2), 1.0 if bends_left(side) else -1.0)


def _length(points: tuple[Point, ...]) -> float:
    return sum(distance(a, b) for a, b in itertools.pairwise(points))


def _scored(shape: Shape) -> Shape:
    """An arrow's head is marked, not scored: nobody scores an area."""
    if isinstance(shape, Outline):
        return Outline(Role.NOTE, shape.points, fill=shape.fill)
    return shape
