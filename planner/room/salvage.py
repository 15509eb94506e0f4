"""What can still be read of a room file with faults, so that all of its errors are said at once.

In: a document and the faults found in it. Out: the room file without the entries at fault, or nothing when the outline
or the units themselves are at fault. Rule: a column or service at fault is left out, any other section as a whole.
"""

from dataclasses import replace
from typing import Any

from planner.documents import Document, check
from planner.records import dataclass
from planner.room.schema import RoomFile
from planner.wording import Fault
from planner.yaml_text import Path

#: Without these, or without a part of them, there is no telling what the room is.
_OUTLINE = ("rectangle", "points", "corners", "tape", "outside_corners", "angles", "walk", "dxf", "bowed_walls")


@dataclass(frozen=True, slots=True)
class Salvaged:
    """A room file, with the number that each of its columns and services has in the document."""

    file: RoomFile
    columns: tuple[int, ...]
    services: tuple[int, ...]


def read_keys(document: Document, units: str) -> tuple[Salvaged | None, list[Fault]]:
    """Check a document against the schema: what can be used of it, and everything that is wrong."""
    file, faults = check(document, RoomFile, {"units": units})
    data: dict[str, Any] = document.data
    columns: set[int] = set()
    services: set[int] = set()
    if file is None:
        data, columns, services = _without(data, [fault.path for fault in faults])
        file, _ = check(replace(document, data=data), RoomFile, {"units": units})
    if file is None:
        return None, faults
    return Salvaged(file, _rest(len(file.room.columns), columns), _rest(len(file.services), services)), faults


def _without(data: dict[str, Any], paths: list[Path]) -> tuple[dict[str, Any], set[int], set[int]]:
    """Copy the data without what stands at the paths; say which columns and services are gone."""
    data, columns, services = dict(data), set[int](), set[int]()
    room = dict(data["room"]) if isinstance(data.get("room"), dict) else None
    for path in paths:
        match path:
            case ("services", int(number), *_):
                services.add(number)
            case ("room", "columns", int(number), *_):
                columns.add(number)
            case ("room", str(key), *_) if room is not None and key not in _OUTLINE:
                room.pop(key, None)
            case (str(key), *_) if key not in ("room", "units"):
                data.pop(key, None)
    if room is not None:
        data["room"] = room
        _drop(room, "columns", columns)
    _drop(data, "services", services)
    return data, columns, services


def _drop(group: dict[str, Any], key: str, numbers: set[int]) -> None:
    if numbers and key in group:
        group[key] = [item for number, item in enumerate(group[key]) if number not in numbers]


def _rest(count: int, dropped: set[int]) -> tuple[int, ...]:
    """Give `count` entries the numbers that they had before some were dropped."""
    return tuple(number for number in range(count + len(dropped)) if number not in dropped)
