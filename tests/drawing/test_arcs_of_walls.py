"""Bowed walls on sheets: true arcs, the ledge of the wall angle beside them, their lengths and their rise."""

import math

import pytest

from planner.arcs import arc_of, arc_points, bulge_from_rise
from planner.ceiling.model import Member
from planner.documents import parse_document
from planner.drawing.labels import rings_overlap, text_boxes
from planner.drawing.ledges import ledge_edges, ledge_shape
from planner.drawing.plan_lines import plan_lines, walls_shape
from planner.drawing.profile import point_on, profile
from planner.drawing.roles import Role
from planner.drawing.schedules import start_sentence
from planner.drawing.shapes import Arc, Circle, Dimension, Line, Outline, Text
from planner.drawing.sheets import SheetWish, draw
from planner.drawing.stylebook import load_style
from planner.planning import Plan, plan
from planner.room.outline import Room, Wall
from planner.room.reader import brief_from

STYLE = load_style("iso-13567")
LEDGE = 22.0
RISE, DENT = 250.0, 120.0
ROOM = """
job: Bowed
units: mm
room: {rectangle: [6200, 4100], bowed_walls: {%s}}
grid: {system: lay-in-metric, module: [600, 600], borders: {front: 300, left: 340}}
"""


@pytest.fixture(scope="module")
def bowed() -> Plan:
    return made("C-D: 250, B-C: -120")


def made(bows: str) -> Plan:
    return plan(brief_from(parse_document(ROOM % bows, "bowed.yaml")))


def wall(plan: Plan, name: str) -> Wall:
    return next(wall for wall in plan.room.walls if wall.name == name)


def away(wall: Wall, point: tuple[float, float]) -> float:
    """Distance of a point from a wall's line or circle."""
    if wall.arc is not None:
        return abs(math.dist(point, wall.arc.centre) - wall.arc.radius)
    (ax, ay), (bx, by) = wall.start, wall.end
    return abs((bx - ax) * (point[1] - ay) - (by - ay) * (point[0] - ax)) / wall.length


def test_the_room_is_one_outline_whose_bows_are_arcs(bowed):
    """Four corners and four bulges: 2 * rise / chord."""
    shape = walls_shape(bowed.room)
    assert shape.points == ((0.0, 0.0), (6200.0, 0.0), (6200.0, 4100.0), (0.0, 4100.0))
    assert shape.bulges == pytest.approx((0.0, -2 * DENT / 4100, 2 * RISE / 6200, 0.0))
    assert shape in plan_lines(bowed.room, bowed.ceiling)


def test_a_straight_room_has_no_bulges():
    assert walls_shape(made("").room).bulges == ()


def test_the_ledge_is_its_width_from_both_walls_at_every_corner(bowed):
    """Line and arc, arc and arc: the mitre stands 22 mm off either, inside the room."""
    edges = ledge_edges(bowed.room, LEDGE)
    walls = bowed.room.walls
    assert len(edges) == 4
    for k, here in enumerate(walls):
        mitre = edges[here.start, here.end][0]
        assert away(here, mitre) == pytest.approx(LEDGE, abs=1e-9)
        assert away(walls[k - 1], mitre) == pytest.approx(LEDGE, abs=1e-9)
        box = bowed.room.box
        assert box.left < mitre[0] < box.right and box.bottom < mitre[1] < box.top


def test_the_ledge_of_a_bow_is_an_arc_about_the_same_centre(bowed):
    """22 mm less in radius where the wall bows out, 22 mm more where it bows in; its ends are the mitres."""
    arcs = [s for s in plan_lines(bowed.room, bowed.ceiling) if isinstance(s, Arc) and s.role == Role.WALL_ANGLE]
    ledge = bowed.ceiling.system.ledge
    edges = ledge_edges(bowed.room, ledge)
    assert len(arcs) == 2
    for name, drawn, offset in (("B-C", arcs[0], ledge), ("C-D", arcs[1], -ledge)):
        bow = wall(bowed, name)
        assert bow.arc is not None
        assert drawn.centre == pytest.approx(bow.arc.centre)
        assert drawn.radius == pytest.approx(bow.arc.radius + offset)
        ends = [at(drawn, drawn.start_deg), at(drawn, drawn.end_deg)]
        mitres = edges[bow.start, bow.end]
        assert ends == [pytest.approx(p) for p in (mitres if bow.bulge > 0 else mitres[::-1])]
        assert 0 < (drawn.end_deg - drawn.start_deg) % 360 < 90


def at(arc: Arc, turn: float) -> tuple[float, float]:
    t = math.radians(turn)
    return (arc.centre[0] + arc.radius * math.cos(t), arc.centre[1] + arc.radius * math.sin(t))


