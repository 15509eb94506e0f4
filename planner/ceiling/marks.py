"""Class letters for panels and pieces: a, b, ..., z, aa, ab, ..., and the marks on the tape that they are cut to.

In: how many classes came before. Out: the letters. i, l and o are left out, because on a pencilled panel they are read
as 1 and 0 (common practice, no source).
"""

#: What a cut is rounded down to, millimetres: a sixteenth of an inch, or one.
INCH_MARK_MM, METRIC_MARK_MM = 25.4 / 16, 1.0

LETTERS = "abcdefghjkmnpqrstuvwxyz"


def class_letters(index: int) -> str:
    """The letters of class number `index`, counted from 0: a, b, ..., z, aa, ab, ...; ValueError below 0."""
    if index < 0:
        raise ValueError(f"classes are counted from 0, not {index}")
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, len(LETTERS))
        letters = LETTERS[rest] + letters
    return letters


def tape_mark(imperial: bool) -> float:
    """Between the marks on the tape of a job, millimetres."""
    return INCH_MARK_MM if imperial else METRIC_MARK_MM
