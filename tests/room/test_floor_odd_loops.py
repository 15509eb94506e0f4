"""Somebody else's drawing, where loops are nearly alike, stretched, or cross: nothing may be lost without a word."""

from pathlib import Path

import ezdxf
import pytest

from planner.errors import InputError
from planner.geometry import box_of
from planner.room.drawn.dxf import read_floor
from planner.room.drawn.faults import Original
from planner.room.drawn.floor import Floor, floor_of
from planner.room.drawn.loops import Loop
from planner.room.drawn.tracing import trace
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
ROOM = ((0.0, 0.0), (5000.0, 0.0), (5000.0, 4000.0), (0.0, 4000.0))
MM = Original("floor.dxf", "A-WALL", "mm", 1.0, "mm")
STRAIGHT = (0.0,) * 4


def floor(*loops: Loop, original: Original = MM) -> Floor:
    return floor_of(trace((), loops), original)


def rules(found: Floor) -> list[str]:
    return [f.rule for f in found.findings][1:]  # the first says in which unit it was read


def test_round_and_square_columns_keep_their_middle_and_only_round_ones_have_a_diameter() -> None:
    """The attic office has a pipe of 4-1/2 in, radius 2.25 in, and two square columns."""
    columns = read_room(FIXTURES / "attic-office.yaml").room.columns
    assert sorted(column.diameter or 0.0 for column in columns) == pytest.approx([0.0, 0.0, 4.5 * 25.4])
    for column in columns:
        assert column.centre == pytest.approx(box_of(column.outline).centre, abs=0.01)
        if column.diameter is not None:
            assert box_of(column.outline).width == pytest.approx(column.diameter, abs=0.3)


def test_the_same_loop_twice_is_counted_once_and_said() -> None:
    assert rules(floor(Loop(ROOM, STRAIGHT), Loop(ROOM, STRAIGHT))) == ["line drawn twice"]


@pytest.mark.parametrize("bulge", [0.1, -0.1])
def test_a_second_outline_with_a_bow_is_not_the_same_line(bulge: float) -> None:
    """The right wall straight in one and bowed in the other: which of them is the wall must be asked, not chosen."""
    with pytest.raises(InputError, match="two faces of a wall"):
        floor(Loop(ROOM, STRAIGHT), Loop(ROOM, (0.0, bulge, 0.0, 0.0)))


def test_a_column_that_crosses_itself_is_named() -> None:
    """Its corners in the wrong order make an hourglass, which crosses itself in its middle."""
    hourglass = ((1000.0, 1000.0), (1400.0, 1000.0), (1000.0, 1400.0), (1400.0, 1400.0))
    with pytest.raises(InputError, match=r"crosses or touches itself at \(1200, 1200\)"):
        floor(Loop(ROOM, STRAIGHT), Loop(hourglass, STRAIGHT))


@pytest.mark.parametrize(("across", "up"), [(3, 1), (1, 3)])
def test_a_circle_stretched_either_way_is_no_circle(tmp_path: Path, across: float, up: float) -> None:
    doc = ezdxf.new("R2010", units=4)
    doc.modelspace().add_lwpolyline(ROOM, close=True, dxfattribs={"layer": "A-WALL"})
    doc.blocks.new("PIPE").add_circle((0, 0), 40)
    where = {"layer": "A-WALL", "xscale": across, "yscale": up}
    doc.modelspace().add_blockref("PIPE", (1000, 1000), dxfattribs=where)
    doc.saveas(tmp_path / "floor.dxf")
    found = read_floor(tmp_path / "floor.dxf", "A-WALL", None)
    assert found.inner == ()
    assert "1 stretched loop" in found.findings[1].message


@pytest.mark.parametrize(("across", "up"), [(3, 1), (1, 3), (-3, 1)])
@pytest.mark.parametrize("turn", [45, -45, 30])
def test_a_circle_turned_and_then_stretched_is_none_either(
    tmp_path: Path, across: float, up: float, turn: float
) -> None:
    """Turned by 45 degrees first, both of its axes come out equally long, but no longer square to each other."""
    doc = ezdxf.new("R2010", units=4)
    doc.modelspace().add_lwpolyline(ROOM, close=True, dxfattribs={"layer": "A-WALL"})
    doc.blocks.new("PIPE").add_circle((0, 0), 40)
    doc.blocks.new("RISER").add_blockref("PIPE", (0, 0), dxfattribs={"rotation": turn})
    where = {"layer": "A-WALL", "xscale": across, "yscale": up}
    doc.modelspace().add_blockref("RISER", (1000, 1000), dxfattribs=where)
    doc.saveas(tmp_path / "floor.dxf")
    found = read_floor(tmp_path / "floor.dxf", "A-WALL", None)
    assert found.inner == ()
    assert "1 stretched loop" in found.findings[1].message


def test_a_size_that_no_unit_makes_a_room_is_asked_with_all_units() -> None:
    """Ten million metres long in millimetres, and longer still in any other unit."""
    huge = Loop(tuple((x * 2e6, y * 2e6) for x, y in ROOM), STRAIGHT)
    with pytest.raises(InputError, match=r"Give the unit it is drawn in: (mm|cm|m|in|ft); "):
        floor(huge)
