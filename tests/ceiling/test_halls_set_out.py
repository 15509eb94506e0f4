"""Setting out a hall that is longer than a tape: 62.4 by 41.4 m, a grid of 600 from 300, mains at 900, 2100, ..."""

import math

import pytest
from ceiling.framing_rooms import block, grid, rectangle
from shapely import LineString, Polygon

from planner.ceiling.framing import frame
from planner.ceiling.mains import choose_mains
from planner.ceiling.model import SetOut
from planner.ceiling.proof_strings import LONGEST_TAPE_MM, allowance
from planner.ceiling.setout import set_out
from planner.ceiling.system import load_system
from planner.room.brief import GridWish
from planner.room.outline import Column

METRIC = load_system("lay-in-metric")


def hall(*columns: Column) -> SetOut:
    room, layout = rectangle(62400, 41400, columns=columns), grid((300, 300), (600, 600))
    mains = choose_mains(room, layout, METRIC, GridWish("lay-in-metric"))
    return set_out(room, METRIC, layout, mains, frame(room, layout, METRIC, mains))


def test_no_diagonal_of_a_hall_is_longer_than_a_tape() -> None:
    """From a run at y to the far wall is 41400 - y, so two diagonals under 30480 want y of 10920 at least: 11700.

    Beside the corner no pair has two (600 pairs looked at: 104 cross lines for each of five runs and most of a sixth).
    Then every third of 34 runs and 104 cross lines: runs 900, 4500, 8100, 11700; cross lines 300, 2100. At 300 a side
    is less than 900; at 2100 the diagonals from (0, 11700) go to (2100, 41400) and (2100, 0). The shorter proves more:
    5.2 mm x 11887 / (2100 x 11700) is 2.5 mm a metre, 11.1 x 29774 / (2100 x 29700) is 5.3.
    """
    found = hall()
    assert [line[:2] for line in found.lines] == [((0, 11700), (62400, 11700)), ((2100, 0), (2100, 41400))]
    assert [d.length for d in found.diagonals] == pytest.approx([math.hypot(2100, 11700), math.hypot(2100, 29700)])
    assert [round(d.length) for d in found.diagonals] == [11887, 29774]
    assert LONGEST_TAPE_MM == 100 * 12 * 25.4


def test_no_diagonal_of_a_hall_runs_through_a_column() -> None:
    """The tape from (0, 11700) to (2100, 41400) is at 587 to 622 where a column stands from 400 to 900, 20 m up.

    The next cross line is at 3900: there it passes at 3900 x 8300 / 29700 = 1090 and more.
    """
    column = block("C1", (400, 20000), 500, 500)
    found = hall(column)
    assert found.lines[1][0] == pytest.approx((3900, 0))
    assert [d.length for d in found.diagonals] == pytest.approx([math.hypot(3900, 11700), math.hypot(3900, 29700)])
    for diagonal in found.diagonals:
        tape = LineString([diagonal.start, diagonal.end])
        assert not tape.intersects(Polygon(column.outline))


@pytest.mark.parametrize(
    ("length", "off"),
    [
        (0.0, 3.0),  # 3 x 1 mm
        (10_000.0, 3 * math.sqrt(1 + 1.44)),  # 0.12 mm for each of 10 m is 1.2 mm: 4.69 mm
        (30_000.0, 3 * math.sqrt(1 + 12.96)),  # 3.6 mm: 11.2 mm
    ],
)
def test_a_diagonal_may_be_off_by_what_no_tape_can_tell(length: float, off: float) -> None:
    """A reading of L metres is good to the root of 1 + (0.12 L) squared, one standard deviation; three are allowed."""
    assert allowance(length) == pytest.approx(off)
