"""Letters in the order in which a page shows them: text from right to left is stored the other way round.

In: one line as it is stored. Out: the same letters as they stand from left to right, for a format that draws them one
after the other. The rules are those of Unicode's bidirectional algorithm (UAX 9, from memory) for a line that begins at
the left, without its embeddings: the letters that would open one are no letters and are never drawn.
"""

import unicodedata
from collections.abc import Sequence
from itertools import groupby

_RIGHT_TO_LEFT = frozenset(("R", "AL"))
_NUMBERS = frozenset(("EN", "AN"))
_MIRRORED = str.maketrans("()[]{}<>«»", ")(][}{><»«")


def as_shown(text: str) -> str:
    """The line from left to right; as it is where nothing in it runs from right to left."""
    kinds = [unicodedata.bidirectional(letter) for letter in text]
    if _RIGHT_TO_LEFT.isdisjoint(kinds):
        return text
    backwards = _backwards(kinds)
    parts = []
    for turned, group in groupby(range(len(text)), key=backwards.__getitem__):
        run = "".join(text[k] for k in group)
        parts.append(_turned(run) if turned else run)
    return "".join(parts)


def _backwards(kinds: Sequence[str]) -> list[bool]:
    """Which letters belong to a stretch that runs from right to left: such letters, and what lies between them.

    Numbers belong to what stands before them; spaces and signs only where both sides run so.
    """
    strong: list[bool | None] = []
    last = False
    for kind in kinds:
        if kind in _RIGHT_TO_LEFT or kind == "L":
            last = kind != "L"
        strong.append(last if kind in _RIGHT_TO_LEFT | _NUMBERS or kind == "L" else None)
    for k, known in enumerate(strong):
        if known is None:
            before = strong[k - 1] if k else False
            after = next((each for each in strong[k:] if each is not None), False)
            strong[k] = bool(before and after)
    return [bool(each) for each in strong]


def _turned(run: str) -> str:
    """A stretch from its last letter to its first, numbers in it as they are read."""
    parts = [
        "".join(group) for _, group in groupby(run, key=lambda letter: unicodedata.bidirectional(letter) in _NUMBERS)
    ]
    return "".join(
        part if unicodedata.bidirectional(part[0]) in _NUMBERS else part[::-1].translate(_MIRRORED)
        for part in reversed(parts)
    )
