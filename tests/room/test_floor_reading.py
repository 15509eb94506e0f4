"""DXF files as other people's programs write them: entities, blocks, mirrors, layers, units; and what is no DXF."""

import math
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

import ezdxf
import pytest
from ezdxf import units as dxf_units
from ezdxf.document import Drawing
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.arcs import arc_of
from planner.errors import InputError
from planner.geometry import Frame, edges
from planner.limits import USUAL, Limits
from planner.room.drawn.dxf import HEADER_UNITS, read_floor
from planner.room.drawn.floor import Floor

ROOM = [(0.0, 0.0), (5000.0, 0.0), (5000.0, 4000.0), (0.0, 4000.0)]
ON = {"layer": "A-WALL"}

WORDS = {"in": "inches", "ft": "feet", "mm": "millimetres", "cm": "centimetres", "m": "metres"}


@pytest.fixture
def doc() -> Drawing:
    """An empty drawing in millimetres."""
    return ezdxf.new("R2010", units=4)


@pytest.fixture
def walled(doc: Drawing) -> Drawing:
    """A plain room, 5 x 4 m."""
    doc.modelspace().add_lwpolyline(ROOM, close=True, dxfattribs=ON)
    return doc


@pytest.fixture
def reads(tmp_path: Path):
    """Save a drawing and read its floor."""

    def read(
        doc: Drawing,
        layer: str | None = "A-WALL",
        units: str | None = None,
        fmt: str = "asc",
        limits: Limits = USUAL,
    ) -> Floor:
        doc.saveas(tmp_path / "floor.dxf", fmt=fmt)
        return read_floor(tmp_path / "floor.dxf", layer, units, limits=limits)

    return read


def rules(floor: Floor) -> list[str]:
    return [f.rule for f in floor.findings][1:]


# ---------------------------------------------------------------- entities


def test_a_closed_polyline(walled, reads) -> None:
    floor = reads(walled)
    assert floor.outer.vertices == tuple(ROOM)
    assert floor.layer == "A-WALL"
    assert rules(floor) == []


@pytest.mark.parametrize("fmt", ["asc", "bin"])
def test_text_and_binary_files(walled, reads, fmt) -> None:
    assert reads(walled, fmt=fmt).outer.vertices == tuple(ROOM)


def test_a_polyline_that_ends_where_it_began_without_being_closed(doc, reads) -> None:
    doc.modelspace().add_lwpolyline([*ROOM, ROOM[0]], dxfattribs=ON)
    assert reads(doc).outer.vertices == tuple(ROOM)


def test_a_polyline_closed_twice(doc, reads) -> None:
    """Flagged closed and ending on its first vertex as well."""
    doc.modelspace().add_lwpolyline([*ROOM, ROOM[0]], close=True, dxfattribs=ON)
    assert reads(doc).outer.vertices == tuple(ROOM)


def test_a_two_point_polyline_flagged_closed_is_a_line(doc, reads) -> None:
    for k in range(4):
        doc.modelspace().add_lwpolyline([ROOM[k], ROOM[(k + 1) % 4]], close=True, dxfattribs=ON)
    assert reads(doc).outer.vertices == tuple(ROOM)


def test_bulges_of_both_kinds_of_polyline(doc, reads) -> None:
    """The right wall bows out by 500 over 4000: bulge 500/2000."""
    rows = [(x, y, 0.25 if k == 1 else 0.0) for k, (x, y) in enumerate(ROOM)]
    doc.modelspace().add_lwpolyline(rows, format="xyb", close=True, dxfattribs=ON)
    old = ezdxf.new("R2010", units=4)
    old.modelspace().add_polyline2d(rows, format="xyb", close=True, dxfattribs=ON)
    assert reads(doc).outer == reads(old).outer
    assert reads(old).outer.bulges == (0.0, 0.25, 0.0, 0.0)


def test_an_r12_file_has_polylines_and_no_unit(reads) -> None:
    doc = ezdxf.new("R12")
    doc.modelspace().add_polyline2d(ROOM, close=True, dxfattribs=ON)
    assert reads(doc, units="mm").outer.vertices == tuple(ROOM)
    with pytest.raises(InputError, match=r"does not say in which unit.*\n +Give units: mm, cm, m, in, ft"):
        reads(doc)


