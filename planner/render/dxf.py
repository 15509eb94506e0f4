"""A sheet set as DXF that an architect can work on: model space at full size, a layout for each sheet.

In: sheets and a style. Out: the bytes of one file, R2010 unless another version is asked for, always the same for the
same sheets. Model space is in the job's unit; every entity takes colour, pen and line type from its layer; dimensions
are DIMENSIONs that already hold their geometry, symbols are block inserts with data attributes. Layouts have the size
of their paper, in inches or millimetres, and show the model through locked views.

A room whose outline came from somebody else's drawing lies in model space exactly where it lies there: their origin,
rotation and unit. The views of the layouts are twisted back, so that sheets read upright.

Line types are in paper millimetres: $PSLTSCALE is 0, $LTSCALE the first drawing's scale, and what is drawn at another
scale says so itself. The library keeps a cache of the machine's fonts in the home folder; nothing here depends on it.
"""

import io
from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from ezdxf import options  # type: ignore[attr-defined]  # documented there, though not in its __all__
from ezdxf.filemanagement import new
from ezdxf.layouts.layout import Paperspace

from planner.drawing.shapes import UNITS, Sheet, Symbol, Window
from planner.drawing.stylebook import Style
from planner.geometry import Box, Frame, box_of
from planner.render import dxf_words as words
from planner.render.dxf_entities import Space, draw
from planner.render.dxf_seats import Seat, distinct, side_by_side
from planner.render.dxf_tables import Job, block_uses, fill_tables
from planner.render.strokes import blocks_of

_VIEW_FLAGS = 16384 | 32768  #: zoom locked; on


#: Versions that can be asked for. Older ones are not in UTF-8, or know neither several layouts nor hatches.
VERSIONS = ("R2007", "R2010", "R2013", "R2018")


def write_dxf(sheets: Sequence[Sheet], style: Style, version: str = "R2010") -> bytes:
    """Write the sheets as one DXF file of one of `VERSIONS`.

    ValueError for another version, no sheets, units that differ or are not known, or a symbol without a sound block.
    """
    if version not in VERSIONS:
        raise ValueError(f"{version!r} is not a version of DXF that is written here")
    seats = side_by_side(sheets)
    stream = io.StringIO()
    with _fixed_metadata():
        job = _new_job(sheets, style, version)
        for seat in seats:
            draw(_model(job, seat), seat.drawing.shapes)
        _show_model(job, [seat.extents for seat in seats])
        for number, sheet in enumerate(sheets):
            _lay_out(job, number, sheet, seats)
        job.document.write(stream)
    return stream.getvalue().encode("utf-8")


@contextmanager
def _fixed_metadata() -> Iterator[None]:
    """Write dates and identifiers that never change, so that the same sheets give the same bytes."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _new_job(sheets: Sequence[Sheet], style: Style, version: str) -> Job:
    if not sheets:
        raise ValueError("a DXF file holds at least one sheet")
    drawings = distinct(sheets)
    units = {drawing.unit for drawing in drawings}
    if len(units) > 1:
        raise ValueError("one DXF file cannot hold drawings in different units")
    unit = units.pop() if units else "mm"
    if unit not in UNITS:
        raise ValueError(f"{unit!r} is not a unit that a DXF file can be in")
    parts = [drawing.shapes for drawing in drawings] + [sheet.shapes for sheet in sheets]
    parts += [block.shapes for drawing in drawings for block in drawing.blocks]
    uses = block_uses((shape for shapes in parts for shape in shapes if isinstance(shape, Symbol)), style)
    scale = drawings[0].scale if drawings else 1.0
    job = Job(new(version), style, unit, scale, uses)
    _sort_classes(job)
    fill_tables(job)
    return job


def _sort_classes(job: Job) -> None:
    """Settle the order of the CLASSES section, which the library takes from a set and so from chance."""
    section = job.document.classes
    section.add_required_classes(job.document.dxfversion)
    section.classes = dict(sorted(section.classes.items()))


def _model(job: Job, seat: Seat) -> Space:
    blocks = {block.name: block for block in seat.drawing.blocks}
    return Space(job, job.document.modelspace(), seat.drawing.scale, blocks, job.unit, seat.frame)


def _show_model(job: Job, extents: Sequence[Box]) -> None:
    """Let a CAD program show all of model space when it opens the file."""
    if not extents:
        return
    corners = [point for box in extents for point in ((box.left, box.bottom), (box.right, box.top))]
    box = box_of((x * job.unit, y * job.unit) for x, y in corners)
    low, high = (box.left, box.bottom, 0.0), (box.right, box.top, 0.0)
    job.document.header["$EXTMIN"], job.document.header["$EXTMAX"] = low, high
    job.document.modelspace().reset_extents(low, high)
    tall = max(box.height, box.width / 2, 1.0) * 1.2  # a screen is less than twice as wide as it is high
    job.document.set_modelspace_vport(tall, box.centre)


def _lay_out(job: Job, number: int, sheet: Sheet, seats: Sequence[Seat]) -> None:
    layout = _new_layout(job, number, sheet)
    for window in sheet.windows:
        seat = next(seat for seat in seats if seat.drawing == window.drawing)
        _add_view(job, layout, window, seat.frame)
    for k, view in enumerate(layout.viewports(), 1):  # the first is the layout's own view of its paper
        view.dxf.update({"layer": job.no_plot.name, "id": k, "status": k})
    draw(Space(job, layout, 1.0, blocks_of(sheet), job.paper_unit), sheet.shapes)


def _new_layout(job: Job, number: int, sheet: Sheet) -> Paperspace:
    layouts = job.document.layouts
    if number == 0:  # a new document has one layout already
        layouts.rename("Layout1", words.layout_name(sheet.title, ("Model",)))
        layout: Paperspace = layouts.active_layout()
    else:
        layout = layouts.new(words.layout_name(sheet.title, layouts.names()))
    layout.page_setup(
        size=(sheet.paper.width * job.paper_unit, sheet.paper.height * job.paper_unit),
        margins=(0, 0, 0, 0),  # so that (0, 0) is the corner of the paper
        units="inch" if job.imperial else "mm",
        scale=(1, 1),
        name=words.paper_name(sheet.paper),
    )
    return layout


def _add_view(job: Job, layout: Paperspace, window: Window, frame: Frame) -> None:
    """A view of model space as it lies on the paper.

    The display coordinates of a view are model space turned by its twist (DXF reference, VIEWPORT, from memory); its
    centre is given in them.
    """
    box, paper = window.box, job.paper_unit
    x, y = box.centre
    across, up = Frame(angle_deg=frame.angle_deg).inward(frame.outward(window.centre))
    twist = {"view_twist_angle": -frame.angle_deg % 360.0} if frame.angle_deg else {}
    layout.add_viewport(
        center=(x * paper, y * paper),
        size=(box.width * paper, box.height * paper),
        view_center_point=(across * job.unit, up * job.unit),
        view_height=box.height * window.drawing.scale * job.unit,
        dxfattribs={"flags": _VIEW_FLAGS, **twist},
    )
