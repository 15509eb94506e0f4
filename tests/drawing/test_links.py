"""Ids in the lists lead to the sheets that show them: read back from the PDF by a reader that knows no planner."""

import io
from pathlib import Path

import pikepdf

from planner.drawing.lists import CEILING_PLAN, FRAMING, SET_OUT
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.planning import plan
from planner.render.pdf import write_pdf
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
STYLE = load_style("us-ncs")


def test_ids_in_the_lists_lead_to_the_sheets_that_show_them() -> None:
    made = plan(read_room(FIXTURES / "kiln-room.yaml"))
    sheets = draw(made, STYLE, SheetWish())
    keys = [sheet.key for sheet in sheets]
    assert {CEILING_PLAN, FRAMING, SET_OUT} <= set(keys)
    pages = pikepdf.open(io.BytesIO(write_pdf(sheets, STYLE, "Kiln room"))).pages
    places = {page.objgen: key for page, key in zip(pages, keys, strict=True)}
    led: dict[str, set[str]] = {}
    for page, key in zip(pages, keys, strict=True):
        if key == "schedules" and "/Annots" in page:
            for link in page.Annots:  # type: ignore[attr-defined]
                target = link.Dest if "/Dest" in link else link.A.D
                led.setdefault(str(link.Contents), set()).add(places[target[0].objgen])
    panel = made.ceiling.panels[0].id.rstrip("0123456789")  # panels are listed by their class
    main = next(member.id for member in made.ceiling.members if member.kind == "main tee")
    assert CEILING_PLAN in led[panel]
    assert FRAMING in led[main]
    assert any(SET_OUT in goals for goals in led.values())
