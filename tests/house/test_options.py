"""Layouts side by side. Panels are 600 mm modules less 5 mm, the saw takes 3.175 mm, the ledge is 24 mm wide."""

import json
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from planner.cli import main
from planner.options import Option, options_for
from planner.planning import plan
from planner.report import options_table
from planner.room.brief import Brief, GridWish, StockWish
from planner.room.outline import Room
from planner.room.reader import read_room
from planner.weighing import record_of_options, remarks

FIXTURES = Path(__file__).parents[2] / "fixtures"


def brief(*outline: tuple[float, float], prices: tuple[tuple[str, float], ...] = (), **wish: object) -> Brief:
    room = Room("Test room", "mm", outline, tuple("ABCDEFGH"[: len(outline)]))
    grid = GridWish("lay-in-metric", (600.0, 600.0), **wish)  # type: ignore[arg-type]
    return Brief(room, grid, stock=StockWish(prices=prices))


def rectangle(width: float, depth: float, **more: object) -> Brief:
    return brief((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth), **more)  # type: ignore[arg-type]


def named(options: tuple[Option, ...], name: str, module: tuple[float, float] = (600.0, 600.0)) -> Option:
    return next(option for option in options if name in option.names and option.module == module)


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words], catch_exceptions=False)


def test_what_the_half_module_rule_costs() -> None:
    """4350 mm are 7 modules and 150 mm; 3000 mm are 5 modules.

    Borders of 375 mm: 6 whole and 2 cut in each of 5 rows. A panel of 595 mm gives one piece of 370 mm: 40 panels.
    Full at the left: 7 whole and one of 150 mm in each row. Pieces of 145 mm: 4 x 145 + 3 x 3.175 = 589.5 mm come off
    one panel, so 5 of them take 2: 37 panels. With 75 mm on both sides it is 37 as well: 35 whole, and ten of
    70 mm, 8 to a panel. The area alone would take 36.25, so 37 are the fewest.
    """
    options = options_for(rectangle(4350.0, 3000.0))
    balanced, left = options[0], named(options, "full left")
    assert (balanced.smallest_border, balanced.cut_panels, balanced.panels) == (375.0, 10, 40)
    assert balanced.half_module_rule
    assert (left.smallest_border, left.cut_panels, left.panels) == (150.0, 5, 37)
    assert not left.half_module_rule
    assert "The half-module rule costs 3 panels more than the fewest: 40 (number 1) in place of 37 (number 2)." in (
        remarks(options)
    )
    assert options[1].panels == 37 and options[1].smallest_border == 75.0


def test_more_panels_are_for_wider_borders_only_where_borders_are_wider() -> None:
    """Foyer: 85 panels as the planner takes it, 84 at the fewest. Chapel: 126 with 327 mm, 123 with 600 mm."""
    foyer, chapel = (
        remarks(options_for(read_room(FIXTURES / f"{name}.yaml"))) for name in ("foyer-diagonal", "chapel-attic")
    )
    assert "What the planner takes needs 1 panel more than number 5, which keeps the half-module rule too." in foyer
    assert "What the planner takes needs 3 panels more than number 13, which keeps the half-module rule too." in chapel


def test_an_l_shaped_room() -> None:
    """4350 mm wide below, 2550 mm above; 2 rows below, 3 above; both right walls are 150 mm past whole modules.

    Balanced, 375 mm: below 6 whole and 2 cut, above 3 whole and 2 cut; 2 x 6 + 3 x 3 + 10 = 31 panels.
    Full left: below 7 whole, above 4, and 5 of 150 mm from 2 panels; 14 + 12 + 2 = 28 panels.
    """
    options = options_for(
        brief((0.0, 0.0), (4350.0, 0.0), (4350.0, 1200.0), (2550.0, 1200.0), (2550.0, 3000.0), (0.0, 3000.0))
    )
    assert (options[0].cut_panels, options[0].panels) == (10, 31)
    left = named(options, "full left")
    assert (left.cut_panels, left.panels) == (5, 28)
    assert any(said.startswith("The half-module rule costs 3 panels more") for said in remarks(options))


def test_a_rule_that_costs_nothing() -> None:
    """4500 mm: full left leaves 300 mm, which is half a module and comes off a panel twice: 35 + 3 = 38 panels.

    2 x 295 + 3.175 = 593.2 mm of 595. The area takes 37.5, so 38 are the fewest, though balanced takes 40.
    """
    options = options_for(rectangle(4500.0, 3000.0))
    assert named(options, "full left").panels == 38 and named(options, "full left").half_module_rule
    assert options[0].panels == 40
    said = next(text for text in remarks(options) if "half-module rule costs" in text)
    assert said.startswith("The half-module rule costs no panels") and said.endswith("the fewest, 38.")
    assert any(text.startswith("What the planner takes needs 2 panels more than number") for text in remarks(options))


