"""A drawing that lies in somebody else's: model space in their coordinates and unit, sheets upright all the same.

The drawing's origin lies at (100 m, -20 m) there and is turned by 30°: a point (x, y) of the room comes out at
(100000 + x cos 30° - y sin 30°, -20000 + x sin 30° + y cos 30°) mm, over the millimetres in a unit. Read back by GDAL
and as the bare lines of the file.
"""

import io
import math
from dataclasses import replace
from typing import Any

import ezdxf
import pytest
import shapely
from render.rendered import ROOM, at_paper, entities, header, on_paper, records, rectangle, sheet_of

from planner.drawing.roles import Role
from planner.drawing.shapes import UNITS, Arc, Block, Dimension, Line, Outline, Sheet, Symbol, Text
from planner.drawing.stylebook import load_style
from planner.geometry import Frame, Point
from planner.render.dxf import write_dxf
from planner.render.pdf import write_pdf
from planner.render.svg import write_svg

STYLE = load_style("us-ncs")
TEES = STYLE.layer(Role.MAIN_TEE).name
PLACE = Frame((100_000.0, -20_000.0), 30.0)
METRE = Line(Role.MAIN_TEE, (1000.0, 2500.0), (2000.0, 2500.0))
INSUNITS = {"in": "1", "ft": "2", "mm": "4", "cm": "5", "m": "6"}  #: DXF reference
MM = {"in": 25.4, "ft": 304.8, "mm": 1.0, "cm": 10.0, "m": 1000.0}


def placed(sheet: Sheet, unit: str = "mm", place: Frame = PLACE) -> Sheet:
    """The same sheet with its drawing in somebody else's."""
    (window,) = sheet.windows
    drawing = replace(window.drawing, unit=unit, placement=place)
    return replace(sheet, windows=(replace(window, drawing=drawing),))


def dxf_of(*shapes: Any, unit: str = "mm", place: Frame = PLACE, **more: Any) -> bytes:
    return write_dxf((placed(sheet_of(*shapes, **more), unit, place),), STYLE)


def there(x: float, y: float, unit: str = "mm") -> Point:
    c, s = math.cos(math.radians(30.0)), math.sin(math.radians(30.0))
    return ((100_000 + c * x - s * y) / MM[unit], (-20_000 + s * x + c * y) / MM[unit])


@pytest.mark.parametrize("unit", INSUNITS)
def test_a_line_lies_where_it_lies_in_their_drawing(unit, tmp_path):
    dxf = dxf_of(METRE, unit=unit)
    (line,) = [e["geometry"] for e in entities(dxf, tmp_path) if e["Layer"] == TEES]
    assert line.coords[0][:2] == pytest.approx(there(1000.0, 2500.0, unit), abs=1e-4 / MM[unit] + 2e-6)
    assert line.length == pytest.approx(1000.0 / MM[unit], abs=1e-4 / MM[unit] + 2e-6)
    assert header(dxf)["$INSUNITS"] == INSUNITS[unit]
    assert header(dxf)["$MEASUREMENT"] == ("0" if unit in ("in", "ft") else "1")
    assert not ezdxf.read(io.StringIO(dxf.decode())).audit().errors


@pytest.mark.parametrize("unit", INSUNITS)
@pytest.mark.parametrize("angle", [0.0, 30.0, 90.0, 180.0, 271.5])
def test_the_view_of_a_layout_is_twisted_back_so_that_the_sheet_reads_upright(unit, angle):
    """Model space turned by the twist, less the view's centre, at the view's scale, lies where the paper says.

    The rule is that of the DXF reference (VIEWPORT: 10 centre on paper, 41 its height there, 12 view centre in display
    coordinates, 45 view height, 51 twist), from memory. Paper is in inches or millimetres whatever the model's unit.
    """
    place = Frame((100_000.0, -20_000.0), angle)
    dxf = dxf_of(ROOM, unit=unit, place=place)
    view = list(records(dxf, "VIEWPORT"))[-1]
    scale = float(view["41"]) / float(view["45"])
    twist = Frame(angle_deg=float(view.get("51", "0")))
    paper_mm = 25.4 if unit in ("in", "ft") else 1.0
    for point in ((0.0, 0.0), (8000.0, 0.0), (3000.0, 4500.0)):
        x, y = (c / MM[unit] for c in place.outward(point))
        u, v = twist.outward((x, y))
        on_sheet = (
            float(view["10"]) + (u - float(view["12"])) * scale,
            float(view["20"]) + (v - float(view["22"])) * scale,
        )
        assert [c * paper_mm for c in on_sheet] == pytest.approx(at_paper(*point), abs=1e-6)


def test_a_room_that_lies_straight_needs_no_twist():
    view = list(records(dxf_of(ROOM, place=Frame((500.0, 0.0))), "VIEWPORT"))[-1]
    assert float(view.get("51", "0")) == 0.0


def test_the_view_of_model_space_shows_the_room_where_it_lies():
    """All four corners of the room lie between $EXTMIN and $EXTMAX, and the view is centred on them."""
    dxf = dxf_of(ROOM)
    corners = shapely.MultiPoint([there(*p) for p in rectangle(0.0, 0.0, 8000.0, 5000.0)])
    document = ezdxf.read(io.StringIO(dxf.decode()))
    low, high = document.header["$EXTMIN"], document.header["$EXTMAX"]
    assert (low[0], low[1], high[0], high[1]) == pytest.approx(corners.bounds, abs=1e-6)
    view = next(v for v in records(dxf, "VPORT") if v.get("2") == "*Active")
    middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
    assert (float(view["12"]), float(view["22"])) == pytest.approx(middle, abs=1e-6)


