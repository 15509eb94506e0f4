"""Whole panels a little short of the walls, the ledge hiding what is missing. Modules of 600, panels 5 mm smaller.

The ledge of lay-in-metric is 24 mm: 24 - 5 - 9.525 (3/8 in) = 9.475 mm may be hidden at each wall, 18.95 mm in all.
"""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.ceiling.build import build_ceiling
from planner.ceiling.ledge import LEAST_ON_LEDGE_MM, hides_at_most, reach_of
from planner.ceiling.model import Ceiling
from planner.ceiling.system import load_system
from planner.errors import InputError, PlannerError
from planner.geometry import Point
from planner.planning import plan
from planner.room.brief import Brief, GridWish
from planner.room.outline import Room
from planner.room.reader import read_room

METRIC = load_system("lay-in-metric")
UNCUT = GridWish("lay-in-metric", uncut=True)


def room_of(*outline: Point) -> Room:
    return Room("r", "mm", outline, tuple("ABCDEFGH"[: len(outline)]))


def square(width: float, depth: float) -> Room:
    return room_of((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth))


def ceiling_of(width: float, depth: float, wish: GridWish = UNCUT) -> Ceiling:
    return build_ceiling(Brief(square(width, depth), wish))


def test_ten_whole_panels_and_three_millimetres() -> None:
    """6003 x 4800: 10 x 8 whole panels, 1.5 mm hidden left and right; tees stop there, wall angle does not."""
    ceiling = ceiling_of(6003, 4800)
    assert (ceiling.full_panels, ceiling.panels) == (80, ())
    mains = [member for member in ceiling.members if member.kind == "main tee"]
    assert {(round(run.start[0], 6), round(run.end[0], 6)) for run in mains} == {(1.5, 6001.5)}
    angle = [member for member in ceiling.members if member.kind == "wall angle"]
    assert sum(member.length for member in angle) == pytest.approx(2 * (6003 + 4800))
    assert [member.id for member in angle] == ["W1", "W2", "W3", "W4"]


def test_the_grid_stands_in_the_middle_of_the_room() -> None:
    (u, _) = ceiling_of(6003, 4800).layout.frame.origin
    assert (u - 1.5) % 600 == pytest.approx(0.0, abs=1e-6) or (u - 1.5) % 600 == pytest.approx(600.0, abs=1e-6)


def test_set_out_is_measured_from_the_true_corners() -> None:
    """Mains at 1200 and 3600 of 4800 end 1.5 mm before their walls; their marks are on the walls all the same."""
    ceiling = ceiling_of(6003, 4800)
    assert ceiling.setout is not None
    marks = {wall.wall: [mark.at for mark in wall.marks] for wall in ceiling.setout.walls}
    mains = sorted(run.start[1] for run in ceiling.members if run.kind == "main tee")
    assert [at for at in marks["B-C"] if any(abs(at - main) < 1e-6 for main in mains)] == pytest.approx(mains)
    cross = [at for at in marks["A-B"] if at > 10]
    assert cross and all((at - 1.5) % 600 == pytest.approx(0.0, abs=1e-6) for at in cross)
    for start, end, _ in ceiling.setout.lines[:2]:
        assert {start[0], end[0]} <= {0.0, 6003.0} or start[0] == pytest.approx(end[0]), "strings reach the walls"


def test_cut_borders_on_the_other_axis_are_balanced() -> None:
    """4500 deep are 7 modules and 300: borders of 450 front and back, nothing cut left and right."""
    ceiling = ceiling_of(6003, 4500)
    assert {border.wall: round(border.least) for border in ceiling.layout.borders} == {
        "A-B": 450,
        "B-C": 600,
        "C-D": 450,
        "D-A": 600,
    }
    assert len(ceiling.panels) == 20, "10 at the front, 10 at the back"
    assert {panel.cut_to[0] for panel in ceiling.panels} == {595.0}


def test_what_is_hidden_and_what_still_lies_on_the_ledge_is_said() -> None:
    ceiling = ceiling_of(6003, 4800)
    assert "the ledge of the wall angle hides 1.5 mm left and right" in ceiling.layout.rule
    (found,) = [finding for finding in ceiling.findings if finding.rule == "uncut over the ledge"]
    assert "lie on the ledge by 17.5 mm; 9.5 mm is the least" in found.message  # 24 - 5 - 1.5


@pytest.mark.parametrize(("width", "hidden"), [(6000.2, 0.1), (6018.9, 9.45)])
def test_as_much_as_the_ledge_hides(width: float, hidden: float) -> None:
    assert reach_of(square(width, 4800), UNCUT, METRIC).hidden[0] == pytest.approx(hidden)


@pytest.mark.parametrize("width", [6019.0, 6300.0, 590.0])
def test_more_is_refused_with_what_would_do(width: float) -> None:
    with pytest.raises(PlannerError) as caught:
        ceiling_of(width, 4800)
    assert "the ledges hide 18.9 mm at most" in str(caught.value) and "borders: balanced" in caught.value.mend


def test_where_nothing_is_missing_whole_panels_lie_as_ever() -> None:
    ceiling = ceiling_of(6000, 4800)
    assert (ceiling.full_panels, ceiling.panels, ceiling.layout.smallest_cut) == (80, (), None)
    assert all(finding.rule != "uncut over the ledge" for finding in ceiling.findings)


def test_only_four_walls_along_the_grid() -> None:
    shaped = room_of((0, 0), (6003, 0), (6003, 3000), (3000, 3000), (3000, 4800), (0, 4800))
    leaning = room_of((0, 0), (6003, 0), (6003, 4800), (2, 4800))
    for room in (shaped, leaning):
        with pytest.raises(PlannerError, match="four walls, all along the grid"):
            build_ceiling(Brief(room, UNCUT))
    with pytest.raises(PlannerError, match="four walls, all along the grid"):
        ceiling_of(6003, 4800, replace(UNCUT, align=30.0))


@settings(max_examples=15, deadline=None)
@given(st.integers(2, 9), st.integers(1, 189), st.integers(2, 9))
def test_every_panel_keeps_its_bearing(across: int, tenths: int, deep: int) -> None:
    """Wherever it is allowed, nothing is cut, and what lies on the ledge is 3/8 in or more."""
    wide = 600.0 * across + tenths / 10
    reach = reach_of(square(wide, 600.0 * deep), UNCUT, METRIC) if tenths > 1 else None
    if reach is None:
        return
    assert METRIC.ledge - METRIC.panel_undersize - reach.hidden[0] >= LEAST_ON_LEDGE_MM - 1e-9
    assert reach.hidden[0] <= hides_at_most(METRIC)
    ceiling = ceiling_of(wide, 600.0 * deep)
    assert (ceiling.full_panels, len(ceiling.panels)) == (across * deep, 0)


def test_the_key(tmp_path: Path) -> None:
    path = tmp_path / "room.yaml"
    text = "units: mm\nroom: {rectangle: [6003, 4800]}\ngrid: {borders: uncut}\n"
    path.write_text(text)
    brief = read_room(path)
    assert (brief.grid.uncut, brief.grid.borders) == (True, ())
    bought = {line.item: line.net for line in plan(brief).stock.takeoff}
    assert bought["panel"] == 80 and plan(brief).stock.panels is None
    path.write_text(text.replace("uncut", "unkut"))
    with pytest.raises(InputError, match="Write balanced, uncut,"):
        read_room(path)
    path.write_text(text.replace("6003", "6100"))
    with pytest.raises(PlannerError, match=r"room\.yaml:3"):
        plan(read_room(path))
