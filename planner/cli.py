"""The door: finds the command, and turns a PlannerError into a message and an exit code. No arithmetic here.

Exit codes: 0 all well; 1 planned, but a finding says stop; 2 something in the input must be mended first.
"""

import atexit
import gc
import sys
from importlib import import_module
from io import TextIOWrapper
from pathlib import Path
from typing import Any

import click

from planner import __version__
from planner.errors import PlannerError, printable

_CARE = (
    "A plan is a reminder, not a permit: local codes and licensed people have the last word, "
    "above all on wiring, fire-rated and seismic ceilings, and on anything that may hold asbestos."
)

#: Every command in the order in which a job is done; each lives in the module of its name in planner/commands.
COMMANDS = (
    "start",
    "watch",
    "plan",
    "check",
    "options",
    "takeoff",
    "explain",
    "compare",
    "template",
    "systems",
    "styles",
    "schema",
)


#: New objects before Python looks for rings among them. A plan is many thousand small objects and no rings: the usual
#: 700 spend a tenth of a run on looking, and so would the last look at all that a command still holds when it ends.
_BEFORE_SWEEPING = 1_000_000
atexit.register(gc.freeze)


class _Refusal(click.ClickException):
    """Shows a PlannerError as it stands and exits with 2."""

    exit_code = 2

    def show(self, file: Any = None) -> None:
        lines = self.message.split("\n")
        click.echo("\n".join(map(printable, lines)), file=file or sys.stderr)


def _refuse_swallowed(command: click.Command, args: list[str], ctx: click.Context) -> None:
    """Complain of an option that lacks a value and would take the next option for it."""
    options = [param for param in command.params if isinstance(param, click.Option)]
    counts = {name: 0 if param.is_flag or param.count else param.nargs for param in options for name in param.opts}
    place = 0
    while place < len(args) and args[place] != "--":
        needed = counts.get(args[place], 0)
        taken = args[place + 1 : place + 1 + needed]
        if swallowed := next((arg for arg in taken if arg in counts), ""):
            wants = "a value" if needed == 1 else f"{needed} values"
            hint = next(param.make_metavar(ctx) for param in options if args[place] in param.opts)
            raise click.UsageError(
                f"{args[place]} wants {wants}, and {swallowed} follows. Write {args[place]} {hint}.", ctx
            )
        place += 1 + needed


class _Door(click.Group):
    """The one place where a PlannerError becomes a message and an exit code."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = getattr(import_module(f"planner.commands.{cmd_name}"), cmd_name)
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        name, command, rest = super().resolve_command(ctx, args)
        if command is not None and not ctx.resilient_parsing:  # as it is while the shell completes a line
            _refuse_swallowed(command, rest, click.Context(command, ctx, name))
        return name, command, rest

    def main(self, *args: Any, **extra: Any) -> Any:
        for stream in (sys.stdout, sys.stderr):
            if isinstance(stream, TextIOWrapper):  # what a terminal's letters lack is shown as its number
                stream.reconfigure(errors="backslashreplace")
        return super().main(*args, **extra)

    def invoke(self, ctx: click.Context) -> Any:
        gc.set_threshold(_BEFORE_SWEEPING)
        try:
            return super().invoke(ctx)
        except PlannerError as error:
            raise _Refusal(str(error)) from error


@click.group(cls=_Door, epilog=_CARE, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="planner")
@click.option(
    "--reach",
    type=click.Path(path_type=Path, exists=True, file_okay=False),
    help="Folder below which files that a room file names may lie. [default: the room file's own]",
)
@click.option(
    "--limits",
    metavar="NAME=NUMBER,...",
    help="Take larger files and jobs than usual, e.g. services=5000,pages=800; `planner schema --limits` lists them.",
)
def main(reach: Path | None, limits: str | None) -> None:
    """Plan a grid ceiling from a room file: layout, framing, what to buy, drawings at true scale.

    Begin with `planner start`, which asks for a room as one would on site; or write a room file (`planner schema
    --guide` explains every key) and `planner plan ROOM.yaml`.

    \b
    Exit codes of every command:
      0  all well
      1  it was planned, but a finding says stop
      2  something must be mended first; the message says where and how

    \b
    Names of files, kinds of grid and styles complete in the shell after
      eval "$(_PLANNER_COMPLETE=bash_source planner)"            in bash
      eval "$(_PLANNER_COMPLETE=zsh_source planner)"             in zsh
      _PLANNER_COMPLETE=fish_source planner | source             in fish

    Colour and signs of progress are for terminals alone; NO_COLOR keeps colour away.
    """
