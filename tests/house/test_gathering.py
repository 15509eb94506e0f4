"""Findings that say the same of several things are told as one, on the sheets, the terminal and the page alike."""

import pickle
import re
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.documents import parse_document
from planner.drawing.roles import Role
from planner.drawing.shapes import Text
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.findings import Finding
from planner.gathering import gathered
from planner.lengths import spoken_length
from planner.naming import names_told, natural, runs
from planner.page.contents import Shown, data_of
from planner.page.lists import findings_list
from planner.planning import Plan, plan
from planner.record import record_of
from planner.report import findings_text
from planner.room.reader import brief_from
from planner.sayings import said

ISO = load_style("iso-13567")


def planned(text: str) -> Plan:
    return plan(brief_from(parse_document(text, "room.yaml")))


# Names


@pytest.mark.parametrize(
    ("names", "told"),
    [
        (("L10", "L2", "L9", "L11"), "L2, L9 to L11"),
        (("L1", "L2"), "L1, L2"),
        (("L1", "L3", "L5", "L7"), "L1, L3, L5, L7"),  # none follows another
        (("08", "10", "09"), "08 to 10"),
        (("L09", "L10", "L8"), "L8, L09, L10"),  # after L8 comes L9, and that is not L09
        (("a2", "b1", "a1", "a3", "b2"), "a1 to a3, b1, b2"),
        (("Lobby", "2", "1", "3"), "1 to 3, Lobby"),
        (("x", "x", "x"), "x"),
        ((), ""),
    ],
)
def test_names_are_told_in_natural_order_and_runs_only_of_what_follows(names: tuple[str, ...], told: str) -> None:
    assert names_told(names) == told


def test_names_keep_their_order_where_it_means_something() -> None:
    """A row of panels from the left: the corner panels stand at its ends."""
    assert names_told(["a1", "b1", "b2", "b3", "a2"], in_order=True) == "a1, b1 to b3, a2"


@given(st.lists(st.builds("{}{}".format, st.sampled_from("LS"), st.integers(0, 40)), max_size=40))
def test_runs_hold_every_name_once_and_none_that_was_not_given(names: list[str]) -> None:
    told: list[str] = []
    for run in runs(names):
        ends = [re.fullmatch(r"(.)(\d+)", end) for end in run]
        numbers = [int(end[2]) for end in ends if end]
        told += [f"{run[0][0]}{k}" for k in range(numbers[0], numbers[-1] + 1)]
    assert sorted(told) == sorted(set(names))
    assert all(natural(one[0]) < natural(other[0]) for one, other in pairwise(runs(names)))


# Findings

#: 3 m wide: four whole modules fit between the walls, and the fifth light of a row finds no place near its own.
CORRIDOR = """
units: mm
room: {rectangle: [9000, 1000]}
grid: {system: lay-in-metric, module: [600, 600]}
structure: {joists: {spacing: 400, first: 200, direction: across}}
services:
  - {name: L2, kind: troffer, size: [600, 1200], near: [1000, 500]}
  - {name: L10, kind: troffer, size: [600, 1200], near: [3000, 500]}
  - {name: L3, kind: troffer, size: [600, 1200], near: [5000, 500]}
  - {name: L4, kind: troffer, size: [600, 1200], near: [7000, 500]}
"""
SAID = "Each of L2 to L4, L10 (light, lay-in): no 1 x 2 whole modules are free"


@pytest.fixture(scope="module")
def corridor() -> Plan:
    return planned(CORRIDOR)


def test_four_lights_without_a_place_are_one_stop_with_four_places(corridor: Plan) -> None:
    """A corridor 1 m wide has room for one module, and each light wants two, one behind the other."""
    stops = [told for told in gathered(corridor.findings) if told.severity == "stop"]
    assert [told.message.startswith(SAID) for told in stops] == [True]
    assert stops[0].places == ((1000.0, 500.0), (3000.0, 500.0), (5000.0, 500.0), (7000.0, 500.0))
    assert len(stops[0].remedies) == 1


def test_the_record_keeps_each(corridor: Plan) -> None:
    messages = [found["message"] for found in record_of(corridor)["findings"] if found["severity"] == "stop"]
    assert [message.split(" ")[0] for message in messages] == ["L2", "L10", "L3", "L4"]


def test_terminal_page_and_sheets_say_the_same(corridor: Plan) -> None:
    terminal = "\n".join(findings_text(corridor.findings))
    assert terminal.count(SAID) == 1 == str(findings_list(corridor)).count(SAID)
    sheets = {sheet.key: sheet for sheet in draw(corridor, ISO, SheetWish())}
    order = " ".join(shape.text for shape in sheets["order-of-work"].shapes if isinstance(shape, Text))
    assert order.count(f"STOP: {SAID}") == 1


def test_each_place_bears_the_number_of_the_one_finding(corridor: Plan) -> None:
    sheet = next(sheet for sheet in draw(corridor, ISO, SheetWish()) if sheet.key == "ceiling-plan")
    shapes = [shape for window in sheet.windows for shape in window.drawing.shapes]
    numbers = [shape.text for shape in shapes if isinstance(shape, Text) and shape.role == Role.FINDING]
    assert numbers.count("1") == 4


