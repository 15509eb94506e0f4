"""Whatever a room file holds, the outcome is a plan with its files or a clean error: never a traceback, never a hang.

Run for longer: python tests/fuzz/long_run.py MINUTES
"""

import pytest
from fuzz.mutations import NAMES, fixture, mutated_rooms, random_rooms, written
from fuzz.outcome import outcome
from hypothesis import HealthCheck, given, settings

MANY = settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))


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
