"""Given this room and these joists, the wires hang there."""

import dataclasses
from itertools import pairwise
from pathlib import Path

import pytest
from ceiling.framing_rooms import grid, rooms
from ceiling.hand_layouts import FOOT, IMPERIAL, INCH, METRIC, TWO_BY_TWO, rectangle
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.ceiling import system as system_module
from planner.ceiling.framing import frame
from planner.ceiling.hanging import hang, splices
from planner.ceiling.holding.overhead import crossings, plumb_enough, to_joist
from planner.ceiling.mains import MainLines, choose_mains
from planner.ceiling.model import Member, Piece
from planner.ceiling.system import load_system
from planner.findings import Finding
from planner.geometry import distance
from planner.room.brief import GridWish
from planner.room.outline import Joists
from planner.room.site import Site

JOISTS_16 = Joists(16 * INCH, 9 * INCH, "across")


def along_run(member, hangers):
    return sorted(distance(member.start, h.at) for h in hangers if h.member == member.id and h.kind != "service wire")


def rules(findings: tuple[Finding, ...]):
    return {finding.rule for finding in findings}


class TestNavyRoom:
    """13 ft 7 in x 10 ft 4 in (NAVEDTRA 14044 p. 5-16): mains at 38 and 86 in, joists 16 in apart from 9 in."""

    ROOM = rectangle(163 * INCH, 124 * INCH, units="in", joists=JOISTS_16, underside=9 * FOOT, ceiling_height=8 * FOOT)
    LAYOUT = grid((21.5 * INCH, 14 * INCH), TWO_BY_TWO)
    #: The first slot at or beyond 21.5 in is 27: 5.5 in are sawn off, the splice of both runs is at 138.5.
    MAINS = tuple(
        Member(
            f"M{k}",
            "main tee",
            (0, y * INCH),
            (163 * INCH, y * INCH),
            (
                Piece("main tee", 138.5 * INCH, ("cut", "factory")),
                Piece("main tee", 24.5 * INCH, ("factory", "cut")),
            ),
        )
        for k, y in enumerate((38, 86), 1)
    )

    def hanging(self, room=ROOM, system=IMPERIAL, apart=None):
        return hang(room, self.LAYOUT, system, self.MAINS, (), apart)

    def test_every_wire_is_under_a_joist(self):
        hanging = self.hanging()
        assert hanging.findings == ()
        for hanger in hanging.hangers:
            assert (hanger.at[0] / INCH - 9) % 16 == pytest.approx(0, abs=1e-6) or (
                hanger.at[0] / INCH - 9
            ) % 16 == pytest.approx(16, abs=1e-6)
            assert hanger.at[1] / INCH in (pytest.approx(38), pytest.approx(86))

    def test_four_wires_on_each_run(self):
        """Joists at 137 and 153 are next to the splice; 41 is the last within 48 of the wall, 89 within 48 of 41."""
        hanging = self.hanging()
        for main in self.MAINS:
            assert splices(main) == pytest.approx([138.5 * INCH])
            assert [at / INCH for at in along_run(main, hanging.hangers)] == pytest.approx([41, 89, 137, 153])

    def test_numbers_go_up_one_run_and_down_the_next(self):
        hanging = self.hanging()
        assert [hanger.id for hanger in hanging.hangers] == [f"HW{k}" for k in range(1, 9)]
        assert [round(hanger.at[0] / INCH) for hanger in hanging.hangers] == [41, 89, 137, 153, 153, 137, 89, 41]

    @pytest.mark.parametrize(("allowance", "length"), [(12, 24), (2, 14), (6, 18)])
    def test_wire_is_the_drop_and_its_ties(self, allowance, length):
        """9 ft - 8 ft = 12 in, and 12 in for ties unless told (2: NAVEDTRA 14044 p. 5-17; 6, 12: articles)."""
        room = dataclasses.replace(self.ROOM, site=Site(wire_allowance=allowance * INCH))
        hanging = self.hanging(room)
        assert {round(hanger.length / INCH, 6) for hanger in hanging.hangers} == {length}

    def test_wire_has_no_length_where_a_height_is_not_known(self):
        hanging = self.hanging(dataclasses.replace(self.ROOM, underside=None))
        assert {hanger.length for hanger in hanging.hangers} == {None}

    def test_closer_hangers(self):
        """At most 30 in apart from 48 in of the wall: 41, then 57 (73 is 32 further) ..., one joist at a time."""
        hanging = self.hanging(apart=30 * INCH)
        assert [round(at / INCH) for at in along_run(self.MAINS[0], hanging.hangers)] == [
            41,
            57,
            73,
            89,
            105,
            121,
            137,
            153,
        ]

    def test_a_direct_grid_hangs_from_nothing(self):
        assert self.hanging(system=dataclasses.replace(IMPERIAL, fixing="direct")).hangers == ()


