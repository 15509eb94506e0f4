"""Tees that no fixed wall holds, fixed walls named for nothing, and one size for every piece of a bar."""

from pathlib import Path

import pytest

from planner.explain.members import explain_member
from planner.explain.model import Job
from planner.lengths import spoken_piece
from planner.page.parts import parts_of
from planner.planning import plan
from planner.room.reader import read_room

#: The upper leg lies between F-A and D-E, so its cross tees meet neither A-B nor B-C.
ELL = "{points: [[0, 0], [6500, 0], [6500, 2900], [3700, 2900], [3700, 5300], [0, 5300]]}"


def job(tmp_path: Path, structure: str) -> Job:
    path = tmp_path / "room.yaml"
    path.write_text(f"units: mm\nroom: {ELL}\nstructure: {{underside: 2800, {structure}}}\nceiling_height: 2500\n")
    brief = read_room(path)
    return Job(brief, plan(brief))


def found(made: Job, rule: str) -> list[str]:
    return [f"{each.message} {each.remedy}" for each in made.plan.findings if each.rule == rule]


def test_a_wall_more_is_named_where_the_two_hold_not_all(tmp_path: Path) -> None:
    (said,) = found(job(tmp_path, "seismic: D, fixed_walls: [A-B, B-C]"), "tees held at no end")
    assert "[A-B, B-C, D-E]" in said
    assert not found(job(tmp_path, "seismic: D, fixed_walls: [A-B, B-C, D-E]"), "tees held at no end")


@pytest.mark.parametrize(("structure", "told"), [("seismic: C, ", 1), ("", 1), ("seismic: E, ", 0)])
def test_fixed_walls_say_nothing_below_category_d(tmp_path: Path, structure: str, told: int) -> None:
    assert len(found(job(tmp_path, structure + "fixed_walls: [A-B, B-C]"), "walls to fix tees to")) == told


def test_explanation_and_page_tell_one_size_of_a_piece(tmp_path: Path) -> None:
    """2001.25 mm and its tenths at the saw, 2001.2, are both 6'-6 3/4" (2000.25 mm); the nearest were 6'-6 13/16"."""
    assert spoken_piece(2001.2, "ft-in") == spoken_piece(2001.25, "ft-in") == "6'-6 3/4\""
    made = job(tmp_path, "seismic: D")
    heads = {part.name: " ".join(said for _, said in part.facts) for part in parts_of(made.plan)}
    for member in made.plan.ceiling.members:
        text = " ".join(step.text for step in explain_member(made, member).steps)
        for piece in member.pieces:
            size = spoken_piece(piece.length, "mm", whole=piece.whole)
            assert size in text and size in heads[member.id]
