"""Small words: counts and lists as one writes them in a sentence."""

from collections.abc import Iterable
from itertools import groupby


def listed(parts: Iterable[str], most: int = 12) -> str:
    """Parts in a row, "a, b and c"; of many the first ones and how many more there are."""
    row = list(parts)
    if len(row) > most:
        row = [*row[:most], f"{len(row) - most} more"]
    return row[0] if len(row) == 1 else f"{', '.join(row[:-1])} and {row[-1]}" if row else ""


def shortened(names: tuple[str, ...]) -> str:
    """Names in a row, those that count up as one: "a1 to a4, M1, M2"."""
    parts = [(name.rstrip("0123456789"), name[len(name.rstrip("0123456789")) :]) for name in names]
    rows = []
    for _, group in groupby(enumerate(parts), key=lambda one: (one[1][0], int(one[1][1] or 0) - one[0])):
        row = ["".join(part) for _, part in group]
        rows += [f"{row[0]} to {row[-1]}"] if len(row) > 2 else row
    return ", ".join(rows)
