"""The command line as a user meets it: help at once, plain messages, exit codes 0, 1 and 2."""

import json
import os
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner, Result

from planner.cli import main
from planner.documents import read_document

FIXTURES = Path(__file__).parents[2] / "fixtures"
ROOM = FIXTURES / "kiln-room.yaml"


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words], catch_exceptions=False)


def test_help_names_every_command_and_the_caution() -> None:
    result = run("--help")
    assert result.exit_code == 0
    for command in ("plan", "check", "takeoff", "systems", "styles", "schema"):
        assert f"\n  {command} " in result.output
    assert "local codes and licensed people" in " ".join(result.output.split())


def test_help_imports_nothing_heavy() -> None:
    """Start-up stays quick because these are imported by the command that needs them."""
    heavy = ["ezdxf", "reportlab", "svgwrite", "shapely", "numpy", "pydantic", "ruamel", "fontTools"]
    code = (
        "import sys, click.testing, planner.cli as c;"
        "click.testing.CliRunner().invoke(c.main, ['--help']);"
        f"print([m for m in {heavy} if m in sys.modules])"
    )
    answer = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert answer.stdout.strip() == "[]"


def test_check_imports_no_writer() -> None:
    heavy = ["ezdxf", "reportlab", "svgwrite", "fontTools", "openpyxl", "starlette"]
    heavy += ["planner.drawing", "planner.render", "planner.options", "planner.building", "planner.room.tape"]
    code = (
        "import sys, click.testing, planner.cli as c;"
        f"r = click.testing.CliRunner().invoke(c.main, ['check', {str(ROOM)!r}]);"
        f"print(r.exit_code, [m for m in {heavy} if m in sys.modules])"
    )
    answer = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert answer.stdout.strip() == "0 []"


def test_plan_writes_the_whole_set(tmp_path: Path) -> None:
    out = tmp_path / "out"
    result = run("plan", ROOM, "--out", out)
    assert result.exit_code == 0, result.output
    assert sorted(os.listdir(out)) == [
        "ceiling-plan.svg",
        "ceiling.dxf",
        "checksums.sha256",
        "cutting-panels.svg",
        "cutting.csv",
        "cutting.svg",
        "framing.svg",
        "order-of-work.svg",
        "plan.json",
        "schedules.svg",
        "set-out.svg",
        "sheets.pdf",
        "takeoff.csv",
        "templates.pdf",
    ]


def test_plan_json_matches_its_published_schema(tmp_path: Path) -> None:
    shown = json.loads(run("plan", ROOM, "--out", tmp_path, "--json").output)
    assert shown == json.loads((tmp_path / "plan.json").read_text("utf-8"))
    jsonschema.Draft202012Validator(json.loads(run("schema", "plan").output)).validate(shown)


def test_the_default_folder_bears_the_rooms_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert run("plan", ROOM).exit_code == 0
    assert (tmp_path / "kiln-room-plan" / "sheets.pdf").is_file()


def test_bad_input_is_a_message_and_exit_code_2(tmp_path: Path) -> None:
    room = tmp_path / "room.yaml"
    room.write_text("job: X\nunits: mm\nroom:\n  rectangle: [5000, -3000]\ngrid: {system: lay-in-metric}\n")
    result = run("plan", room, "--out", tmp_path / "out")
    assert result.exit_code == 2
    assert "room.yaml:4:" in result.stderr and "^" in result.stderr
    assert "Traceback" not in result.stderr
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("option", "value", "told"),
    [
        ("--style", "us-ncz", "us-ncs"),
        ("--paper", "A33", "A3"),
        ("--scale", "2", "1:2"),
    ],
)
def test_a_wrong_option_names_what_would_do(tmp_path: Path, option: str, value: str, told: str) -> None:
    result = run("plan", ROOM, "--out", tmp_path / "out", option, value)
    assert result.exit_code == 2
    assert told in result.stderr
    assert not (tmp_path / "out").exists()


def test_an_output_folder_that_is_a_file(tmp_path: Path) -> None:
    taken = tmp_path / "taken"
    taken.write_text("mine")
    result = run("plan", ROOM, "--out", taken)
    assert result.exit_code == 2
    assert "a folder is needed" in result.stderr
    assert taken.read_text() == "mine"


def test_takeoff_speaks_three_ways() -> None:
    table = run("takeoff", ROOM).output
    assert "main tee" in table and "panel" in table
    rows = run("takeoff", ROOM, "--csv").output.splitlines()
    assert rows[0].startswith("item,unit,net")
    lines = json.loads(run("takeoff", ROOM, "--json").output)["takeoff"]
    table_rows = rows[1 : rows.index("")]  # below the empty line: the sum, and what is not included
    assert [line["item"] for line in lines] == [row.split(",")[0] for row in table_rows]
    assert rows[-1].startswith('"Not included')


def test_systems_and_styles_are_listed() -> None:
    assert {"lay-in-imperial", "lay-in-metric"} <= set(json.loads(run("systems", "--json").output))
    assert {"us-ncs", "iso-13567", "site-bold"} <= set(json.loads(run("styles", "--json").output))


def test_the_building_schema_accepts_the_demo_building() -> None:
    schema = jsonschema.Draft202012Validator(json.loads(run("schema", "building").output))
    schema.validate(read_document(FIXTURES / "building" / "building.yaml").data)


def test_the_room_schema_accepts_every_demo_room() -> None:
    schema = jsonschema.Draft202012Validator(json.loads(run("schema").output))
    for room in FIXTURES.glob("*.yaml"):
        schema.validate(read_document(room).data)


@pytest.mark.parametrize(
    ("old", "new", "place"),
    [
        ("system: lay-in-imperial", "system: lay-in-imperal", "grid › system"),
        ('module: [24", 24"]', 'module: [25", 24"]', "grid › module"),
        ("prices: {panel", "prices: {panl", "stock › prices › panl"),
    ],
)
def test_a_wish_that_cannot_be_is_pointed_at_in_the_file(tmp_path: Path, old: str, new: str, place: str) -> None:
    text = ROOM.read_text("utf-8")
    assert text.count(old) == 1
    text = text.replace(old, new)
    line = next(n for n, row in enumerate(text.splitlines(), 1) if new in row)
    room = tmp_path / "room.yaml"
    room.write_text(text, "utf-8")
    result = run("check", room)
    assert result.exit_code == 2
    assert f"room.yaml:{line}:" in result.stderr and f"  {place}: " in result.stderr and "^" in result.stderr


@pytest.mark.parametrize("scale", ["nan", "inf", "-50", "0.5", "1e9"])
def test_what_is_no_scale_is_refused(scale: str, tmp_path: Path) -> None:
    result = run("plan", ROOM, "--scale", scale, "--out", tmp_path / "out")
    assert result.exit_code == 2 and "scale" in result.output
    assert not (tmp_path / "out").exists()
