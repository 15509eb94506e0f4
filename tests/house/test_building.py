"""Rooms of a building: planned one by one, cut and ordered together, never above the sum of rooms."""

import json
from dataclasses import replace
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from planner import crew
from planner.building import BuildingPlan, plan_building
from planner.building_files import building_files
from planner.building_record import building_record, building_schema
from planner.cli import main
from planner.drawing.building_sheets import Rooms, as_one, building_sheets
from planner.drawing.cutting_shapes import panel_patterns
from planner.drawing.shapes import Sheet, Text
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.errors import InputError, OutputError, PlannerError
from planner.export import write_folder
from planner.planning import plan
from planner.room.brief import Brief, GridWish, StockWish
from planner.room.building import Building, read_building
from planner.room.outline import Room
from planner.stock import pool
from planner.stock.model import Stock

MILL = Path(__file__).parents[2] / "fixtures" / "building" / "building.yaml"


def brief(width: float, depth: float, system: str = "lay-in-metric") -> Brief:
    outline = ((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth))
    return Brief(Room("room", "mm", outline, ("A", "B", "C", "D")), GridWish(system))


def building(*briefs: Brief, stock: StockWish | None = None) -> Building:
    return Building("b", briefs, tuple(f"r{n}" for n in range(len(briefs))), stock or StockWish())


def test_two_short_mains_come_off_one_bar() -> None:
    """A 3600 mm main tee holds two runs of 1500 mm: 3000 mm and a cut."""
    made = plan_building(building(brief(1500, 1500), brief(1500, 1500)))
    main = next(s for s in made.pool.savings if s.item == "main tee")
    assert (main.alone, main.pooled, main.saved) == (2, 1, 1)
    parts = [share.part for share in made.pool.shares if share.item == "main tee"]
    assert parts == [0.5, 0.5]


@settings(max_examples=12, deadline=None)
@given(st.lists(st.tuples(st.integers(1300, 4000), st.integers(1300, 4000)), min_size=1, max_size=3))
def test_pooled_is_never_above_the_sum_and_every_piece_is_cut_once(sizes: list[tuple[int, int]]) -> None:
    made = plan_building(building(*(brief(w, d) for w, d in sizes), stock=StockWish(budget_s=0.2)))
    nets = {line.item: line.net for line in made.pool.takeoff}
    for item, net in nets.items():
        assert net <= sum(line.net for plan in made.plans for line in plan.stock.takeoff if line.item == item)
    for cutting in made.pool.cutting:
        got = sorted(p.length for bar in cutting.bars for p in bar.pieces for _ in range(bar.count))
        alone = [each for plan in made.plans for each in plan.stock.cutting if each.item == cutting.item]
        want = sorted(p.length for each in alone for bar in each.bars for p in bar.pieces for _ in range(bar.count))
        assert got == pytest.approx(want)
        assert sum(bar.count for bar in cutting.bars) <= cutting.bought


def test_where_the_search_does_worse_the_rooms_own_cutting_stands(monkeypatch: pytest.MonkeyPatch) -> None:
    real = pool.cut_members

    def worse(*words):  # type: ignore[no-untyped-def]
        return {item: replace(cutting, bought=cutting.bought + 99) for item, cutting in real(*words).items()}

    monkeypatch.setattr(pool, "cut_members", worse)
    made = plan_building(building(brief(1500, 1500), brief(1500, 1500)))
    assert all(saving.saved == 0 for saving in made.pool.savings)
    angle = next(cutting for cutting in made.pool.cutting if cutting.item == "wall angle")
    assert angle.bought == sum(bar.count for bar in angle.bars)
    assert {p.member.split()[0] for bar in angle.bars for p in bar.pieces} == {"r0", "r1"}


