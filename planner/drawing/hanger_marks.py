"""Whose wire it is, where that is in doubt: the name of a service beside the sign of its wire, if another is as near.

In: a board on which services are marked. Out: names on it, where there is room.
"""

from planner.drawing.board import Board, around
from planner.drawing.hanger_symbols import SERVICE_HALF
from planner.drawing.labels import MASK
from planner.drawing.lettering import clean
from planner.drawing.roles import Role
from planner.drawing.wrapping import shortened
from planner.geometry import Box, Point

#: A wire so near to another service on paper may be read as its, millimetres.
_NEAR = 4.0
_LONGEST = 20.0


def mark_shared_wires(board: Board) -> None:
    """Letter the wires of services that stand at others too."""
    boxes = [(service.name, _box(service.at, service.size)) for service in board.plan.ceiling.services]
    height = board.heights[Role.MEMBER_MARK]
    half = (SERVICE_HALF, SERVICE_HALF)
    for wire in board.plan.ceiling.hangers:
        near = _NEAR * board.scale
        if wire.kind == "service wire" and any(
            name != wire.member and _holds(box.grown(near), wire.overhead) for name, box in boxes
        ):
            text = shortened(clean(wire.member), _LONGEST, height)
            places = around(Role.MEMBER_MARK, text, board.paper(wire.overhead), half, 0.4)
            clear = (board.bodies, board.walls, board.dims)
            board.letter(places, *clear, board.strokes) or board.letter(places, *clear, board.mains, mask=MASK)


def _box(at: Point, size: tuple[float, float]) -> Box:
    (x, y), (w, d) = at, size
    return Box(x - w / 2, y - d / 2, x + w / 2, y + d / 2)


def _holds(box: Box, point: Point) -> bool:
    return box.left <= point[0] <= box.right and box.bottom <= point[1] <= box.top
