"""A CAD program draws a dimension anew from its points and its style when somebody edits it: the same must come out.

The lines are drawn anew by the DXF library from the stored entity and DIMSTYLE alone. It does not know architectural
units (DIMLUNIT 4, as the DXF reference has them, from memory), so feet and inches are worked out here from the style.
"""

import io
import math
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import ezdxf
import pytest

from planner.drawing.roles import Role
from planner.drawing.shapes import Dimension, Drawing, Paper, Sheet, Window
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.geometry import Box
from planner.planning import plan
from planner.render.dxf import write_dxf
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
PLAN = SheetWish(sheets=("ceiling-plan",))
_USER_PLACED = 128

Segment = tuple[float, ...]


def read(data: bytes) -> Any:
    return ezdxf.read(io.StringIO(data.decode("utf-8")))


@pytest.fixture(
    scope="module",
    params=[("kiln-room", "us-ncs"), ("gallery-bowed", "iso-13567"), ("clinic", "site-bold"), ("corridor", "bs-1192")],
    ids=lambda pair: pair[0],
)
def written(request) -> bytes:
    room, name = request.param
    style = load_style(name)
    return write_dxf(draw(plan(read_room(str(FIXTURES / f"{room}.yaml"))), style, PLAN), style)


@pytest.fixture
def document(written: bytes) -> Any:
    return read(written)


def test_lines_ticks_and_letters_come_out_the_same(document: Any):
    """Dimension and extension lines to the thousandth of a paper millimetre; ticks as long and as steep.

    Letters that stand where CAD puts them: the middle of them, and their height. Those that we placed have their place
    in the entity (group 11) with the bit that says so.
    """
    dimensions = list(document.modelspace().query("DIMENSION"))
    assert dimensions
    for entity in dimensions:
        style = document.dimstyles.get(entity.dxf.dimstyle)
        near = 0.001 * style.dxf.dimscale
        block = document.blocks[entity.dxf.geometry]
        (letters,) = block.query("TEXT")
        was, user_placed = list(block.query("LINE")), bool(entity.dxf.dimtype & _USER_PLACED)
        before, ticks = parted(was, style)
        placed = entity.dxf.text_midpoint
        if style.dxf.dimlunit == 4 and not entity.dxf.text:
            entity.dxf.text = (
                letters.dxf.text
            )  # as `by_style` writes it; the library would write 14.0000, which is longer
        draw_anew(entity)
        anew = document.blocks[entity.dxf.geometry]
        after = [segment(line) for line in anew.query("LINE")]
        assert len(after) == len(before)
        if not user_placed:
            assert all(any(same(one, other, near) for other in after) for one in before)
        middles = sorted((round(t.dxf.insert.x, 2), round(t.dxf.insert.y, 2)) for t in anew.query("INSERT"))
        assert middles == sorted((round((a + c) / 2, 2), round((b + d) / 2, 2)) for a, b, c, d in ticks)
        (again,) = anew.query("MTEXT")
        assert again.dxf.char_height == pytest.approx(letters.dxf.height, rel=1e-4)
        middle = placed if user_placed else again.dxf.insert
        assert math.dist(middle_of(letters), (middle.x, middle.y)) < 10 * near


def test_the_text_is_what_cad_writes_by_the_style(document: Any):
    """Where no text is stored, the measured length in the style's form is what our letters say."""
    measured = 0
    for entity in document.modelspace().query("DIMENSION"):
        style = document.dimstyles.get(entity.dxf.dimstyle)
        (letters,) = document.blocks[entity.dxf.geometry].query("TEXT")
        if entity.dxf.text:
            assert entity.dxf.text == letters.dxf.text
        else:
            measured += 1
            assert letters.dxf.text == by_style(entity.get_measurement(), style)
    assert measured


def draw_anew(entity: Any) -> None:
    """As the style says; the library takes a DIMRND of 0, which is no rounding, for rounding to whole units."""
    styled = entity.override()
    styled.update({"dimrnd": 0.1})
    styled.render()


