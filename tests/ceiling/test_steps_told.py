"""What the order of work says of holes, columns, slanted walls, free tee ends and wires."""

from functools import cache
from pathlib import Path

from planner.ceiling.build import build_ceiling
from planner.ceiling.order import order_of_work
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"


@cache
def steps_of(name: str) -> tuple[str, ...]:
    brief = read_room(FIXTURES / f"{name}.yaml")
    return order_of_work(brief.room, build_ceiling(brief))


def step_with(name: str, words: str) -> str:
    (step,) = [step for step in steps_of(name) if words in step]
    return step


class TestPanels:
    def test_holes_have_their_sizes_and_who_fits_what_is_told(self) -> None:
        """The seismic lab's heads have holes of about 2 in; its exit sign is fixed below a panel, and has a weight."""
        step = step_with("seismic-lab", "on the bench")
        assert 'H1 to H12 in d1 to d12 (pipe + 2").' in step
        assert "Below the panels, with only a cable through them: SD1, EX1." in step
        assert "Ask whoever fits the sprinklers" in step
        assert step.endswith("a licensed person does the wiring. Tie EX1 to separate wires.")

    def test_no_row_is_told_from_the_front_where_the_grid_is_turned(self) -> None:
        """The foyer's grid lies at 135 degrees: its rows have no front and no left."""
        assert not any("from the front, each" in step for step in steps_of("foyer-diagonal"))

    def test_a_panel_round_a_column_is_cut_in_two(self) -> None:
        """The clinic's column is 300 x 300 and stands inside panel d1: no ring goes over it.

        2.5 mm are off on every side, half of the panels' undersize: 305, as on the sheets.
        """
        assert "inside d1 (hole of 305 mm x 305 mm)" in step_with("clinic", "in two through its hole")
        assert not any("in two through its hole" in step for step in steps_of("kiln-room"))

    def test_the_hole_round_a_pipe_is_one_size_in_all_steps(self) -> None:
        """The workshop's pipe is 4 in wide; 1/8 in is off all round, half of the undersize: 4 1/4 in."""
        assert 'inside d1 (hole of 4 1/4")' in step_with("workshop-low", "in two through its hole")
        assert 'round P1 (hole of 4 1/4")' in step_with("workshop-low", "screw nothing to them")

    def test_holes_of_sprinklers_go_by_their_pipes_where_the_finding_asks_for_wider_ones(self) -> None:
        """Seismic category D: 2 in more than pipes, of unknown size; in the clinic 50 mm, as bought."""
        assert '(pipe + 2")' in step_with("seismic-lab", "Cut the holes into these panels")
        assert "(50 mm)" in step_with("clinic", "Cut the holes into these panels")

    def test_they_go_up_through_their_own_openings_and_templates_are_spoken_of_where_there_are_some(self) -> None:
        kiln, attic = step_with("kiln-room", "border panels"), step_with("attic-office", "border panels")
        assert "through its own opening" in kiln and "template" not in kiln
        assert "by their templates" in attic

    def test_the_last_step_is_work(self) -> None:
        """Which panels go where belongs to laying them; it is no step behind it."""
        for name in ("studio-l", "attic-office", "clinic"):
            assert "border panels" in steps_of(name)[-1] and "row 1: " in steps_of(name)[-1]


class TestTeeEnds:
    def test_tees_at_a_pipe_are_not_told_to_lie_on_a_wall_angle(self) -> None:
        """The attic's T9 and T10 end at pipe C3: of 19 cut tees 17 lie on wall angle, two hang on wires there."""
        step = step_with("attic-office", "Hook in")
        assert "17 at walls and columns, each cut to its own measure, its cut end on the wall angle." in step
        assert "T9, T10 end at C3, where no wall angle carries them" in step and "(2)" in step

    def test_ends_at_slanted_walls_are_cut_to_their_slope(self) -> None:
        """The foyer's grid meets its walls at 45 degrees: half of a face of 24 x tan 45 = 12 mm longer on one edge."""
        told = [step for step in steps_of("foyer-diagonal") if "to the slope of the wall" in step]
        assert [step.split()[0] for step in told] == ["Hang", "Hook"]
        assert all("along the middle, one edge comes out up to 12 mm longer" in step for step in told)
        assert not any("slope of the wall" in step for step in steps_of("kiln-room"))

    def test_what_reaches_from_wall_to_wall_is_sawn_a_little_less(self) -> None:
        """Common practice: 1/8 in or 3 mm. Where an earthquake asks for a gap of 3/4 in there is room enough."""
        assert 'saw up to 1/8" less there' in step_with("kiln-room", "Hang the main tees")
        assert "saw up to 3 mm less there" in step_with("clinic", "Hang the main tees")
        assert "less there" not in step_with("seismic-lab", "Hang the main tees")


class TestWires:
    def test_wires_of_several_lengths_are_counted(self) -> None:
        """Kiln room, drop 9 in and 12 of ties: 8 plumb wires (of the mains) are 1'-9". Of the services' two lean 3 1/2
        in, hypot(9, 3.5) = 9.66, to the half inch 1'-10"; five 4 1/2 in, hypot(9, 4.5) = 10.06, 1'-10 1/2". 15 in all.
        With them one of the eight leans 1/2 in, clear of a splice, and comes out no longer: eight lean.
        """
        step = step_with("kiln-room", "wires to the structure")
        assert ", cut to length: 8 at 1'-9\", 2 at 1'-10\", 5 at 1'-10 1/2\"." in step
        assert step.startswith("Fix 15 wires")
        assert step.endswith(
            " 8 of them lean from the joist to where they are tied, as drawn: wires of tees 1 in 6 at most, wires "
            "of services 45 degrees at most. All others hang plumb."
        )

    def test_blocking_is_set_before_them(self) -> None:
        """The attic's wires of T9 and T10 at pipe C3 have no joist: two pieces."""
        step = step_with("attic-office", "wires to the structure")
        assert step.startswith("First set blocking between the joists where the framing plan shows it (2)")

    def test_wires_of_one_length_are_not(self) -> None:
        step = step_with("corridor", "wires to the structure")
        assert ", cut 0.905 m long." in step and "blocking" not in step
