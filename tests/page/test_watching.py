"""The desk behind the live page: saves of every kind, faults and their mending, and a thousand saves in a row."""

import os
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from page.shown_rooms import FIXTURES, room_text, shown

from planner.documents import Document, read_document
from planner.page.desk import Desk, Room, Wanted
from planner.page.read_files import files_read
from planner.page.watcher import watch_files


def _drawn(document: Document) -> tuple[Room, ...]:
    """The name as the file has it, over a plan made once: these tests are about files."""
    return (Room(str(document.data["job"]), shown(room_text())),)


def _desk(file: Path, draw: Callable[[Document], tuple[Room, ...]] = _drawn) -> Desk:
    return Desk(Wanted(file, draw))


@contextmanager
def _watched(desk: Desk, poll: bool = False) -> Iterator[None]:
    stop = threading.Event()
    thread = threading.Thread(target=watch_files, args=(lambda: desk.files, desk.renew, stop, poll))
    thread.start()
    try:
        yield
    finally:
        stop.set()
        thread.join(20)
        assert not thread.is_alive()


def _wait(condition: Callable[[], bool], what: str) -> None:
    end = time.monotonic() + 30
    while not condition():
        assert time.monotonic() < end, what
        time.sleep(0.01)


def _shows(desk: Desk, name: str) -> bool:
    return f'<h1 id="job">{name}</h1>'.encode() in (desk.page(1) or b"")


def _replace(file: Path, text: str) -> None:
    """Save as many editors do: a new file, renamed over the old one."""
    new = file.with_name(file.name + "~")
    new.write_text(text, "utf-8")
    os.replace(new, file)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "room.yaml"
    path.write_text(room_text("First"), "utf-8")
    return path


def test_a_saved_file_is_planned_again_and_an_untouched_one_is_not(file):
    desk = _desk(file)
    assert desk.renew() and _shows(desk, "First") and desk.news.version == 1
    assert not desk.renew()
    file.write_text(room_text("Second"), "utf-8")
    assert desk.renew() and _shows(desk, "Second") and desk.news.version == 2


def test_a_fault_is_told_with_its_line_and_the_last_good_plan_stays(file):
    desk = _desk(file)
    desk.renew()
    file.write_text("job: Broken\nroom: [\n", "utf-8")
    desk.renew()
    assert _shows(desk, "First") and desk.news.version == 1
    (complaint,) = desk.news.trouble
    assert complaint.line in (2, 3)
    assert desk.news.record()["trouble"][0]["file"] == "room.yaml"
    file.write_text(room_text("Mended"), "utf-8")
    desk.renew()
    assert _shows(desk, "Mended") and desk.news.trouble == ()


def test_a_file_that_is_gone_for_a_moment_is_no_end(file):
    desk = _desk(file)
    desk.renew()
    file.unlink()
    desk.renew()
    assert "no such file" in desk.news.trouble[0].problem
    file.write_text(room_text("Back"), "utf-8")
    desk.renew()
    assert _shows(desk, "Back")


def test_a_fault_of_the_planners_own_is_told_and_the_watch_goes_on(file, capsys):
    def fail(document: Document) -> tuple[Room, ...]:
        if document.data["job"] == "First":
            raise ZeroDivisionError("one by nothing")
        return _drawn(document)

    desk = _desk(file, fail)
    desk.renew()
    assert "planner itself failed" in desk.news.trouble[0].problem
    assert "one by nothing" in capsys.readouterr().err
    file.write_text(room_text("Second"), "utf-8")
    desk.renew()
    assert _shows(desk, "Second")


def test_a_file_caught_half_written_is_never_told_of_when_the_rest_comes_at_once(file):
    desk = _desk(file)
    desk.renew()
    troubles = []
    desk.listen(lambda: troubles.extend(desk.news.trouble))
    text = room_text("Whole")
    file.write_text("job: Half\nroom: {rectangle: [", "utf-8")
    finish = threading.Timer(0.05, lambda: file.write_text(text, "utf-8"))
    finish.start()
    desk.renew()
    finish.join()
    assert _shows(desk, "Whole") and troubles == []


def test_a_thousand_saves_in_a_row_end_with_the_last_one(file):
    desk = _desk(file)
    with _watched(desk):
        _wait(lambda: _shows(desk, "First"), "the first plan")
        for number in range(1, 1001):
            (_replace if number % 2 else Path.write_text)(file, room_text(f"Save {number}"))
        _wait(lambda: _shows(desk, "Save 1000") and desk.news.state == "settled", "the last save")
    assert desk.news.trouble == ()
    assert 2 <= desk.news.version <= 1001


@pytest.mark.parametrize("poll", [False, True])
def test_editors_that_rename_and_editors_that_overwrite_are_both_seen(file, poll):
    desk = _desk(file)
    with _watched(desk, poll):
        _wait(lambda: _shows(desk, "First"), "the first plan")
        _replace(file, room_text("Renamed"))
        _wait(lambda: _shows(desk, "Renamed"), "a save by renaming")
        file.write_text(room_text("Overwritten"), "utf-8")
        _wait(lambda: _shows(desk, "Overwritten"), "a save by overwriting")


def test_a_file_reached_through_a_link_is_watched_where_it_lies(tmp_path):
    (tmp_path / "elsewhere").mkdir()
    real = tmp_path / "elsewhere" / "real.yaml"
    real.write_text(room_text("First"), "utf-8")
    link = tmp_path / "room.yaml"
    link.symlink_to(real)
    desk = _desk(link)
    with _watched(desk):
        _wait(lambda: _shows(desk, "First"), "the first plan")
        real.write_text(room_text("Second"), "utf-8")
        _wait(lambda: _shows(desk, "Second"), "a save behind the link")


def test_a_grid_system_of_ones_own_that_comes_later_is_waited_for(tmp_path):
    """The file names a system in a folder that is not there yet: no plan; with the folder and the file there is one."""
    file = tmp_path / "room.yaml"
    file.write_text(room_text().replace("lay-in-metric", "own/grid.yaml"), "utf-8")

    def draw(document: Document) -> tuple[Room, ...]:
        read_document(tmp_path / "own" / "grid.yaml")
        return _drawn(document)

    desk = _desk(file, draw)
    with _watched(desk):
        _wait(lambda: bool(desk.news.trouble), "the missing system")
        (tmp_path / "own").mkdir()
        (tmp_path / "own" / "grid.yaml").write_text("title: mine\n", "utf-8")
        _wait(lambda: desk.news.version == 1, "the system")


def test_a_building_is_renewed_with_any_of_its_rooms_and_what_those_read():
    files = files_read(read_document(FIXTURES / "building" / "building.yaml"))
    assert {path.name for path in files} == {"office.yaml", "store.yaml", "hall.yaml"}
    drawn = files_read(read_document(FIXTURES / "attic-office.yaml"))
    assert {path.name for path in drawn} == {"attic-office.dxf"}


def test_files_out_of_reach_are_not_watched(tmp_path):
    (tmp_path / "inner").mkdir()
    file = tmp_path / "inner" / "room.yaml"
    file.write_text(room_text().replace("lay-in-metric", "../other.yaml"), "utf-8")
    assert files_read(read_document(file)) == frozenset()
