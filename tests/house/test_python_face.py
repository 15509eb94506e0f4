"""The Python face: the examples in `help(planner)` are true, and importing it costs nothing."""

import doctest
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

import planner
from planner.cli import main
from planner.errors import PlannerError

FIXTURES = Path(__file__).parents[2] / "fixtures"


def test_the_examples_are_true(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shutil.copy(FIXTURES / "kiln-room.yaml", tmp_path)
    monkeypatch.chdir(tmp_path)
    result = doctest.testmod(planner, verbose=False)
    assert result.attempted > 15
    assert result.failed == 0
    assert (tmp_path / "kiln-room-plan" / "plan.json").is_file()


def fresh(code: str) -> str:
    """What a new interpreter prints."""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env=os.environ)
    return done.stdout.strip()


def test_importing_loads_nothing_heavy() -> None:
    heavy = ("numpy", "pydantic", "shapely", "click", "ezdxf")
    assert fresh(f"import sys, planner; print([m for m in {heavy} if m in sys.modules])") == "[]"


@pytest.mark.parametrize("first", ["planner.cli", "planner.planning", "planner.commands.plan", "planner.compare"])
def test_plan_is_a_function_whatever_was_imported_before(first: str) -> None:
    """No module of the package has the name of a function of its face."""
    assert fresh(f"import {first}, planner; print(callable(planner.plan), callable(planner.draw))") == "True True"


def test_every_name_is_there_and_no_other() -> None:
    for name in planner.__all__:
        assert getattr(planner, name) is not None and name in dir(planner)
    with pytest.raises(AttributeError, match="no attribute 'paint'"):
        _ = planner.paint


def test_no_module_bears_a_name_of_the_face() -> None:
    modules = {path.stem for path in Path(planner.__file__).parent.iterdir()}
    assert not modules & set(planner.__all__)


def test_writing_refuses_a_file_in_the_way(tmp_path: Path) -> None:
    made = planner.plan(planner.read_room(FIXTURES / "den-wrong-way.yaml"))
    (tmp_path / "out").write_text("in the way")
    with pytest.raises(PlannerError):
        planner.write(made, tmp_path / "out", sheets=["ceiling-plan"])


def test_a_program_writes_what_the_command_writes(tmp_path: Path) -> None:
    """The same bytes, file by file."""
    from click.testing import CliRunner

    from planner.cli import main

    room = FIXTURES / "den-wrong-way.yaml"
    made = planner.plan(planner.read_room(room))
    planner.write(made, tmp_path / "program", paper="A3", sheets=["ceiling-plan"])
    options = ["--paper", "A3", "--sheets", "ceiling-plan", "--out", str(tmp_path / "command")]
    CliRunner().invoke(main, ["plan", str(room), *options])
    one, other = ({p.name: p.read_bytes() for p in (tmp_path / n).iterdir()} for n in ("program", "command"))
    assert one == other and "ceiling.dxf" in one


def test_a_program_gets_the_page_that_the_command_writes(tmp_path: Path) -> None:
    """With the brief the page says why; it is then what `planner plan --page` writes, byte for byte."""
    file = tmp_path / "den.yaml"
    file.write_text("units: mm\nroom: {rectangle: [2450, 1830]}\n")
    brief = planner.read_room(file)
    planner.write(planner.plan(brief), tmp_path / "program", page=True, brief=brief)
    CliRunner().invoke(main, ["plan", str(file), "--page", "--out", str(tmp_path / "command")])
    pages = [(tmp_path / folder / "page.html").read_bytes() for folder in ("program", "command")]
    assert pages[0] == pages[1]
    planner.write(planner.plan(brief), tmp_path / "program")
    assert not (tmp_path / "program" / "page.html").exists()
