"""One sheet as SVG: real size, a named group for each layer, text as text, titles for hover and screen readers.

In: a sheet and a style. Out: the bytes of the file, always the same for the same sheet. Coordinates are paper
millimetres with y down, rounded to a thousandth. Nothing in the file runs, and nothing is fetched.
"""

import svgwrite
from svgwrite.base import BaseElement
from svgwrite.container import Group

from planner.drawing.lettering import EM_PER_CAP, FAMILIES, safe
from planner.drawing.shapes import Sheet
from planner.drawing.stylebook import Layer, Style
from planner.geometry import Point
from planner.render.curves import legs, radius_of
from planner.render.strokes import Area, Glyphs, LayerMarks, Mark, Round, Stroke, explode

#: A pen of no width is drawn as the finest line that still prints.
_FINEST = 0.05


def write_svg(sheet: Sheet, style: Style) -> bytes:
    """Write the sheet as an SVG file in UTF-8; ValueError for a drawing that cannot be exploded."""
    drawing = _page(sheet)
    for layer_marks in explode(sheet, style):
        drawing.add(_layer_group(drawing, layer_marks, sheet.paper.height))
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{drawing.tostring()}\n'.encode()


def _page(sheet: Sheet) -> svgwrite.Drawing:
    width, height = _n(sheet.paper.width), _n(sheet.paper.height)
    drawing = svgwrite.Drawing(
        size=(f"{width}mm", f"{height}mm"),
        viewBox=f"0 0 {width} {height}",
        font_family=", ".join(FAMILIES),
        debug=False,
    )
    drawing.attribs["style"] = "font-kerning:none"  # as in PDF and DXF, so that letters stand in the same places
    drawing.attribs["xml:lang"] = sheet.language
    drawing.attribs["xml:space"] = "preserve"
    drawing.attribs["xmlns:inkscape"] = "http://www.inkscape.org/namespaces/inkscape"
    drawing.set_desc(title=safe(sheet.title))
    for number, window in enumerate(sheet.windows):
        clip = drawing.defs.add(drawing.clipPath(id=_clip_id(number)))
        box = window.box
        corner = (_n(box.left), _n(sheet.paper.height - box.top))
        clip.add(drawing.rect(corner, (_n(box.width), _n(box.height))))
    return drawing


def _clip_id(number: int) -> str:
    return f"window.{number}"  # no layer is called so: their names have no full stop


def _layer_group(drawing: svgwrite.Drawing, marks: LayerMarks, height: float) -> Group:
    group = drawing.g(id=marks.layer.name, **_pen(marks.layer))
    group.attribs["inkscape:groupmode"] = "layer"
    group.attribs["inkscape:label"] = marks.layer.name
    for patch in marks.patches:
        holder = group
        if patch.window is not None:
            holder = group.add(drawing.g(clip_path=f"url(#{_clip_id(patch.window)})"))
        for mark in patch.marks:
            holder.add(_element(drawing, mark, marks.layer, height))
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


def _element(drawing: svgwrite.Drawing, mark: Mark, layer: Layer, height: float) -> BaseElement:
    """One mark; `height` is that of the paper, from whose top SVG measures."""
    match mark:
        case Stroke():
            element = drawing.path(d=_chain(mark, height))
        case Area():
            edge = "".join(_chain(Stroke(ring, True), height) for ring in mark.rings)
            element = drawing.path(d=edge, fill_rule="evenodd", **_filled(layer))
        case Round():
            fill = _filled(layer) if mark.fill else {}
            element = drawing.circle(_point(mark.centre, height), _n(mark.radius), **fill)
        case Glyphs():
            return _text(drawing, mark, layer, height)
    if mark.title:
        element.set_desc(title=mark.title)
    return element


def _filled(layer: Layer) -> dict[str, str]:
    return {"fill": layer.colour, "stroke": "none"}


def _text(drawing: svgwrite.Drawing, glyphs: Glyphs, layer: Layer, height: float) -> BaseElement:
    """Letters, told how wide they are so that another font takes the same room."""
    x, y = _point(glyphs.at, height)
    turn = {"transform": f"rotate({_n(-glyphs.angle_deg)} {x} {y})"} if _n(glyphs.angle_deg) != "0" else {}
    return drawing.text(
        glyphs.text,
        insert=(x, y),
        font_size=_n(glyphs.height * EM_PER_CAP),
        text_anchor={"left": "start", "centre": "middle", "right": "end"}[glyphs.horizontal],
        textLength=_n(glyphs.width),
        lengthAdjust="spacingAndGlyphs",
        **_filled(layer),
        **turn,
    )


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
