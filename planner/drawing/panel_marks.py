"""The id in each cut panel, so that the sheet and the stack of cut panels can be read against each other.

In: a board on which everything else is lettered. Out: ids where they have room, and ids with a line to their panel
where they have not; ids across tees, or class letters, where there is no room for either; and a remark that names
whatever is left out, in order.
"""

from collections.abc import Iterator, Sequence

from planner.ceiling.model import Panel
from planner.drawing import words
from planner.drawing.board import Board, turn_of
from planner.drawing.labels import MASK, grown_ring, readable, rings_overlap
from planner.drawing.led_marks import lead_to, panel_class
from planner.drawing.lettering import text_width
from planner.drawing.plan_lines import MOST_PANELS
from planner.drawing.roles import Role
from planner.drawing.shapes import Text
from planner.drawing.within import lies_in
from planner.geometry import Box, box_of
from planner.naming import names_told

__all__ = ["mark_panels", "panel_class"]

#: From the edge of a panel to its id, where there is room: beyond the wall angle; millimetres.
_CLEAR = 0.7
#: From an id to other letters, millimetres.
_GAP = 0.15
#: Where an id may stand, as shares of the width and depth of its panel.
_QUARTERS = (0.5, 0.25, 0.75)
_SHARES = (
    *((x, y) for x in _QUARTERS for y in _QUARTERS),
    *((x, y) for x in (0.5, 0.15, 0.35, 0.65, 0.85) for y in (0.5, 0.15, 0.35, 0.65, 0.85) if (x, y) != (0.5, 0.5)),
)


def mark_panels(board: Board, reach: Box) -> None:
    """Each cut panel's id: in it, else led to it from within `reach`; else its letters alone; else a remark."""
    panels = board.plan.ceiling.panels[:MOST_PANELS]
    outside = [panel for panel in panels if not _mark_clear(board, panel)]
    unled = lead_to(board, outside, reach)
    crossed = [panel for panel in unled if not _mark_inside(board, panel, panel.id)]
    bare = [panel for panel in crossed if not _mark_inside(board, panel, panel_class(panel))]
    if len(unled) < len(outside):
        board.remarks.append(words.say("left out.led panels"))
    if len(bare) < len(crossed):
        board.remarks.append(words.say("left out.class letters only"))
    if bare:
        board.remarks.append(words.say("left out.panel marks", names=_from_the_left(bare)))
    if len(board.plan.ceiling.panels) > MOST_PANELS:
        board.remarks.append(words.say("left out.panels", n=len(board.plan.ceiling.panels) - MOST_PANELS))


def _from_the_left(panels: Sequence[Panel]) -> str:
    """The ids of panels as they follow each other from left to right, of those one above the other the front one first:
    by that they can be told even without a mark.
    """
    centres = {panel.id: box_of(panel.outline).centre for panel in panels}
    return words.translated(names_told(sorted(centres, key=centres.__getitem__), in_order=True))


def _mark_clear(board: Board, panel: Panel) -> bool:
    """The id of a panel in it, on no tee; on the edge of the wall angle, which is left out below, where it must be."""
    clear = (board.bodies, board.walls, board.dims, board.strokes, board.names)
    places = list(_panel_places(board, panel, panel.id))
    return board.letter(places, *clear, board.faint, gap=_GAP) or board.letter(places, *clear, gap=MASK, mask=MASK)


def _mark_inside(board: Board, panel: Panel, text: str) -> bool:
    """Letter a panel clear of walls, signs and dimensions; False without room."""
    clear = (board.bodies, board.walls, board.dims)
    return board.letter(_panel_places(board, panel, text), *clear, gap=MASK, mask=MASK)


def _panel_places(board: Board, panel: Panel, text: str) -> Iterator[Text]:
    """Places within a panel: its middle first, then towards its sides; along the grid, then across.

    Those that keep clear of the wall angle come before those that do not; none lies on the tees around the panel.
    """
    ring = tuple(map(board.paper, panel.outline))
    holes = [tuple(map(board.paper, hole)) for hole in panel.holes]
    box = box_of(ring)
    height = board.heights[Role.PANEL_MARK]
    if max(box.width, box.height) < text_width(text, height) or min(box.width, box.height) < height:
        return
    turn, edge = turn_of(board.plan), board.heights.pen(Role.MAIN_TEE) / 2
    for clear in (_CLEAR, edge):
        for x, y in _SHARES:
            for angle in (turn, readable(turn + 90.0)):
                at = (box.left + x * box.width, box.bottom + y * box.height)
                place = Text(Role.PANEL_MARK, at, text, "centre", "middle", angle)
                letters = grown_ring(place, height, clear)
                if lies_in(letters, ring) and not any(rings_overlap(letters, hole) for hole in holes):
                    yield place
