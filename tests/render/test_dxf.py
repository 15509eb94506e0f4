"""DXF read back by GDAL, which shares no code with the writer, and as the bare lines that the file consists of."""

import io
from dataclasses import replace

import ezdxf
import pytest
import shapely
from render.rendered import (
    ROOM,
    entities,
    header,
    length_on,
    on_paper,
    pairs,
    records,
    rectangle,
    section,
    sheet_of,
    texts,
)

from planner.drawing.papers import find_paper
from planner.drawing.roles import Role
from planner.drawing.shapes import Arc, Block, Circle, Dimension, Line, Outline, Symbol, Text
from planner.drawing.stylebook import load_style, style_names
from planner.geometry import Box
from planner.render.dxf import write_dxf

STYLE = load_style("us-ncs")
TEES = STYLE.layer(Role.MAIN_TEE).name
DIMENSIONS = STYLE.layer(Role.DIMENSION).name
METRE = Line(Role.MAIN_TEE, (1000.0, 2500.0), (2000.0, 2500.0))
TROFFER = Block("troffer 600 × 1200", (Outline(Role.LIGHT, rectangle(-300.0, -600.0, 300.0, 600.0)),))
LIGHTS = tuple(
    Symbol(Role.LIGHT, TROFFER.name, (x, 2500.0), 0.0, (("mark", f"L{k}"), ("kind", "troffer")))
    for k, x in enumerate((1000.0, 3000.0, 5000.0), 1)
)
WIDTH = Dimension(Role.DIMENSION, (0.0, 0.0), (8000.0, 0.0), (0.0, -500.0), 0.0, "8000")
EVERYTHING = (
    ROOM,
    METRE,
    WIDTH,
    Outline(Role.CUT_SHADE, rectangle(0.0, 0.0, 600.0, 600.0), (rectangle(100.0, 100.0, 200.0, 200.0),), fill=True),
    Circle(Role.SPRINKLER, (500.0, 500.0), 50.0),
    Circle(Role.SPRINKLER, (500.0, 500.0), 20.0, fill=True),
    Arc(Role.DETECTOR, (900.0, 500.0), 50.0, 0.0, 270.0),
    Text(Role.NOTE, (0.0, 0.0), "Note", "centre", "middle", 30.0),
    Outline(Role.ACCESS, rectangle(0.0, 0.0, 600.0, 600.0)),
    *LIGHTS,
)


def dxf_of(*shapes, **more) -> bytes:
    return write_dxf((sheet_of(*shapes, **more),), STYLE)


# --- versions ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("version", "code"), [("R2007", "AC1021"), ("R2010", "AC1024"), ("R2013", "AC1027"), ("R2018", "AC1032")]
)
def test_every_version_that_can_be_asked_for_reads_alike(version, code, tmp_path):
    """Codes of $ACADVER as in the DXF reference, from memory; GDAL is the reader."""
    dxf = write_dxf((sheet_of(*EVERYTHING, blocks=(TROFFER,)),), STYLE, version)
    found, usual = entities(dxf, tmp_path), entities(dxf_of(*EVERYTHING, blocks=(TROFFER,)), tmp_path)
    assert header(dxf)["$ACADVER"] == code
    assert [entity["Layer"] for entity in found] == [entity["Layer"] for entity in usual]
    assert texts(found) == texts(usual) != []
    assert not ezdxf.read(io.StringIO(dxf.decode())).audit().errors


def test_a_version_that_is_not_written_is_refused():
    with pytest.raises(ValueError, match="R12"):
        write_dxf((sheet_of(METRE),), STYLE, "R12")


# --- units and header -------------------------------------------------------------------------------------------------


def test_a_metric_file_says_millimetres():
    """$INSUNITS 4 = millimetres, $MEASUREMENT 1 = metric, $LUNITS 2 = decimal (DXF reference)."""
    said = header(dxf_of(METRE))
    assert (said["$INSUNITS"], said["$MEASUREMENT"], said["$LUNITS"], said["$LUPREC"]) == ("4", "1", "2", "1")
    assert said["$ACADVER"] == "AC1024"


def test_an_imperial_file_says_inches_and_is_in_inches(tmp_path):
    """$INSUNITS 1 = inches, $LUNITS 4 = architectural, to sixteenths; 1000 mm are 1000 / 25.4 inches."""
    dxf = dxf_of(METRE, unit="in")
    said = header(dxf)
    assert (said["$INSUNITS"], said["$MEASUREMENT"], said["$LUNITS"], said["$LUPREC"]) == ("1", "0", "4", "4")
    assert length_on(TEES, entities(dxf, tmp_path)) == pytest.approx(1000.0 / 25.4, abs=1e-5)


