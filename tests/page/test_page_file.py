"""page.html: one file that needs nothing else, says nothing to anybody, and holds every sheet and list."""

import base64
import hashlib
import json
import re
from html.parser import HTMLParser

import html5lib
import pytest
from click.testing import CliRunner
from page.shown_rooms import FIXTURES, NASTY, room_text, shown, shown_fixture

from planner.cli import main
from planner.page.page import Live, live_html, page_html
from planner.page.parts import parts_of


class _Reader(HTMLParser):
    """What a browser would load, run or be told."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.inside: dict[str, list[str]] = {"script": [], "style": []}
        self._open = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag in self.inside:
            self.inside[tag].append("")
            self._open = tag

    def handle_endtag(self, tag: str) -> None:
        self._open = ""

    def handle_data(self, data: str) -> None:
        if self._open:
            self.inside[self._open][-1] += data

    @property
    def policy(self) -> str:
        found = [a["content"] for t, a in self.tags if t == "meta" and a.get("http-equiv") == "Content-Security-Policy"]
        assert len(found) == 1 and found[0]
        return found[0]

    @property
    def data(self) -> dict:
        return json.loads(self.inside["script"][0])


def _digest(text: str) -> str:
    return "'sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode() + "'"


@pytest.fixture(scope="module")
def clinic() -> _Reader:
    return _Reader(page_html(shown_fixture("clinic.yaml")).decode())


def test_it_is_html_without_an_error_for_a_strict_parser():
    text = page_html(shown_fixture("kiln-room.yaml")).decode()
    parser = html5lib.HTMLParser()
    parser.parse(text)
    assert parser.errors == []


def test_nothing_in_it_has_an_address_elsewhere(clinic):
    for tag, attributes in clinic.tags:
        for name, value in attributes.items():
            if name in ("src", "href", "xlink:href", "action", "data", "poster", "srcset", "style") or name[:2] == "on":
                assert name == "href" and tag == "link" and (value or "").startswith("data:image/svg+xml,"), (tag, name)
    assert "@import" not in clinic.inside["style"][0]
    assert "url(" not in clinic.inside["style"][0]


def test_the_policy_allows_its_own_program_and_style_and_no_others(clinic):
    data, program = clinic.inside["script"]
    (style,) = clinic.inside["style"]
    assert data.startswith("{")
    rules = dict(rule.split(" ", 1) for rule in clinic.policy.split("; "))
    assert rules["default-src"] == "'none'"
    assert rules["script-src"] == _digest(program)
    assert rules["style-src"] == _digest(style)
    assert rules["connect-src"] == "'none'"


def test_the_live_page_may_only_hear_from_where_it_came():
    page = _Reader(live_html("Kiln", shown_fixture("kiln-room.yaml"), Live("/news", 3)).decode())
    assert "connect-src 'self'" in page.policy
    assert page.data["version"] == 3


def test_every_sheet_is_there_with_a_tab_and_ids_are_used_once(clinic):
    sheets = shown_fixture("clinic.yaml").sheets
    ids = [attributes["id"] for _, attributes in clinic.tags if "id" in attributes]
    assert len(ids) == len(set(ids))
    for sheet in sheets:
        assert {f"sheet-{sheet.key}", f"tab-sheet-{sheet.key}"} <= set(ids)
    controls = [a["aria-controls"] for _, a in clinic.tags if "aria-controls" in a]
    labels = [a["aria-labelledby"] for _, a in clinic.tags if "aria-labelledby" in a]
    assert set(controls) | set(labels) <= set(ids)
    clips = re.findall(r"url\(#([^)]+)\)", " ".join(a.get("clip-path") or "" for _, a in clinic.tags))
    assert clips and set(clips) <= set(ids)


def test_every_name_in_the_lists_is_a_part_that_the_program_knows(clinic):
    known = {part["key"] for part in clinic.data["parts"]}
    named = {attributes["data-part"] for _, attributes in clinic.tags if "data-part" in attributes}
    assert named and named <= known
    assert known == {part.key for part in parts_of(shown_fixture("clinic.yaml").plan)}


def test_a_window_tells_where_the_room_lies_on_the_paper(clinic):
    """The room's corner as the data place it is where the sheet draws it."""
    sheet = shown_fixture("clinic.yaml").sheets[0]
    window, told = sheet.windows[0], clinic.data["sheets"][0]["windows"][0]
    corner = shown_fixture("clinic.yaml").plan.room.outline[0]
    x, y = window.to_paper(corner)
    left, top, width, height = told["box"]
    assert left + width / 2 + (corner[0] - told["centre"][0]) / told["scale"] == pytest.approx(x)
    assert top + height / 2 - (corner[1] - told["centre"][1]) / told["scale"] == pytest.approx(sheet.paper.height - y)


