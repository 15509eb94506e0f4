"""A room from somebody else's DXF: ours lands exactly on theirs, as GDAL sees both; and bowed rooms from end to end.

GDAL shares no code with the reader or the writer. It turns arcs into chords; here at a twentieth of a degree, whose
sagitta on the 132.5 in bow of the attic is 132.5 * (1 - cos 0.025°) = 0.00001 in.
"""

import math
from pathlib import Path

import ezdxf
import numpy as np
import pyogrio
import pytest
import shapely
from shapely import LineString

from planner.arcs import arc_of
from planner.documents import parse_document
from planner.drawing.roles import Role
from planner.drawing.sheets import SheetWish, draw
from planner.drawing.stylebook import load_style
from planner.geometry import Frame
from planner.planning import Plan, plan
from planner.render.dxf import write_dxf
from planner.room.reader import brief_from

FIXTURES = Path(__file__).parents[2] / "fixtures"
ATTIC = FIXTURES / "floors" / "attic-office.dxf"
STYLE = load_style("us-ncs")
WALLS, COLUMNS = (STYLE.layer(role).name for role in (Role.WALL, Role.COLUMN))
UNIT_MM = {"in": 25.4, "ft": 304.8, "mm": 1.0, "cm": 10.0, "m": 1000.0}
CODES = {"in": 1, "ft": 2, "mm": 4, "cm": 5, "m": 6}  #: $INSUNITS, DXF reference
WITHIN_MM = 0.01


def planned(drawing: Path, layer: str, more: str = "", units: str = "mm") -> Plan:
    text = f"""
job: Room from a drawing
units: {units}
room:
  dxf: {{file: "{drawing}", layer: {layer}}}
{more}
grid: {{system: lay-in-metric, module: [600, 600]}}
"""
    return plan(brief_from(parse_document(text, str(drawing.parent / "room.yaml"))))


def written(made: Plan, path: Path, sheets: int = 9) -> Path:
    path.write_bytes(write_dxf(draw(made, STYLE, SheetWish())[:sheets], STYLE))
    return path


def lines_on(path: Path, layer: str) -> shapely.Geometry:
    """Everything linear on a layer of model space, arcs as fine chords, in the file's own unit."""
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "0.05", "DXF_ENCODING": "UTF-8"})
    try:
        meta, _, shapes, columns = pyogrio.raw.read(path, columns=["Layer", "PaperSpace"])
    finally:
        pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": None, "DXF_ENCODING": None})
    names, paper = (columns[list(meta["fields"]).index(name)] for name in ("Layer", "PaperSpace"))
    wanted = np.array([name.upper() == layer.upper() for name in names]) & (paper != 1)
    parts = shapely.get_parts(shapely.from_wkb(shapes[wanted]))
    return shapely.union_all([to_line(part) for part in parts if shapely.get_dimensions(part) > 0])


def to_line(shape: shapely.Geometry) -> shapely.Geometry:
    return shape.boundary if shape.geom_type == "Polygon" else shape


def strays(one: shapely.Geometry, other: shapely.Geometry) -> float:
    """How far a line gets from another, at most."""
    shapely.prepare(other)
    fine = shapely.segmentize(one, one.length / 4000)
    return float(np.max(shapely.distance(other, shapely.points(shapely.get_coordinates(fine)))))


def first_drawing(lines: shapely.Geometry, theirs: shapely.Geometry) -> shapely.Geometry:
    """Those of our lines that lie near theirs: other sheets' drawings stand beside the first."""
    near = theirs.envelope.buffer(0.2 * math.sqrt(theirs.envelope.area))
    return shapely.union_all([part for part in shapely.get_parts(lines) if part.intersects(near)])


