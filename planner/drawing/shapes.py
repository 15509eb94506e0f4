"""The sheet-neutral drawing: a handful of shapes on roles, drawings made of shapes, sheets that show drawings.

This is model space and paper space. A `Drawing` holds shapes in the room's own millimetres, y up. A `Sheet` is paper,
also in millimetres with its lower left corner at (0, 0); it shows drawings through windows and carries what belongs to
the paper. Letter heights, pens, dashes and dimension offsets are always paper millimetres; a drawing knows the scale
at which it is annotated, so that a letter of height h is h * scale tall in the model. A drawing of a room that lies in
somebody else's drawing also knows where: formats that have a model space put it there, the paper does not turn with it.

Shapes never hold colours or pens: they hold a role. Numbers are finite; a shape with NaN or infinity is a fault and
raises ValueError when it is made.
"""

import math
from dataclasses import field, fields
from functools import cache
from typing import Any, Literal

from planner.arcs import arc_of, is_flat
from planner.drawing.roles import Role
from planner.geometry import Box, Frame, Point, Ring, box_of, edges
from planner.records import dataclass

#: Millimetres in each unit that a drawing can be in.
UNITS = {"in": 25.4, "ft": 304.8, "mm": 1.0, "cm": 10.0, "m": 1000.0}

Horizontal = Literal["left", "centre", "right"]
Vertical = Literal["base", "middle", "top"]


class _Finite:
    """Refuses numbers that no file format can hold."""

    __slots__ = ()

    def __post_init__(self) -> None:
        _check_numbers(self)


def _check_numbers(shape: object) -> None:
    kind: Any = type(shape)
    for name in _with_numbers(kind):
        _check_finite(getattr(shape, name))


@cache
def _with_numbers(kind: Any) -> tuple[str, ...]:
    """The fields of a shape that may hold numbers."""
    return tuple(each.name for each in fields(kind) if each.type not in (Role, str, bool))


def _check_finite(value: object) -> None:
    if isinstance(value, float):
        if not math.isfinite(value):
            raise ValueError(f"a shape holds {value}")
    elif isinstance(value, tuple):
        for part in value:
            _check_finite(part)


@dataclass(frozen=True, slots=True)
class Line(_Finite):
    """A straight stroke."""

    role: Role
    start: Point
    end: Point
    title: str = ""  #: shown on hover and read aloud, e.g. "Main tee M3, 5486 mm"


@dataclass(frozen=True, slots=True)
class Outline(_Finite):
    """A closed outline: stroked, or filled with the role's colour (never both; draw two shapes).

    `bulges` bow its edges to arcs: one for the edge that leaves each point, tan(swept angle / 4) as in `planner.arcs`,
    positive where the arc turns counter-clockwise. ValueError when there are some but not as many as points.
    """

    role: Role
    points: Ring
    holes: tuple[Ring, ...] = ()  #: always straight
    fill: bool = False
    title: str = ""
    bulges: tuple[float, ...] = ()  #: empty = all straight

    def __post_init__(self) -> None:
        _check_numbers(self)
        if self.bulges and len(self.bulges) != len(self.points):
            raise ValueError(f"an outline has {len(self.points)} edges but {len(self.bulges)} bulges")


@dataclass(frozen=True, slots=True)
class Circle(_Finite):
    """A full circle: stroked, or filled."""

    role: Role
    centre: Point
    radius: float
    fill: bool = False
    title: str = ""


@dataclass(frozen=True, slots=True)
class Arc(_Finite):
    """Part of a circle, counter-clockwise from start to end."""

    role: Role
    centre: Point
    radius: float
    start_deg: float
    end_deg: float
    title: str = ""


@dataclass(frozen=True, slots=True)
class Text(_Finite):
    """One line of letters, as tall as the style says for its role."""

    role: Role
    at: Point
    text: str
    horizontal: Horizontal = "left"
    vertical: Vertical = "base"  #: "middle" and "top" refer to the capitals
    angle_deg: float = 0.0
    link: str = ""  #: key of the sheet that these letters send the reader to
    mask: float = 0.0  #: thin lines below are left out as far as this around the letters, paper millimetres; 0 = none


