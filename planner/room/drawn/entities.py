"""The entities of a DXF, blocks unfolded, as lines and arcs in millimetres, layer by layer.

In comes an opened drawing of the DXF library, which this module uses without importing it; out come the layers. Rules
of the format, from the published DXF reference, from memory: what lies on layer 0 inside a block takes the layer of
the insert; layer names are the same in capitals and small letters; an extrusion of (0, 0, -1) looks from below and so
mirrors; arcs run counter-clockwise; bulge = tan(angle / 4); polyline vertices with flag 16 only steer a spline.
"""

import math
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import field
from itertools import pairwise
from typing import Any

from planner.arcs import bulge_from_sweep
from planner.errors import Complaint, InputError
from planner.geometry import Point
from planner.limits import raising
from planner.records import dataclass
from planner.room.drawn.faults import Original
from planner.room.drawn.loops import Loop, Stroke, circle_loop

DEEPEST_BLOCKS = 32
#: Numbers beyond this are no place on earth, in whatever unit.
FURTHEST = 1e12
#: A plane is level when its upright leans by no more than this, and a block when its axes rise by no more.
LEVEL = 1e-9
#: Things that could be a wall or a column, and are neither lines nor arcs.
UNREADABLE = {"SPLINE", "ELLIPSE", "MLINE", "HELIX", "REGION", "SOLID", "TRACE", "3DFACE", "3DSOLID", "BODY", "SURFACE"}


@dataclass(slots=True)
class Layer:
    """What is drawn on one layer."""

    name: str  #: as the drawing spells it
    strokes: list[Stroke] = field(default_factory=list)
    rings: list[Loop] = field(default_factory=list)  #: closed polylines and circles, run either way
    unread: Counter[str] = field(default_factory=Counter)  #: e.g. {"SPLINE": 2}

    @property
    def size(self) -> int:
        return len(self.strokes) + sum(len(ring.vertices) for ring in self.rings) + sum(self.unread.values())

    def take(self, entity: Any) -> None:
        """Add what one entity draws."""
        kind = entity.dxftype()
        if kind in UNREADABLE:
            self.unread[kind] += 1
            return
        try:
            strokes, rings = _READERS[kind](entity)
        except _Unfit as reason:
            self.unread[f"{reason} {kind}"] += 1
            return
        self.strokes += strokes
        self.rings += rings

    def pour(self, other: "Layer", place: "_Map | None") -> None:
        """Add what another layer holds, where a map puts it; `None` is out of plan."""
        self.unread += other.unread
        if place is None:
            self.unread["tilted line"] += len(other.strokes) + len(other.rings)
            return
        for stroke in other.strokes:
            try:
                self.strokes.append(place.stroke(stroke))
            except _Unfit as reason:
                self.unread[f"{reason} {'arc' if stroke.bulge else 'line'}"] += 1
        for ring in other.rings:
            try:
                self.rings.append(place.ring(ring))
            except _Unfit as reason:
                self.unread[f"{reason} loop"] += 1


class _Unfit(Exception):
    """Something drawn that cannot be a line or arc in a plan; its text says how it is."""


def layer_key(name: str) -> str:
    """What two spellings of a layer have in common."""
    return name.strip().lower()


def clean(text: str) -> str:
    """Text of the drawing's as it can be shown: bytes that were no letters and control characters are replaced."""
    shown = text.encode("utf-8", "replace").decode("utf-8")
    return "".join(c if c.isprintable() else "?" for c in shown)


def unfold(doc: Any, original: Original, wanted: str | None) -> dict[str, Layer]:
    """The layers of the model that hold lines or things that might be walls; only the one `wanted`, by its key.

    InputError when blocks hold themselves or there are more lines than the limit `strokes`.
    """
    unit = original.unit_mm
    drawn = _Unfolding(doc, original, wanted).content(doc.modelspace(), depth=0)
    spelling = {layer_key(entry.dxf.name): entry.dxf.name for entry in doc.layers}
    layers = {}
    for key, layer in drawn.items():
        layers[key] = Layer(clean(spelling.get(key, layer.name)))
        layers[key].pour(layer, _Map(unit, 0.0, 0.0, unit, 0.0, 0.0))
    return layers


