"""What main tees and hangers bear, against the published classes and against statics worked out anew."""

import dataclasses
from itertools import pairwise

import numpy as np
import pytest
from ceiling.framing_rooms import grid
from ceiling.hand_layouts import FOOT, IMPERIAL, INCH, METRIC, rectangle
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.ceiling.framing import frame
from planner.ceiling.hanging import hang
from planner.ceiling.holding.held import hold_up
from planner.ceiling.loads import (
    AT_MIDSPAN,
    CONNECTION_N,
    GRAVITY,
    N_OF_LB,
    SAG,
    Burden,
    burdens,
    capacity,
    carried,
    reactions,
    spacing_that_carries,
    weigh,
)
from planner.ceiling.mains import MainLines
from planner.ceiling.model import Hanger, Member, Piece, Service
from planner.ceiling.system import HangingLimits
from planner.errors import PlannerError
from planner.room.brief import GridWish
from planner.room.outline import Joists

LB_FT = 14.5939  #: N/m
PSF = 47.880  #: Pa
PSF_KG = 4.88243  #: kg/m2
MAINS = MainLines("along", 2, 1)
LAYOUT = grid((0.0, 0.0), (24 * INCH, 24 * INCH))
ROOM = rectangle(20 * FOOT, 16 * FOOT, units="ft-in", joists=Joists(16 * INCH, 9 * INCH, "across"))
MEMBERS = frame(ROOM, LAYOUT, IMPERIAL, MAINS)


def light(pounds, x, y, name="L1"):
    return Service(name, "troffer", (x * FOOT, y * FOOT), (610, 1219), False, (), (), 0.0, pounds * 0.45359237)


@pytest.mark.parametrize(("span", "sag"), [(48 * INCH, 0.1333 * INCH), (1200, 3.333)])
def test_sag_allowed(span, sag):
    """CV-16: ASTM C635 s. 4.1.2 prints 0.133 in for 4 ft and 3.33 mm for 1200 mm."""
    assert span * SAG == pytest.approx(sag, rel=1e-3)


@pytest.mark.parametrize(
    ("duty", "newtons", "psf"), [("light", 72.97, 1.25), ("intermediate", 175.13, 3.0), ("heavy", 233.50, 4.0)]
)
def test_duty_classes(duty, newtons, psf):
    """CV-17 to CV-19: 5, 12 and 16 lb/ft (ASTM C635, from memory); with mains 4 ft apart 1.25, 3 and 4 psf."""
    assert capacity(duty, 48 * INCH) == pytest.approx(newtons, abs=0.005)
    assert capacity(duty, 1200, imperial=False) == pytest.approx(newtons, abs=0.005)
    assert capacity(duty, 48 * INCH) / 1.2192 / PSF == pytest.approx(psf, rel=1e-4)


@pytest.mark.parametrize(("span", "factor"), [(42, 1.4927), (36, 2.3704)])
def test_closer_hangers_carry_by_the_cube(span, factor):
    """CV-20: (48/42)^3 and (48/36)^3."""
    assert capacity("heavy", span * INCH) / capacity("heavy", 48 * INCH) == pytest.approx(factor, abs=1e-4)


def sag_at_middle(span, loads, steps=4000):
    """Sag at the middle of a simple beam with EI = 1 by virtual work, from (place, force) pairs; nothing of ours."""
    x = (np.arange(steps) + 0.5) / steps * span
    real = sum(force * np.where(x < a, x * (span - a), a * (span - x)) / span for a, force in loads)
    unit = np.where(x < span / 2, x / 2, (span - x) / 2)
    return float(np.sum(real * unit) * span / steps)


def test_a_weight_at_midspan_counts_for_eight_fifths():
    """The same weight as 200 small ones evenly spread sags 5/8 as much."""
    spread = [((k + 0.5) / 200 * 1200, 1 / 200) for k in range(200)]
    assert sag_at_middle(1200, [(600, 1)]) / sag_at_middle(1200, spread) == pytest.approx(AT_MIDSPAN, rel=1e-3)