@dataclass(frozen=True, slots=True)
class Dimension(_Finite):
    """A measured distance between two points, along `angle_deg`; the dimension line runs through `line_at`.

    `text` is what the trade would write; it stands above the line, readable from below or from the right.
    """

    role: Role
    start: Point
    end: Point
    line_at: Point
    angle_deg: float
    text: str
    text_at: Point | None = None  #: centre of the letters, where they do not stand above the middle of the line
    text_angle_deg: float | None = None  #: with `text_at` only; None = along the line
    mask: float = 0.0  #: as that of a `Text`


@dataclass(frozen=True, slots=True)
class Symbol(_Finite):
    """An insert of a named block. Attributes are data for the architect (mark, kind, size ...), not drawn text."""

    role: Role
    block: str
    at: Point
    angle_deg: float = 0.0
    attributes: tuple[tuple[str, str], ...] = ()
    title: str = ""


Shape = Line | Outline | Circle | Arc | Text | Dimension | Symbol


@dataclass(frozen=True, slots=True)
class Block:
    """What a symbol looks like, at true size around its insertion point. Shapes inside take their own roles."""

    name: str
    shapes: tuple[Shape, ...]


@dataclass(frozen=True, slots=True)
class Drawing:
    """Shapes in the room's millimetres, annotated for one scale."""

    shapes: tuple[Shape, ...]
    blocks: tuple[Block, ...]
    scale: float  #: denominator: 50 means 1:50
    unit: str  #: the job's unit or that of the drawing it lies in, one of `UNITS`; used by formats that carry one
    imperial_scale: str = ""  #: e.g. 1/4" = 1'-0", when the scale is one of those
    placement: Frame = field(default=Frame())  #: the room's frame in the drawing it lies in, millimetres


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper as it lies, with the margins of its frame."""

    name: str  #: e.g. "A3", "ANSI B"
    width: float
    height: float
    margins: tuple[float, float, float, float] = (20.0, 10.0, 10.0, 10.0)  #: left, right, top, bottom
    border: str = "plain"  #: what is around its frame: "iso-5457", "us" or "plain"

    @property
    def frame(self) -> Box:
        left, right, top, bottom = self.margins
        return Box(left, bottom, self.width - right, self.height - top)


@dataclass(frozen=True, slots=True)
class Window:
    """A part of the paper that shows a drawing at the drawing's scale."""

    drawing: Drawing
    box: Box  #: on the paper
    centre: Point  #: model point that lies at the centre of the box
    part: tuple[Shape, ...] | None = None  #: the shapes that it shows, where it shows a part of the drawing

    @property
    def shown(self) -> tuple[Shape, ...]:
        """The shapes to draw when the window stands by itself."""
        return self.drawing.shapes if self.part is None else self.part

    def to_paper(self, point: Point) -> Point:
        x, y = self.box.centre
        return (
            x + (point[0] - self.centre[0]) / self.drawing.scale,
            y + (point[1] - self.centre[1]) / self.drawing.scale,
        )


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet of the set."""

    key: str  #: file stem, e.g. "ceiling-plan"
    title: str
    paper: Paper
    windows: tuple[Window, ...]
    shapes: tuple[Shape, ...]  #: on the paper, paper millimetres
    language: str = "en"
    part_of: str = ""  #: key of the sheet that it goes on from, when a plan is in parts


def extents(shapes: tuple[Shape, ...]) -> Box:
    """The box around the geometry of shapes; letters count as their anchor points, symbols as their insertion."""
    points: list[Point] = []
    for shape in shapes:
        match shape:
            case Line(start=a, end=b):
                points += [a, b]
            case Outline(points=ring, bulges=bulges):
                points += ring
                points += _outermost(ring, bulges)
            case Circle(centre=(x, y), radius=r) | Arc(centre=(x, y), radius=r):
                points += [(x - r, y - r), (x + r, y + r)]
            case Dimension(start=a, end=b, line_at=c):
                points += [a, b, c]
            case Text(at=a) | Symbol(at=a):
                points.append(a)
    return box_of(points)


def _outermost(ring: Ring, bulges: tuple[float, ...]) -> list[Point]:
    """Where the arcs of an outline reach furthest left, right, down and up, beyond their ends."""
    found = []
    for (start, end), bulge in zip(edges(ring), bulges, strict=False):
        if is_flat(start, end, bulge):
            continue
        arc = arc_of(start, end, bulge)
        low, high = sorted((arc.start_deg, arc.end_deg))
        for quarter in range(math.ceil(low / 90), math.floor(high / 90) + 1):
            x, y = Frame(arc.centre, 90.0 * quarter).outward((arc.radius, 0.0))
            found.append((x, y))
    return found
