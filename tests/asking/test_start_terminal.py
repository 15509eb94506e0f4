"""`planner start` on a pseudo-terminal, as a person meets it: slips, going back, leaving by every door, going on."""

import contextlib
import os
import pty
import re
import select
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from planner.room.reader import read_room

LONGEST_WAIT_S = 60
PACE_S, PATIENCE_S = 0.2, 10
#: Makes the pseudo-terminal the one that Ctrl-C comes from, hears it even where the tests run in the background (whose
#: children are born deaf to it), then becomes the planner.
CHILD = (
    "import fcntl, os, signal, sys, termios; fcntl.ioctl(0, termios.TIOCSCTTY, 0);"
    "signal.signal(signal.SIGINT, signal.SIG_DFL);"
    "os.execv(sys.executable, [sys.executable, '-m', 'planner', *sys.argv[1:]])"
)


class Terminal:
    """A planner on a terminal of its own."""

    def __init__(self, folder: Path, *words: str, **environment: str) -> None:
        self.master, slave = pty.openpty()
        root = str(Path(__file__).parents[2])
        env = os.environ | {"TERM": "xterm", "PYTHONPATH": root, "PYTHONIOENCODING": "utf-8"} | environment
        env.pop("NO_COLOR", None) if "NO_COLOR" not in environment else None
        command = [sys.executable, "-c", CHILD, *words]
        self.process = subprocess.Popen(
            command, stdin=slave, stdout=slave, stderr=slave, cwd=folder, env=env, start_new_session=True
        )
        os.close(slave)
        self.shown = ""

    def until(self, sign: str) -> str:
        """Everything shown until the sign, which is taken as read."""
        end = time.monotonic() + LONGEST_WAIT_S
        while sign not in self.shown:
            ready, _, _ = select.select([self.master], [], [], max(0.0, end - time.monotonic()))
            assert ready, f"waited in vain for {sign!r} after {self.shown!r}"
            try:
                more = os.read(self.master, 65536)
            except OSError:  # how Linux says that nobody is at the other end
                more = b""
            assert more, f"ended before {sign!r}: {self.shown!r}"
            self.shown += more.decode(errors="replace").replace("\r\n", "\n")
        seen, _, self.shown = self.shown.partition(sign)
        return seen + sign

    def say(self, line: str) -> str:
        """Wait for the prompt, answer, and give back what was shown before it."""
        seen = self.until("\n> ")
        os.write(self.master, f"{line}\n".encode())
        return seen

    def press(self, key: bytes) -> None:
        """Press a key at a person's pace, and again where nothing comes of it.

        Python looks for signals and then waits for the next key; a Ctrl-C in the instant between is seen with that.
        """
        self.until("\n> ")
        time.sleep(PACE_S)
        os.write(self.master, key)
        for _ in range(3):
            if self._ends_soon():
                return
            os.write(self.master, key[-1:])

    def _ends_soon(self) -> bool:
        end = time.monotonic() + PATIENCE_S
        while self.process.poll() is None and time.monotonic() < end:
            if select.select([self.master], [], [], 0.1)[0]:
                with contextlib.suppress(OSError):
                    self.shown += os.read(self.master, 65536).decode(errors="replace").replace("\r\n", "\n")
        return self.process.poll() is not None

    def end(self) -> tuple[int, str]:
        """Exit code, and what was shown at last."""
        with contextlib.suppress(AssertionError):
            self.until("\0never shown\0")
        return self.process.wait(LONGEST_WAIT_S), self.shown

    def close(self) -> None:
        if self.process.poll() is None:
            os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait()
        os.close(self.master)


@pytest.fixture
def terminals(tmp_path: Path) -> Iterator[list[Terminal]]:
    opened: list[Terminal] = []
    yield opened
    for terminal in opened:
        terminal.close()


