"""The three formats draw the same, and the same again: pictures against pictures, lengths against lengths, bytes."""

import hashlib
import math
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from render.rendered import (
    ROOM,
    entities,
    on_paper,
    picture_of_pdf,
    picture_of_svg,
    rectangle,
    sheet_of,
    strays,
    texts,
)

from planner.arcs import arc_length
from planner.drawing.roles import Role
from planner.drawing.shapes import Arc, Block, Circle, Dimension, Line, Outline, Sheet, Symbol, Text
from planner.drawing.stylebook import load_style, style_names
from planner.render.dxf import write_dxf
from planner.render.pdf import write_pdf
from planner.render.strokes import Area, Glyphs, Round, Stroke, explode
from planner.render.svg import write_svg

STYLE = load_style("site-bold")
LIGHT = Block(
    "LIGHT", (Outline(Role.LIGHT, rectangle(-300.0, -600.0, 300.0, 600.0)), Text(Role.SERVICE_MARK, (0.0, 0.0), "B"))
)


def span(shape: Dimension) -> float:
    """Measure along the dimension line; one of no length has no direction to letter it in."""
    turn = math.radians(shape.angle_deg)
    dx, dy = shape.end[0] - shape.start[0], shape.end[1] - shape.start[1]
    return abs(dx * math.cos(turn) + dy * math.sin(turn))


across = st.floats(-2000.0, 12000.0).map(lambda x: round(x, 1))
up = st.floats(-2000.0, 9000.0).map(lambda y: round(y, 1))
points = st.tuples(across, up)
sizes = st.floats(100.0, 3000.0)
angles = st.sampled_from([0.0, 90.0, 180.0, 270.0, 30.0, -45.0, 123.4])
words = st.text("AHLgx 0123½×'\"-/", min_size=1, max_size=12).filter(lambda text: text.strip())
shapes = st.one_of(
    st.builds(Line, st.sampled_from([Role.MAIN_TEE, Role.ACCESS, Role.WALL]), points, points),
    st.builds(
        lambda at, w, h, fill: Outline(
            Role.CUT_PANEL,
            rectangle(at[0], at[1], at[0] + w, at[1] + h),
            (rectangle(at[0] + w / 4, at[1] + h / 4, at[0] + w / 2, at[1] + h / 2),),
            fill,
        ),
        points,
        sizes,
        sizes,
        st.booleans(),
    ),
    st.builds(
        lambda at, w, h, fill, bulges: Outline(
            Role.WALL, rectangle(at[0], at[1], at[0] + w, at[1] + h), fill=fill, bulges=bulges
        ),
        points,
        sizes,
        sizes,
        st.booleans(),
        st.tuples(*[st.sampled_from([0.0, 1e-7, 0.05, 0.3, 1.0, -0.1, -0.3])] * 4),
    ),
    st.builds(Circle, st.just(Role.SPRINKLER), points, sizes, st.booleans()),
    st.builds(Arc, st.just(Role.DETECTOR), points, sizes, angles, angles),
    st.builds(
        Text,
        st.just(Role.NOTE),
        points,
        words,
        st.sampled_from(["left", "centre", "right"]),
        st.sampled_from(["base", "middle", "top"]),
        angles,
    ),
    st.builds(Dimension, st.just(Role.DIMENSION), points, points, points, angles, words).filter(
        lambda d: span(d) > 50.0
    ),
    st.builds(Symbol, st.just(Role.LIGHT), st.just("LIGHT"), points, angles),
)


def difference(sheet: Sheet) -> int:
    svg, pdf = picture_of_svg(write_svg(sheet, STYLE), 100), picture_of_pdf(write_pdf((sheet,), STYLE, "T"), dpi=100)
    assert (svg < 90).any() or (svg > 90).all()
    return strays(svg, pdf)


@settings(max_examples=15, deadline=None)
@given(st.lists(shapes, min_size=1, max_size=8))
def test_svg_and_pdf_show_the_same_picture(drawn):
    """Drawn by two rasterisers that share nothing: what is dark in one is at least grey within a pixel in the other."""
    assert difference(sheet_of(*drawn, blocks=(LIGHT,), paper_shapes=(Text(Role.NOTE, (40.0, 20.0), "Note"),))) <= 12


def test_pictures_that_differ_are_told_apart():
    """Half a millimetre's shift of one line is seen, so that the test above can fail."""
    line = Line(Role.WALL, (0.0, 0.0), (5000.0, 0.0))
    moved = Line(Role.WALL, (0.0, 75.0), (5000.0, 75.0))
    one = picture_of_svg(write_svg(sheet_of(line), STYLE), 100)
    other = picture_of_pdf(write_pdf((sheet_of(moved),), STYLE, "T"), dpi=100)
    assert strays(one, other) > 100


def stroked(sheet: Sheet) -> dict[str, float]:
    """Length of what is stroked on each layer through windows, paper millimetres."""
    lengths: dict[str, float] = {}
    for found in explode(sheet, STYLE):
        marks = [mark for patch in found.patches if patch.window is not None for mark in patch.marks]
        total = sum(_length(mark) for mark in marks)
        if total:
            lengths[found.layer.name] = total
    return lengths


def _length(mark: object) -> float:
    match mark:
        case Stroke(points=points, closed=closed, bulges=bulges):
            ends = (*points[1:], points[0]) if closed else points[1:]
            legs = zip(points, ends, bulges or (0.0,) * len(ends), strict=False)
            return sum(arc_length(a, b, bulge) for a, b, bulge in legs)
        case Round(radius=radius, fill=False):
            return 2 * np.pi * radius
    return 0.0


