"""How lists write things: lengths that are names, borders that are one to a tape, names of three hundred letters."""

import csv
import io
from pathlib import Path

import pytest
from drawing.whole_sheets import check

from planner.building import plan_building
from planner.ceiling.model import Border, Piece
from planner.documents import parse_document, read_document
from planner.drawing import words
from planner.drawing.building_sheets import Rooms, building_sheets
from planner.drawing.cutting_patterns import lots
from planner.drawing.dimensions import spoken, written, written_piece
from planner.drawing.options_sheet import options_sheet
from planner.drawing.roles import Role
from planner.drawing.shapes import Sheet, Text
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.wall_borders import border_range, one_width
from planner.drawing.wish import SheetWish
from planner.errors import PlannerError
from planner.files import bars_csv
from planner.options import options_for
from planner.planning import Plan, plan
from planner.room.building import building_from
from planner.room.reader import brief_from, read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
ISO, BOLD = load_style("iso-13567"), load_style("site-bold")


def planned(text: str) -> Plan:
    return plan(brief_from(parse_document(text, "room.yaml")))


def lettered(sheet: Sheet) -> list[str]:
    return [shape.text for shape in sheet.shapes if isinstance(shape, Text)]


# Lengths


@pytest.mark.parametrize(
    ("length", "ends", "said"),
    [
        (3657.6, ("factory", "factory"), "12'-0\" [3658]"),  # a name: 3657.6 is nearer to 3658
        (3657.6, ("factory", "cut"), "12'-0\" [3657]"),  # a cut is rounded down
        (609.6, ("factory", "factory"), "2'-0\" [610]"),
    ],
)
def test_what_is_used_whole_has_the_length_that_it_is_sold_by(length: float, ends: tuple[str, str], said: str) -> None:
    piece = Piece("main tee", length, ends)  # type: ignore[arg-type]
    with words.speaking(read_room(FIXTURES / "kiln-room.yaml").room, SheetWish(dual=True)):
        assert written_piece(piece.length, "ft-in", whole=piece.whole) == said


def test_sheets_have_one_metric_unit_whatever_the_file_has() -> None:
    assert spoken(2500.0, "m") == spoken(2500.0, "cm") == "2500 mm"


@pytest.mark.parametrize(
    ("widths", "units", "one"),
    [
        ((402.45, 402.55), "mm", 402.45),  # two tenths of a millimetre, though one rounds down and one up
        ((402.0, 403.0), "mm", None),
        ((304.8, 306.0), "ft-in", 304.8),  # 1.2 mm: less than 1/16 in
        ((304.8, 306.4), "ft-in", None),
    ],
)
def test_widths_that_no_tape_tells_apart_are_one(widths: tuple[float, float], units: str, one: float | None) -> None:
    assert one_width(*widths, units) == one


def test_the_page_and_the_schedule_say_the_same_border() -> None:
    border = Border("A-B", 402.45, 402.55)
    assert border_range(border, "mm", written) == "402"
    assert border_range(border, "mm", spoken) == "402 mm"


# What is sawn off


def test_the_cutting_list_names_what_is_sawn_off_for_the_first_slot() -> None:
    """Of every bar piece, off-cut, kerfs and what is sawn off before a piece come to its length."""
    named = 0.0
    for name in ("kiln-room", "seismic-lab", "workshop-t", "clinic"):
        made = plan(read_room(FIXTURES / f"{name}.yaml"))
        (mains,) = (lot.cutting for lot in lots(made) if lot.cutting.item == made.ceiling.system.main.item)
        rows = list(csv.DictReader(io.StringIO(bars_csv([mains]))))
        for bar in {row["bar"] for row in rows}:
            mine = [row for row in rows if row["bar"] == bar]
            told = sum(float(row["length_mm"]) + float(row["sawn_off_mm"]) for row in mine) + float(
                mine[0]["offcut_mm"]
            )
            # The kerfs behind pieces are told nowhere else: one for each piece at most, and whole tenths at the saw.
            assert -0.2 <= mains.stock_length - told <= len(mine) * mains.kerf + 0.2
            named += sum(float(row["sawn_off_mm"]) for row in mine)
    assert named > 0.0


# Options


@pytest.mark.parametrize("language", ["en", "es"])
def test_no_layout_loses_the_end_of_its_name(language: str) -> None:
    """Spanish names take two lines and three where English ones take one."""
    sheet = options_sheet(options_for(read_room(FIXTURES / "kiln-room.yaml")), BOLD, SheetWish("A3", language=language))
    check(sheet, BOLD)
    assert [text for text in lettered(sheet) if text.endswith("…")] == []


