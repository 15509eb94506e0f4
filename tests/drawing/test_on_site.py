"""Site sheets tell the deed, not what to type into a room file, nor how a source was read; the desk tells both."""

import re
from pathlib import Path

import pytest
from drawing.whole_sheets import all_lettered

from planner.drawing.on_site import _DEEDS
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.planning import Plan, plan
from planner.report import findings_text
from planner.room.reader import read_room

HOUSE = Path(__file__).parents[2]
ROOMS = ("attic-office", "chapel-attic", "den-wrong-way", "reference", "seismic-lab", "shop-l-taped", "workshop-t")
STYLE = load_style("iso-13567")
#: A finding about a key itself names it: fixed_walls.
KEYS = re.compile(r"[{}]|\b(?!fixed_walls)\w+_\w+|\b(?:borders|align|weight|mains|structure|grid):")
READ = re.compile(r"second hand|from memory|segunda mano|de memoria|sqrt")


@pytest.fixture(scope="module", params=ROOMS)
def made(request: pytest.FixtureRequest) -> Plan:
    return plan(read_room(HOUSE / "fixtures" / f"{request.param}.yaml"))


def lettered(made: Plan, language: str, *sheets: str) -> str:
    wish = SheetWish(sheets=sheets, language=language)
    return all_lettered(draw(made, STYLE, wish))


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_site_sheet_has_nothing_to_type_and_no_word_on_how_a_source_was_read(made: Plan, language: str) -> None:
    told = lettered(made, language, "order-of-work")
    assert not KEYS.search(told), KEYS.search(told)
    assert not READ.search(told)
    assert not READ.search(lettered(made, language, "ceiling-plan", "set-out"))


def test_the_terminal_still_says_what_to_write_and_where_that_comes_from() -> None:
    rooms = (HOUSE / "fixtures" / f"{name}.yaml" for name in ("attic-office", "reference"))
    told = "\n".join(line for room in rooms for line in findings_text(plan(read_room(room)).findings))
    assert "Write  borders: {left:" in told
    assert "NFPA 13, second hand" in told


def test_joists_and_weights_are_still_to_be_found() -> None:
    """They are deeds: the chapel's file gives neither."""
    told = lettered(plan(read_room(HOUSE / "fixtures" / "chapel-attic.yaml")), "en", "order-of-work")
    assert "Find the joists and measure them before a wire goes up, then have this plan made anew" in told
    assert "Weigh them, or take the weights from their makers' sheets" in told
    assert "Whoever made this plan can change that: planner check says how." in told


def test_what_is_put_in_place_of_a_remedy_is_for_one_that_there_is() -> None:
    sayings = (HOUSE / "styles" / "words" / "en.yaml").read_text()
    assert all(f'  - "{template}"' in sayings for template in _DEEDS)


def test_the_tolerance_of_the_tape_is_told_in_one_line_below_the_diagonals() -> None:
    told = lettered(plan(read_room(HOUSE / "fixtures" / "seismic-lab.yaml")), "en", "set-out")
    assert "± = tape tolerance at that length." in told
