"""`planner styles`: the drawing standards that --style may name."""

from pathlib import Path

import click

from planner.commands import common


@click.command()
@common.JSON
def styles(as_json: bool) -> None:
    """List the drawing standards that --style may name."""
    from planner.drawing.stylebook import load_style, style_names

    found = [load_style(name, Path.cwd()) for name in style_names()]
    common.show_named([(style.name, style.title) for style in found], as_json)