def test_a_metre_is_a_thousand_units_long(tmp_path):
    assert length_on(TEES, entities(dxf_of(METRE), tmp_path)) == pytest.approx(1000.0, abs=1e-6)


def test_mixed_units_and_no_sheets_are_refused():
    with pytest.raises(ValueError, match="different units"):
        write_dxf((sheet_of(ROOM), sheet_of(METRE, unit="in")), STYLE)
    with pytest.raises(ValueError, match="'yd' is not a unit"):
        write_dxf((sheet_of(ROOM, unit="yd"),), STYLE)
    with pytest.raises(ValueError, match="at least one sheet"):
        write_dxf((), STYLE)


def test_the_file_opens_on_the_whole_room():
    said = [value for code, value in pairs(dxf_of(ROOM)) if code in ("9", "10", "20")]
    at = said.index("$EXTMAX")
    assert (float(said[at + 1]), float(said[at + 2])) == (8000.0, 5000.0)
    view = next(v for v in records(dxf_of(ROOM), "VPORT") if v.get("2") == "*Active")
    assert (float(view["12"]), float(view["22"])) == (4000.0, 2500.0)
    assert float(view["40"]) == pytest.approx(6000.0)  # 5000 and a fifth


def test_line_types_are_in_paper_millimetres():
    """$PSLTSCALE 0 and $LTSCALE 50: a 3 mm dash is 150 mm in the model, and 3 mm through a 1:50 window."""
    dxf = dxf_of(Outline(Role.ACCESS, rectangle(0.0, 0.0, 600.0, 600.0)))
    said = header(dxf)
    assert (said["$PSLTSCALE"], float(said["$LTSCALE"]), said["$LWDISPLAY"]) == ("0", 50.0, "1")
    dashed = next(r for r in records(dxf, "LTYPE") if r.get("2") == "MM_3_0P75")
    assert float(dashed["40"]) == 3.75


def test_what_is_drawn_at_another_scale_keeps_its_dashes():
    """A dashed line of the paper itself is 50 times smaller than one in the 1:50 model: its own factor is 1/50."""
    line = Line(Role.ACCESS, (200.0, 15.0), (300.0, 15.0))
    found = list(records(dxf_of(ROOM, paper_shapes=(line,)), "LINE"))
    assert float(found[0]["48"]) == pytest.approx(1 / 50)


# --- layers -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", style_names())
def test_every_layer_that_is_used_stands_in_the_table(name, tmp_path):
    """An undefined layer passes the library's own audit in silence, so the file's lines are read themselves."""
    style = load_style(name)
    dxf = write_dxf((sheet_of(*EVERYTHING, blocks=(TROFFER,), paper_shapes=(METRE,)),), style)
    table = {record["2"] for record in records(dxf, "LAYER")}
    body = section(dxf, "BLOCKS") + section(dxf, "ENTITIES")
    used = {value for code, value in pairs(body) if code == "8"}
    assert {style.layer(role).name for role in (Role.WALL, Role.MAIN_TEE, Role.DIMENSION)} <= used
    assert used <= table


def test_layers_carry_pen_colour_and_dash_and_entities_take_them(tmp_path):
    found = {e["Layer"]: e["OGR_STYLE"] for e in entities(dxf_of(*EVERYTHING, blocks=(TROFFER,)), tmp_path)}
    assert "w:0.5g" in found["A-WALL"]
    assert "w:0.35g" in found[TEES]
    assert "c:#0000ff" in found[TEES]  # ACI 5
    assert 'p:"150g 37.5g"' in found["A-CLNG-ACCS"] or 'p:"3g 0.75g"' in found["A-CLNG-ACCS"]
    body = section(dxf_of(*EVERYTHING, blocks=(TROFFER,)), "ENTITIES")
    assert not {code for code, _ in pairs(body)} & {"6", "370", "420"}  # no pen, line type of their own
    assert {value for code, value in pairs(body) if code == "62"} <= {"256"}  # colour by layer


def test_views_lie_on_a_layer_that_does_not_plot():
    dxf = dxf_of(METRE)
    layers = {record["2"]: record for record in records(dxf, "LAYER")}
    views = list(records(dxf, "VIEWPORT"))
    assert views
    assert {layers[view["8"]]["290"] for view in views} == {"0"}


