"""`planner systems`: the kinds of grid that a room file may name."""

from pathlib import Path

import click

from planner.commands import common


@click.command(short_help="List the kinds of grid.", epilog=common.SHOWN)
@common.JSON
def systems(as_json: bool) -> None:
    """List the kinds of grid that a room file may name under grid: {system: ...}.

    \b
    Examples:
      planner systems
      planner systems --json
    """
    from planner.ceiling.system import load_system, system_names

    found = [load_system(name, Path.cwd()) for name in system_names()]
    common.show_named([(system.name, system.title) for system in found], as_json)
