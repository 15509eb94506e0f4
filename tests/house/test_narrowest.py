"""The narrowest opening and the narrowest panel: two numbers, each the same wherever it is told, in every demo room.

An opening runs from the wall to the middle of the tee; a panel is what is sawn for it, smaller by the undersize.
"""

import re
from html import unescape
from pathlib import Path

import pytest

from planner.drawing import words
from planner.drawing.labels import Heights
from planner.drawing.schedules import quantities
from planner.drawing.shapes import Text
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.explain import Job, explain
from planner.lengths import spoken_cut, spoken_length
from planner.page.contents import Shown, pane
from planner.planning import plan
from planner.record import record_of
from planner.report import summary
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
STYLE = load_style("iso-13567")
#: What each of the two is called on sheets and on the page.
CALLED = {"en": ("Narrowest opening", "Narrowest panel"), "es": ("Hueco más angosto", "Placa más angosta")}


@pytest.fixture(scope="module", params=sorted(path.stem for path in FIXTURES.glob("*.yaml")))
def job(request: pytest.FixtureRequest) -> Job:
    brief = read_room(FIXTURES / f"{request.param}.yaml")
    return Job(brief, plan(brief))


@pytest.fixture(scope="module")
def told(job: Job) -> tuple[str, str]:
    """Both as they read, from the panels themselves: the least extent of an opening, the least side that is sawn."""
    sides = [
        (opening, size)
        for panel in job.layout.cut_panels
        for opening, size, module in zip(panel.opening, panel.cut_to, job.layout.module, strict=True)
        if opening < module - 0.05
    ]
    units = job.room.units
    return spoken_length(min(sides)[0], units), spoken_cut((min(size for _, size in sides),), units)


def test_the_terminal_tells_both(job: Job, told: tuple[str, str]) -> None:
    line = next(line for line in summary(job.plan).splitlines() if "cut panels" in line)
    assert line.endswith(f"; the narrowest opening is {told[0]}, the narrowest panel {told[1]}")


def test_the_explanation_tells_both(job: Job, told: tuple[str, str]) -> None:
    (answer,) = explain(job, "borders")
    text = " ".join(step.text for step in answer.steps)
    assert f"The narrowest opening of all cut panels is {told[0]}." in text
    assert f"The narrowest panel is sawn {told[1]} wide:" in text


def test_the_record_holds_both(job: Job, told: tuple[str, str]) -> None:
    layout, units = record_of(job.plan)["layout"], job.room.units
    assert spoken_length(layout["smallest_cut_mm"], units) == told[0]
    assert spoken_cut((layout["narrowest_panel_mm"],), units) == told[1]


@pytest.mark.parametrize("language", CALLED)
def test_the_sheets_tell_both(job: Job, told: tuple[str, str], language: str) -> None:
    with words.speaking_language(language):
        stack = quantities(job.plan, 400.0, Heights.of(STYLE))
        both = tuple(map(words.translated, told))  # sheets have millimetres where the room is told in metres
    rows = [[shape.text for shape in row.shapes if isinstance(shape, Text)] for row in stack.rows]
    found = {row[0]: row[1] for row in rows if len(row) == 2}
    assert tuple(found[name] for name in CALLED[language]) == both


@pytest.mark.parametrize("language", CALLED)
def test_the_page_tells_both(job: Job, told: tuple[str, str], language: str) -> None:
    with words.speaking_language(language):
        text = unescape(re.sub(r"<[^>]*>", "|", str(pane(Shown(job.plan, (), STYLE, SheetWish())))))
        both = tuple(map(words.translated, told))
    for name, length in zip(CALLED[language], both, strict=True):
        found = re.search(rf"{name}\|+([^|]+)\|", text)
        assert found
        assert found[1] == length


def test_an_opening_is_wider_than_its_panel(job: Job) -> None:
    layout = job.layout
    assert layout.smallest_cut is not None
    assert layout.narrowest_panel is not None
    assert layout.smallest_cut - layout.narrowest_panel >= job.system.panel_undersize - 1e-6
