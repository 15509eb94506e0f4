"""Lines are as broad as their pens, letters that must cross thin ones stand on a mask, and no mask hides a wall."""

import math
import re
from pathlib import Path

import pypdfium2 as pdfium
import pytest
from drawing.hand_plans import hand_plan, rectangle, room, service
from drawing.test_setout_plan import set_out
from shapely import LineString, Polygon
from shapely import Point as Spot

from planner.drawing.labels import Heights, Taken, broad, dimension_text, grown_ring, rings_overlap, text_ring
from planner.drawing.roles import Role
from planner.drawing.shapes import Dimension, Drawing, Line, Outline, Paper, Sheet, Text, Window
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.geometry import Box, Point, Ring, distance, edges
from planner.planning import Plan, plan
from planner.render.pdf import write_pdf
from planner.render.strokes import Blank, Glyphs, explode
from planner.render.svg import write_svg
from planner.room.outline import Wall
from planner.room.reader import read_room

FIXTURES = sorted((Path(__file__).parents[2] / "fixtures").glob("*.yaml"))
BOLD = load_style("site-bold")
HEIGHTS = Heights.of(BOLD)
PLANS = SheetWish(sheets=("ceiling-plan", "framing", "set-out"))


@pytest.fixture(scope="module", params=FIXTURES, ids=lambda path: path.stem)
def made(request) -> Plan:
    return plan(read_room(str(request.param)))


def lettered(sheet: Sheet) -> list[tuple[Text, float]]:
    """All letters of the first drawing on a sheet, and its scale."""
    drawing = sheet.windows[0].drawing
    scale = drawing.scale
    found = [s for s in drawing.shapes if isinstance(s, Text)]
    dimensions = (s for s in drawing.shapes if isinstance(s, Dimension))
    found += [dimension_text(s, HEIGHTS[s.role], scale) for s in dimensions]
    return [(text, scale) for text in found]


def walls(sheet: Sheet) -> list[Ring]:
    """The straight walls of the first drawing, as broad as the bold pen of 1 mm."""
    drawing = sheet.windows[0].drawing
    (outline,) = [s for s in drawing.shapes if isinstance(s, Outline) and s.role == Role.WALL]
    bowed = outline.bulges or (0.0,) * len(outline.points)
    straight = (edge for edge, bulge in zip(edges(outline.points), bowed, strict=True) if not bulge)
    return [broad(a, b, 1.0 * drawing.scale) for a, b in straight]


def test_no_letters_and_no_masks_lie_under_the_thick_walls_of_the_bold_style(made: Plan):
    """Half of the pen of 1 mm is beside the line; what is masked is left out around the letters too."""
    for sheet in draw(made, BOLD, PLANS):
        thick = walls(sheet)
        for text, scale in lettered(sheet):
            ring = grown_ring(text, HEIGHTS[text.role] * scale, max(text.mask, 0.01) * scale)
            if text.role not in (Role.FINDING, Role.CORNER_MARK):  # in circles, which keep off walls where they can
                assert not any(rings_overlap(ring, wall) for wall in thick), (sheet.key, text.text)


def test_a_stroke_takes_as_much_room_as_its_pen():
    """A pen of 1 mm reaches 0.5 mm to both sides: letters 0.4 mm off are not free, 0.6 mm off they are."""
    taken = Taken()
    taken.add_stroke((0.0, 0.0), (40.0, 0.0), 1.0)

    def box(low: float) -> Ring:
        return ((10.0, low), (20.0, low), (20.0, low + 2.5), (10.0, low + 2.5))

    assert not taken.free(box(0.4))
    assert taken.free(box(0.6))


