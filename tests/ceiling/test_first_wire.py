"""The first wire of a run, where the joists leave it far from the wall, and wires at the walls that hang aside."""

import pytest
from ceiling.framing_rooms import grid
from ceiling.hand_layouts import METRIC, rectangle

from planner.ceiling.build import build_ceiling
from planner.ceiling.hanging import hang
from planner.ceiling.holding.wall_wires import wall_wires
from planner.ceiling.model import Member, Piece
from planner.errors import PlannerError
from planner.findings import Finding
from planner.room.brief import Brief, GridWish, ServiceWish
from planner.room.outline import Joists
from planner.room.site import Site

LAYOUT = grid((0.0, 0.0), (600.0, 600.0))


def run(length: float) -> Member:
    """One main tee from wall to wall, without a splice."""
    return Member("M1", "main tee", (0.0, 1200.0), (length, 1200.0), (Piece("main tee", length, ("cut", "cut")),))


class TestFirstJoist:
    """Hangers of the metric system: 1200 apart at most, 450 from the wall. No wire is tied within 25 mm of a wall."""

    def finding(self, first: float, *, drop: float | None = 300.0) -> Finding:
        heights = {} if drop is None else {"underside": 2400.0 + drop, "ceiling_height": 2400.0}
        room = rectangle(3000.0, 2400.0, joists=Joists(1200.0, first, "across"), **heights)
        (finding,) = hang(room, LAYOUT, METRIC, [run(3000.0)], ()).findings
        assert finding.rule == "first hanger from the wall"
        return finding

    def test_a_joist_too_near_the_wall_to_tie_to_leaves_the_tee_a_span_too_long(self) -> None:
        """Joists at 20, 1220 and 2420: the first that can be tied to is 1220 from D-A, over 1200: grave. A wire that
        drops 300 may be 300/6 = 50 aside.
        """
        finding = self.finding(20.0)
        assert finding.severity == "warn"
        assert "within 450 mm of the wall: up to 1220 mm on M1" in finding.message
        assert finding.remedy == "Set blocking at the wall, or splay a wire by 50 mm at most (1 in 6)."
        assert finding.where == pytest.approx((610.0, 1200.0))

    def test_nobody_is_told_to_splay_by_a_length_that_is_not_known(self) -> None:
        assert self.finding(20.0, drop=None).remedy == "Set blocking at the wall."

    def test_within_a_span_of_the_wall_the_wall_angle_carries_the_end(self) -> None:
        """Joists at 500 and 1700 and 2900: 500 from D-A is over 450 and under 1200."""
        finding = self.finding(500.0)
        assert finding.severity == "note"
        assert "wall angle carries the end" in finding.remedy


class TestAtTheWalls:
    """In category D each end of a main has a wire within 8 in, 203.2 mm, of the wall. 4 m, joists 400 apart."""

    def wires(self, first: float, drop: float = 300.0):
        room = rectangle(4000.0, 2400.0, joists=Joists(400.0, first, "across"), site=Site(seismic="D"),
                         underside=2400.0 + drop, ceiling_height=2400.0)  # fmt: skip
        return wall_wires(room, METRIC, [run(4000.0)], ())

    def test_a_wire_within_one_in_six_of_plumb_is_good(self) -> None:
        """Joists at 250 and, at the other end, 3850, which is 150 from B-C. The left wire is tied 203.2 from the wall
        at most, 46.8 from the joist at 250, which is under 300/6 = 50; so no finding.
        """
        found = self.wires(250.0)
        assert found.findings == ()
        left, right = sorted(wire.at[0] for wire in found.hangers)
        assert 200.0 <= left <= 203.3
        assert right == pytest.approx(3850.0, abs=12.0)
        near, aside = sorted(wire.length for wire in found.hangers if wire.length is not None)
        assert aside >= near > 300.0

    def test_one_further_aside_is_told(self) -> None:
        """Joists at 270 and 3870: 66.8 aside on the left, over 50."""
        (finding,) = self.wires(270.0).findings
        assert finding.severity == "warn"
        assert finding.message.startswith("1 of 2 wires at the walls have no joist within 1 in 6 of plumb")
        assert finding.where == pytest.approx((203.2, 1200.0), abs=1.0)

    def test_a_longer_drop_forgives_more(self) -> None:
        """66.8 aside is within 1 in 6 of a drop of 420, which allows 70."""
        assert self.wires(270.0, drop=420.0).findings == ()


class TestWishes:
    ROOM = rectangle(3000.0, 2400.0, joists=Joists(400.0, 100.0, "across"))

    def ceiling(self, *services: ServiceWish, **wish: float):
        return build_ceiling(Brief(self.ROOM, GridWish("lay-in-metric", **wish), services))

    def test_hangers_as_far_apart_as_the_system_allows_may_be_asked_for(self) -> None:
        """1200 is the metric system's own limit; 1200.5 is over it."""
        assert self.ceiling(hanger_spacing=1200.0).hangers == self.ceiling().hangers
        with pytest.raises(PlannerError, match="further than"):
            self.ceiling(hanger_spacing=1200.5)

    @pytest.mark.parametrize(("panels", "light", "told"), [
        (5.0, 8.0, None),
        (5.0, None, "Weights are not given: of L1, so no wires of their own are counted."),
        (None, 8.0, "Weights are not given: of the panels, so no load is checked."),
    ])  # fmt: skip
    def test_what_has_no_weight_is_told_by_name(self, panels, light, told) -> None:
        fixture = ServiceWish("L1", "troffer", size=(600.0, 600.0), near=(1500.0, 1200.0), weight_kg=light)
        wish = {} if panels is None else {"panel_kg_m2": panels}
        findings = [f.message for f in self.ceiling(fixture, **wish).findings if f.rule == "weights not given"]
        assert findings == ([] if told is None else [told])
