"""Why a part is as it is: the page tells the steps of `planner explain`, each written once; a vast page is bounded."""

import json

import html5lib
import pytest
from page.shown_rooms import room_text, shown, shown_fixture

from planner.explain import Job, explain
from planner.page import parts, reasons
from planner.page.contents import Shown, data_of
from planner.page.page import page_html
from planner.page.parts import parts_of
from planner.page.reasons import WHOLE, reasons_of


def _data(kept: Shown) -> dict:
    page = html5lib.HTMLParser(namespaceHTMLElements=False).parse(page_html(kept).decode())
    return json.loads(next(each for each in page.iter("script") if each.get("id") == "data").text)


def _told(data: dict, part: dict) -> list[str]:
    """The steps of a part as the program finds them."""
    packed = data["reasons"]
    return [packed["steps"][number][0] for number in packed["rows"][part["reason"]]]


@pytest.mark.parametrize("room", ["kiln-room.yaml", "workshop-low.yaml", "seismic-lab.yaml"])
def test_every_part_tells_the_steps_that_explain_tells(room: str):
    kept = shown_fixture(room)
    assert kept.beside.brief is not None
    job, data = Job(kept.beside.brief, kept.plan), _data(kept)
    for part in data["parts"]:
        group, _, name = part["key"].partition(":")
        found = [each for each in explain(job, name) if each.kind == group or group in ("member", "hanger")]
        assert _told(data, part) in [[step.text for step in each.steps] for each in found], part["key"]


def test_the_rule_of_a_step_stands_with_its_source_once_where_the_next_says_the_same():
    data = _data(shown_fixture("kiln-room.yaml"))
    packed = data["reasons"]
    assert len(set(packed["rules"])) == len(packed["rules"])
    assert len({tuple(step) for step in packed["steps"]}) == len(packed["steps"])
    assert len({tuple(row) for row in packed["rows"]}) == len(packed["rows"])
    border = next(part for part in data["parts"] if part["key"] == "wall:A-B")
    rules = [
        packed["rules"][rule] for _, rule in (packed["steps"][k] for k in packed["rows"][border["reason"]]) if rule >= 0
    ]
    assert any("NAVEDTRA 14044" in rule for rule in rules)


def test_an_untouched_module_tells_why_the_grid_lies_there():
    kept = shown(room_text())
    data = _data(kept)
    assert data["whole"]["reason"] == reasons_of(kept.beside.brief, kept.plan).of[WHOLE]
    assert _told(data, data["whole"])


def test_without_the_brief_there_are_no_reasons_and_a_rule_is_still_told():
    kept = shown(room_text())
    data = data_of(Shown(kept.plan, kept.sheets, kept.style, kept.wish), parts_of(kept.plan))
    assert data["reasons"] == {"rules": [], "steps": [], "rows": []}
    assert all("reason" not in part for part in data["parts"])
    assert all(part["why"] for part in data["parts"] if part["key"].startswith("panel:"))


def test_a_hall_of_6700_modules_with_all_its_reasons_stays_under_three_megabytes():
    """49 137 mm is 81 modules and a border at each end; 81 * 81 = 6561, and the border's cut panels."""
    columns = ", ".join(
        f"{{name: C{x}-{y}, at: [{x * 15_000 + 7_500}, {y * 15_000 + 7_500}], size: [400, 400]}}"
        for x in range(3)
        for y in range(3)
    )
    kept = shown(
        "job: Hall\nunits: mm\nroom:\n  rectangle: [49137 mm, 49137 mm]\n"
        f"  columns: [{columns}]\ngrid: {{system: lay-in-metric, module: [600 mm, 600 mm]}}\n"
    )
    ceiling = kept.plan.ceiling
    assert ceiling.full_panels + len(ceiling.panels) > 6700
    page = page_html(kept)
    assert len(page) < 3_000_000
    assert all("reason" in part for part in _data(kept)["parts"])


def test_the_page_of_a_vast_ceiling_leaves_reasons_and_then_hangers_out_and_says_so(monkeypatch: pytest.MonkeyPatch):
    kept = shown_fixture("clinic.yaml")
    monkeypatch.setattr(reasons, "MOST_PARTS", 100)
    page = page_html(kept).decode()
    assert "planner explain" in page and "tapped one by one" not in page
    monkeypatch.setattr(parts, "MOST_PARTS", 100)
    page = page_html(kept).decode()
    assert f"{len(kept.plan.ceiling.hangers)} hangers that can be seen in the drawing" in page
    assert not any(part["key"].startswith("hanger:") for part in _data(kept)["parts"])
