"""`planner watch`: a page on this machine that shows the plan and renews itself when the room file is saved."""

import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import click

from planner.commands import common

if TYPE_CHECKING:
    from planner.documents import Document
    from planner.drawing.wish import SheetWish
    from planner.page.desk import Desk, Room


@click.command(short_help="Show the plan on a page that renews itself on every save.", epilog=common.SHOWN)
@common.ROOM
@click.option("--port", type=click.IntRange(1, 65535), default=None, help="Port of the page. [default: a free one]")
@click.option("--open/--no-open", "opens", default=None, help="Open the page in the browser. [default: on a desktop]")
@click.option("--poll", is_flag=True, help="Look at the files several times a second: for network drives.")
@common.STYLE
@common.PAPER
@common.PORTRAIT
@common.LANGUAGE
@common.DUAL
def watch(
    room: Path,
    port: int | None,
    opens: bool | None,
    poll: bool,
    style: str | None,
    paper: str | None,
    portrait: bool,
    language: str,
    dual: bool,
) -> None:
    """Show ROOM on a page that renews itself whenever the file is saved. Ctrl-C ends it.

    The page is for this machine only. What is wrong in the file is shown with its line, beside the last good plan.

    \b
    Examples:
      planner watch kiln-room.yaml
      planner watch mill/building.yaml --port 9000 --no-open
    """
    from planner.documents import read_document
    from planner.drawing.wish import SheetWish
    from planner.page.desk import Desk, Wanted

    limits, reach = common.limits(), common.reach()  # asked here: the planning runs in a thread of its own
    read_document(room, limits=limits)  # a name that means nothing is said here, not on the page
    wish = SheetWish(paper, portrait, language=common.known_language(language), dual=dual, most_pages=limits.pages)
    also = tuple(name for name in (style, language) if name and name.endswith((".yaml", ".yml")))

    def drawn(document: "Document") -> "tuple[Room, ...]":
        return _drawn(document, style, wish, reach)

    wanted = Wanted(room, drawn, os.fspath(reach), also, limits, language)
    _run(Desk(wanted), port, _opens_by_itself() if opens is None else opens, poll)


def _drawn(document: "Document", style: str | None, wish: "SheetWish", reach: Path | str) -> "tuple[Room, ...]":
    """Every room of a file, planned and drawn."""
    from planner.drawing.sheets import draw
    from planner.drawing.stylebook import load_style
    from planner.page.contents import Beside, Shown
    from planner.page.desk import Room
    from planner.page.together import building_of

    made = common.building(document)
    building = building_of(made) if made else None
    plans = zip(made.briefs, made.plans, strict=True) if made else (common.briefed(document),)
    rooms = []
    for brief, plan in plans:
        chosen = load_style(style or common.style_for(plan), Path.cwd(), reach)
        shown = Shown(plan, draw(plan, chosen, wish), chosen, wish, Beside(brief, building))
        rooms.append(Room(plan.room.name, shown))
    return tuple(rooms)


def _run(desk: "Desk", port: int | None, opens: bool, poll: bool) -> None:
    import threading

    from planner.page.server import free_socket, serve
    from planner.page.watcher import watch_files

    closing = threading.Event()
    with free_socket(port) as listening:
        address = f"http://127.0.0.1:{listening.getsockname()[1]}/"
        desk.listen(_Teller(desk))
        watcher = threading.Thread(
            target=watch_files, args=(lambda: desk.files, desk.renew, closing, poll), name="watcher", daemon=True
        )
        watcher.start()
        try:
            serve(desk, listening, _greeting(desk, address, opens), closing)
        finally:
            closing.set()
    click.echo("Stopped.")


def _greeting(desk: "Desk", address: str, opens: bool) -> Callable[[], None]:
    def greet() -> None:
        click.echo(f"{desk.wanted.file} is shown at {address}   (Ctrl-C ends it)")
        if opens:
            click.launch(address)

    return greet


class _Teller:
    """A line on the terminal for every plan and every fault; nothing where nobody reads along."""

    def __init__(self, desk: "Desk") -> None:
        self._desk = desk

    def __call__(self) -> None:
        from planner.errors import printable

        news = self._desk.news
        if news.state == "busy" or not sys.stdout.isatty():
            return
        if news.trouble:
            first = news.trouble[0]
            place = f"line {first.line}: " if first.line else ""
            click.echo(f"Not planned: {place}{printable(first.problem)}")
        else:
            click.echo(f"Planned in {news.seconds} s.")


def _opens_by_itself() -> bool:
    """On a desktop, and where somebody sits at the terminal; a browser that lives in the terminal is nobody's wish."""
    desktop = sys.platform in ("darwin", "win32") or bool(
        os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY")
    )
    return desktop and sys.stdout.isatty()
