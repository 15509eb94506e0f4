"""What is made side by side is the same as one after another, and so is what is said of the first thing at fault."""

import os

import pytest

from planner import crew
from planner.errors import PlannerError


def squared(number: int) -> int:
    if number == 13:
        raise PlannerError("not thirteen")
    return number * number


def process(_: int) -> int:
    return os.getpid()


@pytest.fixture(autouse=True)
def at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(crew, "AT_HOME_S", 0.0)


def test_all_is_made_in_order_and_elsewhere() -> None:
    with crew.Crew(2) as two:
        assert two.each(squared, range(100, 160)) == [k * k for k in range(100, 160)]
        assert os.getpid() not in two.each(process, range(40))


def test_the_first_at_fault_is_told() -> None:
    with crew.Crew(2) as two, pytest.raises(PlannerError, match="thirteen"):
        two.each(squared, range(40))
