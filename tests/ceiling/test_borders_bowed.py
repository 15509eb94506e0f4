"""Borders along bowed walls, against a walk along the wall with a tape: what is the cut at each point?"""

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.ceiling.layout import lay_out
from planner.ceiling.model import Layout
from planner.ceiling.system import load_system
from planner.documents import parse_document
from planner.room.brief import Brief
from planner.room.outline import Wall
from planner.room.reader import brief_from

#: With a ledge that hides nothing: 14 mm less 5 of undersize less 3/8 in.
SYSTEM = replace(load_system("lay-in-metric"), ledge=14.0)
STEP = 0.5
ROOM = """
job: Bowed
units: mm
room: {rectangle: [%g, %g], bowed_walls: {%s: %g}}
grid: {system: lay-in-metric, module: [600, 600]}
"""


def laid(width: float, depth: float, wall: str, rise: float, front: float | None = None) -> tuple[Brief, Layout]:
    brief = brief_from(parse_document(ROOM % (width, depth, wall, rise), "bowed.yaml"))
    wish = brief.grid if front is None else replace(brief.grid, borders=(("front", front),))
    return brief, lay_out(brief.room, wish, SYSTEM)


def cuts_along(wall: Wall, layout: Layout) -> list[float]:
    """The cut every half millimetre along the chords, measured along the grid axis that the chord is steeper to."""
    found = []
    for start, end in pairwise(wall.points):
        a, b = layout.frame.inward(start), layout.frame.inward(end)
        run, rise = b[0] - a[0], b[1] - a[1]
        axis = 0 if abs(rise) >= abs(run) else 1
        inward = (-1.0 if rise > 0 else 1.0) if axis == 0 else (1.0 if run > 0 else -1.0)
        module, steps = layout.module[axis], max(2, math.ceil(math.dist(a, b) / STEP))
        for k in range(steps + 1):
            at = a[axis] + (b[axis] - a[axis]) * k / steps
            found.append((-inward * at) % module or module)
    return found


@settings(max_examples=12, deadline=None)
@given(
    st.integers(3000, 9000),
    st.integers(3000, 9000),
    st.sampled_from(["B-C", "C-D", "D-A", "A-B"]),
    st.floats(-0.2, 0.5).filter(lambda share: abs(share) > 0.01),
)
def test_least_and_most_are_what_a_walk_along_the_wall_finds(width, depth, name, share):
    """From nearly flat to a half circle; chords there count on both axes. A walk in steps misses an end by a little."""
    chord = width if name in ("C-D", "A-B") else depth
    rise = share * min(chord, 3000) if share < 0 else share * chord
    brief, layout = laid(width, depth, name, rise)
    wall = next(wall for wall in brief.room.walls if wall.name == name)
    border = next(border for border in layout.borders if border.wall == name)
    cuts = cuts_along(wall, layout)
    # A grid line meets the wall: the cut runs out and begins anew. Where it runs out less than a millimetre before the
    # line, the walk cannot tell a crossing from a touch, and the border itself says which it is.
    crossed = any(1.0 < cut < 2.5 for cut in cuts) or (min(cuts) <= 1.0 and border.least == 0.0)
    whole = [cut if cut > 1.0 else 600.0 for cut in cuts]  # a line that only touches the wall leaves a whole module
    assert border.least == pytest.approx(0.0 if crossed else min(whole), abs=1.0)
    assert border.most == pytest.approx(600.0 if crossed else max(whole), abs=1.0)


def test_a_half_circle_is_measured_along_both_axes():
    """An apse of radius 1500 over 3000 x 4000, 150 asked for in front: at its sides whole modules, as at B-C and D-A.

    Up to 45° it counts like a side wall, and x runs from 3000 to 1500 + 1060.7 = 2560.7: cuts of 600 to 160.7 from the
    line x = 2400. From there on it counts like a back wall, and y runs from 4000 + 1060.7 = 5060.7 to 5500: cuts of
    110.7 to 550 from the line y = 4950. The chord that stands at 45° is 35 mm long, so it may begin 25 mm lower.
    """
    brief, layout = laid(3000.0, 4000.0, "C-D", 1500.0, front=150.0)
    assert layout.frame.origin == pytest.approx((0.0, 150.0))
    borders = {border.wall: border for border in layout.borders}
    assert 110.7 - 25.0 <= borders["C-D"].least <= 110.7
    assert borders["C-D"].most == pytest.approx(600.0)
    assert len(layout.borders) == len(brief.room.walls) == 4


@pytest.mark.parametrize(("left", "least"), [(35.0, 565.0), (25.0, 0.0)])
def test_what_the_ledge_hides_at_the_apex_is_no_cut(left: float, least: float) -> None:
    """B-C bows out by 40 from x = 6000, so a line at 6035 leaves 5 beyond it; a ledge of 24 hides 9.475, not 15.

    Before that line whole modules are left but for the 35 at the corners.
    """
    brief, _ = laid(6000.0, 4000.0, "B-C", 40.0)
    wish = replace(brief.grid, borders=(("left", left),))
    borders = {border.wall: border for border in lay_out(brief.room, wish, load_system("lay-in-metric")).borders}
    assert (borders["B-C"].least, borders["B-C"].most) == pytest.approx((least, 600.0), abs=0.1)


def test_straight_walls_are_not_changed_by_a_bow_elsewhere():
    """B-C at x = 6200 and D-A at 0: their borders are one width each, and with whole modules make up the room."""
    _, layout = laid(6200.0, 4100.0, "C-D", 250.0)
    borders = {border.wall: border for border in layout.borders}
    left, right = borders["D-A"], borders["B-C"]
    assert (left.least, right.least) == pytest.approx((left.most, right.most))
    assert (6200.0 - left.least - right.least) % 600.0 == pytest.approx(0.0, abs=0.02)
