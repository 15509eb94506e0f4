"""`planner styles`: the drawing standards that --style may name, and `planner styles show`: all that one says."""

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from planner.commands import common

if TYPE_CHECKING:
    from planner.drawing.stylebook import Style


@click.group(invoke_without_command=True, short_help="List the drawing standards.", epilog=common.SHOWN)
@common.JSON
@click.pass_context
def styles(context: click.Context, as_json: bool) -> None:
    """List the drawing standards that --style may name; `planner styles show NAME` prints one.

    \b
    Examples:
      planner styles
      planner styles show us-ncs
    """
    if context.invoked_subcommand is not None:
        return
    from planner.drawing.stylebook import load_style, style_names

    found = [load_style(name, Path.cwd()) for name in style_names()]
    common.show_named([(style.name, style.title) for style in found], as_json)


@styles.command()
@click.argument("name")
@common.JSON
def show(name: str, as_json: bool) -> None:
    """Print the layer, pen, colour, line type and letter height of every role in style NAME, or in your own file.

    \b
    Examples:
      planner styles show us-ncs
      planner styles show my-office.yaml --json
    """
    from planner.drawing.stylebook import load_style

    style = load_style(name, Path.cwd(), common.reach())
    if as_json:
        common.show_json(_record(style))
        return
    click.echo(f"{style.name}: {style.title}; {style.paper} unless another paper is named")
    for line in _table([_HEAD, *(_cells(row) for row in _rows(style))]):
        click.echo(line)


_HEAD = ("role", "layer", "pen mm", "colour", "DXF", "letters mm", "line, mm of stroke and gap")


def _rows(style: "Style") -> list[dict[str, Any]]:
    """Every role with what the style makes of it."""
    return [
        {
            "role": role.value,
            "layer": style.layer(role).name,
            "pen_mm": style.layer(role).pen,
            "colour": style.layer(role).colour,
            "aci": style.layer(role).aci,
            "height_mm": entry.height,
            "dash_mm": list(style.layer(role).dash),
            "plots": style.layer(role).plots,
        }
        for role, entry in style.roles
    ]


def _record(style: "Style") -> dict[str, Any]:
    return {"name": style.name, "title": style.title, "paper": style.paper, "roles": _rows(style)}


def _cells(row: dict[str, Any]) -> tuple[str, ...]:
    line = " ".join(f"{length:g}" for length in row["dash_mm"]) or "full"
    pen, height = f"{row['pen_mm']:.2f}", f"{row['height_mm']:g}"
    return row["role"], row["layer"], pen, row["colour"], str(row["aci"]), height, line


def _table(rows: list[tuple[str, ...]]) -> list[str]:
    """Columns as wide as need be."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows]
