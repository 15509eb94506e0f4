"""Earthquakes, fire, age: what the building gives reason to say."""

import dataclasses
from itertools import pairwise

import pytest
from ceiling.framing_rooms import grid
from ceiling.hand_layouts import FOOT, IMPERIAL, INCH, rectangle, room_of

from planner.ceiling.checks import cautions
from planner.ceiling.framing import frame
from planner.ceiling.holding.bracing import braces
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
from planner.ceiling.rules.site import asbestos_age, fire_rated, wiring
from planner.ceiling.system import HangingLimits
from planner.room.brief import GridWish
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
    assert "two walls" in fixed.message and '3/4" free' in fixed.message
    assert "exempt" not in fixed.remedy
    (small,) = seismic_perimeter(built("D", 144))
    assert "144 ft2" in small.remedy


def test_rings_round_sprinklers():
    heads = tuple(Service(f"H{k}", "sprinkler", (900, 900), (50, 50), True, (), (), 0.0) for k in (1, 2))
    (finding,) = seismic_rings(built("D", services=heads))
    assert finding.message.startswith("2 sprinkler heads: holes 2 in wider")
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
        assert "four splayed 12 gauge wires" in finding.remedy and finding.where is not None

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
    sentences = cautions(room, IMPERIAL)
    assert any(sentence.startswith(words) for sentence in sentences)
    assert all(len(sentence) <= 110 and sentence.endswith(".") for sentence in sentences)
    assert len(sentences) == len(cautions(rectangle(3000, 2400), IMPERIAL))
