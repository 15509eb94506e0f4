"""The survey as it is read on a ladder: the table and the findings, word by word."""

import math
from itertools import pairwise

import pytest

from planner.findings import Finding
from planner.room.closing.findings import listed, written_small
from planner.room.closing.slips import FOOT, INCH, SIXTEENTH
from planner.room.closing.table import survey_table
from planner.room.survey import Clipboard, Reading, Survey
from planner.room.tape import close_survey

RECTANGLE = (("A-B", 4000), ("B-C", 3000), ("C-D", 4000), ("D-A", 3000))


def close(*tape: tuple[str, float], corners: str = "ABCD", **more: object) -> Survey:
    taped = tuple(Reading((line[0], line[2]), float(length)) for line, length in tape)
    return close_survey(Clipboard(tuple(corners), taped, **more))  # type: ignore[arg-type]


def told(survey: Survey, rule: str) -> Finding:
    (finding,) = [finding for finding in survey.findings if finding.rule == rule]
    return finding


def test_a_room_in_millimetres() -> None:
    """Sides 4 by 3 m, diagonals 5 m taped 2 mm apart: both are drawn together by half."""
    survey = close(*RECTANGLE, ("A-C", 5001), ("B-D", 4999))
    assert survey_table(survey, "mm") == [
        "line    taped  should be  differs by",
        "A-B   4000 mm    4000 mm           0  fits",
        "B-C   3000 mm    3000 mm           0  fits",
        "C-D   4000 mm    4000 mm           0  fits",
        "D-A   3000 mm    3000 mm           0  fits",
        "A-C   5001 mm    5001 mm           0  fits",
        "B-D   4999 mm    4999 mm           0  fits",
        "",
        "corner    along     away  give or take  out of square",
        "A             0        0    under 1 mm  1 mm closed",
        "B       4000 mm        0          2 mm  1 mm open",
        "C       4001 mm  3000 mm          3 mm  1 mm closed",
        "D          1 mm  3000 mm          3 mm  1 mm open",
        "",
        "The diagonals A-C and B-D differ by 2 mm; A-C is the longer.",
        "Readings beyond what the shape needs: 1.",
    ]


def test_a_room_in_feet_and_inches_with_an_assumed_corner() -> None:
    """12' by 8', nothing but walls: all are needed, A is assumed, and what is assumed is not called measured."""
    walls = (("A-B", 12 * FOOT), ("B-C", 8 * FOOT), ("C-D", 12 * FOOT), ("D-A", 8 * FOOT))
    table = survey_table(close(*walls, units="ft-in"), "ft-in")
    assert table[1].split() == ["A-B", "12'-0\"", "12'-0\"", "0", "not", "checked", "by", "any", "other"]
    assert table[7].endswith("assumed, not measured")
    assert table[-2:] == ["Readings beyond what the shape needs: 0.", "Assumed, not measured: A."]
    assert "The diagonals A-C and B-D are equal." in table


def test_a_wrong_reading_is_marked_in_its_row() -> None:
    """All twice, a foot too much in the second reading of B-C: 3000 + 304.8 = 3305 mm."""
    lines = (*RECTANGLE, ("A-C", 5000), ("B-D", 5000))
    survey = close(*lines, *(row if row[0] != "B-C" else ("B-C", 3000 + FOOT) for row in lines), units="in")
    rows = [row for row in survey_table(survey, "mm") if row.startswith("B-C")]
    assert [row.split("  ")[-1] for row in rows] == ["fits", "WRONG, left out"]
    assert "3305 mm" in rows[1]
    assert "+305 mm" in rows[1], "it is too long"


def test_rows_that_cannot_be_told_apart_all_do_not_fit() -> None:
    survey = close(*RECTANGLE, ("A-C", 5100), ("B-D", 5000))
    assert sum(row.endswith("DOES NOT FIT") for row in survey_table(survey, "mm")) == 6


def test_the_table_has_one_row_for_each_reading_and_corner() -> None:
    """15 readings of a triangle and 3 corners; two heads, two gaps, one sum: 23 lines."""
    survey = close(
        *[("A-B", 4000), ("B-C", 3000), ("C-A", 5000)] * 5, corners="ABC", angles={"A": 36.9, "B": 90, "C": 53.1}
    )
    table = survey_table(survey, "m")
    assert len(table) == 15 + 3 + 2 + 2 + 1
    assert all(len(row) < 80 for row in table)


