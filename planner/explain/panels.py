"""Why a panel is cut to its size, and what it is cut from.

In: a `Job` and a panel. Out: an explanation. Sizes are the layout's, places on bought panels those of the cutting.
"""

from collections.abc import Iterator

import shapely

from planner.ceiling.marks import tape_mark
from planner.ceiling.model import Panel, Shape
from planner.explain.model import COMPUTED, PRACTICE, Explanation, Job, Step
from planner.explain.words import listed
from planner.geometry import TOLERANCE_MM
from planner.lengths import Rounding, spoken_cut
from planner.wording import counted

_SHAPES: dict[Shape, str] = {
    "plain": "",
    "tapered": "",
    "curved": " over all, curved as its template shows",
    "notched": ", notched as its template shows",
    "shaped": " over all, shaped as its template shows",
}
#: By a quarter turn to the left, by half a turn.
_TURNED = {
    (False, False): "",
    (True, False): ", given a quarter turn",
    (False, True): ", given half a turn",
    (True, True): ", given three quarter turns",
}
UNDERSIZE = "opening less the panel's undersize, down to a mark on the tape"


def explain_panel(job: Job, panel: Panel) -> Explanation:
    """One panel that is cut or drilled."""
    steps = [*_place_steps(job, panel), *_size_steps(job, panel), *_hole_steps(job, panel), *_stock_steps(job, panel)]
    return Explanation(panel.id, "panel", _answer(job, panel), tuple(steps))


def undersize_source(job: Job) -> str:
    """Where the system has it from how much smaller than their openings panels are."""
    return next((source for what, source in job.system.sources if what == "panel undersize"), PRACTICE)


def _answer(job: Job, panel: Panel) -> str:
    if panel.full_size:
        return f"A whole panel, drilled for {listed(cut.service for cut in panel.cutouts)}."
    size = spoken_cut(panel.cut_to, job.room.units)
    return f"Cut to {size}{_SHAPES[panel.shape]}."


def _size(job: Job, size: tuple[float, float], rounding: Rounding = Rounding.NEAREST) -> str:
    return f"{job.said(size[0], rounding)} x {job.said(size[1], rounding)}"


def _place_steps(job: Job, panel: Panel) -> Iterator[Step]:
    """Where it is, which walls cut it, and which others are cut alike."""
    outline = shapely.Polygon(panel.outline)
    near = outline.buffer(10 * TOLERANCE_MM)
    walls = [wall.name for wall in job.room.walls if near.intersection(shapely.LineString(wall.points)).length > 1.0]
    columns = [column.name for column in job.room.columns if shapely.Polygon(column.outline).intersects(near)]
    if walls:
        yield Step(f"It lies at {listed(walls)}.")
    if columns:
        yield Step(f"It is cut round {listed(columns)}.")
    letter = panel.id.rstrip("0123456789")
    alike = [other.id for other in job.plan.ceiling.panels if other.id.rstrip("0123456789") == letter]
    if len(alike) > 1:
        yield Step(
            f"Cut alike, so of one letter: {listed(alike)}.", len(alike), "panels", "one letter for each cut", PRACTICE
        )


def _size_steps(job: Job, panel: Panel) -> Iterator[Step]:
    """From the opening to the size to saw."""
    undersize = job.system.panel_undersize
    source = undersize_source(job)
    for axis, side in enumerate(job.ways):
        opening, cut_to, module = panel.opening[axis], panel.cut_to[axis], job.layout.module[axis]
        size = spoken_cut((cut_to,), job.room.units)
        if cut_to >= module - undersize - TOLERANCE_MM:
            text = f"{side} it is whole: {job.said(module)} - {job.said(undersize)} = {size}."
        elif opening - undersize - cut_to < tape_mark(job.room.imperial) - TOLERANCE_MM:
            text = (
                f"{side} its opening is {job.said(opening)}, between walls and tees: "
                f"{job.said(opening)} - {job.said(undersize)} = {size}, rounded down."
            )
        else:
            text = (
                f"{side} its opening is {job.said(opening)}; half the undersize of {job.said(undersize)} off every "
                f"side, off those that lean too, leaves {size}, rounded down."
            )
        yield Step(text, cut_to, "mm", UNDERSIZE, source)
    if panel.taper > TOLERANCE_MM:
        text = f"The wall runs out of line: the two ends differ by {job.said(panel.taper)}; the size is the larger one."
        yield Step(text, panel.taper, "mm")


def _hole_steps(job: Job, panel: Panel) -> Iterator[Step]:
    for cut in panel.cutouts:
        what = f"round, {job.said(cut.size[0])}" if cut.shape == "round" else _size(job, cut.size)
        yield Step(f"A hole for {cut.service}: {what}.", cut.size[0], "mm")


def _stock_steps(job: Job, panel: Panel) -> Iterator[Step]:
    """The bought panel that it comes from."""
    if panel.full_size:
        yield Step("Only drilled: it is a whole panel of the order.", 1, "panels")
        return
    cutting = job.plan.stock.panels
    for number, bought in enumerate(cutting.panels if cutting else (), 1):
        mine = next((piece for piece in bought.pieces if piece.panel == panel.id), None)
        if mine is None or cutting is None:
            continue
        others = [piece.panel for piece in bought.pieces if piece is not mine]
        turned = _TURNED[mine.turned, mine.half]
        text = f"It comes off bought panel {number} of {len(cutting.panels)}, {_size(job, cutting.size)}"
        at = f"{job.said(mine.at[0])} from its left and {job.said(mine.at[1])} from its front edge{turned}"
        rest = f"together with {listed(others)}" if others else "by itself"
        yield Step(f"{text}: {at}, {rest}.", number, "panel", "fewest panels, with proof", COMPUTED)
        if not others and cutting.proven:
            text = f"All {counted(cutting.one_each, 'cut panel')} take {cutting.bought}; no way of cutting takes fewer."
            yield Step(text, cutting.bought, "panels")
