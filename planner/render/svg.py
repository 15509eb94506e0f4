"""One sheet as SVG: real size, a named group for each layer, text as text, titles for hover and screen readers.

In: a sheet and a style. Out: the bytes of the file, or the element for a page that shows several sheets, always the
same for the same sheet. Coordinates are paper millimetres with y down, rounded to a thousandth. Nothing in the file
runs, and nothing is fetched.
"""

from collections.abc import Sequence
from dataclasses import replace

import svgwrite
from svgwrite.base import BaseElement
from svgwrite.container import Group

from planner.drawing.lettering import EM_PER_CAP, FAMILIES, safe
from planner.drawing.shapes import Sheet
from planner.drawing.stylebook import Layer, Style
from planner.geometry import Point
from planner.records import dataclass
from planner.render.curves import legs, radius_of
from planner.render.strokes import Area, Blank, Glyphs, LayerMarks, Mark, Round, Stroke, explode

#: A pen of no width is drawn as the finest line that still prints.
_FINEST = 0.05


@dataclass(frozen=True, slots=True)
class _Place:
    """The sheet that is written, and whether as a file of its own or among others on one page."""

    drawing: svgwrite.Drawing
    height: float  #: of the paper, from whose top SVG measures
    among: str = ""  #: what sets its ids apart from those of the other sheets; empty in a file of its own


def write_svg(sheet: Sheet, style: Style, drawn: Sequence[LayerMarks] | None = None) -> bytes:
    """Write the sheet as an SVG file in UTF-8; ValueError for a drawing that cannot be exploded.

    `drawn` is the sheet exploded, where somebody has that already.
    """
    drawing = _page(sheet)
    drawing.attribs["style"] = "font-kerning:none"  # as in PDF and DXF, so that letters stand in the same places
    drawing.attribs["xmlns:inkscape"] = "http://www.inkscape.org/namespaces/inkscape"
    _fill(_Place(drawing, sheet.paper.height), sheet, explode(sheet, style) if drawn is None else drawn)
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{drawing.tostring()}\n'.encode()


def svg_element(sheet: Sheet, style: Style) -> str:
    """Write the sheet as an element for a page of HTML that shows several sheets; ValueError as for `write_svg`.

    It differs from the file where a page does: ids begin with the sheet's key, layers are told as `data-layer`, their
    colour is that of the group (`color`) so that a page may change it, letters that lead to another sheet name it in
    `data-link`, and `font-kerning: none` is left to the page, which may forbid styles in attributes.
    """
    drawing = _page(sheet)
    _fill(_Place(drawing, sheet.paper.height, f"{sheet.key}."), sheet, explode(sheet, style))
    text: str = drawing.tostring()
    return text


def _fill(place: _Place, sheet: Sheet, drawn: Sequence[LayerMarks]) -> None:
    _add_clips(place, sheet)
    for layer_marks in drawn:
        place.drawing.add(_layer_group(place, layer_marks))


def _page(sheet: Sheet) -> svgwrite.Drawing:
    width, height = _n(sheet.paper.width), _n(sheet.paper.height)
    drawing = svgwrite.Drawing(
        size=(f"{width}mm", f"{height}mm"),
        viewBox=f"0 0 {width} {height}",
        font_family=", ".join(FAMILIES),
        debug=False,
    )
    drawing.attribs["xml:lang"] = sheet.language
    drawing.attribs["xml:space"] = "preserve"
    drawing.set_desc(title=safe(sheet.title))
    return drawing


def _add_clips(place: _Place, sheet: Sheet) -> None:
    drawing = place.drawing
    for number, window in enumerate(sheet.windows):
        clip = drawing.defs.add(drawing.clipPath(id=_clip_id(place, number)))
        box = window.box
        corner = (_n(box.left), _n(sheet.paper.height - box.top))
        clip.add(drawing.rect(corner, (_n(box.width), _n(box.height))))


def _clip_id(place: _Place, number: int) -> str:
    return f"{place.among}window.{number}"  # no layer is called so: their names have no full stop


