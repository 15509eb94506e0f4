"""`planner compare`: what changed between two plans."""

import sys
from pathlib import Path

import click

from planner.commands import common
from planner.commands.terminal import working

_EXITS = (
    "Exit codes: 0 nothing changed; 1 something did; 2 something must be mended first, and the message says where and "
    "how."
)


@click.command(short_help="Say what changed between two rooms or plans.", epilog=_EXITS)
@click.argument("old", type=click.Path(path_type=Path))
@click.argument("new", type=click.Path(path_type=Path))
@common.JSON
def compare(old: Path, new: Path, as_json: bool) -> None:
    """Say what changed from OLD to NEW, each a room file or a plan.json: layout, panels, pieces, order, cost, findings.

    Ends with 0 when nothing changed, with 1 when something did, with 2 when a file cannot be compared.

    \b
    Examples:
      planner compare kiln-room.yaml kiln-room-wider.yaml
      planner compare kiln-room-plan/plan.json kiln-room.yaml
    """
    from planner.compare import compare as make_comparison
    from planner.compare import record_in
    from planner.compare.telling import comparison_record, comparison_text

    with working("Planning what is to be compared"):
        made = make_comparison(*(record_in(each, common.reach(), common.limits()) for each in (old, new)))
    names = (str(old), str(new))
    if as_json:
        common.show_json(comparison_record(made, names))
    else:
        click.echo(comparison_text(made, names))
    sys.exit(common.WELL if made.same else common.STOPS)
