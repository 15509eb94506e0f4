"""`planner template`: what is asked for on the command line, what is written, what is refused; printers remembered."""

import json
import xml.etree.ElementTree as ET
from pathlib import Path

import pypdfium2
import pytest
from click.testing import CliRunner, Result

from planner.cli import main
from planner.errors import PlannerError
from planner.printers import TRUE, corrected, remembered, settings_file, settings_text

FIXTURES = Path(__file__).parents[2] / "fixtures"
GALLERY = str(FIXTURES / "gallery-bowed.yaml")


def planner(*words: str, settings: Path | None = None) -> Result:
    return CliRunner().invoke(main, words, env={"XDG_CONFIG_HOME": str(settings)} if settings else None)


def template(folder: Path, *words: str) -> tuple[Result, Path]:
    out = folder / "out.pdf"
    return planner("template", GALLERY, *words, "--out", str(out), settings=folder / "settings"), out


def test_a_template_is_written(tmp_path: Path) -> None:
    done, out = template(tmp_path, "q1")
    assert done.exit_code == 0 and "template q1: 3 pages, for q1" in done.output
    assert len(pypdfium2.PdfDocument(out.read_bytes())) == 4  # its key too


def test_what_was_written_as_json(tmp_path: Path) -> None:
    done, out = template(tmp_path, "q1", "d1", "--strip", "--json")
    told = json.loads(done.output)
    assert told["files"] == [str(out)]
    assert [each["name"] for each in told["templates"]] == ["d1", "q1"]
    assert all(0 < each["pages"] <= each["all_pages"] for each in told["templates"])


def test_a_border_strip_and_a_story_pole(tmp_path: Path) -> None:
    done, _ = template(tmp_path, "--wall", "c-d", "--story-pole", "C-B", "--paper", "a3")
    assert done.exit_code == 0
    assert "border C-D" in done.output and "story pole B-C" in done.output and "template" not in done.output


def test_a_machine_gets_cut_score_and_mark_on_layers_of_their_own(tmp_path: Path) -> None:
    done, out = template(tmp_path, "j1", "--svg")
    drawn = ET.parse(out.with_name("out-j1.svg")).getroot()
    names = {"svg": "http://www.w3.org/2000/svg"}
    layers = {group.get("id"): group for group in drawn.findall("svg:g", names)}
    assert set(layers) == {"cut", "score", "mark"}
    assert (drawn.get("width"), drawn.get("height")) == ("605mm", "605mm")  # 595 and a rim of 5
    (path,) = layers["cut"].findall("svg:path", names)
    assert (path.get("d") or "").endswith("Z") and (path.get("d") or "").count("A112.5,112.5") == 1
    assert done.output.rstrip().endswith("out-j1.svg")


@pytest.mark.parametrize(
    "words, told, mend",
    [
        (["zz7"], 'no cut panel "zz7" in "Print gallery"', "Nearest: z1"),
        (["d1", "--paper", "90x120"], "too little for a template", "at least 145"),
        (["d1", "--paper", "b17"], '"b17" is no paper', "Papers:"),
        (["--wall", "X-Y"], 'no wall "X-Y"', "Walls: A-B, B-C, C-D, D-A"),
        (["--story-pole", "A"], 'no wall "A"', "Walls:"),
        (["d1", "--bar-measured", "long"], "two lengths are wanted", "99.4x99.7"),
        (["d1", "--bar-measured", "99.4xlong"], '"long" is no length', "99.4x99.7"),
        (["d1", "--bar-measured", "94.1x94.1"], "94.1 % of its length", "100 %"),
        (["d1", "--printer", "office"], 'nothing is remembered of a printer "office"', "--bar-measured"),
        (["d1", "--printer", " \t"], "needs a name", "office"),
    ],
)
def test_what_cannot_be_is_refused(tmp_path: Path, words: list[str], told: str, mend: str) -> None:
    done, out = template(tmp_path, *words)
    assert done.exit_code == 2 and told in done.output and mend in done.output
    assert not out.exists()


def test_a_building_has_no_templates_of_its_own(tmp_path: Path) -> None:
    done = planner("template", str(FIXTURES / "building" / "hall.yaml"), "--out", str(tmp_path / "x.pdf"))
    assert done.exit_code == 2 or "template" in done.output
    whole = next(path for path in (FIXTURES / "building").glob("*.yaml") if "rooms:" in path.read_text())
    done = planner("template", str(whole), "--out", str(tmp_path / "x.pdf"))
    assert done.exit_code == 2 and "rooms of a building" in done.output


