"""What lies around the plan: tables, title block, scale bar."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.drawing.labels import Heights, rings_overlap, text_ring
from planner.drawing.lettering import clean, text_width
from planner.drawing.roles import Role
from planner.drawing.scale_bar import bar_length, scale_bar
from planner.drawing.shapes import Line, Outline, Text, extents
from planner.drawing.stylebook import load_style
from planner.drawing.tables import notes, table
from planner.drawing.title_block import Facts, title_block, title_block_height
from planner.drawing.wrapping import shortened, wrapped
from planner.geometry import Box, box_of

HEIGHTS = Heights.of(load_style("iso-13567"))


def lettering(shapes) -> list[Text]:
    return [shape for shape in shapes if isinstance(shape, Text)]


def facts(**more) -> Facts:
    given_ = {"job": "Kiln room", "scale": "1:50 at A3", "paper": "A3", "units": "millimetres", "sheet": "1 of 1"}
    given_ |= {"document": "Reflected ceiling plan"}
    return Facts(**(given_ | {"date": "", "project": ()} | more))


BLOCK = Box(230.0, 10.0, 410.0, 10.0 + title_block_height(HEIGHTS))


def test_empty_fields_stay_empty():
    """Nothing is invented: without a project there are as many labels as ever, and only what the planner knows."""
    shown = lettering(title_block(BLOCK, facts(), HEIGHTS))
    said = [text.text for text in shown if text.role != Role.TITLE_LABEL]
    assert sorted(said) == sorted(
        ["Reflected ceiling plan", "Kiln room", "1:50 at A3", "A3", "millimetres", "1 of 1", "en"]
    )
    assert sum(text.role == Role.TITLE_LABEL for text in shown) == 15


def test_fields_of_the_room_file_are_shown_as_given():
    project = (("client", "Northfield Pottery"), ("drawn_by", "A. Quill"), ("revision", "P2"), ("date", "2 May"))
    said = {text.text for text in lettering(title_block(BLOCK, facts(project=project), HEIGHTS))}
    assert {"Northfield Pottery", "A. Quill", "P2", "2 May"} <= said


def test_a_date_from_the_command_line_goes_before_the_room_file():
    shown = lettering(title_block(BLOCK, facts(date="2024-05-01", project=(("date", "old"),)), HEIGHTS))
    assert "2024-05-01" in {t.text for t in shown} and "old" not in {t.text for t in shown}


@settings(max_examples=40, deadline=None)
@given(st.text(max_size=300), st.text(max_size=60))
def test_hostile_words_stay_in_their_fields(job, client):
    shapes = title_block(BLOCK, facts(job=job, project=(("client", client),)), HEIGHTS)
    rings = [text_ring(text, HEIGHTS[text.role]) for text in lettering(shapes)]
    assert all(BLOCK.holds(box_of(ring)) for ring in rings)
    for k, ring in enumerate(rings):
        assert not any(rings_overlap(ring, other) for other in rings[:k])
    upright = sorted({s.start[0] for s in shapes if isinstance(s, Line) and s.start[0] == s.end[0]})
    assert len(upright) >= 6


@given(st.text(max_size=200), st.floats(5, 80))
def test_shortened_text_fits_and_is_the_beginning_of_the_whole(text, width):
    found = shortened(text, width, 2.5)
    assert text_width(found, 2.5) <= width
    assert found == text or text.startswith(found.removesuffix("…"))


def test_shortening_shows_an_ellipsis():
    assert shortened("Reflected ceiling plan", 20.0, 2.5).endswith("…")
    assert shortened("short", 20.0, 2.5) == "short"


@given(st.lists(st.text("abcdefgh-", min_size=1, max_size=60), max_size=30), st.floats(20, 90))
def test_wrapped_lines_fit_and_lose_no_letter(words_, width):
    lines = wrapped(" ".join(words_), width, 2.5)
    assert all(text_width(line, 2.5) <= width for line in lines)
    assert "".join("".join(lines).split()) == "".join(words_)


def test_a_length_stays_with_its_like_in_the_other_system():
    """Five lengths in both systems on lines of 40 mm: no line begins with the half that stands in brackets."""
    text = ", ".join(f"{5030 + 400 * k} [16'-6 1/16\"]" for k in range(5))
    lines = wrapped(text, 40.0, 2.5)
    assert len(lines) > 1 and not any(line.startswith("[") for line in lines)
    assert wrapped("5430 [17'-9 3/4\"]", 15.0, 2.5)[1].startswith("[")  # in need it is broken there


def test_a_table_keeps_its_cells_apart_and_within_its_width():
    rows = [("A-B", "18'-7\"", "1'-3 1/2\" to 1'-11 15/16\""), ("a very long name indeed " * 4, "x" * 80, "")]
    stack = table("Walls", "llr", ("wall", "length", "border"), rows, 60.0, HEIGHTS)
    for row in stack.rows:
        rings = [text_ring(text, HEIGHTS[text.role]) for text in lettering(row.shapes)]
        for k, ring in enumerate(rings):
            assert Box(-0.01, -row.height, 60.01, 0.0).holds(box_of(ring))
            assert not any(rings_overlap(ring, other) for other in rings[:k])


def test_a_table_with_room_shortens_nothing():
    rows = [("A-B", "18'-7\"", "1'-3 1/2\""), ("B-C", "11'-4\"", "0'-11 15/16\"")]
    said = {t.text for row in table("W", "lll", (), rows, 90.0, HEIGHTS).rows for t in lettering(row.shapes)}
    assert said == {cell for row in rows for cell in row}


def test_notes_hang_their_sign_and_stay_in_their_column():
    stack = notes("Cautions", ["word " * 40, "short"], 60.0, HEIGHTS, Role.CAUTION, "!")
    assert sum(t.text == "!" for row in stack.rows for t in lettering(row.shapes)) == 2
    for row in stack.rows:
        for text in lettering(row.shapes):
            assert Box(-0.01, -row.height, 60.01, 0.0).holds(box_of(text_ring(text, HEIGHTS[text.role])))


@pytest.mark.parametrize(
    ("unit", "scale", "width", "expected"),
    # 5 m at 1:50 are 100 mm; 2 m are 40 mm; 20 ft at 1:96 are 63.5 mm
    [(1000.0, 50.0, 100.0, (5.0, 5)), (1000.0, 50.0, 99.0, (2.0, 4)), (304.8, 96.0, 70.0, (20.0, 4))],
)
def test_a_bar_shows_the_longest_round_length(unit, scale, width, expected):
    assert bar_length(unit, scale, width) == pytest.approx(expected)


def test_the_bars_are_as_long_as_they_say():
    """At 1:50 the bar of metres ends at its last number: 2 m are 40 mm, 10 ft are 60.96 mm."""
    stack = scale_bar(50.0, 80.0, HEIGHTS)
    for row, unit in zip(stack.rows, (1000.0, 304.8), strict=True):
        last = next(t.text for t in lettering(row.shapes) if " " in t.text)
        line = next(s for s in row.shapes if isinstance(s, Line) and s.start[1] == s.end[1])
        assert line.end[0] - line.start[0] == pytest.approx(float(last.split()[0]) * unit / 50.0)


@given(st.sampled_from((10.0, 24.0, 48.0, 50.0, 96.0, 100.0, 200.0, 480.0, 5000.0)), st.floats(55, 110))
def test_bars_stay_in_their_column_and_their_numbers_apart(scale, width):
    for row in scale_bar(scale, width, HEIGHTS).rows:
        rings = [text_ring(text, HEIGHTS[text.role]) for text in lettering(row.shapes)]
        assert all(box_of(ring).left >= -0.01 and box_of(ring).right <= width for ring in rings)
        assert extents(tuple(s for s in row.shapes if isinstance(s, Outline))).right <= width
        for k, ring in enumerate(rings):
            assert not any(rings_overlap(ring, other) for other in rings[:k])


def test_clean_is_what_the_parts_write():
    assert clean("a\x00b\u202e") == "ab"
