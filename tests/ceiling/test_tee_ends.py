"""Where tees end: at which wall, how slanted, and what holds those that no wall angle carries."""

import math
from dataclasses import replace

import pytest
from ceiling.framing_rooms import grid
from ceiling.hand_layouts import METRIC, rectangle

from planner.ceiling.hanging import hang
from planner.ceiling.holding.end_wires import end_wires
from planner.ceiling.holding.tee_ends import bare_ends, tee_ends
from planner.ceiling.model import Hanger, Member, Piece
from planner.room.outline import Column, Joists, Room
from planner.room.site import Site

LAYOUT = grid((0.0, 0.0), (600.0, 600.0))


def tee(start, end, kind="cross tee", name="T1") -> Member:
    return Member(name, kind, start, end, (Piece(kind, math.dist(start, end), ("factory", "cut")),))


def column(name: str, x: float, y: float, side: float) -> Column:
    h = side / 2
    ring = ((x - h, y - h), (x + h, y - h), (x + h, y + h), (x - h, y + h))
    return Column(name, ring, (x, y))


def room(*columns: Column, **more) -> Room:
    return rectangle(4000.0, 3000.0, columns=columns, underside=2700.0, ceiling_height=2400.0, **more)


def test_an_end_knows_its_wall_and_that_it_is_square() -> None:
    (end,) = tee_ends(room(), [tee((1000.0, 600.0), (1000.0, 0.0))])
    assert (end.place, end.column, end.carried, end.slope) == ("A-B", False, True, 0.0)
    assert (end.at, end.other) == ((1000.0, 0.0), (1000.0, 600.0))


def test_a_slanted_wall_makes_one_edge_longer() -> None:
    """A wall from (4000, 0) to (3000, 3000) leans 1 in 3 against a tee along A-B: half of 24 x 1/3 = 4 mm."""
    slanted = replace(room(), outline=((0.0, 0.0), (4000.0, 0.0), (3000.0, 3000.0), (0.0, 3000.0)))
    (end,) = tee_ends(slanted, [tee((3000.0, 1500.0), (3500.0, 1500.0))])
    assert end.slope == pytest.approx(1 / 3)
    assert end.longer(24.0) == pytest.approx(4.0)


def test_at_a_corner_the_squarer_wall_counts() -> None:
    """A tee from the middle to the corner of B-C and C-D, 30 degrees from A-B's direction: B-C is square but for 30,
    C-D but for 60.
    """
    start = (4000.0 - 300.0 * math.sqrt(3), 2700.0)
    (end,) = tee_ends(room(), [tee(start, (4000.0, 3000.0))])
    assert end.place == "B-C" and end.slope == pytest.approx(math.tan(math.radians(30)))


@pytest.mark.parametrize(("side", "bare"), [(150.0, True), (200.0, False)])
def test_thin_posts_carry_nothing(side: float, bare: bool) -> None:
    """Posts up to 150 mm have no wall angle (`members.pipes`)."""
    post = column("C1", 2000.0, 1500.0, side)
    ends = bare_ends(room(post), [tee((2000.0, 600.0), (2000.0, 1500.0 - side / 2))])
    assert [end.place for end in ends] == (["C1"] if bare else [])


class TestWires:
    POST = column("C1", 2000.0, 1500.0, 100.0)
    ENDS = (tee((2000.0, 600.0), (2000.0, 1450.0)), tee((2000.0, 2400.0), (2000.0, 1550.0), name="T2"))

    def test_each_free_end_has_one_below_a_joist_within_8_in(self) -> None:
        """Joists along A-B at 300, 700, ..., 1300 and 1700: both within 203 of the ends at 1450 and 1550."""
        place = room(self.POST, joists=Joists(400.0, 100.0, "along"))
        hung = hang(place, LAYOUT, METRIC, self.ENDS, ()).hangers
        assert [(wire.kind, wire.member) for wire in hung] == [("end wire", "T1"), ("end wire", "T2")]
        assert [wire.overhead[1] for wire in hung] == pytest.approx([1300.0, 1700.0], abs=6.0)
        assert not any(wire.block for wire in hung)

    def test_none_where_a_wire_hangs_there_already(self) -> None:
        there = Hanger("", (2000.0, 1300.0), "T1", "wire")
        assert [wire.member for wire in end_wires(room(self.POST), self.ENDS, (there,))] == ["T2"]

    def test_an_earthquake_has_put_them_there_before(self) -> None:
        """Category D: every tee end at a wall or column has its wire; not two of them."""
        hung = hang(room(self.POST, site=Site(seismic="D")), LAYOUT, METRIC, self.ENDS, ()).hangers
        assert [wire.kind for wire in hung] == ["wall wire", "wall wire"]

    def test_a_room_without_pipes_has_none(self) -> None:
        assert end_wires(room(column("C1", 2000.0, 1500.0, 300.0)), self.ENDS, ()) == ()
