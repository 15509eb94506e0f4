"""Files into a folder, whole or not at all.

Every file is first written beside its place under another name; only when all of them are complete do they take
their places, one rename each. What fails before that leaves the folder as it was. A set also carries a list of
checksums, which is taken away before the first rename and comes back after the last: whenever a process is killed, a
folder with a list that fits holds one set, the old or the new. Runs that write into one folder wait for each other.
"""

import errno
import hashlib
import os
import re
import stat
from collections.abc import Iterator, Mapping
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager, suppress
from io import BufferedReader
from pathlib import Path

from planner.errors import OutputError, printable
from planner.sets import KINDS, LARGEST_LIST, LIST, Sealed, held_against, list_of, read_list

try:
    import fcntl
except ImportError:  # pragma: no cover  # not on every system; there two runs at once are found out by the list
    fcntl = None  # type: ignore[assignment]


#: A file that is not complete yet, or was left by a killed run.
_PART = re.compile(r"\..+\.\d+\.part")
#: A disk, or what one may have of it, is full.
_FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)
_AT_ONCE = 16  #: so many files the disk is asked to hold at a time
_NAMED = 3  #: of the other things in a folder so many are told

#: Not on every system.
_NO_LINK, _NO_WAIT = getattr(os, "O_NOFOLLOW", 0), getattr(os, "O_NONBLOCK", 0)


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


def check_set_folder(folder: Path, fresh: str, option: str = "--out") -> None:
    """As `check_folder`, and refuse a folder of other things, where no set of ours lies; `fresh` names a new one."""
    check_folder(folder, option)
    there = list[str]()
    with suppress(OSError):  # not there yet, or closed to eyes
        there = sorted(os.listdir(folder))
    others = [name for name in there if not name.startswith(".")]
    if not others or LIST in there or any(map(_PART.fullmatch, there)) or any(_is_record(folder, n) for n in others):
        return
    told = ", ".join(map(printable, others[:_NAMED])) + (
        f" and {len(others) - _NAMED} more" if len(others) > _NAMED else ""
    )
    mend = f"Name a folder for the plan alone, such as  {option} {folder / fresh}  (it is made for you)."
    raise OutputError(f"other things are here already: {told}", where=str(folder), mend=mend)


def _is_record(folder: Path, name: str) -> bool:
    """Whether a file is the record of a set, whose list somebody took away."""
    if name not in ("plan.json", "building.json"):
        return False
    try:
        with _plain_file(folder, name) as file:
            return b'"format": "ceiling-' in file.read(200)
    except OSError:
        return False


def write_folder(folder: Path, contents: Mapping[str, bytes], option: str = "--out") -> tuple[Path, ...]:
    """Put files into a folder, made if need be, and return their paths; OutputError when that fails.

    A name may have one folder before it, as in "room/plan.json".
    """
    return _write_all(folder, contents, option, ())


def write_set(folder: Path, contents: Mapping[str, bytes], option: str = "--out") -> tuple[Path, ...]:
    """Put a set into a folder, sealed by its list; what an earlier set left behind, untouched since, goes.

    As `write_folder`; the paths end with that of the list.
    """
    earlier = _stale(folder, contents)
    return _write_all(folder, {**contents, LIST: list_of(contents)}, option, earlier)


def inspect_set(folder: Path) -> Sealed:
    """Hold the files of a folder against its list; OutputError when there is none, or it cannot be read."""
    try:
        with _plain_file(folder, LIST) as file:
            text = file.read(LARGEST_LIST + 1)
    except OSError as error:
        raise OutputError(
            f"there is no finished set here: {LIST} cannot be read ({error.strerror})",
            where=str(folder),
            mend="Name the folder that `planner plan` wrote, or plan again.",
        ) from error
    listed = read_list(text) if len(text) <= LARGEST_LIST else None
    if listed is None:
        raise OutputError("this is no list of checksums", where=str(folder / LIST), mend="Plan again.")
    return held_against(text, listed, {name: _digest(folder, name) for name in listed})


def _digest(folder: Path, name: str) -> str | None:
    try:
        with _plain_file(folder, name) as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError:
        return None


def _plain_file(folder: Path, name: str) -> BufferedReader:
    """Open a file of a set; OSError for a link, whose file is another's, and for what has no end, as a device has."""
    path = folder / name
    if path.parent != folder and path.parent.is_symlink():
        raise OSError(errno.ELOOP, os.strerror(errno.ELOOP), str(path))
    handle = os.open(path, os.O_RDONLY | _NO_LINK | _NO_WAIT)
    if not stat.S_ISREG(os.fstat(handle).st_mode):
        os.close(handle)
        raise OSError(errno.EINVAL, "it is no plain file", str(path))
    return open(handle, "rb")


