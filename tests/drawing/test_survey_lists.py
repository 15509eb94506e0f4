"""The tables of a taped room have their unit in the head, once."""

from pathlib import Path

import pytest
from drawing.whole_sheets import said

from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.planning import plan
from planner.room.reader import read_room

SHOP = Path(__file__).parents[2] / "fixtures" / "shop-l-taped.yaml"


@pytest.mark.parametrize(
    ("language", "heads"),
    [
        ("en", ("taped, mm", "should be, mm", "differs by, mm", "along, mm", "give or take, mm")),
        ("es", ("medido, mm", "debería ser, mm", "difiere en, mm", "a lo largo, mm", "más o menos, mm")),
    ],
)
def test_readings_and_corners_have_millimetres_in_their_heads(language: str, heads: tuple[str, ...]):
    """A-B was taped as 6002 and 6003 mm and should be 6003: the rows are bare, the first reading is 1 too short."""
    sheets = draw(plan(read_room(str(SHOP))), load_style("iso-13567"), SheetWish(language=language))
    words = " ".join(" ".join(said(sheet) for sheet in sheets if sheet.key == "schedules").split())
    assert all(head in words for head in heads)
    assert "6002 6003 -1" in words
    assert "6002 mm" not in words


def test_feet_and_inches_stay_as_they_are():
    taped = plan(read_room(str(SHOP.with_name("garage-quad.yaml"))))
    assert taped.survey is not None and taped.room.imperial
    sheets = draw(taped, load_style("us-ncs"), SheetWish(sheets=("schedules",)))
    assert "mm" not in " ".join(said(sheet) for sheet in sheets).split()