def test_where_paper_is_scarce_captions_are_shortened_rather_than_refused() -> None:
    found = options_for(read_room(FIXTURES / "kiln-room.yaml"))
    sheet = options_sheet(found, BOLD, SheetWish("A4", language="es"))
    check(sheet, BOLD)
    assert len(sheet.windows) == len(found)


# Names of three hundred letters

LONG = "Wmx " * 75
ROOM = f"""
job: "{"W" * 300}"
units: mm
project:
  client: "{LONG}"
  revisions: [{{rev: A, date: "2026-02-20", text: "{LONG}", by: "{LONG}"}}]
room: {{rectangle: [4000, 3000]}}
grid: {{system: lay-in-metric, module: [600, 600]}}
services:
  - {{name: "{"Long service name " * 16}", kind: troffer, size: [600, 600], near: [1000, 800], weight: 4 kg}}
  - {{name: "{"Long service name " * 16}2", kind: downlight, diameter: 150, near: [3000, 2000]}}
"""


def test_long_words_of_a_revision_leave_a_small_paper_room_for_the_plan() -> None:
    sheets = draw(planned(ROOM), ISO, SheetWish("A4"))
    for sheet in sheets:
        check(sheet, ISO)
    assert sheets[0].key == "ceiling-plan"


def test_a_long_name_breaks_no_other_word_of_its_table() -> None:
    """The mark is shortened; the kinds beside it stay whole, on lines of their own."""
    sheets = draw(planned(ROOM), ISO, SheetWish("A4", language="es", sheets=("schedules",)))
    told = [word for sheet in sheets for text in lettered(sheet) for word in text.split()]
    assert told.count("Luminaria") == 2 and "empotrada" in told
    assert not [text for sheet in sheets for text in lettered(sheet) if text.endswith("empotr…")]


# Order of work


def test_services_of_many_names_are_no_run_from_the_first_to_the_last() -> None:
    """Five lights and five more are not "L1 to AP1 (10)"; L6 is too heavy for the grid and told apart."""
    made = plan(read_room(FIXTURES / "clinic.yaml"))
    (sheet,) = draw(made, ISO, SheetWish(sheets=("order-of-work",)))
    assert "L1 to L5, S1, S2, R1, R2, AP1" in " ".join(lettered(sheet))


# A building


def test_a_buildings_own_sheets_count_against_the_limit_of_pages() -> None:
    made = plan_building(building_from(read_document(FIXTURES / "building" / "building.yaml")))
    rooms = Rooms(made.name, made.plans, made.folders)
    count = len(building_sheets(rooms, made.pool, ISO, SheetWish()))
    assert len(building_sheets(rooms, made.pool, ISO, SheetWish(most_pages=count))) == count
    with pytest.raises(PlannerError, match=f"{count} sheets"):
        building_sheets(rooms, made.pool, ISO, SheetWish(most_pages=count - 1))


def test_findings_have_signs_on_the_plan_only_where_they_have_places() -> None:
    made = plan(read_room(FIXTURES / "clinic.yaml"))
    sheet = draw(made, BOLD, SheetWish("A3"))[0]
    numbers = [
        shape.text
        for shape in sheet.windows[0].drawing.shapes
        if isinstance(shape, Text) and shape.role == Role.FINDING
    ]
    assert len(numbers) == len({(f.message, f.where) for f in made.findings if f.where})


# Panels


def test_no_size_of_a_small_piece_is_left_out_below_its_panel() -> None:
    """In both systems a size takes three narrow lines; three small pieces on one panel are told all the same."""
    made = plan(read_room(FIXTURES / "shop-l-taped.yaml"))
    sheets = draw(made, BOLD, SheetWish("A3", dual=True, sheets=("cutting",)))
    texts = [text for sheet in sheets for text in lettered(sheet)]
    assert not [text for text in texts if "lines more" in text]


def test_pictures_go_on_in_the_next_column_though_three_rows_have_no_room_there() -> None:
    """Two rows of panels fit above the title block: fifteen patterns, three abreast, take five rows on two sheets."""
    made = plan(read_room(FIXTURES / "shop-l-taped.yaml"))
    sheets = draw(made, load_style("us-ncs"), SheetWish(sheets=("cutting",)))
    first = next(sheet for sheet in sheets if sheet.key == "cutting-panels")
    headings = [text for text in lettered(first) if text.startswith("Panels 595 × 595")]
    assert headings == ["Panels 595 × 595; drawn at 1:10", "Panels 595 × 595; drawn at 1:10 (cont.)"]