def test_a_polyline_in_space_is_looked_at_from_above(doc, reads) -> None:
    doc.modelspace().add_polyline3d([(*p, k * 100.0) for k, p in enumerate(ROOM)], close=True, dxfattribs=ON)
    assert reads(doc).outer.vertices == tuple(ROOM)


def test_points_that_only_steer_a_spline_are_no_corners(doc, reads) -> None:
    polyline = doc.modelspace().add_polyline2d([*ROOM[:2], (9000, 2000), *ROOM[2:]], close=True, dxfattribs=ON)
    polyline.vertices[2].dxf.flags |= 16
    assert reads(doc).outer.vertices == tuple(ROOM)


def test_lines_at_different_heights_and_one_that_stands_upright(doc, reads) -> None:
    for k in range(4):
        doc.modelspace().add_line((*ROOM[k], k * 10), (*ROOM[(k + 1) % 4], 2500), dxfattribs=ON)
    doc.modelspace().add_line((0, 0, 0), (0, 0, 2500), dxfattribs=ON)
    assert reads(doc).outer.vertices == tuple(ROOM)


def test_an_arc_across_the_zero_direction(doc, reads) -> None:
    """From 270 to 90 degrees about (5000, 2000): the right wall is a half circle of radius 2000."""
    doc.modelspace().add_lwpolyline([ROOM[2], ROOM[3], ROOM[0], ROOM[1]], dxfattribs=ON)
    doc.modelspace().add_arc((5000, 2000), 2000, 270, 90, dxfattribs=ON)
    floor = reads(doc)
    assert floor.outer.bulges == pytest.approx((0, 1, 0, 0))
    assert floor.outer.area == pytest.approx(20e6 + math.pi * 2000**2 / 2)


def test_an_arc_from_an_angle_to_itself_is_a_circle(walled, reads) -> None:
    walled.modelspace().add_arc((1000, 1000), 150, 30, 390, dxfattribs=ON)
    assert reads(walled).inner[0].circle == ((1000.0, 1000.0), 150.0)


def test_a_round_room(doc, reads) -> None:
    doc.modelspace().add_circle((7000, 7000), 3000, dxfattribs=ON)
    assert reads(doc).outer.circle == ((7000.0, 7000.0), 3000.0)


@settings(max_examples=30, deadline=None)
@given(
    radii=st.lists(st.floats(3000, 9000), min_size=4, max_size=8),
    bulges=st.lists(st.sampled_from([0.0, 0.0, 0.06, -0.04]), min_size=8, max_size=8),
    dice=st.randoms(use_true_random=False),
    place=st.tuples(st.floats(-1e6, 1e6), st.floats(-1e6, 1e6), st.floats(0, 360)),
    code=st.sampled_from(sorted(HEADER_UNITS)),
)
def test_any_floor_comes_back_through_a_file(radii, bulges, dice, place, code) -> None:
    """Corners in polar order, drawn as LINEs and ARCs in any order and direction, turned, far off, in any unit."""
    count, unit, placed = len(radii), HEADER_UNITS[code][1], Frame(place[:2], place[2])
    turns = [2 * math.pi * k / count for k in range(count)]
    ring = [placed.outward((r * math.cos(t), r * math.sin(t))) for r, t in zip(radii, turns, strict=True)]
    doc = ezdxf.new("R2010", units=code)
    walls = list(zip(edges([(x / unit, y / unit) for x, y in ring]), bulges, strict=False))
    for (start, end), bulge in dice.sample(walls, count):
        _draw(doc, *dice.choice([(start, end, bulge), (end, start, -bulge)]))
    with TemporaryDirectory() as folder:
        doc.saveas(Path(folder) / "floor.dxf")
        outer = read_floor(Path(folder) / "floor.dxf", "A-WALL", None).outer
    first = min(range(count), key=lambda k: math.dist(ring[k], outer.vertices[0]))
    assert len(outer.vertices) == count
    for k, vertex in enumerate(outer.vertices):
        assert math.dist(vertex, ring[(first + k) % count]) < 1e-6
        assert outer.bulges[k] == pytest.approx(bulges[(first + k) % count], abs=1e-9)


