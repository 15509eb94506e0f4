"""Which way the mains run, and on which grid lines they stand."""

from dataclasses import replace
from itertools import product

import pytest
from ceiling.framing_rooms import INCH, floor_of, grid, layouts, rectangle, room_of, rooms
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString

from planner.ceiling.mains import MainLines, choose_mains
from planner.ceiling.model import Layout
from planner.ceiling.system import load_system
from planner.errors import PlannerError
from planner.room.brief import GridWish
from planner.room.outline import Joists, Room

IMPERIAL = load_system("lay-in-imperial")
METRIC = load_system("lay-in-metric")
AUTO = GridWish("lay-in-imperial")
TWO_BY_TWO = (24 * INCH, 24 * INCH)


def inches(*values: float) -> tuple[float, ...]:
    return tuple(value * INCH for value in values)


def main_positions(room: Room, layout: Layout, mains: MainLines) -> list[float]:
    """Inches from the base wall (mains along) to each main, on a grid that is not turned."""
    pitch, origin = layout.module[1] / INCH, layout.frame.origin[1] / INCH
    depth = room.box.top / INCH
    lines = [k for k in range(-50, 50) if mains.is_main(k)]
    return [round(origin + k * pitch, 3) for k in lines if 0 < origin + k * pitch < depth]


def test_mains_of_the_navy_room() -> None:
    """CV-06: 124 in wide, lines at 14, 38, 62, 86, 110; mains 48 in apart: 38 and 86 are two, 14, 62 and 110 are three.

    By the rule of NAVEDTRA 14044 p. 7-23 with 48 in: (28 + 48) / 2 = 38.
    """
    room, layout = rectangle(*inches(163, 124)), grid(inches(21.5, 14), TWO_BY_TWO)
    mains = choose_mains(room, layout, IMPERIAL, AUTO)
    assert (mains.direction, mains.step) == ("along", 2)
    assert main_positions(room, layout, mains) == [38, 86]


def test_mains_of_the_published_ten_by_twelve_room() -> None:
    """E10: a published how-to counts two mains in a 10 x 12 ft room, 4 and 8 ft from one wall: the lines 48 and 96."""
    room, layout = rectangle(*inches(144, 120)), grid((0.0, 0.0), TWO_BY_TWO)
    mains = choose_mains(room, layout, IMPERIAL, AUTO)
    assert main_positions(room, layout, mains) == [48, 96]


@pytest.mark.parametrize(
    ("joists", "angle", "direction"),
    [
        ("across", 0.0, "along"),
        ("along", 0.0, "across"),
        ("across", 90.0, "across"),
        ("across", 30.0, "along"),
        ("across", 60.0, "across"),
        ("across", -30.0, "along"),
        ("along", 170.0, "across"),
    ],
)
def test_mains_run_square_to_the_joists(joists: str, angle: float, direction: str) -> None:
    """NAVEDTRA 14044 p. 5-16. The room is longer along the base wall; a turned grid takes its nearer axis."""
    room = rectangle(4000, 3000, joists=Joists(400, 200, joists))  # type: ignore[arg-type]
    assert choose_mains(room, grid((300, 300), (600, 600), angle), METRIC, AUTO).direction == direction


def test_joists_decide_even_where_the_panels_would_rather_have_it_otherwise() -> None:
    """Joists square to the base wall, panels 1200 along it: mains along, one on every line 600 apart."""
    room = rectangle(4000, 3000, joists=Joists(400, 200, "across"))
    assert choose_mains(room, grid((300, 300), (1200, 600)), METRIC, AUTO) == MainLines("along", 1, 0)


@pytest.mark.parametrize(("size", "direction"), [((4000, 3000), "along"), ((3000, 4000), "across")])
def test_without_joists_mains_run_along_the_longer_side(size: tuple[float, float], direction: str) -> None:
    assert choose_mains(rectangle(*size), grid((300, 300), (600, 600)), METRIC, AUTO).direction == direction


@pytest.mark.parametrize(("module", "direction"), [((600.0, 1200.0), "along"), ((1200.0, 600.0), "across")])
def test_without_joists_mains_run_square_to_long_panels(module: tuple[float, float], direction: str) -> None:
    """The standard pattern: 0.25 ft of main to the square foot; the reverse pattern takes 0.5."""
    for size in ((4000, 3000), (3000, 4000)):
        mains = choose_mains(rectangle(*size), grid((300, 300), module), METRIC, AUTO)
        assert (mains.direction, mains.step) == (direction, 1)


