"""What does not depend on the numbers of sheets is made once: while they are counted, and not again."""

from pathlib import Path

import pytest

from planner.drawing import ceiling_plan, list_sheets
from planner.drawing.place import ALONE, Place
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.planning import Plan, plan
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
STYLE = load_style("us-ncs")


@pytest.fixture(scope="module")
def kiln() -> Plan:
    return plan(read_room(FIXTURES / "kiln-room.yaml"))


def test_lists_are_set_once(kiln: Plan, monkeypatch: pytest.MonkeyPatch) -> None:
    """Schedules, bars, panels, order of work: four lists."""
    flow, heads = list_sheets._flow, []

    def counted(*args):  # type: ignore[no-untyped-def]
        heads.append(args)
        return flow(*args)

    monkeypatch.setattr(list_sheets, "_flow", counted)
    draw(kiln, STYLE, SheetWish())
    assert len(heads) == 4


def test_strings_around_a_plan_are_drawn_once_for_each_scale(kiln: Plan, monkeypatch: pytest.MonkeyPatch) -> None:
    surround, scales = ceiling_plan.surround, []

    def counted(*args):  # type: ignore[no-untyped-def]
        scales.append(args[3])
        return surround(*args)

    monkeypatch.setattr(ceiling_plan, "surround", counted)
    draw(kiln, STYLE, SheetWish())
    assert scales and len(scales) == len(set(scales))


def test_nothing_is_kept_for_sheets_drawn_by_themselves() -> None:
    assert [ALONE.once("lists", lambda k=k: k) for k in (1, 2)] == [1, 2]  # type: ignore[misc]
    place = Place(kept={})
    assert [place.once("lists", lambda k=k: k) for k in (1, 2)] == [1, 1]  # type: ignore[misc]
