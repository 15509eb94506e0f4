"""Set-out marks, strings, diagonals and chalk lines, worked out by hand and for any room."""

import math
from dataclasses import replace
from pathlib import Path

import pytest
from ceiling.framing_rooms import INCH, block, floor_of, grid, layouts, rectangle, room_of, rooms
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon
from shapely import Point as Spot

from planner.ceiling.build import build_ceiling
from planner.ceiling.framing import frame
from planner.ceiling.layout import lay_out
from planner.ceiling.mains import MainLines, choose_mains
from planner.ceiling.model import Hanger, Layout, RunMarks, SetOut
from planner.ceiling.order import order_of_work
from planner.ceiling.setout import CROSS_LINE, set_out
from planner.ceiling.system import load_system
from planner.geometry import distance
from planner.lengths import format_length
from planner.room.brief import GridWish
from planner.room.outline import Joists, Room
from planner.room.reader import read_room

HUNG = load_system("lay-in-imperial")
METRIC = load_system("lay-in-metric")
DIRECT = load_system("direct-metric")
FIXTURES = Path(__file__).parents[2] / "fixtures"


def navy_room() -> SetOut:
    """NAVEDTRA 14044 p. 5-16: 163 x 124 in; borders 21.5 and 14 in; mains at 38 and 86 in."""
    room = replace(rectangle(163 * INCH, 124 * INCH), ceiling_height=96 * INCH, units="ft-in")
    layout = grid((21.5 * INCH, 14 * INCH), (24 * INCH, 24 * INCH))
    mains = choose_mains(room, layout, HUNG, GridWish("lay-in-imperial"))
    return set_out(room, HUNG, layout, mains, frame(room, layout, HUNG, mains))


def marks(found: SetOut, unit: float = INCH) -> list[list[tuple[float, str]]]:
    return [[(round(mark.at / unit, 6), mark.what) for mark in wall.marks] for wall in found.walls]


def test_running_dimensions_of_the_navy_room() -> None:
    """Up the right wall 38 and 86; down the left 124 - 86 = 38 and 124 - 38 = 86; the cross line at 21.5 and 141.5."""
    assert marks(navy_room()) == [
        [(21.5, CROSS_LINE)],
        [(38, "main M1"), (86, "main M2")],
        [(141.5, CROSS_LINE)],
        [(38, "main M2"), (86, "main M1")],
    ]


def test_diagonals_prove_the_strings_square_as_3_4_5_does() -> None:
    """From the crossing at (21.5, 38): sides 141.5 and 86 give 165.584 in; 141.5 and 38 give 146.514 in.

    The other two have the 21.5 in beside the corner for a side, less than a module and a half (36 in).
    """
    found = navy_room()
    sides = [(141.5, 86), (141.5, 38)]
    assert [d.length / INCH for d in found.diagonals] == pytest.approx([math.hypot(*pair) for pair in sides])
    assert "3'-2\" mark" in found.diagonals[0].between  # P1-P2, 38 in up
    assert found.level == pytest.approx(96 * INCH)


def test_no_diagonal_runs_through_a_column() -> None:
    """5 x 3 m, the main at 900, the cross line at 600: from (5000, 900) to (600, 3000) a tape would be at
    900 + 2100 x 2000 / 4400 = 1855 where x is 3000; the column there stands from 1700 to 2000.

    Free is (5000, 900) to (600, 0); the others have a side of 600. So the cross line is the next, at 1200: there
    (5000, 900) to (1200, 0) is free, and both from (0, 900). To (1200, 3000) the tape meets the column's corner: at
    x = 2900 it is at 900 + 2100 x 2100 / 3800 = 2061, at 3100 at 1950. The angle may be out by allowance x L / (a b):
    3.12 x 2419 / (1200 x 2100) = 3.0 mm a metre, 3.31 x 3905 / (3800 x 900) = 3.8, 3.05 x 1500 / (1200 x 900) = 4.2.
    """
    room = rectangle(5000, 3000, columns=(block("P1", (2900, 1700), 200, 310),))
    layout, mains = grid((600.0, 300.0), (600.0, 600.0)), MainLines("along", 2, 1)
    found = set_out(room, METRIC, layout, mains, frame(room, layout, METRIC, mains))
    column = Polygon(room.columns[0].outline)
    assert [what for _, _, what in found.lines] == ["string: main M1", "string: cross line"]
    assert found.lines[1][0] == pytest.approx((1200, 0))
    assert all(column.distance(LineString([d.start, d.end])) > 0 for d in found.diagonals)
    assert [round(d.length) for d in found.diagonals] == [
        round(math.hypot(1200, 2100)),
        round(math.hypot(3800, 900)),
        round(math.hypot(1200, 900)),
    ]


