"""Whatever is answered, the room file says just that, and the reader of room files takes it."""

import json
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.asking.talk import Talk, asked, said
from planner.asking.writing import MORE, file_text, quoted
from planner.documents import parse_document
from planner.room.brief import Brief
from planner.room.reader import brief_from
from planner.room.reference import entries
from planner.room.schema import room_schema
from planner.yaml_text import parse_yaml

MM = {"ft-in": 25.4, "in": 25.4, "mm": 1.0, "cm": 10.0, "m": 1000.0}


def answered(answers: dict[str, str], rest: bool = True) -> Talk:
    """A talk in which these questions are answered so, and all others as is usual."""
    talk = Talk()
    while (now := asked(talk)) is not None:
        line = answers.get(now.question.key, "")
        before = talk
        talk, reply = said(talk, line)
        if reply.tone == "doubted":
            talk, reply = said(talk, "yes")
        assert reply.tone == "understood", (now.question.key, line, reply)
        assert talk != before
    return talk


def brief_of(talk: Talk) -> Brief:
    return brief_from(parse_document(file_text(talk.given), "room.yaml"))


RECTANGLE = {"job": "Kiln room", "shape": "rectangle", "length": "18' 7\"", "width": "11' 4\""}


def test_a_rectangle_is_written_as_it_was_answered() -> None:
    """18 ft 7 in = 223 in = 5664.2 mm; 11 ft 4 in = 136 in = 3454.4 mm."""
    brief = brief_of(answered(RECTANGLE | {"underside": "8' 6\"", "height": "7' 9\"", "joist first": '9"'}))
    assert brief.room.name == "Kiln room"
    assert brief.room.units == "ft-in"
    assert (brief.room.box.width, brief.room.box.height) == pytest.approx((5664.2, 3454.4))
    assert brief.room.joists is not None
    assert (brief.room.joists.spacing, brief.room.joists.first) == pytest.approx((16 * 25.4, 9 * 25.4))
    assert (brief.room.underside, brief.room.ceiling_height) == pytest.approx((102 * 25.4, 93 * 25.4))
    assert brief.grid.system == "lay-in-imperial"
    assert brief.grid.module == pytest.approx((609.6, 609.6))
    assert (brief.stock.spare, brief.stock.saw_kerf) == pytest.approx((0.05, 3.175))


def test_a_taped_room_walked_the_other_way_is_the_same_room() -> None:
    """A 6 m by 5.5 m L walked with the room on the right: 6000 x 5500 - 2500 x 2100 = 27.75 m²."""
    walls = {"A-B": "6000", "B-C": "5500", "C-D": "3500", "D-E": "2100", "E-F": "2500", "F-A": "3400"}
    told = {"job": "Shop", "units": "mm", "shape": "taped", "corners": "6", "walk": "right", "outside": "E"}
    brief = brief_of(answered(told | {f"line {name}": text for name, text in walls.items()}))
    assert brief.room.area == pytest.approx(27.75e6)


def test_columns_and_services_stand_where_they_were_said_to() -> None:
    told = RECTANGLE | {
        "column 1": "round",
        "column 1 size": "4-1/2",
        "column 1 at": "3', 9\"",
        "column 2": "box",
        "column 2 size": "12x12",
        "column 2 at": "8', 5' 2\"",
        "service 1": "light",
        "service 1 size": "2x4",
        "service 1 where": "6', 4'",
        "service 1 weight": "18 lb",
        "service 2": "downlight",
        "service 2 where": "spread 3 x 2",
    }
    brief = brief_of(answered(told))
    pipe, box = brief.room.columns
    assert pipe.diameter == pytest.approx(4.5 * 25.4)
    assert pipe.centre == pytest.approx((36 * 25.4, 9 * 25.4))
    assert min(box.outline) == pytest.approx((96 * 25.4, 62 * 25.4))
    light, *downlights = brief.services
    assert light.kind == "troffer"
    assert light.size == pytest.approx((24 * 25.4, 48 * 25.4))
    assert light.near == pytest.approx((72 * 25.4, 48 * 25.4))
    assert light.weight_kg == pytest.approx(18 * 0.45359237)
    assert [one.kind for one in downlights] == ["downlight"] * 6


