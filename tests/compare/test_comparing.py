"""What changed between two plans: given this change in the room file, that is told, and nothing else."""

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.cli import main
from planner.compare import Comparison, PlanRecord, compare, record_in
from planner.compare.telling import comparison_record, comparison_text
from planner.errors import InputError

FIXTURES = Path(__file__).parents[2] / "fixtures"
KILN = FIXTURES / "kiln-room.yaml"
INCH = 25.4


@cache
def record(room: str) -> PlanRecord:
    return record_in(FIXTURES / f"{room}.yaml")


def changed(tmp_path: Path, old: str, new: str) -> Comparison:
    """The kiln room against itself with one text changed."""
    text = KILN.read_text("utf-8")
    assert text.count(old) == 1
    other = tmp_path / "changed.yaml"
    other.write_text(text.replace(old, new), "utf-8")
    return compare(record("kiln-room"), record_in(other))


def told(made: Comparison, group: str) -> dict[str, tuple[Any, Any]]:
    return {change.what: (change.old, change.new) for change in made.changes if change.group == group}


def groups(made: Comparison) -> set[str]:
    return {change.group for change in made.changes}


def written(tmp_path: Path) -> Path:
    """The kiln room's plan.json, as `planner plan` writes it."""
    done = CliRunner().invoke(main, ["plan", str(KILN), "--out", str(tmp_path / "out"), "--sheets", "ceiling-plan"])
    assert done.exit_code == 0, done.output
    return tmp_path / "out" / "plan.json"


def test_a_price_changes_cost_and_nothing_else(tmp_path: Path) -> None:
    """48 panels at 6.40 are 307.20, at 7.00 they are 336.00; in all 28.80 more."""
    made = changed(tmp_path, "panel: 6.40", "panel: 7.00")
    assert groups(made) == {"order", "cost"}
    assert told(made, "order") == {"panel: cost": (307.2, 336.0)}
    old, new = told(made, "cost")["total"]
    assert round(new - old, 2) == 28.8


def test_a_wider_room_has_other_borders(tmp_path: Path) -> None:
    """14' 0" is seven whole modules: whole panels left and right, where they were 21-1/2"."""
    made = changed(tmp_path, "13' 7\"", "14' 0\"")
    layout = told(made, "layout")
    assert layout["border B-C"] == (pytest.approx(21.5 * INCH), pytest.approx(24 * INCH))
    assert layout["whole modules"] == (20, 28)
    assert layout["cut panels"] == (22, 14)
    assert "border A-B" not in layout
    assert told(made, "room")["corner B"][1] == (pytest.approx(14 * 304.8), 0.0)


def test_panels_are_told_by_size(tmp_path: Path) -> None:
    """The four corner panels, 21-1/4" x 13-3/4", are gone; of the ones along A-B and C-D there are 14, not 10."""
    made = changed(tmp_path, "13' 7\"", "14' 0\"")
    panels = told(made, "panels")
    assert panels["539.8 x 349.2"] == (4, 0)
    assert panels["603.2 x 349.2"] == (10, 14)


def test_a_service_that_moves_is_told(tmp_path: Path) -> None:
    """From the module between 1' 9-1/2" and 3' 9-1/2" to the next: its middle at 2' 9-1/2", then 4' 9-1/2".

    Joists are at 9", 25", 41", 57": its wire, tied at the edge of its 6", was 4-1/2" aside of one, 1' 10-1/2" long; in
    the middle of the edge it is 1/2" aside now, 1' 9" long: 38.1 mm less, from 28 ft in all to 27.
    """
    made = changed(tmp_path, "near: [2' 10\", 1' 6\"]", "near: [4' 10\", 1' 6\"]")
    assert groups(made) == {"services", "hangers", "order"}
    old, new = told(made, "hangers")["wire in all"]
    assert old - new == pytest.approx(38.1)
    assert told(made, "order")["hanger wire: net"] == (28, 27)
    ((old, new),) = told(made, "services").values()
    assert (old[0], new[0]) == (pytest.approx(33.5 * INCH), pytest.approx(57.5 * INCH))


def test_a_finding_that_comes_is_told(tmp_path: Path) -> None:
    made = changed(tmp_path, "panel_weight: 1.0 psf", "panel_weight: 3.5 psf")
    (new,) = (change for change in made.changes if change.group == "findings")
    assert new.old is None and new.what == "duty of the main tees"


