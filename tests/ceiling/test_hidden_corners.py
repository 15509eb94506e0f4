"""A corner that lies over the wall angle alone: no tee is put there, and nobody need cut its panel."""

import math
from dataclasses import replace
from pathlib import Path

import pytest
from ceiling.framing_rooms import grid, layouts, rectangle, rooms
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LinearRing, LineString, Point, Polygon

from planner.ceiling.framing import frame
from planner.ceiling.mains import MainLines, choose_mains
from planner.ceiling.members.hidden import LEAST_BEARING_MM
from planner.ceiling.model import Layout
from planner.ceiling.system import System, load_system
from planner.planning import plan
from planner.room.brief import GridWish
from planner.room.outline import Room
from planner.room.reader import read_room

METRIC = load_system("lay-in-metric")
FOYER = Path(__file__).parents[2] / "fixtures" / "foyer-diagonal.yaml"

#: Ledge 24, less half of an undersize of 5, less a bearing of 1/4 in: 24 - 2.5 - 6.35.
REACH = 15.15


def across_corner(off: float) -> Layout:
    """A grid at 45 degrees of which a line passes the corner at 0, 0 so near; the next crossing is 300 mm aside."""
    return grid(((off - 300) / math.sqrt(2), (off + 300) / math.sqrt(2)), (600.0, 600.0), 45.0)


def tees_at_corner(off: float, system: System = METRIC) -> list[float]:
    """Lengths of the short tees that lie within 100 mm of the corner."""
    members = frame(rectangle(3000, 3000), across_corner(off), system, MainLines("across", 2, 0))
    tees = [member for member in members if member.kind != "wall angle" and member.length < 200]
    return [member.length for member in tees if LineString([member.start, member.end]).distance(Point(0, 0)) < 100]


def test_reach_is_what_the_numbers_say() -> None:
    assert METRIC.ledge - METRIC.panel_undersize / 2 - LEAST_BEARING_MM == pytest.approx(REACH)


@pytest.mark.parametrize(("off", "tees"), [(12.5, 0), (21.0, 0), (22.0, 1), (60.0, 1)])
def test_a_tee_across_a_corner_that_the_ledges_carry_is_left_out(off: float, tees: int) -> None:
    """A line at 45 degrees, `off` from the corner: its middle is off / sqrt 2 from both walls. 15.15 * sqrt 2 = 21.43.

    At 12.5 mm it is the foyer's, 25 mm long.
    """
    assert tees_at_corner(off) == pytest.approx([2 * off] * tees)


def test_the_foyer_has_no_main_tee_of_25_mm() -> None:
    """Its shortest main is then 2425 mm; what is left in the corners E, A and B the ledge closes: no panel.

    They are half squares, cut off by a line at 45 degrees: with legs of 34.57, 17.66 and 34.57 mm, no point of them is
    as far as the ledge of 24 from a wall.
    """
    made = plan(read_room(FOYER))
    mains = [member for member in made.ceiling.members if member.kind == "main tee"]
    assert [member.id for member in mains] == ["M1", "M2", "M3", "M4", "M5"]
    assert min(member.length for member in mains) == pytest.approx(2425, abs=1)
    (finding,) = (finding for finding in made.findings if finding.rule == "closed by the wall angle")
    assert finding.severity == "note"
    assert finding.message == "The ledge of the wall angle alone closes the ceiling at E, A, B: no panel is cut."
    areas = [Polygon(closed.outline).area for closed in made.ceiling.layout.closed]
    assert areas == pytest.approx([34.57**2 / 2, 17.66**2 / 2, 34.57**2 / 2], abs=1)
    assert min(min(panel.cut_to) for panel in made.ceiling.panels) > 50


def test_a_tee_that_another_line_crosses_stays() -> None:
    """A crossing of lines 7 mm from both walls of a corner: what is left of each line is long, and hooks into it."""
    layout = grid((7.0, 7.0), (600.0, 600.0))
    members = frame(rectangle(1220, 1220), layout, METRIC, MainLines("along", 2, 0))
    assert len([member for member in members if member.kind == "main tee"]) == 2


def test_nothing_is_hidden_where_no_ledge_is_wide_enough() -> None:
    """A ledge of 8 mm: 8 - 2.5 - 6.35 is less than nothing."""
    assert tees_at_corner(12.5, replace(METRIC, ledge=8.0)) == pytest.approx([25.0])


@settings(max_examples=40, deadline=None)
@given(st.data(), rooms())
def test_no_tee_lies_over_ledges_alone_unless_something_hooks_into_it(data: st.DataObject, room: Room) -> None:
    """Whatever the room: each tee that nothing crosses comes out from over the ledges somewhere."""
    layout = data.draw(layouts(METRIC.name))
    mains = choose_mains(room, layout, METRIC, GridWish(METRIC.name))
    members = frame(room, layout, METRIC, mains)
    over = [LinearRing(room.outline), *(LinearRing(column.outline) for column in room.columns)]
    for member in members:
        if member.kind == "wall angle" or member.length > 4 * METRIC.ledge:
            continue
        start, end = (layout.frame.inward(point) for point in (member.start, member.end))
        along = 0 if abs(end[0] - start[0]) > abs(end[1] - start[1]) else 1
        low, high = sorted((start[along], end[along]))
        pitch = layout.module[along]
        if any(
            low - 0.1 <= k * pitch <= high + 0.1 for k in range(math.floor(low / pitch), math.ceil(high / pitch) + 1)
        ):
            continue
        middle = Point((member.start[0] + member.end[0]) / 2, (member.start[1] + member.end[1]) / 2)
        line = LineString([member.start, member.end])
        deepest = max(
            min(ring.distance(spot) for ring in over) for spot in (middle, *map(Point, line.segmentize(1).coords))
        )
        assert deepest > REACH - 0.2


@pytest.mark.parametrize(("over", "pieces"), [(20.0, []), (35.9, []), (36.1, [36.1])])
def test_an_end_piece_of_which_nothing_shows_is_left_out(over: float, pieces: list[float]) -> None:
    """A main `over` from the wall, the next a module on: ledge 24 and half a face of 24 hide 36 mm of the line between.

    The cross tees from main to main and to the wall behind, 600 each, stay.
    """
    layout = grid((600.0, over), (600.0, 600.0))
    members = frame(rectangle(1800, 1200 + over), layout, METRIC, MainLines("along", 1, 0))
    cross = [member for member in members if member.kind == "cross tee"]
    assert [member.start[0] for member in cross] == [600.0, 1200.0]
    for member in cross:
        lengths = [piece.length for piece in member.pieces for _ in range(piece.count)]
        assert lengths == pytest.approx([*pieces, 600.0, 600.0])
        assert member.start[1] == pytest.approx(over - sum(pieces))
