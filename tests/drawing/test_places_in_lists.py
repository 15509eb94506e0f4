"""Lists tell places by what is on the plans: the heaviest wire, services' wires, furring, cover strips."""

import re
from pathlib import Path

from drawing.whole_sheets import all_lettered

from planner.drawing.cutting_names import told
from planner.drawing.dimensions import written, written_place
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.planning import Plan, plan
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
STYLE = load_style("iso-13567")
CLINIC = plan(read_room(FIXTURES / "clinic.yaml"))
DEN = plan(read_room(FIXTURES / "den-wrong-way.yaml"))


def lettered(made: Plan, *sheets: str) -> str:
    return all_lettered(draw(made, STYLE, SheetWish(sheets=sheets)))


def test_the_heaviest_hanger_is_told_by_its_run_and_its_place_in_the_list() -> None:
    """No plan bears the ids of wires; the place is one of those in the list of hang points."""
    loads = CLINIC.ceiling.loads
    assert loads is not None
    wire = next(hanger for hanger in CLINIC.ceiling.hangers if hanger.id == loads.heaviest)
    sheet, lists = lettered(CLINIC, "framing"), lettered(CLINIC, "schedules")
    assert not re.search(r"HW[0-9]", sheet)
    said = re.search(rf"{wire.member} at ([0-9]+) mm", sheet)
    assert said is not None
    points = lists.split("Hang points")[1]
    assert re.search(rf"\b{said[1]}\b", points)
    assert "Hangers apart, at most" in sheet


def test_the_wires_of_services_are_in_the_list_of_hang_points() -> None:
    points = lettered(CLINIC, "schedules").split("Hang points")[1]
    wires = [hanger for hanger in CLINIC.ceiling.hangers if hanger.kind == "service wire"]
    assert wires
    for wire in wires:
        assert wire.member in points
        assert written_place(wire.at, "mm") in points


def test_a_wire_that_leans_is_told_where_it_is_tied_and_where_the_joist_is() -> None:
    """Of L5 of the workshop, in feet and inches: its light is 24" by 48" about 14'-8" and 20'-3", so one corner is at
    13'-8" and 18'-3"; joists are every 2 ft from 1'-0".
    """
    made = plan(read_room(FIXTURES / "workshop-t.yaml"))
    points = lettered(made, "schedules").split("Hang points")[1]
    assert "13'-8\" × 18'-3\", at joist 13'-0\" × 18'-3\"" in points
    assert "Wires of services, where they are tied" in points


def test_a_wire_that_goes_straight_up_is_told_once() -> None:
    straight = [wire for wire in CLINIC.ceiling.hangers if wire.kind == "service wire" and wire.top is None]
    points = lettered(CLINIC, "schedules").split("Hang points")[1]
    assert straight
    for wire in straight:
        assert f"{written_place(wire.at, 'mm')}, at joist" not in points


def test_cover_strips_and_furring_are_told_piece_by_piece() -> None:
    lists = lettered(DEN, "schedules")
    runs = lists.split("Runs, piece by piece")[1]
    for kind in ("carrier", "cover strip", "furring strip"):
        members = [member.id for member in DEN.ceiling.members if member.kind == kind]
        assert members[0] in runs
        assert members[-1] in runs or told(members[-2:]) in runs


def test_furring_can_be_set_by_its_places() -> None:
    """The first strip lies along the base wall or square to it, and the list says how far off it is."""
    lists = lettered(DEN, "schedules").split("Middle of each furring strip")[1]
    for member in DEN.ceiling.members:
        if member.kind == "furring strip":
            lying = abs(member.end[0] - member.start[0]) > abs(member.end[1] - member.start[1])
            at = written(member.start[1] if lying else member.start[0], "mm")
            assert f"{member.id} {at} {'away from' if lying else 'along'} A-B" in lists
