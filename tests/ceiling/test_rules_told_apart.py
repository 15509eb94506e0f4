"""What rules say at their edges: of sprinklers alone, of half a millimetre, of nine points, of square feet."""

import dataclasses
import math

import pytest
from ceiling.framing_rooms import grid
from ceiling.hand_layouts import FOOT, IMPERIAL, INCH, rectangle

from planner.ceiling.model import FirstCuts, Service
from planner.ceiling.rules.built import Built
from planner.ceiling.rules.seismic import lateral_bracing, seismic_rings, separation_joint
from planner.ceiling.rules.services import sprinkler_distances
from planner.ceiling.rules.splices import staggered_joints
from planner.ceiling.system import HangingLimits
from planner.geometry import Point
from planner.room.brief import GridWish
from planner.room.site import Site
from planner.runs.choose import begin_runs
from planner.runs.job import Bar, Cut, Job, Run

LAYOUT = grid((12 * INCH, 10 * INCH), (24 * INCH, 24 * INCH))


def head(name: str, x: float, y: float, kind: str = "sprinkler") -> Service:
    return Service(name, kind, (x * INCH, y * INCH), (0.0, 0.0), True, (), (), 0.0)  # type: ignore[arg-type]


def braced(square_feet: float, *braces: Point, services: tuple[Service, ...] = (), imperial: bool = True) -> Built:
    """A room 20 ft wide in category D."""
    units = "ft-in" if imperial else "mm"
    room = rectangle(20 * FOOT, square_feet / 20 * FOOT, units=units, site=Site(seismic="D"))
    heavy = dataclasses.replace(IMPERIAL, hanging=HangingLimits(48 * INCH, 48 * INCH, "heavy"))
    return Built(room, GridWish("x"), heavy, LAYOUT, services, (), (), braces)


# Sprinklers


def test_only_sprinkler_heads_have_sprinkler_distances() -> None:
    """Two heads cover 20 x 14 ft; a downlight 3 in from a wall and 20 in from a head is no matter."""
    room = rectangle(20 * FOOT, 14 * FOOT, units="in")
    services = (
        head("H1", 60, 84),
        head("H2", 180, 84),
        head("D1", 60, 3, "downlight"),
        head("D2", 80, 84, "downlight"),
    )
    assert list(sprinkler_distances(Built(room, GridWish("x"), IMPERIAL, LAYOUT, services))) == []
    assert list(sprinkler_distances(Built(room, GridWish("x"), IMPERIAL, LAYOUT, services[2:]))) == []


def test_only_sprinkler_heads_want_rings() -> None:
    services = (head("H1", 60, 84), head("H2", 180, 84), head("D1", 60, 3, "downlight"))
    (finding,) = seismic_rings(braced(280, services=services))
    assert finding.message.startswith("2 sprinkler heads")
    assert list(seismic_rings(braced(280, services=services[2:]))) == []


# Bracing


def test_square_feet_are_feet_by_feet() -> None:
    """20 x 130 ft are 2600 sq ft; over 2500 the ceiling is divided."""
    place = braced(2600)
    (joint,) = separation_joint(place)
    assert joint.message == "2600 sq ft of ceiling in one piece; over 2500 sq ft it is divided."
    (bracing,) = lateral_bracing(place)
    assert bracing.message.startswith("2600 sq ft of ceiling are braced, at 0 points")


def test_square_metres_are_metres_by_metres() -> None:
    """2600 sq ft are 2600 x 0.3048^2 = 241.548 m², 2500 are 232.258."""
    (joint,) = separation_joint(braced(2600, imperial=False))
    assert joint.message == "241.5 m² of ceiling in one piece; over 232.3 m² it is divided."


@pytest.mark.parametrize(("feet", "braces", "divided"), [(1000, 0, 0), (1001, 1, 0), (2500, 1, 0), (2501, 1, 1)])
def test_over_so_much_is_not_just_so_much(feet: float, braces: int, divided: int) -> None:
    place = braced(feet)
    assert (len(list(lateral_bracing(place))), len(list(separation_joint(place)))) == (braces, divided)


@pytest.mark.parametrize(("count", "more"), [(8, ""), (9, "; 1 more"), (11, "; 3 more")])
def test_of_many_points_out_of_rank_the_first_eight_are_told(count: int, more: str) -> None:
    """One to a foot, each a foot further up: no two in line."""
    (finding,) = lateral_bracing(braced(1200, *((k * FOOT, k * FOOT) for k in range(1, count + 1))))
    points = "; ".join(f"{k}'-0\", {k}'-0\"" for k in range(1, 9))
    assert f"at {count} points: along A-B and from it {points}{more}." in finding.message


# Splices


@pytest.mark.parametrize(("second", "told"), [(2400.0, False), (2399.9, True), (2399.5, True)])
def test_splices_that_are_too_near_by_a_tenth_are_too_near(second: float, told: bool) -> None:
    """The first is spliced at 1800: 600 further on is 2400."""
    runs = tuple(
        Run(name, 0.0, (Cut(math.floor(at * 10), 0, 20_000, at),), (1 - k,))
        for k, (name, at) in enumerate((("M1", 1800.0), ("M2", second)))
    )
    cuts = FirstCuts("main tee", begin_runs(Job(Bar(36_000), runs, (), 600.0), 0.0))
    place = dataclasses.replace(braced(280), first_cuts=(cuts,))
    assert bool(list(staggered_joints(place))) is told
