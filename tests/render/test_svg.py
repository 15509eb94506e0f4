"""SVG read back: by resvg as a picture that is measured, and by a strict XML parser."""

import re
from xml.etree import ElementTree

import pytest
from render.rendered import PIXEL, ROOM, ink, picture_of_svg, rectangle, sheet_of

from planner.drawing.roles import Role
from planner.drawing.shapes import Circle, Line, Outline, Text
from planner.drawing.stylebook import load_style
from planner.render.svg import write_svg

STYLE = load_style("iso-13567")
SVG = "{http://www.w3.org/2000/svg}"
METRE = Line(Role.MAIN_TEE, (1000.0, 2500.0), (2000.0, 2500.0), "Main tee <M1> & its splice")


def parsed(*shapes, **more) -> ElementTree.Element:
    return ElementTree.fromstring(write_svg(sheet_of(*shapes, **more), STYLE))


def test_a_metre_at_1_to_50_measures_20_mm_in_resvg():
    box = ink(picture_of_svg(write_svg(sheet_of(METRE), STYLE)), 100.0, 100.0, 200.0, 150.0)
    assert box is not None
    assert box.width == pytest.approx(20.0, abs=PIXEL)
    assert box.left == pytest.approx(120.0, abs=PIXEL)
    assert box.centre[1] == pytest.approx(130.0, abs=PIXEL)
    assert box.height == pytest.approx(0.35, abs=PIXEL)  # the pen of main tees


def test_a_room_of_8_by_5_m_measures_160_by_100_mm_and_its_pen():
    box = ink(picture_of_svg(write_svg(sheet_of(ROOM), STYLE)), 60.0, 40.0, 340.0, 260.0)
    assert box is not None
    assert (box.width, box.height) == (pytest.approx(160.5, abs=PIXEL), pytest.approx(100.5, abs=PIXEL))


def test_the_page_has_the_size_of_its_paper():
    root = parsed(METRE)
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("420mm", "297mm", "0 0 420 297")
    assert picture_of_svg(write_svg(sheet_of(METRE), STYLE)).shape == (2970, 4200)


def test_a_window_hides_what_lies_outside_of_it():
    long = Line(Role.MAIN_TEE, (-9000.0, 0.0), (90000.0, 0.0))
    box = ink(picture_of_svg(write_svg(sheet_of(long), STYLE)), 0.0, 0.0, 420.0, 297.0)
    assert box is not None
    assert (box.left, box.right) == (pytest.approx(50.0, abs=PIXEL), pytest.approx(350.0, abs=PIXEL))


def test_each_layer_is_a_group_by_its_name_with_its_pen_and_dash():
    root = parsed(METRE, Outline(Role.ACCESS, rectangle(0.0, 0.0, 600.0, 600.0)))
    groups = {group.get("id"): group for group in root.findall(f"{SVG}g")}
    assert set(groups) == {STYLE.layer(Role.MAIN_TEE).name, STYLE.layer(Role.ACCESS).name}
    tees = groups[STYLE.layer(Role.MAIN_TEE).name]
    assert (tees.get("stroke-width"), tees.get("stroke"), tees.get("stroke-dasharray")) == ("0.35", "#1f3f7a", None)
    assert groups[STYLE.layer(Role.ACCESS).name].get("stroke-dasharray") == "3 0.75"


def test_dashes_are_3_mm_long_on_paper_whatever_the_scale():
    for scale in (10.0, 100.0):
        line = Line(Role.ACCESS, (0.0, 0.0), (100.0 * scale, 0.0))
        picture = picture_of_svg(write_svg(sheet_of(line, scale=scale), STYLE))
        row = picture[2970 - 800, 1000:2000] < 128
        starts = [k for k in range(1, len(row)) if row[k] and not row[k - 1]]
        assert starts[0] == pytest.approx(37.5, abs=1.0)  # 3 mm dash and 0.75 mm gap
        assert len(starts) == 26  # 100 / 3.75, the first dash begins before the row


def test_titles_are_read_aloud_and_never_markup():
    titles = [title.text for title in parsed(METRE, ROOM).iter(f"{SVG}title")]
    assert titles == ["Test sheet", "Main tee <M1> & its splice", "The room"]


def test_text_is_text_in_a_family_that_every_machine_has_a_like_of():
    root = parsed(Text(Role.SERVICE_MARK, (0.0, 0.0), "L1 ½ <b>", "centre", "middle", 30.0))
    (text,) = root.iter(f"{SVG}text")
    assert text.text == "L1 ½ <b>"
    assert text.get("text-anchor") == "middle"
    assert text.get("font-size") == "3.634"  # 2.5 mm capitals x 2048 / 1409
    assert root.get("font-family") == "Arimo, Liberation Sans, Arial, Helvetica, sans-serif"


@pytest.mark.parametrize(("vertical", "low"), [("base", 80.0), ("middle", 78.75), ("top", 77.5)])
def test_capitals_are_as_tall_as_the_style_says(vertical, low):
    svg = write_svg(sheet_of(Text(Role.SERVICE_MARK, (0.0, 0.0), "H", "left", vertical)), STYLE)
    box = ink(picture_of_svg(svg), 90.0, 70.0, 110.0, 90.0)
    assert box is not None
    assert (box.bottom, box.height) == (pytest.approx(low, abs=0.11), pytest.approx(2.5, abs=0.15))


HOSTILE = (
    "%%c",
    "^J",
    "<script>alert(1)</script>",
    "a\x00b",
    "\ud800x",
    "W" * 300,
    "😀",
    'x" onload="y',
    "]]>",
    "&amp;",
    "‮abc",
)


@pytest.mark.parametrize("text", HOSTILE)
def test_no_text_breaks_the_file_or_runs(text):
    svg = write_svg(
        sheet_of(Text(Role.NOTE, (0.0, 0.0), text), Circle(Role.LIGHT, (0.0, 0.0), 100.0, title=text), title=text),
        STYLE,
    )
    root = ElementTree.fromstring(svg)
    assert not [e for e in root.iter() if e.tag.endswith("script")]
    assert not [name for e in root.iter() for name in e.attrib if name.lower().startswith("on")]
    assert len(list(root.iter(f"{SVG}circle"))) == 1
    picture_of_svg(svg, dpi=25)


def test_nothing_is_fetched_from_elsewhere():
    svg = write_svg(sheet_of(METRE, ROOM), STYLE).decode()
    assert set(re.findall(r"https?://[^\"]+", svg)) == {
        "http://www.w3.org/2000/svg",
        "http://www.w3.org/1999/xlink",
        "http://www.w3.org/2001/xml-events",
        "http://www.inkscape.org/namespaces/inkscape",
    }  # names of vocabularies


def test_coordinates_are_thousandths_of_a_millimetre():
    svg = write_svg(sheet_of(Line(Role.WALL, (1000 / 3, 0.1 + 0.2), (1e-9, 2000 / 7))), STYLE).decode()
    numbers = re.findall(r"\d+\.(\d+)", re.search(r' d="([^"]+)"', svg).group(1))  # type: ignore[union-attr]
    assert numbers
    assert all(len(decimals) <= 3 for decimals in numbers)
