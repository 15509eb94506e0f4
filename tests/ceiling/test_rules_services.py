"""Distances between services that published standards name."""

import pytest
from ceiling.framing_rooms import grid
from ceiling.hand_layouts import FOOT, IMPERIAL, INCH, rectangle

from planner.ceiling.model import Service
from planner.ceiling.rules.built import Built
from planner.ceiling.rules.services import detector_near_air, sprinkler_distances
from planner.room.brief import GridWish


def service(name, kind, x, y, size=(0.0, 0.0), round_=True):
    return Service(name, kind, (x * INCH, y * INCH), (size[0] * INCH, size[1] * INCH), round_, (), (), 0.0)


def built(*services, width=20 * FOOT, depth=14 * FOOT, angle=0.0):
    room = rectangle(width, depth, units="in")
    return Built(room, GridWish("x"), IMPERIAL, grid((0, 0), (24 * INCH, 24 * INCH), angle), services)


class TestDetector:
    """NFPA 72 A.17.7.4: 36 in from supply and return air. The grille is 24 x 24 at (100, 60): its edge at 112."""

    GRILLE = service("S1", "supply_diffuser", 100, 60, (24, 24), False)

    @pytest.mark.parametrize(("x", "told"), [(148, False), (147, True), (100, True)])
    def test_beside_a_grille(self, x, told):
        assert bool(list(detector_near_air(built(self.GRILLE, service("SD1", "smoke_detector", x, 60))))) is told

    def test_past_a_corner(self):
        """From the corner (112, 72) to (137, 97) it is 25 x sqrt(2) = 35.4 in; to (138, 98) 36.8."""
        assert list(detector_near_air(built(self.GRILLE, service("SD1", "smoke_detector", 137, 97))))
        assert not list(detector_near_air(built(self.GRILLE, service("SD1", "smoke_detector", 138, 98))))

    def test_the_grille_turns_with_the_grid(self):
        """Turned by 45 degrees its corner reaches 12 x sqrt(2) = 17 in: 152 is 35 in from it, 154 is 37."""
        near, far = (service("SD1", "smoke_detector", x, 60) for x in (152, 154))
        assert list(detector_near_air(built(self.GRILLE, near, angle=45.0)))
        assert not list(detector_near_air(built(self.GRILLE, far, angle=45.0)))

    def test_several_are_told_at_once(self):
        detectors = [service(f"SD{k}", "smoke_detector", 100 + k, 60) for k in (1, 2)]
        (finding,) = detector_near_air(built(self.GRILLE, *detectors))
        assert finding.severity == "warn"
        assert finding.message.startswith("SD1 from S1, SD2 from S1: 0")

    def test_other_services_are_no_matter(self):
        assert not list(detector_near_air(built(self.GRILLE, service("D1", "downlight", 110, 60))))


class TestSprinklers:
    """NFPA 13 for light hazard, second hand. The room is 20 x 14 ft."""

    def heads(self, *places):
        return [service(f"H{k}", "sprinkler", x, y) for k, (x, y) in enumerate(places, 1)]

    def message(self, *places):
        return [(f.severity, f.message) for f in sprinkler_distances(built(*self.heads(*places)))]

    def test_two_heads_cover_it(self):
        """At 60 and 180 in along, 84 away: walls at most 84 (7 ft), each other 120 (10 ft)."""
        assert self.message((60, 84), (180, 84)) == []

    def test_no_heads_no_word(self):
        assert self.message() == []

    def test_too_near_a_wall(self):
        """4 in at least."""
        assert self.message((4, 84), (90, 84), (170, 84)) == []
        assert self.message((3.9, 84), (90, 84), (170, 84)) == [("warn", 'Sprinkler heads: H1 under 4" from a wall.')]

    def test_walls_without_a_head(self):
        """One head at 84, 84: B-C is 240 - 84 = 156 in away, the others 84."""
        assert self.message((84, 84)) == [("note", 'Sprinkler heads: none within 90" of B-C.')]

    def test_too_close_and_too_far_from_each_other(self):
        """71 in is under 6 ft; in a room of 40 ft, 60 and 241 are 181 apart, over 15 ft."""
        assert self.message((60, 84), (131, 84), (205, 84)) == [("note", 'Sprinkler heads: H1, H2 under 72" apart.')]
        wide = built(*self.heads((60, 84), (241, 84)), width=27 * FOOT)
        (finding,) = sprinkler_distances(wide)
        assert finding.message == 'Sprinkler heads: H1, H2 over 180" from the next.'
