"""The id of each run and tee beside it, the ids of members that lie beside each other in a row and on one side.

In: a board on which corners, services and findings are marked. Out: ids on it, clear of walls, of the trim on them and
of splices. Every run bears the cut length of its first piece too, called that; or where one has no room for it, none.
"""

import math
from collections.abc import Iterator, Sequence
from itertools import groupby

from planner.ceiling.members.left_first import pieces_in_order, runs_backwards
from planner.ceiling.model import Member
from planner.drawing import words
from planner.drawing.board import Board
from planner.drawing.dimensions import written_piece
from planner.drawing.labels import MASK, Taken, descent, grown_ring, steady
from planner.drawing.lettering import text_width
from planner.drawing.member_roles import MEMBER_ROLES, RUNS
from planner.drawing.roles import Role
from planner.drawing.shapes import Text
from planner.geometry import Point
from planner.records import dataclass

#: Where grid lines are closer on paper than this, in heights of capitals, no letters find room between them.
_LEGIBLE = 1.2
#: Members lettered one by one.
_MOST_MARKS = 1500
#: From the end of a member to its id, millimetres: clear of the trim on the wall there; and from one place to the next.
_FROM_END = 1.6
_STEP = 2.5
_STEPS = 20
#: Members of a row that its place is chosen by.
_SAMPLE = 40
_GAP = 0.15


@dataclass(frozen=True, slots=True)
class _Place:
    """A place for letters: so far from the start of the member, above (1) or below (-1) it."""

    off: float
    side: float


def mark_members(board: Board) -> None:
    """Letter runs, then tees; a remark says how many have no room."""
    members = board.plan.ceiling.members
    runs = [member for member in members if member.kind in RUNS]
    others = [member for member in members if member.kind in ("cross tee", "furring strip")]
    between = min(board.plan.ceiling.layout.module) / board.scale
    legible = between >= _LEGIBLE * board.heights[Role.MEMBER_MARK]
    shown, more = (runs[:_MOST_MARKS], others[: max(0, _MOST_MARKS - len(runs))]) if legible else ([], [])
    lettered = _mark_runs(board, shown) + sum(_mark_row(board, row) for row in _rows(more))
    if left_out := len(runs) + len(others) - lettered:
        board.remarks.append(words.say("left out.member marks", n=left_out, of=len(runs) + len(others)))


def _mark_runs(board: Board, runs: Sequence[Member]) -> int:
    """Letter all runs with their first pieces, or else all without; how many are lettered."""
    before = board.texts.copy(), len(board.shapes)
    firsts = {run.id: _with_first(board, run) for run in runs}
    if all(_mark_row(board, row, firsts) == len(row) for row in _rows(runs)):
        return len(runs)
    board.texts = before[0]
    del board.shapes[before[1] :]
    return sum(_mark_row(board, row) for row in _rows(runs))


def _with_first(board: Board, run: Member) -> str:
    """The id of a run and its first piece; its only piece is as long as the run."""
    if not run.pieces:
        return run.id
    pieces = pieces_in_order(run)
    length = written_piece(pieces[0].length, board.plan.room.units, whole=pieces[0].whole)
    if len(pieces) == 1 and pieces[0].count == 1:
        return words.say("framing.only piece", id=run.id, length=length)
    return words.say("framing.first piece", id=run.id, length=length)


def _rows(members: Sequence[Member]) -> Iterator[list[Member]]:
    """Members of one kind that run the same way."""

    def way(member: Member) -> tuple[str, int]:
        return member.kind, round(10 * _direction(member)) % 1800

    for _, row in groupby(sorted(members, key=way), key=way):
        yield list(row)


def _direction(member: Member) -> float:
    (ax, ay), (bx, by) = member.start, member.end
    return math.degrees(math.atan2(by - ay, bx - ax))


def _mark_row(board: Board, row: Sequence[Member], said: dict[str, str] | None = None) -> int:
    """Letter members beside each other, where most of them have room; how many are lettered."""
    texts = said or {member.id: member.id for member in row}
    clear = (board.bodies, board.walls, board.trim)
    free = (*clear, board.strokes, board.faint)
    first = _common(board, row, texts, free)
    return sum(_mark(board, member, texts[member.id], first) for member in row)


