"""Ends of tees at slanted walls and at posts, and the corners that wires of services are tied at, each by hand."""

import math

import pytest
from ceiling.hand_layouts import rectangle

from planner.ceiling.holding.tee_ends import bare_ends, tee_ends
from planner.ceiling.holding.ties import Held, tied
from planner.ceiling.model import Member, Piece
from planner.geometry import Point, distance
from planner.room.outline import Column, Room

ROOM = rectangle(6000, 4000)


def tee(start: Point, end: Point) -> Member:
    return Member("T1", "cross tee", start, end, (Piece("cross tee", distance(start, end), ("cut", "cut")),))


def turned(point: Point, degrees: float) -> Point:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return (c * point[0] - s * point[1], s * point[0] + c * point[1])


@pytest.mark.parametrize("degrees", [0.0, 30.0, 60.0, 120.0, 200.0])
@pytest.mark.parametrize(("over", "slope"), [(0.0, 0.0), (1000.0, 0.25), (-2000.0, 0.5)])
def test_the_slope_at_a_wall_is_the_same_however_the_room_lies(degrees: float, over: float, slope: float) -> None:
    """Across 4000 mm a tee goes aside by so much: 1000 in 4000 is a quarter."""
    corners = [(0.0, 0.0), (6000.0, 0.0), (6000.0, 4000.0), (0.0, 4000.0)]
    room = Room("turned", "mm", tuple(turned(corner, degrees) for corner in corners), ("A", "B", "C", "D"))
    ends = tee_ends(room, [tee(turned((3000.0, 0.0), degrees), turned((3000.0 + over, 4000.0), degrees))])
    assert [(end.place, end.column, end.carried) for end in ends] == [("A-B", False, True), ("C-D", False, True)]
    assert [end.slope for end in ends] == pytest.approx([slope, slope])
    assert ends[0].longer(24.0) == pytest.approx(12.0 * slope)


@pytest.mark.parametrize(
    ("start", "end", "places"),
    [
        ((0.0, 0.0), (6000.0, 0.0), ["D-A", "B-C"]),
        ((0.0, 0.0), (0.0, 4000.0), ["A-B", "C-D"]),
        ((6000.0, 4000.0), (0.0, 4000.0), ["B-C", "D-A"]),
        ((6000.0, 4000.0), (6000.0, 0.0), ["C-D", "A-B"]),
    ],
)
def test_in_every_corner_the_squarer_wall_counts(start: Point, end: Point, places: list[str]) -> None:
    assert [each.place for each in tee_ends(ROOM, [tee(start, end)])] == places


def test_where_nothing_ends_there_are_no_ends() -> None:
    assert tee_ends(ROOM, []) == []
    assert tee_ends(ROOM, [tee((1000.0, 1000.0), (2000.0, 1000.0))]) == []


def test_of_a_tee_from_a_wall_to_a_thin_post_only_the_end_at_the_post_is_bare() -> None:
    post = Column("P1", ((2000.0, 1970.0), (2060.0, 1970.0), (2060.0, 2030.0), (2000.0, 2030.0)), (2030.0, 2000.0))
    room = Room("post", "mm", ROOM.outline, ROOM.corner_names, (post,))
    (bare,) = bare_ends(room, [tee((0.0, 1800.0), (2000.0, 2000.0))])
    assert (bare.place, bare.at, bare.column) == ("P1", (2000.0, 2000.0), True)
    assert bare.slope == pytest.approx(0.1)  # 200 in 2000


# Wires of services; without joists each goes straight up


def spots(*services: Held, others: tuple[Point, ...] = ()) -> list[set[Point]]:
    return [{tie.at for tie in ties} for _, ties in tied(ROOM, 0.0, services, others)]


def light(x: float, y: float, wide: float = 600.0, deep: float = 600.0, *, round_: bool = False) -> Held:
    return Held(f"L{x:.0f}", (x, y), (wide, deep), round_, 2)


def test_two_wires_are_tied_at_opposite_corners() -> None:
    """600 x 300 at (1500, 900); where another wire is at one of the corners, at the other two."""
    first, second = {(1200.0, 750.0), (1800.0, 1050.0)}, {(1800.0, 750.0), (1200.0, 1050.0)}
    assert spots(light(1500, 900, 600, 300)) == [first]
    assert spots(light(1500, 900, 600, 300), others=((1200.0, 750.0),)) == [second]
    assert spots(light(1500, 900, 600, 300), others=((1200.0, 750.0), (1800.0, 750.0))) == [first]


def test_two_wires_of_a_round_one_at_the_ends_of_a_diameter() -> None:
    down = light(1000, 1000, 200, 200, round_=True)
    assert spots(down) == [{(900.0, 1000.0), (1100.0, 1000.0)}]
    assert spots(down, others=((1100.0, 1000.0),)) == [{(1000.0, 900.0), (1000.0, 1100.0)}]


@pytest.mark.parametrize(("x", "moved"), [(1100.0, False), (1100.1, True)])
def test_wires_100_apart_can_be_told_apart(x: float, moved: bool) -> None:
    """The corner is at (1200, 600)."""
    (found,) = spots(light(1500, 900), others=((x, 600.0),))
    assert ((1200.0, 600.0) not in found) is moved


def test_the_next_service_keeps_clear_of_the_wires_of_the_one_before() -> None:
    """L1's second wire is at (1800, 1200); L2's corner (1850, 1250) is 71 from it, so it takes the other diagonal."""
    assert spots(light(1500, 900), light(2150, 1550)) == [
        {(1200.0, 600.0), (1800.0, 1200.0)},
        {(2450.0, 1250.0), (1850.0, 1850.0)},
    ]


def test_no_wire_is_tied_where_another_service_touches_the_corner() -> None:
    """A light from 0 to 600 both ways; beside it one from 300 to 600 deep, at its corner (600, 600): so (600, 0)."""
    found, _ = spots(light(300, 300), light(900, 450, 600, 300))
    assert found == {(600.0, 0.0), (0.0, 600.0)}
