"""Rows of lights that were wished on a line stand on it, or the border that brings them there is told."""

from collections.abc import Callable
from pathlib import Path

import pytest

from planner.ceiling.build import build_ceiling
from planner.ceiling.model import Ceiling
from planner.findings import Finding
from planner.room.reader import read_room

#: A corridor: 1950 = 2 x 600 + 2 x 375, so a line of the grid lies in the middle, at 975, and a main on it.
CORRIDOR = """\
units: mm
room: {{rectangle: [12000, 1950]}}
ceiling_height: 2500
grid: {{{grid}}}
services:
{services}
"""
ARRAY = "  - {kind: downlight, diameter: 150, array: {columns: 5, rows: 1}}"

Make = Callable[..., Ceiling]


@pytest.fixture
def make(tmp_path: Path) -> Make:
    def made(*services: str, grid: str = "module: [600, 600]") -> Ceiling:
        path = tmp_path / "room.yaml"
        path.write_text(CORRIDOR.format(grid=grid, services="\n".join(services)), encoding="utf-8")
        return build_ceiling(read_room(path))

    return made


def rows(ceiling: Ceiling) -> list[Finding]:
    return [finding for finding in ceiling.findings if finding.rule == "row off its line"]


def test_a_row_on_a_main_is_told_with_the_border_that_mends_it(make: Make) -> None:
    """Panels have their middles at 675 and 1275, 300 off; with a border of 975 - 300 - 600 = 75 one lies on 975."""
    ceiling = make(ARRAY)
    (found,) = rows(ceiling)
    assert found.severity == "note"
    assert found.message == "The row of D1 to D5 stands 300 mm beside the line asked for: M1 runs there."
    assert found.remedy == (
        "Write  borders: {front: 75 mm}  and panels have their middles there. "
        "It makes a border under a quarter of a module."
    )
    assert {round(y) for _, y in (service.at for service in ceiling.services)} < {675, 1275}


def test_as_told_the_row_stands_on_its_line(make: Make) -> None:
    ceiling = make(ARRAY, grid="module: [600, 600], borders: {front: 75 mm}")
    assert {round(service.at[1]) for service in ceiling.services} == {975}
    assert rows(ceiling) == []


def test_others_on_that_line_are_told_with_the_row(make: Make) -> None:
    (found,) = rows(make(ARRAY, "  - {name: S1, kind: supply_diffuser, size: [600, 600], near: [3900, 975]}"))
    assert found.message.startswith("D1 to D5, S1 were asked for in a row")


@pytest.mark.parametrize("near", [(675, 675, 675), (720, 700, 640), (975, 975, 675)])
def test_near_the_middles_of_panels_or_with_fewer_than_three_there_is_no_word(
    make: Make, near: tuple[int, ...]
) -> None:
    """Two lights on one line are no row; moves of 45 mm nobody sees."""
    services = [f"  - {{kind: downlight, diameter: 150, near: [{2100 + 1800 * k}, {y}]}}" for k, y in enumerate(near)]
    assert rows(make(*services)) == []


def test_where_a_panel_centre_is_asked_for_no_border_is_told(make: Make) -> None:
    """Both cannot be written."""
    (found,) = rows(make(ARRAY, grid="module: [600, 600], borders: {centre_on: [6000, 675]}"))
    assert found.remedy == "Wish for them where panels have their middles."
