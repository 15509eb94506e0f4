"""What holds of the frame of any room: rebuilt from its members, asked of shapely."""

import math
from collections.abc import Iterator

import pytest
from ceiling.framing_rooms import floor_of, layouts, rooms
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import LineString, MultiLineString, box, prepare, union_all
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from planner.ceiling.framing import frame
from planner.ceiling.ledge import hides_at_most
from planner.ceiling.mains import MainLines, choose_mains
from planner.ceiling.members.lines import SHORTEST_TEE_MM
from planner.ceiling.members.pipes import pipes
from planner.ceiling.model import Cell, Layout, Member, Piece
from planner.ceiling.system import System, load_system
from planner.errors import PlannerError
from planner.geometry import Point, distance
from planner.room.brief import GridWish
from planner.room.outline import Room

SYSTEMS = {name: load_system(name) for name in ("lay-in-metric", "lay-in-imperial")}

Framed = tuple[Room, Layout, System, MainLines, tuple[Member, ...]]


@st.composite
def framed(draw: st.DrawFn) -> Framed:
    room = draw(rooms())
    system = SYSTEMS[draw(st.sampled_from(sorted(SYSTEMS)))]
    layout = draw(layouts(system.name))
    wish = GridWish(system.name, mains=draw(st.sampled_from(["auto", "along", "across"])))
    mains = choose_mains(room, layout, system, wish)
    return room, layout, system, mains, frame(room, layout, system, mains)


def tees(members: tuple[Member, ...]) -> list[Member]:
    return [member for member in members if member.kind != "wall angle"]


@settings(max_examples=60, deadline=None)
@given(framed())
def test_no_tee_leaves_the_room(case: Framed) -> None:
    room, _, _, _, members = case
    floor = floor_of(room).buffer(0.02)
    prepare(floor)
    assert all(floor.covers(LineString([member.start, member.end])) for member in tees(members))


@settings(max_examples=60, deadline=None)
@given(framed())
def test_pieces_add_up_to_their_member(case: Framed) -> None:
    for member in case[-1]:
        measured = distance(member.start, member.end)
        if member.kind == "wall angle":
            assert member.length >= measured - 1e-6  # a ledge goes on round an outside corner
        else:
            assert member.length == pytest.approx(measured, abs=1e-6)
        assert all(piece.length > 0 and piece.count >= 1 for piece in member.pieces)


@settings(max_examples=60, deadline=None)
@given(framed())
def test_every_piece_comes_out_of_its_stock(case: Framed) -> None:
    """No piece is longer than its stock, and a cross tee is the shortest that reaches, or the slotted one."""
    system, members = case[2], case[-1]
    stock = {tee.item: tee.length for tee in (system.main, *system.cross_tees, system.wall_angle)}
    for member in members:
        for piece in member.pieces:
            assert piece.length <= stock[piece.stock] + 0.01
            if piece.ends == ("factory", "factory"):
                assert piece.length == pytest.approx(stock[piece.stock], abs=0.02)
            if member.kind == "cross tee":
                shorter = [t for t in system.cross_tees if piece.length <= t.length < stock[piece.stock]]
                assert not shorter or piece.ends == ("cut", "cut")


@settings(max_examples=60, deadline=None)
@given(framed())
def test_every_whole_module_is_bounded_on_all_four_sides(case: Framed) -> None:
    """Each side of each whole module is covered by tees or lies on a wall; stretches under 1 mm carry nothing, nor do
    ends that lie over flange and ledge alone.
    """
    room, layout, system, _, members = case
    floor = floor_of(room)
    bounds, carried = bounds_of(floor, members), carried_of(floor, members, system)
    assert all(is_bounded(module, bounds, carried) for _, module in whole_modules(floor, layout))


@settings(max_examples=60, deadline=None)
@given(framed(), st.data())
def test_a_service_leaves_every_other_module_bounded(case: Framed, data: st.DataObject) -> None:
    """A light of two modules between mains: its rim is bounded, and so is every module that it does not take."""
    room, layout, system, mains, _ = case
    floor = floor_of(room)
    modules = dict(whole_modules(floor, layout))
    pairs = [
        (one, other)
        for one in modules
        for other in ((one[0] + 1, one[1]), (one[0], one[1] + 1))
        if other in modules and not over_a_main(one, other, mains)
    ]
    assume(pairs)
    taken = data.draw(st.sampled_from(pairs))
    try:
        members = frame(room, layout, system, mains, [taken])
    except PlannerError:
        assert max(layout.module) * 2 > system.cross_tees[-1].length  # no tee is as long as the light
        return
    bounds, carried = bounds_of(floor, members), carried_of(floor, members, system)
    light = union_all([modules[cell].buffer(0.01) for cell in taken]).buffer(-0.01)
    assert all(is_bounded(module, bounds, carried) for cell, module in modules.items() if cell not in taken)
    assert is_bounded(light, bounds, carried)
    inside = light.buffer(-1.0)
    assert not any(inside.intersects(LineString([member.start, member.end])) for member in tees(members))
    for member in tees(members):
        assert member.length == pytest.approx(distance(member.start, member.end), abs=1e-5)


def over_a_main(one: Cell, other: Cell, mains: MainLines) -> bool:
    across = 1 if mains.direction == "along" else 0
    return one[across] != other[across] and mains.is_main(other[across])


def bounds_of(floor: BaseGeometry, members: tuple[Member, ...]) -> BaseGeometry:
    """All that a panel may rest on: tees and walls, a little thick."""
    lines = MultiLineString([[member.start, member.end] for member in tees(members)])
    bounds = union_all([lines.buffer(0.05, cap_style="square"), floor.boundary.buffer(0.05)])
    prepare(bounds)
    return bounds