def by_style(measurement: float, style: Any) -> str:
    """A length in drawing units as DIMLFAC, DIMLUNIT, DIMDEC, DIMZIN and DIMDSEP have it."""
    length = measurement * style.dxf.dimlfac
    if style.dxf.dimlunit == 2:
        whole = f"{length:.{style.dxf.dimdec}f}"
        assert style.dxf.dimzin == 8  # no noughts behind
        return whole.rstrip("0").rstrip(".").replace(".", chr(style.dxf.dimdsep)) if "." in whole else whole
    assert (style.dxf.dimlunit, style.dxf.dimzin, style.dxf.dimfrac) == (4, 1, 2)  # noughts kept; 1/2 in one line
    parts = round(length * 2**style.dxf.dimdec)
    feet, rest = divmod(parts, 12 * 2**style.dxf.dimdec)
    inches, rest = divmod(rest, 2**style.dxf.dimdec)
    return f"{feet}'-{inches}" + (f" {Fraction(rest, 2**style.dxf.dimdec)}" if rest else "") + '"'


def parted(lines: list[Any], style: Any) -> tuple[list[Segment], list[Segment]]:
    """Dimension and extension lines, and ticks: those that lean over, twice DIMTSZ across and up."""
    span = 2 * style.dxf.dimtsz * style.dxf.dimscale
    straight, ticks = [], []
    for a, b, c, d in map(segment, lines):
        leans = abs(abs(c - a) - span) < 0.01 * span and abs(abs(d - b) - span) < 0.01 * span
        (ticks if leans else straight).append((a, b, c, d))
    return straight, ticks


def segment(line: Any) -> Segment:
    return (line.dxf.start.x, line.dxf.start.y, line.dxf.end.x, line.dxf.end.y)


def same(one: Segment, other: Segment, near: float) -> bool:
    turned = (*other[2:], *other[:2])
    return any(all(abs(p - q) < near for p, q in zip(one, way, strict=True)) for way in (other, turned))


def middle_of(letters: Any) -> tuple[float, float]:
    """Of letters centred on a point of their foot."""
    turn, half = math.radians(letters.dxf.rotation), letters.dxf.height / 2
    x, y = letters.dxf.align_point.x, letters.dxf.align_point.y
    return x - half * math.sin(turn), y + half * math.cos(turn)


def one_dimension(length: float, text: str) -> Any:
    shape = Dimension(Role.DIMENSION, (0.0, 0.0), (length, 0.0), (0.0, -600.0), 0.0, text)
    paper = Paper("A4", 297.0, 210.0, Box(20.0, 10.0, 287.0, 200.0))
    window = Window(Drawing((shape,), (), 50.0, "mm"), Box(50.0, 50.0, 250.0, 150.0), (0.0, 0.0))
    return read(write_dxf((Sheet("one", "One", paper, (window,), (), "en"),), load_style("iso-13567")))


def test_tenths_of_a_millimetre_keep_their_point():
    """412.5 mm: CAD left to itself may write 412,5, for that is how its maker's computer writes numbers."""
    document = one_dimension(412.5, "412.5")
    (entity,) = document.modelspace().query("DIMENSION")
    assert entity.dxf.text == ""
    draw_anew(entity)
    assert [text.text for text in texts(document, entity)] == ["412.5"]


@pytest.mark.parametrize("length", [324.95, 324.948, 324.952])
def test_a_length_that_programs_round_apart_keeps_our_text(length: float):
    """324.95 is written 324.9 or 325 as it pleases whoever rounds it."""
    (entity,) = one_dimension(length, "325").modelspace().query("DIMENSION")
    assert entity.dxf.text == "325"


def test_a_run_keeps_its_own_text():
    """8 x 600 = 4800 is more than the measured 4800: it is stored, and survives."""
    document = one_dimension(4800.0, "8 × 600 = 4800")
    (entity,) = document.modelspace().query("DIMENSION")
    draw_anew(entity)
    assert [text.text for text in texts(document, entity)] == ["8 × 600 = 4800"]


def texts(document: Any, entity: Any) -> Iterator[Any]:
    return document.blocks[entity.dxf.geometry].query("MTEXT")