def masked_sheet() -> Sheet:
    """A tee across the middle of a word of 10 mm capitals, 1:1, which stands on a mask of half a millimetre."""
    tee = Line(Role.CROSS_TEE, (-40.0, 5.0), (40.0, 5.0))
    word = Text(Role.BANNER, (0.0, 0.0), "I  I", "centre", mask=0.5)
    drawing = Drawing((tee, word), (), 1.0, "mm")
    paper = Paper("A4", 297.0, 210.0, Box(20.0, 10.0, 287.0, 200.0))
    return Sheet("one", "One", paper, (Window(drawing, Box(50.0, 50.0, 250.0, 150.0), (0.0, 0.0)),), (), "en")


def test_bare_paper_is_painted_right_before_the_letters_that_it_is_for():
    marks = [mark for layer in explode(masked_sheet(), BOLD) for patch in layer.patches for mark in patch.marks]
    (k,) = [k for k, mark in enumerate(marks) if isinstance(mark, Blank)]
    assert isinstance(marks[k + 1], Glyphs)
    assert k > 0


def test_a_mask_leaves_out_the_line_below_letters_and_no_more():
    """Between the two I the tee is not seen, beside them it is: the PDF as a page of 254 dpi, 0.1 mm a pixel."""
    sheet = masked_sheet()
    page = pdfium.PdfDocument(write_pdf((sheet,), BOLD, "One"))[0]
    picture = page.render(scale=254 / 72).to_pil().convert("L")

    def darkest(left: float, right: float) -> int:
        """Along the tee, which is 105 mm up, between two places right of the middle."""
        y = round((210.0 - 105.0) * 10)
        return min(
            picture.getpixel((round((150.0 + x / 10) * 10), y)) for x in range(round(left * 10), round(right * 10))
        )

    assert darkest(-0.5, 0.5) == 255
    assert darkest(20.0, 21.0) < 100
    assert re.search(
        r'class="paper"[^>]*fill="#ffffff"|fill="#ffffff"[^>]*class="paper"', write_svg(sheet, BOLD).decode()
    )


def test_the_name_of_a_wall_is_no_longer_than_its_wall_or_led_to_it(made: Plan):
    """Between the ends of its own wall, or with a line to it, so that it is not read as the next one's."""
    (sheet,) = draw(made, BOLD, SheetWish(sheets=("set-out",)))
    by_name = {wall.name: wall for wall in made.room.walls}
    leaders = [s for s in sheet.windows[0].drawing.shapes if isinstance(s, Line) and s.role == Role.DIMENSION]
    for text, scale in lettered(sheet):
        wall = by_name.get(text.text.split(":")[0])
        if text.role == Role.DIMENSION and wall is not None:
            long = distance(wall.start, wall.end)
            way = ((wall.end[0] - wall.start[0]) / long, (wall.end[1] - wall.start[1]) / long)
            ring = text_ring(text, HEIGHTS[text.role] * scale)
            along = [_along(wall.start, way, corner) for corner in ring]
            within = min(along) >= -1.0 and max(along) <= long + 1.0
            assert within or any(_leads(leader, wall, ring, scale) for leader in leaders), text.text


def _leads(leader: Line, wall: Wall, ring: Ring, scale: float) -> bool:
    """A line from the wall to within two millimetres of the letters, on paper."""
    points = LineString(wall.points)
    return points.distance(Spot(leader.start)) < 1.0 and Polygon(ring).distance(Spot(leader.end)) < 2.0 * scale


def _along(start: Point, way: Point, point: Point) -> float:
    return (point[0] - start[0]) * way[0] + (point[1] - start[1]) * way[1]


