"""What comes off one panel with plain edges: any pieces, by cuts right across; their edges lie hidden on the flanges.

In: the panel and the kinds of pieces in whole tenths, the kerf added to each. All patterns are listed while they are
few, so that no pattern yields more than is wanted; else the best one is worked out for any number of each kind.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from functools import cached_property, partial, reduce

from planner.stock.covering.cover import Column, Counts, Fill, taken_from, useful
from planner.stock.panelwork.guillotine import Box, Guillotine, Placed, Size, TooMany, joined, placed
from planner.stock.panelwork.raster import Raster

#: More patterns than this are not listed.
MOST_PATTERNS = 3_000

#: With more kinds of pieces than this, fewer ways to fill panels are tried.
MOST_KINDS = 200

#: Strokes that it takes to weigh a listed pattern, to work out a box, to put a piece where there is room for it.
WEIGH, BOX, FILL = 1, 3, 4
#: So many kinds are looked at in one, until there is one that fits.
FILL_KINDS = 8


class PlainBench:
    """Panels of one size, and kinds of pieces."""

    def __init__(self, panel: Size, sizes: Sequence[Size], demand: Sequence[int], *, turns: bool, kerf: int) -> None:
        self._panel, self._sizes, self._turns, self._kerf = panel, list(sizes), turns, kerf
        self._demand = demand
        self._guillotine = Guillotine(panel, self._sizes, turns=turns)
        self._singles = [self._guillotine.boxes(((kind, 1),)) for kind in range(len(sizes))]
        each = [box.size for boxes in self._singles for box in boxes]
        self._least = Size(min(size.width for size in each), min(size.height for size in each))  #: no piece is narrower
        self._made: dict[Counts, Box] = {}
        self.work = 0  #: strokes so far

    def best(self, values: Sequence[int], demand: Sequence[int]) -> list[Fill]:
        """The pattern of greatest value; where patterns are too many to work out, the value alone, by area."""
        if self._listed is not None:
            self.work += WEIGH * len(self._listed)
            listed = [sum(values[k] * min(n, demand[k]) for k, n in counts) for counts in self._listed]
            at = max(range(len(listed)), key=lambda at: (listed[at], -at))
            counts = tuple((k, n) for k, n in ((k, min(n, demand[k])) for k, n in self._listed[at]) if n)
            return [Fill(listed[at], counts)]
        valued = [n if value else 0 for n, value in zip(demand, values, strict=True)]
        raster = Raster(self._panel, self._sizes, valued, turns=self._turns)
        if raster.too_fine:
            return [Fill(self._by_area(values), ())]
        worth, box = raster.best(values)
        self.work += raster.work
        return [Fill(worth, () if box is None else self._keep(box))]

    def greedy(self, demand: Sequence[int], limits: Sequence[int | None]) -> list[tuple[Column, int]]:
        """Fill one panel after the other, the greatest pieces first; the best of some ways to do so."""
        del limits  # panels are bought
        orders = self._orders() if len(demand) <= MOST_KINDS else self._orders()[:1]
        ways = [list(self._fill_all(demand, order, wide)) for order in orders for wide in (True, False)]
        return min(ways, key=lambda plan: sum(times for _, times in plan))

    def near(self, values: Sequence[int], least: Sequence[int], demand: Sequence[int]) -> list[Column] | None:
        """Listed patterns that are worth enough; None where they are not listed."""
        if self._listed is None:
            return None
        self.work += WEIGH * len(self._listed)
        worth = (sum(values[k] * n for k, n in counts) for counts in self._listed)
        return [Column(0, counts) for counts, value in zip(self._listed, worth, strict=True) if value >= least[0]]

    def placed(self, counts: Counts) -> list[Placed]:
        """Where the pieces of a pattern lie."""
        box = self._made.get(counts) or self._row(counts) or self._guillotine.boxes(counts)[0]
        return list(placed(box, self._kerf))

    def _row(self, counts: Counts) -> Box | None:
        """Pieces side by side or one above the other, if so they lie in the panel."""
        singles = [self._singles[kind] for kind, n in counts for _ in range(n)]
        upright = [min(ways, key=lambda box: box.size.width) for ways in singles]
        lying = [min(ways, key=lambda box: box.size.height) for ways in singles]
        for boxes, beside in ((upright, True), (lying, False)):
            row = reduce(partial(joined, beside=beside), boxes)
            if row.size.width <= self._panel.width and row.size.height <= self._panel.height:
                return row
        return None

    @cached_property
    def _listed(self) -> list[Counts] | None:
        """Every set of pieces that comes off one panel, once it is asked for; None where there are too many."""
        found: list[Counts] = []
        if len(self._demand) > MOST_KINDS:
            return None
        before = self._guillotine.worked
        fresh: list[Counts] = [((kind, 1),) for kind, n in enumerate(self._demand) if n]
        try:
            while fresh:
                fresh = [counts for counts in fresh if self._guillotine.boxes(counts)]
                found += fresh
                if len(found) > MOST_PATTERNS:
                    return None
                fresh = [more for counts in fresh for more in _one_more(counts, self._demand)]
        except TooMany:
            return None
        finally:
            self.work += WEIGH * len(found) + BOX * (self._guillotine.worked - before)
        return found

    def _orders(self) -> list[list[int]]:
        """Ways to take the kinds one after the other: the greatest area, width or height first."""
        kinds, sizes = range(len(self._sizes)), self._sizes
        return [
            sorted(kinds, key=lambda k: (-sizes[k].width * sizes[k].height, k)),
            sorted(kinds, key=lambda k: (-sizes[k].width, -sizes[k].height, k)),
            sorted(kinds, key=lambda k: (-sizes[k].height, -sizes[k].width, k)),
        ]

    def _fill_all(self, demand: Sequence[int], order: Sequence[int], wide: bool) -> Iterator[tuple[Column, int]]:
        left = list(demand)
        while any(left):
            box = self._fill(self._panel, list(left), order, wide)
            if box is None:
                raise ValueError("a piece is larger than a panel")
            column = Column(0, self._keep(box))
            times = useful(left, column, min(left[kind] // count for kind, count in column.counts))
            taken_from(left, column, times)
            yield column, times

    def _fill(self, room: Size, left: list[int], order: Sequence[int], wide: bool) -> Box | None:
        """Put the first piece that fits into the corner, then fill what lies beside and above it; takes off `left`."""
        if room.width < self._least.width or room.height < self._least.height:
            return None
        piece = next((way for kind in order if left[kind] and (way := self._way(kind, room))), None)
        if piece is None:
            return None
        self.work += FILL + len(order) // FILL_KINDS
        left[piece.kind] -= 1
        beside, above = room.width - piece.size.width, room.height - piece.size.height
        if wide:
            column = _joined(piece, self._fill(Size(piece.size.width, above), left, order, wide), beside=False)
            return _joined(column, self._fill(Size(beside, room.height), left, order, wide), beside=True)
        row = _joined(piece, self._fill(Size(beside, piece.size.height), left, order, wide), beside=True)
        return _joined(row, self._fill(Size(room.width, above), left, order, wide), beside=False)

    def _way(self, kind: int, room: Size) -> Box | None:
        """How a piece lies in a room so that least is left beside or above it; None where it does not fit."""
        best, least = None, 0
        for box in self._singles[kind]:
            beside, above = room.width - box.size.width, room.height - box.size.height
            gap = min(beside, above)
            if gap >= 0 and (best is None or gap < least):
                best, least = box, gap
        return best

    def _keep(self, box: Box) -> Counts:
        """Remember how a pattern is cut."""
        counts = tuple(sorted(Counter(piece.kind for piece in placed(box, 0)).items()))
        self._made.setdefault(counts, box)
        return counts

    def _by_area(self, values: Sequence[int]) -> int:
        """What a panel is worth at most, if it held its area of the piece that is worth most for its own."""
        area = self._panel.width * self._panel.height
        pieces = zip(values, self._sizes, strict=True)
        return max(-(-value * area // (size.width * size.height)) for value, size in pieces)


def _one_more(counts: Counts, demand: Sequence[int]) -> Iterator[Counts]:
    """The set with a piece more, of its last kind or a later one, so that each set comes up once."""
    last, count = counts[-1]
    if count < demand[last]:
        yield (*counts[:-1], (last, count + 1))
    for kind in range(last + 1, len(demand)):
        if demand[kind]:
            yield (*counts, (kind, 1))


def _joined(one: Box, other: Box | None, *, beside: bool) -> Box:
    return one if other is None else joined(one, other, beside=beside)
