"""Taped rooms: what comes out of a clipboard, what is assumed, and what is refused."""

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.errors import PlannerError
from planner.geometry import distance, signed_area
from planner.room.closing.checks import problems_of
from planner.room.survey import Clipboard, Reading, Survey, tape_accuracy
from planner.room.tape import close_survey

Tape = Mapping[str, float | Sequence[float]]


def readings(tape: Tape) -> tuple[Reading, ...]:
    """The tape of a room file: "A-B": one length or several."""
    taped = []
    for line, lengths in tape.items():
        a, b = line.split("-")
        each = [lengths] if isinstance(lengths, int | float) else lengths
        taped += [Reading((a, b), float(length)) for length in each]
    return tuple(taped)


def clipboard(corners: str, tape: Tape, **more: object) -> Clipboard:
    return Clipboard(tuple(corners), readings(tape), **more)  # type: ignore[arg-type]


def close(corners: str, tape: Tape, **more: object) -> Survey:
    return close_survey(clipboard(corners, tape, **more))


def rules(survey: Survey) -> list[tuple[str, str]]:
    return [(finding.severity, finding.rule) for finding in survey.findings]


#: 4 m by 3 m, diagonals 5 m.
RECTANGLE = {"A-B": 4000, "B-C": 3000, "C-D": 4000, "D-A": 3000}
L_WALLS = {"A-B": 6000, "B-C": 3400, "C-D": 2500, "D-E": 2100, "E-F": 3500, "F-A": 5500}
L_CORNERS = {"A": (0, 0), "B": (6000, 0), "C": (6000, 3400), "D": (3500, 3400), "E": (3500, 5500), "F": (0, 5500)}
L_DIAGONALS = ("A-C", "A-D", "A-E", "B-D", "D-F", "B-F")


def l_tape(*diagonals: str) -> dict[str, float]:
    """The walls of the L and some of its diagonals, all true."""
    return L_WALLS | {d: math.dist(L_CORNERS[d[0]], L_CORNERS[d[2]]) for d in diagonals}


def assert_corners(survey: Survey, expected: Mapping[str, tuple[float, float]], within: float = 1e-3) -> None:
    assert list(survey.corners) == list(expected)
    for name, at in expected.items():
        assert survey.corners[name] == pytest.approx(at, abs=within), name


