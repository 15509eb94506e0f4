"""The order in all its faces: the same words on the terminal, in CSV, JSON and on the sheet; names are never run."""

import csv
import io
import json
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from planner.cells import FORMULA, inert
from planner.cli import main
from planner.drawing.shapes import Text
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.files import bars_csv, order_csv
from planner.planning import plan as make_plan
from planner.record import plan_schema, record_of
from planner.room.reader import read_room
from planner.stock.model import Bar, BarPiece, Bill, Cutting, TakeOffLine

FIXTURES = Path(__file__).parents[2] / "fixtures"
ROOM = """
units: mm
room: {rectangle: [3000, 2400]}
services: [{kind: troffer, size: [600, 600], near: [1500, 900]}]
stock:
  prices: {panel: 2.5}
  currency: EUR
  leave_with_owner: {panel: 2}
  labour: {each: {panel: 3 min}, hour: 30}
"""
#: 20 modules less the light are 19 panels, and 2 for the owner: 21 at 2.50 are 52.50; 19 at 3 min are 0.95 h, 28.50.
MATERIAL, LABOUR, TOTAL = "52.50", "28.50", "81.00"
LEFT = "To be left with the owner: panel (2)."
APART = "Not included: lights, wiring, tax."


@pytest.fixture
def room(tmp_path: Path) -> Path:
    path = tmp_path / "room.yaml"
    path.write_text(ROOM)
    return path


def told(room: Path, *options: str) -> str:
    result = CliRunner().invoke(main, ["takeoff", str(room), *options])
    assert result.exit_code == 0, result.output
    return result.output


def test_the_table(room: Path) -> None:
    lines = told(room).splitlines()
    assert [row.split()[1] for row in lines if row.startswith(("material ", "labour ", "total "))] == [
        MATERIAL,
        LABOUR,
        TOTAL,
    ]
    assert "EUR" in "\n".join(lines) and LEFT in lines and APART in lines
    assert any("7 of 8 items without a price" in row for row in lines)


def test_the_csv(room: Path) -> None:
    rows = list(csv.reader(io.StringIO(told(room, "--csv"))))
    head = ["item", "unit", "net", "spare", "for_owner", "on_hand"]
    assert rows[0] == [*head, "order", "packs", "pack_size", "weight_kg", "cost", "size_mm", "sort"]
    assert rows[1][:7] == ["panel", "piece", "19", "0", "2", "0", "21"]
    below = rows[rows.index([]) + 1 :]
    cost = rows[0].index("cost")
    assert [row[cost] for row in below[:3]] == [MATERIAL, LABOUR, TOTAL]
    assert [LEFT] in below and [APART] in below
    assert all(len(row) in (0, 1, len(rows[0])) for row in rows)


def test_the_record_and_its_schema(room: Path) -> None:
    record = record_of(make_plan(read_room(room)))
    jsonschema.validate(record, plan_schema())
    assert json.loads(told(room, "--json"))["bill"] == record["bill"]
    assert record["bill"]["not_included"] == ["lights", "wiring", "tax"]
    assert (record["bill"]["currency"], record["bill"]["total"], len(record["bill"]["unpriced"])) == ("EUR", 81.0, 7)


def test_the_sheet(room: Path) -> None:
    made = make_plan(read_room(room))
    (sheet,) = draw(made, load_style("iso-13567"), SheetWish(sheets=("schedules",)))
    words = " ".join(shape.text for shape in sheet.shapes if isinstance(shape, Text))
    for sentence in (LEFT, APART, f"Total: {TOTAL} EUR"):
        assert sentence in words


@pytest.mark.parametrize(
    "name", ["=1+1", "+1", "-2+3", "@SUM(A1)", "\t=1", "\r=1", " =1", "\uff1d1+1", "=cmd|' /C calc'!A0"]
)
def test_a_name_is_never_a_formula_in_csv(name: str) -> None:
    order = order_csv([TakeOffLine(name, "piece", 1, 0, 1, None, None, None, None)], Bill())
    flat = name.replace("\t", " ").replace("\r", " ")
    assert next(csv.DictReader(io.StringIO(order, newline="")))["item"] == f"'{flat}"
    bars = bars_csv([Cutting(name, 3000.0, 3.0, (Bar((BarPiece(f"{name} W1", 10.0),), 5.0),), 1, 1)])
    row = next(csv.DictReader(io.StringIO(bars, newline="")))
    assert (row["stock"], row["for"]) == (f"'{flat}", f"'{flat} W1")


@given(st.text(max_size=8))
def test_no_cell_begins_as_a_formula_does_and_others_stay_as_they_are(text: str) -> None:
    cell = inert(text)
    assert isinstance(cell, str) and not FORMULA.match(cell) and not set(cell) & set("\t\r\n")
    assert cell.removeprefix("'").split() == text.removeprefix("'").split(), "nothing but white space is lost"
    if not set(text) & set("\t\r\n\v\f"):
        assert cell in (text, f"'{text}")


def test_numbers_are_no_text() -> None:
    assert [inert(cell) for cell in (-1, 0.5, None)] == [-1, 0.5, None]
