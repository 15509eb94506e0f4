"""What the survey says where the case is worked out by hand: limits of chance, slips, and one word on each reading."""

import dataclasses
import math

import numpy as np
import pytest
from scipy.stats import chi2

from planner.findings import Finding
from planner.room.closing.adjustment import Adjustment
from planner.room.closing.blunders import agrees
from planner.room.closing.checks import problems_of
from planner.room.closing.slips import FOOT, INCH, SIXTEENTH, likely_slips
from planner.room.closing.table import reading_rows
from planner.room.survey import Clipboard, ClosedReading, Reading, Survey
from planner.room.tape import close_survey


def judged(misfit: float, freedom: int, worst: float = 0.0) -> Adjustment:
    """A survey of which only matters how far its readings disagree."""
    nothing, shape = np.zeros(4), np.zeros((4, 2))
    return Adjustment(shape, nothing, nothing, np.array([worst]), np.zeros((8, 8)), misfit, freedom, True)


def clipboard(*tape: tuple[str, float], corners: str = "ABCD", **more: object) -> Clipboard:
    taped = tuple(Reading((line[0], line[2]), float(length)) for line, length in tape)
    return Clipboard(tuple(corners), taped, **more)  # type: ignore[arg-type]


def stop(survey: Survey) -> Finding:
    (finding,) = [finding for finding in survey.findings if finding.severity == "stop"]
    return finding


class TestChance:
    @pytest.mark.parametrize("freedom", [3, 8, 15, 40, 100])
    def test_one_sound_survey_in_a_thousand_is_doubted_as_a_whole(self, freedom: int) -> None:
        """The sum of squares is chi-squared distributed; the rule used for its limit is known to be good to 3 %."""
        limit = float(chi2.ppf(0.999, freedom))
        assert agrees(judged(0.97 * limit, freedom))
        assert not agrees(judged(1.03 * limit, freedom))

    @pytest.mark.parametrize("sign", [1.0, -1.0])
    def test_one_reading_in_a_thousand_is_doubted_by_itself(self, sign: float) -> None:
        """A normal variable lies beyond 3.29 deviations, on either side, once in a thousand."""
        assert agrees(judged(1.0, 15, sign * 3.28))
        assert not agrees(judged(1.0, 15, sign * 3.30))

    def test_what_nothing_checks_agrees(self) -> None:
        assert agrees(judged(1e6, 0, 100.0))


class TestTheWayRound:
    """B lies on the line from A to C, so A-C is A-B and B-C. Each reading is good to 4 mm: 4 √3 = 6.93 for the three,
    and 3.29 times that, 22.8 mm, may come by chance.
    """

    def told(self, beyond: float, accuracy: float | None = 4.0) -> list[str]:
        tape = (("A-B", 2000), ("B-C", 3000), ("C-D", 4000), ("D-A", 3000), ("A-C", 5000 + beyond))
        return [str(problem) for problem in problems_of(clipboard(*tape, accuracy=accuracy, angles={"B": 180.0}))]

    def test_longer_by_chance_is_no_slip(self) -> None:
        assert self.told(22.0) == []

    def test_longer_than_chance_is(self) -> None:
        (told,) = self.told(24.0)
        assert "A-C is taped as 5024 mm, but A-B and B-C together are only 5000 mm" in told

    def test_without_a_stated_accuracy_the_usual_tape_is_meant(self) -> None:
        """1 mm and 0.12 mm a metre: √(1 + 0.24²), √(1 + 0.36²), √(1 + 0.6²), together 1.88 mm; times 3.29: 6.2 mm."""
        assert self.told(6.0, None) == []
        assert len(self.told(6.5, None)) == 1

    def test_a_line_taped_twice_counts_by_its_shorter_reading(self) -> None:
        """A-C read as 5000 and 5100: one of the two can be, so the walls close; both too long cannot."""
        tape = (("A-B", 2000), ("B-C", 3000), ("C-D", 4000), ("D-A", 3000))
        assert problems_of(clipboard(*tape, ("A-C", 5100), ("A-C", 5000))) == ()
        (told,) = problems_of(clipboard(*tape, ("A-C", 5100), ("A-C", 5090)))
        assert "A-C is taped as 5090 mm" in str(told)


@pytest.mark.parametrize("accuracy", [math.inf, math.nan, 0.0, -1.0])
def test_an_accuracy_that_is_none_is_refused(accuracy: float) -> None:
    tape = (("A-B", 4000), ("B-C", 3000), ("C-D", 4000), ("D-A", 3000))
    (told,) = problems_of(clipboard(*tape, accuracy=accuracy))
    assert "the accuracy of a tape is more than nothing" in str(told)


