"""Set-out labels are never crossed, crowded rooms are keyed, legends say what is there and nothing else."""

import math
from collections.abc import Sequence
from pathlib import Path

import pytest
from drawing.hand_plans import hand_plan, rectangle, room, service
from drawing.whole_sheets import check, said
from shapely.geometry import Point, Polygon

from planner.drawing import ceiling_plan, framing_plan, setout_plan
from planner.drawing.labels import Heights, Lettered, descent, ends_of, rings_overlap, text_boxes, text_ring
from planner.drawing.legend import Entry
from planner.drawing.place import ALONE
from planner.drawing.roles import Role
from planner.drawing.shapes import Dimension, Line, Shape, Symbol, Text
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.planning import Plan, plan
from planner.render.dimensioning import draw_dimension
from planner.room.reader import read_room

FIXTURES = sorted((Path(__file__).parents[2] / "fixtures").glob("*.yaml"))
ISO = load_style("iso-13567")
HEIGHTS = Heights.of(ISO)
#: What needs no sign in a legend: dimensions, tints, and what leads to letters.
_PLAIN = (Role.DIMENSION, Role.CUT_SHADE, Role.CORNER_MARK, Role.PANEL_MARK)
_CROSSING = (Role.STRING_LINE, Role.DIMENSION, Role.WALL)


@pytest.fixture(scope="module", params=FIXTURES, ids=lambda path: path.stem)
def made(request) -> Plan:
    return plan(read_room(str(request.param)))


def test_no_string_and_no_diagonal_crosses_a_label_on_the_set_out(made: Plan):
    """Neither a wall's name and length, nor a diagonal's length, nor the words along a string."""
    for sheet in draw(made, ISO, SheetWish(sheets=("set-out",))):
        for window in sheet.windows:
            scale = window.drawing.scale
            lines = [s for s in window.drawing.shapes if isinstance(s, Line) and s.role in _CROSSING]
            assert lines
            for text in (s for s in window.drawing.shapes if isinstance(s, Text) and s.role in _CROSSING):
                ring = text_ring(text, HEIGHTS[text.role] * scale)
                crossing = [line for line in lines if rings_overlap(ring, (line.start, line.end))]
                assert crossing == [], text.text


def test_every_wall_of_a_demo_room_has_its_name_on_the_set_out(made: Plan):
    (sheet,) = draw(made, ISO, SheetWish(sheets=("set-out",)))
    shown = {box.text.split(":")[0] for box in text_boxes(sheet, ISO) if box.role == Role.DIMENSION}
    long = {wall.name for wall in made.room.walls if wall.length > 1500.0}
    assert long <= shown


def test_every_entry_of_every_legend_is_on_its_sheet_and_all_that_is_drawn_is_in_it(made: Plan):
    for module in (ceiling_plan, framing_plan, setout_plan):
        subject = module.subject_of(made, HEIGHTS, ALONE)
        (sheet,) = draw(made, ISO, SheetWish(sheets=(module.KEY,)))
        drawing = sheet.windows[0].drawing
        entries = subject.signs(drawing.scale)
        explained = {entry.sign for entry in entries if entry.sign} | {
            entry.shapes[-1].role for entry in entries if entry.shapes and not entry.sign
        }
        assert all(_is_drawn(entry, drawing.shapes) for entry in entries)
        for shape in drawing.shapes:
            if isinstance(shape, Symbol):
                assert shape.block in explained, shape.title
            elif not isinstance(shape, Text) and shape.role not in _PLAIN:
                assert shape.role in explained, shape


def _is_drawn(entry: Entry, shapes: tuple[Shape, ...]) -> bool:
    if not entry.shapes:
        return any(isinstance(shape, Symbol) for shape in shapes)
    if entry.sign:
        return any(entry.sign in (getattr(s, "block", ""), getattr(s, "title", "")) for s in shapes)
    return any(shape.role == entry.shapes[-1].role for shape in shapes)


