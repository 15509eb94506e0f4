"""Rooms that are no rectangle and no L, as a person with a tape tells them: corners whose angle nobody knows."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from planner.asking.filling import file_data
from planner.asking.sketch import sketch_of
from planner.asking.talk import Reply, Talk, asked, said
from planner.documents import Document
from planner.room.reader import brief_from

Spots = dict[str, tuple[float, float]]


def told(*lines: str, talk: Talk | None = None) -> tuple[Talk, Reply]:
    talk, reply = talk or Talk(), Reply()
    for line in lines:
        talk, reply = said(talk, line)
    return talk, reply


def taped(spots: Spots, line: str) -> str:
    one, other = line.split("-")
    return f"{math.dist(spots[one], spots[other]):.0f}"


def walls(spots: Spots) -> list[str]:
    names = list(spots)
    return [f"{one}-{other}" for one, other in zip(names, [*names[1:], names[0]], strict=True)]


def answered(talk: Talk, spots: Spots) -> Talk:
    """Every wall and diagonal that is asked for, as the tape shows it, to the millimetre."""
    while (now := asked(talk)) is not None and now.question.key.startswith("line "):
        talk, reply = said(talk, taped(spots, now.question.key.removeprefix("line ")))
        assert reply.tone == "understood", (now.question.key, reply)
    return talk


#: 6 m by 4.2 m with a corner cut off: 1500 along, 1200 up.
FIVE: Spots = {"A": (0, 0), "B": (6000, 0), "C": (6000, 3000), "D": (4500, 4200), "E": (0, 4200)}
#: 4.2 m by 3.6 m with a bay of 1.2 m, its flanks 450 along and 600 out.
BAY: Spots = {
    "A": (0, 0),
    "B": (4200, 0),
    "C": (4200, 3600),
    "D": (3150, 3600),
    "E": (2700, 4200),
    "F": (1500, 4200),
    "G": (1050, 3600),
    "H": (0, 3600),
}


def test_five_corners_are_told_by_name_and_the_tape_finds_their_angles() -> None:
    """atan(1500 / 1200) = 51.3 degrees: C is 180 - 51.3 = 128.7, D is 90 + 51.3 = 141.3."""
    talk, reply = told("Attic", "mm", "taped", "5", "left", "none")
    now = asked(talk)
    assert now is not None and now.remark == "5 corners cannot all be square. Name those that are not."
    talk, reply = said(talk, "C and D")
    assert reply.lines == ("C to be found, D to be found",)
    talk = answered(talk, FIVE)
    now = asked(talk)
    assert now is not None and "By the tape C is 129 degrees, D is 141 degrees." in now.remark
    room = file_data(talk.given)["room"]
    assert room["angles"] == {"C": 129.0, "D": 141.0}
    found = brief_from(Document("room.yaml", file_data(talk.given))).room.corners
    assert all(math.dist(found[name], spot) < 3.0 for name, spot in FIVE.items())


def test_a_bay_is_told_by_the_names_of_its_corners() -> None:
    """The flanks lean by atan(600 / 450) = 53.1 degrees: D and G are 180 + 53.1 = 233.1, E and F 126.9."""
    talk, _ = told("Bay", "mm", "taped", "eight", "left", "D & G", "D G E F")
    talk = answered(talk, BAY)
    data = file_data(talk.given)
    assert data["room"]["angles"] == {"D": 233.0, "G": 233.0, "E": 127.0, "F": 127.0}
    found = brief_from(Document("room.yaml", data)).room.corners
    assert all(math.dist(found[name], spot) < 5.0 for name, spot in BAY.items())


def test_a_bay_whose_outer_corners_were_forgotten_is_doubted() -> None:
    """With E and F square, D and G make 1080 - 6 x 90 = 540 together: square again."""
    _, reply = told("Bay", "mm", "taped", "8", "left", "D G", "D and G")
    assert reply.tone == "doubted" and "D and G would be square too" in reply.lines[0]


@settings(max_examples=15, deadline=None)
@given(st.integers(600, 2400), st.integers(600, 1800))
def test_a_cut_off_corner_of_any_slope_is_found(along: int, up: int) -> None:
    """From 14 to 76 degrees, though one begins with 45."""
    spots = FIVE | {"C": (6000.0, 4200.0 - up), "D": (6000.0 - along, 4200.0)}
    talk = answered(told("Attic", "mm", "taped", "5", "left", "none", "C D")[0], spots)
    found = brief_from(Document("room.yaml", file_data(talk.given))).room.corners
    assert all(math.dist(found[name], spot) < 5.0 for name, spot in spots.items())


@pytest.mark.parametrize("line", ["C 135, D 135", "C=135 D:135", "c135 and d135", "C 135° & D 135°", "D 135; C 135"])
def test_angles_are_taken_however_they_are_written(line: str) -> None:
    talk, reply = told("Attic", "mm", "taped", "5", "left", "none", line)
    assert reply.tone == "understood" and sorted(talk.given["angles"].split(", ")) == ["C 135", "D 135"]


@pytest.mark.parametrize(("line", "why"), [("135", "names no corner"), ("C 135 140", "follows no corner"), ("Q", "no")])
def test_what_is_no_corner_is_refused(line: str, why: str) -> None:
    _, reply = told("Attic", "mm", "taped", "5", "left", "none", line)
    assert reply.tone == "refused" and why in reply.lines[0]


# --- the sketch -----------------------------------------------------------------------------------------------------


def sketch(count: int, outside: str, angles: str = "none", walk: str = "left") -> dict[str, tuple[float, float]]:
    corners = " ".join("ABCDEFGHIJKL"[:count])
    made = sketch_of({"shape": "taped", "units": "mm", "corners": corners, "walk": walk, "outside": outside,
                      "angles": angles})  # fmt: skip
    assert made is not None
    return dict(made.corners)


@pytest.mark.parametrize(
    ("count", "outside", "angles"),
    [
        (4, "none", "none"),
        (6, "E", "none"),
        (8, "D E", "none"),
        (8, "D G", "D ?, G ?, E ?, F ?"),
        (12, "C F I L", "none"),
    ],
)
@pytest.mark.parametrize("walk", ["left", "right"])
def test_the_sketch_turns_as_was_told(count: int, outside: str, angles: str, walk: str) -> None:
    """Seen from above, the corners run counter-clockwise with the room on the left, and exactly those told jut in."""
    spots = sketch(count, outside, angles, walk)
    ring = [spots[name] for name in "ABCDEFGHIJKL"[:count]]
    assert Polygon(ring).is_valid
    assert Polygon(ring).exterior.is_ccw == (walk == "left")
    way = 1.0 if walk == "left" else -1.0
    jutting = [
        "ABCDEFGHIJKL"[k]
        for k, (x, y) in enumerate(ring)
        if way * ((x - ring[k - 1][0]) * (ring[(k + 1) % count][1] - y)
                  - (y - ring[k - 1][1]) * (ring[(k + 1) % count][0] - x)) < -1e-9
    ]  # fmt: skip
    assert jutting == [] if outside == "none" else jutting == outside.split()


def test_no_sketch_before_the_corners_are_told_or_where_they_do_not_turn_once_round() -> None:
    assert sketch_of({"shape": "taped", "units": "mm", "corners": "A B C D E F", "walk": "left"}) is None
    twisted = {"shape": "taped", "units": "mm", "corners": "A B C D E F", "walk": "left", "outside": "none"}
    assert sketch_of(twisted | {"angles": "none"}) is None


def test_yes_where_a_kind_is_asked_for_is_answered_with_the_kinds() -> None:
    talk, reply = told("Box", "mm", "rectangle", "4000", "3000", "yes")
    assert reply.lines == ("which: round or rectangular?", "Say it by its name.")
    _, reply = told("none", "none", "none", "no", "", "", "yes", talk=talk)
    assert reply.lines[0].startswith("which: troffer, downlight")


#: No corner square, and nobody knows an angle.
ASKEW: Spots = {"A": (0, 0), "B": (7000, 400), "C": (6500, 3900), "D": (3000, 4400), "E": (-300, 3700)}


def test_a_room_without_a_square_corner_is_found_by_its_diagonals_and_no_reading_is_doubted() -> None:
    """Five corners have 10 numbers, less 3 for where the room lies: 5 walls and 2 diagonals fix it, 2 more check it."""
    talk, _ = told("Askew", "mm", "taped", "5", "left", "none", "A B C D E")
    talk = answered(talk, ASKEW)
    data = file_data(talk.given)
    brief = brief_from(Document("room.yaml", data))
    at = brief.room.corners
    assert all(math.dist(at[a], at[b]) == pytest.approx(math.dist(ASKEW[a], ASKEW[b]), abs=2.0) for a in at for b in at)
    assert brief.survey is not None and brief.survey.redundancy == 2 and not brief.survey.assumptions
