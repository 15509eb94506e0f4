"""The same files give the same bytes, whoever runs the planner: hash seed, home, language, time zone, folder, umask."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

FIXTURES = Path(__file__).parents[2] / "fixtures"
HERE = Path(__file__).parents[2]

#: Two people: what their computers say of themselves, and the umask they work under.
ONE = ({"PYTHONHASHSEED": "1", "LC_ALL": "C", "TZ": "UTC", "USER": "ana", "COLUMNS": "80"}, 0o022)
OTHER = (
    {
        "PYTHONHASHSEED": "4242",
        "LC_ALL": "de_DE.UTF-8",
        "LANGUAGE": "de:es",
        "TZ": "Pacific/Kiritimati",
        "USER": "bo",
        "COLUMNS": "200",
        "SOURCE_DATE_EPOCH": "86400",
        "NO_COLOR": "1",
        "PYTHONUTF8": "0",
        "PYTHONOPTIMIZE": "1",
    },
    0o077,
)

JOBS = {
    "a room": ("plan", "rooms/kiln-room.yaml", "--page", "--all-templates", "--out", "out"),
    "a room from a drawing": ("plan", "rooms/attic-office.yaml", "--page", "--out", "out"),
    "a building, side by side": ("plan", "rooms/building.yaml", "--page", "--out", "out"),
    "templates": ("template", "rooms/kiln-room.yaml", "--all", "--svg", "--story-pole", "A-B", "--out", "out/t.pdf"),
    "layouts": ("options", "rooms/kiln-room.yaml", "--sheet", "out/layouts.pdf"),
    "an order": ("takeoff", "rooms/kiln-room.yaml", "--xlsx", "out/order.xlsx"),
}
#: What each leaves behind at the least, so that nothing is compared with nothing.
LEFT = {"a room": 14, "a room from a drawing": 12, "a building, side by side": 40, "templates": 5}


def desk(folder: Path) -> Path:
    """The rooms, copied to a folder of one's own; five small ones make a building that is planned on all cores."""
    rooms = folder / "rooms"
    (rooms / "floors").mkdir(parents=True)
    for name in ("kiln-room.yaml", "attic-office.yaml"):
        shutil.copy(FIXTURES / name, rooms)
    shutil.copy(FIXTURES / "floors" / "attic-office.dxf", rooms / "floors")
    for k in range(5):
        (rooms / f"r{k}.yaml").write_text(
            f"job: Room {k}\nunits: mm\nroom: {{rectangle: [{2000 + 70 * k}, 1900]}}\n"
            f"services: [{{kind: downlight, near: [1000, 900], diameter: {90 + k}}}]\nstock: {{spare: 5%}}\n"
        )
    (rooms / "building.yaml").write_text("job: Five\nrooms: [r0.yaml, r1.yaml, r2.yaml, r3.yaml, r4.yaml]\n")
    (folder / "out").mkdir()
    return folder


def ran(folder: Path, who: tuple[dict[str, str], int], job: tuple[str, ...]) -> dict[str, bytes]:
    """Files of a run by somebody, in a folder of theirs."""
    given, umask = who
    home = folder / "home"
    home.mkdir()
    scratch = folder.parents[1] / "scratch"  # plain letters, for a library that packs spreadsheets
    scratch.mkdir(exist_ok=True)
    kept = {name: os.environ[name] for name in ("PATH", "LD_LIBRARY_PATH", "SYSTEMROOT") if name in os.environ}
    environment = {**kept, **given, "HOME": str(home), "TMPDIR": str(scratch), "PYTHONPATH": str(HERE)}
    answer = subprocess.run(
        [sys.executable, "-m", "planner", *job], cwd=folder, env=environment, umask=umask, capture_output=True
    )
    assert answer.returncode == 0, answer.stderr.decode()
    out = folder / "out"
    return {str(path.relative_to(out)): path.read_bytes() for path in sorted(out.rglob("*")) if path.is_file()}


@pytest.mark.parametrize("name", JOBS)
def test_the_same_bytes_for_everybody(name: str, tmp_path: Path) -> None:
    one = ran(desk(tmp_path / "ana"), ONE, JOBS[name])
    other = ran(desk(tmp_path / "far away" / "bö"), OTHER, JOBS[name])
    assert list(one) == list(other)
    assert len(one) >= LEFT.get(name, 1)
    assert [file for file in one if one[file] != other[file]] == []
