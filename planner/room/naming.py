"""Names: corners and walls of a room, and names for columns and services that have none of their own."""

import re
from collections.abc import Iterator, Sequence
from pathlib import PurePath
from string import ascii_uppercase

from planner.wording import Fault
from planner.yaml_text import Path


def corner_names(count: int) -> tuple[str, ...]:
    """Name corners A to Z, then A1 to Z1, A2, ..."""
    return tuple(ascii_uppercase[k % 26] + (str(k // 26) if k >= 26 else "") for k in range(count))


def wall_names(names: Sequence[str], turned: bool = False) -> tuple[str, ...]:
    """Name walls by their two corners; `turned`: the corners are in the order opposite to that of the names."""
    ends = ((name, names[(k + 1) % len(names)]) for k, name in enumerate(names))
    return tuple("-".join(reversed(pair) if turned else pair) for pair in ends)


def names_of(given: Sequence[str | None], prefix: str, paths: Sequence[Path]) -> tuple[list[str], list[Fault]]:
    """Give names to those that have none (prefix and number), and complain of names given twice."""
    faults, taken = [], set[str]()
    for name, path in zip(given, paths, strict=True):
        if name in taken:
            faults.append(Fault((*path, "name"), f'the name "{name}" is given twice.', "Give each a name of its own."))
        if name is not None:
            taken.add(name)
    fresh = unused(prefix, taken)
    return [next(fresh) if name is None else name for name in given], faults


def title_of(file: str) -> str:
    """A job's name from that of its file, if it has no other: without ending, and nothing in it but letters to read."""
    stem = PurePath(file).stem.encode("utf-8", "replace").decode("utf-8")
    return " ".join("".join(c if c.isprintable() else " " for c in stem).split()) or "Room"


#: Signs that some file system keeps for itself (Windows' naming rules, from memory).
_RESERVED = re.compile(r'[<>:"/\\|?*]')


def folder_of(file: str) -> str:
    """A folder's name from that of a room file: without ending, and such that it is a folder of its own everywhere.

    It never begins with a dot, so it is neither the folder itself, nor the one above, nor out of sight.
    """
    return _RESERVED.sub("-", title_of(file)).strip(". ") or "room"


def unused(prefix: str, taken: set[str]) -> Iterator[str]:
    """Count up prefix1, prefix2, ..., without those taken; each is then taken too."""
    number = 0
    while True:
        number += 1
        if (name := f"{prefix}{number}") not in taken:
            taken.add(name)
            yield name