def test_plan_writes_templates_with_an_index(tmp_path: Path) -> None:
    """Two drilled panels in the kiln room: an index page, and a key with its pages for each; one more file in all."""
    done = planner("plan", str(FIXTURES / "kiln-room.yaml"), "--out", str(tmp_path))
    assert done.exit_code in (0, 1)
    some = len(pypdfium2.PdfDocument((tmp_path / "templates.pdf").read_bytes()))
    done = planner("plan", str(FIXTURES / "kiln-room.yaml"), "--all-templates", "--out", str(tmp_path))
    every = pypdfium2.PdfDocument((tmp_path / "templates.pdf").read_bytes())
    assert len(every) > some > 3
    assert "Templates at full size" in every[0].get_textpage().get_text_bounded()


# --- printers ---------------------------------------------------------------------------------------------------------


def test_a_bar_that_came_out_short_makes_the_next_print_longer() -> None:
    """99.4 of 100: the next is drawn 1 / 0.994 as long; 3.98 of 4 in: 1 / 0.995. Short side first, then long."""
    assert corrected("99.4x99.7") == pytest.approx((1 / 0.994, 1 / 0.997))
    assert corrected("3.98x4in") == pytest.approx((1 / 0.995, 1.0))
    assert corrected('3 63/64" × 4"') == pytest.approx((256 / 255, 1.0))
    assert corrected("9.94cm x 99.7 mm") == pytest.approx((1 / 0.994, 1 / 0.997))


def test_what_is_measured_on_a_corrected_print_corrects_it_further() -> None:
    """Drawn 1 / 0.994 long, a bar comes out true on a printer that makes 0.994; if it is 99.9, 1 / 0.999 on top."""
    first = corrected("99.4x100")
    assert corrected("100x100", first) == first
    assert corrected("99.9x100", first) == pytest.approx((1 / 0.994 / 0.999, 1.0))
    with pytest.raises(PlannerError, match="more than 2 %"):
        corrected("98.2x100", corrected("98.5x100"))


@pytest.mark.parametrize(
    "text", ["", "x", "99.4", "99,4", "nanx99", "infxinf", "0x0", "-99x99", "99.4x99.7x3", "1e2x1e2"]
)
def test_what_is_no_measure_of_two_bars(text: str) -> None:
    with pytest.raises(PlannerError):
        corrected(text)


def test_printers_are_remembered_by_name(tmp_path: Path) -> None:
    words = ("q1", "--printer", "office")
    first, _ = template(tmp_path, *words, "--bar-measured", "99.4x99.7")
    assert first.exit_code == 0
    path = settings_file({"XDG_CONFIG_HOME": str(tmp_path / "settings")}, Path("/nowhere"))
    assert remembered(path) == {"office": pytest.approx((1 / 0.994, 1 / 0.997))}
    again, out = template(tmp_path, *words)
    assert again.exit_code == 0
    assert "Made for office: 100.60 × 100.30 %." in words_of(out)
    assert [entry.name for entry in path.parent.iterdir()] == ["printers.json"]  # nothing half-written is left


def words_of(pdf: Path) -> str:
    return pypdfium2.PdfDocument(pdf.read_bytes())[0].get_textpage().get_text_bounded()


def test_a_settings_file_that_somebody_broke_is_told(tmp_path: Path) -> None:
    path = tmp_path / "printers.json"
    assert remembered(path) == {}
    for text in ("", "{}", '{"format": "printers/1", "printers": {"a": {"short_side": 3, "long_side": 1}}}', "[1]"):
        path.write_text(text)
        with pytest.raises(PlannerError, match="cannot be read") as refused:
            remembered(path)
        assert "Delete" in refused.value.mend
    path.write_text(settings_text({"é": (1.001, 0.999), "a": TRUE}), encoding="utf-8")
    assert remembered(path) == {"a": TRUE, "é": (1.001, 0.999)}


def test_settings_lie_where_such_files_lie() -> None:
    home = Path("/home/ada")
    assert settings_file({}, home) == Path("/home/ada/.config/ceiling-planner/printers.json")
    assert settings_file({"XDG_CONFIG_HOME": "relative"}, home).is_relative_to(home / ".config")
