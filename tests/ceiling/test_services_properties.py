"""Whatever room and services are given: what is placed can be built, and what cannot is told."""

import re
from random import Random

from ceiling.hand_layouts import METRIC, lay_by_hand, room_of, square_column
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, box
from shapely.affinity import rotate

from planner.ceiling.framing import frame
from planner.ceiling.mains import MainLines
from planner.ceiling.seating.nearest import nearest
from planner.ceiling.services import Ground, place_services
from planner.room.brief import ServiceWish

FACE, LEDGE, RIM = METRIC.tee_face, METRIC.ledge, 25.0

rooms = st.builds(
    lambda width, depth, notch_x, notch_y, column: room_of(
        *((0, 0), (width, 0), (width, depth * notch_y), (width * notch_x, depth * notch_y)),
        *((width * notch_x, depth), (0, depth)),
        columns=[square_column("C1", width * notch_x * 0.4, depth * notch_y * 0.4, 200)] if column else (),
    ),
    st.integers(2000, 6000),
    st.integers(2000, 5000),
    st.floats(0.4, 0.8),
    st.floats(0.4, 0.8),
    st.booleans(),
)
spots = st.tuples(st.integers(-200, 6200), st.integers(-200, 5200))
sizes = st.sampled_from(
    [
        {"kind": "troffer", "size": (600, 600)},
        {"kind": "troffer", "size": (600, 1200)},
        {"kind": "troffer", "size": (1200, 600)},
        {"kind": "access_panel", "size": (1800, 600)},
        {"kind": "downlight", "diameter": 150},
        {"kind": "sprinkler"},
        {"kind": "supply_diffuser", "size": (300, 200)},
    ]
)
wishes = st.lists(
    st.builds(lambda what, spot, fixed: {**what, "at" if fixed else "near": spot}, sizes, spots, st.booleans()),
    min_size=1,
    max_size=8,
).map(lambda rows: tuple(ServiceWish(f"S{k}", **row) for k, row in enumerate(rows)))
grids = st.tuples(st.integers(0, 599), st.integers(0, 599), st.sampled_from([0.0, 0.0, 20.0, 45.0, 90.0]))
mains = st.builds(MainLines, st.sampled_from(["along", "across"]), st.just(2), st.integers(0, 1))


def plan(room, grid, lines, asked):
    layout = lay_by_hand(room, (600, 600), grid[:2], grid[2])
    return layout, place_services(room, layout, METRIC, lines, asked)


@settings(max_examples=60, deadline=None)
@given(rooms, grids, mains, wishes)
def test_lay_in_services_lie_in_the_room_apart_and_between_mains(room, grid, lines, asked):
    layout, placed = plan(room, grid, lines, asked)
    taken = [cell for cells in placed.replaced for cell in cells]
    assert len(taken) == len(set(taken))
    floor = Polygon([layout.frame.inward(p) for p in room.outline])
    for column in room.columns:
        floor = floor.difference(Polygon([layout.frame.inward(p) for p in column.outline]))
    for cells in placed.replaced:
        modules = [box(i * 600, j * 600, i * 600 + 600, j * 600 + 600) for i, j in cells]
        assert all(module.difference(floor).area < 1 for module in modules)
        rows = sorted({cell[1 if lines.direction == "along" else 0] for cell in cells})
        assert not any(lines.is_main(row) for row in rows[1:])
    drilled = {panel.cell for panel in placed.panels if panel.cutouts}
    assert not drilled & set(taken)
    assert placed.full_panels == layout.full_panels - len(taken) - sum(p.full_size for p in placed.panels)


@settings(max_examples=60, deadline=None)
@given(rooms, grids, mains, wishes)
def test_the_frame_can_be_built_round_them(room, grid, lines, asked):
    """No tee beside a service is longer than any that is sold; `frame` would refuse."""
    layout, placed = plan(room, grid, lines, asked)
    assert frame(room, layout, METRIC, lines, placed.replaced)


