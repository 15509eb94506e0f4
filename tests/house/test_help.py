"""Help of the quality of a manual page, completion, and what only a terminal gets."""

import io
import os
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import click
import pytest
from click.shell_completion import ShellComplete
from click.testing import CliRunner

from planner.cli import COMMANDS, main
from planner.commands.terminal import coloured, working

FIXTURES = Path(__file__).parents[2] / "fixtures"


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_says_how_it_is_used_and_how_it_ends(name: str) -> None:
    result = CliRunner().invoke(main, [name, "--help"], catch_exceptions=False)
    assert result.exit_code == 0
    text = result.output
    assert "Exit codes:" in text
    assert f"    planner {name}" in text.partition("Examples:")[2]
    assert all(len(line) <= 80 for line in text.splitlines() if "planner " not in line)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_option_is_explained(name: str) -> None:
    command = main.get_command(click.Context(main), name)
    assert command is not None
    options = [parameter for parameter in command.params if isinstance(parameter, click.Option)]
    assert [option.name for option in options if not option.help] == []


def test_the_list_of_commands_cuts_nobody_off() -> None:
    text = CliRunner().invoke(main, ["--help"]).output
    listed = text.partition("Commands:")[2].partition("\n\n")[0]
    assert len(listed.strip().splitlines()) == len(COMMANDS)
    assert "..." not in listed


def completed(words: list[str], begun: str) -> list[str]:
    complete = ShellComplete(main, {}, "planner", "_PLANNER_COMPLETE")
    return [item.value for item in complete.get_completions(words, begun)]


def test_room_files_kinds_of_grid_and_styles_complete(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "kiln.yaml").write_text("")
    (tmp_path / "kiln.txt").write_text("")
    (tmp_path / "kilns").mkdir()
    (tmp_path / "kilns" / "two.yaml").write_text("")
    monkeypatch.chdir(tmp_path)
    assert completed(["plan"], "ki") == ["kiln.yaml", "kilns/"]
    assert completed(["start"], "kilns/") == ["kilns/two.yaml"]
    assert completed(["plan"], "nowhere/") == []
    assert completed(["start", "--system"], "lay") == ["lay-in-imperial", "lay-in-metric"]
    assert "iso-13567" in completed(["plan", "--style"], "iso")
    assert "start" in completed([], "st")


class Screen(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_work_of_more_than_a_second_shows_a_sign_of_life_on_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("planner.commands.terminal.SILENT_S", 0.01)
    monkeypatch.setattr(sys, "stderr", screen := Screen())
    with working("Planning"):
        while "Planning ... 0 s" not in screen.getvalue():
            time.sleep(0.01)
    assert screen.getvalue().endswith("\r")  # and the line is wiped


def test_work_of_less_than_a_second_shows_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("planner.commands.terminal.SILENT_S", 60.0)
    monkeypatch.setattr(sys, "stderr", screen := Screen())
    with working("Planning"):
        pass
    assert screen.getvalue() == ""


def test_nothing_of_it_reaches_a_pipe(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("planner.commands.terminal.SILENT_S", 0.0)
    monkeypatch.setattr(sys, "stderr", pipe := io.StringIO())
    with working("Planning"):
        time.sleep(0.05)
    assert pipe.getvalue() == ""


@pytest.mark.parametrize(("terminal", "setting", "painted"), [(True, "", True), (True, "1", False), (False, "", False)])
def test_colour_is_for_terminals_that_want_it(
    monkeypatch: pytest.MonkeyPatch, terminal: bool, setting: str, painted: bool
) -> None:
    monkeypatch.setattr(sys, "stdout", Screen() if terminal else io.StringIO())
    monkeypatch.setenv("NO_COLOR", setting)
    monkeypatch.setenv("TERM", "xterm")
    assert ("\x1b[" in coloured("word", fg="red", bold=True)) is painted


def test_a_shell_gets_its_script() -> None:
    env = os.environ | {"_PLANNER_COMPLETE": "zsh_source"}
    command = [sys.executable, "-c", "from planner.cli import main; main(prog_name='planner')"]
    answer = subprocess.run(command, env=env, capture_output=True, text=True, check=False)
    assert "compdef" in answer.stdout


def test_the_schema_explains_every_key_for_people() -> None:
    text = CliRunner().invoke(main, ["schema", "--guide"], catch_exceptions=False).output
    assert text.startswith("# The room file, key by key")
    assert "### stock › saw_kerf" in text
    refused = CliRunner().invoke(main, ["schema", "plan", "--guide"], catch_exceptions=False)
    assert refused.exit_code == 2


@pytest.mark.parametrize(
    ("words", "signs"),
    [
        (("explain", "kiln-room.yaml", "A-B"), ["Planning", "Going back over it"]),
        (("compare", "kiln-room.yaml", "changed/kiln-room.yaml"), ["Planning what is to be compared"]),
        (("template", "kiln-room.yaml", "a", "--out", "OUT"), ["Planning", "Drawing at full size"]),
        (("options", "kiln-room.yaml", "--sheet", "OUT"), ["Laying out in every way", "Drawing them"]),
        (("plan", "kiln-room.yaml", "--sheets", "framing", "--out", "FOLDER"), ["Planning", "Drawing"]),
    ],
)
def test_each_long_work_of_a_command_is_told_of(
    words: tuple[str, ...], signs: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun: list[str] = []

    @contextmanager
    def recorded(told: str) -> Iterator[None]:
        begun.append(told)
        yield

    for module in ("common", "compare", "explain", "options", "plan", "template"):
        monkeypatch.setattr(f"planner.commands.{module}.working", recorded)
    places = {"OUT": str(tmp_path / "x.pdf"), "FOLDER": str(tmp_path / "set")}
    result = CliRunner().invoke(
        main, [str(FIXTURES / word) if word.endswith(".yaml") else places.get(word, word) for word in words]
    )
    assert result.exit_code in (0, 1), result.output
    assert begun == signs


def test_a_line_that_is_not_finished_yet_still_completes() -> None:
    """Whoever presses the key has not written the value yet."""
    assert "--overwrite" in completed(["start", "--rectangle", "--out"], "--ov")
