"""A set of files is whole and of one run, or it is seen not to be: killed, crowded, linked, out of space."""

import hashlib
import json
import os
import resource
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from planner.cli import main
from planner.errors import OutputError
from planner.export import inspect_set, write_set
from planner.sets import LIST, list_of, read_list

OLD = {"one.txt": b"old one", "two.txt": b"old two", "room/three.svg": b"old three"}
NEW = {"one.txt": b"new one", "two.txt": b"new two", "room/three.svg": b"new three"}
FIXTURES = Path(__file__).parents[2] / "fixtures"


def contents(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


# --- the list ---------------------------------------------------------------------------------------------------------


def test_the_list_is_what_sha256sum_reads(tmp_path: Path) -> None:
    """The digest of "abc" is the example of FIPS 180-4 (its appendix as published by NIST)."""
    text = list_of({"abc.txt": b"abc"})
    assert text == b"ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad  abc.txt\n"
    write_set(tmp_path, OLD)
    if (tool := shutil.which("sha256sum")) is not None:
        assert subprocess.run([tool, "--check", "--strict", LIST], cwd=tmp_path, capture_output=True).returncode == 0


@pytest.mark.parametrize("line", ["nothing", "0" * 64 + "  ../out", "0" * 64 + "  /etc/passwd", "0" * 63 + "  a"])
def test_what_is_no_list_or_leads_out_of_the_folder_is_not_read(line: str) -> None:
    assert read_list(line.encode()) is None


def test_the_digest_of_the_set_is_that_of_its_list(tmp_path: Path) -> None:
    write_set(tmp_path, OLD)
    assert inspect_set(tmp_path).digest == hashlib.sha256((tmp_path / LIST).read_bytes()).hexdigest()


def test_a_changed_and_a_missing_file_are_named(tmp_path: Path) -> None:
    write_set(tmp_path, OLD)
    (tmp_path / "one.txt").write_bytes(b"mine")
    (tmp_path / "two.txt").unlink()
    sealed = inspect_set(tmp_path)
    assert (sealed.whole, sealed.changed, sealed.missing) == (("room/three.svg",), ("one.txt",), ("two.txt",))


# --- the files --------------------------------------------------------------------------------------------------------


def test_sheets_of_an_earlier_set_go_but_what_somebody_touched_stays(tmp_path: Path) -> None:
    write_set(tmp_path, OLD)
    (tmp_path / "two.txt").write_bytes(b"with my pencil marks")
    (tmp_path / "notes.txt").write_bytes(b"ring the supplier")
    write_set(tmp_path, {"one.txt": b"new one"})
    found = contents(tmp_path)
    assert sorted(found) == [LIST, "notes.txt", "one.txt", "two.txt"]
    assert (found["one.txt"], found["two.txt"]) == (b"new one", b"with my pencil marks")
    assert not (tmp_path / "room").exists()


def test_a_link_in_the_folder_is_replaced_and_never_followed(tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere.txt"
    elsewhere.write_bytes(b"not yours")
    folder = tmp_path / "plan"
    folder.mkdir()
    (folder / "one.txt").symlink_to(elsewhere)
    write_set(folder, {"one.txt": b"new"})
    assert elsewhere.read_bytes() == b"not yours"
    assert not (folder / "one.txt").is_symlink()


def test_a_room_folder_that_is_a_link_is_refused(tmp_path: Path) -> None:
    (tmp_path / "elsewhere").mkdir()
    folder = tmp_path / "plan"
    folder.mkdir()
    (folder / "room").symlink_to(tmp_path / "elsewhere", target_is_directory=True)
    with pytest.raises(OutputError, match="this is a link"):
        write_set(folder, NEW)
    assert list((tmp_path / "elsewhere").iterdir()) == []


def test_a_folder_where_a_file_should_go_is_found_before_anything_is_replaced(tmp_path: Path) -> None:
    write_set(tmp_path, OLD)
    (tmp_path / "two.txt").unlink()
    (tmp_path / "two.txt").mkdir()
    with pytest.raises(OutputError, match="this is a folder"):
        write_set(tmp_path, NEW)
    assert (tmp_path / "one.txt").read_bytes() == b"old one"


# --- killed, crowded, out of space ------------------------------------------------------------------------------------

#: Runs in a process of its own: forks once for each of the system calls that change something, and dies before it.
_KILLED = """
import os, shutil, sys, json
from pathlib import Path
from planner import export
from planner.sets import LIST

old, new = ({name: text.encode() for name, text in part.items()} for part in json.loads(sys.argv[2]))
folder = Path(sys.argv[1])
calls = ("replace", "unlink", "open", "fsync", "mkdir", "rmdir")

def die_before(call):
    count = [0]
    def counted(real):
        def inner(*given, **named):
            count[0] += 1
            if count[0] == call:
                os._exit(9)
            return real(*given, **named)
        return inner
    for name in calls:
        setattr(os, name, counted(getattr(os, name)))

outcomes = []
for call in range(1, 1000):
    shutil.rmtree(folder, ignore_errors=True)
    export.write_set(folder, old)
    child = os.fork()
    if child == 0:
        die_before(call)
        export.write_set(folder, new)
        os._exit(0)
    done = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0
    texts = {name: (folder / name).read_bytes() for name in old if (folder / name).exists()}
    listed = (folder / LIST).exists()
    sound = listed and export.inspect_set(folder).sound
    outcomes.append([done, listed, sound, texts == old, texts == new])
    export.write_set(folder, new)
    left = [path.name for path in folder.rglob("*.part")]
    assert not left and export.inspect_set(folder).sound, left
    if done:
        break
print(json.dumps(outcomes))
"""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs a system that forks")
def test_a_run_killed_before_any_of_its_calls_leaves_the_old_set_or_the_new_or_no_list(tmp_path: Path) -> None:
    sets = json.dumps([{name: text.decode() for name, text in part.items()} for part in (OLD, NEW)])
    run = subprocess.run(
        [sys.executable, "-c", _KILLED, str(tmp_path / "plan"), sets], capture_output=True, text=True, check=True
    )
    outcomes = json.loads(run.stdout)
    assert outcomes[-1] == [True, True, True, False, True]
    assert len(outcomes) > 15  # so many places to die at
    for done, listed, sound, old, new in outcomes:
        assert sound == listed, "a list that does not fit its files"
        assert not sound or old or new, "a mixture that looks finished"
        assert done or not (sound and new and not listed)
    assert any(not listed and not old and not new for _, listed, _, old, new in outcomes), "no mixture was ever tried"


_CROWD = """
import sys
from pathlib import Path
from planner.export import write_set
who = sys.argv[2]
for turn in range(15):
    write_set(Path(sys.argv[1]), {f"{k}.txt": (who * 2000).encode() for k in range(6)})
"""


def test_runs_that_write_into_one_folder_at_once_never_mix(tmp_path: Path) -> None:
    crowd = [subprocess.Popen([sys.executable, "-c", _CROWD, str(tmp_path), who]) for who in "abc"]
    assert [run.wait() for run in crowd] == [0, 0, 0]
    assert inspect_set(tmp_path).sound
    assert len({(tmp_path / f"{k}.txt").read_bytes() for k in range(6)}) == 1


_FULL = """
import resource, signal, sys
from pathlib import Path
from planner.errors import OutputError
from planner.export import write_set
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))
try:
    write_set(Path(sys.argv[1]), {"one.txt": b"small", "two.txt": b"x" * 2000})
except OutputError as error:
    print(error)
"""


def test_no_room_for_a_file_leaves_the_old_set_whole(tmp_path: Path) -> None:
    """The system's own limit on the size of a file stands in for a full disk."""
    assert resource.getrlimit(resource.RLIMIT_FSIZE)
    write_set(tmp_path, OLD)
    run = subprocess.run([sys.executable, "-c", _FULL, str(tmp_path)], capture_output=True, text=True, check=True)
    assert "cannot be written" in run.stdout and "unharmed" in run.stdout
    assert inspect_set(tmp_path).sound
    assert contents(tmp_path) == {**OLD, LIST: list_of(OLD)}


# --- at the desk ------------------------------------------------------------------------------------------------------


def test_check_outputs_tells_whole_from_mended_and_current_from_overtaken(tmp_path: Path) -> None:
    room = tmp_path / "kiln.yaml"
    room.write_bytes((FIXTURES / "kiln-room.yaml").read_bytes())
    folder = tmp_path / "out"
    desk = CliRunner()
    assert desk.invoke(main, ["plan", str(room), "--out", str(folder)]).exit_code == 0
    current = desk.invoke(main, ["check", str(room), "--outputs", str(folder)])
    assert current.exit_code == 0 and "what the room file gives now" in current.output

    room.write_text(room.read_text().replace("13' 7\"", "13' 9\"", 1))
    overtaken = desk.invoke(main, ["check", str(room), "--outputs", str(folder), "--json"])
    assert overtaken.exit_code == 1 and json.loads(overtaken.output)["current"] is False

    (folder / "takeoff.csv").write_text("panel,1\n")
    mended = desk.invoke(main, ["check", "--outputs", str(folder)])
    assert mended.exit_code == 1 and "changed since: takeoff.csv" in mended.output

    (folder / LIST).unlink()
    unfinished = desk.invoke(main, ["check", "--outputs", str(folder)])
    assert unfinished.exit_code == 2 and "no finished set" in unfinished.output


def test_check_needs_something_to_check() -> None:
    assert CliRunner().invoke(main, ["check"]).exit_code == 2
