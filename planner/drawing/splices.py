"""Where two pieces of one line meet: a tick across it, which nothing hides.

In: members, the signs of what hangs them, a scale. Out: a tick for each joint, of a cover strip on one side only, since
it lies on a carrier with joints of its own. Where the sign of a hanger or a brace lies on a joint, the tick is left out
below it and is so much longer beside it.
"""

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence

from planner.ceiling.model import Ceiling, Member
from planner.drawing import words
from planner.drawing.hanger_symbols import BRACE_HALF, HALF, WIDEST
from planner.drawing.legend import Entry, stroke_sample
from planner.drawing.member_roles import JOINTED, MEMBER_ROLES, RUNS
from planner.drawing.roles import Role
from planner.drawing.shapes import Line
from planner.geometry import Point, distance

#: Half a tick, and from the edge of a sign to a tick beside it, paper millimetres.
_TICK = 1.6
_CLEAR = 0.3


def splices(ceiling: Ceiling, scale: float) -> tuple[Line, ...]:
    """The ticks of all members at 1:`scale`."""
    signs = [(hanger.overhead, WIDEST * HALF) for hanger in ceiling.hangers]
    signs += [(brace, BRACE_HALF) for brace in ceiling.braces]
    ticks = (tick for member in ceiling.members for tick in splice_ticks(member, scale))
    found = _Signs(signs, scale)
    return tuple(part for tick in ticks for part in _beside(tick, found, scale))


def joint_entries(members: Iterable[Member]) -> Iterator[Entry]:
    """The signs of joints, for a legend: of runs, and of cover strips, as far as there are any."""
    jointed = {member.kind: member for member in members if next(splice_ticks(member, 1.0), None)}
    for kinds in (RUNS, ("cover strip",)):
        if kind := next((kind for kind in kinds if kind in jointed), None):
            tick = Line(Role.SPLICE, (0.0, -_TICK), (0.0, _TICK if kind in RUNS else 0.0))
            yield Entry(
                (*stroke_sample(MEMBER_ROLES[kind]), tick),
                words.say("legend.splice" if kind in RUNS else "legend.cover joint"),
            )


def splice_ticks(member: Member, scale: float) -> Iterator[Line]:
    """A tick across a member at each joint between two of its pieces, where it is put together from several."""
    if member.kind not in JOINTED:
        return
    long = distance(member.start, member.end)
    if long == 0.0:
        return
    way = ((member.end[0] - member.start[0]) / long, (member.end[1] - member.start[1]) / long)
    cover = member.kind == "cover strip"
    title = words.say("framing.cover joint title" if cover else "framing.splice title", id=member.id)
    low, high = _TICK * scale, 0.0 if cover else _TICK * scale
    lengths = [piece.length for piece in member.pieces for _ in range(piece.count)]
    for at in itertools.accumulate(lengths[:-1]):
        x, y = member.start[0] + at * way[0], member.start[1] + at * way[1]
        start, end = (x + low * way[1], y - low * way[0]), (x - high * way[1], y + high * way[0])
        yield Line(Role.SPLICE, start, end, title)


class _Signs:
    """Signs, each with half its width on paper, found again by squares: a hall has tens of thousands of them."""

    def __init__(self, signs: Sequence[tuple[Point, float]], scale: float) -> None:
        self._scale = scale
        self._side = (max((half for _, half in signs), default=0.0) + _CLEAR) * scale
        self._squares: dict[tuple[int, int], list[tuple[Point, float]]] = {}
        for at, half in signs:
            self._squares.setdefault(self._square(at), []).append((at, half))

    def over(self, spot: Point) -> list[float]:
        """Half the width of each sign that hides a place in the room."""
        i, j = self._square(spot)
        around = itertools.product((i - 1, i, i + 1), (j - 1, j, j + 1))
        near = itertools.chain.from_iterable(self._squares.get(square, ()) for square in around)
        return [half for at, half in near if math.dist(at, spot) < (half + _CLEAR) * self._scale]

    def _square(self, at: Point) -> tuple[int, int]:
        return math.floor(at[0] / self._side), math.floor(at[1] / self._side)


def _beside(tick: Line, signs: _Signs, scale: float) -> Iterator[Line]:
    """A tick, or what of it is beside the signs that hide it, and as much further out."""
    long, short = math.dist(tick.start, tick.end), _TICK * scale
    u, v = (tick.end[0] - tick.start[0]) / long, (tick.end[1] - tick.start[1]) / long
    x, y = tick.start[0] + short * u, tick.start[1] + short * v
    covering = signs.over((x, y))
    if not covering:
        yield tick
        return
    near = (max(covering) + _CLEAR) * scale
    for side in (-1.0, 1.0)[: 2 if long > 1.5 * short else 1]:
        a, b = side * near, side * (near + short)
        yield Line(Role.SPLICE, (x + a * u, y + a * v), (x + b * u, y + b * v), tick.title)
