"""`planner explain`: how any number of a plan came to be."""

from pathlib import Path

import click

from planner.commands import common
from planner.commands.terminal import working


@click.command(short_help="Say how a number of the plan came to be.", epilog=common.SHOWN)
@common.ROOM
@click.argument("name", nargs=-1)
@common.JSON
def explain(room: Path, name: tuple[str, ...], as_json: bool) -> None:
    """Say how a number of the plan of ROOM came to be, step by step, with rules and sources.

    NAME is a wall, a column, a panel, a member, a hanger, a service, an item of the take-off, a rule of a finding, or
    one of borders, mains, loads, cost. Without it, what can be asked is listed.

    \b
    Examples:
      planner explain kiln-room.yaml
      planner explain kiln-room.yaml A-B
      planner explain kiln-room.yaml cross tee 2 ft
      planner explain kiln-room.yaml M1 --json
    """
    from planner.errors import printable
    from planner.explain import Job, named_alike, topics
    from planner.explain import explain as make_explanation
    from planner.explain.telling import explanation_record, explanation_text, topics_record, topics_text

    job = Job(*common.briefed(common.read(room)))
    asked = " ".join(name)
    if not asked:
        found = topics(job)
        if as_json:
            common.show_json(topics_record(job.room.name, found))
        else:
            click.echo(topics_text(job.room.name, found))
        return
    with working("Going back over it"):
        answers = make_explanation(job, asked)
    if as_json:
        common.show_json(explanation_record(job.room.name, asked, answers))
    else:
        click.echo("\n".join((explanation_text(answers), *map(printable, named_alike(job, asked)))))
