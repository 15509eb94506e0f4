"""`planner plan`: everything about a room or a building, written into one folder."""

import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from planner.commands import common
from planner.commands.terminal import working
from planner.errors import PlannerError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.building import BuildingPlan
    from planner.drawing.wish import SheetWish
    from planner.files import FileWish
    from planner.planning import Plan
    from planner.room.brief import Brief


@click.command(short_help="Plan a room; write drawings, lists and the record.", epilog=common.PLANNED)
@common.ROOM
@click.option("--out", type=click.Path(path_type=Path), help="Folder for the files. [default: ROOM-plan]")
@common.STYLE
@common.PAPER
@common.PORTRAIT
@click.option("--scale", type=common.SCALE, default=None, help="50 means 1:50. [default: largest that fits]")
@click.option("--sheets", default=None, help="Sheets to draw, e.g. ceiling-plan,framing. [default: the whole set]")
@common.LANGUAGE
@common.DUAL
@click.option("--date", default="", help="Date for the title block, printed as written.")
@click.option(
    "--dxf-version",
    type=click.Choice(["R2007", "R2010", "R2013", "R2018"], case_sensitive=False),
    default="R2010",
    show_default=True,
    help="Version of ceiling.dxf.",
)
@click.option("--all-templates", is_flag=True, help="Templates of plain rectangles too, in templates.pdf.")
@click.option("--page", is_flag=True, help="Also page.html: all of it for a browser or a phone, in one file to mail.")
@click.option("--hold", is_flag=True, help="Write nothing when a finding says stop.")
@common.JSON
def plan(
    room: Path,
    out: Path | None,
    style: str | None,
    paper: str | None,
    portrait: bool,
    scale: float | None,
    sheets: str | None,
    language: str,
    dual: bool,
    date: str,
    dxf_version: str,
    all_templates: bool,
    page: bool,
    hold: bool,
    as_json: bool,
) -> None:
    """Plan ROOM and write drawings (DXF, SVG, PDF), lists (CSV) and plan.json into one folder.

    \b
    Examples:
      planner plan kiln-room.yaml
      planner plan kiln-room.yaml --style site-bold --paper A3 --out on-site
    """
    from planner.drawing.wish import SheetWish
    from planner.export import check_set_folder
    from planner.files import FileWish

    usual = f"{room.stem}-plan"
    folder = out or Path(usual)
    check_set_folder(folder, usual)
    chosen_sheets = _sheet_keys(sheets)
    wish = SheetWish(paper, portrait, scale, date, chosen_sheets, common.known_language(language), dual)
    wish = replace(wish, most_pages=common.limits().pages)
    files = FileWish(dxf_version, all_templates, page)
    document = common.read(room)
    made = common.building(document)
    if made is not None:
        _write_building(made, folder, style, wish, files, hold, as_json)
    else:
        _write_room(*common.briefed(document), folder, style, wish, files, hold, as_json)


def _sheet_keys(sheets: str | None) -> tuple[str, ...]:
    """The sheets asked for by their keys; all of them when nothing was said."""
    keys = tuple(key.strip().lower() for key in (sheets or "").split(",") if key.strip())
    if sheets is not None and not keys:
        mend = "Write ceiling-plan,set-out, say, or leave it out."
        raise PlannerError("no sheet is named.", where="--sheets", mend=mend)
    return keys


def _write_room(
    brief: "Brief",
    made: "Plan",
    folder: Path,
    style: str | None,
    wish: "SheetWish",
    files: "FileWish",
    hold: bool,
    as_json: bool,
) -> None:
    from planner.drawing.sheets import draw
    from planner.drawing.stylebook import load_style
    from planner.export import write_set
    from planner.files import files_of

    if hold and common.stops(made):
        common.show_plan(made, as_json, "Nothing was written.")
        sys.exit(common.STOPS)
    chosen = load_style(style or common.style_for(made), Path.cwd(), common.reach())
    beside = None
    if files.page:
        from planner.page.contents import Beside

        beside = Beside(brief)
    with working("Drawing"):
        sheets = draw(made, chosen, wish)
        written = write_set(folder, files_of(made, sheets, chosen, files, wish, beside))
    papers = " and ".join(dict.fromkeys(sheet.paper.name for sheet in sheets))
    hint = f"Print sheets.pdf at 100 %, on {papers} paper; --paper names another, such as letter or A4."
    common.show_plan(made, as_json, f"{_told(written, folder)}\n{hint}")
    common.leave(made)


def _write_building(
    made: "BuildingPlan",
    folder: Path,
    style: str | None,
    wish: "SheetWish",
    files: "FileWish",
    hold: bool,
    as_json: bool,
) -> None:
    from planner.building_files import building_files
    from planner.export import write_set

    if hold and any(map(common.stops, made.plans)):
        common.show_building(made, as_json, "Nothing was written.")
        sys.exit(common.STOPS)
    with working("Drawing the rooms"):
        written = write_set(folder, building_files(made, style, wish, files, common.reach()))
    common.show_building(made, as_json, _told(written, folder))
    common.leave(*made.plans)


def _told(written: "Sequence[Path]", folder: Path) -> str:
    """How many files lie where."""
    return f"{len(written)} files in {folder}{'' if str(folder).endswith('/') else '/'}"
