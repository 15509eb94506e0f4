"""Every wire goes up to a joist, or to blocking that is counted: within 1 in 6 of plumb, and within 45 degrees where it
may be slack, as those of services may (a building department's handout, Everett WA).
"""

from collections.abc import Sequence

import pytest
from ceiling.framing_rooms import grid
from ceiling.hand_layouts import METRIC, rectangle
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.ceiling.hanging import hang
from planner.ceiling.holding.overhead import PLUMB, SLACK, block_ends, onto_joist, to_joist, wire_up
from planner.ceiling.holding.service_wires import service_wires
from planner.ceiling.model import Hanger, Member, Piece, Service
from planner.geometry import Point, distance
from planner.room.outline import Joists, Room

LAYOUT = grid((0.0, 0.0), (600.0, 600.0))


def room(first: float, drop: float | None = 300.0, spacing: float = 600.0, length: float = 6000.0) -> Room:
    """6 m x 3 m; joists across A-B. Where heights are given a wire drops 300: a main's may lean 50 (1 in 6, ASTM C636),
    a service's 300 (45 degrees).
    """
    heights = {} if drop is None else {"underside": 2400.0 + drop, "ceiling_height": 2400.0}
    return rectangle(length, 3000.0, joists=Joists(spacing, first, "across"), **heights)


def light(at: Point = (1500.0, 900.0), kg: float = 10.0, name: str = "L1") -> Service:
    """A lay-in light of 600 x 600; of 10 kg it has two wires, of 4 kg one."""
    return Service(name, "troffer", at, (600.0, 600.0), False, (), (), 0.0, kg)


def wires(place: Room, *services: Service, others: Sequence[Point] = ()) -> tuple[Hanger, ...]:
    return service_wires(place, LAYOUT, services, others).hangers


class TestServices:
    def test_below_a_joist_it_goes_straight_up(self) -> None:
        """Corners at x = 1200 and 1800; joists at 0, 600, 1200, 1800."""
        assert [(w.at, w.top, w.block, w.length) for w in wires(room(0.0), light())] == [
            ((1200.0, 600.0), None, 0, 604.8),
            ((1800.0, 1200.0), None, 0, 604.8),
        ]

    def test_aside_of_a_joist_it_leans_and_is_cut_longer(self) -> None:
        """Joists at 1240 and 1840: 40 aside of a drop of 300. hypot(300, 40) = 302.7, with 304.8 of ties 607.5: 610."""
        first, second = wires(room(40.0), light())
        assert (first.at, first.top) == ((1200.0, 600.0), (1240.0, 600.0))
        assert (second.at, second.top) == ((1800.0, 1200.0), (1840.0, 1200.0))
        assert [first.length, second.length] == pytest.approx([610.0, 610.0])
        assert first.overhead == (1240.0, 600.0)

    def test_it_may_be_slack_so_the_nearest_joist_does(self) -> None:
        """Joists at 1300 and 1900, 100 from both corners, where a main's wire may lean 50: hypot(300, 100) = 316.2,
        with 304.8 of ties 621.0: 630. At 1500, as far as a joist 600 from the next can be, hypot(300, 300) = 424.3,
        with the ties 729.1: 730, at 45 degrees.
        """
        for first, aside, length in ((100.0, 100.0, 630.0), (300.0, 300.0, 730.0)):
            place = room(first)
            for wire, corner in zip(wires(place, light()), ((1200.0, 600.0), (1800.0, 1200.0)), strict=True):
                assert wire.at == corner and not wire.block
                assert distance(wire.at, wire.overhead) == pytest.approx(aside)
                assert wire.length == pytest.approx(length)
                assert wire_up(place, corner).block
            assert hang(place, LAYOUT, METRIC, [], [light()]).findings == ()

    def test_further_off_it_is_tied_along_the_side(self) -> None:
        """A drop of 60. Joists at 1300, 100 from the corner at 1200, more than 45 degrees: tied 3 in, 76.2, along
        (handout, Daly City CA), it leans 23.8. hypot(60, 23.8) = 64.5, with 304.8 of ties 369.3: 370.

        The corner at 1800 has joists at 1300 and 1900: along its side it only gets further from 1900, so of both
        diagonals one end needs blocking. A plumb wire is 60 + 304.8.
        """
        hung, blocked = wires(room(100.0, drop=60.0), light())
        assert hung.at == pytest.approx((1276.2, 600.0)) and hung.top == pytest.approx((1300.0, 600.0))
        assert hung.length == pytest.approx(370.0)
        assert blocked.at == (1800.0, 1200.0) and blocked.top is None and blocked.block
        assert blocked.length == pytest.approx(364.8)

    def test_one_wire_takes_the_corner_that_suits(self) -> None:
        """4 kg, under 10 lb: one wire. Joists at 1190 and 1790: 10 aside at every corner. At 1260, with a drop of 50,
        60 is too far: only along the side of 1200.
        """
        (near,) = wires(room(590.0), light(kg=4.0))
        assert near.top == pytest.approx((1190.0, near.at[1]))
        (moved,) = wires(room(60.0, drop=50.0), light(kg=4.0))
        assert 1200.0 < moved.at[0] <= 1276.2
        assert to_joist(Joists(600.0, 60.0, "across"), moved.overhead) == pytest.approx(0.0, abs=1e-6)
        assert not moved.block

    def test_of_equal_corners_one_is_taken_that_is_clear_of_other_wires(self) -> None:
        """Joists over both sides; a main's wire hangs at the first corner: the wire goes to the next."""
        (wire,) = wires(room(0.0), light(kg=4.0), others=[(1200.0, 610.0)])
        assert wire.at != (1200.0, 600.0)

    def test_of_two_lights_side_by_side_each_is_tied_where_the_other_is_not(self) -> None:
        """L2 lies right of L1: L1's wire is not at their common side."""
        first, second = wires(room(0.0), light(kg=4.0), light((2100.0, 900.0), 4.0, "L2"))
        assert first.at[0] == 1200.0 and second.at[0] == 2400.0

    def test_joists_not_known(self) -> None:
        bare = rectangle(6000.0, 3000.0, underside=2700.0, ceiling_height=2400.0)
        assert [(w.at, w.top, w.block) for w in wires(bare, light())] == [
            ((1200.0, 600.0), None, 0),
            ((1800.0, 1200.0), None, 0),
        ]

    def test_the_finding_counts_them_and_says_how_far(self) -> None:
        """Joists at 900, 1500, 2100: 300 from both corners, which the side shortens to 223.8 at most; a drop of 200
        allows 200.
        """
        (finding,) = hang(room(300.0, drop=200.0), LAYOUT, METRIC, [], [light()]).findings
        assert finding.severity == "warn" and finding.rule == "hangers need blocking"
        assert finding.message == (
            "Wires of L1 have no joist near enough (2): the nearest is up to 300 mm aside, and 200 mm is allowed "
            "(45 degrees)."
        )
        assert "the take-off counts it" in finding.remedy
        assert "Everett WA" in finding.source and "common practice, no source" in finding.source

    def test_where_heights_are_not_known_it_is_as_for_a_small_drop(self) -> None:
        """6 in, 152.4: of corners 300 aside blocking is asked for, at 150 aside not. No length is said."""
        (finding,) = hang(room(300.0, drop=None), LAYOUT, METRIC, [], [light()]).findings
        assert "152 mm is allowed (45 degrees)" in finding.message
        hung = wires(room(150.0, drop=None), light())
        assert [(wire.block, wire.length) for wire in hung] == [(0, None), (0, None)]