def test_a_style_without_such_a_layer_gets_one():
    style = replace(STYLE, layers=tuple(layer for layer in STYLE.layers if layer.plots))
    layers = {record["2"]: record for record in records(write_dxf((sheet_of(METRE),), style), "LAYER")}
    assert layers["NO-PLOT"]["290"] == "0"


# --- dimensions -------------------------------------------------------------------------------------------------------


def test_gdal_reads_the_text_and_the_strokes_of_a_dimension(tmp_path):
    found = entities(dxf_of(WIDTH), tmp_path)
    assert texts(found, DIMENSIONS) == ["8000"]
    lengths = sorted(shapely.length(e["geometry"]) for e in found if e["Layer"] == DIMENSIONS and e["Text"] is None)
    # at 1:50: ticks 3.2 mm = 160, extension lines 10 - 1.6 + 3.2 = 11.6 mm = 580, the line 8000
    assert lengths == pytest.approx([160.0, 160.0, 580.0, 580.0, 8000.0])


@pytest.mark.parametrize(
    ("unit", "length", "text", "kept"),
    [
        ("mm", 8000.0, "8000", ""),
        ("mm", 12.5, "12.5", ""),
        ("mm", 7800.0, "13 × 600 = 7800", "13 × 600 = 7800"),
        ("mm", 8000.0, "8001", "8001"),
        ("mm", 8000.0, "", " "),  # a space alone stands for no text (DXF reference)
        ("in", 304.8 * 8 + 25.4 * 4.0625, "8'-4 1/16\"", ""),
        ("in", 25.4 * 5.5, "0'-5 1/2\"", ""),
        ("in", 25.4 * 5.5, '5 1/2"', '5 1/2"'),
        ("in", 304.8 * 14, '7 × 24" = 14\'-0"', '7 × 24" = 14\'-0"'),
    ],
)
def test_text_that_cad_would_not_write_by_itself_survives_there(unit, length, text, kept, tmp_path):
    """What CAD writes when it draws the dimension anew is in group 1; when that is empty, it measures."""
    dxf = dxf_of(replace(WIDTH, end=(length, 0.0), text=text), unit=unit)
    lines = dxf.decode().split("\n")
    at = lines.index("DIMENSION")
    written = dict(zip(lines[at + 1 : at + 60 : 2], lines[at + 2 : at + 61 : 2], strict=True))
    assert written.get("  1", "") == kept
    assert texts(entities(dxf, tmp_path), DIMENSIONS) == ([text] if text else [])


def test_the_dimension_style_is_ours_in_the_units_of_the_job():
    """Sizes on paper times DIMSCALE; ticks not arrows; factor 1; architectural in inches (DIMLUNIT 4)."""
    for unit, per_mm, form in (("mm", 1.0, "2"), ("in", 1 / 25.4, "4")):
        dxf = dxf_of(WIDTH, unit=unit)
        used = next(iter(records(dxf, "DIMENSION")))["3"]
        (style,) = [record for record in records(dxf, "DIMSTYLE") if record.get("2") == used]
        assert float(style["40"]) == 50.0
        assert float(style["140"]) == pytest.approx(2.4 * per_mm, abs=1e-6)
        assert float(style["41"]) > 0
        assert float(style["142"]) == pytest.approx(1.1314 * per_mm, abs=1e-4)  # half of 3.2 mm at 45 degrees
        assert float(style.get("144", "1")) == 1.0
        assert style["277"] == form
        assert float(header(dxf)["$DIMSCALE"]) == 50.0


def test_every_dimension_has_its_block():
    dxf = dxf_of(WIDTH, replace(WIDTH, line_at=(0.0, 6000.0)))
    blocks = {record["2"] for record in records(dxf, "BLOCK")}
    wanted = [record["2"] for record in records(dxf, "DIMENSION")]
    assert len(set(wanted)) == 2
    assert set(wanted) <= blocks


def test_letters_moved_aside_stay_where_they_are():
    """Bit 128 of the type: placed by hand, so that CAD leaves it there."""
    for moved in (replace(WIDTH, end=(100.0, 0.0), text="100"), replace(WIDTH, text_at=(0.0, -900.0))):
        assert int(next(iter(records(dxf_of(moved), "DIMENSION")))["70"]) & 128
    assert not int(next(iter(records(dxf_of(WIDTH), "DIMENSION")))["70"]) & 128


# --- symbols and letters ----------------------------------------------------------------------------------------------


