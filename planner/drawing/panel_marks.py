"""The id in each cut panel, so that the sheet and the stack of cut panels can be read against each other.

In: a board on which everything else is lettered. Out: ids where they have room; class letters where most ids do not;
a remark for whatever is left out, since the schedule of cut panels can stand in for it.
"""

from collections.abc import Iterator

from planner.ceiling.model import Panel
from planner.drawing import words
from planner.drawing.board import Board, turn_of
from planner.drawing.labels import grown_ring, readable, rings_overlap
from planner.drawing.lettering import text_width
from planner.drawing.plan_lines import MOST_PANELS
from planner.drawing.roles import Role
from planner.drawing.shapes import Text
from planner.geometry import Point, Ring, box_of, edges

#: If more than this share of the panels has no room for its id, all bear their class letter only.
_TOO_MANY = 0.25
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


def mark_panels(board: Board) -> None:
    """Each cut panel's id; where too many have no room, the class letter alone; where even that fails, nothing."""
    panels = board.plan.ceiling.panels[:MOST_PANELS]
    short = sum(not any(_clear(board, place) for place in _panel_places(board, p, p.id)) for p in panels)
    letters_only = short > _TOO_MANY * len(panels)
    names = [panel_class(panel) if letters_only else panel.id for panel in panels]
    left_out = sum(
        not board.letter(_panel_places(board, panel, name), board.bodies, board.walls, gap=_GAP)
        for panel, name in zip(panels, names, strict=True)
    )
    if letters_only and left_out < len(panels):
        board.remarks.append(words.say("left out.class letters only"))
    if left_out:
        board.remarks.append(words.say("left out.panel marks", n=left_out, of=len(panels)))
    if len(board.plan.ceiling.panels) > MOST_PANELS:
        board.remarks.append(words.say("left out.panels", n=len(board.plan.ceiling.panels) - MOST_PANELS))


def panel_class(panel: Panel) -> str:
    """The letters of an id: panels of one class are cut alike."""
    return panel.id.rstrip("0123456789") or panel.id


def _clear(board: Board, text: Text) -> bool:
    ring = grown_ring(text, board.heights[text.role], _GAP)
    return all(taken.free(ring) for taken in (board.texts, board.bodies, board.walls))


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


def lies_in(inner: Ring, outer: Ring) -> bool:
    """True when a small convex ring lies in a polygon: its corners do, and no side of the polygon crosses it."""
    return all(inside(point, outer) for point in inner) and not any(rings_overlap(inner, edge) for edge in edges(outer))


def inside(point: Point, ring: Ring) -> bool:
    """Even-odd rule."""
    x, y = point
    hit = False
    for (ax, ay), (bx, by) in edges(ring):
        if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
            hit = not hit
    return hit
