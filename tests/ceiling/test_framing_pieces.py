"""The frame of rooms that are worked out by hand."""

from dataclasses import replace

import pytest
from ceiling.framing_rooms import INCH, block, grid, rectangle, room_of

from planner.ceiling.framing import frame
from planner.ceiling.mains import MainLines, choose_mains
from planner.ceiling.members.runs import angle_run, main_run, saw_off
from planner.ceiling.model import Cell, Member
from planner.ceiling.system import load_system
from planner.errors import PlannerError
from planner.geometry import distance
from planner.room.brief import GridWish
from planner.room.outline import Column, Room

IMPERIAL = load_system("lay-in-imperial")
METRIC = load_system("lay-in-metric")

Row = list[tuple[str, float, str, int]]


def inches(*values: float) -> tuple[float, ...]:
    return tuple(value * INCH for value in values)


def row(member: Member, unit: float = 1.0) -> Row:
    """Pieces as (stock, length, ends as "c" and "f", count)."""
    return [(p.stock, round(p.length / unit, 3), "".join(end[0] for end in p.ends), p.count) for p in member.pieces]


def named(members: tuple[Member, ...], kind: str) -> list[Member]:
    return [member for member in members if member.kind == kind]


def line_at(members: tuple[Member, ...], *, x: float | None = None, y: float | None = None) -> list[Member]:
    """Cross tees of the line that stands at x or at y."""
    tees = named(members, "cross tee")
    if x is not None:
        return [tee for tee in tees if abs(tee.start[0] - x) < 0.01 and abs(tee.end[0] - x) < 0.01]
    return [tee for tee in tees if y is not None and abs(tee.start[1] - y) < 0.01 and abs(tee.end[1] - y) < 0.01]


def navy_room() -> tuple[Member, ...]:
    """NAVEDTRA 14044 p. 5-16: 13 ft 7 in x 10 ft 4 in; borders 21.5 and 14 in by the rule of p. 7-23."""
    room, layout = rectangle(*inches(163, 124)), grid(inches(21.5, 14), inches(24, 24))
    return frame(room, layout, IMPERIAL, choose_mains(room, layout, IMPERIAL, GridWish("lay-in-imperial")))


# Main runs


@pytest.mark.parametrize(
    ("border", "sawn"),
    [
        (14, 1),  # CV-21: slots at 3, 9, 15: the 15 meets the tee at 14, saw off 1
        (21.5, 5.5),  # slot 27
        (24, 3),  # slot 27
        (15, 0),  # slot 15, nothing to saw
        (2, 1),  # slot 3
        (48, 3),  # slot 51
    ],
)
def test_the_first_cut_puts_a_slot_on_the_first_cross_tee(border: float, sawn: float) -> None:
    assert saw_off(border * INCH, IMPERIAL.main) == pytest.approx(sawn * INCH)


def test_a_run_is_begun_at_a_slot_and_goes_on_in_whole_lengths() -> None:
    """40 ft with the first tee at 14 in: 143, two whole ones of 144, and 480 - 143 - 288 = 49 in."""
    pieces = main_run(480 * INCH, 14 * INCH, IMPERIAL.main)
    assert [(round(p.length / INCH, 3), p.ends, p.count) for p in pieces] == [
        (143, ("cut", "factory"), 1),
        (144, ("factory", "factory"), 2),
        (49, ("factory", "cut"), 1),
    ]


def test_a_run_shorter_than_a_stock_length_is_one_piece() -> None:
    (piece,) = main_run(100 * INCH, 14 * INCH, IMPERIAL.main)
    assert (piece.length, piece.ends, piece.count) == (100 * INCH, ("cut", "cut"), 1)


def test_a_rest_too_short_to_hang_takes_a_pitch_from_the_first_piece() -> None:
    """12 ft with the first tee at 24 in: 3 in come off, 141 + 3 would splice on the ledge; so 135 + 9."""
    pieces = main_run(144 * INCH, 24 * INCH, IMPERIAL.main)
    assert [round(p.length / INCH, 3) for p in pieces] == [135, 9]


def test_a_run_of_whole_lengths_that_meets_its_slots_is_not_cut() -> None:
    """First tee at 15 in = a slot, run of 2 x 144 in."""
    pieces = main_run(288 * INCH, 15 * INCH, IMPERIAL.main)
    assert [(p.ends, p.count) for p in pieces] == [(("factory", "factory"), 2)]


