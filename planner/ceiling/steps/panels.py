"""Panels in the order of work: whole ones first, then those at the borders, row by row.

In: a `Work`. Out: a text for each step; empty where there is nothing to do. Full panels first, border panels last: from
memory of NAVEDTRA 14044 p. 5-18.
"""

from itertools import groupby

from planner.ceiling.model import Panel
from planner.ceiling.steps.work import MOST_NAMES, Work
from planner.geometry import Ring, box_of, distance
from planner.lengths import Rounding, spoken_cut
from planner.naming import names_told
from planner.sayings import joined, linked, said

#: A grid that is turned by less lies along the walls.
TOLERANCE_DEG = 0.5
#: A hole with more corners is round.
MOST_CORNERS = 8
#: More rows than this are not spelt out.
MOST_ROWS = 16


def full_panels(work: Work) -> str:
    """Whole panels; those with holes are with the cut ones."""
    if not work.ceiling.full_panels:
        return ""
    return said(
        "Lay the {full_panels} full panels with clean gloves, from several cartons, any arrows one way: "
        "tilt each up through its opening, level it, let it down. Begin nearest {first_corner}, row by "
        "row.",
        full_panels=work.ceiling.full_panels,
        first_corner=work.first_corner,
    )


def cut_panels(work: Work) -> str:
    """Border panels of a hung ceiling, and where each goes."""
    corner = _corner_panel(work)
    if corner is None:
        return panel_rows(work)
    text = said(
        "Then the border panels, cut face up with a sharp knife or a fine saw; the panel sheet shows backs, where left "
        "and right change. Begin with {corner} at {first_corner}, cut to {size}: tilt it up through its own opening, "
        "wall side first, and lay it on the ledge.",
        corner=corner.id,
        first_corner=work.first_corner,
        size=_size_said(work, corner),
    )
    shaped = any(panel.shape in ("notched", "shaped") for panel in work.ceiling.panels)
    by_template = said("Those with notches or curves are cut by their templates, drawn face up.") if shaped else ""
    return joined(filter(None, (text, by_template, panel_rows(work))))


def parted_panels(work: Work) -> str:
    """Panels with a column or a pipe inside them: no ring goes over what reaches up to the structure."""
    rings = [panel for panel in work.ceiling.panels if panel.holes]
    if not rings:
        return ""
    sizes = linked(list(dict.fromkeys(_hole_said(work, hole) for panel in rings for hole in panel.holes))[:MOST_NAMES])
    return said(
        "What goes through the ceiling stands inside {panels} ({sizes}): cut each in two through its hole, lay one "
        "half from each side, and glue a strip of panel on the back, across the joint.",
        panels=names_told([panel.id for panel in rings], in_order=True),
        sizes=sizes,
    )


def _hole_said(work: Work, hole: Ring) -> str:
    """How large a hole is cut, along the grid, or across where it is round: half the undersize off on every side."""
    box, off = box_of(map(work.ceiling.layout.frame.inward, hole)), work.ceiling.system.panel_undersize
    width, depth = (work.said(side + off, Rounding.UP) for side in (box.width, box.height))
    return (
        said("hole of {width}", width=width)
        if len(hole) > MOST_CORNERS
        else said("hole of {width} x {depth}", width=width, depth=depth)
    )


def low_panels(work: Work) -> str:
    """All panels of a grid on the joists, where none can be tilted."""
    corner = _corner_panel(work)
    begin = said("Begin at {first_corner}", first_corner=work.first_corner)
    if corner is not None:
        begin += said(" with panel {corner}, cut to {size}", corner=corner.id, size=_size_said(work, corner))
    text = said(
        "{begin}. There is no room to tilt a panel: lift it level beside its place, slide it onto the "
        "track and the lip of the carrier, hook in the next cross tee, and go on along the row. The last "
        "panel of a row goes in bent or in two slides, before its cross tee.",
        begin=begin,
    )
    return joined(filter(None, (text, panel_rows(work))))


def _corner_panel(work: Work) -> Panel | None:
    """The cut panel nearest the reference corner; None when nothing is cut."""
    corner = work.room.outline[0]
    cut = [panel for panel in work.ceiling.panels if not panel.full_size]
    near = [(min(distance(point, corner) for point in panel.outline), panel.id, panel) for panel in cut]
    return min(near, key=lambda one: one[:2])[2] if near else None


def _size_said(work: Work, panel: Panel) -> str:
    """What to saw; what else is cut away only the template tells."""
    size = spoken_cut(panel.cut_to, work.room.units)
    if panel.shape == "curved":
        return said("{size} over all, curved as its template shows", size=size)
    if panel.shape == "notched":
        return said("{size}, notched as its template shows", size=size)
    if panel.shape == "shaped":
        return said("{size} over all, shaped as its template shows", size=size)
    return size


def panel_rows(work: Work) -> str:
    """The cut and drilled panels of each row, where a list of them can still be read and rows lie along the walls."""
    rows: dict[int, list[Panel]] = {}
    for panel in work.ceiling.panels:
        rows.setdefault(panel.cell[1], []).append(panel)
    slanted = abs(work.ceiling.layout.frame.angle_deg % 90) > TOLERANCE_DEG
    if not rows or slanted or len(rows) > MOST_ROWS or max(map(len, rows.values())) > 2 * MOST_NAMES:
        return ""
    told = []
    for number, row in enumerate(sorted(rows), 1):
        ids = [panel.id for panel in sorted(rows[row], key=lambda panel: panel.cell[0])]
        counted = (f"{n} x {name}" if n > 1 else name for name, n in ((k, len(list(g))) for k, g in groupby(ids)))
        told.append(said("row {number}: {panels}", number=number, panels=names_told(counted, in_order=True)))
    return said("In rows from the front, each from the left, these are not whole: {rows}.", rows=joined(told, "; "))
