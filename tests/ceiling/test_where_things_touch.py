"""Columns that only touch a wall, and lights in modules that are longer than wide."""

import pytest
from ceiling.framing_rooms import grid, room_of
from ceiling.hand_layouts import FOOT, INCH, METRIC, rectangle
from shapely import Point as Spot
from shapely import Polygon

from planner.ceiling.build import build_ceiling
from planner.ceiling.framing import frame
from planner.ceiling.mains import MainLines
from planner.ceiling.seating.ground import Ground
from planner.geometry import Box, distance
from planner.room.brief import Brief, GridWish, ServiceWish
from planner.room.outline import Column

ROOM = ((0.0, 0.0), (3000.0, 0.0), (3000.0, 2400.0), (0.0, 2400.0))


def angle_along_base(*columns: Column) -> float:
    """Wall angle on the base wall, wall to wall 3000."""
    members = frame(room_of(ROOM, columns), grid((0.0, 0.0), (600.0, 600.0)), METRIC, MainLines("along", 2, 1))
    on_wall = [m for m in members if m.kind == "wall angle" and abs(m.start[1]) < 1 and abs(m.end[1]) < 1]
    return sum(distance(m.start, m.end) for m in on_wall)


def column(*ring: tuple[float, float]) -> Column:
    return Column("C1", ring, (sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring)))


def test_a_column_that_touches_a_wall_with_one_corner_takes_no_wall_angle_from_it() -> None:
    """A column set at 45 degrees, its corner on the base wall: the angle runs past it, all 3000."""
    assert angle_along_base(column((1500, 0), (1700, 200), (1500, 400), (1300, 200))) == pytest.approx(3000)


def test_one_that_stands_against_it_takes_as_much_as_it_is_wide() -> None:
    assert angle_along_base(column((1300, 0), (1700, 0), (1700, 300), (1300, 300))) == pytest.approx(2600)


def test_one_that_leans_on_it_takes_what_its_face_covers() -> None:
    """A triangle, 400 of its face on the wall; its two other sides rise from there."""
    assert angle_along_base(column((1300, 0), (1700, 0), (1600, 300))) == pytest.approx(2600)


@pytest.mark.parametrize("module", [(24 * INCH, 48 * INCH), (48 * INCH, 24 * INCH)])
@pytest.mark.parametrize("at", [(61, 100), (150, 30), (210, 181), (30, 90)])
def test_the_panel_that_is_drilled_lies_under_the_light(module: tuple[float, float], at: tuple[float, float]) -> None:
    """20 x 16 ft are 10 x 4 or 5 x 8 whole modules; whichever way they lie, the hole is in the panel above the spot."""
    spot = (at[0] * INCH, at[1] * INCH)
    light = ServiceWish("D1", "downlight", diameter=4 * INCH, at=spot)
    room = rectangle(20 * FOOT, 16 * FOOT, units="in")
    ceiling = build_ceiling(Brief(room, GridWish("lay-in-imperial", module=module), (light,)))
    (placed,) = ceiling.services
    assert placed.at == pytest.approx(spot)
    (drilled,) = [panel for panel in ceiling.panels if panel.cutouts]
    assert Polygon(drilled.outline).contains(Spot(spot))
    inside = ceiling.layout.frame.inward(spot)
    assert drilled.cell == (inside[0] // ceiling.layout.module[0], inside[1] // ceiling.layout.module[1])


@pytest.mark.parametrize(
    ("box", "cells"),
    [
        (Box(0, 0, 600, 1200), [(0, 0)]),  # a module fills itself and touches its neighbours
        (Box(0, 0, 601, 1200), [(0, 0), (1, 0)]),
        (Box(0, 0, 600, 1201), [(0, 0), (0, 1)]),
        (Box(-1, 0, 600, 1200), [(-1, 0), (0, 0)]),
        (Box(0, -1, 600, 1200), [(0, -1), (0, 0)]),
        (Box(599, 1199, 601, 1201), [(0, 0), (1, 0), (0, 1), (1, 1)]),
        (Box(600, 1200, 1800, 2400), [(1, 1), (2, 1)]),
    ],
)
def test_a_light_lies_in_the_modules_that_its_inside_meets(box: Box, cells: list[tuple[int, int]]) -> None:
    """Modules of 600 x 1200: sides that only touch do not count."""
    ground = Ground(room_of(ROOM), grid((0.0, 0.0), (600.0, 1200.0)), METRIC, MainLines("along", 1, 0))
    assert list(ground.cells_under(box)) == cells