def _common(board: Board, row: Sequence[Member], texts: dict[str, str], avoid: Sequence[Taken]) -> _Place:
    """The place at which most members of a row have room, the nearest to their starts first."""
    counts: dict[_Place, int] = {}
    for member in row[:: max(1, len(row) // _SAMPLE)]:
        text = texts[member.id]
        for place in _places(board, member, text):
            letters = _lettered(board, member, text, place)
            ring = grown_ring(letters, board.heights[Role.MEMBER_MARK], _GAP)
            free = board.texts.free(ring) and all(taken.free(ring) for taken in avoid)
            key = _Place(round(place.off - text_width(text, board.heights[Role.MEMBER_MARK]) / 2, 3), place.side)
            counts[key] = counts.get(key, 0) + free
    return max(counts, key=lambda place: (counts[place], -place.off, place.side), default=_Place(_FROM_END, 1.0))


def _mark(board: Board, member: Member, text: str, first: _Place) -> bool:
    """Letter one member on every part of a plan that shows it, those behind the first with its id alone."""
    parts = list(
        board.by_part(_lettered(board, member, member.id, place) for place in _places(board, member, member.id))
    )
    done = [_mark_on(board, member, text if k == 0 else member.id, first, part) for k, part in enumerate(parts)]
    return done[0] if done and text != member.id else any(done)


def _mark_on(board: Board, member: Member, text: str, first: _Place, part: tuple[int, int]) -> bool:
    """Letter a member on one part: as near as can be to where others of its row are lettered, and on the same side."""
    walls = (board.bodies, board.walls, board.trim)
    clear, free = (*walls, board.strokes), (*walls, board.strokes, board.faint)
    half = text_width(text, board.heights[Role.MEMBER_MARK]) / 2
    known = sorted(_places(board, member, text), key=lambda place: abs(place.off - half - first.off))
    own, other = (
        board.by_part(_lettered(board, member, text, place) for place in known if place.side == side).get(part, [])
        for side in (first.side, -first.side)
    )
    tries = [(own, free, 0.0), (own, clear, MASK), (other, free, 0.0), (other, clear, MASK)]
    if member.kind in RUNS:
        tries.append((own + other, (*walls, board.mains), MASK))
    return any(board.letter(some, *avoid, gap=_GAP, mask=mask) for some, avoid, mask in tries)


def _places(board: Board, member: Member, text: str) -> list[_Place]:
    """Places beside a member, above it and then below: close to each other from its start on, then all along it.

    Words about the first piece stay beside that.
    """
    long = math.dist(board.paper(member.start), board.paper(member.end))
    half = text_width(text, board.heights[Role.MEMBER_MARK]) / 2
    margin = _FROM_END + board.plan.ceiling.system.ledge / board.scale + half
    last = long - margin
    if text != member.id and member.pieces:
        last = min(last, pieces_in_order(member)[0].length / member.length * long - half)
    offs = [margin + _STEP * k for k in range(_STEPS)]
    offs += [off for off in (k * long / 24 for k in range(1, 24)) if off > offs[-1]]
    return [_Place(off, side) for off in offs if off <= last for side in (1.0, -1.0)]


def _lettered(board: Board, member: Member, text: str, place: _Place) -> Text:
    """The letters of a member at a place beside it."""
    a, b = board.paper(member.start), board.paper(member.end)
    if runs_backwards(member):
        a, b = b, a
    long = math.dist(a, b)
    way = ((b[0] - a[0]) / long, (b[1] - a[1]) / long)
    height = board.heights[Role.MEMBER_MARK]
    along = math.degrees(math.atan2(way[1], way[0]))
    angle, edge = steady(along), board.heights.pen(MEMBER_ROLES[member.kind]) / 2
    above = math.copysign(1.0, math.cos(math.radians(angle - along)))
    lift = above * ((0.5 + descent(text)) * height + edge + MASK + 0.05)
    if place.side < 0:
        lift = -above * (0.5 * height + edge + 0.5)
    at: Point = (a[0] + place.off * way[0] - lift * way[1], a[1] + place.off * way[1] + lift * way[0])
    return Text(Role.MEMBER_MARK, at, text, "centre", "middle", angle)
