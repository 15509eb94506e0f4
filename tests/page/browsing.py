"""A real browser for tests of the page: Chromium as the system has it, driven by Playwright; skipped without one."""

import os
import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

playwright = pytest.importorskip("playwright.sync_api", reason="the browser tests need playwright (extra: test)")
axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="the browser tests need axe (extra: test)")
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
#: Where programs were installed for these tests, none may be passed over for want of one.
NEEDS_BROWSER = pytest.mark.skipif(
    CHROMIUM is None and os.environ.get("PROGRAMS") != "required",
    reason="no Chromium on this machine (Debian: apt install chromium)",
)

PHONE = {"viewport": {"width": 390, "height": 780}, "has_touch": True, "is_mobile": True, "device_scale_factor": 2}
DESK = {"viewport": {"width": 1360, "height": 820}}
WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


@contextmanager
def opened(browser: Any, address: str, **wishes: Any) -> Iterator[Any]:
    """A tab in which nothing is logged as an error, and from which nothing leaves this machine."""
    context = browser.new_context(**wishes)
    tab = context.new_page()
    tab.set_default_timeout(20_000)
    complaints: list[str] = []
    strays: list[str] = []
    tab.on("console", lambda said: complaints.append(said.text) if said.type in ("error", "warning") else None)
    tab.on("pageerror", lambda error: complaints.append(str(error)))
    tab.on("request", lambda request: strays.append(request.url) if _leaves(request.url) else None)
    tab.goto(address)
    yield tab
    context.close()
    assert complaints == []
    assert strays == []


def _leaves(address: str) -> bool:
    return not re.match(r"file:///|data:|http://127\.0\.0\.1:\d+/", address)


class Watch:
    """`planner watch` as somebody would start it."""

    def __init__(self, file: Path, *options: str) -> None:
        self.file = file
        command = [sys.executable, "-m", "planner", "watch", file.name, "--no-open", *options]
        self._process = subprocess.Popen(
            command,
            cwd=file.parent,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            env=_plain_environment(),
        )
        assert self._process.stdout is not None
        line = self._process.stdout.readline()
        found = re.search(r"http://127\.0\.0\.1:\d+/", line)
        assert found, line
        self.address = found[0]

    def save(self, text: str) -> None:
        """As editors do that replace the file."""
        new = self.file.with_suffix(".new")
        new.write_text(text, "utf-8")
        os.replace(new, self.file)

    def stop(self) -> tuple[int, str]:
        self._process.send_signal(signal.SIGINT)
        said, _ = self._process.communicate(timeout=30)
        return self._process.returncode, said


@contextmanager
def begun(folder: Path, text: str) -> Iterator[Watch]:
    """A watch of a room with this text."""
    file = folder / "room.yaml"
    file.write_text(text, "utf-8")
    with watching(file) as watch:
        yield watch


@contextmanager
def watching(file: Path, *options: str) -> Iterator[Watch]:
    """A watch that is ended whatever happens, as Ctrl-C ends it: in peace."""
    watch = Watch(file, *options)
    try:
        yield watch
    finally:
        ended = watch.stop()
    assert ended == (0, "Stopped.\n")


def _plain_environment() -> dict[str, str]:
    return os.environ | {"PYTHONUNBUFFERED": "1", "PYTHONPATH": str(Path(__file__).parents[2])}


def wait_for(tab: Any, selector: str, text: str) -> None:
    playwright.expect(tab.locator(selector)).to_have_text(re.compile(text), timeout=20_000)


def tap_model(tab: Any, sheet: str, at: tuple[float, float], touch: bool = False) -> None:
    """Tap where a point of the room lies on the screen, as the sheet's own data say."""
    x, y = tab.evaluate(
        """([sheet, at]) => {
          const told = JSON.parse(document.getElementById("data").textContent).sheets.find((s) => s.key === sheet);
          const [window] = told.windows, [left, top, width, height] = window.box;
          const svg = document.querySelector(`#sheet-${sheet} svg`), point = new DOMPoint(
            left + width / 2 + (at[0] - window.centre[0]) / window.scale,
            top + height / 2 - (at[1] - window.centre[1]) / window.scale).matrixTransform(svg.getScreenCTM());
          return [point.x, point.y];
        }""",
        [sheet, at],
    )
    if touch:
        tab.touchscreen.tap(x, y)
    else:
        tab.mouse.click(x, y)


def violations(tab: Any, within: str = "html") -> list[tuple[str, list[str]]]:
    """Rules that are broken. Drawings may be emptied before, to save time: each is one picture to a screen reader."""
    found = axe.Axe().run(tab, within, {"runOnly": {"type": "tag", "values": WCAG}}).response["violations"]
    return [(rule["id"], [node["html"][:120] for node in rule["nodes"][:3]]) for rule in found]
