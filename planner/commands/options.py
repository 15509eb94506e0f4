"""`planner options`: the sensible layouts of a room side by side."""

from pathlib import Path

import click

from planner.commands import common


@click.command()
@common.ROOM
@common.JSON
@click.option("--sheet", type=click.Path(path_type=Path), help="Draw the layouts on one page, into this PDF file.")
@common.STYLE
@common.PAPER
@common.PORTRAIT
def options(
    room: Path, as_json: bool, sheet: Path | None, style: str | None, paper: str | None, portrait: bool
) -> None:
    """Lay out ROOM in every sensible way, side by side, and mark the one that `planner plan` takes.

    \b
    planner options kiln-room.yaml
    planner options kiln-room.yaml --sheet layouts.pdf
    """
    from planner.options import options_for
    from planner.report import options_table
    from planner.room.reader import read_room
    from planner.weighing import record_of_options

    if sheet is not None:
        common.check_file(sheet, ".pdf", "--sheet")
    found = options_for(read_room(room))
    if sheet is not None:
        from planner.drawing.stylebook import load_style
        from planner.drawing.wish import SheetWish
        from planner.export import write_folder
        from planner.files import options_pdf

        chosen = load_style(style or common.style_for(found[0].plan), Path.cwd())
        drawn = options_pdf(found, chosen, SheetWish(paper, portrait))
        write_folder(sheet.parent, {sheet.name: drawn}, "--sheet")
    if as_json:
        common.show_json(record_of_options(found))
    else:
        click.echo(options_table(found))
