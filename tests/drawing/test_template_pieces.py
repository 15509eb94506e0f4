"""The piece that a template shows: its true outline, taken once from the opening, and the side that is up."""

import math
from pathlib import Path

import pytest
from drawing.template_rooms import fixture, room
from shapely.geometry import Point as Spot

from planner.drawing.templates.choice import templates_of
from planner.drawing.templates.clearance import piece_of
from planner.drawing.templates.machine import machine_sheet
from planner.drawing.templates.offsets import offsets_of
from planner.drawing.templates.openings import Openings
from planner.drawing.templates.piece import Piece, face_up
from planner.errors import PlannerError
from planner.lengths import Rounding
from planner.planning import Plan

L_ROOM = """
units: mm
room: {points: [[0, 0], [1500, 0], [1500, 700], [950, 700], [950, 1500], [0, 1500]]}
grid: {system: lay-in-metric, module: [600, 600], borders: {front: 450, left: 300}}
"""


def pieces(made: Plan) -> dict[str, Piece]:
    openings = Openings(made)
    found = ((panel, piece_of(openings, panel)) for panel in made.ceiling.panels)
    return {panel.id: piece for panel, piece in found if piece is not None}


@pytest.fixture(scope="module")
def gallery() -> Plan:
    return fixture("gallery-bowed")


def in_module(made: Plan, x: float, y: float) -> str:
    """The id of the cut panel whose module holds a place in the room."""
    u, v = made.ceiling.layout.frame.inward((x, y))
    cell = (math.floor(u / made.ceiling.layout.module[0]), math.floor(v / made.ceiling.layout.module[1]))
    return next(panel.id for panel in made.ceiling.panels if panel.cell == cell)


# --- the undersize ----------------------------------------------------------------------------------------------------


def test_the_undersize_is_taken_off_once(tmp_path: Path) -> None:
    """A border of 300 from wall to tee centre line, panels 5 under: 2.5 off at the tee, 2.5 at the wall, 295 is cut."""
    made = room(tmp_path, L_ROOM)
    along_wall = pieces(made)[in_module(made, 150, 700)]
    assert along_wall.box.width == pytest.approx(300 - 5)
    assert along_wall.box.height == pytest.approx(600 - 5)
    assert {side.kind for side in along_wall.sides if side.factory} == {"tee"}


@pytest.mark.parametrize(
    ("name", "curves"),
    [*((name, 1e-6) for name in ("kiln-room", "studio-l", "foyer-diagonal", "den-wrong-way")), ("gallery-bowed", 0.15)],
)
def test_pieces_are_as_large_as_is_told(name: str, curves: float) -> None:
    """The size to cut is the piece's size, whatever its shape, rounded down to a mark of the tape: 1/16 in or 1 mm.

    Where walls are bowed, the layout has chords within 0.1 mm of them.
    """
    made = fixture(name)
    mark = 25.4 / 16 if made.room.imperial else 1.0
    cut = pieces(made)
    for panel in made.ceiling.panels:
        piece = cut[panel.id]
        assert piece.cut_to == panel.cut_to
        for size, told in zip((piece.box.width, piece.box.height), panel.cut_to, strict=True):
            assert -curves <= size - told < mark + curves


def test_the_saws_kerf_is_for_the_saw(tmp_path: Path) -> None:
    thin = room(tmp_path, L_ROOM + "stock: {saw_kerf: 1}\n")
    wide = room(tmp_path, L_ROOM + "stock: {saw_kerf: 4}\n")
    assert pieces(thin) == pieces(wide)


# --- curves -----------------------------------------------------------------------------------------------------------


def test_a_bowed_wall_is_a_true_arc(gallery: Plan) -> None:
    """Wall D-A, 4650 between its corners, bows into the room by 150.

    Radius 4650² / (8 * 150) + 150 / 2 = 18093.75, centre at (150 - 18093.75, 2325). Panels keep 2.5 off the wall:
    their edge is 18096.25 from there. What is drawn is nowhere 0.05 mm off that.
    """
    centre, radius = (150 - 18093.75, 2325.0), 18093.75
    openings, seen = Openings(gallery), 0
    for panel in gallery.ceiling.panels:
        piece = piece_of(openings, panel)
        assert piece is not None
        for side in piece.sides:
            if side.name == "D-A":
                frame = openings.frame_of(panel)
                for point in side.points[1:-1]:
                    seen += 1
                    assert math.dist(frame.outward(point), centre) == pytest.approx(radius + 2.5, abs=0.05)
                assert side.circle is not None and side.circle.radius == pytest.approx(radius + 2.5)
    assert seen > 100


