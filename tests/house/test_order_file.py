"""The order as a spreadsheet: a sheet for each counter, nothing a formula, the same bytes twice."""

import io
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner
from openpyxl import load_workbook

from planner.cli import main
from planner.errors import PlannerError
from planner.order_file import HEAD, order_xlsx
from planner.stock.model import Bill, TakeOffLine

ROOM = Path(__file__).parents[2] / "fixtures" / "building" / "hall.yaml"


BILL = Bill(material=31.0, unpriced=("panel",), items=4, currency="EUR", apart=("lights", "wiring"))


def line(item: str, order: int, cost: float | None = None, weight: float | None = None) -> TakeOffLine:
    return TakeOffLine(item, "piece", order, 0, order, None, None, weight, cost)


def test_sheets_and_totals() -> None:
    """Grid: 2 x 9.50 and 3 x 4.00 cost 19.00 + 12.00 = 31.00."""
    lines = [line("panel", 8), line("main tee", 2, 19.0, 5.0), line("wall angle", 3, 12.0), line("hanger wire", 4)]
    book = load_workbook(io.BytesIO(order_xlsx(lines, BILL)))
    assert book.sheetnames == ["grid", "panels", "fasteners", "sum"]
    rows = list(book["grid"].iter_rows(values_only=True))
    assert rows[0] == (*HEAD, "size mm", "sort")
    assert [row[0] for row in rows[1:]] == ["main tee", "wall angle", "total"]
    assert rows[-1][HEAD.index("weight kg") : HEAD.index("cost") + 1] == (5.0, 31.0)
    assert list(book["panels"].iter_rows(values_only=True))[-1][HEAD.index("cost")] is None
    told = [row[0] for row in book["sum"].iter_rows(values_only=True)]
    assert told == [None, "total", None, "Not included: lights, wiring."]
    assert [row[1:3] for row in book["sum"].iter_rows(values_only=True)][:2] == [
        ("EUR", None),
        (31.0, "1 of 4 items without a price: panel"),
    ]


def test_extras_have_a_counter_of_their_own() -> None:
    extra = replace(line("touch-up paint", 1), extra=True)
    assert load_workbook(io.BytesIO(order_xlsx([line("panel", 8), extra], BILL))).sheetnames[-2:] == ["extras", "sum"]


@pytest.mark.parametrize("name", ["=1+1", "+1", "-1", "@SUM(A1)", "=cmd|' /C calc'!A0", "\t=1", " =1", "\uff1d1"])
def test_a_name_is_never_a_formula(name: str) -> None:
    cell = load_workbook(io.BytesIO(order_xlsx([line(name, 1)], BILL)))["grid"]["A2"]
    assert (cell.value, cell.data_type, cell.quotePrefix) == (name, "s", True)


def test_control_characters_are_left_out() -> None:
    assert load_workbook(io.BytesIO(order_xlsx([line("a\x07b", 1)], BILL)))["grid"]["A2"].value == "ab"


def test_the_same_bytes_and_no_time_of_day() -> None:
    made = order_xlsx([line("main tee", 1)], BILL)
    assert made == order_xlsx([line("main tee", 1)], BILL)
    assert load_workbook(io.BytesIO(made)).properties.modified.year == 1980


def test_without_openpyxl(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "openpyxl", None)
    with pytest.raises(PlannerError, match="needs openpyxl"):
        order_xlsx([], BILL)


def test_the_command(tmp_path: Path) -> None:
    result = CliRunner().invoke(main, ["takeoff", str(ROOM), "--xlsx", str(tmp_path / "order.xlsx")])
    assert result.exit_code == 0, result.output
    assert "panels" in load_workbook(tmp_path / "order.xlsx").sheetnames
    wrong = CliRunner().invoke(main, ["takeoff", str(ROOM), "--xlsx", str(tmp_path / "order.ods")])
    assert wrong.exit_code == 2 and "NAME.xlsx" in wrong.output
