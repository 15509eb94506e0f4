"""The reference of the room file: every key of the schema is in it, explained, with an example."""

from collections.abc import Iterator
from typing import Any, get_args

import pytest
from pydantic import BaseModel

from planner.room.reference import Entry, building_guide, entries, guide
from planner.room.schema import RoomFile


def models(model: type[BaseModel]) -> Iterator[type[BaseModel]]:
    """A model and every model that may stand in it."""
    yield model
    for field in model.model_fields.values():
        for part in parts(field.annotation):
            yield from models(part)


def parts(annotation: Any) -> Iterator[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for inner in get_args(annotation):
        yield from parts(inner)


FIELDS = {
    (model.__name__, name): field
    for model in models(RoomFile)
    for name, field in model.model_fields.items()
    if (model.__name__, name) != ("RoomFile", "rooms")  # known only to say that it belongs to a building
}


@pytest.mark.parametrize("where", FIELDS, ids=" ".join)
def test_every_key_has_a_description_and_an_example(where: tuple[str, str]) -> None:
    field = FIELDS[where]
    assert field.description, f"{where} has no description"
    assert field.examples, f"{where} has no example"


def test_the_guide_names_every_key_of_every_group() -> None:
    lines = guide().splitlines()
    headings = {line.lstrip("#").strip().split(" › ")[-1] for line in lines if line.startswith("##")}
    assert {name for _, name in FIELDS} == headings
    assert len([line for line in lines if line.startswith("##")]) == len(entries())


def test_the_building_file_has_a_guide_of_its_own() -> None:
    lines = building_guide().splitlines()
    assert lines[0] == "# The building file, key by key"
    assert [line for line in lines if line.startswith("## ")] == ["## job", "## units", "## rooms", "## stock"]
    assert "### stock › saw_kerf" in lines and "- Example: `rooms: [a.yaml, b.yaml]`" in lines
    assert "- Type: whole number from 1 to 1,000,000,000" in lines


def found(*path: str) -> Entry:
    return next(entry for entry in entries() if entry.key == " › ".join(path))


def test_the_guide_says_what_may_stand_there() -> None:
    assert found("units").allowed == ("ft-in", "in", "mm", "cm", "m")
    assert (found("units").needed, found("job").needed) == (True, False)
    assert found("ceiling_height").kind == "length above 0"
    assert found("structure", "built").kind == "whole number from 1000 to 2999"
    assert found("services", "at").kind == "2 in brackets, each a length, also less than 0"
    assert found("room", "tape").kind.startswith("names of your own, each with: length above 0 or list")
    assert found("grid", "borders").allowed[0] == "balanced"


def test_the_guide_gives_defaults_as_one_would_write_them() -> None:
    """A saw's cut of 1/8 in is 3.175 mm inside; nobody writes that, and bare it would be read in the file's units."""
    assert found("stock", "saw_kerf").default == '1/8"'
    assert found("stock", "spare").default == "0%"
    assert found("grid", "mains").default == "auto"
    assert found("structure", "fire_rated").default == "false"
    assert found("ceiling_height").default == ""


def test_the_guide_can_be_read_in_the_width_of_a_terminal() -> None:
    prose = [line for line in guide().splitlines() if not line.startswith(("- Example", "- Type"))]
    assert max(map(len, prose)) <= 100
