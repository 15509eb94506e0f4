"""Slips at the command line that used to be taken without a word, and messages that used to mislead."""

import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from planner.cli import main
from planner.errors import OutputError
from planner.export import write_folder

FIXTURES = Path(__file__).parents[2] / "fixtures"
KILN = FIXTURES / "kiln-room.yaml"


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words], catch_exceptions=False)


def told(*words: str | Path) -> str:
    result = run(*words)
    assert result.exit_code == 2, result.output
    return " ".join(result.output.split())


@pytest.fixture
def den(tmp_path: Path) -> Path:
    file = tmp_path / "den.yaml"
    file.write_text("units: mm\nroom: {rectangle: [2450, 1830]}\n")
    return file


# --- an option takes no other option for its value ----------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "lacking"),
    [
        (("start", "--rectangle", "5'", "--out", "q.yaml"), "--rectangle wants 2 values, and --out follows"),
        (("start", "--module", "2x2", "--out", "q.yaml"), "--module wants 2 values, and --out follows"),
        (("start", "--light", "troffer", "--out", "q.yaml"), "--light wants 3 values, and --out follows"),
        (("plan", "q.yaml", "--out", "--page"), "--out wants a value, and --page follows"),
    ],
)
def test_an_option_that_lacks_a_value_does_not_take_the_next_one(words: tuple[str, ...], lacking: str) -> None:
    assert lacking in told(*words)


def test_a_value_that_looks_like_an_option_can_be_given_with_an_equals_sign(tmp_path: Path) -> None:
    out = tmp_path / "q.yaml"
    assert run("start", "--rectangle", "5m", "4m", "--name=--page", "--out", out).exit_code == 0
    assert 'job: "--page"' in out.read_text()


# --- where files go -----------------------------------------------------------------------------------------------


def test_a_folder_with_other_things_is_left_alone(den: Path, tmp_path: Path) -> None:
    """What lies there is named, and a folder that would do."""
    (tmp_path / "photos").mkdir()
    for name in ("one.jpg", "two.jpg", "three.jpg", "four.jpg"):
        (tmp_path / "photos" / name).write_text("")
    said = told("plan", den, "--out", tmp_path / "photos")
    assert "other things are here already: four.jpg, one.jpg, three.jpg and 1 more" in said
    assert f"--out {tmp_path / 'photos' / 'den-plan'}" in said
    assert len(list((tmp_path / "photos").iterdir())) == 4
    assert "other things are here already" in told("plan", den, "--out", "/")


def test_a_set_of_ours_is_written_over_even_where_its_list_is_gone(den: Path, tmp_path: Path) -> None:
    out = tmp_path / "den-plan"
    assert run("plan", den, "--out", out).exit_code == 0
    (out / "my-notes.txt").write_text("mine")
    assert run("plan", den, "--out", out).exit_code == 0
    (out / "checksums.sha256").unlink()
    assert run("plan", den, "--out", out).exit_code == 0
    assert (out / "my-notes.txt").read_text() == "mine"


def test_what_a_killed_first_run_left_is_no_other_thing(den: Path, tmp_path: Path) -> None:
    out = tmp_path / "den-plan"
    out.mkdir()
    (out / "ceiling.dxf").write_text("")
    (out / ".checksums.sha256.4711.part").write_text("")
    assert run("plan", den, "--out", out).exit_code == 0


def test_a_single_file_makes_no_folder(den: Path, tmp_path: Path) -> None:
    for words in (("options", den, "--sheet"), ("template", den, "--out")):
        assert "there is no folder" in told(*words, tmp_path / "typo" / "x.pdf")
    assert not (tmp_path / "typo").exists()


@pytest.mark.skipif(sys.platform == "win32", reason="names may be longer there")
def test_a_file_that_cannot_be_written_is_called_by_its_own_name(tmp_path: Path) -> None:
    """Names have 255 bytes at most on Linux: 250, with what is put round them while the file is written, are too many.

    Space has nothing to do with that.
    """
    name = "x" * 246 + ".pdf"
    with pytest.raises(OutputError) as caught:
        write_folder(tmp_path, {name: b""}, "--out")
    assert str(caught.value).startswith(str(tmp_path / name)) and "space" not in str(caught.value)


# --- what was asked for -------------------------------------------------------------------------------------------


def test_no_sheet_is_not_every_sheet(den: Path) -> None:
    assert "no sheet is named" in told("plan", den, "--sheets", "")


def test_a_list_is_printed_one_way(den: Path) -> None:
    assert "--csv and --json" in told("takeoff", den, "--csv", "--json")


