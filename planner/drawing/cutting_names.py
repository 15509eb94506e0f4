"""Ids of many pieces in few words: "T2 to T51", "M1 twice".

In: ids, one for each piece. Out: one line of words. Ids that end in numbers that follow each other are told as a range.
"""

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from planner.drawing import words

_NUMBERED = re.compile(r"(.*?)([1-9][0-9]{0,8})")
#: From so many ids in a row on, a range is shorter than the ids.
_RANGE = 3
#: At most so many ids and ranges are told; who wants all of them has `cutting.csv`.
_MOST = 60


def told(ids: Iterable[str]) -> str:
    """The ids in natural order; those of several pieces are told once, with how many."""
    counts = Counter(each for each in ids if each)
    groups: dict[int, list[str]] = {}
    for each in sorted(counts, key=_natural):
        groups.setdefault(counts[each], []).append(each)
    parts = []
    for times in sorted(groups):
        group = list(_ranged(groups[times]))
        shown = [*group[:_MOST], words.say("cutting.more ids", n=len(group) - _MOST)] if len(group) > _MOST else group
        one = len(groups[times]) == 1
        many = "" if times == 1 else words.say("cutting.so many" if one else "cutting.so many each", n=times)
        parts.append(", ".join(shown) + many)
    return "; ".join(parts)


def _natural(name: str) -> tuple[str, int, str]:
    """T2 before T10."""
    found = _NUMBERED.fullmatch(name)
    return (found[1], int(found[2]), name) if found else (name, 0, name)


def _ranged(names: Sequence[str]) -> Iterator[str]:
    """Names in natural order, runs of three and more as first and last."""
    keyed = [(*_natural(name)[:2], name) for name in names]
    for _, group in groupby(enumerate(keyed), key=lambda at: (at[1][0], at[1][1] - at[0] if at[1][1] else -at[0] - 1)):
        run = [name for _, (_, _, name) in group]
        if len(run) >= _RANGE:
            yield words.say("framing.to", first=run[0], last=run[-1])
        else:
            yield from run