class TestShapes:
    def test_a_braced_rectangle(self) -> None:
        """Six readings, 2 * 4 - 3 = 5 needed: one to spare, and nothing is assumed."""
        survey = close("ABCD", RECTANGLE | {"A-C": 5000, "B-D": 5000})
        assert_corners(survey, {"A": (0, 0), "B": (4000, 0), "C": (4000, 3000), "D": (0, 3000)})
        assert survey.redundancy == 1
        assert survey.assumptions == ()
        assert survey.misfit == pytest.approx(0, abs=1e-6)
        assert rules(survey)[0] == ("note", "readings agree")

    def test_one_diagonal_makes_a_parallelogram_of_equal_sides(self) -> None:
        """Sides 4 and 3 m, diagonal A-C 5.2 m: cos B = (16 + 9 - 27.04) / 24 = -0.085, B = 94.88 degrees."""
        survey = close("ABCD", RECTANGLE | {"A-C": 5200})
        wide = math.degrees(math.acos((16 + 9 - 5.2**2) / 24))
        assert wide == pytest.approx(94.88, abs=0.01)
        assert [survey.angles[c] for c in "ABCD"] == pytest.approx([180 - wide, wide, 180 - wide, wide])
        # The other diagonal by the parallelogram law: 2 (16 + 9) - 27.04 = 22.96.
        assert survey.diagonal_difference == pytest.approx(5200 - 1000 * math.sqrt(22.96))
        # Over the shorter wall, 3 m: 3000 sin(4.88 degrees) = 255 mm wide at B, as much tight at A.
        off = 3000 * math.sin(math.radians(wide - 90))
        assert [survey.out_of_square[c] for c in "ABCD"] == pytest.approx([-off, off, -off, off])
        assert ("warn", "corner far from square") in rules(survey)

    def test_the_l_from_its_walls_and_diagonals(self) -> None:
        survey = close("ABCDEF", l_tape(*L_DIAGONALS), outside_corners=("D",))
        assert_corners(survey, L_CORNERS)
        assert survey.redundancy == 3  # 12 lines of sight, 2 * 6 - 3 = 9 needed
        assert survey.diagonal_difference is None
        assert survey.angles["D"] == pytest.approx(270)

    def test_a_triangle_needs_no_diagonal(self) -> None:
        survey = close("ABC", {"A-B": 4000, "B-C": 3000, "C-A": 5000}, angles={"A": 37, "B": 90, "C": 53})
        assert_corners(survey, {"A": (0, 0), "B": (4000, 0), "C": (4000, 3000)})

    def test_given_angles_start_the_shape(self) -> None:
        """A square with one corner cut off at 45 degrees: C and D have 135 inside; B-D and A-C brace it."""
        at = {"A": (0, 0), "B": (4000, 0), "C": (4000, 3000), "D": (3000, 4000), "E": (0, 4000)}
        lines = [*pairwise("ABCDEA"), ("A", "C"), ("B", "D")]
        tape = {f"{a}-{b}": math.dist(at[a], at[b]) for a, b in lines}
        survey = close("ABCDE", tape, angles={"C": 135, "D": 135})
        assert_corners(survey, at)
        assert all(abs(off) < 1e-3 for off in survey.out_of_square.values())

    def test_walked_clockwise_the_base_wall_stays(self) -> None:
        """Clockwise A B C D: with the room on the left one walks B A D C, and A-B is still the first wall."""
        tape = {"A-B": 4000, "B-C": 3000, "C-D": 4010, "D-A": 3000, "A-C": 5000, "B-D": 5008}
        clock = close("ABCD", tape, walk="clockwise")
        assert list(clock.corners) == ["B", "A", "D", "C"]
        assert clock.corners["B"] == (0, 0)
        assert clock.corners["A"] == pytest.approx((4000, 0), abs=3)
        assert signed_area(tuple(clock.corners.values())) > 0
        counter = close("ABCD", tape)
        for a, b in pairwise("ABCDA"):
            one, other = clock.corners, counter.corners
            assert distance(one[a], one[b]) == pytest.approx(distance(other[a], other[b]), abs=1e-4)

    def test_an_outside_corner_counts_against_270_degrees(self) -> None:
        survey = close("ABCDEF", l_tape("A-C", "A-D", "A-E"), outside_corners=("D",))
        assert survey.out_of_square["D"] == pytest.approx(0, abs=1e-3)

    @settings(max_examples=25, deadline=None)
    @given(
        a=st.floats(2000, 9000),
        b=st.floats(2000, 9000),
        skew=st.lists(st.floats(-150, 150), min_size=8, max_size=8),
    )
    def test_true_readings_give_the_true_room(self, a: float, b: float, skew: list[float]) -> None:
        """Any crooked four-cornered room, taped without error, comes back with its own lengths and area."""
        square = ((0.0, 0.0), (a, 0.0), (a, b), (0.0, b))
        at = {c: (x + skew[k], y + skew[k + 4]) for k, (c, (x, y)) in enumerate(zip("ABCD", square, strict=True))}
        lines = [*pairwise("ABCDA"), ("A", "C"), ("B", "D")]
        survey = close("ABCD", {f"{p}-{q}": math.dist(at[p], at[q]) for p, q in lines})
        assert signed_area(tuple(survey.corners.values())) == pytest.approx(signed_area(tuple(at.values())), rel=1e-6)
        assert all(abs(reading.residual) < 1e-3 for reading in survey.readings)