def _draw(doc: Drawing, start, end, bulge: float) -> None:
    """A wall as a drafter has it: an ARC runs counter-clockwise whichever way one walks."""
    if not bulge:
        doc.modelspace().add_line(start, end, dxfattribs=ON)
        return
    arc = arc_of(start, end, bulge)
    angles = (arc.start_deg, arc.end_deg) if bulge > 0 else (arc.end_deg, arc.start_deg)
    doc.modelspace().add_arc(arc.centre, arc.radius, *angles, dxfattribs=ON)


# ---------------------------------------------------------------- seen from below


def test_what_was_mirrored_in_space_lies_where_it_is_seen(doc, reads) -> None:
    """With extrusion (0, 0, -1) the stored x is the negative of the one seen, and the bow changes its sign."""
    below = ON | {"extrusion": (0, 0, -1)}
    rows = [(-x, y, -0.25 if k == 1 else 0.0) for k, (x, y) in enumerate(ROOM)]
    doc.modelspace().add_lwpolyline(rows, format="xyb", close=True, dxfattribs=below)
    doc.modelspace().add_circle((-1000, 900), 100, dxfattribs=below)
    floor = reads(doc)
    assert floor.outer.vertices == tuple(ROOM)
    assert floor.outer.bulges == (0.0, 0.25, 0.0, 0.0)
    assert floor.inner[0].circle[0] == pytest.approx((1000, 900))


def test_a_mirrored_arc_joins_the_lines_it_was_drawn_to(doc, reads) -> None:
    doc.modelspace().add_lwpolyline([ROOM[2], ROOM[3], ROOM[0], ROOM[1]], dxfattribs=ON)
    doc.modelspace().add_arc((-5000, 2000), 2000, 90, 270, dxfattribs=ON | {"extrusion": (0, 0, -1)})
    assert reads(doc).outer.area == pytest.approx(20e6 + math.pi * 2000**2 / 2)


def test_a_circle_on_a_slope_is_named(walled, reads) -> None:
    walled.modelspace().add_circle((1000, 900), 100, dxfattribs=ON | {"extrusion": (0, 0.5, 1)})
    floor = reads(walled)
    assert floor.inner == ()
    assert [f.message for f in floor.findings if f.rule == "shape not read"] == [
        "layer A-WALL also holds 1 tilted CIRCLE; only lines, arcs and circles are read"
    ]


# ---------------------------------------------------------------- blocks


def test_a_block_on_layer_0_takes_the_layer_of_its_insert(walled, reads) -> None:
    block = walled.blocks.new("COLUMN", base_point=(50, 50))
    block.add_lwpolyline([(0, 0), (100, 0), (100, 100), (0, 100)], close=True)
    walled.modelspace().add_blockref("COLUMN", (1000, 1000), dxfattribs={"layer": "a-wall"})
    walled.modelspace().add_blockref("COLUMN", (2000, 1000), dxfattribs={"layer": "A-FURN"})
    (column,) = reads(walled).inner
    assert column.vertices == ((950, 950), (1050, 950), (1050, 1050), (950, 1050))


def test_other_layers_inside_a_block_stay_what_they_are(walled, reads) -> None:
    block = walled.blocks.new("BAY")
    block.add_circle((0, 0), 100, dxfattribs=ON)
    block.add_circle((500, 0), 100, dxfattribs={"layer": "A-FURN"})
    walled.modelspace().add_blockref("BAY", (1000, 1000), dxfattribs={"layer": "A-FURN"})
    assert [c.circle for c in reads(walled).inner] == [((1000.0, 1000.0), 100.0)]


def test_blocks_in_blocks_turned_scaled_and_mirrored(walled, reads) -> None:
    """A pipe at (100, 0) in its block; doubled and turned by 90: (0, 200); mirrored in x and moved: (2000, 1200).

    Layer 0 passes through both blocks to the layer of the outer insert. Its radius doubles.
    """
    walled.blocks.new("PIPE").add_circle((100, 0), 30)
    outer = walled.blocks.new("RISER")
    outer.add_blockref("PIPE", (0, 0), dxfattribs={"rotation": 90, "xscale": 2, "yscale": 2})
    walled.modelspace().add_blockref("RISER", (2000, 1000), dxfattribs=ON | {"xscale": -1, "yscale": 1})
    (pipe,) = reads(walled).inner
    assert pipe.circle[0] == pytest.approx((2000, 1200))
    assert pipe.circle[1] == pytest.approx(60)


