"""Lengths as the trade writes them.

In: a text from a tape, such as 18' 7-1/2" or 5.68 m, or millimetres to be written down. Out: millimetres, or a text.
Reading is exact (fractions until the last step). Writing rounds once, on the whole length, in a stated direction:
cuts down, stock up, marks nearest. 1 in = 25.4 mm and 1 ft = 304.8 mm exactly (international yard and pound, 1959).
"""

import math
import re
from collections.abc import Callable, Iterable
from enum import Enum
from fractions import Fraction
from functools import lru_cache

from planner.errors import LengthError
from planner.measures import Measure, measure

MM_PER_INCH = Fraction(254, 10)
MM_PER_UNIT = {
    "ft": 12 * MM_PER_INCH,
    "in": MM_PER_INCH,
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
}

#: Float noise that must not tip a length over to the next mark when rounding down or up.
NOISE_MM = 1e-6
_NOISE = Fraction(NOISE_MM)

#: The saw counts in whole tenths of a millimetre and has dropped the rest (`planner.runs.tenths`), so a length that
#: misses a mark on the tape by less than one of them is at the mark: 7.9 mm is 5/16" (7.9375 mm).
DROPPED_MM = 0.0999
#: What must not cost a piece a tenth, as at the saw.
_SAW_NOISE_MM = 1e-5

LONGEST_TEXT = 60
MOST_DIGITS = 12


class Rounding(Enum):
    """Which way a length is rounded when written: a cut must not be too long, nor a stock length too short."""

    DOWN = "down"
    UP = "up"
    NEAREST = "nearest"


def parse_length(text: object, units: str | None = None) -> float:
    """Millimetres of a length as written; a bare number is read in `units` (ft-in, in, mm, cm, m).

    LengthError for anything else, with the right form in its `mend`: a bare number where the unit is not known
    (ft-in could mean feet or inches), not-a-number and infinity, a zero denominator, twelve inches or more after feet.
    """
    if isinstance(text, bool) or not isinstance(text, str | int | float):
        raise LengthError(f"{_shown(text)} is not a length.", mend=_example(units))
    if isinstance(text, str):
        return float(_read(text, units))
    if not abs(text) < 10**MOST_DIGITS:  # nor is what is no number
        said = str(text) if isinstance(text, float) or abs(text) < 10**LONGEST_TEXT else "a number beyond counting"
        raise LengthError(f"{said} is not a length.", mend=_example(units))
    return float(_bare(repr(text), Fraction(repr(text)), units))


def format_length(
    mm: float, units: str = "mm", rounding: Rounding = Rounding.NEAREST, *, bare: bool = False, denominator: int = 16
) -> str:
    """Write a length in the units of the job: 18'-7 1/2", 223 1/2", 5680 mm, 568 cm, 5.68 m.

    Inches are rounded to 1/`denominator`, metric lengths to the millimetre. `bare` leaves out mm, cm and m, as metric
    drawings do. ValueError for an unknown unit.
    """
    return _formatted(mm, units, rounding, bare, denominator)


@lru_cache(maxsize=10_000)  # a drawing says most lengths many times
def _formatted(mm: float, units: str, rounding: Rounding, bare: bool, denominator: int) -> str:
    if units == "ft-in":
        return format_feet_inches(mm, rounding, denominator)
    if units == "in":
        return format_inches(mm, rounding, denominator)
    if units not in ("mm", "cm", "m"):
        raise ValueError(f"unknown unit {units!r}")
    ticks = _ticks(mm, Fraction(1), rounding)
    number = _decimal(Fraction(ticks) / MM_PER_UNIT[units])
    return number if bare else f"{number} {units}"


def format_feet_inches(mm: float, rounding: Rounding = Rounding.NEAREST, denominator: int = 16) -> str:
    """Feet and inches, 18'-7 1/2", 0'-5 1/2", 3'-0"; fractions reduced, twelve inches carried to a foot."""
    ticks = _ticks(mm, MM_PER_INCH / denominator, rounding)
    feet, rest = divmod(abs(ticks), 12 * denominator)
    whole, part = divmod(rest, denominator)
    return f"{_sign(ticks)}{feet}'-{whole}{_fraction(part, denominator, ' ')}\""


