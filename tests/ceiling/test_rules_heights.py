"""Given this room, its use and this grid, the rules about heights and bearing say that."""

import dataclasses

import pytest
from ceiling.framing_rooms import grid
from ceiling.hand_layouts import IMPERIAL, INCH, METRIC, TWO_BY_TWO, rectangle

from planner.ceiling.rules.borders import bearing_on_tee, panel_bearing
from planner.ceiling.rules.built import Built
from planner.ceiling.rules.heights import finished_height, high_work
from planner.room.brief import GridWish
from planner.room.site import Site


def built(system=IMPERIAL, **room):
    return Built(rectangle(4000, 3000, units="in", **room), GridWish(system.name), system, grid((0, 0), TWO_BY_TWO), ())


@pytest.mark.parametrize(
    ("undersize", "face", "bearing"),
    [(INCH / 4, 15 / 16 * INCH, 0.34375 * INCH), (INCH / 4, 9 / 16 * INCH, 0.15625 * INCH), (5, 24, 9.5), (5, 15, 5)],
)
def test_how_far_a_panel_rests_on_its_tees(undersize, face, bearing):
    """CV-23 to CV-25: (face - undersize) / 2, as with 23.75 in a module of 24 and 595 in one of 600."""
    system = dataclasses.replace(IMPERIAL, panel_undersize=undersize, tee_face=face)
    assert bearing_on_tee(system) == pytest.approx(bearing)


def test_wide_faces_have_nothing_to_say():
    assert list(panel_bearing(built())) == []
    assert list(panel_bearing(built(METRIC))) == []


def test_narrow_faces_and_narrow_ledges_are_a_note():
    """CV-24: 5/32 in on a face of 9/16 in; 1/2 in of ledge less 1/4 in is still a quarter."""
    narrow = dataclasses.replace(IMPERIAL, tee_face=9 / 16 * INCH, ledge=INCH / 2)
    (finding,) = panel_bearing(built(narrow))
    assert finding.severity == "note" and "from memory" in finding.source
    assert finding.message == 'Panels rest 3/16" on the tees at each side; 1/4" is usual.'
    (finding,) = panel_bearing(built(dataclasses.replace(narrow, ledge=0.4 * INCH)))
    assert "on the tees and" in finding.message and "on the wall angle" in finding.message


@pytest.mark.parametrize(
    ("use", "inches", "severity"),
    [
        ("habitable", 84, None),
        ("habitable", 83.9, "warn"),
        ("bath", 80, None),
        ("bath", 79.9, "warn"),
        ("basement", 80, None),
        ("other", 76, None),
        (None, 84, None),
        (None, 83.9, "note"),
    ],
)
def test_finished_height_by_use(use, inches, severity):
    """CV-44, IRC R305.1: 7 ft in habitable rooms; 6 ft 8 in in baths and basements nobody lives in."""
    found = list(finished_height(built(ceiling_height=inches * INCH, site=Site(use=use))))
    assert [finding.severity for finding in found] == ([severity] if severity else [])


@pytest.mark.parametrize(("feet", "told"), [(10, False), (10.1, True), (None, False)])
def test_high_work(feet, told):
    """29 CFR 1926.451, from memory: over 10 ft."""
    height = None if feet is None else feet * 304.8
    assert bool(list(high_work(built(ceiling_height=height)))) is told