@settings(max_examples=60, deadline=None)
@given(rooms, grids, mains, wishes)
def test_each_hole_lies_in_one_panel_or_is_told(room, grid, lines, asked):
    layout, placed = plan(room, grid, lines, asked)
    told = {finding.message.split(" ")[0] for finding in placed.findings if finding.severity != "note"}
    panels = {panel.id: panel for panel in placed.panels}
    lay_in = {cell for cells in placed.replaced for cell in cells}
    for service in placed.services:
        if set(service.cells) & lay_in or (not service.cells and service.name in told):
            continue
        if not service.panels:
            assert service.name in told
            continue
        (panel,) = (panels[name] for name in service.panels)
        assert panel.cell == service.cells[0]
        (x, y), (width, depth) = service.at, service.size
        hole = (
            Point(service.at).buffer(width / 2)
            if service.round
            else box(x - width / 2, y - depth / 2, x + width / 2, y + depth / 2)
        )
        if not service.round:
            hole = rotate(hole, layout.frame.angle_deg)
        piece = Polygon(panel.outline, panel.holes)
        assert hole.difference(piece).area < 1
        if service.name not in told:
            assert piece.boundary.distance(hole) >= FACE / 2 + RIM - 0.5
            walls = Polygon(room.outline, [column.outline for column in room.columns]).boundary
            beside = walls.intersection(piece.buffer(0.1))
            assert beside.is_empty or beside.distance(hole) >= LEDGE + RIM - 0.5
    wished = {wish.name for wish in asked}
    assert wished - {service.name for service in placed.services} <= told


@settings(max_examples=60, deadline=None)
@given(rooms, grids, mains, wishes, st.integers(0, 7))
def test_a_proposed_place_works(room, grid, lines, asked, pick):
    """Written into the room file, the remedy of a fixed service leaves nothing more to say about it."""
    _, placed = plan(room, grid, lines, asked)
    told = [f for f in placed.findings if "along A-B" in f.remedy]
    if not told:
        return
    finding = told[pick % len(told)]
    name = finding.message.split(" ")[0]
    if finding.message.endswith("meets " + name) or finding.severity == "warn" or grid[2] % 90:
        return
    x, y = map(float, re.search(r"(-?\d+) mm along A-B and (-?\d+) mm from it", finding.remedy).groups())
    moved = tuple(ServiceWish(w.name, w.kind, w.size, w.diameter, at=(x, y)) if w.name == name else w for w in asked)
    _, again = plan(room, grid, lines, moved)
    assert not [f for f in again.findings if f.message.startswith(name + " ") and f.severity == "stop"]


@settings(max_examples=60, deadline=None)
@given(rooms, grids, mains, st.tuples(st.integers(1, 3), st.integers(1, 3)), spots, st.integers(0, 999))
def test_the_nearest_group_is_the_nearest_of_all(room, grid, lines, span, spot, seed):
    """Against a plain look at every cell of the bounding box."""
    layout = lay_by_hand(room, (600, 600), grid[:2], grid[2])
    ground = Ground(room, layout, METRIC, lines)
    rng = Random(seed)
    banned = {(i, j) for i in range(-12, 12) for j in range(-12, 12) if rng.random() < 0.3}

    def free(cell):
        return cell not in banned

    def whole(cell):
        return not ground.straddles_main(cell, span) and all(
            ground.is_full((cell[0] + k, cell[1] + n)) for k in range(span[0]) for n in range(span[1])
        )

    wish = layout.frame.inward(spot)
    offers = [cell for cell in ((i, j) for i in range(-14, 14) for j in range(-14, 14)) if whole(cell) and free(cell)]
    best = min(
        offers,
        key=lambda c: (round(Point(ground.box(c, span).centre).distance(Point(wish)), 3), c[1], c[0]),
        default=None,
    )
    assert nearest(ground, span, wish, free) == best