def test_a_mirrored_block_turns_its_bows_round(doc, reads) -> None:
    rows = [(x, y, 0.25 if k == 1 else 0.0) for k, (x, y) in enumerate(ROOM)]
    doc.blocks.new("ROOM").add_lwpolyline(rows, format="xyb", close=True)
    doc.modelspace().add_blockref("ROOM", (0, 0), dxfattribs=ON | {"xscale": -1})
    floor = reads(doc)
    assert floor.outer.vertices[0] == pytest.approx((-5000, 0))
    assert floor.outer.bulges == pytest.approx((0, 0, 0, 0.25))


def test_a_block_seen_from_below(walled, reads) -> None:
    """Extrusion (0, 0, -1) on the insert: its place is mirrored too, so -1000 is seen at 1000."""
    walled.blocks.new("PIPE").add_circle((100, 0), 30)
    walled.modelspace().add_blockref("PIPE", (-1000, 500), dxfattribs=ON | {"extrusion": (0, 0, -1)})
    assert reads(walled).inner[0].circle[0] == pytest.approx((900, 500))


def test_rows_and_columns_of_a_block_are_turned_and_not_scaled(walled, reads) -> None:
    """Three columns 500 apart, turned by 90: they stand above one another, 500 apart, whatever the scale."""
    walled.blocks.new("PIPE").add_circle((0, 0), 30)
    grid = {"column_count": 3, "column_spacing": 500, "row_count": 2, "row_spacing": 0, "rotation": 90}
    walled.modelspace().add_blockref("PIPE", (1000, 1000), dxfattribs=ON | grid | {"xscale": 2, "yscale": 2})
    centres = sorted(c.circle[0] for c in reads(walled).inner)
    assert [c[1] for c in centres] == pytest.approx([1000, 1500, 2000])
    assert [c[0] for c in centres] == pytest.approx([1000] * 3)


def test_rows_seen_from_below_run_to_the_other_side(walled, reads) -> None:
    """From -1000, -1500 as stored: seen at 1000 and 1500 the other way round."""
    walled.blocks.new("PIPE").add_circle((0, 0), 30)
    grid = {"column_count": 2, "column_spacing": -500, "extrusion": (0, 0, -1)}
    walled.modelspace().add_blockref("PIPE", (-1000, 900), dxfattribs=ON | grid)
    assert sorted(c.circle[0][0] for c in reads(walled).inner) == pytest.approx([1000, 1500])


def test_our_unfolding_agrees_with_the_librarys(doc, reads) -> None:
    """A second opinion: the library's own explosion of a nested, turned, mirrored, repeated insert of lines."""
    doc.blocks.new("INNER", base_point=(7, 9)).add_lwpolyline([(0, 0), (300, 0), (300, 200), (90, 400)], close=True)
    doc.blocks.new("OUTER", base_point=(-3, 5)).add_blockref(
        "INNER", (40, 60), dxfattribs={"rotation": 33, "yscale": -1}
    )
    place = {"rotation": 21, "xscale": 1.5, "yscale": 1.5, "column_count": 2, "column_spacing": 900}
    insert = doc.modelspace().add_blockref("OUTER", (12e5, 8e5), dxfattribs=ON | place)
    theirs = [
        (p.x, p.y)
        for copy in insert.multi_insert()
        for nested in copy.virtual_entities()
        for polyline in nested.virtual_entities()
        for p in polyline.vertices_in_wcs()
    ]
    doc.modelspace().add_lwpolyline(
        [(1190000, 790000), (1210000, 790000), (1210000, 810000), (1190000, 810000)], close=True, dxfattribs=ON
    )
    ours = [p for c in reads(doc).inner for p in c.vertices]
    assert len(ours) == len(theirs) == 8
    for p in theirs:
        assert min(math.dist(p, q) for q in ours) < 1e-6


def test_a_stretched_block_keeps_its_lines_and_names_its_arcs(walled, reads) -> None:
    block = walled.blocks.new("COLUMN")
    block.add_lwpolyline([(0, 0), (100, 0), (100, 100), (0, 100)], close=True)
    block.add_circle((500, 500), 40)
    walled.modelspace().add_blockref("COLUMN", (1000, 1000), dxfattribs=ON | {"xscale": 3, "yscale": 1})
    floor = reads(walled)
    assert floor.inner[0].area == pytest.approx(300 * 100)
    assert "1 stretched loop" in floor.findings[1].message


