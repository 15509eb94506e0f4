"""The door: reads the command line, calls the house, shows what came out and exits. No arithmetic here.

Exit codes: 0 all well; 1 planned, but a finding says stop; 2 something in the input must be mended first.
Heavy modules are imported by the command that needs them, so that --help answers at once.
"""

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from planner import __version__
from planner.errors import PlannerError

if TYPE_CHECKING:
    from planner.building import BuildingPlan
    from planner.documents import Document
    from planner.plan import Plan

_CARE = (
    "A plan is a reminder, not a permit: local codes and licensed people have the last word, "
    "above all on wiring, fire-rated and seismic ceilings, and on anything that may hold asbestos."
)

_ROOM = click.argument("room", type=click.Path(path_type=Path))
_JSON = click.option("--json", "as_json", is_flag=True, help="Print the result as JSON, for programs.")


class _Refusal(click.ClickException):
    """Shows a PlannerError as it stands and exits with 2."""

    exit_code = 2

    def show(self, file: Any = None) -> None:
        click.echo(self.message, file=file or sys.stderr)


class _Door(click.Group):
    """The one place where a PlannerError becomes a message and an exit code."""

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except PlannerError as error:
            raise _Refusal(str(error)) from error


@click.group(cls=_Door, epilog=_CARE, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="planner")
def main() -> None:
    """Plan a grid ceiling from a room file: layout, framing, what to buy, drawings at true scale.

    Start with `planner plan ROOM.yaml`; fixtures/reference.yaml shows every key of a room file.
    """


@main.command()
@_ROOM
@click.option("--out", type=click.Path(path_type=Path), help="Folder for the files. [default: ROOM-plan]")
@click.option("--style", default=None, help="Drawing standard; `planner styles` lists them.")
@click.option("--paper", default=None, help='Paper, e.g. A3 or "ANSI B". [default: the style\'s own]')
@click.option("--portrait", is_flag=True, help="Turn the paper upright.")
@click.option("--scale", type=click.FloatRange(min=1), default=None, help="50 means 1:50. [default: largest that fits]")
@click.option("--sheets", default="", help="Sheets to draw, e.g. ceiling-plan,framing. [default: the whole set]")
@click.option("--date", default="", help="Date for the title block, printed as written.")
@click.option("--hold", is_flag=True, help="Write nothing when a finding says stop.")
@_JSON
def plan(
    room: Path,
    out: Path | None,
    style: str | None,
    paper: str | None,
    portrait: bool,
    scale: float | None,
    sheets: str,
    date: str,
    hold: bool,
    as_json: bool,
) -> None:
    """Plan ROOM and write drawings (DXF, SVG, PDF), lists (CSV) and plan.json into one folder.

    \b
    planner plan kiln-room.yaml
    planner plan kiln-room.yaml --style site-bold --paper A3 --out on-site
    """
    from planner.drawing.sheets import SheetWish, draw
    from planner.drawing.stylebook import load_style
    from planner.export import check_folder, write_folder
    from planner.files import files_of

    folder = out or Path(f"{room.stem}-plan")
    check_folder(folder)
    chosen_sheets = tuple(key.strip().lower() for key in sheets.split(",") if key.strip())
    document = _read(room)
    if (building := _building(document)) is not None:
        from planner.building_files import building_files

        stopped = any(map(_stops, building.plans))
        if hold and stopped:
            _show_building(building, as_json, "Nothing was written.")
            sys.exit(1)
        contents = building_files(building, style, SheetWish(paper, portrait, scale, date, chosen_sheets))
        written = write_folder(folder, contents)
        _show_building(building, as_json, f"{len(written)} files in {folder}/")
        sys.exit(1 if stopped else 0)
    made = _planned(document)
    if hold and _stops(made):
        _show_plan(made, as_json, "Nothing was written.")
        sys.exit(1)
    chosen = load_style(style or _style_for(made), Path.cwd())
    drawn = draw(made, chosen, SheetWish(paper, portrait, scale, date, chosen_sheets))
    written = write_folder(folder, files_of(made, drawn, chosen))
    _show_plan(made, as_json, f"{len(written)} files in {folder}{'' if str(folder).endswith('/') else '/'}")
    sys.exit(1 if _stops(made) else 0)


@main.command()
@_ROOM
@_JSON
def check(room: Path, as_json: bool) -> None:
    """Read and plan ROOM, and say what there is to say about it; nothing is written."""
    from planner.report import survey_text

    document = _read(room)
    if (building := _building(document)) is not None:
        _show_building(building, as_json, "")
        sys.exit(1 if any(map(_stops, building.plans)) else 0)
    made = _planned(document)
    _show_plan(made, as_json, survey_text(made))
    sys.exit(1 if _stops(made) else 0)


@main.command()
@_ROOM
@_JSON
@click.option("--csv", "as_csv", is_flag=True, help="Print the list as CSV, for a spreadsheet.")
@click.option("--xlsx", type=click.Path(path_type=Path), help="Write the order into this spreadsheet file as well.")
def takeoff(room: Path, as_json: bool, as_csv: bool, xlsx: Path | None) -> None:
    """List what to buy for ROOM, or for all rooms of a building file together."""
    from planner.files import json_text, order_csv
    from planner.record import takeoff_record
    from planner.report import order_table

    if xlsx is not None:
        _check_file(xlsx, ".xlsx", "--xlsx")
    document = _read(room)
    building = _building(document)
    lines = _planned(document).stock.takeoff if building is None else building.pool.takeoff
    if xlsx is not None:
        from planner.export import write_folder
        from planner.order_file import order_xlsx

        write_folder(xlsx.parent, {xlsx.name: order_xlsx(lines)}, "--xlsx")
    if as_json:
        click.echo(json_text({"takeoff": takeoff_record(lines)}), nl=False)
    elif as_csv:
        click.echo(order_csv(lines), nl=False)
    else:
        click.echo(order_table(lines))


