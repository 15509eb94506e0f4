"""Holes round pipes that an earthquake shakes are told by the pipe, so that none is cut too small for good."""

from pathlib import Path

import pytest

from planner.drawing.cutaways import holes_said
from planner.planning import plan
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"


@pytest.mark.parametrize(("category", "told"), [("D", 'hole pipe + 2"'), ("C", 'hole Ø 2"')])
def test_the_schedule_tells_what_the_finding_asks_for(tmp_path: Path, category: str, told: str) -> None:
    """Category D asks for 2 in more than the pipe, whose size nobody gave; category C asks for nothing."""
    text = (FIXTURES / "seismic-lab.yaml").read_text(encoding="utf-8").replace("seismic: D", f"seismic: {category}")
    path = tmp_path / "room.yaml"
    path.write_text(text.replace("systems/lay-in-seismic.yaml", "lay-in-imperial"), encoding="utf-8")
    job = plan(read_room(path))
    said = {holes_said(panel, job) for panel in job.ceiling.panels if panel.cutouts}
    assert said == {told}
    asked = [finding for finding in job.ceiling.findings if finding.rule == "seismic rings"]
    assert len(asked) == (category == "D")