def test_metric_slots() -> None:
    """Slots at 75 + 150 k; first tee at 437.5: slot 525, 87.5 come off; 3512.5 and 4000 - 3512.5 = 487.5."""
    pieces = main_run(4000, 437.5, METRIC.main)
    assert [(p.length, p.ends) for p in pieces] == [(3512.5, ("cut", "factory")), (487.5, ("factory", "cut"))]


# The whole frame


def test_main_runs_of_the_navy_room() -> None:
    """First tee at 21.5 in: slot 27, 5.5 come off: 138.5 and 163 - 138.5 = 24.5 in."""
    mains = named(navy_room(), "main tee")
    assert [main.id for main in mains] == ["M1", "M2"]
    assert [main.start[1] / INCH for main in mains] == pytest.approx([38, 86])
    first, second = mains
    assert row(first, INCH) == [("main tee", 138.5, "cf", 1), ("main tee", 24.5, "fc", 1)]
    assert row(second, INCH) == [("main tee", 24.5, "cf", 1), ("main tee", 138.5, "fc", 1)]  # staggered


def test_cross_tees_of_the_navy_room() -> None:
    """Square to the mains 38 + 48 + 38 in, all of 4 ft tees; between them 21.5, five of 24, 21.5, all of 2 ft tees."""
    members = navy_room()
    for x in (21.5, 45.5, 69.5, 93.5, 117.5, 141.5):
        (tee,) = line_at(members, x=x * INCH)
        assert row(tee, INCH) == [
            ("cross tee 4 ft", 38, "cf", 1),
            ("cross tee 4 ft", 48, "ff", 1),
            ("cross tee 4 ft", 38, "fc", 1),
        ]
    for y in (14, 62, 110):
        (tee,) = line_at(members, y=y * INCH)
        assert row(tee, INCH) == [
            ("cross tee 2 ft", 21.5, "cf", 1),
            ("cross tee 2 ft", 24, "ff", 5),
            ("cross tee 2 ft", 21.5, "fc", 1),
        ]
    assert len(named(members, "cross tee")) == 9


def test_no_wall_ends_in_a_scrap_of_angle() -> None:
    """3002 mm from 3000: 2902 + 100, as 2 mm cannot be fixed; 3150 from 3000 is 3000 + 150, and 40 mm stay 40."""
    lengths = {
        long: [round(piece.length, 3) for piece in angle_run(long, METRIC.wall_angle)]
        for long in (3002.0, 3150.0, 40.0, 6000.0, 6010.0)
    }
    assert lengths == {
        3002.0: [2902, 100],
        3150.0: [3000, 150],
        40.0: [40],
        6000.0: [3000, 3000],
        6010.0: [3000, 2910, 100],
    }


def test_wall_angle_of_the_navy_room() -> None:
    """163 in is one of 144 and 19; 124 in is one piece. Corners are cut, splices are not."""
    angles = named(navy_room(), "wall angle")
    assert [angle.id for angle in angles] == ["W1", "W2", "W3", "W4"]
    assert row(angles[0], INCH) == [("wall angle", 144, "cf", 1), ("wall angle", 19, "fc", 1)]
    assert row(angles[1], INCH) == [("wall angle", 124, "cc", 1)]


def test_the_standard_pattern_has_mains_4_ft_and_cross_tees_2_ft_apart() -> None:
    """10 ft x 8 ft, 24 x 48 panels with the long side away from the base wall, full at every wall: one main at 48."""
    room, layout = rectangle(*inches(120, 96)), grid((0.0, 0.0), inches(24, 48))
    members = frame(room, layout, IMPERIAL, MainLines("along", 1, 0))
    assert [main.start[1] / INCH for main in named(members, "main tee")] == pytest.approx([48])
    tees = named(members, "cross tee")
    assert [tee.start[0] / INCH for tee in tees] == pytest.approx([24, 48, 72, 96])
    assert all(row(tee, INCH) == [("cross tee 4 ft", 48, "ff", 2)] for tee in tees)


def test_the_reverse_pattern_has_mains_2_ft_and_cross_tees_4_ft_apart() -> None:
    """NAVEDTRA 14044 p. 5-16 spaces the cross tees of 2x4 panels 4 ft: panels lie along the mains."""
    room, layout = rectangle(*inches(144, 72)), grid((0.0, 0.0), inches(48, 24))
    mains = choose_mains(room, layout, IMPERIAL, GridWish("lay-in-imperial", mains="along"))
    members = frame(room, layout, IMPERIAL, mains)
    assert [main.start[1] / INCH for main in named(members, "main tee")] == pytest.approx([24, 48])
    tees = named(members, "cross tee")
    assert [tee.start[0] / INCH for tee in tees] == pytest.approx([48, 96])
    assert all(row(tee, INCH) == [("cross tee 2 ft", 24, "ff", 3)] for tee in tees)


