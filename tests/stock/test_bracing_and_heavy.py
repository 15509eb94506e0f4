"""What an earthquake asks for is in the order, and what is too heavy for the grid is told to be somebody else's."""

import math
from pathlib import Path

import pytest

from planner.ceiling.order import order_of_work
from planner.planning import Plan, plan
from planner.room.reader import read_room

HALL = """\
units: ft-in
room: {rectangle: [44' 3", 25' 8"]}
structure: {joists: {spacing: 16", first: 10"}, underside: 11' 0", seismic: D}
ceiling_height: 9' 0"
grid: {module: [24", 48"], panel_weight: 1.1 psf}
services:
  - {name: L1, kind: troffer, size: [24", 48"], near: [6', 6'], weight: 64 lb}
  - {name: L2, kind: troffer, size: [24", 48"], near: [16', 6'], weight: 24 lb}
"""


def planned(folder: Path, text: str) -> Plan:
    path = folder / "room.yaml"
    path.write_text(text, encoding="utf-8")
    return plan(read_room(path))


def net(job: Plan) -> dict[str, tuple[int, str]]:
    return {line.item: (line.net, line.unit) for line in job.stock.takeoff}


def test_posts_wires_and_anchors_of_braces(tmp_path: Path) -> None:
    """25 ft 8 = 308 in across the mains: three rows; 531 in along them: four points, 12 braces.

    The drop is 24 in: a post each; 48 wires of 24 x sqrt(2) + 12 for ties = 45.94 in, 2205.2 in, 183.8 ft; 48 anchors.
    """
    job = planned(tmp_path, HALL)
    assert len(job.ceiling.braces) == 12
    assert job.ceiling.brace is not None and job.ceiling.brace.wire == pytest.approx((24 * math.sqrt(2) + 12) * 25.4)
    order = net(job)
    assert order["bracing post"] == (12, "piece")
    assert order["bracing wire"] == (184, "ft")
    assert order["bracing anchor"] == (48, "piece")
    (step,) = [step for step in order_of_work(job.room, job.ceiling) if step.startswith("Brace the ceiling")]
    assert "12 times: a post of 2'-0\" up to the structure, and four wires of 3'-10\"" in step


def test_without_heights_wires_are_counted(tmp_path: Path) -> None:
    job = planned(tmp_path, HALL.replace("ceiling_height: 9' 0\"\n", ""))
    assert job.ceiling.brace is None
    assert net(job)["bracing wire"] == (48, "piece")
    assert any("12 times: a post up to the structure" in step for step in order_of_work(job.room, job.ceiling))


def test_a_room_that_needs_none_orders_none(tmp_path: Path) -> None:
    job = planned(tmp_path, HALL.replace("seismic: D", "seismic: C"))
    assert not [item for item in net(job) if item.startswith("bracing")]
    assert not [step for step in order_of_work(job.room, job.ceiling) if step.startswith("Brace")]


def test_what_weighs_over_56_lb_is_held_by_the_structure(tmp_path: Path) -> None:
    """Everett WA handout: L1, 64 lb, has no wire of the ceiling's; L2, 24 lb, has two."""
    job = planned(tmp_path, HALL)
    assert [hanger.member for hanger in job.ceiling.hangers if hanger.kind == "service wire"] == ["L2", "L2"]
    (finding,) = [finding for finding in job.findings if finding.rule == "weight of a service"]
    assert finding.message.startswith("L1: over 56 lb, so the structure alone holds it, on approved hangers of its own")
    assert "neither planned nor counted" in finding.remedy
    assert "hangers of what is too heavy for the grid" in job.stock.bill.apart
    (step,) = [step for step in order_of_work(job.room, job.ceiling) if step.startswith("Set L2 in")]
    assert step.endswith("Put L1 in on the hangers that whoever fits them has put up: no weight on the grid.")
