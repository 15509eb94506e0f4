"""Room files that cannot be planned: what is said, where, and how to mend it; nothing but InputError is ever raised."""

import random
from pathlib import Path

import pytest

from planner.documents import parse_document
from planner.errors import InputError
from planner.room.reader import brief_from

FIXTURES = Path(__file__).parents[2] / "fixtures"

MM = "units: mm\nroom: {rectangle: [5000, 3000]}\n"


def complaints(text: str) -> str:
    with pytest.raises(InputError) as refused:
        brief_from(parse_document(text, "room.yaml"))
    return str(refused.value)


def room_with(line: str) -> str:
    return f"units: mm\nroom:\n  rectangle: [5000, 3000]\n  {line}\n"


def points(corners: str) -> str:
    return f"units: mm\nroom:\n  points: {corners}\n"


BAD_OUTLINES = [
    ("units: mm\n", ['room.yaml: "room" is missing.', "Add  room: {rectangle: [18' 7\", 11' 4\"]}"]),
    ("room: {rectangle: [5 m, 3 m]}\n", ['room.yaml: "units" is missing.', "Add  units: ft-in"]),
    ("units: feet\nroom: {rectangle: [5, 3]}\n", [':1:8  units: "feet" is not one of: ft-in, in, mm, cm, m.']),
    ("units: mm\nroom: 3\n", [":2:7  room: 3 is not keys with values."]),
    ("units: mm\nroom:\n", [":2:1  room: nothing is not keys with values."]),
    ("units: mm\nroom: {}\n", [":2:1  room: the room has none", "Give one of rectangle, points, corners, dxf."]),
    (
        "units: mm\nroom: {rectangle: [5000, 3000], points: [[0, 0]]}\n",
        [":2:1  room: the room has rectangle and points"],
    ),
    ("units: ft-in\nroom: {rectangle: [18, 11']}\n", [":2:20  room › rectangle › 1: 18 could be feet or inches."]),
    ("units: mm\nroom: {rectangle: [5000]}\n", [":2:19  room › rectangle: expected two lengths, got 1 value."]),
    ("units: m\nroom: {rectangle: [5,68 m, 3 m]}\n", ["got 3 values", "a comma inside a number splits it"]),
    (
        "units: mm\nroom: {rectangle: [0, 3000]}\n",
        [":2:20  room › rectangle › 1: 0 is not more than nothing.", "\n    Write the length as measured."],
    ),
    (
        "units: mm\nroom: {rectangle: [5000, -3000]}\n",
        [":2:26  room › rectangle › 2: -3000 is not more than nothing.", "as measured, without a minus."],
    ),
    ("units: mm\nroom: {rectangle: [4000, 0x1000]}\n", ['room › rectangle › 2: "0x1000" is not a length.']),
    (room_with("") + "structure: {fixed_walls: [A-B]}\n", ["fixed_walls: 1 value is too few.", "Write at least 2."]),
    ("units: mm\nroom: {rectangle: [5000, 3 ells]}\n", [':2:26  room › rectangle › 2: "3 ells" is not a length.']),
    ("units: mm\nroom: {rectangle: [5000, .inf]}\n", ["inf is not a length."]),
    ("units: m\nroom: {rectangle: [1e308, 3]}\n", ["1e+308 is not a length."]),
    (  # 5000 m = 5 km
        "units: m\nroom: {rectangle: [5000, 3]}\n",
        [":2:20  room › rectangle › 1: the room would be 5 km long; 1 km is the most.", "reads bare numbers in m."],
    ),
    (  # 3000 m = 3 km; with mm behind it, it would be a room
        "units: mm\nroom: {rectangle: [3000 m, 4 m]}\n",
        ["room › rectangle › 1: the room would be 3 km long", "Check the unit: is 3000 mm meant?"],
    ),
    (  # 5.68 mm
        "units: mm\nroom: {rectangle: [5.68, 3000]}\n",
        ["room › rectangle › 1: the room would be only 6 mm long; 100 mm is the least.", "reads bare numbers in mm."],
    ),
    (points("[[0, 0], [2000000, 0], [0, 3000]]"), [":3:11  room › points: the room would be 2 km long"]),
    (points("[]"), ["an outline has three corners or more, not 0."]),
    (points("[[0, 0], [5000, 0]]"), [":3:11  room › points: an outline has three corners or more, not 2."]),
    (points("[[0, 0], [5000, 0], [0, 0]]"), ["an outline has three corners or more, not 2."]),
    (points("[[0, 0], [5000, 0], [9000, 0]]"), ["walls B-C and C-A lie on each other."]),
    (
        points("[[0, 0], [5000, 0], [5000], [0, 3000]]"),
        [":3:31  room › points › 3: expected two lengths, got 1 value."],
    ),
    (points("[[0, 0], [5000, 0], 7, [0, 3000]]"), ["room › points › 3: expected two lengths, got 7."]),
    (
        points("[[0, 0], [5000, 0], [5000, 0], [0, 3000]]"),
        [":3:31  room › points › 3: corner C is in the same place as"],
    ),
    (
        points("[[0, 0], [5000, 3000], [5000, 0], [0, 3000]]"),
        [":3:11  room › points: walls A-B and C-D cross or touch."],
    ),
    (points("[[0, 0], [5000, 0], [2000, 0], [2000, 3000]]"), ["walls A-B and B-C lie on each other."]),
    (  # corner D lies in the middle of wall A-B: the room hangs together at one point only
        points("[[0, 0], [5000, 0], [5000, 3000], [2500, 0], [0, 3000]]"),
        ["walls A-B and C-D cross or touch.", "walls A-B and D-E cross or touch."],
    ),
    (room_with("base_wall: A-C"), [':4:14  room › base_wall: there is no wall "A-C".', "walls are A-B, B-C"]),
    (room_with("base_wall: north"), ['there is no wall "north".', "The walls are A-B, B-C, C-D, D-A."]),
    (room_with("tape: {A-B: 18' 7\"}"), [":2:1  room: tape goes with corners, not with rectangle."]),
    (room_with("corners: [A, B, C]"), ["the room has rectangle and corners.", "Give one of rectangle, points"]),
    (room_with("dxf: {file: a.dxf}"), ["the room has rectangle and dxf."]),
    (room_with("bowed_walls: {C-E: 3}"), [':4:17  room › bowed_walls › C-E: there is no wall "C-E".', "A-B, B-C"]),
    (
        "units: mm\nroom:\n  rectangle: [5000, 3000]\nstructure: {joists: {spacing: 400, first: 9000}}",
        [":4:43  structure › joists › first: the first joist would lie beyond the room, which reaches 5000 mm there."],
    ),
    (
        "units: mm\nroom:\n  rectangle: [5000, 3000]\nstock: {saw_kerf: 30 cm}",
        [":4:19  stock › saw_kerf: no saw takes that much."],
    ),
    (
        "units: mm\nroom:\n  rectangle: [5000, 3000]\ngrid: {hanger_spacing: 1.5}",
        [":4:24  grid › hanger_spacing: hangers so close cannot be meant."],
    ),
    (
        "units: mm\nroom:\n  rectangle: [5000, 3000]\ngrid: {align: 400}",
        [":4:15  grid › align: 400 is more than half a turn."],
    ),
    (
        room_with("bowed_walls: {C-D: 2600}"),
        [":4:22  room › bowed_walls › C-D: a rise of 2600 mm is more than half the chord of C-D, 5000 mm."],
    ),
    (
        room_with("bowed_walls: {A-B: -1900, C-D: -1900}"),
        ["room › bowed_walls: bowed so far, a wall would meet another.", "Check the sign"],
    ),
    (
        MM + "rooms: [a.yaml]\n",
        [":3:1  rooms: rooms belong to a building file, and this is a room.", "Keep room, or rooms."],
    ),
    (room_with("rectangel: [1, 2]"), [':4:3  room › rectangel: unknown key "rectangel".', 'Did you mean "rectangle"?']),
]

