"""Earthquakes, fire, age: what the building gives reason to say."""

import dataclasses
from itertools import pairwise

import pytest
from ceiling.framing_rooms import grid
from ceiling.hand_layouts import FOOT, IMPERIAL, INCH, METRIC, rectangle, room_of, square_column
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import Polygon, box, union_all

from planner.ceiling.checks import cautions
from planner.ceiling.framing import frame
from planner.ceiling.holding.bracing import brace_of, braces
from planner.ceiling.mains import MainLines
from planner.ceiling.model import Service
from planner.ceiling.rules.built import Built
from planner.ceiling.rules.seismic import (
    lateral_bracing,
    overlap_on_ledge,
    seismic_duty,
    seismic_ledge,
    seismic_perimeter,
    seismic_rings,
    separation_joint,
)
from planner.ceiling.rules.site import asbestos_age, fire_rated, first_joist, wiring
from planner.ceiling.system import HangingLimits
from planner.room.brief import GridWish
from planner.room.outline import Joists
from planner.room.site import Site

LAYOUT = grid((12 * INCH, 10 * INCH), (24 * INCH, 24 * INCH))
MAINS = MainLines("along", 2, 1)
ANY_GRID = GridWish("x")


def of_duty(duty, ledge=7 / 8):
    return dataclasses.replace(IMPERIAL, hanging=HangingLimits(48 * INCH, 48 * INCH, duty), ledge=ledge * INCH)


def built(category=None, square_feet=400.0, system=IMPERIAL, services=(), wish=ANY_GRID, **site):
    room = rectangle(20 * FOOT, square_feet / 20 * FOOT, units="ft-in", site=Site(seismic=category, **site))
    members = frame(room, LAYOUT, system, MAINS)
    return Built(room, wish, system, LAYOUT, services, members, (), braces(room, LAYOUT, members))


@pytest.mark.parametrize("category", [None, "A", "B"])
def test_quiet_places_hear_nothing(category):
    place = built(category, 3000, services=(Service("H1", "sprinkler", (9, 9), (5, 5), True, (), (), 0.0),))
    for rule in (seismic_perimeter, seismic_ledge, seismic_duty, seismic_rings, lateral_bracing, separation_joint):
        assert list(rule(place)) == []


def test_of_a_ceiling_fixed_to_the_joists_nothing_is_asked():
    """ASTM E580 is for hung ceilings."""
    place = built("D", 3000, system=dataclasses.replace(IMPERIAL, fixing="direct"))
    for rule in (seismic_perimeter, seismic_ledge, seismic_duty, lateral_bracing, separation_joint):
        assert list(rule(place)) == []


@pytest.mark.parametrize(("ledge", "gap", "overlap"), [(7 / 8, 3 / 8, 0.5), (2, 3 / 4, 1.25)])
def test_a_tee_on_its_ledge(ledge, gap, overlap):
    """CV-43, ASTM E580 second hand: 0.5 in (3/8 is enough) in category C, 1.25 in D."""
    assert overlap_on_ledge(ledge, gap) == overlap >= 3 / 8


@pytest.mark.parametrize(
    ("category", "ledge", "told"), [("C", 7 / 8, False), ("C", 3 / 4, True), ("D", 2, False), ("D", 7 / 8, True)]
)
def test_ledges(category, ledge, told):
    """7/8 in at least in category C, 2 in in D to F (ASTM E580, second hand; 2 in Anchorage AK handout)."""
    found = list(seismic_ledge(built(category, system=of_duty("heavy", ledge))))
    assert bool(found) is told
    assert all(finding.severity == "warn" and "E580" in finding.source for finding in found)


@pytest.mark.parametrize(
    ("category", "duty", "told"),
    [("C", "light", True), ("C", "intermediate", False), ("D", "intermediate", True), ("E", "heavy", False)],
)
def test_duty(category, duty, told):
    """Intermediate or heavy in C, heavy in D to F."""
    assert bool(list(seismic_duty(built(category, system=of_duty(duty))))) is told


def test_perimeters():
    (free,) = seismic_perimeter(built("C"))
    assert '3/8" short of the wall and is fixed to none' in free.message
    (fixed,) = seismic_perimeter(built("D"))
    assert 'fixed at A-B and D-A; anywhere else they stop 3/4" short' in fixed.message
    assert "exempt" not in fixed.remedy
    (small,) = seismic_perimeter(built("D", 144))
    assert "144 sq ft" in small.remedy


