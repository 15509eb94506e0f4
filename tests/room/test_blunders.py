"""The suspect reading: found where the readings can tell, and not where they cannot; and what it probably was."""

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.findings import Finding
from planner.room.closing.slips import FOOT, INCH, SIXTEENTH, likely_slips
from planner.room.outline import Units
from planner.room.survey import Clipboard, Reading, Survey
from planner.room.tape import close_survey

Tape = Mapping[str, Sequence[float]]

L_CORNERS = {"A": (0, 0), "B": (6000, 0), "C": (6000, 3400), "D": (3500, 3400), "E": (3500, 5500), "F": (0, 5500)}
L_LINES = ("A-B", "B-C", "C-D", "D-E", "E-F", "F-A", "A-C", "A-D", "A-E", "B-D", "D-F", "B-F")
QUAD_CORNERS = {"A": (0, 0), "B": (5680, 0), "C": (5660, 3450), "D": (-15, 3462)}
QUAD_LINES = ("A-B", "B-C", "C-D", "D-A", "A-C", "B-D")


def feet(whole: int, inches: float = 0.0, sixteenths: float = 0.0) -> float:
    return whole * FOOT + inches * INCH + sixteenths * SIXTEENTH


def true_tape(corners: Mapping[str, tuple[float, float]], lines: Sequence[str], times: int) -> dict[str, list[float]]:
    """Every line taped `times` times to the millimetre, the way a good tape is read."""
    return {line: [float(round(math.dist(corners[line[0]], corners[line[2]])))] * times for line in lines}


def close(tape: Tape, units: Units = "mm", outside: tuple[str, ...] = (), accuracy: float | None = None) -> Survey:
    corners = sorted({corner for line in tape for corner in line.split("-")})
    taped = [Reading((line[0], line[2]), length) for line, lengths in tape.items() for length in lengths]
    return close_survey(Clipboard(tuple(corners), tuple(taped), outside, units=units, accuracy=accuracy))


def stop(survey: Survey) -> Finding:
    (finding,) = [finding for finding in survey.findings if finding.severity == "stop"]
    return finding