def format_inches(mm: float, rounding: Rounding = Rounding.NEAREST, denominator: int = 16) -> str:
    """Inches alone, 21 1/2", 1/2", 0"; fractions reduced."""
    ticks = _ticks(mm, MM_PER_INCH / denominator, rounding)
    whole, part = divmod(abs(ticks), denominator)
    number = f"{whole}{_fraction(part, denominator, ' ')}" if whole or not part else _fraction(part, denominator, "")
    return f'{_sign(ticks)}{number}"'


def spoken_length(mm: float, units: str = "mm", rounding: Rounding = Rounding.NEAREST) -> str:
    """Write a length as it stands in a sentence: like `format_length`, but 3/4" where drawings have 0'-0 3/4"."""
    return _spoken((mm,), units, rounding)


def piece_length(mm: float, *, whole: bool) -> tuple[float, Rounding]:
    """How a piece of a bar is written wherever it is told: millimetres, and which way they are rounded.

    What is sawn is rounded down, since too long does not go in, and alike from its own length and from the tenths of
    the saw. What is used `whole` has the length that it is sold by.
    """
    if whole:
        return mm, Rounding.NEAREST
    return math.floor((mm + _SAW_NOISE_MM) * 10) / 10 + DROPPED_MM, Rounding.DOWN


def spoken_piece(mm: float, units: str, *, whole: bool = False) -> str:
    """A piece of a bar, or a row of such pieces, as sentences have it; see `piece_length`."""
    length, rounding = piece_length(mm, whole=whole)
    return spoken_length(length, units, rounding)


def spoken_cut(sides: Iterable[float], units: str) -> str:
    """What to saw as sentences have it: 15 7/16" x 19 3/4", 418 x 395 mm; inches without feet, rounded down."""
    return _spoken_sides(tuple(sides), units, Rounding.DOWN)


def _spoken(lengths: tuple[float, ...], units: str, rounding: Rounding) -> Measure:
    text = format_length(lengths[0], units, rounding)
    if units == "ft-in" and text.lstrip("-").startswith("0'-"):
        text = format_inches(lengths[0], rounding)
    return measure(text, lengths, units, rounding, _spoken)


def _spoken_sides(sides: tuple[float, ...], units: str, rounding: Rounding) -> Measure:
    if units in ("ft-in", "in"):
        text = " x ".join(format_inches(side, rounding) for side in sides)
    else:
        text = " x ".join(format_mm(side, rounding) for side in sides) + " mm"
    return measure(text, sides, units, rounding, _spoken_sides)


def format_mm(mm: float, rounding: Rounding = Rounding.NEAREST, step: float = 1.0) -> str:
    """Millimetres as a bare number, 5680 or with step 0.5 also 609.5; no separators, no unit."""
    exact = Fraction(repr(step))
    return _decimal(_ticks(mm, exact, rounding) * exact)


# Reading

#: Marks from word processors and phones, and what they stand for.
_MARKS = str.maketrans(
    {
        **dict.fromkeys("′’‘ʹ", "'"),
        **dict.fromkeys("″”“ʺ", '"'),
        **dict.fromkeys("−–‐‑", "-"),
        **dict.fromkeys("\u00a0\u2009\u202f\t", " "),
        "⁄": "/",
    }
)
_VULGAR = dict(
    zip(
        "½¼¾⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞",
        ("1/2", "1/4", "3/4", "1/3", "2/3", "1/5", "2/5", "3/5", "4/5", "1/6", "5/6", "1/8", "3/8", "5/8", "7/8"),
        strict=True,
    )
)

