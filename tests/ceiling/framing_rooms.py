"""Rooms and layouts for the tests of the frame, built by hand and at random."""

import math

from hypothesis import strategies as st
from shapely import Polygon

from planner.ceiling.model import Layout
from planner.geometry import Frame, Point, Ring
from planner.room.outline import Column, Joists, Room

INCH = 25.4


def room_of(outline: Ring, columns: tuple[Column, ...] = (), joists: Joists | None = None) -> Room:
    names = tuple(f"P{k}" for k in range(len(outline)))
    return Room("test room", "mm", outline, names, columns, joists)


def rectangle(width: float, depth: float, **more: object) -> Room:
    return room_of(((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)), **more)  # type: ignore[arg-type]


def grid(origin: Point, module: tuple[float, float], angle: float = 0.0) -> Layout:
    """Only what the frame looks at: where the grid lies."""
    return Layout(Frame(origin, angle), module, (), None, (), (), True, "for the test")


def block(name: str, corner: Point, width: float, depth: float) -> Column:
    x, y = corner
    ring = (corner, (x + width, y), (x + width, y + depth), (x, y + depth))
    return Column(name, ring, (x + width / 2, y + depth / 2))


def floor_of(room: Room) -> Polygon:
    floor = Polygon(room.outline)
    for column in room.columns:
        floor = floor.difference(Polygon(column.outline))
    return floor


@st.composite
def rectilinear(draw: st.DrawFn) -> Ring:
    """Strips side by side, each overlapping its neighbour: L, T, U and stair shapes, in whole modules or not."""
    sizes = st.one_of(st.integers(5, 40).map(lambda n: n * 75.0), st.floats(400, 3500))
    widths = draw(st.lists(sizes, min_size=1, max_size=4))
    bottoms = draw(st.lists(st.sampled_from([0.0, 300.0, 437.5, 600.0]), min_size=len(widths), max_size=len(widths)))
    tops = draw(st.lists(sizes.map(lambda size: size + 700.0), min_size=len(widths), max_size=len(widths)))
    xs = [sum(widths[:k]) for k in range(len(widths) + 1)]
    lower = [(x, bottoms[k]) for k in range(len(widths)) for x in (xs[k], xs[k + 1])]
    upper = [(x, tops[k]) for k in reversed(range(len(widths))) for x in (xs[k + 1], xs[k])]
    return tuple(Polygon(lower + upper).simplify(0).exterior.coords[:-1])


@st.composite
def slanted(draw: st.DrawFn) -> Ring:
    """A star-shaped room: corners at growing angles, at any distance from the middle."""
    corners = draw(st.integers(3, 9))
    radii = draw(st.lists(st.floats(700, 4000), min_size=corners, max_size=corners))
    turn = 2 * math.pi / corners
    return tuple((5000 + r * math.cos(k * turn), 5000 + r * math.sin(k * turn)) for k, r in enumerate(radii))


@st.composite
def rooms(draw: st.DrawFn) -> Room:
    outline = draw(st.one_of(rectilinear(), slanted()))
    shape = Polygon(outline)
    low_x, low_y, high_x, high_y = shape.bounds
    columns = []
    for k in range(draw(st.integers(0, 2))):
        corner = (draw(st.floats(low_x, high_x)), draw(st.floats(low_y, high_y)))
        column = block(f"C{k + 1}", corner, draw(st.floats(100, 900)), draw(st.floats(100, 900)))
        taken = [Polygon(other.outline) for other in columns]
        mine = Polygon(column.outline)
        if shape.buffer(-5).contains(mine) and not any(mine.buffer(5).intersects(other) for other in taken):
            columns.append(column)
    return room_of(outline, tuple(columns))


MODULES = {
    "lay-in-metric": ((600.0, 600.0), (600.0, 1200.0), (1200.0, 600.0)),
    "lay-in-imperial": ((24 * INCH, 24 * INCH), (24 * INCH, 48 * INCH), (48 * INCH, 24 * INCH)),
}


@st.composite
def layouts(draw: st.DrawFn, system: str) -> Layout:
    module = draw(st.sampled_from(MODULES[system]))
    places = st.one_of(st.sampled_from([0.0, 300.0, 437.5]), st.floats(0, 1200))
    angle = draw(st.one_of(st.sampled_from([0.0, 90.0, 45.0, -30.0]), st.floats(-90, 90)))
    return grid((draw(places), draw(places)), module, angle)