def test_services_are_inserts_of_one_block_with_their_data(tmp_path):
    found = entities(dxf_of(*LIGHTS, blocks=(TROFFER,)), tmp_path, DXF_INLINE_BLOCKS="FALSE")
    inserts = [e for e in found if e["BlockName"]]
    assert {e["BlockName"] for e in inserts} == {"TROFFER_600_1200"}
    assert [list(e["BlockAttributes"]) for e in inserts] == [[f"MARK L{k}", "KIND troffer"] for k in (1, 2, 3)]
    assert {e["Layer"] for e in inserts} == {STYLE.layer(Role.LIGHT).name}
    definition = [r for r in records(dxf_of(*LIGHTS, blocks=(TROFFER,)), "ATTDEF")]
    assert [r["8"] for r in definition] == [STYLE.layer(Role.SERVICE_MARK).name] * 2
    assert {r["70"] for r in definition} == {"1"}  # invisible


def test_shapes_of_a_block_follow_its_insert_to_another_layer(tmp_path):
    """What is on the layer of the inserts lies on layer 0 of the block; other roles keep their own layer."""
    block = Block("B", (Line(Role.LIGHT, (0.0, 0.0), (9.0, 0.0)), Line(Role.WALL, (0.0, 0.0), (0.0, 9.0))))
    dxf = dxf_of(Symbol(Role.LIGHT, "B", (0.0, 0.0)), blocks=(block,))
    assert {record["8"] for record in records(section(dxf, "BLOCKS"), "LINE")} == {"0", "A-WALL"}


def test_blocks_are_at_true_size(tmp_path):
    found = entities(dxf_of(LIGHTS[0], blocks=(TROFFER,)), tmp_path)
    (light,) = [e for e in found if e["Layer"] == STYLE.layer(Role.LIGHT).name]
    assert shapely.bounds(light["geometry"])[:4] == pytest.approx([700.0, 1900.0, 1300.0, 3100.0])


def test_a_block_that_is_missing_or_holds_itself_is_refused():
    with pytest.raises(ValueError, match="no block"):
        dxf_of(*LIGHTS)
    looped = Block("B", (Symbol(Role.LIGHT, "B", (1.0, 0.0)),))
    with pytest.raises(ValueError, match="holds itself"):
        dxf_of(Symbol(Role.LIGHT, "B", (0.0, 0.0)), blocks=(looped,))


@pytest.mark.parametrize(("horizontal", "anchor"), [("left", 1), ("centre", 2), ("right", 3)])
def test_letters_keep_their_anchor_and_the_height_of_their_capitals(horizontal, anchor, tmp_path):
    """GDAL's anchors: 1 left, 2 centre, 3 right, all on the baseline. 2.4 mm at 1:50 are 120 mm."""
    (text,) = entities(dxf_of(Text(Role.NOTE, (0.0, 0.0), "H", horizontal, "top", 30.0)), tmp_path)
    assert f"p:{anchor}," in text["OGR_STYLE"]
    assert "s:120g" in text["OGR_STYLE"]
    assert "a:30" in text["OGR_STYLE"]
    assert 'f:"Arial"' in text["OGR_STYLE"]
    # the top of the capitals is at (0, 0): the baseline 120 lower, along a direction turned by 30 degrees
    assert shapely.get_coordinates(text["geometry"])[0] == pytest.approx([60.0, -103.923], abs=1e-3)


def test_fills_are_solid_with_their_holes(tmp_path):
    found = entities(dxf_of(*EVERYTHING, blocks=(TROFFER,)), tmp_path)
    (shade,) = [e for e in found if e["Layer"] == STYLE.layer(Role.CUT_SHADE).name]
    assert shapely.area(shade["geometry"]) == pytest.approx(600.0**2 - 100.0**2)
    assert {record["2"] for record in records(dxf_of(*EVERYTHING, blocks=(TROFFER,)), "HATCH")} == {"SOLID"}


HOSTILE = (
    "%%c",
    "%%%d",
    "^J",
    "<script>",
    "a\x00b",
    "\ud800x",
    "W" * 300,
    "😀",
    "{\\H5;x}",
    "\\U+0041",
    "a\n  0\nLINE",
    "<>",
)


