"""A room by its tape, by chord and rise, or from somebody else's drawing: what the reader makes of each."""

import math
from pathlib import Path

import pytest

from planner.documents import parse_document
from planner.errors import InputError
from planner.geometry import Frame, signed_area
from planner.room.brief import Brief
from planner.room.reader import brief_from, read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"


def room(text: str, units: str = "mm") -> Brief:
    return brief_from(parse_document(f"units: {units}\nroom:\n{text}", "room.yaml"))


def refused(text: str) -> str:
    with pytest.raises(InputError) as caught:
        room(text)
    return str(caught.value)


TRUE = """  corners: [A, B, C, D]
  tape: {A-B: 4000, B-C: 3000, C-D: 4000, D-A: 3000, A-C: 5000, B-D: 5000}
"""


def test_a_true_rectangle_by_its_tape_is_that_rectangle() -> None:
    """3-4-5: the diagonals of a 4 x 3 m room are 5 m."""
    brief = room(TRUE)
    expected = [(0, 0), (4000, 0), (4000, 3000), (0, 3000)]
    assert [xy for corner in brief.room.outline for xy in corner] == pytest.approx(sum(expected, ()), abs=1e-3)
    assert brief.survey is not None and brief.survey.redundancy == 1


def test_walked_clockwise_the_same_room_is_seen_from_the_same_wall() -> None:
    brief = room(TRUE.replace("[A, B, C, D]", "[A, D, C, B]") + "  walk: clockwise\n  base_wall: A-B\n")
    assert brief.room.walls[0].name in ("A-B", "B-A")
    assert signed_area(brief.room.outline) == pytest.approx(12e6, rel=1e-6)


def test_columns_and_services_of_a_taped_room_are_measured_from_the_reference_corner() -> None:
    brief = room(TRUE + "  base_wall: B-C\n  columns: [{at: [500, 600], size: [200, 300]}]\n")
    assert brief.room.columns[0].outline[0] == (500.0, 600.0)
    assert brief.room.walls[0].name == "B-C"
    assert brief.room.walls[0].length == pytest.approx(3000.0, abs=1e-3)


def test_the_planted_blunder_is_named_and_what_it_was_is_proposed() -> None:
    """C-D was taped as 2499 and, ten centimetres misread, as 2598 mm."""
    brief = read_room(FIXTURES / "shop-l-taped.yaml")
    assert brief.survey is not None and brief.survey.suspect is not None
    assert (brief.survey.suspect.between, brief.survey.suspect.taped) == (("C", "D"), 2598.0)
    assert brief.survey.suspect.proposed == pytest.approx(2498.0)
    (stop,) = (finding for finding in brief.findings if finding.severity == "stop")
    assert "C-D" in stop.message and "ten centimetres" in stop.message


def test_without_diagonals_square_corners_are_assumed_and_said() -> None:
    brief = room("  corners: [A, B, C, D]\n  tape: {A-B: 4000, B-C: 3000, C-D: 4000, D-A: 3000}\n")
    assumed = [finding.remedy for finding in brief.findings if "square" in finding.message]
    assert len(assumed) == 1 and ("A-C" in assumed[0] or "B-D" in assumed[0])


def test_a_bowed_wall_is_an_arc_of_its_chord_and_rise() -> None:
    """Chord 5000, rise 250: r = (2500² + 250²) / (2 * 250) = 12625, half the angle asin(2500 / 12625)."""
    made = room("  rectangle: [5000, 3000]\n  bowed_walls: {C-D: 250}\n").room
    wall = made.walls[2]
    assert wall.arc is not None
    assert wall.arc.radius == pytest.approx(12625.0)
    assert wall.length == pytest.approx(2 * 12625.0 * math.asin(2500 / 12625))
    segment = 12625.0**2 * math.asin(2500 / 12625) - 2500 * (12625.0 - 250)
    assert made.area == pytest.approx(15e6 + segment, abs=0.1 * wall.length)  # chords within 0.1 mm, inside
    assert made.area <= 15e6 + segment
    assert made.box.top == pytest.approx(3250.0, abs=0.1)


