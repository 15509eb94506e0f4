"""The least that a plan could cost: import the same libraries, write as many entities in the same formats, no more.

Run: python tests/bench/floor.py COUNTS.json FOLDER. Entities are spread about so that no two are alike, as in a plan.
"""

import json
import sys
from pathlib import Path
from typing import Any

import click  # noqa: F401
import fontpkg_arimo
import numpy  # noqa: F401
import ruamel.yaml  # noqa: F401
import shapely  # noqa: F401
import svgwrite
from ezdxf.filemanagement import new
from fontTools.ttLib import TTFont as OpenedFont
from pydantic import BaseModel  # noqa: F401  # the name alone would import nothing
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas


def main() -> None:
    counts, folder = json.loads(Path(sys.argv[1]).read_text()), Path(sys.argv[2])
    folder.mkdir(exist_ok=True)
    font = Path(fontpkg_arimo.ROOT) / "files" / "Arimo[wght].ttf"
    OpenedFont(font)["hmtx"]
    dxf(counts["dxf"], counts["layouts"], folder)
    for number, sheet in enumerate(counts["svg"]):
        svg(sheet, folder / f"{number}.svg")
    for name, pages in counts["pdf"].items():
        pdf(pages, font, folder / name)
    for name, size in counts["lists"].items():
        (folder / name).write_bytes(b"0" * size)


def dxf(kinds: dict[str, int], layouts: int, folder: Path) -> None:
    document = new("R2010")
    space = document.modelspace()
    block = document.blocks.new("B")
    block.add_attdef("MARK", (0, 0))
    for kind, count in kinds.items():
        for k in range(count):
            at = (k * 1.1, k * 0.7)
            if kind == "TEXT":
                space.add_text("Panel 12", dxfattribs={"insert": at})
            elif kind == "INSERT":
                space.add_blockref("B", at).add_auto_attribs({"MARK": "L1"})
            elif kind == "DIMENSION":
                space.add_linear_dim(base=at, p1=at, p2=(k + 9.0, k), dxfattribs={}).render()
            elif kind == "LWPOLYLINE":
                space.add_lwpolyline([at, (k, 5.0), (9.0, k), (3.0, 3.0)], close=True)
            elif kind == "HATCH":
                space.add_hatch().paths.add_polyline_path([at, (k, 5.0), (9.0, k)])
            elif kind == "CIRCLE":
                space.add_circle(at, 3.0)
            else:
                space.add_line(at, (k, 100.0))
    for number in range(layouts - 1):
        document.layouts.new(f"L{number}")
    document.saveas(folder / "ceiling.dxf")


def svg(counts: dict[str, int], path: Path) -> None:
    drawing = svgwrite.Drawing(debug=False)
    for k in range(counts["paths"]):
        element = drawing.add(drawing.path(d=f"M{k},1.5L20.125,{k}"))
        if k < counts["titles"]:
            element.set_desc(title="Panel")
    for k in range(counts["texts"]):
        drawing.add(drawing.text("Panel 12", insert=(k, 3.5)))
    path.write_text(drawing.tostring())


def pdf(sheets: list[dict[str, int]], font: Path, path: Path) -> None:
    if "F" not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(TTFont("F", str(font)))
    canvas: Any = Canvas(str(path), pageCompression=1, initialFontName="F")
    for counts in sheets:
        canvas.setFont("F", 10)
        for k in range(counts["paths"]):
            stroke = canvas.beginPath()
            stroke.moveTo(k, 1.5)
            stroke.lineTo(20.125, k)
            canvas.drawPath(stroke)
        for k in range(counts["texts"]):
            canvas.drawString(k, 3.5, "Panel 12")
        canvas.showPage()
    canvas.save()


if __name__ == "__main__":
    main()
