"""Wall angle shows beside what it is fixed to: along parts of walls and round columns with corners, too."""

import pytest

from planner.drawing.ledges import ledge_edges, ledge_shape
from planner.drawing.shapes import Line
from planner.geometry import Point
from planner.planning import Plan, plan
from planner.room.reader import read_room

ROOM = """\
units: mm
room:
  rectangle: [6000, 4000]
  columns:
    - {name: C1, at: [2800, 1850], size: [400, 300]}
    - {name: C2, at: [1350, 0], size: [300, 300]}
ceiling_height: 2500
"""
LEDGE = 24.0


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    path = tmp_path_factory.mktemp("room") / "room.yaml"
    path.write_text(ROOM, encoding="utf-8")
    return plan(read_room(path))


def drawn(made: Plan) -> dict[tuple[Point, Point], Line]:
    """The lines of all straight pieces of angle, by the ends of the pieces."""
    inset = ledge_edges(made.room, LEDGE)
    found = {}
    for member in made.ceiling.members:
        if member.kind == "wall angle":
            shape = ledge_shape(member, made.room, LEDGE, inset, "")
            assert isinstance(shape, Line)
            found[member.start, member.end] = shape
    return found


def test_angle_round_a_free_column_stands_a_ledge_off_it_and_meets_at_its_corners(made: Plan) -> None:
    """C1 reaches from 2800 to 3200 and from 1850 to 2150: its angle shows from 2776 to 3224 and from 1826 to 2174."""
    box = [
        point
        for ends, line in drawn(made).items()
        if all(2800 <= x <= 3200 and 1850 <= y <= 2150 for x, y in ends)
        for point in (line.start, line.end)
    ]
    assert sorted({(round(x, 3), round(y, 3)) for x, y in box}) == [
        (2776, 1826),
        (2776, 2174),
        (3224, 1826),
        (3224, 2174),
    ]


def test_no_angle_is_drawn_on_what_it_is_fixed_to(made: Plan) -> None:
    """Parts of A-B left and right of C2, which stands against it, show 24 mm inside like those of whole walls."""
    lines = drawn(made)
    parts = [line for ends, line in lines.items() if all(y == pytest.approx(0) for _, y in ends)]
    assert len(parts) == 2
    assert all(y == pytest.approx(LEDGE) for line in parts for _, y in (line.start, line.end))
    assert all(line.start not in ends and line.end not in ends for ends, line in lines.items())
