"""What the planner says of the borders it did not take: walls against walls, and walls against columns."""

import pytest

from planner.ceiling.layout import lay_out
from planner.ceiling.system import load_system
from planner.room.brief import GridWish
from planner.room.outline import Column, Room
from planner.sayings import Said

SYSTEM = load_system("lay-in-metric")
WISH = GridWish("lay-in-metric", module=(600.0, 600.0))


def room(*corners: tuple[float, float], columns: tuple[Column, ...] = ()) -> Room:
    return Room("room", "mm", corners, tuple("ABCDEFGHJKLM"[: len(corners)]), columns)


def pier(name: str, x: float, y: float, side: float) -> Column:
    ring = ((x, y), (x + side, y), (x + side, y + side), (x, y + side))
    return Column(name, ring, (x + side / 2, y + side / 2))


#: With a line x from A the cuts are x at F-A (5500 long), 602 - x at B-C (3400), 500 - x or 1100 - x at D-E (2100).
BAY = room((0, 0), (6002, 0), (6002, 3400), (3500, 3400), (3500, 5500), (0, 5500))


def test_a_short_wall_gives_way_and_what_it_could_have_is_told() -> None:
    """Both long walls are kept with x from 294 to 308 (6 mm less than half passes); D-E then has 206 at most, at 294.

    Half a module at D-E is x up to 206, and F-A is short; or x from 500 on, and B-C has a sliver of 102 at most.
    """
    layout = lay_out(BAY, WISH, SYSTEM)
    borders = {border.wall: border.least for border in layout.borders}
    assert (borders["F-A"], borders["B-C"], borders["D-E"]) == (294, 308, 206)
    assert layout.bargain == "D-E could have 294 mm, but then F-A has 206 mm."
    assert isinstance(layout.bargain, Said)  # so a sheet can say it in another language


@pytest.mark.parametrize("wish", [{"borders": (("left", 300.0),)}, {"prefer": "fewest_panels"}])
def test_who_asked_for_the_border_is_told_no_bargain(wish: dict[str, object]) -> None:
    assert lay_out(BAY, GridWish("lay-in-metric", module=(600.0, 600.0), **wish), SYSTEM).bargain == ""  # type: ignore[arg-type]


def test_a_room_with_wide_borders_has_nothing_to_bargain_for() -> None:
    assert lay_out(room((0, 0), (5000, 0), (5000, 4000), (0, 4000)), WISH, SYSTEM).bargain == ""


def test_what_columns_cost_the_borders_is_told() -> None:
    """5000 x 4000 is 400 and 400 left and right; 50 before a column of 300 at 2850 makes it 457 and 343: at 450 a tee
    would run along its face.

    Away from A-B lines at 500 + 600 k leave 150 on either side of it, from 1850 to 2150, which is no sliver.
    """
    shape = ((0, 0), (5000, 0), (5000, 4000), (0, 4000))
    layout = lay_out(room(*shape, columns=(pier("C1", 2850, 1850, 300),)), WISH, SYSTEM)
    assert layout.rule.startswith("Borders 457 mm left and 343 mm right, 500 mm front and back: ")
    assert "; without the columns it would be 400 mm left and right; no wall cut under half a module." in layout.rule


def test_columns_that_cost_nothing_are_not_spoken_of() -> None:
    """Lines at 2200 and 2800 leave 150 before and after a column from 2350 to 2650."""
    shape = ((0, 0), (5000, 0), (5000, 4000), (0, 4000))
    layout = lay_out(room(*shape, columns=(pier("C1", 2350, 1850, 300),)), WISH, SYSTEM)
    assert "columns" not in layout.rule


def test_slivers_beside_columns_that_cannot_be_helped_are_told() -> None:
    """Walls of 5400 are whole modules, or 300 and 300; a pipe of 120 at 2490 to 2610 has a line at 2400, 90 off."""
    shape = ((0, 0), (5400, 0), (5400, 4200), (0, 4200))
    layout = lay_out(room(*shape, columns=(pier("P1", 2490, 2100, 120),)), WISH, SYSTEM)
    assert layout.rule.endswith("no wall cut under half a module; beside columns 120 mm under a quarter.")