def test_letters_arcs_and_symbols_turn_along():
    block = Block("LIGHT", (Outline(Role.LIGHT, rectangle(-300.0, -300.0, 300.0, 300.0)),))
    shapes = (
        Text(Role.NOTE, (500.0, 500.0), "Note", angle_deg=15.0),
        Arc(Role.DETECTOR, (900.0, 500.0), 50.0, 10.0, 70.0),
        Symbol(Role.LIGHT, "LIGHT", (3000.0, 2500.0), 5.0),
    )
    dxf = dxf_of(*shapes, blocks=(block,))
    text = next(r for r in records(dxf, "TEXT") if r["1"] == "Note")
    assert float(text["50"]) == pytest.approx(45.0)
    (arc,) = records(dxf, "ARC")
    assert (float(arc["50"]), float(arc["51"])) == pytest.approx((40.0, 100.0))
    (insert,) = records(dxf, "INSERT")
    assert float(insert["50"]) == pytest.approx(35.0)
    assert (float(insert["10"]), float(insert["20"])) == pytest.approx(there(3000.0, 2500.0), abs=1e-6)


@pytest.mark.parametrize(("unit", "factor"), [("in", 1.0), ("ft", 12.0), ("mm", 1.0), ("cm", 10.0), ("m", 1000.0)])
def test_dimensions_turn_along_and_measure_in_inches_or_millimetres(unit, factor, tmp_path):
    """Whatever the unit, CAD is told to write inches (as architects do) or millimetres: measured times DIMLFAC."""
    width = Dimension(Role.DIMENSION, (0.0, 0.0), (7620.0, 0.0), (0.0, -500.0), 0.0, "as it may be")
    dxf = dxf_of(width, unit=unit)
    (dimension,) = records(dxf, "DIMENSION")
    style = next(r for r in records(dxf, "DIMSTYLE") if r["2"] == dimension["3"])
    assert float(dimension["50"]) == pytest.approx(30.0)
    written = float(dimension["42"]) * float(style.get("144", "1"))
    assert written == pytest.approx(7620.0 / (25.4 if unit in ("in", "ft") else 1.0), abs=1e-3)
    assert float(style.get("144", "1")) == pytest.approx(factor)
    letters = next(e for e in entities(dxf, tmp_path) if e["Text"] == "as it may be")
    above = there(3810.0, -500.0 + 50.0, unit)  # 1 mm at 1:50 above the middle of the line
    assert letters["geometry"].coords[0][:2] == pytest.approx(above, abs=1e-3 / MM[unit] + 1e-6)


@pytest.mark.parametrize("unit", ["ft", "m"])
def test_dashes_and_letters_are_as_large_on_paper_as_ever(unit, tmp_path):
    """2.5 mm letters at 1:50 are 125 mm in the model; a dash of 3 mm is 150 mm there and 3 mm on the paper itself."""
    line = Line(Role.ACCESS, (200.0, 15.0), (300.0, 15.0))
    note = Text(Role.NOTE, (0.0, 0.0), "Note")
    dxf = dxf_of(Outline(Role.ACCESS, rectangle(0.0, 0.0, 600.0, 600.0)), note, unit=unit, paper_shapes=(line, note))
    paper_mm = 25.4 if unit == "ft" else 1.0
    dashed = next(r for r in records(dxf, "LTYPE") if r.get("2") == "MM_3_0P75")
    scale = float(header(dxf)["$LTSCALE"])
    assert float(dashed["40"]) * scale * MM[unit] == pytest.approx(3.75 * 50)
    (on_sheet,) = [r for r in records(dxf, "LINE") if r["8"] == STYLE.layer(Role.ACCESS).name]
    assert float(dashed["40"]) * scale * float(on_sheet["48"]) * paper_mm == pytest.approx(3.75)
    heights = [float(r["40"]) for r in records(dxf, "TEXT") if r["1"] == "Note"]
    capital = STYLE.role(Role.NOTE).height
    assert sorted(heights) == pytest.approx(sorted((capital * 50 / MM[unit], capital / paper_mm)), abs=1e-5)


def test_a_second_drawing_stands_beside_the_first_and_not_on_it(tmp_path):
    second = placed(sheet_of(METRE, scale=100.0, key="two"))
    found = entities(write_dxf((placed(sheet_of(METRE, ROOM)), second), STYLE), tmp_path)
    lines = [e["geometry"] for e in found if e["Layer"] == TEES and not on_paper(e)]
    shift = (lines[1].coords[0][0] - lines[0].coords[0][0], lines[1].coords[0][1] - lines[0].coords[0][1])
    along, up = Frame(angle_deg=30.0).inward(shift)
    assert along > 8000.0
    assert up == pytest.approx(0.0, abs=1e-5)


def test_the_other_formats_do_not_turn_with_it():
    sheet = sheet_of(ROOM, METRE)
    assert write_svg(placed(sheet, "ft"), STYLE) == write_svg(sheet, STYLE)
    assert write_pdf((placed(sheet, "ft"),), STYLE, "T") == write_pdf((sheet,), STYLE, "T")


def test_every_unit_is_known():
    assert UNITS == MM
