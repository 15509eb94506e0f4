"""Answers as people give them: lengths, pairs, choices, counts, shares.

In: a line as typed. Out: text to keep, with its unit, and what it means. Rules: a bare number is read in the units of
the job; of small things, where feet and inches are the units, a bare number is inches, save the 2x4 of the trade. A
PlannerError says what was read and how to mend it.
"""

import re
from collections.abc import Mapping

from planner.errors import LengthError, PlannerError
from planner.lengths import format_feet_inches, format_length, format_mm, parse_length
from planner.wording import near

#: A size of the trade, such as 2x4, is in feet up to here, and in inches beyond.
MOST_FEET_OF_A_PANEL = 5.0

_BARE = re.compile(r"\.?\d[\d./ -]*")
#: Feet with a number behind that bears no mark: inches, as everybody says it.
_FEET_AND = re.compile(r"\d+\s*(?:['′’]|ft\.?|feet|foot)\s*-?\s*[\d.½¼¾⅛⅜⅝⅞][\d./½¼¾⅛⅜⅝⅞ -]*", re.IGNORECASE)
#: Feet and inches without any mark.
_TWO_NUMBERS = re.compile(r"(\d{1,3})[ -]+(\d{1,2}(?:[ -]+\d+/\d+|\.\d+)?)")
_BETWEEN = re.compile(r"\s*(?:,|;|×|\bx\b|(?<=[\d'\"″”’′])\s*x\s*(?=[\d.])|(?<=[a-z])x(?=\d)|\bby\b)\s*", re.IGNORECASE)


def tidy(text: str) -> str:
    """One line without anything that could drive a terminal or end a YAML text."""
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())


def read_length(text: str, units: str, *, small: bool = False) -> tuple[str, float]:
    """Text to keep and millimetres of a length of 0 or more; `small` things are never bare feet. LengthError."""
    plain = tidy(text)
    if _FEET_AND.fullmatch(plain):
        plain += '"'
    if small and _BARE.fullmatch(plain):
        plain += _unit_of_small(plain, units)
    if units == "ft-in" and (two := _TWO_NUMBERS.fullmatch(plain)):
        raise LengthError(
            f'"{plain}" has no mark after the feet.', mend=f"Write  {two[1]}' {two[2]}  if that is meant."
        )
    mm = parse_length(plain, units)
    if mm < 0:
        raise LengthError(f'"{plain}" is less than nothing.', mend="Write the length as measured, without a minus.")
    if _BARE.fullmatch(plain) and mm > 0:
        plain += f" {units}"
    return plain, mm


def _unit_of_small(number: str, units: str) -> str:
    """The unit that a bare number has where only small things are meant; empty = that of the job."""
    if units == "ft-in":
        return '"'
    return " mm" if units == "m" and re.fullmatch(r"\d{2,}", number) else ""


def both(mm: float, units: str, *, small: bool = False) -> str:
    """A length in the units of the job and in the other kind, so that a slip is seen; small things never in feet."""
    if small and units == "ft-in":
        return f"{format_length(mm, 'in')} = {format_mm(mm)} mm"
    if units in ("ft-in", "in"):
        return f"{format_length(mm, units)} = {format_mm(mm)} mm"
    return f"{format_length(mm, units)} = {format_feet_inches(mm)}"


def read_pair(text: str, units: str, *, small: bool = False) -> tuple[tuple[str, float], tuple[str, float]]:
    """Two lengths with a comma, x or `by` between them; the unit of the second may stand for both. PlannerError."""
    parts = [part for part in _BETWEEN.split(tidy(text)) if part]
    if len(parts) != 2:
        shown = "6', 4'" if units in ("ft-in", "in") else "1.8 m, 1.2 m"
        problem = f"{len(parts)} length{'' if len(parts) == 1 else 's'} where two are needed."
        raise PlannerError(problem, mend=f"Write both with a comma between, as in {shown}; a point before decimals.")
    if small:
        parts = _of_the_trade(parts, units)
    one, other = (read_length(part, units, small=small) for part in parts)
    return one, other


def _of_the_trade(parts: list[str], units: str) -> list[str]:
    """Give bare sizes the unit they have in the trade: 24 x 48" and 2 x 4 are meant alike."""
    bare = [_BARE.fullmatch(part) is not None for part in parts]
    if bare[0] and not bare[1] and (unit := re.search(r"[^\d./ -]+\s*$", parts[1])):
        return [parts[0] + unit[0], parts[1]]
    if all(bare) and units in ("ft-in", "in") and all(re.fullmatch(r"\d+", part) for part in parts):
        return [f"{part}'" if float(part) <= MOST_FEET_OF_A_PANEL else f'{part}"' for part in parts]
    return parts


def read_choice(text: str, choices: Mapping[str, str]) -> str:
    """The choice meant: its name, the beginning of it, or what it is called otherwise (the values). PlannerError."""
    plain = tidy(text).lower()
    known = [name for name, others in choices.items() if plain in (name, *others.split("|"))]
    known = known or [name for name in choices if plain and name.startswith(plain)]
    if len(known) == 1:
        return known[0]
    if plain in ("yes", "y", "yeah", "yep", "ja", "si", "sí"):
        rest = [name for name in choices if name != "none"]
        listed = " or ".join(rest) if len(rest) < 4 else ", ".join(rest)
        raise PlannerError(f"which: {listed}?", mend="Say it by its name.")
    raise PlannerError(f'"{plain}" is not one of: {", ".join(choices)}.', mend=near(plain, list(choices), listed=True))


def read_share(text: str) -> str:
    """A share such as 5% or 0.05, or a bare 5 that means per cent. PlannerError."""
    match = re.fullmatch(r"(\d{1,3}(?:\.\d{1,3})?)(%?)", tidy(text).replace(" ", ""))
    if match is None:
        raise PlannerError(f'"{tidy(text)}" is not a share.', mend="Write it as 5% or 0.05.")
    number = float(match[1])
    percent = number if match[2] or number >= 1 else number * 100
    if percent > 100:
        raise PlannerError(f'"{tidy(text)}" is more than all.', mend="Write a share up to 100%.")
    return f"{percent:g}%"


#: Numbers as people say them, by their place.
_COUNTS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


def read_count(text: str, least: int, most: int) -> int:
    """A whole number between two others. PlannerError."""
    plain = tidy(text).lower()
    plain = str(_COUNTS.index(plain)) if plain in _COUNTS else plain
    if not re.fullmatch(r"\d{1,4}", plain) or not least <= int(plain) <= most:
        raise PlannerError(f'"{plain}" is not a number from {least} to {most}.', mend="Count again.")
    return int(plain)
