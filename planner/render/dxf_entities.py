"""Shapes as DXF entities, in model space, in a layout or in a block.

In: shapes and the space that takes them. Out: entities in it, each taking colour, pen and line type from its layer.
Dimensions hold the very strokes that SVG and PDF show; their text is left to CAD only when CAD would write the same.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import field, replace
from typing import Any, Literal

from planner.drawing.lettering import clean
from planner.drawing.roles import Role
from planner.drawing.shapes import Arc, Block, Circle, Dimension, Line, Outline, Shape, Symbol, Text
from planner.drawing.stylebook import Style
from planner.geometry import Frame, Point, Ring
from planner.records import dataclass
from planner.render import dxf_words as words
from planner.render.dimensioning import DrawnDimension, draw_dimension
from planner.render.dxf_tables import INSUNITS, LETTERS, Job, dimension_style
from planner.render.strokes import baseline

_DIGITS = 6  #: of a drawing unit
_ALIGN: dict[str, int] = {"left": 0, "centre": 1, "right": 2}
#: Lengths that differ by so little may be rounded apart, millimetres.
_DOUBT_MM = 0.005
_USER_PLACED = 128  #: bit of a dimension's type: its text does not stand where CAD would put it
_OUTERMOST, _OUTER = 16, 1  #: kinds of hatch boundary: a hole, the outline


@dataclass(frozen=True, slots=True)
class Space:
    """Model space, a layout or a block: somewhere to put shapes."""

    job: Job
    layout: Any
    scale: float  #: letters and ticks are this much larger than on paper
    blocks: Mapping[str, Block]
    unit: float  #: drawing units in a millimetre
    frame: Frame = field(default=Frame())  #: where shapes lie, millimetres
    inherits: str = ""  #: in a block: the layer of its inserts; shapes of that layer go on layer 0 and follow them
    inside: tuple[str, ...] = ()  #: blocks being defined

    def point(self, point: Point) -> Point:
        """In drawing units."""
        x, y = self.frame.outward(point)
        return (self.length(x), self.length(y))

    def ring(self, ring: Ring) -> list[Point]:
        """In drawing units."""
        return [self.point(point) for point in ring]

    def length(self, mm: float) -> float:
        """In drawing units."""
        return round(mm * self.unit, _DIGITS)

    def turned(self, angle_deg: float) -> float:
        """An angle of the shapes as it is in this space."""
        return angle_deg + self.frame.angle_deg

    def height(self, role: Role) -> float:
        """Height of a role's capitals here, millimetres."""
        return self.job.style.role(role).height * self.scale

    def on_layer(self, role: Role) -> dict[str, Any]:
        """Name the layer of a role, and say what a dashed one needs where the scale is not the file's main one."""
        layer = self.job.style.layer(role)
        attributes: dict[str, Any] = {"layer": "0" if layer.name == self.inherits else layer.name}
        enlarged = self.scale * (self.unit / self.job.paper_unit)
        if layer.dash and enlarged != self.job.enlarged:
            attributes["ltscale"] = enlarged / self.job.enlarged
        return attributes


def draw(space: Space, shapes: Sequence[Shape]) -> None:
    """Put shapes into a space, painted as in the other formats; ValueError for a symbol without a sound block."""
    for shape in _in_layer_order(shapes, space.job.style):
        _put(space, shape, space.on_layer(shape.role))


def _in_layer_order(shapes: Sequence[Shape], style: Style) -> list[Shape]:
    """Sort shapes by layer, layers in the order of first appearance."""
    order: dict[str, int] = {}
    for shape in shapes:
        order.setdefault(style.layer(shape.role).name, len(order))
    return sorted(shapes, key=lambda shape: order[style.layer(shape.role).name])


