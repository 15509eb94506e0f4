"""Grids fixed straight to the joists: carriers, cover strips, track, screws, and what is said about the joists."""

import math
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from ceiling.framing_rooms import INCH, floor_of, grid, layouts, rectangle, room_of, rooms
from ceiling.test_framing_properties import bounds_of, carried_of, is_bounded, whole_modules
from ceiling.test_system import own_file
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, prepare

from planner.ceiling.build import build_ceiling
from planner.ceiling.direct import Fixed, fix_directly
from planner.ceiling.framing import frame
from planner.ceiling.mains import MainLines, choose_mains
from planner.ceiling.model import Layout, Member
from planner.ceiling.system import load_system
from planner.errors import InputError
from planner.geometry import distance
from planner.room.brief import Brief, GridWish
from planner.room.outline import Joists, Room
from planner.room.reader import read_room

IMPERIAL = load_system("direct-imperial")
METRIC = load_system("direct-metric")
FIXTURES = Path(__file__).parents[2] / "fixtures"
ACROSS = Joists(16 * INCH, 8 * INCH, "across")
ALONG = MainLines("along", 1, 0)


def of(members: tuple[Member, ...], kind: str) -> list[Member]:
    return [member for member in members if member.kind == kind]


def fixed(room: Room, layout: Layout, mains: MainLines = ALONG) -> tuple[tuple[Member, ...], Fixed]:
    members = frame(room, layout, IMPERIAL, mains)
    return members, fix_directly(room, layout, IMPERIAL, mains, members)


def said(found: Fixed) -> dict[str, str]:
    return {finding.rule: finding.severity for finding in found.findings}


def test_a_carrier_stands_on_every_grid_line_across_the_joists() -> None:
    """10 x 8 ft, 24 x 24 full at the walls: carriers at 24, 48, 72 in; cross tees of 24 in between, 4 to a line."""
    room, layout = rectangle(120 * INCH, 96 * INCH, joists=ACROSS), grid((0.0, 0.0), (24 * INCH, 24 * INCH))
    mains = choose_mains(room, layout, IMPERIAL, GridWish("direct-imperial"))
    assert mains == ALONG
    members, _ = fixed(room, layout, mains)
    assert [round(c.start[1] / INCH) for c in of(members, "carrier")] == [24, 48, 72]
    assert len(of(members, "cover strip")) == 3
    assert not of(members, "main tee") and not of(members, "wall angle")
    tees = of(members, "cross tee")
    assert [[(p.stock, round(p.length / INCH), p.count) for p in tee.pieces] for tee in tees] == [
        [("cross tee 2 ft", 24, 4)]
    ] * 4
    assert sum(track.length for track in of(members, "track")) == pytest.approx(2 * (120 + 96) * INCH)


def test_a_screw_at_every_joist_crossed() -> None:
    """Joists at 8, 24, 40 ... 104, 120 in: the last is in the wall, so 7 screws in each of 3 carriers."""
    room, layout = rectangle(120 * INCH, 96 * INCH, joists=ACROSS), grid((0.0, 0.0), (24 * INCH, 24 * INCH))
    members, found = fixed(room, layout)
    for carrier in of(members, "carrier"):
        screws = [screw for screw in found.screws if screw.member == carrier.id]
        joists = {round((8 + 16 * k) * INCH) for k in range(7)}
        near = {joist for joist in joists if any(abs(s.at[0] - joist) < 10.5 for s in screws)}
        assert near == joists
        assert all(screw.kind == "screw" and screw.length is None for screw in screws)
    assert len({screw.id for screw in found.screws}) == len(found.screws)


def test_two_screws_where_pieces_meet_at_a_joist() -> None:
    """Carriers of 96 in, the first tee at 24: the splice at 93 in; a joist at 93 in has a screw in each piece."""
    room = rectangle(160 * INCH, 48 * INCH, joists=Joists(24 * INCH, 21 * INCH, "across"))
    members, found = fixed(room, grid((0.0, 0.0), (24 * INCH, 24 * INCH)))
    (carrier,) = of(members, "carrier")
    assert carrier.pieces[0].length == pytest.approx(93 * INCH)
    at = sorted(screw.at[0] for screw in found.screws if screw.member == carrier.id)
    beside = [x for x in at if abs(x - 93 * INCH) < 20]
    assert [round(x - 93 * INCH, 3) for x in beside] == [-10, 10]


