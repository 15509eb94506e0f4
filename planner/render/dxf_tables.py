"""What a DXF file says before its first entity: units, layers, line types, letters, dimension styles.

In: a fresh document of the DXF library, a style, the job's unit. Out: the same document, with its tables filled.
Lengths in the tables are those on paper, in inches or millimetres; CAD multiplies them by the scale, which in a file in
feet, centimetres or metres also brings them into its unit. The DXF group codes and values named here are those of the
DXF reference, from memory, and held by the tests against independent readers.
"""

import math
from collections.abc import Iterable
from dataclasses import field
from typing import Any

from planner.drawing.labels import LIFT
from planner.drawing.roles import Role
from planner.drawing.shapes import UNITS, Block, Symbol
from planner.drawing.stylebook import Layer, Style
from planner.records import dataclass
from planner.render import dxf_words as words
from planner.render.dimensioning import BEYOND, GAP, TICK

#: The text style of all letters.
LETTERS = "PLAN-LETTERS"

#: What $INSUNITS and blocks say of each unit.
INSUNITS = {"in": 1, "ft": 2, "mm": 4, "cm": 5, "m": 6}

_PRECISION = {"in": 4, "ft": 4, "mm": 1, "cm": 2, "m": 4}  #: places of $LUPREC: 1/16", or 0.1 mm and finer
_NO_PLOT = Layer("NO-PLOT", "#808080", 8, 0.0, plots=False)


@dataclass(frozen=True, slots=True)
class BlockUse:
    """How one block is inserted throughout the file."""

    layers: frozenset[str]  #: of its inserts
    tags: dict[str, str]  #: attributes that any insert carries: the name on the sheets, the name in CAD


@dataclass(frozen=True, slots=True)
class Job:
    """One file being written."""

    document: Any
    style: Style
    unit_name: str  #: of model space: in, ft, mm, cm or m
    scale: float  #: denominator of the first drawing, 1 when there is none
    uses: dict[str, BlockUse]  #: by the name of the block on the sheets
    blocks: dict[tuple[Block, float, float], str] = field(default_factory=dict)  #: names of those defined so far

    @property
    def imperial(self) -> bool:
        return self.unit_name in ("in", "ft")

    @property
    def unit(self) -> float:
        """Units of model space in a millimetre."""
        return 1 / UNITS[self.unit_name]

    @property
    def paper_unit(self) -> float:
        """Units of paper space in a millimetre: inches or millimetres."""
        return 1 / 25.4 if self.imperial else 1.0

    @property
    def enlarged(self) -> float:
        """What is a unit long on paper is so long in model space at the first drawing's scale."""
        return self.scale * (self.unit / self.paper_unit)

    @property
    def no_plot(self) -> Layer:
        """The layer for the borders of views: the style's first that does not plot, or one of our own."""
        return next((layer for layer in self.style.layers if not layer.plots), _NO_PLOT)


def fill_tables(job: Job) -> None:
    """Set the header and make every layer, line type, text style and the main dimension style."""
    _set_header(job)
    letters = job.document.styles.new(LETTERS, dxfattribs={"font": "arial.ttf"})  # as wide as the font of SVG and PDF
    letters.set_extended_font_data("Arial")
    for layer in dict.fromkeys((*job.style.layers, job.no_plot)):
        job.document.layers.add(
            layer.name,
            color=layer.aci,
            linetype=_line_type(job, layer.dash) if layer.dash else "Continuous",
            lineweight=round(layer.pen * 100),
            plot=layer.plots,
        )
    style = dimension_style(job, job.scale, job.unit, job.style.role(Role.DIMENSION).height)
    style.copy_to_header(job.document)  # some programs draw every dimension by the header


def dimension_style(job: Job, scale: float, unit: float, height: float) -> Any:
    """Find or make the dimension style for a scale and a letter height on paper, in a space of so many units a mm."""
    paper = "_PAPER" if unit != job.unit else ""
    name = words.name(f"DIM_1-{scale:g}_{height:g}MM{paper}".replace(".", "P"), ())
    if name in job.document.dimstyles:
        return job.document.dimstyles.get(name)
    on_paper = {
        "dimtxt": height,
        "dimtsz": TICK / math.sqrt(8),  # half of what the tick spans along the line
        "dimasz": TICK / math.sqrt(2),
        "dimexo": GAP,
        "dimexe": BEYOND,
        "dimgap": LIFT,
    }
    settings: dict[str, Any] = {key: round(length * job.paper_unit, 6) for key, length in on_paper.items()}
    settings |= {"dimscale": _plain(scale * (unit / job.paper_unit)), "dimtxsty": LETTERS}
    settings |= {"dimlfac": _plain(job.paper_unit / unit)}  # lengths are written in inches or millimetres in any case
    settings |= {"dimdsep": ord(".")}  # else some write a comma where we write a point
    settings |= {"dimtad": 1, "dimtih": 0, "dimtoh": 0, "dimtofl": 1, "dimtmove": 2}  # above, along the line, no leader
    settings |= _number_form(job.imperial)
    return job.document.dimstyles.new(name, dxfattribs=settings)


def block_uses(symbols: Iterable[Symbol], style: Style) -> dict[str, BlockUse]:
    """Learn from all symbols which layers and attributes their blocks need."""
    uses: dict[str, BlockUse] = {}
    for symbol in symbols:
        use = uses.get(symbol.block, BlockUse(frozenset(), {}))
        for raw, _ in symbol.attributes:
            if raw not in use.tags:
                use.tags[raw] = words.name(raw, use.tags.values())
        uses[symbol.block] = BlockUse(use.layers | {style.layer(symbol.role).name}, use.tags)
    return uses


def _plain(number: float) -> float:
    """Without the noise that a division leaves behind."""
    return float(f"{number:.12g}")


def _number_form(imperial: bool) -> dict[str, int]:
    """How CAD writes a measured length, so that it is what `dxf_words.measured` writes."""
    if imperial:  # 8'-4 1/16": architectural, sixteenths, not stacked, feet and inches kept when nought
        return {"dimlunit": 4, "dimdec": 4, "dimfrac": 2, "dimzin": 1}
    return {"dimlunit": 2, "dimdec": 1, "dimzin": 8}  # 3000 or 12.5: decimal, no idle noughts


def _set_header(job: Job) -> None:
    header = job.document.header
    job.document.units = INSUNITS[job.unit_name]
    header["$MEASUREMENT"] = 0 if job.imperial else 1
    header["$LUNITS"] = 4 if job.unit_name == "in" else 2  # architectural, which takes units for inches, or decimal
    header["$LUPREC"] = _PRECISION[job.unit_name]
    header["$LTSCALE"] = _plain(job.enlarged)
    header["$PSLTSCALE"] = 0
    header["$LWDISPLAY"] = 1


def _line_type(job: Job, dash: tuple[float, ...]) -> str:
    name = words.line_type_name(dash)
    if name not in job.document.linetypes:
        lengths = [length * job.paper_unit for length in dash]
        pattern = [-length if k % 2 else length for k, length in enumerate(lengths)]
        description = "on paper: " + ", ".join(f"{length:g}" for length in dash) + " mm"
        job.document.linetypes.add(name, [sum(lengths), *pattern], description=description)
    return name
