"""`planner schema`: the shape of the files that the planner reads and writes."""

import click

from planner.commands import common


@click.command(short_help="Print the shape of the files, or explain every key.", epilog=common.SHOWN)
@click.argument("what", type=click.Choice(["room", "building", "plan"]), default="room")
@click.option("--guide", is_flag=True, help="Print every key, explained for people, as Markdown.")
@click.option("--limits", is_flag=True, help="Print how large files and jobs may be, and how far that can be raised.")
def schema(what: str, guide: bool, limits: bool) -> None:
    """Print the JSON Schema of a room or building file (so that editors complete and check it), or of plan.json.

    WHAT is room, building or plan; room if none. An editor that knows YAML takes the schema from a first line such as
    `# yaml-language-server: $schema=room.schema.json`, which `planner start` writes for you.

    \b
    Examples:
      planner schema > room.schema.json
      planner schema building > building.schema.json
      planner schema --guide > room-file.md
      planner schema building --guide > building-file.md
    """
    if limits:
        from planner.limits import limits_table

        click.echo(limits_table())
        return
    if guide:
        _show_guide(what)
        return
    from planner.record import plan_schema
    from planner.room.building import building_schema
    from planner.room.schema import room_schema

    schemas = {"room": room_schema, "building": building_schema, "plan": plan_schema}
    common.show_json(schemas[what]())


def _show_guide(what: str) -> None:
    from planner.room.reference import building_guide, guide

    if what == "plan":
        raise click.UsageError("--guide explains files that people write: room or building.")
    click.echo(building_guide() if what == "building" else guide(), nl=False)
