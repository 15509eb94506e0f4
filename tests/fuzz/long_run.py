"""Fuzz the whole pipeline for as long as is asked; what is found is printed with its text and kept in a folder.

Run: PYTHONPATH=tests python tests/fuzz/long_run.py MINUTES [FOLDER] [SEED]
"""

import hashlib
import random
import resource
import signal
import sys
import time
import traceback
import warnings
from collections import Counter
from pathlib import Path

from fuzz.mutations import buildings, mutated_rooms, random_rooms
from fuzz.outcome import building_outcome, outcome
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

Texts = str | dict[str, str]  #: a room file, or the files of a building by name
SECONDS = 20  #: of computing, for one room file; others may have the machine meanwhile
MEGABYTES = 4000


def main() -> None:
    minutes = float(sys.argv[1])
    folder = Path(sys.argv[2] if len(sys.argv) > 2 else "fuzz-found")
    first = int(sys.argv[3]) if len(sys.argv) > 3 else random.randrange(10**9)
    resource.setrlimit(resource.RLIMIT_AS, (MEGABYTES * 2**20,) * 2)
    warnings.simplefilter("error")
    signal.signal(signal.SIGPROF, _too_long)
    end = time.monotonic() + 60 * minutes
    seen: Counter[str] = Counter()
    slowest: tuple[float, Texts] = (0.0, "")
    turn = first
    while time.monotonic() < end:
        for text in _texts(turn, 100):
            start = time.monotonic()
            seen[_tried(text, folder)] += 1
            slowest = max(slowest, (time.monotonic() - start, text), key=lambda found: found[0])
            if time.monotonic() > end:
                break
        turn += 1
    print(f"seeds {first} to {turn - 1}; {dict(seen)}; slowest {slowest[0]:.2f} s")
    folder.mkdir(exist_ok=True)
    (folder / "slowest.yaml").write_text(_whole(slowest[1]))


def _texts(number: int, count: int) -> list[Texts]:
    found: list[Texts] = []

    @seed(number)
    @settings(
        max_examples=count,
        deadline=None,
        database=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(st.one_of(mutated_rooms(), random_rooms(), buildings()))
    def collect(text: Texts) -> None:
        found.append(text)

    collect()
    return found


def _tried(text: Texts, folder: Path) -> str:
    signal.setitimer(signal.ITIMER_PROF, SECONDS)
    try:
        return (outcome(text) if isinstance(text, str) else building_outcome(text)).kind
    except Exception as error:
        where = traceback.extract_tb(error.__traceback__)[-1]
        mark = hashlib.sha256(f"{type(error)}{where.filename}{where.lineno}".encode()).hexdigest()[:10]
        folder.mkdir(exist_ok=True)
        if not (folder / f"{mark}.yaml").exists():
            (folder / f"{mark}.yaml").write_text(_whole(text))
            (folder / f"{mark}.txt").write_text("".join(traceback.format_exception(error)))
            print(f"{mark}: {type(error).__name__}: {str(error)[:100]} at {where.filename}:{where.lineno}", flush=True)
        return type(error).__name__
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)


def _whole(text: Texts) -> str:
    """The files of a building one below the other, each below its name."""
    return text if isinstance(text, str) else "\n".join(f"# {name}\n{each}" for name, each in text.items())


def _too_long(*_: object) -> None:
    raise TimeoutError(f"more than {SECONDS} s")


if __name__ == "__main__":
    main()
