"""Cells of a spreadsheet: names that users write are texts, and no spreadsheet may run them.

In: what goes into a cell. Out: the same, or a text that is no formula.
"""

import re

#: How a text begins that a spreadsheet might run: a sign or its full-width twin, perhaps after white space.
FORMULA = re.compile(r"\s*[=+\-@\uff1d\uff0b\uff0d\uff20]")
_BREAKS = re.compile(r"[\t\r\n\v\f]+")


def inert(cell: object) -> object:
    """A cell of a CSV file that no spreadsheet takes for a formula.

    A text that begins as a formula does gets an apostrophe before it, as OWASP's page on CSV injection advises (from
    memory); tabs and line ends, which may begin one too, become spaces. Quotes would not do: they are gone once the
    file is read.
    """
    if not isinstance(cell, str):
        return cell
    text = _BREAKS.sub(" ", cell)
    return f"'{text}" if FORMULA.match(text) else text
