"""Written files opened by programs of other trades: LibreCAD, FreeCAD, poppler, qpdf, xmllint, Chromium.

The tests are skipped where a program is missing, unless PROGRAMS=required says that all of them must be there.
"""

import os
import re
import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from render.rendered import ROOM, ink, picture_of_pdf, sheet_of

from planner.drawing.roles import Role
from planner.drawing.shapes import Line, Sheet
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.planning import plan
from planner.render.dxf import write_dxf
from planner.render.pdf import write_pdf
from planner.render.svg import write_svg
from planner.room.reader import read_room

STYLE = load_style("iso-13567")
METRE = Line(Role.MAIN_TEE, (1000.0, 2500.0), (2000.0, 2500.0))
FIXTURES = Path(__file__).parents[2] / "fixtures"
FREECAD = "/usr/lib/freecad/bin/freecadcmd-python3"  # where Debian puts it


def program(name: str) -> str:
    found = shutil.which(name)
    if found is None:
        missing = f"{name} is not on this machine"
        pytest.fail(missing) if os.environ.get("PROGRAMS") == "required" else pytest.skip(missing)
    return found


def run(*command: str | Path, folder: Path, codes: tuple[int, ...] = (0,)) -> str:
    offscreen = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "XDG_RUNTIME_DIR": str(folder), "HOME": str(folder)}
    done = subprocess.run(command, cwd=folder, env=offscreen, capture_output=True, text=True, timeout=120)
    assert done.returncode in codes, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def sheets() -> tuple[Sheet, ...]:
    return draw(plan(read_room(FIXTURES / "kiln-room.yaml")), STYLE, SheetWish())


def test_librecad_plots_a_room_of_8_by_5_m_at_1_to_50_as_160_by_100_mm(tmp_path: Path) -> None:
    librecad = program("librecad")
    (tmp_path / "room.dxf").write_bytes(write_dxf((sheet_of(ROOM),), STYLE))
    run(librecad, "dxf2pdf", "-m", "-c", "-p", "420x297", "-s", "0.02", "room.dxf", folder=tmp_path)
    plotted = (tmp_path / "room.pdf").read_bytes()
    box = ink(picture_of_pdf(plotted), 0.0, 0.0, 420.0, 297.0)
    assert box is not None
    assert (box.width, box.height) == (pytest.approx(160.5, abs=0.4), pytest.approx(100.5, abs=0.4))


_BOUNDS = """
import FreeCAD, Import
document = FreeCAD.newDocument("room")
Import.readDXF("room.dxf", "room", False, "User parameter:BaseApp/Preferences/Mod/Draft")
document.recompute()
shapes = [thing.Shape for thing in document.Objects if hasattr(thing, "Shape") and not thing.Shape.isNull()]
box = shapes[0].BoundBox
for shape in shapes[1:]:
    box = box.united(shape.BoundBox)
print("BOX", box.XLength, box.YLength)
"""


@pytest.mark.parametrize("unit", ["mm", "in", "m"])
def test_freecad_finds_8000_by_5000_mm_whatever_unit_the_file_is_in(unit: str, tmp_path: Path) -> None:
    """FreeCAD goes by $INSUNITS, so the number of the unit and the coordinates must agree."""
    freecad = program(FREECAD)
    (tmp_path / "room.dxf").write_bytes(write_dxf((sheet_of(ROOM, unit=unit),), STYLE))
    (tmp_path / "bounds.py").write_text(_BOUNDS)
    said = run(freecad, "bounds.py", folder=tmp_path)
    match = re.search(r"BOX ([\d.]+) ([\d.]+)", said)
    assert match is not None, said
    assert (float(match[1]), float(match[2])) == (pytest.approx(8000.0, abs=0.1), pytest.approx(5000.0, abs=0.1))


def test_qpdf_finds_nothing_wrong_with_the_set(sheets: tuple[Sheet, ...], tmp_path: Path) -> None:
    qpdf = program("qpdf")
    (tmp_path / "set.pdf").write_bytes(write_pdf(sheets, STYLE, "Kiln room"))
    assert "No syntax or stream encoding errors" in run(qpdf, "--check", "set.pdf", folder=tmp_path)


def test_poppler_sees_pages_as_large_as_their_paper_and_every_font_embedded(
    sheets: tuple[Sheet, ...], tmp_path: Path
) -> None:
    pdfinfo, pdffonts = program("pdfinfo"), program("pdffonts")
    (tmp_path / "set.pdf").write_bytes(write_pdf(sheets, STYLE, "Kiln room"))
    said = run(pdfinfo, "-f", "1", "-l", "99", "set.pdf", folder=tmp_path)
    sizes = re.findall(r"Page +\d+ size: +([\d.]+) x ([\d.]+)", said)
    assert len(sizes) == len(sheets)
    for (width, height), sheet in zip(sizes, sheets, strict=True):
        found = (float(width) * 25.4 / 72, float(height) * 25.4 / 72)
        assert found == (pytest.approx(sheet.paper.width, abs=0.01), pytest.approx(sheet.paper.height, abs=0.01))
    fonts = run(pdffonts, "set.pdf", folder=tmp_path).splitlines()[2:]
    assert fonts and all(line.split()[-5] == "yes" for line in fonts), fonts


def test_xmllint_reads_every_sheet_and_finds_no_script(sheets: tuple[Sheet, ...], tmp_path: Path) -> None:
    xmllint = program("xmllint")
    for sheet in sheets:
        (tmp_path / "sheet.svg").write_bytes(write_svg(sheet, STYLE))
        run(xmllint, "--noout", "sheet.svg", folder=tmp_path)
        count = "count(//*[local-name()='script' or starts-with(local-name(@*), 'on')])"
        assert run(xmllint, "--xpath", count, "sheet.svg", folder=tmp_path).strip() == "0"


def test_chromium_shows_a_metre_at_1_to_50_as_20_mm(tmp_path: Path) -> None:
    """CSS: a millimetre is 96 / 25.4 pixels (CSS Values and Units Level 3, section 6.2)."""
    chromium = program("chromium")
    (tmp_path / "sheet.svg").write_bytes(write_svg(sheet_of(METRE), STYLE))
    quiet = ("--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--disable-dev-shm-usage")
    sharp = ("--force-device-scale-factor=2", "--window-size=1588,1123", "--screenshot=shot.png")
    run(chromium, *quiet, *sharp, (tmp_path / "sheet.svg").as_uri(), folder=tmp_path)
    picture = np.asarray(Image.open(tmp_path / "shot.png").convert("L"))
    _, columns = np.nonzero(picture[:, : picture.shape[1]] < 128)
    per_mm = 2 * 96 / 25.4
    assert (columns.max() - columns.min() + 1) / per_mm == pytest.approx(20.0, abs=0.2)
