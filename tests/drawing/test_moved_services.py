"""The list of services says which of them stand elsewhere than wished, and how far."""

from dataclasses import replace
from pathlib import Path

import pytest
from drawing.whole_sheets import all_lettered

from planner.drawing.schedule_sheets import schedule_sheets
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.planning import Plan, plan
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"


def told(made: Plan, language: str = "en") -> str:
    return all_lettered(schedule_sheets(made, load_style("us-ncs"), SheetWish(language=language)))


@pytest.fixture(scope="module")
def kiln() -> Plan:
    return plan(read_room(FIXTURES / "kiln-room.yaml"))


def test_how_far_each_was_moved_is_told(kiln: Plan) -> None:
    """L1 is wished at 46 x 62 in and sits at 57 1/2 x 62: 11 1/2 in."""
    (light,) = [service for service in kiln.ceiling.services if service.name == "L1"]
    assert light.moved == pytest.approx(11.5 * 25.4)
    text = told(kiln)
    assert "Moved to fit the grid, from where they were" in text and 'L1 11 1/2"' in text


def test_in_spanish_too(kiln: Plan) -> None:
    assert "Desplazados para encajar en la" in told(kiln, "es")


def test_nothing_is_said_where_all_stand_where_they_were_wished(kiln: Plan) -> None:
    still = tuple(replace(service, moved=0.4) for service in kiln.ceiling.services)
    made = replace(kiln, ceiling=replace(kiln.ceiling, services=still))
    assert "Moved to fit" not in told(made)