@pytest.mark.parametrize(
    ("mm", "units", "text"),
    [
        (8.0, "mm", "8 mm"),
        (-8.4, "m", "-8 mm"),
        (0.3, "cm", "under 1 mm"),
        (5 * SIXTEENTH, "ft-in", '5/16"'),
        (-1.5 * INCH, "in", '-1 1/2"'),
        (0.2, "ft-in", 'under 1/16"'),
    ],
)
def test_differences_are_written_as_the_tape_shows_them(mm: float, units: str, text: str) -> None:
    assert written_small(mm, units) == text  # type: ignore[arg-type]


def test_lists_are_said_as_people_say_them() -> None:
    assert (listed([]), listed(["A"]), listed(["A", "B"]), listed(["A", "B", "C"], "{some} or {last}")) == (
        "",
        "A",
        "A and B",
        "A, B or C",
    )


class TestFindings:
    def test_readings_that_agree(self) -> None:
        note = told(close(*RECTANGLE, ("A-C", 5001), ("B-D", 5000)), "readings agree")
        assert note.severity == "note"
        assert note.message.startswith("1 reading more than the shape needs")

    def test_a_wrong_reading_in_feet_and_inches(self) -> None:
        """18' 7" taped as 19' 7" once of twice."""
        at = {"A": (0, 0), "B": (18 * 12 + 7, 0), "C": (18 * 12 + 7, 136), "D": (0, 136)}
        lines = [*pairwise("ABCDA"), ("A", "C"), ("B", "D")]
        true = {line: round(math.dist(at[line[0]], at[line[1]]) * 16) * SIXTEENTH for line in lines}
        tape = [(f"{a}-{b}", length) for (a, b), length in true.items()]
        survey = close(*tape, *tape[1:], ("A-B", true["A", "B"] + FOOT), units="ft-in")
        stop = told(survey, "a reading does not fit")
        assert stop.severity == "stop"
        assert "A-B was taped as 19'-7\", but the other readings make it 18'-7\"" in stop.message
        assert "Probably 18'-7\": a foot misread or the tape held at its 1 ft mark" in stop.message
        assert survey.findings[0] == stop

    def test_a_corner_far_from_square(self) -> None:
        """Diagonal 5.2 m in a 4 by 3 m room: B is 94.9 degrees, 255 mm off over 3 m (see the shapes)."""
        survey = close(*RECTANGLE, ("A-C", 5200))
        warned = [f for f in survey.findings if f.rule == "corner far from square"]
        assert len(warned) == 4
        assert warned[1].message == "Corner B is 94.9 degrees by the tape, not 90: 255 mm off over its shorter wall."
        assert warned[1].severity == "warn"
        assert warned[1].where == survey.corners["B"]

    def test_skewed_corners_are_not_told_while_the_readings_disagree(self) -> None:
        """A-B a foot too long skews every corner; the reading is the matter, not the corners."""
        survey = close(("A-B", 4000 + FOOT), *RECTANGLE[1:], ("A-C", 5000), ("B-D", 5000))
        assert not survey.agrees
        assert not [f for f in survey.findings if f.rule == "corner far from square"]

    def test_every_finding_names_its_source(self) -> None:
        for survey in (close(*RECTANGLE), close(*RECTANGLE, ("A-C", 5200), ("B-D", 5000))):
            assert survey.findings
            assert all(finding.source and finding.message.endswith(".") for finding in survey.findings)

    def test_misfit_makes_corners_less_certain(self) -> None:
        """Where the readings disagree and none is named, the stated accuracy grows by the misfit."""
        good = close(*RECTANGLE, ("A-C", 5000), ("B-D", 5000))
        bad = close(*RECTANGLE, ("A-C", 5060), ("B-D", 5000))
        assert bad.misfit is not None
        assert bad.accuracy["C"].radius == pytest.approx(good.accuracy["C"].radius * bad.misfit, rel=0.05)