def _stale(folder: Path, contents: Mapping[str, bytes]) -> tuple[str, ...]:
    """Files of the set that is there, just as it wrote them, which the new one does not have."""
    try:
        before = inspect_set(folder)
    except OutputError:
        return ()
    return tuple(name for name in before.whole if name not in contents and name.endswith(KINDS))


def _write_all(folder: Path, contents: Mapping[str, bytes], option: str, earlier: tuple[str, ...]) -> tuple[Path, ...]:
    below = sorted({name.split("/")[0] for name in contents if name.count("/") == 1})
    made = [place for place in (*(folder / name for name in below), folder) if not place.exists()]
    parts: list[tuple[Path, Path]] = []
    harm = "What was there before is unharmed."
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with _alone_in(folder):
            for name in below:
                _own_folder(folder / name, option)
            _sweep(folder, below)
            for name, content in contents.items():
                place = folder / name
                _free(place, option)
                part = place.with_name(f".{place.name}.{os.getpid()}.part")
                parts.append((part, place))
                _write(part, content)
            _settle_files([part for part, _ in parts])
            harm = "Some files are new now and some are old."
            _take_places(folder, parts, earlier, sealed=LIST in contents)
    except OSError as error:
        _clear(made, parts)
        asked = dict((str(part), place) for part, place in parts).get(str(error.filename), error.filename or folder)
        space = "Free some space or choose" if error.errno in _FULL else "Choose"
        raise OutputError(
            f"cannot be written: {error.strerror or error}",
            where=str(asked),
            mend=f"{harm} {space} another folder with {option}.",
        ) from error
    except BaseException:
        _clear(made, parts)
        raise
    return tuple(place for _, place in parts)


@contextmanager
def _alone_in(folder: Path) -> Iterator[None]:
    """Wait until no other run writes into the folder; the lock goes with the process that holds it."""
    if fcntl is None:  # pragma: no cover
        yield
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)


def _own_folder(place: Path, option: str) -> None:
    """Make a folder below the output folder; a link would lead the files elsewhere."""
    if place.is_symlink():
        mend = f"Take it away, or choose another folder with {option}."
        raise OutputError("this is a link, and a folder is needed", where=str(place), mend=mend)
    place.mkdir(exist_ok=True)


def _sweep(folder: Path, below: list[str]) -> None:
    """Take away unfinished files of runs that were killed; no other run is writing here now."""
    for place in (folder, *(folder / name for name in below)):
        for part in place.glob(".*.part"):
            if _PART.fullmatch(part.name):
                part.unlink(missing_ok=True)


def _free(place: Path, option: str) -> None:
    """Refuse to go on when a folder stands where a file should be. A link there is replaced, never followed."""
    if place.is_dir() and not place.is_symlink():
        mend = f"Take it away, or choose another folder with {option}."
        raise OutputError("this is a folder, and a file should go here", where=str(place), mend=mend)


def _write(path: Path, content: bytes) -> None:
    path.unlink(missing_ok=True)  # of a killed run whose number this process has got, or somebody's link
    with open(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666), "wb") as file:
        file.write(content)


def _settle_files(paths: list[Path]) -> None:
    """Have the disk hold all of every file; asked for all at once, the last being written, it takes them together."""
    with ThreadPoolExecutor(_AT_ONCE) as waiting:
        list(waiting.map(_settle_file, paths))


def _settle_file(path: Path) -> None:
    """Have the disk hold all of a file; what it could not write is said here."""
    handle = os.open(path, os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _take_places(folder: Path, parts: list[tuple[Path, Path]], earlier: tuple[str, ...], sealed: bool) -> None:
    """Let complete files take their places; of a sealed set the last one is its list, and the old list goes first."""
    *most, last = parts
    if sealed:
        last[1].unlink(missing_ok=True)
        _settle(folder)
    for part, place in most:
        os.replace(part, place)
    for name in earlier:
        (folder / name).unlink(missing_ok=True)
        if "/" in name:
            with suppress(OSError):  # its folder goes when it was the last one there
                (folder / name).parent.rmdir()
    _settle(folder)
    os.replace(*last)
    _settle(folder)


def _settle(folder: Path) -> None:
    """Have the disk know what the folder holds by now, where the system can be asked to."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _clear(made: list[Path], parts: list[tuple[Path, Path]]) -> None:
    """Take away what was begun: unfinished files, and the folders made for them, the inner ones first."""
    for part, _ in parts:
        with suppress(OSError):
            part.unlink(missing_ok=True)
    for folder in made:
        if folder.is_dir() and not any(folder.iterdir()):
            folder.rmdir()
