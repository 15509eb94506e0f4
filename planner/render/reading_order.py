"""Letters in the order in which a page shows them: text from right to left is stored the other way round.

In: one line as it is stored. Out: the same letters as they stand from left to right, for a format that draws them one
after the other. The rules are those of Unicode's bidirectional algorithm (UAX 9), as python-bidi has them, for a line
that begins at the left. The library is loaded only where a line has such letters.
"""

import unicodedata

_RIGHT_TO_LEFT = frozenset(("R", "AL"))


def as_shown(text: str) -> str:
    """The line from left to right; as it is where nothing in it runs from right to left."""
    if _RIGHT_TO_LEFT.isdisjoint(map(unicodedata.bidirectional, text)):
        return text
    from bidi.algorithm import get_display  # mirrors brackets too, which the library's faster way leaves to its caller

    return str(get_display(text, base_dir="L"))
