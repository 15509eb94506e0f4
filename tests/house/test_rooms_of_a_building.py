"""Rooms that are supplied together: their own sheets say so, and nobody orders or cuts a room by itself."""

from html import unescape
from pathlib import Path

import pytest

from planner.building import plan_building
from planner.building_files import building_files
from planner.drawing.building_sheets import Rooms, building_sheets
from planner.drawing.shapes import Text
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.room.building import read_building

MILL = plan_building(read_building(Path(__file__).parents[2] / "fixtures" / "building" / "building.yaml"))
STYLE = load_style("us-ncs")
NAME, ALONE = "Mill, upper floor", "This room alone: order and cut by the sheets of Mill, upper floor"


@pytest.fixture(scope="module")
def svgs() -> dict[str, str]:
    """Every sheet of every room."""
    made = building_files(MILL, None, SheetWish())
    return {name: unescape(content.decode()) for name, content in made.items() if name.endswith(".svg")}


def test_what_is_cut_and_ordered_together_is_headed_so(svgs: dict[str, str]) -> None:
    for room in MILL.folders:
        assert ALONE in svgs[f"{room}/cutting.svg"]
        assert ALONE in svgs[f"{room}/cutting-panels.svg"]
        assert "What this room alone takes" in svgs[f"{room}/schedules.svg"]
        assert "What to buy" not in svgs[f"{room}/schedules.svg"]
        assert "Order and cut by the sheets of Mill, upper floor" in svgs[f"{room}/schedules.svg"]
        assert ALONE not in svgs[f"{room}/framing.svg"]


def test_every_title_block_has_the_building(svgs: dict[str, str]) -> None:
    assert len(svgs) == 3 * 7
    assert all(f">{NAME}<" in drawn for drawn in svgs.values())


def test_a_room_by_itself_is_cut_and_ordered_by_its_own_sheets() -> None:
    for sheet in draw(MILL.plans[0], STYLE, SheetWish()):
        lettered = [shape.text for shape in sheet.shapes if isinstance(shape, Text)]
        assert not any("This room alone" in text or "this room alone" in text for text in lettered)


def test_a_height_that_is_not_known_is_said_to_be_missing(svgs: dict[str, str]) -> None:
    """The mill's rooms give none."""
    assert MILL.plans[0].ceiling.height is None
    for sheet in ("ceiling-plan", "framing", "set-out"):
        assert "ceiling height not given" in svgs[f"{MILL.folders[0]}/{sheet}.svg"]


def test_the_buildings_sheets_list_the_rooms_and_compare_them_in_one_table() -> None:
    rooms = Rooms(MILL.name, MILL.plans, MILL.folders, (7, 7, 7))
    order = building_sheets(rooms, MILL.pool, STYLE, SheetWish())[0]
    lettered = " ".join(shape.text for shape in order.shapes if isinstance(shape, Text))
    for plan, folder in zip(MILL.plans, MILL.folders, strict=True):
        assert f"{plan.room.name} {folder}/sheets.pdf 7" in lettered
    # By themselves: 42 + 20 + 33 panels are 95, of which 42 are 44 %.
    assert "item Office Store Hall panel 42 (44%) 20 (21%) 33 (35%)" in lettered