#: Where flanges and ledges carry what an end of a tee would, how long such an end is at most, and where a ledge alone
#: carries a side of any length.
Carried = tuple[BaseGeometry, float, BaseGeometry]


def is_bounded(module: BaseGeometry, bounds: BaseGeometry, carried: Carried) -> bool:
    """All sides of a module, but for stretches of up to 1 mm and for ends that lie over flanges and ledges alone."""
    over, longest, beside = carried
    bare = module.exterior.difference(bounds)
    parts = [part for part in getattr(bare, "geoms", [bare]) if part.length > SHORTEST_TEE_MM + 0.2]
    return all((part.length <= longest and over.covers(part)) or beside.covers(part) for part in parts)


def carried_of(floor: BaseGeometry, members: tuple[Member, ...], system: System) -> Carried:
    """An end that lies over the flange that it would hook into and over the ledge, and nowhere else, is not put.

    With a ledge of 24 and a face of 24 mm it is no longer than 24 + 24 / 2 = 36. Nor is a tee put along a wall where
    the panel still bears on the ledge by 3/8 in.
    """
    flanges = union_all([LineString([m.start, m.end]).buffer(system.tee_face / 2) for m in tees(members)])
    over = union_all([flanges, floor.boundary.buffer(system.ledge)]).buffer(0.2)
    prepare(over)
    beside = floor.boundary.buffer(hides_at_most(system) + 0.3)
    return over, system.ledge + system.tee_face / 2 + 0.2, beside


def whole_modules(floor: BaseGeometry, layout: Layout) -> Iterator[tuple[Cell, BaseGeometry]]:
    """The modules that lie wholly in the room, in the room frame."""
    prepare(floor)
    cos, sin = math.cos(math.radians(layout.frame.angle_deg)), math.sin(math.radians(layout.frame.angle_deg))
    corners = [layout.frame.inward(p) for p in box(*floor.bounds).exterior.coords]
    width, depth = layout.module
    columns = (min(u for u, _ in corners) // width, max(u for u, _ in corners) // width)
    rows = (min(v for _, v in corners) // depth, max(v for _, v in corners) // depth)
    for i in range(int(columns[0]), int(columns[1]) + 1):
        for j in range(int(rows[0]), int(rows[1]) + 1):
            cell = box(i * width, j * depth, (i + 1) * width, (j + 1) * depth)
            module = affine_transform(cell, [cos, -sin, sin, cos, *layout.frame.origin])
            if floor.covers(module.buffer(-0.02)):
                yield (i, j), module


@settings(max_examples=60, deadline=None)
@given(framed())
def test_every_cross_tee_meets_a_slot_of_its_main(case: Framed) -> None:
    """Slots stand at first + k * pitch from either factory end; a crossing off a slot could not be hooked in.

    Pieces without a factory end can be taken from anywhere in a main, so there the crossings need only agree.
    """
    _, layout, system, mains, members = case
    pitch = layout.module[0] if mains.direction == "along" else layout.module[1]
    for member in members:
        if member.kind != "main tee":
            continue
        start, end = (coordinate(layout, mains, point) for point in (member.start, member.end))
        spot = start
        for piece in singles(member):
            crossings = [k * pitch for k in range(int(spot // pitch), int((spot + piece.length) // pitch) + 2)]
            inside = [at for at in crossings if max(spot, start + 0.05) < at < min(spot + piece.length, end - 0.05)]
            assert all(off_slot(at, spot, piece, system) <= 0.05 for at in inside)
            spot += piece.length


def singles(member: Member) -> list[Piece]:
    """The pieces of a member one by one."""
    return [piece for piece in member.pieces for _ in range(piece.count)]


def off_slot(at: float, start: float, piece: Piece, system: System) -> float:
    """Distance of a crossing from the nearest slot of a piece that begins at `start`."""
    main = system.main
    if piece.ends[0] == "factory":
        off = (at - start - main.first_slot) % main.slot_pitch
    elif piece.ends[1] == "factory":
        off = (main.length - (start + piece.length - at) - main.first_slot) % main.slot_pitch
    else:
        return 0.0
    return min(off, main.slot_pitch - off)


def coordinate(layout: Layout, mains: MainLines, point: Point) -> float:
    return layout.frame.inward(point)[0 if mains.direction == "along" else 1]


@settings(max_examples=60, deadline=None)
@given(framed())
def test_splices_stand_clear_of_cross_tees_and_walls(case: Framed) -> None:
    """Half a pitch from a tee and a pitch from the far wall: room for a wire each side (NAVEDTRA 14044 p. 5-17)."""
    _, layout, system, mains, members = case
    pitch = layout.module[0] if mains.direction == "along" else layout.module[1]
    for member in members:
        if member.kind != "main tee" or len(singles(member)) < 2:
            continue
        spot = coordinate(layout, mains, member.start)
        for piece in singles(member)[:-1]:
            spot += piece.length
            assert min(spot % pitch, pitch - spot % pitch) >= system.main.slot_pitch / 2 - 0.05
        assert member.pieces[-1].length >= system.main.slot_pitch - 0.02


@settings(max_examples=60, deadline=None)
@given(framed())
def test_every_wall_and_column_is_trimmed_once(case: Framed) -> None:
    room, members = case[0], case[-1]
    assume(all(column.diameter is None for column in room.columns) and not pipes(room))
    trims = [member for member in members if member.kind == "wall angle"]
    along = sum(distance(member.start, member.end) for member in trims)
    assert along == pytest.approx(floor_of(room).boundary.length, abs=0.01)
