"""What comes off one panel with revealed edges: every edge that shows must be one the factory made.

In: the panel and the kinds of pieces in whole tenths, the kerf added to each, with the sides on which each lies on a
tee. Out: patterns. A straight border piece needs the edge opposite the wall and both ends whole: two come from a panel
at most, from opposite sides. A corner piece needs two edges that meet: four at most, one from each corner of the panel.
Between two walls that are less than a module apart a piece needs two opposite ends: any number, side by side. A piece
with one tee or none is cut like a corner piece. The rule follows from how panels sit in a grid; no source.

A pattern is a row: what takes one side of the panel (a strip, or one or two corner pieces one above the other), pieces
that need no side, what takes the other side. So a panel is a bar with two factory ends, and is cut as bars are.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import product

from planner.records import dataclass
from planner.stock.barwork.bench import BarBench
from planner.stock.barwork.ends import EndsNeeded
from planner.stock.covering.cover import Column, Counts, Fill, taken_from, useful
from planner.stock.panelwork.guillotine import Placed, Size

Sides = frozenset[str]  #: of "left", "right", "front", "back"

#: Strokes that it takes to find out what something that stands in a row is worth, and how often it is wanted.
WEIGH = 3

#: A quarter turn counter-clockwise takes each side to the next.
_TURN = {"front": "right", "right": "back", "back": "left", "left": "front"}


@dataclass(frozen=True, slots=True)
class _Lie:
    """One way that a kind of piece may lie on the panel, which stands so that the row runs along x."""

    kind: int
    size: Size
    sides: Sides
    turned: bool


@dataclass(frozen=True, slots=True)
class _Item:
    """What stands in a row: one strip, or the pieces at the front and the back corner of a side."""

    width: int
    need: EndsNeeded
    front: _Lie | None
    back: _Lie | None = None
    strip: bool = False  #: as long as the panel

    @property
    def counts(self) -> Counts:
        kinds = [lie.kind for lie in (self.front, self.back) if lie is not None]
        return tuple((kind, kinds.count(kind)) for kind in sorted(set(kinds)))


class RevealBench:
    """Panels of one size, and kinds of pieces."""

    def __init__(self, panel: Size, sizes: Sequence[Size], tees: Sequence[Sides], *, turns: bool, kerf: int) -> None:
        self._panel, self._sizes, self._kerf = panel, sizes, kerf
        lies = [lie for kind, size in enumerate(sizes) for lie in _lies(kind, size, tees[kind], turns)]
        self._rows = [_Row(panel, lies, along_x=True), _Row(panel, lies, along_x=False)]
        self._made: dict[Counts, tuple[_Row, Counts]] = {}

    @property
    def work(self) -> int:
        """Strokes so far."""
        return sum(row.work for row in self._rows)

    def best(self, values: Sequence[int], demand: Sequence[int]) -> list[Fill]:
        """The pattern of greatest value."""
        fills = [(row, row.best(values, demand)) for row in self._rows]
        row, fill = max(fills, key=lambda entry: entry[1].value)
        return [Fill(fill.value, self._keep(row, fill.counts))]

    def greedy(self, demand: Sequence[int], limits: Sequence[int | None]) -> list[tuple[Column, int]]:
        """Fill one panel after the other as full as can be."""
        del limits  # panels are bought
        left, plan = list(demand), []
        areas = [size.width * size.height for size in self._sizes]
        while any(left):
            (fill,) = self.best(areas, left)
            column = Column(0, fill.counts)
            times = useful(left, column, max(min(left[kind] // count for kind, count in fill.counts), 1))
            taken_from(left, column, times)
            plan.append((column, times))
        return plan

    def near(self, values: Sequence[int], least: Sequence[int], demand: Sequence[int]) -> list[Column] | None:
        """All patterns that are worth enough; None when there are too many."""
        found: list[Column] = []
        for row in self._rows:
            columns = row.near(values, least, demand)
            if columns is None:
                return None
            found += [Column(0, self._keep(row, column.counts)) for column in columns]
        return list(dict.fromkeys(found))

    def placed(self, counts: Counts) -> list[Placed]:
        """Where the pieces of a pattern lie."""
        if counts not in self._made:
            self._find(counts)
        row, items = self._made[counts]
        return list(row.placed(items, self._kerf))

    def _find(self, counts: Counts) -> None:
        """Find the row of a pattern of strips that was made elsewhere."""
        kinds = [kind for kind, n in counts for _ in range(n)]
        found = [(row, items) for row in self._rows if (items := row.of_strips(kinds)) is not None]
        self._made[counts] = found[0]

    def _keep(self, row: "_Row", items: Counts) -> Counts:
        counts = row.pieces(items)
        self._made.setdefault(counts, (row, items))
        return counts


class _Row:
    """Items in a row along one side of the panel."""

    def __init__(self, panel: Size, lies: Sequence[_Lie], *, along_x: bool) -> None:
        self._panel = panel if along_x else _swapped(panel)
        self._along_x = along_x
        self._items = list(_items(self._panel, lies if along_x else [_mirrored(lie) for lie in lies]))
        self._single: defaultdict[int, list[int]] = defaultdict(list)
        for at, item in enumerate(self._items):
            if item.strip:
                self._single[item.counts[0][0]].append(at)
        self._asked = 0  #: how often for its best
        self._bars = BarBench([self._panel.width], [i.width for i in self._items], [i.need for i in self._items])

    @property
    def work(self) -> int:
        return self._bars.work + WEIGH * len(self._items) * self._asked

    def best(self, values: Sequence[int], demand: Sequence[int]) -> Fill:
        self._asked += 1
        (fill,) = self._bars.best(self._worth(values), self._wanted(demand))
        return fill

    def near(self, values: Sequence[int], least: Sequence[int], demand: Sequence[int]) -> list[Column] | None:
        return self._bars.near(self._worth(values), least, self._wanted(demand))

    def of_strips(self, kinds: Sequence[int]) -> Counts | None:
        """The items that hold just these strips, no two of them at one side; None where there are none."""
        ways = sorted((self._single.get(kind, []) for kind in kinds), key=len)
        taken: dict[int, int] = {}
        sides: set[EndsNeeded] = set()
        for way in ways:
            free = [at for at in way if self._items[at].need not in sides]
            if not free:
                return None
            taken[free[0]] = taken.get(free[0], 0) + 1
            sides |= {self._items[free[0]].need} - {"none"}
        return tuple(sorted(taken.items()))

    def pieces(self, items: Counts) -> Counts:
        """How many of each kind of piece some items hold."""
        counts: dict[int, int] = {}
        for item, times in items:
            for kind, count in self._items[item].counts:
                counts[kind] = counts.get(kind, 0) + count * times
        return tuple(sorted(counts.items()))

    def placed(self, items: Counts, kerf: int) -> Iterator[Placed]:
        """Lay the items out: what takes the left side first, what takes the right side last."""
        row = [self._items[item] for item, n in items for _ in range(n)]
        x = 0
        for item in sorted(row, key=lambda item: item.need != "left"):
            yield from self._laid(item, kerf, None if item.need == "right" else x)
            x += 0 if item.need == "right" else item.width

    def _laid(self, item: _Item, kerf: int, x: int | None) -> Iterator[Placed]:
        """Lay an item with its left side at x, or its right side at the panel's."""
        for lie, at_back in ((item.front, False), (item.back, True)):
            if lie is not None:
                left = self._panel.width - lie.size.width if x is None else x
                low = self._panel.height - lie.size.height if at_back else 0
                size = Size(lie.size.width - kerf, lie.size.height - kerf)
                if self._along_x:
                    yield Placed(lie.kind, left, low, size, lie.turned)
                else:
                    yield Placed(lie.kind, low, left, _swapped(size), lie.turned)

    def _worth(self, values: Sequence[int]) -> list[int]:
        return [sum(values[kind] * count for kind, count in item.counts) for item in self._items]

    def _wanted(self, demand: Sequence[int]) -> list[int]:
        return [min(demand[kind] // count for kind, count in item.counts) for item in self._items]


def _lies(kind: int, size: Size, tees: Sides, turns: bool) -> Iterator[_Lie]:
    """The ways a piece may lie: as in the ceiling, or also turned by one, two or three quarters."""
    for quarters in range(4 if turns else 1):
        yield _Lie(kind, size, tees, turned=quarters % 2 == 1)
        size, tees = _swapped(size), frozenset(_TURN[side] for side in tees)


def _items(panel: Size, lies: Sequence[_Lie]) -> Iterator[_Item]:
    """Everything that can stand in a row along x."""
    strips = [lie for lie in lies if {"front", "back"} <= lie.sides]
    for lie in dict.fromkeys(strips):
        if lie.size.height == panel.height and lie.size.width <= panel.width:
            yield _Item(lie.size.width, _need(lie.sides), lie, strip=True)
    for side in ("left", "right"):
        corners = [lie for lie in lies if not ({"front", "back"} <= lie.sides or _other(side) in lie.sides)]
        fronts: list[_Lie | None] = [None, *dict.fromkeys(lie for lie in corners if "back" not in lie.sides)]
        backs: list[_Lie | None] = [None, *dict.fromkeys(lie for lie in corners if "front" not in lie.sides)]
        for front, back in product(fronts, backs):
            both = [lie for lie in (front, back) if lie is not None]
            width = max((lie.size.width for lie in both), default=0)
            if both and width <= panel.width and sum(lie.size.height for lie in both) <= panel.height:
                yield _Item(width, "left" if side == "left" else "right", front, back)


def _need(sides: Sides) -> EndsNeeded:
    """Which sides of the panel a strip must take."""
    left, right = "left" in sides, "right" in sides
    return "both" if left and right else "left" if left else "right" if right else "none"


def _other(side: str) -> str:
    return "right" if side == "left" else "left"


def _mirrored(lie: _Lie) -> _Lie:
    """Seen with x and y exchanged."""
    sides = {"left": "front", "front": "left", "right": "back", "back": "right"}
    return _Lie(lie.kind, _swapped(lie.size), frozenset(sides[side] for side in lie.sides), lie.turned)


def _swapped(size: Size) -> Size:
    return Size(size.height, size.width)
