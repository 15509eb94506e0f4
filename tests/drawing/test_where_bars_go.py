"""Who cuts bars is told where each goes: trim by its wall or column, uncut bars by their runs; a curve is a curve."""

from dataclasses import replace
from pathlib import Path

from drawing.whole_sheets import all_lettered

from planner.ceiling.members.trim import follows_arc, trim_place
from planner.ceiling.order import order_of_work
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.planning import Plan, plan
from planner.room.outline import Column
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
STYLE = load_style("us-ncs")
#: Walls A-B to G-A, C-D bowed; a square column C1, a chase C2 and a round pipe C3, which has no trim.
ATTIC = plan(read_room(FIXTURES / "attic-office.yaml"))
CORRIDOR = plan(read_room(FIXTURES / "corridor.yaml"))


def lettered(made: Plan, *sheets: str) -> str:
    return all_lettered(draw(made, STYLE, SheetWish(sheets=sheets)))


def test_trim_is_told_by_its_wall_or_column() -> None:
    told = lettered(ATTIC, "cutting")
    for said in ("W1 on A-B", "W2 on B-C", "W7 on G-A", "WC1-1 to WC1-4 on C1", "WC2-1 to WC2-4 on C2"):
        assert said in told
    assert "on C3" not in told


def test_ids_lead_back_to_walls_and_columns() -> None:
    """A wall that something interrupts has letters; a column may be named like a wall's side."""
    room = ATTIC.room
    assert [trim_place(name, room) for name in ("W3", "W3b", "W3.30", "WC1-2", "W99", "M1")] == [
        *("C-D", "C-D", "C-D", "C1"),
        *("", ""),
    ]
    ring = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0))
    odd = replace(room, columns=(Column("P-1", ring, (50.0, 50.0), 100.0),))
    assert trim_place("WP-1", odd) == "P-1"


def test_a_curve_is_said_where_angle_is_cut_bought_and_fixed() -> None:
    """C-D is bowed: its angle is W3."""
    bent = [member.id for member in ATTIC.ceiling.members if follows_arc(member, ATTIC.room)]
    assert bent == ["W3"]
    assert "for W3 take angle that bends, or snip its legs" in lettered(ATTIC, "cutting")
    assert "Wall angle along a curve: C-D." in lettered(ATTIC, "schedules")
    assert "Along the curve at C-D fix angle that bends" in order_of_work(ATTIC.room, ATTIC.ceiling)[0]
    for straight in (lettered(CORRIDOR, "cutting", "schedules"), *order_of_work(CORRIDOR.room, CORRIDOR.ceiling)):
        assert "bends" not in straight


def test_bars_that_are_not_cut_are_told_by_what_they_are_for() -> None:
    """12 ft of W1 and of W4 are uncut angle, 12 ft of M2 an uncut main tee."""
    whole = {
        item: [
            member.id
            for member in ATTIC.ceiling.members
            for piece in member.pieces
            if piece.stock == item and piece.length > 3657.5
        ]
        for item in ("wall angle", "main tee")
    }
    told = lettered(ATTIC, "cutting")
    assert whole["wall angle"] == ["W1", "W4"]
    assert "not cut For W1, W4" in told
    assert len(whole["main tee"]) == 1
    assert f"not cut For {whole['main tee'][0]}" in told