def test_mains_across_are_the_same_frame_turned() -> None:
    """The same room with its axes swapped has the same pieces, line for line."""
    along = frame(rectangle(4000, 3100), grid((350, 250), (600, 600)), METRIC, MainLines("along", 2, 0))
    across = frame(rectangle(3100, 4000), grid((250, 350), (600, 600)), METRIC, MainLines("across", 2, 0))
    for one, other in zip(along, across, strict=True):
        if one.kind != "wall angle":
            assert row(one) == row(other)
            assert one.start == pytest.approx(other.start[::-1])


def test_a_short_tee_crossed_by_another_comes_from_a_slotted_one() -> None:
    """A corridor wing 500 wide without a main: its 500 tees carry the line between, so they need the slot of a 1200."""
    room = rectangle(3000, 500)
    members = frame(room, grid((300, 250), (600, 600)), METRIC, MainLines("along", 2, 1))
    assert not named(members, "main tee")
    (tee,) = line_at(members, x=300)
    assert row(tee) == [("cross tee 1200", 500, "cc", 1)]


def test_a_column_ends_the_tees_and_is_trimmed_all_round() -> None:
    """Column from (1000, 800) to (1400, 1100): the tee at x = 1200 is cut at 800 and goes on from 1100."""
    room = rectangle(3000, 2400, columns=(block("C1", (1000, 800), 400, 300),))
    members = frame(room, grid((0, 0), (600, 600)), METRIC, MainLines("along", 2, 0))
    lower, upper = line_at(members, x=1200)
    assert row(lower) == [("cross tee 1200", 800, "cc", 1)]
    assert (upper.start[1], upper.end[1]) == (pytest.approx(1100), pytest.approx(2400))
    trims = [member for member in members if "C1" in member.id]
    assert [member.id for member in trims] == ["WC1-1", "WC1-2", "WC1-3", "WC1-4"]
    assert sum(member.length for member in trims) == pytest.approx(1400 + 8 * 24)  # four mitres, a ledge each side


def test_a_round_column_is_trimmed_along_its_circle() -> None:
    """Diameter 400, more than a pipe: 1256.64 of wall angle."""
    ring = ((700.0, 500.0), (500.0, 700.0), (300.0, 500.0), (500.0, 300.0))
    room = rectangle(3000, 2400, columns=(Column("P1", ring, (500.0, 500.0), 400.0),))
    members = frame(room, grid((0, 0), (600, 600)), METRIC, MainLines("along", 2, 0))
    (trim,) = [member for member in members if member.id == "WP1"]
    assert trim.length == pytest.approx(1256.637, abs=1e-3)


def test_the_wall_behind_a_chase_and_its_back_are_not_trimmed() -> None:
    """Chase 400 x 300 against the base wall from x = 1000: W1 in two parts, three sides of the chase."""
    room = rectangle(3000, 2400, columns=(block("chase", (1000, 0), 400, 300),))
    members = frame(room, grid((0, 0), (600, 600)), METRIC, MainLines("along", 2, 0))
    lengths = {member.id: round(member.length, 3) for member in named(members, "wall angle")}
    assert {k: v for k, v in lengths.items() if k.startswith("W1")} == {"W1a": 1000, "W1b": 1600}
    assert {k: v for k, v in lengths.items() if "chase" in k} == {
        "Wchase-2": 324,  # a mitre of one ledge, 24, at each outside corner
        "Wchase-3": 448,
        "Wchase-4": 324,
    }


def test_two_chases_back_to_back_hide_each_other() -> None:
    """Two blocks of 300 x 300 side by side: 4 x 300 each, less the 300 where they meet; four corners mitred by 24."""
    pair = (block("C1", (1000, 800), 300, 300), block("C2", (1300, 800), 300, 300))
    members = frame(rectangle(3000, 2400, columns=pair), grid((0, 0), (600, 600)), METRIC, MainLines("along", 2, 0))
    assert sum(member.length for member in members if "C" in member.id) == pytest.approx(6 * 300 + 8 * 24)


def test_long_walls_take_whole_lengths_and_a_rest() -> None:
    assert [(p.length, p.ends, p.count) for p in angle_run(9500, METRIC.wall_angle)] == [
        (3000, ("cut", "factory"), 1),
        (3000, ("factory", "factory"), 2),
        (500, ("factory", "cut"), 1),
    ]


