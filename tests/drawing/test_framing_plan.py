"""The framing and hanging plan: runs and their splices, joists, hangers, braces, what is listed beside them."""

from dataclasses import replace

import pytest
from drawing.hand_plans import hand_plan, rectangle, room, service
from drawing.whole_sheets import check, drawn_words, framing_plan, said

from planner.ceiling.members.left_first import pieces_in_order, places_in_order
from planner.ceiling.model import Ceiling, Hanger, Loads, Member, Piece
from planner.drawing.framing_plan import MOST_HANGERS, joist_lines
from planner.drawing.framing_words import about_framing
from planner.drawing.roles import Role
from planner.drawing.shapes import Circle, Line, Sheet, Symbol
from planner.drawing.splices import splice_ticks
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.findings import Finding
from planner.planning import Plan
from planner.room.outline import Joists

ISO = load_style("iso-13567")
RUN = (Piece("main tee", 3470.0, ("cut", "factory")), Piece("main tee", 670.0, ("factory", "cut")))


def run(name: str, y: float) -> Member:
    return Member(name, "main tee", (0.0, y), (4140.0, y), RUN)


def framed(**more: object) -> Plan:
    """Two runs of two pieces each, a wire of every kind, joists every 400."""
    joists = Joists(400.0, 200.0, "across")
    made = hand_plan(
        room(rectangle(4140, 3150), joists=joists),
        services=(service("L1", "troffer", (1770.0, 1575.0), (600.0, 1200.0)),),
    )
    others = tuple(member for member in made.ceiling.members if member.kind != "main tee")
    hangers = (
        Hanger("H1", (200.0, 975.0), "M1", "wire", 655.0),
        Hanger("H2", (1400.0, 975.0), "M1", "wire", 655.0),
        Hanger("H3", (3400.0, 975.0), "M1", "splice wire", 655.0),
        Hanger("H4", (1770.0, 1000.0), "L1", "service wire", None),
    )
    given = {"members": (run("M1", 975.0), run("M2", 2175.0), *others), "hangers": hangers}
    return replace(made, ceiling=replace(made.ceiling, **(given | more)))


def shapes(sheet: Sheet, role: Role) -> list:
    return [shape for shape in sheet.windows[0].drawing.shapes if shape.role == role]


def test_every_hanger_is_a_symbol_with_its_data():
    sheet = framing_plan(framed(), ISO, SheetWish())
    check(sheet, ISO)
    symbols = {dict(s.attributes)["MARK"]: s for s in shapes(sheet, Role.HANGER) if isinstance(s, Symbol)}
    assert set(symbols) == {"H1", "H2", "H3", "H4"}
    assert symbols["H3"].at == (3400.0, 975.0)
    assert dict(symbols["H3"].attributes) == {"MARK": "H3", "KIND": "splice wire", "HOLDS": "M1", "LENGTH": "655"}
    assert {s.block for s in symbols.values()} <= {block.name for block in sheet.windows[0].drawing.blocks}


def test_the_legend_counts_hangers_by_kind():
    words = said(framing_plan(framed(), ISO, SheetWish()))
    assert "Hanger wire (2)" in words and "Wire of a service (1)" in words
    assert "Screw" not in words and "Hanger wire at a wall" not in words


def test_a_splice_is_ticked_where_two_pieces_meet():
    """3470 of the 4140 are the first piece: the tick crosses the run at x = 3470."""
    (tick,) = splice_ticks(run("M1", 975.0), 50.0)
    assert tick.start[0] == tick.end[0] == 3470.0
    assert tick.start[1] < 975.0 < tick.end[1] or tick.end[1] < 975.0 < tick.start[1]


def test_equal_pieces_are_ticked_one_by_one_and_tees_are_not_ticked():
    """Three pieces of 1000 in one line of the list have joints at 1000 and 2000."""
    three = (Piece("main tee", 1000.0, ("factory", "factory"), 3),)
    assert [t.start[0] for t in splice_ticks(Member("M1", "main tee", (0.0, 0.0), (3000.0, 0.0), three), 50.0)] == [
        1000.0,
        2000.0,
    ]
    assert list(splice_ticks(Member("T1", "cross tee", (0.0, 0.0), (3000.0, 0.0), three), 50.0)) == []


def test_joists_lie_where_they_were_measured_and_only_over_the_room():
    """First at 200, then every 400, across a room 4140 wide: 200 ... 3800, ten of them; from wall to wall."""
    lines = list(joist_lines(framed().room))
    assert [line.start[0] for line in lines] == [200.0 + 400.0 * k for k in range(10)]
    assert {(line.start[1], line.end[1]) for line in lines} == {(0.0, 3150.0)}


def test_joists_along_the_base_wall_are_clipped_by_an_ell():
    """At y = 2500 the L is 2000 wide, at y = 500 it is 5000."""
    ell = ((0.0, 0.0), (5000.0, 0.0), (5000.0, 2000.0), (2000.0, 2000.0), (2000.0, 4000.0), (0.0, 4000.0))
    lines = list(joist_lines(room(ell, joists=Joists(2000.0, 500.0, "along"))))
    assert [(line.start[1], abs(line.end[0] - line.start[0])) for line in lines] == [(500.0, 5000.0), (2500.0, 2000.0)]


def test_runs_bear_their_ids_and_the_cut_length_of_their_first_piece():
    words = drawn_words(framing_plan(framed(), ISO, SheetWish()))
    assert any(word.startswith("M1") for word in words) and any(word.startswith("M2") for word in words)
    assert any("3470" in word for word in words)