def _put(space: Space, shape: Shape, attributes: dict[str, Any]) -> None:
    layout = space.layout
    match shape:
        case Line():
            layout.add_line(space.point(shape.start), space.point(shape.end), attributes)
        case Outline(fill=True):
            _fill_rings(space, shape, attributes)
        case Outline():
            edge = _bowed(space, shape)
            layout.add_lwpolyline(edge, format="xyb", close=True, dxfattribs=attributes)
            for hole in shape.holes:
                layout.add_lwpolyline(space.ring(hole), close=True, dxfattribs=attributes)
        case Circle(fill=True):
            _fill_circle(space, shape, attributes)
        case Circle() | Arc() if isinstance(shape, Circle) or (shape.end_deg - shape.start_deg) % 360.0 == 0.0:
            layout.add_circle(space.point(shape.centre), space.length(shape.radius), attributes)
        case Arc():
            start, end = space.turned(shape.start_deg), space.turned(shape.end_deg)
            layout.add_arc(space.point(shape.centre), space.length(shape.radius), start, end, dxfattribs=attributes)
        case Text():
            _text(space, shape, attributes)
        case Dimension():
            _dimension(space, shape, attributes)
        case Symbol():
            _insert(space, shape, attributes)


def _bowed(space: Space, outline: Outline) -> list[tuple[float, ...]]:
    """The edge of an outline as x, y and the bulge of what leaves there; turning and moving leave bulges alone."""
    bulges = outline.bulges or (0.0,) * len(outline.points)
    return [(x, y, bulge) for (x, y), bulge in zip(space.ring(outline.points), bulges, strict=True)]


def _fill_rings(space: Space, outline: Outline, attributes: dict[str, Any]) -> None:
    hatch = space.layout.add_hatch(color=256, dxfattribs=attributes)  # by layer
    edge = _bowed(space, outline) if outline.bulges else space.ring(outline.points)
    hatch.paths.add_polyline_path(edge, flags=_OUTER)
    for hole in outline.holes:
        hatch.paths.add_polyline_path(space.ring(hole), flags=_OUTERMOST)


def _fill_circle(space: Space, circle: Circle, attributes: dict[str, Any]) -> None:
    hatch = space.layout.add_hatch(color=256, dxfattribs=attributes)
    hatch.paths.add_edge_path().add_arc(space.point(circle.centre), space.length(circle.radius), 0.0, 360.0)


def _text(space: Space, text: Text, attributes: dict[str, Any]) -> None:
    """Put letters on a point of their baseline, which every program reads alike.

    Without their masks: on a screen layers are switched off instead, and what covers others is in the way of editing.
    """
    if not clean(text.text).strip():
        return
    height = space.height(text.role)
    at = space.point(baseline(text, height))
    turn = space.turned(text.angle_deg)
    place = {"insert": at, "align_point": at, "halign": _ALIGN[text.horizontal], "rotation": turn}
    kind = {"height": space.length(height), "style": LETTERS}
    space.layout.add_text(words.drawn(text.text), dxfattribs={**attributes, **place, **kind})


def _dimension(space: Space, shape: Dimension, attributes: dict[str, Any]) -> None:
    paper_height = space.job.style.role(shape.role).height
    drawn = draw_dimension(shape, paper_height, space.scale)
    entity = space.layout.add_linear_dim(
        base=space.point(shape.line_at),
        p1=space.point(shape.start),
        p2=space.point(shape.end),
        angle=space.turned(shape.angle_deg),
        text=_override(space, shape),
        text_rotation=None if shape.text_angle_deg is None else space.turned(shape.text_angle_deg),
        dimstyle=dimension_style(space.job, space.scale, space.unit, paper_height).dxf.name,
        dxfattribs=attributes,
    ).dimension
    entity.dxf.geometry = _dimension_block(space, drawn, attributes)
    entity.dxf.text_midpoint = space.point(_middle(drawn.letters, space.height(shape.role)))
    entity.dxf.actual_measurement = space.length(_measure(shape))
    if not drawn.usual:
        entity.dxf.dimtype |= _USER_PLACED


