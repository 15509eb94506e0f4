"""Tees that lie on a ledge alongside, or so near a face that the tape decides."""

import re
from pathlib import Path

import pytest

from planner.findings import Finding
from planner.planning import Plan, plan
from planner.room.reader import read_room

#: C-D stands at 3000, E-F `jog` behind it; a line at 5 x 600 = 3000.
ROOM = """\
units: mm
room: {{points: [[0, 0], [4200, 0], [4200, 3000], [2100, 3000], [2100, {back}], [0, {back}]]}}
structure: {{joists: {{spacing: 600, first: 300}}, underside: 2800}}
ceiling_height: 2500
grid: {{panel_weight: 4 kg/m2, borders: {{{borders}}}}}
"""


def planned(tmp_path: Path, jog: float, borders: str = "front: full") -> Plan:
    file = tmp_path / "room.yaml"
    file.write_text(ROOM.format(back=3000 + jog, borders=borders), encoding="utf-8")
    return plan(read_room(file))


def told(made: Plan, rule: str) -> list[Finding]:
    return [finding for finding in made.findings if finding.rule == rule]


@pytest.mark.parametrize(("jog", "lies"), [(15.0, True), (35.0, True), (37.0, False), (300.0, False)])
def test_a_tee_on_the_ledge_of_the_wall_beside_it_is_told(tmp_path: Path, jog: float, lies: bool) -> None:
    """A ledge of 24 and half a flange of 24 end 36 from E-F, which is 2100 long."""
    found = told(planned(tmp_path, jog), "tee on a ledge")
    assert [finding.severity for finding in found] == ["warn"] * lies
    assert all("at E-F for 2100 mm" in finding.message for finding in found)


def test_nobody_is_told_that_there_is_nothing_to_do(tmp_path: Path) -> None:
    """Between line and wall lie 15 mm, all over the ledge: told with the tee, not as closed."""
    made = planned(tmp_path, 15.0)
    assert made.ceiling.layout.closed
    assert not told(made, "closed by the wall angle")


def test_the_border_told_clears_the_place(tmp_path: Path) -> None:
    (finding,) = told(planned(tmp_path, 15.0), "tee on a ledge")
    front = re.search(r"borders: \{(front: \d+ mm)\}", finding.remedy)
    assert front is not None
    mended = planned(tmp_path, 15.0, front[1])
    assert not told(mended, "tee on a ledge")
    assert not told(mended, "tee on a face")


COLUMN = """\
units: mm
room: {{rectangle: [4000, 3100], columns: [{{name: C1, at: [1300, {at}], size: [300, 300]}}]}}
structure: {{joists: {{spacing: 600, first: 300}}, underside: 2800}}
ceiling_height: 2500
grid: {{panel_weight: 4 kg/m2, mains: along, borders: {{front: 350, left: 500}}}}
"""


@pytest.mark.parametrize(
    ("at", "rule"),
    [
        (950.0, "tee on a face"),  # the line at 950 lies on the front face: two mains
        (944.5, "tee on a face"),  # 5.5 behind it
        (943.0, ""),  # 7 behind: it meets the column
        (955.0, "tee on a ledge"),  # 5 before it: past the column's whole side
        (985.0, "tee on a ledge"),
        (990.0, ""),
    ],
)
def test_a_line_at_the_face_of_a_column(tmp_path: Path, at: float, rule: str) -> None:
    file = tmp_path / "room.yaml"
    file.write_text(COLUMN.format(at=at), encoding="utf-8")
    made = plan(read_room(file))
    found = [finding for finding in made.findings if finding.rule in ("tee on a face", "tee on a ledge")]
    assert [finding.rule for finding in found] == [rule] * bool(rule)
    assert all("at C1" in finding.message for finding in found)


def test_a_tee_that_meets_a_wall_square_or_aslant_is_told_nothing(tmp_path: Path) -> None:
    """Through the 36 mm over ledge and flange at 30 degrees a tee runs for 72: a tee end."""
    file = tmp_path / "room.yaml"
    file.write_text(
        "units: mm\nroom: {points: [[0, 0], [4000, 0], [4000, 2000], [2268, 3000], [0, 3000]]}\n"
        "structure: {joists: {spacing: 600, first: 300}, underside: 2800}\n"
        "ceiling_height: 2500\ngrid: {panel_weight: 4 kg/m2}\n",
        encoding="utf-8",
    )
    assert not told(plan(read_room(file)), "tee on a ledge")


def test_where_no_place_is_clear_nobody_is_told_to_move_the_grid(tmp_path: Path) -> None:
    """Walls to the front 40 apart all round a module of 600, which is 15 of them.

    A ledge of 24 and half a face of 12 are 36 that no line may stand in, and a tape is 6 out behind the wall: 42 of 40.
    """
    fronts = [0, 240, 480, 120, 360, 40, 280, 520, 160, 400, 80, 320, 560, 200, 440]
    corners = [point for k, y in enumerate(fronts) for point in ((k * 700, y), ((k + 1) * 700, y))]
    corners += [(len(fronts) * 700, 3300), (0, 3300)]
    room = tmp_path / "steps.yaml"
    points = ", ".join(f"[{x}, {y}]" for x, y in corners)
    room.write_text(
        f"units: mm\nroom: {{points: [{points}]}}\ngrid: {{system: lay-in-metric, borders: {{front: 20}}}}\n",
        encoding="utf-8",
    )
    found = {finding.rule: finding.remedy for finding in plan(read_room(room)).findings}
    assert found["tee on a ledge"] == (
        "No place of the grid is clear of all: turn it with align:, or fur the place out."
    )