def test_what_a_block_hides_is_not_there(walled, reads) -> None:
    """Blocks with several states keep the other states in the file, invisible."""
    block = walled.blocks.new("DOOR")
    block.add_circle((0, 0), 100, dxfattribs={"invisible": 1})
    walled.modelspace().add_blockref("DOOR", (1000, 1000), dxfattribs=ON)
    walled.modelspace().add_blockref("DOOR", (2000, 1000), dxfattribs=ON | {"invisible": 1})
    assert reads(walled).inner == ()


def test_a_block_that_is_not_in_the_file(walled, reads) -> None:
    walled.modelspace().add_blockref("GONE", (0, 0), dxfattribs=ON)
    assert reads(walled).inner == ()


def test_a_block_that_holds_itself_is_refused(walled, reads) -> None:
    walled.blocks.new("SNAKE").add_blockref("SNAKE", (1, 1))
    walled.modelspace().add_blockref("SNAKE", (0, 0), dxfattribs=ON)
    with pytest.raises(InputError, match="block SNAKE holds itself"):
        reads(walled)


def test_a_small_file_cannot_unfold_into_a_huge_one(walled, reads) -> None:
    """Ten blocks, each ten times the one before: 10^10 lines."""
    walled.blocks.new("B0").add_line((0, 0), (1, 0))
    for k in range(10):
        block = walled.blocks.new(f"B{k + 1}")
        for j in range(10):
            block.add_blockref(f"B{k}", (j, k))
    walled.modelspace().add_blockref("B10", (0, 0), dxfattribs=ON)
    with pytest.raises(InputError, match="more than 200,000 lines"):
        reads(walled)


def test_nor_can_rows_and_columns(walled, reads) -> None:
    walled.blocks.new("DOT").add_line((0, 0), (1, 0))
    grid = {"column_count": 30000, "column_spacing": 1, "row_count": 30000, "row_spacing": 1}
    walled.modelspace().add_blockref("DOT", (0, 0), dxfattribs=ON | grid)
    with pytest.raises(InputError, match="more than 200,000 lines"):
        reads(walled)


def test_lines_on_other_layers_do_not_count(walled, reads) -> None:
    for k in range(20):
        walled.modelspace().add_line((0, k), (9, k), dxfattribs={"layer": "A-FURN"})
    assert reads(walled, limits=Limits(strokes=10)).outer.vertices == tuple(ROOM)


# ---------------------------------------------------------------- paper, layers


def test_paper_space_is_no_room(walled, reads) -> None:
    walled.layout("Layout1").add_circle((2000, 2000), 100, dxfattribs=ON)
    assert reads(walled).inner == ()


def test_text_and_hatches_on_the_layer_are_passed_over(walled, reads) -> None:
    walled.modelspace().add_text("ROOM 1", dxfattribs=ON)
    walled.modelspace().add_hatch(dxfattribs=ON).paths.add_polyline_path(ROOM, is_closed=True)
    walled.modelspace().add_linear_dim((0, 0), (0, 0), (5000, 0), dxfattribs=ON).render()
    assert rules(reads(walled)) == []


def test_splines_and_ellipses_are_named(walled, reads) -> None:
    walled.modelspace().add_spline([(0, 0, 0), (100, 50, 0), (300, 0, 0)], dxfattribs=ON)
    walled.modelspace().add_ellipse((1000, 1000), (300, 0), 0.5, dxfattribs=ON)
    (finding,) = reads(walled).findings[1:]
    assert finding.severity == "warn"
    assert "1 ELLIPSE, 1 SPLINE" in finding.message


def test_an_outline_left_open_by_a_spline_says_so(doc, reads) -> None:
    doc.modelspace().add_lwpolyline([ROOM[2], ROOM[3], ROOM[0], ROOM[1]], dxfattribs=ON)
    doc.modelspace().add_spline([(5000, 0, 0), (5400, 2000, 0), (5000, 4000, 0)], dxfattribs=ON)
    with pytest.raises(InputError, match=r"outline is open.*also holds 1 SPLINE"):
        reads(doc)


