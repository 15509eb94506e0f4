"""What stands in the room and what is wanted in it, given a room file that is in order."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.documents import parse_document
from planner.geometry import box_of, distance, edges, midpoint
from planner.room.brief import Brief
from planner.room.columns import SAGITTA_MM, round_outline
from planner.room.outline import Joists
from planner.room.reader import brief_from


def read(text: str, file: str = "room.yaml") -> Brief:
    return brief_from(parse_document(text, file))


MM = "units: mm\nroom:\n  rectangle: [6000, 4000]\n"


def test_a_column_may_touch_the_walls_and_has_a_name_in_any_case() -> None:
    text = MM + (
        "  columns: [{at: [0, 0], size: [300, 200]}, {name: C2, at: [3000, 2000], diameter: 400},\n"
        "    {points: [[6000, 4000], [6000, 3500], [5500, 4000]]}]\n"
    )
    room = read(text).room
    assert [column.name for column in room.columns] == ["C1", "C2", "C3"]
    assert room.columns[0].outline == ((0, 0), (300, 0), (300, 200), (0, 200))
    assert room.columns[1].diameter == 400
    assert room.columns[1].centre == (3000, 2000)
    assert room.columns[2].outline == ((5500, 4000), (6000, 3500), (6000, 4000))  # given clockwise, turned round
    chase, column, flue = 500 * 500 / 2, 300 * 200, math.pi * 200**2
    assert room.area == pytest.approx(6000 * 4000 - chase - column - flue, abs=math.pi * 400 * SAGITTA_MM)


@given(st.floats(5, 20_000))
def test_a_round_column_is_never_cut_too_small_and_hardly_too_large(diameter: float) -> None:
    """Every chord stays outside the circle, every corner within 0.1 mm of it, and the box is the circle's."""
    ring, radius = round_outline((0.0, 0.0), diameter), diameter / 2
    nearest = min(distance((0, 0), midpoint(a, b)) for a, b in edges(ring))
    furthest = max(distance((0, 0), corner) for corner in ring)
    assert nearest >= radius * (1 - 1e-12)
    assert furthest <= radius + SAGITTA_MM * (1 + 1e-9)
    assert box_of(ring).width == pytest.approx(diameter, rel=1e-9)


def test_a_file_with_nothing_but_an_outline_leaves_all_to_the_planner() -> None:
    brief = read("units: in\nroom: {rectangle: [163, 124]}\n")
    assert brief.room.imperial
    assert brief.grid.system == "lay-in-imperial"
    assert brief.grid.module is None
    assert (brief.grid.mains, brief.grid.align, brief.grid.borders) == ("auto", None, ())
    assert brief.services == ()
    assert brief.stock.spare == 0
    assert read(MM).grid.system == "lay-in-metric"


def test_the_grid_as_asked_for() -> None:
    grid = read(
        MM + "grid: {module: [600, 1200], align: C-B, borders: {left: 250, front: full}, prefer: fewest_panels}"
    ).grid
    assert grid.module == (600, 1200)
    assert grid.align == "B-C"
    assert grid.borders == (("left", 250.0), ("front", "full"))
    assert grid.prefer == "fewest_panels"
    assert read(MM + "grid: {align: 30}").grid.align == 30.0
    assert read(MM + "grid: {borders: balanced}").grid.borders == ()
    assert read(MM + "grid: {borders: {centre_on: [1 m, 2 m]}}").grid.centre_on == (1000, 2000)


def test_a_system_of_one_s_own_lies_beside_the_room_file() -> None:
    assert read(MM + "grid: {system: own.yaml}", "jobs/attic/room.yaml").grid.system == "jobs/attic/own.yaml"
    assert read(MM + "grid: {system: ours/own.yml}", "jobs/room.yaml").grid.system == "jobs/ours/own.yml"
    assert read(MM + "grid: {system: lay-in-imperial}", "jobs/room.yaml").grid.system == "lay-in-imperial"


def test_structure_heights_and_title_block() -> None:
    text = MM + (
        "job: Attic\nproject: {revision: 2, client: Anybody}\nceiling_height: 2.5 m\n"
        "structure: {joists: {spacing: 625, first: 310, direction: along}, underside: 2800}\n"
    )
    room = read(text).room
    assert room.name == "Attic"
    assert room.project == (("client", "Anybody"), ("revision", "2"))
    assert room.joists == Joists(625.0, 310.0, "along")
    assert (room.ceiling_height, room.underside) == (2500.0, 2800.0)


