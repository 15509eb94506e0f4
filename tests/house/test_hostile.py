"""Files from people who mean harm, other than room files that are merely wrong: nothing outside their folder is read or
written, nothing hangs, nothing drives the terminal, and what cannot be is refused in words.
"""

import copy
import hashlib
import json
import os
import shutil
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from fuzz.mutations import places
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.cli import main
from planner.compare import compare, record_in
from planner.compare.telling import comparison_record, comparison_text
from planner.documents import Document, read_document
from planner.drawing.stylebook import load_style
from planner.drawing.wordbook import load_wordbook
from planner.errors import InputError, PlannerError
from planner.export import inspect_set, write_set
from planner.files import json_text
from planner.printers import remembered
from planner.room.reader import brief_from
from planner.sets import LIST

FIXTURES = Path(__file__).parents[2] / "fixtures"
ROOM = "units: mm\nroom: {rectangle: [4000, 3000]}\n"
OVERRIDE, MARK = "\u202e", "\u2066"  #: turn the reading order: "kiln\u202efdp.exe" reads as kilnexe.pdf


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, [str(each) for each in arguments], catch_exceptions=False)


# --- enormous numbers, and what is no number --------------------------------------------------------------------------

NUMBERS: tuple[Any, ...] = (
    float("nan"), float("inf"), float("-inf"), 1e308, -1e308, 5e-324, 10**40, -(10**40), 10**4000,
    "nan", "NaN mm", "inf", "-Infinity m", "infinity", "1e999", "1e999 mm", "9" * 50, "9" * 50 + " km", "-" * 50,
    "0x1F", "1_000", "\u0661\u0662 mm", "\u00bd", "1/0", "1' 1/0\"", "1e-400 m", "5% ", "1e400 lb", "nan kg",
)  # fmt: skip


def reference() -> dict[str, Any]:
    data: dict[str, Any] = read_document(FIXTURES / "reference.yaml").data
    return data


LEAVES = [path for path in places(reference()) if isinstance(path[-1], str) or path[-1] == 0]


@pytest.mark.parametrize("path", LEAVES, ids=lambda path: ".".join(map(str, path)))
def test_a_number_that_is_none_in_every_place_is_read_or_refused(path: tuple[Any, ...]) -> None:
    for number in NUMBERS:
        data = reference_copy()
        holder = data
        for step in path[:-1]:
            holder = holder[step]
        holder[path[-1]] = number
        try:
            brief_from(Document(str(FIXTURES / "hostile.yaml"), data))
        except PlannerError as error:
            assert str(error).strip()
            assert len(str(error)) < 5000


_REFERENCE = reference()


def reference_copy() -> dict[str, Any]:
    return copy.deepcopy(_REFERENCE)


# --- terminals --------------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def turned(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A room whose every name turns the reading order, and its plan."""
    folder = tmp_path_factory.mktemp("turned")
    name = f"a{OVERRIDE}b{MARK}c\u2028d"
    quoted = json.dumps(name, ensure_ascii=False)
    (folder / "room.yaml").write_text(
        f"""
job: {quoted}
units: mm
project: {{client: {quoted}, notes: {quoted}}}
room:
  corners: [{quoted}, B, C, D]
  tape: {{B-C: 3150, C-D: 4140, B-D: [5202, 5209]}}
  columns: [{{name: {quoted}, at: [2000, 1500], size: [200, 200]}}]
services:
  - {{name: {quoted}, kind: troffer, size: [600, 600], near: [1000, 1000]}}
grid: {{panel_weight: 5 kg/m2}}
stock: {{extras: [{{item: {quoted}, count: 2}}], currency: {quoted}, prices: {{panel: 2}}}}
""",
        encoding="utf-8",
    )
    (folder / "wrong.yaml").write_text(f"{ROOM}{quoted}: 1\njob: [{quoted}]\n", encoding="utf-8")
    (folder / "building.yaml").write_text(f"job: {quoted}\nrooms: [room.yaml]\n", encoding="utf-8")
    assert run("plan", folder / "room.yaml", "--out", folder / "out").exit_code in (0, 1)
    return folder