def crowd() -> Plan:
    """Ten by ten downlights in 8 m by 6 m, one in each module or so."""
    places = [(400.0 + 800.0 * (k % 10), 300.0 + 600.0 * (k // 10)) for k in range(100)]
    named = enumerate(places, 101)
    lights = tuple(service(f"DL{k}", "downlight", at, (150.0, 150.0), True) for k, at in named)
    return hand_plan(room(rectangle(8000, 6000)), services=lights)


def test_a_crowded_room_is_keyed_to_the_list_of_services():
    """At 1:100 a module is 6 mm: no room beside a sign of 2.6 mm for "DL101" of 2.5 mm capitals, but for a number."""
    sheets = draw(crowd(), ISO, SheetWish(paper="A4", scale=100.0, sheets=("ceiling-plan", "schedules")))
    (ceiling,) = [sheet for sheet in sheets if sheet.key == "ceiling-plan"]
    check(ceiling, ISO)
    keys = {box.text for box in text_boxes(ceiling, ISO) if box.role == Role.SERVICE_KEY}
    assert keys == {str(k) for k in range(1, 101)}
    assert not [box for box in text_boxes(ceiling, ISO) if box.role == Role.SERVICE_MARK]
    assert "bear their numbers in the list of services" in " ".join(said(ceiling).split())
    listed = " ".join(said(sheet) for sheet in sheets if sheet is not ceiling)
    assert "100 DL200" in listed and "1 DL101" in listed


def test_where_there_is_room_services_keep_their_names():
    ceiling = draw(crowd(), ISO, SheetWish(paper="A1", scale=20.0, sheets=("ceiling-plan",)))[0]
    assert {box.text for box in text_boxes(ceiling, ISO) if box.role == Role.SERVICE_MARK} == {
        f"DL{k}" for k in range(101, 201)
    }


def test_the_key_stands_beside_its_own_service():
    """From each number to its own sign is no further than to any other, but for a third of a millimetre.

    Else a line leads from the number to its own sign (2.6 mm wide: a corner is 1.84 mm off), none other within 4 mm.
    """
    ceiling = draw(crowd(), ISO, SheetWish(paper="A4", scale=100.0, sheets=("ceiling-plan",)))[0]
    window = ceiling.windows[0]
    at = [window.to_paper(light.at) for light in crowd().ceiling.services]
    lines = [s for s in window.drawing.shapes if isinstance(s, Line) and s.role == Role.SERVICE_KEY]
    led = [(window.to_paper(line.start), window.to_paper(line.end)) for line in lines]
    for box in (box for box in text_boxes(ceiling, ISO) if box.role == Role.SERVICE_KEY):
        letters, own = Polygon(box.ring), int(box.text) - 1
        gaps = [letters.distance(Point(place)) for place in at]
        if gaps[own] > min(gaps) + 0.31:
            assert min(gaps[:own] + gaps[own + 1 :]) > 4.0
            assert any(letters.distance(Point(b)) < 1.0 and Point(at[own]).distance(Point(a)) < 1.85 for a, b in led)


def struck_through(text: Text, lines: list[Line], scale: float) -> bool:
    """Whether a line runs along letters: it meets both ends of their box, above the foot that they stand on."""
    a, b, c, d = text_ring(text, HEIGHTS[text.role] * scale)
    share = descent(text.text) / (1 + descent(text.text))  # of the box, below the foot
    low = [(p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])) for p, q in ((a, d), (b, c))]
    ends = ends_of((*low, c, d), 0.04)
    return any(all(rings_overlap(end, (line.start, line.end)) for end in ends) for line in lines)


def test_no_tee_strikes_through_the_height_of_the_ceiling_nor_the_name_of_a_service(made: Plan):
    (sheet,) = draw(made, ISO, SheetWish(sheets=("ceiling-plan",)))
    drawing = sheet.windows[0].drawing
    tees = [s for s in drawing.shapes if isinstance(s, Line) and s.role in (Role.MAIN_TEE, Role.CROSS_TEE)]
    named = (s for s in drawing.shapes if isinstance(s, Text) and s.role in (Role.NOTE, Role.SERVICE_MARK))
    assert [text.text for text in named if not text.mask and struck_through(text, tees, drawing.scale)] == []


def test_no_line_of_a_dimension_crosses_the_letter_of_a_corner(made: Plan):
    (sheet,) = draw(made, ISO, SheetWish(sheets=("ceiling-plan",)))
    drawing = sheet.windows[0].drawing
    scale = drawing.scale
    strings = [s for s in drawing.shapes if isinstance(s, Dimension)]
    segments = [seg for s in strings for seg in draw_dimension(s, HEIGHTS[s.role], scale).segments]
    for text in (s for s in drawing.shapes if isinstance(s, Text) and s.role == Role.CORNER_MARK):
        ring = text_ring(text, HEIGHTS[text.role] * scale)
        assert not any(rings_overlap(ring, segment) for segment in segments), text.text


def test_letters_in_a_row_on_the_set_out_do_not_run_into_each_other(made: Plan):
    """Between two labels along one line is room for a letter at least, a third of the height of capitals."""
    (sheet,) = draw(made, ISO, SheetWish(sheets=("set-out",)))
    along = [box for box in text_boxes(sheet, ISO) if box.role in (Role.STRING_LINE, Role.DIMENSION)]
    rings = [(box.text, Polygon(box.ring)) for box in along]
    close = [
        (a, b)
        for k, (a, ring) in enumerate(rings)
        for b, other in rings[:k]
        if ring.distance(other) < HEIGHTS[Role.NOTE] / 3
    ]
    side_by_side = [pair for pair in close if not _one_below_the_other(along, *pair)]
    assert side_by_side == []


def _one_below_the_other(boxes: Sequence[Lettered], first: str, second: str) -> bool:
    """Whether letters lie beside each other along most of their length, as lines of a paragraph do."""
    a, b = (next(box for box in boxes if box.text == text) for text in (first, second))
    (x, y), (u, v) = a.ring[0], a.ring[1]
    long = math.hypot(u - x, v - y)
    spans = [sorted(((px - x) * (u - x) + (py - y) * (v - y)) / long for px, py in box.ring) for box in (a, b)]
    return min(span[-1] for span in spans) - max(span[0] for span in spans) > 1.0