def test_where_the_search_for_panels_does_worse_the_rooms_own_panels_stand(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every cut piece of both rooms is still there once, with its room before its id."""
    real = pool.cut_pieces

    def worse(*words):  # type: ignore[no-untyped-def]
        cut = real(*words)
        return replace(cut, bought=cut.bought + 99)

    monkeypatch.setattr(pool, "cut_pieces", worse)
    made = plan_building(building(brief(1500, 1500), brief(2300, 1500)))
    (panels,) = made.pool.panels
    own = [plan.stock.panels for plan in made.plans]
    assert panels.bought == sum(cut.bought for cut in own if cut) == sum(panel.count for panel in panels.panels)
    ids = sorted(piece.panel for panel in panels.panels for piece in panel.pieces)
    cut_ids = [[panel.id for panel in plan.ceiling.panels if not panel.full_size] for plan in made.plans]
    assert ids == sorted(f"r{k} {each}" for k, some in enumerate(cut_ids) for each in some)
    saved = {saving.item: saving.saved for saving in made.pool.savings}
    assert saved["panel"] == 0


def test_panels_of_two_rooms_come_off_one() -> None:
    """4 + 1/3 modules: borders of 2/3, 400 mm; with fewest panels a strip of 200 mm in each of two rooms, from 595."""
    wish = GridWish("lay-in-metric", borders=(("left", "full"), ("front", "full")))
    strip = replace(brief(1400, 1200), grid=wish)  # two whole columns and one of 200 mm, two rows
    made = plan_building(building(strip, strip))
    saving = next(s for s in made.pool.savings if s.item == "panel")
    # alone: 4 whole and both strips of 200 from one; together: 8 whole, and four strips of which one panel gives two
    assert (saving.alone, saving.pooled) == (10, 10)
    (panels,) = made.pool.panels
    assert panels.proven and panels.bought == 2


def test_grids_of_two_kinds_are_not_mixed() -> None:
    made = plan_building(building(brief(2000, 2000), brief(2000, 2000, "lay-in-imperial")))
    assert {"main tee (lay-in-metric)", "main tee (lay-in-imperial)"} <= {line.item for line in made.pool.takeoff}


def test_a_price_for_no_item_is_refused() -> None:
    with pytest.raises(PlannerError, match="takes no chandelier"):
        plan_building(building(brief(2000, 2000), stock=StockWish(prices=(("chandelier", 1.0),))))


def test_side_by_side_gives_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(crew, "AT_HOME_S", 0.0)
    monkeypatch.setattr(crew, "FEW", 1)
    rooms = building(brief(1500, 2300), brief(3100, 2000))
    with crew.Crew(2) as two:
        assert None not in (two.side_by_side(plan, rooms.briefs) or [None]), "planned in processes of their own"
    together, alone = plan_building(rooms, workers=2), plan_building(rooms, workers=1)
    assert together == alone
    drawn = building_files(together, None, SheetWish())
    monkeypatch.setattr(crew, "AT_HOME_S", 3600.0)
    assert drawn == building_files(alone, None, SheetWish()), "the same bytes"


def test_few_quick_rooms_start_no_processes(monkeypatch: pytest.MonkeyPatch) -> None:
    """Starting them takes longer than planning some small rooms."""
    monkeypatch.setattr(crew, "AT_HOME_S", 3600.0)
    monkeypatch.setattr(crew, "FEW", 0)
    monkeypatch.setattr(crew, "ProcessPoolExecutor", None)
    assert len(plan_building(building(*[brief(1500, 2300)] * 3), workers=8).plans) == 3


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("rooms: []", "rooms"),
        ("rooms: [a.yaml, ./a.yaml]", "building.yaml:1:17  rooms › 2: ./a.yaml is named twice."),
        ("rooms: [building.yaml]", "is this building itself."),
        ("rooms: [b.yaml]", "building.yaml:1:9  rooms › 1: there is no file b.yaml."),
        ("rooms: [../b.yaml]", "is not below this file's folder."),
        ("rooms: [/etc/hosts]", "is not below this file's folder."),
        ("rooms: [nested.yaml]", "nested.yaml is a building, not a room."),
        ("rooms: [a.yaml, c.yaml]", "the rooms do not agree how material is bought: spare."),
        ("rooms: [bad.yaml, worse.yaml]", "worse.yaml"),
        ("rooms: [a.yaml]\nrom: 1", "rom"),
    ],
)
def test_what_is_wrong_with_a_building(tmp_path: Path, text: str, expected: str) -> None:
    room = "units: mm\nroom: {rectangle: [2000, 2000]}\n"
    files = {"a": room, "c": room + "stock: {spare: 5%}", "nested": "rooms: [a.yaml]", "bad": "units: mm", "worse": ""}
    for name, content in {**files, "building": text}.items():
        (tmp_path / f"{name}.yaml").write_text(content)
    with pytest.raises(InputError) as caught:
        read_building(tmp_path / "building.yaml")
    assert expected in str(caught.value)


def test_the_record_keeps_to_its_schema() -> None:
    record = building_record(plan_building(read_building(MILL)))
    jsonschema.validate(record, building_schema())
    assert [room["folder"] for room in record["rooms"]] == ["office", "store", "hall"]
    assert all(finding["rule"] for room in record["rooms"] for finding in room["findings"])
    assert {finding["rule"] for finding in record["rooms"][2]["findings"]} == {"joists not given", "weights not given"}


def test_the_findings_of_each_room_are_told_below_its_name() -> None:
    told = CliRunner().invoke(main, ["check", str(MILL)]).output.splitlines()
    at = [told.index(name) for name in ("Office", "Store", "Hall")]
    for first, last in zip(at, [*at[1:], len(told)], strict=True):
        assert sum("rule: joists not given" in row for row in told[first:last]) == 1


def test_options_are_of_one_room_and_the_message_names_the_rooms() -> None:
    result = CliRunner().invoke(main, ["options", str(MILL)])
    assert result.exit_code == 2
    assert "lists the rooms of a building, and here one room is needed." in result.output
    assert "Name one of them: office.yaml, store.yaml, hall.yaml." in result.output
    assert '"room" is missing' not in result.output


def sheets_of(*briefs: Brief) -> tuple[BuildingPlan, tuple[Sheet, ...]]:
    made = plan_building(building(*briefs))
    rooms = Rooms("Both", made.plans, made.folders)
    return made, building_sheets(rooms, made.pool, load_style("iso-13567"), SheetWish())


def words_on(sheet: Sheet) -> str:
    return " ".join(shape.text for shape in sheet.shapes if isinstance(shape, Text))


def test_the_buildings_own_sheets() -> None:
    """The list with shares and savings, the bars, the panels: numbered through, pieces named by their rooms."""
    made, (order, bars, panels) = sheets_of(brief(1500, 1500), brief(1500, 1500))
    assert [sheet.key for sheet in (order, bars, panels)] == ["order", "cutting", "cutting-panels"]
    assert "1 of 3" in words_on(order) and "3 of 3" in words_on(panels)
    for words in ("What each room takes by itself", "What buying together saves", "main tee 2 1 1", "Not included:"):
        assert words in words_on(order)
    drawn = words_on(bars)
    main_bar = next(cutting for cutting in made.pool.cutting if cutting.item == "main tee").bars[0]
    assert all(piece.member in drawn for piece in main_bar.pieces)
    assert "r0 a" in words_on(panels) and "r1 a" in words_on(panels)


def test_two_kinds_of_grid_are_cut_on_the_same_sheets() -> None:
    _, (_, bars, *panels) = sheets_of(brief(2000, 2000), brief(2000, 2000, "lay-in-imperial"))
    assert "Main tee (lay-in-metric)" in words_on(bars) and "Main tee (lay-in-imperial)" in words_on(bars)
    assert panels


def test_a_turned_room_beside_a_straight_one() -> None:
    """Panels of a grid turned by 30° are drawn as they lie in their own grid: none sticks out of its bought panel."""
    turned = replace(brief(2600, 2100), grid=GridWish("lay-in-metric", align=30.0))
    made, sheets = sheets_of(brief(1500, 1500), turned)
    assert {sheet.key for sheet in sheets} >= {"order", "cutting", "cutting-panels"}
    whole = as_one(Rooms("Both", made.plans, made.folders), Stock((), (), made.pool.panels[0]))
    for pattern in panel_patterns(whole):
        side = made.pool.panels[0].size[0] + 1e-6
        for slot in pattern.slots:
            left, foot, right, top = slot.shape.bounds
            assert -1e-6 <= left <= right <= side and -1e-6 <= foot <= top <= side


def test_only_wished_sheets_of_the_building_are_drawn() -> None:
    made = plan_building(building(brief(1500, 1500)))
    rooms = Rooms("One", made.plans, made.folders)
    style = load_style("iso-13567")
    assert building_sheets(rooms, made.pool, style, SheetWish(sheets=("ceiling-plan",))) == ()
    some = building_sheets(rooms, made.pool, style, SheetWish(sheets=("cutting",)))
    assert [sheet.key for sheet in some] == ["cutting", "cutting-panels"]


def test_the_command_writes_a_folder_for_each_room(tmp_path: Path) -> None:
    words = ["plan", str(MILL), "--out", str(tmp_path / "out"), "--sheets", "ceiling-plan"]
    result = CliRunner().invoke(main, words)
    assert result.exit_code == 0, result.output
    assert "1 main tee (5 in place of 6)" in result.output
    names = {str(path.relative_to(tmp_path / "out")) for path in (tmp_path / "out").rglob("*") if path.is_file()}
    assert {"building.json", "cutting.csv", "takeoff.csv", "hall/plan.json", "store/sheets.pdf"} <= names
    assert not any(name.endswith(".part") for name in names)


def test_check_and_takeoff_know_a_building() -> None:
    checked = CliRunner().invoke(main, ["check", str(MILL), "--json"])
    assert json.loads(checked.output)["format"] == "ceiling-building/1"
    listed = CliRunner().invoke(main, ["takeoff", str(MILL), "--json"])
    assert json.loads(listed.output)["takeoff"] == json.loads(checked.output)["takeoff"]


def test_a_failure_leaves_no_folder_of_a_room(tmp_path: Path) -> None:
    with pytest.raises(OutputError):
        write_folder(tmp_path / "new", {"hall/one.txt": b"1", "no/such/place.txt": b"x"})
    assert not (tmp_path / "new").exists()