# Services


def served(*taken: tuple[Cell, ...]) -> tuple[Member, ...]:
    """6.0 x 4.8 m, 600 modules full at every wall, mains at 1200, 2400 and 3600 (lines 2, 4, 6)."""
    return frame(rectangle(6000, 4800), grid((0, 0), (600, 600)), METRIC, MainLines("along", 2, 0), taken)


def pieces_in(members: tuple[Member, ...], item: str) -> int:
    return sum(piece.count for member in members for piece in member.pieces if piece.stock == item)


def test_a_light_square_to_the_mains_takes_out_one_short_tee() -> None:
    """Cells (3, 2) and (3, 3): the 600 tee between them, on y = 1800 from x = 1800 to 2400, goes."""
    bare, lit = served(), served(((3, 2), (3, 3)))
    assert pieces_in(lit, "cross tee 600") == pieces_in(bare, "cross tee 600") - 1
    assert pieces_in(lit, "cross tee 1200") == pieces_in(bare, "cross tee 1200")
    left, right = line_at(lit, y=1800)
    assert (left.end[0], right.start[0]) == (pytest.approx(1800), pytest.approx(2400))
    assert row(left) == [("cross tee 600", 600, "ff", 3)]


def test_a_light_along_the_mains_rests_on_a_longer_tee() -> None:
    """Cells (3, 2) and (4, 2), mains at y = 1200 and 2400: the tee at x = 2400 loses its half below y = 1800.

    Its other half becomes a 600 tee, and on y = 1800 one 1200 tee stands for the two 600 ones from x = 1800 to 3000.
    """
    bare, lit = served(), served(((3, 2), (4, 2)))
    assert pieces_in(lit, "cross tee 1200") == pieces_in(bare, "cross tee 1200") - 1 + 1
    assert pieces_in(lit, "cross tee 600") == pieces_in(bare, "cross tee 600") - 2 + 1
    below, above = line_at(lit, x=2400)
    assert (below.end[1], above.start[1]) == (pytest.approx(1200), pytest.approx(1800))
    assert row(above) == [("cross tee 600", 600, "ff", 1), ("cross tee 1200", 1200, "ff", 2)]
    (beside,) = line_at(lit, y=1800)
    assert row(beside) == [
        ("cross tee 600", 600, "ff", 3),
        ("cross tee 1200", 1200, "ff", 1),
        ("cross tee 600", 600, "ff", 5),
    ]


def test_a_large_service_in_one_bay_takes_out_a_long_tee_and_two_short_ones() -> None:
    """Cells (3..4, 2..3): the 1200 tee at x = 2400 and the 600 ones on y = 1800 at each side of it."""
    bare, vented = served(), served(((3, 2), (4, 2), (3, 3), (4, 3)))
    assert pieces_in(vented, "cross tee 1200") == pieces_in(bare, "cross tee 1200") - 1
    assert pieces_in(vented, "cross tee 600") == pieces_in(bare, "cross tee 600") - 2


def test_two_lights_side_by_side_share_the_longer_tee() -> None:
    """Cells (3..4, 2) and (3..4, 3) are two lights: the whole 1200 tee at x = 2400 goes, one 1200 parts the lights."""
    bare, lit = served(), served(((3, 2), (4, 2)), ((3, 3), (4, 3)))
    assert pieces_in(lit, "cross tee 1200") == pieces_in(bare, "cross tee 1200") - 1 + 1
    assert pieces_in(lit, "cross tee 600") == pieces_in(bare, "cross tee 600") - 2


def test_a_main_is_never_taken_out() -> None:
    """Cells (3, 1) and (3, 2) lie on both sides of the main at y = 1200."""
    assert served(((3, 1), (3, 2))) == served()


def test_a_service_of_one_module_takes_out_nothing() -> None:
    assert served(((3, 2),)) == served()


def test_a_service_too_long_for_any_tee_beside_it_is_refused() -> None:
    """Three modules along the mains: 1800, but the longest cross tee has 1200."""
    with pytest.raises(PlannerError, match=r"1800 mm.*1200 mm"):
        served(((3, 2), (4, 2), (5, 2)))


