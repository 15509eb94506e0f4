"""Strokes to loops: order, direction, splits, gaps, doubles; and which loop is the room."""

import math
import random
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import Polygon

from planner.errors import InputError
from planner.geometry import Frame, Point, distance, edges
from planner.room.drawn.faults import Original
from planner.room.drawn.floor import findings_in, floor_of, frame_of
from planner.room.drawn.loops import Loop, Stroke, circle_loop
from planner.room.drawn.tracing import trace

ROOM = ((0.0, 0.0), (5000.0, 0.0), (5000.0, 4000.0), (0.0, 4000.0))
MM = Original("floor.dxf", "A-WALL", "mm", 1.0, "mm")


def lines(ring) -> list[Stroke]:
    return [Stroke(a, b) for a, b in edges(ring)]


def square(x: float, y: float, size: float) -> Loop:
    return Loop(((x, y), (x + size, y), (x + size, y + size), (x, y + size)), (0.0,) * 4)


def floor(strokes, closed=(), original: Original = MM):
    return floor_of(trace(strokes, closed), original)


def rules(found) -> list[str]:
    return [f.rule for f in found.findings if f.rule != "unit of somebody else's drawing"]


# ---------------------------------------------------------------- joining


def test_four_lines_in_any_direction_are_a_room() -> None:
    a, b, c, d = lines(ROOM)
    traced = trace([c.turned(), a, d, b.turned()])
    assert traced.loops == (Loop(ROOM, (0.0,) * 4),)
    assert not traced.chains and not traced.tangles and not traced.bridged


def test_a_clockwise_polyline_is_turned_and_starts_at_its_lowest_left_corner() -> None:
    clockwise = Loop((ROOM[2], ROOM[1], ROOM[0], ROOM[3]), (0.0,) * 4)
    assert trace([], [clockwise]).loops == (Loop(ROOM, (0.0,) * 4),)


def test_a_clockwise_bow_keeps_its_side() -> None:
    """The right wall bows out by 500; run clockwise the drawing says bulge -0.25, counter-clockwise +0.25."""
    clockwise = Loop((ROOM[0], ROOM[3], ROOM[2], ROOM[1]), (0.0, 0.0, -0.25, 0.0))
    (loop,) = trace([], [clockwise]).loops
    assert loop.vertices == ROOM
    assert loop.bulges == (0.0, 0.25, 0.0, 0.0)
    assert loop.area > 20e6


def test_a_wall_drawn_in_pieces_is_one_wall() -> None:
    """A drafter breaks the base wall at 1200 and 2100 for a door."""
    pieces = [Stroke((0, 0), (1200, 0)), Stroke((2100, 0), (1200, 0)), Stroke((2100, 0), (5000, 0))]
    assert trace([*pieces, *lines(ROOM)[1:]]).loops[0].vertices == ROOM


def test_a_finely_drawn_curve_keeps_its_shape() -> None:
    """A circle of 720 chords turns half a degree at each vertex: none may be dropped, however short the chords."""
    ring = tuple((300 * math.cos(math.radians(k / 2)), 300 * math.sin(math.radians(k / 2))) for k in range(720))
    (loop,) = trace(lines(ring)).loops
    true = 720 / 2 * 300**2 * math.sin(math.radians(0.5))
    assert loop.area == pytest.approx(true, rel=1e-5)
    assert Polygon(loop.vertices).hausdorff_distance(Polygon(ring)) <= 0.0011


def test_two_half_circles_are_a_round_column() -> None:
    (loop,) = trace([Stroke((0, 100), (0, -100), 1.0), Stroke((0, 100), (0, -100), -1.0)]).loops
    assert loop.circle is not None
    assert loop.circle[0] == pytest.approx((0, 0), abs=1e-9)
    assert loop.circle[1] == pytest.approx(100)
    assert loop.area == pytest.approx(math.pi * 100**2)


def test_an_arc_of_more_than_half_a_circle_and_its_chord() -> None:
    """Three quarters of a circle of radius 1000 closed by its chord: r²(3π/4 + 1/2)."""
    start, end = (1000.0, 0.0), (0.0, -1000.0)
    (loop,) = trace([Stroke(start, end, math.tan(math.radians(270) / 4)), Stroke(start, end)]).loops
    assert loop.area == pytest.approx(1e6 * (3 * math.pi / 4 + 0.5))