class TestBlocking:
    def test_wires_between_the_same_joists_share_it(self) -> None:
        """Two lights one above the other at x = 1200 to 1800, joists at 900, 1500, 2100, which a drop of 200 does not
        reach. L1's ties are (1200, 600) and (1800, 1200), L2's on the same rows of corners 1200:
        (1200, 1200) and (1800, 1800), or the other diagonal.
        """
        services = [light(), light((1500.0, 1500.0), name="L2")]
        hung = hang(room(300.0, drop=200.0), LAYOUT, METRIC, [], services).hangers
        bays = {(wire.at[0] < 1500.0, round(wire.at[1])) for wire in hung}
        assert len({wire.block for wire in hung}) == len(bays)
        assert sorted({wire.block for wire in hung}) == list(range(1, len(bays) + 1))

    def test_it_reaches_from_joist_to_joist(self) -> None:
        assert block_ends(Joists(600.0, 300.0, "across"), (1200.0, 70.0)) == ((900.0, 70.0), (1500.0, 70.0))
        assert block_ends(Joists(400.0, 100.0, "along"), (1200.0, 70.0)) == ((1200.0, -300.0), (1200.0, 100.0))

    def test_mains_between_the_joists_have_it_too(self) -> None:
        """A main at y = 1000 between joists along A-B at 700 and 1300: each of its wires. At 1340 it leans 40 of 50."""
        joists = Joists(600.0, 700.0, "along")
        place = rectangle(3000.0, 3000.0, joists=joists, underside=2700.0, ceiling_height=2400.0)
        between = hang(place, LAYOUT, METRIC, [main(3000.0, 1000.0)], ())
        assert [wire.block for wire in between.hangers] == list(range(1, len(between.hangers) + 1))
        (finding,) = between.findings
        assert f"{len(between.hangers)} wires have nothing to hang from" in finding.message
        near = hang(place, LAYOUT, METRIC, [main(3000.0, 1340.0)], ())
        assert near.findings == () and {wire.top and wire.top[1] for wire in near.hangers} == {1300.0}


