"""Cut panels of which some are no rectangles: packed by their true shapes, and each laid as a person would cut it.

In: pieces with their shapes, and how they are cut as boxes. Out: the same with fewer panels, if there is a way, and a
bound that holds over the true shapes. Where a piece has room for it, its sides on tees are the panel's own edges.
"""

import re
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely import Polygon, affinity

from planner.geometry import Ring
from planner.runs.effort import Effort
from planner.stock.covering.cover import Counts
from planner.stock.model import CutPanel, PanelCutting, PanelPiece
from planner.stock.panelwork.forms import DOUBT_MM, REACHES_MM, Form
from planner.stock.panelwork.guillotine import Size
from planner.stock.panelwork.nested import MOST_FORMS, by_area, nest
from planner.stock.panelwork.reveal import Sides
from planner.stock.panelwork.sets import Sets, Spot
from planner.stock.panelwork.strips import cut_strips
from planner.stock.saw import kerf_tenths, tenths

#: Size, sides on tees and shape of a piece; no shape: a rectangle.
Piece = tuple[tuple[float, float], Sides, Polygon | None]

#: Of the effort so much is left for laying what was packed as boxes.
_FOR_PACKING = 0.8
#: Of a millimetre, without float noise.
_DIGITS = 6
_NUMBER = re.compile(r"\d+$")


def by_shape(
    pieces: Mapping[str, Piece], boxed: PanelCutting, *, turns: bool, revealed: bool, budget_s: float
) -> PanelCutting:
    """Better a cutting that took shapes for boxes; `turns`, `revealed` as of `PanelRules`."""
    names = _alike(pieces)
    forms = [_form([pieces[name] for name in group], boxed.size) for group in names]
    demand = [len(group) for group in names]
    effort = Effort.of(budget_s)
    if len(forms) > MOST_FORMS:
        return _as_boxes(pieces, boxed, forms, demand, turns=turns, budget_s=budget_s)
    sets = Sets(forms, boxed.size, boxed.kerf, turns=turns, kept=revealed)
    nested = nest(forms, demand, boxed.size, sets, boxed.bought, effort.part(_FOR_PACKING))
    if nested.plan:
        panels = tuple(_dealt(nested.plan, [iter(group) for group in names], pieces))
    else:
        kinds = {name: k for k, group in enumerate(names) for name in group}
        panels = tuple(_laid(panel, pieces, kinds, sets, effort) for panel in boxed.panels)
    return replace(
        boxed,
        panels=panels,
        bought=sum(panel.count for panel in panels),
        lower_bound=nested.bound,
        by_area=by_area(forms, demand, boxed.size),
        certificate=None,
        shaped=True,
    )


def _as_boxes(
    pieces: Mapping[str, Piece],
    boxed: PanelCutting,
    forms: Sequence[Form],
    demand: Sequence[int],
    *,
    turns: bool,
    budget_s: float,
) -> PanelCutting:
    """With too many forms to pack: what was packed as boxes stays so; only what is alone on a panel lies as it will.

    The bound holds over the shapes: it is that of the strips which lie in them, as long as the panel.
    """
    area = by_area(forms, demand, boxed.size)
    strips = max(_strips_needed([_strip(form, boxed.size) for form in forms], demand, boxed, turns, budget_s), area)
    panels = tuple(_at_home(panel, pieces, boxed.size) for panel in boxed.panels)
    return replace(
        boxed, panels=panels, lower_bound=min(strips, boxed.bought), by_area=area, certificate=None, shaped=True
    )


def _strips_needed(
    strips: Sequence[tuple[float, float]], demand: Sequence[int], boxed: PanelCutting, turns: bool, budget_s: float
) -> int:
    """Panels that take strips at least; what is no strip is left out."""
    kerf = kerf_tenths(boxed.kerf)
    room = Size(tenths(boxed.size[0]) + kerf, tenths(boxed.size[1]) + kerf)
    sizes = [Size(tenths(wide) + kerf, tenths(deep) + kerf) for wide, deep in strips]
    return cut_strips(room, sizes, demand, None, turns, budget_s).certificate.bound


def _strip(form: Form, panel: tuple[float, float]) -> tuple[float, float]:
    """The widest strip as long as the panel that lies in a convex form for certain; a crumb where none does."""
    crumb = (0.1, 0.1)
    if len(form.parts) > 1:
        return crumb
    found = []
    for axis in (0, 1):
        if form.size[1 - axis] < panel[1 - axis] - REACHES_MM:
            continue
        near = [p[axis] for p in form.parts[0] if p[1 - axis] <= REACHES_MM]
        far = [p[axis] for p in form.parts[0] if p[1 - axis] >= form.size[1 - axis] - REACHES_MM]
        wide = min(max(near), max(far)) - max(min(near), min(far)) - form.slack - DOUBT_MM
        if wide > 0:
            found.append((wide, panel[1]) if axis == 0 else (panel[0], wide))
    return max(found, key=min, default=crumb)


