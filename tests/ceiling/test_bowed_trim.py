"""Wall angle along a bowed wall: as long as the arc, and not behind what stands against it."""

import math
from dataclasses import replace

import pytest
import shapely

from planner.arcs import arc_length, arc_of, arc_points, bulge_from_rise
from planner.ceiling.members.trim import trim
from planner.ceiling.system import Tee
from planner.geometry import Point
from planner.room.outline import Column, Room

ANGLE = Tee("wall angle", 3000.0)
RISE = 250.0
BULGE = bulge_from_rise(6200.0, RISE)
RADIUS = 6200.0**2 / (8 * RISE) + RISE / 2
ARC = arc_of((6200.0, 4100.0), (0.0, 4100.0), BULGE)
LENGTH = RADIUS * 2 * math.asin(3100.0 / RADIUS)


def room(*columns: Column) -> Room:
    """6200 x 4100, the wall C-D bowed out by 250."""
    bow = arc_points((6200.0, 4100.0), (0.0, 4100.0), BULGE)
    outline = ((0.0, 0.0), (6200.0, 0.0), *bow[:-1], (0.0, 4100.0))
    at = (0, 1, 2, len(outline) - 1)
    return Room("Bowed", "mm", outline, tuple("ABCD"), columns, corner_at=at, bulges=(0.0, 0.0, BULGE, 0.0))


def on_arc(share: float) -> Point:
    turn = math.radians(ARC.start_deg + share * ARC.sweep_deg)
    return (ARC.centre[0] + RADIUS * math.cos(turn), ARC.centre[1] + RADIUS * math.sin(turn))


def chase(start: float, end: float) -> Column:
    """A chase whose back follows the arc from one share of it to another, 300 mm deep."""
    a, b = on_arc(start), on_arc(end)
    back = arc_points(a, b, math.tan(math.radians(ARC.sweep_deg * (end - start)) / 4))
    ring = (*back, (b[0], b[1] - 300.0), (a[0], a[1] - 300.0))
    return Column("K", ring, (3100.0, 4200.0))


def test_the_angle_is_as_long_as_the_arc():
    """R = c²/(8r) + r/2 = 19345 mm; R * 2 asin(3100 / R) = 6226.85 mm: two whole lengths and 226.85."""
    angle = next(m for m in trim(room(), ANGLE) if m.id == "W3")
    assert angle.length == pytest.approx(LENGTH) == pytest.approx(6226.85, abs=0.005)
    assert [(p.length, p.count) for p in angle.pieces] == [
        (3000.0, 1),
        (3000.0, 1),
        (pytest.approx(LENGTH - 6000.0), 1),
    ]
    assert angle.bulge == BULGE


def test_behind_a_chase_there_is_no_angle():
    """The chase hides the middle fifth, give or take the quarter millimetre that chords may be off by."""
    members = trim(room(chase(0.4, 0.6)), ANGLE)
    along = [m for m in members if m.id.startswith("W3")]
    assert [m.id for m in along] == ["W3a", "W3b"]
    for member in along:
        assert member.length == pytest.approx(0.4 * LENGTH, abs=0.3)
        assert arc_length(member.start, member.end, member.bulge) == pytest.approx(member.length)
        assert math.dist(member.start, ARC.centre) == pytest.approx(RADIUS)
        part = arc_of(member.start, member.end, member.bulge)
        assert part.centre == pytest.approx(ARC.centre, abs=1e-6)
    round_chase = [m for m in members if m.id.startswith("WK")]
    assert sum(m.length for m in round_chase) == pytest.approx(300.0 + 300.0 + math.dist(on_arc(0.4), on_arc(0.6)))


def test_a_corner_that_only_touches_hides_nothing():
    x, y = on_arc(0.5)
    column = Column("T", ((x - 100.0, y - 200.0), (x + 100.0, y - 200.0), (x, y)), (x, y - 130.0))
    assert [m.id for m in trim(room(column), ANGLE) if m.id.startswith("W3")] == ["W3"]


def test_a_wall_that_bows_in_is_followed_as_well():
    hollow = bulge_from_rise(6200.0, -RISE)
    bow = arc_points((6200.0, 4100.0), (0.0, 4100.0), hollow)
    made = room()
    outline = (*made.outline[:2], *bow[:-1], (0.0, 4100.0))
    made = replace(made, outline=outline, corner_at=(0, 1, 2, len(outline) - 1), bulges=(0.0, 0.0, hollow, 0.0))
    angle = next(m for m in trim(made, ANGLE) if m.id == "W3")
    assert (angle.length, angle.bulge) == (pytest.approx(LENGTH), hollow)
    chords = shapely.LineString(bow)
    middle = arc_points(angle.start, angle.end, angle.bulge)[len(bow) // 2]
    assert chords.distance(shapely.Point(middle)) < 0.2