class TestTheLTapedTwice:
    """Twelve lines of sight, each taped twice: 24 readings, 9 needed, 15 to spare."""

    def test_ten_centimetres_misread(self) -> None:
        tape = true_tape(L_CORNERS, L_LINES, 2)
        tape["C-D"][1] = 2600.0
        survey = close(tape, outside=("D",))
        assert survey.suspect is not None
        assert survey.suspect.between == ("C", "D")
        assert survey.suspect.taped == 2600
        assert survey.suspect.proposed == 2500
        assert "ten centimetres misread" in survey.suspect.explanation
        assert survey.redundancy == 15
        told = stop(survey)
        assert "C-D was taped as 2600 mm, but the other readings make it 2500 mm" in told.message
        assert "Probably 2500 mm" in told.message
        assert told.remedy.startswith("Tape C-D again")
        assert told.where == pytest.approx((4750, 3400), abs=1)

    def test_the_corners_are_those_of_the_readings_that_are_believed(self) -> None:
        tape = true_tape(L_CORNERS, L_LINES, 2)
        tape["C-D"][1] = 2600.0
        survey = close(tape, outside=("D",))
        for name, at in L_CORNERS.items():
            assert math.dist(survey.corners[name], at) < 1.0
        (left_out,) = [reading for reading in survey.readings if reading.left_out]
        assert (left_out.name, left_out.taped) == ("C-D", 2600)
        assert left_out.residual == pytest.approx(-100, abs=1)
        assert all(abs(r.residual) < 1 for r in survey.readings if not r.left_out)

    @pytest.mark.parametrize("line", L_LINES)
    def test_a_foot_misread_in_any_line(self, line: str) -> None:
        """In inches to the sixteenth; the reading that was a foot short is named and made whole."""
        at = {name: (x / 4000 * feet(13), y / 4000 * feet(13)) for name, (x, y) in L_CORNERS.items()}
        tape = {name: [round(math.dist(at[name[0]], at[name[2]]) / SIXTEENTH) * SIXTEENTH] * 2 for name in L_LINES}
        true = tape[line][0]
        tape[line] = [true - FOOT, true]
        survey = close(tape, "ft-in", ("D",))
        assert survey.suspect is not None
        assert survey.suspect.between == (line[0], line[2])
        assert survey.suspect.proposed == pytest.approx(true, abs=1e-6)
        assert survey.suspect.explanation == "a foot misread"

    def test_a_blunder_that_is_no_usual_slip(self) -> None:
        tape = true_tape(L_CORNERS, L_LINES, 2)
        tape["A-E"][0] += 57.0
        survey = close(tape, outside=("D",))
        assert survey.suspect is not None
        assert not survey.suspect.usual
        assert survey.suspect.proposed == pytest.approx(math.dist((0, 0), (3500, 5500)), abs=2)
        assert "No usual slip of the tape explains it." in stop(survey).message

    def test_two_blunders_are_not_one(self) -> None:
        tape = true_tape(L_CORNERS, L_LINES, 2)
        tape["C-D"][1] += 100.0
        tape["F-A"][0] -= 300.0
        survey = close(tape, outside=("D",))
        assert survey.suspect is None
        told = stop(survey)
        assert "no single error explains it" in told.message
        assert "F-A" in told.remedy
        assert survey.doubtful == ()

    def test_a_small_second_blunder_is_not_swept_along(self) -> None:
        """Eight millimetres in F-A, with s = 1.2 mm and r = 0.6: w = 8 sqrt(0.6) / 1.2 = 5.2, too much for the rest."""
        tape = true_tape(L_CORNERS, L_LINES, 2)
        tape["C-D"][1] += 100.0
        tape["F-A"][0] += 8.0
        assert close(tape, outside=("D",)).suspect is None
        tape["F-A"][0] -= 6.0  # two millimetres are the tape's own
        assert close(tape, outside=("D",)).suspect is not None

    def test_no_blunder_no_stop(self) -> None:
        survey = close(true_tape(L_CORNERS, L_LINES, 2), outside=("D",))
        assert survey.agrees
        assert survey.suspect is None
        assert not [finding for finding in survey.findings if finding.severity == "stop"]