_DECIMAL = r"(?:\d+(?:\.\d+)?|\.\d+)"
_MIXED = rf"(?:\d+\s*[- ]\s*\d+/\d+|\d+/\d+|{_DECIMAL})"
_FEET = r"(?:'|ft\.?|foot|feet)"
_INCH = r'(?:"|in\.?|inch|inches)'
_METRIC = r"(mm|cm|m)"

_FEET_INCHES = re.compile(rf"(\d+)\s*{_FEET}\s*-?\s*({_MIXED})\s*{_INCH}")
_ONE_UNIT = re.compile(rf"({_MIXED})\s*({_FEET}|{_INCH})")
_IN_METRIC = re.compile(rf"({_DECIMAL})\s*{_METRIC}")
_NO_UNIT = re.compile(_MIXED)


def _read(text: str, units: str | None) -> Fraction:
    """Exact millimetres of a text; LengthError with a mend that fits the case."""
    length = _understood(text, units)
    if length is None:
        raise LengthError(f'"{text}" is not a length.', mend=_mend(_plain(text), units))
    return length


def _understood(text: str, units: str | None) -> Fraction | None:
    """Exact millimetres of a text; None when it is no length at all, LengthError when it is nearly one."""
    if len(text) > LONGEST_TEXT or re.search(rf"\d{{{MOST_DIGITS + 1}}}", text):
        raise LengthError(f'"{text[:LONGEST_TEXT]}" is too long to be a length.', mend=_example(units))
    plain = _plain(text)
    sign, size = (-1, plain[1:].strip()) if plain.startswith("-") else (1, plain)
    if _NO_UNIT.fullmatch(size):
        return sign * _bare(text.strip(), _number(size, text), units)
    length = _with_unit(size, text)
    return None if length is None else sign * length


def _plain(text: str) -> str:
    """Clean a text: plain marks, vulgar fractions spelt out, and single spaces."""
    spelt = "".join(f" {_VULGAR[c]}" if c in _VULGAR else c for c in text)
    return " ".join(spelt.translate(_MARKS).split()).lower()


def _with_unit(size: str, text: str) -> Fraction | None:
    """Millimetres of an unsigned length with its unit; None when it is none."""
    if match := _FEET_INCHES.fullmatch(size):
        feet, inches = int(match[1]), _number(match[2], text)
        if inches >= 12:
            raise LengthError(f'"{text}" has 12 inches or more after the feet.', mend=_carried(feet, inches))
        return feet * MM_PER_UNIT["ft"] + inches * MM_PER_INCH
    if match := _ONE_UNIT.fullmatch(size):
        return _number(match[1], text) * MM_PER_UNIT["ft" if match[2][0] in "'f" else "in"]
    if match := _IN_METRIC.fullmatch(size):
        return Fraction(match[1]) * MM_PER_UNIT[match[2]]
    return None


def _number(mixed: str, text: str) -> Fraction:
    """Read an unsigned whole, decimal, fraction or mixed number such as 7-1/2."""
    whole, numerator, denominator = _parts(mixed)
    if denominator == 0:
        raise LengthError(f'"{text}" has a fraction with 0 below the line.', mend='Write a fraction as in 7 1/2".')
    fraction = Fraction(numerator, denominator)
    if whole and fraction >= 1:
        raise LengthError(
            f'"{text}" has a fraction of 1 or more after a whole number.', mend='Write a mixed number as in 7 1/2".'
        )
    return whole + fraction


def _parts(mixed: str) -> tuple[Fraction, int, int]:
    if "/" not in mixed:
        return Fraction(mixed), 0, 1
    *whole, numerator, denominator = re.findall(r"\d+", mixed)
    return Fraction(whole[0] if whole else 0), int(numerator), int(denominator)


def _bare(text: str, number: Fraction, units: str | None) -> Fraction:
    """Millimetres of a number without a unit."""
    if number == 0:
        return Fraction(0)
    if units == "ft-in":
        raise LengthError(f"{text} could be feet or inches.", mend=f"Write {text}' or {text}\".")
    if units not in MM_PER_UNIT:
        raise LengthError(f"{text} has no unit.", mend=f"Write {text} mm, {text} m, {text}\" or {text}'.")
    return number * MM_PER_UNIT[units]


