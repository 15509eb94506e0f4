"""What the set-out sheet says: allowances of diagonals, labels of walls, bowed walls, and what had no room."""

from dataclasses import replace
from pathlib import Path

import pytest
from drawing.hand_plans import hand_plan, rectangle, room
from drawing.test_setout_plan import set_out
from drawing.whole_sheets import check, drawn_words, said, setout_plan

from planner.ceiling.model import Diagonal
from planner.drawing.roles import Role
from planner.drawing.setout_labels import wall_runs
from planner.drawing.shapes import Sheet, Text
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.geometry import Ring
from planner.planning import Plan, plan
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
ISO = load_style("iso-13567")
NCS = load_style("us-ncs")


def sheet_of(made: Plan, style=ISO) -> Sheet:
    sheet = setout_plan(made, style, SheetWish())
    assert sheet is not None
    return sheet


def told(sheet: Sheet) -> str:
    return " ".join(said(sheet).split())


def with_diagonal(length: float, units: str = "mm") -> Plan:
    made = set_out(hand_plan(room(rectangle(4140, 3150), units=units)))
    setout = made.ceiling.setout
    assert setout is not None
    diagonal = Diagonal((0.0, 375.0), (570.0, 0.0), "here to there", length)
    return replace(made, ceiling=replace(made.ceiling, setout=replace(setout, diagonals=(diagonal,))))


@pytest.mark.parametrize(
    ("length", "words"),
    [
        (1500.0, "1500 ± 4 mm"),  # 3 x root of 1 + 0.18 squared = 3.05 mm, rounded up: a tape cannot tell less
        (11887.0, "11887 ± 6 mm"),  # 1.426: 3 x 1.742 = 5.23 mm
        (29774.0, "29774 ± 12 mm"),  # 3.573: 3 x 3.710 = 11.13 mm
    ],
)
def test_each_diagonal_says_how_far_it_may_be_off(length: float, words: str):
    assert words in told(sheet_of(with_diagonal(length)))


def test_in_inches_it_is_rounded_up_to_a_sixteenth():
    """1500 mm are 59.055 in, 4'-11 1/16"; 3.05 mm are 0.120 in, under 1/8" (0.125)."""
    assert '4\'-11 1/16" ± 1/8"' in told(sheet_of(with_diagonal(1500.0, "ft-in"), NCS))


def test_every_wall_bears_its_name_its_length_and_the_corner_its_tape_begins_at():
    sheet = sheet_of(set_out(hand_plan(room(rectangle(4140, 3150)))))
    labels = {"A-B: 4140 from A", "B-C: 3150 from B", "C-D: 4140 from C", "D-A: 3150 from D"}
    assert labels <= set(drawn_words(sheet))


def test_marks_on_bowed_walls_are_taped_along_the_curve():
    """A step of the set-out says so and names the walls; their labels tell the length along the curve."""
    gallery = plan(read_room(str(FIXTURES / "gallery-bowed.yaml")))
    setout = gallery.ceiling.setout
    assert setout is not None
    marked = {wall.wall for wall in setout.walls if wall.marks}
    bowed = [wall for wall in gallery.room.walls if wall.arc is not None and wall.name in marked]
    assert bowed
    sheet = sheet_of(gallery)
    (step,) = [part for part in told(sheet).split(". ") if "the tape follows the curve" in part]
    assert all(wall.name in step for wall in bowed)
    runs = {run.wall: run for run in wall_runs(gallery.room)}
    for wall in bowed:
        assert wall.length > ((wall.end[0] - wall.start[0]) ** 2 + (wall.end[1] - wall.start[1]) ** 2) ** 0.5
        assert "along the curve" in runs[wall.name].length


def test_straight_rooms_have_no_such_step():
    assert "follows the curve" not in told(sheet_of(set_out(hand_plan(room(rectangle(4140, 3150))))))


def tee_room() -> Ring:
    return ((0, 5200), (3900, 5200), (3900, 0), (8150, 0), (8150, 5200), (12000, 5200), (12000, 9000), (0, 9000))


def test_the_marks_of_one_wall_stand_on_one_side_of_it():
    """Wall B-C of a room like a T goes down at x = 3900: all its letters are left of it, or else all right of it."""
    ring = tuple((float(x), float(y)) for x, y in tee_room())
    made = set_out(hand_plan(room(ring)), what="m")
    sheet = sheet_of(made)
    check(sheet, ISO)
    letters = [s for s in sheet.windows[0].drawing.shapes if isinstance(s, Text) and s.role == Role.SET_OUT]
    beside = [text.at[0] < 3900.0 for text in letters if 0.0 < text.at[1] < 5000.0 and abs(text.at[0] - 3900) < 700.0]
    assert len(beside) >= 6
    assert len(set(beside)) == 1


def comb(teeth: int) -> Ring:
    """A room with a wall like a comb: many walls 5 mm long on paper at 1:100, too short for their labels."""
    lower: list[tuple[float, float]] = []
    for k in range(teeth):
        x = 1000.0 * k
        lower += [(x, 0.0), (x + 500.0, 0.0), (x + 500.0, 400.0), (x + 1000.0, 400.0)]
    return (*lower, (1000.0 * teeth, 3000.0), (0.0, 3000.0))


@pytest.mark.parametrize("teeth", [6, 10, 14])
def test_a_wall_is_labelled_or_in_the_table_or_it_is_told_how_many_are_not(teeth: int):
    """On A4 at 1:100: with 6 teeth the table has room, with 10 it has not, with 14 the plan is in parts."""
    made = set_out(hand_plan(room(comb(teeth))))
    sheets = draw(made, ISO, SheetWish(paper="A4", scale=100.0, sheets=("set-out",)))
    words = " ".join(told(sheet) for sheet in sheets)
    words += " ".join(word for sheet in sheets if sheet.windows for word in drawn_words(sheet))
    missing = [wall.name for wall in made.room.walls if wall.name not in words]
    told_so = ("notes on what is left out here had no room", "more rows: see the files beside this drawing")
    assert not missing or any(sentence in words for sentence in told_so)
    assert bool(missing) == (teeth > 6)
