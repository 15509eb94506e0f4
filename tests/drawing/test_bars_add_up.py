"""Whoever adds up what is printed of a bar comes to the bar: in every demo room, in both systems."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

import pytest

from planner.drawing.cutting_bars import bar_stacks
from planner.drawing.cutting_patterns import Lot, lots
from planner.drawing.labels import Heights
from planner.drawing.roles import Role
from planner.drawing.shapes import Outline, Shape, Text
from planner.drawing.stylebook import load_style
from planner.drawing.tables import Row
from planner.lengths import parse_length
from planner.planning import Plan, plan
from planner.room.reader import read_room
from planner.stock.closing import kerf_printed, left_printed

FIXTURES = Path(__file__).parents[2] / "fixtures"
HEIGHTS = Heights.of(load_style("iso-13567"))
ROOMS = sorted(path.stem for path in FIXTURES.glob("*.yaml"))
INCH = 25.4


@pytest.fixture(scope="module", params=[(room, other) for room in ROOMS for other in (False, True)], ids=str)
def made(request: pytest.FixtureRequest) -> Plan:
    name, other = request.param
    brief = read_room(FIXTURES / f"{name}.yaml")
    if other:
        brief = replace(brief, room=replace(brief.room, units="mm" if brief.room.imperial else "ft-in"))
    return plan(brief)


def length(text: str) -> float:
    """Millimetres of the length that a text ends with."""
    (said,) = re.findall(r"(?:\d+'-)?[\d./ ]*\d\"?$", text.split("  ")[-1])
    return parse_length(said, "mm")


def bars(made: Plan) -> Iterator[tuple[Lot, str, Sequence[Row]]]:
    """Each stock item: its heading, and the rows of its bars."""
    found = lots(made)
    stacks = bar_stacks(found, made.room.units, made.room.imperial, 380.0, HEIGHTS)
    for lot, stack in zip(found, stacks, strict=True):
        (heading,) = [shape.text for shape in stack.heading.shapes if isinstance(shape, Text)]
        yield lot, heading, stack.rows


def titles(row: Row, role: Role) -> list[str]:
    return [shape.title for shape in row.shapes if isinstance(shape, Outline) and shape.role is role]


def texts(shapes: Sequence[Shape]) -> list[str]:
    return [shape.text for shape in shapes if isinstance(shape, Text)]


def test_pieces_cuts_and_what_is_left_come_to_the_bar(made: Plan) -> None:
    """Where nothing is said to be left over, less than what the cuts and marks of the tape may hide."""
    mark = INCH / 16 if made.room.imperial else 1.0
    for lot, heading, rows in bars(made):
        stock = length(heading.split(": ")[1].split("; ")[0].removeprefix("lengths of "))
        remarks = " ".join(text for row in rows for text in texts(row.shapes))
        said = re.search(r"The saw takes (\S+(?: \d+/\d+\")?) ?(?:mm )?a cut", remarks)
        kerf = parse_length(said[1], "mm") if said else 0.0
        for row in rows:
            pieces = [length(title) for title in titles(row, Role.CUT_PIECE)]
            waste = titles(row, Role.OFFCUT)
            if not pieces:
                continue
            told = sum(pieces) + sum(map(length, waste))
            if any(text.startswith("left over") for text in waste):
                assert told + len(pieces) * kerf == pytest.approx(stock, abs=1e-6), (heading, pieces, waste)
            else:
                assert told <= stock + 1e-6
                hidden = len(pieces) * (kerf + mark) + 1.0
                assert stock - told <= hidden + 0.1, (lot.cutting.item, pieces, waste)


def test_all_that_is_wasted_has_a_figure(made: Plan) -> None:
    """In its tint or below the bar."""
    for _, _, rows in bars(made):
        for row in rows:
            lettered = " ".join(texts(row.shapes))
            for waste in titles(row, Role.OFFCUT):
                figure = waste.removeprefix("left over ").removeprefix("saw off ")
                assert figure in lettered


def test_it_lies_between_only_where_it_does(made: Plan) -> None:
    for lot, _, rows in bars(made):
        remarks = " ".join(text for row in rows for text in texts(row.shapes))
        if "lies between them" in remarks:
            for pattern in lot.patterns:
                assert (
                    not pattern.slots or pattern.offcut < 1.0 or (len(pattern.slots) > 1 and pattern.slots[-1].at_end)
                )


def test_the_numbers_worked_out_by_hand() -> None:
    """A look at printed sheets found these: 600 - 390 - 3.2; 12 ft less 10'-3" and a cut of 1/8"; 48 - 27 - 1/8 in."""
    assert left_printed(600.0, [390.4], [], 3.2, imperial=False) == pytest.approx(600 - 390 - 3.2)
    assert left_printed(144 * INCH, [123 * INCH], [], 3.175, imperial=True) == pytest.approx(20.875 * INCH)
    assert left_printed(48 * INCH, [27 * INCH], [], 3.175, imperial=True) == pytest.approx(20.875 * INCH)
    # Two pieces, 79 sawn off before the second: 3600 - 1000 - 1500 - 79 - 2 x 3
    assert left_printed(3600.0, [1000.9, 1500.2], [0.0, 79.4], 3.0, imperial=False) == pytest.approx(1015.0)
    assert kerf_printed(3.175, imperial=False) == pytest.approx(3.2)
    assert kerf_printed(0.5, imperial=True) == pytest.approx(INCH / 16)
    assert kerf_printed(0.0, imperial=True) == 0.0
