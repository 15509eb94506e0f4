"""`planner explain` at the terminal: a list of contents, an answer, a refusal; and JSON for programs."""

import json
from pathlib import Path

from click.testing import CliRunner, Result

from planner.cli import main

KILN = str(Path(__file__).parents[2] / "fixtures" / "kiln-room.yaml")


def run(*words: str) -> Result:
    return CliRunner().invoke(main, ["explain", KILN, *words])


def test_without_a_name_it_lists_what_can_be_asked() -> None:
    done = run()
    assert done.exit_code == 0
    assert "walls" in done.output and "a1 to a4" in done.output and "cross tee 2 ft" in done.output
    topics = json.loads(run("--json").output)["topics"]
    assert topics["walls"] == ["A-B", "B-C", "C-D", "D-A"]


def test_names_of_several_words_need_no_quotes() -> None:
    assert run("cross", "tee", "2", "ft").output == run("cross tee 2 ft").output


def test_no_line_is_wider_than_a_terminal() -> None:
    for name in ("borders", "M1", "panel", "HW3", "cost"):
        assert max(map(len, run(name).output.splitlines())) <= 100


def test_an_unknown_name_ends_with_2() -> None:
    done = run("M7")
    assert done.exit_code == 2 and "Did you mean" in done.output


def test_json_has_numbers_rules_and_sources() -> None:
    record = json.loads(run("A-B", "--json").output)
    assert record["format"] == "ceiling-explanation/1"
    (answer,) = record["explanations"]
    (taken,) = (step for step in answer["steps"] if step["text"].startswith("The wider"))
    assert taken["value"] == 355.6 and taken["unit"] == "mm"
    assert taken["source"] == "NAVEDTRA 14044 pp. 5-16, 7-23"
