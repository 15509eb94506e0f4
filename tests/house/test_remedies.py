"""A remedy that names a key and what to write there works: written as told, the finding is gone.

Every demo room is looked at, and rooms in which such findings come up; each remedy is put into the room file by itself.
"""

import re
import shutil
from collections.abc import Iterator
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from planner.findings import Finding
from planner.planning import Plan, plan
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
OPPOSITE = {"left": "right", "right": "left", "front": "back", "back": "front"}
JOISTS = "structure: {joists: {spacing: 600, first: 300}, underside: 2800}\nceiling_height: 2500\n"

#: Rooms in which findings with such remedies come up.
ROOMS = {
    "jog, full in front": f"""\
units: mm
room: {{points: [[0, 0], [4200, 0], [4200, 3000], [2100, 3000], [2100, 3015], [0, 3015]]}}
{JOISTS}grid: {{panel_weight: 4 kg/m2, borders: {{front: full}}}}
""",
    "pipe under a main": f"""\
units: mm
room: {{rectangle: [4800, 3600], columns: [{{name: P1, at: [2000, 1200], diameter: 90}}]}}
{JOISTS}grid: {{panel_weight: 4 kg/m2, borders: {{front: full}}}}
""",
    "pipe beside a wall that leans": f"""\
units: mm
room: {{points: [[0, 0], [4790, 0], [4840, 3600], [60, 3600]], columns: [{{name: P1, at: [2000, 1200], diameter: 90}}]}}
{JOISTS}grid: {{panel_weight: 4 kg/m2, borders: {{left: 200 mm}}}}
""",
    "centred by hand": f"""\
units: mm
room: {{rectangle: [4300, 3400]}}
{JOISTS}grid: {{panel_weight: 4 kg/m2, borders: {{centre_on: [2300, 1500]}}}}
""",
    "direct grid at a height of its own": """\
units: mm
room: {rectangle: [3420, 2710]}
structure: {joists: {spacing: 400, first: 150, direction: along}, underside: 2310}
ceiling_height: 2280
grid: {system: direct-metric}
""",
    "head over a tee": f"""\
units: mm
room: {{rectangle: [4800, 3600]}}
{JOISTS}grid: {{panel_weight: 4 kg/m2}}
services: [{{name: H1, kind: sprinkler, diameter: 40, at: [1205, 900]}}]
""",
}

Written = tuple[str, dict[str, Any]]


def as_told(data: dict[str, Any], finding: Finding) -> Iterator[Written]:
    """The room file with each of the remedies of a finding in it that say what to write."""
    remedy = finding.remedy
    for braced in re.findall(r"Write  borders: \{(.*?)\}  ", remedy):
        grid = (mended := deepcopy(data)).setdefault("grid", {})
        wanted = dict(pair.split(": ") for pair in braced.split(", "))
        asked = grid.get("borders") if isinstance(grid.get("borders"), dict) else {}
        kept = {side: width for side, width in (asked or {}).items() if OPPOSITE.get(side) not in wanted}
        if "takes the place of centre_on" in remedy:
            kept.pop("centre_on")
        grid["borders"] = kept | wanted
        yield "borders", mended
    if "Leave out borders: and centre_on:" in remedy:
        mended = deepcopy(data)
        del mended["grid"]["borders"]  # centre_on is written there too
        yield "no borders", mended
    if "Leave out prefer: fewest_panels" in remedy:
        mended = deepcopy(data)
        del mended["grid"]["prefer"]
        yield "no prefer", mended
    for height in re.findall(r"Write ceiling_height: ([^,]*), leave it out", remedy):
        yield "height", data | {"ceiling_height": height}
        yield "no height", {key: value for key, value in data.items() if key != "ceiling_height"}
    if "Write staggered_splices: true under stock" in remedy:
        yield "staggered", data | {"stock": (data.get("stock") or {}) | {"staggered_splices": True}}
    for walls in re.findall(r"fixed_walls, which then reads \[(.*?)\]", remedy):
        yield "fixed walls", data | {"structure": data["structure"] | {"fixed_walls": walls.split(", ")}}
    for along, away in re.findall(r"Move it .*?, to (.*?) along \S+ and (.*?) from it\.", remedy):
        mended = deepcopy(data)
        for service in mended.get("services", ()):
            if service.get("name") == finding.message.split(" (")[0] and "array" not in service:
                service["at" if "at" in service else "near"] = [along, away]
                yield "moved", mended


