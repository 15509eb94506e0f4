"""Files appear whole or not at all, and what was there before is never lost."""

import os
from pathlib import Path

import pytest

from planner.errors import OutputError
from planner.export import check_folder, write_folder


def test_a_new_folder_holds_exactly_the_files(tmp_path: Path) -> None:
    written = write_folder(tmp_path / "a" / "b", {"one.txt": b"1", "two.txt": b"2"})
    assert [path.read_bytes() for path in written] == [b"1", b"2"]
    assert sorted(os.listdir(tmp_path / "a" / "b")) == ["one.txt", "two.txt"]


def test_files_of_the_user_stay(tmp_path: Path) -> None:
    (tmp_path / "my notes.txt").write_text("ring the supplier")
    write_folder(tmp_path, {"one.txt": b"1"})
    assert (tmp_path / "my notes.txt").read_text() == "ring the supplier"


def test_a_failure_half_way_leaves_the_old_set_whole(tmp_path: Path) -> None:
    write_folder(tmp_path, {"one.txt": b"old", "two.txt": b"old"})
    with pytest.raises(OutputError, match="unharmed"):
        write_folder(tmp_path, {"one.txt": b"new", "no/such/place.txt": b"new"})
    assert (tmp_path / "one.txt").read_bytes() == b"old"
    assert sorted(os.listdir(tmp_path)) == ["one.txt", "two.txt"]


def test_a_failure_in_a_new_folder_leaves_no_folder(tmp_path: Path) -> None:
    with pytest.raises(OutputError):
        write_folder(tmp_path / "new", {"no/such/place.txt": b"x"})
    assert not (tmp_path / "new").exists()


def test_a_file_where_the_folder_should_be(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("mine")
    with pytest.raises(OutputError, match="a folder is needed"):
        check_folder(tmp_path / "taken")
    with pytest.raises(OutputError):
        write_folder(tmp_path / "taken", {"one.txt": b"1"})
    assert (tmp_path / "taken").read_text() == "mine"


def test_a_file_on_the_way_to_the_folder(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("mine")
    with pytest.raises(OutputError):
        check_folder(tmp_path / "taken" / "plan")


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may write anywhere")
def test_a_folder_without_permission(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    with pytest.raises(OutputError, match="permission"):
        check_folder(tmp_path / "plan")