def test_panel_waste() -> None:
    """37 panels of 595 x 595 mm; off two of them come 5 pieces of 145 x 595 mm: (2 x 595 - 5 x 145) / (37 x 595)."""
    left = named(options_for(rectangle(4350.0, 3000.0)), "full left")
    assert left.panel_waste == pytest.approx((2 * 595 - 5 * 145) / (37 * 595))


def test_the_ledge_hides_three_millimetres() -> None:
    """6003 x 4800 mm: ten whole modules and 3 mm, 1.5 mm under each ledge; eight whole ones away from the base wall.

    Nothing is cut: 80 whole panels. The wall angle still goes round the true room.
    """
    options = options_for(rectangle(6003.0, 4800.0))
    uncut = named(options, "uncut, the ledge hides the rest")
    assert uncut.hidden == (1.5, 0.0)
    assert (uncut.cut_panels, uncut.panels, uncut.panel_waste) == (0, 80, 0.0)
    angle = sum(member.length for member in uncut.plan.ceiling.members if member.kind == "wall angle")
    assert angle == pytest.approx(2 * (6003 + 4800))
    assert uncut.plan.room == options[0].plan.room
    assert any("hides 1.5 mm at each end along the base wall" in said for said in remarks(options))
    assert options[0].cut_panels == 16 and not options[0].uncut


@pytest.mark.parametrize(
    ("width", "offered"),
    [
        (6000.0, False),  # nothing is missing
        (6018.0, True),  # 24 - 5 - 9 = 10 mm left on the ledge, 3/8 in = 9.525 mm asked
        (6020.0, False),  # 24 - 5 - 10 = 9 mm
        (5997.0, False),  # ten panels are too many
    ],
)
def test_how_much_a_ledge_hides(width: float, offered: bool) -> None:
    found = options_for(rectangle(width, 2400.0))
    assert any(option.uncut and option.module == (600.0, 600.0) for option in found) is offered


def test_a_slanted_wall_is_not_hidden() -> None:
    options = options_for(brief((0.0, 0.0), (6003.0, 0.0), (6006.0, 2400.0), (0.0, 2400.0)))
    assert not any(option.uncut for option in options)


@pytest.mark.parametrize("room", ["kiln-room.yaml", "studio-l.yaml", "garage-quad.yaml", "foyer-diagonal.yaml"])
def test_the_marked_one_is_what_the_planner_does(room: str) -> None:
    from planner.room.reader import read_room

    asked = read_room(FIXTURES / room)
    options = options_for(asked)
    assert [option.taken for option in options] == [True] + [False] * (len(options) - 1)
    assert options[0].plan == plan(asked)
    assert remarks(options)[0] == f"Number 1 is what the planner takes. {options[0].plan.ceiling.layout.rule}"


def test_borders_asked_for_stay_marked() -> None:
    options = options_for(rectangle(4350.0, 3000.0, borders=(("left", 200.0),)))
    assert options[0].names == ("as asked for",)
    assert options[0].plan.ceiling.layout.borders[3].least == 200.0
    assert named(options, "balanced").smallest_border == 375.0


def test_alike_layouts_are_one_option() -> None:
    """4350 mm: 7 modules and 150 mm; a line in the middle leaves 375 mm at each wall, a panel leaves 75 mm.

    3000 mm: a panel in the middle leaves whole ones at both walls. So balanced is "line along, panel away".
    """
    options = options_for(rectangle(4350.0, 3000.0))
    assert "centred: line along, panel away" in options[0].names
    grids = [(o.module, o.plan.ceiling.mains, o.plan.ceiling.layout.frame) for o in options if not o.uncut]
    assert len(grids) == len(set(grids))


def test_every_module_is_shown_both_ways_round() -> None:
    shown = {option.module for option in options_for(rectangle(4350.0, 3000.0))}
    assert shown == {(600.0, 600.0), (600.0, 1200.0), (1200.0, 600.0)}
    ways = {option.plan.ceiling.mains for option in options_for(rectangle(4350.0, 3000.0)) if option.half_module_rule}
    assert ways == {"along", "across"}