# Mending


def _mend(plain: str, units: str | None) -> str:
    """Say what to write instead: the first repair that makes a length of the text, or an example."""
    if re.search(r"\d,\d", plain):
        return _without_comma(plain)
    for slip in _SLIPS:
        repaired = slip(plain)
        try:
            length = _understood(repaired, None)
        except LengthError:
            continue
        if length is not None:
            return _forms(repaired, float(length))
    return _example(units)


#: Likely meanings of a text that is no length, the likeliest first.
_SLIPS: tuple[Callable[[str], str], ...] = (
    lambda text: text.replace("''", '"'),
    lambda text: text + '"',
    lambda text: re.sub(r"[^\d'\"./ a-z-]", "", text),
    lambda text: re.sub(r"(\d) (?=\d+ ?[cm]?m$)", r"\1", text),
    lambda text: re.sub(r"(mm|cm|m)(s|\.)$", r"\1", text),
    lambda text: re.sub(r"(m|c|)(?:illi|enti|)met(?:re|er)s?$", r"\1m", text),
)


def _without_comma(plain: str) -> str:
    point, nothing = plain.replace(",", "."), plain.replace(",", "")
    if re.search(r"\d,\d{3}(?!\d)", plain):
        return f"Write {nothing} or {point}: a point before the decimals, nothing between thousands."
    return f"Write {point}: a point before the decimals."


def _forms(repaired: str, mm: float) -> str:
    """Say how to write the length that was meant."""
    if "'" in repaired or '"' in repaired:
        words = repaired.replace("'", "ft").replace('"', "in")
        metric = f"{format_length(mm, 'mm')} or {format_length(mm, 'm')}"
        return f"Write feet and inches as {repaired} or {words}; metric as {metric}."
    return f"Write {repaired}."


def _carried(feet: int, inches: Fraction) -> str:
    whole = feet * 12 + inches
    right = format_feet_inches(float(whole * MM_PER_INCH), denominator=64).replace("'-", "' ")
    return f"Write {right} if that is meant; inches after feet stay under 12."


def _example(units: str | None) -> str:
    """How a length is written, the file's own units first."""
    forms = ["feet and inches as 18' 7-1/2\" or 18ft 7.5in", "metric as 5680 mm or 5.68 m"]
    if units in ("mm", "cm", "m"):
        forms.reverse()
    return f"Write {forms[0]}; {forms[1]}."


def _shown(value: object) -> str:
    """Put a value that is no text and no number into words."""
    if isinstance(value, bool):
        return str(value).lower()
    return {dict: "a group of keys", list: "a list", tuple: "a list", type(None): "nothing"}.get(
        type(value), repr(value)
    )


# Writing


def _ticks(mm: float, step: Fraction, rounding: Rounding) -> int:
    """How many steps make up the length, rounded in the direction asked for."""
    if not math.isfinite(mm):
        raise ValueError(f"{mm} is not a length")
    # Exact as with fractions, but in whole numbers over one denominator: sheets are full of lengths.
    top, bottom = mm.as_integer_ratio()
    length = top * _NOISE.denominator * step.denominator
    noise = _NOISE.numerator * bottom * step.denominator
    one = bottom * _NOISE.denominator * step.numerator
    if rounding is Rounding.DOWN:
        return (length + noise) // one
    if rounding is Rounding.UP:
        return -((noise - length) // one)
    half_up = (2 * abs(length) + one + 2 * noise) // (2 * one)
    return half_up if length >= 0 else -half_up


def _sign(ticks: int) -> str:
    return "-" if ticks < 0 else ""


def _fraction(part: int, denominator: int, before: str) -> str:
    reduced = Fraction(part, denominator)
    return f"{before}{reduced.numerator}/{reduced.denominator}" if part else ""


def _decimal(number: Fraction) -> str:
    """Write a decimal without trailing zeros."""
    text = f"{float(number):.6f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