def test_screws_of_the_track() -> None:
    """96 in of wall, the ends at 50 mm, at most 24 in apart: (2438.4 - 100) / 609.6 = 3.8, so 4 spaces, 5 screws."""
    room = rectangle(96 * INCH, 96 * INCH, joists=ACROSS)
    _, found = fixed(room, grid((0.0, 0.0), (24 * INCH, 24 * INCH)))
    assert sum(screw.member == "W1" for screw in found.screws) == 5


def test_carriers_beside_the_joists_are_furred_and_screwed_to_the_furring() -> None:
    """10 x 8 ft, joists and carriers both along: strips at 24, 48, 72, 96 and at two walls, 6 in all; 6 x 3 screws."""
    joists = Joists(16 * INCH, 8 * INCH, "along")
    room, layout = rectangle(120 * INCH, 96 * INCH, joists=joists), grid((0.0, 0.0), (24 * INCH, 24 * INCH))
    members, found = fixed(replace(room, underside=84 * INCH), layout)
    assert len(found.furring) == 6
    assert all(strip.kind == "furring strip" for strip in found.furring)
    at = {round(s.at[0] / INCH, 1) for s in found.screws if s.member == of(members, "carrier")[0].id}
    assert {24.0, 48.0, 72.0, 96.0} <= {min((24.0, 48.0, 72.0, 96.0), key=lambda x: abs(x - a)) for a in at}
    assert said(found)["joists the wrong way"] == "warn"
    assert found.level == pytest.approx((84 - 1.5 - 0.75) * INCH)  # grid 1-1/2 in, furring 3/4 in


@pytest.mark.parametrize(("past", "long"), [(25, 1200), (32, 1200), (33, 1233)])
def test_an_end_between_carrier_and_track_is_no_tee_where_nothing_of_it_shows(past: float, long: float) -> None:
    """An L whose inside corner stands `past` mm behind the carrier at 1200: the ledge, 20, and half a face of 25 are
    32.5 mm.
    """
    depth = 1200.0 + past
    outline = ((0.0, 0.0), (975.0, 0.0), (975.0, depth), (600.0, depth), (600.0, 1825.0), (0.0, 1825.0))
    members = frame(room_of(outline, joists=Joists(400, 130, "across")), grid((0, 0), (600, 600)), METRIC, ALONG)
    assert [tee.length for tee in of(members, "cross tee")] == [pytest.approx(long)]


def test_the_other_direction_needs_no_furring() -> None:
    room = rectangle(120 * INCH, 96 * INCH, joists=Joists(16 * INCH, 8 * INCH, "along"))
    layout = grid((0.0, 0.0), (24 * INCH, 24 * INCH))
    mains = choose_mains(room, layout, IMPERIAL, GridWish("direct-imperial"))
    assert mains.direction == "across"
    assert not fixed(room, layout, mains)[1].furring


@pytest.mark.parametrize(("off", "warned"), [(0, False), (1 / 4, False), (3 / 8, True)])
def test_joists_out_of_level_are_shimmed(off: float, warned: bool) -> None:
    """From memory: over 1/4 in; the ceiling comes down by as much: 84 - 1.5 - 0.375 in."""
    joists = replace(ACROSS, out_of_level=off * INCH)
    room = replace(rectangle(120 * INCH, 96 * INCH, joists=joists), underside=84 * INCH)
    _, found = fixed(room, grid((0.0, 0.0), (24 * INCH, 24 * INCH)))
    assert ("joists out of level" in said(found)) == warned
    assert found.level == pytest.approx((82.5 - (off if warned else 0)) * INCH)


def test_unknown_joists_stop_the_work() -> None:
    _, found = fixed(rectangle(120 * INCH, 96 * INCH), grid((0.0, 0.0), (24 * INCH, 24 * INCH)))
    assert said(found)["joists not known"] == "stop"
    assert found.screws


def test_joists_further_apart_than_screws_may_be() -> None:
    room = rectangle(120 * INCH, 96 * INCH, joists=Joists(32 * INCH, 8 * INCH, "across"))
    assert said(fixed(room, grid((0.0, 0.0), (24 * INCH, 24 * INCH)))[1])["joists far apart"] == "warn"


