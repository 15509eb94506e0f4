"""Wall angle at outside corners, mitred and lapped."""

import math
from dataclasses import replace

import pytest
from ceiling.framing_rooms import block, rectangle, room_of

from planner.ceiling.members.corners import round_corners
from planner.ceiling.members.trim import trim
from planner.ceiling.system import load_system
from planner.geometry import distance
from planner.room.outline import Room

METRIC = load_system("lay-in-metric")  # ledge 24 mm, mitred


def beyond(room: Room, corners: str = "mitred") -> dict[str, float]:
    """How much longer each length of trim is than what it lies along."""
    system = replace(METRIC, corners=corners)
    members = round_corners(room, trim(room, system.wall_angle), system)
    more = {member.id: round(member.length - distance(member.start, member.end), 3) for member in members}
    return {name: length for name, length in more.items() if length}


def l_shape() -> Room:
    """The corner at (2000, 1500), between the third and the fourth wall, juts in."""
    return room_of(((0, 0), (5000, 0), (5000, 1500), (2000, 1500), (2000, 3000), (0, 3000)))


def test_inside_corners_need_nothing() -> None:
    assert beyond(rectangle(3000, 2400)) == {}


def test_a_mitre_takes_a_ledge_on_both_sides_of_an_outside_corner() -> None:
    assert beyond(l_shape()) == {"W3": 24, "W4": 24}


def test_a_lap_takes_it_on_one_side() -> None:
    assert beyond(l_shape(), "lapped") == {"W3": 24}


def test_a_blunt_corner_takes_less() -> None:
    """A turn of 45 degrees: 24 x tan 22.5 = 9.94 each side."""
    room = room_of(((0, 0), (4000, 0), (4000, 3000), (3000, 2000), (1000, 2000), (0, 3000)))
    by = round(24 * math.tan(math.radians(22.5)), 3)
    assert beyond(room) == {"W3": by, "W4": pytest.approx(2 * by, abs=0.001), "W5": by}


def test_a_column_is_all_outside_corners_and_a_chase_meets_the_wall_in_inside_ones() -> None:
    """Four sides of a column have two mitres each; the sides of a chase against the wall one."""
    column = rectangle(3000, 2400, columns=(block("C1", (1000, 800), 400, 300),))
    assert set(beyond(column).values()) == {48}
    chase = rectangle(3000, 2400, columns=(block("C1", (1000, 0), 400, 300),))
    assert beyond(chase) == {"WC1-2": 24, "WC1-3": 48, "WC1-4": 24}