@pytest.mark.parametrize("base_wall", ["", "  base_wall: D-E", "  base_wall: C-D"])
def test_the_attic_lands_on_the_architects_walls(base_wall: str, tmp_path: Path) -> None:
    """Whichever wall the room frame lies along, even the bowed one: theirs is on ours, and our walls are on theirs."""
    made = planned(ATTIC, "A-WALL", base_wall)
    path = written(made, tmp_path / "ours.dxf")
    theirs = lines_on(ATTIC, "A-WALL")
    walls = first_drawing(lines_on(path, WALLS), theirs)
    columns = first_drawing(lines_on(path, COLUMNS), theirs)
    assert walls.length == pytest.approx(made.room.perimeter / 25.4, rel=1e-6)
    assert strays(walls, theirs) <= WITHIN_MM / 25.4
    assert strays(theirs, shapely.union_all([walls, columns])) <= WITHIN_MM / 25.4
    assert ezdxf.readfile(path).units == CODES["in"]


def test_a_room_out_of_place_would_be_told() -> None:
    """The measure above sees a shift of a twentieth of a millimetre."""
    theirs = lines_on(ATTIC, "A-WALL")
    assert strays(shapely.transform(theirs, lambda at: at + 0.05 / 25.4), theirs) > WITHIN_MM / 25.4


def their_drawing(path: Path, unit: str, clockwise: bool) -> None:
    """A 6 x 4 m room, one wall bowed out by 0.3 and one in by 0.2 m, somewhere far off and turned by 203°."""
    document = ezdxf.new("R2010", units=CODES[unit])
    place = Frame((123_456_700.0, -65_432_100.0), 203.0)
    corners = [(0.0, 0.0), (6000.0, 0.0), (6000.0, 4000.0), (0.0, 4000.0)]
    bulges = [0.0, -2 * 200 / 4000, 2 * 300 / 6000, 0.0]
    if clockwise:
        corners, bulges = [corners[0], *corners[:0:-1]], [-b for b in reversed(bulges)]
    rows = [(*(c / UNIT_MM[unit] for c in place.outward(p)), b) for p, b in zip(corners, bulges, strict=True)]
    document.layers.add("WALLS")
    document.modelspace().add_lwpolyline(rows, format="xyb", close=True, dxfattribs={"layer": "WALLS"})
    document.saveas(path)


@pytest.mark.parametrize("unit", UNIT_MM)
@pytest.mark.parametrize("clockwise", [False, True])
def test_any_unit_and_any_sense_land_where_they_came_from(unit: str, clockwise: bool, tmp_path: Path) -> None:
    """Far from the origin too: 140 km away a float still holds a ten-thousandth of a millimetre."""
    their_drawing(tmp_path / "theirs.dxf", unit, clockwise)
    made = planned(tmp_path / "theirs.dxf", "WALLS")
    path = written(made, tmp_path / "ours.dxf")
    theirs = lines_on(tmp_path / "theirs.dxf", "WALLS")
    walls = first_drawing(lines_on(path, WALLS), theirs)
    assert strays(walls, theirs) <= WITHIN_MM / UNIT_MM[unit]
    assert strays(theirs, walls) <= WITHIN_MM / UNIT_MM[unit]
    document = ezdxf.readfile(path)
    assert document.units == CODES[unit]
    assert not document.audit().errors


def test_a_room_made_from_our_own_dxf_is_the_same_room(tmp_path: Path) -> None:
    made = planned(ATTIC, "A-WALL")
    again = planned(written(made, tmp_path / "ours.dxf", sheets=1), WALLS)
    assert [wall.length for wall in again.room.walls] == pytest.approx([wall.length for wall in made.room.walls])
    assert [wall.bulge for wall in again.room.walls] == pytest.approx([wall.bulge for wall in made.room.walls])
    assert made.room.placement is not None and again.room.placement is not None
    assert again.room.placement.frame.origin == pytest.approx(made.room.placement.frame.origin, abs=1e-4)
    assert again.room.placement.frame.angle_deg == pytest.approx(made.room.placement.frame.angle_deg, abs=1e-6)


def test_the_sheets_of_the_attic_read_upright(tmp_path: Path) -> None:
    """Their drawing lies at 17.3°, so every view of ours is twisted by 360 - 17.3 = 342.7."""
    document = ezdxf.readfile(written(planned(ATTIC, "A-WALL"), tmp_path / "ours.dxf"))
    views = [view for name in document.layout_names() if name != "Model" for view in document.layout(name).viewports()]
    twists = [view.dxf.view_twist_angle for view in views if view.dxf.id > 1]
    assert twists
    assert twists == pytest.approx([342.7] * len(twists))