@pytest.mark.parametrize(("height", "severity"), [(None, "note"), (82.5, "note"), (80, "warn")])
def test_a_direct_grid_has_one_height(height: float | None, severity: str) -> None:
    """Underside 84 in less 1-1/2 in."""
    room = replace(
        rectangle(120 * INCH, 96 * INCH, joists=ACROSS),
        underside=84 * INCH,
        ceiling_height=None if height is None else height * INCH,
    )
    assert said(fixed(room, grid((0.0, 0.0), (24 * INCH, 24 * INCH)))[1])["depth of the grid"] == severity


def test_a_hung_grid_is_left_alone() -> None:
    system = load_system("lay-in-imperial")
    room, layout = rectangle(3000, 2400), grid((0.0, 0.0), (609.6, 609.6))
    assert fix_directly(room, layout, system, ALONG, frame(room, layout, system, MainLines("along", 2, 0))) == Fixed()


def test_quantities_of_a_large_room() -> None:
    """100 x 100 ft, 24 x 24: 0.5 ft of carrier, of cover strip and of cross tee (0.25 pieces) for each square foot.

    Edges: 49 of 50 carriers and lines of cross tees stand, as the last is the wall.
    """
    foot = 12 * INCH
    room = rectangle(100 * foot, 100 * foot, joists=ACROSS)
    members = frame(room, grid((0.0, 0.0), (2 * foot, 2 * foot)), IMPERIAL, ALONG)
    feet = {kind: sum(m.length for m in of(members, kind)) / foot for kind in ("carrier", "cover strip", "cross tee")}
    assert feet == {
        "carrier": pytest.approx(4900),
        "cover strip": pytest.approx(4900),
        "cross tee": pytest.approx(4900),
    }
    assert sum(p.count for m in of(members, "cross tee") for p in m.pieces) == 49 * 50


# Any room


@settings(max_examples=50, deadline=None)
@given(rooms(), layouts("lay-in-metric"), st.sampled_from(["across", "along"]))
def test_any_room_is_framed_all_round(room: Room, layout: Layout, joists: str) -> None:
    """Every whole module is bounded by carriers, cross tees or walls; nothing leaves the room; pieces add up."""
    layout = grid(layout.frame.origin, (600.0, 600.0), layout.frame.angle_deg)
    room = replace(room, joists=Joists(400, 130, joists))  # type: ignore[arg-type]
    mains = choose_mains(room, layout, METRIC, GridWish("direct-metric"))
    members = frame(room, layout, METRIC, mains)
    found = fix_directly(room, layout, METRIC, mains, members)
    floor = floor_of(room)
    grown = floor.buffer(0.05)
    prepare(grown)
    inside = [m for m in (*members, *found.furring) if m.kind != "track"]
    assert all(grown.covers(LineString([m.start, m.end])) for m in inside)
    assert all(m.length == pytest.approx(distance(m.start, m.end), abs=1e-6) for m in inside)
    bare = tuple(m for m in members if m.kind in ("carrier", "cross tee"))
    bounds, carried = bounds_of(floor, bare), carried_of(floor, bare, METRIC)
    assert all(is_bounded(module, bounds, carried) for _, module in whole_modules(floor, layout))
    carriers = {m.id: m for m in of(members, "carrier")}
    for screw in found.screws:
        if screw.member in carriers:
            carrier = carriers[screw.member]
            ends = distance(carrier.start, screw.at) + distance(screw.at, carrier.end)
            assert ends == pytest.approx(distance(carrier.start, carrier.end), abs=0.01)


@settings(max_examples=50, deadline=None)
@given(st.floats(1300, 9000), st.floats(0, 399), st.floats(0, 599))
def test_every_piece_of_a_carrier_is_held(width: float, first: float, border: float) -> None:
    """Joists 400 apart: no piece without a screw, and none further than 400 from the next or from the wall."""
    room = rectangle(width, 2000, joists=Joists(400, first, "across"))
    layout = grid((border, 300.0), (600.0, 600.0))
    members = frame(room, layout, METRIC, ALONG)
    found = fix_directly(room, layout, METRIC, ALONG, members)
    for carrier in of(members, "carrier"):
        at = [screw.at[0] for screw in found.screws if screw.member == carrier.id]
        spot = 0.0
        for piece in (p for p in carrier.pieces for _ in range(p.count)):
            assert any(spot - 0.01 <= x <= spot + piece.length + 0.01 for x in at)
            spot += piece.length
        spots = [0.0, *at, width]
        assert max(b - a for a, b in pairwise(spots)) <= 400 + 25.1


