"""Work done side by side: at home for as long as processes would take to start, then on all cores.

In: a function and what it is to be done to. Out: what it makes, in the same order; the same as one after another. The
functions, and all that they take and make, can be pickled.
"""

import gc
import os
import time
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from functools import partial
from multiprocessing import get_context
from types import TracebackType
from typing import TypeVar

from planner.errors import PlannerError

#: So many seconds work is done one after another before processes are started, which takes about as long.
AT_HOME_S = 0.7
#: For so few things that are left then, none are.
FEW = 4
#: Things are handed out in parcels, so many to each process; fewer, and the last one may be long at its own.
PARCELS = 16

_Thing = TypeVar("_Thing")
_Made = TypeVar("_Made")


class Crew:
    """Processes that are started once they are worth it, and then stay until the crew is dismissed."""

    def __init__(self, workers: int | None = None) -> None:
        """On so many cores; all if None."""
        self._workers = os.cpu_count() or 1 if workers is None else workers
        self._pool: ProcessPoolExecutor | None = None

    def __enter__(self) -> "Crew":
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        if self._pool is not None:
            self._pool.shutdown()

    def each(self, work: Callable[[_Thing], _Made], things: Sequence[_Thing]) -> list[_Made]:
        """What `work` makes of each thing; PlannerError for the first one at fault, in their order."""
        home = [] if self._pool is not None else self._at_home(work, things)
        rest = things[len(home) :]
        made = self.side_by_side(work, rest) if len(rest) > FEW and self._workers > 1 else []
        anyhow = made or [None] * len(rest)
        return [*home, *(work(thing) if one is None else one for thing, one in zip(rest, anyhow, strict=True))]

    def side_by_side(self, work: Callable[[_Thing], _Made], things: Sequence[_Thing]) -> list[_Made | None]:
        """The same in processes of their own, None for what is at fault.

        Nothing where the machine, or the program that called, allows none.
        """
        try:
            if self._pool is None:  # objects are swept as seldom as at home
                self._pool = ProcessPoolExecutor(
                    self._workers, get_context("spawn"), gc.set_threshold, gc.get_threshold()
                )
            parcel = max(len(things) // (PARCELS * self._workers), 1)
            return list(self._pool.map(partial(_tried, work), things, chunksize=parcel))
        except (OSError, BrokenProcessPool):
            self._workers = 1
            return []

    def _at_home(self, work: Callable[[_Thing], _Made], things: Sequence[_Thing]) -> list[_Made]:
        """What comes of the first things, in as much time as processes take to start."""
        until, made = time.monotonic() + AT_HOME_S, list[_Made]()
        for thing in things:
            if self._workers > 1 and time.monotonic() >= until:
                break
            made.append(work(thing))
        return made


def _tried(work: Callable[[_Thing], _Made], thing: _Thing) -> _Made | None:
    """None where a thing is at fault: it is then done again at home, which raises the error as it stands."""
    try:
        return work(thing)
    except PlannerError:
        return None