def test_the_cross_line_lies_further_in_where_it_would_prove_nothing() -> None:
    """3 x 3 m, lines at 300, 900 ...: with the first main at 300, only a cross line 900 in gives two long sides.

    At 300 one diagonal of four has no side of 300; at 900 two have none: 900 and 2700, 2100 and 2700.
    """
    room, layout = rectangle(3000, 3000), grid((300.0, 300.0), (600.0, 600.0))
    mains = MainLines("along", 2, 0)
    found = set_out(room, METRIC, layout, mains, frame(room, layout, METRIC, mains))
    assert found.lines[1][0] == pytest.approx((900, 0))
    expected = [math.hypot(2100, 2700), math.hypot(900, 2700)]
    assert [d.length for d in found.diagonals] == pytest.approx(expected)


def test_in_a_corridor_a_short_diagonal_proves_more_than_one_down_its_length() -> None:
    """31 x 1.95 m, M1 975 up, the cross line at 1100: 975 x 1100 / 1470 = 730 mm a radian against 3.05 mm, 1 in 239;
    29900 x 975 / 29916 = 974 against 3 x root(1 + 3.59 squared) = 11.2 mm, 1 in 87.
    """
    brief = read_room(FIXTURES / "corridor.yaml")
    setout = build_ceiling(brief).setout
    assert setout is not None
    assert [round(d.length) for d in setout.diagonals] == [1470, 1470]  # 1 in 239 of both; 1 in 87 adds nothing
    (step,) = [step for step in order_of_work(brief.room, build_ceiling(brief)) if "square when" in step]
    assert "mark to A-B 1100 mm mark reads 1.47 m, give or take 0.004 m: no tape is truer than that." in step


def test_a_small_room_is_proved_as_well_as_it_can_be() -> None:
    """1.2 x 1.2 m, lines at 300 and 900: no side of 900 anywhere but one each; the longest triangle is 900 by 900."""
    room, layout = rectangle(1200, 1200), grid((300.0, 300.0), (600.0, 600.0))
    mains = MainLines("along", 2, 0)
    found = set_out(room, METRIC, layout, mains, frame(room, layout, METRIC, mains))
    assert [d.length for d in found.diagonals] == pytest.approx([math.hypot(900, 900)])


@pytest.mark.parametrize("fixture", sorted(FIXTURES.glob("*.yaml")), ids=lambda path: path.stem)
def test_a_tape_can_be_stretched_along_every_diagonal_and_the_order_of_work_rests_on_one(fixture: Path) -> None:
    """In the room, clear of columns, each side a module and a half; the order of work names what proves most."""
    brief = read_room(fixture)
    ceiling = build_ceiling(brief)
    setout = ceiling.setout
    assert setout is not None and setout.diagonals
    floor = Polygon(brief.room.outline).buffer(1.01)
    crossing = LineString(setout.lines[0][:2]).intersection(LineString(setout.lines[1][:2]))
    for diagonal in setout.diagonals:
        tape = LineString([diagonal.start, diagonal.end])
        assert floor.covers(tape)
        assert not any(tape.crosses(Polygon(column.outline)) for column in brief.room.columns)
        sides = [crossing.distance(Spot(end)) for end in (diagonal.start, diagonal.end)]
        assert min(sides) >= 1.5 * min(ceiling.layout.module) - 0.02
    (step,) = [step for step in order_of_work(brief.room, ceiling) if "square when" in step]
    assert setout.diagonals[0].between in step


