"""The front door: a room file becomes a `Brief`.

In: a path, or a document. Out: a `Brief`, everything in it checked. Rule: all that is wrong with a file is said at
once, each with its place and its mend.
"""

import os
from collections.abc import Iterator
from typing import get_args

from planner.documents import Document, Path, read_document, refuse
from planner.errors import Complaint
from planner.lengths import format_length, spoken_length
from planner.limits import USUAL, Limits, too_many
from planner.room.brief import Brief
from planner.room.columns import stand_columns
from planner.room.naming import title_of
from planner.room.outline import Joists, Revision, Room, Units
from planner.room.salvage import Salvaged, read_keys
from planner.room.schema import RoomFile, StructureKeys
from planner.room.site import WIRE_ALLOWANCE_MM, Site
from planner.room.walk import Walk, walk
from planner.room.wishes import wish_grid, wish_services, wish_stock
from planner.wording import Fault, numbers_read

#: A ceiling or joist outside these heights, or joists closer than this, were read in the wrong unit.
HEIGHTS_MM = (500.0, 100_000.0)
CLOSEST_JOISTS_MM = 50.0
#: So high rooms are, mostly: what a height in a wrong unit may have been meant to be.
LIKELY_HEIGHTS_MM = (1_800.0, 6_000.0)
#: How many times what is read is meant where a number stands in a wrong unit, and the unit meant.
_SLIPS = (
    *((0.001, "mm"), (1000.0, "m"), (0.01, "cm"), (100.0, "m"), (0.1, "mm"), (10.0, "cm")),
    *((12.0, "ft-in"), (1 / 12, "in"), (304.8, "ft-in"), (1 / 304.8, "mm"), (25.4, "in"), (1 / 25.4, "mm")),
)
#: Of a building's rooms at most so many are named in a message.
_NAMED = 12


def read_room(path: str | os.PathLike[str], limits: Limits = USUAL) -> Brief:
    """Read a room file; InputError with every complaint about it."""
    return brief_from(read_document(path, limits=limits))


def brief_from(document: Document) -> Brief:
    """Read a parsed room file; InputError with every complaint about it."""
    refuse(_many_rooms(document))
    units = document.data.get("units")
    if units not in get_args(Units):
        units = "mm"  # the schema complains; bare numbers need not be complained of as well
    kept, faults = read_keys(document, units)
    brief = None
    if kept is not None:
        unread = [*_out_of_reach(kept.file, document), *_too_much(kept.file, document.limits)]
        brief, more = (None, unread) if unread else _brief(kept, document)
        faults += more
    refuse(document.complaints(faults))
    assert brief is not None  # without faults there is a room
    return brief


def lists_rooms(document: Document) -> bool:
    """Whether a document lists the rooms of a building rather than describing one."""
    return "rooms" in document.data and "room" not in document.data


def _many_rooms(document: Document) -> Iterator[Complaint]:
    """Complain of a building where one room is needed, and name its rooms."""
    if lists_rooms(document):
        rooms = document.data["rooms"]
        names = [str(name) for name in rooms if isinstance(name, str | int)] if isinstance(rooms, list) else []
        told = ", ".join(names[:_NAMED]) + (f" and {len(names) - _NAMED} more" if len(names) > _NAMED else "")
        mend = f"Name one of them: {told}." if names else "Name a room file."
        problem = "this file lists the rooms of a building, and here one room is needed."
        yield document.complaint(("rooms",), problem, mend)


def _out_of_reach(file: RoomFile, document: Document) -> Iterator[Fault]:
    """Complain of files that lie where a room file from somebody else has no business."""
    named: list[tuple[Path, str | None]] = [(("grid", "system"), file.grid.system)]
    if file.room.dxf is not None:
        named.append((("room", "dxf", "file"), file.room.dxf.file))
    for path, name in named:
        if name is not None and not document.reaches(name):
            problem = f"{name} is not in or below the room file's folder."
            yield Fault(path, problem, "Put it there, or say with --reach FOLDER below which folder files may lie.")


