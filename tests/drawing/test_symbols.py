"""Symbols and their legend."""

import pytest
from drawing.hand_plans import hand_plan, rectangle, room, round_column, service

from planner.drawing import words
from planner.drawing.labels import Heights
from planner.drawing.legend import legend, service_size, signs
from planner.drawing.roles import Role
from planner.drawing.shapes import Circle, Line, Outline, Text, extents
from planner.drawing.stylebook import load_style
from planner.drawing.symbols import SMALLEST, look_of, role_of
from planner.findings import Finding
from planner.room.service_kinds import KINDS

HEIGHTS = Heights.of(load_style("iso-13567"))


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_in_the_table_has_a_symbol_of_its_own(kind):
    look = look_of(service("X", kind, (0.0, 0.0), (600.0, 600.0)), 50.0)
    assert look.block.shapes
    assert all(shape.role == look.role for shape in look.block.shapes)
    assert not any(isinstance(shape, Text) for shape in look.block.shapes)


def test_a_kind_without_a_symbol_is_a_fault():
    with pytest.raises(ValueError, match="no symbol for 'chandelier'"):
        role_of("chandelier")


@pytest.mark.parametrize("kind", ["troffer", "supply_diffuser", "return_grille", "access_panel"])
def test_a_lay_in_symbol_is_drawn_at_true_size(kind):
    look = look_of(service("X", kind, (9.0, 9.0), (603.0, 1206.0)), 50.0)
    box = extents(look.block.shapes)
    assert (box.width, box.height) == pytest.approx((603.0, 1206.0))
    assert box.centre == pytest.approx((0.0, 0.0))
    assert not look.enlarged


def test_supply_has_both_diagonals_and_return_has_one():
    def diagonals(kind):
        shapes = look_of(service("X", kind, (0.0, 0.0), (600.0, 600.0)), 50.0).block.shapes
        return sum(isinstance(s, Line) and s.start[0] != s.end[0] and s.start[1] != s.end[1] for s in shapes)

    assert (diagonals("supply_diffuser"), diagonals("return_grille")) == (2, 1)


def test_the_line_of_a_light_runs_the_long_way():
    def line(size):
        shapes = look_of(service("X", "troffer", (0.0, 0.0), size), 50.0).block.shapes
        return next(s for s in shapes if isinstance(s, Line))

    assert line((600.0, 1200.0)).start[0] == line((600.0, 1200.0)).end[0] == 0.0
    assert line((1200.0, 600.0)).start[1] == line((1200.0, 600.0)).end[1] == 0.0


def test_a_round_diffuser_keeps_its_diagonals_inside_its_circle():
    shapes = look_of(service("X", "supply_diffuser", (0.0, 0.0), (300.0, 300.0), True), 50.0).block.shapes
    circle = next(s for s in shapes if isinstance(s, Circle))
    for line in (s for s in shapes if isinstance(s, Line)):
        assert line.start[0] ** 2 + line.start[1] ** 2 == pytest.approx(circle.radius**2)


def test_a_small_device_is_drawn_large_enough_to_see():
    """A sprinkler of 50 mm is 1 mm of paper at 1:50: it is drawn as 2.6 mm; at 1:10 it is 5 mm and stays."""
    small = service("H1", "sprinkler", (0.0, 0.0), (50.0, 50.0), True)
    assert extents(look_of(small, 50.0).block.shapes).width == pytest.approx(SMALLEST * 50)
    assert look_of(small, 50.0).enlarged
    assert extents(look_of(small, 10.0).block.shapes).width == pytest.approx(50)


def test_a_device_without_a_size_is_drawn_all_the_same():
    look = look_of(service("X", "smoke_detector", (0.0, 0.0), (0.0, 0.0), True), 50.0)
    assert extents(look.block.shapes).width == pytest.approx(SMALLEST * 50)


def test_blocks_are_named_by_kind_and_size_in_letters_that_every_program_takes():
    look = look_of(service("<&>", "exit_sign", (0.0, 0.0), (300.0, 80.0)), 50.0)
    assert set(look.block.name) <= set("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_")


def entries(plan, scale=50.0) -> list[str]:
    rows = legend(signs(plan, scale, HEIGHTS), 90.0, HEIGHTS).rows
    return [shape.text for row in rows for shape in row.shapes if isinstance(shape, Text) and shape.role == Role.LEGEND]


def test_the_legend_lists_exactly_the_kinds_on_the_sheet():
    services = (
        service("L1", "troffer", (900.0, 900.0), (600.0, 1200.0)),
        service("L2", "troffer", (1500.0, 900.0), (600.0, 1200.0)),
        service("D1", "downlight", (2500.0, 900.0), (150.0, 150.0), True),
    )
    listed = entries(hand_plan(room(rectangle(4140, 3150)), services=services))
    assert [text for text in listed if "(" in text] == ["Light, lay-in, 600 × 1200 (2)", "Downlight, Ø 150 (1)"]
    others = {KINDS[kind].label for kind in KINDS if kind not in ("troffer", "downlight")}
    assert not any(text.startswith(label) for text in listed for label in others)


def test_the_legend_of_a_bare_room_shows_no_column_and_no_finding():
    listed = entries(hand_plan(room(rectangle(4140, 3150))))
    assert (
        words.say("legend.column") not in listed
        and words.say("legend.finding") not in listed
        and words.say("legend.height tag meaning") not in listed
    )
    members = {words.say(f"members.{kind}") for kind in ("main tee", "cross tee", "wall angle")}
    assert {words.say("legend.wall"), words.say("legend.cut panel")} | members <= set(listed)


def test_columns_findings_and_height_enter_the_legend_when_they_are_there():
    made = room(rectangle(4140, 3150), columns=(round_column("P1", 2000, 1500, 200),), ceiling_height=2700.0)
    listed = entries(hand_plan(made, findings=(Finding("note", "r", "s", "m", (900.0, 900.0)),)))
    assert {
        words.say("legend.round column"),
        words.say("legend.finding"),
        words.say("legend.height tag meaning"),
    } <= set(listed)


def test_a_ceiling_without_cut_panels_has_none_in_its_legend():
    assert words.say("legend.cut panel") not in entries(hand_plan(room(rectangle(3000, 2400)), origin=(0.0, 0.0)))


def test_sizes_that_the_planner_assumed_are_not_listed():
    sprinkler = service("H1", "sprinkler", (900.0, 900.0), (50.0, 50.0), True)
    assert "Sprinkler (1)" in entries(hand_plan(room(rectangle(4140, 3150)), services=(sprinkler,)))


def test_sizes_are_written_in_the_units_of_the_job():
    light = service("L1", "troffer", (0.0, 0.0), (609.6, 1219.2))
    assert service_size(light, "ft-in") == '24" × 48"'
    assert service_size(service("D", "downlight", (0, 0), (150.0, 150.0), True), "m") == "Ø 150"


def test_samples_stay_beside_their_words():
    big = service("L1", "troffer", (900.0, 900.0), (1200.0, 2400.0))
    plan = hand_plan(room(rectangle(4140, 3150)), services=(big,))
    for row in legend(signs(plan, 20.0, HEIGHTS), 90.0, HEIGHTS).rows:
        drawn = [s for s in row.shapes if isinstance(s, Line | Outline | Circle)]
        if drawn:
            box = extents(tuple(drawn))
            assert box.left >= -0.01 and box.right <= 9.01
            assert box.top <= 0.01 and box.bottom >= -row.height - 0.01
