"""What only a terminal gets: colour, and a sign of life while work goes on.

Nothing of it reaches a pipe or a file. NO_COLOR, set to anything, keeps colours away (an informal agreement among
programs, from memory), and so does TERM=dumb.
"""

import os
import shutil
import sys
import textwrap
import threading
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager

import click

#: Nobody needs to be told of what is done sooner.
SILENT_S = 1.0
_WIDEST_TEXT = 96


def coloured(text: str, *, fg: str | None = None, bold: bool = False) -> str:
    """Text in a colour, where the output can show it."""
    plain = not sys.stdout.isatty() or os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb"
    return text if plain or not (fg or bold) else click.style(text, fg=fg, bold=bold or None)


def wrapped(rows: Iterable[str]) -> Iterator[str]:
    """Rows no wider than the terminal, or than one likes to read."""
    width = max(30, min(shutil.get_terminal_size().columns, _WIDEST_TEXT) - 4)
    for row in rows:
        lead = " " * (len(row) - len(row.lstrip()))
        yield from textwrap.wrap(row, width, subsequent_indent=lead, break_on_hyphens=False) or [""]


def shows_braille() -> bool:
    """Whether the terminal can be trusted with dots; a console without fonts of its own cannot."""
    try:
        "\u28ff".encode(sys.stdout.encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return sys.stdout.isatty() and os.environ.get("TERM", "dumb") not in ("dumb", "linux")


@contextmanager
def working(words: str) -> Iterator[None]:
    """While what is inside goes on for more than a second, say so with the seconds, on a terminal's stderr."""
    if not sys.stderr.isatty():
        yield
        return
    done = threading.Event()
    teller = threading.Thread(target=_tell, args=(words, done), daemon=True)
    teller.start()
    try:
        yield
    finally:
        done.set()
        teller.join()


def _tell(words: str, done: threading.Event) -> None:
    begun, width = time.monotonic(), 0
    while not done.wait(SILENT_S):
        line = f"{words} ... {time.monotonic() - begun:.0f} s"
        sys.stderr.write(f"\r{line:{width}}")
        sys.stderr.flush()
        width = len(line)
    if width:
        sys.stderr.write(f"\r{'':{width}}\r")
        sys.stderr.flush()
