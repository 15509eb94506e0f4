"""Rooms of a building: each has a folder of its own on any file system, and what is no room file is said."""

from pathlib import Path

import pytest

from planner.errors import InputError
from planner.limits import USUAL
from planner.room.building import building_schema, read_building

ROOM = "units: mm\nroom: {rectangle: [3000, 2400]}\n"


def building(folder: Path, rooms: str, *files: str) -> Path:
    for name in files:
        path = folder / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(ROOM, "utf-8")
    file = folder / "building.yaml"
    file.write_text(f"rooms: {rooms}\n", "utf-8")
    return file


def test_rooms_of_one_name_get_numbered_folders(tmp_path: Path) -> None:
    """Hall, hall and HALL are one folder where capitals do not count; the files keep their order."""
    names = ("up/hall.yaml", "down/Hall.yaml", "cellar/HALL.yaml", "attic.yaml")
    read = read_building(building(tmp_path, f"[{', '.join(names)}]", *names))
    assert read.folders == ("hall", "Hall-2", "HALL-3", "attic")


def test_a_room_called_like_one_of_our_own_files_goes_aside(tmp_path: Path) -> None:
    """cutting.csv lies beside the rooms' folders, so that no room's folder may be called so."""
    read = read_building(building(tmp_path, "[cutting.csv.yaml, takeoff.yaml]", "cutting.csv.yaml", "takeoff.yaml"))
    assert [folder.casefold() for folder in read.folders] != ["cutting.csv", "takeoff"]
    assert len({folder.casefold() for folder in read.folders} | {"cutting.csv", "takeoff.csv"}) == 4


def test_all_that_is_wrong_with_the_list_is_said_at_once(tmp_path: Path) -> None:
    file = building(tmp_path, '["a.yaml", "./a.yaml", "b.yaml", "building.yaml", "../c.yaml"]', "a.yaml")
    with pytest.raises(InputError) as caught:
        read_building(file)
    told = str(caught.value)
    for part in (
        "rooms › 2: ./a.yaml is named twice.",
        "It is room 1 already.",
        "rooms › 3: there is no file b.yaml.",
        "rooms › 4: building.yaml is this building itself.",
        "rooms › 5: ../c.yaml is not below this file's folder.",
    ):
        assert part in told


def test_a_building_has_no_more_rooms_than_there_may_be(tmp_path: Path) -> None:
    most = USUAL.rooms
    file = building(tmp_path, "[" + ", ".join(f"{k}.yaml" for k in range(most + 1)) + "]")
    with pytest.raises(InputError, match=f"the building has {most + 1:,} rooms"):
        read_building(file)


def test_rooms_that_buy_differently_must_be_told_how_to_buy_together(tmp_path: Path) -> None:
    file = building(tmp_path, "[a.yaml, b.yaml]", "a.yaml", "b.yaml")
    (tmp_path / "b.yaml").write_text(ROOM + "stock: {spare: 5%}\n", "utf-8")
    with pytest.raises(InputError, match="the rooms do not agree how material is bought: spare"):
        read_building(file)
    (tmp_path / "building.yaml").write_text("rooms: [a.yaml, b.yaml]\nstock: {spare: 10%}\n", "utf-8")
    assert read_building(tmp_path / "building.yaml").stock.spare == pytest.approx(0.1)


def test_the_schema_of_a_building_names_its_keys() -> None:
    assert {"rooms", "stock", "units", "job"} <= set(building_schema()["properties"])