def test_a_list_or_a_drawing_is_no_room_file(tmp_path: Path) -> None:
    (tmp_path / "takeoff.csv").write_text('item,note\npanel,"a: b: c"\n')
    (tmp_path / "floor.dxf").write_text("0\nEOF\n")
    assert "this is a list for a spreadsheet, and no room file" in told("compare", tmp_path / "takeoff.csv", KILN)
    assert "room: {dxf: {file: floor.dxf}}" in told("plan", tmp_path / "floor.dxf")


def test_a_panel_that_is_not_there_is_answered_with_the_classes_there_are() -> None:
    assert "Classes here: a, b, " in told("template", FIXTURES / "gallery-bowed.yaml", "zz9")


def test_a_spreadsheet_without_its_library_is_helped_by_this_checkout(
    den: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "openpyxl", None)  # as if it were not installed
    said = told("takeoff", den, "--xlsx", tmp_path / "o.xlsx")
    assert "pip install '.[xlsx]'" in said and "ceiling-planner" not in said


# --- in the room file ---------------------------------------------------------------------------------------------


def test_a_panel_cannot_be_centred_outside_the_room(den: Path) -> None:
    den.write_text("units: ft-in\nroom: {rectangle: [20', 15']}\ngrid: {borders: {centre_on: [90', 2']}}\n")
    assert "den.yaml:3:29 grid › borders › centre_on: this point is outside the room." in told("check", den)
    den.write_text("units: ft-in\nroom: {rectangle: [20', 15']}\ngrid: {borders: {centre_on: [9', 2']}}\n")
    assert run("check", den).exit_code == 0


def test_check_knows_that_there_are_no_words_in_a_language(den: Path) -> None:
    den.write_text(den.read_text() + "project: {language: xx}\n")
    assert 'den.yaml:3:21 project › language: there are no words in "xx".' in told("check", den)
    den.write_text(den.read_text().replace("xx", "XX"))
    assert "Such as language: es" in told("check", den)


def test_a_building_knows_it_too(tmp_path: Path, den: Path) -> None:
    den.write_text(den.read_text() + "project: {language: xx}\n")
    (tmp_path / "house.yaml").write_text("rooms: [den.yaml]\n")
    assert 'den.yaml:3:21 project › language: there are no words in "xx".' in told("check", tmp_path / "house.yaml")


# --- in a style file ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "place", "mend"),
    [
        ("paper: A9", ':3:8 paper: "A9" is no paper', 'Did you mean "A4"?'),
        ("layers: {A-CLNG-TEES: {colour: purpleish}}", ':3:32 layers › A-CLNG-TEES › colour: "purpleish"', "#1f5fa8"),
        ("layers: {A-CLNG-TEEZ: {pen: 0.35}}", ":3:23 layers › A-CLNG-TEEZ:", 'Did you mean "A-CLNG-TEES"?'),
    ],
)
def test_a_style_file_is_answered_in_plain_words(tmp_path: Path, line: str, place: str, mend: str) -> None:
    file = tmp_path / "office.yaml"
    file.write_text(f"title: Office\nextends: us-ncs\n{line}\n")
    said = told("styles", "show", file)
    assert place in said and mend in said and "pattern" not in said


# --- said to CAD, and why -----------------------------------------------------------------------------------------


def test_the_weight_of_a_service_is_in_the_units_of_the_job(tmp_path: Path) -> None:
    """22 lb is 9.979 kg; an architect in feet and inches reads pounds."""
    file = tmp_path / "den.yaml"
    light = "services: [{kind: troffer, name: L1, size: [24\", 24\"], near: [5', 5'], weight: 22 lb}]"
    file.write_text(f"units: ft-in\nroom: {{rectangle: [10', 10']}}\n{light}\n")
    assert run("plan", file, "--out", tmp_path / "out").exit_code == 0
    text = (tmp_path / "out" / "ceiling.dxf").read_text(encoding="utf-8")
    assert "22 lb" in text and "9.97903 kg" not in text


def test_explain_says_why_inch_and_metric_grids_differ_at_the_wall(tmp_path: Path) -> None:
    """48 in after ASTM C636, 450 mm after UK practice; each names the other's rule."""
    inches = " ".join(run("explain", KILN, "HW1").output.split())
    assert "From a wall to the first hanger it may be 4'-0\"" in inches
    assert "450 mm (17-3/4 in) is UK practice" in inches
    file = tmp_path / "office.yaml"
    file.write_text("units: mm\nroom: {rectangle: [4000, 3000]}\nceiling_height: 2400\n")
    metric = " ".join(run("explain", file, "HW1").output.split())
    assert "From a wall to the first hanger it may be 450 mm" in metric and "ASTM C636" in metric
