"""What the live page shows at the moment, and how it comes to be: the room file is planned anew whenever it was saved.

In: the path of a room or building file, and how the sheets should be. Out: pages, and news for whoever listens. A file
that cannot be planned leaves the last good pages standing beside the complaints. One thread renews, others read.
"""

import sys
import threading
import time
import traceback
from collections.abc import Callable
from dataclasses import field, replace
from pathlib import Path
from typing import Any

from planner.documents import Document, read_document
from planner.errors import Complaint, InputError, PlannerError
from planner.limits import USUAL, Limits
from planner.page.contents import Shown
from planner.page.page import Live, live_html
from planner.page.read_files import Signature, files_read, signature_of
from planner.records import dataclass
from planner.room.naming import title_of

#: A file that was touched less than this ago may be caught half-written; it gets as long to be finished. Seconds.
SETTLING_S = 0.25


@dataclass(frozen=True, slots=True)
class Room:
    """One room, ready to be shown."""

    name: str
    shown: Shown


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is watched, and how its sheets should be."""

    file: Path
    draw: Callable[[Document], tuple[Room, ...]]  #: plans and draws; PlannerError
    reach: str = ""
    also: tuple[str, ...] = ()  #: further files whose change renews the page: a style, a table of words
    limits: Limits = USUAL
    language: str = ""  #: of the page while there is no plan


@dataclass(frozen=True, slots=True)
class News:
    """What the page is told."""

    state: str = "busy"  #: busy or settled
    version: int = 0  #: of the pages, 0 = none yet
    seconds: str = ""  #: that the last planning took
    trouble: tuple[Complaint, ...] = ()

    def record(self) -> dict[str, Any]:
        """For the page's program."""
        return {
            "state": self.state,
            "version": self.version,
            "seconds": self.seconds,
            "trouble": [_complaint(each) for each in self.trouble],
        }


@dataclass(slots=True)
class Desk:
    """The pages as they are now, and who wants to hear when they change."""

    wanted: Wanted
    news: News = News()
    files: frozenset[Path] = frozenset()  #: whose change renews the pages
    _pages: tuple[bytes, ...] = ()
    _signature: Signature = field(default_factory=dict)
    _listeners: list[Callable[[], None]] = field(default_factory=list)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def __post_init__(self) -> None:
        own = self.wanted.file.absolute()
        self.files = frozenset({own, *(Path(name).absolute() for name in self.wanted.also)})
        self._pages = (live_html(title_of(str(own)), None, Live("/news"), self.wanted.language),)

    def page(self, room: int) -> bytes | None:
        """The page of a room, counted from 1; None where there is no such room."""
        pages = self._pages
        return pages[room - 1] if 1 <= room <= len(pages) else None

    def listen(self, listener: Callable[[], None]) -> Callable[[], None]:
        """Have `listener` called, from any thread, whenever there is news; call what comes back to stop that."""
        with self._lock:
            self._listeners.append(listener)

        def stop() -> None:
            with self._lock:
                self._listeners.remove(listener)

        return stop

    def renew(self) -> bool:
        """Plan again if any file is not as it was; True when it was done."""
        before = signature_of(self.files)
        if before == self._signature:
            return False
        self._tell(replace(self.news, state="busy"))
        began = time.perf_counter()
        pages, trouble = self._planned(before)
        if trouble and self._young():
            time.sleep(SETTLING_S)
            if signature_of(self.files) != self._signature:
                return self.renew()
        if trouble:
            self._tell(replace(self.news, state="settled", trouble=trouble))
            return True
        self._pages = pages
        self._tell(News("settled", self.news.version + 1, f"{time.perf_counter() - began:.2f}"))
        return True

    def _planned(self, before: Signature) -> tuple[tuple[bytes, ...], tuple[Complaint, ...]]:
        """New pages, or what there is to mend; `before` is how the files were when nothing of them had been read."""
        wanted = self.wanted
        self._signature = before
        try:
            document = read_document(wanted.file, wanted.reach, wanted.limits)
            own = {wanted.file.absolute(), *(Path(name).absolute() for name in wanted.also)}
            self.files = frozenset(own | files_read(document))
            found = signature_of(self.files)
            self._signature = {path: before.get(path, found[path]) for path in found}
            return self._written(wanted.draw(document)), ()
        except InputError as error:
            return (), error.complaints
        except PlannerError as error:
            return (), (Complaint("", error.problem, error.mend, file=error.where or str(wanted.file)),)
        except Exception as error:  # a fault of the planner's own must not end the watch; it is told in full
            traceback.print_exc(file=sys.stderr)
            problem = f"the planner itself failed: {type(error).__name__}."
            mend = "What it said stands in the terminal. Please report it with the room file."
            return (), (Complaint("", problem, mend, file=str(wanted.file)),)

    def _written(self, rooms: tuple[Room, ...]) -> tuple[bytes, ...]:
        names = tuple(room.name for room in rooms) if len(rooms) > 1 else ()
        version = self.news.version + 1
        return tuple(
            live_html(room.name, room.shown, Live("/news", version, names, number)) for number, room in enumerate(rooms)
        )

    def _young(self) -> bool:
        """Whether any file was written a moment ago."""
        now = time.time_ns()
        return any(seen is None or now - seen[0] < 2e9 * SETTLING_S for seen in self._signature.values())

    def _tell(self, news: News) -> None:
        self.news = news
        with self._lock:
            listeners = tuple(self._listeners)
        for listener in listeners:
            listener()


def _complaint(complaint: Complaint) -> dict[str, Any]:
    return {
        "place": complaint.place,
        "problem": complaint.problem,
        "mend": complaint.mend,
        "file": Path(complaint.file).name,
        "line": complaint.line,
        "column": complaint.column,
        "width": complaint.width,
        "text": complaint.text,
    }