def main(length: float, y: float = 1200.0, *pieces: float) -> Member:
    cut = [Piece("main tee", each, ("cut", "cut")) for each in pieces or (length,)]
    return Member("M1", "main tee", (0.0, y), (length, y), tuple(cut))


class TestSplices:
    """No wire is tied within 25 mm of a splice (common practice), where the coupling is."""

    def ties(self, splice: float, **place: float | None) -> list[tuple[float, float]]:
        """Where the run is tied, and where the wire is fixed, along the run."""
        hung = hang(
            room(0.0, length=3600.0, **place), LAYOUT, METRIC, [main(3600.0, 1200.0, splice, 3600.0 - splice)], ()
        )
        return [(wire.at[0], wire.overhead[0]) for wire in hung.hangers]

    @pytest.mark.parametrize(
        ("splice", "tied"),
        [(1190.0, 1215.0), (1200.0, 1225.0), (1210.0, 1185.0), (1225.0, 1200.0), (1226.0, 1200.0)],
    )
    def test_a_wire_keeps_clear_of_it(self, splice: float, tied: float) -> None:
        """A joist at 1200: the tie goes to that side of the splice that is nearer, so that it is 25 from it."""
        ties = self.ties(splice)
        assert (tied, 1200.0) in ties
        assert all(abs(at - splice) >= 25.0 for at, _ in ties)
        assert any(at < splice for at, _ in ties) and any(at > splice for at, _ in ties)

    def test_with_hardly_a_drop_the_next_joist_is_taken(self) -> None:
        """A drop of 60 allows 10: to be 25 from a splice at 1200 the wire would lean 25; joists at 600 and 1800 do."""
        assert self.ties(1200.0, drop=60.0) == [(600.0, 600.0), (1800.0, 1800.0), (3000.0, 3000.0)]

    def test_in_feet_it_is_an_inch(self) -> None:
        joists = Joists(16 * 25.4, 0.0, "across")
        place = rectangle(3657.6, 3000.0, units="ft-in", joists=joists, underside=2743.2, ceiling_height=2438.4)
        hung = hang(place, LAYOUT, METRIC, [main(3657.6, 1200.0, 1219.2 + 25.0, 3657.6 - 1244.2)], ())
        assert pytest.approx(1219.2 - 0.4) in [wire.at[0] for wire in hung.hangers]

    def test_a_last_piece_without_a_joist_has_its_wire_from_blocking(self) -> None:
        """A splice 200 from the wall at 3500, joists at 0, 600 ... 3000: none over the last piece: halfway."""
        place = room(0.0, length=3500.0)
        hung = hang(place, LAYOUT, METRIC, [main(3500.0, 1200.0, 3300.0, 200.0)], ())
        (blocked,) = [wire for wire in hung.hangers if wire.block]
        assert blocked.at == pytest.approx((3400.0, 1200.0)) and blocked.kind == "splice wire"
        (finding,) = [found for found in hung.findings if found.rule == "wire on each side of a splice"]
        assert finding.message == "M1 has a last piece of 200 mm, and no joist over it for the wire beside its splice."
        assert finding.where == blocked.at


@settings(max_examples=80, deadline=None)
@given(
    st.floats(0, 6000),
    st.floats(0, 3000),
    st.floats(200, 900),
    st.floats(0, 400),
    st.sampled_from(["across", "along"]),
    st.one_of(st.none(), st.floats(1, 1500)),
    st.sampled_from([PLUMB, SLACK]),
)
def test_every_wire_meets_a_joist_or_blocking(x, y, spacing, first, direction, drop, slope) -> None:
    heights = {} if drop is None else {"underside": 2400.0 + drop, "ceiling_height": 2400.0}
    place = rectangle(6000.0, 3000.0, joists=Joists(spacing, first, direction), **heights)
    up, most = wire_up(place, (x, y), slope), (152.4 if drop is None else drop) * slope
    if up.block:
        assert to_joist(place.joists, (x, y)) > most - 1e-6
        ends = block_ends(place.joists, (x, y))
        assert distance(*ends) == pytest.approx(spacing)
        assert distance(ends[0], (x, y)) + distance(ends[1], (x, y)) == pytest.approx(spacing)
    else:
        assert to_joist(place.joists, up.top or (x, y)) <= 0.5 + 1e-6
        assert up.top is None or distance(up.top, (x, y)) <= most + 1e-6
        assert distance(onto_joist(place.joists, (x, y)), (x, y)) == pytest.approx(to_joist(place.joists, (x, y)))
    assert (up.length is None) == (drop is None)
