"""The demo rooms can be read, the reference file shows every key, and the published schema agrees with the reader."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from pydantic import BaseModel

from planner.documents import read_document
from planner.fields import Keys
from planner.lengths import parse_length
from planner.room.reader import read_room
from planner.room.schema import RoomFile, room_schema

FIXTURES = Path(__file__).parents[2] / "fixtures"
ROOMS = sorted(FIXTURES.glob("*.yaml"))
MODELS = [model for model in Keys.__subclasses__() if model.__module__.startswith("planner.room.")]


@pytest.mark.parametrize("file", ROOMS, ids=lambda file: file.stem)
def test_every_demo_room_is_read(file: Path) -> None:
    brief = read_room(file)
    assert brief.room.area > 0
    assert brief.services
    assert brief.document is not None


def test_the_kiln_room_is_the_published_example() -> None:
    """NAVEDTRA 14044 p. 5-16: a room of 13 ft 7 in x 10 ft 4 in, which is 163 in x 124 in."""
    room = read_room(FIXTURES / "kiln-room.yaml").room
    assert (room.box.width, room.box.height) == (163 * 25.4, 124 * 25.4)
    assert room.perimeter == pytest.approx(2 * (163 + 124) * 25.4)


def test_the_shapes_of_the_demo_rooms() -> None:
    corners = {file.stem: len(read_room(file).room.outline) for file in ROOMS}
    assert {"kiln-room": 4, "studio-l": 6, "workshop-t": 8, "corridor": 4}.items() <= corners.items()
    corridor = read_room(FIXTURES / "corridor.yaml")
    assert len(corridor.services) == 16  # twelve downlights in a row, two diffusers, two signs
    chapel = read_room(FIXTURES / "chapel-attic.yaml").room
    assert [column.name for column in chapel.columns] == ["flue", "chase"]


@pytest.mark.parametrize("file", ROOMS, ids=lambda file: file.stem)
def test_every_demo_room_agrees_with_the_published_schema(file: Path) -> None:
    Draft202012Validator(room_schema()).validate(read_document(file).data)


def test_the_published_schema_refuses_what_the_reader_refuses() -> None:
    published = room_schema()
    Draft202012Validator.check_schema(published)
    check = Draft202012Validator(published)
    assert check.is_valid({"units": "mm", "room": {"rectangle": [5000, "3 m"]}})
    assert check.is_valid({"units": "mm", "room": {}, "grid": {"borders": "balanced"}})
    assert check.is_valid({"units": "mm", "room": {}, "grid": {"borders": {"left": "full"}}})
    for bad in (
        {"room": {}},
        {"units": "feet", "room": {}},
        {"units": "mm", "room": {"rectangle": [1, 2, 3]}},
        {"units": "mm", "room": {"rectangel": [1, 2]}},
        {"units": "mm", "room": {"tape": {"A-B": []}}},
        {"units": "mm", "room": {}, "grid": {"borders": "even"}},
        {"units": "mm", "room": {}, "services": [{"kind": "trofer"}]},
        {"units": "mm", "room": {}, "stock": {"packs": {"panel": 0}}},
    ):
        assert not check.is_valid(bad), bad


def test_every_key_has_a_description_and_an_example() -> None:
    for model in MODELS:
        for name, field in model.model_fields.items():
            assert field.description, (model.__name__, name)
            assert field.examples, (model.__name__, name)


def test_the_reference_file_shows_every_key_and_no_other() -> None:
    """A key stands at the start of a line, after "- ", after "# ", or after a brace or a comma."""
    text = (FIXTURES / "reference.yaml").read_text()
    shown = set(re.findall(r"(?:^|[{,]|- |# )\s*([a-z_]+):(?=\s)", text, re.MULTILINE))
    keys = {name for model in MODELS for name in model.model_fields}
    assert keys - shown == set()
    words_of_remarks_and_units = shown - keys - {"across", "along", "rectangular", "round", "structure"}
    assert words_of_remarks_and_units <= {"file", "panel", "tee", "balanced", "auto", "default", "it"}


def test_every_line_of_the_reference_file_has_a_remark() -> None:
    rows = (FIXTURES / "reference.yaml").read_text().splitlines()
    seen: set[str] = set()
    for row in rows:
        if key := re.match(r"\s*(?:- )?([a-z_]+):", row):
            assert "#" in row or key[1] in seen, row  # the second column need not explain the same key again
            seen.add(key[1])


def _examples(model: type[BaseModel]) -> Iterator[tuple[str, Any]]:
    for name, field in model.model_fields.items():
        yield name, (field.examples or [None])[0]


def test_examples_of_lengths_are_lengths() -> None:
    for model in MODELS:
        for name, example in _examples(model):
            if name in ("diameter", "spacing", "first", "underside", "ceiling_height", "saw_kerf", "left", "back"):
                assert parse_length(example) > 0


def test_the_example_room_of_the_schema_is_a_room() -> None:
    example = dict(_examples(RoomFile))
    read = RoomFile.model_validate({"units": example["units"], "room": example["room"]}, context={"units": "ft-in"})
    assert read.room.rectangle == pytest.approx((223 * 25.4, 136 * 25.4))  # 18 x 12 + 7 = 223, 11 x 12 + 4 = 136