def test_the_layers_name_in_any_case(walled, reads) -> None:
    assert reads(walled, layer=" a-Wall ").layer == "A-WALL"


def test_without_a_layer_the_only_one_with_closed_outlines_is_taken(walled, reads) -> None:
    walled.modelspace().add_line((0, 0), (100, 0), dxfattribs={"layer": "A-DOOR"})
    assert reads(walled, layer=None).layer == "A-WALL"


def test_without_a_layer_and_several_to_choose_from_they_are_listed(walled, reads) -> None:
    walled.modelspace().add_circle((1000, 1000), 500, dxfattribs={"layer": "A-FURN"})
    with pytest.raises(InputError) as caught:
        reads(walled, layer=None)
    assert "2 layers hold closed outlines" in str(caught.value)
    assert "A-WALL (1 closed, the largest 5 by 4 m), A-FURN (1 closed, the largest 1 by 1 m)" in str(caught.value)


def test_a_layer_that_is_not_there_gets_the_list_and_a_guess(walled, reads) -> None:
    walled.modelspace().add_line((0, 0), (100, 0), dxfattribs={"layer": "A-DOOR"})
    with pytest.raises(InputError) as caught:
        reads(walled, layer="A-WALLS")
    text = str(caught.value)
    assert 'no lines are drawn on a layer "A-WALLS"' in text
    assert "Did you mean A-WALL? Closed outlines are on: A-WALL (1 closed, the largest 5 by 4 m)." in text
    assert "A-DOOR" not in text


def test_where_nothing_is_closed_the_layers_with_lines_are_listed(doc, reads) -> None:
    doc.modelspace().add_line((0, 0), (100, 0), dxfattribs={"layer": "A-DOOR"})
    for layer in ("A-WALL", None):
        with pytest.raises(InputError, match="No layer holds a closed outline; lines are on: A-DOOR"):
            reads(doc, layer=layer)


@pytest.mark.parametrize("layer", ["A-WALL", "", None])
def test_an_empty_drawing(doc, reads, layer) -> None:
    with pytest.raises(InputError, match="no lines in the model at all"):
        reads(doc, layer=layer)


def test_a_very_long_list_of_layers_is_cut(doc, reads) -> None:
    for k in range(40):
        doc.modelspace().add_circle((0, 0), 900 + k, dxfattribs={"layer": f"L{k}"})
    with pytest.raises(InputError, match="and 20 more"):
        reads(doc, layer=None)


# ---------------------------------------------------------------- units


@pytest.mark.parametrize("code", [1, 2, 4, 5, 6, 10, 14])
def test_the_drawings_unit_agrees_with_the_librarys_table(code, reads) -> None:
    """The library gives metres to ten digits."""
    metre = dxf_units.conversion_factor(dxf_units.M, code)
    assert HEADER_UNITS[code][1] == pytest.approx(1000 / metre, rel=1e-8)
    doc = ezdxf.new("R2010", units=code)
    doc.modelspace().add_lwpolyline([(x / 1000 * metre, y / 1000 * metre) for x, y in ROOM], close=True, dxfattribs=ON)
    floor = reads(doc)
    assert floor.outer.area == pytest.approx(20e6, rel=1e-7)
    unit = HEADER_UNITS[code][0]
    assert f"was read in {WORDS.get(unit, unit)}, as it says of itself" in floor.findings[0].message


def test_a_survey_foot_is_two_millionths_longer() -> None:
    """1200/3937 m (from memory: the US definition of 1893)."""
    assert HEADER_UNITS[21][1] / 304.8 - 1 == pytest.approx(2.0e-6, rel=1e-3)


def test_the_unit_told_wins_over_the_drawings(reads) -> None:
    doc = ezdxf.new("R2010", units=6)
    doc.modelspace().add_lwpolyline(ROOM, close=True, dxfattribs=ON)
    floor = reads(doc, units="mm")
    assert floor.outer.vertices == tuple(ROOM)
    assert "as told, though it says metres of itself" in floor.findings[0].message


