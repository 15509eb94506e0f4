"""The sentence that says why the grid lies where it lies: what it calls a wall is one, and has the border told."""

import re
from pathlib import Path

import pytest

from planner.documents import parse_document
from planner.lengths import spoken_length
from planner.planning import Plan, plan
from planner.room.reader import brief_from, read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
PIPES = """\
units: mm
room: {rectangle: [3420, 2710], columns: [{name: P1, at: [300, 300], diameter: 110}]}
grid: {system: lay-in-metric}
"""
JOG = """\
units: mm
room: {points: [[0, 0], [4200, 0], [4200, 3000], [2100, 3000], [2100, 3700], [0, 3700]]}
grid: {system: lay-in-metric}
"""
APSE = """\
units: mm
room: {points: [[0, 0], [6400, 0], [6400, 4860], [0, 4860]], bowed_walls: {B-C: 2100}}
grid: {system: lay-in-metric}
"""


def planned(text: str) -> Plan:
    return plan(brief_from(parse_document(text, "room.yaml")))


def test_wall_before_a_pipe_is_not_called_cut_by_the_grid() -> None:
    """Borders are 510 and 455. Only the pipe stands 245 from two walls: along its 110 of both, 300 is not free."""
    rule = planned(PIPES).ceiling.layout.rule
    assert rule.startswith("Borders 510 mm left and right, 455 mm front and back: ")
    found = re.search(
        r"; no wall cut under half a module; before (\d+) mm of wall a column or pipe stands nearer", rule
    )
    assert found
    assert 150 < int(found[1]) <= 220


def test_a_niche_is_called_by_its_wall() -> None:
    """Two walls look to the front: that of the niche, E-F, is the furthest, and the border told is its own."""
    made = planned(JOG)
    borders = {border.wall: border for border in made.ceiling.layout.borders}
    back = spoken_length(borders["E-F"].least, "mm")
    assert f" and {back} back (E-F)" in made.ceiling.layout.rule
    assert "(A-B)" not in made.ceiling.layout.rule


def test_a_round_end_is_told_where_it_is_furthest_out() -> None:
    """B-C bows out by 2100, to 8500; the border on the right is that of its apex alone."""
    made = planned(APSE)
    assert re.search(r" and \d+ mm right \(B-C at its furthest\), ", made.ceiling.layout.rule)


@pytest.mark.parametrize("name", sorted(path.stem for path in FIXTURES.glob("*.yaml")))
def test_a_border_told_by_a_wall_is_that_of_the_wall(name: str) -> None:
    """Told of a straight wall it is the whole border; of one that leans or bows it lies within what the border is."""
    made = plan(read_room(FIXTURES / f"{name}.yaml"))
    room, layout = made.room, made.ceiling.layout
    borders = {border.wall: border for border in layout.borders}
    head = layout.rule.split(":")[0].removeprefix("Borders ")
    for before, wall, furthest in re.findall(r"([^,()]*) \(([\w-]+)( at its furthest)?\)", head):
        border = borders[wall]
        if "whole" in before or re.match(r" and (left|right|front|back)$", before):
            continue
        alike = re.sub(r" (left and right|front and back)$", "", before)  # one width for both
        width = re.sub(r" (left|right|front|back)$", "", alike.split(" and ")[-1]).strip()
        told = {spoken_length(size, room.units) for size in (border.least, border.most)}
        assert width in told or (furthest and border.least == 0.0), (width, told)
