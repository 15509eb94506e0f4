"""PDF read back: by PDFium as a picture that is measured, and by pikepdf for what the reader is told."""

import io

import pikepdf
import pypdfium2
import pytest
from render.rendered import PIXEL, ROOM, ink, picture_of_pdf, rectangle, sheet_of

from planner.drawing.lettering import text_width
from planner.drawing.papers import find_paper
from planner.drawing.roles import Role
from planner.drawing.shapes import Line, Outline, Text
from planner.drawing.stylebook import load_style
from planner.render.pdf import write_pdf

STYLE = load_style("iso-13567")
NOTE = STYLE.role(Role.NOTE).height
METRE = Line(Role.MAIN_TEE, (1000.0, 2500.0), (2000.0, 2500.0))
LETTERS = Text(Role.SERVICE_MARK, (0.0, 0.0), "L1 ½ × Ж")


def pdf_of(*shapes, **more) -> bytes:
    return write_pdf((sheet_of(*shapes, **more),), STYLE, "Kiln room", "Ceiling sheets")


def opened(pdf: bytes) -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(pdf))


def test_a_metre_at_1_to_50_measures_20_mm_in_pdfium():
    box = ink(picture_of_pdf(pdf_of(METRE)), 100.0, 100.0, 200.0, 150.0)
    assert box is not None
    assert box.width == pytest.approx(20.0, abs=PIXEL)
    assert box.left == pytest.approx(120.0, abs=PIXEL)
    assert box.centre[1] == pytest.approx(130.0, abs=PIXEL)


def test_a_room_of_8_by_5_m_measures_160_by_100_mm_and_its_pen():
    box = ink(picture_of_pdf(pdf_of(ROOM)), 60.0, 40.0, 340.0, 260.0)
    assert box is not None
    assert (box.width, box.height) == (pytest.approx(160.5, abs=PIXEL), pytest.approx(100.5, abs=PIXEL))


@pytest.mark.parametrize("name", ["A4", "A3", "A0", "ANSI B", "ARCH E"])
def test_the_page_is_exactly_its_paper(name):
    paper = find_paper(name)
    document = pypdfium2.PdfDocument(pdf_of(METRE, paper=paper))
    width, height = document[0].get_size()
    document.close()
    assert (width * 25.4 / 72, height * 25.4 / 72) == (
        pytest.approx(paper.width, abs=1e-3),
        pytest.approx(paper.height, abs=1e-3),
    )


def test_a_window_hides_what_lies_outside_of_it():
    long = Line(Role.MAIN_TEE, (-9000.0, 0.0), (90000.0, 0.0))
    box = ink(picture_of_pdf(pdf_of(long)), 0.0, 0.0, 420.0, 297.0)
    assert box is not None
    assert (box.left, box.right) == (pytest.approx(50.0, abs=PIXEL), pytest.approx(350.0, abs=PIXEL))


def test_a_dash_is_3_mm_and_a_gap_three_quarters():
    picture = picture_of_pdf(pdf_of(Line(Role.ACCESS, (0.0, 0.0), (5000.0, 0.0))))
    row = picture[2970 - 800, 990:2010] < 128
    starts = [k for k in range(1, len(row)) if row[k] and not row[k - 1]]
    assert len(starts) == 27  # 100 / 3.75 = 26.7
    assert starts[1] - starts[0] == pytest.approx(37.5, abs=1.0)


def test_a_reader_is_asked_not_to_scale():
    """PrintScaling None, enforced; one side; the tray by paper size (ISO 32000-1, table 150; Enforce: 32000-2)."""
    document = opened(pdf_of(METRE))
    wishes = document.Root.ViewerPreferences
    assert wishes.PrintScaling == pikepdf.Name("/None")
    assert list(wishes.Enforce) == [pikepdf.Name.PrintScaling]
    assert wishes.Duplex == pikepdf.Name.Simplex
    assert wishes.PickTrayByPDFSize is True
    assert bool(wishes.DisplayDocTitle) is True


def test_the_document_says_what_it_is():
    document = opened(pdf_of(METRE))
    assert document.pdf_version == "1.7"
    assert str(document.docinfo.Title) == "Kiln room"
    assert str(document.docinfo.Subject) == "Ceiling sheets"
    assert str(document.Root.Lang) == "en"
    assert "/JavaScript" not in document.Root
    assert "/AcroForm" not in document.Root


def test_each_sheet_has_a_page_and_a_bookmark():
    sheets = [sheet_of(METRE, key=f"s{k}", title=title) for k, title in enumerate(("Ceiling plan", "Hängeplan"))]
    document = opened(write_pdf(sheets, STYLE, "Kiln room"))
    assert len(document.pages) == 2
    with document.open_outline() as outline:
        assert [item.title for item in outline.root] == ["Ceiling plan", "Hängeplan"]
        for item, page in zip(outline.root, document.pages, strict=True):
            assert item.destination[0].objgen == page.objgen


def test_no_sheets_no_file():
    with pytest.raises(ValueError, match="at least one sheet"):
        write_pdf((), STYLE, "Kiln room")


def test_every_font_is_embedded_and_only_what_is_used_of_it():
    document = opened(pdf_of(METRE, LETTERS))
    fonts = document.pages[0].Resources.Font
    assert len(fonts) >= 1
    for font in fonts.values():
        assert "Arimo" in str(font.BaseFont)
        assert len(font.FontDescriptor.FontFile2.read_bytes()) < 60_000  # the whole face has several hundred thousand


