"""Watching files: calls back whenever one of them may have been saved.

In: which files, asked for anew before each wait. Out: calls. Folders are watched rather than files, since many editors
save by renaming a new file over the old one. File systems that tell nothing (network shares, some containers) are
looked at every second or so all the same, and more often with `poll`.
"""

import threading
from collections.abc import Callable, Iterable
from pathlib import Path

from watchfiles import watch

#: Changes that come within so many milliseconds of each other are one; they are gathered no longer than the second.
_STEP_MS, _DEBOUNCE_MS = 40, 200
#: Whatever the file system tells or not, files are looked at after so many milliseconds.
_LOOK_MS = 1000
_POLL_MS = 300


def watch_files(
    files: Callable[[], Iterable[Path]], changed: Callable[[], object], stop: threading.Event, poll: bool = False
) -> None:
    """Call `changed` at once, and then after every change and every second or so, until `stop` is set.

    `changed` decides by itself whether anything is different; it is never called twice at the same time.
    """
    changed()
    while not stop.is_set():
        folders = _folders(files())
        for _ in watch(
            *folders,
            watch_filter=None,
            debounce=_DEBOUNCE_MS,
            step=_STEP_MS,
            stop_event=stop,
            rust_timeout=_LOOK_MS,
            yield_on_timeout=True,
            force_polling=poll or None,
            poll_delay_ms=_POLL_MS,
            recursive=False,
            raise_interrupt=False,
        ):
            changed()
            if stop.is_set() or _folders(files()) != folders:
                break


def _folders(files: Iterable[Path]) -> tuple[Path, ...]:
    """The folders that hold files, as far as they are there; links are followed, as editors do."""
    found = {folder for path in files for folder in (path.parent, path.resolve().parent)}
    return tuple(sorted(folder for folder in found if folder.is_dir()))