def test_a_gap_of_half_a_millimetre_is_closed_where_the_walls_cross() -> None:
    """B-C starts 0.5 to the left of the end of A-B: the corner is where the lines meet, at (4999.5, 0)."""
    a, _, c, d = lines(ROOM)
    traced = trace([a, Stroke((4999.5, 0.3), (4999.5, 4000.0)), Stroke((4999.5, 4000.0), c.end), d])
    (loop,) = traced.loops
    assert loop.vertices[1] == pytest.approx((4999.5, 0.0))
    ((p, q),) = traced.bridged
    assert distance(p, q) == pytest.approx(math.hypot(0.5, 0.3))


def test_a_gap_along_a_wall_is_closed_halfway() -> None:
    traced = trace([Stroke((0, 0), (2000, 0)), Stroke((2000.6, 0), (5000, 0)), *lines(ROOM)[1:]])
    assert traced.loops[0].vertices == ROOM
    assert len(traced.bridged) == 1


def test_a_jog_smaller_than_the_gap_is_a_jog() -> None:
    """A half millimetre step that is drawn is no gap: it has lines at both ends."""
    stepped = (*ROOM[:2], (5000.0, 2000.0), (5000.5, 2000.0), (5000.5, 4000.0), ROOM[3])
    assert trace(lines(stepped)).loops[0].vertices == stepped


def test_a_gap_of_more_than_a_millimetre_stays_open() -> None:
    traced = trace([Stroke((1.1, 0), ROOM[1]), *lines(ROOM)[1:]])
    assert not traced.loops and not traced.bridged
    (chain,) = traced.chains
    assert {chain[0].start, chain[-1].end} == {(1.1, 0), (0.0, 0.0)}
    assert trace([Stroke((1.1, 0), ROOM[1]), *lines(ROOM)[1:]], at_most_gap_mm=1.2).loops


def test_the_nearest_ends_are_joined_first() -> None:
    """Between two ends 0.9 apart lies the end of a third line, 0.3 from one: a greedy join in file order would err."""
    strokes = [Stroke((0, 0.9), (0, 4000)), Stroke((0, 0), (5000, 0)), Stroke((-0.3, 0), (-0.3, -900))]
    ((p, q),) = trace(strokes).bridged
    assert {p, q} == {(0, 0), (-0.3, 0)}


def test_a_scrap_does_not_close_on_itself() -> None:
    traced = trace([Stroke((0, 0), (0.6, 0)), Stroke((0.6, 0), (0.6, 0.6))])
    assert not traced.loops and len(traced.chains) == 1


def test_the_same_line_twice_counts_once() -> None:
    a, b, c, d = lines(ROOM)
    traced = trace([a, b, c, d, b.turned(), c])
    assert traced.loops == (Loop(ROOM, (0.0,) * 4),)
    assert traced.doubled == ((5000.0, 2000.0), (2500.0, 4000.0))


def test_a_polyline_over_four_lines_counts_once() -> None:
    traced = trace(lines(ROOM), [Loop(ROOM, (0.0,) * 4), circle_loop((900, 900), 50), circle_loop((900, 900), 50)])
    assert len(traced.loops) == 2
    assert len(traced.doubled) == 2


def test_an_arc_and_its_chord_are_not_the_same_line() -> None:
    assert not trace([Stroke((0, 0), (900, 0)), Stroke((0, 0), (900, 0), 0.5)]).doubled


def test_lines_of_no_length_are_dropped() -> None:
    dots = [Stroke(p, p) for p in ROOM] + [Stroke((0.0, 0.0), (0.004, 0.003))]
    assert trace([*dots, *lines(ROOM)]).loops[0].vertices == ROOM


def test_a_scrap_about_a_corner_is_no_third_line_there() -> None:
    """0.016 mm long, both its ends are as good as the corner it lies across."""
    assert trace([*lines(ROOM), Stroke((-0.008, 0.0), (0.008, 0.0))]).loops[0].vertices == ROOM


def test_three_lines_that_meet_are_named_and_not_guessed() -> None:
    traced = trace([*lines(ROOM), Stroke(ROOM[2], (2500.0, 2000.0))])
    assert not traced.loops
    assert traced.tangles[0].meetings == (ROOM[2],)


def test_a_sliver_is_no_loop() -> None:
    assert not trace(lines(((0, 0), (3000, 0), (3000, 0.0005)))).loops
    assert not trace([Stroke((0, 0), (3000, 0)), Stroke((0, 0), (3000, 0), 1e-5)]).loops


