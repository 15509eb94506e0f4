"""Every demo room, from room file to written files, read back by libraries that know nothing of the planner."""

import json
import math
import os
import subprocess
import sys
from pathlib import Path

import jsonschema
import numpy as np
import pyogrio
import pytest
import shapely

from planner.drawing.member_roles import MEMBER_ROLES
from planner.drawing.roles import Role
from planner.drawing.stylebook import load_style
from planner.geometry import Frame
from planner.record import plan_schema
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
ROOMS = sorted(FIXTURES.glob("*.yaml"))
UNIT_MM = {"1": 25.4, "2": 304.8, "4": 1.0, "5": 10.0, "6": 1000.0}  #: by $INSUNITS (DXF reference, from memory)
STOPPED = ("shop-l-taped",)  #: planned and drawn all the same, but a reading must be mended first


def plan_in_a_process(room: Path, out: Path, seed: str) -> None:
    env = os.environ | {"PYTHONHASHSEED": seed, "HOME": str(out.parent), "XDG_CACHE_HOME": str(out.parent / "cache")}
    answer = subprocess.run(
        [sys.executable, "-m", "planner", "plan", str(room), "--out", str(out)], capture_output=True, text=True, env=env
    )
    assert answer.returncode == (1 if room.stem in STOPPED else 0), answer.stderr + answer.stdout


@pytest.fixture(scope="module", params=ROOMS, ids=lambda path: path.stem)
def room_file(request: pytest.FixtureRequest) -> Path:
    return request.param


@pytest.fixture(scope="module")
def planned(room_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp(room_file.stem) / "out"
    plan_in_a_process(room_file, out, "1")
    return out


@pytest.fixture(scope="module")
def record(planned: Path) -> dict:
    return json.loads((planned / "plan.json").read_text("utf-8"))


def test_there_are_enough_rooms() -> None:
    assert len(ROOMS) >= 6


def test_two_runs_give_the_same_bytes(planned: Path, room_file: Path, tmp_path: Path) -> None:
    plan_in_a_process(room_file, tmp_path / "out", "2")
    assert sorted(os.listdir(planned)) == sorted(os.listdir(tmp_path / "out"))
    for name in os.listdir(planned):
        assert (planned / name).read_bytes() == (tmp_path / "out" / name).read_bytes(), name


def test_the_record_keeps_to_its_schema(record: dict) -> None:
    jsonschema.Draft202012Validator(plan_schema()).validate(record)


def test_panels_and_whole_modules_cover_the_room_once(record: dict) -> None:
    """Whole modules + cut pieces + what the ledge closes = the room's area, and no two of these overlap.

    A module stays whole where a wall takes a hair off it, no more than half an undersize of 1/4 in.
    """
    along, away = record["layout"]["module_mm"]
    cut = [shapely.Polygon(p["outline_mm"], p["holes_mm"]) for p in record["panels"]]
    cut = [piece for piece in cut if piece.area < along * away - 1]
    cut += [shapely.Polygon(c["outline_mm"], c["holes_mm"]) for c in record["layout"]["closed_by_ledge"]]
    covered = sum(piece.area for piece in cut) + record["layout"]["full_panels"] * along * away
    area, around = record["room"]["area_mm2"], shapely.Polygon(record["room"]["outline_mm"]).length
    assert -1e-6 * area <= covered - area <= 25.4 / 8 * around
    assert shapely.union_all(cut).area == pytest.approx(sum(piece.area for piece in cut), rel=1e-6)
    room = shapely.Polygon(record["room"]["outline_mm"], record["room"]["holes_mm"])
    assert all(room.buffer(0.1).covers(piece) for piece in cut)


def test_pieces_make_up_their_members(record: dict) -> None:
    for member in record["members"]:
        assert sum(piece["length_mm"] for piece in member["pieces"]) == pytest.approx(member["length_mm"], abs=0.01)


def test_every_bar_holds_its_pieces_and_cuts(record: dict) -> None:
    """Lengths and one kerf between neighbours never exceed the stock length."""
    for item in record["cutting"]:
        assert sum(bar["count"] for bar in item["bars"]) == item["bought"] >= item["lower_bound"]
        for bar in item["bars"]:
            used = sum(piece["length_mm"] for piece in bar["pieces"])
            used += item["kerf_mm"] * (len(bar["pieces"]) - 1)
            assert used <= item["stock_length_mm"] + 0.05


@pytest.fixture(scope="module")
def drawn(planned: Path, room_file: Path) -> dict[Role, np.ndarray]:
    """Model-space geometry by role, read by GDAL (through pyogrio), in the room frame and in millimetres.

    Only the first drawing, which lies where the room does: those of the other sheets stand beside it.
    """
    content = planned / "ceiling.dxf"
    header = content.read_text("utf-8").split()
    unit = UNIT_MM[header[header.index("$INSUNITS") + 2]]
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": 0.1})  # degrees; its own 4 would flatten bowed walls
    _, _, geometry, (layers, paper) = pyogrio.raw.read(content, layer="entities", columns=["Layer", "PaperSpace"])
    room = read_room(room_file).room
    frame = room.placement.frame if room.placement else Frame()
    shapes = shapely.transform(shapely.from_wkb(geometry), lambda xy: np.array([frame.inward(p) for p in xy * unit]))
    left, bottom, right, top = shapely.bounds(shapes).T  # the other sheets' drawings stand beside the room
    box = room.box.grown(300)
    here = (left > box.left) & (bottom > box.bottom) & (right < box.right) & (top < box.top) & (paper != 1)
    style = load_style("us-ncs" if room.imperial else "iso-13567")
    return {role: shapes[(layers == style.role(role).layer) & here] for role in Role}


def test_gdal_reads_the_tees_at_their_true_length(drawn: dict[Role, np.ndarray], record: dict) -> None:
    """A low-clearance grid has carriers and cover strips in place of mains, one over the other."""
    for role in (Role.MAIN_TEE, Role.CROSS_TEE, Role.CARRIER):
        tees = [math.dist(m["start_mm"], m["end_mm"]) for m in record["members"] if MEMBER_ROLES[m["kind"]] == role]
        assert sum(shapely.length(drawn[role])) == pytest.approx(sum(tees), rel=1e-6), role


def test_gdal_reads_the_room_where_it_is(drawn: dict[Role, np.ndarray], record: dict) -> None:
    xs, ys = zip(*record["room"]["outline_mm"], strict=True)
    assert shapely.total_bounds(drawn[Role.WALL]) == pytest.approx((min(xs), min(ys), max(xs), max(ys)), abs=0.15)
    assert sum(shapely.length(drawn[Role.WALL])) == pytest.approx(record["room"]["perimeter_mm"], rel=1e-4)


def test_gdal_reads_every_service(drawn: dict[Role, np.ndarray], record: dict) -> None:
    """Each service is there as a block: its outline surrounds the place that plan.json gives."""
    for service in record["services"]:
        at = shapely.Point(service["at_mm"])
        assert any(shapely.box(*shapely.bounds(shape)).covers(at) for role in Role for shape in drawn[role]), service
