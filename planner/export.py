"""Files into a folder, whole or not at all.

Every file is first written beside its place under another name; only when all of them are complete do they take
their places, one rename each. What fails before that leaves the folder as it was.
"""

import os
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

from planner.errors import OutputError


def check_folder(folder: Path, option: str = "--out") -> None:
    """Refuse early, before any work is done, what cannot become an output folder; OutputError names the option."""
    if folder.exists() and not folder.is_dir():
        raise OutputError(
            "this is a file, and a folder is needed", where=str(folder), mend=f"Choose another with {option}."
        )
    standing = next(p for p in (folder, *folder.absolute().parents) if p.exists())
    if not os.access(standing, os.W_OK | os.X_OK):
        mend = f"Choose another folder with {option}."
        raise OutputError("no permission to write here", where=str(standing), mend=mend)


def write_folder(folder: Path, contents: Mapping[str, bytes], option: str = "--out") -> tuple[Path, ...]:
    """Put files into a folder, made if need be, and return their paths; OutputError when that fails.

    A name may have one folder before it, as in "room/plan.json".
    """
    below = sorted({name.split("/")[0] for name in contents if name.count("/") == 1})
    made = [place for place in (*(folder / name for name in below), folder) if not place.exists()]
    parts: list[tuple[Path, Path]] = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name in below:
            (folder / name).mkdir(exist_ok=True)
        for name, content in contents.items():
            place = folder / name
            part = place.with_name(f".{place.name}.{os.getpid()}.part")
            parts.append((part, place))
            _write(part, content)
        for part, place in parts:
            os.replace(part, place)
    except OSError as error:
        _clear(made, parts)
        raise OutputError(
            f"cannot be written: {error.strerror or error}",
            where=str(error.filename or folder),
            mend=f"What was there before is unharmed. Free some space or choose another folder with {option}.",
        ) from error
    except BaseException:
        _clear(made, parts)
        raise
    return tuple(place for _, place in parts)


def _write(path: Path, content: bytes) -> None:
    with open(path, "wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _clear(made: list[Path], parts: list[tuple[Path, Path]]) -> None:
    """Take away what was begun: unfinished files, and the folders made for them, the inner ones first."""
    for part, _ in parts:
        with suppress(OSError):
            part.unlink(missing_ok=True)
    for folder in made:
        if folder.is_dir() and not any(folder.iterdir()):
            folder.rmdir()
