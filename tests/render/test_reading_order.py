"""Text from right to left as a page shows it; what runs from left to right stays as it is."""

import io

import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.drawing.roles import Role
from planner.drawing.shapes import Paper, Sheet, Text
from planner.drawing.stylebook import load_style
from planner.render.pdf import write_pdf
from planner.render.reading_order import as_shown

ALEF, BET, GIMEL, DALET = "\u05d0", "\u05d1", "\u05d2", "\u05d3"


@pytest.mark.parametrize(
    ("stored", "shown"),
    [
        ("Room 3 (left)", "Room 3 (left)"),
        (ALEF + BET, BET + ALEF),
        (f"{ALEF}{BET} {GIMEL}", f"{GIMEL} {BET}{ALEF}"),  # words too go from right to left
        (f"{ALEF}{BET} 12", f"12 {BET}{ALEF}"),  # the number stays as it is read, and stands left of the word
        (f"Room {ALEF}{BET}, east", f"Room {BET}{ALEF}, east"),  # in a sentence only the word is turned
        (f"{ALEF} ({BET}) {GIMEL}", f"{GIMEL} ({BET}) {ALEF}"),  # what opens a bracket closes it
        (f"12 {ALEF}", f"12 {ALEF}"),
        (f"{ALEF}{BET} 12.5", f"12.5 {BET}{ALEF}"),  # UAX 9, W4: one separator between two numbers belongs to them
        (f"{ALEF} 1200/600 {BET}", f"{BET} 1200/600 {ALEF}"),
        (f"A {ALEF} ({BET}) 5", f"A 5 ({BET}) {ALEF}"),
        ("", ""),
    ],
)
def test_a_line_reads_from_the_right_where_its_letters_do(stored: str, shown: str) -> None:
    assert as_shown(stored) == shown


@given(st.text(st.sampled_from(f"ab 12(),-{ALEF}{BET}{GIMEL}{DALET}"), max_size=20))
def test_no_letter_is_lost_and_none_is_added(text: str) -> None:
    swapped = text.replace("(", ")")
    assert sorted(as_shown(text).replace("(", ")")) == sorted(swapped)


def test_a_name_in_hebrew_begins_at_the_right_of_the_page() -> None:
    """Where PDFium finds each letter: the first one furthest to the right."""
    paper = Paper("A4", 297.0, 210.0, (20.0, 10.0, 10.0, 10.0))
    sheet = Sheet("plan", "Plan", paper, (), (Text(Role.NOTE, (50.0, 100.0), ALEF + BET + GIMEL),), "en")
    document = pypdfium2.PdfDocument(io.BytesIO(write_pdf((sheet,), load_style("iso-13567"), title="t")))
    page = document[0].get_textpage()
    lefts = {page.get_text_range(k, 1): page.get_charbox(k)[0] for k in range(page.count_chars())}
    assert lefts[ALEF] > lefts[BET] > lefts[GIMEL]