def test_marks_are_rounded_from_running_totals() -> None:
    """Carriers 24.3 in apart from 24.3 on: the tenth is at 243 in; ten roundings of 24 5/16 would be 243 1/8."""
    module = 24.3 * INCH
    room = rectangle(100 * INCH, 11 * module, joists=Joists(400, 100, "across"))
    layout = grid((0.0, 0.0), (module, module))
    direct = replace(DIRECT, cross_tees=(replace(DIRECT.cross_tees[0], length=module),))
    mains = MainLines("along", 1, 0)
    found = set_out(room, direct, layout, mains, frame(room, layout, direct, mains))
    (tenth,) = [mark for mark in found.walls[1].marks if mark.what == "carrier CR10"]
    assert format_length(tenth.at, "in") == '243"'
    assert format_length(module, "in") == '24 5/16"'


def test_a_main_that_ends_on_a_column_has_one_mark_on_a_wall() -> None:
    room = rectangle(4000, 2400, columns=(block("C1", (1500, 1100), 200, 200),))
    layout, mains = grid((0.0, 0.0), (600.0, 600.0)), MainLines("along", 2, 0)
    found = set_out(room, METRIC, layout, mains, frame(room, layout, METRIC, mains))
    assert marks(found, 1)[1] == [(1200, "main M2")]
    assert marks(found, 1)[3] == [(1200, "main M1")]


def test_the_cross_line_is_the_first_that_crosses_the_first_main() -> None:
    """L-shape: from 300, 900 and 1500 a tape to the far end of the main would leave the room; 2100 is the first good.

    The main lies at 500: sides 2900 and 1000 to the right, 2100 and 1000 to the left.
    """
    room = room_of(((0, 0), (5000, 0), (5000, 1500), (2000, 1500), (2000, 3000), (0, 3000)))
    layout, mains = grid((300.0, 500.0), (600.0, 600.0)), MainLines("along", 2, 0)
    found = set_out(room, METRIC, layout, mains, frame(room, layout, METRIC, mains))
    assert (2100, CROSS_LINE) in marks(found, 1)[0]
    assert [d.length for d in found.diagonals] == pytest.approx([math.hypot(2900, 1000), math.hypot(2100, 1000)])
    assert [what for _, _, what in found.lines] == ["string: main M1", "string: cross line"]


def test_chalk_lines_stay_in_sight_beside_the_carriers() -> None:
    """19 mm from the middle of each, from wall to wall."""
    room, layout = rectangle(3000, 2400, joists=Joists(400, 100, "across")), grid((300.0, 300.0), (600.0, 600.0))
    mains = MainLines("along", 1, 0)
    found = set_out(room, DIRECT, layout, mains, frame(room, layout, DIRECT, mains))
    chalk = [(a, b) for a, b, what in found.lines if what.startswith("chalk")]
    assert [(a[1], b[1]) for a, b in chalk] == [(y, y) for y in (319, 919, 1519, 2119)]
    assert all((a[0], b[0]) == (0, 3000) for a, b in chalk)
    said = [str(what) for _, _, what in found.lines if what.startswith("chalk")]
    assert all(what.endswith(" from its middle towards P2-P3") for what in said)


def test_no_diagonal_lies_along_a_wall() -> None:
    """Two marks of a turned grid on one wall were made with one tape: what is between them proves nothing."""
    made = read_room(str(FIXTURES / "foyer-diagonal.yaml"))
    found = build_ceiling(made).setout
    assert found is not None and found.diagonals
    for diagonal in found.diagonals:
        middle = Spot((diagonal.start[0] + diagonal.end[0]) / 2, (diagonal.start[1] + diagonal.end[1]) / 2)
        assert LineString([*made.room.outline, made.room.outline[0]]).distance(middle) > 100.0


def test_a_room_too_narrow_for_two_strings_has_none() -> None:
    room, layout = rectangle(500, 500), grid((-50.0, 250.0), (600.0, 600.0))
    mains = MainLines("along", 1, 0)
    found = set_out(room, METRIC, layout, mains, frame(room, layout, METRIC, mains))
    assert (found.lines, found.diagonals) == ((), ())
    assert len(found.walls) == 4