def test_a_run_of_24_ft_has_a_wire_on_each_side_of_its_splice():
    """CV-09: 24 ft of 12 ft pieces, wires at most 4 ft apart (NAVEDTRA 14044 p. 5-17, ASTM C636 second hand).

    Joists at 9 + 16k. The splice at 144 has joists at 137 and 153 beside it; 41, 89 before and 201, 249 after.
    """
    room = rectangle(24 * FOOT, 4 * FOOT, joists=JOISTS_16)
    run = Member(
        "M1", "main tee", (0, 2 * FOOT), (24 * FOOT, 2 * FOOT), (Piece("main", 12 * FOOT, ("factory",) * 2, 2),)
    )
    assert splices(run) == (12 * FOOT,)
    hanging = hang(room, grid((0, 0), TWO_BY_TWO), IMPERIAL, [run], ())
    assert [round(h.at[0] / INCH) for h in hanging.hangers] == [41, 89, 137, 153, 201, 249]
    assert [h.kind for h in hanging.hangers] == ["wire", "wire", "splice wire", "splice wire", "wire", "wire"]


class TestOverhead:
    #: 6 m x 4.8 m, modules of 600, mains along A-B at 600, 1800, 3000, 4200.
    def room(self, joists):
        return rectangle(6000, 4800, joists=joists, underside=3000.0, ceiling_height=2700.0)

    LAYOUT = grid((0.0, 0.0), (600.0, 600.0))
    MAINS = MainLines("along", 2, 1)

    def hanging(self, joists):
        room = self.room(joists)
        members = frame(room, self.LAYOUT, METRIC, self.MAINS)
        return members, hang(room, self.LAYOUT, METRIC, members, ())

    def test_joists_not_given_are_a_note_and_wires_are_even(self):
        """6000 with splice at 3525 (75 sawn off): wires 150 beside it, the rest even, 450 at most from walls."""
        members, hanging = self.hanging(None)
        (finding,) = hanging.findings
        assert (finding.rule, finding.severity) == ("joists not given", "note")
        at = along_run(members[0], hanging.hangers)
        assert 3375 in [round(x) for x in at] and 3675 in [round(x) for x in at]
        assert at[0] <= 450 and 6000 - at[-1] <= 450
        assert max(b - a for a, b in pairwise(at)) <= 1200

    def test_mains_along_the_joists_need_blocking(self):
        """Joists along A-B at 100, 500, 900, ...: mains at 600, 1800, 3000 and 4200 lie between them."""
        _, hanging = self.hanging(Joists(400, 100, "along"))
        (finding,) = [f for f in hanging.findings if f.rule == "hangers need blocking"]
        assert finding.severity == "warn"
        assert finding.message.startswith("M1, M2, M3, M4 run between the joists")
        assert "blocking" in finding.remedy and "mains:" in finding.remedy

    def test_mains_right_under_a_joist_do_not(self):
        """Joists along A-B at 0, 600, 1200, ...: one over every main, anywhere along it."""
        _, hanging = self.hanging(Joists(600, 0, "along"))
        assert hanging.findings == ()
        assert hanging.hangers

    def test_trusses_too_far_apart_need_channel(self):
        """Trusses 1500 apart, hangers at most 1200: nothing to hang from where a wire is due."""
        _, hanging = self.hanging(Joists(1500, 0, "across"))
        (finding,) = hanging.findings
        assert finding.rule == "hangers need blocking"
        assert "cross joists further apart than hangers may be" in finding.message and "channel" in finding.remedy

    def test_the_first_joist_too_far_from_the_wall(self):
        """Joists at 560, 1160, ..., 5960: 560 from D-A is over 450 (UK practice, from memory), but under 1200: a note.

        At the other end 5960 is 40 from B-C.
        """
        _, hanging = self.hanging(Joists(600, 560, "across"))
        (finding,) = hanging.findings
        assert (finding.rule, finding.severity) == ("first hanger from the wall", "note")
        assert (
            finding.message
            == "No joist for the first hanger within 450 mm of the wall: up to 560 mm on M1, M2, M3, M4."
        )
        assert "wall angle" in finding.remedy

    def test_a_gap_over_the_limit_is_told_with_its_remedy(self):
        """Joists 700 apart under a limit of 650 is refused as joists too far apart; at 1000 and 1200 nothing is."""
        room = self.room(Joists(700, 350, "across"))
        members = frame(room, self.LAYOUT, METRIC, self.MAINS)
        assert rules(hang(room, self.LAYOUT, METRIC, members, (), 650).findings) == {"hangers need blocking"}
        assert hang(room, self.LAYOUT, METRIC, members, (), 1000).findings == ()

    @pytest.mark.parametrize(("aside", "plumb"), [(5, True), (5.1, False), (-0.0, True)])
    def test_one_in_six_out_of_plumb(self, aside, plumb):
        """CV-39: a wire that drops 30 in may be 5 in aside; 5.1 needs a counter-sloping one (C636, second hand)."""
        assert plumb_enough(30, aside) is plumb


