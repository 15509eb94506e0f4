"""Long findings beside a plan end with a sentence or a clause, and say where the whole of them stands."""

import pytest
from drawing.hand_plans import hand_plan, rectangle, room

from planner.drawing.labels import Heights
from planner.drawing.place import Place
from planner.drawing.schedules import ORDER_OF_WORK, finding_notes
from planner.drawing.shapes import Text
from planner.drawing.stylebook import load_style
from planner.findings import Finding

HEIGHTS = Heights.of(load_style("iso-13567"))
SEVENTH = Place(1, 7, ((ORDER_OF_WORK, 7),))
#: 37 letters, without its full stop.
SENTENCE = "the tees are fixed to the wall at A-B"


def beside(message: str, place: Place = SEVENTH) -> str:
    """What the list beside a plan says of one finding."""
    made = hand_plan(room(rectangle(4000, 3000)), findings=(Finding("note", "tees", "a test", message),))
    stack = finding_notes(made, 90.0, 4, HEIGHTS, place)
    assert stack is not None
    shapes = [shape for row in stack.rows for shape in row.shapes if isinstance(shape, Text)]
    return " ".join(shape.text for shape in shapes)


def test_a_short_finding_stands_whole():
    assert beside(f"{SENTENCE}.").endswith("at A-B.")
    assert "sheet" not in beside(f"{SENTENCE}.")


def test_a_long_one_ends_with_a_sentence_and_the_sheet_of_the_rest():
    """Six sentences of 39 letters with the space are 234: over 170 and what is let pass; four of them fit."""
    found = beside(" ".join([f"{SENTENCE}."] * 6))
    assert found.count(SENTENCE) == 4
    assert found.endswith("at A-B. More: see sheet 7.")


def test_a_sentence_too_long_ends_with_a_clause_and_in_no_bracket():
    found = beside(", ".join([SENTENCE] * 3) + f", which holds ({', '.join([SENTENCE] * 3)})")
    assert found.endswith("which holds…: see sheet 7.")
    found = beside(", ".join([SENTENCE] * 6))
    assert found.endswith(f"{SENTENCE}…: see sheet 7.")
    assert found.count(SENTENCE) == 4


@pytest.mark.parametrize("message", ["word " * 60, f"{SENTENCE}. " * 6])
def test_without_that_sheet_an_ellipsis_alone_says_it(message):
    assert beside(message.strip(), Place()).endswith("…")