class TestTheQuadrilateral:
    @pytest.mark.parametrize("line", QUAD_LINES)
    def test_once_braced_it_can_tell_but_never_which(self, line: str) -> None:
        """One reading to spare: all standardised residuals are alike, whichever reading is wrong."""
        tape = true_tape(QUAD_CORNERS, QUAD_LINES, 1)
        tape[line][0] += FOOT
        survey = close(tape)
        assert survey.suspect is None
        assert len(survey.doubtful) == 6
        sizes = [abs(reading.standardised or 0.0) for reading in survey.readings]
        assert sizes == pytest.approx([sizes[0]] * 6, rel=1e-3)
        assert "these readings alone cannot tell which" in stop(survey).message

    @pytest.mark.parametrize("line", QUAD_LINES)
    def test_taped_twice_it_can_tell_which(self, line: str) -> None:
        tape = true_tape(QUAD_CORNERS, QUAD_LINES, 2)
        tape[line][0] += 100.0
        survey = close(tape)
        assert survey.suspect is not None
        assert survey.suspect.between == (line[0], line[2])
        assert survey.suspect.proposed == tape[line][1]

    @pytest.mark.parametrize("line", QUAD_LINES)
    def test_the_line_to_tape_again_is_the_one_that_was_misread(self, line: str) -> None:
        """The room is near square and a slip of ten centimetres is usual: of six equals that line is the likeliest."""
        tape = true_tape(QUAD_CORNERS, QUAD_LINES, 1)
        tape[line][0] += 100.0
        survey = close(tape)
        assert survey.tape_again is not None
        assert survey.tape_again.between == (line[0], line[2])
        true = tape[line][0] - 100.0
        assert survey.tape_again.expected == pytest.approx(true, abs=0.1)
        assert f"If it now reads about {true:.0f} mm" in stop(survey).remedy

    def test_taped_again_it_is_found(self) -> None:
        """Follow the advice: the second, true reading of A-B convicts the first."""
        tape = true_tape(QUAD_CORNERS, QUAD_LINES, 1)
        tape["A-B"] = [tape["A-B"][0] + FOOT, tape["A-B"][0]]
        survey = close(tape)
        assert survey.suspect is not None
        assert survey.suspect.taped == 5680 + FOOT

    def test_taped_again_and_alike_it_is_cleared(self) -> None:
        """A-B is wrong in none of its readings; the error is in the five others."""
        tape = true_tape(QUAD_CORNERS, QUAD_LINES, 1)
        tape["A-B"] *= 2
        tape["C-D"][0] += FOOT
        survey = close(tape)
        assert survey.suspect is None
        assert ("A", "B") not in survey.doubtful
        assert ("C", "D") in survey.doubtful

    def test_two_readings_of_one_line_and_nothing_else(self) -> None:
        """Walls and one diagonal, A-B twice: which of the two is wrong cannot be known; the line can."""
        tape = true_tape(QUAD_CORNERS, QUAD_LINES[:5], 1)
        tape["A-B"] = [5680, 5380]
        survey = close(tape)
        assert survey.suspect is None
        assert survey.doubtful == (("A", "B"),)
        told = stop(survey)
        assert "A-B was taped as 5680 mm and 5380 mm" in told.message
        assert told.remedy.startswith("Tape A-B once more")

    def test_a_line_that_was_never_taped_may_tell_most(self) -> None:
        """Ten of the L's twelve lines, one of them wrong: an untaped line parts more suspects than a repeat would."""
        tape = true_tape(L_CORNERS, [line for line in L_LINES if line not in ("B-F", "A-D")], 1)
        tape["C-D"][0] += 150.0
        survey = close(tape, outside=("D",))
        assert survey.suspect is None
        assert survey.tape_again is not None
        assert survey.tape_again.taped is None
        assert "which was not taped yet" in stop(survey).remedy

    def test_a_loose_tape_forgives(self) -> None:
        """14 mm too long in A-B stops at the usual accuracy, and is a note where 10 mm is what one reads to."""
        tape = true_tape(QUAD_CORNERS, QUAD_LINES, 1)
        tape["A-B"][0] += 14.0
        assert not close(tape).agrees
        assert close(tape, accuracy=10.0).agrees


class TestUncheckedReadings:
    def test_nothing_is_found_where_nothing_is_checked(self) -> None:
        """Four walls and one diagonal: a foot too much in A-B shows in no residual, and that is said."""
        tape = true_tape(QUAD_CORNERS, QUAD_LINES[:5], 1)
        tape["A-B"][0] += FOOT
        survey = close(tape)
        assert survey.redundancy == 0
        assert survey.misfit is None
        assert all(reading.standardised is None for reading in survey.readings)
        assert all(math.isinf(reading.least_error_seen) for reading in survey.readings)
        assert "nothing checks the tape" in [finding.rule for finding in survey.findings]

    def test_redundancy_is_judged_line_by_line(self) -> None:
        """An L whose leg A B C D is braced twice, and whose other leg hangs on D-F alone: E has no check at all."""
        tape = true_tape(L_CORNERS, ("A-B", "B-C", "C-D", "D-E", "E-F", "F-A", "A-C", "B-D", "A-D", "D-F"), 1)
        survey = close(tape, outside=("D",))
        assert survey.redundancy == 1
        by_name = {reading.name: reading for reading in survey.readings}
        for line in ("D-E", "E-F", "F-A", "D-F"):
            assert by_name[line].standardised is None
        for line in ("A-B", "B-C", "C-D", "A-C", "B-D", "A-D"):
            assert by_name[line].redundancy > 0.01
        (note,) = [finding for finding in survey.findings if finding.rule == "readings hardly checked"]
        assert "of any size" in note.message
        assert "D-E" in note.message