@settings(max_examples=60, deadline=None)
@given(rooms(), layouts("lay-in-metric"), st.booleans())
def test_marks_of_any_room(room: Room, layout: Layout, direct: bool) -> None:
    """Marks lie on their wall; the line through two is the grid line; diagonals are true distances; chalk is inside."""
    system = DIRECT if direct else METRIC
    layout = grid(layout.frame.origin, (600.0, 600.0), layout.frame.angle_deg)
    mains = choose_mains(room, layout, system, GridWish(system.name))
    members = frame(room, layout, system, mains)
    found = set_out(room, system, layout, mains, members)
    runs = {member.id: member for member in members}
    axis = 1 if mains.direction == "along" else 0
    for wall, marked in zip(room.walls, found.walls, strict=True):
        assert wall.name == marked.wall
        assert [mark.at for mark in marked.marks] == sorted(mark.at for mark in marked.marks)
        for mark in marked.marks:
            assert -0.01 <= mark.at <= wall.length + 0.01
            share = mark.at / wall.length
            point = tuple(a + share * (b - a) for a, b in zip(wall.start, wall.end, strict=True))
            along = axis if mark.what != CROSS_LINE else 1 - axis
            seen = layout.frame.inward((point[0], point[1]))[along]
            assert abs(seen - round(seen / 600) * 600) <= 0.011
            if mark.what != CROSS_LINE:
                run = runs[mark.what.split()[1]]
                assert min(distance(point, end) for end in (run.start, run.end)) <= 0.5  # type: ignore[arg-type]
    for diagonal in found.diagonals:
        assert diagonal.length == pytest.approx(distance(diagonal.start, diagonal.end))
    floor = floor_of(room).buffer(0.05)
    assert all(floor.covers(LineString([a, b])) for a, b, _ in found.lines)


@settings(max_examples=60, deadline=None)
@given(rooms(), layouts("lay-in-metric"))
def test_every_main_that_ends_on_a_wall_is_marked(room: Room, layout: Layout) -> None:
    mains = choose_mains(room, layout, METRIC, GridWish("lay-in-metric"))
    members = frame(room, layout, METRIC, mains)
    found = set_out(room, METRIC, layout, mains, members)
    marked = [mark.what for wall in found.walls for mark in wall.marks if mark.what != CROSS_LINE]
    outline = LineString([*room.outline, room.outline[0]])
    ends = [
        f"main {m.id}"
        for m in members
        if m.kind == "main tee"
        for end in (m.start, m.end)
        if outline.distance(Spot(end)) < 0.011
    ]
    assert sorted(marked) == sorted(ends)


def test_a_tape_follows_a_bowed_wall() -> None:
    """Marks on a bowed wall run along its arc: none beyond its length, the last main nearest its end."""
    brief = read_room(FIXTURES / "gallery-bowed.yaml")
    setout = build_ceiling(brief).setout
    assert setout is not None
    for wall, marked in zip(brief.room.walls, setout.walls, strict=True):
        assert all(0 <= mark.at <= wall.length for mark in marked.marks)
    bowed = [k for k, wall in enumerate(brief.room.walls) if wall.arc]
    assert any(setout.walls[k].marks for k in bowed)


def test_hang_points_run_from_the_start_of_their_main() -> None:
    """Wires at 300 and 1500 along a main that starts at x = 100; a light's own wire is no hang point of the main."""
    room = Room("room", "mm", ((0.0, 0.0), (4000.0, 0.0), (4000.0, 3000.0), (0.0, 3000.0)), tuple("ABCD"))
    layout = lay_out(room, GridWish("lay-in-metric", module=(600.0, 600.0)), METRIC)
    mains = choose_mains(room, layout, METRIC, GridWish("lay-in-metric"))
    members = frame(room, layout, METRIC, mains)
    run = next(member for member in members if member.kind == "main tee")
    (x, y) = run.start
    wires = [Hanger("HW1", (x + 1500.0, y), run.id, "wire"), Hanger("HW2", (x + 300.0, y), run.id, "wire")]
    own = Hanger("HW3", (x + 700.0, y), "L1", "service wire")
    assert set_out(room, METRIC, layout, mains, members, [*wires, own]).hang_points == (
        RunMarks(run.id, (300.0, 1500.0)),
    )