def test_at_a_fixed_share_of_the_span_a_beam_carries_by_the_cube():
    def most(span):  # load per length that sags span / 360
        spread = [((k + 0.5) / 200 * span, span / 200) for k in range(200)]
        return span / 360 / sag_at_middle(span, spread)

    assert most(36) / most(48) == pytest.approx((48 / 36) ** 3, rel=1e-3)


class TestBurdens:
    def test_panels_of_one_pound_a_square_foot(self):
        """Mains 4 ft apart carry 4 lb/ft each."""
        found = burdens(LAYOUT, IMPERIAL, MAINS, MEMBERS, (), PSF_KG)
        assert [burden.run.id for burden in found] == ["M1", "M2", "M3", "M4"]
        assert {round(burden.per_metre / LB_FT, 3) for burden in found} == {4.0}

    def test_the_grid_counts_where_its_weight_is_known(self):
        """Main 0.4 kg/m every 4 ft, 4 ft tees every 2 ft, 2 ft tees on every second line: all tees at 0.3 kg/m.

        Per square foot: 0.25 ft main, 0.5 ft of 4 ft tees, 0.25 ft of 2 ft tees (published factors).
        """
        tees = tuple(dataclasses.replace(tee, kg_per_m=0.3) for tee in IMPERIAL.cross_tees)
        heavier = dataclasses.replace(IMPERIAL, main=dataclasses.replace(IMPERIAL.main, kg_per_m=0.4), cross_tees=tees)
        plain, known = (burdens(LAYOUT, s, MAINS, MEMBERS, (), PSF_KG)[0].per_metre for s in (IMPERIAL, heavier))
        kg_per_ft2 = (0.25 * 0.4 + 0.75 * 0.3) * 0.3048
        assert known - plain == pytest.approx(kg_per_ft2 / 0.3048**2 * GRAVITY * 1.2192)

    def test_a_service_rests_on_the_mains_beside_it(self):
        """Mains at 2 and 6 ft; a light of 20 lb at 3 ft is 1/4 of the way: 15 lb on M1, 5 lb on M2, none beyond."""
        found = burdens(LAYOUT, IMPERIAL, MAINS, MEMBERS, [light(20, 5, 3)], PSF_KG)
        shares = [sum(weight for _, weight in burden.services) / N_OF_LB for burden in found]
        assert shares == pytest.approx([15, 5, 0, 0])

    def test_heavy_services_and_heads_rest_elsewhere(self):
        """Over 56 lb hangs from the structure (Everett WA handout); sprinklers hang from their pipe."""
        head = dataclasses.replace(light(5, 5, 3, "H1"), kind="sprinkler")
        found = burdens(LAYOUT, IMPERIAL, MAINS, MEMBERS, [light(57, 5, 3), head], PSF_KG)
        assert all(burden.services == () for burden in found)