def test_alike_runs_share_a_line_of_the_list():
    assert "M1 to M2 3470 + 670" in said(framing_plan(framed(), ISO, SheetWish()))


def test_a_run_that_is_walked_from_the_right_is_listed_from_the_left():
    backwards = Member("M1", "main tee", (4140.0, 975.0), (0.0, 975.0), RUN)
    assert [piece.length for piece in pieces_in_order(backwards)] == [670.0, 3470.0]
    upright = Member("M1", "main tee", (975.0, 4140.0), (975.0, 0.0), RUN)
    assert [piece.length for piece in pieces_in_order(upright)] == [670.0, 3470.0]
    assert pieces_in_order(run("M1", 975.0)) == RUN


def test_hang_points_are_told_from_the_end_where_the_pieces_begin():
    """4140 long, held at 300 and 3500 from its right end: 4140 - 3500 = 640 and 4140 - 300 = 3840 from its left."""
    backwards = Member("M1", "main tee", (4140.0, 975.0), (0.0, 975.0), RUN)
    assert places_in_order(backwards, (300.0, 3500.0)) == (640.0, 3840.0)
    assert places_in_order(run("M1", 975.0), (300.0, 3500.0)) == (300.0, 3500.0)


def test_members_are_counted_and_added_up_by_kind():
    """Two runs of 4140 are 8280 mm in four pieces."""
    words = said(framing_plan(framed(), ISO, SheetWish()))
    assert "Main tee 2 4 8280 mm" in words


def test_loads_are_told_when_they_were_computed():
    loads = Loads("intermediate", 1200.0, 152.0, 175.0, 3.33, 106.0, "H2")
    assert "152 N/m" in said(framing_plan(framed(loads=loads), ISO, SheetWish()))
    assert "106 N: M1 at 1400 mm" in said(framing_plan(framed(loads=loads), ISO, SheetWish()))
    assert "N/m" not in said(framing_plan(framed(), ISO, SheetWish()))


def test_braces_are_drawn_and_counted():
    sheet = framing_plan(framed(braces=((570.0, 975.0), (3000.0, 975.0))), ISO, SheetWish())
    check(sheet, ISO)
    assert "Lateral brace (2)" in said(sheet)
    assert sum(s.block.startswith("BRACE") for s in shapes(sheet, Role.HANGER) if isinstance(s, Symbol)) == 2


def test_carriers_and_cover_strips_of_a_direct_grid_have_roles_of_their_own():
    made = framed(
        members=(
            Member("C1", "carrier", (0.0, 975.0), (4140.0, 975.0), RUN),  # type: ignore[arg-type]
            Member("S1", "cover strip", (570.0, 0.0), (570.0, 3150.0), ()),  # type: ignore[arg-type]
            Member("F1", "furring strip", (0.0, 2000.0), (4140.0, 2000.0), ()),  # type: ignore[arg-type]
            Member("K1", "track", (0.0, 0.0), (4140.0, 0.0), ()),  # type: ignore[arg-type]
        )
    )
    sheet = framing_plan(made, ISO, SheetWish())
    check(sheet, ISO)
    for role in (Role.CARRIER, Role.COVER_STRIP, Role.FURRING, Role.WALL_ANGLE):
        assert any(isinstance(shape, Line) for shape in shapes(sheet, role)), role
    assert len(shapes(sheet, Role.SPLICE)) == 1


@pytest.mark.parametrize(
    ("rule", "shown"), [("hanger spacing", True), ("lateral bracing", True), ("border under half a module", False)]
)
def test_findings_about_framing_are_shown_and_others_are_not(rule: str, shown: bool):
    finding = Finding("warn", rule, "common practice, no source", "Look at this one.", (1000.0, 1000.0))
    assert about_framing(finding) is shown
    sheet = framing_plan(replace(framed(), findings=(finding,)), ISO, SheetWish())
    assert ("Look at this one." in said(sheet)) is shown


def test_a_crowd_of_hangers_is_drawn_up_to_a_limit_and_that_is_said():
    crowd = tuple(Hanger(f"H{k}", (10.0 + k % 4000, 10.0 + k // 4), "M1", "wire") for k in range(MOST_HANGERS + 7))
    ceiling: Ceiling = framed(hangers=crowd).ceiling
    sheet = framing_plan(replace(framed(), ceiling=ceiling), ISO, SheetWish())
    assert len([s for s in shapes(sheet, Role.HANGER) if isinstance(s, Symbol)]) == MOST_HANGERS
    assert "Hangers not drawn one by one: 7." in said(sheet)


def test_a_wire_that_leans_is_drawn_over_tees_and_lights_with_a_dot_where_it_is_tied():
    """Fixed 170 mm from where it is tied, along the run M1 and the edge of nothing else."""
    leaning = Hanger("H5", (1770.0, 975.0), "L1", "service wire", None, top=(1600.0, 975.0))
    drawn = framing_plan(framed(hangers=(leaning,)), ISO, SheetWish()).windows[0].drawing.shapes
    (line,) = [s for s in drawn if isinstance(s, Line) and s.role == Role.HANGER]
    (dot,) = [s for s in drawn if isinstance(s, Circle) and s.role == Role.HANGER]
    assert (line.start, line.end, dot.centre) == ((1600.0, 975.0), (1770.0, 975.0), (1770.0, 975.0))
    below = [k for k, s in enumerate(drawn) if s.role in (Role.MAIN_TEE, Role.CROSS_TEE, Role.LIGHT)]
    assert below and max(below) < drawn.index(line) < drawn.index(dot)
