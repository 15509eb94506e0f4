"""The front door of a building: a file that names room files becomes a `Building`.

In: a path. Out: the briefs of its rooms, in the order of the file, and how material is bought for all of them. Rule:
only files below the building file's folder are read; all that is wrong with the list is said at once.
"""

import os
from collections.abc import Iterator
from dataclasses import fields
from pathlib import Path
from typing import Annotated, Any

from pydantic import Field

from planner.documents import Document, read_document, refuse, validate
from planner.errors import Complaint, InputError
from planner.fields import Keys, Words
from planner.limits import too_many
from planner.records import dataclass
from planner.room.brief import Brief, StockWish
from planner.room.naming import folder_of, title_of
from planner.room.outline import Units
from planner.room.reader import brief_from, lists_rooms
from planner.room.schema import published
from planner.room.stock_keys import StockKeys
from planner.room.wishes import wish_stock


class BuildingFile(Keys):
    """Rooms whose stock is cut and ordered together."""

    job: Words | None = Field(default=None, description="Name; the file's name if none.", examples=["Mill"])
    units: Units = Field(default="mm", description="How bare numbers under stock are read.", examples=["ft-in"])
    rooms: Annotated[list[Words], Field(min_length=1)] = Field(
        description="Room files, named from this file's folder, each below it.", examples=[["a.yaml", "b.yaml"]]
    )
    stock: StockKeys | None = Field(
        default=None, description="How material is bought; as the rooms say, if they agree.", examples=[{"spare": "5%"}]
    )


@dataclass(frozen=True, slots=True)
class Building:
    """Rooms that are planned one by one and supplied together."""

    name: str
    briefs: tuple[Brief, ...]
    folders: tuple[str, ...]  #: a folder name for each room, no two alike on any file system
    stock: StockWish
    document: Document | None = None  #: for messages that point into the file


def building_schema() -> dict[str, Any]:
    """The shape of a building file as JSON Schema, for editors."""
    return published(BuildingFile)


def is_building(document: Document) -> bool:
    """Whether a document lists rooms rather than describing one."""
    return lists_rooms(document)


def read_building(path: str | os.PathLike[str]) -> Building:
    """Read a building file; InputError with every complaint about it or its rooms."""
    return building_from(read_document(path))


def building_from(document: Document) -> Building:
    """Read a parsed building file and its rooms; InputError with every complaint."""
    units = document.data.get("units", "mm")
    file = validate(document, BuildingFile, {"units": units if isinstance(units, str) else "mm"})
    if wrong := too_many(f"the building has {len(file.rooms):,} rooms", len(file.rooms), "rooms", document.limits):
        refuse([document.complaint(("rooms",), *wrong, at_key=True)])
    base = Path(document.file).parent
    refuse(_misnamed(document, file.rooms, base))
    briefs: list[Brief] = []
    complaints: list[Complaint] = []
    for number, name in enumerate(file.rooms):
        try:
            briefs.append(_room(document, number, base / name))
        except InputError as error:
            complaints.extend(error.complaints)
    if complaints:
        raise InputError(tuple(complaints))
    stock = wish_stock(file.stock) if file.stock else _agreed(document, briefs)
    return Building(file.job or title_of(document.file), tuple(briefs), _folders(file.rooms), stock, document)


def _misnamed(document: Document, names: list[str], base: Path) -> Iterator[Complaint]:
    """Complain of files outside the folder, missing, named twice, or the building itself."""
    seen: dict[Path, int] = {}
    own = Path(document.file).resolve()
    for number, name in enumerate(names):
        place = ("rooms", number)
        if "\0" in name:
            yield document.complaint(place, "this is not the name of a file.", "Name a room file.")
            continue
        path = (base / name).resolve()
        if Path(name).is_absolute() or not document.reaches(name):
            mend = "Put the room file beside it, or say with --reach FOLDER below which folder files may lie."
            yield document.complaint(place, f"{name} is not below this file's folder.", mend)
        elif path == own:
            yield document.complaint(place, f"{name} is this building itself.", "Name room files only.")
        elif path in seen:
            yield document.complaint(place, f"{name} is named twice.", f"It is room {seen[path] + 1} already.")
        elif not path.is_file():
            yield document.complaint(place, f"there is no file {name}.", "Name it from this file's folder.")
        seen.setdefault(path, number)


def _room(document: Document, number: int, path: Path) -> Brief:
    read = read_document(path, document.reach or Path(document.file).parent, document.limits)
    if is_building(read):
        problem = f"{path.name} is a building, not a room."
        raise InputError((document.complaint(("rooms", number), problem, "Name its rooms here."),))
    return brief_from(read)


def _agreed(document: Document, briefs: list[Brief]) -> StockWish:
    """How the rooms buy, where they all buy alike."""
    first = briefs[0].stock
    differing = [
        field.name for field in fields(first) if any(getattr(brief.stock, field.name) != getattr(first, field.name)
                                                     for brief in briefs)
    ]  # fmt: skip
    if differing:
        problem = f"the rooms do not agree how material is bought: {', '.join(differing)}."
        raise InputError((document.complaint(("rooms",), problem, "Say it here, under stock, for all of them."),))
    return first


def _folders(names: list[str]) -> tuple[str, ...]:
    """The rooms' file names without ending; numbered where two would share a folder."""
    beside = ("building.json", "building.pdf", "checksums.sha256", "cutting.csv", "takeoff.csv")
    taken = set(beside)
    folders: list[str] = []
    for name in names:
        stem, number = folder_of(name), 1
        folder = stem
        while folder.casefold() in taken:
            number += 1
            folder = f"{stem}-{number}"
        taken.add(folder.casefold())
        folders.append(folder)
    return tuple(folders)