COMMANDS = [
    ("check", "room.yaml"),
    ("check", "wrong.yaml"),
    ("check", "building.yaml"),
    ("options", "room.yaml"),
    ("takeoff", "room.yaml"),
    ("explain", "room.yaml"),
    ("explain", "room.yaml", "cost"),
    ("explain", "room.yaml", "C-D"),
    ("explain", "room.yaml", "nothing like it"),
    ("compare", "room.yaml", "plain.yaml"),
    ("template", "room.yaml", "--all"),
    ("template", "room.yaml", "zz99"),
    ("check", "room.yaml", "--style", OVERRIDE),
    ("styles", "show", OVERRIDE),
    ("plan", "room.yaml", "--sheets", OVERRIDE),
    ("plan", "room.yaml", "--paper", OVERRIDE),
    ("plan", "room.yaml", "--language", OVERRIDE),
    ("check", "--outputs", "out"),
]


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: " ".join(command).replace(OVERRIDE, "turned"))
def test_nothing_drives_the_terminal(turned: Path, command: tuple[str, ...], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(turned)
    (turned / "plain.yaml").write_text(ROOM)
    result = run(*command)
    assert result.output.strip()
    assert not [line for line in result.output.split("\n") if not line.isprintable()]


def test_explaining_every_topic_drives_no_terminal(turned: Path) -> None:
    topics = json.loads(run("explain", turned / "room.yaml", "--json").output)["topics"]
    names = [name for group in topics.values() for name in (*group[:1], *group[-1:])]
    assert len(names) > 8
    for name in names:
        result = run("explain", turned / "room.yaml", name)
        assert result.exit_code in (0, 2), name
        assert all(line.isprintable() for line in result.output.split("\n")), name


def test_counts_and_prices_at_their_utmost_are_planned_at_once(tmp_path: Path) -> None:
    room = tmp_path / "room.yaml"
    most = 10**9
    stock = {
        "prices": {"panel": most, "main tee": most},
        "packs": {"panel": most},
        "on_hand": {"main tee": most},
        "spare_pieces": {"cross tee 1200": most},
        "leave_with_owner": {"panel": most},
        "extras": [{"item": "paint", "count": most, "price": most, "pack": most}],
        "labour": {"hour": most, "each": {"panel": "9999 h"}},
    }
    room.write_text(f"{ROOM}stock: {json.dumps(stock)}\n")
    for command in ("check", "takeoff", "options", "explain"):
        result = run(command, room, "--json")
        assert result.exit_code == 0, result.output
        assert json.loads(result.output)
    room.write_text(ROOM + "stock: {prices: {panel: 1.0e+308}}\n")
    assert "at most" in run("check", room).output


# --- paths ------------------------------------------------------------------------------------------------------------


def test_a_style_extends_only_what_lies_below_it_unless_it_is_allowed(tmp_path: Path) -> None:
    (tmp_path / "mail").mkdir()
    (tmp_path / "secret.yaml").write_text("title: Secret\nextends: iso-13567\n")
    (tmp_path / "mail" / "link.yaml").symlink_to(tmp_path / "secret.yaml")
    style = tmp_path / "mail" / "style.yaml"
    (tmp_path / "mail" / "sub").mkdir()
    for name in ("../secret.yaml", str(tmp_path / "secret.yaml"), "link.yaml", "sub/../../secret.yaml"):
        style.write_text(f"title: Mine\nextends: {name}\n")
        with pytest.raises(InputError, match="not in or below the style's folder") as caught:
            load_style(str(style))
        assert caught.value.complaints[0].line == 2
        assert load_style(str(style), reach=tmp_path).title == "Mine"
    (tmp_path / "mail" / "own.yaml").write_text("title: Own\nextends: iso-13567\n")
    style.write_text("title: Mine\nextends: own.yaml\n")
    assert load_style(str(style)).title == "Mine"


def test_the_desk_says_how_far_a_style_may_reach(tmp_path: Path) -> None:
    (tmp_path / "mail").mkdir()
    (tmp_path / "house.yaml").write_text("title: House\nextends: iso-13567\n")
    style = tmp_path / "mail" / "style.yaml"
    style.write_text("title: Mine\nextends: ../house.yaml\n")
    room = tmp_path / "room.yaml"
    room.write_text(ROOM)
    building = tmp_path / "building.yaml"
    building.write_text("rooms: [room.yaml]\n")
    for file in (room, building):
        arguments = ("plan", file, "--style", style, "--out", tmp_path / "out", "--sheets", "ceiling-plan")
        refused = run(*arguments)
        assert refused.exit_code == 2 and "--reach" in refused.output
        assert run("--reach", tmp_path, *arguments).exit_code == 0


@pytest.mark.parametrize("key", ["system", "drawing", "style", "room"])
def test_a_pipe_named_by_a_file_keeps_nobody_waiting(tmp_path: Path, key: str) -> None:
    os.mkfifo(tmp_path / "pipe.yaml")
    os.mkfifo(tmp_path / "pipe.dxf")
    texts = {
        "system": ROOM + "grid: {system: pipe.yaml}\n",
        "drawing": "units: mm\nroom: {dxf: {file: pipe.dxf}}\n",
        "style": "title: Mine\nextends: pipe.yaml\n",
        "room": "rooms: [pipe.yaml]\n",
    }
    file = tmp_path / "file.yaml"
    file.write_text(texts[key])
    if key == "style":
        with pytest.raises(InputError):
            load_style(str(file))
    else:
        assert run("check", file).exit_code == 2


def test_a_linked_folder_leads_nowhere(tmp_path: Path) -> None:
    """What is below the folder by name, and elsewhere in truth."""
    (tmp_path / "mail").mkdir()
    (tmp_path / "desk").mkdir()
    shutil.copy(FIXTURES / "floors" / "attic-office.dxf", tmp_path / "desk" / "floor.dxf")
    shutil.copy(FIXTURES / "systems" / "lay-in-seismic.yaml", tmp_path / "desk" / "grid.yaml")
    (tmp_path / "desk" / "room.yaml").write_text(ROOM)
    (tmp_path / "desk" / "style.yaml").write_text("title: A\nextends: iso-13567\n")
    (tmp_path / "mail" / "below").symlink_to(tmp_path / "desk", target_is_directory=True)
    file = tmp_path / "mail" / "file.yaml"
    for text in (
        "units: mm\nroom: {dxf: {file: below/floor.dxf, layer: A-WALL}}\n",
        ROOM + "grid: {system: below/grid.yaml}\n",
        "rooms: [below/room.yaml]\n",
    ):
        file.write_text(text)
        refused = run("check", file)
        assert refused.exit_code == 2 and "below" in refused.output and "--reach" in refused.output
    file.write_text("title: Mine\nextends: below/style.yaml\n")
    with pytest.raises(InputError, match="not in or below"):
        load_style(str(file))


@pytest.mark.parametrize("language", ["../en", "/etc/passwd", "en/../../x", "..", "", "en\0"])
def test_a_language_is_no_path(language: str, tmp_path: Path) -> None:
    room = tmp_path / "room.yaml"
    room.write_text(f"{ROOM}project: {{language: {json.dumps(language)}}}\n")
    assert run("check", room).exit_code == 2
    if language:
        with pytest.raises(PlannerError):
            load_wordbook(language)


def test_a_table_of_words_cannot_reach_into_what_it_fills(tmp_path: Path) -> None:
    """Format strings that walk from a value to its class, as an attacker's do."""
    table = tmp_path / "words.yaml"
    for field in ("{count.__class__}", "{count[0]}", "{count!r}", "{count:>999999999}", "{0}", "{}"):
        table.write_text(f"language: en\nfindings: {{more: '{field}'}}\n")
        with pytest.raises(InputError):
            load_wordbook(str(table))


# --- names of files ---------------------------------------------------------------------------------------------------


def test_rooms_get_folders_of_their_own_below_the_output_folder(tmp_path: Path) -> None:
    """The stem of "...yaml" is "..", one folder up; a list's name, and one that looks unfinished, have been tried."""
    names = ["...yaml", "....yaml", ".hidden.yaml", f"{LIST}.yaml", ".x.12.part.yaml", "a b .yaml", f"k{OVERRIDE}.yaml"]
    for name in names:
        (tmp_path / name).write_text(ROOM)
    building = tmp_path / "building.yaml"
    building.write_text(json.dumps({"rooms": names}))
    before = sorted(tmp_path.rglob("*"))
    out = tmp_path / "deep" / "out"
    result = run("plan", building, "--out", out, "--sheets", "ceiling-plan")
    assert result.exit_code == 0, result.output
    assert sorted(p for p in tmp_path.rglob("*") if out.parent not in (p, *p.parents)) == before
    folders = [path.name for path in out.iterdir() if path.is_dir()]
    assert len(folders) == len(names) and all(name[0] != "." and name.isprintable() for name in folders)
    assert inspect_set(out).sound


def test_a_room_file_named_by_bytes_that_are_no_letters(tmp_path: Path) -> None:
    room = os.fsencode(tmp_path) + b"/a\x1b[31m\xff.yaml"
    with open(room, "wb") as file:
        file.write(ROOM.encode())
    name = os.fsdecode(room)
    assert brief_from(read_document(name)).room.name == "a [31m?"
    result = run("plan", name, "--out", tmp_path / "out")
    assert result.exit_code == 0
    assert "\x1b" not in result.output


# --- lists of checksums -----------------------------------------------------------------------------------------------

FILES = {"ceiling.dxf": b"a", "plan.json": b"{}"}


def sealed(folder: Path, *names: str) -> Path:
    """A set to whose list somebody added lines, each with the right digest where it can be had."""
    write_set(folder, FILES)
    with (folder / LIST).open("a") as file:
        for name in names:
            path = folder / name
            digest = hashlib.sha256(path.read_bytes()).hexdigest() if path.is_file() else "0" * 64
            file.write(f"{digest}  {name}\n")
    return folder


def test_a_list_takes_nothing_away_that_no_set_has(tmp_path: Path) -> None:
    """Whoever slips a list into the output folder must not have the next run clear somebody's papers away."""
    folder = tmp_path / "out"
    folder.mkdir()
    (tmp_path / "papers").mkdir()
    (tmp_path / "papers" / "thesis.pdf").write_bytes(b"years of work")
    (folder / "link").symlink_to(tmp_path / "papers", target_is_directory=True)
    (folder / "photo.jpg").write_bytes(b"a child")
    (folder / "a").mkdir()
    (folder / "a" / "b").mkdir()
    (folder / "a" / "b" / "deep.pdf").write_bytes(b"deep")
    for name in ("photo.jpg", "link/thesis.pdf", "a/b/deep.pdf", "../papers/thesis.pdf", "./photo.jpg"):
        write_set(sealed(folder, name), FILES)
    assert (tmp_path / "papers" / "thesis.pdf").is_file()
    assert (folder / "photo.jpg").is_file() and (folder / "a" / "b" / "deep.pdf").is_file()


def test_a_list_that_names_what_has_no_end_is_told_at_once(tmp_path: Path) -> None:
    folder = tmp_path / "out"
    folder.mkdir()
    (folder / "zero.pdf").symlink_to("/dev/zero")
    os.mkfifo(folder / "pipe.pdf")
    found = inspect_set(sealed(folder, "zero.pdf", "pipe.pdf"))
    assert found.missing == ("zero.pdf", "pipe.pdf")
    assert run("check", "--outputs", folder).exit_code == 1


def test_a_list_that_is_a_device_or_a_pipe_is_no_list(tmp_path: Path) -> None:
    (tmp_path / LIST).symlink_to("/dev/zero")
    assert run("check", "--outputs", tmp_path).exit_code == 2
    (tmp_path / LIST).unlink()
    os.mkfifo(tmp_path / LIST)
    assert run("check", "--outputs", tmp_path).exit_code == 2


@pytest.mark.parametrize("name", [f"a{OVERRIDE}b.pdf", "a\x1b[31mb.pdf", "a\rb.pdf", "a\u2028b.pdf", ".hidden", "a/.b"])
def test_a_list_with_names_that_no_set_has_is_no_list(tmp_path: Path, name: str) -> None:
    result = run("check", "--outputs", sealed(tmp_path, name))
    assert result.exit_code == 2
    assert all(line.isprintable() for line in result.output.split("\n"))


# --- records ----------------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("record")
    run("plan", FIXTURES / "kiln-room.yaml", "--out", folder, "--sheets", "ceiling-plan")
    return folder / "plan.json"


NASTY: tuple[Any, ...] = (
    None, True, -1, 0, 1e308, -1e308, 10**30, 10**400, "", "x" * 10_000, f"a{OVERRIDE}\x1b[2J\x00", "1e5", "NaN",
    [], {}, [1, 2, 3], {"a": {}}, [[[]]], "__proto__", {"__class__": 1},
)  # fmt: skip


def test_a_record_with_anything_in_it_is_compared_or_refused(record: Path, tmp_path: Path) -> None:
    whole = json.loads(record.read_text("utf-8"))
    known = places(whole)
    old = record_in(record)

    @settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))
    @given(st.lists(st.tuples(st.sampled_from(known), st.sampled_from(NASTY)), min_size=1, max_size=3))
    def changed(changes: list[tuple[tuple[Any, ...], Any]]) -> None:
        data = copy.deepcopy(whole)
        for path, value in changes:
            holder = data
            try:
                for step in path[:-1]:
                    holder = holder[step]
                holder[path[-1]] = copy.deepcopy(value)
            except (TypeError, KeyError, IndexError):
                continue
        file = tmp_path / "changed.json"
        file.write_text(json.dumps(data), encoding="utf-8")
        try:
            made = compare(old, record_in(file))
        except PlannerError as error:
            assert str(error).strip()
            return
        text = comparison_text(made, ("old", "new"))
        assert all(line.isprintable() for line in text.split("\n"))
        assert json.loads(json_text(comparison_record(made, ("old", "new"))))

    changed()


