"""`planner start`: asks for a room as one would on site, and writes its room file."""

import re
from pathlib import Path

import click

from planner.commands import common, completing
from planner.commands.desk import Desk, Told


@click.command(short_help="Ask for a room as on site, and write its room file.")
@click.argument("file", type=click.Path(path_type=Path), required=False, shell_complete=completing.room_files)
@click.option("--out", type=click.Path(path_type=Path), help="The room file to write, in place of FILE.")
@click.option("--name", help="Name of the job. [default: by the file's name]")
@click.option("--units", help="What the tape shows: ft-in, in, mm, cm or m. [default: as --rectangle is written]")
@click.option("--rectangle", nargs=2, metavar="LENGTH WIDTH", help="The room is a rectangle: base wall, then width.")
@click.option("--underside", metavar="HEIGHT", help="Underside of the joists above the floor.")
@click.option("--height", metavar="HEIGHT", help="Finished ceiling above the floor.")
@click.option("--joists", metavar="SPACING", help="Centre to centre; `none` where there are no regular joists.")
@click.option("--joist-direction", metavar="WAY", help="`across` (square to the base wall) or `along` it.")
@click.option("--first-joist", metavar="LENGTH", help="From corner A to the centre of the first joist.")
@click.option("--system", help="Kind of grid; `planner systems` lists them.", shell_complete=completing.systems)
@click.option("--module", nargs=2, metavar="ALONG AWAY", help="Panel module: along the base wall, away from it.")
@click.option(
    "--light",
    "services",
    nargs=3,
    multiple=True,
    metavar="KIND SIZE PLACE",
    help="A light, vent or the like; may be repeated. SIZE `-` where it has none; PLACE as `6', 4'` or `spread 3 x 2`.",
)
@click.option("--kerf", metavar="LENGTH", help="Width of the saw's cut.")
@click.option("--spare", metavar="SHARE", help="Bought beyond need, as 5%.")
@click.option("--overwrite", is_flag=True, help="Write over a room file that is there already, without asking.")
@click.option("--no-schema", is_flag=True, help="Write no room.schema.json (for editors) beside the room file.")
@click.option("--plain", is_flag=True, help="Draw the room in plain characters, without braille dots.")
@common.JSON
def start(
    file: Path | None,
    out: Path | None,
    rectangle: tuple[str, str] | None,
    module: tuple[str, str] | None,
    services: tuple[tuple[str, str, str], ...],
    overwrite: bool,
    no_schema: bool,
    plain: bool,
    as_json: bool,
    **single: str | None,
) -> None:
    """Ask for a room as one would on site; write its room file, with a comment beside every key; check it.

    Lengths are taken as the tape shows them: 18' 7", 18ft 7-1/2in, 223 1/2", 5.68 m, 5680 mm. An empty line takes the
    answer in [brackets]. At any question: ? explains it, back goes to the one before, undo takes back a step, said
    lists the answers, go N goes to one of them, draw shows the room, rest takes the usual answers for all that is
    left, later leaves.

    Every answer is kept at once in FILE.draft. Leave with later, Ctrl-D or Ctrl-C; the same command goes on there.

    With --rectangle and --out nothing is asked: what no option says takes its usual value. Other options answer their
    question beforehand. When the input is no terminal, answers are read from it, one a line.

    \b
    Examples:
      planner start
      planner start kiln-room.yaml
      planner start --rectangle "18' 7\\"" "11' 4\\"" --out kiln-room.yaml
      planner start --rectangle 18ft7in 11ft4in --height 7ft9in --out kiln-room.yaml
      planner start --rectangle 5.68m 3.45m --joists 400mm --first-joist 230mm \\
          --light troffer 600x600 "spread 2 x 2" --out office.yaml
      planner start kiln-room.yaml < answers.txt

    \b
    Exit codes:
      0  the room file is written, and all is well
      1  it is written, but a finding says stop
      2  it is not written (the answers are kept), or cannot be planned as it is
    """
    if file is not None and out is not None:
        raise click.UsageError("Name the room file once: as FILE, or with --out.")
    told = _told(single, rectangle, module, services)
    at_once = out is not None and rectangle is not None
    if as_json and not at_once:
        raise click.UsageError("--json goes with --rectangle and --out, where nothing is asked.")
    desk = Desk(out or file, told, overwrite=overwrite, with_schema=not no_schema, plain=plain, as_json=as_json)
    if at_once:
        desk.write_at_once()
    else:
        desk.ask()


def _told(
    single: dict[str, str | None],
    rectangle: tuple[str, str] | None,
    module: tuple[str, str] | None,
    services: tuple[tuple[str, str, str], ...],
) -> Told:
    """What the options say, as answers by the key of their question, each with its option."""
    found: dict[str, tuple[str, str | None]] = {
        "job": ("--name", single["name"]),
        "units": ("--units", single["units"] or (_units_of(rectangle) if rectangle else None)),
        "underside": ("--underside", single["underside"]),
        "height": ("--height", single["height"]),
        "joist direction": ("--joist-direction", single["joist_direction"]),
        "joist first": ("--first-joist", single["first_joist"]),
        "system": ("--system", single["system"]),
        "module": ("--module", ", ".join(module) if module else None),
        "kerf": ("--kerf", single["kerf"]),
        "spare": ("--spare", single["spare"]),
    }
    if rectangle is not None:
        sides = (("shape", "rectangle"), ("length", rectangle[0]), ("width", rectangle[1]))
        found |= {key: ("--rectangle", text) for key, text in sides}
    if (joists := single["joists"]) is not None:
        some = joists.lower() not in ("none", "no")
        found |= {"joists": ("--joists", "yes" if some else "no")}
        found |= {"joist spacing": ("--joists", joists)} if some else {}
    for number, (kind, size, place) in enumerate(services, 1):
        answers = ((f"service {number}", kind), (f"service {number} size", size), (f"service {number} where", place))
        found |= {key: ("--light", text) for key, text in answers if text != "-"}
    return {key: (option, text) for key, (option, text) in found.items() if text is not None}


def _units_of(lengths: tuple[str, str]) -> str | None:
    """The units that lengths are written in; None when they have none."""
    for text in lengths:
        if re.search(r"['\"′″]|ft|in", text):
            return "ft-in"
        if unit := re.search(r"(mm|cm|m)\s*$", text):
            return unit[1]
    return None
