"""A column called B1 beside a panel called b1: the templates of panels say which of the two is meant."""

from pathlib import Path

from click.testing import CliRunner

from planner.cli import main

ROOM = """\
units: mm
room:
  rectangle: [4100, 3100]
  columns: [{name: B1, at: [1500, 1500], size: [300, 300]}]
"""


def template(folder: Path, name: str) -> tuple[int, str]:
    (folder / "room.yaml").write_text(ROOM, encoding="utf-8")
    out = str(folder / "t.pdf")
    result = CliRunner().invoke(main, ["template", str(folder / "room.yaml"), name, "--out", out])
    return result.exit_code, result.output


def test_the_name_of_a_column_is_not_taken_for_that_of_a_panel(tmp_path: Path) -> None:
    code, text = template(tmp_path, "B1")
    assert code == 2 and "Write b1" in text
    assert not (tmp_path / "t.pdf").exists()


def test_in_its_own_letters_the_panel_is_printed(tmp_path: Path) -> None:
    code, text = template(tmp_path, "b1")
    assert code == 0, text
    assert (tmp_path / "t.pdf").exists()
