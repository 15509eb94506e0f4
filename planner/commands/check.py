"""`planner check`: what there is to say about a room or a building; nothing is written."""

from pathlib import Path

import click

from planner.commands import common


@click.command()
@common.ROOM
@common.JSON
def check(room: Path, as_json: bool) -> None:
    """Read and plan ROOM, and say what there is to say about it; nothing is written."""
    from planner.report import survey_text

    document = common.read(room)
    if (building := common.building(document)) is not None:
        common.show_building(building, as_json, "")
        common.leave(*building.plans)
    made = common.planned(document)
    common.show_plan(made, as_json, survey_text(made))
    common.leave(made)
