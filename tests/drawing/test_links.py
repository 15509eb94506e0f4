"""Ids in the lists and words such as "see sheet 4" lead to the sheets that they name.

Read back from the PDF by a reader that knows no planner.
"""

import io
from collections.abc import Sequence
from pathlib import Path

import pikepdf

from planner.drawing import words
from planner.drawing.links import lead_on
from planner.drawing.lists import CEILING_PLAN, FRAMING, SET_OUT
from planner.drawing.roles import Role
from planner.drawing.shapes import Sheet, Text
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.planning import plan
from planner.render.pdf import write_pdf
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
STYLE = load_style("us-ncs")


def links_of(sheets: Sequence[Sheet]) -> dict[str, dict[str, set[str]]]:
    """For each sheet what its links say, and the sheets that they lead to, as a reader of the PDF finds them."""
    keys = [sheet.key for sheet in sheets]
    pages = pikepdf.open(io.BytesIO(write_pdf(sheets, STYLE, "A room"))).pages
    places = {page.objgen: key for page, key in zip(pages, keys, strict=True)}
    found: dict[str, dict[str, set[str]]] = {key: {} for key in keys}
    for page, key in zip(pages, keys, strict=True):
        for link in page.get("/Annots", ()):
            target = link.Dest if "/Dest" in link else link.A.D
            found[key].setdefault(str(link.Contents), set()).add(places[target[0].objgen])
    return found


def test_ids_in_the_lists_lead_to_the_sheets_that_show_them() -> None:
    made = plan(read_room(FIXTURES / "kiln-room.yaml"))
    sheets = draw(made, STYLE, SheetWish())
    assert {CEILING_PLAN, FRAMING, SET_OUT} <= {sheet.key for sheet in sheets}
    led = links_of(sheets)["schedules"]
    panel = made.ceiling.panels[0].id.rstrip("0123456789")  # panels are listed by their class
    main = next(member.id for member in made.ceiling.members if member.kind == "main tee")
    assert CEILING_PLAN in led[panel]
    assert all(CEILING_PLAN in led[service.name] for service in made.ceiling.services)
    assert FRAMING in led[main]
    assert any(SET_OUT in goals for goals in led.values())


def test_words_that_send_the_reader_to_a_sheet_lead_there() -> None:
    """The list of schedules and the sheet of findings are named by their numbers in the set."""
    sheets = draw(plan(read_room(FIXTURES / "shop-l-taped.yaml")), STYLE, SheetWish())
    number = {sheet.key: k for k, sheet in enumerate(sheets, 1)}
    led = links_of(sheets)

    def goals(key: str, goal: str) -> set[str]:
        return set().union(*(led[key][said] for said in led[key] if f"sheet {number[goal]}" in said))

    for key in ("ceiling-plan", "framing", "set-out"):  # the lists lead to all three, and each leads back
        assert goals(key, "schedules") == {"schedules"}
    assert goals("ceiling-plan", "order-of-work") == {"order-of-work"}


def test_such_words_may_go_over_the_end_of_a_line_and_sheet_1_is_not_sheet_12() -> None:
    lines = ("The list has all: see", "sheet 4. More of it:", "see sheet 12.", "Nothing on sheet 1.")
    shapes = [Text(Role.NOTE, (0.0, -4.0 * k), line) for k, line in enumerate(lines)]
    with words.speaking(read_room(FIXTURES / "kiln-room.yaml").room, SheetWish()):
        led = lead_on(shapes, {"schedules": 4, "ceiling-plan": 1})
    assert [shape.link for shape in led if isinstance(shape, Text)] == ["schedules", "schedules", "", ""]


def test_an_overview_leads_to_its_parts_and_each_part_to_the_others() -> None:
    room = plan(read_room(FIXTURES / "clinic.yaml"))
    sheets = draw(room, STYLE, SheetWish(paper="A4", scale=50.0, sheets=("ceiling-plan",)))
    parts = {sheet.key for sheet in sheets[1:]}
    assert len(parts) > 1
    led = links_of(sheets)
    assert parts <= set().union(*led["ceiling-plan"].values())
    for key in parts:
        assert parts - {key} <= set().union(*led[key].values())
        assert "ceiling-plan" in set().union(*led[key].values())