def test_the_wish_goes_before_all() -> None:
    room = rectangle(4000, 3000, joists=Joists(400, 200, "across"))
    wish = replace(AUTO, mains="across")
    assert choose_mains(room, grid((300, 300), (600, 600)), METRIC, wish).direction == "across"


def test_a_corridor_gets_a_main_although_none_would_be_fewest() -> None:
    """1 m wide with one grid line at 500: the other way to count would leave the corridor without any main."""
    mains = choose_mains(rectangle(6000, 1000), grid((300, 500), (600, 600)), METRIC, AUTO)
    assert mains.is_main(0)


def test_a_module_the_tees_cannot_frame_is_refused_with_what_there_is() -> None:
    with pytest.raises(PlannerError, match=r"300 x 300 mm(.|\n)*600 x 600, 600 x 1200"):
        choose_mains(rectangle(4000, 3000), grid((0, 0), (300, 300)), METRIC, AUTO)


def test_a_direction_the_tees_cannot_frame_is_refused_with_the_other() -> None:
    """Only the 600 tee is left: 600 x 1200 panels can have mains along their long side, but not square to it."""
    short = replace(METRIC, cross_tees=METRIC.cross_tees[:1])
    room, layout = rectangle(4000, 3000), grid((0, 0), (600, 1200))
    with pytest.raises(PlannerError, match="mains: across"):
        choose_mains(room, layout, short, replace(AUTO, mains="along"))
    assert choose_mains(room, layout, short, AUTO) == MainLines("across", 1, 0)


@settings(max_examples=80, deadline=None)
@given(st.data())
def test_no_other_count_of_lines_has_fewer_runs(data: st.DataObject) -> None:
    """Every phase is counted by shapely, 0.02 mm beside each line where that makes no difference."""
    room = data.draw(rooms())
    layout = data.draw(layouts("lay-in-metric"))
    mains = choose_mains(room, layout, METRIC, AUTO)
    runs = [_runs_by_shapely(room, layout, replace(mains, phase=phase)) for phase in range(mains.step)]
    if any(few != many for few, many in runs):
        return  # a line grazes a wall or corner: what counts as a run is for the clipping tests
    counts = [few for few, _ in runs]
    assert counts[mains.phase] == min([count for count in counts if count] or [0])


def _runs_by_shapely(room: Room, layout: Layout, mains: MainLines) -> tuple[int, int]:
    """Runs on the mains of a phase: fewest and most, looking on both sides of each line.

    Fewest without those so short that they may lie over the ledges of a corner, or so near a wall for all their length
    that its ledge may hide it, which then carry what a main would.
    """
    floor, found = floor_of(room), []
    beside = floor.boundary.buffer(METRIC.ledge)
    axis = 1 if mains.direction == "along" else 0
    pitch = layout.module[axis]
    for aside, least in product((-0.02, 0.02), (1.0, 6 * METRIC.ledge)):
        count = 0
        for k in range(-40, 40):
            if mains.is_main(k):
                at = k * pitch + aside
                ends = [(-2e4, at), (2e4, at)] if axis == 1 else [(at, -2e4), (at, 2e4)]
                cut = floor.intersection(LineString([layout.frame.outward(p) for p in ends]))
                parts = [part for part in getattr(cut, "geoms", [cut]) if part.length >= least]
                count += sum(least == 1.0 or not beside.covers(part) for part in parts)
        found.append(count)
    return min(found), max(found)


@settings(max_examples=80, deadline=None)
@given(st.data())
def test_no_wall_is_further_from_a_main_than_a_cross_tee_reaches(data: st.DataObject) -> None:
    """On a rectangle: the first and the last main are within the longest cross tee of their walls."""
    room = rectangle(data.draw(st.floats(1300, 9000)), data.draw(st.floats(1300, 9000)))
    layout = grid((data.draw(st.floats(0, 600)), data.draw(st.floats(0, 600))), (600.0, 600.0))
    mains = choose_mains(room, layout, METRIC, AUTO)
    axis = 1 if mains.direction == "along" else 0
    depth = (room.box.right, room.box.top)[axis]
    spots = [layout.frame.origin[axis] + k * 600 for k in range(-3, 40) if mains.is_main(k)]
    inside = [spot for spot in spots if 0.01 < spot < depth - 0.01]
    assert inside[0] <= 1200.02
    assert depth - inside[-1] <= 1200.02


def test_a_niche_without_a_grid_line_needs_no_main() -> None:
    room = room_of(((0, 0), (400, 0), (400, 400), (0, 400)))
    assert choose_mains(room, grid((-100, -100), (600, 600)), METRIC, AUTO).phase == 0
