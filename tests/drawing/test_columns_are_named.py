"""Columns, chases and pipes bear their names on every plan, and one sheet of the set says where they stand."""

from dataclasses import replace
from pathlib import Path

import pytest
from drawing.hand_plans import hand_plan, rectangle, room, round_column, square_column
from drawing.whole_sheets import ceiling_plan, check, framing_plan
from shapely.geometry import Polygon

from planner.ceiling.model import SetOut
from planner.drawing.labels import Heights, text_boxes, text_ring
from planner.drawing.plan_lines import column_shapes
from planner.drawing.roles import Role
from planner.drawing.setout_plan import setout_sheets
from planner.drawing.shapes import Dimension, Line, Sheet, Text
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.geometry import distance
from planner.planning import Plan, plan
from planner.room.outline import Column
from planner.room.reader import read_room

ISO = load_style("iso-13567")
FIXTURES = Path(__file__).parents[2] / "fixtures"


@pytest.fixture(scope="module", params=["studio-l", "attic-office", "workshop-low", "clinic", "chapel-attic"])
def made(request) -> Plan:
    return plan(read_room(str(FIXTURES / f"{request.param}.yaml")))


def sheets(made: Plan) -> tuple[Sheet, ...]:
    given = (made, ISO, SheetWish())
    return ceiling_plan(*given), framing_plan(*given), *setout_sheets(*given)


def set_out(made: Plan) -> Plan:
    """A plan with an empty set-out: walls and columns alone."""
    return replace(made, ceiling=replace(made.ceiling, setout=SetOut((), (), (), None, ())))


def test_every_column_bears_its_name_on_every_plan(made: Plan):
    names = {column.name for column in made.room.columns}
    for sheet in sheets(made):
        check(sheet, ISO)
        assert names <= {box.text for box in text_boxes(sheet, ISO) if box.role == Role.NOTE}, sheet.key


def dimensions(made: Plan) -> set[str]:
    (sheet,) = setout_sheets(made, ISO, SheetWish())
    return {shape.text for shape in sheet.windows[0].drawing.shapes if isinstance(shape, Dimension)}


def test_a_column_is_dimensioned_to_the_nearer_walls_on_the_set_out(made: Plan):
    """Two for each column that stands free."""
    assert len(dimensions(made)) >= 1
    (sheet,) = setout_sheets(made, ISO, SheetWish())
    found = [shape for shape in sheet.windows[0].drawing.shapes if isinstance(shape, Dimension)]
    assert len(found) == 2 * len(made.room.columns)


def test_it_is_measured_from_wall_to_face():
    """A column of 300 at (1000, 800) in 4140 by 3000: its faces are 1000 and 800 from the left and lower wall."""
    made = set_out(hand_plan(room(rectangle(4140, 3000), columns=(square_column("K1", 1000.0, 800.0, 300.0),))))
    assert dimensions(made) == {"1000", "800"}


def test_a_pipe_is_measured_to_its_nearest_point_and_a_chase_at_a_wall_along_that_wall_only():
    """A pipe of 100 about (3500, 2000) in 4140 by 3000: 4140 - 3550 = 590 at the right, 3000 - 2050 = 950 above.

    A chase of 400 from (0, 1000) stands at the left wall: 1000 from the wall below is all there is to measure.
    """
    columns = (round_column("P1", 3500.0, 2000.0, 100.0), square_column("K2", 0.0, 1000.0, 400.0))
    made = set_out(hand_plan(room(rectangle(4140, 3000), columns=columns)))
    assert dimensions(made) == {"590", "950", "1000"}


def test_a_turned_chase_is_crossed_from_corner_to_corner():
    """Of the square on its corner the diagonals are as long as 2 x 300, and no shorter as between its sides."""
    ring = ((1000.0, 700.0), (1300.0, 1000.0), (1000.0, 1300.0), (700.0, 1000.0))
    lines = [shape for shape in column_shapes(Column("C2", ring, (1000.0, 1000.0))) if isinstance(shape, Line)]
    assert [distance(line.start, line.end) for line in lines] == [600.0, 600.0]


def test_no_mark_of_a_panel_is_so_near_the_name_of_a_column_that_both_read_as_one():
    """C1 of the studio stands between f1 and g1: one and a half heights of its letters are between it and any mark."""
    made = plan(read_room(str(FIXTURES / "studio-l.yaml")))
    boxes = text_boxes(ceiling_plan(made, ISO, SheetWish()), ISO)
    (name,) = [Polygon(box.ring) for box in boxes if box.text == "C1"]
    marks = [Polygon(box.ring) for box in boxes if box.role == Role.PANEL_MARK]
    assert len(marks) > 20
    assert min(map(name.distance, marks)) >= 1.5 * Heights.of(ISO)[Role.NOTE]


def test_the_name_of_a_column_stands_on_whole_panels_where_it_can():
    """The column is all in one cut panel, of 2670 to 3270 by 975 to 1575, 25 from its upper edge."""
    made = hand_plan(room(rectangle(4140, 3150), columns=(square_column("K1", 2700.0, 1400.0, 150.0),)))
    sheet = ceiling_plan(made, ISO, SheetWish())
    shapes = sheet.windows[0].drawing.shapes
    (name,) = [s for s in shapes if isinstance(s, Text) and s.text == "K1"]
    tall = Heights.of(ISO)[Role.NOTE] * sheet.windows[0].drawing.scale
    letters = Polygon(text_ring(name, tall))
    assert not any(letters.intersects(Polygon(panel.outline)) for panel in made.ceiling.panels)
