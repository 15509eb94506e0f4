"""`planner schema`: the shape of the files that the planner reads and writes."""

import click

from planner.commands import common


@click.command()
@click.argument("what", type=click.Choice(["room", "building", "plan"]), default="room")
def schema(what: str) -> None:
    """Print the JSON Schema of a room or building file (so that editors complete and check it), or of plan.json."""
    from planner.record import plan_schema
    from planner.room.building import building_schema
    from planner.room.schema import room_schema

    schemas = {"room": room_schema, "building": building_schema, "plan": plan_schema}
    common.show_json(schemas[what]())