def test_a_service_on_a_grid_with_mains_across_takes_out_the_same_tee() -> None:
    """The rooms and services of two tests above, turned."""
    room, layout, mains = rectangle(4800, 6000), grid((0, 0), (600, 600)), MainLines("across", 2, 0)
    bare, lit = frame(room, layout, METRIC, mains), frame(room, layout, METRIC, mains, [((2, 3), (3, 3))])
    assert pieces_in(lit, "cross tee 600") == pieces_in(bare, "cross tee 600") - 1


# Large rooms: CV-41, worked out in the test


def totals(room: Room, members: tuple[Member, ...]) -> dict[str, float]:
    return {
        item: sum(p.count * p.length for m in members for p in m.pieces if p.stock == item)
        for item in {piece.stock for member in members for piece in member.pieces}
    }


def test_quantities_of_a_large_room_in_feet() -> None:
    """100 ft x 100 ft, 24 x 24, full at the walls; without edges 0.25 ft main, 0.5 ft of 4 ft, 0.25 ft of 2 ft per ft2.

    Edge terms: 24 mains, as the one at the wall is the wall angle: 2400 of 2500 ft. 49 lines of 4 ft tees: 4900 of
    5000 ft. 25 lines of 2 ft tees between the mains: 2500 ft.
    """
    foot = 12 * INCH
    room, layout = rectangle(100 * foot, 100 * foot), grid((0.0, 0.0), inches(24, 24))
    members = frame(room, layout, IMPERIAL, choose_mains(room, layout, IMPERIAL, GridWish("lay-in-imperial")))
    feet = {item: round(length / foot, 6) for item, length in totals(room, members).items()}
    assert feet == {"main tee": 2400, "cross tee 4 ft": 4900, "cross tee 2 ft": 2500, "wall angle": 400}
    assert pieces_in(members, "cross tee 4 ft") == 1225
    assert pieces_in(members, "cross tee 2 ft") == 1250


def test_quantities_of_a_large_metric_room() -> None:
    """120 m x 120 m, 600 x 600: published as 0.84, 1.68, 0.84 m per m2, which are 0.833, 1.667, 0.833 and 0.8 %.

    Edges: 99 of 100 mains and 199 of 200 lines of 1200 tees stand, as one line is the wall.
    """
    room, layout = rectangle(120_000, 120_000), grid((0.0, 0.0), (600, 600))
    members = frame(room, layout, METRIC, choose_mains(room, layout, METRIC, GridWish("lay-in-metric")))
    per_area = {item: length / 1000 / 14_400 for item, length in totals(room, members).items()}
    assert per_area["main tee"] == pytest.approx(0.8333 * 99 / 100, abs=1e-4)
    assert per_area["cross tee 1200"] == pytest.approx(1.6667 * 199 / 200, abs=1e-4)
    assert per_area["cross tee 600"] == pytest.approx(0.8333, abs=1e-4)


def test_members_grow_with_the_lines_and_not_with_the_floor() -> None:
    """300 x 300 m, 250,000 modules: 249 mains, 499 + 250 lines of cross tees, 4 walls, each a handful of pieces."""
    room = rectangle(300_000, 300_000)
    members = frame(room, grid((0, 0), (600, 600)), METRIC, MainLines("along", 2, 0))
    assert len(members) == 249 + 499 + 250 + 4
    assert max(len(member.pieces) for member in members) <= 3


def test_a_turned_grid_ends_in_the_room_frame() -> None:
    """Grid turned by 90 degrees about (300, 300): its mains, along its first axis, run away from the base wall."""
    members = frame(rectangle(3000, 2400), grid((300, 300), (600, 600), 90.0), METRIC, MainLines("along", 2, 0))
    for main in named(members, "main tee"):
        assert main.start[0] == pytest.approx(main.end[0])
        assert distance(main.start, main.end) == pytest.approx(2400)


def test_a_slanted_wall_is_met_at_its_slant() -> None:
    """Triangle with legs of 3000: the tee at x = 600 is cut at y = 2400, the hypotenuse."""
    room = room_of(((0, 0), (3000, 0), (0, 3000)))
    members = frame(room, grid((0, 0), (600, 600)), METRIC, MainLines("along", 2, 0))
    (tee,) = line_at(members, x=600)
    assert tee.end[1] == pytest.approx(2400, abs=0.02)


def test_ids_are_unique() -> None:
    room = rectangle(3000, 2400, columns=(block("1", (1000, 0), 400, 300), block("2", (2000, 800), 300, 300)))
    members = frame(room, grid((0, 0), (600, 600)), METRIC, replace(MainLines("along", 2, 0), phase=1))
    assert len({member.id for member in members}) == len(members)