class TestSpacing:
    RUN = MEMBERS[0]

    def test_the_load_with_a_service_at_midspan(self):
        """4 lb/ft and 15 lb in a span of 4 ft: 4 + 8/5 x 15 / 4 = 10 lb/ft."""
        burden = Burden(self.RUN, 4 * LB_FT, ((1000.0, 15 * N_OF_LB),))
        assert carried([burden], 48 * INCH) / LB_FT == pytest.approx(10.0, rel=1e-5)

    def test_services_within_one_span_add_up(self):
        """Three of 10 lb at 0, 3 and 6 ft: any span of 4 ft holds two; of 2 ft one; of 6 ft all three."""
        burden = Burden(self.RUN, 0.0, tuple((k * 3 * FOOT, 10 * N_OF_LB) for k in range(3)))
        for feet, pounds in ((2, 10), (4, 20), (6, 30)):
            assert carried([burden], feet * FOOT) / LB_FT == pytest.approx(1.6 * pounds / feet, rel=1e-5)

    @pytest.mark.parametrize(
        ("pounds", "spacing"), [(12, 48), (12.1, 42), (17.9, 42), (18, 36), (28.4, 36), (28.5, 30)]
    )
    def test_as_far_apart_as_the_class_allows(self, pounds, spacing):
        """Intermediate carries 12 lb/ft at 48 in, 17.91 at 42, 28.44 at 36, 49.15 at 30; steps of 6 in, a pitch."""
        burden = Burden(self.RUN, pounds * LB_FT, ())
        assert spacing_that_carries([burden], IMPERIAL, 48 * INCH).spacing / INCH == pytest.approx(spacing)

    def test_metric_steps(self):
        """Intermediate carries 175.13 N/m at 1200, 175.13 x (1200/1050)^3 = 261.4 at 1050."""
        for load, spacing in ((175, 1200), (176, 1050), (261, 1050), (262, 900)):
            assert spacing_that_carries([Burden(self.RUN, load, ())], METRIC, 1200).spacing == spacing

    def test_where_none_carries_the_closest_is_given(self):
        """At 24 in intermediate carries 12 x 8 = 96 lb/ft."""
        assert spacing_that_carries([Burden(self.RUN, 96 * LB_FT, ())], IMPERIAL, 48 * INCH).spacing == pytest.approx(
            24 * INCH
        )
        most = spacing_that_carries([Burden(self.RUN, 97 * LB_FT, ())], IMPERIAL, 48 * INCH)
        assert most.spacing == pytest.approx(24 * INCH) and most.carried > most.allowed


class TestReactions:
    def test_an_inner_hanger(self):
        """CV-40: 4 x 4 ft at 3 psf is 48 lb, under the 100 lb of a connection (handouts, Everett WA, Daly City CA)."""
        run = Member("M1", "main tee", (0, 0), (12 * FOOT, 0), (Piece("main", 12 * FOOT, ("factory", "factory")),))
        burden = Burden(run, 12 * LB_FT, ())
        hangers = [Hanger(f"H{k}", (k * 4 * FOOT, 0), "M1", "wire") for k in (1, 2)]
        found = dict((name, newtons / N_OF_LB) for newtons, name in reactions([burden], hangers))
        assert found == {"H1": pytest.approx(48, rel=1e-5), "H2": pytest.approx(48, rel=1e-5)}
        assert 48 * N_OF_LB < CONNECTION_N

    @settings(max_examples=60, deadline=None)
    @given(
        st.lists(st.floats(1, 99), min_size=1, max_size=6, unique=True),
        st.lists(st.tuples(st.floats(0, 100), st.floats(0, 50)), max_size=5),
        st.floats(0, 20),
    )
    def test_hangers_and_walls_bear_all_there_is(self, places, weights, even):
        """Each end span gives its half to the wall, and a weight in it its share by the lever."""
        places, weights = sorted(places), sorted(weights)
        run = Member("M1", "main tee", (0, 0), (100.0, 0), ())
        run = dataclasses.replace(run, pieces=(Piece("main", 100.0, ("factory", "factory")),))
        hangers = [Hanger(f"H{k}", (at, 0), "M1", "wire") for k, at in enumerate(places)]
        held = sum(newtons for newtons, _ in reactions([Burden(run, even, tuple(weights))], hangers))
        first, last = places[0], places[-1]
        walls = even * (first + 100 - last) / 2000
        walls += sum(w * (1 - at / first) for at, w in weights if at < first)
        walls += sum(w * (1 - (100 - at) / (100 - last)) for at, w in weights if at > last)
        assert held + walls == pytest.approx(even * 0.1 + sum(w for _, w in weights), abs=1e-6)