def test_services_are_named_by_their_kind_and_around_the_names_given() -> None:
    text = MM + (
        "services:\n"
        "  - {kind: downlight, diameter: 150, near: [1000, 1000]}\n"
        "  - {name: D1, kind: downlight, size: [100, 200], at: [2000, 1000]}\n"
        "  - {kind: sprinkler, near: [3000, 1000]}\n"
        "  - {kind: troffer, size: [600, 1200], near: [4000, 1000], weight: 18 lb}\n"
        "  - {kind: exit_sign, near: [5000, 1000], weight: 1.5 kg}\n"
    )
    services = read(text).services
    assert [service.name for service in services] == ["D2", "D1", "H1", "L1", "EX1"]
    assert (services[0].near, services[0].at) == ((1000, 1000), None)
    assert (services[1].near, services[1].at) == (None, (2000, 1000))
    assert services[3].size == (600, 1200)
    assert services[3].weight_kg == pytest.approx(8.1646627)  # 18 x 0.45359237
    assert services[4].weight_kg == 1.5
    assert [service.path for service in services] == [("services", n) for n in range(5)]


def test_an_array_is_spread_half_a_step_from_the_walls() -> None:
    """Three along 6000: steps of 2000, the first at 1000; two along 4000: steps of 2000, the first at 1000."""
    text = (
        MM + "services:\n"
        "  - {name: D1, kind: downlight, diameter: 9, at: [1, 1]}\n"
        "  - {kind: downlight, diameter: 9, array: {columns: 3, rows: 2}}\n"
    )
    services = read(text).services[1:]
    assert [service.near for service in services] == [(x, y) for y in (1000, 3000) for x in (1000, 3000, 5000)]
    assert [service.name for service in services] == ["D2", "D3", "D4", "D5", "D6", "D7"]
    named = read(MM + "services: [{name: spot, kind: sprinkler, array: {columns: 2, rows: 1}}]").services
    assert [service.name for service in named] == ["spot1", "spot2"]


def test_an_array_leaves_out_what_falls_outside_the_room_or_into_a_column() -> None:
    """An L: the box is 6000 x 4000, its upper right quarter is not room; a column stands at the lower left point."""
    text = (
        "units: mm\nroom:\n  points: [[0, 0], [6000, 0], [6000, 2000], [3000, 2000], [3000, 4000], [0, 4000]]\n"
        "  columns: [{at: [1400, 900], size: [200, 200]}]\n"
        "services: [{kind: sprinkler, array: {columns: 2, rows: 2}}]\n"
    )
    brief = read(text)
    assert [service.near for service in brief.services] == [(4500, 1000), (1500, 3000)]
    (finding,) = brief.findings
    assert (finding.severity, finding.rule, finding.where) == ("warn", "array beyond the room", (1500, 1000))
    assert finding.message == (
        "Array of 4 (sprinkler head): 2 planned (H1, H2), 2 left out (outside the room or in columns): "
        "along A-B and from it 1500 mm, 1000 mm; 4500 mm, 3000 mm."
    )
    assert "near:" in finding.remedy


def test_an_array_says_how_many_of_it_stand_outside_a_t_shaped_room() -> None:
    """4 x 3 in 12000 x 9000: 1500, 4500 ... along and 1500, 4500, 7500 away; the stem, 3900 to 8150, is 5200 deep."""
    text = (
        "units: mm\nroom: {base_wall: C-D, points: "
        "[[0, 5200], [3900, 5200], [3900, 0], [8150, 0], [8150, 5200], [12000, 5200], [12000, 9000], [0, 9000]]}\n"
        "services: [{name: L, kind: troffer, size: [600, 1200], array: {columns: 4, rows: 3}}]\n"
    )
    (finding,) = read(text).findings
    assert "Array of 12 (light, lay-in): 8 planned (L1 to L8), 4 left out (outside the room)" in finding.message


def test_an_array_that_is_all_in_the_room_has_nothing_to_say() -> None:
    assert read(MM + "services: [{kind: sprinkler, array: {columns: 3, rows: 2}}]\n").findings == ()


def test_stock_as_asked_for() -> None:
    text = MM + (
        'stock: {panels_per_carton: 12, spare: 5%, saw_kerf: 1/8", currency: EUR, prices: {panel: 6, main tee: 9.85},\n'
        "  packs: {main tee: 20}, on_hand: {main tee: 0}}\n"
    )
    stock = read(text).stock
    assert (stock.panels_per_carton, stock.spare, stock.saw_kerf, stock.currency) == (12, 0.05, 3.175, "EUR")
    assert stock.prices == (("panel", 6.0), ("main tee", 9.85))
    assert (stock.packs, stock.on_hand) == ((("main tee", 20),), (("main tee", 0),))
    assert read(MM + "stock: {spare: 0.05}").stock.spare == 0.05
