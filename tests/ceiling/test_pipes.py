"""Pipes and thin posts: no wall angle round them, no screws in them, no tee ends on them."""

import re
from pathlib import Path

import pytest

from planner.ceiling.members.pipes import ledged, pipes
from planner.ceiling.order import order_of_work
from planner.findings import Finding
from planner.planning import Plan, plan
from planner.room.reader import read_room

ROOM = """\
units: mm
room: {{rectangle: [4000, 3100], columns: [{column}]}}
structure: {{joists: {{spacing: 600, first: 300}}, underside: 2800}}
ceiling_height: 2500
grid: {{panel_weight: 4 kg/m2, mains: along{grid}}}
"""
#: A main falls on 950: 350 in front, then a module of 600.
ON_A_MAIN = "name: P1, at: [1400, 950], diameter: 22"


def planned(tmp_path: Path, column: str, grid: str = "") -> Plan:
    file = tmp_path / "room.yaml"
    file.write_text(ROOM.format(column="{" + column + "}", grid=grid), encoding="utf-8")
    return plan(read_room(file))


def trim_of(made: Plan, column: str) -> list[str]:
    return [member.id for member in made.ceiling.members if member.id.startswith(f"W{column}")]


def met(made: Plan) -> list[Finding]:
    return [finding for finding in made.findings if finding.rule == "tee meets a pipe"]


@pytest.mark.parametrize(
    ("column", "trimmed"),
    [
        ("at: [1400, 1250], diameter: 22", 0),
        ("at: [1400, 1250], diameter: 304.8", 0),  # 12 in
        ("at: [1400, 1250], diameter: 310", 1),
        ("at: [1400, 1250], size: [150, 100]", 0),
        ("at: [1400, 1250], size: [152.4, 152.4]", 4),  # 6 in
        ("at: [1400, 0], size: [100, 100]", 3),  # a box against the base wall goes with the wall
        ("at: [1400, 11], diameter: 22", 0),  # a pipe at the wall is still round
    ],
)
def test_what_carries_wall_angle(tmp_path: Path, column: str, trimmed: int) -> None:
    made = planned(tmp_path, column + ", name: P1")
    assert len(trim_of(made, "P1")) == trimmed
    assert [pipe.name for pipe in pipes(made.room)] == ([] if trimmed else ["P1"])
    assert len(ledged(made.room).columns) == min(trimmed, 1)


def test_nothing_is_screwed_to_a_pipe_on_joists(tmp_path: Path) -> None:
    made = planned(tmp_path, "name: P1, at: [1400, 1250], diameter: 110", ", system: direct-metric")
    assert not trim_of(made, "P1")
    assert not [screw for screw in made.ceiling.hangers if screw.member == "WP1"]
    hole = round(110 + made.ceiling.system.panel_undersize)  # cut half the undersize wider on either side
    assert hole == 115
    steps = [step for step in order_of_work(made.room, made.ceiling) if f"round P1 (hole of {hole} mm)" in step]
    assert len(steps) == 1
    assert "screw nothing to them" in steps[0]


def test_a_room_without_pipes_is_told_nothing_of_them(tmp_path: Path) -> None:
    made = planned(tmp_path, "name: C1, at: [1400, 1250], size: [300, 300]")
    assert not [step for step in order_of_work(made.room, made.ceiling) if "cover ring" in step]
    assert not met(made)


def test_a_main_cut_in_two_by_a_pipe_stops_the_work_and_the_border_told_mends_it(tmp_path: Path) -> None:
    """Rows of 600 from 350: a line at 950, through the pipe's middle.

    A flange of 24 and 25 for a ring keep lines 11 + 12 + 25 = 48 from its middle: at 902 or 998, borders of 302 or 398.
    Either is half a module; at the back 3100 - 302 - 4 x 600 = 398. The nearer by name is told.
    """
    made = planned(tmp_path, ON_A_MAIN, ", borders: {front: 350}")
    (finding,) = met(made)
    assert (finding.severity, finding.where) == ("stop", (1400.0, 950.0))
    assert "no tee end: M1, M2 at P1." in finding.message
    told = re.search(r"borders: \{front: (\d+) mm\}", finding.remedy)
    assert told is not None
    assert int(told[1]) in (302, 398)
    mended = planned(tmp_path, ON_A_MAIN, f", borders: {{front: {told[1]}}}")
    assert not met(mended)


@pytest.mark.parametrize(("off", "meets"), [(22.5, True), (23.5, False)])
def test_a_flange_needs_room_too(tmp_path: Path, off: float, meets: bool) -> None:
    """The pipe's radius 11 and half a flange of 24: 23 from the line at 950."""
    made = planned(tmp_path, f"name: P1, at: [1400, {950 + off}], diameter: 22", ", borders: {left: 500, front: 350}")
    assert bool(met(made)) is meets


def test_on_a_cross_tee_it_is_a_warning(tmp_path: Path) -> None:
    """A cross tee's line at 500 + 2 x 600 = 1700; the pipe in the middle of a module along it, 1250."""
    made = planned(tmp_path, "name: P1, at: [1700, 1250], diameter: 60", ", borders: {left: 500, front: 350}")
    (finding,) = met(made)
    assert finding.severity == "warn"
    assert "borders: {left: " in finding.remedy


def test_left_to_itself_the_grid_is_clear_of_the_pipe(tmp_path: Path) -> None:
    """Balanced borders of 350 put a main into it; at 302 it is clear, and 398 is left at the back."""
    made = planned(tmp_path, ON_A_MAIN)
    assert not met(made)
    assert {border.wall: border.least for border in made.ceiling.layout.borders}["A-B"] == pytest.approx(302)


def test_a_panel_centre_gives_way_to_the_borders_that_clear_a_pipe(tmp_path: Path) -> None:
    """A panel's middle at [500, 650] puts lines at 200 and 350: the main at 950 meets the pipe at [1400, 950].

    Both borders are written in its place: 302 in front, and 200 at the left, where 294 would be half a module and
    no pipe stands near: 294 with what a border is rounded by.
    """
    made = planned(tmp_path, ON_A_MAIN, ", borders: {centre_on: [500, 650]}")
    (finding,) = met(made)
    told = re.search(r"borders: (\{left: \d+ mm, front: \d+ mm\})", finding.remedy)
    assert told is not None
    assert "It takes the place of centre_on." in finding.remedy
    mended = planned(tmp_path, ON_A_MAIN, f", borders: {told[1]}")
    assert not met(mended)
    widths = {border.wall: border.least for border in mended.ceiling.layout.borders}
    assert min(widths.values()) >= 294


def test_a_column_with_wall_angle_carries_tee_ends(tmp_path: Path) -> None:
    made = planned(tmp_path, "name: C1, at: [1300, 850], size: [200, 200]")
    assert not met(made)