# Fixtures and bad input


@pytest.mark.parametrize("name", ["workshop-low", "den-wrong-way"])
def test_the_fixtures_can_be_built(name: str) -> None:
    ceiling = build_ceiling(read_room(FIXTURES / f"{name}.yaml"))
    assert not [finding for finding in ceiling.findings if finding.severity == "stop"]
    assert bool(of(ceiling.members, "furring strip")) == (name == "den-wrong-way")
    assert ceiling.hangers and all(hanger.kind == "screw" for hanger in ceiling.hangers)


def test_a_room_without_joists_still_builds_a_ceiling() -> None:
    room = rectangle(3000, 2400)
    ceiling = build_ceiling(Brief(room, GridWish("direct-metric")))
    assert ceiling.findings[0].rule == "joists not known"


def test_all_parts_sold_by_the_length_are_named() -> None:
    items = [tee.item for tee in METRIC.parts()]
    assert items == ["carrier", "cross tee 600", "wall track", "cover strip", "furring strip"]
    assert METRIC.screws() == ("grid screw",)
    assert not load_system("lay-in-metric").screws()


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("value: 75, ", "value: 70, ", "does not divide a module of 600"),
        ("[600, 600]", "[500, 500]", "no cross tee spans the 500 mm"),
        (
            "  length: {value: 2400, source: from memory}\n  splice",
            "  length: {value: 2450, source: x}\n  splice",
            "joints",
        ),
        ("depth: {value: 38, ", "depth: {value: 0, ", "no length to build with"),
        ("item: grid screw", "item: carrier", 'the item "carrier" is named twice'),
        ("cover_strip:", "cover_stripe:", 'unknown key "cover_stripe"'),
        ("ledge: {value: 20, ", "ledge: {value: 320, ", "too much for a module of 600"),
        ("value: mitred", "value: glued", "glued"),
    ],
)
def test_a_direct_file_that_does_not_go_together_is_refused(tmp_path: Path, old: str, new: str, message: str) -> None:
    path = own_file(tmp_path, (old, new), name="direct-metric")
    with pytest.raises(InputError) as caught:
        load_system(path, tmp_path)
    assert message in str(caught.value)
    assert any(complaint.line for complaint in caught.value.complaints)


def test_a_missing_part_is_named(tmp_path: Path) -> None:
    path = own_file(tmp_path, name="direct-metric")
    text = (tmp_path / path).read_text(encoding="utf-8")
    start, end = text.index("track:"), text.index("furring:")
    (tmp_path / path).write_text(text[:start] + text[end:], encoding="utf-8")
    with pytest.raises(InputError, match='"track" is missing'):
        load_system(path, tmp_path)


@pytest.mark.parametrize(
    ("keys", "message"),
    [
        ("joists: {spacing: 0}", "spacing"),
        ("joists: {spacing: 16}", "apart cannot be"),
        ("joists: {spacing: 400, out_of_level: -3}", "out_of_level"),
        ("underside: 2400\nceiling_height: 2400", "not below the joists"),
    ],
)
def test_joists_that_cannot_be_are_refused(tmp_path: Path, keys: str, message: str) -> None:
    """Joists at no spacing, or a drop of nothing."""
    structure, _, height = keys.partition("\n")
    room = tmp_path / "room.yaml"
    room.write_text(f"units: mm\nroom: {{rectangle: [3000, 2400]}}\nstructure: {{{structure}}}\n{height}\n")
    with pytest.raises(InputError) as caught:
        read_room(room)
    assert message in str(caught.value)


def test_carriers_slantwise_to_the_joists_cross_them_further_apart() -> None:
    """Grid at 30 degrees, joists 400: 400 / cos 30 = 461.9 from screw to screw."""
    room = rectangle(4000, 4000, joists=Joists(400, 100, "across"))
    layout = grid((2000.0, 2000.0), (600.0, 600.0), 30.0)
    members = frame(room, layout, METRIC, ALONG)
    found = fix_directly(room, layout, METRIC, ALONG, members)
    longest = max(of(members, "carrier"), key=lambda m: m.length)
    at = sorted(distance(longest.start, s.at) for s in found.screws if s.member == longest.id)
    steps = [b - a for a, b in pairwise(at) if b - a > 20.1]
    assert min(steps) >= 400 / math.cos(math.radians(30)) - 10.1
