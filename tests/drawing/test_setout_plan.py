"""The set-out sheet: marks with running lengths, strings, diagonals, the laser line."""

import math
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from drawing.hand_plans import hand_plan, rectangle, room
from drawing.whole_sheets import check, drawn_words, said, setout_plan
from hypothesis import given
from hypothesis import strategies as st

from planner.ceiling.model import Diagonal, Mark, SetOut, WallMarks
from planner.drawing.roles import Role
from planner.drawing.setout_plan import seen_from_chord, spread
from planner.drawing.shapes import Line, Text
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.planning import Plan
from planner.planning import plan as make_plan
from planner.room.outline import Wall
from planner.room.reader import read_room

ISO = load_style("iso-13567")


def set_out(made: Plan, what: str = "main") -> Plan:
    """A plan with marks every 600 along its walls, one pair of them 20 mm apart, two strings and one diagonal."""
    walls = tuple(
        WallMarks(
            wall.name,
            (
                *(Mark(570.0 + 600.0 * k, f"{what} M{k}") for k in range(int((wall.length - 600) // 600))),
                Mark(590.0, "chalk line"),
            ),
        )
        for wall in made.room.walls
    )
    corner = (570.0, 375.0)
    lines = (((0.0, 375.0), (4140.0, 375.0), f"string for {what}"), ((570.0, 0.0), (570.0, 3150.0), "cross line"))
    diagonal = Diagonal(corner, (570.0 + 1200.0, 375.0 + 900.0), "crossing to the second mark", 1500.0)
    return replace(made, ceiling=replace(made.ceiling, setout=SetOut(walls, (diagonal,), lines, 2676.0)))


def small(**more) -> Plan:
    return set_out(hand_plan(room(rectangle(4140, 3150), **more)))


def test_a_plan_without_set_out_has_no_such_sheet():
    assert setout_plan(hand_plan(room(rectangle(4140, 3150))), ISO, SheetWish()) is None


def test_every_mark_is_drawn_on_its_wall_with_its_running_length():
    """Wall B-C stands at x = 4140: its mark at 1170 is a tick across (4140, 1170)."""
    sheet = setout_plan(small(), ISO, SheetWish())
    assert sheet is not None
    check(sheet, ISO)
    assert drawn_words(sheet).count("1170  main M1") == 4
    ticks = [s for s in sheet.windows[0].drawing.shapes if isinstance(s, Line) and s.role == Role.SET_OUT]
    assert any(tick.start[1] == pytest.approx(1170.0) and tick.start[0] < 4140.0 < tick.end[0] for tick in ticks)


def test_marks_that_stand_too_close_are_lettered_apart():
    sheet = setout_plan(small(), ISO, SheetWish())
    assert sheet is not None
    letters = [s for s in sheet.windows[0].drawing.shapes if isinstance(s, Text) and s.role == Role.SET_OUT]
    below = sorted(t.at[0] for t in letters if t.at[1] < 0.0)
    paper = [x / sheet.windows[0].drawing.scale for x in below]
    assert all(b - a >= 1.4 * 2.5 for a, b in pairwise(paper))
    assert {"570  main M0", "590  chalk line"} <= set(drawn_words(sheet))


def test_feet_and_inches_are_rounded_each_for_itself():
    """570 mm are 22.44 in: 1'-10 7/16"; 1170 mm are 46.06 in: 3'-10 1/16"."""
    sheet = setout_plan(small(units="ft-in"), load_style("us-ncs"), SheetWish())
    assert sheet is not None
    assert {"1'-10 7/16\"  main M0", "3'-10 1/16\"  main M1"} <= set(drawn_words(sheet))


def test_strings_diagonals_and_the_laser_line_are_told():
    sheet = setout_plan(small(), ISO, SheetWish())
    assert sheet is not None
    assert {"string for main", "1500"} <= set(drawn_words(sheet))
    words = said(sheet)
    assert "2676 mm" in words and "crossing to the second mark" in words and "A for A-B" in words


def test_letters_have_room_on_the_room_side_where_two_walls_face_each_other():
    """A slot of 700 mm is 14 mm wide at 1:50, and every mark needs some 25 mm: none may lie on another."""
    slot = (
        (0.0, 0.0), (5000.0, 0.0), (5000.0, 4000.0), (2850.0, 4000.0),
        (2850.0, 1500.0), (2150.0, 1500.0), (2150.0, 4000.0), (0.0, 4000.0),
    )  # fmt: skip
    sheet = setout_plan(set_out(hand_plan(room(slot))), ISO, SheetWish())
    assert sheet is not None
    check(sheet, ISO)


spots = st.lists(st.floats(0.0, 500.0), max_size=30).map(sorted)


@given(spots, st.floats(1.0, 8.0))
def test_spread_keeps_the_order_and_the_distance(given_spots: list[float], apart: float):
    places = spread(given_spots, apart)
    assert len(places) == len(given_spots)
    assert all(b - a >= apart - 1e-6 for a, b in pairwise(places))


def test_spread_leaves_alone_what_is_apart_and_centres_what_is_not():
    """10 and 11 are to be 4 apart: 8.5 and 12.5, about their middle 10.5."""
    assert spread([10.0, 11.0, 40.0], 4.0) == pytest.approx([8.5, 12.5, 40.0])


def test_a_mark_on_a_bowed_wall_stands_on_its_arc():
    """A half circle over 2000 (bulge 1) is pi * 1000 long; half of that is its apex, 1000 out of the room."""
    wall = Wall("A-B", (0.0, 0.0), (2000.0, 0.0), bulge=1.0)
    assert seen_from_chord(wall, math.pi * 500.0) == pytest.approx((1000.0, 1000.0))
    assert seen_from_chord(wall, 0.0) == pytest.approx((0.0, 0.0), abs=1e-6)
    assert seen_from_chord(Wall("A-B", (0.0, 0.0), (2000.0, 0.0)), 700.0) == (700.0, 0.0)


def test_a_crowd_of_marks_is_thinned_but_every_one_is_ticked():
    """60 m at 1:200 are 300 mm: of 99 marks every second finds its 3.75 mm, and 49 or 50 are lettered."""
    made = set_out(hand_plan(room(rectangle(60000, 6000))))
    sheet = setout_plan(made, ISO, SheetWish(scale=200.0))
    assert sheet is not None and made.ceiling.setout is not None
    check(sheet, ISO)
    marks = sum(len(wall.marks) for wall in made.ceiling.setout.walls)
    shapes = sheet.windows[0].drawing.shapes
    ticks = [s for s in shapes if isinstance(s, Line) and s.role == Role.SET_OUT and math.dist(s.start, s.end) < 700.0]
    assert len(ticks) >= marks
    assert "Set-out marks left out for want of room" in said(sheet)


def test_a_corridors_short_diagonal_has_its_number_on_the_drawing():
    """1100 x 975 from corner A: 1470 (root of 2,160,625), 15 mm at 1:100, with no room along it for letters."""
    made = make_plan(read_room(str(Path(__file__).parents[2] / "fixtures" / "corridor.yaml")))
    sheet = setout_plan(made, ISO, SheetWish())
    assert sheet is not None
    check(sheet, ISO)
    words = drawn_words(sheet)
    assert "1470" in words and "29916" not in words
