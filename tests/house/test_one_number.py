"""What is told in many places is the same number in all of them: the height of a ceiling, the gap for an earthquake."""

import json
import re
from pathlib import Path

import pytest

from planner.ceiling.order import order_of_work
from planner.drawing.shapes import Sheet, Text
from planner.face import draw
from planner.planning import Plan, plan
from planner.record import record_of
from planner.room.reader import read_room

LOW = """\
units: ft-in
room: {rectangle: [13' 7", 10' 4"], columns: [{at: [6', 3'], size: [8", 8"]}]}
structure: {joists: {spacing: 16", first: 9", direction: across}, underside: 7' 6"}
ceiling_height: 7' 4"
grid: {system: direct-imperial}
"""
SHAKEN = """\
units: ft-in
room: {rectangle: [23' 5 3/4", 16' 11"]}
grid: {module: [48", 24"], panel_weight: 1.2 psf}
structure: {joists: {spacing: 16", first: 6"}, underside: 9' 2", seismic: D}
ceiling_height: 8' 4"
"""


def planned(folder: Path, text: str) -> Plan:
    path = folder / "room.yaml"
    path.write_text(text, encoding="utf-8")
    return plan(read_room(path))


def letters(sheet: Sheet) -> list[str]:
    shapes = [*sheet.shapes, *(shape for window in sheet.windows for shape in window.drawing.shapes)]
    return [shape.text for shape in shapes if isinstance(shape, Text)]


def test_a_direct_grid_has_one_height(tmp_path: Path) -> None:
    """It takes 1-1/2 in below joists at 7'-6": the ceiling is at 7'-4 1/2", and 7'-4" is in the warning alone."""
    job = planned(tmp_path, LOW)
    assert job.ceiling.height == pytest.approx(88.5 * 25.4)
    (differ,) = [finding for finding in job.findings if finding.rule == "depth of the grid"]
    assert "cannot be at 7'-4\":" in differ.message
    record = record_of(job)
    assert record["level_mm"] == pytest.approx(88.5 * 25.4)
    others = json.dumps({key: value for key, value in record.items() if key != "findings"}, ensure_ascii=False)
    assert not re.search(r"7'-4\\?\"", others)
    told = [text for sheet in draw(job) for text in letters(sheet)]
    assert sum("7'-4 1/2\"" in text for text in told) > 6
    wished = [text for text in told if "7'-4\"" in text]
    assert all("be at 7'-4\":" in text for text in wished)
    assert any(text.startswith("CH 7'-4 1/2\"") for text in told)


def test_a_hung_ceiling_is_as_high_as_is_wished(tmp_path: Path) -> None:
    assert planned(tmp_path, SHAKEN).ceiling.height == pytest.approx(100 * 25.4)
    high = SHAKEN.replace("ceiling_height: 8' 4\"\n", "").replace("underside: 9' 2\", ", "")
    assert planned(tmp_path, high).ceiling.height is None


def test_a_seismic_gap_is_cut_off_everywhere(tmp_path: Path) -> None:
    """23'-5 3/4" from wall to wall, fixed at D-A, 3/4" free of B-C: 23'-5", that is 281 in, in every list."""
    job = planned(tmp_path, SHAKEN)
    mains = [member for member in record_of(job)["members"] if member["kind"] == "main tee"]
    (cutting,) = [cutting for cutting in job.stock.cutting if cutting.item == "main tee"]
    pieces = [piece for main in mains for piece in main["pieces"]]
    whole = sum(piece["ends"] == ["factory", "factory"] for piece in pieces)
    sawn = sum(bar.count * sum(piece.length for piece in bar.pieces) for bar in cutting.bars)
    assert whole * 144 * 25.4 + sawn == pytest.approx(len(mains) * 281 * 25.4, abs=2)
    for main in mains:
        assert main["length_mm"] == pytest.approx(281 * 25.4)
        assert main["gaps_mm"] == pytest.approx([0, 0.75 * 25.4])
        assert sum(piece["length_mm"] for piece in main["pieces"]) == pytest.approx(281 * 25.4)
    (said,) = [finding.message for finding in job.findings if finding.rule == "seismic perimeter"]
    assert 'fixed at A-B and D-A; anywhere else they stop 3/4" short' in said
    (step,) = [step for step in order_of_work(job.room, job.ceiling) if step.startswith("Hang the main tees")]
    assert 'Fix tee ends at A-B and D-A; anywhere else they stay 3/4" short.' in step


def test_a_first_joist_that_nobody_has_found_is_told(tmp_path: Path) -> None:
    """Left out it is taken to lie at the corner, and a finding says so; written as 0 it does lie there."""
    told = {}
    for written in ('first: 9"', "first: 0", ""):
        joists = f'{{spacing: 16", {written}}}' if written else '{spacing: 16"}'
        job = planned(tmp_path, LOW.replace('{spacing: 16", first: 9", direction: across}', joists))
        told[written] = [finding.severity for finding in job.findings if finding.rule == "first joist not given"]
        first = order_of_work(job.room, job.ceiling)[0]
        assert ("the first wherever it lies" in first) == (not written)
    assert told == {'first: 9"': [], "first: 0": [], "": ["warn"]}