def test_a_newcomer_walks_to_the_end_with_slips_on_the_way(tmp_path: Path, terminals: list[Terminal]) -> None:
    terminals.append(at := Terminal(tmp_path, "start"))
    at.say("")
    assert "needs an answer" in at.say("Kiln room")
    assert "kiln-room.yaml.draft" in at.say("?")
    assert "feet and inches" in at.say("furlongs")
    assert "is not one of" in at.say("")
    at.say("")
    at.say("eighteen")
    assert "is not a length" in at.say("18")
    assert "could be feet or inches" in at.say("18' 8\"")
    assert "18'-8\" = 5690 mm" in at.say("back")
    at.say("18' 7\"")
    assert "18'-7\" = 5664 mm" in at.say("11' 4\"")
    picture = at.say("round")
    assert "⠀" < max(picture) <= "⣿"
    assert all(name in picture for name in "ABCD")
    at.say("4-1/2")
    at.say("30', 1'")
    assert "outside the room" in at.say("3', 9\"")
    at.say("none")
    at.say("8' 6\"")
    at.say("9'")
    assert "not below the joists" in at.say("7' 9\"")
    at.say("yes")
    at.say("16")
    at.say("across")
    at.say('9"')
    at.say("undo")
    at.say('9"')
    at.say("rest")
    assert "Write the room file?" in at.say("said")
    assert "Base wall A-B" in at.say("yes")
    code, last = at.end()
    assert (code, "Next: planner plan kiln-room.yaml" in last) == (0, True), last
    brief = read_room(tmp_path / "kiln-room.yaml")
    assert brief.room.box.width == pytest.approx(223 * 25.4)
    assert [column.diameter for column in brief.room.columns] == [pytest.approx(4.5 * 25.4)]
    assert {path.name for path in tmp_path.iterdir()} == {"kiln-room.yaml", "room.schema.json"}


CTRL_C, CTRL_D = b"\x03", b"\x04"


def test_leaving_by_every_door_loses_nothing(tmp_path: Path, terminals: list[Terminal]) -> None:
    """Three answers, Ctrl-C; three more, Ctrl-D; and so on: each time the talk goes on where it was left."""
    answers = ["Shop", "mm", "taped", "4", "left", "none", "4000", "3000", "4000", "3000", "5000", "5000", "none"]
    doors = [CTRL_C, CTRL_D, b"later\n", b"300" + CTRL_C]
    for turn, first in enumerate(range(0, len(answers), 3)):
        some = answers[first : first + 3]
        terminals.append(at := Terminal(tmp_path, "start", "shop.yaml"))
        if first:
            assert f"{first} answers so far" in at.until("said lists them.")
        for line in some:
            at.say(line)
        at.press(doors[turn % len(doors)])
        code, last = at.end()
        assert code == 2
        assert f"{first + len(some)} answers are kept in shop.yaml.draft" in last
        assert "planner start shop.yaml" in last
        assert "Traceback" not in last
    terminals.append(at := Terminal(tmp_path, "start", "shop.yaml"))
    at.say("rest")
    at.say("yes")
    code, last = at.end()
    assert code == 0, last
    assert read_room(tmp_path / "shop.yaml").room.area == pytest.approx(12e6, rel=1e-3)


def test_a_planner_that_is_killed_loses_nothing_either(tmp_path: Path, terminals: list[Terminal]) -> None:
    terminals.append(at := Terminal(tmp_path, "start", "shop.yaml"))
    at.say("Shop")
    at.say("mm")
    at.until("\n> ")
    os.killpg(at.process.pid, signal.SIGKILL)
    at.process.wait()
    terminals.append(again := Terminal(tmp_path, "start", "shop.yaml"))
    assert "2 answers so far" in again.until("said lists them.")


def test_colour_is_for_terminals_that_want_it(tmp_path: Path, terminals: list[Terminal]) -> None:
    terminals.append(at := Terminal(tmp_path, "start"))
    assert "\x1b[1m" in at.until("called?")
    terminals.append(plain := Terminal(tmp_path, "start", NO_COLOR="1"))
    assert not re.search(r"\x1b\[[0-9;]*m", plain.until("called?"))


def test_a_terminal_without_braille_gets_plain_characters(tmp_path: Path, terminals: list[Terminal]) -> None:
    terminals.append(at := Terminal(tmp_path, "start", PYTHONIOENCODING="ascii", LC_ALL="C"))
    for line in ("Room", "mm", "", "6000", "3000"):
        at.say(line)
    assert "+-----" in at.until("\n> ")
