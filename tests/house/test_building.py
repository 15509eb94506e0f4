"""Rooms of a building: planned one by one, cut and ordered together, never above the sum of rooms."""

import json
from dataclasses import replace
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from planner import building as house
from planner.building import plan_building
from planner.building_record import building_record, building_schema
from planner.cli import main
from planner.errors import InputError, OutputError, PlannerError
from planner.export import write_folder
from planner.room.brief import Brief, GridWish, StockWish
from planner.room.building import Building, read_building
from planner.room.outline import Room
from planner.stock import pool

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


def test_grids_of_two_kinds_are_not_mixed() -> None:
    made = plan_building(building(brief(2000, 2000), brief(2000, 2000, "lay-in-imperial")))
    assert {"main tee (lay-in-metric)", "main tee (lay-in-imperial)"} <= {line.item for line in made.pool.takeoff}


def test_a_price_for_no_item_is_refused() -> None:
    with pytest.raises(PlannerError, match="takes no chandelier"):
        plan_building(building(brief(2000, 2000), stock=StockWish(prices=(("chandelier", 1.0),))))


def test_side_by_side_gives_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(house, "FEW_ROOMS", 1)
    rooms = building(brief(1500, 2300), brief(3100, 2000))
    assert None not in (house._side_by_side(rooms.briefs, 2) or [None]), "planned in processes of their own"
    assert plan_building(rooms, workers=2) == plan_building(rooms, workers=1)


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