@settings(max_examples=60, deadline=None)
@given(
    rooms(),
    st.sampled_from([0.0, 90.0, 30.0, 45.0]),
    st.one_of(
        st.none(),
        st.builds(Joists, st.floats(300, 1500), st.floats(0, 400), st.sampled_from(["across", "along"])),
    ),
    st.sampled_from([600.0, 900.0, 1200.0]),
)
def test_no_gap_is_over_the_limit_unless_a_finding_says_so(room, angle, joists, apart):
    room = dataclasses.replace(room, joists=joists)
    layout = grid((100.0, 200.0), (600.0, 600.0), angle)
    mains = choose_mains(room, layout, METRIC, GridWish(METRIC.name))
    members = frame(room, layout, METRIC, mains)
    hanging = hang(room, layout, METRIC, members, (), apart)
    told = rules(hanging.findings)
    for main in (member for member in members if member.kind == "main tee"):
        at = along_run(main, hanging.hangers)
        gaps = [b - a for a, b in pairwise(at)]
        ends = [at[0], main.length - at[-1]] if at else [main.length]
        assert max(gaps, default=0) <= apart + 0.02 or "hanger spacing" in told
        assert max(ends) <= METRIC.hanging.first + 0.02 or "first hanger from the wall" in told
        for splice in splices(main):
            both = any(x < splice for x in at) and any(x > splice for x in at)
            assert both
        if joists is not None and crossings(joists, main.start, main.end) and "hangers need blocking" not in told:
            on_it = [h for h in hanging.hangers if h.member == main.id]
            under = all(h.block or to_joist(joists, h.overhead) <= 0.01 for h in on_it)
            assert under or max(to_joist(joists, main.start), to_joist(joists, main.end)) <= 19.01
    assert [h.id for h in hanging.hangers] == [f"HW{k}" for k in range(1, len(hanging.hangers) + 1)]


@pytest.mark.parametrize(
    ("name", "spacing", "first"), [("lay-in-imperial", 48 * INCH, 48 * INCH), ("lay-in-metric", 1200, 450)]
)
def test_limits_of_the_built_in_systems(name, spacing, first):
    """4 ft or 1200 mm (ASTM C636, second hand); from the wall 450 mm by UK practice (from memory)."""
    limits = load_system(name).hanging
    assert (limits.spacing, limits.first, limits.duty) == (pytest.approx(spacing), pytest.approx(first), "intermediate")


@pytest.mark.parametrize(("name", "spacing"), [("lay-in-imperial", 1219.2), ("lay-in-metric", 1200)])
def test_a_file_that_does_not_say_has_the_usual_limits(tmp_path, name, spacing):
    text = (Path(system_module.__file__).with_name("systems") / f"{name}.yaml").read_text("utf-8")
    start, end = text.index("hanging:"), text.index("notes:")
    (tmp_path / "own.yaml").write_text(text[:start] + text[end:], "utf-8")
    limits = load_system("own.yaml", tmp_path).hanging
    assert (limits.spacing, limits.first) == (pytest.approx(spacing), pytest.approx(spacing))
