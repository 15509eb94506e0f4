"""How the border along a wall is told: one width, both ends where it tapers, or that it varies."""

import pytest
from drawing.hand_plans import hand_plan, room
from drawing.whole_sheets import ceiling_plan, check

from planner.drawing.shapes import Dimension
from planner.drawing.stylebook import load_style
from planner.drawing.wall_borders import border_feet, border_text, tapered_ends
from planner.drawing.wish import SheetWish
from planner.geometry import distance

ISO = load_style("iso-13567")

#: The wall C-D falls by 60 mm over 4000; D-A is upright; B-C leans in by 1000 over 3000.
CROOKED = ((0.0, 0.0), (5000.0, 0.0), (4000.0, 3000.0), (0.0, 3060.0))


def crooked():
    """Grid lines at y = 400 + 600 k: the last below the wall C-D is 2800."""
    return hand_plan(room(CROOKED), origin=(300.0, 400.0))


def wall(made, name):
    return next(wall for wall in made.room.walls if wall.name == name)


def test_a_wall_along_the_grid_has_one_border():
    made = crooked()
    assert tapered_ends(made.ceiling.layout, wall(made, "A-B")) is None
    assert border_text(made, wall(made, "A-B")) == "400"


def test_a_tapered_wall_has_a_border_at_each_end():
    """C lies at 3000, 200 above the line at 2800; D at 3060, 260 above it."""
    made = crooked()
    assert tapered_ends(made.ceiling.layout, wall(made, "C-D")) == pytest.approx((200.0, 260.0))
    assert border_text(made, wall(made, "C-D")) == "200 at C, 260 at D"


def test_a_wall_that_grid_lines_cross_varies():
    made = crooked()
    assert tapered_ends(made.ceiling.layout, wall(made, "B-C")) == "varies"
    assert border_text(made, wall(made, "B-C")) == "varies"


def test_feet_of_a_border_lie_on_the_wall_and_on_the_grid_line():
    """Halfway along C-D the wall is at (2000, 3030), the line at (2000, 2800): 230."""
    made = crooked()
    feet = border_feet(made.ceiling.layout, wall(made, "C-D"), 0.5)
    assert feet == (pytest.approx((2000.0, 3030.0)), pytest.approx((2000.0, 2800.0)))
    assert distance(*feet) == pytest.approx(230.0)


def test_a_tapered_border_is_dimensioned_near_both_its_ends():
    made = crooked()
    sheet = ceiling_plan(made, ISO, SheetWish())
    check(sheet, ISO)
    told = [s.text for s in sheet.windows[0].drawing.shapes if isinstance(s, Dimension) and s.text_angle_deg == 90.0]
    borders = sorted(float(text) for text in told if 200.0 < float(text) < 260.0)
    assert len(borders) == 2
    assert borders[0] < 215.0 and borders[1] > 245.0
