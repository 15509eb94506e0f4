"""What is ordered can be asked for at the counter: by its length or its sides, its face, its gauge; everywhere."""

import csv
import io
from pathlib import Path

import pytest

from planner.building import plan_building
from planner.drawing.labels import Heights
from planner.drawing.lists import order_list
from planner.drawing.shapes import Text
from planner.drawing.stylebook import load_style
from planner.files import takeoff_csv
from planner.page.lists import order_table as page_table
from planner.planning import Plan, plan
from planner.report import order_table
from planner.room.building import read_building
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
HEIGHTS = Heights.of(load_style("iso-13567"))

#: As sold: lengths of 12 ft and 3600 mm; panels 1/4 in and 5 mm less than their module; faces of the tees.
NAMED = {
    "kiln-room": {
        "panel": 'panel 23 3/4" x 23 3/4"',
        "main tee": 'main tee 12\'-0", face 15/16"',
        "cross tee 4 ft": 'cross tee 4 ft, face 15/16"',  # whose name has its length
        "wall angle": 'wall angle 12\'-0", ledge 7/8"',
        "hanger wire": "hanger wire, 12 gauge (2.7 mm) or thicker",
    },
    "corridor": {
        "panel": "panel 595 x 595 mm",
        "main tee": "main tee 3600 mm, face 24 mm",
        "cross tee 600": "cross tee 600, face 24 mm",
        "wall angle": "wall angle 3000 mm, ledge 24 mm",
    },
    "den-wrong-way": {"cover strip": "cover strip 2400 mm", "furring strip": "furring strip 2400 mm"},
}


@pytest.fixture(scope="module", params=NAMED)
def made(request: pytest.FixtureRequest) -> tuple[Plan, dict[str, str]]:
    return plan(read_room(FIXTURES / f"{request.param}.yaml")), NAMED[request.param]


def test_one_name_everywhere(made: tuple[Plan, dict[str, str]]) -> None:
    """On the sheet, in the page's list and on the terminal; the name that prices go by is its beginning."""
    ceiling, named = made
    told = {line.item: line.named for line in ceiling.stock.takeoff}
    assert {item: str(told[item]) for item in named} == named
    lines, bill = ceiling.stock.takeoff, ceiling.stock.bill
    sheet = order_list(ceiling, 180.0, HEIGHTS)
    assert sheet is not None
    lettered = " ".join(shape.text for row in sheet.rows for shape in row.shapes if isinstance(shape, Text))
    page, table = str(page_table(lines, bill, ceiling.room.imperial)), order_table(lines, bill)
    for item, name in named.items():
        assert name.startswith(item)
        assert name in lettered
        assert name in page.replace("&quot;", '"').replace("&#x27;", "'").replace("&#39;", "'")
        assert name in table


def test_the_spreadsheet_has_sizes_in_columns_of_their_own(made: tuple[Plan, dict[str, str]]) -> None:
    """The item stays the name that prices go by; columns that were there stay where they were."""
    ceiling, named = made
    rows = {row["item"]: row for row in csv.DictReader(io.StringIO(takeoff_csv(ceiling)))}
    assert named.keys() <= rows.keys()
    for line in ceiling.stock.takeoff:
        row = rows[line.item]
        assert [float(side) for side in row["size_mm"].split(" x ") if side] == pytest.approx(line.size)
        assert row["sort"] == line.sort
    lengths = {part.item: part.length for part in ceiling.ceiling.system.parts()}
    assert all(line.size == (lengths[line.item],) for line in ceiling.stock.takeoff if line.item in lengths)


def test_wire_of_unknown_length_is_said_to_be_pieces() -> None:
    """The mill's file gives no heights: 16 wires are sixteen pieces, and nobody knows how long."""
    pool = plan_building(read_building(FIXTURES / "building" / "building.yaml")).pool
    wire = next(line for line in pool.takeoff if line.item == "hanger wire")
    assert wire.unit == "piece"
    assert wire.named == "hanger wire, 12 gauge (2.7 mm) or thicker; pieces, whose length is not known"
    assert next(line for line in pool.takeoff if line.item == "panel").named == 'panel 23 3/4" x 23 3/4"'


def test_packs_are_multiplied_out_and_weight_and_cost_are_said_to_be_theirs() -> None:
    """39 panels in packs of 16: three packs, 48 panels, which are paid for at 6.40 each: 307.20."""
    ceiling = plan(read_room(FIXTURES / "kiln-room.yaml"))
    panel = ceiling.stock.takeoff[0]
    assert (panel.order, panel.packs, panel.pack_size, panel.bought) == (39, 3, 16, 48)
    assert panel.cost == pytest.approx(48 * 6.40)
    sheet = order_list(ceiling, 180.0, HEIGHTS)
    assert sheet is not None
    lettered = " ".join(shape.text for row in sheet.rows for shape in row.shapes if isinstance(shape, Text))
    assert "3 × 16 = 48" in lettered
    assert "307.20" in lettered
    assert "Weight and cost of what comes in packs are those of whole packs." in lettered
    assert "3 x 16 = 48" in order_table(ceiling.stock.takeoff, ceiling.stock.bill)