def test_a_size_said_of_another_kind_is_not_written() -> None:
    """What was a 2 x 4 light is made a sprinkler head, which has its own hole: no size is left over."""
    talk = Talk()
    lines = ("Room", "", "", "18' 7\"", "11' 4\"", *["none"] * 3, "no", "", "", "light", "2x4", "6', 4'")
    for line in (*lines, "back", "back", "back", "sprinkler", "rest"):
        talk, _ = said(talk, line)
    (head,) = brief_of(talk).services
    assert (head.kind, head.size) == ("sprinkler", None)


def test_the_schema_that_the_first_line_names_takes_the_file() -> None:
    text = file_text(answered(RECTANGLE | {"service 1": "light"}).given)
    assert text.splitlines()[0] == "# yaml-language-server: $schema=room.schema.json"
    jsonschema.validate(parse_yaml(text).data, room_schema())
    assert not file_text(answered(RECTANGLE).given, None).startswith("# yaml-language-server")


def test_every_key_that_is_written_is_explained() -> None:
    """Beside each key of a line of its own, or above it, stands a comment."""
    lines = file_text(answered(RECTANGLE).given).splitlines()
    for before, line in zip(["", *lines], lines, strict=False):
        if line.strip() and not line.lstrip().startswith("#"):
            assert "  # " in line or before.lstrip().startswith("#"), line


def test_keys_shown_commented_out_are_keys_of_the_room_file() -> None:
    known = {tuple(step for step in entry.path if step != "*") for entry in entries()}
    for group, names in MORE.items():
        assert {(*group, name) for name in names} <= known


def test_lines_commented_out_can_be_taken_in_by_taking_away_the_mark() -> None:
    """Whoever takes the mark from `# built: 1972` gets a file that can still be read."""
    lines = file_text(answered(RECTANGLE | {"joists": "yes"}).given).splitlines()
    wanted = (
        "# built:",
        "# seismic:",
        "# panel_weight:",
        "# panels_per_carton:",
        "# use:",
        "# mains:",
        "# out_of_level:",
    )
    for start in wanted:
        line = next(row for row in lines if row.lstrip().startswith(start))
        text = "\n".join(row.replace("# ", "", 1) if row is line else row for row in lines)
        brief_from(parse_document(text, "room.yaml"))


@given(st.text(st.characters(codec="utf-8", exclude_categories=("C",)), min_size=1, max_size=40))
def test_any_name_comes_back_as_it_was_given(name: str) -> None:
    line = " ".join("".join(c if c.isprintable() else " " for c in name).split())
    if not line:
        return
    parsed = parse_yaml(f"job: {quoted(line)}\nlist: [{quoted(line)}, b]\n")
    assert parsed.troubles == []
    assert parsed.data == {"job": line, "list": [line, "b"]}


@pytest.mark.parametrize(
    "text",
    ["yes", "null", "1.10", "0x1F", "1e3", "a: b", "a #b", "- a", "[a]", "{a}", "*a", "&a", "!a", "~", ".5", "A-1"],
)
def test_what_yaml_would_take_for_something_else_is_quoted(text: str) -> None:
    assert parse_yaml(f"job: {quoted(text)}\n").data == {"job": text}


def lengths(units: str, least_mm: int, most_mm: int) -> st.SearchStrategy[tuple[str, float]]:
    """A length as text in any form of the units, with its millimetres."""
    step = MM[units]
    if units in ("ft-in", "in"):
        sixteenths = st.integers(int(least_mm / 25.4) * 16 + 16, int(most_mm / 25.4) * 16)
        return sixteenths.map(lambda k: (_inches(k, units), k * 25.4 / 16))
    return st.integers(least_mm, most_mm).map(lambda mm: (f"{mm / step:.10g} {units}", float(mm)))


def _inches(sixteenths: int, units: str) -> str:
    feet, rest = divmod(sixteenths, 192) if units == "ft-in" else (0, sixteenths)
    whole, part = divmod(rest, 16)
    return (f"{feet}' " if units == "ft-in" else "") + (f'{whole} {part}/16"' if part else f'{whole}"')


