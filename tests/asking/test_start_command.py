"""`planner start` without a terminal: options, answers from a file, what is written, what is refused."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from planner.cli import main
from planner.room.reader import read_room

ANSWERS = (
    "Kiln room",
    "",
    "",
    "18' 7\"",
    "11' 4\"",
    "",
    "8' 6\"",
    "7' 9\"",
    "",
    "",
    "",
    '9"',
    "",
    "",
    "",
    "",
    "",
    "yes",
)


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def start(*words: str, lines: tuple[str, ...] = ()) -> Result:
    text = "".join(f"{line}\n" for line in lines)
    return CliRunner().invoke(main, ["start", *words], input=text, catch_exceptions=False)


def test_a_rectangle_is_written_at_once(here: Path) -> None:
    result = start("--rectangle", "18' 7\"", "11' 4\"", "--out", "kiln-room.yaml")
    assert result.exit_code == 0, result.output
    assert "Next: planner plan kiln-room.yaml" in result.output
    assert {path.name for path in here.iterdir()} == {"kiln-room.yaml", "room.schema.json"}
    brief = read_room("kiln-room.yaml")
    assert (brief.room.name, brief.room.units) == ("Kiln room", "ft-in")
    assert brief.room.box.width == pytest.approx(223 * 25.4)


def test_a_program_gets_the_record_of_the_room_it_has_made(here: Path) -> None:
    """The room file, and what `planner check --json` says of it; nothing but JSON on the output."""
    result = start("--rectangle", "5 m", "4 m", "--out", "den.yaml", "--json")
    assert result.exit_code == 0
    assert json.loads(result.stdout)["room"]["area_mm2"] == 20e6
    assert result.stdout == CliRunner().invoke(main, ["check", "den.yaml", "--json"]).stdout
    assert start("den.yaml", "--json").exit_code == 2  # where questions are asked it has no place


def test_an_error_in_an_option_stands_apart_from_its_question() -> None:
    """The option and what is wrong, then the mend, the question last."""
    result = start("--rectangle", "5m", "4m", "--light", "troffer", "600x600", "9m, 9m", "--out", "a.yaml")
    assert result.exit_code == 2
    first, second, *_ = result.output.splitlines()
    assert first == "--light: L1 is outside the room."
    assert "The question was: Where" in second


def test_options_say_what_would_be_asked() -> None:
    light = ("--light", "troffer", "600x600", "spread 2 x 2")
    joists = ("--joists", "400", "--joist-direction", "along", "--first-joist", "230")
    more = ("--name", "Office", "--units", "mm", "--height", "2.4 m", "--underside", "2.7 m", "--spare", "10%")
    result = start("--rectangle", "5680", "3450", *joists, *more, *light, "--out", "a.yaml", "--no-schema")
    assert result.exit_code == 0, result.output
    brief = read_room("a.yaml")
    assert brief.room.joists is not None
    assert (brief.room.joists.direction, brief.room.joists.spacing, brief.room.joists.first) == ("along", 400.0, 230.0)
    assert (brief.room.ceiling_height, brief.room.underside, brief.stock.spare) == (2400.0, 2700.0, 0.1)
    assert len(brief.services) == 4
    assert not Path("room.schema.json").exists()
    assert not Path("a.yaml").read_text().startswith("# yaml-language-server")


@pytest.mark.parametrize(
    ("words", "where", "mend"),
    [
        (("--rectangle", "18' 7\"", "11,4"), "--rectangle", "11.4"),
        (("--rectangle", "5 m", "4 m", "--joists", "none", "--joist-direction", "along"), "--joist-direction", "Leave"),
        (("--rectangle", "5 m", "4 m", "--height", "3 m", "--underside", "2.5 m"), "--height", "the ceiling is lower"),
        (("--rectangle", "5 m", "4 m", "--system", "lay-on"), "--system", "lay-in"),
        (("--rectangle", "5 m", "4 m", "--light", "chandelier", "-", "1 m, 1 m"), "--light", ""),
    ],
)
def test_an_option_that_cannot_be_is_named_and_nothing_is_written(
    here: Path, words: tuple[str, ...], where: str, mend: str
) -> None:
    result = start(*words, "--out", "a.yaml")
    assert result.exit_code == 2
    assert result.stderr.startswith(where)
    assert mend in result.stderr
    assert list(here.iterdir()) == []


def test_a_room_file_that_is_there_is_not_written_over(here: Path) -> None:
    (here / "a.yaml").write_text("mine")
    result = start("--rectangle", "5 m", "4 m", "--out", "a.yaml")
    assert (result.exit_code, (here / "a.yaml").read_text()) == (2, "mine")
    assert "--overwrite" in result.stderr
    assert start("--rectangle", "5 m", "4 m", "--out", "a.yaml", "--overwrite").exit_code == 0


def test_answers_may_come_from_a_file(here: Path) -> None:
    result = start(lines=ANSWERS)
    assert result.exit_code == 0, result.output
    assert {path.name for path in here.iterdir()} == {"kiln-room.yaml", "room.schema.json"}
    assert "\x1b" not in result.output


def test_answers_that_end_too_early_say_where_and_are_kept(here: Path) -> None:
    result = start(lines=ANSWERS[:4])
    assert result.exit_code == 2
    assert "The answers end at question 5: How far is it to the wall opposite?" in result.stderr
    assert {path.name for path in here.iterdir()} == {"kiln-room.yaml.draft"}


def test_whoever_leaves_after_any_answer_goes_on_there(here: Path) -> None:
    """One answer at a time, each in a run of its own, comes to the same file as all at once."""
    assert start(lines=ANSWERS).exit_code == 0
    at_once = (here / "kiln-room.yaml").read_bytes()
    (here / "kiln-room.yaml").unlink()
    for number, line in enumerate(ANSWERS):
        result = start("kiln-room.yaml", lines=(line,))
        assert result.exit_code == (0 if number == len(ANSWERS) - 1 else 2), result.output
    assert (here / "kiln-room.yaml").read_bytes() == at_once
    assert not (here / "kiln-room.yaml.draft").exists()


def test_the_same_job_named_again_goes_on_with_its_draft() -> None:
    start(lines=ANSWERS[:4])
    result = start(lines=("Kiln room",))
    assert "Going on with kiln-room.yaml.draft: 4 answers so far" in result.output
    assert "5. How far is it to the wall opposite?" in result.output


@pytest.mark.parametrize(("answer", "files"), [("no", {"kiln-room.yaml"}), ("", {"kiln-room.yaml"})])
def test_at_the_end_a_file_that_is_there_is_kept_unless_told_otherwise(
    here: Path, answer: str, files: set[str]
) -> None:
    (here / "kiln-room.yaml").write_text("mine")
    result = start(lines=(*ANSWERS, answer))
    assert result.exit_code == 2
    assert (here / "kiln-room.yaml").read_text() == "mine"
    assert {path.name for path in here.iterdir()} == files | {"kiln-room.yaml.draft"}
    again = start("kiln-room.yaml", lines=("yes", "other"))
    assert again.exit_code == 0, again.output
    assert (here / "kiln-room.yaml").read_text() == "mine"
    assert read_room("other.yaml").room.name == "Kiln room"
    assert not list(here.glob("*.draft"))


def test_a_schema_of_somebody_elses_is_left_alone(here: Path) -> None:
    (here / "room.schema.json").write_text('{"title": "Mine"}')
    assert start("--rectangle", "5 m", "4 m", "--out", "a.yaml").exit_code == 0
    assert (here / "room.schema.json").read_text() == '{"title": "Mine"}'
    assert "$schema" not in (here / "a.yaml").read_text()


def test_a_draft_that_is_none_is_refused_and_left_alone(here: Path) -> None:
    (here / "a.yaml.draft").write_text("my notes")
    result = start("a.yaml", lines=("x",))
    assert (result.exit_code, (here / "a.yaml.draft").read_text()) == (2, "my notes")
    assert "Traceback" not in result.output


@pytest.mark.parametrize("name", ["a.txt", "room", "no-such-folder-that-is-a-file/a.yaml", ".yaml"])
def test_what_cannot_be_a_room_file_is_refused_before_the_first_question(here: Path, name: str) -> None:
    (here / "no-such-folder-that-is-a-file").write_text("")
    result = start(name, lines=ANSWERS)
    assert result.exit_code == 2
    assert "called?" not in result.output


def test_the_check_tells_with_its_exit_code_that_something_stops() -> None:
    """A light of 600 by 600 has no place in a room of 1 m by 1 m with its modules cut."""
    result = start("--rectangle", "1 m", "1 m", "--light", "troffer", "600x1200", "0.5 m, 0.5 m", "--out", "a.yaml")
    assert result.exit_code == 1
    assert "STOP" in result.output
    assert Path("a.yaml").exists()
