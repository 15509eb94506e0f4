"""A room told in another way is the same room: moved, turned, mirrored, enlarged, in inches or in millimetres.

The rooms are random staircases of walls along two axes, each a whole number of sixteenths of an inch, every other
number is computed by the planner twice and must agree.
"""

import math
from dataclasses import replace
from pathlib import Path
from typing import Any
from unittest.mock import patch

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.ceiling.layout import lay_out
from planner.ceiling.system import load_system
from planner.documents import parse_document
from planner.geometry import Point
from planner.planning import Plan, plan
from planner.record import record_of
from planner.room.brief import GridWish
from planner.room.outline import Room
from planner.room.reader import brief_from

SIXTEENTH = 25.4 / 16
QUICK = settings(max_examples=15, deadline=None)


@st.composite
def rooms(draw: st.DrawFn) -> list[tuple[int, int]]:
    """Corners of a room in sixteenths of an inch: a rectangle with a rectangle cut out of each of up to two corners."""
    length, width = (draw(st.integers(2000, 5000)) for _ in range(2))
    right = (draw(st.integers(500, 900)), draw(st.integers(500, 900))) if draw(st.booleans()) else None
    left = (draw(st.integers(500, 900)), draw(st.integers(500, 900))) if draw(st.booleans()) else None
    corners = [(0, 0), (length, 0)]
    if right:
        across, up = length - right[0], width - right[1]
        corners += [(length, up), (across, up), (across, width)]
    else:
        corners.append((length, width))
    if left:
        up = width - left[1]
        corners += [(left[0], width), (left[0], up), (0, up)]
    else:
        corners.append((0, width))
    return corners


def planned(points: list[Point], unit: str = "mm", more: str = "") -> Plan:
    corners = ", ".join(f"[{x!r}, {y!r}]" for x, y in points)
    text = f"job: Test room\nunits: {unit}\nroom: {{points: [{corners}]}}\ngrid: {{system: lay-in-imperial}}\n{more}"
    return plan(brief_from(parse_document(text, "test-room.yaml")))


def in_mm(corners: list[tuple[int, int]]) -> list[Point]:
    return [(x * SIXTEENTH, y * SIXTEENTH) for x, y in corners]


def alike(one: Any, other: Any, within: float = 1.5e-4) -> bool:
    """Whether two records agree: they hold ten-thousandths of a millimetre, and either may round a half."""
    if isinstance(one, float) or isinstance(other, float):
        return one is not None and other is not None and math.isclose(one, other, abs_tol=within, rel_tol=1e-12)
    if isinstance(one, dict):
        return one.keys() == other.keys() and all(alike(one[key], other[key], within) for key in one)
    if isinstance(one, list | tuple):
        return len(one) == len(other) and all(map(lambda a, b: alike(a, b, within), one, other))
    return bool(one == other)


@QUICK
@given(rooms(), st.integers(-90_000, 90_000), st.integers(-90_000, 90_000))
def test_a_room_measured_from_elsewhere_is_the_same_room(corners, across, up):
    moved = [(x + across, y + up) for x, y in corners]
    here, there = record_of(planned(in_mm(corners))), record_of(planned(in_mm(moved)))
    assert alike(here, there)


@QUICK
@given(rooms(), st.sampled_from([90.0, 180.0, 270.0, 31.0, -7.25]))
def test_a_room_that_lies_turned_on_the_paper_is_the_same_room(corners, turn):
    """Angles other than quarters leave noise of about 1e-12 of a length, far below the 1/80 mm of the grid search."""
    cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    turned = [(x * cos - y * sin, x * sin + y * cos) for x, y in in_mm(corners)]
    assert alike(record_of(planned(in_mm(corners))), record_of(planned(turned)))


@QUICK
@given(rooms())
def test_inches_and_millimetres_give_the_same_ceiling(corners):
    """All but the panels that are bought for cuts: what is sawn is rounded down to a mark of the job's own tape."""
    in_inches = planned([(x / 16, y / 16) for x, y in corners], "in")
    metric = planned(in_mm(corners))
    assert alike(record_of(in_inches)["layout"]["borders_mm"], record_of(metric)["layout"]["borders_mm"])
    for key in ("members", "hangers", "cutting"):
        assert alike(record_of(in_inches)[key], record_of(metric)[key]), key
    for one, other in zip(in_inches.ceiling.panels, metric.ceiling.panels, strict=True):
        assert one.opening == pytest.approx(other.opening, abs=1e-6)
        assert one.cut_to == pytest.approx(other.cut_to, abs=25.4 / 16)
    assert [(line.item, line.order) for line in in_inches.stock.takeoff if line.item != "panel"] == [
        (line.item, line.order) for line in metric.stock.takeoff if line.item != "panel"
    ]


@QUICK
@given(rooms())
def test_a_mirrored_room_is_laid_out_as_well_and_takes_as_many_panels(corners):
    """Which of several equally good origins is taken depends on the side that one counts from; how good, does not."""
    length = max(x for x, _ in corners)
    mirrored = [(length - x, y) for x, y in corners[::-1]]
    start = mirrored.index((0, 0))
    room, image = planned(in_mm(corners)), planned(in_mm(mirrored[start:] + mirrored[:start]))
    one, other = room.ceiling.layout, image.ceiling.layout
    assert (one.smallest_cut is None) == (other.smallest_cut is None)
    assert one.smallest_cut is None or one.smallest_cut == pytest.approx(other.smallest_cut, abs=1e-6)
    assert sorted(round(border.least, 4) for border in one.borders) == sorted(
        round(border.least, 4) for border in other.borders
    )
    assert (one.full_panels, len(one.cut_panels)) == (other.full_panels, len(other.cut_panels))


@QUICK
@given(rooms(), st.sampled_from([2, 3, 5]))
def test_an_enlarged_room_under_an_enlarged_module_has_enlarged_borders(corners, times):
    metric = load_system("lay-in-metric", Path.cwd())
    modules = [(2400.0 * k, 3000.0 * k) for k in (1, times)]
    systems = [replace(metric, modules=(module,)) for module in modules]
    small, large = ([(5.0 * x * k, 5.0 * y * k) for x, y in corners] for k in (1, times))
    with patch("planner.ceiling.grid.axis.SLACK_MM", 0.0):  # a tape does not grow with the room
        one, other = (
            lay_out(_room(room), GridWish("lay-in-metric", module), system)
            for room, module, system in zip((small, large), modules, systems, strict=True)
        )
    assert [border.least * times for border in one.borders] == pytest.approx([border.least for border in other.borders])
    assert (one.full_panels, len(one.cut_panels)) == (other.full_panels, len(other.cut_panels))


def _room(corners: list[Point]) -> Room:
    return Room("Test room", "mm", tuple(corners), tuple("ABCDEFGH"[: len(corners)]))
