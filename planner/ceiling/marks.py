"""Class letters for panels and pieces: a, b, ..., z, aa, ab, ...

In: how many classes came before. Out: the letters. i, l and o are left out, because on a pencilled panel they are read
as 1 and 0 (common practice, no source).
"""

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
