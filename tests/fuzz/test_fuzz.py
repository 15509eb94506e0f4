"""Whatever a room file holds, the outcome is a plan with its files or a clean error: never a traceback, never a hang.

Run for longer: python tests/fuzz/long_run.py MINUTES
"""

import pytest
from fuzz.mutations import NAMES, REFERENCE, buildings, fixture, mutated_rooms, random_rooms, written
from fuzz.outcome import building_outcome, outcome
from hypothesis import HealthCheck, given, settings

MANY = settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))


@pytest.mark.parametrize("name", NAMES)
def test_every_fixture_survives_being_written_anew(name: str) -> None:
    assert outcome(written(fixture(name))).kind == "plan"


@MANY
@given(mutated_rooms())
def test_a_damaged_fixture_is_planned_or_refused(text: str) -> None:
    assert outcome(text).kind in ("plan", "refused")


@MANY
@given(random_rooms())
def test_any_room_is_planned_or_refused(text: str) -> None:
    assert outcome(text).kind in ("plan", "refused")


@settings(MANY, max_examples=10)
@given(buildings())
def test_any_building_is_planned_or_refused(texts: dict[str, str]) -> None:
    assert building_outcome(texts).kind in ("plan", "refused")


def test_the_strategies_reach_both_ends() -> None:
    """Were everything refused at the door, nothing would be tried; and the reference, grafted whole, is planned."""
    assert outcome(written(REFERENCE)).kind == "plan"
    room = "units: mm\nroom: {rectangle: [3000, 2000]}\n"
    assert (
        building_outcome(
            {"...yaml": room, "below/c.yaml": room, "building.yaml": "rooms: [...yaml, below/c.yaml]"}
        ).kind
        == "plan"
    )
    assert building_outcome({"a.yaml": room, "building.yaml": "rooms: [a.yaml, ../x.yaml]"}).kind == "refused"
