"""A set of output files and the list of checksums that seals it: what a folder holds, held against its list.

In: names and contents, or the list as it was read. Out: the list, in the form that `sha256sum --check` reads (two
spaces between digest and name: coreutils manual), or what is wrong. The list is written last and taken away first, so
a folder without one holds no finished set. SHA-256: FIPS 180-4.
"""

import hashlib
import re
from collections.abc import Mapping

from planner.records import dataclass

#: The list's own name in the folder.
LIST = "checksums.sha256"

_LINE = re.compile(r"([0-9a-f]{64})  ((?:[^./\\][^/\\]*/)?[^./\\][^/\\]*)")

#: A list longer than this (bytes) is none of ours: ten thousand rooms take half of it.
LARGEST_LIST = 64 * 2**20
#: Kinds of files that sets have; nothing else is ever taken away.
KINDS = (".csv", ".dxf", ".html", ".json", ".pdf", ".svg")


@dataclass(frozen=True, slots=True)
class Sealed:
    """A folder's files against its list."""

    digest: str  #: of the list, and so of the whole set
    whole: tuple[str, ...]  #: names of files that are as listed
    changed: tuple[str, ...]
    missing: tuple[str, ...]

    @property
    def sound(self) -> bool:
        return not self.changed and not self.missing


def checksum(content: bytes) -> str:
    """The SHA-256 digest of a content, in hexadecimal."""
    return hashlib.sha256(content).hexdigest()


def list_of(contents: Mapping[str, bytes]) -> bytes:
    """The list that seals a set: one line for each file, in the set's own order."""
    return "".join(f"{checksum(content)}  {name}\n" for name, content in contents.items()).encode()


def read_list(text: bytes) -> dict[str, str] | None:
    """Names and their digests; None when this is no such list, or names what no set has.

    A name has one folder before it at most, and neither begins with a dot: no name leads out of the folder.
    """
    found: dict[str, str] = {}
    for line in text.decode("utf-8", "replace").removesuffix("\n").split("\n"):
        match = _LINE.fullmatch(line)
        if match is None or not match[2].isprintable():
            return None
        found[match[2]] = match[1]
    return found


def held_against(sealed_by: bytes, listed: Mapping[str, str], found: Mapping[str, str | None]) -> Sealed:
    """What is as listed and what is not; `found` holds the digest of each listed file, None for one that is gone."""
    missing = tuple(name for name in listed if found[name] is None)
    whole = tuple(name for name in listed if found[name] == listed[name])
    changed = tuple(name for name in listed if name not in missing and name not in whole)
    return Sealed(checksum(sealed_by), whole, changed, missing)
