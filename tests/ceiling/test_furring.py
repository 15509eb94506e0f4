"""Furring strips: published spacing and counts, and where they lie in a room."""

from itertools import pairwise

import pytest
from ceiling.framing_rooms import INCH, block, floor_of, grid, rectangle, room_of
from shapely import LineString

from planner.ceiling.direct import fix_directly
from planner.ceiling.holding.overhead import crossings
from planner.ceiling.mains import MainLines
from planner.ceiling.members.furring import furring, strip_centres, strip_rows, strips_in_row
from planner.ceiling.model import Member
from planner.ceiling.system import load_system
from planner.geometry import distance
from planner.room.outline import Joists

FOOT = 12 * INCH
DIRECT = load_system("direct-imperial").direct
METRIC = load_system("direct-metric").direct
ALONG = MainLines("along", 1, 0)


def test_centres_of_published_strips() -> None:
    """CV-35: border 10 in, flange 1/2 in, tile 12 in: 10.5, 22.5, 34.5 ...; 116 in = 10 + 8 x 12 + 10."""
    centres = strip_centres(10, 0.5, 12, 116, 2.5)
    assert centres[0] == 1.25
    assert centres[1:4] == (10.5, 22.5, 34.5)
    assert centres[-1] == 116 - 1.25


def test_a_strip_on_the_one_at_the_wall_is_left_out() -> None:
    """Border 3 in: its strip would lie at 3 and the wall's from 0 to 2.5; they need 3.75 between 1.25 and the next."""
    assert strip_centres(3, 0, 12, 60, 2.5) == (1.25, 15, 27, 39, 51, 58.75)


def test_published_rows_and_pieces() -> None:
    """15 ft at 1 ft: 16 rows; 4 ft strips across 12 ft: 3 a row; 48 pieces."""
    assert strip_rows(15, 1) == 16
    assert strips_in_row(12, 4) == 3
    assert strip_rows(15, 1) * strips_in_row(12, 4) == 48


def test_a_room_has_as_many_rows_as_published() -> None:
    """15 x 12 ft, strips at 1 ft from full borders: 14 lines and two walls make 16 rows, each 12 ft."""
    assert DIRECT is not None
    room = rectangle(15 * FOOT, 12 * FOOT, joists=Joists(16 * INCH, 8 * INCH, "along"))
    strips = furring(room, grid((0.0, 0.0), (FOOT, FOOT)), ALONG, DIRECT)
    assert len(strips) == strip_rows(15, 1)
    assert all(strip.length == pytest.approx(12 * FOOT) for strip in strips)
    assert [strip.id for strip in strips[:2]] == ["FS1", "FS2"]


def joints(strip: Member) -> list[float]:
    lengths = [piece.length for piece in strip.pieces for _ in range(piece.count)]
    return [sum(lengths[: k + 1]) for k in range(len(lengths) - 1)]


def test_joints_lie_under_joists_and_are_staggered() -> None:
    assert METRIC is not None
    joists = Joists(400, 210, "along")
    room = rectangle(5000, 6100, joists=joists)
    strips = furring(room, grid((400.0, 350.0), (600.0, 600.0)), ALONG, METRIC)
    for one, other in pairwise(strips):
        assert not {round(j) for j in joints(one)} & {round(j) for j in joints(other)}
    for strip in strips:
        under = crossings(joists, strip.start, strip.end)
        assert all(min(abs(joint - joist) for joist in under) < 0.01 for joint in joints(strip))
        assert all(piece.length <= 2400.01 for piece in strip.pieces)
        assert min(piece.length for piece in strip.pieces) >= 200
        assert strip.length == pytest.approx(distance(strip.start, strip.end))


def test_strips_stay_in_the_room_and_end_at_columns() -> None:
    assert METRIC is not None
    outline = ((0.0, 0.0), (5140.0, 0.0), (5140.0, 2370.0), (3260.0, 2370.0), (3260.0, 3480.0), (0.0, 3480.0))
    room = room_of(outline, (block("C1", (900, 1000), 300, 300), block("chase", (0, 2000), 200, 200)))
    strips = furring(room, grid((430.0, 570.0), (600.0, 600.0)), ALONG, METRIC)
    floor = floor_of(room).buffer(0.02)
    assert all(floor.covers(LineString([strip.start, strip.end])) for strip in strips)
    at_left = [strip for strip in strips if strip.start[0] == pytest.approx(31.5)]
    assert sorted(round(strip.length) for strip in at_left) == [1280, 2000]  # the chase takes 200 of 3480


def test_carriers_that_run_away_from_the_base_wall_have_strips_along_it() -> None:
    assert METRIC is not None
    room = rectangle(3000, 2400)
    strips = furring(room, grid((0.0, 0.0), (600.0, 600.0)), MainLines("across", 1, 0), METRIC)
    assert len(strips) == 5  # lines at 600, 1200, 1800 and two walls
    assert all(strip.start[1] == pytest.approx(strip.end[1]) for strip in strips)


DEN = ((0.0, 0.0), (5140.0, 0.0), (5140.0, 2370.0), (3260.0, 2370.0), (3260.0, 3480.0), (0.0, 3480.0))


def test_a_strip_that_would_end_on_a_carriers_middle_runs_on_over_the_next_joist() -> None:
    """The strip at x = 3260 - 63/2 = 3228.5 begins at the corner, y = 2370, on the middle of a carrier.

    Joists lie at y = 210 + 400 k: the next below is 2210; 25 past it, where two nails hold, is 2185. The carrier's last
    screw is then in the middle of the strip, 185 from its end; the strip at x = 3430 is beyond the carrier.
    """
    assert METRIC is not None
    room, layout = room_of(DEN, joists=Joists(400, 210, "along")), grid((430.0, 570.0), (600.0, 600.0))
    carrier = Member("CR4", "carrier", (0.0, 2370.0), (3260.0, 2370.0), ())
    (strip,) = (s for s in furring(room, layout, ALONG, METRIC, [carrier]) if s.start[0] == pytest.approx(3228.5))
    assert (strip.start[1], strip.end[1]) == (pytest.approx(2185), pytest.approx(3480))
    assert strip.length == pytest.approx(1295)
    found = fix_directly(room, layout, load_system("direct-metric"), ALONG, [carrier])
    assert max(screw.at[0] for screw in found.screws) == pytest.approx(3228.5)


def test_a_strip_ends_at_the_corner_where_no_carrier_is() -> None:
    """The carrier lies 21 mm from the end of the strip, so that it is screwed to nothing that is cut there."""
    assert METRIC is not None
    room, layout = room_of(DEN, joists=Joists(400, 210, "along")), grid((430.0, 570.0), (600.0, 600.0))
    carrier = Member("CR4", "carrier", (0.0, 2391.0), (3260.0, 2391.0), ())
    (strip,) = (s for s in furring(room, layout, ALONG, METRIC, [carrier]) if s.start[0] == pytest.approx(3228.5))
    assert strip.start[1] == pytest.approx(2370)
