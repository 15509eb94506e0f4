"""No tee is cut where the ledge of the wall angle closes the ceiling alone."""

from pathlib import Path

from planner.ceiling.build import build_ceiling
from planner.ceiling.members.idle import without_idle_ends
from planner.ceiling.model import Closed, Piece
from planner.ceiling.system import load_system
from planner.room.reader import read_room

METRIC = load_system("lay-in-metric")
FIXTURES = Path(__file__).parents[2] / "fixtures"
NO_GAPS = (0.0, 0.0)


def piece(length: float, *ends: str, count: int = 1) -> Piece:
    return Piece("cross tee 600", length, ends, count)  # type: ignore[arg-type]


#: A line along x = 0 from the wall at y = 0 up: an end of 40, then a whole tee.
LINE = ((0.0, 0.0), (0.0, 640.0), (piece(40.0, "cut", "factory"), piece(600.0, "factory", "factory")), (10.0, 0.0))
LEFT = Closed((0, 0), ((-50.0, 0.0), (0.0, 0.0), (0.0, 40.0), (-50.0, 40.0)))
RIGHT = Closed((1, 0), ((0.0, 0.0), (50.0, 0.0), (50.0, 40.0), (0.0, 40.0)))


def test_an_end_between_two_parts_without_panels_is_left_out() -> None:
    (line,) = without_idle_ends([LINE], [LEFT, RIGHT], METRIC)
    assert line == ((0.0, 40.0), (0.0, 640.0), LINE[2][1:], NO_GAPS)


def test_from_the_other_end_too() -> None:
    start, end, pieces, _ = LINE
    turned = (end, start, (pieces[1], piece(40.0, "factory", "cut")), (0.0, 10.0))
    (line,) = without_idle_ends([turned], [LEFT, RIGHT], METRIC)
    assert line == ((0.0, 640.0), (0.0, 40.0), pieces[1:], NO_GAPS)


def test_beside_one_panel_it_stays() -> None:
    assert without_idle_ends([LINE], [LEFT], METRIC) == [LINE]
    assert without_idle_ends([LINE], [], METRIC) == [LINE]


def test_a_tee_across_a_corner_with_nothing_behind_it_is_none() -> None:
    """From wall to wall, 40 long: the panel before it lies on the ledges."""
    across = ((0.0, 0.0), (0.0, 40.0), (piece(40.0, "cut", "cut"),), NO_GAPS)
    assert without_idle_ends([across], [LEFT], METRIC) == []
    assert without_idle_ends([across], [], METRIC) == [across]


def test_the_foyer_has_no_tees_in_its_corners() -> None:
    """At B and E lines 24.4 from the corner cross it for 49 mm, less than two ledges of 24 could close."""
    ceiling = build_ceiling(read_room(FIXTURES / "foyer-diagonal.yaml"))
    tees = [member for member in ceiling.members if member.kind == "cross tee"]
    assert min(piece.length for tee in tees for piece in tee.pieces) > 200.0
    assert [tee.id for tee in tees] == [f"T{k}" for k in range(1, len(tees) + 1)]