def test_a_name_cannot_become_markup():
    text = page_html(shown(room_text(NASTY))).decode()
    page = _Reader(text)
    assert not any(tag == "img" for tag, _ in page.tags)
    assert len(page.inside["script"]) == 2
    parser = html5lib.HTMLParser(namespaceHTMLElements=False)
    tree = parser.parse(text)
    assert tree.find(".//h1").text == NASTY
    assert parser.errors == []


def test_the_same_plan_gives_the_same_bytes():
    kept = shown_fixture("kiln-room.yaml")
    assert page_html(kept) == page_html(kept)


def test_a_cut_panel_tells_what_to_saw_and_why():
    """4700 mm is 7 * 600 + 500: borders of 250 mm; 6 * 600 + 1100 gives 550, wider. So 6 whole and 550 at both ends.

    3500 mm is 4 * 600 + 1100: 4 whole and 550. The panel is 5 mm smaller than its opening: 545 by 545 in the corners.
    """
    parts = {part.key: part for part in parts_of(shown(room_text()).plan)}
    corners = [part for part in parts.values() if ("Opening", "550 mm × 550 mm") in part.facts]
    assert len(corners) == 4
    facts = dict(corners[0].facts)
    assert facts["Cut to"] == "545 × 545 mm"
    assert "half-module" in corners[0].why


def test_a_tee_tells_its_pieces_and_the_bar_that_they_come_from():
    plan = shown_fixture("kiln-room.yaml").plan
    main = next(part for part in parts_of(plan) if part.key == "member:M1")
    member = next(member for member in plan.ceiling.members if member.id == "M1")
    facts = dict(main.facts)
    assert main.kind == "Main tee"
    assert sum(term.startswith("Piece") for term in facts) == len(member.pieces) == 2
    assert "main tee" in facts["Sawn from"]
    held = [hanger for hanger in plan.ceiling.hangers if hanger.member == "M1"]
    assert facts["Held by"].startswith(f"{len(held)}: ")


def test_plan_writes_the_page_when_it_is_asked_for(tmp_path):
    room = FIXTURES / "kiln-room.yaml"
    result = CliRunner().invoke(main, ["plan", str(room), "--page", "--out", str(tmp_path / "out")])
    assert result.exit_code == 0, result.output
    assert (tmp_path / "out" / "page.html").read_bytes() == page_html(_as_planned("kiln-room.yaml"))
    assert "page.html" in (tmp_path / "out" / "checksums.sha256").read_text()


def _as_planned(name: str):
    from dataclasses import replace

    from planner.drawing.sheets import draw
    from planner.drawing.stylebook import load_style

    kept = shown_fixture(name)
    style = load_style("us-ncs")
    return replace(kept, style=style, sheets=draw(kept.plan, style, kept.wish))


def test_before_there_is_a_plan_the_live_page_is_whole_html_too():
    parser = html5lib.HTMLParser()
    parser.parse(live_html("Kiln", None, Live("/news")).decode())
    assert parser.errors == []
