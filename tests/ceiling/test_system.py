"""Grid systems as files: the built-in ones, a user's own, and files that cannot be used."""

from pathlib import Path

import pytest

from planner.ceiling import system as system_module
from planner.ceiling.system import load_system, system_names
from planner.errors import InputError, PlannerError

INCH = 25.4
BUILT_IN = Path(system_module.__file__).with_name("systems")


def own_file(folder: Path, *changes: tuple[str, str], name: str = "lay-in-metric") -> str:
    """A copy of a built-in file with some texts changed; its path as a user writes it."""
    text = (BUILT_IN / f"{name}.yaml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, f"{old!r} is not in the built-in file"
        text = text.replace(old, new, 1)
    (folder / "my-grid.yaml").write_text(text, encoding="utf-8")
    return "my-grid.yaml"


def test_there_is_one_in_inches_and_one_in_millimetres() -> None:
    assert system_names() == ("direct-imperial", "direct-metric", "lay-in-imperial", "lay-in-metric")


def test_stock_lengths_in_inches() -> None:
    """NAVEDTRA 14044 p. 5-16: wall angle 12 ft, main tee 12 ft, cross tees 2 ft and 4 ft."""
    system = load_system("lay-in-imperial")
    assert system.imperial
    assert system.main.length == pytest.approx(144 * INCH)
    assert [(tee.item, tee.length) for tee in system.cross_tees] == [
        ("cross tee 2 ft", pytest.approx(24 * INCH)),
        ("cross tee 4 ft", pytest.approx(48 * INCH)),
    ]
    assert system.wall_angle.length == pytest.approx(144 * INCH)
    assert (system.main.spacing, system.main.slot_pitch) == (pytest.approx(48 * INCH), pytest.approx(6 * INCH))


def test_bearing_of_a_panel_on_the_tees() -> None:
    """CV-23: a 23.75 in panel on 15/16 in faces bears 0.34375 in each side: (15/16 - 1/4) / 2. CV-25: 9.5 mm."""
    imperial, metric = load_system("lay-in-imperial"), load_system("lay-in-metric")
    assert (imperial.tee_face - imperial.panel_undersize) / 2 == pytest.approx(0.34375 * INCH)
    assert (metric.tee_face - metric.panel_undersize) / 2 == pytest.approx(9.5)


@pytest.mark.parametrize("name", system_names())
def test_every_number_of_a_built_in_system_names_its_source(name: str) -> None:
    """As many sources as there are values and sizes in the file."""
    system = load_system(name)
    text = (BUILT_IN / f"{name}.yaml").read_text(encoding="utf-8")
    assert len(system.sources) == text.count("{value:") + text.count("{size:")
    assert all(where for _, where in system.sources)
    assert any("from memory" in where for _, where in system.sources)


@pytest.mark.parametrize("name", system_names())
def test_every_module_can_be_framed_both_ways_round(name: str) -> None:
    """Square: mains on every second line. Oblong: on every line, whichever side lies along the mains."""
    system = load_system(name)
    if system.fixing == "direct":
        assert [system.main_step(*module) for module in system.modules] == [1]  # a carrier on every line
        return
    short, long = system.modules[1]
    assert system.main_step(short, short) == 2
    assert system.main_step(short, long) == 1
    assert system.main_step(long, short) == 1


def test_a_file_of_ones_own_is_found_beside_the_room_file(tmp_path: Path) -> None:
    path = own_file(
        tmp_path, ("title: Lay-in grid, metric, 24 mm face", "title: Narrow"), ("value: 24, ", "value: 15, ")
    )
    system = load_system(path, tmp_path)
    assert (system.name, system.title, system.tee_face) == ("my-grid", "Narrow", 15)


def test_lengths_of_ones_own_file_may_be_written_with_their_units(tmp_path: Path) -> None:
    path = own_file(tmp_path, ("value: 3600, source", "value: 3.6 m, source"), ("value: 3000", "value: 10 ft"))
    system = load_system(path, tmp_path)
    assert (system.main.length, system.wall_angle.length) == (3600, pytest.approx(120 * INCH))


def test_a_weight_is_carried_along(tmp_path: Path) -> None:
    path = own_file(
        tmp_path, ("  item: main tee\n", "  item: main tee\n  kg_per_m: {value: 0.37, source: the scales}\n")
    )
    system = load_system(path, tmp_path)
    assert system.main.kg_per_m == 0.37
    assert ("main tee, weight", "the scales") in system.sources


def test_an_unknown_name_gets_the_nearest_and_all_names() -> None:
    with pytest.raises(PlannerError) as caught:
        load_system("lay-in-meter")
    assert "Did you mean lay-in-metric?" in str(caught.value)
    assert "lay-in-imperial" in str(caught.value)


def test_a_file_that_is_not_there_is_said_to_be_missing(tmp_path: Path) -> None:
    with pytest.raises(PlannerError, match=r"there is no file .*my-grid.yaml"):
        load_system("my-grid.yaml", tmp_path)


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("value: 150, ", "value: 130, ", "do not divide a module of 600"),
        ("value: 3600, ", "value: 3650, ", "do not divide the stock length of 3650"),
        ("value: 75, ", "value: 150, ", "not within one pitch"),
        ("[600, 1200]", "[500, 1000]", "no cross tees frame a module of 500 x 1000"),
        (
            "item: cross tee 1200, length: {value: 1200,",
            "item: cross tee 1200, length: {value: 1300,",
            "no cross tee spans",
        ),
        ("value: 5, ", "value: 310, ", "too much for a module of 600"),
        ("item: cross tee 600,", "item: cross tee 1200,", 'the item "cross tee 1200" is named twice'),
        ("item: wall angle", "item: panel", 'the item "panel" is named twice'),
        ("value: 1200, source: ASTM", "value: long, source: ASTM", "not a length"),
        ("value: 24, ", "value: 0, ", "no length to build with"),
        ("fixing: hung", "fixing: glued", "hung"),
        ("tee_face: {value: 24, ", "tee_fase: {value: 24, ", 'unknown key "tee_fase"'),
        ("units: mm", "units: furlongs", "furlongs"),
        ("value: 5, source: ", "value: 5, sauce: ", '"source" is missing'),
    ],
)
def test_a_file_that_does_not_go_together_is_refused(tmp_path: Path, old: str, new: str, message: str) -> None:
    """Each with the place in the file; the numbers are those of the metric file, one of them changed."""
    path = own_file(tmp_path, (old, new))
    with pytest.raises(InputError) as caught:
        load_system(path, tmp_path)
    assert message in str(caught.value)
    assert any(complaint.line for complaint in caught.value.complaints)


def test_a_missing_part_is_named(tmp_path: Path) -> None:
    path = own_file(tmp_path)
    text = (tmp_path / path).read_text(encoding="utf-8")
    start = text.index("wall_angle:")
    (tmp_path / path).write_text(text[:start] + text[text.index("notes:") :], encoding="utf-8")
    with pytest.raises(InputError, match='"wall_angle" is missing'):
        load_system(path, tmp_path)


def test_all_that_is_wrong_is_said_at_once(tmp_path: Path) -> None:
    path = own_file(tmp_path, ("value: 75, ", "value: 150, "), ("value: 3600, ", "value: 3650, "))
    with pytest.raises(InputError) as caught:
        load_system(path, tmp_path)
    assert len(caught.value.complaints) == 2


@pytest.mark.parametrize("text", ["", "- 1\n- 2\n", "title: [", "just words"])
def test_what_is_no_system_file_is_refused(tmp_path: Path, text: str) -> None:
    (tmp_path / "odd.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(InputError):
        load_system("odd.yaml", tmp_path)
