"""Which panels are drilled, and the marks that all cut and drilled panels bear.

In: the layout and the holes that services need, by panel. Out: every panel that is cut or drilled, with its holes,
marked anew: panels that are cut alike and drilled alike, to a mark on the tape, share a class. Marks of undrilled
panels come first, so that they stay what the layout made them unless one of their class is drilled.
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import replace

from planner.ceiling.marks import class_letters, tape_mark
from planner.ceiling.model import Cell, CutOut, Panel
from planner.ceiling.seating.ground import Ground
from planner.geometry import box_of


def drilled_panels(
    ground: Ground, cutouts: Mapping[Panel | Cell, tuple[CutOut, ...]]
) -> tuple[tuple[Panel, ...], dict[str, str]]:
    """All cut and drilled panels, and by service the mark of the panel it is cut into.

    `cutouts` is keyed by cut panel, or by cell where the panel is whole.
    """
    if not cutouts:
        return ground.layout.cut_panels, {}
    plain = [panel for panel in ground.layout.cut_panels if panel not in cutouts]
    drilled = [
        replace(place if isinstance(place, Panel) else _whole_panel(ground, place), cutouts=holes)
        for place, holes in cutouts.items()
    ]
    drilled.sort(key=lambda panel: (panel.cell[1], panel.cell[0], panel.id))
    panels = tuple(
        replace(panel, id=f"{class_letters(index)}{number}")
        for index, alike in enumerate(_by_mark(plain) + _by_drilling(ground, drilled))
        for number, panel in enumerate(alike, start=1)
    )
    return panels, {hole.service: panel.id for panel in panels for hole in panel.cutouts}


def _whole_panel(ground: Ground, cell: Cell) -> Panel:
    box, module, less = ground.box(cell), ground.layout.module, ground.system.panel_undersize
    corners = ((box.left, box.bottom), (box.right, box.bottom), (box.right, box.top), (box.left, box.top))
    outline = tuple(map(ground.layout.frame.outward, corners))
    return Panel("", cell, outline, (), module, (module[0] - less, module[1] - less), 0.0, full_size=True)


def _by_mark(panels: Iterable[Panel]) -> list[list[Panel]]:
    """Undrilled panels class by class, in the order of their present marks."""
    classes: dict[str, list[tuple[int, Panel]]] = defaultdict(list)
    for panel in panels:
        letters = panel.id.rstrip("0123456789")
        classes[letters].append((int(panel.id[len(letters) :]), panel))
    order = sorted(classes, key=lambda letters: (len(letters), letters))
    return [[panel for _, panel in sorted(classes[letters], key=lambda pair: pair[0])] for letters in order]


def _by_drilling(ground: Ground, panels: Iterable[Panel]) -> list[list[Panel]]:
    """Drilled panels in groups that one template serves as it lies; a panel is not turned, for it may have a grain."""
    alike: dict[object, list[Panel]] = defaultdict(list)
    for panel in panels:
        alike[_template(ground, panel)].append(panel)
    return list(alike.values())


def _template(ground: Ground, panel: Panel) -> object:
    """The class it is cut in, and its holes from its own lower left corner in marks of the tape."""
    frame, mark = ground.layout.frame, tape_mark(ground.room.imperial)
    corner = box_of(map(frame.inward, panel.outline))
    holes = sorted(
        (_marks(x - corner.left, mark), _marks(y - corner.bottom, mark), hole.shape, hole.size)
        for hole in panel.cutouts
        for x, y in (frame.inward(hole.centre),)
    )
    return panel.id.rstrip("0123456789"), tuple(holes)


def _marks(length: float, mark: float) -> int:
    """The nearest mark; the small shift keeps halves, which are common, away from where rounding tips over."""
    return math.floor(length / mark + 0.5 + 0.001)