class _Unfolding:
    """Reads blocks once each and counts as it goes, so that a small file cannot unfold into a huge drawing."""

    def __init__(self, doc: Any, original: Original, wanted: str | None) -> None:
        self.doc = doc
        self.original = original
        self.wanted = wanted
        self.blocks: dict[str, list[Layer]] = {}
        self.count = 0

    def content(self, entities: Iterable[Any], depth: int) -> dict[str, Layer]:
        """What entities draw, by the key of their layer; inside blocks (depth > 0) "0" is still open."""
        layers: dict[str, Layer] = {}
        for entity in entities:
            kind = entity.dxftype()
            if kind not in _KINDS or _said(entity, "invisible", 0):
                continue
            name = _said(entity, "layer", "0")
            if kind == "INSERT":
                self._insert(entity, name, depth, layers)
            elif self._asked_for(layer_key(name), depth):
                layers.setdefault(layer_key(name), Layer(name)).take(entity)
                self._counted(1)
        return {key: layer for key, layer in layers.items() if layer.size}

    def _asked_for(self, key: str, depth: int) -> bool:
        return self.wanted in (None, key) or (depth > 0 and key == "0")

    def _insert(self, insert: Any, name: str, depth: int, layers: dict[str, Layer]) -> None:
        """Put a block's content where each of its rows and columns comes to lie."""
        content = self._block(_said(insert, "name", ""), depth + 1)  # one without a name draws nothing
        size = sum(layer.size for layer in content)
        if not size:
            return
        self._counted(size * max(1, insert.dxf.row_count) * max(1, insert.dxf.column_count))
        for layer in content:
            taken = name if layer_key(layer.name) == "0" else layer.name
            if self._asked_for(layer_key(taken), depth):
                into = layers.setdefault(layer_key(taken), Layer(taken))
                for place in _places(insert):
                    into.pour(layer, place)

    def _block(self, name: str, depth: int) -> list[Layer]:
        """The content of a block in its own plane."""
        key = name.lower()
        if depth > DEEPEST_BLOCKS:
            raise self._refusal(f"block {clean(name)} holds itself, or blocks are nested too deeply", "")
        if key not in self.blocks:
            block = self.doc.blocks.get(name)
            self.blocks[key] = list(self.content(block or (), depth).values())
        return self.blocks[key]

    def _counted(self, more: int) -> None:
        self.count += more
        most = self.original.limits.strokes
        if self.count > most:
            problem = f"more than {most:,} lines are drawn on the layers read, blocks unfolded"
            raise self._refusal(problem, f" {raising('strokes', max(2 * most, self.count))}")

    def _refusal(self, problem: str, more: str) -> InputError:
        mend = "Save only the room's outline and columns, on a layer of their own, and name that layer."
        return InputError((Complaint("", problem, mend + more, file=self.original.file),))


@dataclass(frozen=True, slots=True)
class _Map:
    """Where a plane comes to lie: (x, y) to (ax + by + e, cx + dy + f)."""

    a: float
    b: float
    c: float
    d: float
    e: float
    f: float

    def stroke(self, stroke: Stroke) -> Stroke:
        return Stroke(self._point(stroke.start), self._point(stroke.end), self._bulge(stroke.bulge))

    def ring(self, loop: Loop) -> Loop:
        return Loop(tuple(map(self._point, loop.vertices)), tuple(map(self._bulge, loop.bulges)))

    def _point(self, p: Point) -> Point:
        x, y = self.a * p[0] + self.b * p[1] + self.e, self.c * p[0] + self.d * p[1] + self.f
        if not (abs(x) <= FURTHEST and abs(y) <= FURTHEST):
            raise _Unfit("impossibly placed")
        return (x, y)

    def _bulge(self, bulge: float) -> float:
        if bulge and not self._keeps_circles():
            raise _Unfit("stretched")
        return bulge if self.a * self.d > self.b * self.c else -bulge

    def _keeps_circles(self) -> bool:
        along, across = self.a * self.a + self.c * self.c, self.b * self.b + self.d * self.d
        slack = 1e-9 * along
        return abs(along - across) <= slack and abs(self.a * self.b + self.c * self.d) <= slack


