"""Rooms of `fixtures/`, planned once for all tests that ask about them."""

from functools import cache
from pathlib import Path

from planner.explain import Explanation, Job, explain
from planner.planning import plan
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
ROOMS = sorted(path.stem for path in FIXTURES.glob("*.yaml"))


@cache
def job(room: str) -> Job:
    brief = read_room(FIXTURES / f"{room}.yaml")
    return Job(brief, plan(brief))


def ask(room: str, name: str) -> Explanation:
    """The one answer to a question."""
    (answer,) = explain(job(room), name)
    return answer


def values(answer: Explanation, start: str, unit: str = "") -> list[float]:
    """The numbers of the steps that begin with a word."""
    steps = (step for step in answer.steps if step.text.strip().startswith(start) and (not unit or step.unit == unit))
    return [step.value for step in steps if step.value is not None]


def texts(answer: Explanation) -> str:
    return "\n".join(step.text.strip() for step in answer.steps)