def test_millimetres_said_to_be_metres_are_asked_about(reads) -> None:
    doc = ezdxf.new("R2010", units=6)
    doc.modelspace().add_lwpolyline(ROOM, close=True, dxfattribs=ON)
    with pytest.raises(InputError, match=r"is this room 5e\+03 m long|is this room 5000 m long"):
        reads(doc)


@pytest.mark.parametrize("code", [0, 3, 18, 99])
def test_a_drawing_without_a_useful_unit_asks_for_one(walled, reads, code) -> None:
    walled.header["$INSUNITS"] = code
    with pytest.raises(InputError, match="Give units: mm, cm, m, in, ft"):
        reads(walled)
    assert reads(walled, units="mm").outer.vertices == tuple(ROOM)


@pytest.mark.parametrize("units", ["ft-in", "MM", "", "furlong"])
def test_a_unit_that_is_none(walled, reads, units) -> None:
    with pytest.raises(InputError, match="is no unit of a drawing"):
        reads(walled, units=units)


def test_a_gap_is_measured_in_millimetres_whatever_the_unit(reads) -> None:
    """0.03 in = 0.762 mm is closed, 0.05 in = 1.27 mm is not and is told in both."""
    for gap, closes in ((0.03, True), (0.05, False)):
        doc = ezdxf.new("R2010", units=1)
        doc.modelspace().add_lwpolyline([(gap, 0), (200, 0), (200, 150), (0, 150), (0, 0)], dxfattribs=ON)
        if closes:
            assert rules(reads(doc)) == ["gap in the outline"]
        else:
            with pytest.raises(InputError) as caught:
                reads(doc)
            assert "(0.05, 0) in = (1.3, 0.0) mm and (0, 0) in" in str(caught.value)
            assert "are 0.05 in (1.27 mm) apart" in str(caught.value)


# ---------------------------------------------------------------- files


def refusal(path: Path) -> str:
    with pytest.raises(InputError) as caught:
        read_floor(path, "A-WALL", None)
    assert str(path) in str(caught.value)
    return str(caught.value)


def test_a_missing_file_and_a_folder(tmp_path) -> None:
    assert "there is no such file" in refusal(tmp_path / "none.dxf")
    assert "is a folder" in refusal(tmp_path)
    assert "cannot be read" in refusal(tmp_path / ("long" * 200))


def test_a_name_with_a_nul() -> None:
    with pytest.raises(InputError, match="no such file"):
        read_floor(Path("floor\0.dxf"), "A-WALL", None)


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "is empty"),
        (b"AC1032\0\0\0\0" + bytes(200), "DWG"),
        (b"\x89PNG\r\n\x1a\n" + bytes(range(256)), "is not a DXF file"),
        (b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n", "is not a DXF file"),
        (b"room: {rectangle: [5 m, 4 m]}\n", "is not a DXF file"),
        (b"AutoCAD Binary DXF\r\n\x1a\0" + bytes(range(256)), ""),
        (b"  0\nSECTION\n  2\nENTITIES\n  0\nLINE\n 10\nabc\n", ""),
        (b"  0\nSECTION\n", ""),
        (b"  0\nSECTION\n  2\nENTITIES\n  0\nENDSEC\n  0\nEOF\n", ""),
    ],
)
def test_what_is_no_dxf(tmp_path, content, says) -> None:
    path = tmp_path / "floor.dxf"
    path.write_bytes(content)
    assert says in refusal(path)


def test_a_file_too_large_to_be_a_room(walled, tmp_path) -> None:
    walled.saveas(tmp_path / "floor.dxf")
    size = (tmp_path / "floor.dxf").stat().st_size
    with pytest.raises(InputError, match="the most that is read") as caught:
        read_floor(tmp_path / "floor.dxf", "A-WALL", None, limits=Limits(drawing=size - 1))
    assert f"--limits drawing={size} " in str(caught.value)
    assert read_floor(tmp_path / "floor.dxf", "A-WALL", None, limits=Limits(drawing=size)).outer.vertices


def test_a_file_broken_off_in_the_middle_is_repaired_with_a_warning_or_refused(walled, tmp_path) -> None:
    """Cut after its entities it still holds the room; whoever reads it is told that it is damaged."""
    walled.saveas(tmp_path / "whole.dxf")
    text = (tmp_path / "whole.dxf").read_text()
    cut = tmp_path / "cut.dxf"
    cut.write_text(text[: text.index("OBJECTS")])
    floor = read_floor(cut, "A-WALL", None)
    assert floor.findings[0].rule == "damaged drawing"
    assert floor.findings[0].severity == "warn"
    assert floor.outer.vertices == tuple(ROOM)


