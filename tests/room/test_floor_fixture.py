"""fixtures/floors/attic-office.dxf: a made-up floor as an architect's file might hold it, and what is read from it.

`attic_office` below draws it. To write the file anew after a change:
    python -c "from runpy import run_path; run_path('tests/room/test_floor_fixture.py')['write']()"
"""

import math
from pathlib import Path

import ezdxf
import numpy as np
import pytest
import shapely
from ezdxf import options
from ezdxf.document import Drawing
from pyogrio.raw import read

from planner.arcs import arc_of
from planner.geometry import Frame
from planner.room.drawn.dxf import read_floor
from planner.room.drawn.floor import frame_of

FILE = Path(__file__).parents[2] / "fixtures" / "floors" / "attic-office.dxf"

#: The floor's own frame in the drawing: inches, far from the origin, turned by an odd angle.
PLACED = Frame((12000.0, 8000.0), 17.3)

#: Corners in inches in the floor's own frame; the wall from C to D bows out by 9" over its chord of 96".
CORNERS = {"A": (0.0, 0.0), "B": (264.0, 0.0), "C": (264.0, 72.0), "D": (264.0, 168.0), "E": (96.0, 168.0)}
CORNERS |= {"F": (96.0, 132.0), "G": (0.0, 132.0)}
RISE = 9.0
COLUMN = [(60.0, 40.0), (72.0, 40.0), (72.0, 56.0), (60.0, 56.0)]
PIPE, PIPE_RADIUS = (180.0, 110.0), 2.25
CHASE_AT, CHASE_TURN, CHASE = (200.0, 30.0), 45.0, [(0.0, 0.0), (18.0, 0.0), (18.0, 10.0), (0.0, 10.0)]


def attic_office() -> Drawing:
    """Draw the floor: outline of lines and one arc, three columns (one in a block), and other people's layers."""
    doc = ezdxf.new("R2010", units=1)
    doc.header["$MEASUREMENT"] = 0
    for layer in ("A-WALL", "A-DOOR", "A-FURN", "A-ANNO-TEXT"):
        doc.layers.add(layer)
    _walls(doc)
    _columns(doc)
    _noise(doc)
    return doc


def _walls(doc: Drawing) -> None:
    """Lines in no order and both directions, and the bowed wall as an ARC from its centre."""
    msp = doc.modelspace()
    for start, end in ("AB", "CB", "DE", "GA", "FE", "FG"):
        msp.add_line(PLACED.outward(CORNERS[start]), PLACED.outward(CORNERS[end]), {"layer": "A-WALL"})
    # chord c and rise r: radius = c²/(8r) + r/2 = 9216/72 + 4.5 = 132.5; half angle = asin(48/132.5)
    radius = 96.0**2 / (8 * RISE) + RISE / 2
    half = math.degrees(math.asin(48.0 / radius))
    centre = PLACED.outward((264.0 + RISE - radius, 120.0))
    msp.add_arc(centre, radius, PLACED.angle_deg - half, PLACED.angle_deg + half, dxfattribs={"layer": "a-wall"})


def _columns(doc: Drawing) -> None:
    msp = doc.modelspace()
    msp.add_lwpolyline([PLACED.outward(p) for p in COLUMN], close=True, dxfattribs={"layer": "A-WALL"})
    msp.add_circle(PLACED.outward(PIPE), PIPE_RADIUS, dxfattribs={"layer": "A-WALL"})
    chase = doc.blocks.new("CHASE", base_point=(3.0, 2.0))
    for k, (x, y) in enumerate(CHASE):  # drawn off its base point, at half size, on layer 0
        u, v = CHASE[(k + 1) % 4]
        chase.add_line((x / 2 + 3, y / 2 + 2), (u / 2 + 3, v / 2 + 2))
    place = {"layer": "A-WALL", "rotation": PLACED.angle_deg + CHASE_TURN, "xscale": 2.0, "yscale": 2.0}
    msp.add_blockref("CHASE", PLACED.outward(CHASE_AT), place)


def _noise(doc: Drawing) -> None:
    """What a reader must not take for walls: doors, desks, notes, the sheet's frame."""
    msp = doc.modelspace()
    msp.add_arc(PLACED.outward((30, 0)), 32, PLACED.angle_deg, PLACED.angle_deg + 90, dxfattribs={"layer": "A-DOOR"})
    desk = doc.blocks.new("DESK")
    desk.add_lwpolyline([(0, 0), (60, 0), (60, 30), (0, 30)], close=True)
    for x in (20, 120):
        msp.add_blockref("DESK", PLACED.outward((x, 90)), {"layer": "A-FURN", "rotation": PLACED.angle_deg})
    msp.add_text("ATTIC OFFICE", dxfattribs={"layer": "A-WALL", "height": 6, "insert": PLACED.outward((100, 100))})
    msp.add_mtext("Ceiling 8'-0\" AFF", dxfattribs={"layer": "A-ANNO-TEXT", "insert": PLACED.outward((100, 90))})
    doc.layout("Layout1").add_lwpolyline(
        [(0, 0), (34, 0), (34, 22), (0, 22)], close=True, dxfattribs={"layer": "A-WALL"}
    )


