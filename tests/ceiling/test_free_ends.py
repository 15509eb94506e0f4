"""Seismic perimeters: where tee ends are left free of the walls, and that every length is cut for it."""

import dataclasses
import math

import pytest
from ceiling.framing_rooms import grid, layouts, rooms
from ceiling.hand_layouts import FOOT, IMPERIAL, INCH, METRIC, rectangle, room_of, square_column
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon, union_all

from planner.ceiling.framing import frame, framed
from planner.ceiling.hanging import hang
from planner.ceiling.mains import MainLines, choose_mains
from planner.ceiling.members.free_ends import FreeEnds, perimeter_of
from planner.ceiling.setout import set_out
from planner.ceiling.system import load_system
from planner.geometry import distance
from planner.room.brief import GridWish
from planner.room.outline import Column, Joists
from planner.room.site import Site

C, D = Site(seismic="C"), Site(seismic="D")
ALONG = MainLines("along", 2, 0)
BY_600 = grid((300.0, 300.0), (600.0, 600.0))


def tees(room, layout=BY_600, system=METRIC, mains=ALONG):
    made = framed(room, layout, system, mains, free=FreeEnds(room, system))
    return [member for member in made.members if member.kind in ("main tee", "cross tee")]


def on_line(members, axis, at):
    """The only member on the line where coordinate[axis] is `at`."""
    (one,) = [m for m in members if abs(m.start[axis] - at) < 0.01 and abs(m.end[axis] - at) < 0.01]
    return one


class TestWhichWalls:
    def test_category_c_is_fixed_to_none(self):
        """3/8 in all round (ASTM E580, second hand), 10 mm in a metric room (E580M, from memory)."""
        assert perimeter_of(rectangle(3000, 4000, site=C), METRIC).gap == 10.0
        ends = perimeter_of(rectangle(10 * FOOT, 12 * FOOT, units="ft-in", site=C), IMPERIAL)
        assert (ends.gap, ends.fixed) == (3 / 8 * INCH, ())

    def test_category_d_is_fixed_at_the_reference_corner(self):
        """3/4 in, 19 mm, free of the two other walls; A is where A-B and D-A meet."""
        ends = perimeter_of(rectangle(10 * FOOT, 12 * FOOT, units="ft-in", site=D), IMPERIAL)
        assert (ends.gap, ends.fixed) == (3 / 4 * INCH, ("A-B", "D-A"))
        assert perimeter_of(rectangle(3000, 4000, site=D), METRIC).gap == 19.0

    def test_or_at_the_walls_that_the_room_file_names(self):
        """Fixed at B-C and C-D, so a tee along the room is short at D-A, where it starts, and not at B-C."""
        room = rectangle(3000, 4000, site=Site(seismic="D", fixed_walls=("B-C", "C-D")))
        ends = FreeEnds(room, METRIC)
        assert ends.perimeter.fixed == ("B-C", "C-D")
        assert ends.short((0, 500), (3000, 500)) == pytest.approx(19.0)
        assert ends.short((3000, 500), (0, 500)) == 0.0

    @pytest.mark.parametrize("category", [None, "A", "B"])
    def test_elsewhere_nothing_is_asked(self, category):
        room = rectangle(3000, 4000, site=Site(seismic=category))
        assert perimeter_of(room, METRIC) is None
        assert FreeEnds(room, METRIC).short((0, 500), (3000, 500)) == 0.0

    def test_nor_of_a_grid_on_the_joists(self):
        assert perimeter_of(rectangle(3000, 4000, site=D), load_system("direct-metric")) is None

    def test_two_walls_that_are_clearly_longer_hold_it(self):
        """A stands in a niche of 1 x 0.5 m: E-F 6 m and F-G 5 m are longer together than A-B and H-A, 1.5 m."""
        corners = ((0, 0), (1000, 0), (1000, 500), (3500, 500), (3500, 5500), (-2500, 5500), (-2500, 500), (0, 500))
        assert perimeter_of(room_of(*corners, site=D), METRIC).fixed == ("D-E", "E-F")

    def test_a_wall_that_goes_straight_on_is_the_same_wall(self):
        """B lies on the way from A to C: both A-B and B-C are fixed."""
        room = room_of((0, 0), (1000, 0), (4000, 0), (4000, 3000), (0, 3000), site=D)
        assert perimeter_of(room, METRIC).fixed == ("A-B", "B-C", "E-A")

    def test_walls_that_hardly_turn_hold_it_one_way_only(self):
        """At A and C of this triangle one turns 153 and 117 degrees, at B 90: no wall but at B and C holds both ways.

        A 26.6, B 90, C 63.4 degrees inside (legs 4000 and 2000): turns of 153.4, 90, 116.6. A-B and B-C are 6000 long,
        B-C and C-A 2000 + 4472 = 6472, not a tenth more.
        """
        assert perimeter_of(room_of((0, 0), (4000, 0), (4000, 2000), site=D), METRIC).fixed == ("A-B", "B-C")


