"""Many names in few words: L2 before L10, and L11 to L30 for all that lie between.

In: names that end in numbers, as people and the planner give them. Out: names in order; runs of those that follow one
another, and words for them. Common practice, no source.
"""

import re
from collections.abc import Iterable, Sequence
from itertools import pairwise

from planner.sayings import joined, said

_DIGITS = re.compile(r"([0-9]+)")
#: A name that is longer than this is no mark, and its numbers are no counting.
_LONGEST = 60
#: From so many names in a row on, a run is shorter than the names.
_RUN = 3
#: Of names and runs of names at most so many are told.
_MOST = 24


def names_told(names: Iterable[str], in_order: bool = False) -> str:
    """Names in few words: "L1, L3 to L9, S1"; in natural order, or `in_order` as they are given."""
    found = runs_as_given(list(names)) if in_order else runs(names)
    parts = [said("{first} to {last}", first=run[0], last=run[1]) if len(run) == 2 else run[0] for run in found]
    kept = joined(parts[:_MOST], ", ")
    more = len(parts) - _MOST
    return said("{names} and {rest} more", names=kept, rest=more) if more > 0 else kept


def natural(name: str) -> tuple[tuple[str, int], ...]:
    """What to sort names by: their numbers count as numbers."""
    parts = _DIGITS.split(name[:_LONGEST])
    numbers = [int(part) for part in parts[1::2]]
    return (*zip(parts[::2], (*numbers, -1), strict=True), (name, 0))


def runs(names: Iterable[str]) -> tuple[tuple[str, ...], ...]:
    """Each name once, in natural order: those that follow one another as (first, last), others by themselves."""
    return runs_as_given(sorted(set(names), key=natural))


def runs_as_given(ordered: Sequence[str]) -> tuple[tuple[str, ...], ...]:
    """Names in the order in which they are given, those that follow one another as (first, last)."""
    groups: list[list[str]] = [[*ordered[:1]]] if ordered else []
    for one, other in pairwise(ordered):
        if follows(one, other):
            groups[-1].append(other)
        else:
            groups.append([other])
    return tuple(told for group in groups for told in _told(group))


def follows(one: str, other: str) -> bool:
    """Whether a name is the next one, as anybody would count: L9, L10; 08, 09; but not L09, L10, L9."""
    first, second = (re.fullmatch(r"(.*?)([0-9]+)", name) for name in (one, other))
    if first is None or second is None or max(len(one), len(other)) > _LONGEST:
        return False
    width = len(first[2]) if first[2].startswith("0") or second[2].startswith("0") else 0
    return first[1] == second[1] and second[2] == str(int(first[2]) + 1).zfill(width)


def _told(group: Sequence[str]) -> Iterable[tuple[str, ...]]:
    return ((group[0], group[-1]),) if len(group) >= _RUN else ((name,) for name in group)
