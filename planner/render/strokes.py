"""A sheet as strokes, fills and glyphs on the paper: the one function from which SVG and PDF are written.

In: a `Sheet` and a `Style`. Out: for each layer that is used and plots, in painting order, its marks in paper
millimetres, y up, origin in the lower left corner of the paper. Rule: layers are painted in the order in which they
first appear (windows first, then what belongs to the paper), shapes within a layer in their own order.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import field, replace

from planner.drawing.labels import grown_ring
from planner.drawing.lettering import clean, safe, text_width
from planner.drawing.shapes import Arc, Block, Circle, Dimension, Horizontal, Line, Outline, Shape, Sheet, Symbol, Text
from planner.drawing.shapes import Window as SheetWindow
from planner.drawing.stylebook import Layer, Style
from planner.geometry import Frame, Point, Ring
from planner.records import dataclass
from planner.render.curves import chords, sweep_chain
from planner.render.dimensioning import draw_dimension

#: The edge of a fill is drawn as chords that leave its arcs by no more than this, paper millimetres.
_CHORD_ERROR = 0.005


@dataclass(frozen=True, slots=True)
class Stroke:
    """A chain of strokes, straight or bowed."""

    points: Ring
    closed: bool = False
    title: str = ""
    bulges: tuple[float, ...] = ()  #: of the leg that leaves each point, as in `planner.arcs`; empty = all straight


@dataclass(frozen=True, slots=True)
class Area:
    """A filled outline with holes: inside is what an odd number of rings surround."""

    rings: tuple[Ring, ...]
    title: str = ""


@dataclass(frozen=True, slots=True)
class Round:
    """A circle, stroked or filled."""

    centre: Point
    radius: float
    fill: bool = False
    title: str = ""


@dataclass(frozen=True, slots=True)
class Glyphs:
    """One line of letters. `at` lies on the baseline, at the left end, centre or right end of the line."""

    text: str
    at: Point
    height: float  #: of capitals
    horizontal: Horizontal
    angle_deg: float
    link: str = ""  #: key of the sheet that they send the reader to

    @property
    def width(self) -> float:
        return text_width(self.text, self.height)

    @property
    def start(self) -> Point:
        """The left end of the baseline."""
        back = {"left": 0.0, "centre": 0.5, "right": 1.0}[self.horizontal] * self.width
        return Frame(self.at, self.angle_deg).outward((-back, 0.0))


@dataclass(frozen=True, slots=True)
class Blank:
    """Bare paper: what was painted before is left out in it, so that letters on it can be read."""

    ring: Ring


Mark = Stroke | Area | Round | Blank | Glyphs


@dataclass(frozen=True, slots=True)
class Patch:
    """Marks seen through one window, or lying on the paper itself."""

    window: int | None  #: its place in `Sheet.windows`; what it shows is clipped by its box
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class LayerMarks:
    """All that one layer shows on a sheet."""

    layer: Layer
    patches: tuple[Patch, ...]


def explode(sheet: Sheet, style: Style) -> tuple[LayerMarks, ...]:
    """Sort the marks of a sheet by layer; ValueError for a symbol whose block is unknown or holds itself."""
    patches: list[tuple[int | None, dict[str, Layer], dict[str, list[Mark]]]] = [
        (number, *_sorted(_of_window(window, style))) for number, window in enumerate(sheet.windows)
    ]
    patches.append((None, *_sorted(_of_paper(sheet, style))))
    layers = {layer.name: layer for _, found, _ in patches for layer in found.values()}
    return tuple(
        LayerMarks(layer, tuple(Patch(seen, tuple(marks[name])) for seen, _, marks in patches if name in marks))
        for name, layer in layers.items()
        if layer.plots
    )


def baseline(text: Text, height: float) -> Point:
    """Find the point of a text's baseline that its `horizontal` names; `height` of capitals in the text's own unit."""
    drop = {"base": 0.0, "middle": 0.5, "top": 1.0}[text.vertical] * height
    return Frame(text.at, text.angle_deg).outward((0.0, -drop))


def blocks_of(sheet: Sheet) -> dict[str, Block]:
    """List the blocks that symbols on the paper itself may name: those of the drawings shown."""
    return {block.name: block for window in sheet.windows for block in window.drawing.blocks}


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a drawing, or a block within it, lies on the paper."""

    frame: Frame
    factor: float  #: paper millimetres for one of the drawing's
    blocks: Mapping[str, Block]
    inside: frozenset[str] = field(default=frozenset())  #: blocks being drawn, so that none draws itself

    def point(self, point: Point) -> Point:
        return self.frame.outward((point[0] * self.factor, point[1] * self.factor))

    def ring(self, points: Iterable[Point]) -> Ring:
        return tuple(self.point(point) for point in points)

    def into(self, symbol: Symbol) -> "_Place":
        if symbol.block in self.inside:
            raise ValueError(f"the block {symbol.block!r} holds itself")
        turned = Frame(self.point(symbol.at), self.frame.angle_deg + symbol.angle_deg)
        return _Place(turned, self.factor, self.blocks, self.inside | {symbol.block})