class TestLengths:
    def test_category_c_loses_the_gap_at_either_end(self):
        """4500 from wall to wall less 2 x 10; mains at 300, 1500, 2700, so border tees of 300 - 10 and 600 - 10."""
        members = tees(rectangle(4500, 3300, site=C))
        main = on_line(members, 1, 300)
        assert (main.start, main.end, main.gaps) == ((10, 300), (4490, 300), (10, 10))
        assert main.length == pytest.approx(4480)
        across = on_line(members, 0, 900)
        assert [(p.length, p.count) for p in across.pieces] == [(290, 1), (1200, 2), (590, 1)]

    def test_category_d_loses_it_at_the_free_walls_alone(self):
        """A-B and D-A hold: 4500 - 19 from left to right, 3300 - 19 from front to back."""
        members = tees(rectangle(4500, 3300, site=D))
        main, across = on_line(members, 1, 300), on_line(members, 0, 900)
        assert (main.start, main.end) == ((0, 300), (4481, 300))
        assert (across.start, across.end) == ((900, 0), (900, 3281))
        assert [p.length for p in across.pieces] == [300, 1200, 581]

    def test_the_first_cut_follows(self):
        """A slot still meets the first cross tee: 300 from the wall is 290 from the tee's end. Slots 75 + 150 k: the
        first beyond is 375, so 85 is sawn off and not 75.
        """
        main = on_line(tees(rectangle(3000, 3300, site=C)), 1, 300)
        (piece,) = main.pieces
        assert piece.length == pytest.approx(2980) and piece.ends == ("cut", "cut")
        start = 3600 - 85
        long = on_line(tees(rectangle(4500, 3300, site=C)), 1, 300)
        assert long.pieces[0].length in [pytest.approx(start - 150 * k) for k in range(20)]

    def test_a_room_as_wide_as_a_whole_tee_has_it_cut(self):
        """Between walls 1200 apart stands no whole tee: 1200 - 2 x 10."""
        room = rectangle(4500, 1200, site=C)
        layout = grid((300.0, 600.0), (600.0, 600.0))
        (piece,) = on_line(tees(room, layout, mains=MainLines("along", 2, 1)), 0, 900).pieces
        assert piece.length == pytest.approx(1180) and piece.ends == ("cut", "cut")

    def test_square_to_a_slanted_wall(self):
        """B-C leans by 45 degrees: 10 square to it are 10 x sqrt(2) along the tee; at 30 degrees to the tee 20."""
        members = tees(room_of((0, 0), (3000, 0), (6300, 3300), (0, 3300), site=C))
        main = on_line(members, 1, 1500)
        assert main.gaps == pytest.approx((10, 10 * math.sqrt(2)))
        assert main.length == pytest.approx(4500 - 10 - 10 * math.sqrt(2))
        slow = room_of((0, 0), (3000, 0), (3000 + 3300 * math.sqrt(3), 3300), (0, 3300), site=C)
        assert on_line(tees(slow), 1, 1500).gaps == pytest.approx((10, 20))

    def test_inner_walls_of_an_l_are_free_too(self):
        """A-B and F-A hold; C-D and D-E, the inner ones, do not: tees on y = 3300 end at D-E, on x = 3900 at C-D."""
        room = room_of((0, 0), (6000, 0), (6000, 2400), (3000, 2400), (3000, 4500), (0, 4500), site=D)
        members = tees(room)
        assert on_line(members, 1, 1500).gaps == (0, 19)
        assert on_line(members, 1, 3300).gaps == (0, 19)
        assert on_line(members, 0, 3900).gaps == (0, 19)

    def test_a_column_is_free_all_round(self):
        """A column of 400 at 1900: tees on its lines end 19 before it, also on the side of the walls that hold."""
        room = rectangle(4500, 4500, site=D, columns=[square_column("P", 1900, 1900, 400)])
        left, right = (m for m in tees(room) if abs(m.start[1] - 2100) < 0.01 and abs(m.end[1] - 2100) < 0.01)
        assert (left.gaps, right.gaps) == ((0, 19), (19, 19))
        assert (left.end[0], right.start[0]) == pytest.approx((1881, 2319))

    def test_a_round_column_is_free_by_its_circle(self):
        """Diameter 300 round (2000, 2000), gap 10: on y = 2100 it begins sqrt(150^2 - 100^2) = 111.8 from the middle
        and is left at sqrt(160^2 - 100^2) = 124.9.
        """
        ring = tuple(
            (2000 + 150 * math.cos(math.radians(a)), 2000 + 150 * math.sin(math.radians(a))) for a in range(0, 360, 3)
        )
        room = rectangle(4500, 4500, site=C, columns=[Column("P", ring, (2000, 2000), 300.0)])
        left, right = (m for m in tees(room) if abs(m.start[1] - 2100) < 0.01 and abs(m.end[1] - 2100) < 0.01)
        assert left.end[0] == pytest.approx(2000 - math.sqrt(160**2 - 100**2), abs=0.1)
        assert right.start[0] == pytest.approx(2000 + math.sqrt(160**2 - 100**2), abs=0.1)

    def test_a_grid_turned_by_thirty_degrees(self):
        """Tees at 30 degrees to A-B end 10 / sin 30 = 20 before it, and 10 / cos 30 = 11.547 before B-C."""
        layout = grid((1500.0, 1500.0), (600.0, 600.0), 30.0)
        gaps = {round(gap, 3) for member in tees(rectangle(4500, 4500, site=C), layout) for gap in member.gaps if gap}
        assert gaps == {20.0, 11.547}

    def test_a_tee_that_the_gap_takes_is_left_out(self):
        """The first main stands 9.8 before A-B: no tee of 9.8 - 10 between them, so the line begins at the main."""
        layout = grid((300.0, 9.8), (600.0, 600.0))
        across = on_line(tees(rectangle(4500, 3300, site=C), layout), 0, 900)
        assert across.start == (900, 9.8) and across.gaps == (0, 10)