BAD_COLUMNS = [
    (room_with("columns: {at: [1, 1]}"), ["room › columns: a group of keys is not a list."]),
    (room_with("columns: [{at: [1, 1]}]"), [":4:13  room › columns › 1: a column has none", "exactly one of size"]),
    (room_with("columns: [{size: [9, 9]}]"), ["a column with size needs at."]),
    (room_with("columns: [{at: [1, 1], size: [9, 9], diameter: 9}]"), ["a column has size and diameter."]),
    (room_with("columns: [{at: [9, 9], points: [[1, 1], [9, 1], [1, 9]]}]"), ["a column with points needs no at."]),
    (room_with("columns: [{at: [1, 1], diameter: 0}]"), ["columns › 1 › diameter: 0 is not more than nothing."]),
    (room_with("columns: [{at: [6000, 100], size: [300, 300]}]"), ["columns › 1 › at: C1 stands outside the room."]),
    (room_with("columns: [{at: [4800, 100], size: [300, 300]}]"), ["C1 goes through wall B-C.", "up to the wall"]),
    (room_with("columns: [{at: [100, 100], diameter: 300}]"), ["C1 goes through wall A-B and wall D-A."]),
    (room_with("columns: [{name: flue, at: [-900, 100], diameter: 300}]"), ["flue stands outside the room."]),
    (
        room_with("columns: [{at: [900, 900], size: [300, 300]}, {name: P, at: [1100, 1100], diameter: 300}]"),
        ["room › columns › 2: P overlaps C1."],
    ),
    (
        room_with("columns: [{name: P, at: [900, 900], diameter: 9}, {name: P, at: [1900, 1100], diameter: 9}]"),
        [':4:60  room › columns › 2 › name: the name "P" is given twice.'],
    ),
    (room_with("columns: [{points: [[1, 1], [2, 2]]}]"), ["columns › 1 › points: an outline has three corners"]),
    (  # a bow tie
        room_with("columns: [{points: [[100, 100], [900, 900], [900, 100], [100, 900]]}]"),
        ["columns › 1 › points: walls 1-2 and 3-4 cross or touch."],
    ),
    (
        room_with("columns: [{at: [2000, 0], size: [300, 3000]}]"),
        [":4:3  room › columns: the columns cut the room in two."],
    ),
    (room_with("columns: [{at: [0, 0], size: [5000, 3000]}]"), ["the columns leave nothing of the room."]),
]

