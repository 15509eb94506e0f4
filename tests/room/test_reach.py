"""Which files a room file may name: those in or below its own folder, unless somebody at the desk says otherwise."""

import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from planner.cli import main
from planner.documents import read_document
from planner.errors import InputError
from planner.room.reader import brief_from, read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
ROOM = "job: Attic\nunits: mm\nroom: {{dxf: {{file: {}, layer: A-WALL}}}}\n"


@pytest.fixture
def desk(tmp_path: Path) -> Path:
    """Somebody's files: a drawing and a grid beside the folder that holds a room file from elsewhere."""
    (tmp_path / "mail").mkdir()
    shutil.copy(FIXTURES / "floors" / "attic-office.dxf", tmp_path / "secret.dxf")
    shutil.copy(FIXTURES / "systems" / "lay-in-seismic.yaml", tmp_path / "secret.yaml")
    return tmp_path


@pytest.mark.parametrize("name", ["../secret.dxf", "{desk}/secret.dxf", "sub/../../secret.dxf", "link.dxf"])
def test_a_drawing_outside_the_folder_is_not_read(desk: Path, name: str) -> None:
    (desk / "mail" / "link.dxf").symlink_to(desk / "secret.dxf")
    room = desk / "mail" / "room.yaml"
    room.write_text(ROOM.format(name.format(desk=desk)))
    with pytest.raises(InputError) as caught:
        read_room(room)
    (complaint,) = caught.value.complaints
    assert (complaint.place, complaint.line) == ("room › dxf › file", 3)
    assert "not in or below the room file's folder" in complaint.problem
    assert "--reach" in complaint.mend


def test_a_grid_outside_the_folder_is_not_read(desk: Path) -> None:
    room = desk / "mail" / "room.yaml"
    room.write_text("job: A\nunits: mm\nroom: {rectangle: [4000, 3000]}\ngrid: {system: ../secret.yaml}\n")
    with pytest.raises(InputError, match="not in or below"):
        read_room(room)


def test_the_folder_that_somebody_names_may_be_reached(desk: Path) -> None:
    room = desk / "mail" / "room.yaml"
    room.write_text("job: A\nunits: mm\nroom: {rectangle: [4000, 3000]}\ngrid: {system: ../secret.yaml}\n")
    assert brief_from(read_document(room, desk)).grid.system.endswith("secret.yaml")
    refused = CliRunner().invoke(main, ["check", str(room)])
    assert refused.exit_code == 2 and "--reach" in refused.output
    allowed = CliRunner().invoke(main, ["--reach", str(desk), "check", str(room)])
    assert allowed.exit_code == 0, allowed.output


def test_a_room_of_a_building_reaches_what_lies_below_the_building(tmp_path: Path) -> None:
    (tmp_path / "rooms").mkdir()
    shutil.copy(FIXTURES / "systems" / "lay-in-seismic.yaml", tmp_path / "ours.yaml")
    room = tmp_path / "rooms" / "a.yaml"
    room.write_text("job: A\nunits: mm\nroom: {rectangle: [4000, 3000]}\ngrid: {system: ../ours.yaml}\n")
    building = tmp_path / "building.yaml"
    building.write_text("rooms: [rooms/a.yaml]\n")
    result = CliRunner().invoke(main, ["check", str(building)])
    assert result.exit_code == 0, result.output
