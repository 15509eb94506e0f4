"""Borders that somebody asked for, rooms that are covered uncut, services that had to give way."""

from pathlib import Path

import pytest
from explain.explained import FIXTURES, ask, job, values

from planner.explain import Explanation, Job, explain, named_alike
from planner.planning import plan
from planner.room.reader import read_room

INCH = 25.4
KILN = (FIXTURES / "kiln-room.yaml").read_text("utf-8")


def asked(tmp_path: Path, text: str, name: str) -> Explanation:
    file = tmp_path / "room.yaml"
    file.write_text(text, "utf-8")
    brief = read_room(file)
    (answer,) = explain(Job(brief, plan(brief)), name)
    return answer


def grid_with(line: str) -> str:
    return KILN.replace("  system: lay-in-imperial\n", f"  system: lay-in-imperial\n  {line}\n")


def test_a_border_asked_for_is_told_with_what_it_costs(tmp_path: Path) -> None:
    """Full panels left leave 163 - 24 - 5 x 24 = 19" right, where 21-1/2" could be on both sides."""
    answer = asked(tmp_path, grid_with("borders: {left: full}"), "D-A")
    assert values(answer, "The room file fixes this") == pytest.approx([24 * INCH])
    assert any("its narrowest border is 1'-9 1/2\", here it is 1'-7\"" in step.text for step in answer.steps)


def test_a_panel_centred_on_a_point_is_told(tmp_path: Path) -> None:
    answer = asked(tmp_path, grid_with("borders: {centre_on: [6' 9\", 5' 2\"]}"), "borders")
    assert sum("centre_on" in step.text for step in answer.steps) == 2


def test_fewest_panels_are_told_as_asked_for(tmp_path: Path) -> None:
    """42 panels, whole and cut, are the count of the plan too."""
    answer = asked(tmp_path, grid_with("prefer: fewest_panels"), "borders")
    assert values(answer, "Then the fewest panels") == [42, 42] and answer.steps[-1].value == 42


def test_uncut_panels_tell_what_the_ledge_hides(tmp_path: Path) -> None:
    """4810 = 8 x 600 + 10: 5 mm at either wall; the first line of D-A is then 605 mm from it."""
    text = (
        "job: Hall\nunits: mm\nroom: {rectangle: [4810, 3604]}\n"
        "grid: {system: lay-in-metric, module: [600, 600], borders: uncut}\n"
    )
    answer = asked(tmp_path, text, "D-A")
    assert values(answer, "8 whole panels make 4800 mm") == pytest.approx([5.0])
    assert any("the first grid line is 605 mm from it" in step.text for step in answer.steps)


def test_a_room_of_whole_modules_is_told_so(tmp_path: Path) -> None:
    answer = asked(tmp_path, KILN.replace("13' 7\"", "14' 0\""), "B-C")
    assert any("7 x 2'-0\": whole panels from wall to wall" in step.text for step in answer.steps)


def test_a_main_in_the_way_is_named(tmp_path: Path) -> None:
    """A light over two modules, asked for with its middle on M2's line, cannot be there: a main runs through."""
    answer = asked(tmp_path, KILN.replace("near: [3' 10\", 5' 2\"]", "near: [4' 9\", 7' 2\"]"), "L1")
    assert any("a main tee runs through there" in step.text for step in answer.steps)


def test_another_service_in_the_way_is_named(tmp_path: Path) -> None:
    """Two diffusers asked for in one module: the second one says that the first is there."""
    second = '  - {name: S2, kind: supply_diffuser, size: [24", 24"], near: [6\' 10", 7\' 2"]}\n'
    first = '  - {name: S1, kind: supply_diffuser, size: [24", 24"], near: [6\' 10", 7\' 2"], weight: 6 lb}\n'
    assert first in KILN
    answer = asked(tmp_path, KILN.replace(first, first + second), "S2")
    assert any("S1 has those modules" in step.text for step in answer.steps)
    assert answer.steps[2].value is not None and answer.steps[2].value > 0


def test_names_that_differ_by_large_letters_alone_are_told_apart() -> None:
    """The reference room has a pipe P1 and a panel p1: whoever asks about one hears of the other."""
    assert (ask("reference", "P1").kind, ask("reference", "p1").kind) == ("column", "panel")
    beside = {name: named_alike(job("reference"), name) for name in ("P1", "p1", "A-B", "b-c")}
    assert beside == {
        "P1": ("p1 is something else, a panel: write its name in those letters to ask about it.",),
        "p1": ("P1 is something else, a column: write its name in those letters to ask about it.",),
        "A-B": (),
        "b-c": (),
    }


@pytest.mark.parametrize(
    ("room", "start", "reason"),
    [
        ("kiln-room", "From a wall to the first hanger it may be 4'-0\", as between hangers:", "metric practice asks"),
        ("clinic", "From a wall to the first hanger it may be 450 mm, less than between hangers:", "own limit"),
    ],
)
def test_how_far_the_first_hanger_may_be_is_told_in_both_systems_with_why(room: str, start: str, reason: str) -> None:
    """ASTM C636 has no limit at a wall of its own, UK practice has 450 mm; each names its source."""
    (step,) = {step for step in ask(room, "mains").steps + ask(room, "loads").steps if step.text.startswith(start)}
    assert reason in step.text and "ASTM C636" in step.text
    assert "from memory" in step.source and "UK practice" in step.source