def write(path: Path = FILE) -> None:
    """Write the file, without the date and the random numbers that would make every copy another one."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        attic_office().saveas(path)
    finally:
        options.write_fixed_meta_data_for_testing = before


def _entities(doc: Drawing) -> list[tuple[str, dict[str, object]]]:
    """Everything drawn, block by block, without handles."""
    rows = []
    for block in sorted(doc.blocks, key=lambda b: b.name):
        for entity in block:
            named = {k: v for k, v in entity.dxfattribs().items() if k not in ("handle", "owner")}
            points = list(entity.get_points("xyb")) if entity.dxftype() == "LWPOLYLINE" else []
            rows.append((f"{block.name} {entity.dxftype()} {points}", named))
    return rows


def test_the_file_is_what_this_module_draws(tmp_path: Path) -> None:
    write(tmp_path / "again.dxf")
    kept, again = ezdxf.readfile(FILE), ezdxf.readfile(tmp_path / "again.dxf")
    assert _entities(kept) == _entities(again)
    assert len(_entities(kept)) > 20
    assert kept.header["$INSUNITS"] == again.header["$INSUNITS"] == 1


def test_the_outline_comes_back_in_the_architects_coordinates() -> None:
    """Each corner at 25.4 times its inches; A is the lowest corner, so the loop starts there."""
    floor = read_floor(FILE, "A-WALL", None)
    assert (floor.unit, floor.unit_mm) == ("in", 25.4)
    expected = [tuple(25.4 * v for v in PLACED.outward(CORNERS[name])) for name in "ABCDEFG"]
    assert np.array(floor.outer.vertices) == pytest.approx(np.array(expected), abs=1e-6)
    # rise / (chord / 2) = 9 / 48, outwards
    assert floor.outer.bulges == pytest.approx([0, 0, 9 / 48, 0, 0, 0, 0], abs=1e-9)


def test_the_area_counts_the_bow_exactly() -> None:
    """264 x 168 less the 96 x 36 notch, and the bow: 132.5²/2 * (2a - sin 2a) with sin a = 48/132.5."""
    a = math.asin(48 / 132.5)
    inches = 264 * 168 - 96 * 36 + 132.5**2 / 2 * (2 * a - math.sin(2 * a))
    assert read_floor(FILE, "A-WALL", None).outer.area == pytest.approx(inches * 25.4**2, rel=1e-9)


def test_three_columns_stand_in_it() -> None:
    """Largest first: the column 12 x 16 = 192, the chase 18 x 10 = 180 square inches, the 4-1/2" pipe."""
    column, chase, pipe = read_floor(FILE, "A-WALL", None).inner
    assert [column.area, chase.area] == pytest.approx([192 * 25.4**2, 180 * 25.4**2])
    turned = Frame(CHASE_AT, CHASE_TURN)
    corners = [tuple(25.4 * v for v in PLACED.outward(turned.outward(p))) for p in CHASE]
    assert np.array(sorted(chase.vertices)) == pytest.approx(np.array(sorted(corners)), abs=1e-6)
    assert pipe.circle is not None
    assert pipe.circle[0] == pytest.approx([25.4 * v for v in PLACED.outward(PIPE)])
    assert pipe.circle[1] == pytest.approx(2.25 * 25.4)


def test_seen_from_its_base_wall_the_floor_is_square_to_the_room_frame() -> None:
    floor = read_floor(FILE, "a-wall", "in")
    frame = frame_of(floor.outer)
    assert frame.angle_deg == pytest.approx(17.3)
    seen = floor.outer.seen_in(frame)
    inches = [tuple(25.4 * v for v in CORNERS[name]) for name in "ABCDEFG"]
    assert np.array(seen.vertices) == pytest.approx(np.array(inches), abs=1e-6)
    assert floor.inner[0].seen_in(frame).area == pytest.approx(192 * 25.4**2)


def test_the_way_back_lands_on_their_drawing() -> None:
    """Room frame out through the placement and divided by the unit gives the numbers in their file."""
    floor = read_floor(FILE, "A-WALL", None)
    frame = frame_of(floor.outer, base=3)
    back = [frame.outward(p) for p in floor.outer.seen_in(frame).vertices]
    theirs = {(round(e.dxf.start.x, 6), round(e.dxf.start.y, 6)) for e in ezdxf.readfile(FILE).query("LINE")}
    assert {(round(x / 25.4, 6), round(y / 25.4, 6)) for x, y in back} >= {p for p in theirs if p[0] > 1000}


def test_gdal_reads_the_same_walls() -> None:
    """A second reader: GDAL's lines on A-WALL in model space, straight ones exactly, arcs as points on our circle."""
    meta, _, shapes, columns = read(FILE, columns=["Layer", "PaperSpace"])
    layer, paper = (columns[list(meta["fields"]).index(name)] for name in ("Layer", "PaperSpace"))
    walls = np.array([name.upper() == "A-WALL" for name in layer]) & (paper != 1)
    parts = shapely.get_parts(shapely.from_wkb(shapes[walls]))
    theirs = shapely.union_all(parts[shapely.get_dimensions(parts) == 1])

    floor = read_floor(FILE, "A-WALL", None)
    loops = (floor.outer, *floor.inner)
    straight = [(s.start, s.end) for loop in loops for s in loop.strokes() if not s.bulge]
    ours = shapely.MultiLineString([[tuple(v / 25.4 for v in p) for p in line] for line in straight])
    assert len(straight) == 6 + 4 + 4
    assert theirs.buffer(1e-6).covers(ours)

    bowed = shapely.get_coordinates(theirs.difference(ours.buffer(1e-6)))
    assert len(bowed) > 10
    arcs = [arc_of(s.start, s.end, s.bulge) for loop in loops for s in loop.strokes() if s.bulge]
    off = [min(abs(math.dist(p * 25.4, a.centre) - a.radius) for a in arcs) for p in bowed]
    assert max(off) < 1e-3