def test_a_metric_room_hears_metres():
    """250 m2 is over 2500 ft2 = 232.3 m2; 12 ft is 3658 mm."""
    room = rectangle(10000, 25000, site=Site(seismic="D"))
    members = frame(room, grid((300, 300), (600, 600)), METRIC, MAINS)
    place = Built(room, ANY_GRID, METRIC, grid((300, 300), (600, 600)), (), members, (), ((300.0, 300.0),))
    (joint,), (braced,) = separation_joint(place), lateral_bracing(place)
    assert joint.message == "250.0 m² of ceiling in one piece; over 232.3 m² it is divided."
    assert braced.message.startswith("250.0 m² of ceiling are braced") and "3658 mm apart" in braced.remedy


def test_a_narrow_ledge_tells_what_is_left_of_it():
    """Ledge 15/16 in, gap 3/4: a tee end lies on 3/16 of it, a panel 1/4 smaller than its module on nothing."""
    (found,) = seismic_ledge(built("D", system=of_duty("heavy", 15 / 16)))
    assert found.message.endswith('lies on it by 3/16", a panel that moves with the grid by 0".')
    (wide,) = seismic_ledge(built("D", system=of_duty("heavy", 1.75)))
    assert wide.message.endswith('lies on it by 1", a panel that moves with the grid by 3/4".')


def test_rings_round_sprinklers():
    heads = tuple(Service(f"H{k}", "sprinkler", (900, 900), (50, 50), True, (), (), 0.0) for k in (1, 2))
    (finding,) = seismic_rings(built("D", services=heads))
    assert finding.message.startswith('2 sprinkler heads: holes 2" wider')
    assert list(seismic_rings(built("C", services=heads))) == []


@pytest.mark.parametrize(
    ("category", "feet", "braced", "joint"),
    [
        ("D", 999, False, False),
        ("D", 1000, False, False),
        ("D", 1001, True, False),
        ("D", 2500, True, False),
        ("F", 2501, True, True),
        ("C", 2501, False, False),
    ],
)
def test_when_a_ceiling_is_braced_and_divided(category, feet, braced, joint):
    """CV-36: bracing over 1000 ft2 (ASTM E580 s. 1.5), a joint over 2500 (second hand)."""
    place = built(category, feet, of_duty("heavy", 2))
    assert bool(list(lateral_bracing(place))) is braced is bool(place.braces)
    assert bool(list(separation_joint(place))) is joint