class TestWholeRoom:
    def held(self, services=(), system=IMPERIAL, **wish):
        return hold_up(ROOM, GridWish("x", **wish), LAYOUT, system, MAINS, MEMBERS, services)

    def test_an_ordinary_ceiling_has_nothing_to_say(self):
        held = self.held(panel_kg_m2=PSF_KG)
        assert held.findings == ()
        assert held.loads is not None
        assert held.loads.carried / LB_FT == pytest.approx(4, rel=1e-4)
        assert held.loads.allowed / LB_FT == pytest.approx(12)
        assert held.loads.deflection == pytest.approx(48 * INCH / 360)
        assert held.loads.heaviest in {hanger.id for hanger in held.hangers}
        assert held.loads.reaction == pytest.approx(max(n for n, _ in self.anew(held)))

    def anew(self, held):
        return reactions(burdens(LAYOUT, IMPERIAL, MAINS, MEMBERS, (), PSF_KG), held.hangers)

    def test_without_a_weight_it_is_a_note(self):
        held = self.held()
        assert held.loads is None
        assert [(f.severity, f.rule) for f in held.findings] == [("note", "weights not given")]

    def test_closer_hangers_cure_a_heavy_ceiling(self):
        """3.5 psf: 14 lb/ft is over 12 at 48 in and under 17.9 at 42: no two wires are further apart than that."""
        held = self.held(panel_kg_m2=3.5 * PSF_KG)
        (finding,) = held.findings
        assert (finding.severity, finding.rule) == ("note", "duty of the main tees")
        assert "hangers are set 3'-6\" apart at most, not 4'-0\"" in finding.message
        at = sorted(hanger.at[0] for hanger in held.hangers if hanger.member == "M1")
        assert max(b - a for a, b in pairwise(at)) <= 42 * INCH + 0.01
        assert len(held.hangers) > len(self.held(panel_kg_m2=PSF_KG).hangers)

    def test_what_no_spacing_carries_stops(self):
        """A light grid at 10 psf: 40 lb/ft is exactly what 5 x 8 gives at 24 in; at 11 psf nothing helps."""
        light_duty = dataclasses.replace(IMPERIAL, hanging=HangingLimits(48 * INCH, 48 * INCH, "light"))
        held = self.held(system=light_duty, panel_kg_m2=11 * PSF_KG)
        finding = next(f for f in held.findings if f.rule == "duty of the main tees")
        assert finding.severity == "stop" and "light duty carries 40.0 lb/ft" in finding.message

    def test_a_hanger_over_its_connection(self):
        """28 lb/ft on a run of 20 ft that is held by two wires only, at 5 and 9 ft."""
        run = MEMBERS[0]
        burden = Burden(run, 28 * LB_FT, ())
        hangers = [Hanger("H1", (5 * FOOT, 2 * FOOT), "M1", "wire"), Hanger("H2", (9 * FOOT, 2 * FOOT), "M1", "wire")]
        carrying = spacing_that_carries([burden], IMPERIAL, 48 * INCH)
        loads, findings = weigh(ROOM, IMPERIAL, [burden], carrying, hangers)
        # H2: half of 4 ft and half of the 11 ft to the wall at 20 ft, 7.5 ft x 28 lb/ft = 210 lb
        assert loads.heaviest == "H2" and loads.reaction / N_OF_LB == pytest.approx(210, rel=1e-4)
        finding = next(f for f in findings if f.rule == "load on a hanger")
        assert finding.message == "H1, H2 bear up to 210 lb; a connection must hold 100 lb."
        assert finding.where == (9 * FOOT, 2 * FOOT)

    def test_hangers_wished_closer(self):
        held = self.held(panel_kg_m2=PSF_KG, hanger_spacing=36 * INCH)
        assert held.findings == () and held.loads is not None
        assert held.loads.spacing == 36 * INCH

    def test_hangers_wished_too_far_apart_are_refused(self):
        with pytest.raises(PlannerError, match="further than lay-in-imperial allows") as refused:
            self.held(hanger_spacing=49 * INCH)
        assert refused.value.where == "grid › hanger_spacing"

    def test_a_direct_grid_has_no_hangers_and_no_loads(self):
        held = self.held(system=dataclasses.replace(IMPERIAL, fixing="direct"), panel_kg_m2=PSF_KG)
        assert (held.hangers, held.loads, held.findings) == ((), None, ())

    def test_the_limit_given_to_hang_is_the_one_that_carries(self):
        held = self.held(panel_kg_m2=3.5 * PSF_KG)
        assert held.hangers == hang(ROOM, LAYOUT, IMPERIAL, MEMBERS, (), 42 * INCH).hangers
