"""`planner plan --sheets`: the files of the chosen sheets, and a name that is not known."""

from pathlib import Path

from click.testing import CliRunner

from planner.cli import main

KILN = Path(__file__).parents[2] / "fixtures" / "kiln-room.yaml"


def plan(folder: Path, sheets: str):
    return CliRunner().invoke(main, ["plan", str(KILN), "--out", str(folder), "--sheets", sheets])


def test_only_the_chosen_sheets_are_written(tmp_path):
    result = plan(tmp_path / "out", "framing, ceiling-plan")
    assert result.exit_code == 0, result.output
    assert {path.stem for path in (tmp_path / "out").glob("*.svg")} == {"ceiling-plan", "framing"}


def test_a_name_that_is_not_known_gets_the_nearest_and_nothing_is_written(tmp_path):
    result = plan(tmp_path / "out", "cieling-plan")
    assert result.exit_code == 2
    assert "Did you mean ceiling-plan?" in result.output
    assert not list((tmp_path / "out").glob("*"))
