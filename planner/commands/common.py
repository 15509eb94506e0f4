"""What commands share: arguments and options under one name each, reading a file, showing a plan, exit codes."""

import math
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import click

from planner.commands import completing
from planner.commands.terminal import working
from planner.errors import PlannerError

if TYPE_CHECKING:
    from planner.building import BuildingPlan
    from planner.documents import Document
    from planner.limits import Limits
    from planner.planning import Plan
    from planner.room.brief import Brief

ROOM = click.argument("room", type=click.Path(path_type=Path), shell_complete=completing.room_files)
JSON = click.option("--json", "as_json", is_flag=True, help="Print the result as JSON, for programs.")
STYLE = click.option(
    "--style", default=None, help="Drawing standard; `planner styles` lists them.", shell_complete=completing.styles
)
PAPER = click.option("--paper", default=None, help='Paper, e.g. A3 or "ANSI B". [default: the style\'s own]')
LANGUAGE = click.option(
    "--language", default="", help="Language of the sheets, en or es, or your own table of words. [default: the file's]"
)
DUAL = click.option("--dual", is_flag=True, help="Lengths on sheets in the other system too, in brackets.")
PORTRAIT = click.option("--portrait", is_flag=True, help="Turn the paper upright.")


class _Scale(click.FloatRange):
    """The denominator of a scale; "nan" and "inf" are numbers to Python, and no scales."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> float:
        number = float(super().convert(value, param, ctx))
        if not math.isfinite(number):
            self.fail(f"{value} is no scale; write 50 for 1:50.", param, ctx)
        return number


SCALE = _Scale(min=1, max=10_000)

#: Exit codes, as README and --help tell them.
WELL, STOPS, REFUSED = 0, 1, 2
PLANNED = (
    "Exit codes: 0 all well; 1 it was planned, but a finding says stop; 2 something must be mended first, and the "
    "message says where and how."
)
SHOWN = "Exit codes: 0 all well; 2 something must be mended first, and the message says where and how."


def read(path: Path) -> "Document":
    """A room or building file as a document; PlannerError when it cannot be read."""
    from planner.documents import read_document

    return read_document(path, reach(), limits())


def reach() -> Path | str:
    """The folder in or below which files that a room file names may lie; its own when empty."""
    found: Path | None = click.get_current_context().find_root().params.get("reach")
    return found or ""


def limits() -> "Limits":
    """How large files and jobs may be."""
    from planner.limits import read_limits

    return read_limits(click.get_current_context().find_root().params.get("limits") or "")


def planned(document: "Document") -> "Plan":
    """The plan of one room."""
    return briefed(document)[1]


def briefed(document: "Document") -> "tuple[Brief, Plan]":
    """What is asked for in one room, and its plan."""
    from planner.planning import plan as make_plan
    from planner.room.reader import brief_from

    brief = brief_from(document)
    _speakable(brief)
    with working("Planning"):
        return brief, make_plan(brief)


def building(document: "Document") -> "BuildingPlan | None":
    """The plan of what the file lists, if it is a building file."""
    from planner.room.reader import lists_rooms

    if not lists_rooms(document):
        return None
    from planner.building import plan_building  # starts processes, which a single room never needs
    from planner.room.building import building_from

    brief = building_from(document)
    for room in brief.briefs:
        _speakable(room)
    with working("Planning the rooms"):
        return plan_building(brief)


def _speakable(brief: "Brief") -> None:
    """Refuse a room whose sheets are wanted in a language that there are no words in."""
    if language := dict(brief.room.project).get("language"):
        from planner.documents import pointing_into
        from planner.drawing.wordbook import language_names, wordbook

        if language not in language_names():
            with pointing_into(brief.document):
                wordbook(language, "project › language")


def stops(made: "Plan") -> bool:
    """Whether a finding says stop."""
    return any(finding.severity == "stop" for finding in made.findings)


def leave(*made: "Plan") -> NoReturn:
    """End the program with the exit code that these plans deserve."""
    sys.exit(STOPS if any(map(stops, made)) else WELL)


def style_for(made: "Plan") -> str:
    """The style an office in the room's own units would use."""
    return "us-ncs" if made.room.imperial else "iso-13567"


def known_language(language: str) -> str:
    """The same, when there are words in it; refused early, before any work is done."""
    if language:
        from planner.drawing.wordbook import load_wordbook

        load_wordbook(language)
    return language


def check_file(path: Path, ending: str, option: str) -> None:
    """Refuse early, before any work is done, what cannot become the file."""
    from planner.export import check_folder

    if path.suffix.lower() != ending or path.is_dir():
        kind = ending[1:].upper()
        raise PlannerError(f"this is no name for a {kind} file.", where=f"{option} {path}", mend=f"Write NAME{ending}.")
    if not path.parent.is_dir():
        mend = "Make it first, or name a file in a folder that is there."
        raise PlannerError(f"there is no folder {path.parent}.", where=f"{option} {path}", mend=mend)
    check_folder(path.parent, option)


def show_json(record: dict[str, Any]) -> None:
    """A record on the terminal, as the written files would hold it."""
    from planner.files import json_text

    click.echo(json_text(record).encode(), nl=False)  # JSON is UTF-8 (RFC 8259, section 8.1), whatever the terminal


def show_plan(made: "Plan", as_json: bool, last_line: str) -> None:
    """What there is to say about a room, or its whole record."""
    from planner.record import record_of
    from planner.report import summary

    if as_json:
        show_json(record_of(made))
        return
    click.echo(summary(made))
    if last_line:
        click.echo(last_line)


def show_building(made: "BuildingPlan", as_json: bool, last_line: str) -> None:
    """What there is to say about a building, or its whole record."""
    from planner.building_record import building_record, building_summary

    if as_json:
        show_json(building_record(made))
        return
    click.echo(building_summary(made))
    if last_line:
        click.echo(last_line)


def show_named(rows: list[tuple[str, str]], as_json: bool) -> None:
    """Names with their titles in two columns."""
    if as_json:
        show_json(dict(rows))
        return
    width = max(len(name) for name, _ in rows)
    for name, title in rows:
        click.echo(f"{name:{width}}  {title}")