def test_a_damaged_file_that_is_refused_says_both(walled, tmp_path) -> None:
    """Cut within its entities the room is gone: the damage is the first thing to mend."""
    walled.saveas(tmp_path / "whole.dxf")
    text = (tmp_path / "whole.dxf").read_text()
    cut = tmp_path / "cut.dxf"
    cut.write_text(text[: text.index("LWPOLYLINE")])
    with pytest.raises(InputError) as caught:
        read_floor(cut, "A-WALL", None)
    damage, gone = caught.value.complaints
    assert "cut.dxf is damaged" in damage.problem
    assert "no lines are drawn" in gone.problem


def test_wherever_a_file_breaks_off_the_message_is_ours(walled, tmp_path) -> None:
    """Cut in fifty places: a floor or an InputError."""
    walled.saveas(tmp_path / "whole.dxf")
    rows = (tmp_path / "whole.dxf").read_text().splitlines(keepends=True)
    cut = tmp_path / "cut.dxf"
    for stop in range(0, len(rows), len(rows) // 50):
        cut.write_text("".join(rows[:stop]))
        try:
            read_floor(cut, "A-WALL", None)
        except InputError as error:
            assert str(cut) in str(error)


def test_the_library_says_nothing_on_the_screen(walled, tmp_path) -> None:
    """It logs every repair, and would log to the terminal; in a process of its own, as a user runs it."""
    walled.saveas(tmp_path / "whole.dxf")
    flawed = tmp_path / "flawed.dxf"
    flawed.write_text((tmp_path / "whole.dxf").read_text().replace("4000.0", "4000.0 mm"))
    program = (
        "import sys; from pathlib import Path; from planner.room.drawn.dxf import read_floor; "
        "print(read_floor(Path(sys.argv[1]), None, None).findings[0].rule)"
    )
    done = subprocess.run([sys.executable, "-c", program, str(flawed)], capture_output=True, text=True, check=True)
    assert (done.stdout.strip(), done.stderr) == ("damaged drawing", "")


def test_a_misspelt_layer_in_a_drawing_too_large_to_search(walled, reads) -> None:
    for k in range(20):
        walled.modelspace().add_line((0, k), (9, k), dxfattribs={"layer": "A-FURN"})
    walled.layers.add("A-FURN")
    with pytest.raises(InputError, match="The drawing's layers are: 0, A-FURN, Defpoints"):
        reads(walled, layer="A-WAL", limits=Limits(strokes=10))


def test_an_extrusion_that_is_none(walled, reads) -> None:
    walled.blocks.new("PIPE").add_circle((0, 0), 30)
    walled.modelspace().add_blockref("PIPE", (900, 900), dxfattribs=ON | {"extrusion": (1, 0, 0)})
    walled.modelspace().add_circle((1000, 1000), 50, dxfattribs=ON | {"extrusion": (1, 0, 0)})
    floor = reads(walled)
    assert floor.inner == ()
    assert "1 tilted CIRCLE, 1 tilted line" in floor.findings[1].message


def test_a_reference_to_no_block_draws_nothing(walled, reads) -> None:
    """Found by fuzzing: the library gives None for a name that is missing."""
    insert = walled.modelspace().add_blockref("PIPE", (900, 900), dxfattribs=ON)
    insert.dxf.discard("name")
    assert reads(walled).outer.vertices == tuple(ROOM)


def test_coordinates_that_are_no_numbers_are_left_out_and_named(walled, reads) -> None:
    walled.modelspace().add_circle((math.nan, 0), 100, dxfattribs=ON)
    walled.modelspace().add_circle((1000, 1000), -5, dxfattribs=ON)
    walled.modelspace().add_line((0, 0), (1e300, 0), dxfattribs=ON)
    walled.modelspace().add_arc((1000, 1000), 50, math.inf, 10, dxfattribs=ON)
    floor = reads(walled)
    assert floor.inner == ()
    assert "1 broken ARC, 2 broken CIRCLE, 1 broken LINE" in floor.findings[1].message
