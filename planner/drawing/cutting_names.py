"""Ids of many pieces in few words: "T2 to T51", "M1 twice".

In: ids, one for each piece. Out: one line of words. Ids that end in numbers that follow each other are told as a range.
"""

import re
from collections import Counter
from collections.abc import Iterable, Iterator

from planner.drawing import words
from planner.naming import natural, runs

#: At most so many ids and ranges are told; who wants all of them has `cutting.csv`.
_MOST = 60
#: An id behind the name of its room, where the bars of several rooms are cut together.
_OF_A_ROOM = re.compile(r"(.+) ([A-Za-z]{1,3}[0-9]+(?:-[0-9]+)?)")


def told(ids: Iterable[str]) -> str:
    """The ids in natural order; those of several pieces are told once, with how many."""
    counts = Counter(each for each in ids if each)
    groups: dict[int, list[str]] = {}
    for each in sorted(counts, key=natural):
        groups.setdefault(counts[each], []).append(each)
    parts = []
    for times in sorted(groups):
        group = list(_ranged(groups[times]))
        shown = [*group[:_MOST], words.say("cutting.more ids", n=len(group) - _MOST)] if len(group) > _MOST else group
        one = len(groups[times]) == 1
        many = "" if times == 1 else words.say("cutting.so many" if one else "cutting.so many each", n=times)
        parts.append(", ".join(shown) + many)
    return "; ".join(parts)


def _ranged(names: Iterable[str]) -> Iterator[str]:
    """Names in natural order, runs of three and more as first and last; the name of a room only where it changes."""
    room = ""
    for run in runs(names):
        short = []
        for name in run:
            found = _OF_A_ROOM.fullmatch(name)
            short.append(found[2] if found and found[1] == room else name)
            room = found[1] if found else ""
        yield words.say("framing.to", first=short[0], last=short[1]) if len(short) == 2 else short[0]
