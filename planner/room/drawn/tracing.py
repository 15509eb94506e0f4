"""Strokes, straight or bowed, to closed loops.

In come strokes in any order and direction, in millimetres; out come the loops they close, tidied, and everything that
did not close, so that whoever asked can say so. Rules: ends within `TOLERANCE_MM` are the same point; loose ends that
are no further apart than the allowed gap are joined; where three strokes meet nothing is guessed. Common practice, no
source.
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from shapely import MultiPoint

from planner.arcs import arc_middle
from planner.geometry import TOLERANCE_MM, Point, box_of, distance, midpoint
from planner.records import dataclass
from planner.room.drawn.loops import Loop, Stroke, tidied

#: A loop whose hull is less than this (square millimetres) is a line drawn there and back.
NOTHING_MM2 = 1.0

Gap = tuple[Point, Point]


@dataclass(frozen=True, slots=True)
class Tangle:
    """Strokes that hang together where three or more of them meet."""

    strokes: tuple[Stroke, ...]
    meetings: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Traced:
    """What strokes amount to."""

    loops: tuple[Loop, ...]  #: counter-clockwise, each from its lowest vertex, the largest first
    chains: tuple[tuple[Stroke, ...], ...]  #: open ones, each in running order
    tangles: tuple[Tangle, ...]
    bridged: tuple[Gap, ...]  #: gaps that were closed
    doubled: tuple[Point, ...]  #: a point of each stroke or loop that was drawn twice


def trace(strokes: Iterable[Stroke], closed: Iterable[Loop] = (), *, at_most_gap_mm: float = 1.0) -> Traced:
    """Join strokes to loops; `closed` are loops that were drawn as such, run either way, to be tidied with the rest."""
    graph = _Graph(strokes)
    graph.bridge(max(at_most_gap_mm, TOLERANCE_MM))
    chains, tangles, found = [], [], []
    for part in graph.parts():
        if meetings := graph.meetings(part):
            tangles.append(Tangle(tuple(graph.stroke(k) for k in part), meetings))
            continue
        run = graph.run(part)
        if graph.loose(part):
            chains.append(run)
        else:
            found.append(Loop(tuple(s.start for s in run), tuple(s.bulge for s in run)))
    tidy = [loop for loop in map(tidied, [*closed, *found]) if loop and _encloses(loop)]
    loops, twins = _unlike(sorted(tidy, key=lambda loop: -loop.area))
    return Traced(loops, tuple(chains), tuple(tangles), tuple(graph.bridged), (*graph.doubled, *twins))


def _encloses(loop: Loop) -> bool:
    """False for a line drawn there and back, and for one so little bowed that a ring cannot tell.

    By the hull, because a loop that crosses itself, which somebody must be told of, may have no area.
    """
    return MultiPoint(loop.ring()).convex_hull.area > NOTHING_MM2


class _Graph:
    """Strokes by the points where they end; built once, bridged once, then read."""

    def __init__(self, strokes: Iterable[Stroke]) -> None:
        places = _Places(TOLERANCE_MM)
        self.ends: list[tuple[int, int]] = []  # node at the start and at the end of each stroke
        self.bulges: list[float] = []
        self.bridged: list[Gap] = []
        self.doubled: list[Point] = []
        known: set[tuple[int, int, float]] = set()
        for stroke in strokes:
            for half in _halved(stroke):
                if half.length > TOLERANCE_MM:
                    self._add(half, places.node(half.start), places.node(half.end), known)
        self.at = places.points
        self.ways = self._ways()

    def _add(self, stroke: Stroke, start: int, end: int, known: set[tuple[int, int, float]]) -> None:
        """Take a stroke in, unless it is as good as a point or is there already, in either direction."""
        if start == end:
            return
        key = (start, end, stroke.bulge) if start <= end else (end, start, -stroke.bulge)
        key = (key[0], key[1], round(key[2], 6) + 0.0)
        if key in known:
            self.doubled.append(arc_middle(stroke.start, stroke.end, stroke.bulge))
            return
        known.add(key)
        self.ends.append((start, end))
        self.bulges.append(stroke.bulge)

    def _ways(self) -> dict[int, list[int]]:
        """The strokes at each node."""
        ways: dict[int, list[int]] = defaultdict(list)
        for k, (start, end) in enumerate(self.ends):
            ways[start].append(k)
            ways[end].append(k)
        return ways

    def stroke(self, k: int) -> Stroke:
        start, end = self.ends[k]
        return Stroke(self.at[start], self.at[end], self.bulges[k])

    def bridge(self, widest: float) -> None:
        """Join loose ends, the closest pairs first; a scrap shorter than three gaps is not joined to itself."""
        loose = [node for node, here in self.ways.items() if len(here) == 1]
        home = {node: k for k, part in enumerate(self.parts()) for s in part for node in self.ends[s]}
        size = [sum(self.stroke(s).length for s in part) for part in self.parts()]
        free = set(loose)
        for _, a, b in sorted(_close_pairs(loose, self.at, widest)):
            if a in free and b in free and (home[a] != home[b] or size[home[a]] > 3 * widest):
                free -= {a, b}
                self._join(a, b)
        self.ways = self._ways()

    def _join(self, a: int, b: int) -> None:
        """Make one node of two, where the two strokes would meet."""
        self.bridged.append((self.at[a], self.at[b]))
        first, second = self._outward(a), self._outward(b)
        self.at[a] = _meeting(first, second)
        k = self.ways[b][0]
        start, end = self.ends[k]
        self.ends[k] = (a if start == b else start, a if end == b else end)
        self.ways[a].append(k)

    def _outward(self, node: int) -> Stroke:
        """The one stroke at a loose end, run towards it."""
        k = self.ways[node][0]
        return self.stroke(k) if self.ends[k][1] == node else self.stroke(k).turned()

    def parts(self) -> list[list[int]]:
        """Strokes that hang together, in the order in which they were drawn."""
        reached: set[int] = set()
        parts = []
        for first, _ in self.ends:
            if first in reached:
                continue
            reached.add(first)
            part, todo = set(), [first]
            while todo:
                here = self.ways[todo.pop()]
                part.update(here)
                beyond = {node for k in here for node in self.ends[k]} - reached
                reached |= beyond
                todo += beyond
            parts.append(sorted(part))
        return parts

    def meetings(self, part: Sequence[int]) -> tuple[Point, ...]:
        """Where three or more strokes of a part meet."""
        nodes = dict.fromkeys(node for k in part for node in self.ends[k])
        return tuple(self.at[node] for node in nodes if len(self.ways[node]) > 2)

    def loose(self, part: Sequence[int]) -> list[int]:
        """The nodes of a part where it ends."""
        return [node for k in part for node in self.ends[k] if len(self.ways[node]) == 1]

    def run(self, part: Sequence[int]) -> tuple[Stroke, ...]:
        """A part without meetings in running order, from a loose end if it has one."""
        loose = self.loose(part)
        node = loose[0] if loose else self.ends[part[0]][0]
        k: int | None = self.ways[node][0] if loose else part[0]
        left, strokes = set(part), []
        while k is not None:
            left.discard(k)
            forward = self.ends[k][0] == node
            strokes.append(self.stroke(k) if forward else self.stroke(k).turned())
            node = self.ends[k][1 if forward else 0]
            k = next((n for n in self.ways[node] if n in left), None)
        return tuple(strokes)


class _Places:
    """Numbers points; those within a distance of an earlier one take its number."""

    def __init__(self, within: float) -> None:
        self.points: list[Point] = []
        self._nearby = _Nearby(within)

    def node(self, point: Point) -> int:
        near = min(((distance(self.points[n], point), n) for n in self._nearby.near(point)), default=None)
        if near is not None and near[0] <= self._nearby.within:
            return near[1]
        self.points.append(point)
        self._nearby.add(point, len(self.points) - 1)
        return len(self.points) - 1


class _Nearby:
    """Numbered points by the square cell they lie in, so that neighbours are found without asking everybody."""

    def __init__(self, within: float) -> None:
        self.within = within
        self._cells: dict[tuple[int, int], list[int]] = defaultdict(list)

    def add(self, point: Point, number: int) -> None:
        self._cells[self._cell(point)].append(number)

    def near(self, point: Point) -> Iterator[int]:
        """All that lie within the distance, and some that lie a little further off."""
        column, row = self._cell(point)
        for cell in ((column + i, row + j) for i in (-1, 0, 1) for j in (-1, 0, 1)):
            yield from self._cells.get(cell, ())

    def _cell(self, point: Point) -> tuple[int, int]:
        return (math.floor(point[0] / self.within), math.floor(point[1] / self.within))


def _halved(stroke: Stroke) -> tuple[Stroke, ...]:
    """An arc of more than a half circle as two, so that its ends can never be the same point."""
    if abs(stroke.bulge) <= 1.0:
        return (stroke,)
    middle, half = arc_middle(stroke.start, stroke.end, stroke.bulge), math.tan(math.atan(stroke.bulge) / 2)
    return (Stroke(stroke.start, middle, half), Stroke(middle, stroke.end, half))


def _close_pairs(nodes: Sequence[int], at: Sequence[Point], within: float) -> Iterator[tuple[float, int, int]]:
    """Pairs of nodes no further apart than `within`, with their distance."""
    nearby = _Nearby(within)
    for b in nodes:
        for a in nearby.near(at[b]):
            if (gap := distance(at[a], at[b])) <= within:
                yield gap, min(a, b), max(a, b)
        nearby.add(at[b], b)


def _meeting(a: Stroke, b: Stroke) -> Point:
    """Where two strokes that end near each other should meet: walls keep their lines where these cross close by."""
    halfway, gap = midpoint(a.end, b.end), distance(a.end, b.end)
    (ux, uy), (vx, vy) = _run_of(a), _run_of(b)
    cross = ux * vy - uy * vx
    if a.bulge or b.bulge or abs(cross) <= 1e-9 * math.hypot(ux, uy) * math.hypot(vx, vy):
        return halfway
    ahead = ((b.end[0] - a.end[0]) * vy - (b.end[1] - a.end[1]) * vx) / cross
    corner = (a.end[0] + ahead * ux, a.end[1] + ahead * uy)
    return corner if max(distance(corner, a.end), distance(corner, b.end)) <= gap + TOLERANCE_MM else halfway


def _run_of(stroke: Stroke) -> Point:
    return (stroke.end[0] - stroke.start[0], stroke.end[1] - stroke.start[1])


def _unlike(loops: Iterable[Loop]) -> tuple[tuple[Loop, ...], tuple[Point, ...]]:
    """Loops without those that lie on an earlier one, and a point of each of these."""
    kept: list[Loop] = []
    twins = []
    nearby = _Nearby(2 * TOLERANCE_MM)
    for loop in loops:
        box = box_of(loop.vertices)
        if any(_same(loop, kept[k]) for k in nearby.near((box.left, box.bottom))):
            twins.append(loop.vertices[0])
            continue
        nearby.add((box.left, box.bottom), len(kept))
        kept.append(loop)
    return tuple(kept), tuple(twins)


def _same(a: Loop, b: Loop) -> bool:
    """True when two tidied loops lie on each other; both start at their lowest vertex, give or take one."""
    if len(a.vertices) != len(b.vertices) or (a.circle is None) != (b.circle is None):
        return False
    turns = (b.started_at(k) for k in range(len(b.vertices)) if distance(a.vertices[0], b.vertices[k]) <= TOLERANCE_MM)
    return any(
        all(distance(p, q) <= TOLERANCE_MM for p, q in zip(a.vertices, turn.vertices, strict=True))
        and all(abs(p - q) < 1e-6 for p, q in zip(a.bulges, turn.bulges, strict=True))
        for turn in turns
    )
