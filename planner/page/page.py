"""The page: every sheet and list of a plan in one HTML file that needs nothing else.

In: a `Plan`, its sheets, a style. Out: the bytes of the page, the same for the same input. Rule: nothing in it comes
from elsewhere and nothing goes elsewhere. A Content Security Policy (W3C, level 3) allows no other program and no other
style than its own, by their SHA-256; `page.html` may not connect to anything, the live page only to where it came from.
"""

import base64
import hashlib
from functools import cache
from importlib.resources import files

from planner.drawing import words
from planner.page.contents import Shown, data_of, drawings, pane, said_by_screen_readers
from planner.page.markup import Html, data_block, element
from planner.page.parts import parts_of
from planner.records import dataclass

#: The program in the order of its parts: each uses what stands before it.
_PROGRAM = ("ground.js", "view.js", "picking.js", "details.js", "layers.js", "tabs.js", "live.js", "start.js")
_ICON = (
    "data:image/svg+xml,%3Csvg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 16 16'%3E%3Cpath d='M1 1h14v14H1zM1 5h14"
    "M1 11h14M5 1v14M11 1v14' fill='none' stroke='%231f5f8b' stroke-width='1.4'/%3E%3C/svg%3E"
)


@dataclass(frozen=True, slots=True)
class Live:
    """Where the live page hears news, and where it is among the rooms of a building."""

    news: str  #: address, from the page's own root
    version: int = 0  #: of what is shown
    rooms: tuple[str, ...] = ()  #: names; empty for a single room
    room: int = 0  #: the one that is shown, counted from 0


def page_html(shown: Shown) -> bytes:
    """The page as one file, to mail or to take up the ladder."""
    with words.speaking(shown.plan.room, shown.wish):
        return _page(shown.plan.room.name, shown, None)


def live_html(title: str, shown: Shown | None, live: Live, language: str = "") -> bytes:
    """The page that renews itself; before there is any plan it shows the heading only, in `language`."""
    if shown is None:
        with words.speaking_language(language):
            return _page(title, None, live)
    with words.speaking(shown.plan.room, shown.wish):
        return _page(title, shown, live)


def _page(title: str, shown: Shown | None, live: Live | None) -> bytes:
    style = _static("page.css")
    program = _program()
    policy = "; ".join(
        (
            "default-src 'none'",
            f"script-src '{_hash(program)}'",
            f"style-src '{_hash(style)}'",
            "img-src data:",
            "connect-src 'self'" if live else "connect-src 'none'",
            "base-uri 'none'",
            "form-action 'none'",
        )
    )
    head = element(
        "head",
        element("meta", charset="utf-8"),
        element("meta", http_equiv="Content-Security-Policy", content=policy),
        element("meta", name="viewport", content="width=device-width, initial-scale=1, viewport-fit=cover"),
        element("meta", name="color-scheme", content="light dark"),
        element("title", words.say("page.title", name=title)),
        element("link", rel="icon", href=_ICON),
        element("style", Html(style)),
    )
    parts = parts_of(shown.plan) if shown else ()
    body = element(
        "body",
        _header(title, live),
        element("div", id="trouble", role="alert", hidden=True),
        element("main", drawings(shown), pane(shown, parts), said_by_screen_readers(), id="plan"),
        data_block("data", data_of(shown, parts) | {"version": live.version if live else 0}),
        element("script", Html(program)),
    )
    whole = element("html", head, body, lang=words.language(), data_news=live.news if live else None)
    return f"<!DOCTYPE html>\n{whole}\n".encode()


def _header(title: str, live: Live | None) -> Html:
    rooms = _rooms(live) if live else None
    return element(
        "header",
        element("h1", title, id="job"),
        rooms,
        element("p", id="news", role="status") if live else None,
        element("button", words.say("page.told dark"), type="button", id="theme"),
        class_="bar",
    )


def _rooms(live: Live) -> Html:
    """Links to the rooms of a building; empty where there is one room only."""
    links = (
        element("a", name, href=f"/room/{k + 1}", aria_current="page" if k == live.room else None)
        for k, name in enumerate(live.rooms)
    )
    return element("nav", *links, aria_label=words.say("page.rooms"), id="rooms")


@cache
def _program() -> str:
    parts = "\n".join(_static(name) for name in _PROGRAM)
    return f'"use strict";\n(() => {{\n{parts}\n}})();\n'


@cache
def _static(name: str) -> str:
    return (files("planner.page") / "static" / name).read_text("utf-8")


def _hash(text: str) -> str:
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
