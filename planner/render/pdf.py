"""A sheet set as PDF: true size, embedded letters, bookmarks, layers that can be switched.

In: sheets and a style. Out: the bytes of the file, always the same for the same sheets. Pages are exactly as large as
their paper and ask the reader not to scale them (PrintScaling None: ISO 32000-1, table 150). Layers are optional
content groups (ISO 32000-1, 8.11); the library has none, so `_Layers` adds the few objects itself.
"""

import hashlib
from collections.abc import Mapping, Sequence
from functools import cache
from io import BytesIO
from typing import Any

from reportlab.lib.colors import HexColor
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFString, PDFtrue
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from planner.drawing.lettering import EM_PER_CAP, font_file, safe
from planner.drawing.shapes import Sheet
from planner.drawing.stylebook import Layer, Style
from planner.geometry import Frame, box_of
from planner.render.curves import curves, legs
from planner.render.reading_order import as_shown
from planner.render.strokes import Area, Blank, Glyphs, LayerMarks, Mark, Patch, Round, Stroke, explode

_POINTS = 72 / 25.4  #: PDF's own unit in a millimetre
_FONT = "Arimo"
_EVEN_ODD = 0  #: reportlab's word for the fill rule that leaves holes open

#: A pen of no width is drawn as the finest line that still prints.
_FINEST = 0.05


def write_pdf(
    sheets: Sequence[Sheet],
    style: Style,
    title: str,
    subject: str = "",
    author: str = "",
    drawn: Sequence[Sequence[LayerMarks]] | None = None,
) -> bytes:
    """Write the sheets as one PDF file, a page each; ValueError for no sheets, or a drawing that cannot be exploded.

    `drawn` are the sheets exploded, where somebody has that already.
    """
    if not sheets:
        raise ValueError("a PDF holds at least one sheet")
    _register_font()
    file = BytesIO()
    canvas = Canvas(
        file,
        invariant=1,
        pageCompression=1,
        pdfVersion=(1, 7),
        initialFontName=_FONT,
        lang=sheets[0].language,
    )
    _date(canvas)
    _describe(canvas, title, subject, author)
    layers = _Layers(canvas)
    bookmarks = _bookmarks(sheets)
    for number, sheet in enumerate(sheets):
        marks = explode(sheet, style) if drawn is None else drawn[number]
        _page(canvas, sheet, f"sheet-{number}", marks, layers)
        _follow_links(canvas, sheet, marks, bookmarks)
        layers.close_page()
    layers.finish()
    _label_pages(canvas, sheets)
    canvas.save()
    return file.getvalue()


@cache
def _register_font() -> None:
    pdfmetrics.registerFont(TTFont(_FONT, str(font_file())))


def _date(canvas: Canvas) -> None:
    """One date for all files: the library would take SOURCE_DATE_EPOCH from whoever runs it, for the file's id too."""
    canvas.setDateFormatter(lambda *_: "D:20000101000000Z")
    canvas._doc.signature = hashlib.md5(b"a ceiling plan", usedforsecurity=False)


def _describe(canvas: Canvas, title: str, subject: str, author: str) -> None:
    canvas.setTitle(safe(title))
    canvas.setSubject(safe(subject))
    canvas.setAuthor(safe(author))
    canvas.setCreator("planner")
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setViewerPreference("Duplex", "Simplex")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    # The library refuses these two, which are younger than its list of preferences.
    preferences = canvas._doc.Catalog.ViewerPreferences
    PDFDictionary.__setitem__(preferences, "PickTrayByPDFSize", PDFtrue)
    PDFDictionary.__setitem__(preferences, "Enforce", PDFArray([PDFName("PrintScaling")]))


class _Layers:
    """The layers of the document: made when first drawn on, listed in the catalogue at the end."""

    def __init__(self, canvas: Canvas) -> None:
        self._canvas = canvas
        self._groups: dict[str, Any] = {}

    def begin(self, layer: Layer) -> None:
        """Put what is drawn from here to `end` on the layer."""
        if layer.name not in self._groups:
            group = PDFDictionary({"Type": PDFName("OCG"), "Name": PDFString(layer.name)})
            self._groups[layer.name] = self._canvas._doc.Reference(group)
        self._canvas._code.append(f"/OC /{self._resource(layer.name)} BDC")

    def end(self) -> None:
        self._canvas._code.append("EMC")

    def close_page(self) -> None:
        """End the page; its resources name every layer met so far."""
        self._canvas.showPage()
        page = self._canvas._doc.Pages.pages[-1]
        properties = PDFDictionary({self._resource(name): group for name, group in self._groups.items()})

        def check_format(document: Any) -> None:  # the library builds a page's resources only when it writes the file
            type(page).check_format(page, document)
            page.Resources.Properties = properties

        page.check_format = check_format

    def finish(self) -> None:
        """List the layers in the catalogue, all switched on."""
        catalog = self._canvas._doc.Catalog
        every = PDFArray(list(self._groups.values()))
        state = {"Name": PDFString("Layers"), "BaseState": PDFName("ON"), "ON": every, "Order": every}
        catalog.OCProperties = PDFDictionary({"OCGs": every, "D": PDFDictionary(state)})
        catalog.__NoDefault__ = [*catalog.__NoDefault__, "OCProperties"]

    def _resource(self, name: str) -> str:
        return f"L{list(self._groups).index(name)}"