class TestSlips:
    """The lengths from which usual slips lead to a reading."""

    @pytest.mark.parametrize(
        ("true", "taped", "units", "words"),
        [
            (feet(18, 7), feet(19, 7), "ft-in", "a foot misread or the tape held at its 1 ft mark instead of its end"),
            (feet(18, 7), feet(17, 7), "ft-in", "a foot misread"),
            (feet(18, 7), feet(18, 6), "ft-in", "an inch misread"),
            (feet(18, 7), feet(81, 7), "ft-in", "two figures swapped when it was written down"),
            (feet(7, 11), feet(11, 7), "ft-in", "feet and inches written in each other's place"),
            (feet(11, 0, 4), feet(11, 4), "ft-in", "sixteenths written down as inches"),
            (feet(11, 5), feet(11, 0, 5), "ft-in", "inches written down as sixteenths"),
            (232.5 * INCH, 223.5 * INCH, "in", "two figures swapped when it was written down"),
            (3455.0, 3355.0, "mm", "ten centimetres misread"),
            (3455.0, 3555.0, "cm", "ten centimetres misread or the tape held at its 10 cm mark instead of its end"),
            (3455.0, 3465.0, "m", "a centimetre misread"),
            (4355.0, 3455.0, "mm", "two figures swapped when it was written down"),
            (4455.0, 3455.0, "m", "a metre misread"),
        ],
    )
    def test_each_slip(self, true: float, taped: float, units: Units, words: str) -> None:
        best = likely_slips(taped, true + 0.4, 1.5, units)[0]
        assert best.length == pytest.approx(true, abs=1e-3)
        assert words in best.words

    def test_the_nearest_length_wins(self) -> None:
        """3545 is 3455 with figures swapped, or 3445 with ten centimetres misread: what the others say decides."""
        swapped, tens = likely_slips(3545, 3456, 6.0, "mm")[0], likely_slips(3545, 3446, 6.0, "mm")[0]
        assert (swapped.length, tens.length) == (3455, 3445)

    def test_what_is_not_near_is_no_explanation(self) -> None:
        assert likely_slips(3545, 3500, 2.0, "mm") == ()

    @settings(max_examples=60, deadline=None)
    @given(sixteenths=st.integers(200, 20_000), units=st.sampled_from(["ft-in", "in", "mm"]))
    def test_a_slip_is_always_to_another_positive_length(self, sixteenths: int, units: Units) -> None:
        taped = sixteenths * SIXTEENTH
        for slip in likely_slips(taped, taped, 1e6, units):
            assert slip.length > 0
            assert abs(slip.length - taped) > SIXTEENTH / 2

    @settings(max_examples=60, deadline=None)
    @given(figure=st.integers(1000, 99_999), place=st.integers(0, 2))
    def test_swapping_twice_comes_back(self, figure: int, place: int) -> None:
        """Whatever two neighbouring figures were swapped, the true figure is among the proposals."""
        text = str(figure)
        wrong = text[:place] + text[place + 1] + text[place] + text[place + 2 :]
        if wrong == text or wrong.startswith("0"):
            return
        lengths = [slip.length for slip in likely_slips(float(wrong), float(figure), 1.0, "mm")]
        assert any(length == pytest.approx(figure) for length in lengths)


def test_in_a_corridor_the_long_walls_know_little_of_the_short_ones() -> None:
    """20 m by 1.6 m, all taped twice. A foot too much in the long wall A-B is located by the diagonals. Ten centimetres
    in the end wall B-C change a diagonal by 100 * 1.6 / 20 = 8 mm, three times its accuracy of 2.6 mm: the line is
    found by its own two readings, but which of them is right is not.
    """
    at = {"A": (0, 0), "B": (20_000, 0), "C": (20_000, 1600), "D": (0, 1600)}
    lines = [*(f"{p}-{q}" for p, q in pairwise("ABCDA")), "A-C", "B-D"]
    along, across = true_tape(at, lines, 2), true_tape(at, lines, 2)
    along["A-B"][0] += FOOT
    across["B-C"][0] += 100.0
    located = close(along).suspect
    assert located is not None
    assert located.between == ("A", "B")
    survey = close(across)
    assert survey.suspect is None
    assert survey.doubtful == (("B", "C"),)
    assert survey.tape_again is not None
    assert survey.tape_again.between == ("B", "C")
