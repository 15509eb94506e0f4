"""Rooms for tests of the page: planned and drawn once for all of them."""

from functools import cache
from pathlib import Path

from planner.documents import Document, parse_document, read_document
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.page.contents import Beside, Shown
from planner.planning import plan
from planner.room.reader import brief_from

FIXTURES = Path(__file__).parents[2] / "fixtures"

#: Seven modules of 600 by five, 250 mm of border all round: 4200 + 2 * 250 by 3000 + 2 * 250.
ROOM = """\
job: {job}
units: mm
room: {{rectangle: [{length}, 3500 mm]}}
grid: {{system: lay-in-metric, module: [600 mm, 600 mm]}}
"""

#: What somebody might write where a name is asked for.
NASTY = "</script><img src=x onerror=alert(1)>&\"'"


def room_text(job: str = "Test room", length: str = "4700 mm") -> str:
    return ROOM.format(job=f"'{job.replace(chr(39), 2 * chr(39))}'", length=length)


@cache
def shown(text: str, language: str = "") -> Shown:
    return _drawn(parse_document(text, "room.yaml"), language)


@cache
def shown_fixture(name: str, language: str = "") -> Shown:
    return _drawn(read_document(FIXTURES / name), language)


def _drawn(document: Document, language: str) -> Shown:
    brief = brief_from(document)
    made = plan(brief)
    style, wish = load_style("iso-13567"), SheetWish(language=language)
    return Shown(made, draw(made, style, wish), style, wish, Beside(brief))
