"""`planner check`: what there is to say about a room or a building; nothing is written."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from planner.commands import common

if TYPE_CHECKING:
    from planner.sets import Sealed


_EXITS = (
    "Exit codes: 0 all well; 1 it was planned, but a finding says stop, or the files of a set are not what they were; "
    "2 something must be mended first, and the message says where and how."
)


@click.command(short_help="Say what there is to say about a room; write nothing.", epilog=_EXITS)
@click.argument("room", type=click.Path(path_type=Path), required=False)
@click.option(
    "--outputs",
    type=click.Path(path_type=Path),
    help="Hold the files of this folder against their checksums; with ROOM also against what ROOM says now.",
)
@common.JSON
def check(room: Path | None, outputs: Path | None, as_json: bool) -> None:
    """Read and plan ROOM, and say what there is to say about it; nothing is written.

    With --outputs, tell whether a folder that `planner plan` wrote holds one whole set.

    \b
    Examples:
      planner check kiln-room.yaml
      planner check --outputs kiln-room-plan
      planner check kiln-room.yaml --outputs kiln-room-plan
    """
    if outputs is not None:
        _check_outputs(room, outputs, as_json)
    elif room is None:
        raise click.UsageError("Name a room file, or a folder of files with --outputs.")
    else:
        _check_room(room, as_json)


def _check_room(room: Path, as_json: bool) -> None:
    from planner.report import survey_text

    document = common.read(room)
    if (building := common.building(document)) is not None:
        common.show_building(building, as_json, "")
        common.leave(*building.plans)
    made = common.planned(document)
    common.show_plan(made, as_json, survey_text(made))
    common.leave(made)


def _check_outputs(room: Path | None, folder: Path, as_json: bool) -> None:
    from planner.export import inspect_set

    sealed = inspect_set(folder)
    current = None if room is None else _current(room, folder)
    if as_json:
        files = {"whole": list(sealed.whole), "changed": list(sealed.changed), "missing": list(sealed.missing)}
        common.show_json({"digest": sealed.digest, **files, "current": current})
    else:
        click.echo("\n".join(_words(sealed, current, folder)))
    sys.exit(common.WELL if sealed.sound and current is not False else common.STOPS)


def _current(room: Path, folder: Path) -> bool:
    """Whether the record in the folder is the one that the file gives now."""
    from planner.building_record import building_record
    from planner.files import json_text
    from planner.record import record_of

    document = common.read(room)
    building = common.building(document)
    name = "plan.json" if building is None else "building.json"
    now = record_of(common.planned(document)) if building is None else building_record(building)
    place = folder / name
    return place.is_file() and place.read_bytes() == json_text(now).encode()


def _words(sealed: "Sealed", current: bool | None, folder: Path) -> list[str]:
    listed = len(sealed.whole) + len(sealed.changed) + len(sealed.missing)
    lines = [f"{folder}: {len(sealed.whole)} of {listed} files are as they were written."]
    lines += [f"  changed since: {name}" for name in sealed.changed]
    lines += [f"  missing, or no plain file: {name}" for name in sealed.missing]
    if current is True:
        lines.append("They are what the room file gives now.")
    if current is False:
        lines.append("The room file gives something else now: plan again before you build from these.")
    return [*lines, f"Digest of the set: {sealed.digest}"]