class TestBraces:
    def test_points_are_on_mains_and_cross_tees_and_near_enough(self):
        """A room of 20 x 60 ft: rows on mains at 34 + 48k in, points at 12 + 24k in (Daly City CA handout).

        Along 240 in the first is within 72 in: 60; then within 144: 204, 36 in from B-C.
        """
        place = built("D", 1200, of_duty("heavy", 2))
        xs = sorted({round(x / INCH, 3) for x, _ in place.braces})
        ys = sorted({round(y / INCH, 3) for _, y in place.braces})
        assert xs == [60, 204]
        assert all((y - 34) % 48 == 0 for y in ys)
        assert ys[0] <= 72 and 720 - ys[-1] <= 72
        assert max(b - a for a, b in pairwise(ys)) <= 144
        assert len(place.braces) == len(xs) * len(ys)

    def test_the_finding_gives_the_points(self):
        (finding,) = lateral_bracing(built("D", 1200, of_duty("heavy", 2)))
        assert "5'-0\", 17'-0\" along A-B, each 2'-10\"" in finding.message
        assert "four splayed 12 gauge wires" in finding.remedy
        assert finding.where is None  # the plan of the framing shows every point

    def test_in_a_room_with_a_recess_they_are_listed(self):
        """An L of 40 x 40 ft less 20 x 20: 1200 ft2."""
        room = room_of(
            *(
                (0, 0),
                (40 * FOOT, 0),
                (40 * FOOT, 20 * FOOT),
                (20 * FOOT, 20 * FOOT),
                (20 * FOOT, 40 * FOOT),
                (0, 40 * FOOT),
            ),
            units="ft-in",
            site=Site(seismic="D"),
        )
        members = frame(room, LAYOUT, IMPERIAL, MAINS)
        place = Built(room, GridWish("x"), IMPERIAL, LAYOUT, (), members, (), braces(room, LAYOUT, members))
        (finding,) = lateral_bracing(place)
        assert f"at {len(place.braces)} points: along A-B and from it 5'-0\", 2'-10\"; " in finding.message
        assert not any(x > 20 * FOOT and y > 20 * FOOT for x, y in place.braces)

    def test_a_recess_has_a_row_near_enough_to_its_own_wall(self):
        """40 ft wide; 40 ft deep up to x = 20 ft, 22-1/2 ft beyond. Mains at 34 + 48k in.

        The deep part, 480 in, is kept by rows at 34 and every 144 in on: 178, 322, 466. The recess ends at 270 in, 92
        from 178, more than 72: it takes one more, at 226 (274 is beyond its wall).
        """
        corners = ((0, 0), (480, 0), (480, 270), (240, 270), (240, 480), (0, 480))
        room = room_of(*((x * INCH, y * INCH) for x, y in corners), units="ft-in", site=Site(seismic="D"))
        found = braces(room, LAYOUT, frame(room, LAYOUT, IMPERIAL, MAINS))
        assert {round(y / INCH) for _, y in found} == {34, 178, 226, 322, 466}
        assert all(x > 240 * INCH for x, y in found if round(y / INCH) == 226)

    def test_a_column_is_no_wall_and_holds_no_brace(self):
        """A row of 480 in: 60 (the last crossing within 72), then by 144: 204, 348, 468. A column of 16 in round 206 x
        34 takes the crossing at 204: the row goes on at 180, and by 144: 324, 468.
        """
        room = rectangle(480 * INCH, 360 * INCH, units="ft-in", site=Site(seismic="D"))
        plain = braces(room, LAYOUT, frame(room, LAYOUT, IMPERIAL, MAINS))
        assert row(plain, 34) == [60, 204, 348, 468] and len({y for _, y in plain}) * 4 == len(plain)
        room = dataclasses.replace(room, columns=(square_column("P", 198 * INCH, 26 * INCH, 16 * INCH),))
        found = braces(room, LAYOUT, frame(room, LAYOUT, IMPERIAL, MAINS))
        assert row(found, 34) == [60, 180, 324, 468]
        assert [spot for spot in found if round(spot[1] / INCH) != 34] == [
            spot for spot in plain if round(spot[1] / INCH) != 34
        ]

    @settings(max_examples=40, deadline=None)
    @given(st.tuples(*[st.integers(60, 160)] * 2), st.tuples(*[st.floats(0.2, 0.8)] * 2))
    def test_no_place_is_further_than_6_ft_from_a_brace_either_way(self, sides, recess):
        """An L of any size: squares of 12 ft round the braces cover all of the floor, but for what a module rounds."""
        (width, depth), (x, y) = (side * 100.0 for side in sides), recess
        corners = ((0, 0), (width, 0), (width, y * depth), (x * width, y * depth), (x * width, depth), (0, depth))
        room, layout = room_of(*corners, site=Site(seismic="D")), grid((300.0, 300.0), (600.0, 600.0))
        assume(room.area > 1000 * FOOT**2)
        spots = braces(room, layout, frame(room, layout, METRIC, MAINS))
        squares = union_all([box(x - 1830, y - 1830, x + 1830, y + 1830) for x, y in spots])
        assert Polygon(room.outline).difference(squares).area < 0.001 * room.area

    def test_wires_and_posts(self):
        """4 ft from grid to joists: a post of 48 in; a wire at 45 degrees is 48 x sqrt(2), and 12 in for its ties."""
        room = rectangle(20 * FOOT, 60 * FOOT, units="ft-in", ceiling_height=9 * FOOT, underside=13 * FOOT)
        brace = brace_of(room)
        assert brace.post == pytest.approx(48 * INCH)
        assert brace.wire == pytest.approx((48 * 2**0.5 + 12) * INCH)
        assert brace_of(rectangle(20 * FOOT, 60 * FOOT)) is None

    def test_where_joists_are_known_braces_stand_under_them_and_by_cross_tees_if_they_can(self):
        """Lines of cross tees at 12 + 24k in, 240 in long; joists every 16 in.

        From 11 in: 11, 27, 43, 59 ...; by a cross tee (12, 36, 60 ...) are 11, 59, 107 ... 203: 59 <= 72, then 203, 144
        on and 37 from the wall. From 6 in: 6, 22, 38, 54, 70 ... lies within 2 in of 12 + 24k at 38, 86, 134, 182, 230.
        38 <= 72, then 182 (144 on), 58 from the wall. From 8 in none is: 8, 24, 40, 56, 72 ... are 4, 12, 4, 4 in off:
        72, then 216. Rows lie on mains at 34 + 144k, and one at 706, as 720 - 610 > 72: 6 rows of 2, all told.
        """
        assert braced_under(Joists(16 * INCH, 11 * INCH, "across")) == ([59, 203], "")
        assert braced_under(Joists(16 * INCH, 6 * INCH, "across")) == ([38, 182], "")
        xs, told = braced_under(Joists(16 * INCH, 8 * INCH, "across"))
        assert xs == [72, 216]
        assert told == 'Under a joist, but further than 2" from a cross tee: 12.'

    def test_where_joists_keep_no_distances_that_is_said(self):
        """Joists along the mains at 16 + 16k in are crossed by none; mains at 34 + 48k in lie 2 in off or more.

        So they stand on cross tees, as without joists. Joists 96 in apart from 80 in on: 80 > 72 from the wall.
        """
        assert braced_under(Joists(16 * INCH, 16 * INCH, "along"))[0] == [60, 204]
        for joists in (Joists(16 * INCH, 16 * INCH, "along"), Joists(96 * INCH, 80 * INCH, "across")):
            xs, told = braced_under(joists)
            assert xs == [60, 204]
            assert told == "Under no joist, for no crossing of a main and a joist keeps the distances: 12."


