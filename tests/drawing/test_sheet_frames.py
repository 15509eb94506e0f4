"""Frames and title blocks: borders by style, every paper either way round, fields that keep to their cells."""

from itertools import pairwise
from pathlib import Path

import pytest
from drawing.hand_plans import hand_plan, rectangle, room
from drawing.whole_sheets import check, said

from planner.drawing.labels import Heights
from planner.drawing.lettering import text_width
from planner.drawing.papers import find_paper, paper_for, paper_names
from planner.drawing.roles import Role
from planner.drawing.shapes import Line, Text
from planner.drawing.sheet_frame import frame, zone_names, zone_stops
from planner.drawing.sheets import draw
from planner.drawing.stylebook import Style, load_style
from planner.drawing.title_block import WIDTH, Facts, title_block, title_block_height
from planner.drawing.wish import SheetWish
from planner.geometry import Box
from planner.planning import plan
from planner.room.outline import Revision
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
ISO, US, BOLD = (load_style(name) for name in ("iso-13567", "us-ncs", "site-bold"))
HEIGHTS = Heights.of(ISO)


def paper(name: str, style: Style, portrait: bool = False):
    return paper_for(style, SheetWish(paper=name, portrait=portrait))


@pytest.mark.parametrize(
    ("name", "long", "short"), [("A0", 24, 16), ("A1", 16, 12), ("A2", 12, 8), ("A3", 8, 6), ("A4", 6, 4)]
)
def test_iso_frames_have_as_many_fields_as_the_standard_lists(name, long, short):
    """BS EN ISO 5457:1999+A1:2010, read on a public page: divisions of the long and the short side."""
    lying, upright = paper(name, ISO), paper(name, ISO, True)
    assert [len(zone_stops(lying, axis)) - 1 for axis in (0, 1)] == [long, short]
    assert [len(zone_stops(upright, axis)) - 1 for axis in (0, 1)] == [short, long]


def test_iso_fields_are_fifty_millimetres_from_the_centring_mark_on():
    stops = zone_stops(paper("A3", ISO), 0)
    assert 210.0 in stops
    assert [b - a for a, b in pairwise(stops[1:-1])] == [50.0] * 6


def test_letters_run_down_and_numbers_across_and_there_is_no_i_and_no_o():
    assert zone_names(16, 1, "iso-5457") == list("RQPNMLKJHGFEDCBA")  # from below, so A is at the top
    assert zone_names(3, 0, "iso-5457") == ["1", "2", "3"]


@pytest.mark.parametrize(
    ("name", "across", "up"), [("ANSI B", 4, 2), ("ANSI C", 4, 4), ("ANSI D", 8, 4), ("ANSI E", 8, 8)]
)
def test_us_frames_have_equal_zones_numbered_from_the_right_and_lettered_from_below(name, across, up):
    """ASME Y14.1, from memory: zones of 4-1/4 or 5-1/2 in of the sheet."""
    lying = paper(name, US)
    assert [len(zone_stops(lying, axis)) - 1 for axis in (0, 1)] == [across, up]
    assert zone_names(4, 0, "us") == ["4", "3", "2", "1"]
    assert zone_names(4, 1, "us") == ["A", "B", "C", "D"]


def test_the_bold_style_has_a_plain_frame_and_on_a4_only_two_sides_have_zones():
    assert len(frame(paper("A3", BOLD))) == 1
    sheet = paper("A4", ISO)
    letters = [s for s in frame(sheet) if isinstance(s, Text)]
    assert len(letters) == 6 + 4
    assert all(s.at[0] > sheet.frame.right or s.at[1] > sheet.frame.top for s in letters)


def test_every_frame_keeps_to_its_paper():
    for style in (ISO, US):
        for name in paper_names():
            for portrait in (False, True):
                sheet = paper(name, style, portrait)
                ends = [p for s in frame(sheet) if isinstance(s, Line) for p in (s.start, s.end)]
                assert all(0.0 <= x <= sheet.width and 0.0 <= y <= sheet.height for x, y in ends)


@pytest.mark.parametrize("portrait", [False, True], ids=["lying", "upright"])
@pytest.mark.parametrize("name", [name for name in paper_names() if name not in ("Ledger", "Tabloid", "Letter")])
def test_a_set_is_drawn_on_every_paper_without_a_collision(name, portrait):
    made = plan(read_room(str(FIXTURES / "studio-l.yaml")))
    style = ISO if name.startswith("A") and name[1:].isdigit() else US
    for sheet in draw(made, style, SheetWish(paper=name, portrait=portrait, sheets=("ceiling-plan", "set-out"))):
        check(sheet, style)
        assert (sheet.paper.width < sheet.paper.height) == portrait
        assert find_paper(name).name == sheet.paper.name