@st.composite
def floors(draw) -> tuple[tuple[Point, ...], tuple[float, ...]]:
    """A star-shaped room of 3 to 9 corners, true corners all, some walls slightly bowed."""
    count = draw(st.integers(3, 9))
    radii = draw(st.lists(st.floats(2000, 9000), min_size=count, max_size=count))
    bulges = draw(st.lists(st.sampled_from([0.0, 0.0, 0.05, -0.03]), min_size=count, max_size=count))
    ring = tuple(
        (r * math.cos(2 * math.pi * k / count), r * math.sin(2 * math.pi * k / count)) for k, r in enumerate(radii)
    )
    return ring, tuple(bulges)


def turn_at(ring, k: int) -> float:
    (a, b), (c, d) = list(edges(ring))[k - 1], list(edges(ring))[k]
    return abs((b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0])) / distance(a, d)


@settings(deadline=None)
@given(floors(), st.integers(0, 10**6), st.floats(-1e6, 1e6), st.floats(-360, 360), st.sampled_from([1.0, 25.4, 304.8]))
def test_any_floor_comes_back_whatever_the_order_direction_splits_place_and_unit(drawn, seed, far, angle, unit) -> None:
    """Corners and bulges return in turn; a straight wall cut into lines is one wall again."""
    (ring, bulges), dice = drawn, random.Random(seed)
    assume(min(turn_at(ring, k) for k in range(len(ring))) > 1.0)  # all corners are corners
    placed = Frame((far, -far / 3), angle)
    theirs = [tuple(v / unit for v in placed.outward(p)) for p in ring]
    strokes: list[Stroke] = []
    for (a, b), bulge in zip(edges(theirs), bulges, strict=True):
        cuts = [] if bulge else sorted(dice.uniform(0.1, 0.9) for _ in range(dice.randrange(3)))
        stops = [a, *((a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])) for t in cuts), b]
        strokes += [Stroke(p, q, bulge) for p, q in pairwise(stops)]
    strokes = [dice.choice([s, s.turned()]) for s in dice.sample(strokes, len(strokes))]
    scaled = [
        Stroke((s.start[0] * unit, s.start[1] * unit), (s.end[0] * unit, s.end[1] * unit), s.bulge) for s in strokes
    ]

    (loop,) = trace(scaled).loops
    expected = [placed.outward(p) for p in ring]
    first = min(range(len(ring)), key=lambda k: distance(expected[k], loop.vertices[0]))
    assert len(loop.vertices) == len(ring)
    for k, vertex in enumerate(loop.vertices):
        assert distance(vertex, expected[(first + k) % len(ring)]) < 1e-6
    assert loop.bulges == pytest.approx([bulges[(first + k) % len(ring)] for k in range(len(ring))])
    seen = loop.seen_in(frame_of(loop))
    assert seen.vertices[0] == pytest.approx((0, 0), abs=1e-6)
    assert seen.vertices[1] == pytest.approx((distance(*loop.vertices[:2]), 0), abs=1e-6)
    assert seen.area == pytest.approx(loop.area)


# ---------------------------------------------------------------- the room and its columns


def test_the_largest_loop_is_the_room_and_those_inside_are_columns() -> None:
    found = floor(lines(ROOM), [square(1000, 1000, 300), circle_loop((3000, 2000), 100)])
    assert found.outer.vertices == ROOM
    assert [c.circle for c in found.inner] == [None, ((3000, 2000), 100)]
    assert rules(found) == []


def test_a_column_flush_with_a_wall_is_a_column() -> None:
    assert len(floor(lines(ROOM), [square(0, 1000, 300)]).inner) == 1


def test_the_ring_of_a_round_column_goes_round_it_and_that_of_a_room_stays_inside() -> None:
    """A tenth of a millimetre either way: the column's corners lie off the circle, the room's on it."""
    pipe = circle_loop((3000.0, 2000.0), 100.0)
    around, inside = Polygon(pipe.ring(solid=True)), Polygon(pipe.ring())
    assert around.exterior.distance(Polygon([pipe.circle[0]] * 3).centroid) >= 100.0 - 1e-9
    assert inside.area < math.pi * 100**2 < around.area
    assert max(distance(p, (3000, 2000)) for p in pipe.ring(solid=True)) <= 100.1 + 1e-9
    assert min(distance(p, (3000, 2000)) for p in pipe.ring()) == pytest.approx(100)
    assert around.exterior.is_ccw


def test_a_loop_in_a_column_is_noted_and_one_outside_is_a_warning() -> None:
    found = floor(lines(ROOM), [square(1000, 1000, 300), square(1100, 1100, 100), square(9000, 0, 900)])
    assert len(found.inner) == 1
    assert {f.rule: f.severity for f in found.findings if f.rule.startswith("loop")} == {
        "loop outside the outline": "warn",
        "loop inside a column": "note",
    }


