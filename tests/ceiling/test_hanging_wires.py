"""Wires of services by weight, and wires at walls for earthquakes."""

import dataclasses

import pytest
from ceiling.framing_rooms import grid
from ceiling.hand_layouts import FOOT, IMPERIAL, INCH, rectangle

from planner.ceiling.framing import frame
from planner.ceiling.hanging import hang
from planner.ceiling.holding.service_wires import service_wires, unweighed, weight_said, wires_for
from planner.ceiling.holding.wall_wires import wanted
from planner.ceiling.mains import MainLines
from planner.ceiling.model import Service
from planner.ceiling.system import HangingLimits
from planner.geometry import distance
from planner.room.outline import Joists
from planner.room.site import Site

POUND = 0.45359237
ROOM = rectangle(5000, 4000, units="ft-in")
LAYOUT = grid((0.0, 0.0), (24 * INCH, 24 * INCH))


def light(name="L1", pounds=None, kind="troffer", size=(600, 1200), at=(2000, 1500), round_=False):
    return Service(name, kind, at, size, round_, (), (), 0.0, None if pounds is None else pounds * POUND)


@pytest.mark.parametrize(("pounds", "wires"), [(8, 1), (9.99, 1), (10, 2), (35, 2), (56, 2), (56.01, None), (60, None)])
def test_wires_by_weight(pounds, wires):
    """CV-38, Everett WA handout: under 10 lb one, 10 to 56 two, over 56 from the structure; at 10 sources differ."""
    assert wires_for(pounds * POUND) == wires


def test_two_wires_are_at_opposite_corners():
    """A light of 600 x 1200 at (2000, 1500): corners (1700, 900) and (2300, 2100)."""
    wires = service_wires(ROOM, LAYOUT, [light(pounds=18)]).hangers
    assert [wire.at for wire in wires] == [(1700, 900), (2300, 2100)]
    assert {(wire.kind, wire.member) for wire in wires} == {("service wire", "L1")}


def test_corners_turn_with_the_grid():
    """Turned by 90 degrees, the corner (300, 600) from the middle is at (-600, 300)."""
    wires = service_wires(ROOM, grid((0.0, 0.0), (600.0, 600.0), 90.0), [light(pounds=18)]).hangers
    assert wires[1].at == pytest.approx((1400, 1800))


def test_a_light_one_has_one_wire_and_a_sprinkler_none():
    spot = light("D1", 4, "downlight", (150, 150), round_=True)
    head = light("H1", 4, "sprinkler", (50, 50), round_=True)
    assert [wire.at for wire in service_wires(ROOM, LAYOUT, [spot, head]).hangers] == [(1925, 1500)]


def test_heavy_ones_hang_from_the_structure():
    (finding,) = service_wires(ROOM, LAYOUT, [light("L1", 60), light("L2", 57), light("L3", 40)]).findings
    assert finding.severity == "warn"
    assert finding.message.startswith("L1, L2: over 56 lb, so the structure alone holds it")


def test_what_nothing_carries_stops():
    """Four connections of 100 lb (building departments' handouts) are 400 lb: 401 is a typing error or a machine."""
    assert service_wires(ROOM, LAYOUT, [light(pounds=400)]).findings[0].severity == "warn"
    (finding,) = service_wires(ROOM, LAYOUT, [light(pounds=401)]).findings
    assert (finding.severity, finding.where) == ("stop", (2000, 1500))


def test_what_is_not_weighed_is_named_where_it_matters():
    """Lights and vents: the lightest light needs a wire too (Everett WA handout); a detector has its box."""
    services = [
        light("L1"),
        light("D1", kind="downlight"),
        light("S1", kind="supply_diffuser"),
        light("L2", 12),
        light("SD1", kind="smoke_detector"),
    ]
    assert unweighed(services) == ("L1", "D1", "S1")


@pytest.mark.parametrize(("kg", "imperial", "text"), [(56 * POUND, True, "56 lb"), (25.4, False, "25.4 kg")])
def test_weights_in_words(kg, imperial, text):
    assert weight_said(kg, imperial) == text


