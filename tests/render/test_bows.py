"""Bowed walls in every format: a circle stays a circle, and where it runs is worked out by hand.

The room is 8 x 5 m at 1:50; its right wall bows out by a bulge of 0.25: rise 0.25 * 5000 / 2 = 625 mm. With half a
chord of 2500 mm the radius is (2500² + 625²) / (2 * 625) = 5312.5 mm, 106.25 mm on paper, and the apex lies at
100 + 8625 / 50 = 272.5 mm.
"""

import io
import math
import re
from dataclasses import replace
from itertools import pairwise

import ezdxf
import pikepdf
import pytest
from hypothesis import given
from hypothesis import strategies as st
from render.rendered import ROOM, entities, ink, length_on, picture_of_pdf, picture_of_svg, records, sheet_of

from planner.arcs import arc_of, arc_points
from planner.drawing.roles import Role
from planner.drawing.shapes import Arc, extents
from planner.drawing.stylebook import load_style
from planner.geometry import Frame
from planner.render.curves import curves, legs, sweep_chain
from planner.render.dxf import write_dxf
from planner.render.pdf import write_pdf
from planner.render.svg import write_svg

STYLE = load_style("iso-13567")
WALLS = STYLE.layer(Role.WALL).name
BOWED = replace(ROOM, bulges=(0.0, 0.25, 0.0, 0.0))
HOLLOW = replace(ROOM, bulges=(0.0, -0.25, 0.0, 0.0))


def operators(pdf: bytes) -> list[tuple[list[float], str]]:
    with pikepdf.open(io.BytesIO(pdf)) as document:
        found = pikepdf.parse_content_stream(document.pages[0])
        return [([float(n) for n in o.operands], str(o.operator)) for o in found if str(o.operator) in ("m", "l", "c")]


def test_svg_has_one_arc_of_the_right_radius_and_turn():
    """SVG has y down, so what turns counter-clockwise to the eye has sweep 0."""
    (path,) = re.findall(r'd="(M[^"]*A[^"]*)"', write_svg(sheet_of(BOWED), STYLE).decode())
    assert path == "M100,217L260,217A106.25,106.25 0 0 0 260,117L100,117Z"
    (path,) = re.findall(r'd="(M[^"]*A[^"]*)"', write_svg(sheet_of(HOLLOW), STYLE).decode())
    assert "A106.25,106.25 0 0 1 260,117" in path


def test_the_wall_that_closes_the_room_may_be_bowed():
    shape = replace(ROOM, bulges=(0.0, 0.0, 0.0, 0.25))
    (path,) = re.findall(r'd="(M[^"]*A[^"]*)"', write_svg(sheet_of(shape), STYLE).decode())
    assert path.endswith("A106.25,106.25 0 0 0 100,217Z")
    assert operators(write_pdf((sheet_of(shape),), STYLE, "T"))[-1][0][-2:] == [100.0, 80.0]


def test_pdf_has_curves_of_45_degrees_at_most():
    """4 * atan(0.25) = 56.1°: two curves. Nothing but the other two walls is a line."""
    found = operators(write_pdf((sheet_of(BOWED),), STYLE, "T"))
    assert [operator for _, operator in found] == ["m", "l", "c", "c", "l"]
    assert found[2][0][-2:] == pytest.approx([272.5, 130.0], abs=1e-3)


@pytest.mark.parametrize(("shape", "apex"), [(BOWED, 272.5), (HOLLOW, 247.5)])
def test_both_pictures_show_the_apex_where_it_is(shape, apex):
    """Halfway up, at 130 mm, the pen of the wall lies on the apex; a tenth of a millimetre is a pixel."""
    sheet, pen = sheet_of(shape), STYLE.layer(Role.WALL).pen
    for picture in (picture_of_svg(write_svg(sheet, STYLE)), picture_of_pdf(write_pdf((sheet,), STYLE, "T"))):
        found = ink(picture, 200.0, 129.9, 300.0, 130.1)
        assert found is not None
        assert (found.left, found.right) == pytest.approx((apex - pen / 2, apex + pen / 2), abs=0.15)


def test_dxf_keeps_the_room_as_one_closed_line_with_a_bulge(tmp_path):
    dxf = write_dxf((sheet_of(BOWED),), STYLE)
    lines = [record for record in records(dxf, "LWPOLYLINE") if record["8"] == WALLS]
    assert [(line["90"], line["70"], line["42"]) for line in lines] == [("4", "1", "0.25")]
    bow = 5312.5 * 4 * math.atan(0.25)
    assert length_on(WALLS, entities(dxf, tmp_path)) == pytest.approx(8000 + 8000 + 5000 + bow, rel=1e-3)


