"""A corner that lies over the wall angle alone: no tee is put there, and nobody need cut its panel."""

import math
from dataclasses import replace
from pathlib import Path

import pytest
from ceiling.framing_rooms import grid, layouts, rectangle, rooms
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LinearRing, LineString, Point, Polygon

from planner.ceiling.framing import frame, framed
from planner.ceiling.mains import MainLines, choose_mains
from planner.ceiling.members.free_ends import FreeEnds
from planner.ceiling.members.hidden import LEAST_BEARING_MM
from planner.ceiling.model import Layout, Member
from planner.ceiling.rules.built import Built
from planner.ceiling.rules.held_ends import held_at_neither_end
from planner.ceiling.system import System, load_system
from planner.planning import plan
from planner.room.brief import GridWish
from planner.room.outline import Room
from planner.room.reader import read_room
from planner.room.site import Site

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
    """A crossing of lines 12 mm from both walls of a corner: what is left of each line is long, and hooks into it."""
    layout = grid((12.0, 12.0), (600.0, 600.0))
    members = frame(rectangle(1224, 1224), layout, METRIC, MainLines("along", 2, 0))
    assert len([member for member in members if member.kind == "main tee"]) == 2


def along_wall(off: float, free: FreeEnds | None = None) -> tuple[Member, ...]:
    """Lines 600 apart from D-A on, the last of them at 3000, `off` before B-C; every second of them is a main."""
    layout = grid((600.0, 300.0), (600.0, 600.0))
    return framed(rectangle(3000 + off, 3300), layout, METRIC, MainLines("across", 2, 0), free=free).members


@pytest.mark.parametrize(("off", "mains", "last"), [(9.4, 2, 3000.0), (9.7, 3, 3000.0), (37.0, 3, 3037.0)])
def test_a_line_along_a_wall_that_the_ledge_carries_has_no_tee_however_long(
    off: float, mains: int, last: float
) -> None:
    """Ledge 24 less an undersize of 5 less 3/8 in leaves 9.475 that the ledge may hide of a whole panel.

    Mains stand at 600, 1800, 3000; of the last nothing is left at 9.4 mm. The cross tees end where it would be, whole
    ones of 1200 and 600, over the ledge; from 36 mm on they go on to the wall.
    """
    members = along_wall(off)
    assert len([member for member in members if member.kind == "main tee"]) == mains
    cross = [member for member in members if member.kind == "cross tee" and member.start[1] == member.end[1]]
    assert {round(max(member.start[0], member.end[0]), 3) for member in cross} == {last}
    if mains == 2:
        assert all(member.gaps == pytest.approx((0.0, off)) for member in cross)
        assert {piece.ends[1] for member in cross for piece in member.pieces[-1:]} == {"factory"}


def test_a_tee_beside_a_wall_for_a_part_of_its_way_alone_stays() -> None:
    """C-D at 2000 deep of an L, 6 mm before it a line that goes on into the other arm for 1500 more."""
    shape = Room("L", "mm", ((0, 0), (4000, 0), (4000, 2006), (1500, 2006), (1500, 3500), (0, 3500)), tuple("ABCDEF"))
    members = frame(shape, grid((500.0, 200.0), (600.0, 600.0)), METRIC, MainLines("along", 2, 1))
    (tee,) = (member for member in members if member.start[1] == member.end[1] == pytest.approx(2000))
    assert abs(tee.end[0] - tee.start[0]) == pytest.approx(4000)


def test_for_an_earthquake_tees_end_free_of_the_wall_all_the_same() -> None:
    """Category C asks for 10 mm: with the bare line 6 mm before B-C they are cut 4 mm short of it."""
    room = replace(rectangle(3006, 3300), site=Site(seismic="C"))
    cross = [member for member in along_wall(6.0, FreeEnds(room, METRIC)) if member.kind == "cross tee"]
    over = [member for member in cross if member.start[1] == member.end[1]]
    assert {round(max(member.start[0], member.end[0]), 3) for member in over} == {2996.0}
    assert {member.pieces[-1].ends[1] for member in over} == {"cut"}


def test_at_a_wall_that_tees_are_fixed_to_they_lie_on_the_ledge_and_are_held() -> None:
    """Whole ones of 1200 end 6 mm before it; nothing longer is sold. So none of them is held at no end."""
    walls = rectangle(3006, 3300).walls
    room = replace(rectangle(3006, 3300), site=Site(seismic="D", fixed_walls=(walls[1].name, walls[2].name)))
    cross = [member for member in along_wall(6.0, FreeEnds(room, METRIC)) if member.kind == "cross tee"]
    over = [member for member in cross if member.start[1] == member.end[1]]
    assert {round(max(member.start[0], member.end[0]), 3) for member in over} == {3000.0}
    built = Built(room, GridWish(METRIC.name), METRIC, grid((600.0, 300.0), (600.0, 600.0)), (), tuple(over), ())
    assert not list(held_at_neither_end(built))


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