BAD_WISHES = [
    (MM + "services: {kind: troffer}\n", [":3:11  services: a group of keys is not a list."]),
    (
        MM + "services: [{kind: trofer, at: [1, 1]}]\n",
        [':3:19  services › 1 › kind: "trofer" is not a kind', '"troffer"?'],
    ),
    (MM + "services: [{at: [1, 1]}]\n", [':3:12  services › 1: "kind" is missing.', "Add  kind: troffer"]),
    (MM + "services: [{kind: 3, at: [1, 1]}]\n", ["services › 1 › kind: 3 is not a text."]),
    (MM + "services: [{kind: sprinkler}]\n", ["a service has none", "exactly one of at, near and array"]),
    (MM + "services: [{kind: sprinkler, at: [1, 1], near: [1, 1]}]\n", ["a service has at and near."]),
    (MM + "services: [{kind: troffer, near: [9, 9]}]\n", ["a troffer takes the place of panels and has no size."]),
    (MM + "services: [{kind: troffer, diameter: 9, near: [9, 9]}]\n", ["a troffer takes the place of panels"]),
    (
        MM + "services: [{kind: downlight, near: [9, 9]}]\n",
        ["a downlight has neither size nor diameter.", "Add  diameter"],
    ),
    (MM + "services: [{kind: speaker, size: [9, 9], diameter: 9, near: [9, 9]}]\n", ["has size and diameter."]),
    (
        MM + "services: [{kind: sprinkler, at: [5001, 900]}]\n",
        [":3:34  services › 1 › at: H1 is outside the room.", "5000 mm"],
    ),
    (MM + "services: [{kind: sprinkler, near: [900, -1]}]\n", ["services › 1 › near: H1 is outside the room."]),
    (
        room_with("columns: [{at: [900, 900], size: [300, 300]}]")
        + "services: [{kind: sprinkler, at: [1000, 1000]}]\n",
        ["services › 1 › at: H1 is in column C1.", "Check both places."],
    ),
    (
        MM + "services: [{name: H, kind: sprinkler, at: [1, 1]}, {name: H, kind: sprinkler, at: [9, 9]}]\n",
        [':3:59  services › 2 › name: the name "H" is given twice.'],
    ),
    (
        MM + "services: [{kind: sprinkler, array: {columns: 0, rows: 1}}]\n",
        ["array › columns: 0 is out of range.", "at least 1"],
    ),
    (MM + "services: [{kind: sprinkler, array: {columns: 2.5, rows: 1}}]\n", ["2.5 is not a whole number."]),
    (
        MM + "services: [{kind: sprinkler, array: {columns: 1000000, rows: 1000000}}]\n",
        ["the room has 1,000,000,000,000 services, and 10,000 are the most.", "plan it in parts"],
    ),
    (MM + "services: [{kind: sprinkler, at: [1, 1], weight: 18}]\n", ["weight: 18 is not a weight.", "18 lb or 8 kg"]),
    (
        room_with("columns: [{at: [2300, 1300], size: [400, 400]}]")
        + "services: [{kind: sprinkler, array: {columns: 1, rows: 1}}]\n",
        ["services › 1 › array: none of the array is inside the room."],
    ),
    (
        MM + "grid: {module: [24, 24]}\n",
        [":3:17  grid › module › 1: a module of 24 mm is too small.", "Check the unit"],
    ),
    (MM + "grid: {module: 600}\n", ["grid › module: expected two lengths, got 600."]),
    (MM + "grid: {mains: allong}\n", [':3:15  grid › mains: "allong" is not one of: auto, along, across.', '"along"?']),
    (MM + "grid: {align: A-C}\n", [':3:15  grid › align: there is no wall "A-C".', "walls are A-B, B-C"]),
    (MM + "grid: {align: [1]}\n", ["grid › align: a list is neither a wall nor an angle."]),
    (MM + "grid: {align: .nan}\n", ["grid › align: nan is neither a wall nor an angle."]),
    (MM + "grid: {borders: even}\n", [':3:17  grid › borders: "even" is not a way to place the borders.', "balanced"]),
    (MM + "grid: {borders: {left: 90, right: 90}}\n", ["grid › borders: left and right cannot both be chosen."]),
    (MM + "grid: {borders: {left: 90, centre_on: [9, 9]}}\n", ["centre_on and left cannot both be chosen."]),
    (MM + "grid: {borders: {left: whole}}\n", ['grid › borders › left: "whole" is not a length.']),
    (MM + "grid: {borders: {lefft: 90}}\n", ['borders › lefft: unknown key "lefft".', '"left"?']),
    (MM + "grid: {prefer: cheap}\n", ["is not one of: widest_borders, fewest_panels."]),
    (MM + "grid: {system: 1.5}\n", ["grid › system: 1.5 is not a text."]),
    (
        MM + "ceiling_height: 3 m\nstructure: {underside: 2.9 m}\n",
        [":3:17  ceiling_height: the ceiling is not below the joists"],
    ),
    (
        MM + "ceiling_height: 2.7\n",
        [
            "ceiling_height: this reads as 2.7 mm above the floor; heights from 0.5 m to 100 m can be planned.",
            "Is 2.7 m meant? Write the unit with the number; this file reads bare numbers in mm.",
        ],
    ),
    (MM + "ceiling_height: 3000 m\n", ["this reads as 3000 m above the floor;", "Is 3000 mm meant?"]),
    (MM + "ceiling_height: 3000 ft\n", ["this reads as 914.4 m above the floor;", "Is 3000 mm meant?"]),
    (MM + "structure: {underside: 9}\n", ["this reads as 9 mm above the floor;", "Is 9'-0\" meant?"]),
    (MM + "ceiling_height: 0.2\n", ["this reads as 0.2 mm", "Write the unit with the number;"]),
    (MM + "structure: {underside: 3 km}\n", ['"3 km" is not a length.']),
    (MM + "structure: {joists: {first: 9}}\n", [':3:13  structure › joists: "spacing" is missing.', 'spacing: 16"']),
    (MM + "structure: {joists: {spacing: 16}}\n", ["joists 16 mm apart cannot be."]),
    (MM + "structure: {joists: {spacing: 400, first: -9}}\n", ["joists › first: -9 is less than nothing."]),
    (MM + "stock: {spare: 7}\n", [":3:16  stock › spare: 7 is not a share between 0 and 1.", "5% or 0.05"]),
    (MM + "stock: {spare: 120%}\n", ['"120%" is not a share']),
    (MM + "stock: {spare: .nan}\n", ["nan is not a share"]),
    (
        MM + "stock: {prices: {panel: -1, main tee: .inf, x: cheap}}\n",
        ["-1 is out of range", "inf is not a number", '"cheap" is not'],
    ),
    (MM + "stock: {on_hand: {main tee: 1.5}}\n", ["on_hand › main tee: 1.5 is not a whole number."]),
    (MM + "stock: {packs: {main tee: 0}}\n", ["packs › main tee: 0 is out of range.", "at least 1"]),
    (MM + "stock: {panels_per_carton: -3}\n", ["panels_per_carton: -3 is out of range."]),
    (MM + "stock: {saw_kerf: -1}\n", ["saw_kerf: -1 is less than nothing."]),
    (MM + "project: {drawn by: me}\n", [':3:11  project › drawn by: unknown key "drawn by".', '"drawn_by"?']),
    (MM + "serivces: []\n", [':3:1  serivces: unknown key "serivces".', 'Did you mean "services"?']),
]