class TestAssumptions:
    def test_four_walls_alone_assume_one_square_corner(self) -> None:
        """4 readings of 5 needed: one corner is taken as square, and a diagonal would do instead."""
        survey = close("ABCD", RECTANGLE)
        (assumption,) = survey.assumptions
        assert (assumption.corner, assumption.angle, assumption.tape) == ("A", 90, ("A", "C"))
        (note,) = [f for f in survey.findings if f.rule == "corner assumed square"]
        assert note.severity == "note"
        assert note.where == survey.corners["A"]
        assert "A-C" in note.remedy
        assert close("ABCD", RECTANGLE | {"A-C": 5000}).assumptions == ()

    def test_the_lines_named_make_all_assumptions_needless(self) -> None:
        """The walls of an L leave three corners open (6 of 9); taping the three lines named closes all of them."""
        survey = close("ABCDEF", L_WALLS, outside_corners=("D",))
        assert len(survey.assumptions) == 3
        named = ["-".join(a.tape) for a in survey.assumptions if a.tape]
        assert len(set(named)) == 3
        again = close("ABCDEF", l_tape(*named), outside_corners=("D",))
        assert again.assumptions == ()
        assert_corners(again, L_CORNERS)

    @pytest.mark.parametrize(
        "room",
        [
            pytest.param([(0, 0), (7, 0), (7, 4), (5, 4), (5, 2), (2, 2), (2, 5), (0, 5)], id="U"),
            pytest.param([(0, 0), (2, 0), (2, 3), (4, 3), (4, 5), (-2, 5), (-2, 3), (0, 3)], id="T"),
            pytest.param(
                [(0, 0), (2, 0), (2, 2), (5, 2), (5, 4), (2, 4), (2, 7), (0, 7), (0, 4), (-3, 4), (-3, 2), (0, 2)],
                id="cross",
            ),
            pytest.param(
                [(0, 0), (9, 0), (9, 5), (8, 5), (8, 3), (6, 3), (6, 5), (4, 5), (4, 3), (2, 3), (2, 5), (0, 5)],
                id="bays",
            ),
        ],
    )
    def test_larger_rooms_ask_for_as_many_lines_as_are_missing(self, room: list[tuple[int, int]]) -> None:
        """The walls of a room with n corners leave n - 3 open; as many are assumed, and as many lines close them."""
        names = "ABCDEFGHIJKL"[: len(room)]
        at = {name: (1000.0 * x, 1000.0 * y) for name, (x, y) in zip(names, room, strict=True)}
        turns = [
            (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
            for a, b, c in zip([room[-1], *room[:-1]], room, [*room[1:], room[0]], strict=True)
        ]
        outside = tuple(name for name, turn in zip(names, turns, strict=True) if turn < 0)
        walls = {f"{a}-{b}": math.dist(at[a], at[b]) for a, b in pairwise(names + "A")}
        survey = close(names, walls, outside_corners=outside)
        assert_corners(survey, at, within=0.01)
        named = [assumption.tape for assumption in survey.assumptions]
        assert len({frozenset(line) for line in named if line}) == len(room) - 3
        more = {f"{line[0]}-{line[1]}": math.dist(at[line[0]], at[line[1]]) for line in named if line}
        again = close(names, walls | more, outside_corners=outside)
        assert again.assumptions == ()
        assert_corners(again, at, within=0.01)

    def test_no_corner_is_assumed_that_the_tape_knows(self) -> None:
        """A-C fixes B; what stays open is the other leg: two corners, and B is not among them."""
        survey = close("ABCDEF", l_tape("A-C"), outside_corners=("D",))
        assert len(survey.assumptions) == 2
        assert "B" not in {a.corner for a in survey.assumptions}

    def test_a_corner_that_is_not_square_is_taken_as_given(self) -> None:
        at = {"A": (0, 0), "B": (4000, 0), "C": (4000, 3000), "D": (3000, 4000), "E": (0, 4000)}
        tape = {f"{a}-{b}": math.dist(at[a], at[b]) for a, b in pairwise("ABCDEA")}
        survey = close("ABCDE", tape, angles={"C": 135, "D": 135})
        assert_corners(survey, at)
        assert {a.corner for a in survey.assumptions} <= {"A", "B", "E"}  # square is trusted more than a given angle

    def test_an_assumed_corner_is_known_less_well(self) -> None:
        """Square to 5 mm in a metre: the far wall of a 3 m deep room may stand 15 mm off."""
        assumed = close("ABCD", RECTANGLE).accuracy["C"]
        braced = close("ABCD", RECTANGLE | {"A-C": 5000, "B-D": 5000}).accuracy["C"]
        assert assumed.along == pytest.approx(15, abs=0.2)
        assert braced.along < 1.5

    def test_a_corner_in_the_middle_of_a_straight_wall(self) -> None:
        """E stands in wall A-B; no length along the wall says whether it stands out of line, E-C and E-D do."""
        tape = {"A-E": 1500, "E-B": 2500, "B-C": 3000, "C-D": 4000, "D-A": 3000, "A-C": 5000}
        survey = close("AEBCD", tape, angles={"E": 180})
        assert survey.corners["B"] == pytest.approx((4000, 0), abs=1)
        assert [a.tape for a in survey.assumptions if a.corner == "E"] in ([("E", "C")], [("E", "D")], [])


class TestUntapedWalls:
    def test_the_rest_determines_one_wall(self) -> None:
        """In the L, C-D = 6000 - 3500 = 2500, with its corners taken as square."""
        survey = close("ABCDEF", {k: v for k, v in L_WALLS.items() if k != "C-D"}, outside_corners=("D",))
        (wall,) = survey.found
        assert wall.between == ("C", "D")
        assert wall.length == pytest.approx(2500, abs=1e-3)
        assert ("note", "wall not taped") in rules(survey)

    def test_diagonals_determine_a_wall_without_assumptions(self) -> None:
        tape = {k: v for k, v in (RECTANGLE | {"A-C": 5000, "B-D": 5000}).items() if k != "C-D"}
        survey = close("ABCD", tape)
        assert survey.assumptions == ()
        assert survey.found[0].length == pytest.approx(4000, abs=1e-3)
        assert 0.5 < survey.found[0].accuracy < 5

    def test_a_wall_and_a_diagonal_are_enough_for_a_square_room(self) -> None:
        """A-B = 4 m and A-C = 5 m: B-C is 3 m, since square corners close the rest."""
        survey = close("ABCD", {"A-B": 4000, "A-C": 5000})
        assert_corners(survey, {"A": (0, 0), "B": (4000, 0), "C": (4000, 3000), "D": (0, 3000)}, within=0.1)
        assert len(survey.assumptions) == 3

    def test_where_nothing_determines_a_wall_it_is_named(self) -> None:
        with pytest.raises(PlannerError) as caught:
            close("ABCD", {"A-B": 4000})
        assert "too little" in caught.value.problem
        assert caught.value.mend == "Tape B-C next."

    def test_two_parallel_walls_cannot_both_be_missing(self) -> None:
        """A-B = C-D + E-F: with two of the three untaped, one more is needed."""
        tape = {k: v for k, v in L_WALLS.items() if k not in ("A-B", "C-D")}
        with pytest.raises(PlannerError) as caught:
            close("ABCDEF", tape, outside_corners=("D",))
        assert caught.value.mend == "Tape A-B next."


class TestRefusals:
    @pytest.mark.parametrize(
        ("change", "problem", "mend"),
        [
            ({"corners": ("A", "B")}, "three corners", "order of the walk"),
            ({"corners": ("A", "B", "C", "A")}, "named 2 times", "once"),
            ({"readings": ()}, "nothing was taped", "every wall"),
            ({"readings": readings({"A-B": 4000, "B-X": 3000})}, "no corner X", "A, B, C, D"),
            ({"readings": readings({"A-B": 4000, "C-C": 3000})}, "to itself", "two different"),
            ({"readings": readings({"A-B": 0})}, "more than nothing", "Tape"),
            ({"readings": readings({"A-B": math.nan})}, "more than nothing", "Tape"),
            ({"outside_corners": ("Q",)}, "no corner Q", "A, B, C, D"),
            ({"angles": {"C": 0}}, "between 1 and 359", "square"),
            ({"angles": {"b": 100}}, "no corner b", "Did you mean B?"),
            ({"outside_corners": ("C",), "angles": {"C": 90}}, "jut into the room", "270"),
            ({"accuracy": 0.0}, "accuracy", "usual"),
        ],
    )
    def test_bad_clipboards(self, change: dict[str, object], problem: str, mend: str) -> None:
        good: dict[str, object] = {"corners": tuple("ABCD"), "readings": readings(RECTANGLE)}
        with pytest.raises(PlannerError) as caught:
            close_survey(Clipboard(**(good | change)))  # type: ignore[arg-type]
        assert problem in caught.value.problem
        assert mend in caught.value.mend
        assert caught.value.where

    def test_all_problems_are_told(self) -> None:
        bad = clipboard("ABCD", {"A-X": 4000, "B-B": 3000}, outside_corners=("Y",))
        assert len(problems_of(bad)) == 3

    def test_a_triangle_that_cannot_close(self) -> None:
        """3 + 4 m are less than 8 m."""
        with pytest.raises(PlannerError, match="C-B and B-A together are only 7000 mm") as caught:
            close("ABC", {"A-B": 3000, "B-C": 4000, "C-A": 8000})
        assert "Tape C-A again" in caught.value.mend

    def test_walls_that_cannot_close(self) -> None:
        """One wall longer than the three others: 3 + 4 + 3 = 10 m against 12 m."""
        with pytest.raises(PlannerError, match="A-B is taped as 12000 mm"):
            close("ABCD", RECTANGLE | {"A-B": 12000})

    def test_a_straight_line_is_no_triangle_that_cannot_close(self) -> None:
        """A-C may seem longer than A-B and B-C by a millimetre when the three lie in one line."""
        line = clipboard("ABCD", {"A-B": 2000, "B-C": 2000, "A-C": 4001, "C-D": 3000, "D-A": 5000})
        assert problems_of(line) == ()

    def test_a_forgotten_outside_corner(self) -> None:
        """Six corners turn to 720 degrees, six square ones to 540."""
        with pytest.raises(PlannerError, match="720 degrees; as told they make 540") as caught:
            close("ABCDEF", L_WALLS)
        assert caught.value.mend == "Name 1 more under outside_corners: those that jut into the room."

    def test_one_outside_corner_too_many(self) -> None:
        with pytest.raises(PlannerError) as caught:
            close("ABCD", RECTANGLE, outside_corners=("C",))
        assert caught.value.mend == "Name 1 fewer under outside_corners: only those that jut into the room."

    def test_corners_that_are_not_square_need_their_angles(self) -> None:
        with pytest.raises(PlannerError, match="540 degrees; as told they make 450") as caught:
            close("ABCDE", {"A-B": 4000, "B-C": 3000, "C-D": 1414, "D-E": 3000, "E-A": 4000})
        assert "under angles" in caught.value.mend

    def test_a_fully_braced_room_needs_no_angles(self) -> None:
        """A regular pentagon, sides 3 m, diagonals 3 m times the golden ratio; nobody said that its corners are 108."""
        golden = 3000 * (1 + math.sqrt(5)) / 2
        tape = {f"{a}-{b}": 3000.0 for a, b in pairwise("ABCDEA")}
        tape |= {line: golden for line in ("A-C", "A-D", "B-D", "B-E", "C-E")}
        survey = close("ABCDE", tape)
        assert list(survey.angles.values()) == pytest.approx([108] * 5)

    def test_the_wrong_corner_named_as_jutting_in(self) -> None:
        """The braced L with E instead of D under outside_corners."""
        with pytest.raises(PlannerError, match="said to jut into the room, but the tape has it otherwise"):
            close("ABCDEF", l_tape(*L_DIAGONALS), outside_corners=("E",))

    def test_a_room_that_crosses_itself(self) -> None:
        """C-D taped 6.5 m long in an L that is 6 m wide, and all else to suit: it runs out through wall F-A."""
        at = L_CORNERS | {"D": (-500, 3400), "E": (-500, 5500)}
        lines = [*pairwise("ABCDEFA"), *(tuple(d.split("-")) for d in L_DIAGONALS)]
        with pytest.raises(PlannerError, match="walls C-D and F-A cross") as caught:
            close("ABCDEF", {f"{a}-{b}": math.dist(at[a], at[b]) for a, b in lines}, outside_corners=("D",))
        assert "C-D, F-A" in caught.value.mend


class TestAccuracy:
    def test_a_reading_is_as_good_as_its_length_allows(self) -> None:
        """sqrt(1.0^2 + (0.12 * 10)^2) = sqrt(2.44) = 1.562 mm over ten metres."""
        assert tape_accuracy(10_000) == pytest.approx(math.sqrt(2.44))

    def test_a_stated_accuracy_replaces_it(self) -> None:
        survey = close("ABCD", RECTANGLE | {"A-C": 5000, "B-D": 5000}, accuracy=2.5)
        assert {reading.accuracy for reading in survey.readings} == {2.5}
        finer = close("ABCD", RECTANGLE | {"A-C": 5000, "B-D": 5000}, accuracy=1.25)
        assert survey.accuracy["C"].radius == pytest.approx(2 * finer.accuracy["C"].radius)

    def test_the_base_wall_is_where_accuracy_is_counted_from(self) -> None:
        """A is held, B may only move along its wall, by what A-B is known."""
        survey = close("ABCD", RECTANGLE | {"A-C": 5000, "B-D": 5000})
        assert (survey.accuracy["A"].along, survey.accuracy["A"].away, survey.accuracy["B"].away) == (0, 0, 0)
        assert survey.accuracy["B"].along == pytest.approx(
            tape_accuracy(4000) * math.sqrt(1 - survey.readings[0].redundancy)
        )

    def test_the_least_error_seen(self) -> None:
        """4.13 s / sqrt r, a braced square of 4 m: r is the same for its sides by symmetry."""
        side, diagonal = 4000, 4000 * math.sqrt(2)
        tape = {f"{a}-{b}": side for a, b in pairwise("ABCDA")} | {"A-C": diagonal, "B-D": diagonal}
        survey = close("ABCD", tape, accuracy=1.0)
        wall = survey.readings[0]
        # Sum of r is 1; for a square with equal weights sides have 1/8 each, diagonals 1/4 each.
        assert [reading.redundancy for reading in survey.readings] == pytest.approx([1 / 8] * 4 + [1 / 4] * 2)
        assert wall.least_error_seen == pytest.approx(4.13 * math.sqrt(8))