@main.command()
@_ROOM
@_JSON
@click.option("--sheet", type=click.Path(path_type=Path), help="Draw the layouts on one page, into this PDF file.")
@click.option("--style", default=None, help="Drawing standard of the sheet; `planner styles` lists them.")
@click.option("--paper", default=None, help='Paper of the sheet, e.g. A3 or "ANSI B". [default: the style\'s own]')
@click.option("--portrait", is_flag=True, help="Turn the paper upright.")
def options(
    room: Path, as_json: bool, sheet: Path | None, style: str | None, paper: str | None, portrait: bool
) -> None:
    """Lay out ROOM in every sensible way, side by side, and mark the one that `planner plan` takes.

    \b
    planner options kiln-room.yaml
    planner options kiln-room.yaml --sheet layouts.pdf
    """
    from planner.files import json_text, options_pdf
    from planner.options import options_for
    from planner.report import options_table
    from planner.room.reader import read_room
    from planner.weighing import record_of_options

    if sheet is not None:
        _check_file(sheet, ".pdf", "--sheet")
    found = options_for(read_room(room))
    if sheet is not None:
        from planner.drawing.stylebook import load_style
        from planner.drawing.wish import SheetWish
        from planner.export import write_folder

        chosen = load_style(style or _style_for(found[0].plan), Path.cwd())
        drawn = options_pdf(found, chosen, SheetWish(paper, portrait))
        write_folder(sheet.parent, {sheet.name: drawn}, "--sheet")
    click.echo(json_text(record_of_options(found)) if as_json else options_table(found), nl=not as_json)


@main.command()
@_JSON
def systems(as_json: bool) -> None:
    """List the kinds of grid that a room file may name."""
    from planner.ceiling.system import load_system, system_names

    found = [load_system(name, Path.cwd()) for name in system_names()]
    _show_named([(system.name, system.title) for system in found], as_json)


@main.command()
@_JSON
def styles(as_json: bool) -> None:
    """List the drawing standards that --style may name."""
    from planner.drawing.stylebook import load_style, style_names

    found = [load_style(name, Path.cwd()) for name in style_names()]
    _show_named([(style.name, style.title) for style in found], as_json)


@main.command()
@click.argument("what", type=click.Choice(["room", "building", "plan"]), default="room")
def schema(what: str) -> None:
    """Print the JSON Schema of a room or building file (so that editors complete and check it), or of plan.json."""
    from planner.files import json_text
    from planner.record import plan_schema
    from planner.room.building import building_schema
    from planner.room.schema import room_schema

    schemas = {"room": room_schema, "building": building_schema, "plan": plan_schema}
    click.echo(json_text(schemas[what]()), nl=False)


def _check_file(path: Path, ending: str, option: str) -> None:
    """Refuse early, before any work is done, what cannot become the file."""
    from planner.export import check_folder

    if path.suffix.lower() != ending or path.is_dir():
        kind = ending[1:].upper()
        raise PlannerError(f"this is no name for a {kind} file.", where=f"{option} {path}", mend=f"Write NAME{ending}.")
    check_folder(path.parent, option)


def _read(path: Path) -> "Document":
    from planner.documents import read_document

    return read_document(path)


def _planned(document: "Document") -> "Plan":
    from planner.plan import plan as make_plan
    from planner.room.reader import brief_from

    return make_plan(brief_from(document))


def _building(document: "Document") -> "BuildingPlan | None":
    """Plan what the file lists, if it is a building file."""
    from planner.room.building import building_from, is_building

    if not is_building(document):
        return None
    from planner.building import plan_building  # starts processes, which a single room never needs

    return plan_building(building_from(document))


def _show_building(made: "BuildingPlan", as_json: bool, last_line: str) -> None:
    from planner.building_record import building_record, building_summary
    from planner.files import json_text

    if as_json:
        click.echo(json_text(building_record(made)), nl=False)
        return
    click.echo(building_summary(made))
    if last_line:
        click.echo(last_line)


def _stops(made: "Plan") -> bool:
    return any(finding.severity == "stop" for finding in made.findings)


def _style_for(made: "Plan") -> str:
    """The style an office in the room's own units would use."""
    return "us-ncs" if made.room.imperial else "iso-13567"


def _show_plan(made: "Plan", as_json: bool, last_line: str) -> None:
    from planner.files import json_text
    from planner.record import record_of
    from planner.report import summary

    if as_json:
        click.echo(json_text(record_of(made)), nl=False)
        return
    click.echo(summary(made))
    if last_line:
        click.echo(last_line)


def _show_named(rows: list[tuple[str, str]], as_json: bool) -> None:
    from planner.files import json_text

    if as_json:
        click.echo(json_text({name: title for name, title in rows}), nl=False)
        return
    width = max(len(name) for name, _ in rows)
    for name, title in rows:
        click.echo(f"{name:{width}}  {title}")