def test_text_can_be_searched():
    document = pypdfium2.PdfDocument(pdf_of(LETTERS))
    text = document[0].get_textpage().get_text_bounded()
    document.close()
    assert text == "L1 ½ × Ж"


def test_layers_can_be_switched():
    document = opened(pdf_of(METRE, ROOM))
    properties = document.Root.OCProperties
    names = {str(group.Name): group for group in properties.OCGs}
    assert set(names) == {STYLE.layer(Role.MAIN_TEE).name, STYLE.layer(Role.WALL).name}
    assert properties.D.BaseState == pikepdf.Name.ON
    assert len(properties.D.Order) == 2
    # Off in the file, gone from the picture: what is drawn truly belongs to the layer it is named after.
    properties.D.OFF = pikepdf.Array([names[STYLE.layer(Role.WALL).name]])
    properties.D.ON = pikepdf.Array([names[STYLE.layer(Role.MAIN_TEE).name]])
    changed = io.BytesIO()
    document.save(changed)
    box = ink(picture_of_pdf(changed.getvalue()), 60.0, 40.0, 340.0, 260.0)
    assert box is not None
    assert box.width == pytest.approx(20.0, abs=PIXEL)  # the tee alone


def test_layers_keep_their_names_from_page_to_page():
    """A layer that appears first on the second page is in that page's resources under a name of its own."""
    sheets = [sheet_of(ROOM), sheet_of(METRE)]
    document = opened(write_pdf(sheets, STYLE, "Kiln room"))
    for page, role in zip(document.pages, (Role.WALL, Role.MAIN_TEE), strict=True):
        content = page.Contents.read_bytes().decode()
        used = {word.removeprefix("/") for word in content.split() if word.startswith("/L")}
        (name,) = used
        assert str(page.Resources.Properties[f"/{name}"].Name) == STYLE.layer(role).name


@pytest.mark.parametrize(("vertical", "low"), [("base", 80.0), ("middle", 78.75), ("top", 77.5)])
def test_capitals_are_as_tall_as_the_style_says(vertical, low):
    pdf = pdf_of(Text(Role.SERVICE_MARK, (0.0, 0.0), "H", "left", vertical))
    box = ink(picture_of_pdf(pdf), 90.0, 70.0, 110.0, 90.0)
    assert box is not None
    assert (box.bottom, box.height) == (pytest.approx(low, abs=0.11), pytest.approx(2.5, abs=0.15))


@pytest.mark.parametrize("text", ["%%c", "^J", "<script>", "a\x00b", "\ud800x", "W" * 300, "😀", "a)b\\(", "‮abc"])
def test_no_text_breaks_the_file(text):
    shapes = (ROOM, Text(Role.NOTE, (0.0, 0.0), text), Outline(Role.LIGHT, rectangle(0.0, 0.0, 9.0, 9.0), title=text))
    pdf = write_pdf((sheet_of(*shapes, title=text),), STYLE, text, text, text)
    assert len(opened(pdf).pages) == 1
    box = ink(picture_of_pdf(pdf, dpi=127), 60.0, 90.0, 340.0, 260.0)
    assert box is not None
    assert box.width == pytest.approx(160.5, abs=0.3)


def test_pages_after_one_another_do_not_disturb_each_other():
    """The same bytes whether another document was written before or not."""
    before = pdf_of(METRE, LETTERS)
    pdf_of(ROOM, Text(Role.NOTE, (0.0, 0.0), "quite other letters"))
    assert pdf_of(METRE, LETTERS) == before


def test_pages_are_labelled_by_the_key_of_their_sheet():
    sheets = (sheet_of(METRE, key="ceiling-plan"), sheet_of(METRE, key="framing"))
    pdf = write_pdf(sheets, STYLE, "Kiln room")
    assert [page.label for page in opened(pdf).pages] == ["ceiling-plan", "framing"]
    document = pypdfium2.PdfDocument(pdf)
    labels = [document.get_page_label(number) for number in range(2)]
    document.close()
    assert labels == ["ceiling-plan", "framing"]


def test_letters_that_name_another_sheet_lead_there():
    see = Text(Role.NOTE, (100.0, 20.0), "see the framing", link="framing")
    lost = Text(Role.NOTE, (100.0, 40.0), "see a sheet that is not here", link="set-out")
    sheets = (sheet_of(METRE, key="ceiling-plan", paper_shapes=(see, lost)), sheet_of(METRE, key="framing"))
    pages = opened(write_pdf(sheets, STYLE, "Kiln room")).pages
    (link,) = pages[0].Annots  # type: ignore[attr-defined]
    assert link.Subtype == "/Link"
    target = link.Dest if "/Dest" in link else link.A.D
    assert target[0].objgen == pages[1].objgen
    left, bottom, right, top = (float(number) * 25.4 / 72 for number in link.Rect)
    assert (left, right - left) == (pytest.approx(100.0, abs=0.01), pytest.approx(text_width(see.text, NOTE), abs=0.01))
    assert bottom < 20.0 < 20.0 + NOTE < top
    assert "/Annots" not in pages[1]
