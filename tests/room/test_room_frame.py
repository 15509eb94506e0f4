"""Where the room lies: the reference corner at the origin, the base wall along +x, the room on the +y side."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import Polygon

from planner.documents import parse_document
from planner.geometry import Point, distance, edges
from planner.room.brief import Brief
from planner.room.naming import corner_names
from planner.room.reader import brief_from
from planner.room.rings import ring_faults


def read(text: str) -> Brief:
    return brief_from(parse_document("units: mm\n" + text, "attic.yaml"))


def test_a_rectangle_runs_counter_clockwise_from_the_reference_corner() -> None:
    room = read("room: {rectangle: [5000, 3000]}").room
    assert room.outline == ((0, 0), (5000, 0), (5000, 3000), (0, 3000))
    assert [wall.name for wall in room.walls] == ["A-B", "B-C", "C-D", "D-A"]
    assert room.area == 15e6
    assert room.name == "attic"  # no job given: the file's name


@pytest.mark.parametrize("base_wall", ["C-D", "D-C", "d-c", "C – D"])
def test_a_rectangle_is_given_along_whichever_wall_is_the_base_wall(base_wall: str) -> None:
    room = read(f"room: {{rectangle: [5000, 3000], base_wall: {base_wall}}}").room
    assert room.outline == ((0, 0), (5000, 0), (5000, 3000), (0, 3000))
    assert room.corner_names == ("C", "D", "A", "B")


L_SHAPE = [(0, 0), (7450, 0), (7450, 3720), (4280, 3720), (4280, 6310), (0, 6310)]


def points(corners: list[tuple[float, float]], more: str = "") -> str:
    return f"room:\n  points: {[list(corner) for corner in corners]}\n{more}"


def test_points_counter_clockwise_from_the_origin_stay_as_they_are() -> None:
    room = read(points(L_SHAPE)).room
    assert room.outline == tuple(L_SHAPE)
    assert room.corner_names == ("A", "B", "C", "D", "E", "F")


def test_a_closing_point_is_dropped() -> None:
    assert read(points([*L_SHAPE, (0, 0)])).room.outline == tuple(L_SHAPE)


def test_points_given_clockwise_keep_their_names_and_are_walked_the_other_way() -> None:
    """A and D are the corners at the bottom: with the room on the left, the wall that leaves A is A-D."""
    room = read(points([(0, 0), (0, 3000), (5000, 3000), (5000, 0)])).room
    assert room.corner_names == ("A", "D", "C", "B")
    assert room.corners == {"A": (0, 0), "D": (5000, 0), "C": (5000, 3000), "B": (0, 3000)}


def test_another_base_wall_turns_the_room_and_everything_in_it() -> None:
    """Base wall B-C of the L runs up from (7450, 0): there +x is up and +y is left.

    So (x, y) of the file is (y, 7450 - x) of the room: the light at (1500, 2500) is at (2500, 5950), and the column
    whose corner nearest B is (3000, 1000) has it at (1000, 4450). Its size is along the base wall, then away from it.
    """
    more = (
        "  base_wall: B-C\n  columns: [{at: [3000, 1000], size: [400, 200]}]\n"
        "services: [{kind: sprinkler, at: [1500, 2500]}]\ngrid: {borders: {centre_on: [7450, 3720]}}\n"
    )
    brief = read(points(L_SHAPE, more))
    assert brief.room.corner_names == ("B", "C", "D", "E", "F", "A")
    assert brief.room.outline == ((0, 0), (3720, 0), (3720, 3170), (6310, 3170), (6310, 7450), (0, 7450))
    assert brief.room.columns[0].outline == ((1000, 4450), (1400, 4450), (1400, 4650), (1000, 4650))
    assert brief.services[0].at == (2500, 5950)
    assert brief.grid.centre_on == (3720, 0)


def test_a_room_off_the_origin_is_moved_to_it() -> None:
    brief = read(
        points(
            [(100_000, 50_000), (105_000, 50_000), (105_000, 53_000), (100_000, 53_000)],
            "services: [{kind: sprinkler, near: [101000, 52000]}]\n",
        )
    )
    assert brief.room.outline == ((0, 0), (5000, 0), (5000, 3000), (0, 3000))
    assert brief.services[0].near == (1000, 2000)


def test_a_slanted_base_wall_lies_on_the_axis_to_the_last_digit() -> None:
    """A 3-4-5 triangle: the base wall from (0, 0) to (4000, 3000) is 5000 long, the right angle stands on it."""
    room = read(points([(0, 0), (4000, 3000), (1000, 7000)])).room
    assert room.outline == ((0.0, 0.0), (5000.0, 0.0), (5000.0, 5000.0))


def test_corners_are_named_past_z() -> None:
    names = corner_names(54)
    assert (names[0], names[25], names[26], names[51], names[52]) == ("A", "Z", "A1", "Z1", "A2")
    assert len(set(names)) == 54


@st.composite
def star(draw: st.DrawFn) -> list[Point]:
    """Draw a simple outline: corners in order of their bearing from a point inside."""
    bearings = sorted(draw(st.sets(st.integers(0, 35), min_size=5, max_size=12)))
    assume(max((b - a) % 36 or 36 for a, b in zip(bearings, [*bearings[1:], bearings[0]], strict=True)) < 17)
    radii = draw(st.lists(st.integers(1500, 6000), min_size=len(bearings), max_size=len(bearings)))
    x, y = draw(st.tuples(st.integers(-9000, 9000), st.integers(-9000, 9000)))
    turns = [math.radians(10 * b) for b in bearings]
    return [(round(x + r * math.cos(t)), round(y + r * math.sin(t))) for r, t in zip(radii, turns, strict=True)]


@given(star(), st.booleans(), st.integers(0, 11))
def test_turning_a_room_changes_neither_its_walls_nor_its_area(ring: list[Point], clockwise: bool, k: int) -> None:
    names = corner_names(len(ring))
    given_ring = list(reversed(ring)) if clockwise else ring
    k %= len(ring)
    base = f"{names[k]}-{names[(k + 1) % len(ring)]}"
    room = read(points(given_ring, f"  base_wall: {base}\n")).room
    assert room.outline[0] == (0.0, 0.0)
    assert room.outline[1][1] == 0.0 < room.outline[1][0]
    assert set(room.walls[0].name.split("-")) == set(base.split("-"))
    assert room.area == pytest.approx(Polygon(ring).area, abs=1.0)  # positive: counter-clockwise
    where = dict(zip(names, given_ring, strict=True))
    for wall in room.walls:
        start, end = wall.name.split("-")
        assert wall.length == pytest.approx(distance(where[start], where[end]), abs=1e-4)


@given(st.lists(st.tuples(st.integers(0, 8), st.integers(0, 8)), min_size=3, max_size=8))
def test_an_outline_is_refused_exactly_when_it_is_no_simple_polygon(grid: list[tuple[int, int]]) -> None:
    """Shapely's validity test as second opinion, on corners of a coarse raster where everything touches."""
    ring = [(1000.0 * x, 1000.0 * y) for x, y in grid]
    apart = all(a != b for a, b in edges(ring))
    simple = apart and Polygon(ring).is_valid and Polygon(ring).area > 0
    assert (ring_faults(ring, corner_names(len(ring)), ()) == []) == simple