def subject(finding: Finding) -> str:
    """Which service a finding is about; empty for those about the ceiling."""
    return finding.message.split(" (")[0] if re.match(r"\w+ \([^)]*\): ", finding.message) else ""


def is_left(made: Plan, finding: Finding) -> bool:
    """Whether what was found is found again, and as grave."""
    return any(
        (each.rule, each.severity, subject(each)) == (finding.rule, finding.severity, subject(finding))
        for each in made.findings
    )


def planned(data: dict[str, Any], folder: Path) -> Plan:
    path = folder / "as-told.yaml"
    with path.open("w", encoding="utf-8") as file:
        YAML().dump(data, file)
    return plan(read_room(path))


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo rooms with what they refer to."""
    return Path(shutil.copytree(FIXTURES, tmp_path_factory.mktemp("rooms") / "fixtures"))


def read(text: str) -> dict[str, Any]:
    yaml = YAML(typ="safe")
    yaml.version = (1, 2)
    return dict(yaml.load(text))


@pytest.mark.parametrize("name", [*sorted(path.stem for path in FIXTURES.glob("*.yaml")), *ROOMS])
def test_what_a_remedy_says_to_write_mends_it(name: str, folder: Path) -> None:
    text = ROOMS.get(name) or (FIXTURES / f"{name}.yaml").read_text(encoding="utf-8")
    data, tried = read(text), list[str]()
    before = planned(data, folder)
    for finding in before.findings:
        for how, mended in as_told(data, finding):
            made = planned(mended, folder)
            assert not is_left(made, finding), (how, finding.message, finding.remedy)
            tried.append(how)
            if how == "borders":
                told_of_slivers(before, made, finding)
    assert tried or name not in ROOMS


def told_of_slivers(before: Plan, made: Plan, finding: Finding) -> None:
    """Borders that were half a module or more stay so, or the remedy says that they do not."""
    rules = {each.rule for each in made.findings} - {each.rule for each in before.findings}
    if "sliver at a wall" in rules:
        assert "makes a border under a quarter" in finding.remedy
    elif "border under half a module" in rules:
        assert "makes a border under" in finding.remedy


#: Walls to the front 130 apart all round a module of 600: wherever lines fall one of them has 130 or less.
STEPS = [(0, 0), (1000, 260), (2000, 520), (3000, 130), (4000, 390)]


def stairs(out: dict[str, float]) -> dict[str, Any]:
    """A room with a front of steps, each a metre wide; `out` tells by how much walls are furred out."""
    corners, front = [], list[list[float]]()
    for number, (x, y) in enumerate(STEPS):
        wall = f"{chr(65 + 2 * number)}-{chr(66 + 2 * number)}"
        front += [[x, y + out.get(wall, 0.0)], [x + 1000, y + out.get(wall, 0.0)]]
    corners = [*front, [5000, 3000], [0, 3000]]
    return {"units": "mm", "room": {"points": corners}, "grid": {"system": "lay-in-metric"}}


def test_a_wall_furred_out_by_its_sliver_has_none(folder: Path) -> None:
    """What is left of the lines then is a whole panel at that wall, so that some place of the grid has no sliver."""
    (finding,) = [each for each in planned(stairs({}), folder).findings if each.rule == "sliver at a wall"]
    assert finding.remedy == "Fur each out by so much, and whole panels end there; or choose another module."
    told = {wall: float(width) for wall, width in re.findall(r"(\w-\w) (\d+) mm", finding.message)}
    assert told
    assert not is_left(planned(stairs(told), folder), finding)
