"""`planner template`: panels at full size on paper, to lay on the panel and cut by."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from planner.commands import common
from planner.commands.terminal import working
from planner.errors import PlannerError

if TYPE_CHECKING:
    from planner.drawing.templates.order import Ordered
    from planner.planning import Plan
    from planner.printers import Factors


@click.command(short_help="Print cut panels at full size, to cut by.", epilog=common.SHOWN)
@common.ROOM
@click.argument("panels", metavar="[PANEL]...", nargs=-1)
@click.option("--all", "everything", is_flag=True, help="Plain rectangles too; two numbers cut those.")
@click.option("--mirror", is_flag=True, help="Mirrored, to cut from the back of the panel.")
@click.option("--strip", is_flag=True, help="Only the pages along the cut.")
@click.option("--wall", "walls", multiple=True, metavar="A-B", help="The whole border along a wall, as one long strip.")
@click.option("--story-pole", "poles", multiple=True, metavar="A-B", help="A wall's set-out marks on a strip of paper.")
@click.option("--paper", default=None, help="letter, a4, a3 ... or a size: 210x297, 24x36in.  [default: letter or a4]")
@click.option(
    "--bar-measured",
    metavar="99.4x99.7",
    help="What the 100 mm bars measured on the last print: short side of the paper x long side.",
)
@click.option("--printer", metavar="NAME", help="Remember --bar-measured for this printer, or use what is remembered.")
@click.option("--svg", is_flag=True, help="For a cutting machine: an SVG file for each template beside the PDF.")
@click.option("--out", type=click.Path(path_type=Path), help="The PDF file.  [default: ROOM-templates.pdf]")
@common.STYLE
@common.LANGUAGE
@common.JSON
def template(
    room: Path,
    panels: tuple[str, ...],
    everything: bool,
    mirror: bool,
    strip: bool,
    walls: tuple[str, ...],
    poles: tuple[str, ...],
    paper: str | None,
    bar_measured: str | None,
    printer: str | None,
    svg: bool,
    out: Path | None,
    style: str | None,
    language: str,
    as_json: bool,
) -> None:
    """Print cut panels of ROOM at full size: lay the paper on the panel and cut.

    PANEL is an id from the ceiling plan (d1), or a class letter for all of its panels (d). With none you get every
    panel that two numbers cannot cut: tapered, bowed, notched, or with a hole.

    \b
    Examples:
      planner template kiln-room.yaml
      planner template gallery.yaml d1 q1 --paper a3
      planner template gallery.yaml --wall C-D --story-pole A-B
      planner template gallery.yaml d1 --printer office --bar-measured 99.4x99.7

    Print at 100 %, then measure the bars on the first page: 100 mm and 4 in. If they are off, print again with
    --bar-measured and what you read. The template lies on the panel's face; with --mirror on its back.
    """
    from planner.drawing.stylebook import load_style
    from planner.drawing.templates.order import ordered
    from planner.drawing.templates.sheets import TemplateWish
    from planner.drawing.wish import SheetWish
    from planner.export import write_folder
    from planner.files import machine_svgs, template_pdf

    target = out or Path(f"{room.stem}-templates.pdf")
    common.check_file(target, ".pdf", "--out")
    factors, name = _factors(bar_measured, printer)
    made = _one_room(room)
    most = common.limits().pages
    wish = SheetWish(paper, language=common.known_language(language), most_pages=most)
    templates = TemplateWish(panels, everything, walls, poles, mirror, strip, factors, name)
    chosen = load_style(style or common.style_for(made), Path.cwd(), common.reach())
    with working("Drawing at full size"):
        found = ordered(made, chosen, wish, templates)
        contents = {target.name: template_pdf(made, found, chosen)}
        drawn = machine_svgs(made, chosen, wish, templates) if svg else {}
    contents |= {f"{target.stem}-{each}.svg": content for each, content in drawn.items()}
    written = write_folder(target.parent, contents, "--out")
    if bar_measured and name:
        _remember(name, factors)
    _show(found, written, as_json)


def _one_room(path: Path) -> "Plan":
    from planner.room.building import is_building

    document = common.read(path)
    if is_building(document):
        mend = "Name the file of the room that the panels are in."
        raise PlannerError(
            "this file lists the rooms of a building; templates are of one room.", where=str(path), mend=mend
        )
    return common.planned(document)


def _factors(measured: str | None, printer: str | None) -> tuple["Factors", str]:
    """What the print is corrected by, and the printer's name as it is remembered."""
    from planner.printers import TRUE, corrected, printer_name, remembered

    name = "" if printer is None else printer_name(printer)
    known = remembered(_settings()) if name else {}
    if measured is not None:
        return corrected(measured, known.get(name, TRUE)), name
    if name and name not in known:
        others = f" Remembered: {', '.join(sorted(known))}." if known else ""
        mend = f"Print without --printer, measure the bars, then give --printer and --bar-measured together.{others}"
        raise PlannerError(f'nothing is remembered of a printer "{name}".', where="--printer", mend=mend)
    return known.get(name, TRUE), name


def _remember(name: str, factors: "Factors") -> None:
    from planner.export import write_folder
    from planner.printers import remembered, settings_text

    path = _settings()
    write_folder(path.parent, {path.name: settings_text(remembered(path) | {name: factors}).encode()}, "--printer")


def _settings() -> Path:
    import os

    from planner.printers import settings_file

    return settings_file(os.environ, Path.home())


def _show(found: tuple["Ordered", ...], written: tuple[Path, ...], as_json: bool) -> None:
    if as_json:
        rows = [
            {"name": e.name, "what": e.what, "panels": list(e.panels), "pages": e.pages, "all_pages": e.of}
            for e in found
        ]
        common.show_json({"files": [str(path) for path in written], "templates": rows})
        return
    for each in found:
        panels = ", ".join(each.panels[:8]) + (f" and {len(each.panels) - 8} more" if len(each.panels) > 8 else "")
        pages = (
            f"{each.pages} of {each.of} pages" if each.pages < each.of else f"{each.pages} page{'s'[: each.pages - 1]}"
        )
        click.echo(f"{each.what} {each.name}: {pages}" + (f", for {panels}" if panels else ""))
    click.echo(f"{sum(len(each.sheets) for each in found)} pages with their keys in {written[0]}")
    for path in written[1:]:
        click.echo(str(path))
