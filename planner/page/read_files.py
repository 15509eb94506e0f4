"""Which files a room or building file names, so that a change of any of them is a change of the plan.

In: a `Document`, right or wrong. Out: paths. Whatever looks like the name of a file is taken for one, whether or not it
is there: one that is missing now may be put there in a moment.
"""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from planner.documents import Document, read_document
from planner.errors import InputError

#: Of each file what changes when it is saved; None for one that is not there.
Signature = dict[Path, tuple[int, ...] | None]

_ENDINGS = (".yaml", ".yml", ".dxf")


def files_read(document: Document) -> frozenset[Path]:
    """Every file that the document names, and those that its rooms name; absolute paths. Only files within reach."""
    return frozenset(_named(document, rooms=True))


def signature_of(files: frozenset[Path]) -> Signature:
    """What changes when a file is saved, by any kind of editor; None for a file that is not there."""
    return {path: _seen(path) for path in sorted(files)}


def _seen(path: Path) -> tuple[int, ...] | None:
    try:
        found = path.stat()
    except (OSError, ValueError):
        return None
    return found.st_mtime_ns, found.st_ctime_ns, found.st_size, found.st_ino


def _named(document: Document, rooms: bool) -> Iterator[Path]:
    base = Path(document.file).absolute().parent
    data = document.data
    for name in (_at(data, "grid", "system"), _at(data, "room", "dxf", "file")):
        if _is_file_name(name) and document.reaches(name):
            yield base / name
    listed = _at(data, "rooms") if rooms else None
    for name in listed[: document.limits.rooms] if isinstance(listed, list) else ():
        if not _is_file_name(name) or not document.reaches(name):
            continue
        yield base / name
        try:
            room = read_document(base / name, document.reach or base, document.limits)
        except InputError:
            continue
        yield from _named(room, rooms=False)


def _is_file_name(name: Any) -> bool:
    return isinstance(name, str) and "\0" not in name and name.lower().endswith(_ENDINGS)


def _at(data: Any, *keys: str) -> Any:
    for key in keys:
        data = data.get(key) if isinstance(data, dict) else None
    return data