def test_a_notch_round_a_column_keeps_clear_of_it(gallery: Plan) -> None:
    """Column P1, 220 across at (5200, 2400): the notch is an arc of radius 110 + 2.5 about it."""
    openings, found = Openings(gallery), 0
    for panel in gallery.ceiling.panels:
        piece = piece_of(openings, panel)
        assert piece is not None
        for side in (side for side in piece.sides if side.name == "P1"):
            found += 1
            places = [openings.frame_of(panel).outward(point) for point in side.points]
            assert all(abs(math.dist(place, (5200, 2400)) - 112.5) < 0.05 for place in places)
    assert found == 2


def test_a_column_inside_a_panel_leaves_a_hole() -> None:
    """A 4 in column in a panel that is 1/4 in under: the hole is 4 1/4 in across."""
    made = fixture("workshop-low")
    (piece,) = [piece for piece in pieces(made).values() if piece.holes]
    (hole,) = piece.holes
    assert hole.circle is not None and hole.circle.radius == pytest.approx(4.25 * 25.4 / 2)


# --- which side is up -------------------------------------------------------------------------------------------------


def test_face_up_is_the_mirror_image_of_the_plan(tmp_path: Path) -> None:
    """The room turns in at (950, 700): beyond it, right and away, is no ceiling. A plan is seen as from above.

    Somebody who stands below and looks up with the away side ahead sees right and left exchanged; so does whoever lays
    the panel on the bench face up. On the template that lies on the face, what is missing is at the upper left.
    """
    made = room(tmp_path, L_ROOM)
    name = in_module(made, 949, 699)
    (face,) = templates_of(made, [name])
    (back,) = templates_of(made, [name], from_back=True)
    for piece, missing in ((back.piece, "right"), (face.piece, "left")):
        whole = piece.whole
        x = {"left": whole.left + 5, "right": whole.right - 5}
        assert not piece.shape.covers(Spot(x[missing], whole.top - 5))
        assert all(piece.shape.covers(Spot(x[side], whole.bottom + 5)) for side in x)
    assert face.piece.face_up and not back.piece.face_up
    assert face_up(face.piece).shape.equals_exact(back.piece.shape, 1e-9)


def test_the_arrow_points_to_the_reference_corner_on_either_side(tmp_path: Path) -> None:
    """Corner A is left and in front on the plan, seen from the back; right and in front on the face."""
    made = room(tmp_path, L_ROOM)
    name = in_module(made, 949, 699)
    (face,), (back,) = templates_of(made, [name]), templates_of(made, [name], from_back=True)
    assert back.piece.corner[0] < 0 and face.piece.corner[0] > 600
    assert back.piece.corner[1] == face.piece.corner[1] < 0


# --- which templates --------------------------------------------------------------------------------------------------


def test_plain_rectangles_are_left_out_unless_asked(gallery: Plan) -> None:
    usual, every = templates_of(gallery), templates_of(gallery, everything=True)
    assert not any(each.piece.plain for each in usual)
    assert sorted(name for each in every for name in each.panels) == sorted(p.id for p in gallery.ceiling.panels)
    plain = next(each for each in every if each.piece.plain)
    assert templates_of(gallery, [plain.panels[-1]]) == (plain,)  # by name it is had none the less


def test_panels_within_a_millimetre_share_the_template_of_the_smallest(tmp_path: Path) -> None:
    """Columns at the same place in two modules of four, 200.0, 200.6 and, in the third, 203 mm wide, 250 deep.

    The first two notch their panels alike but for 0.6 mm, so the second's template, cut closer, is good for both.
    """
    columns = [
        f"{{name: C{k}, points: [[{x}, 0], [{x + wide}, 0], [{x + wide}, 250], [{x}, 250]]}}"
        for k, (x, wide) in enumerate(((150, 200.0), (750, 200.6), (1350, 203.0)), 1)
    ]
    text = f"job: piers\nunits: mm\nroom: {{rectangle: [2400, 1800], columns: [{', '.join(columns)}]}}\n"
    made = room(tmp_path, text + "grid: {system: lay-in-metric, borders: {left: full, front: full}}\n")
    assert [(panel.id, panel.shape, panel.cut_to) for panel in made.ceiling.panels] == [
        ("a1", "notched", (595.0, 595.0)),
        ("a2", "notched", (595.0, 595.0)),
        ("b1", "notched", (595.0, 595.0)),
    ]
    one, other = templates_of(made, from_back=True)
    assert (one.panels, other.panels) == (("a1", "a2"), ("b1",))
    assert one.piece.shape.area == pytest.approx(595 * 595 - (200.6 + 5) * (250 + 2.5 - 2.5))


def test_panels_cut_alike_share_a_template(gallery: Plan) -> None:
    """Eight downlights in the middle of eight panels: one template, eight pieces."""
    holes = [each for each in templates_of(gallery) if each.piece.cutouts]
    assert [len(each.panels) for each in holes] == [8]