def test_a_column_through_the_wall_is_refused() -> None:
    with pytest.raises(InputError, match=r"two closed lines cross.*\(4900, 1000\) mm"):
        floor(lines(ROOM), [square(4900, 1000, 300)])


def test_two_columns_that_overlap_are_refused() -> None:
    with pytest.raises(InputError, match="two closed lines cross"):
        floor(lines(ROOM), [square(1000, 1000, 300), square(1200, 1200, 300)])


def test_an_outline_that_crosses_itself_is_refused_with_the_place() -> None:
    """Diagonals of a 5 x 4 m bow tie cross in its middle."""
    tie = Loop((ROOM[0], ROOM[2], ROOM[1], (-100.0, 4000.0)), (0.0,) * 4)
    with pytest.raises(InputError, match=r"crosses or touches itself at \(\d+"):
        floor([], [tie])


def test_a_wall_drawn_past_its_corner_and_back_is_refused() -> None:
    """A spike on the line of the base wall: nothing is straightened away that turns back."""
    spiked = (*ROOM[:1], (5600.0, 0.0), *ROOM[1:])
    with pytest.raises(InputError, match="crosses or touches itself"):
        floor(lines(spiked))


def test_a_closet_with_a_pipe_in_its_middle_has_no_two_faces() -> None:
    """1.3 m square: within 600 of its walls lies all but 100 x 100 of it, which a 300 column covers."""
    closet = ((0.0, 0.0), (1300.0, 0.0), (1300.0, 1300.0), (0.0, 1300.0))
    assert len(floor(lines(closet), [square(500, 500, 300)]).inner) == 1


def test_the_two_faces_of_a_wall_are_not_a_room_with_a_huge_column() -> None:
    outer = ((-200.0, -200.0), (5200.0, -200.0), (5200.0, 4200.0), (-200.0, 4200.0))
    with pytest.raises(InputError, match="two faces of a wall"):
        floor([*lines(ROOM), *lines(outer)])


def test_a_corridor_round_a_core_is_a_room_with_a_huge_column() -> None:
    corridor = ((-1500.0, -1500.0), (6500.0, -1500.0), (6500.0, 5500.0), (-1500.0, 5500.0))
    assert floor([*lines(ROOM), *lines(corridor)]).inner[0].vertices == ROOM


def test_a_loose_line_in_the_room_is_left_out_with_a_warning() -> None:
    found = floor([*lines(ROOM), Stroke((1000, 1000), (1000, 2000))])
    assert rules(found) == ["line left out"]
    assert "(1000, 1000) mm" in found.findings[1].message


def test_a_column_that_does_not_close_is_refused_and_not_left_out() -> None:
    """Three sides of a 300 column and most of the fourth: a gap of 5, both ends named."""
    column = [(1000, 1000), (1300, 1000), (1300, 1300), (1000, 1300), (1000, 1005)]
    open_one = [Stroke(p, q) for p, q in pairwise(column)]
    with pytest.raises(InputError, match=r"\(1000, 1000\) mm and \(1000, 1005\) mm are 5 mm apart"):
        floor([*lines(ROOM), *open_one])


def test_an_open_outline_is_not_replaced_by_its_largest_column() -> None:
    with pytest.raises(InputError, match=r"the outline is open.*2 mm apart"):
        floor([Stroke((2.0, 0.0), ROOM[1]), *lines(ROOM)[1:]], [square(1000, 1000, 600)])


def test_two_open_loops_are_two_complaints_the_narrower_gap_first() -> None:
    other = [(x + 9000, y) for x, y in ROOM]
    strokes = [Stroke((30.0, 0.0), ROOM[1]), *lines(ROOM)[1:], Stroke((9008.0, 0.0), other[1]), *lines(other)[1:]]
    with pytest.raises(InputError) as caught:
        floor(strokes)
    first, second = caught.value.complaints[:2]
    assert "(9008, 0)" in first.problem and "(9000, 0)" in first.problem and "8 mm apart" in first.problem
    assert "(30, 0)" in second.problem and "30 mm apart" in second.problem


def test_places_are_given_in_the_drawings_unit_and_in_millimetres() -> None:
    inches = Original("floor.dxf", "A-WALL", "in", 25.4, "in")
    with pytest.raises(InputError) as caught:
        floor([Stroke((25.4, 0.0), ROOM[1]), *lines(ROOM)[1:]], original=inches)
    assert "(1, 0) in = (25.4, 0.0) mm and (0, 0) in = (0.0, 0.0) mm are 1 in (25.4 mm) apart" in str(caught.value)


