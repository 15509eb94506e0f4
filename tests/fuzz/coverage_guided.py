"""Coverage-guided fuzzing of the three readers of foreign text: lengths, YAML, DXF outlines. Needs atheris.

Run: PYTHONPATH=tests python tests/fuzz/coverage_guided.py lengths|yaml|dxf -max_total_time=600 [FOLDER of examples]
Anything but a clean error stops the run; atheris then leaves the bytes beside it.
"""

import contextlib
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["planner"]):
    from planner.documents import parse_document
    from planner.errors import PlannerError
    from planner.lengths import parse_length
    from planner.room.drawn.dxf import read_floor
    from planner.room.reader import brief_from


def lengths(data: bytes) -> None:
    text = data.decode("utf-8", "surrogateescape")
    for units in ("ft-in", "in", "mm", "cm", "m"):
        with contextlib.suppress(PlannerError):
            assert abs(parse_length(text, units)) < 1e16


def yaml(data: bytes) -> None:
    with contextlib.suppress(PlannerError):
        brief_from(parse_document(data.decode("utf-8", "surrogateescape"), "fuzzed.yaml"))


def dxf(data: bytes) -> None:
    with tempfile.NamedTemporaryFile(suffix=".dxf") as file:
        file.write(data)
        file.flush()
        with contextlib.suppress(PlannerError):
            read_floor(Path(file.name), "A-WALL", None)


TARGETS: dict[str, Callable[[bytes], None]] = {"lengths": lengths, "yaml": yaml, "dxf": dxf}

if __name__ == "__main__":
    target = TARGETS[sys.argv.pop(1)]
    atheris.Setup(sys.argv, target)
    atheris.Fuzz()