def _at_home(panel: CutPanel, pieces: Mapping[str, Piece], size: tuple[float, float]) -> CutPanel:
    """A shape that is alone on its panel where its module would have it."""
    name = panel.pieces[0].panel
    told, _, shape = pieces[name]
    if len(panel.pieces) > 1 or shape is None:
        return replace(panel, pieces=tuple(_drawn(piece, pieces) for piece in panel.pieces))
    at = (min(max(shape.bounds[0], 0.0), size[0] - told[0]), min(max(shape.bounds[1], 0.0), size[1] - told[1]))
    return CutPanel((_drawn(PanelPiece(name, at, told), pieces),), panel.count)


def _alike(pieces: Mapping[str, Piece]) -> list[list[str]]:
    """Names of pieces that are cut alike and sit alike in their modules, the largest first.

    Shapes of one class, told by the name without its number, are within a mark of the tape of each other.
    """
    groups: defaultdict[tuple[object, ...], list[str]] = defaultdict(list)
    for name, (size, tees, shape) in pieces.items():
        if shape is None:
            groups[size, tees].append(name)
        else:
            groups[_NUMBER.sub("", name), size, tuple(round(edge) for edge in shape.bounds)].append(name)
    return sorted(groups.values(), key=lambda group: -pieces[group[0]][0][0] * pieces[group[0]][0][1])


def _form(alike: Sequence[Piece], panel: tuple[float, float]) -> Form:
    """The form that holds every one of some pieces."""
    size, tees, shape = alike[0]
    if shape is None:
        x = panel[0] - size[0] if "right" in tees and "left" not in tees else 0.0
        y = panel[1] - size[1] if "back" in tees and "front" not in tees else 0.0
        return Form.of(shapely.box(x, y, x + size[0], y + size[1]), plain=True)
    both = shapely.union_all([each for _, _, each in alike])
    return Form.of(both if isinstance(both, Polygon) else shape)


def _dealt(
    plan: Sequence[tuple[tuple[Spot, ...], int]], names: Sequence[Iterator[str]], pieces: Mapping[str, Piece]
) -> Iterator[CutPanel]:
    for spots, times in plan:
        for _ in range(times):
            yield CutPanel(tuple(_piece(next(names[spot.form]), spot, pieces) for spot in spots))


def _piece(name: str, spot: Spot, pieces: Mapping[str, Piece]) -> PanelPiece:
    size, turned = pieces[name][0], spot.quarters % 2 == 1
    return _drawn(PanelPiece(name, spot.at, size[::-1] if turned else size, turned, spot.quarters >= 2), pieces)


def _drawn(piece: PanelPiece, pieces: Mapping[str, Piece]) -> PanelPiece:
    """The same with its true shape where it lies."""
    shape = pieces[piece.panel][2]
    if shape is None:
        return piece
    turned = affinity.rotate(shape, 90 * piece.turned + 180 * piece.half, origin=(0.0, 0.0))
    left, low, _, _ = turned.bounds
    moved = affinity.translate(turned, piece.at[0] - left, piece.at[1] - low)
    return replace(piece, rings=tuple(_ring(ring) for ring in (moved.exterior, *moved.interiors)))


def _ring(ring: shapely.LinearRing) -> Ring:
    return tuple((float(x), float(y)) for x, y in np.round(shapely.get_coordinates(ring)[:-1], _DIGITS))


def _laid(
    panel: CutPanel, pieces: Mapping[str, Piece], kinds: Mapping[str, int], sets: Sets, effort: Effort
) -> CutPanel:
    """A panel that was packed as boxes, its pieces laid anew by their shapes, if it holds any that are no boxes."""
    if all(pieces[piece.panel][2] is None for piece in panel.pieces):
        return panel
    mine: defaultdict[int, list[str]] = defaultdict(list)
    for piece in panel.pieces:
        mine[kinds[piece.panel]].append(piece.panel)
    counts: Counts = tuple(sorted(Counter(kinds[piece.panel] for piece in panel.pieces).items()))
    spots = sets.answer(counts, effort).spots
    if not spots:
        return replace(panel, pieces=tuple(_drawn(piece, pieces) for piece in panel.pieces))
    return CutPanel(tuple(_piece(mine[spot.form].pop(0), spot, pieces) for spot in spots), panel.count)