@st.composite
def rooms(draw: st.DrawFn) -> tuple[dict[str, str], dict[str, float]]:
    """Answers for any rectangular room, and what they mean."""
    units = draw(st.sampled_from(list(MM)))
    told, meant = {"job": draw(st.sampled_from(["Room", "a: b", "#1", "yes", "007"])), "units": units}, {}
    told["shape"] = "rectangle"
    sizes = {"length": (1500, 20000), "width": (1500, 20000), "underside": (2600, 4000), "height": (2000, 2500)}
    for key, (least, most) in sizes.items():
        told[key], meant[key] = draw(lengths(units, least, most))
    told["joists"] = draw(st.sampled_from(["yes", "no"]))
    if told["joists"] == "yes":
        told["joist spacing"], meant["spacing"] = draw(lengths(units, 300, 600))
        told["joist direction"] = draw(st.sampled_from(["across", "along"]))
        told["joist first"], meant["first"] = draw(lengths(units, 10, 600))
    told["spare"] = f"{draw(st.integers(0, 50))}%"
    number = draw(st.integers(0, 2))
    for k in range(1, number + 1):
        told[f"service {k}"] = draw(st.sampled_from(["smoke_detector", "sprinkler", "downlight"]))
        along, away = draw(st.floats(0.1, 0.9)), draw(st.floats(0.1, 0.9))
        x, y = round(along * meant["length"]), round(away * meant["width"])
        told[f"service {k} where"] = f"{x} mm, {y} mm"
        meant[f"x{k}"], meant[f"y{k}"] = x, y
    return told, meant


@settings(max_examples=20, deadline=None)
@given(rooms())
def test_any_answers_give_a_room_file_that_means_what_was_answered(
    case: tuple[dict[str, str], dict[str, float]],
) -> None:
    told, meant = case
    brief = brief_of(answered(told))
    room = brief.room
    assert room.name == told["job"]
    assert (room.box.width, room.box.height) == pytest.approx((meant["length"], meant["width"]), abs=1e-6)
    assert (room.underside, room.ceiling_height) == pytest.approx((meant["underside"], meant["height"]), abs=1e-6)
    if told["joists"] == "yes":
        assert room.joists is not None
        assert room.joists.direction == told["joist direction"]
        found = (room.joists.spacing, room.joists.first)
        assert found == pytest.approx((meant["spacing"], meant["first"]), abs=1e-6)
    else:
        assert room.joists is None
    assert brief.stock.spare == pytest.approx(int(told["spare"][:-1]) / 100)
    places = [(meant[f"x{k}"], meant[f"y{k}"]) for k in range(1, 3) if f"x{k}" in meant]
    assert [wish.near for wish in brief.services] == [pytest.approx(place) for place in places]


WORDS = ("yes", "none", "back", "undo", "rest", "said", "?", "draw", "go 3", "go 1", "go A-B", "taped", "rectangle")
WORDS += ("", "4", "6", "mm", "ft-in", "6000", "3'", "18' 7\"", "round", "light", "2x4", "3 m, 2 m", "spread 2 x 2")
WORDS += ("A-C", "C 135", "x")


@settings(max_examples=40, deadline=None)
@given(st.lists(st.sampled_from(WORDS), max_size=40))
def test_no_line_whatever_breaks_the_talk_or_loses_an_answer(lines: list[str]) -> None:
    """Only undo takes answers away; everything else keeps them or writes over the one that is asked for."""
    talk, _ = said(Talk(), "Room")
    for line in lines:
        before = talk
        talk, _ = said(talk, line)
        if line != "undo":
            kept = {key.removeprefix("aside: ") for key in talk.given}
            assert {key.removeprefix("aside: ") for key in before.given} <= kept


def test_the_file_is_the_same_each_time(tmp_path: Path) -> None:
    first, second = (file_text(answered(RECTANGLE).given) for _ in range(2))
    assert first == second
    json.dumps(parse_yaml(first).data)