def _layer_group(place: _Place, marks: LayerMarks) -> Group:
    drawing, layer = place.drawing, marks.layer
    if place.among:
        layer = replace(layer, colour="currentColor")
        group = drawing.g(id=place.among + layer.name, color=marks.layer.colour, **_pen(layer))
        group.attribs["data-layer"] = layer.name
    else:
        group = drawing.g(id=layer.name, **_pen(layer))
        group.attribs["inkscape:groupmode"] = "layer"
        group.attribs["inkscape:label"] = layer.name
    for patch in marks.patches:
        holder = group
        if patch.window is not None:
            holder = group.add(drawing.g(clip_path=f"url(#{_clip_id(place, patch.window)})"))
        for mark in patch.marks:
            holder.add(_element(place, mark, layer))
    return group


def _pen(layer: Layer) -> dict[str, str]:
    pen = {
        "fill": "none",
        "stroke": layer.colour,
        "stroke_width": _n(max(layer.pen, _FINEST)),
        "stroke_linejoin": "round",
    }
    if layer.dash:
        pen["stroke_dasharray"] = " ".join(map(_n, layer.dash))
    return pen


def _element(place: _Place, mark: Mark, layer: Layer) -> BaseElement:
    drawing, height = place.drawing, place.height
    match mark:
        case Stroke():
            element = drawing.path(d=_chain(mark, height))
        case Area():
            edge = "".join(_chain(Stroke(ring, True), height) for ring in mark.rings)
            element = drawing.path(d=edge, fill_rule="evenodd", **_filled(layer))
        case Blank():
            edge = _chain(Stroke(mark.ring, True), height)
            return drawing.path(d=edge, fill="#ffffff", stroke="none", class_="paper")
        case Round():
            fill = _filled(layer) if mark.fill else {}
            element = drawing.circle(_point(mark.centre, height), _n(mark.radius), **fill)
        case Glyphs():
            return _text(place, mark, layer)
    if mark.title:
        element.set_desc(title=mark.title)
    return element


def _filled(layer: Layer) -> dict[str, str]:
    return {"fill": layer.colour, "stroke": "none"}


def _text(place: _Place, glyphs: Glyphs, layer: Layer) -> BaseElement:
    """Letters, told how wide they are so that another font takes the same room."""
    x, y = _point(glyphs.at, place.height)
    turn = {"transform": f"rotate({_n(-glyphs.angle_deg)} {x} {y})"} if _n(glyphs.angle_deg) != "0" else {}
    text = place.drawing.text(
        glyphs.text,
        insert=(x, y),
        font_size=_n(glyphs.height * EM_PER_CAP),
        text_anchor={"left": "start", "centre": "middle", "right": "end"}[glyphs.horizontal],
        textLength=_n(glyphs.width),
        lengthAdjust="spacingAndGlyphs",
        **_filled(layer),
        **turn,
    )
    if place.among and glyphs.link:
        text.attribs["data-link"] = glyphs.link
    return text


def _chain(stroke: Stroke, height: float) -> str:
    """Path data of a chain: lines, and arcs where it bows; the leg that closes it is drawn only when it is bowed."""
    chain = legs(stroke.points, stroke.bulges, stroke.closed)
    parts = ["M", ",".join(_point(stroke.points[0], height))]
    for k, (start, end, bulge) in enumerate(chain):
        if bulge:
            parts += ["A", _arc(start, end, bulge), ",".join(_point(end, height))]
        elif k < len(stroke.points) - 1:
            parts += ["L", ",".join(_point(end, height))]
    return "".join(parts) + ("Z" if stroke.closed else "")


def _arc(start: Point, end: Point, bulge: float) -> str:
    """Radii, turn and flags of an SVG arc; what turns counter-clockwise to the eye has sweep 0, since y is down."""
    radius = _n(radius_of(start, end, bulge))
    return f"{radius},{radius} 0 {int(abs(bulge) > 1)} {int(bulge < 0)} "


def _point(point: Point, height: float) -> tuple[str, str]:
    return (_n(point[0]), _n(height - point[1]))


def _n(value: float) -> str:
    """Write a number to a thousandth, without idle zeros."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
