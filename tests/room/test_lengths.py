"""Lengths as the trade writes them. 1 in = 25.4 mm exactly; the expected millimetres are worked out from that."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner import lengths
from planner.errors import LengthError
from planner.lengths import Rounding, _ticks, format_feet_inches, format_inches, format_length, format_mm, parse_length

#: 18 ft 7-1/2 in = 223.5 in = 5676.9 mm
EIGHTEEN_SEVEN_AND_A_HALF = 5676.9


@pytest.mark.parametrize(
    "written",
    [
        "18' 7-1/2\"",
        "18' 7 1/2\"",
        "18'-7 1/2\"",
        "18'7.5\"",
        "18ft 7.5in",
        "18 ft 7 1/2 in",
        "18 feet 7.5 inches",
        '223 1/2"',
        '223-1/2"',
        "223.5in.",
        "18′ 7½″",
        "18’ 7-½”",
        "18‘ 7½“",
        "18'\u00a07\u20091/2\"",
        "5676.9 mm",
        "567.69 cm",
        "5.6769 m",
        "5.6769M",
    ],
)
def test_one_length_in_every_notation(written: str) -> None:
    assert parse_length(written) == EIGHTEEN_SEVEN_AND_A_HALF


@pytest.mark.parametrize(
    ("written", "units", "mm"),
    [
        ('7/8"', None, 22.225),  # 7/8 of 25.4
        ("18'", None, 5486.4),  # 18 x 304.8
        ("1 1/2'", None, 457.2),  # 1.5 x 304.8
        ('⅛"', None, 3.175),
        ('3/64"', None, 1.190625),
        ("5.68 m", None, 5680.0),
        ("568 cm", None, 5680.0),
        ("5680mm", None, 5680.0),
        (".5 in", None, 12.7),
        ('-3"', None, -76.2),
        ("−18' 7\"", None, -5664.2),  # a minus sign as word processors write it; it holds for feet and inches
        (24, "in", 609.6),
        ("7 1/2", "in", 190.5),
        (5.68, "m", 5680.0),  # read as the decimal it was written as, not as the float beside it
        ("568", "cm", 5680.0),
        (-5, "mm", -5.0),
        (0, "ft-in", 0.0),
        ("0", "ft-in", 0.0),
        (0, None, 0.0),
    ],
)
def test_lengths_and_bare_numbers(written: object, units: str | None, mm: float) -> None:
    assert parse_length(written, units) == mm


@pytest.mark.parametrize(
    ("written", "units", "problem", "mend"),
    [
        ("11' 4''", "ft-in", "is not a length", "Write feet and inches as 11' 4\" or 11ft 4in; metric as 3454 mm"),
        ("18' 7", "ft-in", "is not a length", "18' 7\""),
        (7, "ft-in", "7 could be feet or inches", "Write 7' or 7\"."),
        ("7 1/2", "ft-in", "could be feet or inches", "7 1/2' or 7 1/2\""),
        (7, None, "has no unit", "7 mm"),
        ("18' 14\"", "ft-in", "12 inches or more", "Write 19' 2\" if that is meant"),  # 14 in = 1 ft 2 in
        ("18' 12\"", "ft-in", "12 inches or more", "19' 0\""),
        ('1/0"', "ft-in", "0 below the line", '7 1/2"'),
        ('7 9/8"', "ft-in", "fraction of 1 or more", '7 1/2"'),
        ("5,68 m", "m", "is not a length", "Write 5.68 m: a point"),
        ("1,200 mm", "mm", "is not a length", "Write 1200 mm or 1.200 mm"),
        ("5 680 mm", "mm", "is not a length", "Write 5680 mm."),
        ("3 metres", "m", "is not a length", "Write 3 m."),
        ("250 millimeters", "mm", "is not a length", "Write 250 mm."),
        ("12 furlongs", "m", "is not a length", "Write metric as 5680 mm or 5.68 m; feet and inches"),
        ("", "ft-in", '"" is not a length', "Write feet and inches as 18' 7-1/2\""),
        (float("nan"), "mm", "nan is not a length", "5680 mm"),
        (float("-inf"), "mm", "-inf is not a length", "5680 mm"),
        (1e300, "m", "1e+300 is not a length", "5680 mm"),
        ("9" * 13 + " mm", "mm", "too long to be a length", "5680 mm"),
        ("1" * 5000, "mm", "too long to be a length", "5680 mm"),
        (True, "mm", "true is not a length", "5680 mm"),
        (None, "mm", "nothing is not a length", "5680 mm"),
        ([1, 2], "mm", "a list is not a length", "5680 mm"),
        ({"a": 1}, "mm", "a group of keys is not a length", "5680 mm"),
        ("18.5' 6\"", "ft-in", "is not a length", "18' 7-1/2\""),
        ("7 1/2 mm", "mm", "is not a length", "5680 mm"),
        ("--3 mm", "mm", "is not a length", "5680 mm"),
    ],
)
def test_what_is_no_length_is_refused_with_the_right_form(
    written: object, units: str | None, problem: str, mend: str
) -> None:
    with pytest.raises(LengthError) as refused:
        parse_length(written, units)
    assert problem in refused.value.problem
    assert mend in refused.value.mend


@given(
    st.one_of(st.text(max_size=30), st.text("0123456789'\"/-. ftinmc½′″", max_size=20)), st.sampled_from(["ft-in", "m"])
)
def test_no_text_raises_anything_but_a_length_error(written: str, units: str) -> None:
    try:
        assert isinstance(parse_length(written, units), float)
    except LengthError as error:
        assert error.mend


@given(st.integers(0, 999), st.integers(0, 11), st.integers(0, 63))
def test_feet_inches_and_sixty_fourths_are_read_exactly(feet: int, inches: int, parts: int) -> None:
    exact = (12 * feet + inches + Fraction(parts, 64)) * Fraction(254, 10)
    assert parse_length(f"{feet}' {inches} {parts}/64\"") == float(exact)


@pytest.mark.parametrize(
    ("mm", "feet_inches", "inches"),
    [
        (5676.9, "18'-7 1/2\"", '223 1/2"'),
        (139.7, "0'-5 1/2\"", '5 1/2"'),
        (914.4, "3'-0\"", '36"'),
        (12.7, "0'-0 1/2\"", '1/2"'),
        (0.0, "0'-0\"", '0"'),
        (304.1, "1'-0\"", '12"'),  # 191.56 sixteenths: 192 are 12 in, which carry to a foot
        (-457.2, "-1'-6\"", '-18"'),
        (-0.3, "0'-0\"", '0"'),  # no minus before nothing
    ],
)
def test_feet_and_inches_are_written_reduced_and_carried(mm: float, feet_inches: str, inches: str) -> None:
    assert format_feet_inches(mm) == feet_inches
    assert format_inches(mm) == inches


def test_cuts_are_rounded_down_stock_up_marks_to_nearest() -> None:
    """21.5 in + 1 mm = 547.1 mm is 344.63 sixteenths: 344 = 21 1/2 down, 345 = 21 9/16 up and nearest."""
    assert format_inches(547.1, Rounding.DOWN) == '21 1/2"'
    assert format_inches(547.1, Rounding.UP) == '21 9/16"'
    assert format_inches(547.1, Rounding.NEAREST) == '21 9/16"'
    assert format_mm(546.6, Rounding.DOWN) == "546"
    assert format_mm(546.1, Rounding.UP) == "547"
    assert format_mm(546.5, Rounding.NEAREST) == "547"


def test_the_noise_of_floats_does_not_cost_a_sixteenth() -> None:
    """0.1 + 0.2 is a little more than 0.3; three such noisy lengths are still 600 mm and 2 ft."""
    noisy_up, noisy_down = 600.0 + 1e-7, 600.0 - 1e-7
    assert format_mm(noisy_up, Rounding.UP) == format_mm(noisy_down, Rounding.DOWN) == "600"
    assert format_feet_inches(609.6 - 1e-7, Rounding.DOWN) == format_feet_inches(609.6 + 1e-7, Rounding.UP) == "2'-0\""
    assert format_mm(600.0 + 1e-5, Rounding.UP) == "601"  # more than noise counts


def test_metric_lengths() -> None:
    assert format_mm(5680.2) == "5680"
    assert format_mm(609.5, step=0.5) == "609.5"
    assert format_mm(610.0, step=0.5) == "610"
    assert format_mm(-2.6) == "-3"
    assert format_length(5680.4, "mm") == "5680 mm"
    assert format_length(5684.4, "cm") == "568.4 cm"
    assert format_length(5680.4, "m") == "5.68 m"
    assert format_length(5680.4, "m", Rounding.UP, bare=True) == "5.681"
    assert format_length(5676.9, "ft-in") == "18'-7 1/2\""
    assert format_length(5676.9, "in", bare=True) == '223 1/2"'


def test_unknown_units_and_endless_lengths_are_the_caller_s_fault() -> None:
    with pytest.raises(ValueError, match="unknown unit"):
        format_length(1.0, "furlong")
    with pytest.raises(ValueError, match="not a length"):
        format_mm(float("nan"))


@given(st.floats(-1e6, 1e6), st.sampled_from(["ft-in", "in"]))
def test_what_is_written_in_inches_reads_back_within_a_thirty_second(mm: float, units: str) -> None:
    assert abs(parse_length(format_length(mm, units)) - mm) <= 25.4 / 32 + 1e-5


@given(st.floats(-1e6, 1e6), st.sampled_from(["mm", "cm", "m"]))
def test_what_is_written_in_metres_reads_back_within_half_a_millimetre(mm: float, units: str) -> None:
    assert abs(parse_length(format_length(mm, units)) - mm) <= 0.5 + 1e-5


@given(st.floats(0, 1e5), st.sampled_from(["ft-in", "in", "mm", "cm", "m"]))
def test_down_is_never_longer_and_up_never_shorter(mm: float, units: str) -> None:
    down = parse_length(format_length(mm, units, Rounding.DOWN))
    up = parse_length(format_length(mm, units, Rounding.UP))
    assert down <= mm + 2e-6
    assert up >= mm - 2e-6


def test_a_hopeless_text_is_not_repaired_again_and_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """Found by fuzzing: each repair was itself repaired, some 2,000 deep. Now each of six is tried once."""
    tried = []
    understood = lengths._understood
    monkeypatch.setattr(lengths, "_understood", lambda text, units: tried.append(text) or understood(text, units))
    with pytest.raises(LengthError, match="is not a length"):
        parse_length("\x00", "mm")
    assert len(tried) <= 1 + 6


@given(
    st.floats(-1e6, 1e6),
    st.sampled_from([Fraction(1), Fraction(1, 2), Fraction(254, 160), Fraction(254, 640)]),
    st.sampled_from(list(Rounding)),
)
def test_rounding_in_whole_numbers_is_rounding_of_fractions(mm: float, step: Fraction, rounding: Rounding) -> None:
    """A half is rounded away from nought; a millionth of a millimetre does not tip a length over."""
    exact, noise = Fraction(mm) / step, Fraction(1e-6) / step
    away = math.floor(abs(exact) + Fraction(1, 2) + noise)
    expected = {
        Rounding.DOWN: math.floor(exact + noise),
        Rounding.UP: math.ceil(exact - noise),
        Rounding.NEAREST: away if exact >= 0 else -away,
    }
    assert _ticks(mm, step, rounding) == expected[rounding]
