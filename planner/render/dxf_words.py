r"""Names and texts as a DXF file can hold them: no code of the format hidden in a text, no name that CAD refuses.

In: words from a room file or a sheet. Out: the same words, safe. Rules: the DXF reference's control codes (%%, ^,
\U+, and in dimensions also those of formatted text), found to be obeyed by independent readers; names hold A-Z, 0-9,
"-" and "_" only and are unique whatever their capitals.
"""

import re
from collections.abc import Collection
from typing import Literal

from planner.drawing.lettering import clean, safe
from planner.drawing.shapes import Paper
from planner.lengths import format_feet_inches, format_mm

_LONGEST_NAME = 64


def drawn(text: str) -> str:
    """Write the letters of a TEXT entity, the same that the other formats draw."""
    return _literal(clean(text))


def data(text: str) -> str:
    """Write the value of an attribute: it is not drawn by us, so letters that our font lacks stay."""
    return _literal(safe(text))


def dimension_override(text: str) -> str:
    """Write the text of a DIMENSION that stands instead of the measured one; a single space when there is none."""
    formatted = drawn(text).replace("\\", "\\\\").replace("{", "\\{").replace("}", "\\}")
    return formatted.replace("<>", "< >").strip() or " "


def measured(mm: float, unit: Literal["mm", "in"]) -> str:
    """Write a length as CAD itself does with the unit format and precision that our dimension styles ask for."""
    return format_feet_inches(mm) if unit == "in" else format_mm(mm, step=0.1)


def name(raw: str, taken: Collection[str]) -> str:
    """Make a name for a block, an attribute or a line type that is not among those taken (in capitals)."""
    plain = re.sub(r"[^A-Z0-9_-]+", "_", safe(raw).upper()).strip("_")[:_LONGEST_NAME] or "UNNAMED"
    return _unique(plain, taken)


def layout_name(title: str, taken: Collection[str]) -> str:
    """Make a name for the tab of a sheet: letters of any script, figures, spaces and a few marks."""
    plain = "".join(c if c.isalnum() or c in " -_()." else " " for c in safe(title))
    plain = " ".join(plain.split())[:_LONGEST_NAME].strip()
    return _unique(plain if plain and plain.upper() != "MODEL" else "Sheet", taken)


def paper_name(paper: Paper) -> str:
    """Begin the name by which CAD knows a paper, e.g. ISO_A3 or ANSI_B; the size follows it there."""
    plain = re.sub(r"[^A-Za-z0-9]+", "_", paper.name).strip("_") or "paper"
    return f"ISO_{plain}" if re.fullmatch(r"A\d", plain) else plain


def line_type_name(dash: tuple[float, ...]) -> str:
    """Name a dash pattern by its lengths on paper, so that no office has another under the same name."""
    return "MM_" + "_".join(f"{length:g}".replace(".", "P") for length in dash)


def _literal(text: str) -> str:
    """Break up whatever readers would take for a control code."""
    spread = re.sub(r"%(?=%)", "% ", text)
    return re.sub(r"\\(?=[UuMm]\+)", r"\\ ", spread).replace("^", "^ ")


def _unique(plain: str, taken: Collection[str]) -> str:
    number, tried = 1, plain
    capitals = {other.upper() for other in taken}
    while tried.upper() in capitals:
        number += 1
        ending = f"-{number}"
        tried = plain[: _LONGEST_NAME - len(ending)] + ending
    return tried
