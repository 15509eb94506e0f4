"""Screws of a direct grid's track where a wall is just as long as so many spaces, and a hair longer."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from ceiling.framing_rooms import INCH, grid, rectangle
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.ceiling.direct import fix_directly
from planner.ceiling.framing import frame
from planner.ceiling.mains import MainLines
from planner.ceiling.system import load_system
from planner.room.outline import Joists

IMPERIAL = load_system("direct-imperial")
JOISTS = Joists(16 * INCH, 8 * INCH, "across")
#: The first and last screw of a length of track are 50 mm from its ends, the others at most 24 in apart.
END, APART = 50.0, 24 * INCH


def screws_along_base(width: float) -> list[float]:
    """Where screws stand in the track of the base wall, however many pieces it is made of."""
    room = rectangle(width, 60 * INCH, joists=JOISTS)
    members = frame(room, grid((0.0, 0.0), (24 * INCH, 24 * INCH)), IMPERIAL, MainLines("along", 1, 0))
    found = fix_directly(room, grid((0.0, 0.0), (24 * INCH, 24 * INCH)), IMPERIAL, MainLines("along", 1, 0), members)
    (track,) = [m for m in members if m.kind == "track" and abs(m.start[1]) < 1 and abs(m.end[1]) < 1]
    return sorted(round(s.at[0], 3) for s in found.screws if s.member == track.id)


@pytest.mark.parametrize("spaces", [1, 2, 3])
def test_a_wall_of_just_so_many_spaces_needs_no_screw_more(spaces: int) -> None:
    """50 + n · 609.6 + 50: n spaces, n + 1 screws; 0.1 mm more and there is one more space."""
    exact = 2 * END + spaces * APART
    assert screws_along_base(exact) == pytest.approx([END + k * APART for k in range(spaces + 1)], abs=0.01)
    assert len(screws_along_base(exact + 0.1)) == spaces + 2


@settings(deadline=None, max_examples=25)
@given(st.floats(101, 2300))
def test_never_too_far_apart_and_never_at_the_very_end(width: float) -> None:
    at = screws_along_base(width)
    assert len(at) == math.ceil((width - 2 * END) / APART - 1e-9) + 1
    assert at[0] == pytest.approx(END, abs=0.01) and at[-1] == pytest.approx(width - END, abs=0.01)
    assert all(b - a <= APART + 0.01 for a, b in pairwise(at))


def test_a_track_too_short_for_two_has_one_in_its_middle() -> None:
    assert screws_along_base(100.0) == [50.0]
    assert screws_along_base(90.0) == [45.0]


def test_a_system_that_asks_for_closer_screws_gets_them() -> None:
    assert IMPERIAL.direct is not None
    closer = replace(IMPERIAL, direct=replace(IMPERIAL.direct, track_screws=300.0))
    room, layout = rectangle(1300.0, 60 * INCH, joists=JOISTS), grid((0.0, 0.0), (600.0, 600.0))
    lines = MainLines("along", 1, 0)
    members = frame(room, layout, closer, lines)
    (track,) = [m for m in members if m.kind == "track" and abs(m.start[1]) < 1 and abs(m.end[1]) < 1]
    screws = [s for s in fix_directly(room, layout, closer, lines, members).screws if s.member == track.id]
    assert len(screws) == 5  # 1200 between the first and the last is four times 300