def test_mirrored_pieces_do_not_share_a_template(tmp_path: Path) -> None:
    """A gable room, the same at its left and right: the two slanted panels mirror each other."""
    made = room(
        tmp_path,
        "units: mm\nroom: {points: [[0, 0], [1200, 0], [1200, 500], [600, 800], [0, 500]]}\n"
        "grid: {system: lay-in-metric, module: [600, 600], borders: {front: 600, left: 600}}\n",
    )
    slanted = [each for each in templates_of(made) if any(len(side.points) == 2 for side in each.piece.cuts)]
    assert len(slanted) >= 2 and all(len(each.panels) == 1 for each in slanted)


def test_a_class_letter_means_all_of_its_panels(gallery: Plan) -> None:
    named = templates_of(gallery, ["AD"])
    assert [each.panels for each in named] == [tuple(f"ad{k}" for k in range(1, 9))]


def test_a_panel_that_is_not_there_is_refused(gallery: Plan) -> None:
    with pytest.raises(PlannerError, match=r'no cut panel "zz7" in "Print gallery"') as refused:
        templates_of(gallery, ["d1", "zz7"])
    assert "z1" in refused.value.mend
    with pytest.raises(PlannerError, match="ad9") as refused:
        templates_of(gallery, ["ad9"])
    assert "ad1 to ad8" in refused.value.mend


# --- numbers ----------------------------------------------------------------------------------------------------------


def test_every_corner_is_told_from_two_edges_as_bought(tmp_path: Path) -> None:
    """From the back, the room's inner corner (950, 700) lies 50 right and 250 away of the tees at 900 and 450.

    The piece keeps 2.5 clear of the walls and of the tees' centre lines: 50 - 5 = 45, 250 - 5 = 245. The whole panel
    is 595. The start is its left front corner, nearest the reference corner.
    """
    made = room(tmp_path, L_ROOM)
    (each,) = templates_of(made, [in_module(made, 949, 699)], from_back=True)
    told = offsets_of(each.piece, 100.0)
    corners = [(round(c.along, 3), round(c.away, 3)) for c in told.corners]
    assert told.factory and corners[0] == (0, 0)
    assert set(corners) == {(0, 0), (595, 0), (595, 245), (45, 245), (45, 595), (0, 595)}


def test_corners_are_rounded_so_that_the_piece_never_grows(gallery: Plan) -> None:
    """A corner towards a cut edge is rounded back into the piece, along both edges that meet in the start."""
    for each in templates_of(gallery):
        told = offsets_of(each.piece, 100.0)
        grown = each.piece.shape.buffer(0.03)
        for corner in told.corners:
            steps = []
            for value, rounding in zip((corner.along, corner.away), corner.rounding, strict=True):
                tick = {Rounding.DOWN: math.floor(value + 1e-6), Rounding.UP: math.ceil(value - 1e-6)}
                steps.append(tick.get(rounding, value))
            at = tuple(told.start[k] + told.way[k] * steps[k] for k in (0, 1))
            assert grown.distance(Spot(at)) < 0.6, (each.panels, corner)


def test_a_bow_is_told_by_offsets_at_regular_stations(gallery: Plan) -> None:
    """Every 100 mm along the edge as bought there is an offset; each is on the circle of the wall."""
    (each,) = templates_of(gallery, ["d1"], from_back=True)
    told = offsets_of(each.piece, 100.0)
    (bow,) = told.bows
    assert [station for station, _ in bow.stations] == [100, 200, 300, 400, 500]
    assert bow.hollow and bow.upright and bow.side.circle.radius == pytest.approx(18096.25)
    for station, offset in bow.stations:
        at = (told.start[0] + told.way[0] * offset, told.start[1] + told.way[1] * station)
        assert math.dist(at, bow.side.circle.centre) == pytest.approx(bow.side.circle.radius, abs=0.05)


# --- for a cutting machine --------------------------------------------------------------------------------------------


def test_a_machine_cuts_one_closed_path_with_true_arcs(gallery: Plan) -> None:
    from drawing.template_rooms import METRIC

    from planner.drawing.roles import Role
    from planner.drawing.shapes import Outline, extents
    from planner.drawing.templates.sheets import TemplateWish, job_of

    (each,) = templates_of(gallery, ["j1"])
    sheet = machine_sheet(each, job_of(gallery, METRIC, TemplateWish()))
    (path,) = [shape for shape in sheet.shapes if isinstance(shape, Outline) and shape.role is Role.TEMPLATE_CUT]
    assert len(path.points) == 6 and sum(bulge != 0 for bulge in path.bulges) == 1
    assert not sheet.windows
    box = extents((path,))
    assert (box.width, box.height) == pytest.approx((595, 595), abs=0.01)