_SEEN_FROM_BELOW = _Map(-1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


Drawn = tuple[list[Stroke], list[Loop]]


def _line(entity: Any) -> Drawn:
    return [Stroke(_plan(entity, "start"), _plan(entity, "end"))], []


def _arc(entity: Any) -> Drawn:
    """An arc as the reference has it, counter-clockwise from one angle to the other; all round if these are equal."""
    first, last = _number(entity.dxf.get("start_angle")), _number(entity.dxf.get("end_angle"))
    sweep = (last - first) % 360.0
    if sweep == 0.0:
        return _circle(entity)
    (x, y), radius = _plan(entity, "center"), _radius(entity)
    start, end = (
        (x + radius * math.cos(a), y + radius * math.sin(a)) for a in map(math.radians, (first, first + sweep))
    )
    return _facing(entity, [Stroke(start, end, bulge_from_sweep(sweep))], [])


def _circle(entity: Any) -> Drawn:
    return _facing(entity, [], [circle_loop(_plan(entity, "center"), _radius(entity))])


def _lwpolyline(entity: Any) -> Drawn:
    rows = [tuple(map(_number, row)) for row in entity.get_points("xyb")]
    return _facing(entity, *_polyline([((x, y), bulge) for x, y, bulge in rows], bool(entity.closed)))


def _old_polyline(entity: Any) -> Drawn:
    """A POLYLINE of the plane or in space; the latter has no bulges and is looked at from above."""
    if not (entity.is_2d_polyline or entity.is_3d_polyline):
        raise _Unfit("meshed")
    steered = [v for v in entity.vertices if not v.dxf.get("flags", 0) & 16]
    rows = [(_plan(v, "location"), _number(v.dxf.get("bulge", 0.0))) for v in steered]
    drawn = _polyline(rows, bool(entity.is_closed))
    return _facing(entity, *drawn) if entity.is_2d_polyline else drawn


def _polyline(rows: Sequence[tuple[Point, float]], closed: bool) -> Drawn:
    """A closed polyline as a loop of its own, unless it is a line there and back; an open one as strokes."""
    points, bulges = tuple(p for p, _ in rows), tuple(b for _, b in rows)
    if closed and (len(points) > 2 or (len(points) == 2 and any(bulges))):
        return [], [Loop(points, bulges)]
    return [Stroke(a, b, bulge) for (a, b), bulge in zip(pairwise(points), bulges[:-1], strict=True)], []


_READERS: dict[str, Callable[[Any], Drawn]] = {
    "LINE": _line,
    "ARC": _arc,
    "CIRCLE": _circle,
    "LWPOLYLINE": _lwpolyline,
    "POLYLINE": _old_polyline,
}


_KINDS = {*_READERS, *UNREADABLE, "INSERT"}


def _said(entity: Any, name: str, default: Any) -> Any:
    """An attribute of an entity, or the default where it has none or its kind never has."""
    return entity.dxf.get(name, default) if entity.dxf.is_supported(name) else default


def _facing(entity: Any, strokes: list[Stroke], rings: list[Loop]) -> Drawn:
    """What an entity draws in its own plane, seen from above; _Unfit when that plane is not level."""
    x, y, z = entity.dxf.get("extrusion", (0.0, 0.0, 1.0))
    if not (abs(x) <= LEVEL * abs(z) and abs(y) <= LEVEL * abs(z) and z):
        raise _Unfit("tilted")
    if z > 0:
        return strokes, rings
    return [_SEEN_FROM_BELOW.stroke(s) for s in strokes], [_SEEN_FROM_BELOW.ring(r) for r in rings]


def _plan(entity: Any, name: str) -> Point:
    """A point of an entity, looked at from above."""
    value = entity.dxf.get(name)
    if value is None:
        raise _Unfit("broken")
    return (_number(value[0]), _number(value[1]))


def _radius(entity: Any) -> float:
    radius = _number(entity.dxf.get("radius"))
    if radius <= 0:
        raise _Unfit("broken")
    return radius


def _number(value: Any) -> float:
    """A number as read; _Unfit for what is none or is too large for any drawing."""
    if value is None or not abs(value) <= FURTHEST:
        raise _Unfit("broken")
    return float(value)


def _places(insert: Any) -> Iterator[_Map | None]:
    """Where each row and column of an insert puts its block; `None` where that is not level.

    Rows and columns are spaced in the insert's own plane, turned with it and not scaled.
    """
    matrix = insert.matrix44()
    along, across = matrix.transform_direction((1, 0, 0)), matrix.transform_direction((0, 1, 0))
    origin = matrix.transform((0, 0, 0))
    level = abs(along.z) <= LEVEL * along.magnitude and abs(across.z) <= LEVEL * across.magnitude
    turn, ocs = math.radians(insert.dxf.rotation), insert.ocs()
    for right, up in _grid(insert):
        shift = ocs.to_wcs(
            (right * math.cos(turn) - up * math.sin(turn), right * math.sin(turn) + up * math.cos(turn), 0)
        )
        x, y = origin.x + shift[0], origin.y + shift[1]
        yield _Map(along.x, across.x, along.y, across.y, x, y) if level else None


def _grid(insert: Any) -> Iterator[Point]:
    """Offsets of rows and columns, each place once."""
    columns = max(1, insert.dxf.column_count) if insert.dxf.column_spacing else 1
    rows = max(1, insert.dxf.row_count) if insert.dxf.row_spacing else 1
    for row in range(rows):
        for column in range(columns):
            yield (column * insert.dxf.column_spacing, row * insert.dxf.row_spacing)
