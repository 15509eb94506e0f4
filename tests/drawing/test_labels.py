"""Boxes of letters, and places for them."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.drawing.labels import (
    DESCENT,
    Taken,
    box_ring,
    descent,
    dimension_text,
    first_free,
    readable,
    rings_overlap,
    text_ring,
)
from planner.drawing.lettering import text_width
from planner.drawing.roles import Role
from planner.drawing.shapes import Dimension, Text
from planner.geometry import Box, box_of


def note(x: float, y: float, text: str = "abc", angle: float = 0.0) -> Text:
    return Text(Role.NOTE, (x, y), text, "centre", "middle", angle)


def test_a_box_is_as_wide_as_its_glyphs_and_reaches_below_the_foot():
    box = box_of(text_ring(Text(Role.NOTE, (10.0, 20.0), "Ceiling 2700"), 2.5))
    assert box.width == pytest.approx(text_width("Ceiling 2700", 2.5))
    assert box.left == 10.0
    assert (box.bottom, box.top) == pytest.approx((20 - DESCENT * 2.5, 22.5))


def test_what_has_no_descenders_stands_on_its_foot():
    """Capitals and figures, so that "a1" finds room in a strip 2.5 mm wide and "g1" does not."""
    assert box_of(text_ring(Text(Role.NOTE, (0.0, 0.0), "CH 2700 Mark-a1"), 2.5)).bottom == 0.0
    assert all(descent(text) == DESCENT for text in ("g1", "Q", "J-K", "2,5", "(3)", "ñ", "中"))


def test_a_quarter_turn_swaps_width_and_height():
    lying, standing = (box_of(text_ring(note(0, 0, angle=a), 2.5)) for a in (0.0, 90.0))
    assert (standing.width, standing.height) == pytest.approx((lying.height, lying.width))


@pytest.mark.parametrize(
    ("angle", "reads"), [(0, 0), (90, 90), (180, 0), (270, 90), (-90, 90), (45, 45), (135, -45), (225, 45), (91, -89)]
)
def test_letters_read_from_below_or_from_the_right(angle, reads):
    assert readable(angle) == pytest.approx(reads)


def test_crossed_letters_overlap_and_touching_ones_do_not():
    square = box_ring(Box(0, 0, 10, 10))
    assert rings_overlap(square, box_ring(Box(9, 9, 12, 12)))
    assert not rings_overlap(square, box_ring(Box(10, 0, 20, 10)))
    diamond = ((12.0, 6.0), (16.0, 10.0), (12.0, 14.0), (8.0, 10.0))
    assert rings_overlap(square, diamond)
    away = tuple((x + 1.5, y + 2.5) for x, y in diamond)  # its box still meets the square's, itself it does not
    assert box_of(away).overlaps(Box(0, 0, 10, 10))
    assert not rings_overlap(square, away)


def test_the_first_free_candidate_wins_and_is_taken():
    taken = Taken()
    first = first_free([note(0, 0), note(20, 0)], 2.5, taken)
    second = first_free([note(0, 0), note(20, 0)], 2.5, taken)
    third = first_free([note(0, 0), note(20, 0)], 2.5, taken)
    assert first is not None and first.at == (0, 0)
    assert second is not None and second.at == (20, 0)
    assert third is None


def test_strokes_are_avoided():
    strokes = Taken()
    strokes.add_stroke((-50.0, 0.0), (50.0, 0.0))
    found = first_free([note(0, 0), note(0, 5)], 2.5, Taken(), (strokes,))
    assert found is not None and found.at == (0, 5)


places = st.tuples(st.floats(-60, 60), st.floats(-60, 60), st.sampled_from((0.0, 30.0, 90.0, -45.0)))


@settings(max_examples=30, deadline=None)
@given(st.lists(places, max_size=40))
def test_whatever_is_asked_for_no_two_labels_overlap(asked):
    taken = Taken()
    rings = []
    for x, y, angle in asked:
        found = first_free([note(x, y, "label", angle), note(x + 5, y, "label", angle)], 2.5, taken)
        if found is not None:
            rings.append(text_ring(found, 2.5))
    for k, ring in enumerate(rings):
        assert not any(rings_overlap(ring, other) for other in rings[:k])


def dimension(start, end, line_at, angle, text, **more) -> Dimension:
    return Dimension(Role.DIMENSION, start, end, line_at, angle, text, **more)


def test_letters_of_a_dimension_stand_above_the_middle_of_its_line():
    """At 1:50: 4000 mm are 80 mm of paper; the letters stand 1 mm, 50 mm of the room, above the line."""
    text = dimension_text(dimension((0.0, 0.0), (4000.0, 0.0), (0.0, -600.0), 0.0, "4000"), 2.5, 50.0)
    assert text.at == pytest.approx((2000, -550))
    assert (text.horizontal, text.vertical, text.angle_deg) == ("centre", "base", 0.0)


def test_an_upright_dimension_reads_from_the_right():
    text = dimension_text(dimension((0.0, 0.0), (0.0, 4000.0), (-600.0, 0.0), 90.0, "4000"), 2.5, 50.0)
    assert text.at == pytest.approx((-650, 2000))
    assert text.angle_deg == 90.0


def test_letters_without_room_go_past_the_end():
    """100 mm at 1:50 are 2 mm of paper: no room for "100"; they stand past the end, 2.6 mm and half their width off."""
    text = dimension_text(dimension((0.0, 0.0), (100.0, 0.0), (0.0, 0.0), 0.0, "100"), 2.5, 50.0)
    assert text.at[0] == pytest.approx(100 + 50 * (2.6 + text_width("100", 2.5) / 2))


def test_letters_can_be_told_where_to_stand():
    told = dimension((0.0, 0.0), (100.0, 0.0), (0.0, 0.0), 0.0, "100", text_at=(7.0, 9.0), text_angle_deg=90.0)
    text = dimension_text(told, 2.5, 50.0)
    assert (text.at, text.angle_deg, text.vertical) == ((7.0, 9.0), 90.0, "middle")
    assert math.isfinite(text.at[0])