def _dimension_block(space: Space, drawn: DrawnDimension, attributes: dict[str, Any]) -> str:
    """Hold what the dimension looks like, as CAD itself does."""
    block = space.job.document.blocks.new_anonymous_block(type_char="D")
    block.units = _units(space)
    for start, end in drawn.segments:
        block.add_line(space.point(start), space.point(end), attributes)
    _text(replace(space, layout=block), drawn.letters, attributes)
    return str(block.name)


def _middle(text: Text, height: float) -> Point:
    """Find the centre of letters that stand centred on their point."""
    return Frame(baseline(text, height), text.angle_deg).outward((0.0, height / 2))


def _measure(shape: Dimension) -> float:
    """Measure as CAD does: along the dimension line, in the drawing's millimetres."""
    radians = math.radians(shape.angle_deg)
    across, up = shape.end[0] - shape.start[0], shape.end[1] - shape.start[1]
    return abs(across * math.cos(radians) + up * math.sin(radians))


def _override(space: Space, shape: Dimension) -> str:
    """Give the text that CAD keeps when it draws the dimension anew; none when it would write the same by itself.

    A length halfway between two that CAD could write is no such: which way programs round it is up to them.
    """
    unit: Literal["in", "mm"] = "in" if space.job.imperial else "mm"
    own = {words.measured(max(0.0, _measure(shape) + off), unit) for off in (-_DOUBT_MM, _DOUBT_MM)}
    return "" if own == {shape.text} else words.dimension_override(shape.text)


# --- blocks -----------------------------------------------------------------------------------------------------------


def _insert(space: Space, symbol: Symbol, attributes: dict[str, Any]) -> None:
    name = _defined(space, symbol.block)
    reference = space.layout.add_blockref(name, space.point(symbol.at), _turned(space, symbol, attributes))
    tags = space.job.uses[symbol.block].tags
    reference.add_auto_attribs({tags[raw]: words.data(value) for raw, value in symbol.attributes})


def _defined(space: Space, raw: str) -> str:
    """Name a block in this file; it is defined when first asked for, once for each scale that it is used at."""
    block = space.blocks.get(raw)
    if block is None:
        raise ValueError(f"there is no block {raw!r}")
    if raw in space.inside:
        raise ValueError(f"the block {raw!r} holds itself")
    job, key = space.job, (block, space.scale, space.unit)
    if key not in job.blocks:
        job.blocks[key] = words.name(raw, job.blocks.values())
        definition = job.document.blocks.new(job.blocks[key])
        definition.units = _units(space)
        layers = job.uses[raw].layers
        inherits = next(iter(layers)) if len(layers) == 1 else ""
        inner = replace(space, layout=definition, frame=Frame(), inherits=inherits, inside=(*space.inside, raw))
        draw(inner, block.shapes)
        _define_tags(inner, job.uses[raw].tags)
    return job.blocks[key]


def _turned(space: Space, symbol: Symbol, attributes: dict[str, Any]) -> dict[str, Any]:
    return {**attributes, "rotation": space.turned(symbol.angle_deg)}


def _units(space: Space) -> int:
    """The unit of a block as $INSUNITS would say it: that of model space, or of paper where they differ."""
    job = space.job
    return INSUNITS[job.unit_name if space.unit == job.unit else "in" if job.imperial else "mm"]


def _define_tags(space: Space, tags: Mapping[str, str]) -> None:
    """Attributes are data, not letters: they are invisible, and the sheet draws its mark as a text."""
    layer = space.job.style.layer(Role.SERVICE_MARK).name  # never layer 0, which inserts would not take over
    height = space.length(space.height(Role.SERVICE_MARK))
    for raw, tag in tags.items():
        definition = space.layout.add_attdef(
            tag, (0.0, 0.0), height=height, dxfattribs={"layer": layer, "style": LETTERS, "prompt": words.data(raw)}
        )
        definition.is_invisible = True