class TestWires:
    """What is said of wires is said of the wall, and no wire is tied where there is no tee."""

    JOISTS = Joists(480.0, 30.0, "across")

    def hung(self, site):
        room = rectangle(4500, 3300, site=site, joists=self.JOISTS, ceiling_height=2500.0, underside=3000.0)
        members = tees(room)
        return members, hang(room, BY_600, METRIC, members, ()).hangers

    def test_a_wire_has_tee_to_hold(self):
        """A joist stands 30 from D-A, the next at 510, beyond the 450 for a first wire. Without a gap one is tied at
        30, 25 being the least; with a gap of 10 the tee's end is but 20 from there.
        """
        for category, nearest in ((None, 30.0), ("C", 510.0)):
            members, hangers = self.hung(Site(seismic=category))
            main = on_line(members, 1, 300)
            assert min(hanger.at[0] for hanger in hangers if hanger.member == main.id) == pytest.approx(nearest)

    def test_wires_at_free_walls_are_within_8_in_of_the_wall(self):
        """203.2 from the wall, and 25 from the tee's end: 44 from the wall at B-C and C-D."""
        members, hangers = self.hung(D)
        by_id = {member.id: member for member in members}
        at_walls = [hanger for hanger in hangers if hanger.kind == "wall wire"]
        assert at_walls
        for hanger in at_walls:
            member = by_id[hanger.member]
            away = min(
                (distance(hanger.at, wall), distance(hanger.at, end))
                for wall, end in zip(member.wall_to_wall, (member.start, member.end), strict=True)
            )
            assert away[0] <= 203.2 + 0.01 and away[1] >= 25 - 0.01

    def test_marks_are_on_the_wall(self):
        """Mains stop 10 short of D-A and B-C; their marks are where their lines meet the walls: M1 at 300 from A on
        D-A, which is measured from D: 3300 - 300.
        """
        room = rectangle(4500, 3300, site=C)
        marks = {marked.wall: marked.marks for marked in set_out(room, METRIC, BY_600, ALONG, tees(room)).walls}
        assert [mark.at for mark in marks["D-A"]] == pytest.approx([3300 - 2700, 3300 - 1500, 3300 - 300])
        assert [mark.at for mark in marks["B-C"]] == pytest.approx([300, 1500, 2700])


@settings(max_examples=60, deadline=None)
@given(st.data(), rooms(), st.sampled_from(["C", "D"]))
def test_pieces_and_gaps_reach_from_wall_to_wall(data, room, category):
    """Every tee is as it is without an earthquake, less its gaps; these are as wide as asked, at free walls."""
    room = dataclasses.replace(room, site=Site(seismic=category))
    layout = data.draw(layouts("lay-in-metric"))
    mains = choose_mains(room, layout, METRIC, GridWish("lay-in-metric"))
    ends = perimeter_of(room, METRIC)
    walls = [LineString(wall.points) for wall in room.walls if wall.name not in ends.fixed]
    free = union_all([*walls, *(Polygon(column.outline).exterior for column in room.columns)])
    calm = {key(layout, member) for member in frame(room, layout, METRIC, mains)}
    for member in tees(room, layout, METRIC, mains):
        assert member.length == pytest.approx(distance(member.start, member.end), abs=1e-6)
        assert member.length + sum(member.gaps) == pytest.approx(distance(*member.wall_to_wall), abs=1e-6)
        for at, wall, gap in zip((member.start, member.end), member.wall_to_wall, member.gaps, strict=True):
            if not on_a_crossing(layout, at):
                away = Point(wall).distance(free)  # a tee that ends within 0.5 of a wall is at it
                assert gap >= ends.gap - away - 1e-6 if away < 0.49 else gap == 0.0 or away < 0.51
        if not any(on_a_crossing(layout, at) for at in (member.start, member.end)):
            assert key(layout, member) in calm


def key(layout, member):
    """A member by its kind and where it would meet walls or other tees."""
    spots = (layout.frame.inward(point) for point in member.wall_to_wall)
    return member.kind, *((round(u, 1) + 0.0, round(v, 1) + 0.0) for u, v in spots)


def on_a_crossing(layout, point):
    """Whether a tee ends where grid lines cross: at a main, or where the gap took the last piece."""
    return all(
        min(x % side, side - x % side) < 0.05 for x, side in zip(layout.frame.inward(point), layout.module, strict=True)
    )