def braced_under(joists):
    """Where braces stand along A-B in a room of 20 x 60 ft, and what the finding says of those that want something."""
    room = rectangle(20 * FOOT, 60 * FOOT, units="ft-in", site=Site(seismic="D"), joists=joists)
    members = frame(room, LAYOUT, IMPERIAL, MAINS)
    place = Built(room, ANY_GRID, IMPERIAL, LAYOUT, (), members, (), braces(room, LAYOUT, members))
    (finding,) = lateral_bracing(place)
    return sorted({round(x / INCH) for x, _ in place.braces}), finding.message.partition(" from it. ")[2]


def row(spots, y):
    """How far along A-B the spots of one row stand, in inches."""
    return sorted(round(x / INCH) for x, at in spots if round(at / INCH) == y)


def test_joists_of_which_none_was_found():
    """Wires hang from joists, and nobody has said where one lies."""
    found, lost = (Joists(16 * INCH, 0.0, "across", found=known) for known in (True, False))
    room = rectangle(12 * FOOT, 10 * FOOT, units="ft-in", joists=lost)
    (finding,) = first_joist(Built(room, ANY_GRID, IMPERIAL, LAYOUT, ()))
    assert finding.severity == "warn" and "corner A" in finding.message and "first: ..." in finding.remedy
    for known in (found, None):
        assert list(first_joist(Built(dataclasses.replace(room, joists=known), ANY_GRID, IMPERIAL, LAYOUT, ()))) == []


class TestSite:
    @pytest.mark.parametrize(("year", "told"), [(1972, True), (1980, True), (1981, False), (None, False)])
    def test_asbestos(self, year, told):
        """29 CFR 1926.1101: presumed in buildings up to 1980."""
        found = list(asbestos_age(built(built=year)))
        assert bool(found) is told
        assert all(finding.severity == "warn" and "tested" in finding.remedy for finding in found)

    @pytest.mark.parametrize(("year", "told"), [(1977, True), (1978, False)])
    def test_lead(self, year, told):
        """40 CFR 745: housing before 1978."""
        (finding,) = asbestos_age(built(built=year))
        assert ("lead" in finding.message) is told

    @pytest.mark.parametrize(("kg_m2", "clips"), [(4.8, True), (4.8825, False), (None, False)])
    def test_fire_rated(self, kg_m2, clips):
        """Panels under 1.0 psf (4.9 kg/m2) need clips in rated designs (a supplier's glossary)."""
        (finding,) = fire_rated(built(fire_rated=True, wish=GridWish("x", panel_kg_m2=kg_m2)))
        assert "listed design" in finding.message and ("hold-down clips" in finding.message) is clips
        assert list(fire_rated(built())) == []

    def test_wiring_in_a_rated_ceiling(self):
        """NEC 300.11: independent wires, marked."""
        lights = (Service("L1", "troffer", (900, 900), (610, 610), False, (), (), 0.0),)
        assert list(wiring(built(fire_rated=True))) == list(wiring(built(services=lights))) == []
        (finding,) = wiring(built(fire_rated=True, services=lights))
        assert finding.message.startswith("1 electric services")


@pytest.mark.parametrize(
    ("site", "words"),
    [
        (Site(built=1972), "Built 1972"),
        (Site(fire_rated=True), "This ceiling is fire-rated"),
        (Site(seismic="E"), "Seismic design category E"),
    ],
)
def test_cautions_speak_of_this_building(site, words):
    room = rectangle(3000, 2400, site=site)
    sentences = cautions(room, IMPERIAL, room.ceiling_height)
    assert any(sentence.startswith(words) for sentence in sentences)
    assert all(len(sentence) <= 110 and sentence.endswith(".") for sentence in sentences)
    assert len(sentences) == len(cautions(rectangle(3000, 2400), IMPERIAL, None))
