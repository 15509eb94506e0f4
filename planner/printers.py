"""Printers that do not print true, and what makes up for it.

In: what somebody measured of the bars on a template page. Out: factors for the next print, along the short and the
long side of the paper (a printer is off in the way it feeds, however the page lies); and, by the printer's name, a
small settings file that remembers them.

Rules: the bars are 100 mm and 4 in long. A printer's feed is off by some tenths of a per cent (from memory); a bar that
is off by more than two per cent was scaled by the program that printed it: A4 fitted to letter paper is 94 %, letter
fitted to A4 97 %, a page shrunk to its printable part 94 to 97 % (arithmetic). That is refused, since it must be
mended there. What was measured on a print that was corrected already corrects it further.
"""

import json
import os
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from planner.errors import LengthError, PlannerError
from planner.lengths import parse_length

Factors = tuple[float, float]  #: along the short side of the paper, along the long side
TRUE: Factors = (1.0, 1.0)

#: A bar measured outside of this share of its length means page scaling.
LEAST, MOST = 0.98, 1.02
_BAR_MM, _BAR_INCH = 100.0, 101.6

_TWO = re.compile(r"\s*(\S.*?)\s*[x×,]\s*(\S.*?)\s*", re.IGNORECASE)
_UNIT = re.compile(r"(mm|cm|in|inch|inches|\"|″|”)\s*$", re.IGNORECASE)
_FORMAT = "printers/1"
_OPTION = "--bar-measured"


def corrected(measured: str, before: Factors = TRUE) -> Factors:
    """The factors for the next print from the bars on the last, e.g. 99.4x99.7 (mm) or 3.98x3.99in.

    `before` are the factors that the last print was made with. PlannerError for what is no length, and for a print
    that was scaled.
    """
    shares = _shares(measured)
    for share, way in zip(shares, ("short", "long"), strict=True):
        if not LEAST <= share <= MOST:
            raise _scaled(measured, share, way)
    factors = (before[0] / shares[0], before[1] / shares[1])
    if not all(LEAST <= factor <= MOST for factor in factors):
        raise PlannerError(
            f"with what is remembered for this printer that makes {100 * factors[0]:.2f} x {100 * factors[1]:.2f} %, "
            "and more than 2 % is never a printer's own fault.",
            where=f"{_OPTION} {measured}",
            mend="Measure a print made without --printer, then give --printer and --bar-measured together once more.",
        )
    return factors


def settings_file(environment: Mapping[str, str], home: Path) -> Path:
    """Where printers are remembered: below XDG_CONFIG_HOME, or ~/.config (XDG Base Directory Specification)."""
    given = environment.get("XDG_CONFIG_HOME", "")
    base = Path(given) if os.path.isabs(given) else home / ".config"
    return base / "ceiling-planner" / "printers.json"


def remembered(path: Path) -> dict[str, Factors]:
    """The printers of a settings file; none when there is no file. PlannerError when it cannot be read."""
    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError:
        return {}
    except (OSError, UnicodeDecodeError) as error:
        raise _unreadable(path, str(error)) from error
    try:
        return _printers(json.loads(text))
    except (ValueError, TypeError, KeyError, AttributeError, OverflowError, RecursionError) as error:
        raise _unreadable(path, "it is not as the planner writes it") from error


def settings_text(printers: Mapping[str, Factors]) -> str:
    """A settings file that remembers these printers."""
    entries = {name: {"short_side": short, "long_side": long} for name, (short, long) in sorted(printers.items())}
    return json.dumps({"format": _FORMAT, "printers": entries}, indent=2, ensure_ascii=False) + "\n"


def printer_name(name: str) -> str:
    """A printer's name as it is remembered: one line, no more than 24 characters; PlannerError for none."""
    plain = " ".join("".join(c for c in name if c.isprintable()).split())[:24]
    if not plain:
        raise PlannerError("a printer needs a name.", where="--printer", mend='Call it as you like, e.g. "office".')
    return plain


def _shares(measured: str) -> Factors:
    """What was measured of each bar, as a share of its length."""
    two = _TWO.fullmatch(measured)
    if two is None:
        raise _no_length(measured, "two lengths are wanted, of the bars along the short and the long side of the paper")
    first, second = two[1], two[2]
    unit = _UNIT.search(second)
    if unit and not _UNIT.search(first):
        first += unit[1]
    return _share(first, measured), _share(second, measured)


def _share(text: str, measured: str) -> float:
    unit = _UNIT.search(text)
    inches = unit is not None and unit[1].lower() not in ("mm", "cm")
    try:
        length = parse_length(text, "mm")
    except LengthError as error:
        raise _no_length(measured, f'"{text[:20]}" is no length') from error
    return length / (_BAR_INCH if inches else _BAR_MM)


def _no_length(measured: str, why: str) -> PlannerError:
    return PlannerError(
        f"{why}.",
        where=f"{_OPTION} {measured[:40]}",
        mend="Write what you measured, e.g. 99.4x99.7 for the 100 mm bars, or 3.98x3.99in for the 4 in bars.",
    )


def _scaled(measured: str, share: float, way: str) -> PlannerError:
    return PlannerError(
        f"the bar along the {way} side of the paper came out at {100 * share:.1f} % of its length. "
        "No printer is off by more than 2 %: the page was scaled when it was printed.",
        where=f"{_OPTION} {measured[:40]}",
        mend='Print again at 100 % ("actual size", never "fit to page", on the paper the file was made for), then '
        "measure again. For the 4 in bars write the unit: 3.98x3.99in.",
    )


def _printers(data: Any) -> dict[str, Factors]:
    if data["format"] != _FORMAT:
        raise ValueError("another format")
    found = {
        str(name): (float(entry["short_side"]), float(entry["long_side"])) for name, entry in data["printers"].items()
    }
    if not all(LEAST <= factor <= MOST for factors in found.values() for factor in factors):
        raise ValueError("no correction of a printer")
    return found


def _unreadable(path: Path, why: str) -> PlannerError:
    return PlannerError(
        f"the remembered printers cannot be read: {why}.",
        where=str(path),
        mend="Delete the file, then measure a print again and give --printer with --bar-measured.",
    )
