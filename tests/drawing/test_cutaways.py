"""Notches, corners and holes of panels: which are told by their legs, and which only by a template."""

import pytest
import shapely
from shapely import Point, Polygon

from planner.drawing.cutaways import cutaways, halving

SIDE = 595.0
WHOLE = shapely.box(0, 0, SIDE, SIDE)


def told(piece: Polygon) -> list[tuple[str, tuple[float, float]]]:
    found = cutaways(piece)
    assert found is not None
    return [(each.kind, tuple(round(leg, 1) for leg in each.size)) for each in found]


def test_a_notch_is_told_by_width_and_depth() -> None:
    assert told(WHOLE.difference(shapely.box(0, 395, 120, SIDE))) == [("notch", (120, 200))]


def test_a_corner_is_told_by_its_legs() -> None:
    """A tape reads no angle: 193 along one edge, 193 along the other, and the cut from end to end."""
    assert told(Polygon([(0, 0), (SIDE, 0), (SIDE, 402), (402, SIDE), (0, SIDE)])) == [("corner", (193, 193))]


def test_a_hole_round_a_column_is_told_and_where_the_panel_is_cut_in_two_for_it() -> None:
    """The hole's middle is 200 from the left and 300 from the front: the shorter way to an edge goes left."""
    hole = shapely.box(100, 150, 300, 450)
    piece = WHOLE.difference(hole)
    assert told(piece) == [("hole", (200, 300))]
    assert halving(piece, hole) == (((0.0, 300.0), (100.0, 300.0)), ((300.0, 300.0), (595.0, 300.0)))


def test_a_round_hole_is_told_by_its_diameter() -> None:
    assert told(WHOLE.difference(Point(300, 200).buffer(51))) == [("round hole", (102, 102))]


@pytest.mark.parametrize("off", [Point(0, 300).buffer(80), Polygon([(500, 0), (SIDE, 0), (SIDE, 90), (540, 60)])])
def test_a_bow_or_a_skew_notch_needs_its_template(off: Polygon) -> None:
    assert cutaways(WHOLE.difference(off)) is None


def test_what_a_tape_does_not_show_is_not_told() -> None:
    assert told(WHOLE.difference(shapely.box(594.2, 0, SIDE, 300))) == []