class TestWallWires:
    """A room of 12 ft x 8 ft, modules of 24 in, mains along A-B at 2 ft and 6 ft, joists 16 in apart from 8 in."""

    JOISTS = Joists(16 * INCH, 8 * INCH, "across")

    def hanging(self, seismic, system=IMPERIAL, joists=JOISTS):
        room = rectangle(
            12 * FOOT,
            8 * FOOT,
            joists=joists,
            site=Site(seismic=seismic),
            underside=9 * FOOT,
            ceiling_height=8 * FOOT,
        )
        members = frame(room, LAYOUT, system, MainLines("along", 2, 1))
        return room, members, hang(room, LAYOUT, system, members, ())

    @pytest.mark.parametrize(
        ("category", "ledge", "asked"),
        [
            (None, 7 / 8, False),
            ("B", 1 / 2, False),
            ("C", 7 / 8, False),
            ("C", 3 / 4, True),
            ("D", 2, True),
            ("F", 2, True),
        ],
    )
    def test_when_they_are_asked_for(self, category, ledge, asked):
        """ASTM E580, second hand: D to F always, C only with a ledge under 7/8 in."""
        system = dataclasses.replace(IMPERIAL, ledge=ledge * INCH)
        assert wanted(rectangle(1, 1, site=Site(seismic=category)), system) is asked

    def test_every_tee_end_on_a_wall_has_one_within_8_in(self):
        """Everett WA handout: 8 in. Mains have 2 x 2 ends; cross tees at 2, 4, 6, 8, 10 ft meet A-B and C-D;
        the rows between the mains, at 4 ft, meet D-A and B-C.
        """
        _, members, hanging = self.hanging("D")
        ends = 0
        for member in members:
            if member.kind == "wall angle":
                continue
            for end in (member.start, member.end):
                x, y = end
                if min(x, y, 12 * FOOT - x, 8 * FOOT - y) < 1:
                    ends += 1
                    held = [h for h in hanging.hangers if h.member == member.id]
                    assert min(distance(end, h.at) for h in held) <= 8 * INCH + 1e-6
        assert ends == 4 + 2 * 5 + 2

    def test_a_main_that_hangs_there_already_needs_no_more(self):
        """Joists at 8 and 136 in, 8 in from both walls: a system with its first hanger within 8 in hangs there.

        As sold the first may be 48 in off; at B-C the splice, 9 in from the wall, puts a wire under the joist at 136.
        """
        system = dataclasses.replace(IMPERIAL, hanging=HangingLimits(48 * INCH, 8 * INCH))
        _, members, hanging = self.hanging("D", system)
        mains = {member.id for member in members if member.kind == "main tee"}
        kinds = [hanger.kind for hanger in hanging.hangers if hanger.member in mains]
        assert kinds and "wall wire" not in kinds
        _, _, usual = self.hanging("D")
        assert [hanger.kind for hanger in usual.hangers if hanger.member in mains].count("wall wire") == 2

    def test_no_joist_near_enough_is_told(self):
        """The drop is 12 in, so 2 in aside at most: cross tees at 2, 6, 10 ft are 24, 72, 120 in along;
        joists at 24, 72, 120 stand over them, and those at 48 and 96 have joists at 40, 56 and 88, 104: 8 in aside.
        """
        _, _, hanging = self.hanging("D")
        (finding,) = [f for f in hanging.findings if f.rule == "wires at the walls"]
        walls = [h for h in hanging.hangers if h.kind == "wall wire"]
        assert finding.severity == "warn" and finding.message.startswith(f"4 of {len(walls)} wires")
        assert "blocking" in finding.remedy

    def test_without_joists_they_are_still_there(self):
        _, _, hanging = self.hanging("D", joists=None)
        assert sum(h.kind == "wall wire" for h in hanging.hangers) >= 12
        assert "wires at the walls" not in {f.rule for f in hanging.findings}

    def test_none_in_a_quiet_place(self):
        assert not any(h.kind == "wall wire" for h in self.hanging("C")[2].hangers)