@pytest.mark.parametrize(("text", "fragments"), BAD_OUTLINES + BAD_COLUMNS + BAD_WISHES)
def test_what_is_said_of_a_bad_room_file(text: str, fragments: list[str]) -> None:
    said = complaints(text)
    for fragment in fragments:
        assert fragment in said


def test_the_message_of_the_design() -> None:
    """File, line, column, path, the line with carets below the offending text, and the mend."""
    text = "units: ft-in\nroom: {rectangle: [18' 7\", 11' 4'']}\n"
    assert complaints(text) == (
        "room.yaml:2:28  room › rectangle › 2: \"11' 4''\" is not a length.\n"
        "    2 | room: {rectangle: [18' 7\", 11' 4'']}\n"
        "                                   ^^^^^^^\n"
        "    Write feet and inches as 11' 4\" or 11ft 4in; metric as 3454 mm or 3.454 m."
    )


def test_faults_of_form_and_of_geometry_are_said_together() -> None:
    """A misspelt key, a bad size, a column outside and a light outside, each in its own line of the file."""
    text = (
        "units: mm\n"
        "jbo: Kiln\n"
        "room:\n"
        "  rectangle: [5000, 3000]\n"
        "  columns:\n"
        "    - {at: [100, 100], size: [300, -300]}\n"
        "    - {at: [9000, 100], size: [300, 300]}\n"
        "stock: {spare: 700}\n"
        "services:\n"
        "  - {kind: downlite, at: [100, 100]}\n"
        "  - {kind: sprinkler, at: [9000, 100]}\n"
        "ceiling_height: 3 m\n"
        "structure: {underside: 2 m}\n"
    )
    said = complaints(text)
    rows = [row for row in said.splitlines() if row.startswith("room.yaml:")]
    assert [row.split(":")[1] for row in rows] == ["2", "6", "7", "8", "10", "11", "12"]
    assert "columns › 2 › at: C1 stands outside" in rows[2]
    assert "services › 2 › at: H1 is outside the room" in rows[5]


def test_when_the_outline_is_at_fault_nothing_is_said_of_what_stands_in_it() -> None:
    said = complaints("units: mm\nroom: {rectangle: [5 ells, 3000]}\nservices: [{kind: sprinkler, at: [9000, 100]}]\n")
    assert "outside" not in said


@pytest.mark.parametrize("seed", range(150))
def test_a_room_file_with_slips_of_the_pen_never_raises_anything_else(seed: int) -> None:
    """Replace a few characters, or swap and drop lines, of the file that shows every key."""
    chance = random.Random(seed)
    rows = (FIXTURES / "reference.yaml").read_text().splitlines(keepends=True)
    for _ in range(chance.randint(0, 2)):
        rows.insert(chance.randrange(len(rows)), rows.pop(chance.randrange(len(rows))))
    text = list("".join(rows))
    for _ in range(chance.randint(1, 6)):
        text[chance.randrange(len(text))] = chance.choice("[]{}:,-0159'\"mx \n#&*!")
    try:
        brief_from(parse_document("".join(text), "room.yaml"))
    except InputError as error:
        assert str(error).startswith("room.yaml")