_PAPER = _Place(Frame(), 1.0, {})
_Found = Iterator[tuple[Layer, Mark]]


def _of_window(window: SheetWindow, style: Style) -> _Found:
    blocks = {block.name: block for block in window.drawing.blocks}
    place = _Place(Frame(window.to_paper((0.0, 0.0))), 1.0 / window.drawing.scale, blocks)
    return _of_shapes(window.shown, place, style)


def _of_paper(sheet: Sheet, style: Style) -> _Found:
    return _of_shapes(sheet.shapes, _Place(Frame(), 1.0, blocks_of(sheet)), style)


def _sorted(found: _Found) -> tuple[dict[str, Layer], dict[str, list[Mark]]]:
    """Sort marks by the name of their layer, layers in the order of first appearance."""
    layers: dict[str, Layer] = {}
    marks: dict[str, list[Mark]] = {}
    for layer, mark in found:
        layers.setdefault(layer.name, layer)
        marks.setdefault(layer.name, []).append(mark)
    return layers, marks


def _of_shapes(shapes: Iterable[Shape], place: _Place, style: Style, title: str = "") -> _Found:
    """Explode shapes; `title` is that of the symbol they belong to."""
    for shape in shapes:
        if isinstance(shape, Symbol):
            block = place.blocks.get(shape.block)
            if block is None:
                raise ValueError(f"there is no block {shape.block!r}")
            yield from _of_shapes(block.shapes, place.into(shape), style, safe(shape.title) or title)
            continue
        layer = style.layer(shape.role)
        for mark in _of_shape(shape, place, style.role(shape.role).height, title):
            yield layer, mark


def _of_shape(shape: Shape, place: _Place, height: float, title: str) -> Iterator[Mark]:
    match shape:
        case Line():
            yield Stroke((place.point(shape.start), place.point(shape.end)), title=safe(shape.title) or title)
        case Outline(fill=True):
            edge = chords(place.ring(shape.points), shape.bulges, _CHORD_ERROR)
            yield Area((edge, *map(place.ring, shape.holes)), safe(shape.title) or title)
        case Outline():
            yield Stroke(place.ring(shape.points), True, safe(shape.title) or title, shape.bulges)
            for ring in shape.holes:
                yield Stroke(place.ring(ring), True, safe(shape.title) or title)
        case Circle():
            title = safe(shape.title) or title
            yield Round(place.point(shape.centre), shape.radius * place.factor, shape.fill, title)
        case Arc():
            sweep = (shape.end_deg - shape.start_deg) % 360.0 or 360.0
            points, bulges = sweep_chain(shape.centre, shape.radius, shape.start_deg, sweep)
            yield Stroke(place.ring(points), title=safe(shape.title) or title, bulges=bulges)
        case Text():
            yield from _text(shape, place, height)
        case Dimension():
            yield from _dimension(shape, place, height)


def _text(text: Text, place: _Place, height: float) -> Iterator[Mark]:
    letters = clean(text.text)
    if letters.strip():
        if text.mask:
            factor = place.factor
            yield Blank(place.ring(grown_ring(replace(text, text=letters), height / factor, text.mask / factor)))
        at = place.point(baseline(text, height / place.factor))
        yield Glyphs(letters, at, height, text.horizontal, text.angle_deg + place.frame.angle_deg, text.link)


def _dimension(shape: Dimension, place: _Place, height: float) -> Iterator[Mark]:
    turn = place.frame.angle_deg
    on_paper = replace(
        shape,
        start=place.point(shape.start),
        end=place.point(shape.end),
        line_at=place.point(shape.line_at),
        angle_deg=shape.angle_deg + turn,
        text_at=shape.text_at and place.point(shape.text_at),
        text_angle_deg=None if shape.text_angle_deg is None else shape.text_angle_deg + turn,
    )
    drawn = draw_dimension(on_paper, height, 1.0)
    for segment in drawn.segments:
        yield Stroke(segment)
    yield from _text(drawn.letters, _PAPER, height)