@settings(max_examples=15, deadline=None)
@given(drawn=st.lists(shapes, min_size=1, max_size=8))
def test_dxf_holds_the_same_strokes_and_letters(tmp_path_factory, drawn):
    """GDAL's lengths in the model, over 50, are those on paper; its arcs are chords, hence the tolerance."""
    sheet = sheet_of(*drawn, blocks=(LIGHT,))
    found = [e for e in entities(write_dxf((sheet,), STYLE), tmp_path_factory.mktemp("dxf")) if not on_paper(e)]
    lengths: dict[str, float] = {}
    for entity in found:
        if shapely.get_dimensions(entity["geometry"]) == 1:
            layer = entity["Layer"]
            lengths[layer] = lengths.get(layer, 0.0) + shapely.length(entity["geometry"]) / 50.0
    expected = stroked(sheet)
    assert {layer: pytest.approx(length, rel=2e-3, abs=1e-3) for layer, length in expected.items()} == {
        layer: length for layer, length in lengths.items() if length
    }
    letters = [m.text for f in explode(sheet, STYLE) for p in f.patches for m in p.marks if isinstance(m, Glyphs)]
    assert sorted(text.strip() for text in letters) == sorted(text.strip() for text in texts_of(found))
    areas = [m for f in explode(sheet, STYLE) for p in f.patches for m in p.marks if isinstance(m, Area)]
    assert len(areas) == sum(1 for e in found if e["SubClasses"].endswith("AcDbHatch") and not _is_disc(e["geometry"]))


def _is_disc(shape: shapely.Polygon) -> bool:
    """A filled circle is a mark of its own; GDAL has it as a ring of chords without corners or holes."""
    return not shape.interiors and np.isclose(shape.area, np.pi * (shape.length / 2 / np.pi) ** 2, rtol=1e-3)


def texts_of(found: list[dict[str, object]]) -> list[str]:
    return texts([e for e in found if "AcDbText" in str(e["SubClasses"])])


WRITE = """
import hashlib, sys
sys.path.insert(0, sys.argv[1])
from render.test_agreement import EVERYTHING, all_bytes
print(hashlib.sha256(all_bytes()).hexdigest())
"""

EVERYTHING = (
    ROOM,
    Outline(Role.CUT_SHADE, rectangle(0.0, 0.0, 600.0, 600.0), fill=True, title="Panel P1"),
    Line(Role.ACCESS, (0.0, 0.0), (5000.0, 1234.5)),
    Circle(Role.SPRINKLER, (900.0, 500.0), 50.0, True),
    Arc(Role.DETECTOR, (900.0, 500.0), 50.0, 0.0, 270.0),
    Text(Role.NOTE, (0.0, 0.0), "Ж ½ note", "centre", "middle", 30.0),
    Dimension(Role.DIMENSION, (0.0, 0.0), (8000.0, 0.0), (0.0, -500.0), 0.0, "8000"),
    *(Symbol(Role.LIGHT, "LIGHT", (x, 2500.0), 0.0, (("mark", "L1"), ("kind", "troffer"))) for x in (1000.0, 3000.0)),
)


def all_bytes() -> bytes:
    sheets = [sheet_of(*EVERYTHING, blocks=(LIGHT,), title=title) for title in ("One", "Two")]
    styles = [load_style(name) for name in style_names()]
    written = [write(sheets, style) for style in styles for write in (write_dxf, lambda s, y: write_pdf(s, y, "Title"))]
    return b"".join([*written, *(write_svg(sheets[0], style) for style in styles)])


def test_another_run_with_another_seed_and_home_gives_the_same_bytes(tmp_path):
    tests = Path(__file__).parents[1]
    sums = {hashlib.sha256(all_bytes()).hexdigest()}
    for seed in ("1", "4"):
        home = tmp_path / seed
        home.mkdir()
        known = {key: value for key, value in os.environ.items() if not key.startswith("XDG_")}
        env = known | {"PYTHONHASHSEED": seed, "HOME": str(home), "PYTHONPATH": str(tests.parent)}
        done = subprocess.run(
            [sys.executable, "-c", WRITE, str(tests)], env=env, cwd=home, capture_output=True, text=True, check=True
        )
        assert done.stderr == ""
        sums.add(done.stdout.strip())
    assert len(sums) == 1


def test_a_home_that_cannot_be_written_is_no_matter(tmp_path):
    """The DXF library keeps a font cache at home; without one it works the same and says nothing."""
    (tmp_path / "file").write_text("")
    known = {key: value for key, value in os.environ.items() if not key.startswith("XDG_")}
    env = known | {"HOME": str(tmp_path / "file")}
    done = subprocess.run(
        [sys.executable, "-c", "import planner.render.dxf"],
        env=env,
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stderr == ""


def test_ten_thousand_strokes_are_written_whole(tmp_path):
    lines = [Line(Role.CROSS_TEE, (0.0, 0.5 * k), (7000.0, 0.5 * k)) for k in range(10_000)]
    sheet = sheet_of(*lines)
    layer = STYLE.layer(Role.CROSS_TEE).name
    found = entities(write_dxf((sheet,), STYLE), tmp_path)
    assert sum(e["Layer"] == layer for e in found) == 10_000
    assert write_svg(sheet, STYLE).count(b"<path ") == 10_000
    assert len(write_pdf((sheet,), STYLE, "T")) < 400_000