GIVEN = (
    ("legal_owner", "Okafor Ceilings Ltd"),
    ("number", "RR-2604-C1"),
    ("approved_by", "S. Lindqvist"),
    ("drawn_by", "M. Okafor"),
    ("department", "Fit-out"),
    ("technical_reference", "J. Haddad"),
    ("classification", "C-35"),
    ("status", "For approval"),
    ("revision", "B"),
    ("date", "2026-03-14"),
    ("supplementary_title", "East wing"),
)


def block(project, **more) -> tuple[list[Text], Box]:
    box = Box(0.0, 0.0, WIDTH, title_block_height(HEIGHTS, project))
    told = {"job": "Reading room", "document": "Set-out", "scale": "1:50 at A3", "paper": "A3", "units": "millimetres"}
    facts = Facts(**(told | {"sheet": "1 of 7", "date": ""} | more), project=project)
    return [s for s in title_block(box, facts, HEIGHTS) if isinstance(s, Text)], box


def test_every_field_that_was_given_is_shown_and_no_other_is_filled():
    shown = {text.text for text in block(GIVEN)[0]}
    assert {value for _, value in GIVEN} <= shown
    bare = {text.text for text in block(())[0] if text.role != Role.TITLE_LABEL}
    assert bare == {"Reading room", "Set-out", "1:50 at A3", "A3", "millimetres", "1 of 7", "en"}


def test_labels_of_mandatory_fields_stand_over_empty_cells():
    labels = {text.text for text in block(())[0] if text.role == Role.TITLE_LABEL}
    assert {"legal owner", "document no.", "date of issue", "approved by", "drawn by", "status"} <= labels
    assert "department" not in labels


LONG = "The Very Honourable Society of Ceiling Fixers of the Northern Counties and Adjoining Islands"


@pytest.mark.parametrize("text", [LONG, "x" * 300, "a b " * 60])
def test_a_text_too_long_for_its_cell_is_set_smaller_then_in_two_lines_and_never_leaves_it(text):
    for style in (ISO, US, BOLD):
        made = room(rectangle(4140, 3150), name=text, project=tuple((key, text) for key, _ in GIVEN[:-1]))
        for sheet in draw(hand_plan(made), style, SheetWish(sheets=("ceiling-plan",), date=text)):
            check(sheet, style)
    project = tuple((key, text) for key, _ in GIVEN)
    texts, box = block(project, job=text, document=text, units=text)
    for letters in texts:
        height = HEIGHTS[letters.role]
        assert letters.at[0] + text_width(letters.text, height) <= box.right
        assert box.bottom < letters.at[1] < box.top - height
    small = [s.text for s in texts if s.role == Role.TITLE_LABEL and s.text.startswith(text[:6])]
    assert small


def test_a_long_name_is_whole_in_two_lines():
    texts, _ = block((("legal_owner", "Okafor and Daughters Suspended Ceilings of Leith Limited"),))
    lines = sorted((s for s in texts if s.text[:3] in ("Oka", "Lei", "Lim", "of ")), key=lambda s: -s.at[1])
    assert " ".join(s.text for s in lines) == "Okafor and Daughters Suspended Ceilings of Leith Limited"


def test_revisions_stand_on_the_plan_the_newest_first():
    issues = (
        Revision("A", "2026-02-20", "First issue", "MO"),
        Revision("B", "2026-03-14", "Lights moved to suit the joists", "MO"),
    )
    made = hand_plan(room(rectangle(4140, 3150), revisions=issues))
    words = said(draw(made, ISO, SheetWish(sheets=("ceiling-plan",)))[0])
    assert "Revisions" in words
    assert words.index("2026-03-14") < words.index("2026-02-20")
    assert "Revisions" not in said(draw(hand_plan(room(rectangle(4140, 3150))), ISO, SheetWish())[0])


def test_the_last_revision_is_the_one_in_the_title_block_if_none_is_named():
    made = read_room(str(FIXTURES / "reference.yaml"))
    assert [issue.rev for issue in made.room.revisions] == ["A", "B"]
    assert dict(made.room.project)["revision"] == "B"
    assert "revisions" not in dict(made.room.project)