@pytest.mark.parametrize("text", HOSTILE)
def test_no_text_breaks_the_file_or_becomes_a_code(text, tmp_path):
    block = Block(text, (Line(Role.LIGHT, (0.0, 0.0), (9.0, 0.0)),))
    shapes = (
        Text(Role.NOTE, (0.0, 0.0), text),
        replace(WIDTH, text=text),
        Symbol(Role.LIGHT, text, (0.0, 0.0), 0.0, ((text, text), (text + "2", text))),
        METRE,
    )
    dxf = dxf_of(*shapes, blocks=(block,), title=text)
    assert length_on(TEES, entities(dxf, tmp_path)) == pytest.approx(1000.0)
    shown = texts(entities(dxf, tmp_path), STYLE.layer(Role.NOTE).name)
    assert len(shown) == 1
    plain = "".join(text.split()).replace("\x00", "").replace("\ud800", "").replace("😀", "□")
    assert "".join(shown[0].split()) == plain[:256]  # GDAL reads no more
    assert not faults(dxf)


def faults(dxf: bytes) -> list[object]:
    """List what the library's audit finds in a file that it reads afresh."""
    audit = ezdxf.read(io.StringIO(dxf.decode())).audit()
    return [*audit.errors, *audit.fixes]


# --- layouts ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "unit", "known"),
    [("A3", "mm", "ISO_A3_(420.00_x_297.00_MM)"), ("ANSI B", "in", "ANSI_B_(17.00_x_11.00_Inches)")],
)
def test_a_layout_has_the_paper_and_a_locked_view_at_scale(name, unit, known):
    dxf = dxf_of(METRE, paper=find_paper(name), unit=unit, title="Ceiling plan")
    per_mm = 1 / 25.4 if unit == "in" else 1.0
    layout = next(record for record in records(dxf, "LAYOUT") if record.get("4") == known)
    assert (float(layout["44"]), float(layout["45"])) == pytest.approx(
        (find_paper(name).width, find_paper(name).height)
    )
    assert (layout["40"], layout["41"]) == ("0.0", "0.0")  # no margins: (0, 0) is the corner of the paper
    view = next(record for record in records(dxf, "VIEWPORT") if record["69"] != "1")
    assert float(view["40"]) == pytest.approx(300.0 * per_mm, abs=1e-6)  # as wide as the window
    assert float(view["45"]) / float(view["41"]) == pytest.approx(50.0)  # so much model on so much paper
    assert int(view["90"]) & 16384  # zoom locked
    assert "Ceiling plan" in dxf.decode()


def test_what_belongs_to_the_paper_lies_on_the_paper(tmp_path):
    frame = Outline(Role.FRAME, rectangle(20.0, 10.0, 410.0, 287.0))
    found = entities(dxf_of(METRE, paper_shapes=(frame,)), tmp_path)
    (lying,) = [e for e in found if on_paper(e)]
    assert shapely.bounds(lying["geometry"])[:4] == pytest.approx([20.0, 10.0, 410.0, 287.0])


def test_sheets_of_one_name_get_tabs_of_their_own():
    dxf = write_dxf([sheet_of(METRE, title=title) for title in ("Plan", "plan", "Model", "a/b<c>", "")], STYLE)
    names = [layout.name for layout in ezdxf.read(io.StringIO(dxf.decode())).layouts]
    assert names == ["Model", "Plan", "plan-2", "Sheet", "a b c", "Sheet-2"]


def test_a_drawing_shown_twice_is_drawn_once_and_another_stands_clear_of_it(tmp_path):
    first = sheet_of(METRE)
    twice = replace(first, windows=(first.windows[0], replace(first.windows[0], box=Box(0.0, 0.0, 10.0, 10.0))))
    assert length_on(TEES, entities(write_dxf((twice, first), STYLE), tmp_path)) == pytest.approx(1000.0)
    other = sheet_of(METRE, ROOM)
    found = entities(write_dxf((first, other), STYLE), tmp_path)
    tees = sorted(shapely.bounds(e["geometry"])[0] for e in found if e["Layer"] == TEES)
    # each window shows 15 m from 2.5 m left of the origin: to 12.5 m; the next whole metre beyond one metre of air
    # lets the second window begin at 13.5 m, so its drawing stands 16 m to the right
    assert tees == pytest.approx([1000.0, 17000.0])
    views = [record for record in records(write_dxf((first, other), STYLE), "VIEWPORT") if record["69"] != "1"]
    assert sorted(float(view["12"]) for view in views) == pytest.approx([5000.0, 21000.0])


def test_the_library_finds_nothing_to_mend():
    for name in style_names():
        sheets = (sheet_of(*EVERYTHING, blocks=(TROFFER,), paper_shapes=(WIDTH, METRE, LIGHTS[0])),)
        assert not faults(write_dxf(sheets, load_style(name)))
