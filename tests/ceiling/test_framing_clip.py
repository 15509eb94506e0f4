"""Grid lines clipped to the room, against shapely and at the awkward spots."""

import pytest
from ceiling.framing_rooms import block, floor_of, rectangle, room_of, rooms
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon

from planner.ceiling.members.lines import clip_lines, rings_in
from planner.geometry import Frame
from planner.room.outline import Room


def clipped(room: Room, axis: int, pitch: float) -> dict[int, list[tuple[float, float]]]:
    lines = clip_lines(rings_in(Frame(), room), axis, pitch)
    return {k: [(round(a, 6), round(b, 6)) for a, b in stretches] for k, stretches in lines.items()}


def test_a_rectangle_is_crossed_from_wall_to_wall() -> None:
    """1500 x 1000 at 600: lines at 600 and 1200 stand; the one at 0 lies on a wall and carries nothing."""
    assert clipped(rectangle(1500, 1000), 0, 600) == {1: [(0, 1000)], 2: [(0, 1000)]}


def test_a_line_along_a_wall_carries_nothing_there() -> None:
    """L-shape whose inner wall runs along y = 600 from x = 900 on: the line goes only where there is room above."""
    room = room_of(((0, 0), (2000, 0), (2000, 600), (900, 600), (900, 1300), (0, 1300)))
    assert clipped(room, 1, 600) == {1: [(0, 900)], 2: [(0, 900)]}


def test_a_column_breaks_a_line() -> None:
    room = rectangle(2000, 1000, columns=(block("C1", (500, 500), 300, 300),))
    assert clipped(room, 1, 600) == {1: [(0, 500), (800, 2000)]}


def test_a_line_along_a_column_face_goes_past_it_on_neither_side() -> None:
    """The face of the column stands on the line: there the column's own wall angle does the work."""
    room = rectangle(2000, 1000, columns=(block("C1", (500, 600), 300, 300),))
    assert clipped(room, 1, 600) == {1: [(0, 500), (800, 2000)]}


def test_a_line_through_the_tip_of_a_slanted_corner_is_not_counted_twice() -> None:
    """A rhombus with corners on the line y = 600: one stretch from tip to tip, less the hundredth that is kept off."""
    lines = clip_lines(rings_in(Frame(), room_of(((0, 600), (600, 0), (1200, 600), (600, 1200)))), 1, 600)
    assert list(lines) == [1]
    ((start, end),) = lines[1]
    assert (start, end) == (pytest.approx(0, abs=0.011), pytest.approx(1200, abs=0.011))


def test_walls_drawn_clockwise_make_no_difference() -> None:
    room = rectangle(1500, 1000)
    turned = room_of(room.outline[::-1])
    assert clipped(room, 0, 600) == clipped(turned, 0, 600)


@settings(max_examples=80, deadline=None)
@given(rooms(), st.sampled_from([300.0, 437.5, 600.0, 1219.2]), st.integers(0, 1))
def test_lines_are_as_long_as_shapely_says(room: Room, pitch: float, axis: int) -> None:
    """Shapely is asked for both sides of each line, 0.02 mm off; what both answers share must stand."""
    floor = floor_of(room)
    box = room.box
    low, high = (box.left, box.right) if axis == 0 else (box.bottom, box.top)
    lines = clip_lines(rings_in(Frame(), room), axis, pitch)
    for k in range(int(low // pitch), int(high // pitch) + 2):
        below, above = (_asked(floor, axis, k * pitch + aside) for aside in (-0.02, 0.02))
        shared = sum(max(0.0, min(a[1], b[1]) - max(a[0], b[0])) for a in below for b in above)
        mine = sum(end - start for start, end in lines.get(k, ()))
        assert mine == pytest.approx(shared, abs=4.0)  # stretches under 1 mm carry nothing; shallow walls slip


def _asked(floor: Polygon, axis: int, at: float) -> list[tuple[float, float]]:
    """Where a line meets the floor, by shapely."""
    line = LineString([(at, -1e5), (at, 1e5)] if axis == 0 else [(-1e5, at), (1e5, at)])
    parts = getattr(floor.intersection(line), "geoms", None) or [floor.intersection(line)]
    bounds = [part.bounds for part in parts if not part.is_empty]
    return [(b[1], b[3]) if axis == 0 else (b[0], b[2]) for b in bounds]


@settings(max_examples=80, deadline=None)
@given(rooms(), st.floats(-90, 90))
def test_every_stretch_lies_in_the_room_whatever_way_the_grid_is_turned(room: Room, angle: float) -> None:
    frame = Frame((123.4, 56.7), angle)
    floor = Polygon(floor_of(room)).buffer(0.02)
    for axis in (0, 1):
        for k, stretches in clip_lines(rings_in(frame, room), axis, 600.0).items():
            for start, end in stretches:
                ends = ((k * 600.0, start), (k * 600.0, end)) if axis == 0 else ((start, k * 600.0), (end, k * 600.0))
                assert floor.covers(LineString([frame.outward(p) for p in ends]))