def test_a_wall_bowed_inwards_takes_from_the_room() -> None:
    made = room("  rectangle: [5000, 3000]\n  bowed_walls: {C-D: -250}\n").room
    assert made.area < 15e6
    assert set(made.corners) == {"A", "B", "C", "D"}
    assert made.walls[2].points[0] == made.corners["C"] and made.walls[2].points[-1] == made.corners["D"]


def test_a_drawing_gives_outline_columns_and_its_own_place() -> None:
    brief = read_room(FIXTURES / "attic-office.yaml")
    assert brief.room.placement is not None and brief.room.placement.unit == "in"
    assert brief.room.outline[0] == (0.0, 0.0) and brief.room.outline[1][1] == 0.0
    assert len(brief.room.columns) >= 2
    assert brief.room.placement.frame != Frame()


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("  corners: [A, B, C, D]\n", ["the room has corners and no tape.", "Add  tape:"]),
        (TRUE.replace("B-D", "C-A"), ["C-A is the same line as A-C.", "A-C: [..., ...]"]),
        (TRUE.replace("B-D", "B-X"), ["X", "The corners are A, B, C, D."]),
        (TRUE.replace("B-D", "BD"), ['"BD" does not name a line.', "A-C"]),
        (TRUE.replace("A-C: 5000", "A-C: 7200"), ["A-C"]),  # longer than A-B and B-C together
        (TRUE.replace("A-C: 5000", "A-C: -5000"), ["room › tape › A-C"]),
        ("  corners: [A, B, C, D]\n  tape: {A-B: 4000, B-C: 3000}\n  angles: {C: 0}\n", ["angles › C", "more than 0"]),
        ("  corners: [A, B, C, D, E, F]\n  tape: {A-B: 4000, C-D: 3000}\n", ["too little was taped", "Tape "]),
        ("  dxf: {file: nowhere.dxf}\n", ["room › dxf", "nowhere.dxf"]),
        ("  dxf: {layer: A-WALL}\n", ['"file" is missing']),
        ("  dxf: {file: a.dxf, units: feet}\n", ["room › dxf › units", "ft"]),
    ],
)
def test_what_cannot_be_a_room_is_said_with_its_mend(text: str, told: list[str]) -> None:
    message = refused(text)
    assert "room.yaml:" in message
    for fragment in told:
        assert fragment in message, message


def test_a_missing_layer_lists_the_layers_there_are(tmp_path: Path) -> None:
    file = FIXTURES / "floors" / "attic-office.dxf"
    message = refused(f"  dxf: {{file: {file}, layer: WALLS}}\n")
    assert "A-WALL" in message


def test_a_drawing_in_the_wrong_unit_is_asked_about() -> None:
    """The office is about 270 in long; read in metres it would be 270 m."""
    file = FIXTURES / "floors" / "attic-office.dxf"
    assert "m long?" in refused(f"  dxf: {{file: {file}, layer: A-WALL, units: m}}\n")


def test_walls_of_a_clockwise_walk_are_called_as_they_were_taped() -> None:
    """Walked A, D, C, B with the room on the right: the tape has A-D, D-C, C-B, B-A, and so has everything else.

    With the room on the left the first wall runs from D to A: D is the reference corner, marks on A-D run from D.
    """
    taped = "  corners: [A, D, C, B]\n  walk: clockwise\n  tape: {A-D: 3000, D-C: 4000, C-B: 3000, A-C: 5000}\n"
    brief = room(taped)
    assert brief.room.corner_names == ("D", "A", "B", "C")
    assert [wall.name for wall in brief.room.walls] == ["A-D", "B-A", "C-B", "D-C"]
    assert [wall.corners for wall in brief.room.walls] == [("D", "A"), ("A", "B"), ("B", "C"), ("C", "D")]
    assert brief.room.base == "A-D from D"
    assert brief.survey is not None
    assert [found.between for found in brief.survey.found] == [("B", "A")]
    places = brief.room.corners
    assert places["D"] == (0, 0) and places["A"] == pytest.approx((3000, 0))


def test_lines_to_tape_next_of_a_clockwise_walk_are_called_as_they_were_walked() -> None:
    with pytest.raises(InputError, match="Tape A-B next"):
        room("  corners: [A, B, C, D]\n  walk: clockwise\n  tape: {A-C: 5000}\n")