# --- bowed walls ------------------------------------------------------------------------------------------------------

BOWED = """
job: Bowed
units: mm
room:
  rectangle: [6200, 4100]
  bowed_walls: {C-D: 250, B-C: -120}
grid: {system: lay-in-metric, module: [600, 600]%s}
"""


def bowed(borders: str = "") -> Plan:
    asked = f", borders: {{{borders}}}" if borders else ""
    return plan(brief_from(parse_document(BOWED % asked, "bowed.yaml")))


def test_borders_along_a_bow_are_worked_out_from_chord_and_rise() -> None:
    """Asked for 300 in front and 340 at the left, the lines lie at y = 300 + 600k and x = 340 + 600k.

    C-D stands at y = 4100 at its corners and 4350 at its apex; the last line in front of it is y = 3900: 200 to 450.
    B-C stands at x = 6200 at its corners and 6080 at its apex; the last line before it is x = 5740: 340 to 460.
    Chords lie up to 0.1 mm inside the room.
    """
    borders = {b.wall: (b.least, b.most) for b in bowed("front: 300, left: 340").ceiling.layout.borders}
    assert borders["A-B"] == pytest.approx((300.0, 300.0))
    assert borders["D-A"] == pytest.approx((340.0, 340.0))
    assert borders["C-D"] == pytest.approx((200.0, 450.0), abs=0.11)
    assert borders["B-C"] == pytest.approx((340.0, 460.0), abs=0.11)


def segment(chord: float, rise: float) -> float:
    """Area between chord and arc by the exact formula: R²/2 (s - sin s), R = c²/(8r) + r/2, sin(s/2) = c/(2R)."""
    radius = chord**2 / (8 * rise) + rise / 2
    sweep = 2 * math.asin(chord / (2 * radius))
    return radius**2 / 2 * (sweep - math.sin(sweep))


def test_panels_cover_the_bowed_room_and_its_area_is_that_of_the_circle() -> None:
    """6200 x 4100 plus the bow of C-D less that of B-C; chords cost at most 0.1 mm along either wall."""
    made = bowed()
    exact = 6200 * 4100 + segment(6200, 250) - segment(4100, 120)
    assert 0 <= exact - made.room.area <= 0.1 * (6230 + 4115)
    layout, room = made.ceiling.layout, shapely.Polygon(made.room.outline)
    pieces = [shapely.Polygon(panel.outline, panel.holes) for panel in layout.cut_panels]
    whole = sum(run.count for run in layout.full_runs) * 600 * 600
    assert sum(piece.area for piece in pieces) + whole == pytest.approx(room.area, rel=1e-7)
    assert all(room.buffer(0.01).covers(piece) for piece in pieces)


def test_wall_angle_follows_the_bow() -> None:
    """An arc over chord c with rise r is R * s long: 6226.85 and 4109.36 mm, not 6200 and 4100."""
    angle = {m.id: m for m in bowed().ceiling.members if m.kind == "wall angle"}
    for name, chord, rise in (("W3", 6200, 250), ("W2", 4100, 120)):
        radius = chord**2 / (8 * rise) + rise / 2
        assert angle[name].length == pytest.approx(radius * 2 * math.asin(chord / (2 * radius)), abs=1e-6)
        assert abs(angle[name].bulge) == pytest.approx(2 * rise / chord)
    assert (angle["W1"].length, angle["W4"].length) == pytest.approx((6200.0, 4100.0))


def test_tees_end_on_the_arc() -> None:
    """Every tee that runs up to C-D ends within a chord's 0.1 mm of its circle."""
    made = bowed()
    wall = next(wall for wall in made.room.walls if wall.name == "C-D")
    arc = arc_of(wall.start, wall.end, wall.bulge)
    line = LineString(wall.points)
    ends = [m.end for m in made.ceiling.members if m.kind != "wall angle"]
    on_wall = [p for p in ends if line.distance(shapely.Point(p)) < 0.01]
    assert len(on_wall) >= 9
    assert max(abs(math.dist(p, arc.centre) - arc.radius) for p in on_wall) <= 0.11
