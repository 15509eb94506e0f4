"""Where a room is asked for: the terminal, the draft beside the room file, and the room file itself.

The questions, and what becomes of answers, are the business of planner.asking; here they are shown, read and kept.
"""

import re
import shutil
import sys
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

from planner.commands import common
from planner.commands.terminal import coloured, shows_braille, working, wrapped
from planner.errors import OutputError, PlannerError

if TYPE_CHECKING:
    from planner.asking.talk import Asked, Reply, Talk

Told = dict[str, tuple[str, str]]  #: answers given beforehand, by question: (option, answer)

_WELCOME = (
    "Answer as on a clipboard; an empty line takes what stands in [brackets].\n"
    "? explains a question, back goes to the one before, later leaves; every answer is kept at once."
)
_WIDEST_PICTURE, _PICTURE_ROWS = 64, 14
_COLOURS = {"understood": "green", "refused": "red", "doubted": "yellow"}


class Desk:
    """One room being asked for."""

    def __init__(
        self, target: Path | None, told: Told, *, overwrite: bool, with_schema: bool, plain: bool, as_json: bool = False
    ) -> None:
        self._target = target
        self._told = told
        self._overwrite = overwrite
        self._with_schema = with_schema
        self._plain = plain
        self._as_json = as_json
        self._terminal = sys.stdin.isatty()
        if target is not None:
            _check_name(target)

    # Without questions

    def write_at_once(self) -> NoReturn:
        """Write the room file from what the options say, and usual answers for the rest."""
        from planner.asking.talk import Talk, asked, said

        assert self._target is not None  # --out is what brings one here
        if self._target.exists() and not self._overwrite:
            mend = "Add --overwrite, or choose another name."
            raise OutputError("this file is there already", where=str(self._target), mend=mend)
        self._told = {"job": ("--out", _title_of(self._target)), **self._told}
        talk = Talk()
        while (now := asked(talk)) is not None:
            option, text = self._told.pop(now.question.key, ("", now.usual))
            if now.question.last:
                self._refuse_unused()
            talk, reply = said(talk, text)
            if reply.tone == "doubted":
                click.echo(f"note: {' '.join(reply.lines[:1])}", err=True)
                talk, reply = said(talk, "yes")
            if reply.tone == "refused":
                _refuse(now, reply, option)
        self._write(talk)

    def _refuse_unused(self) -> None:
        for option, text in self._told.values():
            raise PlannerError(f'"{text}" goes with nothing that is asked.', where=option, mend="Leave it out.")

    # With questions

    def ask(self) -> NoReturn:
        """Ask until all is answered, or the person leaves."""
        from planner.asking.talk import asked, said

        talk = self._begin()
        now = asked(talk)
        try:
            while (now := asked(talk)) is not None:
                option, told = self._told.pop(now.question.key, ("", ""))
                self._put(now)
                line = told or self._line()
                if told:
                    click.echo(f"> {told}")
                talk, reply = said(talk, line)
                if told and reply.tone == "refused":
                    _refuse(now, reply, option)
                talk = self._keep(self._placed(talk))
                self._show(reply, talk)
                if reply.leave:
                    raise EOFError
        except (KeyboardInterrupt, EOFError):
            self._leave(talk, now)
        self._write(talk)

    def _begin(self) -> "Talk":
        """A new talk, or the one that was left."""
        from planner.asking.talk import Talk

        if self._target is None:
            click.echo(_WELCOME)
            self._name_drafts()
            return Talk()
        _check_folder(self._target)
        if (talk := self._left_before()) is not None:
            return replace(talk, given={key: text for key, text in talk.given.items() if key not in self._told})
        click.echo(_WELCOME)
        if self._target.exists() and not self._overwrite:
            click.echo(f"{self._target} is there already; it is written over only if you say so at the end.")
        return Talk()

    def _name_drafts(self) -> None:
        from planner.asking.draft import ENDING

        for draft in sorted(Path().glob(f"*.yaml{ENDING}")):
            name = str(draft).removesuffix(ENDING)
            click.echo(f"{draft} is here: planner start {name} goes on with it.")

    def _left_before(self) -> "Talk | None":
        """The talk that was left about this file, if there is one."""
        from planner.asking.draft import talk_of

        draft = self._draft
        if draft is None or not draft.exists():
            return None
        try:
            text = draft.read_text(encoding="utf-8")
        except (OSError, UnicodeDecodeError) as error:
            mend = "Move it away to begin anew, or name another file."
            raise PlannerError("the draft cannot be read.", where=str(draft), mend=mend) from error
        talk = talk_of(text, str(draft))
        click.echo(f"Going on with {draft}: {len(talk.given)} answers so far; said lists them.")
        self._draw(talk)
        return talk

    @property
    def _draft(self) -> Path | None:
        from planner.asking.draft import ENDING

        return None if self._target is None else self._target.with_name(self._target.name + ENDING)

    def _placed(self, talk: "Talk") -> "Talk":
        """Name the room file after the job, once there is one; go on with a draft that bears the name."""
        if self._target is not None or "job" not in talk.given:
            return talk
        self._target = Path(f"{_slug(talk.given['job'])}.yaml")
        _check_folder(self._target)
        earlier = self._left_before()
        if earlier is not None:
            return earlier
        click.echo(f"The room file will be {self._target}; until then the answers are kept in {self._draft}.")
        if self._target.exists():
            click.echo("There is one already; it is written over only if you say so at the end.")
        return talk

    def _keep(self, talk: "Talk") -> "Talk":
        from planner.asking.draft import draft_text
        from planner.export import write_folder

        if self._draft is not None and talk.given:
            write_folder(self._draft.parent, {self._draft.name: draft_text(talk).encode()}, "FILE")
        return talk

    def _leave(self, talk: "Talk", now: "Asked | None") -> NoReturn:
        """Say where the answers are, and how to go on."""
        click.echo()
        if self._draft is not None and self._draft.exists():
            click.echo(f"{len(talk.given)} answers are kept in {self._draft}.")
            click.echo(f"Go on with: planner start {_shell(self._target)}")
        if not self._terminal and now is not None:
            click.echo(f"The answers end at question {now.number}: {now.question.ask}", err=True)
        sys.exit(common.REFUSED)

    # The terminal

    def _put(self, now: "Asked") -> None:
        """Show a question."""
        click.echo()
        for row in wrapped(now.remark.split("\n") if now.remark else ()):
            click.echo(coloured(row, fg="yellow"))
        usual = f" [{now.usual}]" if now.usual else ""
        click.echo(f"{coloured(f'{now.number}. {now.question.ask}', bold=True)}{usual}")

    def _line(self) -> str:
        """One line from the person, or from a file; EOFError at the end."""
        if self._terminal:
            with suppress(ImportError):  # not on every system
                import readline  # noqa: F401  # lets a line be edited
            return input("> ")
        line = sys.stdin.readline()
        if not line:
            raise EOFError
        click.echo(f"> {line.rstrip()}")
        return line

    def _show(self, reply: "Reply", talk: "Talk") -> None:
        for row in wrapped(reply.lines):
            click.echo(coloured(f"  {row}", fg=_COLOURS.get(reply.tone)))
        if reply.picture:
            self._draw(talk, wanted=reply.tone == "told")

    def _draw(self, talk: "Talk", *, wanted: bool = False) -> None:
        """Show the room so far, if it has a shape; before it is taped only once, or when that is wanted."""
        from planner.asking.picture import picture
        from planner.asking.showing import begun, key_of, view_of
        from planner.asking.sketch import sketch_of

        view = view_of(talk.given)
        if view is None and (wanted or not begun(talk.given)) and (view := sketch_of(talk.given)):
            click.echo("  The corners as you told them; lengths are made up:")
        if view is None:
            return
        width = min(shutil.get_terminal_size().columns - 2, _WIDEST_PICTURE)
        for row in picture(view, width, _PICTURE_ROWS, fine=not self._plain and shows_braille()):
            click.echo(f"  {row}")
        if marks := key_of(talk.given):
            click.echo(f"  {marks}")

    # The room file

    def _write(self, talk: "Talk") -> NoReturn:
        """Write the room file, check it, and say what to do next."""
        from planner.asking.writing import SCHEMA_FILE, file_text
        from planner.export import write_folder

        target = self._free_target(talk)
        schema = _schema_beside(target) if self._with_schema else {}
        text = file_text(talk.given, SCHEMA_FILE if schema is not None and self._with_schema else None)
        write_folder(target.parent, {**(schema or {}), target.name: text.encode()}, "--out")
        if self._draft is not None:
            self._draft.unlink(missing_ok=True)
        click.echo(f"\nWritten: {target}\n", err=self._as_json)
        with working("Planning"):
            made = common.planned(common.read(target))
        named = _shell(target)
        further = f"to see the plan while you change the file: planner watch {named}"
        common.show_plan(made, self._as_json, f"\nNext: planner plan {named}\n      or, {further}")
        common.leave(made)

    def _free_target(self, talk: "Talk") -> Path:
        """The file to write; another, or a yes, when it is there already."""
        assert self._target is not None  # the job was answered, and it names the file
        while self._target.exists() and not self._overwrite:
            click.echo(f"\n{self._target} is there already. Write over it? yes, no, or another name [no]")
            try:
                answer = self._line().strip()
            except (KeyboardInterrupt, EOFError):
                self._leave(talk, None)
            if answer.lower() in ("yes", "y"):
                break
            if answer.lower() in ("", "no", "n"):
                self._leave(talk, None)
            self._renamed(answer, talk)
        return self._target

    def _renamed(self, name: str, talk: "Talk") -> None:
        other = Path(name if name.endswith((".yaml", ".yml")) else f"{name}.yaml")
        try:
            _check_name(other)
        except PlannerError as error:
            click.echo(str(error))
            return
        if self._draft is not None:
            self._draft.unlink(missing_ok=True)
        self._target = other
        self._keep(talk)


