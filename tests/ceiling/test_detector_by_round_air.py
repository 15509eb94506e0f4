"""A smoke detector near a round diffuser: NFPA 72 A.17.7.4 (second hand), 36 in from moving air. And: lights are no
sprinkler heads.
"""

import pytest
from ceiling.framing_rooms import grid
from ceiling.hand_layouts import FOOT, IMPERIAL, INCH, rectangle

from planner.ceiling.model import Service
from planner.ceiling.rules.built import Built
from planner.ceiling.rules.services import detector_near_air, sprinkler_distances
from planner.room.brief import GridWish


def told(x: float, y: float, angle: float = 0.0) -> list[str]:
    """What is said of a detector at a place, with a diffuser 18 in across at (100, 60): its rim at 109."""
    air = Service("S1", "supply_diffuser", (100 * INCH, 60 * INCH), (18 * INCH, 18 * INCH), True, (), (), 0.0)
    detector = Service("SD1", "smoke_detector", (x * INCH, y * INCH), (0.0, 0.0), True, (), (), 0.0)
    room = rectangle(20 * FOOT, 14 * FOOT, units="in")
    layout = grid((0, 0), (24 * INCH, 24 * INCH), angle)
    built = Built(room, GridWish("x"), IMPERIAL, layout, (air, detector))
    return [finding.message for finding in detector_near_air(built)]


@pytest.mark.parametrize("angle", [0.0, 45.0])
@pytest.mark.parametrize(("x", "y", "near"), [(144, 60, True), (145, 60, False), (131, 91, True), (132, 92, False)])
def test_from_the_rim_all_round_however_the_grid_lies(x: float, y: float, near: bool, angle: float) -> None:
    """144 - 109 = 35, 145 - 109 = 36. At 45 degrees: 31 √2 = 43.8 less 9 is 34.8; 32 √2 = 45.3 less 9 is 36.3."""
    assert bool(told(x, y, angle)) is near


def test_under_the_diffuser_itself_it_is_at_nothing() -> None:
    (message,) = told(103, 60)
    assert message.startswith('SD1 from S1: 0"') or message.startswith("SD1 from S1: 0 ")


def test_a_light_by_the_wall_is_no_sprinkler_head() -> None:
    """One head in the middle of 12 x 12 ft, 6 ft from each wall, which is well; a light 2 in from one is no matter."""
    head = Service("H1", "sprinkler", (6 * FOOT, 6 * FOOT), (0.0, 0.0), True, (), (), 0.0)
    light = Service("D1", "downlight", (2 * INCH, 6 * FOOT), (0.0, 0.0), True, (), (), 0.0)
    room = rectangle(12 * FOOT, 12 * FOOT, units="in")
    layout = grid((0, 0), (24 * INCH, 24 * INCH))
    assert not list(sprinkler_distances(Built(room, GridWish("x"), IMPERIAL, layout, (head, light))))
    assert not list(sprinkler_distances(Built(room, GridWish("x"), IMPERIAL, layout, (light,))))
    close = Service("H1", "sprinkler", (2 * INCH, 6 * FOOT), (0.0, 0.0), True, (), (), 0.0)
    assert list(sprinkler_distances(Built(room, GridWish("x"), IMPERIAL, layout, (close,))))