def test_three_lines_that_meet_are_refused_with_the_place() -> None:
    with pytest.raises(InputError, match=r"three lines or more meet at \(5000, 4000\) mm"):
        floor([*lines(ROOM), Stroke(ROOM[2], (2500.0, 2000.0))])


def test_lines_that_meet_outside_the_room_are_left_out() -> None:
    star = [Stroke((9000, 0), (9000 + x, y)) for x, y in ((500, 0), (0, 500), (-500, 0))]
    assert rules(floor([*lines(ROOM), *star])) == ["line left out"]


def test_a_hundred_gaps_are_not_a_hundred_complaints() -> None:
    dashes = [Stroke((k * 50.0, 0.0), (k * 50.0 + 40.0, 0.0)) for k in range(100)]
    with pytest.raises(InputError) as caught:
        floor(dashes)
    assert len(caught.value.complaints) == 11
    assert "100 lines" in caught.value.complaints[-1].problem


def test_nothing_closed_at_all() -> None:
    with pytest.raises(InputError, match="no closed outline"):
        floor([])


def test_gaps_and_doubles_are_findings_with_their_place() -> None:
    found = floor([Stroke((0.7, 0.0), ROOM[1]), *lines(ROOM)[1:], lines(ROOM)[1]])
    gap, double = found.findings[1:]
    assert (gap.rule, gap.severity) == ("gap in the outline", "note")
    assert "0.7 mm" in gap.message
    assert (double.rule, double.where) == ("line drawn twice", (5000.0, 2000.0))
    (seen,) = findings_in(Frame((5000.0, 0.0), 90.0), [double])
    assert seen.where == pytest.approx((2000.0, 0.0))


# ---------------------------------------------------------------- size


def ratio_room(by: float) -> list[Stroke]:
    return lines([(x * by, y * by) for x, y in ROOM])


def test_a_millimetre_drawing_that_says_inches_is_asked_about() -> None:
    """7100 mm taken for inches: 7100 x 25.4 = 180.3 m; in mm it would be 7.1 m, in cm 71 m is too long to propose."""
    wide = lines([(x * 1.42 * 25.4, y * 25.4) for x, y in ROOM])
    with pytest.raises(InputError) as caught:
        floor(wide, original=Original("floor.dxf", "A-WALL", "in", 25.4, "in"))
    text = str(caught.value)
    assert "is this room 180 m long? its DXF says in" in text
    assert "units: mm makes it 7.1 m" in text
    assert "units: cm" not in text
    assert "If it really is 180 m long, say so with units: in." in text


def test_the_length_is_that_of_the_room_however_it_is_turned() -> None:
    """At 45 degrees a hall of 140 x 100 m takes 170 m along both axes; yet it is 140 m long."""

    def hall(length: float) -> list[Stroke]:
        turned = Frame((9e6, 2e6), 45.0)
        return lines([turned.outward(p) for p in ((0, 0), (length, 0), (length, 100_000), (0, 100_000))])

    assert floor(hall(140_000)).outer.area == pytest.approx(140_000 * 100_000)
    with pytest.raises(InputError, match="is this room 151 m long"):
        floor(hall(151_000))


def test_a_hall_that_the_room_file_confirms_is_read() -> None:
    agreed = Original("floor.dxf", "A-WALL", "mm", 1.0, "mm", told=True)
    found = floor(ratio_room(40), original=agreed)
    assert "the room is 200 m long" in found.findings[0].message
    with pytest.raises(InputError, match="200 m long"):
        floor(ratio_room(40), original=Original("floor.dxf", "A-WALL", "mm", 1.0, "cm", told=True))


def test_a_room_of_a_few_millimetres_was_drawn_in_metres() -> None:
    """5 units said to be mm: 5 m in metres, 5 ft = 1.5 m is not proposed."""
    with pytest.raises(InputError) as caught:
        floor(ratio_room(0.001))
    assert "is this room 0.005 m long" in str(caught.value)
    assert "units: m makes it 5 m" in str(caught.value)
    assert "units: ft" not in str(caught.value)


def test_the_unit_is_asked_about_before_the_gaps_it_makes() -> None:
    """In the wrong unit a gap of 0.1 is one of 2.5 mm; the unit is what must be mended."""
    strokes = [Stroke((s.start[0] * 40, s.start[1] * 40), (s.end[0] * 40, s.end[1] * 40)) for s in lines(ROOM)]
    strokes[0] = Stroke((2.5, 0.0), strokes[0].end)
    with pytest.raises(InputError, match="is this room 200 m long"):
        floor(strokes)