def test_the_title_of_the_angle_gives_the_length_along_the_arc(bowed):
    """R * 2 asin(c / 2R) = 6226.85 mm for C-D; what is cut is rounded down."""
    titles = [s.title for s in plan_lines(bowed.room, bowed.ceiling) if isinstance(s, Arc)]
    assert titles == ["Wall angle W2, 4109", "Wall angle W3, 6226"]


def test_the_angle_round_a_column_is_a_circle():
    text = ROOM % "" + "services: []\n"
    text = text.replace("bowed_walls: {}", "columns: [{name: P1, at: [2000, 2000], diameter: 410}]")
    piped = plan(brief_from(parse_document(text, "piped.yaml")))
    lines = plan_lines(piped.room, piped.ceiling)
    (ring,) = [s for s in lines if isinstance(s, Circle) and s.role == Role.WALL_ANGLE]
    assert (ring.centre, ring.radius) == ((2000.0, 2000.0), 205.0 + piped.ceiling.system.ledge)


def test_a_bow_tighter_than_the_ledge_is_drawn_as_a_line():
    niche = Member("W1", "wall angle", (0.0, 0.0), (20.0, 0.0), (), 1.0)  # a half circle of radius 10
    room = Room("R", "mm", ((0.0, 0.0), (20.0, 0.0), (20.0, 9.0)), ("A", "B", "C"))
    assert isinstance(ledge_shape(niche, room, LEDGE, {}, ""), Line)


def test_a_bowed_wall_is_one_span_of_its_side(bowed):
    """From the left: D-A up to 4100, then the bow of C-D up to 4350, less a chord's 0.1 mm."""
    room = bowed.room
    owners = [k for k, wall in enumerate(room.walls) for _ in wall.points[1:]]
    spans = profile(room.outline, "left", owners)
    assert [(s.low, s.high) for s in spans] == [(0.0, 4100.0), (4100.0, pytest.approx(4350.0, abs=0.11))]
    (top,) = profile(room.outline, "top", owners)
    foot = point_on((top,), "top", 1550.0)
    assert away(wall(bowed, "C-D"), foot) <= 0.11
    assert foot[0] == pytest.approx(1550.0)


def test_the_strings_show_the_rise(bowed):
    (sheet, *_) = draw(bowed, STYLE, SheetWish())
    texts = [s.text for s in sheet.windows[0].drawing.shapes if isinstance(s, Dimension)]
    for length in ("4100", "250", "4350", "6200"):
        assert length in texts


def test_bowed_walls_bear_their_length_and_rise(bowed):
    (sheet, *_) = draw(bowed, STYLE, SheetWish())
    letters = [s for s in sheet.windows[0].drawing.shapes if isinstance(s, Text)]
    assert any(s.text.startswith("arc 6227, rise 250") for s in letters)
    assert any(s.text == "arc 4109, rise 120, border 340 to 460" for s in letters)
    boxes = [box.ring for box in text_boxes(sheet, STYLE)]
    assert not any(rings_overlap(a, b) for k, a in enumerate(boxes) for b in boxes[:k])


def test_letters_beside_a_hollow_wall_do_not_cross_it(bowed):
    """Their box stays outside the arc: further from its centre's far side than the radius."""
    (sheet, *_) = draw(bowed, STYLE, SheetWish())
    window = sheet.windows[0]
    box = next(b for b in text_boxes(sheet, STYLE) if b.text.startswith("arc 4109"))
    bow = wall(bowed, "B-C")
    assert bow.arc is not None
    centre, radius = window.to_paper(bow.arc.centre), bow.arc.radius / window.drawing.scale
    assert all(math.dist(corner, centre) < radius for corner in box.ring)  # the centre lies outside the room


def test_the_start_is_told_from_the_chord_of_a_bowed_base_wall():
    """The grid is square to the chord A-B, so the crossing is measured from it."""
    sentence = start_sentence(made("A-B: 100"))
    assert "A-B (its chord)" in sentence
    assert "chord" not in start_sentence(made("C-D: 100"))


def test_an_outline_of_chords_and_its_arc_agree():
    """The bulge says the same as the chords that the room is planned with."""
    bulge = bulge_from_rise(6200.0, RISE)
    arc = arc_of((6200.0, 4100.0), (0.0, 4100.0), bulge)
    for point in arc_points((6200.0, 4100.0), (0.0, 4100.0), bulge):
        assert math.dist(point, arc.centre) == pytest.approx(arc.radius)
    assert Outline(Role.WALL, ((0.0, 0.0), (6200.0, 0.0)), bulges=(bulge, 0.0)).bulges[0] == bulge
