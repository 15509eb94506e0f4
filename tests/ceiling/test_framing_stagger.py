"""Splices of neighbouring main runs: staggered, at no cross tee, and with no more pieces than need be."""

from itertools import pairwise

import pytest
from ceiling.framing_rooms import INCH, grid, layouts, rectangle, rooms
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.ceiling.framing import frame
from planner.ceiling.mains import MainLines, choose_mains
from planner.ceiling.members.runs import Joints, joints_of, main_run
from planner.ceiling.model import Member
from planner.ceiling.system import load_system
from planner.room.brief import GridWish

IMPERIAL = load_system("lay-in-imperial")
METRIC = load_system("lay-in-metric")


def splices(member: Member) -> list[float]:
    """Distances of the splices from the start of a run."""
    lengths = [piece.length for piece in member.pieces for _ in range(piece.count)]
    return [sum(lengths[: k + 1]) for k in range(len(lengths) - 1)]


def test_the_run_beside_is_cut_the_other_way_round() -> None:
    """30 ft, first tee at 14 in: 143 + 144 + 73; beside it the shortest first piece that still makes three.

    First pieces are 143 - 6 k long. 71 would leave 360 - 71 - 144 = 145, more than a main tee; 77 leaves 139.
    """
    first = main_run(360 * INCH, 14 * INCH, IMPERIAL.main)
    beside = [joints_of(first, 0.0)]
    second = main_run(360 * INCH, 14 * INCH, IMPERIAL.main, beside=beside)
    assert [round(p.length / INCH, 3) for p in first] == [143, 144, 73]
    assert [round(p.length / INCH, 3) for p in second] == [77, 144, 139]


def test_a_piece_more_is_taken_where_splices_would_stand_in_line() -> None:
    """23 ft 7 in, first tee at 14 in: 143 + 140 is the only way with two pieces, as 137 would leave 146.

    To stand 24 in aside the run beside needs three.
    """
    first = main_run(283 * INCH, 14 * INCH, IMPERIAL.main)
    second = main_run(283 * INCH, 14 * INCH, IMPERIAL.main, beside=[joints_of(first, 0.0)])
    assert [round(p.length / INCH, 3) for p in first] == [143, 140]
    assert sum(p.count for p in second) == 3
    assert min(abs(a - b) for a in splices_of(second) for b in [143 * INCH]) >= 24 * INCH - 0.1


def splices_of(pieces: tuple[object, ...]) -> list[float]:
    lengths = [p.length for p in pieces for _ in range(p.count)]  # type: ignore[attr-defined]
    return [sum(lengths[: k + 1]) for k in range(len(lengths) - 1)]


@settings(max_examples=80, deadline=None)
@given(
    st.floats(-5000, 5000),
    st.integers(0, 9),
    st.floats(-5000, 5000),
    st.integers(0, 9),
    st.sampled_from([2400.0, 3600.0]),
)
def test_the_least_distance_of_splices_is_that_of_all_pairs(a: float, m: int, b: float, n: int, other: float) -> None:
    mine, theirs = Joints(a, 3600.0, m), Joints(b, other, n)
    pairs = [abs(a + i * 3600.0 - b - j * other) for i in range(m) for j in range(n)]
    assert mine.distance(theirs) == pytest.approx(min(pairs, default=float("inf")))


@settings(max_examples=60, deadline=None)
@given(st.integers(1300, 30_000), st.integers(0, 599), st.sampled_from(["lay-in-metric", "direct-metric"]))
def test_neighbours_are_never_spliced_in_line(width: int, border: int, name: str) -> None:
    """On a rectangle, every pair of neighbouring runs: four slot pitches apart, or no place for that can be found."""
    system = load_system(name)
    room, layout = rectangle(width, 5000), grid((float(border), 300.0), (600.0, 600.0))
    step = 2 if system.fixing == "hung" else 1
    members = frame(room, layout, system, MainLines("along", step, 0))
    for kind in ("main tee", "carrier", "cover strip"):
        runs = [member for member in members if member.kind == kind]
        for one, other in pairwise(runs):
            apart = [abs(a - b) for a in splices(one) for b in splices(other)]
            assert min(apart, default=1e9) >= 4 * system.main.slot_pitch - 0.1
    strips = [member for member in members if member.kind == "cover strip"]
    carriers = [member for member in members if member.kind == "carrier"]
    for strip, carrier in zip(strips, carriers, strict=True):
        assert min((abs(a - b) for a in splices(strip) for b in splices(carrier)), default=1e9) >= 599.9


@settings(max_examples=40, deadline=None)
@given(rooms(), layouts("lay-in-metric"))
def test_staggering_leaves_slots_on_the_grid(room, layout) -> None:  # type: ignore[no-untyped-def]
    """A splice is half a slot pitch from the nearest place where a cross tee could meet the main."""
    mains = choose_mains(room, layout, METRIC, GridWish("lay-in-metric"))
    axis = 0 if mains.direction == "along" else 1
    for member in frame(room, layout, METRIC, mains):
        if member.kind == "main tee":
            start = layout.frame.inward(member.start)[axis]
            for splice in splices(member):
                off = (start + splice) % METRIC.main.slot_pitch
                hooks = [k for k in range(-60, 60) if start < k * layout.module[axis] < start + member.length]
                assert not hooks or off == pytest.approx(METRIC.main.first_slot, abs=0.05)