def test_the_page_can_show_every_place(corridor: Plan) -> None:
    shown = Shown(corridor, draw(corridor, ISO, SheetWish()), ISO, SheetWish())
    assert len(data_of(shown)["findings"][0]) == 4


def about(name: str, moved: float, remedy: str = "") -> Finding:
    text = said("it stands {moved} off.", moved=spoken_length(moved, "mm"))
    message = said("{name}: {text}", several="Each of {name}: {text}", name=name, text=text)
    return Finding("note", "moved", "source", message, (moved, 0.0), remedy)


def test_lengths_that_differ_are_told_from_the_least_to_the_most() -> None:
    """By length and not by letters: 98 mm is less than 412 mm."""
    (told,) = gathered([about("L2", 412.0), about("L1", 98.0), about("L3", 200.0)])
    assert told.message == "Each of L1 to L3: it stands 98 mm to 412 mm off."
    (same,) = gathered([about("L2", 98.2), about("L1", 98.0)])
    assert same.message == "Each of L1, L2: it stands 98 mm off."


def test_remedies_that_differ_are_told_by_name() -> None:
    (told,) = gathered([about("L1", 1.0, "Move it left."), about("L2", 1.0, "Move it right.")])
    assert told.remedies == ("L1: Move it left.", "L2: Move it right.")
    (many,) = gathered([about(f"L{k}", 1.0, f"Move it {k}.") for k in range(1, 10)])
    assert many.remedies[-1] == "And 3 more, each in plan.json."


def test_what_differs_in_more_than_name_and_length_stays_apart() -> None:
    """Which other service stands in the way is what must be known."""

    def taken(name: str, other: str) -> Finding:
        text = said("{other} is in its place.", other=other)
        return Finding("stop", "r", "s", said("{name}: {text}", several="Each of {name}: {text}", name=name, text=text))

    found = [taken("L1", "S1"), taken("L2", "S2"), taken("L3", "S1")]
    assert [told.message for told in gathered(found)] == [
        "Each of L1, L3: S1 is in its place.",
        "L2: S2 is in its place.",
    ]


def test_plain_sentences_are_one_only_where_they_are_the_same() -> None:
    found = [
        Finding("note", "r", "s", text, where) for text, where in (("A", (0.0, 0.0)), ("B", None), ("A", (1.0, 0.0)))
    ]
    assert [(told.message, told.places) for told in gathered(found)] == [("A", ((0.0, 0.0), (1.0, 0.0))), ("B", ())]


def test_corners_taken_as_square_are_told_once_with_what_to_tape() -> None:
    """An L of six walls and no diagonal: three corners must be taken as square."""
    tape = "{A-B: 6000, B-C: 3400, C-D: 2500, D-E: 2100, E-F: 3500, F-A: 5500}"
    made = planned(f"units: mm\nroom: {{corners: [A, B, C, D, E, F], outside_corners: [D], tape: {tape}}}\n")
    (told,) = (told for told in gathered(made.findings) if told.rule == "corner assumed square")
    assert len(told.findings) == 3
    assert re.fullmatch(r"Corners ., ., . are taken as square: no reading says how they are\.", told.message)
    assert re.fullmatch(r"Tape (.-., ){2}.-. to know\.", told.remedies[0])


def test_a_length_in_a_sentence_survives_being_sent_to_another_process() -> None:
    finding = about("L1", 98.0)
    again = pickle.loads(pickle.dumps((finding, about("L2", 412.0))))
    assert again[0] == finding
    (told,) = gathered(again)
    assert told.message == "Each of L1, L2: it stands 98 mm to 412 mm off."


# One unit on one sheet

METRES = """
units: m
room: {rectangle: [4, 3]}
grid: {system: lay-in-metric, module: [0.6, 0.6]}
ceiling_height: 2.5
structure: {joists: {spacing: 0.4, first: 0.2, direction: across}, underside: 3}
services: [{name: D1, kind: downlight, diameter: 0.15, at: [1.2, 0.9]}]
"""


def texts(made: Plan, **wishes: str | bool) -> str:
    return "\n".join(
        shape.text
        for sheet in draw(made, ISO, SheetWish(**wishes))  # type: ignore[arg-type]
        for shapes in (sheet.shapes, *(window.drawing.shapes for window in sheet.windows))
        for shape in shapes
        if isinstance(shape, Text)
    )


def test_a_room_in_metres_has_millimetres_alone_on_its_sheets() -> None:
    """The title block says millimetres; cautions, findings, diagonals and order of work say so too."""
    written = texts(planned(METRES))
    assert re.findall(r"[0-9.]+\.[0-9]+ m\b", written) == []
    assert "2500 mm above the floor" in written.replace("\n", " ")


def test_the_terminal_keeps_the_units_of_the_file() -> None:
    assert "2.5 m" in " ".join(record_of(planned(METRES))["order_of_work"])


def test_sentences_have_both_systems_where_that_is_wished() -> None:
    written = texts(planned(METRES), dual=True).replace("\n", " ")
    assert "2500 mm [8'-2 7/16\"] above the floor" in written  # 98.43 in