def test_cost_of_what_has_a_price() -> None:
    """40 panels at 6.50 are 260.00; nothing else has a price, and the table says so."""
    options = options_for(rectangle(4350.0, 3000.0, prices=(("panel", 6.5),)))
    assert options[0].cost == 260.0
    assert "panel" not in options[0].unpriced and "wall angle" in options[0].unpriced
    assert "cost: without main tee" in options_table(options)
    assert all(option.cost is None for option in options_for(rectangle(4350.0, 3000.0)))


def test_panels_of_another_size_have_no_price() -> None:
    """6.50 is the price of the panel that the room file asks for, not of one twice as large."""
    options = options_for(rectangle(4350.0, 3000.0, prices=(("panel", 6.5),)))
    assert [option.cost is None for option in options] == [option.module != (600.0, 600.0) for option in options]
    assert "no cost: panels of another size" in options_table(options)


def test_a_strip_that_lies_on_the_ledge_is_no_panel() -> None:
    """6003 mm: full left would leave a strip of 3 mm on a ledge of 24; 6030 mm leaves 30 mm, narrow but a panel."""
    assert not any("full left" in option.names for option in options_for(rectangle(6003.0, 4800.0)))
    assert named(options_for(rectangle(6030.0, 4800.0)), "full left").smallest_border == 30.0


def test_the_table_marks_the_planners_own() -> None:
    lines = options_table(options_for(rectangle(4350.0, 3000.0))).splitlines()
    assert " ".join(lines[0].split()) == "layout module mains border half cut panels lengths waste"
    assert [line for line in lines if line.startswith("*")] == [lines[2]]
    assert lines[2].startswith("*1") and "375 mm" in lines[2] and " yes " in lines[2]


def test_the_record() -> None:
    record = record_of_options(options_for(rectangle(6003.0, 4800.0)))
    assert list(record) == ["format", "taken", "remarks", "options"]
    assert record["format"] == "ceiling-options/1" and record["taken"] == 1
    assert list(record["options"][0]) == [
        *("number", "taken", "names", "module_mm", "mains", "smallest_border_mm", "half_module_rule", "hidden_mm"),
        *("cut_panels", "panels", "panels_at_least", "lengths", "items", "panel_waste", "length_waste", "cost"),
        *("unpriced", "why"),
    ]
    assert record["options"][0]["smallest_border_mm"] == 301.5
    assert record["options"][0]["items"]["panel"] == record["options"][0]["panels"]


def test_the_command_prints_json_and_a_table() -> None:
    room = FIXTURES / "kiln-room.yaml"
    first, again = run("options", room, "--json"), run("options", room, "--json")
    assert first.exit_code == 0 and first.output == again.output
    assert json.loads(first.output)["format"] == "ceiling-options/1"
    assert any(line.split()[:2] == ["*1", "balanced,"] for line in run("options", room).output.splitlines())


def test_the_command_draws_a_sheet(tmp_path: Path) -> None:
    sheet = tmp_path / "layouts.pdf"
    assert run("options", FIXTURES / "kiln-room.yaml", "--sheet", sheet).exit_code == 0
    assert sheet.read_bytes().startswith(b"%PDF-") and [each.name for each in sheet.parent.iterdir()] == [sheet.name]


@pytest.mark.parametrize("name", ["layouts.svg", "folder.pdf"])
def test_a_sheet_that_is_no_pdf_file_is_refused(tmp_path: Path, name: str) -> None:
    (tmp_path / "folder.pdf").mkdir()
    result = run("options", FIXTURES / "kiln-room.yaml", "--sheet", tmp_path / name)
    assert result.exit_code == 2 and "--sheet" in result.output


def test_a_wish_that_cannot_be_is_refused() -> None:
    from planner.errors import PlannerError

    asked = rectangle(4350.0, 3000.0)
    with pytest.raises(PlannerError, match="is not a module"):
        options_for(replace(asked, grid=replace(asked.grid, module=(500.0, 500.0))))


def test_uncut_as_the_planner_s_own() -> None:
    """6003 x 4800 with borders: uncut is what is taken, under its own name; balanced stands beside it."""
    wish = GridWish("lay-in-metric", uncut=True)
    found = options_for(replace(rectangle(6003, 4800), grid=wish))
    own = found[0]
    assert own.taken and own.names == ("uncut, the ledge hides the rest",) and own.hidden == (1.5, 0.0)
    assert (own.panels, own.cut_panels) == (80, 0)
    assert [option.plan.ceiling.layout.module for option in found if option.uncut].count((600.0, 600.0)) <= 2
    balanced = named(found, "balanced")
    assert balanced.cut_panels == 16 and not balanced.uncut
