"""The page in another language: no word on it, shown or read aloud, that does not come from the table."""

import json
import re
from collections.abc import Iterator
from pathlib import Path

import html5lib
import pytest
from drawing.strange_words import LANGUAGE, SAME, given, latin, write_strange_table
from page.shown_rooms import FIXTURES, shown_fixture

from planner.drawing.papers import paper_names
from planner.page.page import Live, live_html, page_html

#: A hung ceiling in feet, one with many services, one of strips and screws, one with wall wires, one taped, one of all.
ROOMS = ("kiln-room", "clinic", "workshop-low", "seismic-lab", "shop-l-taped", "reference")
STATIC = Path(__file__).parents[2] / "planner" / "page" / "static"
_ALOUD = ("aria-label", "title", "alt", "placeholder")
#: What the program fills in.
_FIELDS = {"seconds", "sheet"}


@pytest.fixture(scope="module")
def strange_table(tmp_path_factory: pytest.TempPathFactory) -> str:
    return str(write_strange_table(tmp_path_factory.mktemp("words")))


def _read(page: bytes):
    return html5lib.HTMLParser(namespaceHTMLElements=False).parse(page.decode())


def _said(element) -> Iterator[str]:
    """What a reader sees or hears; what is marked as English, and names that nobody translates, is passed over."""
    if not isinstance(element.tag, str) or element.tag in ("script", "style"):
        return
    if element.get("lang", LANGUAGE) != LANGUAGE or element.get("translate") == "no":
        return
    yield from (element.get(name) or "" for name in _ALOUD)
    yield element.text or ""
    for inner in element:
        yield from _said(inner)
        yield inner.tail or ""


def _shown_by_program(page) -> Iterator[str]:
    """What the page's program will put on it."""
    data = json.loads(next(each for each in page.iter("script") if each.get("id") == "data").text)
    yield from data["words"].values()
    yield from (layer["label"] for layer in data["layers"])
    yield from (sheet["title"] for sheet in data["sheets"])
    for part in (*data["parts"], *([data["whole"]] if "whole" in data else [])):
        yield from (part["title"], part["why"], part.get("big", ""))
        yield from (text for fact in part["facts"] for text in fact)


@pytest.mark.parametrize("name", ROOMS)
def test_every_word_of_the_page_comes_from_the_table(name: str, strange_table: str):
    room = FIXTURES / f"{name}.yaml"
    page = _read(page_html(shown_fixture(room.name, strange_table)))
    own = latin(given(room))  # names that the user gave stay as they are
    own |= {f"w{word}" for word in own} | {word for paper in paper_names() for word in latin(paper)} | SAME
    texts = (*_said(page), *_shown_by_program(page))
    assert {word: text for text in texts for word in latin(text) - own - _FIELDS} == {}
    assert page.get("lang") == LANGUAGE


def test_the_live_page_speaks_it_before_there_is_a_plan_too(strange_table: str):
    page = _read(live_html("7", None, Live("/news", rooms=("1", "2")), strange_table))
    texts = (*_said(page), *_shown_by_program(page))
    assert {word for text in texts for word in latin(text)} <= _FIELDS
    assert page.get("lang") == LANGUAGE


def test_no_sentence_is_written_in_the_program_itself():
    """A text with a capital letter and a blank, or with dots behind it, is one."""
    code = "\n".join(re.sub(r"//.*", "", path.read_text("utf-8")) for path in sorted(STATIC.glob("*.js")))
    texts = [text for pair in re.findall(r'"([^"\n]*)"|`([^`]*)`', code) for text in pair if text]
    assert texts
    assert [text for text in texts if re.search(r"[A-Z][a-z]+ [a-z]|[a-z]…", text)] == []


def test_a_spanish_page_is_spanish_and_says_that_reasons_are_english():
    page = page_html(shown_fixture("kiln-room.yaml", "es")).decode()
    assert '<html lang="es"' in page
    for word in (
        "Observaciones",
        "Orden de trabajo",
        "Perfil principal M1",
        "Cortar a",
        "Ver en el plano",
        "en inglés",
    ):
        assert word in page
    for word in ("Findings", "Main tee M1", "Cut to", "Show in the drawing"):
        assert word not in page