def test_which_of_two_readings_is_wrong_is_guessed_aloud() -> None:
    """Walls and one diagonal, A-B taped as 4000 and as 4100: a tape invites one of them, and that is said."""
    walls = (("A-B", 4000), ("A-B", 4100), ("B-C", 3000), ("C-D", 4000), ("D-A", 3000), ("A-C", 5000))
    told = stop(close_survey(clipboard(*walls)))
    assert told.message.startswith("A-B was taped as 4000 mm and 4100 mm, and no other line tells which is right.")
    assert "ten centimetres misread" in told.message
    assert " is the wrong one: " in told.message


def test_two_readings_that_no_slip_explains_are_left_without_a_guess() -> None:
    """4000 and 4057: no mark, end or swapped figures lie between them."""
    walls = (("A-B", 4000), ("A-B", 4057), ("B-C", 3000), ("C-D", 4000), ("D-A", 3000), ("A-C", 5000))
    told = stop(close_survey(clipboard(*walls)))
    assert told.message.endswith("no other line tells which is right.")


def reading(standardised: float | None, redundancy: float = 0.5, *, left_out: bool = False) -> ClosedReading:
    return ClosedReading(("A", "B"), 4000.0, 4001.0, 1.0, redundancy, standardised, left_out)


class TestOneWord:
    """Once in twenty readings lies beyond 1.96 deviations, once in a thousand beyond 3.29, too long or too short."""

    @pytest.mark.parametrize(
        ("standardised", "word"),
        [(0.0, "fits"), (1.9, "fits"), (2.0, "fits poorly"), (3.2, "fits poorly"), (3.4, "DOES NOT FIT")],
    )
    @pytest.mark.parametrize("sign", [1, -1])
    def test_of_a_reading_that_is_checked(self, standardised: float, word: str, sign: int) -> None:
        assert self.word(reading(sign * standardised)) == word

    def test_of_a_reading_that_hardly_any_other_checks(self) -> None:
        """Its residual is next to nothing however wrong it is: to say that it fits would be a lie."""
        assert self.word(reading(0.1, 0.001)) == "not checked by any other"
        assert self.word(reading(None, 0.0)) == "not checked by any other"

    def test_of_one_that_is_left_out(self) -> None:
        assert self.word(reading(None, 0.0, left_out=True)) == "WRONG, left out"

    def word(self, one: ClosedReading) -> str:
        tape = (("A-B", 4000), ("B-C", 3000), ("C-D", 4000), ("D-A", 3000), ("A-C", 5000))
        survey = close_survey(clipboard(*tape))
        (row,) = reading_rows(_with(survey, one), "mm")
        return row[-1]


def _with(survey: Survey, one: ClosedReading) -> Survey:
    return dataclasses.replace(survey, readings=(one,))


class TestSlips:
    def test_a_slip_is_to_a_length_that_is_believed(self) -> None:
        """3000 where the others say 3097 give or take 1: ten centimetres would be 3100, 3 away; 3.29 may be."""
        assert [slip.length for slip in likely_slips(3000.0, 3097.0, 1.0, "mm")] == [3100.0]
        assert likely_slips(3000.0, 3096.0, 1.0, "mm") == ()

    def test_the_nearest_comes_first(self) -> None:
        """1010 for 1004 give or take 4: 1001 by two swapped figures is 3 away, 1000 by a centimetre is 4."""
        assert [slip.length for slip in likely_slips(1010.0, 1004.0, 4.0, "mm")] == [1001.0, 1000.0]

    @pytest.mark.parametrize("sixteenths", range(16))
    @pytest.mark.parametrize(("taken", "meant"), [(121, 211), (129, 219), (103, 130)])
    def test_swapped_inches_keep_their_fraction(self, taken: int, meant: int, sixteenths: int) -> None:
        """121 and some sixteenths, written for 211 and the same: the fraction stays what it was."""
        taped, true = (inches * INCH + sixteenths * SIXTEENTH for inches in (taken, meant))
        told = [slip.words for slip in likely_slips(taped, true, 0.5, "in")]
        assert told == ["two figures swapped when it was written down"]

    def test_a_foot_read_at_its_own_mark_is_told_as_both(self) -> None:
        """A foot too much: misread, or the tape was held at its 1 ft mark. A foot too little can only be misread."""
        (much,) = likely_slips(10 * FOOT, 9 * FOOT, 0.5, "in")
        (little,) = likely_slips(10 * FOOT, 11 * FOOT, 0.5, "in")
        assert much.words == "a foot misread or the tape held at its 1 ft mark instead of its end"
        assert little.words == "a foot misread"
