"""`planner options`: the sensible layouts of a room side by side."""

from pathlib import Path

import click

from planner.commands import common
from planner.commands.terminal import working


@click.command(short_help="Lay out the grid in every sensible way, side by side.", epilog=common.SHOWN)
@common.ROOM
@common.JSON
@click.option("--sheet", type=click.Path(path_type=Path), help="Draw the layouts on one page, into this PDF file.")
@common.STYLE
@common.PAPER
@common.PORTRAIT
@common.LANGUAGE
@common.DUAL
def options(
    room: Path,
    as_json: bool,
    sheet: Path | None,
    style: str | None,
    paper: str | None,
    portrait: bool,
    language: str,
    dual: bool,
) -> None:
    """Lay out ROOM in every sensible way, side by side, and mark the one that `planner plan` takes.

    \b
    Examples:
      planner options kiln-room.yaml
      planner options kiln-room.yaml --sheet layouts.pdf
    """
    from planner.options import options_for
    from planner.report import options_table
    from planner.room.reader import brief_from
    from planner.weighing import record_of_options

    if sheet is not None:
        common.check_file(sheet, ".pdf", "--sheet")
    common.known_language(language)
    brief = brief_from(common.read(room))
    with working("Laying out in every way"):
        found = options_for(brief)
    if sheet is not None:
        from planner.drawing.stylebook import load_style
        from planner.drawing.wish import SheetWish
        from planner.export import write_folder
        from planner.files import options_pdf

        chosen = load_style(style or common.style_for(found[0].plan), Path.cwd(), common.reach())
        with working("Drawing them"):
            drawn = options_pdf(found, chosen, SheetWish(paper, portrait, language=language, dual=dual))
        write_folder(sheet.parent, {sheet.name: drawn}, "--sheet")
    if as_json:
        common.show_json(record_of_options(found))
    else:
        click.echo(options_table(found))