@pytest.mark.parametrize(
    "text",
    [
        "[" * 1_000_000,
        '{"format":' * 100_000,
        '{"format": "ceiling-plan/1", "room": ' + "[" * 100_000,
        "9" * 10_000,
        '{"format": NaN}',
        '{"format": "ceiling-plan/1"}',
        '{"format": ["ceiling-plan/1"]}',
        '{"format": "a\\u001b[2J\\u202e"}',
        "\ud800",
        "",
        "null",
    ],
    ids=range(11),
)
def test_what_is_no_record_is_refused(record: Path, tmp_path: Path, text: str) -> None:
    file = tmp_path / "plan.json"
    file.write_bytes(text.encode("utf-8", "surrogatepass"))
    result = run("compare", record, file)
    assert result.exit_code == 2
    assert all(line.isprintable() for line in result.output.split("\n"))
    assert len(result.output) < 5000


# --- remembered printers ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text",
    [
        "[" * 100_000,
        "9" * 10_000,
        '{"format": "printers/1", "printers": {"a": {"short_side": 1' + "0" * 400 + ', "long_side": 1}}}',
        '{"format": "printers/1", "printers": {"a": {"short_side": NaN, "long_side": 1}}}',
        '{"format": "printers/1", "printers": {"a": {"short_side": 1e999, "long_side": 1}}}',
        '{"format": "printers/1", "printers": {"a": {"short_side": 0.5, "long_side": 1}}}',
        '{"format": "printers/1", "printers": [1]}',
        '{"format": "printers/1", "printers": {"a": 3}}',
        '{"format": "printers/1", "printers": {"a": {"short_side": [], "long_side": {}}}}',
        '{"format": {"a": 1}}',
        "null",
        "\x00",
    ],
    ids=range(12),
)
def test_a_settings_file_that_somebody_wrote_into_is_refused(tmp_path: Path, text: str) -> None:
    (tmp_path / "printers.json").write_text(text)
    with pytest.raises(PlannerError, match="remembered printers cannot be read"):
        remembered(tmp_path / "printers.json")