def _page(canvas: Canvas, sheet: Sheet, bookmark: str, drawn: Sequence[LayerMarks], layers: _Layers) -> None:
    canvas.setPageSize((sheet.paper.width * _POINTS, sheet.paper.height * _POINTS))
    canvas.bookmarkPage(bookmark)
    canvas.addOutlineEntry(safe(sheet.title), bookmark, level=int(bool(sheet.part_of)))
    canvas.scale(_POINTS, _POINTS)
    for layer_marks in drawn:
        layers.begin(layer_marks.layer)
        canvas.saveState()
        _take_pen(canvas, layer_marks.layer)
        for patch in layer_marks.patches:
            canvas.saveState()
            _clip(canvas, sheet, patch)
            for mark in patch.marks:
                _mark(canvas, mark)
            canvas.restoreState()
        canvas.restoreState()
        layers.end()


def _bookmarks(sheets: Sequence[Sheet]) -> dict[str, str]:
    """The bookmark of the first page that each sheet's key names."""
    return {sheet.key: f"sheet-{number}" for number, sheet in reversed([*enumerate(sheets)])}


def _follow_links(canvas: Canvas, sheet: Sheet, drawn: Sequence[LayerMarks], bookmarks: Mapping[str, str]) -> None:
    """Let letters that send the reader to another sheet of this file take him there."""
    marks = (mark for layer in drawn for patch in layer.patches if patch.window is None for mark in patch.marks)
    for mark in marks:
        if isinstance(mark, Glyphs) and mark.link in bookmarks and mark.link != sheet.key:
            canvas.linkRect(safe(mark.text), bookmarks[mark.link], _around(mark), Border="[0 0 0]")


def _around(glyphs: Glyphs) -> tuple[float, float, float, float]:
    """The box around a line of letters, a little larger: left, bottom, right, top."""
    low, high = -0.5 * glyphs.height, 1.5 * glyphs.height
    frame = Frame(glyphs.start, glyphs.angle_deg)
    box = box_of(frame.outward((along, up)) for along in (0.0, glyphs.width) for up in (low, high))
    return (box.left, box.bottom, box.right, box.top)


def _label_pages(canvas: Canvas, sheets: Sequence[Sheet]) -> None:
    """Name each page by its sheet's key, so that a reader's page box says "framing" and not "2"."""
    for number, sheet in enumerate(sheets):
        canvas.addPageLabel(number, prefix=safe(sheet.key))


def _take_pen(canvas: Canvas, layer: Layer) -> None:
    colour = HexColor(layer.colour)
    canvas.setStrokeColor(colour)
    canvas.setFillColor(colour)
    canvas.setLineWidth(max(layer.pen, _FINEST))
    canvas.setLineJoin(1)
    if layer.dash:
        canvas.setDash(list(layer.dash))


def _clip(canvas: Canvas, sheet: Sheet, patch: Patch) -> None:
    if patch.window is None:
        return
    box = sheet.windows[patch.window].box
    path = canvas.beginPath()
    path.rect(box.left, box.bottom, box.width, box.height)
    canvas.clipPath(path, stroke=0, fill=0)


def _mark(canvas: Canvas, mark: Mark) -> None:
    match mark:
        case Stroke():
            canvas.drawPath(_path(canvas, (mark,)), stroke=1, fill=0)
        case Area():
            rings = [Stroke(ring, True) for ring in mark.rings]
            canvas.drawPath(_path(canvas, rings), stroke=0, fill=1, fillMode=_EVEN_ODD)
        case Blank():
            _leave_blank(canvas, mark)
        case Round():
            canvas.circle(*mark.centre, mark.radius, stroke=int(not mark.fill), fill=int(mark.fill))
        case Glyphs():
            _letters(canvas, mark)


def _leave_blank(canvas: Canvas, mark: Blank) -> None:
    canvas.saveState()
    canvas.setFillColor(HexColor("#ffffff"))
    canvas.drawPath(_path(canvas, (Stroke(mark.ring, True),)), stroke=0, fill=1)
    canvas.restoreState()


def _path(canvas: Canvas, chains: Sequence[Stroke]) -> Any:
    """Lines, and curves where a chain bows; the leg that closes a chain is drawn only when it is bowed."""
    path = canvas.beginPath()
    for chain in chains:
        path.moveTo(*chain.points[0])
        for k, (start, end, bulge) in enumerate(legs(chain.points, chain.bulges, chain.closed)):
            if bulge:
                for first, second, last in curves(start, end, bulge):
                    path.curveTo(*first, *second, *last)
            elif k < len(chain.points) - 1:
                path.lineTo(*end)
        if chain.closed:
            path.close()
    return path


def _letters(canvas: Canvas, glyphs: Glyphs) -> None:
    along, up = (Frame(angle_deg=glyphs.angle_deg).outward(axis) for axis in ((1.0, 0.0), (0.0, 1.0)))
    line = canvas.beginText()
    line.setFont(_FONT, glyphs.height * EM_PER_CAP)
    line.setTextTransform(*along, *up, *glyphs.start)
    line.textOut(as_shown(glyphs.text))
    canvas.drawText(line)
