"""The README is true: its commands run, end as it says, and print what it quotes; its files can be read.

A ```sh block is run line by line in a folder that holds the fixtures; `# ends with 1` is a command's exit code.
A ```text block below it holds lines of what they print, in order; `...` stands for lines that are left out.
"""

import contextlib
import io
import os
import re
import shlex
import shutil
import signal
import subprocess
import sys
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import pytest
from click.testing import CliRunner

from planner.cli import COMMANDS, main
from planner.documents import parse_document
from planner.room.reader import brief_from

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text("utf-8")


@dataclass(frozen=True)
class Block:
    """A fenced block, with the one that follows it."""

    kind: str
    text: str
    below: str = ""


def blocks() -> list[Block]:
    found = [Block(kind, text) for kind, text in re.findall(r"^```(\w+)\n(.*?)^```$", README, re.DOTALL | re.MULTILINE)]
    paired = [Block(one.kind, one.text, two.text if two.kind == "text" else "") for one, two in pairwise(found)]
    return [*paired, found[-1]]


def commands(block: Block) -> list[str]:
    """The planner's commands of a block; installing and testing are for whoever runs the README as a whole."""
    parts = [part.strip() for line in block.text.splitlines() for part in line.split(" && ")]
    return [part for part in parts if re.match(r"(\.venv/bin/)?planner ", part)]


SHELL = [block for block in blocks() if block.kind == "sh" and commands(block)]
OWN_FILES = [block for block in blocks() if block.kind == "yaml" and re.match(r"# \S+\.yaml\n", block.text)]


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the fixtures and with the files that the README has one write."""
    shutil.copytree(ROOT / "fixtures", tmp_path / "fixtures", ignore=shutil.ignore_patterns("*-plan", "pictures"))
    for block in OWN_FILES:
        name = block.text.splitlines()[0].removeprefix("# ")
        (tmp_path / name).write_text(block.text, "utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    return tmp_path


def run(line: str) -> tuple[int, str]:
    """Exit code and output of one command, run as the shell would."""
    words = shlex.split(line, comments=True)[1:]
    given, kept = "", ""
    if "<" in words:
        at = words.index("<")
        given, words = Path(words[at + 1]).read_text("utf-8"), words[:at]
    if ">" in words:
        at = words.index(">")
        kept, words = words[at + 1], words[:at]
    if words[0] == "watch":
        return watched(words)
    result = CliRunner().invoke(main, words, input=given, catch_exceptions=False)
    if kept:
        Path(kept).write_text(result.stdout, "utf-8")
    return result.exit_code, result.output


def watched(words: list[str]) -> tuple[int, str]:
    """The page is shown until somebody presses Ctrl-C."""
    env = os.environ | {"PYTHONUNBUFFERED": "1", "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-m", "planner", *words, "--no-open"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, env=env) as process:
        assert process.stdout is not None
        first = process.stdout.readline()
        process.send_signal(signal.SIGINT)
        rest = process.stdout.read()
    return process.returncode, first + rest


def holds(printed: str, quoted: str) -> str:
    """Empty when the quoted lines stand in what was printed, in order; else the first that does not."""
    lines = [line.rstrip() for line in printed.splitlines()]
    at, free = 0, True
    for line in quoted.splitlines():
        if line == "...":
            free = True
            continue
        try:
            found = lines.index(line.rstrip(), at)
        except ValueError:
            return line
        if not free and found != at:
            return line
        at, free = found + 1, False
    return ""


@pytest.mark.parametrize("block", SHELL, ids=lambda block: commands(block)[0].split("planner ")[1])
def test_commands_end_as_told_and_print_what_is_quoted(block: Block, here: Path) -> None:
    printed = ""
    for line in commands(block):
        code, output = run(line)
        told = re.search(r"# ends with (\d)", line)
        assert code == (int(told[1]) if told else 0), (line, output)
        printed += output
    assert holds(re.sub(r"(127\.0\.0\.1):\d+", r"\1:8000", printed), block.below) == "", printed


def test_what_is_quoted_wrongly_is_noticed() -> None:
    assert holds("one\ntwo\nthree\n", "one\ntwo\n") == ""
    assert holds("one\ntwo\nthree\n", "one\n...\nthree\n") == ""
    assert holds("one\ntwo\nthree\n", "one\nthree\n") == "three"
    assert holds("one\ntwo\nthree\n", "two\n...\none\n") == "one"


@pytest.mark.parametrize("block", [b for b in blocks() if b.kind == "python"], ids=["python"])
def test_the_python_lines_print_what_is_quoted(block: Block, here: Path) -> None:
    printed = io.StringIO()
    with contextlib.redirect_stdout(printed):
        exec(compile(block.text, "README.md", "exec"), {})
    assert printed.getvalue() == block.below
    assert (here / "from-python" / "plan.json").is_file()


@pytest.mark.parametrize("block", [b for b in blocks() if b.kind == "yaml" and b not in OWN_FILES])
def test_the_room_files_can_be_read(block: Block) -> None:
    text = block.text if "units:" in block.text else "units: ft-in\n" + block.text
    brief = brief_from(parse_document(text, "readme.yaml"))
    assert brief.room.area > 0
    assert not [finding for finding in brief.findings if finding.severity == "stop"]


def test_every_command_is_shown_and_every_link_leads_somewhere() -> None:
    assert {name for name in COMMANDS if f"`planner {name}" not in README} == set()
    links = re.findall(r"\]\(([^)#]+)\)", README)
    assert links and [link for link in links if not (ROOT / link).exists()] == []