def test_a_filled_bow_is_a_hatch_with_a_bulge(tmp_path):
    """Its area is the room's and a segment's: R²/2 * (sweep - sin sweep); GDAL has chords of 4°."""
    dxf = write_dxf((sheet_of(replace(BOWED, role=Role.CUT_SHADE, fill=True)),), STYLE)
    (hatch,) = [e for e in entities(dxf, tmp_path) if e["SubClasses"].endswith("AcDbHatch")]
    sweep = 4 * math.atan(0.25)
    assert hatch["geometry"].area == pytest.approx(40e6 + 5312.5**2 / 2 * (sweep - math.sin(sweep)), rel=1e-3)
    assert not ezdxf.read(io.StringIO(dxf.decode())).audit().errors


def test_what_hardly_bows_is_drawn_straight():
    """A rise of 0.04 mm is 0.0008 mm on paper: no format shows it, and no radius of kilometres is written."""
    flat = replace(ROOM, bulges=(0.0, 2 * 0.04 / 5000, 0.0, 0.0))
    assert write_svg(sheet_of(flat), STYLE) == write_svg(sheet_of(ROOM), STYLE)
    assert write_pdf((sheet_of(flat),), STYLE, "T") == write_pdf((sheet_of(ROOM),), STYLE, "T")


def test_the_window_knows_how_far_a_bow_reaches():
    assert extents((BOWED,)).right == pytest.approx(8625.0)
    assert extents((HOLLOW,)).right == 8000.0


coordinates = st.floats(-1000.0, 1000.0)
bulges = st.one_of(st.floats(0.001, 1.0), st.floats(-1.0, -0.001))


@given(coordinates, coordinates, st.floats(1.0, 500.0), st.floats(-180.0, 180.0), bulges)
def test_curves_stay_on_their_circle(x, y, chord, turn, bulge):
    """Points of every curve lie within five millionths of the radius of it, and the curves join up."""
    start, end = (x, y), Frame((x, y), turn).outward((chord, 0.0))
    arc = arc_of(start, end, bulge)
    made = curves(start, end, bulge)
    at = start
    for first, second, last in made:
        for t in (0.2, 0.5, 0.8):
            u = 1 - t
            weights = zip((u**3, 3 * u * u * t, 3 * u * t * t, t**3), (at, first, second, last), strict=True)
            point = tuple(map(sum, zip(*[(w * p[0], w * p[1]) for w, p in weights], strict=True)))
            assert abs(math.dist(point, arc.centre) - arc.radius) <= 5e-6 * arc.radius + 1e-9
        at = last
    assert at == end
    assert len(made) == 1 or abs(arc.sweep_deg) > 45.0 - 1e-6


@given(st.floats(0.0, 360.0), st.floats(1.0, 360.0))
def test_a_chain_of_a_sweep_is_its_circle(start_deg, sweep_deg):
    """Halfway along each leg, as its bulge says, is a point of the circle too."""
    points, bows = sweep_chain((10.0, 20.0), 5.0, start_deg, sweep_deg)
    assert all(math.dist(p, (10.0, 20.0)) == pytest.approx(5.0) for p in points)
    turned = sum(math.degrees(4 * math.atan(bow)) for bow in bows)
    assert turned == pytest.approx(sweep_deg)
    for (a, b), bow in zip(pairwise(points), bows, strict=True):
        middle = arc_points(a, b, bow, 0.001)[1]
        assert math.dist(middle, (10.0, 20.0)) == pytest.approx(5.0, abs=1e-6)


def test_legs_of_an_open_chain_do_not_close_it():
    assert legs(((0.0, 0.0), (1.0, 0.0), (1.0, 1.0)), (), False) == [
        ((0.0, 0.0), (1.0, 0.0), 0.0),
        ((1.0, 0.0), (1.0, 1.0), 0.0),
    ]


def test_a_title_of_an_arc_is_kept_for_hover():
    arc = Arc(Role.WALL_ANGLE, (1000.0, 1000.0), 500.0, 0.0, 90.0, "Wall angle W2, 4109")
    assert b"<title>Wall angle W2, 4109</title>" in write_svg(sheet_of(arc), STYLE)
