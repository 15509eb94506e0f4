"""Small sheets to draw, and independent readers to measure what was drawn: PDFium, resvg and GDAL."""

import io
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pyogrio
import pypdfium2
import resvg_py
import shapely
from PIL import Image

from planner.drawing.lettering import font_file
from planner.drawing.roles import Role
from planner.drawing.shapes import Block, Drawing, Outline, Paper, Shape, Sheet, Window
from planner.geometry import Box, Ring

#: A pixel of the pictures is a tenth of a millimetre; a thousandth more for the arithmetic.
DPI = 254
PIXEL = 0.101

A3 = Paper("A3", 420.0, 297.0)


def rectangle(left: float, bottom: float, right: float, top: float) -> Ring:
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def sheet_of(
    *shapes: Shape,
    blocks: tuple[Block, ...] = (),
    scale: float = 50.0,
    unit: Any = "mm",
    paper_shapes: tuple[Shape, ...] = (),
    paper: Paper = A3,
    key: str = "test",
    title: str = "Test sheet",
) -> Sheet:
    """Make a sheet whose one window shows 15 x 12 m at 1:50, the model's origin 50 mm off its lower left corner."""
    drawing = Drawing(shapes, blocks, scale, unit)
    box = Box(50.0, 30.0, 350.0, 270.0)
    window = Window(drawing, box, (100.0 * scale, 70.0 * scale))  # (0, 0) lies at (100, 80) on the paper
    return Sheet(key, title, paper, (window,), paper_shapes)


def at_paper(x: float, y: float, scale: float = 50.0) -> tuple[float, float]:
    """Where a model point of `sheet_of` lies on the paper."""
    return (100.0 + x / scale, 80.0 + y / scale)


ROOM = Outline(Role.WALL, rectangle(0.0, 0.0, 8000.0, 5000.0), title="The room")


# --- pictures ---------------------------------------------------------------------------------------------------------


def picture_of_pdf(pdf: bytes, page: int = 0, dpi: int = DPI) -> np.ndarray:
    """Grey values, 0 = black, first row at the top."""
    document = pypdfium2.PdfDocument(pdf)
    picture = document[page].render(scale=dpi / 72, grayscale=True).to_numpy().squeeze().copy()
    document.close()
    return picture


def picture_of_svg(svg: bytes, dpi: int = DPI) -> np.ndarray:
    """Grey values, 0 = black, first row at the top."""
    png = resvg_py.svg_to_bytes(
        svg_string=svg.decode(), dpi=dpi, background="#ffffff", font_files=[str(font_file())], skip_system_fonts=True
    )
    return np.asarray(Image.open(io.BytesIO(bytes(png))).convert("L"))


def ink(picture: np.ndarray, left: float, bottom: float, right: float, top: float) -> Box | None:
    """Find the box around all that is dark in a part of an A3 sheet; paper millimetres, None when nothing is."""
    per_mm = picture.shape[1] / A3.width
    rows = slice(round((A3.height - top) * per_mm), round((A3.height - bottom) * per_mm))
    columns = slice(round(left * per_mm), round(right * per_mm))
    ys, xs = np.nonzero(picture[rows, columns] < 128)
    if not len(xs):
        return None
    high = A3.height - (rows.start + ys.min()) / per_mm
    low = A3.height - (rows.start + ys.max() + 1) / per_mm
    return Box((columns.start + xs.min()) / per_mm, low, (columns.start + xs.max() + 1) / per_mm, high)


def strays(one: np.ndarray, other: np.ndarray) -> int:
    """Count pixels that are dark in one picture with nothing grey within a pixel of them in the other."""
    rows, columns = min(one.shape[0], other.shape[0]), min(one.shape[1], other.shape[1])
    one, other = one[:rows, :columns], other[:rows, :columns]
    return int(np.sum((one < 90) & (_darkest_near(other) > 200)) + np.sum((other < 90) & (_darkest_near(one) > 200)))


def _darkest_near(picture: np.ndarray) -> np.ndarray:
    padded = np.pad(picture, 1, constant_values=255)
    rows, columns = picture.shape
    shifted = [padded[dy : dy + rows, dx : dx + columns] for dy in range(3) for dx in range(3)]
    return np.min(shifted, axis=0)


# --- GDAL -------------------------------------------------------------------------------------------------------------


def entities(dxf: bytes, folder: Path, **config: Any) -> list[dict[str, Any]]:
    """Every entity that GDAL finds, blocks opened unless DXF_INLINE_BLOCKS says otherwise."""
    path = folder / "read.dxf"
    path.write_bytes(dxf)
    config = {"DXF_ENCODING": "UTF-8", **config}  # what R2007 and later are; GDAL goes by the old code page
    pyogrio.set_gdal_config_options(config)
    try:
        meta, _, geometry, columns = pyogrio.raw.read(
            path, sql="SELECT OGR_STYLE, * FROM entities", sql_dialect="OGRSQL", encoding="UTF-8"
        )
    finally:
        pyogrio.set_gdal_config_options(dict.fromkeys(config))
    names = list(meta["fields"])
    found = zip(shapely.from_wkb(geometry), *columns, strict=True)
    return [dict(zip(("geometry", *names), row, strict=True)) for row in found]


def on_paper(entity: dict[str, Any]) -> bool:
    return entity["PaperSpace"] == 1


def length_on(layer: str, found: list[dict[str, Any]]) -> float:
    """Total length of the strokes of a layer in model space, drawing units."""
    return sum(shapely.length(e["geometry"]) for e in found if e["Layer"] == layer and not on_paper(e))


def texts(found: list[dict[str, Any]], layer: str = "") -> list[str]:
    return [e["Text"] for e in found if e["Text"] is not None and layer in ("", e["Layer"])]


# --- raw DXF ----------------------------------------------------------------------------------------------------------


def pairs(dxf: bytes) -> list[tuple[str, str]]:
    """Group codes and values of a DXF file, read as the lines that they are."""
    lines = [line.strip() for line in dxf.decode("utf-8").split("\n")]
    return list(zip(lines[::2], lines[1::2], strict=False))


def header(dxf: bytes) -> dict[str, str]:
    """Header variables by name, the first value of each."""
    found = pairs(dxf)
    return {value: found[k + 1][1] for k, (code, value) in enumerate(found) if code == "9"}


def section(dxf: bytes, name: str) -> bytes:
    """Cut out one section of a DXF file, e.g. BLOCKS."""
    return dxf.split(f"SECTION\n  2\n{name}\n".encode(), 1)[1].split(b"  0\nENDSEC", 1)[0] + b"  0\nENDSEC\n"


def records(dxf: bytes, kind: str) -> Iterator[dict[str, str]]:
    """Every entity or table record of a kind, as group code to first value."""
    current: dict[str, str] | None = None
    for code, value in pairs(dxf):
        if code == "0":
            if current is not None:
                yield current
            current = {} if value == kind else None
        elif current is not None:
            current.setdefault(code, value)