def test_a_name_that_a_wall_is_in_the_way_of_is_led_out_of_the_room():
    """A closet 900 mm wide is 9 mm at 1:100; "DL-1234" of 3.5 mm capitals is longer: it stands outside, led by a line.

    Its sign is 3.6 mm wide, so the line begins no further than 1.8 mm times the root of two from the middle of it.
    """
    light = service("DL-1234", "downlight", (450.0, 1200.0), (150.0, 150.0), True)
    closet = hand_plan(room(rectangle(900, 2400)), services=(light,))
    (sheet,) = draw(closet, BOLD, SheetWish(paper="A4", scale=100.0, sheets=("ceiling-plan",)))
    drawing = sheet.windows[0].drawing
    (text,) = [s for s in drawing.shapes if isinstance(s, Text) and s.text == "DL-1234"]
    (line,) = [s for s in drawing.shapes if isinstance(s, Line) and s.role == Role.SERVICE_MARK]
    ring = text_ring(text, HEIGHTS[text.role] * 100.0)
    assert all(x < 0.0 for x, _ in ring) or all(x > 900.0 for x, _ in ring)
    assert math.dist(line.start, light.at) < 260.0
    assert min(math.dist(line.end, corner) for corner in ring) < 300.0


def test_a_part_of_a_set_out_with_nothing_on_it_is_left_out_and_told():
    """40 by 30 m at 1:50 on A4: rings of parts along the walls bear marks; those further in have no sheet."""
    hall = set_out(hand_plan(room(rectangle(40000, 30000))))
    iso = load_style("iso-13567")
    overview, *parts = draw(hall, iso, SheetWish(paper="A4", scale=50.0, sheets=("set-out",)))
    said = " ".join(shape.text for shape in overview.shapes if isinstance(shape, Text))
    assert "Parts without a number hold neither wall, column nor mark" in " ".join(said.split())
    for part in parts:
        drawn = [s for s in part.windows[0].shown if isinstance(s, Text) and s.role == Role.SET_OUT]
        assert drawn, part.key
    (whole, *every) = draw(hall, iso, SheetWish(paper="A4", scale=50.0, sheets=("ceiling-plan",)))
    assert len(parts) < len(every)
    assert "Parts without a number" not in " ".join(s.text for s in whole.shapes if isinstance(s, Text))


def test_a_job_in_metres_has_millimetres_on_every_plan_and_says_so():
    """The corridor is given in metres; its drawings are in millimetres, as metric drawings are; scale bars apart."""
    corridor = plan(read_room(str(next(path for path in FIXTURES if path.stem == "corridor"))))
    assert corridor.room.units == "m"
    for sheet in draw(corridor, BOLD, PLANS):
        texts = [text for text, _ in lettered(sheet)] + [s for s in sheet.shapes if isinstance(s, Text)]
        plain = [text.text for text in texts if text.role != Role.SCALE_BAR]
        assert not [text for text in plain if re.search(r"\d m\b", text)]
        assert [text.text for text in texts if text.role == Role.TITLE_TEXT].count("millimetres") == 1


def test_the_letter_of_a_corner_is_not_read_as_that_of_another():
    """A niche 2 m wide and 0.5 m deep at 1:100: 20 by 5 mm, and marks are 9 mm wide and more with 5 mm letters.

    Each mark is nearest to its own corner (but for 0.7 of its radius of 4.5 mm), or a line leads from it to the corner.
    """
    ring = ((0, 0), (3000, 0), (3000, 500), (5000, 500), (5000, 0), (8000, 0), (8000, 5000), (0, 5000))
    niche = hand_plan(room(tuple((float(x), float(y)) for x, y in ring)))
    (sheet,) = draw(niche, BOLD, SheetWish(paper="A3", scale=100.0, sheets=("ceiling-plan",)))
    shapes = sheet.windows[0].drawing.shapes
    lines = [s for s in shapes if isinstance(s, Line) and s.role == Role.CORNER_MARK]
    letters = {s.text: s.at for s in shapes if isinstance(s, Text) and s.role == Role.CORNER_MARK}
    corners = dict(zip(niche.room.corner_names, niche.room.outline, strict=True))
    assert letters.keys() == corners.keys()
    for name, at in letters.items():
        nearest = min(distance(at, corner) for other, corner in corners.items() if other != name)
        if distance(at, corners[name]) > nearest + 0.7 * 450.0:
            assert any(distance(s.start, corners[name]) < 1.0 and distance(s.end, at) < 500.0 for s in lines), name