def _too_much(file: RoomFile, limits: Limits) -> Iterator[Fault]:
    """Complain of a room larger than anybody's, before it is measured."""
    room = file.room
    readings = sum(map(len, room.tape.values()))
    spread = sum(each.array.columns * each.array.rows if each.array else 1 for each in file.services)
    counts: tuple[tuple[Path, str, str, int], ...] = (
        (("room", "points"), "corners", "the room has {} corners", len(room.points or ())),
        (("room", "corners"), "corners", "the room has {} corners", len(room.corners or ())),
        (("room", "tape"), "readings", "the tape has {} readings", readings),
        (("room", "columns"), "columns", "the room has {} columns", len(room.columns)),
        (("room", "columns"), "corners", "the columns have {} points", sum(len(c.points or ()) for c in room.columns)),
        (("services",), "services", "the room has {} services", spread),
    )
    for path, name, what, count in counts:
        if wrong := too_many(what.format(f"{count:,}"), count, name, limits):
            yield Fault(path, *wrong, at_key=True)


def _too_curved(outline: Walk, limits: Limits) -> list[Fault]:
    """Complain of a drawing or of bowed walls that make more corners than there may be."""
    count = len(outline.outline) + sum(len(loop.vertices) for loop in outline.columns)
    for number, name in ((count, "corners"), (len(outline.columns), "columns")):
        if wrong := too_many(f"the outline has {number:,} {name}, bows written out", number, name, limits):
            return [Fault(("room",), *wrong, at_key=True)]
    return []


def _brief(kept: Salvaged, document: Document) -> tuple[Brief | None, list[Fault]]:
    """Survey the room and read the wishes; no brief when the outline is at fault."""
    file = kept.file
    outline, faults = walk(file.room, file.units, document.file, document.limits)
    faults += _overhead_faults(file)
    if outline is None:
        return None, faults
    if curved := _too_curved(outline, document.limits):
        return None, faults + curved
    columns, wrong_columns = stand_columns(file.room.columns, kept.columns, outline)
    room = Room(
        name=file.job or title_of(document.file),
        units=file.units,
        outline=outline.outline,
        corner_names=outline.names,
        columns=columns,
        joists=_joists(file),
        underside=file.structure.underside if file.structure else None,
        ceiling_height=file.ceiling_height,
        project=_project(file),
        revisions=_revisions(file),
        corner_at=outline.corner_at,
        bulges=outline.bulges if any(outline.bulges) else (),
        placement=outline.placement,
        site=_site(file, outline),
        dual_units=file.dual_units,
        turned=outline.turned,
    )
    faults += _joists_beyond(room) + _fixed_walls_faults(file, outline)
    grid, wrong_grid = wish_grid(file.grid, outline, room.imperial, document.file)
    services, wrong_services, lost = wish_services(file.services, kept.services, room, outline.frame)
    faults += wrong_columns + wrong_grid + wrong_services
    stock = wish_stock(file.stock)
    findings = (*outline.findings, *lost)
    made = Brief(room, grid, services, stock, document, outline.survey, findings, document.limits)
    return made, faults


def _joists(file: RoomFile) -> Joists | None:
    keys = file.structure.joists if file.structure else None
    if keys is None:
        return None
    return Joists(keys.spacing, keys.first, keys.direction, keys.out_of_level, "first" in keys.model_fields_set)


def _site(file: RoomFile, outline: Walk) -> Site:
    keys = file.structure or StructureKeys()
    allowance = WIRE_ALLOWANCE_MM if keys.wire_allowance is None else keys.wire_allowance
    asked = {outline.wall(name) for name in keys.fixed_walls or ()}
    fixed = tuple(wall for wall in outline.walls if wall in asked)
    return Site(keys.seismic, keys.built, keys.fire_rated, file.use, allowance, fixed)