def _check_folder(target: Path) -> None:
    """Refuse a folder that cannot be written to before the first question."""
    from planner.export import check_folder

    check_folder(target.parent, "FILE")


def _check_name(target: Path) -> None:
    if target.suffix.lower() not in (".yaml", ".yml") or target.is_dir():
        mend = f"Write {target.with_suffix('.yaml') if target.name else 'NAME.yaml'}."
        raise PlannerError("this is no name for a room file.", where=str(target), mend=mend)
    _check_folder(target)


def _refuse(now: "Asked", reply: "Reply", option: str) -> NoReturn:
    problem, *mend = reply.lines
    asked = f"The question was: {now.question.ask}"
    raise PlannerError(problem, where=option or now.question.key, mend=" ".join((*mend, asked)))


def _schema_beside(target: Path) -> dict[str, bytes] | None:
    """The schema for editors; None where another file has its place."""
    import json

    from planner.asking.writing import SCHEMA_FILE
    from planner.files import json_text
    from planner.room.schema import room_schema

    schema, place = room_schema(), target.with_name(SCHEMA_FILE)
    if place.exists():
        try:
            there = json.loads(place.read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return None
        if not isinstance(there, dict) or there.get("title") != schema["title"]:
            return None
    return {SCHEMA_FILE: json_text(schema).encode()}


def _slug(job: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", job.lower()).strip("-")[:60] or "room"


def _title_of(target: Path) -> str:
    words = re.sub(r"[-_]+", " ", target.stem).strip()
    return words[:1].upper() + words[1:] or "Room"


def _shell(path: Path | None) -> str:
    import shlex

    return shlex.quote(str(path))