@pytest.mark.parametrize("room", sorted(path.stem for path in FIXTURES.glob("*.yaml")))
def test_a_plan_against_itself_has_not_changed(room: str) -> None:
    made = compare(record(room), record(room))
    assert made.same
    assert comparison_text(made, ("a", "b")) == "a and b: nothing changed."


def test_there_and_back_is_the_same_the_other_way_round() -> None:
    there, back = (compare(record(a), record(b)) for a, b in (("clinic", "studio-l"), ("studio-l", "clinic")))
    forward = {(c.group, c.what): (c.old, c.new) for c in there.changes if c.group not in ("hangers", "findings")}
    reverse = {(c.group, c.what): (c.new, c.old) for c in back.changes if c.group not in ("hangers", "findings")}
    assert forward == reverse


def test_every_pair_of_rooms_can_be_told() -> None:
    """As text without traps, and as JSON."""
    rooms = ["kiln-room", "clinic", "den-wrong-way", "foyer-diagonal"]
    for old in rooms:
        for new in rooms:
            made = compare(record(old), record(new))
            assert comparison_text(made, (old, new)).isprintable() is False or made.same
            shown = json.loads(json.dumps(comparison_record(made, (old, new)), allow_nan=False))
            assert shown["same"] is (old == new) and len(shown["changes"]) == len(made.changes)


def test_a_record_and_its_room_file_are_the_same(tmp_path: Path) -> None:
    """Through the command: 0 when nothing changed, 1 when something did."""
    record_file = written(tmp_path)
    same = CliRunner().invoke(main, ["compare", str(record_file), str(KILN)])
    assert same.exit_code == 0 and same.output.endswith("nothing changed.\n")
    differs = CliRunner().invoke(main, ["compare", str(record_file), str(FIXTURES / "clinic.yaml"), "--json"])
    assert differs.exit_code == 1
    assert json.loads(differs.output)["same"] is False


def test_a_record_of_an_earlier_version_is_read(tmp_path: Path) -> None:
    """Without the keys that came later: the bill, what is for the owner, the units."""
    record_file = written(tmp_path)
    data = json.loads(record_file.read_text("utf-8"))
    del data["bill"], data["room"]["units"]
    for line in data["takeoff"]:
        del line["for_owner"], line["on_hand"]
    record_file.write_text(json.dumps(data), "utf-8")
    assert record_in(record_file).layout == record("kiln-room").layout


@pytest.mark.parametrize(
    ("content", "why"),
    [
        ("{", "it is not JSON"),
        ("[1, 2]", 'it has no "format"'),
        ('{"format": "ceiling-building/1"}', "Compare the plan.json of each of its rooms."),
        ('{"format": "ceiling-plan/1", "room": 3}', "room: "),
        ("[" * 100_000, "it is not JSON"),
    ],
)
def test_what_is_no_plan_is_refused(tmp_path: Path, content: str, why: str) -> None:
    file = tmp_path / "other.json"
    file.write_text(content, "utf-8")
    done = CliRunner().invoke(main, ["compare", str(file), str(KILN)])
    assert done.exit_code == 2
    assert why in done.output and "Traceback" not in done.output


def test_a_missing_file_and_a_building_are_refused(tmp_path: Path) -> None:
    for file in (tmp_path / "none.json", tmp_path / "none.yaml", FIXTURES / "building" / "building.yaml"):
        done = CliRunner().invoke(main, ["compare", str(file), str(KILN)])
        assert done.exit_code == 2 and str(file) in done.output


_JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=5,
)


@given(st.data())
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60)
def test_a_spoilt_record_is_compared_or_refused(tmp_path: Path, data: st.DataObject) -> None:
    """Any one value of a record replaced by anything: never a traceback."""
    spoilt = json.loads(record("kiln-room").model_dump_json()) | {"format": "ceiling-plan/1"}
    spot: Any = spoilt
    while True:
        key = data.draw(st.sampled_from(sorted(spot) if isinstance(spot, dict) else range(len(spot))))
        if not isinstance(spot[key], dict | list) or not spot[key] or data.draw(st.booleans()):
            break
        spot = spot[key]
    spot[key] = data.draw(_JSON)
    file = tmp_path / "spoilt.json"
    file.write_text(json.dumps(spoilt), "utf-8")
    try:
        made = compare(record_in(file), record("kiln-room"))
    except InputError as refused:
        assert refused.complaints
        return
    assert comparison_text(made, ("spoilt", "kiln"))
    json.dumps(comparison_record(made, ("spoilt", "kiln")), allow_nan=False)