def _fixed_walls_faults(file: RoomFile, outline: Walk) -> list[Fault]:
    """Complain of walls that are not there, and of walls to fix tee ends to of which no two meet."""
    asked = (file.structure.fixed_walls if file.structure else None) or []
    found = [outline.wall(name) for name in asked]
    unknown = [k for k, wall in enumerate(found) if wall is None]
    if unknown:
        path = ("structure", "fixed_walls")
        return [Fault((*path, k), f'there is no wall "{asked[k]}".', outline.known_walls()) for k in unknown]
    at = {outline.walls.index(wall) for wall in found if wall is not None}
    if asked and not any((k + 1) % len(outline.walls) in at for k in at):
        mend = "Name two that have a corner in common, and what goes straight on from them (ASTM E580 s. 5)."
        return [Fault(("structure", "fixed_walls"), "no two of these walls meet.", mend)]
    return []


def _project(file: RoomFile) -> tuple[tuple[str, str], ...]:
    """What the title block says; the last of the revisions is the one that holds, if no other is named."""
    if file.project is None:
        return ()
    given: dict[str, str] = file.project.model_dump(exclude_none=True, exclude={"revisions"})
    if "revision" not in given and file.project.revisions:
        given["revision"] = file.project.revisions[-1].rev
    return tuple(given.items())


def _revisions(file: RoomFile) -> tuple[Revision, ...]:
    keys = file.project.revisions if file.project else []
    return tuple(Revision(key.rev, key.date or "", key.text or "", key.by or "") for key in keys)


def _joists_beyond(room: Room) -> list[Fault]:
    """Complain of a first joist that would lie past the far end of the room."""
    joists = room.joists
    reach = room.box.right if joists and joists.direction == "across" else room.box.top
    if joists is None or joists.first <= reach:
        return []
    problem = f"the first joist would lie beyond the room, which reaches {format_length(reach, room.units)} there."
    mend = "Give the distance from the reference corner to the first joist, square to the joists."
    return [Fault(("structure", "joists", "first"), problem, mend)]


def _not_a_height(path: Path, height: float, units: Units) -> Fault:
    """Complain of a height that cannot be: what was read, what heights there are, and what may be meant."""
    least, most = (format_length(limit, "m") for limit in HEIGHTS_MM)
    read = f"{height / 1000:.6g} m" if height >= 1000 else f"{height:.4g} mm"
    problem = f"this reads as {read} above the floor; heights from {least} to {most} can be planned."
    meant = [*dict.fromkeys(said for slip, unit in _SLIPS if (said := _unslipped(height * slip, unit)))]
    guess = f"Is {' or '.join(meant)} meant? " if meant else ""
    return Fault(path, problem, f"{guess}Write the unit with the number; this file reads {numbers_read(units)}.")


def _unslipped(height: float, unit: str) -> str:
    """A height as it would be in another unit, where rooms are so high; else nothing."""
    return spoken_length(height, unit) if LIKELY_HEIGHTS_MM[0] <= height <= LIKELY_HEIGHTS_MM[1] else ""


def _overhead_faults(file: RoomFile) -> list[Fault]:
    """Complain of heights that cannot be, and of a ceiling above the joists."""
    faults = []
    underside = file.structure.underside if file.structure else None
    heights = {("ceiling_height",): file.ceiling_height, ("structure", "underside"): underside}
    for path, height in heights.items():
        if height is not None and not HEIGHTS_MM[0] <= height <= HEIGHTS_MM[1]:
            faults.append(_not_a_height(path, height, file.units))
    if underside is not None and file.ceiling_height is not None and file.ceiling_height >= underside:
        problem = f"the ceiling is not below the joists, which are at {format_length(underside, file.units)}."
        faults.append(Fault(("ceiling_height",), problem, "Give both heights above the floor; the ceiling is lower."))
    joists = _joists(file)
    if joists is not None and joists.spacing < CLOSEST_JOISTS_MM:
        problem = f"joists {format_length(joists.spacing)} apart cannot be."
        faults.append(Fault(("structure", "joists", "spacing"), problem, "Check the unit."))
    return faults
